"""The map of questions: complete, and no answer is named that a reader cannot find."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest

from bedcalc.tables import table

ROOT = Path(__file__).parents[2]
#: how many questions each group has; 158 in all
COUNTS = {
    "A": 11, "B": 11, "C": 16, "D": 14, "E": 9, "F": 11, "G": 10, "H": 9, "I": 10,
    "J": 11, "K": 8, "L": 5, "M": 8, "N": 8, "O": 10, "P": 7,
}  # fmt: skip
ROWS = list(table("questions"))
PLACES = [
    (row.key, place.strip())
    for row in ROWS
    for place in row.answered_by.split(";")
    if place.strip()
]


def test_all_158_questions_stand_in_16_groups_in_order():
    expected = [f"{group}{n}" for group in COUNTS for n in range(1, COUNTS[group] + 1)]
    assert len(expected) == 158
    assert [row.key for row in ROWS] == expected


def test_each_group_has_one_name():
    names = {row.key[0]: row.group for row in ROWS}
    assert len(set(names.values())) == 16
    assert Counter(names[row.key[0]] == row.group for row in ROWS) == {True: 158}


def test_every_question_is_one_and_asked_once():
    assert [row.key for row in ROWS if not row.question.endswith("?")] == []
    assert len({row.question for row in ROWS}) == 158


def found(place: str) -> bool:
    """Whether a path of the repository is there, and holds the name after ``#``."""
    path, _, name = place.partition("#")
    target = ROOT / path
    inside = target.resolve().is_relative_to(ROOT.resolve())
    if not path or not inside or not target.exists():
        return False
    return not name or (target.is_file() and name in target.read_text("utf-8"))


@pytest.mark.parametrize(("key", "place"), PLACES)
def test_every_named_place_is_there(key, place):
    assert found(place), f"{key} is said to be answered by {place}, which is not there"


@pytest.mark.parametrize(
    ("place", "there"),
    [
        ("tests/house/test_questions.py", True),
        ("tests/house/test_questions.py#COUNTS", True),
        ("tests/house/test_questions.py#" + "COUNTS_" + "OF_NOTHING", False),
        ("tests/house/no_such_file.py", False),
        ("tests/house#COUNTS", False),
        ("../outside.md", False),
        ("#COUNTS", False),
    ],
)
def test_a_place_that_is_not_there_is_noticed(place, there):
    assert found(place) is there


def test_places_are_written_one_way():
    assert [
        p for _, p in PLACES if not re.fullmatch(r"[\w./-]+(#[\w .:,?-]+)?", p)
    ] == []
