"""The bill's close-up: ordered bars that add up to the total."""

import numpy as np
import pytest

import bedcalc as bc
from bedcalc.figures.cost import SMALL, cost_figure
from bedcalc.garden.garden import demo_garden
from bedcalc.model.layers import strategy_layers
from bedcalc.units import show

GARDEN = demo_garden()
LAYERS = strategy_layers("logs_chips_compost")
EURO = GARDEN.units


def outcome(name, with_tax=False, **changes):
    place = GARDEN.place.change(with_tax=with_tax)
    return bc.evaluate(GARDEN[name].change(**changes), place)


@pytest.fixture(scope="module")
def tied():
    return outcome("B", fill=LAYERS, ties=1)


def names(drawing):
    return [n["text"] for n in drawing.annotations[2:] if "€" not in n["text"]]


@pytest.mark.parametrize("with_tax", [False, True])
@pytest.mark.parametrize("name", "ABCDEF")
def test_bars_add_up_to_the_total_and_are_ordered(name, with_tax):
    found = outcome(name, with_tax)
    for narrow in (False, True):
        drawing = cost_figure(found, narrow=narrow)
        assert len(drawing.traces) == 1
        values = list(drawing.traces[0]["x"])
        assert np.isfinite(values).all()
        assert sum(values) == pytest.approx(found.cost.si.total)
        ordered = values[:-1] if SMALL in names(drawing) else values
        assert ordered == sorted(ordered, reverse=True)
        assert ("tax" in names(drawing)) == with_tax


def test_all_lengths_of_a_section_are_one_bar(tied):
    drawing = cost_figure(tied)
    at = names(drawing).index("frame 70 × 45")
    lines = [ln for ln in tied.cost.lines if ln.name.startswith("frame 70 × 45")]
    assert len({ln.name for ln in lines}) > 1
    assert drawing.traces[0]["x"][at] == pytest.approx(sum(ln.amount for ln in lines))


def test_small_things_are_merged_last_and_named(tied):
    drawing = cost_figure(tied)
    assert names(drawing)[-1] == SMALL
    values = np.asarray(drawing.traces[0]["x"])
    assert (values[:-1] >= 0.02 * tied.cost.si.total).all()
    for line in tied.cost.lines:
        good = line.name.split(", ")[0]
        if line.amount > 0:
            assert good in names(drawing) or good in drawing.caption


@pytest.mark.parametrize("with_tax", [False, True])
def test_the_heading_says_total_range_and_what_is_not_in_it(with_tax):
    found = outcome("A", with_tax)
    drawing = cost_figure(found)
    title, under = (n["text"] for n in drawing.annotations[:2])
    assert show(found.cost.total, "money", EURO) in title
    assert show(found.cost.low, "money", EURO).split("\N{NO-BREAK SPACE}")[0] in under
    assert show(found.cost.high, "money", EURO) in under
    assert ("no tax" in under) != with_tax and "no tools" in under


def test_every_bar_has_its_name_and_number(tied):
    drawing = cost_figure(tied)
    said = [n["text"] for n in drawing.annotations]
    for value in drawing.traces[0]["x"]:
        assert f"<b>{show(value, 'money', EURO)}</b>" in said
    assert len(names(drawing)) == len(drawing.traces[0]["x"])


def test_alt_text_and_table_are_complete(tied):
    drawing = cost_figure(tied)
    cost = tied.cost
    for value in (cost.total, cost.high, max(drawing.traces[0]["x"])):
        assert show(value, "money", EURO) in drawing.alt
    rows = drawing.numbers.rows
    assert [row[0] for row in rows[: len(cost.lines)]] == [
        ln.called(EURO) for ln in cost.lines
    ]
    assert ("together", "", "", show(cost.total, "coins", EURO)) in rows


def test_us_units_change_volumes_and_their_price_together(tied):
    line = next(ln for ln in tied.cost.lines if ln.unit == "m³" and ln.price > 0)
    rows = {row[0]: row for row in cost_figure(tied, system="us").numbers.rows}
    # 1 yd³ = 0.9144³ m³ = 0.76455 m³, exact by definition of the yard
    assert rows[line.name][1] == show(line.quantity, "volume", "us")
    assert rows[line.name][2] == show(line.price * 0.9144**3, "coins", EURO) + "/yd³"
    assert rows[line.name][3] == show(line.amount, "coins", EURO)


def test_a_good_that_cannot_be_bought_is_told(tied):
    prices = tied.place.prices
    rows = [row for row in prices.rows if row.goods != "nut"]
    place = tied.place.change(prices=prices.with_rows(rows, name="thin list"))
    drawing = cost_figure(bc.evaluate(tied.bed, place))
    assert "not complete" in drawing.annotations[1]["text"]
    assert "the price list has no nut" in drawing.caption
    assert ("nut", "4 pieces", "no price yet", "no price yet") in drawing.numbers.rows


def test_without_prices_the_table_says_what_is_needed(tied):
    found = bc.evaluate(tied.bed, tied.place.change(prices=None))
    drawing = cost_figure(found)
    title, under = (n["text"] for n in drawing.annotations[:2])
    assert "no prices yet" in title and "table" in under
    assert len(drawing.traces) == 1 and not list(drawing.traces[0]["x"])
    assert "Needed: 14.64\N{NO-BREAK SPACE}m frame 70 × 45, 8 pieces" in drawing.caption
    assert "nan" not in f"{drawing.alt} {drawing.numbers}"
