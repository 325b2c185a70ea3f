"""Money over time: interest tables, and a second way to every number.

The capital recovery factors are those printed in the compound interest tables at the
back of engineering economy textbooks (five decimals), from memory, and follow from
the definition: the present value of the payments is the sum spent.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy import optimize

from bedcalc import Q_
from bedcalc.cost import (
    Line,
    break_even_life,
    capital_recovery,
    share_out,
    yearly,
    yearly_cost,
)
from tests.validation.kinds import outside
from tests.validation.printed import printed

CHAPTER = "cost"
OTHERS = "own derivation"


@outside("from memory", "capital_recovery", "interest_tables")
@pytest.mark.parametrize(
    ("rate", "years", "text"),
    [
        (0.03, 8, "0.14246"),
        (0.03, 20, "0.06722"),
        (0.05, 10, "0.12950"),
        (0.08, 5, "0.25046"),
        (0.10, 10, "0.16275"),
    ],
)
def test_capital_recovery_factors_of_the_tables(rate, years, text):
    """Printed factors (A/P, i, n)."""
    factor = capital_recovery(rate, years).m

    assert factor == printed(text)
    assert factor * np.sum((1 + rate) ** -np.arange(1.0, years + 1)) == (
        pytest.approx(1)
    )


def test_no_interest_is_a_plain_share():
    """420 over 8 years: 52.50."""
    assert capital_recovery(0.0, 8).m * 420 == pytest.approx(52.50)


@pytest.mark.parametrize("salvage", [0.0, 100.0])
def test_yearly_cost_by_present_value(salvage):
    """The present value of what is paid equals that of what is spent and fetched."""
    cost, rate, years, upkeep = 640.0, 0.03, 20, 12.0
    money = Q_(1, "money")
    ours = yearly_cost(cost * money, rate, years, upkeep * money, salvage * money).m
    at = (1 + rate) ** -np.arange(1.0, years + 1)
    worth = cost + upkeep * at.sum() - salvage * at[-1]

    assert ours == pytest.approx(worth / at.sum(), rel=1e-12)


@pytest.mark.parametrize(("rate", "text"), [(0.0, "13.125"), (0.03, "11.7")])
def test_life_at_which_two_boxes_tie(rate, text):
    """420 against 640 over 20 years.

    No interest: 640 / 20 = 32 a year, 420 / 32 = 13.125. With 3 %: 43.02 a
    year; n = ln(43.02/(43.02 - 12.6))/ln 1.03 = 11.7.
    """
    money = Q_(1, "money")
    theirs = yearly_cost(640 * money, rate, 20, 0 * money, 0 * money)
    tie = break_even_life(420 * money, theirs, rate).m
    other = optimize.brentq(
        lambda n: 420 * capital_recovery.si(rate, n) - theirs.m, 1.0, 60.0
    )

    assert tie == pytest.approx(other, rel=1e-6)
    assert tie == printed(text)


def test_never_ties_where_interest_alone_costs_more():
    """1000 at 5 % is 50 a year for ever; 40 a year cannot be reached."""
    assert np.isinf(break_even_life(Q_(1000, "money"), Q_(40, "money"), 0.05).m)


def _line(amount, goods, part="walls", group="timber"):
    return Line(
        name="x", group=group, part=part, quantity=1, unit="piece", price=amount,
        amount=amount, goods=goods,
    )  # fmt: skip


def test_cheapest_box_is_not_the_cheapest_per_year():
    """Larch (10 years) for 420, oak sleepers (18 years) for 640, by hand.

    3 %: 420 x 0.11723 = 49.24; 640 x 0.07271 = 46.53 a year.
    """
    cheap = yearly([_line(420, "larch_140x33")], rate=0.03)
    dear = yearly([_line(640, "sleeper_200x100")], rate=0.03)

    assert cheap.box == printed("49.24")
    assert dear.box == printed("46.53")


@pytest.mark.parametrize(
    ("total", "weights", "shares"),
    [
        (100.0, [1, 1, 1], [33.34, 33.33, 33.33]),
        (10.0, [2, 1, 1], [5.0, 2.5, 2.5]),
        (0.05, [1, 1], [0.03, 0.02]),
    ],
)
def test_shares_add_up_to_the_coin(total, weights, shares):
    """Largest remainder, by hand."""
    found = share_out(total, weights)

    assert list(found) == pytest.approx(shares)
    assert found.sum() == pytest.approx(total)
