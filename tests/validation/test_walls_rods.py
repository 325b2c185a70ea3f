"""Rods, washers and ties against thread tables, handbooks and by hand."""

import numpy as np
import pytest

from bedcalc.tables import table
from bedcalc.units import Q_
from bedcalc.walls.ties import (
    bearing_area,
    bearing_factor_us,
    plate_bearing,
    rod_tension_us,
    snug_torque,
    stress_area,
    tie_capacity,
)
from bedcalc.walls.timber import section_modulus, section_modulus_bored
from tests.validation.kinds import outside
from tests.validation.printed import printed

CHAPTER = "walls"
OTHERS = "own derivation"

WET_PINE = Q_(378.6, "psi")


def area_of(key):
    row = table("rods")[key]
    return stress_area(row.q("diameter"), row.q("pitch"), row.thread == "unified")


@outside("printed", "stress_area", "asme_pcc1")
@pytest.mark.parametrize(
    ("rod", "words", "unit"),
    [("us_3_8", "0.0775", "inch^2"), ("us_1_2", "0.1419", "inch^2"),
     ("us_1_4", "0.0318", "inch^2"), ("us_5_16", "0.0524", "inch^2"),
     ("m8", "36.61", "mm^2"), ("m10", "57.99", "mm^2"), ("m12", "84.27", "mm^2"),
     ("m6", "20.1", "mm^2")],
)  # fmt: skip
def test_thread_areas(rod, words, unit):
    """ASME PCC-1 Table H-1 and suppliers' thread tables."""
    assert area_of(rod).m_as(unit) == printed(words)


@pytest.mark.parametrize(
    ("rod", "words"),
    [("us_1_4", "3.06"), ("us_5_16", "5.03"), ("us_3_8", "7.45"),
     ("us_3_8_hard", "12.41"), ("us_1_2", "13.6"), ("m6", "2.89"), ("m8", "5.27"),
     ("m8_hard", "14.05"), ("m10", "8.35"), ("m10_stainless", "15.7")],
)  # fmt: skip
def test_rod_tension(rod, words):
    """Own derivation: 0.6 Fy As, by hand from the thread areas.

    The reference takes the areas rounded, hence one step.
    """
    found = rod_tension_us(table("rods")[rod].q("yield_stress"), area_of(rod))
    assert found.m_as("kN") == printed(words, steps=1)


@outside("printed", "plate_bearing", "washer_note", facts=1)
def test_washer_note():
    """A public calculation note: washer 1.000/0.438 in on 625 psi holds 397 lb."""
    area = bearing_area(Q_(1.0, "inch"), Q_(0.438, "inch"), False)
    assert plate_bearing(Q_(625, "psi"), area).m_as("lbf") == printed("397")


@pytest.mark.parametrize(
    ("plate", "words"),
    [("us_washer_3_8", "240"), ("us_fender_3_8", "620"), ("us_square_2", "1457"),
     ("us_square_3", "3350")],
)  # fmt: skip
def test_washers_on_wet_pine(plate, words):
    """Own derivation, by hand: 378.6 psi x net area.

    0.635 in2 x 378.6 = 240.4; 1.638 x 378.6 = 620.0; the last two to a pound.
    """
    row = table("plates")[plate]
    area = bearing_area(row.q("outer"), row.q("hole"), row.shape == "square")
    steps = 0.6 if row.shape == "round" else 1
    assert plate_bearing(WET_PINE, area).m_as("lbf") == printed(words, steps=steps)


@outside("from memory", "bearing_factor_us", "nds_2018", facts=1)
def test_bearing_factor():
    """NDS 3.10.4 as remembered: 1 in: 1.375, so 240 to 330 lb; none at an end."""
    near, far = Q_(1, "inch"), Q_(1, "m")
    assert bearing_factor_us(Q_(1, "inch"), far).m == pytest.approx(1.375)
    assert bearing_factor_us(Q_(1, "inch"), near).m == 1
    assert bearing_factor_us(Q_(7, "inch"), far).m == 1
    assert bearing_factor_us(Q_(1, "inch")).m * 240.4 == printed("330", steps=1)


def test_the_washer_fails_before_the_rod():
    """Own derivation: 1160 N (moist), 1582 (soaked), 2617 (waterlogged).

    Rod 0.16, 0.21, 0.35 of 7.45 kN; the small washer alone 1.08 times overloaded; the
    fender 0.42, 0.57, 0.95 of 2.76 kN without Cb.
    """
    pulls = Q_(np.array([1160.2, 1582.0, 2616.7]), "N")
    rod = rod_tension_us(table("rods")["us_3_8"].q("yield_stress"), area_of("us_3_8"))
    used = (pulls / rod).m_as("")
    assert [*used] == [printed("0.16"), printed("0.21"), printed("0.35")]
    row = table("plates")["us_washer_3_8"]
    small = plate_bearing(WET_PINE, bearing_area(row.q("outer"), row.q("hole"), False))
    assert (pulls[0] / small).m_as("") == printed("1.08", steps=1)
    row = table("plates")["us_fender_3_8"]
    fender = plate_bearing(WET_PINE, bearing_area(row.q("outer"), row.q("hole"), False))
    used = (pulls / fender).m_as("")
    assert [*used] == [printed("0.42"), printed("0.57"), printed("0.95")]
    for plate in table("plates"):
        if plate.key.startswith("us"):
            capacity, part = tie_capacity("southern_pine", "us_3_8", plate.key)
            assert part == ("rod" if plate.shape == "square" else "plate")
            assert 0 < capacity <= rod.m_as("N") * (1 + 1e-9)


def test_small_washer_with_its_neighbours_help():
    """Own derivation: 330 lb = 1.47 kN."""
    capacity, _ = tie_capacity("southern_pine", "us_3_8", "us_washer_3_8")
    assert capacity == printed("1.47e3")


def test_tightness():
    """Own derivation: 1 kN in M10 is 2 N m."""
    assert snug_torque(Q_(1, "kN"), Q_(10, "mm")).m_as("N*m") == printed("2")


def test_a_bored_rail():
    """Own derivation: 2x4 with 7/16 in hole: S x 0.875."""
    face, thick = Q_(3.5, "inch"), Q_(1.5, "inch")
    left = section_modulus_bored(face, thick, Q_(0.4375, "inch"))
    assert (left / section_modulus(face, thick)).m_as("") == printed("0.875")
