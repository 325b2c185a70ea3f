"""Verdicts of detail: people, standing water, corners, the rod, the height.

Bow and stress grow in proportion to the push, so a further load case is a ratio of
moments, of load factors and of strengths for how long the load lasts.
"""

from __future__ import annotations

import functools
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from bedcalc.assembly import SCREWS_UP
from bedcalc.model.bed import Bed
from bedcalc.model.outcome import Check
from bedcalc.tables import Row, table
from bedcalc.units import from_si

from ..units import Count, Value
from .fasteners import design_joint_en, lateral_en, pin_en
from .fasteners_us import adjusted_us, lateral_us
from .foot import foot_use
from .framed_wall import pick, weakest_name
from .load_cases import load_row
from .material import duration_factor, material
from .rim_load import rim_load_moment
from .ties import rod_tension_en, rod_tension_us, stress_area
from .timber import section_modulus
from .warning_checks import drains, warned

if TYPE_CHECKING:  # names for an editor
    from ..assembly.layout import Layout
    from ..model.outcome import Fix
    from ..walls.foot import Foot
    from ..walls.framed_wall import WallBow
    from ..walls.gravity_wall import Stability
    from ..walls.load_cases import Push
    from ..walls.material import Material

__all__ = ["corner_screw", "framed_details", "rod_capacity", "stacked_details"]


def _check(**given) -> Check:
    return Check(chapter="walls", detail=True, **given)


def framed_details(
    bed: Bed,
    plan: Layout,
    cases: Mapping[str, Push],
    found: WallBow,
    foot: Foot,
    spans: Count,
    length: Value,
    tie: Callable[[float], Fix | None],
    wet: bool,
) -> tuple[Check, ...]:
    """Verdicts of detail for a wall of rails or boards.

    ``tie`` is a function that gives the fix by ties for a check that fails.
    """
    checks = [_trodden(bed, cases, found, tie)]
    if wet:
        checks.append(_waterlogged(bed, cases, found, foot))
    checks.append(_sitting(bed, plan, cases, found, spans, length, tie))
    corner = _corner(bed, found, spans, length, tie)
    if corner is not None:
        checks.append(corner)
    if np.any(np.asarray(bed.ties) > 0) and bed.wall.family != "trough":
        checks.append(_rod(bed, found))
    return (*checks, *warned(bed, wet))


# ---- further load cases of the rail


def trodden_ratio(cases: Mapping[str, Push], wood: Material, strength: bool = True):
    """Ratio of factored moments: live load on the fill to soaked fill."""
    moist, trodden, soaked = (
        cases[name].si.moment for name in ("moist", "trodden", "soaked")
    )
    longer, people = duration_factor(wood.route, "visit")
    more = (moist + (trodden - moist) * people / wood.load_factor) / soaked
    return more / longer if strength else more


def _trodden(bed: Bed, cases, found, tie) -> Check:
    wood = found.members[0].wood
    use = found.stress / found.strength * trodden_ratio(cases, wood)
    return _check(
        name="trodden",
        part=weakest_name(found),
        says="With somebody on the fill, the rail uses {percent} of its strength."
        if bed.wall.family == "sheet"
        else "With somebody on the fill, the boards use {percent} of their strength.",
        demand=from_si(use * found.strength, "MPa"),
        capacity=from_si(found.strength, "MPa"),
        kind="stress",
        source="common_practice",
        note="Moist fill and 2.4 kPa on top: one person kneeling or a barrow. Strength "
        "for a load of people, not of years.",
        fix=tie(use),
    )


def _waterlogged(bed: Bed, cases, found, foot) -> Check:
    """Standing water behind a closed base: fixed by drains, not by timber."""
    wood = found.members[0].wood
    longer, _ = duration_factor(wood.route, "season")
    ratio = cases["waterlogged"].si.moment / cases["soaked"].si.moment / longer
    use = found.stress / found.strength * ratio
    if bed.wall.family != "trough":
        use = np.maximum(use, foot_use(found, foot, cases["waterlogged"].si))
    return Check(
        chapter="walls",
        name="waterlogged",
        part=weakest_name(found),
        says="If the bed fills with water, rail or foot of the wall use "
        "{percent} of their strength.",
        demand=from_si(use * found.strength, "MPa"),
        capacity=from_si(found.strength, "MPa"),
        kind="stress",
        source="das_geotech",
        note="Water up to the rim pushes with its whole weight, beside the fill.",
        always=True,
        fix=drains(bed),
    )


def _sitting(bed: Bed, plan, cases, found, spans, length, tie) -> Check:
    """Moist fill, people leaning on the rim, and one person sitting on it.

    Who sits presses down; who leans pushes far less than their weight. Only where the
    reader says that people climb or pull is the whole weight put sideways.
    """
    wood, height = found.members[0].wood, bed.si.soil_depth
    key = "rim_us" if wood.route == "us" else "rim_metric"
    person, lean, span = load_row(key).force, load_row("rim_lean").line, length / spans
    longer, people = duration_factor(wood.route, "person")
    c = found.c
    moist = cases["moist"].si.moment * span**2 * wood.load_factor
    soaked = np.maximum(cases["soaked"].si.moment, 1e-12)
    if bed.climbed:
        says = "climbs on the rim or pulls at it"
        push = [
            moist * soil
            + people * rim_load_moment.si(person * height, span, spans, over)
            for soil, over in ((c.moment_span, False), (c.moment, True))
        ]
    else:
        says = "sits on the rim and others lean on it"
        push = [c.moment * (moist + people * lean * height * span**2)]
    share = found.stress / found.strength / (wood.load_factor * c.moment * span**2)
    worst = share / soaked / longer * functools.reduce(np.maximum, push)
    if bed.wall.family in ("sheet", "trough"):  # boards and sleepers lie on each other
        worst = np.maximum(worst, people * person * _pressed(bed, plan) / longer)
    return _check(
        name="sitting",
        part=weakest_name(found),
        says=f"When somebody {says}, the rim can carry up to {{capacity}}; "
        "an adult counts as {demand}.",
        demand=from_si(person + 0.0 * worst, "kN"),
        capacity=from_si(person / np.maximum(worst, 1e-9), "kN"),
        kind="force",
        source="en1991",
        note="Moist fill. The person presses down; leaning pushes outwards with 0.2 "
        "kN/m. The capacity scales fill and people together. Rail and cap only: seats "
        "need brackets of their own.",
        fix=tie(worst),
    )


def _pressed(bed: Bed, plan):
    """Share of the rail's strength that one newton uses, pressing between two posts."""
    wall = bed.wall.si
    wide, high = wall.rail_thin, wall.rail_wide
    if bed.wall.family == "sheet" and bed.rail_lying:
        wide, high = high, wide
    if bed.wall.family == "trough":
        wide, high = wall.thickness, wall.course
    wood = material(bed.wall.wood, wide, high)
    return plan.post_gap / 4 / section_modulus.si(wide, high) / wood.bending


# ---- corners and ties


@dataclass(frozen=True, kw_only=True)
class HeldScrew:
    """A screw of the tables, and what one holds for good (N), by its wood's rules."""

    row: Row
    each: float
    route: str

    @property
    def name(self) -> str:
        """Its size, without the word screw: ``5 × 70 mm``, ``#10 × 3 in``."""
        return self.row.name.removeprefix("screw ").removesuffix(" wood screw")


@functools.lru_cache(maxsize=256)
def corner_screw(wood: str, thickness: float) -> HeldScrew | None:
    """The screw for a rail or board of this thickness, and what one holds sideways.

    The shortest of the table that still has six diameters in the post; None where the
    tables know no screw for it (plastic, thick sleepers).
    """
    row = table("woods")[wood]
    if row.route == "en":
        screws = list(table("screws_en"))
    elif row.route == "us":
        screws = [s for s in table("screws_us") if s.kind == "screw"]
    else:
        return None
    fitting = [s for s in screws if s.length >= thickness + 6 * s.diameter - 1e-9]
    if not fitting:
        return None
    screw = min(fitting, key=lambda s: (s.length, -s.diameter))
    if row.route == "en":
        density = table("timber_en")[row.strength_class].rho_k
        each = lateral_en.si(screw.key, thickness, density)
        each = design_joint_en.si(each, "permanent")
    else:
        known = "sp_no2_4" if row.strength_class == "sp_no2" else row.strength_class
        each = lateral_us.si(screw.key, thickness, table("timber_us")[known].G)
        each = adjusted_us.si(each, table("durations_us")["permanent"].CD)
    return HeldScrew(row=screw, each=float(each), route=row.route)


def _corner(bed: Bed, found, spans, length, tie) -> Check | None:
    """Screws at the end of the rail or board that is pulled hardest, soaked."""
    family = bed.wall.family
    if family == "sleepers":
        return _pinned_corner(bed, found, spans, length)
    members = [m for m in found.members if m.name not in ("cap", "base rail")]
    screw = corner_screw(bed.wall.wood, float(members[-1].thickness))
    if screw is None:
        return None
    loads = [
        line
        for m, line in zip(found.members, found.loads, strict=True)
        if m.name not in ("cap", "base rail")
    ]
    if family == "sheet":
        pulls = np.expand_dims(found.corner, 0)
    else:
        pulls = np.stack([w * length / spans * found.c.reaction_end for w in loads])
    count = len(SCREWS_UP)  # as bill and build sheet count them
    pulls = pulls * members[-1].wood.load_factor
    worst = np.argmax(pulls, axis=0)
    pull = pick(pulls, worst)
    name = members[int(worst)].name if not np.ndim(worst) else "board"
    inside = from_si(screw.row.length - members[-1].thickness, "mm")
    return _check(
        name="corner",
        part=f"corner screws of {name}",
        says=f"The corner of the {name} is pulled with {{demand}} when soaked; {count} "
        f"screws {screw.name} hold {{capacity}}.",
        demand=from_si(pull, "kN"),
        capacity=from_si(count * screw.each, "kN"),
        kind="force",
        source="en1995" if screw.route == "en" else "nds_2018",
        sizes={"inside": inside},
        note="Screws through the side into the corner post, {inside:stock} deep, as "
        "many as bill and build sheet count. Screws into end grain hold nothing.",
        fix=tie(pull / (count * screw.each)),
    )


def _pinned_corner(bed: Bed, found, spans, length) -> Check | None:
    """A steel pin down through the lapped corner: all that holds two sleepers there."""
    row, bar = table("woods")[bed.wall.wood], table("rods")["m12"]
    if not row.strength_class.startswith("D"):  # bearing known for hardwood only
        return None
    course = bed.wall.si.course
    density = table("timber_en")[row.strength_class].rho_k
    each = pin_en.si(bar.diameter, bar.ultimate, course, density)
    each = design_joint_en.si(each, "permanent")
    loads = np.stack(list(found.loads))
    pull = np.max(loads, axis=0) * length / spans * found.c.reaction_end
    return _check(
        name="corner",
        part="corner pins",
        says="The corner of one course is pulled with {demand} when soaked; a pin of "
        "{pin:stock} down through the lap holds {capacity}.",
        sizes={"pin": from_si(bar.diameter, "mm")},
        demand=from_si(pull * found.members[0].wood.load_factor, "kN"),
        capacity=from_si(each + 0.0 * pull, "kN"),
        kind="force",
        source="en1995",
        note="One pin through both courses in a tight hole, the laps turned at each "
        "course. It holds the courses together; it does not hold the foot.",
    )


@functools.cache
def rod_capacity(route: str, rod: str) -> float:
    """What a rod holds in tension, on the route of the wood, in N."""
    bar = table("rods")[rod]
    area = stress_area.si(bar.diameter, bar.pitch, bar.thread == "unified")
    if route == "en":
        return float(rod_tension_en.si(bar.ultimate, area))
    return float(rod_tension_us.si(bar.yield_stress, area))


def _rod(bed: Bed, found) -> Check:
    wood = found.members[0].wood
    return _check(
        name="rod",
        part="ties on top",
        says="The rod of a tie is pulled with {demand}; its steel holds {capacity}.",
        demand=from_si(found.tie * wood.load_factor, "kN"),
        capacity=from_si(rod_capacity(wood.route, "m10") + 0.0 * found.tie, "kN"),
        kind="force",
        source="en1993_1_8" if wood.route == "en" else "aisc_manual",
        note="Rod M10 4.6. Wood under the plate gives way long before.",
    )


# ---- height, and walls of blocks


def stacked_details(
    bed: Bed,
    cases: Mapping[str, Push],
    safety: Stability,
    stability: Callable[..., Stability],
    fix: Fix | None,
    wet: bool,
) -> tuple[Check, ...]:
    """Verdicts of detail for a dry-stacked wall: treading-in, water, height."""
    tread = stability(bed, cases["trodden"])
    worst = np.minimum(tread.overturning, tread.sliding)
    checks = [
        _check(
            name="treading",
            part="long walls",
            says="With the fill trodden in, the stacked wall is {capacity} times "
            "strong enough; {demand} is needed.",
            demand=from_si(1.5 + 0.0 * worst, ""),
            capacity=from_si(worst, ""),
            kind="ratio",
            source="common_practice",
            note="Moist fill and 2.4 kPa that treading locks in: a stiff wall does not "
            "shed it. Settle the fill with water, do not tamp beside the wall.",
            fix=fix,
        )
    ]
    if wet:
        standing = stability(bed, cases["waterlogged"])
        worst = np.minimum(standing.overturning, standing.sliding)
        checks.append(
            Check(
                chapter="walls",
                name="waterlogged",
                part="long walls",
                says="If the bed fills with water, the stacked wall can take "
                "{capacity} times the push; it should take {demand} times.",
                demand=from_si(1.5 + 0.0 * worst, ""),
                capacity=from_si(worst, ""),
                kind="ratio",
                source="das_geotech",
                always=True,
                fix=drains(bed),
            )
        )
    return (*checks, *warned(bed, wet))
