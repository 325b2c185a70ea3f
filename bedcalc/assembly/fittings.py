"""Ties, pins and steel angles of a bed."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ..model.bed import Bed
from .layout import layout
from .levels import courses, floor_of, levels, tie_inset
from .pieces import Angle, Pin, Tie

__all__ = ["ANGLE", "angles_of", "pins_of", "ties_of"]

#: m, along a stack of sleepers; common practice, no source
PIN_STEP = 1.2
PIN_INSET = 0.1  # m, from the end of a sleeper; common practice, no source
ANGLE = 0.09  # m, each leg of a steel angle; 65 mm wide, 2.5 mm thick
PIN_COVER = 0.03  # m, that a pin ends below the top


def ties_of(bed: Bed) -> Iterator[Tie]:
    """Rods through both long walls, at the rim and at the foot."""
    plan, inset = layout(bed), tie_inset(bed)
    for x in plan.ties_x:
        yield Tie(x=float(x), z=float(bed.si.height - inset), foot=False)
    for x in plan.base_ties_x:
        yield Tie(x=float(x), z=float(floor_of(bed) + inset), foot=True)


def angles_of(bed: Bed) -> Iterator[Angle]:
    """A steel angle in each corner of each course of sleepers, inside."""
    if bed.wall.family != "sleepers":
        return
    s, t = bed.si, bed.si.wall_thickness
    for low, high in levels(bed):
        for x, along in ((t, 1), (s.length - t, -1)):
            for y, across in ((t, 1), (s.width - t, -1)):
                yield Angle(
                    x=float(x),
                    y=float(y),
                    z=float(low + high) / 2,
                    along=along,
                    across=across,
                )


def pins_of(bed: Bed) -> Iterator[Pin]:
    """Pins through two or more courses of sleepers, near each end and between."""
    if bed.wall.family != "sleepers" or int(courses(bed)) < 2:
        return
    s, t = bed.si, bed.si.wall_thickness
    top = float(s.height - PIN_COVER)

    def places(start: float, run: float) -> list[float]:
        more = max(int(np.ceil(run / PIN_STEP - 1e-9)) - 1, 0)
        inset = min(PIN_INSET, run / 4)
        return [
            float(v) for v in np.linspace(start + inset, start + run - inset, more + 2)
        ]

    for y in (t / 2, s.width - t / 2):
        for x in places(0.0, s.length):
            yield Pin(x=x, y=float(y), foot=0.0, top=top)
    for x in (t / 2, s.length - t / 2):
        for y in places(t, s.inside_width):
            yield Pin(x=float(x), y=y, foot=0.0, top=top)
