"""Walls of the demo garden and of common builds, recomputed by an independent check.

Own derivations: the sums stand beside each, and a second program gave the same.
"""

import numpy as np
import pytest

from bedcalc.tables import table
from bedcalc.walls.beams import span_coefficients, uniform_bow, uniform_moment
from bedcalc.walls.frame import rule
from bedcalc.walls.pressure import push_between, segments
from bedcalc.walls.timber import bending_en, factor, second_moment, section_modulus
from tests.validation.printed import printed

CHAPTER = "walls"
OTHERS = "own derivation"

C24 = table("timber_en")["C24"]
RAIL = (0.070, 0.045)  # face, thickness
CAP = (0.022, 0.090)


def top_load(height, weight, k=0.5):
    return k * weight * height**2 / 6


@pytest.mark.parametrize(
    ("length", "bow"), [(2.700, "56"), (2.655, "53"), (2.610, "49")]
)
def test_which_length_counts(length, bow):
    """Bed B's rail alone, 70 x 45 C24: 56 / 53 / 49 mm outside, axis, inside.

    By hand: 475.2 N/m, EI 11 GPa x 0.5316e-6 m4. 49.06 and 52.5 mm: the first sum
    rounds the middle one up from 52.54.
    """
    found = uniform_bow.si(
        top_load(0.72, 11e3), length, C24.E_mean * second_moment.si(*RAIL)
    )
    assert found == printed(bow, "mm", steps=0.6)


def test_a_cap_that_counts():
    """With the continuous 90 x 22 cap 16 mm at once, 32 mm doubled."""
    stiff = C24.E_mean * (second_moment.si(*RAIL) + second_moment.si(*CAP))
    bow = uniform_bow.si(top_load(0.72, 11e3), 2.700, stiff)
    assert bow == printed("16", "mm")
    assert 2 * bow == printed("32", "mm")


def test_one_tie_without_the_cap():
    """1.5 mm at once, 4.9 mm (x 3 and the soaked part), tie 1.09 kN soaked.

    Bending 0.91 of 9.23 MPa as the first sum counts, without the size factor; with
    k_h = 1.27 for 45 mm, which A1 allows, 0.72.
    """
    stiff = C24.E_mean * second_moment.si(*RAIL)
    moist, soaked = (top_load(0.72, w) for w in (11e3, 15e3))
    once, wet = (uniform_bow.si(w, 2.700, stiff, 2) for w in (moist, soaked))
    assert once == printed("1.5", "mm")
    assert 3 * once + wet - once == printed("4.9", "mm")
    assert span_coefficients(2).reaction_interior * soaked * 1.35 == printed("1.09e3")
    stress = 1.35 * uniform_moment.si(soaked, 2.700, 2) / section_modulus.si(*RAIL)
    plain = bending_en.si("C24", "permanent", 0.150)
    assert plain == printed("9.23", "MPa")
    assert stress / plain == printed("0.91")
    assert stress / bending_en.si("C24", "permanent", 0.045) == printed("0.72")


def test_bed_a_untied():
    """Stacked 140 x 33 larch boards, 2.63 m: 29 mm at once, 88 mm (x 3); with one
    line of ties 0.8 and 2.3 mm.
    """
    height, thin = 0.56, 0.56 / 64  # so many boards are as good as a sheet
    z = thin * (np.arange(64) + 0.5)
    stiff = np.full(64, C24.E_mean * second_moment.si(thin, 0.033))
    moment = 0.5 * 11e3 * height**3 / 6
    bow = uniform_bow.si(height * moment / rule.si(z, stiff)[2], 2.63, 1.0)
    assert bow == printed("29", "mm")
    assert (1 + factor("en_kdef")) * bow == printed("88", "mm", steps=1)
    tied = bow * uniform_bow.si(1, 1, 1, 2) / uniform_bow.si(1, 1, 1, 1)
    assert tied == printed("0.8", "mm")
    assert 3 * tied == printed("2.3", "mm")


def test_bed_c_bottom_plank():
    """Recycled plank 125 x 30, 0.8 GPa, 0.87 m between tied posts: 7 mm, 21 mm
    after years (L/41); posts every 0.48 m, 0.41 to 0.55 m for 0.5 to 1.2 GPa.
    """
    plank = table("planks")["polyolefin"]
    pieces = segments.si(
        np.array([0.375]), np.array([11e3]), np.array([15e3]), np.array([0.5])
    )
    load, _ = push_between.si(*pieces, 0.0, 0.125)
    inertia = second_moment.si(0.125, 0.030)
    bow = uniform_bow.si(load, 0.87, plank.E * inertia)
    assert bow == printed("7", "mm")
    assert plank.creep * bow == printed("21", "mm")
    assert 0.87 / (plank.creep * bow) == printed("41")
    for e, words in ((plank.E, "0.48"), (plank.E_low, "0.41"), (plank.E_high, "0.55")):
        span = float(words)  # a bow of a 240th of it; the third power of two digits
        bow = plank.creep * uniform_bow.si(load, span, e * inertia)
        assert span / bow == pytest.approx(240, rel=0.035)


def test_low_beds_without_ties():
    """H 0.30 m, 2.4 m, standing 2x4: 20 mm after years, L/120."""
    inertia = second_moment.si(0.0889, 0.0381)
    bow = 2 * uniform_bow.si(top_load(0.30, 11e3), 2.4, 8.687e9 * inertia)
    assert bow == printed("20", "mm")
    assert 2.4 / bow == printed("120")
    # up to 1.9 m it is within L/180
    shorter = 2 * uniform_bow.si(top_load(0.30, 11e3), 1.9, 8.687e9 * inertia)
    assert shorter < 1.9 / 180 < bow
