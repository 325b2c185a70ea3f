"""Files for other people: text stays text, lists come back as they went."""

from __future__ import annotations

import csv

import pytest
from openpyxl import load_workbook

import bedcalc as bc
from bedcalc.questions.shopping import shopping
from bedcalc.spreadsheets.columns import NumbersError
from bedcalc.spreadsheets.exports import (
    cut_rows,
    order_rows,
    write_order,
    write_order_csv,
)
from bedcalc.spreadsheets.prices import read_prices, write_prices


@pytest.fixture(scope="module")
def garden():
    return bc.demo_garden()


@pytest.fixture(scope="module")
def cost(garden):
    return shopping(garden)


@pytest.mark.parametrize("suffix", [".xlsx", ".csv"])
def test_a_price_list_comes_back_as_it_went(garden, cost, tmp_path, suffix):
    path = write_prices(garden.place, tmp_path / f"my_prices{suffix}")
    place = garden.place.change(prices=read_prices(path))

    assert place.goods.keys() == garden.place.goods.keys()
    assert shopping(garden, place).total == cost.total


def test_an_edited_price_counts(garden, tmp_path):
    path = write_prices(garden.place, tmp_path / "my_prices.xlsx")
    book = load_workbook(path)
    for row in book["Prices"].iter_rows(min_row=4):
        if row[0].value == "garden mix":
            row[6].value = 48
    book.save(path)
    place = garden.place.change(prices=read_prices(path))

    assert place.goods["mix"][0].price == 48
    assert shopping(garden, place).fill.m == pytest.approx(720)


EVIL = '=HYPERLINK("http://x","click")'


def test_text_that_begins_like_a_formula_stays_text(garden, tmp_path):
    path = write_prices(garden.place, tmp_path / "p.xlsx")
    book = load_workbook(path)
    for row in book["Prices"].iter_rows(min_row=4):
        if row[0].value == "garden mix":
            row[1].value = EVIL
            row[1].data_type = "s"
    book.save(path)
    place = garden.place.change(prices=read_prices(path))
    cost = shopping(garden, place)
    order = load_workbook(write_order(cost, place, tmp_path / "o.xlsx"))["Order"]
    found = [c for row in order.iter_rows() for c in row if c.value == EVIL]
    with write_order_csv(cost, place, tmp_path / "o.csv").open(
        encoding="utf-8-sig", newline=""
    ) as file:
        cells = [cell for row in csv.reader(file) for cell in row]

    assert found and all(cell.data_type == "s" for cell in found)
    assert "'" + EVIL in cells
    assert not [cell for cell in cells if cell.startswith(("=", "+", "@"))]


@pytest.mark.parametrize(
    ("column", "value", "says"),
    [
        (6, "8,900", "Does 8,900 mean 8.900 or 8900"),
        (6, "dear", "needs a number"),
        (6, -3, "0 or more"),
        (2, "wood", "timber, metal"),
        (0, "", "needs a name from sheet Words; given nothing"),
    ],
)
def test_a_wrong_entry_is_named_by_line_and_column(
    garden, tmp_path, column, value, says
):
    path = write_prices(garden.place, tmp_path / "p.xlsx")
    book = load_workbook(path)
    book["Prices"].cell(row=4, column=column + 1).value = value
    book.save(path)

    with pytest.raises(NumbersError, match=r"row 4") as error:
        read_prices(path)
    assert says in str(error.value)


def test_a_missing_file_or_column_says_what_to_do(garden, tmp_path):
    with pytest.raises(NumbersError, match="save one first"):
        read_prices(tmp_path / "none.xlsx")
    (tmp_path / "x.csv").write_text("a,b\n1,2\n", encoding="utf-8")
    with pytest.raises(NumbersError, match="needs the columns What it is"):
        read_prices(tmp_path / "x.csv")
    (tmp_path / "y.csv").write_text(
        "goods,name,group,sold_by,length [m],content [],price [money]\n"
        "mix,garden mix,soil,0.5 m³,,0.5,\n",
        encoding="utf-8",
    )
    with pytest.raises(NumbersError, match="at least one line"):
        read_prices(tmp_path / "y.csv")


def test_the_cut_list_holds_every_piece(cost):
    rows = cut_rows(cost)
    pieces = sum(row[2] * len(row[3].split(" | ")) for row in rows)

    assert pieces == sum(
        piece.count for plan in cost.plans.values() for piece in plan.pieces
    )
    assert {row[5] for row in rows} == {"proven cheapest"}


def test_everything_to_order_says_what_to_say(cost):
    notes = {row[1].split(",")[0]: row[8] for row in order_rows(cost)}

    assert notes["garden mix"].startswith("Say: cubic metres loose")
    assert all(notes[name] for name in ("oak sleeper 200 × 100", "delivery of fill"))
