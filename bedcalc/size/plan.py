"""Sizes compared: posture over heights, cost over sizes, outlines side by side."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..model.bed import Bed
from ..model.outcome import Amount, Check, Part, Plain
from ..tables import table
from ..units import Q_, from_si, to_si
from .posture import bend_angle, clear_height, reach_into, seat_verdict, soil_over_knees
from .shapes import KINDS, Outline, outline

__all__ = ["Posture", "Shapes", "compare_shapes", "detour", "people_fed", "posture_at"]


class Posture(Part):
    """One person at one bed."""

    stature = Amount("m", "How tall the person is", "size")
    rim = Amount("m", "Rim above the ground", "size")
    soil = Amount("m", "Soil above the ground", "size")
    bend = Amount("deg", "Lean of the trunk, hand on the soil")
    clear = Amount("m", "Height from which nobody bends", "size")
    reach = Amount("mm", "Reach from the outside of the cap", "stock")
    into = Amount("mm", "Reach on the soil, from the inner face", "stock")
    middle = Amount("mm", "From the inner face to the middle (or far side)", "stock")
    unreached = Amount("mm", "Strip in the middle nobody reaches", "stock")
    knee_soil = Amount("mm", "Soil left over a knee space", "stock")
    seat = Plain("Whether one can sit on the rim")
    heights = Plain("Soil heights for the curve, in metres")
    bends = Plain("Lean at those heights, in degrees")
    roots = Plain("Crops: (name, low, high, fits) by the depth there is")
    depth = Amount("m", "Depth of soil above any log layer", "size")
    checks = Plain("Verdicts")


def posture_at(bed: Bed, stature: Q_, ground: Q_ | None = None) -> Posture:
    """How a person works at a bed.

    Parameters
    ----------
    bed : Bed
        Its users' reach is taken.
    stature : quantity [m]
        How tall the person is.
    ground : quantity [m] or None
        How far the bed is let into the ground; nothing if None.

    Returns
    -------
    Posture
    """
    s, wall = bed.si, bed.wall.si
    tall = to_si(stature, "m", "stature")
    sunk = 0.0 if ground is None else to_si(ground, "m", "ground")
    person = bed.person
    rim = float(s.height) - sunk
    soil = rim - float(s.freeboard)
    into = float(
        reach_into.si(person.reach, wall.cap_out, s.wall_thickness, s.freeboard)
    )
    far = s.inside_width * (0.5 if bed.sides == "both" else 1.0)
    heights = np.linspace(0.0, 1.1, 111)
    body = table("body")
    knee = float(soil_over_knees.si(rim, body["knee_high"].length, 0.067))
    depth = float(
        sum(
            d
            for layer, d in zip(bed.fill, bed.layer_depths, strict=True)
            if layer.kind not in ("logs", "brush")
        )
    )
    si = dict(
        stature=tall,
        rim=rim,
        soil=soil,
        bend=float(bend_angle.si(tall, soil)),
        clear=float(clear_height.si(tall)),
        reach=person.reach,
        into=into,
        middle=far,
        unreached=max(float(far) - into, 0.0) * (2 if bed.sides == "both" else 1),
        knee_soil=knee,
        seat=bool(seat_verdict.si(rim, wall.cap_wide)),
        heights=heights,
        bends=np.rad2deg(bend_angle.si(tall, heights)),
        roots=tuple(
            (r.name, r.low, r.high, depth >= r.low - 1e-9) for r in table("roots")
        ),
        depth=depth,
    )
    return Posture(**si, checks=_checks(bed, si))


def _checks(bed: Bed, si: dict) -> tuple[Check, ...]:
    found = []
    bend = si["bend"]
    if np.isfinite(bend):
        found.append(
            Check(
                name="bend",
                says="With a hand on the soil the trunk leans "
                f"{np.rad2deg(bend):.0f}°; past 60° people kneel.",
                demand=from_si(bend, "deg"),
                capacity=from_si(np.deg2rad(60), "deg"),
                aim=0.5,
                source="winter_2009",
                chapter="size",
            )
        )
    if bed.person_kind == "seated":
        limit = table("body")["rim_side"]
        found.append(
            Check(
                name="rim",
                says="The rim is {demand} high; for a side reach from a wheelchair "
                "{capacity} is the most.",
                demand=from_si(si["rim"], "mm"),
                capacity=limit.q("length"),
                kind="stock",
                source=limit.source,
                chapter="size",
            )
        )
        left = si["knee_soil"]
        found.append(
            Check(
                name="knees",
                says="Under this rim a knee space would leave {left:stock} of soil; "
                "lettuce wants {demand}.",
                sizes={"left": from_si(max(left, 0.0), "mm")},
                demand=from_si(table("roots")["lettuce"].low, "mm"),
                capacity=from_si(max(left, 1e-6), "mm"),
                kind="stock",
                source="ada_2010",
                chapter="size",
                note="Work from the side instead, or build a trough of two depths.",
            )
        )
    return tuple(found)


@dataclass(frozen=True, kw_only=True)
class Shapes:
    """Outlines of one outside size beside each other, boxes of the same area too."""

    outlines: tuple[Outline, ...]
    reach: float


def compare_shapes(length: Q_, width: Q_, arm: Q_, bay: Q_, reach: Q_) -> Shapes:
    """Area, wall and reach of box, L, U, keyhole and six-sided bed.

    Parameters
    ----------
    length, width : quantity [m]
        Outside size that all of them share.
    arm : quantity [m]
        Width of the arms.
    bay : quantity [m]
        Width of the entrance of a keyhole.
    reach : quantity [m]
        From the outside.

    Returns
    -------
    Shapes
    """
    given = {"length": length, "width": width, "arm": arm, "bay": bay, "reach": reach}
    sizes = [round(float(to_si(v, "m", name)), 4) for name, v in given.items()]
    made = tuple(outline(kind, *sizes) for kind in KINDS)
    return Shapes(outlines=made, reach=sizes[4])


def detour(length: Q_, width: Q_):
    """The walk round the end of a bed to the place right opposite.

    Parameters
    ----------
    length, width : quantity [m]
        Outside size.

    Returns
    -------
    quantity [m]
        From mid-length: length + width. Source: computed.
    """
    return length + width


def people_fed(area: Q_) -> tuple[tuple[str, float, float], ...]:
    """How many people an area serves, by what they want: (name, fewest, most).

    Parameters
    ----------
    area : quantity [m^2]
        Growing area.
    """
    found = to_si(area, "m^2", "area")
    return tuple(
        (row.name, found / row.high, found / row.low) for row in table("growing_area")
    )
