"""Life: what is bought again and when, and what the bed costs a year."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..tables import table
from .lines import Line
from .money import capital_recovery

__all__ = ["Yearly", "life_of", "yearly"]

_YEAR = 365.25 * 86400.0


def life_of(line: Line, case: str = "likely") -> float:
    """Service life of what a line buys, years; infinite for what stays.

    Goods of one's own take that of the goods they stand for (``lasts_as``). ``case``
    is ``short``, ``likely`` or ``long``.
    """
    name = {"short": "life_low", "likely": "life", "long": "life_high"}[case]
    rows = table("service_life")
    goods = line.lasts_as or line.goods
    key = goods if goods in rows else f"part_{line.part}"
    if key not in rows:
        return float("inf")
    years = getattr(rows[key], name) / _YEAR
    return float("inf") if np.isnan(years) else years


@dataclass(frozen=True, kw_only=True)
class Yearly:
    """Cost a year, money: the box, the fill, and topping it up."""

    box: float
    fill: float
    top_up: float

    @property
    def total(self) -> float:
        """All three."""
        return self.box + self.fill + self.top_up


def yearly(
    lines: Sequence[Line],
    *,
    rate: float = 0.03,
    tax: float = 0.0,
    horizon: float = 30.0,
    top_up: float = 0.0,
    case: str = "likely",
) -> Yearly:
    """What the bed costs a year if each part is bought again when it is worn out.

    Parameters
    ----------
    lines : sequence of Line
    rate : float
        Interest a year.
    tax : float
        Tax, where totals hold it.
    horizon : float
        Years over which what never wears out is paid off.
    top_up : float
        Compost to keep it full, money a year.
    case : str
        ``short``, ``likely`` or ``long`` lives.
    """
    box = fill = 0.0
    for line in lines:
        paid = line.amount * (1 + tax * line.taxed)
        years = min(life_of(line, case), horizon)
        share = paid * float(capital_recovery.si(rate, years))
        if line.part == "fill" or (line.part == "delivery" and line.group == "soil"):
            fill += share
        else:
            box += share
    return Yearly(box=box, fill=fill, top_up=top_up)
