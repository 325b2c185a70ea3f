"""Each outside check says what kind it is, and the table of the workbook is true."""

from __future__ import annotations

import csv

import pytest

from bedcalc.tables import LABELS, label, table
from tests.validation.kinds import (
    CHAPTERS,
    KINDS,
    LIBRARIES,
    TABLE,
    Outside,
    _runs,
    counts,
    facts,
    found,
    outside,
    reached,
    rows,
)

CHAPTER = "none"  # it checks the checks


def test_every_check_declares_chapter_and_kind():
    assert len(found()) > 200
    for check in found():
        assert check.chapter in CHAPTERS, check
        assert check.kind in KINDS, check
        if check.kind == "own derivation":
            assert not check.of and not check.by, check
        else:
            assert check.of and check.by, check


def test_who_says_it_is_known():
    """A source stands in data/sources.csv, a library is one of those we name."""
    for check in found():
        if check.kind == "library":
            assert check.by in LIBRARIES, check
        elif check.kind in ("printed", "from memory"):
            row = table("sources")[check.by]
            assert row.kind not in LABELS, f"{check}: {check.by} is no publication"


def test_what_is_called_printed_is_not_from_memory():
    for check in found():
        if check.kind == "printed":
            assert label(check.by) == "printed", (
                f"{check}: {table('sources')[check.by]}"
            )


def test_what_is_checked_exists():
    """A table of data/, or a name of the package; what nothing reaches is few."""
    for check in found():
        if check.of.startswith("table "):
            assert len(table(check.of.removeprefix("table ")))
    idle = [c for c in found() if not counts(c)]
    assert len(idle) <= 20, idle


def test_there_are_enough_facts_from_outside():
    """At least 250 of the first three kinds, at least 15 for each chapter."""
    total = 0
    for chapter, kinds in facts().items():
        outside_ = sum(kinds.values()) - kinds["own derivation"]
        assert outside_ >= 15, (chapter, kinds)
        total += outside_
    assert total >= 250


def test_the_table_of_the_workbook_is_what_is_counted():
    """Write it anew with ``python -m tests.validation.kinds``."""
    with TABLE.open(newline="", encoding="utf-8") as file:
        assert [*csv.reader(file)] == rows()


def test_five_facts_of_one_formula_are_the_most():
    @pytest.mark.parametrize("x", range(9))
    @outside("library", "show", "scipy")
    def check(x):
        """Nine rows."""

    assert _runs(check) == 9
    assert check.outside == Outside("library", "show", "scipy")
    assert max(max(kinds.values()) for kinds in facts().values()) < 400


def test_a_formula_that_only_tests_use_is_not_reached():
    assert "assess_walls" in reached()
    assert "no_such_formula_anywhere" not in reached()
