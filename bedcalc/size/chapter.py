"""Size: outside against inside, what the bed weighs, and whether one can reach in.

Reach is measured from the outside of the cap, because that is where one stands.
"""

from __future__ import annotations

import numpy as np

from ..model.bed import Bed
from ..model.outcome import Amount, Check, Fix, Part, Plain, named
from ..model.place import Place
from ..units import GRAVITY, Q_, Value, from_si, quantities

__all__ = ["Size", "assess_size", "reach_needed", "widest_for_reach"]


@quantities("m", width="m (0, inf)", overhang="m", from_both=None)
def reach_needed(width: Value, overhang: Value, from_both: bool) -> Value:
    """How far one must reach to the middle (or the far side) of a bed.

    Parameters
    ----------
    width : quantity [m]
        Outside width, wall face to wall face.
    overhang : quantity [m]
        How far the cap stands out over the wall.
    from_both : bool
        Whether one can stand on both long sides.

    Returns
    -------
    quantity [m]
        Half the width (or all of it) plus the overhang.

    Notes
    -----
    Valid for an upright wall one stands close to. Source: common practice.
    """
    return width * np.where(from_both, 0.5, 1.0) + overhang


@quantities("m", reach="m [0, inf)", overhang="m", from_both=None)
def widest_for_reach(reach: Value, overhang: Value, from_both: bool) -> Value:
    """The widest bed one can tend, wall face to wall face.

    Parameters
    ----------
    reach : quantity [m]
        From the outside of the cap.
    overhang : quantity [m]
        How far the cap stands out over the wall.
    from_both : bool
        Whether one can stand on both long sides.

    Returns
    -------
    quantity [m]
        The inverse of :func:`reach_needed`.

    Notes
    -----
    Source: common practice.
    """
    return (reach - overhang) * np.where(from_both, 2.0, 1.0)


@quantities("kPa", unit_weight="N/m^3 [0, inf)", depth="m [0, inf)")
def pressure_below(unit_weight: Value, depth: Value) -> Value:
    """How hard a layer presses on what lies below it.

    Parameters
    ----------
    unit_weight : quantity [N/m^3]
        Weight of a cubic metre.
    depth : quantity [m]
        Of the layer.

    Returns
    -------
    quantity [kPa]
        Product of both; layers add up.

    Notes
    -----
    Valid for a wide layer; walls that carry a part of it are left out.
    Source: computed, statics.
    """
    return unit_weight * depth


class Size(Part):
    """How big the bed is, inside and out, and how heavy."""

    outside_area = Amount("m^2", "Ground the bed covers", "area")
    inside_length = Amount("m", "Length between the inner faces", "size")
    inside_width = Amount("m", "Width between the inner faces", "size")
    inside_area = Amount("m^2", "Growing area between the inner faces", "area")
    inside_volume = Amount("m^3", "Room inside, to the rim", "volume")
    fill_volume = Amount("m^3", "Fill once settled, less the freeboard", "volume")
    perimeter = Amount("m", "Once round the outside", "size")
    mass_moist = Amount("kg", "Mass of the moist fill", "mass")
    mass_soaked = Amount("kg", "Mass of the soaked fill", "mass")
    bearing = Amount("kPa", "Pressure of the soaked fill on the ground", "pressure")
    overhang = Amount("mm", "How far the cap stands out", "stock")
    reach = Amount("mm", "What the users reach from the cap's edge", "stock")
    reach_needed = Amount("mm", "What this width asks for", "stock")
    checks = Plain("Verdicts of this chapter")


def assess_size(bed: Bed, place: Place) -> Size:
    """What the size chapter says about this bed."""
    s, wall = bed.si, bed.wall.si
    area = s.inside_length * s.inside_width
    rows = [layer.row for layer in bed.fill]
    moist, soaked = (
        sum(
            pressure_below.si(getattr(row, f"unit_weight_{state}"), h)
            for row, h in zip(rows, bed.layer_depths, strict=True)
        )
        for state in ("moist", "soaked")
    )
    overhang = wall.cap_out
    both = bed.sides == "both"
    person = bed.person
    needed = reach_needed.si(s.width, overhang, both)
    si = dict(
        outside_area=s.length * s.width,
        inside_length=s.inside_length,
        inside_width=s.inside_width,
        inside_area=area,
        inside_volume=area * s.soil_depth,
        fill_volume=area * sum(bed.layer_depths),
        perimeter=2 * (s.length + s.width),
        mass_moist=moist * area / GRAVITY,
        mass_soaked=soaked * area / GRAVITY,
        bearing=soaked,
        overhang=overhang,
        reach=person.reach,
        reach_needed=needed,
    )
    return Size(**si, checks=(_reach(bed, si, person), _bearing(place, si)))


def _reach(bed: Bed, si: dict, person) -> Check:
    widest = widest_for_reach.si(person.reach, si["overhang"], bed.sides == "both")
    fix = None
    if np.ndim(widest) == 0 and widest >= 0.4:
        rounded = np.floor(widest * 100 + 1e-9)
        fix = Fix(
            says="Make it {width:depth} wide",
            change={"width": Q_(float(rounded), "cm")},
        )
    far = "middle" if bed.sides == "both" else "far side"
    edge = "the edge of the cap" if bed.wall.si.cap_out else "the edge"
    stretch = ", {capacity} at a stretch" if person.reach_high > person.reach else ""
    return Check(
        name="reach",
        says=f"The {far} is {{demand}} from {edge}; "
        f"{named(person.name)} reach {{aim}}{stretch}.",
        demand=from_si(si["reach_needed"], "mm"),
        capacity=from_si(person.reach_high, "mm"),
        aim=person.reach / person.reach_high,
        kind="depth",
        chapter="size",
        source=person.source,
        fix=fix,
    )


def _ground_words(ground, place: Place) -> str:
    """The ground under the bed; where nobody knows it, what it is taken for."""
    return ground.name if place.soil else f"soil not known, taken as {ground.name},"


def _bearing(place: Place, si: dict) -> Check:
    ground = place.ground
    return Check(
        name="bearing",
        says="The soaked fill presses {demand} on the ground; "
        f"{_ground_words(ground, place)} carries about {{capacity}}.",
        demand=from_si(si["bearing"], "kPa"),
        capacity=from_si(ground.bearing, "kPa"),
        kind="pressure",
        chapter="size",
        source=ground.source,
        note=f"{place.soil_note} Never on a deck, roof or balcony without an "
        "engineer.".lstrip(),
    )
