"""Somebody on the rim: one load in the worst place of a rail on equal spans."""

from __future__ import annotations

import functools

import numpy as np

from bedcalc.units import Count, Value, quantities

__all__ = ["rim_load_moment"]


@functools.cache
def _two_spans() -> float:
    """Largest moment of a load that wanders over a beam on two spans, in P s."""
    a = np.linspace(0.0, 1.0, 4001)
    over = a * (1 - a**2) / 4  # over the tie, by the three-moment equation
    return float(np.max(a * (1 - a) - a * over))


@quantities("N*m", force="N", span="m (0, inf)", spans=None, over_tie=None)
def rim_load_moment(
    force: Value, span: Value, spans: Count = 1, over_tie: bool = False
) -> Value:
    """Largest moment from one load that may stand anywhere on a rail.

    Parameters
    ----------
    force : quantity [N]
        Of the person, level and outwards: leaning pushes hardest that way.
    span : quantity [m]
        One bay between corner and tie.
    spans : int
        Equal bays.
    over_tie : bool
        At a tie instead of in a bay.

    Returns
    -------
    quantity [N*m]

    Notes
    -----
    One bay: P s / 4. Two: max of x (1 - x) - x2 (1 - x2)/4 = 0.2074 P s, which more
    bays stay under. Over a tie no arrangement passes half of that.
    Source: hicks_formulas, three-moment equation; computed.
    """
    several = _two_spans() * np.where(over_tie, 0.5, 1.0)
    alone = np.where(over_tie, 0.0, 0.25)
    return np.where(np.asarray(spans) > 1, several, alone) * force * span
