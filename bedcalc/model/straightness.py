"""Straightness in words: one scale for a bow that is predicted or measured.

A bow is a matter of looks until it is past a fiftieth of the span. It never breaks a
wall by itself, so it never "fails": it has a place on the scale of data/bulges.csv,
and an aim that the reader chooses out of data/aims.csv.
"""

from __future__ import annotations

import numpy as np

from ..tables import Row, table
from ..units import NO_BREAK, number, show, shown_in, unit_sign

__all__ = ["PAST", "SUMS_END", "aim_parts", "one_in", "said", "scale"]

#: share of the span past which a predicted bow has no exact digits
_ROUGH = 1 / 60
#: past this share it has no number at all: the sums are for small bows
SUMS_END = 1 / 50
#: what is said instead of a number
PAST = "bows so badly that the sums end"


def aim_parts(key: str) -> float:
    """One part of the span in so many: the bow that somebody aims at."""
    return table("aims")[key].parts


def scale(share: float) -> Row:
    """The row of data/bulges.csv for a bow, given as a share of the span."""
    rows = list(table("bulges"))
    found = [row for row in rows if row.share < float(share) * (1 - 1e-6)]
    return found[-1] if found else rows[0]


def one_in(share: float, measured: bool = False) -> str:
    """A share of the span in words: ``1 in 140``; two digits are enough.

    Past a 50th only what was ``measured`` has digits.
    """
    share = float(share)
    if share * 5000 < 1:
        return "less than 1 in 5000"
    if not measured and share > SUMS_END * (1 + 1e-9):
        return "more than 1 in 50"
    parts = 1 / share
    step = 10 ** max(int(np.floor(np.log10(parts))) - 1, 0)
    return f"1 in {round(parts / step) * step:.0f}"


def said(value, share: float, kind: str = "bow", system: str = "metric") -> str:
    """A predicted bow: ``17 mm``, or past a 60th of the span ``about 50 mm``.

    Parameters
    ----------
    value : quantity or float
        The bow, m.
    share : float
        The largest bow of the wall as a share of the span.
    kind, system : str
        As in :func:`bedcalc.show`.
    """
    if float(share) <= _ROUGH * (1 + 1e-9):
        return show(value, kind, system)
    there = float(shown_in(value, kind, system))
    digits = -int(np.floor(np.log10(there))) if there > 0 else 0
    text = number(round(there, digits), max(digits, 0))
    return f"about {text}{NO_BREAK}{unit_sign(kind, system)}"
