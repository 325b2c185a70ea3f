"""A way out for every verdict that does not hold: tried, or said that there is none.

A check brings a fix of its own where the trade has a plain one. Where it has none, or
where that one is not enough, every single move a builder can make is tried, then lower
walls, then other builds, until one is found with which the check holds.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ..evaluate import Outcome
from ..model.bed import Wall
from ..model.outcome import Check, Fix
from ..tables import table
from ..units import Q_
from ..walls.fixes import moves as moves_of
from ..walls.fixes import set_posts, tie_words
from .fixes import after_change

__all__ = ["NO_WAY", "with_way_out"]

#: what is said where nothing that was tried helps
NO_WAY = " No change that was tried makes this hold: ask an engineer."


def _ties(outcome: Outcome) -> Iterator[tuple[str, dict]]:
    """More ties on top, at the foot, and both, the fewest first."""
    bed = outcome.bed
    if bed.wall.family not in ("boards", "sheet", "sleepers"):
        return
    for more in (1, 2, 3):
        for top, foot in ((more, 0), (0, more), (more, more)):
            if bed.ties + top <= 8 and bed.base_ties + foot <= 8:
                change = {"ties": bed.ties + top, "base_ties": bed.base_ties + foot}
                words = tie_words(top, foot)
                yield words[:1].upper() + words[1:], change


def _lower(outcome: Outcome) -> Iterator[tuple[str, dict]]:
    """Lower walls, the highest first, in courses where it has courses."""
    bed = outcome.bed
    step, high = float(bed.wall.si.course) or 0.05, float(bed.si.height)
    if bed.wall.family == "trough":
        return
    for rows in range(int(np.ceil(high / step - 1e-9)) - 1, 0, -1):
        height = Q_(round(rows * step * 1000), "mm")
        yield "Build it {height:depth} high", {"height": height}


def _builds(outcome: Outcome) -> Iterator[tuple[str, dict]]:
    """Other builds of the same yard, of the same outside size."""
    bed = outcome.bed
    for row in table("walls"):
        same = row.family == "trough" or row.yard != bed.wall.yard
        if not same and row.key != bed.wall.key:
            change = {"wall": Wall.named(row.key), "rail_lying": False}
            yield f"This build cannot. Build it of {row.name}", change


def _ways(outcome: Outcome) -> Iterator[tuple[str, dict]]:
    bed = outcome.bed
    single = [(says, change) for _, says, change, _ in moves_of(bed)]
    yield from (w for w in single if "wall" not in w[1] and "height" not in w[1])
    yield from _ties(outcome)
    yield from ((says, change) for _, says, change, _ in set_posts(bed))
    yield from _lower(outcome)
    yield from _builds(outcome)


def with_way_out(outcome: Outcome, check: Check) -> Check:
    """The check with a fix that was tried and helps, or the words that none does.

    Parameters
    ----------
    outcome : Outcome
        Of one bed.
    check : Check
        One of its checks.

    Returns
    -------
    Check
        As it came where it holds, is about looks, or brings a fix that works. Else
        with the first way found; a check for which there is none says so.
    """
    if check.ok or check.straight or (check.fix is not None and check.fix.works):
        return check
    for says, change in _ways(outcome):
        after = after_change(outcome.bed, outcome.place, change)
        if after is None:
            continue
        again = after.check(check.name)
        if again is None or again.ok:
            more = after.cost.more_than(outcome.cost)
            fix = Fix(says=says, change=change, trial=lambda more=more: (more, True))
            return check.with_fix(fix)
    return check.without_way(NO_WAY)
