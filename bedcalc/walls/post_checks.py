"""Verdicts of the sheet and of the posts behind it or in the ground."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

import numpy as np

from bedcalc.model.bed import Bed
from bedcalc.model.outcome import Check, Fix
from bedcalc.tables import table
from bedcalc.units import from_si

from . import framed_wall as frame
from .beams import MOST_SPANS, span_coefficients
from .elastic_supports import post_wood
from .material import material
from .sheet import allowable_sheet, lying_moment, sheet_section, strip_moment
from .timber import section_modulus

if TYPE_CHECKING:  # names for an editor
    from ..assembly.layout import Layout
    from ..walls.elastic_supports import GroundPosts
    from ..walls.framed_wall import WallBow
    from ..walls.load_cases import Push

__all__ = ["post_check", "post_stakes", "sheet_checks"]


def _check(**given) -> Check:
    return Check(chapter="walls", **given)


def sheet_checks(bed: Bed, plan: Layout, cases: dict) -> list[Check]:
    """The sheet, and the posts that lying ribs push on."""
    checks = [_sheet(bed, plan, cases)]
    if bed.ribs_lying and np.any(np.asarray(plan.bays) > 1):
        checks.append(_upright(bed, plan, cases))
    return checks


def _strip(bed: Bed, push):
    """Moment of a metre of wall between base rail and top rail."""
    ends = push.depth[0::2], push.depth[1::2]
    pressures = push.pressure[0::2], push.pressure[1::2]
    return strip_moment.si(*ends, *pressures, bed.si.height)


def _sheet(bed: Bed, plan, cases: dict) -> Check:
    """The sheet under the soaked fill, upright or lying."""
    row, push = table("sheets")[bed.wall.sheet], cases["soaked"].si
    _, _, modulus = sheet_section(row)
    holds, fix = allowable_sheet.si(row.design_yield), None
    way = "Ribs upright, spanning from the base rail to the top rail, soaked."
    if not bed.ribs_lying:
        moment = _strip(bed, push)
    else:
        way = "Ribs lying, spanning from post to post at the foot, soaked."
        runs_on = np.asarray(plan.bays) > 2
        moment = lying_moment.si(push.base_pressure, plan.post_gap, runs_on)
        if not np.ndim(moment) and moment / modulus > holds:
            fix = Fix(says="Stand the ribs upright", change={"ribs_lying": False})
    return _check(
        name="sheet",
        part="sheet",
        says="The sheet uses {percent} of the strength of its steel.",
        demand=from_si(moment / modulus, "MPa"),
        capacity=from_si(holds, "MPa"),
        kind="stress",
        source="aisi_s100",
        note=way,
        fix=fix,
    )


def _upright(bed: Bed, plan, cases: dict) -> Check:
    """A post between base rail and top rail, where lying ribs push on it."""
    size = bed.wall.si.post
    wood = material(post_wood(bed), size, size)
    share = span_coefficients(np.minimum(plan.bays, MOST_SPANS)).reaction_interior
    moment = _strip(bed, cases["soaked"].si) * plan.post_gap * share
    stress = moment / section_modulus.si(size, size)
    return _check(
        name="upright",
        part="middle posts",
        says="Pushed by the lying sheet, a post uses {percent} of the strength of its "
        "wood.",
        demand=from_si(wood.load_factor * stress, "MPa"),
        capacity=from_si(wood.bending, "MPa"),
        kind="stress",
        source=wood.source,
        note="Soaked. The post stands between base rail and top rail and takes what "
        "the sheet of both bays brings.",
    )


def post_check(bed: Bed, found: WallBow, posts: GroundPosts, fix: Fix | None) -> Check:
    """A post between the corners that the ground holds, instead of a tie."""
    part = "wood"
    if np.ndim(posts.holds) or posts.holds < posts.wood_holds - 1e-9:
        part = "ground"
    return _check(
        name="post",
        part="middle posts",
        says=f"A post in the ground holds the rim with {{demand}}; its {part} carries "
        "{capacity}.",
        demand=from_si(found.post, "kN"),
        capacity=from_si(posts.holds + 0.0 * found.post, "kN"),
        kind="force",
        source="broms_1964",
        note="Soaked. The ground with a safety of 1.5; it gives, so the rim leans "
        "before the post holds. Bolt the post to the rail: it is pulled off it."
        + f" {posts.soil}".rstrip(),
        fix=fix if np.ndim(found.post) == 0 and found.post > posts.holds else None,
    )


def post_stakes(
    bed: Bed,
    cases: Mapping[str, Push],
    found: WallBow,
    plan: Layout,
    posts: GroundPosts,
):
    """What posts in the ground hold of the foot: what the rim has left them, per metre.

    The same soil resists rim and foot forces, so their moments about the toe add up.
    No more than the base rail brings to a post.
    """
    rim = found.post
    depth = np.maximum(posts.depth, 1e-9)
    left = np.maximum(posts.toe - rim * (bed.si.soil_depth + depth), 0.0) / depth
    between = frame.rail_capacity(
        found.members[0], plan.span, np.minimum(plan.bays, MOST_SPANS)
    )
    return np.where(plan.bays > 1, np.minimum(left / plan.post_gap, between), 0.0)[()]
