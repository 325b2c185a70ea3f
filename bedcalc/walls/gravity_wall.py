"""A dry-stacked wall: it stands by its weight alone."""

from __future__ import annotations

from dataclasses import dataclass

from bedcalc.model.bed import Bed
from bedcalc.units import Value

from .blocks import overturning_safety, sliding_safety, wall_weight
from .load_cases import Push

__all__ = ["Stability", "stability"]


@dataclass(frozen=True, kw_only=True)
class Stability:
    """Safeties of a stacked wall against tipping and sliding, and its weight (N/m)."""

    overturning: Value
    sliding: Value
    weight: Value


def stability(bed: Bed, push: Push) -> Stability:
    """Safety of a stacked wall against tipping and sliding under one push.

    Parameters
    ----------
    bed : Bed
        Of blocks, dry-stacked.
    push : Push
        From :func:`bedcalc.walls.load_cases.pushes`, usually soaked.

    Returns
    -------
    Stability
    """
    row = bed.wall.block_row
    weight = wall_weight.si(row.unit_weight, bed.si.wall_thickness, bed.si.height)
    return Stability(
        weight=weight,
        overturning=overturning_safety.si(
            weight, bed.si.wall_thickness, push.si.moment
        ),
        sliding=sliding_safety.si(weight, row.friction, push.si.total),
    )
