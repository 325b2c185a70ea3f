"""Heights and axes of the wall: courses, rails, posts, sheets, ties."""

from __future__ import annotations

import numpy as np

from ..model.bed import Bed
from ..tables import table
from ..units import Value, quantities
from .layout import layout

__all__ = [
    "bands",
    "courses",
    "floor_of",
    "levels",
    "post_axes",
    "rail_levels",
    "sheet_depth",
    "strips",
    "strips_needed",
    "tie_inset",
    "upright_strips",
]

#: m, of a tie below the rim of a wall in courses: the middle of a board of 140 mm
MOST_INSET = 0.07


def courses(bed: Bed):
    """Courses of boards, blocks or sleepers up to the rim; whole numbers."""
    height = bed.si.soil_depth if bed.wall.family == "trough" else bed.si.height
    return np.ceil(height / np.maximum(bed.wall.si.course, 1e-9) - 1e-9).astype(int)


def floor_of(bed: Bed) -> float:
    """Height of the floor over the foot: 0 but for a trough."""
    trough = bed.wall.family == "trough"
    return bed.si.height - bed.si.soil_depth if trough else 0.0


def levels(bed: Bed) -> list[tuple[float, float]]:
    """Bottom and top of each course, from the foot; the top one is ripped to fit."""
    step = bed.wall.si.course or bed.wall.block_row.course
    low, high = float(floor_of(bed)), float(bed.si.height)
    return [
        (low + n * step, min(low + (n + 1) * step, high))
        for n in range(int(courses(bed)))
    ]


def rail_levels(bed: Bed) -> list[tuple[float, float]]:
    """Bottom and top of the rails of a sheet frame: foot and rim."""
    wall = bed.wall.si
    face = wall.rail_thin if bed.rail_lying else wall.rail_wide
    return [(0.0, face), (bed.si.height - face, bed.si.height)]


def bands(bed: Bed) -> list[tuple[float, float]]:
    """Bottom and top of what carries the wall: courses, or the rails of a frame."""
    return rail_levels(bed) if bed.wall.family == "sheet" else levels(bed)


def sheet_depth(bed: Bed) -> float:
    """Room the ribbed sheet takes between rails and posts; 0 without sheet."""
    return table("sheets")[bed.wall.sheet].depth if bed.wall.family == "sheet" else 0.0


def tie_inset(bed: Bed) -> float:
    """How far below the rim, and above the foot, a tie goes through the wall.

    Through the middle of the rail of a sheet frame, so that the plate bears on wood;
    else through the middle of the outer course, 70 mm in at most.
    """
    low, high = bands(bed)[-1]
    middle = (high - low) / 2
    return middle if bed.wall.family == "sheet" else min(middle, MOST_INSET)


def post_axes(bed: Bed) -> list[float]:
    """Axes of all posts along a long side, those at the corners too."""
    post = bed.wall.si.post
    if not post or bed.wall.family in ("blocks", "sleepers"):
        return []
    corner = bed.si.wall_thickness + sheet_depth(bed) + post / 2
    inner = [float(x) for x in layout(bed).posts_x]
    return [corner, *inner, bed.si.length - corner]


@quantities("", side="m", lap="m [0, inf)", cover="m (0, inf)")
def strips_needed(side: Value, lap: Value, cover: Value) -> Value:
    """Sheets side by side that close a length.

    Parameters
    ----------
    side : quantity [m]
        Length (or height) to close.
    lap : quantity [m]
        Overlap of neighbours; one rib.
    cover : quantity [m]
        Width of a sheet less one lap.

    Returns
    -------
    quantity []
        Whole sheets: ceil((side - lap) / cover).

    Notes
    -----
    Source: common practice.
    """
    return np.maximum(np.ceil((side - lap) / cover - 1e-9), 1)


def upright_strips(bed: Bed, side: float) -> list[tuple[float, float]]:
    """Strips with upright ribs that close a length: from and to, with a lap of one rib.

    Sheet is cut along a valley only, so the strips make up a whole number of ribs.
    What is left over, less than one rib, stays open by half at both ends, in front of
    the corner posts.
    """
    row = table("sheets")[bed.wall.sheet]
    ribs = max(int(side / row.pitch + 1e-9), 1)
    wide = max(round(row.cover / row.pitch), 1)
    begin = max(side - ribs * row.pitch, 0.0) / 2
    ends = [min(first + wide + 1, ribs) for first in range(0, max(ribs - 1, 1), wide)]
    return [
        (begin + n * wide * row.pitch, min(begin + end * row.pitch, side))
        for n, end in enumerate(ends)
    ]


def strips(bed: Bed, side: float) -> list[tuple[float, float]]:
    """Rows of sheet with lying ribs that close a height, with a lap of one rib.

    As many sheets as :func:`strips_needed`; the top one is cut to the height.
    """
    row = table("sheets")[bed.wall.sheet]
    count = int(strips_needed.si(side, row.pitch, row.cover))
    return [
        (n * row.cover, min(n * row.cover + row.cover + row.pitch, side))
        for n in range(count)
    ]
