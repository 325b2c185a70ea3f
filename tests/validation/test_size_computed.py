"""Size: posture, knees and units against numbers worked out by hand."""

from __future__ import annotations

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.fill import barrow_loads
from bedcalc.size.chapter import pressure_below
from bedcalc.size.posture import bend_angle, clear_height, reach_into, soil_over_knees
from bedcalc.size.shapes import outline
from bedcalc.tables import table
from tests.validation.kinds import outside
from tests.validation.printed import printed

CHAPTER = "size"
OTHERS = "own derivation"

TALL = Q_(1.65, "m")


@pytest.mark.parametrize(
    ("hand", "bend"),
    [("0.30 m", "82"), ("0.45 m", "63"), ("0.60 m", "39"), ("0.70 m", "9"),
     ("0.75 m", "0")],
)  # fmt: skip
def test_bending(hand, bend):
    """With cos = (y + 0.39 S - 0.530 S)/(0.288 S); segment lengths from memory."""
    assert bend_angle(TALL, Q_(hand)).m_as("deg") == printed(bend)


def test_no_bending_above():
    """0.428 S = 0.706 m for 1.65 m, computed by hand."""
    assert clear_height(TALL).m == printed("0.706")


@outside("printed", "table body", "ada_2010", facts=1)
@pytest.mark.parametrize(("rim", "left"), [("800 mm", "48"), ("865 mm", "113")])
def test_soil_over_knees(rim, left):
    """Clearance 685 mm of ADA 306.3, floor 67 mm: what is left of the rim."""
    clear = table("body")["knee_high"].q("length")

    assert clear.m_as("mm") == printed("685")
    assert soil_over_knees(Q_(rim), clear, Q_(67, "mm")).m_as("mm") == printed(left)


def test_reach_is_the_hypotenuse():
    """A 3-4-5 arm: 500 mm with the soil 300 mm down reaches 400 mm across."""
    found = reach_into(Q_(500, "mm"), Q_(0, "mm"), Q_(0, "mm"), Q_(300, "mm"))

    assert found.m_as("mm") == printed("400")


def test_outlines_by_hand():
    """2.7 m square, arms 1.05: L 4.5675 m2 and 10.8 m round, as the box; U 6.30 m2."""
    box, el, you = (outline(k, 2.7, 2.7, 1.05, 0.6, 0.6) for k in ("box", "L", "U"))

    assert (box.area, box.perimeter) == (pytest.approx(7.29), pytest.approx(10.8))
    assert (el.area, el.perimeter) == (pytest.approx(4.5675), pytest.approx(10.8))
    assert (you.area, you.perimeter) == (pytest.approx(6.30), pytest.approx(14.1))


def test_reach_of_a_box_by_hand():
    """2.7 m square, reach 0.6: out of reach stay 1.5 x 1.5 of 2.7 x 2.7 m, 30.9 %."""
    box = outline("box", 2.7, 2.7, 1.05, 0.6, 0.6)

    assert box.reached == pytest.approx(1 - 1.5**2 / 2.7**2, abs=0.015)


def test_hexagon_by_hand():
    """Regular: width w between flats, length 2w/sqrt 3: area w2 sqrt(3)/2."""
    width = 1.2
    found = outline("hexagon", 2 * width / np.sqrt(3), width, 0.5, 0.5, 0.6)

    assert found.area == pytest.approx(width**2 * np.sqrt(3) / 2, rel=1e-6)


def test_bed_a_fails_its_own_reach():
    """Demo bed A on purpose: 1050/2 + 40 = 565 mm against 450 to 500 mm."""
    garden = bc.demo_garden()
    outcome = bc.evaluate(garden["A"], garden.place)

    assert outcome.size.reach_needed.m_as("mm") == printed("565")
    assert outcome.check("reach").verdict == "fails"


def test_wet_soil_on_the_ground():
    """0.72 m at 1900 kg/m3: 13.42 kPa = 280.3 psf; 24 in at 120 pcf: 240 psf."""
    wet = Q_(1900, "kg/m^3") * Q_(9.81, "m/s^2")
    found = pressure_below(wet.to("kN/m^3"), Q_(0.72, "m"))

    assert found.m_as("kPa") == printed("13.42")
    assert found.m_as("lbf/ft^2") == printed("280.3")
    two_feet = pressure_below(Q_(120, "lbf/ft^3"), Q_(24, "inch"))
    assert two_feet.m_as("lbf/ft^2") == printed("240")


def test_barrows():
    """1 yd3 in 6 ft3: 4.5, so 5; 1 m3 in 85 L: 11.76, so 12; 85 L at 900: 76.5 kg."""
    assert barrow_loads(Q_(1, "yd^3"), Q_(6, "ft^3")).m == 5
    assert barrow_loads(Q_(1, "m^3"), Q_(85, "liter")).m == 12
    assert (Q_(85, "liter") * Q_(900, "kg/m^3")).m_as("kg") == printed("76.5")
