"""What the walls chapter says about one bed: pushes, bow, forces, verdicts."""

from __future__ import annotations

import numpy as np

from bedcalc.assembly import Layout, layout
from bedcalc.model.bed import Bed
from bedcalc.model.outcome import Amount, Part, Plain
from bedcalc.model.place import Place
from bedcalc.model.straightness import aim_parts

from . import checks as verdicts
from . import framed_wall as framed
from .elastic_supports import ground_posts
from .foot import foot_sliding_resistance
from .gravity_wall import stability
from .load_cases import pushes
from .warning_checks import can_drown

__all__ = ["Walls", "assess_walls"]

_BOWS = ("active", "once", "low", "high", "years", "light", "heavy")
POINTS = 49  # places along the wall at which the bow is drawn


class Walls(Part):
    """The long wall under its fill."""

    family = Plain("How it is built: boards, sheet, blocks, sleepers, trough")
    route = Plain("Rules used for its wood: en, us, plastic, or none")
    cases = Plain("Push by state of the fill: moist, soaked, waterlogged, yielding")
    span = Amount("m", "Between the axes of the end walls", "size")
    bays = Plain("Bays between posts")
    post_gap = Amount("m", "Between posts, axis to axis", "size")
    posts_x = Amount("m", "Middle posts, from the outside left end", "size")
    ties_x = Amount("m", "Ties at the top, from the outside left end", "size")
    base_ties_x = Amount("m", "Ties at the foot, from the outside left end", "size")
    x = Amount("m", "Places along the wall at which the bow is given", "size")
    bow_x_once = Amount("mm", "Bow at once along the wall", "bow")
    bow_x_low = Amount("mm", "Bow after years along the wall, low end", "bow")
    bow_x_high = Amount("mm", "Bow after years along the wall, high end", "bow")
    bow_x_years = Amount("mm", "Bow after years along the wall, as judged", "bow")
    bow_active = Amount("mm", "Bow at once, if the fill yields", "bow")
    bow_once = Amount("mm", "Bow at once", "bow")
    bow_low = Amount("mm", "Bow after years, low end", "bow")
    bow_high = Amount("mm", "Bow after years in a wet season, high end", "bow")
    bow_years = Amount("mm", "Bow after years by the rules of the wood", "bow")
    bow_light = Amount("mm", "Bow after years, fill lighter and steeper", "bow")
    bow_heavy = Amount("mm", "Bow after years, fill heavier and flatter, wet", "bow")
    bow_aim = Amount("mm", "The bow that the reader aims at", "bow")
    bow_plain = Amount("mm", "A 120th of a span: from there everybody sees it", "bow")
    past_sums = Plain("Whether it bows so badly that the sums carry no number")
    stress = Amount("MPa", "Bending stress of the weakest member, factored", "stress")
    strength = Amount("MPa", "What it may bear", "stress")
    tie_force = Amount("kN", "Largest tie force, soaked", "force")
    corner_force = Amount("kN", "Pull on each top corner, soaked", "force")
    post_force = Amount("kN", "Push on a post in the ground, soaked", "force")
    foot_sliding_resistance = Amount(
        "N/m", "What holds the foot of the wall", "line load"
    )
    overturning_safety = Amount("", "Against tipping, soaked (stacked walls)", "ratio")
    sliding_safety = Amount("", "Against sliding, soaked (stacked walls)", "ratio")
    checks = Plain("Verdicts of this chapter")


def assess_walls(bed: Bed, place: Place, fixes: bool = True) -> Walls:
    """What the walls chapter says about this bed.

    ``fixes=False`` leaves the search for fixes out: used when a fix itself is tried.
    """
    plan, cases = layout(bed), pushes(bed)
    common = dict(
        family=bed.wall.family,
        cases=cases,
        span=plan.span,
        bays=plan.bays if np.ndim(plan.bays) else int(plan.bays),
        post_gap=plan.post_gap,
        posts_x=plan.posts_x,
        ties_x=plan.ties_x,
        base_ties_x=plan.base_ties_x,
    )
    if bed.wall.family == "blocks":
        return _stacked(bed, common, fixes, can_drown(bed, place))
    return _framed(bed, place, plan, common, fixes)


def _stacked(bed: Bed, common: dict, fixes: bool, wet: bool) -> Walls:
    """Blocks stand by their weight: they do not bow, they tip or slide."""
    zero = 0.0 * (bed.si.length + bed.si.height)
    safety = stability(bed, common["cases"]["soaked"])
    x = np.linspace(0.0, 1.0, POINTS) * np.max(bed.si.length)
    still = np.zeros(POINTS)
    bow = {f"bow_{n}": zero for n in _BOWS}
    return Walls(
        **common,
        **bow,
        route="none",
        x=x,
        bow_x_once=still,
        bow_x_low=still,
        bow_x_high=still,
        bow_x_years=still,
        bow_aim=common["span"] / aim_parts(bed.straight),
        bow_plain=common["span"] / 120,
        past_sums=False,
        stress=zero,
        strength=zero + np.nan,
        tie_force=zero,
        corner_force=zero,
        post_force=zero,
        foot_sliding_resistance=zero + np.nan,
        overturning_safety=safety.overturning,
        sliding_safety=safety.sliding,
        checks=verdicts.stacked(bed, common["cases"], safety, fixes, wet),
    )


def _framed(bed: Bed, place: Place, plan: Layout, common: dict, fixes: bool) -> Walls:
    cases, wet = common["cases"], can_drown(bed, place)
    spans = framed.top_spans(bed, plan.bays, bed.ties)
    length = plan.span
    if bed.wall.family == "trough":  # coefficients change by less than 0.1 % past 12
        length = plan.post_gap * spans
    posts = ground_posts(bed, place, plan)
    found = framed.bows(bed, cases, length, spans, posts)
    foot = foot_sliding_resistance(bed, place, cases, found, plan, posts, fixes)
    x, drawn = _drawn(plan, found)
    checks = verdicts.framed(bed, plan, cases, found, foot, posts, length, fixes, wet)
    zero = 0.0 * (bed.si.length + bed.si.height)
    return Walls(
        **common,
        **drawn,
        route=found.members[0].wood.route,
        x=x,
        bow_active=found.active,
        bow_once=found.once,
        bow_low=found.low,
        bow_high=found.high,
        bow_years=found.years,
        bow_light=found.light,
        bow_heavy=found.heavy,
        bow_aim=found.aim,
        bow_plain=found.plain,
        past_sums=found.past if np.ndim(found.past) else bool(found.past),
        stress=found.stress,
        strength=found.strength,
        tie_force=found.tie,
        corner_force=found.corner,
        post_force=found.post,
        foot_sliding_resistance=foot.hold,
        overturning_safety=zero + np.nan,
        sliding_safety=zero + np.nan,
        checks=checks,
    )


def _drawn(plan: Layout, found: framed.WallBow):
    """Bow along the wall for one design; a sweep has no picture."""
    if np.ndim(found.once):
        empty = np.array([])
        return empty, {f"bow_x_{n}": empty for n in ("once", "low", "high", "years")}
    share = np.linspace(0.0, 1.0, POINTS)
    curve = found.shape(share)
    x = plan.end / 2 + plan.span * share
    return x, {
        f"bow_x_{n}": curve * getattr(found, n)
        for n in ("once", "low", "high", "years")
    }
