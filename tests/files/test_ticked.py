"""An order with ticks is kept when a new one is written."""

from __future__ import annotations

import pytest
from openpyxl import load_workbook

import bedcalc as bc
from bedcalc.questions.shopping import shopping
from bedcalc.spreadsheets.exports import write_order, write_order_csv
from bedcalc.spreadsheets.ticked import keep_ticked


@pytest.fixture(scope="module")
def order():
    garden = bc.demo_garden()
    return shopping(garden, cut="hand"), garden.place


def test_a_new_order_has_no_ticks(order, tmp_path):
    paths = (
        write_order(*order, tmp_path / "order.xlsx"),
        write_order_csv(*order, tmp_path / "order.csv"),
    )
    assert keep_ticked(*paths) == []
    assert keep_ticked(tmp_path / "none.xlsx") == []


def test_a_tick_in_the_spreadsheet_is_kept_each_time(order, tmp_path):
    path = tmp_path / "order.xlsx"
    for kept in ("order_ticked.xlsx", "order_ticked_2.xlsx"):
        write_order(*order, path)
        book = load_workbook(path)
        sheet = book.worksheets[0]
        head = next(
            cell for row in sheet.iter_rows() for cell in row if cell.value == "Ordered"
        )
        sheet.cell(head.row + 2, head.column, "x")
        book.save(path)

        assert keep_ticked(path) == [kept]
        assert not path.exists() and (tmp_path / kept).exists()


def test_a_tick_in_the_plain_text_is_kept(order, tmp_path):
    path = write_order_csv(*order, tmp_path / "order.csv")
    lines = path.read_text(encoding="utf-8-sig").splitlines()
    at = next(n for n, line in enumerate(lines) if line.endswith("Ordered,Here"))
    lines[at + 1] = lines[at + 1][:-1] + "yes,"
    path.write_text("\n".join(lines), encoding="utf-8")

    assert keep_ticked(path) == ["order_ticked.csv"]
