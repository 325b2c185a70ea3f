"""Evaluate: a bed in a place, asked once of every chapter, in order.

The only file that knows all chapters. The same function serves one bed and a sweep
(size, fill, walls and site take arrays in the bed's fields; cost takes one bed).
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import numpy as np

from .cost import assess_cost
from .fill import assess_fill
from .model.bed import Bed, BedError
from .model.outcome import Check, Fix, Outcome
from .model.place import Place
from .seasons import assess_seasons
from .site import assess_site
from .size import assess_size
from .walls import assess_walls
from .water import assess_water

__all__ = ["Outcome", "evaluate"]


def _is_sweep(bed: Bed) -> bool:
    return any(
        np.ndim(v) for v in (*vars(bed.si).values(), bed.ties, bed.base_ties)
    ) or bool(bed.layer_depths.ndim > 1)


def _follow(bed: Bed, place: Place, fixes: bool = True) -> Outcome:
    """Every chapter once; fixes not yet priced."""
    size = assess_size(bed, place)
    fill = assess_fill(bed, place)
    site = assess_site(bed, place)
    walls = assess_walls(bed, place, fixes)
    cost = None
    if not _is_sweep(bed):
        cost = assess_cost(bed, place, fill, size.si.inside_area)
    checks = (*walls.checks, *size.checks, *fill.checks)
    return Outcome(
        bed=bed,
        place=place,
        size=size,
        fill=fill,
        site=site,
        walls=walls,
        cost=cost,
        checks=checks,
        later={
            "water": partial(assess_water, bed, place),
            "seasons": partial(assess_seasons, bed, place, fill, cost),
        },
    )


def _trial(fix: Fix, check: Check, before: Outcome, known: dict) -> tuple[float, bool]:
    """Try a fix: evaluate the changed bed the same way, once for all checks."""
    key = tuple(sorted((k, str(v)) for k, v in fix.change.items()))
    if key not in known:
        try:
            changed = before.bed.change(**fix.change)
            known[key] = _follow(changed, before.place, fixes=False)
        except BedError:
            known[key] = None
    after = known[key]
    if after is None:
        return float("nan"), False
    again = after.check(check.name)
    more = after.cost.more_than(before.cost)
    return more, again is None or again.ok


def evaluate(bed: Bed, place: Place) -> Outcome:
    """All consequences of one bed in one place.

    Parameters
    ----------
    bed : Bed
        What was chosen. Its lengths may hold arrays (a sweep): then each number of
        the outcome is an array, cost is None and fixes are not priced.
    place : Place
        What is given.

    Returns
    -------
    Outcome
        ``.size .fill .site .walls .cost .checks``; numbers are pint quantities, and
        plain SI under ``.si`` of each part.
    """
    outcome = _follow(bed, place)
    if outcome.cost is None:
        return outcome
    known: dict = {}
    checks = tuple(
        check
        if check.fix is None
        else check.with_fix(
            replace(check.fix, trial=partial(_trial, check.fix, check, outcome, known))
        )
        for check in outcome.checks
    )
    ranked = sorted(checks, key=lambda c: (c.rank, -c.utilisation))
    return replace(outcome, checks=tuple(ranked))
