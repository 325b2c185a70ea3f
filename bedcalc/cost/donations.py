"""Donors: the bill as a list of gifts, grouped by whom one asks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..tables import table
from .lines import Line

__all__ = ["Donation", "donor_of", "gifts"]


@dataclass(frozen=True, kw_only=True)
class Donation:
    """One donor to ask: what for, and what it is worth (money, with tax if asked)."""

    donor: str
    asks: str
    lines: tuple[Line, ...]
    worth: float


def donor_of(line: Line) -> str:
    """Who sells or gives what a line buys: a kind of shop, never a shop."""
    rows = table("donors")
    key = line.goods if line.goods in rows else line.group
    return rows[key if key in rows else "rest"].donor


def gifts(lines: Sequence[Line], rate: float = 0.0) -> tuple[Donation, ...]:
    """Group the bill by whom one can ask, the largest gift first."""
    rows = table("donors")
    by_donor: dict[str, list[Line]] = {}
    for line in lines:
        by_donor.setdefault(donor_of(line), []).append(line)
    asks = {row.donor: row.asks for row in rows}
    found = [
        Donation(
            donor=donor,
            asks=asks[donor],
            lines=tuple(group),
            worth=sum(
                line.amount + line.tax(rate)
                for line in group
                if np.isfinite(line.amount)
            ),
        )
        for donor, group in by_donor.items()
    ]
    return tuple(sorted(found, key=lambda gift: -gift.worth))
