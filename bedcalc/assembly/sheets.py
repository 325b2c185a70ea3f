"""The ribbed sheets of a framed wall and their screws."""

from __future__ import annotations

import numpy as np

from ..tables import Row, table
from .levels import rail_levels, sheet_depth, strips, upright_strips
from .maker import Maker

__all__ = ["place_sheets", "unbent"]

CORNER = 0.03  # m that screws of the sheet keep from the corners
STEEL = 7850.0  # kg/m3, EN 1991-1-1 annex A


def place_sheets(made: Maker) -> None:
    """The sheets, ribs upright or lying, and their screws into the rails."""
    bed, s = made.bed, made.bed.si
    row, t, deep = table("sheets")[bed.wall.sheet], s.wall_thickness, sheet_depth(bed)
    flat = row.thickness, (row.cover + row.pitch) * unbent(row)
    # the sheets of the ends stand between those of the long sides
    sides = (
        ("front", "x", t, (t, t + deep)),
        ("back", "x", t, (s.width - t - deep, s.width - t)),
        ("left", "y", t + deep, (t, t + deep)),
        ("right", "y", t + deep, (s.length - t - deep, s.length - t)),
    )
    lying = bed.ribs_lying
    for wall, along, start, across in sides:
        run = s.inside_length if along == "x" else s.inside_width - 2 * deep
        found = strips(bed, s.height) if lying else upright_strips(bed, run)
        for n, (a, b) in enumerate(found):
            wide = (start, start + run) if lying else (start + a, start + b)
            high = (a, b) if lying else (0.0, s.height)
            plan = (*wide, *across) if along == "x" else (*across, *wide)
            what = ("sheet side" if along == "x" else "sheet end") if lying else "sheet"
            made.add(
                what,
                bed.wall.goods,
                (*plan, *high),
                along if lying else "z",
                flat,
                wall=wall,
                level=n if lying else 0,
                density=STEEL,
            )
    _screws(made)


def _screws(made: Maker) -> None:
    """A screw in every second valley, into the foot rail and the top rail."""
    s, rails = made.bed.si, rail_levels(made.bed)
    t, run = s.wall_thickness, 2 * (s.inside_length + s.inside_width)
    far, back = s.length - t, s.width - t
    long_, short = s.inside_length, s.inside_width
    # once round: length of a side, where it begins, which way it runs, way outwards
    sides = (
        (long_, (t, t), (1, 0), (0, -1, 0)),
        (short, (far, t), (0, 1), (1, 0, 0)),
        (long_, (far, back), (-1, 0), (0, 1, 0)),
        (short, (t, back), (0, -1), (-1, 0, 0)),
    )
    count = int(np.ceil(2 * run / table("work")["sheet_fixing"].value - 1e-9))
    where = "sheet on rails, every second valley"
    for n, (low, high) in enumerate(rails):
        number = count // 2 if n else count - count // 2
        for k in range(number):
            d = run * (k + 0.5) / number
            for length, (x, y), (along, across), way in sides:
                if d < length:
                    d = CORNER + d * (1 - 2 * CORNER / length)
                    point = x + along * d, y + across * d, (low + high) / 2
                    made.join(where, "screw_sheet", way, t, point)
                    break
                d -= length


def unbent(row: Row) -> float:
    """Flat width over ribbed width, a wave taken as a zigzag of straight flanks."""
    flank = row.pitch / 2 - (0.0 if row.profile == "sinus" else row.top_flat)
    flank = max(flank, row.pitch / 20)
    return 1 + 2 * (np.hypot(flank, row.depth) - flank) / row.pitch
