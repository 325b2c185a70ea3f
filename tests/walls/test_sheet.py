"""Strips, lying ribs and round beds, by hand."""

import numpy as np
import pytest

from bedcalc.tables import table
from bedcalc.units import Q_
from bedcalc.walls.pressure import segments
from bedcalc.walls.sheet import (
    allowable_sheet,
    hoop_force,
    lying_moment,
    sheet_section,
    sinus_section,
    strip_moment,
    trapezoid_section,
)
from tests.validation.printed import printed


def wall(t, w, sat, k, q=0.0, water=np.inf):
    return segments.si(*map(np.array, (t, w, sat, k)), q, water)


MOIST = wall([0.75], [11e3], [15e3], [0.5])
SOAKED = wall([0.75], [15e3], [15e3], [0.5])


def test_worked_strip():
    """Own derivation: M 148.9 N m/m (0.1283 x 1546.9 x 0.75).

    29 gauge of 0.0127 in steel: 147 MPa, 1.07 of Grade 33, soaked 1.45, Grade 80 0.59.
    """
    # 0.12830 x 1546.875 x 0.75 = 148.85; the reference rounds its factor first
    moment = strip_moment.si(*MOIST, 0.75)
    assert moment == printed("148.9", steps=0.6)
    row, hard = table("sheets")["sinus_us_29ga"], table("sheets")["sinus_us_29ga_hard"]
    modulus = sheet_section(row)[2]
    assert moment / modulus == printed("147", "MPa")
    limit, strong = (allowable_sheet.si(r.design_yield) for r in (row, hard))
    assert moment / modulus / limit == printed("1.07")
    assert strip_moment.si(*SOAKED, 0.75) / modulus / limit == printed("1.45", steps=1)
    assert moment / modulus / strong == printed("0.59")


def test_worked_strip_of_the_metric_sheet():
    """Own derivation: 76 x 18 x 0.42: 0.56 of 138 MPa."""
    row = table("sheets")["sinus_76x18x0.42"]
    modulus = sheet_section(row)[2]
    stress = strip_moment.si(*MOIST, 0.75) / modulus
    assert stress / allowable_sheet.si(row.design_yield) == printed("0.56")


def test_demo_sheet():
    """Own derivation: bed B, 0.72 m: 132 N m/m, 61 MPa, 0.44 moist, 0.60 soaked."""
    row = table("sheets")["sinus_76x18x0.48"]
    modulus = sheet_section(row)[2]
    moist, soaked = (
        strip_moment.si(*wall([0.72], [w], [15e3], [0.5]), 0.72) for w in (11e3, 15e3)
    )
    assert moist == printed("132")
    assert moist / modulus == printed("61", "MPa")
    limit = allowable_sheet.si(row.design_yield)
    assert moist / modulus / limit == printed("0.44")
    assert soaked / modulus / limit == printed("0.60")


def test_lying_ribs_need_posts_close_together():
    """Own derivation: sheet over 1.8 m lying is 6 to 11 times overstressed."""
    moment = lying_moment.si(4125.0, 1.8)
    modulus = sheet_section(table("sheets")["sinus_76x18x0.42"])[2]
    hard = sheet_section(table("sheets")["sinus_us_29ga"])[2]
    assert 6 < moment / modulus / 138e6 < 11
    assert moment / hard / 248e6 > 6
    assert lying_moment.si(4125.0, 1.8, True) == pytest.approx(0.8 * moment)


def test_strip_broadcasts():
    depth = np.array([[0.3, 0.5, 0.75]])
    many = strip_moment.si(*wall(depth, [11e3], [15e3], [0.5]), depth[0])
    for i, h in enumerate(depth[0]):
        one = strip_moment.si(*wall([h], [11e3], [15e3], [0.5]), h)
        assert many[i] == pytest.approx(one)


def test_sections_broadcast():
    depth = np.array([0.016, 0.018])
    many = sinus_section.si(0.076, depth, 0.42e-3)[1]
    assert many[0] == pytest.approx(sinus_section.si(0.076, 0.016, 0.42e-3)[1])
    assert trapezoid_section.si(0.1, depth, 0.42e-3, 0.025, 0.025)[2].shape == (2,)


def test_a_flat_trapezoid_is_a_plate_pair():
    """Webs of no run and equal flats: I = t (2 b (h/2)2 + h3/6), by hand."""
    area, inertia, _ = trapezoid_section.si(0.1, 0.02, 0.001, 0.05, 0.05)
    assert area == pytest.approx(0.001 * (0.1 + 0.04) / 0.1)
    assert inertia == pytest.approx(0.001 * (0.1 * 0.01**2 + 0.02**3 / 6) / 0.1)


def test_round_bed():
    """Own derivation: R 0.6 m, 4.1 kPa: 2.5 kN/m."""
    force = hoop_force(Q_(4.1, "kPa"), Q_(0.6, "m"))
    assert force.m_as("kN/m") == printed("2.5")
