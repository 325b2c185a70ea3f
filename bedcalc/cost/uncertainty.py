"""Doubt: how far the bill can run when prices are guesses, and what matters most."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..tables import table
from .counting import work
from .lines import Line
from .money import lognormal_sigma, triangular_moments, triangular_quantile

__all__ = ["Spread", "Swing", "line_ends", "simulate", "spread_band", "swings"]

_P90 = 1.2816  # 90 % point of the normal distribution
DRAWS, SEED = 5000, 20260301


def line_ends(line: Line) -> tuple[float, float]:
    """Low and high price of a line as shares: its own guess, else its group's."""
    row = table("price_spread")[line.group]
    low = row.low if np.isnan(line.low) else line.low
    high = row.high if np.isnan(line.high) else line.high
    return low, high


def spread_band(
    amounts: dict[str, list[float]],
    ends: dict[str, list[tuple[float, float]]] | None = None,
) -> tuple[float, float]:
    """The band that holds the total with a chance of 8 in 10, by formula.

    Parameters
    ----------
    amounts : dict of group to list of float
        Amounts of the lines, money, by price group of data/price_spread.csv.
    ends : dict of group to list of (low, high), optional
        Low and high of each line as shares; the group's own if left out.

    Returns
    -------
    tuple of float
        P10 and P90 of the total, money.

    Notes
    -----
    Each line is triangular; lines of a group move together by the group's own
    correlation, groups by less; the sum is taken as normal. Quick enough for a
    slider; :func:`simulate` draws instead.
    Source: invented spreads; computed.
    """
    mean_total, by_group = 0.0, []
    for group, values in amounts.items():
        row = table("price_spread")[group]
        own_ends = (ends or {}).get(group) or [(row.low, row.high)] * len(values)
        low, high = 1 + np.array(own_ends).T
        mean, sd = triangular_moments.si(low, 1.0, high)
        sds = np.asarray(values) * sd
        mean_total += float(np.sum(mean * values))
        r = row.correlation_within
        own = r * sds.sum() ** 2 + (1 - r) * np.sum(sds**2)
        by_group.append((own, sds.sum()))
    total = sum(own for own, _ in by_group)
    sums = np.array([s for _, s in by_group])
    total += work("correlation_across") * (sums.sum() ** 2 - np.sum(sums**2))
    half = _P90 * np.sqrt(total)
    return float(mean_total - half), float(mean_total + half)


@dataclass(frozen=True, kw_only=True)
class Spread:
    """Totals of many drawn bills, smallest first, and what they say (money)."""

    totals: np.ndarray
    likely: float

    def under(self, chance: float) -> float:
        """What the bill stays under with this chance."""
        return float(np.quantile(self.totals, chance))

    def chance(self, amount: float) -> float:
        """Chance that the bill stays under an amount."""
        return float(np.searchsorted(self.totals, amount) / len(self.totals))


def _normals(groups: Sequence[str], moves: str, draws: int, seed: int) -> np.ndarray:
    """Standard normals, one row a draw, one column a line, moving together."""
    dice = np.random.default_rng(seed)
    names = sorted(set(groups))
    everyone = dice.standard_normal((draws, 1))
    by_group = dice.standard_normal((draws, len(names)))
    own = dice.standard_normal((draws, len(groups)))
    if moves == "together":
        return np.broadcast_to(everyone, own.shape)
    if moves == "alone":
        return own
    across = work("correlation_across")
    within = [table("price_spread")[group].correlation_within for group in groups]
    within = np.maximum(np.array(within), across)
    column = [names.index(group) for group in groups]
    return (
        np.sqrt(across) * everyone
        + np.sqrt(within - across) * by_group[:, column]
        + np.sqrt(1 - within) * own
    )


def simulate(
    lines: Sequence[Line],
    rate: float = 0.0,
    *,
    moves: str = "judged",
    shape: str = "triangle",
    draws: int = DRAWS,
    seed: int = SEED,
) -> Spread:
    """Draw many bills: the same quantities, other prices.

    Parameters
    ----------
    lines : sequence of Line
        The bill.
    rate : float
        Tax, where totals hold it.
    moves : str
        How prices move: ``judged`` (groups by data/price_spread.csv), ``alone`` (each
        by itself), ``together`` (all as one).
    shape : str
        ``triangle``, or ``lognormal`` with the same mean and spread.
    draws, seed : int
        The same seed gives the same answer.

    Notes
    -----
    One factor for all, one a group, one a line: z = sqrt(r_x) g + sqrt(r_w - r_x) g_k
    + sqrt(1 - r_w) e; then Phi(z) goes through the inverse of each line's guess.
    """
    from scipy.special import ndtr

    for name, given, known in (
        ("moves", moves, ("judged", "alone", "together")),
        ("shape", shape, ("triangle", "lognormal")),
    ):
        if given not in known:
            raise ValueError(f"{name}: needs one of {', '.join(known)}; given {given}")
    paid = [line for line in lines if line.amount > 0]
    if not paid:
        return Spread(totals=np.zeros(draws), likely=0.0)
    amounts = np.array([line.amount * (1 + rate * line.taxed) for line in paid])
    low, high = 1 + np.array([line_ends(line) for line in paid]).T
    z = _normals([line.group for line in paid], moves, draws, seed)
    if shape == "triangle":
        factor = triangular_quantile.si(ndtr(z), low, 1.0, high)
    else:
        mean, sd = triangular_moments.si(low, 1.0, high)
        sigma = lognormal_sigma.si(sd / mean)
        factor = mean * np.exp(sigma * z - sigma**2 / 2)
    return Spread(totals=np.sort(factor @ amounts), likely=float(amounts.sum()))


@dataclass(frozen=True, kw_only=True)
class Swing:
    """What the total becomes when one thing is low or high, the rest as guessed."""

    name: str
    low: float
    high: float

    @property
    def width(self) -> float:
        """From the lower to the higher total."""
        return abs(self.high - self.low)


#: what people call the price groups
GROUP_NAMES = {
    "timber": "price of timber",
    "metal": "price of metal",
    "stone": "price of blocks",
    "plastic": "price of plastic",
    "soil": "price of fill and its delivery",
    "service": "hire and gear",
}


def swings(lines: Sequence[Line], rate: float = 0.0) -> tuple[Swing, ...]:
    """Each price group low and high in turn, the widest swing first."""
    sums: dict[str, np.ndarray] = {}
    for line in lines:
        paid = line.amount * (1 + rate * line.taxed)
        low, high = line_ends(line)
        moved = paid * np.array([1.0, low, high])
        sums[line.group] = sums.get(line.group, 0.0) + moved
    total = float(sum(amount for amount, *_ in sums.values()))
    found = [
        Swing(
            name=GROUP_NAMES.get(group, group),
            low=total + float(down),
            high=total + float(up),
        )
        for group, (amount, down, up) in sums.items()
        if amount > 0
    ]
    return tuple(sorted(found, key=lambda swing: -swing.width))
