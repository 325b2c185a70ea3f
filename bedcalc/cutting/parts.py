"""The pieces of a bed: every stick and sheet with its label, length and number.

Joints decide the lengths: long sides run through, ends stand between them; the rails
of a sheet frame lap the same way; the cap is mitred at the corners, so its pieces are
as long as its outer edge.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedcalc.bed import Bed
from bedcalc.tables import table
from bedcalc.walls.layout import layout

__all__ = ["Part", "blocks_needed", "courses", "parts"]


@dataclass(frozen=True, kw_only=True)
class Part:
    """Equal pieces of one bed: what they are cut from, how long (m), how many."""

    goods: str
    label: str
    length: float
    count: int


def courses(bed: Bed) -> int:
    """Courses of boards, blocks or sleepers up to the rim."""
    height = bed.si.soil_depth if bed.wall.family == "trough" else bed.si.height
    return np.ceil(height / np.maximum(bed.wall.si.course, 1e-9) - 1e-9).astype(int)


def blocks_needed(bed: Bed, spare: float = 0.0) -> tuple[float, int]:
    """Blocks by running length of the wall's middle, and how many to buy.

    Parameters
    ----------
    bed : Bed
        A bed of blocks.
    spare : float
        Share bought on top, such as 0.05.

    Returns
    -------
    tuple of float and int
        Exact number (halves are cut), whole number to buy.

    Notes
    -----
    Running length 2 L + 2 (W - 2 t): corners are counted once. Source: common
    practice.
    """
    s, module = bed.si, table("blocks")[bed.wall.block].length
    run = 2 * s.length + 2 * (s.width - 2 * s.wall_thickness)
    exact = courses(bed) * run / module
    return exact, np.ceil(exact * (1 + spare) - 1e-9)


def parts(bed: Bed) -> tuple[Part, ...]:
    """Every piece of one bed that is cut from a length of stock."""
    family = bed.wall.family
    if family == "blocks":
        return ()
    make = {"sheet": _sheet, "trough": _trough}.get(family, _boards)
    found = [*make(bed), *_posts(bed), *_cap(bed)]
    return tuple(p for p in found if p.count and p.length > 0)


def _part(bed: Bed, goods: str, what: str, length, count) -> Part:
    return Part(
        goods=goods, label=f"{bed.name} {what}", length=float(length), count=int(count)
    )


def _boards(bed: Bed) -> list[Part]:
    s, rows, goods = bed.si, courses(bed), bed.wall.goods
    return [
        _part(bed, goods, "side", s.length, 2 * rows),
        _part(bed, goods, "end", s.inside_width, 2 * rows),
    ]


def _posts(bed: Bed) -> list[Part]:
    if not bed.wall.si.post:
        return []
    count = layout(bed).posts
    return [_part(bed, bed.wall.post_goods, "post", bed.si.height, count)]


def _cap(bed: Bed) -> list[Part]:
    wall = bed.wall.si
    if not wall.cap_wide:
        return []
    more = 2 * wall.cap_out
    goods = bed.wall.cap_goods
    return [
        _part(bed, goods, "cap side", bed.si.length + more, 2),
        _part(bed, goods, "cap end", bed.si.width + more, 2),
    ]


def _sheet(bed: Bed) -> list[Part]:
    """Upright sheet inside a frame of two rails a side: base and top."""
    s, wall = bed.si, bed.wall
    cover = table("sheets")[wall.sheet].cover
    strips = np.ceil(s.inside_length / cover - 1e-9)
    strips = 2 * (strips + np.ceil(s.inside_width / cover - 1e-9))
    return [
        _part(bed, wall.rail_goods, "rail side", s.length, 4),
        _part(bed, wall.rail_goods, "rail end", s.inside_width, 4),
        _part(bed, wall.goods, "sheet", s.height, strips),
    ]


def _trough(bed: Bed) -> list[Part]:
    """Boards round a slatted floor on a frame, carried by legs."""
    s, wall = bed.si, bed.wall
    slats = np.floor(s.inside_length / max(wall.si.slat_wide, 0.02) + 1e-9)
    return [
        *_boards(bed),
        _part(bed, wall.rail_goods, "floor frame side", s.length, 2),
        _part(
            bed, wall.rail_goods, "floor bearer", s.inside_width, layout(bed).bays + 1
        ),
        _part(bed, wall.cap_goods, "slat", s.inside_width, slats),
    ]
