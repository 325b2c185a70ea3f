"""The verdicts of the walls chapter, each as data with its fix and source."""

from __future__ import annotations

import functools
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from bedcalc.assembly import layout, posts_change
from bedcalc.model.bed import Bed, BedError
from bedcalc.model.outcome import STRAIGHT, Check, Fix
from bedcalc.model.straightness import aim_parts
from bedcalc.units import Q_, from_si

from ..units import Value
from . import framed_wall as frame
from .beams import MOST_SPANS, span_coefficients, uniform_bow, uniform_moment
from .connections import joined_checks
from .detail_checks import framed_details, stacked_details, trodden_ratio
from .elastic_supports import SAFETY
from .fixes import in_words
from .foot import TRIED, foot_checks
from .gravity_wall import stability
from .load_cases import mean_pressure, pushes
from .material import material
from .post_checks import post_check, sheet_checks
from .ties import tie_capacity
from .timber import long_term_bow, section_modulus

if TYPE_CHECKING:  # names for an editor
    from ..assembly.layout import Layout
    from ..walls.elastic_supports import GroundPosts
    from ..walls.foot import Foot
    from ..walls.framed_wall import WallBow
    from ..walls.gravity_wall import Stability

__all__ = ["framed", "stacked"]


def _check(**given) -> Check:
    return Check(chapter="walls", **given)


def _words(count: int, one: str, many: str) -> str:
    return f"{in_words(count)} {one if count == 1 else many}"


# ---- framed walls


def framed(
    bed: Bed,
    plan: Layout,
    cases: dict,
    found: WallBow,
    foot: Foot,
    posts: GroundPosts | None,
    length: Value,
    fixes: bool,
    wet: bool,
):
    """Verdicts of a wall of rails or boards: the main ones, then those of detail."""
    spans = frame.top_spans(bed, plan.bays, bed.ties)
    family, tie = bed.wall.family, None
    good = (found.years <= found.aim) & (found.stress <= found.strength)
    one = fixes and not np.ndim(good) and family != "trough"
    if one and not good:
        tie = _tie_fix(bed, _ties_that_do(bed, cases, found, posts, length))
    checks = [_bow(bed, found, tie), _stress(family, found, tie)]
    if family == "sheet":
        checks += sheet_checks(bed, plan, cases)
    if family in ("boards", "trough") and np.any(np.asarray(plan.bays) > 1):
        checks.append(_between_posts(bed, plan, cases, found))
    if family == "trough":
        checks.append(_floor(bed, plan, cases))
    else:
        checks += foot_checks(bed, foot)
    if np.any(np.asarray(bed.ties) > 0) and family != "trough":
        checks.append(_tie(bed, cases, found))
    if posts is not None:
        checks.append(post_check(bed, found, posts, tie if one else None))

    def by_ties(use) -> Fix | None:
        """Ties for a detail that fails: those of the bow, or one more."""
        if not one or np.ndim(use) or use <= 1.0:
            return None
        if tie is not None or bed.ties >= frame.MOST_TIES:
            return tie
        return _tie_fix(bed, int(bed.ties) + 1)

    return (
        *checks,
        *framed_details(bed, plan, cases, found, foot, spans, length, by_ties, wet),
        *joined_checks(bed, plan, cases, found),
    )


@functools.cache
def _tried():
    """Coefficients for each number of ties that is tried."""
    return span_coefficients(TRIED + 1)


def _ties_that_do(bed: Bed, cases, found, posts, length) -> int | None:
    """Fewest ties with which bow and stress stay within what is aimed at."""
    if posts is not None:
        plan = layout(bed, TRIED)
        more = replace(posts, bays=plan.bays)
        tried = frame.bows(bed, cases, length, TRIED + 1, more)
        good = (tried.years <= tried.aim) & (tried.stress <= tried.strength)
        good &= (tried.post <= posts.holds) & (np.asarray(bed.ties) < TRIED)
        return int(TRIED[np.argmax(good)]) if good.any() else None
    now, c, n = span_coefficients(bed.ties + 1), _tried(), TRIED + 1
    shorter = (bed.ties + 1) / n
    years = found.years * c.bow / now.bow * shorter**4
    stress = found.stress * c.moment / now.moment * shorter**2
    good = (years <= found.aim * shorter) & (stress <= found.strength)
    good &= np.asarray(bed.ties) < TRIED
    return int(TRIED[np.argmax(good)]) if good.any() else None


def _tie_fix(bed: Bed, ties: int | None) -> Fix | None:
    if ties is None:
        return None
    more = ties - int(bed.ties)
    if bed.ties == 0 and ties == 1:
        act = "Add one tie at mid-length"
    else:
        act = f"Add {_words(more, 'tie', 'ties')}"
    return Fix(says=act + posts_change(bed, ties), change={"ties": ties})


def _bow(bed: Bed, found, fix) -> Check:
    return _check(
        name="bow",
        part=frame.top_name(found),
        subject="The long wall",
        says="The long wall bows {demand} after years, {ratio}: {level}; you aim at "
        "1 in {parts}, {capacity}.",
        demand=from_si(found.years, "mm"),
        capacity=from_si(found.aim, "mm"),
        kind="bow",
        family=STRAIGHT,
        parts=aim_parts(bed.straight),
        past=found.past,
        source="common_practice",
        note="A bow is a matter of looks. Up to a 180th of the span nobody sees it, "
        "past a 120th everybody does. Past a 50th the sums say nothing.",
        fix=fix,
    )


def _stress(family: str, found, fix) -> Check:
    part = frame.weakest_name(found)
    name = part or "member"
    who = name.capitalize() if name[-1].isdigit() else f"The {name}"
    if family == "sleepers":
        who = who.replace("Board", "Course")
    return _check(
        name="rail",
        part=part,
        says=f"{who} uses {{percent}} of what its material may bear.",
        demand=from_si(found.stress, "MPa"),
        capacity=from_si(found.strength, "MPa"),
        kind="stress",
        source=found.members[0].wood.source,
        note="Soaked fill at rest; loads and strengths by the rules of the wood.",
        fix=fix,
    )


def _between_posts(bed: Bed, plan, cases: dict, found) -> Check:
    """The lowest board between two posts: bow after years."""
    board = found.members[0]
    bays = np.minimum(plan.bays, MOST_SPANS)  # beyond a dozen, one more is all the same
    once, soaked = (
        uniform_bow.si(
            mean_pressure(cases[state].si, board.face) * board.face,
            plan.post_gap * bays,
            board.EI,
            bays,
        )
        for state in ("moist", "soaked")
    )
    bow = long_term_bow.si(once, soaked, board.wood.creep)
    fix, parts = None, aim_parts(bed.straight)
    aim = plan.post_gap / parts
    if not np.ndim(bow) and bow > aim:
        # bow over gap grows with the gap cubed
        shorter = (aim / bow) ** (1 / 3)
        gap = max(float(np.floor(20 * plan.post_gap * shorter)) / 20, 0.2)
        fix = Fix(
            says="Posts every {post_spacing:depth}",
            change={"post_spacing": Q_(gap, "m")},
        )
    return _check(
        name="between posts",
        goes="its lowest board bows",
        part=board.name,
        subject="The lowest board",
        says="The lowest board bows {demand} between two posts after years, {ratio}: "
        "{level}; you aim at 1 in {parts}.",
        demand=from_si(bow, "mm"),
        capacity=from_si(aim, "mm"),
        kind="fine",
        family=STRAIGHT,
        parts=parts,
        source="common_practice",
        note="The mean push over the face of the board, over the bays between posts; a "
        "wet season on top of the years.",
        fix=fix,
    )


def _tie(bed: Bed, cases: dict, found) -> Check:
    rail = found.members[0]
    capacity, part = _tie_holds(bed.wall.wood)
    # kmod for short loads raises EN wood bearing only; steel and NDS bearing have none
    short = rail.wood.route == "en" and part == "plate"
    more = np.maximum(trodden_ratio(cases, rail.wood, short), 1.0)
    return _check(
        name="tie",
        part="ties on top",
        says=f"The tie pulls with {{demand}} at worst; its {part} carries "
        "{capacity}.",
        demand=from_si(found.tie * rail.wood.load_factor * more, "kN"),
        capacity=from_si(capacity + 0.0 * found.tie, "kN"),
        kind="force",
        source=rail.wood.source,
        note="Soaked, or trodden on if that is more. Rod M10 4.6 with a square plate "
        "of {side:stock}, {thick:stock} thick, on each side, beside a post and in the "
        "top {top:depth}: lower down it pulls harder and bends its post.",
        sizes=_TIE_SIZES,
    )


_TIE_SIZES = {"side": Q_(50, "mm"), "thick": Q_(5, "mm"), "top": Q_(15, "cm")}


@functools.cache
def _tie_holds(wood: str) -> tuple[float, str]:
    """What the usual tie holds in this wood."""
    return tie_capacity(wood, "m10", "50x50x5")


def _floor(bed: Bed, plan, cases: dict) -> Check:
    """The floor frame of a trough: two rails lying on their wide face."""
    wall = bed.wall.si
    wood = material(bed.wall.wood, wall.rail_wide, wall.rail_thin)
    weight = sum(
        layer.row.unit_weight_soaked * h
        for layer, h in zip(bed.fill, bed.layer_depths, strict=True)
    )
    load = weight * bed.si.width / 2
    bays = np.minimum(plan.bays, MOST_SPANS)
    moment = uniform_moment.si(load, plan.post_gap * bays, bays)
    modulus = section_modulus.si(wall.rail_wide, wall.rail_thin)
    return _check(
        name="floor",
        part="floor frame",
        says="The floor frame uses {percent} of the strength of its wood.",
        demand=from_si(wood.load_factor * moment / modulus, "MPa"),
        capacity=from_si(wood.bending, "MPa"),
        kind="stress",
        source=wood.source,
        note="Soaked fill, each side rail carries half the width over the bays "
        "between legs. Legs and bracing are not checked here.",
    )


# ---- stacked walls


def stacked(
    bed: Bed, cases: dict, safety: Stability, fixes: bool, wet: bool
) -> tuple[Check, ...]:
    """Verdicts of a wall that stands by its weight: tipping and sliding."""
    fix = None
    course = bed.wall.si.course
    worst = np.minimum(safety.overturning, safety.sliding)
    if fixes and not np.ndim(worst) and worst < SAFETY:
        fix = _lower(bed, course)
    found = []
    for name, verb, value in (
        ("tipping", "tips over", safety.overturning),
        ("sliding", "slides", safety.sliding),
    ):
        found.append(
            _check(
                name=name,
                part="long walls",
                says="When the fill is soaked, the stacked wall can take {capacity} "
                f"times the push before it {verb}; it should take {{demand}} times.",
                demand=from_si(SAFETY + 0.0 * value, ""),
                capacity=from_si(value, ""),
                kind="ratio",
                source="irc_r404",
                note="Soaked fill at rest on a dry wall by its own weight. Higher "
                "walls of blocks get a footing, steel bars in the cores and concrete: "
                "such a wall is not checked here.",
                fix=fix,
            )
        )
    return (*found, *stacked_details(bed, cases, safety, stability, fix, wet))


def _lower(bed: Bed, course: float) -> Fix | None:
    """Fewest courses off so that the wall stands; None if the layers forbid it."""
    rows = int(np.ceil(bed.si.height / course - 1e-9))
    for fewer in range(rows - 1, 0, -1):
        try:
            low = bed.change(height=Q_(fewer * course * 1000, "mm"))
        except BedError:
            return None
        safety = stability(low, pushes(low)["soaked"])
        if min(safety.overturning, safety.sliding) >= SAFETY:
            words = _words(fewer, "course", "courses")
            return Fix(says=f"Build it {words} high", change={"height": low.height})
    return None
