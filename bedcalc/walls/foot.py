"""The foot of the wall: what pushes it out, what holds it, how far it moves.

Three things hold the foot, one after the other: the ground (friction, and the earth
before the let-in edge), posts in the ground, and the boards or the base rail
themselves, which span from corner to corner or from tie to tie. The foot does not hold
where all three together are too weak. How far it moves is told beside it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from bedcalc.model.outcome import STRAIGHT, Check, Fix
from bedcalc.units import GRAVITY, Value, from_si

from .beams import BeamCoefficients, span_coefficients
from .elastic_supports import SAFETY
from .fixes import in_words
from .frame import base_hold_needed, rule
from .framed_wall import MOST_TIES, WallBow
from .load_cases import load_row
from .material import duration_factor
from .post_checks import post_stakes
from .posts import base_sliding_resistance
from .ties import tie_capacity

if TYPE_CHECKING:  # names for an editor
    from ..assembly.layout import Layout
    from ..model.bed import Bed
    from ..model.place import Place
    from ..walls.elastic_supports import GroundPosts
    from ..walls.load_cases import Push

__all__ = ["foot_checks", "foot_sliding_resistance", "foot_use"]

#: the foot may move by one part in so many: nobody sights along it, in the grass
PARTS = 120.0
TRIED = np.arange(1, MOST_TIES + 1)


def _needed(found, push):
    """What must hold the foot for the wall to turn about it, per metre."""
    return base_hold_needed.si(found.z, found.EI, push.moment, push.total)


@dataclass(frozen=True, kw_only=True)
class FootHold:
    """What holds the foot of the wall for some number of ties there; SI, per metre.

    ``hold`` counts what the wall itself carries; the foot ``moves`` so far after years;
    ``tie`` is the force of a tie at the foot, ``span`` lies between two holds.
    """

    hold: Value
    moves: Value
    tie: Value
    span: Value


@dataclass(frozen=True, kw_only=True)
class Foot(FootHold):
    """The same for the bed's own ties, with what is ``needed`` when soaked.

    ``ground`` is what ground and posts hold, a safety of 1.5 taken off; ``tried`` is
    the hold of more ties, where a fix is looked for.
    """

    needed: Value
    ground: Value
    tried: FootHold | None
    soil: str
    part: str
    factor: float
    source: str


class _Carried(NamedTuple):
    """What the wall carries of one newton a metre at its foot, and its bow by it."""

    wet: Value
    years: Value
    bow: Value
    c: BeamCoefficients
    bay: Value


def _carried(found: WallBow, span, spans, dry) -> _Carried:
    """What the wall itself carries of the push on its foot, and how it bends by it.

    ``dry`` is the share of the soaked push that is there for good. Soaked is a load of
    some months, moist one of years: both must hold (en1995, 3.1.3).

    With less hold than is needed each member bends by A + B z, which two sums decide:
    no more push, no more moment about the base. Boards share the work through their
    stiff posts; a base rail has it for itself.
    """
    s0, s1, s2 = rule.si(found.z, found.EI)
    det = s0 * s2 - s1**2
    lever = det > 1e-9 * s0 * s2
    det = np.where(lever, det, 1.0)
    a, b = np.where(lever, s2 / det, 1 / s0), np.where(lever, -s1 / det, 0.0)
    c, bay = span_coefficients(spans), span / np.asarray(spans)
    wood = found.members[0].wood
    longer, _ = duration_factor(wood.route, "season")
    # bent by the rim and by the foot a member in between bends less than the outer two:
    # the upper one is the verdict of the rail, the lowest one that of the foot
    low, there = found.members[0], found.stresses[0]
    share = found.EI[0] * (a + b * found.z[0])  # of each newton more
    more = share * wood.load_factor * c.moment * bay**2
    more = np.maximum(more / np.maximum(low.S, 1e-12), 1e-12)
    wet = np.maximum(longer * low.wood.bending - there, 0.0) / more
    years = np.maximum(low.wood.bending - dry * there, 0.0) / more
    bow = a * c.bow * bay**4  # of the foot, for each newton a metre
    return _Carried(wet=wet, years=years, bow=bow, c=c, bay=bay)


def foot_sliding_resistance(
    bed: Bed,
    place: Place,
    cases: Mapping[str, Push],
    found: WallBow,
    plan: Layout,
    posts: GroundPosts | None,
    fixes: bool,
) -> Foot:
    """What pushes the foot when soaked, what holds it, and how far it moves.

    Returns
    -------
    Foot
    """
    ground = place.ground
    own = sum(m.face * m.thickness * m.wood.density * GRAVITY for m in found.members)
    stakes = 0.0 if posts is None else post_stakes(bed, cases, found, plan, posts)

    def earth(push):
        return base_sliding_resistance.si(
            own,
            push.total,
            bed.si.embedment,
            ground.unit_weight,
            ground.kp,
            ground.friction,
        )

    moist, soaked = cases["moist"].si, cases["soaked"].si
    needed, held = _needed(found, soaked), earth(soaked) / SAFETY + stakes
    needed_dry, held_dry = _needed(found, moist), earth(moist) / SAFETY + stakes
    # what is left for the wall, for years and in a wet season; the ground as it is
    still = np.maximum(needed_dry - earth(moist) - stakes, 0.0)
    wet = np.maximum(needed - earth(soaked) - stakes, 0.0)
    creep = found.members[0].wood.creep
    presses = load_row("ground_gives").share * bed.si.embedment

    def with_ties(spans) -> FootHold:
        own = _carried(found, plan.span, spans, moist.moment / soaked.moment)
        bow = (creep * still + np.maximum(wet - still, 0.0)) * own.bow
        left = np.maximum(needed - held, 0.0)
        # what holds for years, as much more as the soaked push asks for
        more = left / np.maximum(needed_dry - held_dry, 1e-9)
        holds = np.minimum(own.wet, np.where(left > 0, own.years * more, np.inf))
        return FootHold(
            hold=held + holds,
            moves=bow + np.where(needed > 0, presses, 0.0),
            tie=left * own.bay * own.c.reaction_interior,
            span=own.bay,
        )

    now = with_ties(np.asarray(bed.base_ties) + 1)
    tried = None
    if (
        fixes
        and not np.ndim(now.hold)
        and (now.hold < needed or now.moves > now.span / PARTS)
    ):
        tried = with_ties(TRIED + 1)
    return Foot(
        **vars(now),
        needed=needed,
        ground=held,
        tried=tried,
        soil=place.soil_note,
        part=found.members[0].name,
        factor=found.members[0].wood.load_factor,
        source=found.members[0].wood.source,
    )


def foot_use(found: WallBow, foot: Foot, push: Any):
    """Share of what holds the foot that another state of the fill asks for."""
    return _needed(found, push) / np.maximum(foot.hold, 1e-9)


def _check(**given) -> Check:
    return Check(chapter="walls", **given)


def _fix(bed, foot, straight: bool) -> Fix | None:
    """Fewest ties at the foot with which it holds, and moves no more than wanted."""
    if foot.tried is None:
        return None
    good = (foot.tried.hold >= foot.needed) & (np.asarray(bed.base_ties) < TRIED)
    if straight:
        good &= foot.tried.moves <= foot.tried.span / PARTS
    if not good.any():
        return None
    ties = int(TRIED[np.argmax(good)])
    more = ties - int(bed.base_ties)
    says = "Tie the foot as well"
    if ties > 1:
        word = "tie" if more == 1 else "ties"
        says = f"Add {in_words(more)} {word} at the foot"
    return Fix(says=says, change={"base_ties": ties})


def foot_checks(bed: Bed, foot: Foot) -> list[Check]:
    """Whether the foot holds, how far it moves, and what a tie at the foot feels."""
    fails = not np.ndim(foot.hold) and foot.hold < foot.needed
    note = (
        "Soaked. Ground: friction and the earth before the let-in edge, over 1.5. What "
        "it does not hold the wall carries to corners and ties. Rubbing of the fill on "
        "the ground is left out."
    )
    checks = [
        _check(
            name="foot",
            part=foot.part,
            says="The soaked fill pushes the foot of the wall with {demand}; ground "
            "and wall hold {capacity}.",
            demand=from_si(foot.needed, "N/m"),
            capacity=from_si(foot.hold + 0.0 * foot.needed, "N/m"),
            kind="line load",
            source="navfac_dm702",
            note=f"{note} {foot.soil}".rstrip(),
            fix=_fix(bed, foot, straight=False) if fails else None,
        ),
        _check(
            name="foot moves",
            goes="its foot moves out",
            part=foot.part,
            subject="The foot of the wall",
            says="The foot of the wall moves out by {demand} after years, {ratio}: "
            "{level}.",
            demand=from_si(foot.moves, "mm"),
            capacity=from_si(foot.span / PARTS + 0.0 * foot.moves, "mm"),
            kind="bow",
            family=STRAIGHT,
            parts=PARTS,
            detail=True,
            source="assumption",
            note="The ground gives a little first: 2 % of the depth to which the edge "
            "is let in. The rest is the bow of the lowest board or rail.",
            fix=_fix(bed, foot, straight=True),
        ),
    ]
    if np.any(np.asarray(bed.base_ties) > 0):
        wood = bed.wall.wood
        capacity, part = tie_capacity(wood, "m10", "50x50x5")
        checks.append(
            _check(
                name="base tie",
                part="ties at the foot",
                says=f"A tie at the foot pulls with {{demand}}; its {part} carries "
                "{capacity}.",
                demand=from_si(foot.tie * foot.factor, "kN"),
                capacity=from_si(capacity + 0.0 * foot.tie, "kN"),
                kind="force",
                detail=True,
                source=foot.source,
                note="Soaked: what the ground does not hold. Rod M10 4.6 with a plate "
                "50 × 50 × 5 mm on each side.",
            )
        )
    return checks
