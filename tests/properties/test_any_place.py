"""Any place that can be entered is computed; any other is refused with a sentence."""

from __future__ import annotations

import warnings
from dataclasses import replace

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_, Bed, BedError, FillMaterial, Layer, Person, Place, PriceList
from bedcalc.cost import break_even_life
from bedcalc.currency import Currency
from bedcalc.cutting import CutError
from bedcalc.fill.buying import break_even
from bedcalc.model.place import PlaceError, Survey
from bedcalc.model.plot import rectangle
from bedcalc.questions.cut_changes import spots
from bedcalc.questions.site_plan import fill_plot, plan_site
from bedcalc.site.layout import fit_grid, fit_mixed
from tests.properties.any_beds import WRONG, faults
from tests.properties.any_places import REFUSALS, random_place

DEMO = bc.demo_garden()
PLACES = 150


def test_any_place_is_computed_or_refused_with_a_sentence():
    computed = 0
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        for i in range(PLACES):
            try:
                place = random_place(np.random.default_rng([1, i]))
            except REFUSALS as error:
                for word in ("needs", "given", "for example"):
                    assert word in str(error), str(error)
                continue
            bed = DEMO["ABCDEF"[i % 6]].change(x=Q_(i, "m"), turned=i % 2 == 0)
            found = list(faults(bc.evaluate(bed, place)))
            for check in plan_site((bed, DEMO["B"]), place).checks:
                found += WRONG.findall(check.sentence(place.units("us")))
            assert not found, (i, place, found)
            computed += 1
    assert computed > PLACES / 4


def test_a_name_with_braces_stands_in_the_sentence_as_it_is():
    odd = "we {x}, {demand} and {"
    bed = DEMO["B"].change(users=Person(key="us", name=odd, reach=Q_(60, "cm")))
    check = bc.evaluate(bed, DEMO.place).check("reach")
    assert odd in check.sentence()


def test_two_fills_under_one_key_are_refused():
    """A garden file keeps one fill for each key: the other would be lost in silence."""
    light, heavy = (
        FillMaterial(key="ours", name="ours", unit_weight_moist=Q_(w, "kN/m^3"))
        for w in (5, 11)
    )
    depth = Q_(10, "cm")
    with pytest.raises(BedError, match="one set of numbers for each own fill"):
        DEMO["B"].change(
            fill=(Layer(material=light, depth=depth), Layer(material=heavy))
        )
    DEMO["B"].change(fill=(Layer(material=light, depth=depth), Layer(material=light)))


def test_no_currency_is_saved_over_one(tmp_path):
    prices = replace(PriceList.named("demo"), name="ours", currency=Currency.of("CHF"))
    garden = bc.Garden.empty("Ours", prices=prices)
    bc.save(garden, tmp_path / "g.toml")
    bare = replace(prices, currency=Currency())
    garden = garden.change(place=garden.place.change(prices=bare))
    bc.save(garden, tmp_path / "g.toml")

    assert bc.load(tmp_path / "g.toml").place.prices.currency == Currency()


@pytest.mark.parametrize("listed", ["demo", None])
def test_a_layer_that_is_hardly_there_orders_nothing(listed):
    fill = (Layer(material="chips", depth=Q_(1e-6, "cm")), Layer(material="straw"))
    place = DEMO.place.change(prices=listed)
    cost = bc.evaluate(DEMO["B"].change(fill=fill), place).cost
    every = [*cost.lines, *cost.unpriced]
    assert "chips" not in [line.goods for line in every]
    assert all(np.copysign(1, line.quantity) == 1 for line in every)


def test_what_earns_nothing_never_pays_its_cost():
    """A list of gifts: the other build costs nothing a year."""
    assert break_even_life.si(100.0, 0.0, 0.0) == np.inf
    assert break_even_life.si(100.0, 0.0, 0.03) == np.inf
    assert break_even_life.si(0.0, 0.0, 0.03) == 0
    assert break_even_life.si(100.0, 20.0, 0.0) == 5


def test_logs_of_no_depth_are_no_logs():
    fill = (Layer(material="logs", depth=Q_(0, "cm")), Layer(material="mix"))
    outcome = bc.evaluate(DEMO["B"].change(fill=fill), DEMO.place)
    assert outcome.fill.logs(Q_(15, "cm")) is None


def test_bulk_without_the_price_of_a_truck_is_no_dearer_and_no_cheaper():
    demo = PriceList.named("demo")
    rows = [row for row in demo.rows if row.goods != "truck"]
    place = DEMO.place.change(prices=replace(demo, name="ours", rows=tuple(rows)))

    assert break_even("mix", DEMO.place) is not None
    assert break_even("mix", place) is None


def test_no_length_that_can_be_carried_is_said():
    goods, rows = next(
        (key, rows)
        for key, rows in DEMO.place.goods.items()
        if rows[0].group == "timber" and min(row.length for row in rows) > 1
    )
    place = DEMO.place.change(longest_carried=Q_(1, "m"))
    with pytest.raises(CutError, match="needs a length that can be carried; given"):
        spots(goods, place, [0.5, 0.6])
    assert goods in place.goods and rows


@pytest.mark.parametrize("row", [(1001, 0, 0), (0, -5000, 0), (0, 0, 101)])
def test_a_reading_from_another_village_is_refused(row):
    with pytest.raises(PlaceError, match="x and y within 1000 m.*for example"):
        Survey(readings=((0, 0, 0.2), (4, 0, 0.3), row))


def test_beds_as_far_apart_as_can_be_have_a_plan():
    far = Q_(1000, "m")
    beds = [DEMO["B"].change(x=-far, y=-far), DEMO["C"].change(x=far, y=far)]
    plan = plan_site(beds, Place.unknown("Far"))
    assert plan.plot.length > 2000


def test_a_field_of_hectares_is_not_filled_with_beds():
    size = [Q_(v, "m") for v in (2.7, 1.05, 0.9, 0.6)]
    with pytest.raises(PlaceError, match="needs up to 20000 m².*for example"):
        fill_plot(rectangle(200, 101), *size)
    assert fill_plot(rectangle(100, 50), *size).free["along"] > 500


def test_on_a_large_plot_the_mixed_way_is_the_better_plain_one():
    plot, bed = (100, 70), (2.7, 1.05)
    plain = max(len(fit_grid(plot, bed, 0.9, 0.6, turned=t)) for t in (False, True))
    assert len(fit_mixed(plot, bed, 0.9, 0.6)) == plain


def test_what_the_spreadsheet_takes_of_a_wall_a_bed_takes():
    """One upper end for each size; an own build goes out and comes back."""
    wall = DEMO["C"].wall.own("ours", "ours", thickness=Q_(600, "mm"))
    assert isinstance(DEMO["C"].change(wall=wall, width=Q_(2, "m")), Bed)
    with pytest.raises(BedError, match="thickness: needs a length from 0 m to 0.6 m"):
        DEMO["C"].wall.own("ours", "ours", thickness=Q_(601, "mm"))
