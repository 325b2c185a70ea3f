"""Price lists: own ones, none at all, tax inside the prices, words of a file."""

from __future__ import annotations

import csv

import numpy as np
import pytest
from openpyxl import load_workbook

import bedcalc as bc
from bedcalc import Q_, Currency, PriceError, PriceList
from bedcalc.cost import share_out
from bedcalc.cost.money import tax_inside
from bedcalc.printing import build_sheet
from bedcalc.questions.cut_garden import cut_garden
from bedcalc.questions.fixes import cures, wall_life
from bedcalc.questions.shopping import in_parts, shopping
from bedcalc.spreadsheets.columns import NumbersError
from bedcalc.spreadsheets.exports import order_rows, write_order, write_order_csv
from bedcalc.spreadsheets.prices import read_prices, write_prices
from bedcalc.tables import table
from tests.money.sums import cells_of, recalculated

GARDEN = bc.demo_garden()
BARE = GARDEN.place.change(prices=None)
UNPRICED = GARDEN.change(place=BARE)
KEYS = {row.goods for row in table("prices_demo")} - {
    "mix",
    "compost",
    "chips",
    "straw",
}
KEYS = {key for key in KEYS if "_" in key}


def with_list(**changes):
    return GARDEN.place.change(
        prices=GARDEN.place.prices.with_rows(
            GARDEN.place.prices.rows, name="mine", **changes
        )
    )


# ---- no prices


@pytest.mark.parametrize("name", "ABCDEF")
def test_without_prices_everything_is_counted_and_nothing_costs_nothing(name):
    priced = bc.evaluate(GARDEN[name], GARDEN.place).cost
    cost = bc.evaluate(GARDEN[name], BARE).cost

    assert not cost.priced and cost.lines == ()
    for amount in ("total", "low", "high", "walls", "fill", "delivery", "per_area"):
        assert np.isnan(getattr(cost.si, amount)), amount
    goods = {line.goods for line in cost.unpriced}
    assert goods == {line.goods for line in priced.lines}
    assert all(line.quantity > 0 for line in cost.unpriced)


def test_metres_and_pieces_of_boards_by_hand():
    """Bed A: 8 boards of 2700 mm and 8 of 984 (demo garden): 29.47 m."""
    cost = bc.evaluate(GARDEN["A"], BARE).cost
    line = next(one for one in cost.unpriced if one.goods == "larch_140x33")

    assert (line.name, line.unit) == ("larch board 140 × 33, 16 pieces", "m")
    assert line.quantity == pytest.approx(8 * 2.700 + 8 * 0.984)


def test_what_has_no_price_is_said_in_words_that_people_use():
    said = shopping(UNPRICED).missing

    assert "no price yet: larch board 140 × 33" in said
    assert "no price yet: concrete block" in said and len(said) == len(set(said))
    assert not [words for words in said if any(key in words for key in KEYS)]


def test_sheet_order_cut_list_and_mends_do_without_prices(tmp_path):
    cost = shopping(UNPRICED)
    rows = order_rows(cost)
    assert {row[5] for row in rows} == {row[6] for row in rows} == {""}
    assert rows[0][1] == "larch board 140 × 33, 24 pieces"

    order = load_workbook(write_order(cost, BARE, tmp_path / "o.xlsx"))
    cells = [c.value for s in order.worksheets for r in s.iter_rows() for c in r]
    assert sum("no prices yet" in str(cell) for cell in cells) == 1
    assert "none yet" in cells
    text = write_order_csv(cost, BARE, tmp_path / "o.csv").read_text("utf-8-sig")
    assert "nan" not in text

    sheet = build_sheet(UNPRICED, ["A"])
    assert "No prices yet: ask for them with this list." in sheet
    assert "nan" not in sheet and "A-side" in sheet
    assert "no price yet" in cut_garden(UNPRICED).verdict()
    stages, more = in_parts(UNPRICED, [["A"], ["B"]])
    assert len(stages) == 2 and np.isnan(more)


def test_a_mend_without_a_price_is_not_free():
    outcome = bc.evaluate(GARDEN["B"], BARE)
    found = cures(outcome)

    assert found and all(np.isnan(cure.cost.m) for cure in found)
    assert (
        wall_life(outcome).likely
        == wall_life(bc.evaluate(GARDEN["B"], GARDEN.place)).likely
    )
    no_rods = GARDEN.place.prices.with_rows(
        [row for row in GARDEN.place.prices.rows if row.goods != "rod_m10"], name="thin"
    )
    thin = bc.evaluate(GARDEN["B"], GARDEN.place.change(prices=no_rods))
    fix = thin.check("bow").fix
    assert thin.cost.missing == () and fix.works and np.isnan(fix.cost.m)
    tied = bc.evaluate(GARDEN["B"].change(ties=1), thin.place).cost
    assert tied.missing == ("the price list has no threaded rod",)


def test_a_list_to_fill_in_holds_what_a_bed_needs_and_no_price(tmp_path):
    path = write_prices(BARE, tmp_path / "p.csv")
    with path.open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert {row["Price each"] for row in rows} == {""}
    assert {row["What it is"] for row in rows} == {row.name for row in table("goods")}

    mix = next(row for row in rows if row["What it is"] == "garden mix")
    mix |= {"Price each": "60", "Date of the price": "3 May"}
    with path.open("w", encoding="utf-8", newline="") as file:
        out = csv.DictWriter(file, rows[0])
        out.writeheader()
        out.writerows(rows)
    own = read_prices(path, Currency.of("CHF"))
    assert (own.name, own.date, own.currency.code) == ("p", "3 May", "CHF")
    assert [(row.goods, row.price) for row in own.rows] == [("mix", 60)]
    cost = bc.evaluate(GARDEN["A"], BARE.change(prices=own)).cost
    # 1.451 m³ of bed A / 0.85 = 1.707 m³ loose; by whole cubic metres: 2 x 60
    assert cost.priced and cost.fill.m == 120
    assert "the price list has no garden mix" not in cost.missing
    assert "the price list has no delivery of fill" in cost.missing


def test_a_board_needs_its_length(tmp_path):
    path = write_prices(GARDEN.place, tmp_path / "p.xlsx")
    book = load_workbook(path)
    book["Prices"]["E4"].value = None
    book.save(path)

    with pytest.raises(NumbersError, match=r"row 4, Length: needs the length of one"):
        read_prices(path)


# ---- tax inside


def test_tax_inside_a_price_by_hand():
    """120 paid at 20 % hold 20; 107 at 7 % hold 7."""
    assert tax_inside(Q_(120, "money"), 0.2).m == pytest.approx(20)
    assert tax_inside(Q_(107, "money"), 0.07).m == pytest.approx(7)
    assert tax_inside(Q_(50, "money"), 0.0).m == 0


@pytest.mark.parametrize("with_tax", [False, True])
def test_a_list_with_tax_inside_is_never_taxed_again(with_tax):
    plain = shopping(GARDEN, pallets=False)
    place = with_list(taxed_inside=True).change(with_tax=with_tax)
    cost = shopping(GARDEN, place, pallets=False)
    # each line by itself, to the coin
    hand = sum(round(line.amount / 6, 2) for line in plain.lines)

    assert cost.total == plain.total and cost.with_tax
    assert cost.tax.m == pytest.approx(hand, abs=0.011)
    assert cost.gifts()[0].worth == plain.gifts()[0].worth
    assert cost.yearly().box == plain.yearly().box


def test_papers_say_of_which_tax(tmp_path):
    place = with_list(taxed_inside=True)
    cost = shopping([GARDEN["E"]], place)
    order = load_workbook(write_order(cost, place, tmp_path / "o.xlsx"))["Order"]
    cells = {row[1].value: row[6].value for row in order.iter_rows()}
    assert recalculated(order)[cells_of(order, "Of which tax, 20%")] == (
        pytest.approx(cost.tax.m)
    )
    assert "Without tax" not in cells
    tax = bc.show(cost.tax, "coins", place.units())
    assert f", of which tax {tax}" in build_sheet(GARDEN.change(place=place), ["E"])


# ---- coins


@pytest.mark.parametrize(("code", "decimals"), [("JPY", 0), ("EUR", 2), ("KWD", 3)])
def test_tax_and_shares_are_rounded_to_the_coins_of_the_currency(code, decimals):
    place = with_list(currency=Currency.of(code)).change(with_tax=True)
    cost = shopping([GARDEN["A"]], place)
    for line in cost.lines:
        assert cost.tax_of(line) == pytest.approx(round(line.amount * 0.2, decimals))
    shares = share_out(10, [1, 1, 1], decimals)
    assert shares.sum() == pytest.approx(10)
    assert np.ptp(shares) == pytest.approx(10.0**-decimals)


# ---- a list of one's own


def test_there_and_back_through_words():
    own = with_list(
        currency=Currency(sign="T", decimals=0), date="3 May", taxed_inside=True
    ).prices
    words = own.as_words()

    assert PriceList.from_words(words, "price list") == own
    assert words["currency"] == {
        "code": "", "sign": "T", "decimals": 0, "before": False
    }  # fmt: skip
    assert all(
        cell == cell and cell != "" for r in words["rows"] for cell in r.values()
    )
    plain = PriceList(name="mine")
    assert PriceList.from_words(plain.as_words(), "x") == plain


def test_a_code_brings_what_is_usual_for_it():
    given = {"name": "mine", "currency": {"code": "CHF"}}
    assert PriceList.from_words(given, "x").currency == Currency.of("CHF")
    given["currency"] |= {"sign": "Fr.", "before": False}
    assert PriceList.from_words(given, "x").currency.around("3") == "3\u00a0Fr."


MIX = {
    "goods": "mix", "name": "soil", "group": "soil", "sold_by": "m³", "price": 48
}  # fmt: skip


@pytest.mark.parametrize(
    ("given", "says"),
    [
        (
            {"currency": {"code": "eu"}},
            "currency, code: needs three letters",
        ),
        (
            {"currency": {"code": "CHF", "decimals": 5}},
            "currency, decimals: needs a",
        ),
        ({"currency": "CHF"}, "currency: needs named entries; given 'CHF'"),
        ({"rows": {}}, "rows: needs a list of lines"),
        ({"rows": ["mix"]}, "line 1: needs named entries; given 'mix'"),
        ({"rows": [{"goods": "mix"}]}, "line 1: needs name, group, sold_by, price"),
        (
            {"rows": [MIX | {"price": "48"}]},
            "line 1, price: needs a number",
        ),
        (
            {"rows": [MIX | {"price": -3}]},
            "line 1, price: needs an amount",
        ),
        ({"rows": [MIX | {"group": "mud"}]}, "line 1, group: needs one of"),
        ({"rows": [MIX | {"low": 50}]}, "line 1, low: needs low, price, high"),
        ({"name": "demo"}, "name: needs a name of its own"),
        ({"name": ""}, "price list, name: needs some words"),
        ({"date": 3}, "needs date as text"),
    ],
)
def test_a_wrong_entry_of_a_list_is_answered(given, says):
    with pytest.raises(PriceError) as refused:
        PriceList.from_words({"name": "mine"} | given, "price list")

    assert says in str(refused.value) and "for example" in str(refused.value)


def test_prices_that_rise_and_drift_keep_the_coins_and_the_list():
    prices = GARDEN.place.prices
    mix = prices.dearer(0.205).goods["mix"][0]
    assert mix.price == pytest.approx(28.92)  # 24.00 x 1.205
    yen = prices.with_rows(prices.rows, currency=Currency.of("JPY"))
    assert yen.dearer(0.205).goods["mix"][0].price == 29
    drift = prices.times(timber=1.2, soil=0)
    assert drift.goods["mix"][0].price == 0
    assert drift.goods["larch_140x33"][0].price == pytest.approx(8.9 * 1.2)
    assert drift.goods["nut"] == prices.goods["nut"]
    assert GARDEN.place.prices == prices == PriceList.named("demo")


def test_every_goods_of_walls_fills_and_tools_has_a_name():
    known = table("goods")
    asked = {row.goods for row in (*table("prices_demo"), *table("prices_demo_us"))}
    asked |= {row.goods for row in table("fills")}
    for row in table("walls"):
        asked |= {row.goods, row.post_goods, row.rail_goods, row.cap_goods}
    for name in ("tools", "protection"):
        asked |= {row.goods for row in table(name)}

    assert asked - {""} <= set(known.rows)


def test_a_place_takes_the_name_of_an_invented_list_or_refuses():
    assert GARDEN.place.change(prices="demo_us").currency == Currency.of("USD")
    with pytest.raises(bc.PlaceError, match="needs one of demo, demo_us"):
        GARDEN.place.change(prices="mine")
    assert BARE.currency == Currency() and BARE.goods == {}


def test_the_sums_of_the_order_follow_a_changed_price(tmp_path):
    """Worked out anew from the cells: the bill; with mix at 100, so much more."""
    cost = shopping(GARDEN)
    path = write_order(cost, GARDEN.place, tmp_path / "o.xlsx", ["8 steel angles"])
    order = load_workbook(path)["Order"]
    total = cells_of(order, "Total")
    assert recalculated(order)[total] == pytest.approx(cost.total.m, abs=0.005)

    mix = next(r for r in order.iter_rows() if r[1].value == "garden mix")
    more = mix[2].value * (100 - mix[5].value)
    mix[5].value = 100
    found = recalculated(order)[total]
    taxed = 1.2 if GARDEN.place.with_tax else 1.0
    assert found == pytest.approx(cost.total.m + more * taxed, abs=0.011)
    angles = next(r for r in order.iter_rows() if r[1].value == "8 steel angles")
    angles[5].value = 10
    assert recalculated(order)[total] == pytest.approx(found + 10 * taxed, abs=0.011)
