"""Straightness in words: one scale for a bow that is predicted or measured.

A bow is a matter of looks until it is past a fiftieth of the span. It never breaks a
wall by itself, so it never "fails": it has a place on the scale of data/bulges.csv,
and an aim that the reader chooses out of data/aims.csv.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..tables import Row, table
from ..units import NO_BREAK, number, show, shown_in, unit_sign

if TYPE_CHECKING:  # names for an editor
    from ..walls.chapter import Walls

__all__ = [
    "BOWS", "NO_NUMBER", "PAST", "SUMS_END", "aim_parts", "bow_words", "likely_bow",
    "one_in", "said", "scale",
]  # fmt: skip  # a list of names

#: share of the span past which a predicted bow has no exact digits
_ROUGH = 1 / 60
#: past this share it has no number at all: the sums are for small bows
SUMS_END = 1 / 50
#: what is said instead of a number
PAST = "bows so badly that the sums end"
#: the same where only a number has room
NO_NUMBER = "past the sums"
#: the bows of a wall that are told, as in ``walls.bow_years``
BOWS = ("once", "years", "low", "high", "light", "heavy")
#: below so many millimetres a bow has tenths
_TENTHS = 9.5


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


def said(value: float, share: float, kind: str = "bow", system: str = "metric") -> str:
    """A predicted bow: ``1.3 mm``, ``17 mm``, past a 60th of the span ``about 50 mm``.

    Parameters
    ----------
    value : quantity or float
        The bow, m.
    share : float
        The largest bow of the wall as a share of the span.
    kind, system : str
        As in :func:`bedcalc.show`; a small bow has tenths whatever the kind.
    """
    if share > SUMS_END * (1 + 1e-9):
        return NO_NUMBER
    if kind == "bow" and float(shown_in(value, "bow", "metric")) < _TENTHS:
        kind = "fine"
    if share <= _ROUGH * (1 + 1e-9):
        return show(value, kind, system)
    there = float(shown_in(value, kind, system))
    digits = -int(np.floor(np.log10(there))) if there > 0 else 0
    text = number(round(there, digits), max(digits, 0))
    return f"about {text}{NO_BREAK}{unit_sign(kind, system)}"


def bow_words(walls: Walls, bow: str = "years", system: str = "metric") -> str:
    """A bow of a long wall as it is read everywhere: screen, picture, table, paper.

    Parameters
    ----------
    walls : Walls
        Of rails or boards.
    bow : str
        Which one of ``BOWS``.
    system : str
        The reader's units.

    Returns
    -------
    str
        :func:`said` of it; ``past the sums`` where they carry no number.
    """
    if walls.past_sums:
        return NO_NUMBER
    value = float(getattr(walls.si, f"bow_{bow}"))
    return said(value, value / _span(walls), "bow", system)


def likely_bow(walls: Walls, system: str = "metric", to: str = "–") -> str:
    """The likely bow after years, from the low to the high end.

    Parameters
    ----------
    walls : Walls
        Of rails or boards.
    system : str
        The reader's units.
    to : str
        Stands between the two.

    Returns
    -------
    str
        ``20–31 mm``; ``about 20–50 mm`` where the high end has no exact digits, ``over
        20 mm`` where it has no number; ``past the sums`` where none of them has.
    """
    low, years, high = (bow_words(walls, b, system) for b in ("low", "years", "high"))
    if NO_NUMBER in (years, high):
        return f"over {low}" if _exact(years) else years
    (low, _), (high, unit) = low.split(NO_BREAK), high.split(NO_BREAK)
    about, high = ("about ", high[6:]) if high.startswith("about ") else ("", high)
    digits = len(high.partition(".")[2])  # both ends with the digits of the high one
    low = number(float(low), digits)
    return f"{about}{low if low == high else low + to + high}{NO_BREAK}{unit}"


def _exact(words: str) -> bool:
    return words[:1].isdigit()


def _span(walls) -> float:
    """Between two holds of the rim, m."""
    return 120 * float(walls.si.bow_plain)
