"""The bill of the whole invented garden, line by line, to the coin.

All sums are invented prices times numbers of pieces. The cut plans were proven by a
second solver; blocks (2 x 2.4 + 2 x 0.9)/0.4 x 3 = 49.5, + 5 %: 52; fill
6.362 / 0.85 = 7.485: 7.5 m3. All beds full of mix to the rim, no spares.
"""

from __future__ import annotations

import csv

import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.questions.shopping import shopping
from bedcalc.spreadsheets.exports import order_rows, write_order, write_order_csv

CHAPTER = "cost"
OTHERS = "own derivation"

SECTIONS = {
    "larch_140x33": 165.00,
    "post_70x70": 73.40,
    "cap_90x22": 61.40,
    "frame_70x45": 58.80,
    "sheet_0.76": 105.00,
    "plank_125x30": 123.00,
    "sleeper_200x100": 222.00,
    "post_60x60": 9.80,
}


@pytest.fixture(scope="module")
def garden():
    return bc.demo_garden()


def _full(garden):
    return [
        bed.change(fill=(bc.Layer(material="mix"),), freeboard=Q_(0, "mm"))
        for bed in garden
    ]


@pytest.fixture(scope="module")
def single(garden):
    place = garden.place.change(with_tax=False)
    return shopping(_full(garden), place, pallets=False)


@pytest.fixture(scope="module")
def pallet(garden):
    return shopping(_full(garden), garden.place.change(with_tax=False))


@pytest.mark.parametrize("goods", SECTIONS)
def test_each_section(single, goods):
    """Cheapest cut plan, proven; to the coin."""
    paid = sum(line.amount for line in single.lines if line.goods == goods)

    assert paid == pytest.approx(SECTIONS[goods], abs=0.001)
    assert single.plans[goods].proven


def test_blocks_single_and_by_the_pallet(single, pallet):
    """52 x 2.90 = 150.80; a pallet of 60 costs 150.00 and is cheaper."""

    def blocks(cost):
        return [x for x in cost.lines if x.goods == "block_400x200x150"]

    assert [(x.quantity, x.amount) for x in blocks(single)] == [
        (52, pytest.approx(150.80))
    ]
    assert [(x.quantity, x.unit, x.amount) for x in blocks(pallet)] == [
        (1, "pallet", 150.0)
    ]


def test_structure(single, pallet):
    """165.00 + 73.40 + 61.40 + 58.80 + 105.00 + 123.00 + 222.00 + 9.80 + 150.80."""
    assert single.walls.m == pytest.approx(969.20, abs=0.001)
    assert pallet.walls.m == pytest.approx(968.40, abs=0.001)


def _total(cost, with_tax=False):
    """The printed total: structure, fill and its trips."""
    lines = [
        line for line in cost.lines
        if line.part in ("walls", "fill") or line.goods == "truck"
    ]  # fmt: skip
    rate = 0.2 if with_tax else 0.0
    return sum(line.amount + line.tax(rate) for line in lines)


def test_fill_and_trips(single):
    """7.5 x 48 = 360.00; ceil(7.5 / 6) = 2 trips x 60 = 120.00."""
    by_goods = {line.goods: line for line in single.lines}

    assert single.fill.m == pytest.approx(360.00)
    assert by_goods["mix"].quantity == pytest.approx(7.5)
    assert (by_goods["truck"].quantity, by_goods["truck"].amount) == (2, 120.0)
    assert by_goods["timber_delivery"].amount == 45.00


def test_totals_with_and_without_tax(single, pallet):
    """969.20 + 360.00 + 120.00 = 1449.20; x 1.2 = 1739.04."""
    assert _total(single) == pytest.approx(1449.20, abs=0.001)
    assert _total(single, with_tax=True) == pytest.approx(1739.04, abs=0.001)
    assert _total(pallet) == pytest.approx(1448.40, abs=0.001)


def test_nothing_hides_beside_the_printed_total(single):
    """The rest of the bill is screws, mesh and the timber's delivery, line by line.

    Mesh 19.6 m2: 2 rolls 76.00; screws 5 x 70 273: 3 boxes 42.00; sheet screws 103:
    2 bags 33.00; 6 x 100 97: 2 boxes 26.00; delivery 45.00.
    """
    rest = 76.00 + 42.00 + 33.00 + 26.00 + 45.00

    assert single.total.m - _total(single) == pytest.approx(rest, abs=0.001)
    assert single.fixings.m == pytest.approx(rest - 45.00)


def test_the_bill_has_its_doubt(single):
    """Low, likely, high: drawn P10 and P90 stand around the formula's band."""
    drawn = single.spread()

    assert drawn.likely == pytest.approx(single.total.m)
    assert drawn.under(0.1) < drawn.under(0.5) < drawn.under(0.9)
    assert single.low.m == pytest.approx(drawn.under(0.1), rel=0.01)
    assert single.high.m == pytest.approx(drawn.under(0.9), rel=0.01)


def test_the_spreadsheet_holds_the_same_coins(garden, pallet, tmp_path):
    """Order and CSV add up to the bill; every line of the bill is in it."""
    from openpyxl import load_workbook

    place = garden.place.change(with_tax=False)
    rows = order_rows(pallet)
    book = load_workbook(write_order(pallet, place, tmp_path / "order.xlsx"))
    sheet = book["Order"]
    amounts = [
        sheet.cell(row=r, column=3).value * sheet.cell(row=r, column=6).value
        for r in range(2, 2 + len(rows))
    ]
    with write_order_csv(pallet, place, tmp_path / "o.csv").open(
        encoding="utf-8-sig", newline=""
    ) as file:
        read = list(csv.reader(file))

    assert sum(amounts) == pytest.approx(pallet.total.m, abs=0.001)
    assert len(rows) == len([x for x in pallet.lines if x.quantity])
    assert sum(float(r[6]) for r in read[1 : 1 + len(rows)]) == pytest.approx(
        pallet.total.m, abs=0.001
    )
    assert book["Cut list"].max_row > 10
