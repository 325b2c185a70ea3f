"""Size: how posture, outlines and advice must behave."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import bedcalc as bc
from bedcalc import Q_
from bedcalc.questions.size_plan import (
    compare_shapes,
    compare_sizes,
    halves,
    outline_prices,
    people_fed,
    posture_at,
)
from bedcalc.size.decide import advise
from bedcalc.size.posture import bend_angle, seat_verdict
from bedcalc.size.shapes import KINDS, area_within, outline
from bedcalc.tables import table


@pytest.fixture(scope="module")
def garden():
    return bc.demo_garden()


@given(st.floats(1.2, 2.0), st.floats(0.2, 1.0), st.floats(0.2, 1.0))
def test_a_higher_bed_never_bends_more(stature, one, other):
    low, high = sorted((one, other))
    bends = bend_angle.si(stature, np.array([low, high]))

    assert np.isnan(bends[0]) or bends[1] <= bends[0] + 1e-9


@pytest.mark.parametrize("kind", KINDS)
def test_more_reach_reaches_more(kind):
    shares = [outline(kind, 2.4, 2.1, 0.9, 0.6, reach).reached for reach in (0.3, 0.6)]

    assert 0 < shares[0] <= shares[1] <= 1


def test_no_outline_is_larger_than_its_box():
    areas = {k: outline(k, 2.4, 2.1, 0.9, 0.6, 0.5).area for k in KINDS}

    assert max(areas, key=areas.get) == "box"


def test_unknown_outline_teaches():
    with pytest.raises(ValueError, match="needs one of box, L"):
        outline("star", 2.0, 2.0, 0.9, 0.6, 0.5)


def test_seat():
    assert seat_verdict(Q_("45 cm"), Q_("12 cm"))
    assert not seat_verdict(Q_("60 cm"), Q_("12 cm"))
    assert not seat_verdict(Q_("45 cm"), Q_("5 cm"))


def test_advice_follows_the_answers():
    tall = advise({"access": "stand", "drainage": "stands", "soil": "tested_bad"})
    open_ = advise({"access": "bend", "soil": "good", "food": "much"})

    assert (tall.best, open_.best) == ("raised", "ground")
    assert tall.first and tall.reasons
    with pytest.raises(ValueError, match="needs an answer among access.stand"):
        advise({"access": "fly"})


def test_every_question_of_the_table_has_two_answers_at_least():
    asked: dict[str, int] = {}
    for row in table("decide"):
        asked[row.question] = asked.get(row.question, 0) + 1

    assert all(count >= 2 for count in asked.values())
    assert set(asked) == {"access", "drainage", "soil", "food", "sowing", "budget"}


def test_the_knee_space_bed_leaves_no_soil(garden):
    """Demo bed D on purpose: 48 mm over a knee space."""
    found = posture_at(garden["D"], Q_("1.3 m"))
    check = next(c for c in found.checks if c.name == "knees")

    assert found.knee_soil.m_as("mm") == pytest.approx(48)
    assert check.verdict == "fails"


def test_longer_beds_are_cheaper_for_each_area(garden):
    sizes = compare_sizes(garden["A"], garden.place, "length", Q_("1 m"), Q_("4 m"), 7)

    assert sizes.each[-1] < sizes.each[0]
    assert len(sizes.at) == 7 + 1  # the length it has is among them
    assert garden["A"].length.m_as("m") in sizes.at


def test_two_small_beds_need_more_wall(garden):
    whole, half = halves(garden["A"], garden.place)

    assert 2 * half.size.perimeter > whole.size.perimeter
    assert 2 * half.size.inside_area < whole.size.inside_area


def test_people_fed():
    """12.34 m2 of the demo garden; 4 to 6 m2 each for salad: 2 to 3 people."""
    found = {name: (low, high) for name, low, high in people_fed(Q_(12.34, "m^2"))}

    low, high = found["salad all summer"]
    assert low == pytest.approx(2.06, abs=0.01)
    assert high == pytest.approx(3.09, abs=0.01)


def test_growing_area_inside_the_walls():
    """By hand, walls of 0.1 m: box 2 x 1: 1.8 x 0.8 = 1.44 m2.

    L of 2 x 2 m with arms of 1 m: 1.8 x 0.8 + 0.8 x 1.0 = 2.24 m2.
    Six sides of 0.5 m: half their distance 0.43301 - 0.1 = 0.33301 m, and
    2 sqrt(3) x 0.33301^2 = 0.38416 m2.
    """
    box = outline("box", 2.0, 1.0, 0.5, 0.5, 0.5).ring
    ell = outline("L", 2.0, 2.0, 1.0, 0.5, 0.5).ring
    six = outline("hexagon", 1.0, 0.8660254, 0.5, 0.5, 0.5).ring

    assert area_within(box, 0.1) == pytest.approx(1.44)
    assert area_within(ell, 0.1) == pytest.approx(2.24)
    assert area_within(six, 0.1) == pytest.approx(0.38416, abs=1e-5)


def test_the_price_of_an_outline_is_the_price_of_its_bed(garden):
    """The box of bed A itself costs what its bill says for walls, screws and fill."""
    bed = garden["A"]
    outcome = bc.evaluate(bed, garden.place)
    shapes = compare_shapes(
        bed.length, bed.width, Q_("80 cm"), Q_("60 cm"), outcome.size.reach
    )
    box = outline_prices(shapes, outcome)[0]
    c = outcome.cost.si

    assert box.inside == pytest.approx(outcome.size.si.inside_area)
    assert box.total == pytest.approx(c.walls + c.ties + c.fixings + c.fill)
    assert box.each == pytest.approx(box.total / box.inside)


def test_a_bay_makes_growing_area_dearer(garden):
    outcome = bc.evaluate(garden["A"], garden.place)
    shapes = compare_shapes(*(Q_(v, "m") for v in (2.7, 2.1, 0.8, 0.6, 0.475)))
    each = {p.kind: p.each for p in outline_prices(shapes, outcome)}

    assert each["box"] < each["keyhole"] < each["U"]
