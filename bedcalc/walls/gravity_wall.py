"""A dry-stacked wall: it stands by its weight alone."""

from __future__ import annotations

from types import SimpleNamespace

from bedcalc.model.bed import Bed

from .blocks import overturning_safety, sliding_safety, wall_weight

__all__ = ["stability"]


def stability(bed: Bed, push) -> SimpleNamespace:
    """Safety of a stacked wall against tipping and sliding under one push.

    Parameters
    ----------
    bed : Bed
        Of blocks, dry-stacked.
    push : Push
        From :func:`bedcalc.walls.load_cases.pushes`, usually soaked.

    Returns
    -------
    SimpleNamespace
        ``overturning``, ``sliding`` (ratios), ``weight`` (N/m).
    """
    row = bed.wall.block_row
    weight = wall_weight.si(row.unit_weight, bed.si.wall_thickness, bed.si.height)
    return SimpleNamespace(
        weight=weight,
        overturning=overturning_safety.si(
            weight, bed.si.wall_thickness, push.si.moment
        ),
        sliding=sliding_safety.si(weight, row.friction, push.si.total),
    )
