"""Where numbers come from: every row says it, and only names what a reader can find."""

from __future__ import annotations

import csv
import re

import pytest

from bedcalc.tables import LABELS, Table, data_folder, label, table

FILES = sorted(
    path for path in data_folder().glob("*.csv")
    if path.stem not in ("sources", "questions")
)  # fmt: skip

#: pages that never were in this repository, and letters and numbers of their rows
ELSEWHERE = re.compile(
    r"\b(walls?|growing|site|cautions?) (reference|page|chapter)\b"
    r"|\b(growing|site|cautions?) \d|\bof the (site|wall|growing) reference\b"
    r"|\bcorrections?\b|\bscenario\b|\bquestion [A-Z]\d|^section \d",
    re.IGNORECASE,
)


KINDS = ("standard", "handbook", "book", "paper", "web page")


def published():
    return [row for row in table("sources") if row.kind not in LABELS]


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_no_row_names_a_page_that_is_not_here(path):
    for row in Table(path.stem, path):
        said = f"{row.where} {getattr(row, 'note', '')}"
        assert not ELSEWHERE.search(said), f"{row.key}: {said}"


def test_the_search_finds_such_pages():
    for said in (
        "walls reference 2.1", "growing 3.6, 2 to 4 lb", "correction B6: seen",
        "corrections C4", "cautions 7", "tool table of the site reference",
        "question O1", "3.7 of the site reference", "section 6.1: 68 psf",
        "cautions page of the project", "walls chapter",
    ):  # fmt: skip
        assert ELSEWHERE.search(said), said


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_every_row_has_an_honest_label(path):
    for row in Table(path.stem, path):
        assert label(row.source, row.where) in LABELS


def test_labels_say_the_least_that_is_true():
    assert label("nds_2018", "Table 4.3.8") == "printed"
    assert label("nds_2018", "Table 2.3.2, from memory") == "from memory"
    assert label("en338", "Table 1") == "from memory"  # the whole source is
    assert label("ingold_1979", "after the idea, a judgement") == "assumption"
    assert label("common_practice", "a judgement") == "assumption"
    assert label("common_practice", "usual sizes") == "common practice"
    assert label("invented", "demo, assumed") == "invented"
    assert label("computed", "geometry") == "computed"


def test_published_sources_have_title_and_edition_or_say_that_nobody_noted_it():
    for row in published():
        assert row.title and row.edition, row.key
        assert row.kind in KINDS, row.key
        assert not ELSEWHERE.search(row.note), row.key
    unnoted = [row.key for row in published() if row.edition == "not noted"]
    assert len(unnoted) <= 18, unnoted


def test_sources_are_sorted_out_by_kind():
    for row in table("sources"):
        if row.kind in LABELS:
            assert not row.author and row.title, row.key


def test_numbers_of_tables_are_as_short_as_their_source():
    """A cell like 11.112499999999999 is a slip of a program, not a size."""
    for path in FILES:
        with path.open(newline="", encoding="utf-8") as file:
            for cells in csv.reader(file):
                long = [c for c in cells if re.fullmatch(r"-?\d+\.\d{9,}", c)]
                assert not long, f"{path.stem}: {long}"


def test_depth_of_roots_as_fao_paper_56_prints_it():
    """FAO-56, Table 22: lettuce 0.3 to 0.5 m, strawberries 0.2 to 0.3 m."""
    roots = table("roots")

    assert (roots["lettuce"].low, roots["lettuce"].high) == (0.3, 0.5)
    assert (roots["strawberry"].low, roots["strawberry"].high) == (0.2, 0.3)


def test_no_text_of_package_or_tests_names_a_page_that_is_not_here():
    root = data_folder().parent
    told = re.compile(
        r"\bcorrections? [A-E]\d|\b(walls?|growing|site) reference\b", re.I
    )
    for folder in ("bedcalc", "tests"):
        for path in (root / folder).rglob("*.py"):
            found = told.search(path.read_text(encoding="utf-8"))
            assert path.name == "test_sources.py" or not found, f"{path.name}: {found}"
