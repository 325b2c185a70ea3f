"""How thick, and how far apart: the least or largest size with which a wall stands."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from ..evaluate import Outcome
from ..model.bed import Bed, BedError
from ..units import Q_
from ..walls.custom_sections import (
    SIZES,
    custom_sections_of,
    rim_load_mass,
    who_may_sit,
)
from ..walls.fixes import tie_words
from .fixes import TIES_TRIED, where_as_wanted
from .repair import trellis

__all__ = [
    "SIZES", "SizeLimit", "custom_sections_of", "limit_of", "rim_load_mass",
    "tie_words",
    "trellis_apart", "who_may_sit",
]  # fmt: skip  # a list of names


@dataclass(frozen=True, kw_only=True)
class SizeLimit:
    """The least, or the largest, size with which the wall stands; None: none does.

    ``ties`` and ``base_ties`` are those it takes: the bed's own, or the fewest more.
    """

    size: Any
    ties: int
    base_ties: int
    tried: Any


_THICK, _FINE = np.arange(150.0, 14.0, -5.0), 1.0  # mm, thickest first
_APART = np.arange(300.0, 1501.0, 50.0)  # mm, closest first


def _ties_tried(bed: Bed) -> tuple[np.ndarray, np.ndarray]:
    """The ties of the bed first, then more, the fewest first; never fewer."""
    top, foot = int(bed.ties), int(bed.base_ties)
    known = [(top, foot)]
    if bed.wall.family in ("boards", "sheet", "sleepers"):
        more = [n for n in TIES_TRIED if n[0] >= top and n[1] >= foot]
        known = sorted(more, key=lambda n: (sum(n), n)) or known
    return tuple(np.array(known).T)


def limit_of(outcome: Outcome, name: str) -> SizeLimit:
    """The least thickness, or the largest post spacing, with which the wall stands.

    Every size is evaluated with the ties of the bed, and with more. The answer ends an
    unbroken run: each thicker board, each closer spacing that was tried holds as well.

    Parameters
    ----------
    outcome : Outcome
        Of one bed.
    name : str
        ``thickness``, ``rail_thin``, ``rail_wide`` or ``post_spacing``.

    Returns
    -------
    SizeLimit
    """
    top, foot = _ties_tried(outcome.bed)
    sizes = _APART if name == "post_spacing" else _THICK
    runs, ends = np.ones(len(top), bool), np.full(len(top), np.nan)

    def held(size, top, foot):
        change = {name: Q_(float(size), "mm"), "ties": top, "base_ties": foot}
        try:
            return where_as_wanted(outcome.bed.change(**change), outcome.place)
        except BedError:  # no room left inside: not a wall, but no failure of thinner
            return None

    for size in sizes:
        good = held(size, top, foot)
        if good is not None:
            runs = runs & good
            ends = np.where(runs, size, ends)
        if not runs.any():
            break
    does = np.flatnonzero(~np.isnan(ends))
    best = int(does[0]) if len(does) else 0
    size = float(ends[best])
    while name != "post_spacing" and size > 15:
        good = held(size - _FINE, top[best : best + 1], foot[best : best + 1])
        if good is None or not good.all():
            break
        size -= _FINE
    return SizeLimit(
        size=None if np.isnan(size) else Q_(size, "mm"),
        ties=int(top[best]),
        base_ties=int(foot[best]),
        tried=Q_(float(sizes[0]), "mm"),
    )


def trellis_apart(outcome: Outcome, height: Q_):
    """How far apart the posts of a trellis of this height on the rim may stand.

    The wind a post gets grows in proportion to its share of the trellis.
    """
    return Q_(1 / trellis(outcome, height, Q_(1, "m")).use, "m")
