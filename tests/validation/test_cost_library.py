"""Cost: money over time and doubt by libraries made for them."""

from __future__ import annotations

import numpy as np
import numpy_financial as npf
import pytest
import uncertainties
from scipy import optimize, stats

from bedcalc.cost import (
    break_even_life,
    capital_recovery,
    share_out,
    spread_band,
    triangular_moments,
    yearly_cost,
)
from bedcalc.cost.money import lognormal_sigma, tax_inside
from bedcalc.tables import table
from tests.validation.kinds import outside

CHAPTER = "cost"
OTHERS = "own derivation"

LIVES = [(0.01, 7), (0.025, 12), (0.04, 18), (0.07, 25), (0.12, 40)]


@outside("library", "capital_recovery", "numpy-financial")
@pytest.mark.parametrize(("rate", "years"), LIVES)
def test_payment_for_one_unit(rate, years):
    assert capital_recovery.si(rate, years) == pytest.approx(-npf.pmt(rate, years, 1))


@outside("library", "yearly_cost", "numpy-financial")
@pytest.mark.parametrize(("rate", "years"), LIVES)
def test_cost_a_year_with_upkeep_and_what_it_still_fetches(rate, years):
    payment = -npf.pmt(rate, years, 640, -80)
    assert yearly_cost.si(640.0, rate, years, 12.0, 80.0) == pytest.approx(payment + 12)


@outside("library", "break_even_life", "numpy-financial")
@pytest.mark.parametrize(("rate", "years"), LIVES)
def test_life_at_which_a_payment_pays(rate, years):
    yearly = -npf.pmt(rate, years, 420)
    found = float(npf.nper(rate, -yearly, 420))

    assert break_even_life.si(420.0, yearly, rate) == pytest.approx(found)
    assert found == pytest.approx(years)


@outside("library", "triangular_moments", "scipy")
@pytest.mark.parametrize(
    ("low", "likely", "high"), [(0.9, 1, 1.25), (5, 5, 9), (1, 4, 4)]
)
def test_mean_and_spread_of_a_guess(low, likely, high):
    span = high - low
    other = stats.triang(c=(likely - low) / span, loc=low, scale=span)

    found = triangular_moments.si(low, likely, high)
    assert found == pytest.approx((other.mean(), other.std()))


@outside("library", "lognormal_sigma", "scipy")
@pytest.mark.parametrize("variation", [0.05, 0.15, 0.4, 0.8])
def test_spread_of_a_price_that_can_jump(variation):
    """The sigma whose lognormal distribution varies by so much, solved for."""
    sigma = optimize.brentq(
        lambda s: stats.lognorm(s).std() / stats.lognorm(s).mean() - variation, 1e-3, 2
    )
    assert lognormal_sigma.si(variation) == pytest.approx(sigma)


BILLS = [
    {"timber": [300.0, 120.0]},
    {"timber": [300.0], "soil": [360.0]},
    {"timber": [80.0] * 5, "metal": [40.0, 30.0]},
    {"soil": [360.0, 120.0], "metal": [105.0]},
    {"timber": [165.0, 73.4, 64.5], "metal": [105.0], "soil": [360.0]},
]


@outside("library", "spread_band", "uncertainties")
@pytest.mark.parametrize("bill", BILLS)
def test_doubt_of_a_sum_of_lines_that_move_together(bill):
    """Every pair of lines with its correlation, added up by the library."""
    across = table("work")["correlation_across"].value
    groups = [group for group, amounts in bill.items() for _ in amounts]
    amounts = [amount for group in bill.values() for amount in group]
    values = []
    for group, amount in zip(groups, amounts, strict=True):
        row = table("price_spread")[group]
        low, high = 1 + row.low, 1 + row.high
        guess = stats.triang(c=(1 - low) / (high - low), loc=low, scale=high - low)
        values.append((amount * guess.mean(), amount * guess.std()))
    within = {g: table("price_spread")[g].correlation_within for g in bill}
    matrix = [
        [1.0 if i == j else within[a] if a == b else across
         for j, b in enumerate(groups)]
        for i, a in enumerate(groups)
    ]  # fmt: skip
    total = sum(uncertainties.correlated_values_norm(values, np.array(matrix)))
    low, high = spread_band(bill)
    point = stats.norm.ppf(0.9)

    assert low == pytest.approx(total.n - point * total.s, rel=1e-4)
    assert high == pytest.approx(total.n + point * total.s, rel=1e-4)


@outside("library", "share_out", "scipy")
@pytest.mark.parametrize(
    "weights", [(1, 1, 1), (2, 1), (1.5, 2.5, 3), (1, 1, 1, 1, 1, 1, 1), (5, 3, 3)]
)
def test_shares_to_the_coin_by_an_integer_program(weights):
    """Whole coins that add up, as near to the exact shares as can be."""
    exact = 10_000 * np.array(weights) / sum(weights)
    low = np.floor(exact)
    gain = (low + 1 - exact) ** 2 - (exact - low) ** 2  # one coin more for this one
    found = optimize.milp(
        gain, integrality=np.ones(len(weights)), bounds=optimize.Bounds(0, 1),
        constraints=optimize.LinearConstraint(
            np.ones((1, len(weights))), 10_000 - low.sum(), 10_000 - low.sum()
        ),
    )  # fmt: skip
    best = np.sum((low + found.x - exact) ** 2)
    ours = 100 * share_out(100.0, weights)

    assert ours.sum() == pytest.approx(10_000)
    assert np.sum((ours - exact) ** 2) == pytest.approx(best, abs=1e-6)


@outside("library", "tax_inside", "scipy")
@pytest.mark.parametrize("rate", [0.05, 0.1, 0.2])
def test_tax_that_a_price_holds(rate):
    """Solved: the price that becomes 120 with its tax."""
    plain = optimize.brentq(lambda p: p * (1 + rate) - 120, 1, 120)
    assert tax_inside.si(120.0, rate) == pytest.approx(120 - plain)
