"""Rods, washers and ties against thread tables, handbooks and by hand."""

import numpy as np
import pytest

from bedcalc.tables import table
from bedcalc.units import Q_
from bedcalc.walls.ties import (
    bearing_area,
    bearing_factor_us,
    lowered_tie,
    plate_bearing,
    rod_tension_us,
    series_spring,
    snug_torque,
    spacing_bow,
    spacing_strength,
    stress_area,
    tie_capacity,
    tie_spring,
    ties_needed,
    turn_force,
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


def test_spring_of_a_rod():
    """Own derivation: 3/8 in rod, B 1.2 m: 1.67e7 N/m."""
    found = tie_spring(area_of("us_3_8"), Q_(1.2, "m"))
    assert found.m_as("N/m") == printed("1.67e7")
    # Own derivation: it stretches 0.14 mm under 1160 N, both halves together
    assert 1160.2 / found.m_as("N/m") * 2 == printed("0.14", "mm")


def test_slip_of_a_timber_tie():
    """Own derivation: slip of 0.5 kN/mm adds 2.3 mm under 1160 N."""
    found = series_spring(Q_(0.5, "kN/mm"), Q_(1e12, "N/m"))
    assert 1160.2 / found.m_as("N/m") == printed("2.3", "mm")


def test_tie_below_the_rail():
    """Own derivation: T = R H/z, post moment R (H - z)... by statics about the base.

    1160 N at 0.75 m held at 0.60 m: 1450 N, 174 N m in the post.
    """
    force, moment = lowered_tie(Q_(1160, "N"), Q_(0.75, "m"), Q_(0.60, "m"))
    assert force.m_as("N") == printed("1450")
    assert moment.m_as("N*m") == printed("174")


def test_tightness():
    """Own derivation: 1 kN in M10 is 2 N m; half a turn in 1.05 m is 8 kN."""
    assert snug_torque(Q_(1, "kN"), Q_(10, "mm")).m_as("N*m") == printed("2")
    found = turn_force(Q_(0.5, ""), Q_(1.5, "mm"), Q_(1.05, "m"), area_of("m10"))
    assert found.m_as("kN") == printed("8")


def test_a_bored_rail():
    """Own derivation: 2x4 with 7/16 in hole: S x 0.875."""
    face, thick = Q_(3.5, "inch"), Q_(1.5, "inch")
    left = section_modulus_bored(face, thick, Q_(0.4375, "inch"))
    assert (left / section_modulus(face, thick)).m_as("") == printed("0.875")


# Own derivation: H, w moist, then spacing moist/soaked of five rails
SPACING = """
0.30 82.5 2.55/2.30 4.49/4.05 >6 2.28/2.06 4.01/3.62
0.45 185.6 1.95/1.76 3.43/3.09 5.38/4.85 1.74/1.57 3.06/2.76
0.60 330.0 1.61/1.45 2.83/2.47 4.32/3.70 1.44/1.30 2.53/2.28
0.75 515.6 1.39/1.25 2.31/1.97 3.45/2.96 1.24/1.12 2.18/1.93
0.90 742.5 1.23/1.11 1.92/1.65 2.88/2.46 1.10/0.99 1.88/1.61
""".split("\n")[1:-1]
RAILS = [  # E' and Fb' of the reference in psi, face and thickness in inches
    (1.26e6, 1089, 3.5, 1.5), (1.26e6, 990, 1.5, 3.5), (1.26e6, 900, 1.5, 5.5),
    (0.90e6, 1040, 3.5, 1.5), (0.90e6, 945, 1.5, 3.5),
]  # fmt: skip


@pytest.mark.parametrize("line", SPACING)
def test_tie_spacing_table(line):
    """Least of strength and L/240 with creep 2 and c = 0.00541 (as the table says)."""
    height, moist, *cells = line.split()
    assert 0.5 * 11e3 * float(height) ** 2 / 6 == printed(moist, steps=0.6)
    inch = 0.0254
    for cell, (e, fb, face, thick) in zip(cells, RAILS, strict=True):
        modulus = section_modulus.si(face * inch, thick * inch)
        stiff = e * 6894.757 * modulus * thick * inch / 2
        found = []
        for weight in (11e3, 15e3):
            load = 0.5 * weight * float(height) ** 2 / 6
            found.append(
                min(
                    spacing_strength.si(fb * 6894.757, modulus, load),
                    spacing_bow.si(stiff, load, 2.0, 0.00541),
                )
            )
        if cell == ">6":
            assert min(found) > 6
        else:
            assert found == [printed(w, steps=1) for w in cell.split("/")]


def test_more_ties_bow_more_for_each_span():
    """Own derivation: with c = 0.00689 spacings are x 0.923: 1.39 to 1.28 m."""
    stiff = Q_(3559.3, "N*m^2")
    one, more = (
        spacing_bow(stiff, Q_(515.6, "N/m"), Q_(2.0, ""), Q_(c, ""))
        for c in (0.00541, 0.00689)
    )
    assert (more / one).m_as("") == printed("0.923", steps=1)
    assert one.m_as("m") == printed("1.39", steps=1)
    assert more.m_as("m") == printed("1.28")


def test_number_of_ties():
    """1.2 m bays exactly: 3.6 m needs 2, not 3; 0.9 m needs none."""
    found = ties_needed(Q_([3.6, 3.61, 0.9], "m"), Q_(1.2, "m"))
    assert [*found.m] == [2, 3, 0]
