"""Posts in the ground as springs at the rim: how far each gives, what it holds.

The leaning wall is one beam (see :mod:`bedcalc.walls.frame`), which
:mod:`bedcalc.walls.beams` solves on ties that do not move and posts that give.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedcalc.assembly import Layout
from bedcalc.model.bed import Bed
from bedcalc.model.place import Place
from bedcalc.units import Count, Value

from .load_cases import load_row
from .material import material
from .posts import (
    bending_force,
    clamped_spring,
    post_flexibility,
    stake_force,
    toe_moment,
)
from .timber import second_moment, section_modulus

__all__ = ["SAFETY", "GroundPosts", "ground_posts", "post_wood"]

SAFETY = 1.5  # on what the ground holds: foot, posts, blocks tipping and sliding


def post_wood(bed: Bed) -> str:
    """What the posts are of: planks of plastic stand on posts of larch."""
    return "larch" if bed.wall.wood == "recycled_plastic" else bed.wall.wood


@dataclass(frozen=True, kw_only=True)
class GroundPosts:
    """What each post in the ground does, in SI.

    ``spring`` at the rim (N/m) and ``lasts``, the share of it after years; ``toe``, the
    moment about the toe that the ground holds, safety taken off; ``holds``, the force
    at the rim, the least of ground and wood, and ``wood_holds`` that of the wood.
    """

    spring: Value
    lasts: Value
    toe: Value
    holds: Value
    wood_holds: Value
    depth: Value
    bays: Count
    soil: str


def ground_posts(
    bed: Bed, place: Place, plan: Layout, collar: float | None = None
) -> GroundPosts | None:
    """What each post between the corners does, or None where none is in the ground.

    Parameters
    ----------
    bed, place : Bed, Place
    plan : Layout
        From :func:`bedcalc.assembly.layout`.
    collar : float or None
        Width of a collar of concrete round each post, m: the ground holds that.

    Returns
    -------
    GroundPosts or None
    """
    deep = bed.si.post_depth
    if not np.any((np.asarray(deep) > 0) & (np.asarray(plan.bays) > 1)):
        return None
    width, reach, ground = bed.wall.si.post, bed.si.soil_depth, place.ground
    wood = material(post_wood(bed), width, width)
    bends = clamped_spring.si(wood.E * second_moment.si(width, width), reach)
    soil_gives = post_flexibility.si(deep, reach, load_row("post_ground").weight)
    give = soil_gives + 1 / bends
    # wood creeps, and the ground gives way in its own measure
    duration_factor = (
        soil_gives / load_row("post_ground_years").share + wood.creep / bends
    )
    wide = width if collar is None else collar
    soil = stake_force.si(wide, deep, reach, ground.unit_weight, ground.kp)
    strong = wood.bending * section_modulus.si(width, width) / wood.load_factor
    by_wood = bending_force.si(strong, reach, wide, ground.unit_weight, ground.kp)
    return GroundPosts(
        spring=1 / give,
        lasts=_finite(give) / _finite(duration_factor),
        toe=toe_moment.si(wide, deep, ground.unit_weight, ground.kp) / SAFETY,
        holds=np.minimum(soil / SAFETY, by_wood),
        wood_holds=by_wood,
        depth=deep,
        bays=plan.bays,
        soil=place.soil_note,
    )


def _finite(value):
    """One in place of the endless give of a post that stands on the ground."""
    return np.where(np.isfinite(value), value, 1.0)[()]
