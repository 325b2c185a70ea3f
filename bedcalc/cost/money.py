"""Money over time and under doubt: short formulas, checked against other programs."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..units import Value, quantities

__all__ = [
    "break_even_life", "capital_recovery", "lognormal_sigma", "share_out",
    "tax_inside", "triangular_moments", "triangular_quantile", "yearly_cost",
]  # fmt: skip  # a list of names


@quantities(("", ""), low="", likely="", high="")
def triangular_moments(low: Value, likely: Value, high: Value) -> tuple[Value, ...]:
    """Mean and standard deviation of a low, likely, high guess.

    Parameters
    ----------
    low : quantity []
        Least it can be, as a ratio to any common amount.
    likely : quantity []
        Most likely.
    high : quantity []
        Most it can be.

    Returns
    -------
    tuple of quantity [, ]
        Mean and standard deviation, the same ratio.

    Notes
    -----
    Triangular distribution: (a + m + b)/3, sqrt((a2+m2+b2-am-ab-mb)/18).
    Source: computed.
    """
    mean = (low + likely + high) / 3
    spread = low**2 + likely**2 + high**2 - low * likely - low * high - likely * high
    return mean, np.sqrt(np.maximum(spread, 0) / 18)


@quantities("", chance="[0, 1]", low="", likely="", high="")
def triangular_quantile(chance: Value, low: Value, likely: Value, high: Value) -> Value:
    """What a low, likely, high guess stays under with a given chance.

    Parameters
    ----------
    chance : quantity []
        From 0 to 1.
    low : quantity []
        Least it can be, as a ratio to any common amount.
    likely : quantity []
        Most likely.
    high : quantity []
        Most it can be, more than low.

    Returns
    -------
    quantity []
        a + sqrt(p (b-a)(m-a)) up to the likely value, b - sqrt((1-p)(b-a)(b-m)) above.

    Notes
    -----
    Inverse of the triangular distribution. Source: computed.
    """
    wide = high - low
    below = low + np.sqrt(chance * wide * (likely - low))
    above = high - np.sqrt((1 - chance) * wide * (high - likely))
    return np.where(chance * wide <= likely - low, below, above)[()]


@quantities("", variation="[0, 10]")
def lognormal_sigma(variation: Value) -> Value:
    """Spread of the logarithm, for prices that can jump.

    Parameters
    ----------
    variation : quantity []
        Standard deviation over mean.

    Returns
    -------
    quantity []
        sqrt(ln(1 + variation2)).

    Notes
    -----
    Mean = median exp(sigma2/2); nine in ten stay under median exp(1.2816 sigma).
    Source: computed.
    """
    return np.sqrt(np.log1p(variation**2))


@quantities("", rate="[0, 1]", years="(0, 1000]")
def capital_recovery(rate: Value, years: Value) -> Value:
    """Yearly payment for one unit of money spent now.

    Parameters
    ----------
    rate : quantity []
        Interest a year, such as 0.03; zero is allowed.
    years : quantity []
        Service life.

    Returns
    -------
    quantity []
        r / (1 - (1+r)^-n), or 1/n at no interest.

    Notes
    -----
    Source: computed; capital recovery factor of engineering economy.
    """
    safe = np.where(rate > 0, rate, 1.0)
    # so, and not over (1+r)^n - 1, a life of many thousand years stays a number
    return np.where(rate > 0, safe / (1 - (1 + safe) ** -years), 1.0 / years)[()]


@quantities(
    "money",
    cost="money [0, inf)",
    rate="[0, 1]",
    years="(0, 1000]",
    upkeep="money [0, inf)",
    salvage="money",
)
def yearly_cost(
    cost: Value, rate: Value, years: Value, upkeep: Value, salvage: Value
) -> Value:
    """What something costs a year over its service life.

    Parameters
    ----------
    cost : quantity [money]
        Spent at the start.
    rate : quantity []
        Interest a year.
    years : quantity []
        Service life.
    upkeep : quantity [money]
        Each year.
    salvage : quantity [money]
        What it still fetches at the end.

    Returns
    -------
    quantity [money]
        cost x crf + upkeep - salvage x (crf - rate).

    Notes
    -----
    crf - r is the sinking fund factor r / ((1+r)^n - 1). Source: computed.
    """
    crf = capital_recovery.si(rate, years)
    return cost * crf + upkeep - salvage * (crf - rate)


@quantities("", cost="money [0, inf)", yearly="money [0, inf)", rate="[0, 1]")
def break_even_life(cost: Value, yearly: Value, rate: Value) -> Value:
    """How many years something must last to cost no more a year than another thing.

    Parameters
    ----------
    cost : quantity [money]
        First cost of the one.
    yearly : quantity [money]
        Yearly cost of the other.
    rate : quantity []
        Interest a year.

    Returns
    -------
    quantity []
        Years; infinite where even the interest is more than ``yearly``.

    Notes
    -----
    n = ln(E / (E - C r)) / ln(1 + r), or C / E at no interest: the inverse of
    :func:`capital_recovery`. Source: computed.
    """
    rest = yearly - cost * rate
    safe = np.where(rate > 0, rate, 1.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        years = np.log(yearly / np.where(rest > 0, rest, 1.0)) / np.log1p(safe)
        years = np.where(rest > 0, years, np.inf)
        plain = np.divide(cost, yearly)  # endless where nothing comes in
        years = np.where(rate > 0, years, plain)
        return np.where(np.asarray(cost) > 0, years, 0.0)[()]


@quantities("money", amount="money", rate="[0, 1]")
def tax_inside(amount: Value, rate: Value) -> Value:
    """Tax that a price holds already.

    Parameters
    ----------
    amount : quantity [money]
        Paid, tax included.
    rate : quantity []
        Tax on the price without it.

    Returns
    -------
    quantity [money]
        amount x rate / (1 + rate): 20 of 120 at 20 %.

    Notes
    -----
    Source: arithmetic; computed.
    """
    return amount * rate / (1 + rate)


def share_out(total: float, weights: Sequence[float], decimals: int = 2) -> np.ndarray:
    """Share an amount among people to the coin, so that the coins add up.

    Parameters
    ----------
    total : float
        Money.
    weights : sequence of float
        One a person: 1 for equal shares, or the area each one tends.
    decimals : int
        Of the currency.

    Notes
    -----
    Largest remainder: odd coins go to whom rounding down took most from.
    """
    weights = np.asarray(weights, dtype=float)
    if not np.isfinite(total):
        return np.full(len(weights), np.nan)
    one = 10**decimals
    coins = round(total * one)
    exact = coins * weights / weights.sum()
    whole = np.floor(exact + 1e-9)
    odd = int(coins - whole.sum())
    first = np.argsort(-(exact - whole), kind="stable")[:odd]
    whole[first] += 1
    return whole / one
