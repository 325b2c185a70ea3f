"""Signposts lead to workbooks and headings that are there, and to all of them."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import nbformat
import pytest

from bedcalc.app.lesson import where_next
from bedcalc.tables import table

WORKBOOKS = Path(__file__).parents[2] / "workbooks"
LINK = re.compile(r"\[([^]]*)\]\(([^)]*)\)")
ROWS = list(table("workbooks"))


def card(path: Path) -> dict:
    """Question and minutes of a workbook's title card."""
    for cell in nbformat.read(path, as_version=4).cells:
        if "title_card(" in cell.source:
            for node in ast.walk(ast.parse(cell.source)):
                if isinstance(node, ast.Call) and "title_card" in ast.unparse(
                    node.func
                ):
                    minutes = next(k.value for k in node.keywords if k.arg == "minutes")
                    return {
                        "question": ast.literal_eval(node.args[0]),
                        "minutes": ast.literal_eval(minutes),
                    }
    raise AssertionError(f"{path.name} has no title card")


def test_every_workbook_has_its_signpost():
    assert [row.file for row in ROWS] == sorted(
        p.name for p in WORKBOOKS.glob("*.ipynb")
    )


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.key)
def test_signposts_say_what_the_cards_say(row):
    said = card(WORKBOOKS / row.file)
    assert row.question == said["question"]
    assert int(row.minutes) == said["minutes"]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.key)
def test_one_is_told_where_one_is_and_led_to_all_others(row):
    text = where_next(row.key)._repr_markdown_()
    led = [target for _, target in LINK.findall(text)]
    assert led == [other.file for other in ROWS if other is not row]
    assert f"{row.question} *(you are here)*" in text


def test_every_answered_question_leads_to_its_answer():
    text = where_next("00", questions=True).text
    for row in table("questions"):
        assert (f"- {row.question} " in text) == bool(row.answered_by), row.key
    for _, target in LINK.findall(text):
        path, _, anchor = target.partition("#")
        cells = nbformat.read(WORKBOOKS / path, as_version=4).cells
        heads = re.findall(r"^#+ (.*)$", "\n".join(c.source for c in cells), re.M)
        if anchor:
            assert anchor in [re.sub(r"\s", "-", head) for head in heads], target


def test_an_unknown_place_is_refused():
    with pytest.raises(ValueError, match="needs one of 00, 01"):
        where_next("14")
