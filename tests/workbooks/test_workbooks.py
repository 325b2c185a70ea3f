"""Workbooks: stored numbers are really there, nothing heavy is, the pattern is kept."""

from __future__ import annotations

import re
from pathlib import Path

import nbformat
import pytest

from tests.workbooks.refresh import DIGESTS, digests, locks

WORKBOOKS = Path(__file__).parents[2] / "workbooks"
BOOKS = sorted(WORKBOOKS.glob("[0-9][0-9]_*.ipynb"))
IGNORED = "nbval-ignore-output"


@pytest.fixture(params=BOOKS, ids=lambda p: p.stem)
def book(request):
    return nbformat.read(request.param, as_version=4)


def code_cells(book):
    return [c for c in book.cells if c.cell_type == "code"]


def ignored(cell) -> bool:
    return IGNORED in cell.metadata.get("tags", [])


def test_there_is_a_first_workbook():
    assert (WORKBOOKS / "00_start_here.ipynb") in BOOKS


def test_number_cells_hold_stored_numbers(book):
    """Nbval passes a cell without count and outputs unseen: so they must be there."""
    cells = [c for c in code_cells(book) if not ignored(c)]

    assert cells, "a workbook has worked examples in the open"
    for cell in cells:
        assert cell.execution_count is not None, cell.source
        if "print(" in cell.source:
            text = "".join(o.get("text", "") for o in cell.outputs)
            assert re.search(r"\d", text), cell.source


def test_panel_cells_store_nothing_and_are_folded(book):
    for cell in code_cells(book):
        if ignored(cell):
            assert not cell.outputs and cell.execution_count is None
            assert cell.metadata.get("jupyter", {}).get("source_hidden"), cell.source


def test_no_stored_error_and_no_widget_state(book):
    assert "widgets" not in book.metadata
    assert not [
        o for c in code_cells(book) for o in c.outputs if o.output_type == "error"
    ]


def test_it_runs_itself_on_opening(book):
    assert book.metadata.get("bedcalc_run_on_open") is True


def test_no_cell_is_lost_to_a_stray_key(book):
    """Nothing can be deleted; only worked examples, the number cells, be edited."""
    for cell in book.cells:
        found = {n: cell.metadata[n] for n in ("deletable", "editable")
                 if n in cell.metadata}  # fmt: skip
        assert found == locks(cell), (
            f"write the marks with: python -m tests.workbooks.refresh --marks; {cell}"
        )


def test_every_code_cell_is_known_as_ours():
    """A cell that is not is taken for somebody else's: the lesson then does not run."""
    known = DIGESTS.read_text(encoding="ascii").split()
    assert set(digests()) <= set(known), (
        "write the digests with: python -m tests.workbooks.refresh --marks"
    )


def test_size_of_cells_and_of_the_text(book):
    """900 to 1,600 words; at most 80 lines of open code, no cell over 12 lines."""
    open_code = [c.source.splitlines() for c in code_cells(book) if not ignored(c)]
    words = sum(
        len(re.findall(r"\w+", c.source))
        for c in book.cells
        if c.cell_type == "markdown"
    )
    words += sum(
        len(re.findall(r"\w+", text))
        for c in code_cells(book)
        if ignored(c)
        for text in re.findall(r'"([^"\n]*)"', c.source)
    )

    assert 700 <= words <= 1900, words
    assert sum(map(len, open_code)) <= 80
    assert max(map(len, open_code)) <= 12


def test_every_workbook_has_cautions_checks_and_sources(book):
    source = "\n".join(c.source for c in code_cells(book))

    for part in ("title_card(", "aims(", "predict(", "check_yourself(", "caution_box(",
                 "five_lines(", "sources("):  # fmt: skip
        assert part in source, part


def test_no_output_is_heavy(book):
    assert len(nbformat.writes(book)) < 400_000
