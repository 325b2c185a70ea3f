"""What a bed needs beside the goods of the price list: pins, angles, slabs, pipe."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from ..assembly import ANGLE, assembly, sheet_depth
from ..model.bed import Bed
from .counting import SMALL, liner_area, work

__all__ = ["Besides", "besides_of"]


@dataclass(frozen=True, kw_only=True)
class Besides:
    """Something to bring that the bill does not price.

    ``name`` has places for ``sizes`` in metres, shown in the reader's units.
    """

    name: str
    number: float
    unit: str = "piece"
    use: str = ""
    sizes: Mapping[str, float] = field(default_factory=dict)


def besides_of(bed: Bed) -> tuple[Besides, ...]:
    """Everything one bed needs that the price list does not hold.

    Parameters
    ----------
    bed : Bed
        One bed.

    Returns
    -------
    tuple of Besides
    """
    made, s, found = assembly(bed), bed.si, []

    def add(name, number, use, unit="piece", **sizes):
        found.append(Besides(name=name, number=number, unit=unit, use=use, sizes=sizes))

    if made.pins:
        pin = made.pins[0]
        sizes = {"thick": pin.thick, "long": pin.top - pin.foot}
        use = "down through all courses; they end just below the top"
        add("steel pin {thick} × {long}", len(made.pins), use, **sizes)
    if made.angles:
        use = "inside each corner of each course"
        add(
            "steel angle {leg} × {leg}, {wide} wide",
            len(made.angles),
            use,
            leg=ANGLE,
            wide=0.065,
        )
    if small := sum(made.screws().get(goods, 0) for goods in SMALL):
        use = "for the steel angles" if made.angles else "for the slats"
        add("screws 4 × 50", small, use)
    if made.ties:
        inside = s.inside_width - 2 * sheet_depth(bed)
        use = "over each rod, inside the bed"
        add(
            "plastic pipe {wide} wide, {long} long",
            len(made.ties),
            use,
            wide=0.02,
            long=inside,
        )
    bare = s.wall_thickness + sheet_depth(bed)
    if bed.wall.family == "sheet" and bare > bed.wall.si.cap_wide - bed.wall.si.cap_out:
        run = 2 * (s.inside_length + s.inside_width)
        use = "over the top edge of the sheet, which the cap does not cover"
        add("edge trim, or a hose slit along, {long}", 1, use, long=run)
    if bed.wall.family == "trough":
        legs = len(made.of("post"))
        add("slab {side} × {side}", legs, "one under each leg", side=0.3)
        add("bucket of gravel", legs, "under each slab", unit="bucket")
        area = s.inside_length * s.inside_width + liner_area.si(
            s.inside_length, s.inside_width, s.soil_depth, 0.0, work("liner_lap")
        )
        use = "on the slats and up the boards, so that no soil falls through"
        add(
            "fabric that lets water through",
            float(np.ceil(area * 10) / 10),
            use,
            unit="m²",
        )
        add("lath to brace the legs", 2, "cut from leftovers")
    elif bed.open_base:
        add("staples, or stones, to hold the mesh", 1, "along the foot", unit="handful")
    return tuple(found)
