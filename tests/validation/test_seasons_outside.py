"""Seasons against the outside: heaps, rot, zinc, fertiliser and other tables."""

from __future__ import annotations

import math

import numpy_financial as npf
import pytest
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

from bedcalc import Q_
from bedcalc.fill import mass_left
from bedcalc.seasons import (
    critical_ratio,
    for_moisture,
    for_ratio,
    half_life,
    heap_moisture,
    heap_ratio,
    nitrogen_tied,
    repair_pays,
    rot_rate,
    sheet_life,
    years_of_supply,
    zinc_life,
)
from bedcalc.tables import table
from tests.validation.kinds import outside
from tests.validation.printed import printed

CHAPTER = "seasons"
OTHERS = "own derivation"


def per_year(rate: float):
    return Q_(rate, "1/year")


# ---- heaps: the worked example of On-Farm Composting


@outside("from memory", "for_ratio", "nraes_54")
def test_grass_and_leaves_to_thirty_to_one():
    """10 kg grass (77 % water, 45 % C, 2.4 % N) want 3.5 kg leaves; from memory."""
    leaves = for_ratio(
        Q_(10, "kg"), 30, 0.024, 0.0075, 0.45 / 0.024, 0.5 / 0.0075, 0.77, 0.35
    )
    assert leaves.m_as("kg") == printed("3.5")


@outside("from memory", "heap_moisture", "nraes_54")
def test_that_heap_is_too_wet():
    """66.2 % with 3.474 kg; from memory, and recomputed."""
    wet = heap_moisture(Q_(10, "kg"), Q_(3.474, "kg"), 0.77, 0.35)
    assert 100 * wet.m == printed("66.2")


@outside("from memory", "for_moisture", "nraes_54")
def test_leaves_for_sixty_percent():
    """10 kg at 77 % and leaves at 35 %: 6.8 kg for 60 %; from memory."""
    leaves = for_moisture(Q_(10, "kg"), 0.60, 0.77, 0.35)
    assert leaves.m_as("kg") == printed("6.8")


def test_the_averages_of_the_appendix():
    """Grass 82 %, 3.4 % N, 17 to 1; leaves 38 %, 0.9 %, 54 to 1: 5.941 kg by hand."""
    leaves = for_ratio(Q_(10, "kg"), 30, 0.034, 0.009, 17, 54, 0.82, 0.38)
    assert leaves.m_as("kg") == printed("5.941")


@outside("library", "for_ratio", "scipy", facts=3)
@pytest.mark.parametrize("goal", [22.0, 30.0, 45.0])
def test_the_heap_has_the_ratio_that_was_asked_for(goal):
    """The equation of the heap solved for the second mass by a root finder."""

    def lacks(kg):
        found = heap_ratio.si(10.0, kg, 0.45, 0.50, 0.024, 0.0075, 0.77, 0.35)
        return float(found) - goal

    found = for_ratio.si(10.0, goal, 0.024, 0.0075, 18.75, 66.6666667, 0.77, 0.35)
    assert found == pytest.approx(brentq(lacks, 0.0, 1000.0), rel=1e-6)


@outside("library", "for_moisture", "scipy", facts=2)
@pytest.mark.parametrize("goal", [0.5, 0.6])
def test_the_heap_is_as_wet_as_was_asked_for(goal):
    root = brentq(lambda kg: heap_moisture.si(10.0, kg, 0.77, 0.35) - goal, 0.0, 1e3)
    assert for_moisture.si(10.0, goal, 0.77, 0.35) == pytest.approx(root, rel=1e-6)


# ---- rot


@outside("from memory", "half_life", "herrmann_2015", facts=3)
@pytest.mark.parametrize(
    ("rate", "half"), [(0.054, "12.8"), (0.033, "21.0"), (0.032, "21.7")]
)
def test_half_lives_of_logs_on_the_ground(rate, half):
    """Beech 0.054, spruce 0.033, pine 0.032 a year (abstract, from memory)."""
    assert half_life(per_year(rate)).m_as("year") == printed(half)


@outside("from memory", "mass_left", "jurgensen_2006", facts=2)
@pytest.mark.parametrize(("rate", "lost"), [(0.350, "65"), (0.010, "3")])
def test_stakes_in_mineral_soil(rate, lost):
    """Three years: 65 % lost in central Poland, 3 % in the far north (abstract)."""
    left = mass_left(Q_(3, "year"), per_year(rate), 0.0, per_year(1.0))
    assert 100 * (1 - left.m) == printed(lost)


@outside("library", "mass_left", "scipy", facts=3)
@pytest.mark.parametrize("years", [1.0, 5.0, 10.0])
def test_rot_as_an_equation_of_two_pools(years):
    """15 % at 1.5 a year and 85 % at 0.06, integrated step by step."""
    found = solve_ivp(
        lambda t, m: [-1.5 * m[0], -0.06 * m[1]], (0, years), [0.15, 0.85],
        rtol=1e-9, atol=1e-12,
    ).y[:, -1].sum()  # fmt: skip
    left = mass_left(Q_(years, "year"), per_year(0.06), 0.15, per_year(1.5))
    assert left.m == pytest.approx(found, rel=1e-6)


@outside("library", "half_life", "scipy", facts=1)
def test_half_life_by_a_root_finder():
    root = brentq(lambda t: math.exp(-0.08 * t) - 0.5, 0, 100)
    assert half_life(per_year(0.08)).m_as("year") == pytest.approx(root, rel=1e-9)


def test_ten_degrees_double_the_rate():
    """Q10 = 2: five degrees are the root of two; half as fast where it is dry."""
    base = rot_rate(per_year(0.08), Q_(10, "degC"), 1.0, Q_(20, "cm"))
    warm = rot_rate(per_year(0.08), Q_(15, "degC"), 1.0, Q_(20, "cm"))
    dry = rot_rate(per_year(0.08), Q_(20, "degC"), 0.5, Q_(20, "cm"))

    assert base.m_as("1/year") == pytest.approx(0.08)
    assert (warm / base).m_as("") == printed("1.414")
    assert dry.m_as("1/year") == pytest.approx(0.08)


# ---- nitrogen


@outside("from memory", "critical_ratio", "brady_weil", facts=1)
def test_twenty_four_to_one():
    """A third of the carbon and 8 to 1: the 24 to 1 of soil textbooks."""
    assert critical_ratio(1 / 3, 8).m == pytest.approx(24)


def test_a_tonne_of_straw():
    """400 kg of carbon at 80 to 1: 400 (1/24 - 1/80) = 11.67 kg, by hand."""
    tied = nitrogen_tied(Q_(400, "kg"), 1 / 3, 8, 80)
    assert tied.m_as("kg") == printed("11.67")


def test_the_first_year_of_a_cubic_metre_of_chips():
    """220 kg x 0.48 x (1 - e^-0.25) = 23.36 kg carbon; x (0.3/12 - 1/400): 525.6 g."""
    tied = nitrogen_tied(Q_(23.36, "kg"), 0.30, 12, 400)
    assert tied.m_as("g") == printed("525.6")


def test_phosphorus_for_more_than_a_century():
    """30 cm of compost at 400 kg/m3 and 0.4 %: 480 g; crops take 3.5 a year."""
    years = years_of_supply(Q_(480, "g/m^2"), Q_(3.5, "g/m^2/year"))
    assert years.m_as("year") == printed("137")


@outside("from memory", "table nutrients", "nraes_54", facts=5)
@pytest.mark.parametrize(
    ("row", "ratio"), [("straw", "80"), ("leaves", "54"), ("brush", "53")]
)
def test_carbon_to_nitrogen_of_the_appendix(row, ratio):
    """Appendix A, averages; read in a file that quotes it."""
    found = table("nutrients")[row]
    assert found.carbon / found.nitrogen == printed(ratio)


# ---- wear

MICRON_YEAR = "micrometer/year"


def zinc(micrometres: float):
    return zinc_life(
        Q_(micrometres, "micrometer"), Q_(2, "year"), Q_(15, MICRON_YEAR),
        Q_(4, MICRON_YEAR),
    ).m_as("year")  # fmt: skip


@outside("from memory", "zinc_life", "aashto_lrfd", facts=1)
def test_the_coating_of_a_soil_strip():
    """86 micrometres last 16 years by the rates of the code (a thesis says so)."""
    assert zinc(86) == printed("16")


@outside("library", "zinc_life", "scipy", facts=3)
@pytest.mark.parametrize("coat", [19.2, 42.7, 86.0])
def test_zinc_that_goes_at_two_rates(coat):
    """The loss integrated over time reaches the coat at the life that is said."""
    lost, _ = quad(lambda t: 15.0 if t < 2 else 4.0, 0, zinc(coat), points=[2.0])
    assert lost == pytest.approx(coat, rel=1e-6)


def test_a_sheet_eaten_from_both_sides():
    """0.42 mm of steel, 19.2 micrometres of zinc gone after 1.28 years, 12 a year."""
    both, one = (
        sheet_life(
            Q_(1.28, "year"), Q_(0.42, "mm"), Q_(12, MICRON_YEAR), sides
        ).m_as("year")
        for sides in (2, 1)
    )  # fmt: skip
    assert both == printed("10.0")
    assert one == printed("18.8")


@outside("library", "repair_pays", "numpy-financial", facts=4)
@pytest.mark.parametrize("rate", [0.0, 0.03])
@pytest.mark.parametrize("lasts", [3.0, 8.0])
def test_repair_against_new_as_two_loans(rate, lasts):
    """Each is a loan paid back over the years that it lasts."""
    anew = -float(npf.pmt(rate, 12, 400.0))
    repair = -float(npf.pmt(rate, lasts, 90.0))
    less = repair_pays(Q_(90, "money"), lasts, Q_(400, "money"), 12, rate)
    assert less.m_as("money") == pytest.approx(anew - repair, rel=1e-9)
