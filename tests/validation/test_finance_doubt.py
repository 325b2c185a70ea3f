"""Doubt: quantiles against scipy, sums that move together against closed forms."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from bedcalc.cost import (
    Line,
    lognormal_sigma,
    simulate,
    spread_band,
    swings,
    triangular_moments,
    triangular_quantile,
)
from bedcalc.cost import uncertainty as spread_file
from tests.validation.kinds import outside
from tests.validation.printed import printed

CHAPTER = "cost"
OTHERS = "own derivation"


@outside("library", "triangular_quantile", "scipy")
@pytest.mark.parametrize(("chance", "text"), [(0.5, "13.10"), (0.9, "15.81")])
def test_triangular_quantiles(chance, text):
    """(10, 12, 18): median 13.10, nine in ten 15.81; and scipy.stats.triang."""
    other = stats.triang(c=(12 - 10) / (18 - 10), loc=10, scale=8)

    assert triangular_quantile(chance, 10, 12, 18).m == printed(text)
    assert triangular_quantile(chance, 10, 12, 18).m == pytest.approx(
        other.ppf(chance), rel=1e-12
    )


@outside("library", "triangular_quantile", "scipy", facts=5)
def test_triangular_quantiles_from_end_to_end():
    """Against scipy.stats.triang, an array of chances."""
    chances = np.linspace(0, 1, 41)
    other = stats.triang(c=0.28, loc=0.9, scale=0.35)
    ours = triangular_quantile.si(chances, 0.9, 0.9 + 0.28 * 0.35, 1.25)

    assert ours == pytest.approx(other.ppf(chances), abs=1e-12)


@outside("library", "lognormal_sigma", "scipy", facts=1)
def test_lognormal_guess():
    """Median 100, variation 0.25: sigma 0.2462, mean 103.1, nine in ten 137.1."""
    sigma = lognormal_sigma(0.25).m
    other = stats.lognorm(s=sigma, scale=100)

    assert sigma == printed("0.2462")
    assert 100 * np.exp(sigma**2 / 2) == printed("103.1")
    assert other.mean() == printed("103.1")
    assert other.ppf(0.9) == printed("137.1")
    assert other.std() / other.mean() == pytest.approx(0.25)


def _lines(n=5, amount=100.0, group="timber"):
    return [
        Line(
            name=f"line {i}",
            group=group,
            part="walls",
            quantity=1,
            unit="piece",
            price=amount,
            amount=amount,
        )  # fmt: skip
        for i in range(n)
    ]


def _sd(lines, **how):
    return simulate(lines, draws=40_000, **how).totals.std()


def test_lines_that_move_alone_or_together():
    """Equal lines of sd s: s sqrt(n) alone, s n together; closed forms.

    Tolerance: a standard deviation of 40 000 draws is known to about 0.5 %.
    """
    _, sd = triangular_moments.si(90.0, 100.0, 125.0)

    assert _sd(_lines(), moves="alone") == pytest.approx(sd * np.sqrt(5), rel=0.02)
    assert _sd(_lines(), moves="together") == pytest.approx(sd * 5, rel=0.02)


def test_lines_of_a_group_move_by_its_correlation():
    """Timber 0.7: s sqrt(n + n (n-1) 0.7).

    The normals have correlation 0.7; triangles drawn from them have nearly the same
    (0.69), which changes the spread by less than 1 %.
    """
    _, sd = triangular_moments.si(90.0, 100.0, 125.0)

    assert _sd(_lines()) == pytest.approx(sd * np.sqrt(5 + 20 * 0.7), rel=0.03)


def test_groups_move_together_by_less():
    """Timber and soil, one line each: variance s1^2 + s2^2 + 2 x 0.2 s1 s2."""
    _, s1 = triangular_moments.si(90.0, 100.0, 125.0)
    _, s2 = triangular_moments.si(85.0, 100.0, 130.0)
    lines = _lines(1) + _lines(1, group="soil")

    assert _sd(lines) == pytest.approx(np.sqrt(s1**2 + s2**2 + 0.4 * s1 * s2), rel=0.02)


def test_correlation_matters_more_than_shape():
    """Lognormal for triangle moves P90 by far less than alone for together does."""
    lines = _lines(8)
    judged = simulate(lines).under(0.9)
    shape = abs(simulate(lines, shape="lognormal").under(0.9) - judged)
    moves = simulate(lines, moves="together").under(0.9) - simulate(
        lines, moves="alone"
    ).under(0.9)

    assert moves > 3 * shape


def test_band_by_formula_agrees_with_drawing():
    """The sum is nearly normal: both bands agree within 2 % of the total."""
    lines = _lines(6) + _lines(4, group="soil") + _lines(3, group="metal")
    groups = {g: [x.amount for x in lines if x.group == g] for g in
              ("timber", "soil", "metal")}  # fmt: skip
    low, high = spread_band(groups)
    drawn = simulate(lines)

    assert drawn.under(0.1) == pytest.approx(low, rel=0.02)
    assert drawn.under(0.9) == pytest.approx(high, rel=0.02)


def test_same_seed_same_answer_and_enough_draws():
    """5000 draws: P90 of another seed differs by less than 1 %."""
    lines = _lines(6) + _lines(4, group="soil")

    assert np.array_equal(simulate(lines).totals, simulate(lines).totals)
    assert simulate(lines, seed=7).under(0.9) == pytest.approx(
        simulate(lines).under(0.9), rel=0.01
    )
    assert spread_file.DRAWS == 5000


def test_the_likely_total_is_mostly_passed():
    """Guesses lean upwards (-10, 0, +25): fewer than half the bills stay under."""
    drawn = simulate(_lines(6))

    assert 0.1 < drawn.chance(drawn.likely) < 0.4
    assert drawn.chance(drawn.under(0.8)) == pytest.approx(0.8, abs=0.001)


def _own(low, high, amount=100.0, group="timber"):
    (line,) = _lines(1, amount, group)
    return replace(line, low=low, high=high)


@outside("library", "simulate", "scipy")
@pytest.mark.parametrize("chance", [0.1, 0.5, 0.9])
def test_a_line_with_its_own_low_and_high_price(chance):
    """Against scipy.stats.triang; a blank end is its group's (timber -10, +25 %).

    Tolerance: a tenth point of 40 000 draws of a spread of 55 is known to 0.3.
    """
    for line, low, high in (
        (_own(-0.05, 0.5), 95, 150),
        (_own(-0.05, np.nan), 95, 125),
        (_own(np.nan, 0.5), 90, 150),
        (_own(np.nan, np.nan), 90, 125),
    ):
        other = stats.triang((100 - low) / (high - low), low, high - low)
        found = simulate([line], draws=40_000).under(chance)
        assert found == pytest.approx(other.ppf(chance), abs=0.5)


@outside("library", "simulate", "scipy")
@pytest.mark.parametrize("chance", [0.1, 0.5, 0.9])
def test_lines_that_rise_as_one_add_their_points(chance):
    """Perfectly together, a point of the sum is the sum of the points (scipy)."""
    lines = [_own(-0.05, 0.5), _own(-0.3, 0.1, 200.0, "soil")]
    one = stats.triang(5 / 55, 95, 55).ppf(chance)
    two = stats.triang(60 / 80, 140, 80).ppf(chance)

    found = simulate(lines, moves="together", draws=40_000).under(chance)
    assert found == pytest.approx(one + two, abs=0.8)


@outside("library", "spread_band", "scipy", facts=1)
def test_band_by_formula_takes_the_lines_own_ends():
    """Mean and variance of scipy.stats.triang, two groups, correlation 0.2 across."""
    a, b = stats.triang(5 / 55, 95, 55), stats.triang(60 / 80, 140, 80)
    sd = np.sqrt(a.var() + b.var() + 2 * 0.2 * a.std() * b.std())
    mean, half = a.mean() + b.mean(), stats.norm.ppf(0.9) * sd

    ends = {"timber": [(-0.05, 0.5)], "soil": [(-0.3, 0.1)]}
    found = spread_band({"timber": [100.0], "soil": [200.0]}, ends)
    assert found == pytest.approx((mean - half, mean + half), rel=1e-4)


def test_swing_of_a_group_is_the_sum_of_its_lines_own_ends():
    """By hand: 100 from -5 to +50 and 100 of the group from -10 to +25."""
    (swing,) = swings([_own(-0.05, 0.5), *_lines(1)])

    assert (swing.low, swing.high) == pytest.approx((185.0, 275.0))
