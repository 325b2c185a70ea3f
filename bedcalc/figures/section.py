"""A bed seen from the front with part of its long wall left out: outlines only.

Laid out in metres at a scale known in pixels per metre; x counts from the left end of
the opening, z from the base of the fill.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from bedcalc.assembly import floor_of, levels, rail_levels

from .shapes import EMPTY, outlines, rectangle, segments

if TYPE_CHECKING:  # names for an editor
    from ..model.bed import Bed

__all__ = ["Paper", "box_px", "end_width", "ground", "paper_for", "walls"]

#: up to this height (m) so many px per metre
_SCALES = ((0.32, 500), (0.42, 430), (0.62, 330), (0.82, 268), (1.02, 212), (1.3, 176))
GROUND = 22.0  # px of ground beyond the end wall
DEEP = 30.0  # px of ground below the bed
_STUB = 46.0  # px of front wall left standing at least
_RIB = 0.038  # m between the lines that stand for ribs


@dataclass(frozen=True, kw_only=True)
class Paper:
    """Where pixels and metres meet; px are counted from the plot's lower left."""

    scale: float  # px per metre
    wide: float  # px
    high: float  # px
    base: float  # px from the lower edge to the base of the fill
    zero: float  # px from the left edge to the left end of the opening
    opening: float  # m
    foot: float  # px kept for more lines below
    narrow: bool

    def x(self, px: float) -> float:
        """Metres at so many pixels from the left edge."""
        return (px - self.zero) / self.scale

    def y(self, px: float) -> float:
        """Metres at so many pixels from the lower edge."""
        return (px - self.base) / self.scale


def _box_height(bed) -> float:
    """What is drawn of the bed's height: a trough without its legs."""
    return float(bed.si.soil_depth if bed.wall.family == "trough" else bed.si.height)


def _scale(height: float, narrow: bool) -> float:
    """Pixels per metre, in few steps, so that a growing bed is seen to grow."""
    step = next((px for top, px in _SCALES if height <= top), _SCALES[-1][1])
    return step * (0.76 if narrow else 1.0)


def box_px(bed: Bed, narrow: bool) -> float:
    """Height in px of the bed with its cap."""
    height = _box_height(bed)
    return (height + bed.wall.si.cap_thick) * _scale(height, narrow)


def end_width(bed: Bed) -> float:
    """Width of the end wall and its corner post, as seen from the front (m)."""
    wall = bed.wall.si
    if bed.wall.family == "sheet":
        return wall.post
    return float(bed.si.wall_thickness) + wall.post


def paper_for(
    bed: Bed,
    *,
    wide: float,
    high: float,
    base: float,
    foot: float,
    beside: float,
    narrow: bool,
) -> Paper:
    """Choose the scale and how much of the long wall is left out.

    ``beside`` is the room in px that the table takes at the right.
    """
    scale = _scale(_box_height(bed), narrow)
    end = (end_width(bed) + bed.wall.si.cap_out) * scale
    room = wide - beside - GROUND - end
    half = float(bed.si.inside_length) / 2 * scale
    opening = max(min(half, room - _STUB), 60.0)
    zero = min(room - opening, half + end) if not narrow else room - opening
    return Paper(
        scale=scale,
        wide=wide,
        high=high,
        base=base,
        zero=zero,
        opening=opening / scale,
        foot=foot,
        narrow=narrow,
    )


def _courses(bed) -> list[float]:
    """Heights of the joints between courses, over the floor of the box."""
    if bed.wall.family == "sheet":
        return []
    return [top - floor_of(bed) for _, top in levels(bed)[:-1]]


def _rail(bed, height: float) -> float:
    """How high a rail of a sheet wall's frame looks from the front."""
    low, high = rail_levels(bed)[0]
    return min(high - low, height / 3)


def _joints(bed, left: float, right: float, height: float) -> list[tuple]:
    """Lines on the face of the front wall: courses, ribs, joints."""
    if right - left < 1e-6:
        return []
    if bed.wall.family == "sheet":
        rail = _rail(bed, height)
        ribs = np.arange(right - _RIB / 2, left, -_RIB)
        return [(x, rail, x, height - rail) for x in ribs]
    tops = _courses(bed)
    found = [(left, z, right, z) for z in tops]
    if bed.wall.family == "blocks":
        module = bed.wall.block_row.length
        for i, z in enumerate([0.0, *tops]):
            high = min(z + bed.wall.si.course, height)
            first = right - module / (1 + i % 2)
            found += [(x, z, x, high) for x in np.arange(first, left, -module)]
    return found


def walls(bed: Bed, paper: Paper) -> dict[str, tuple]:
    """Outlines of the wall.

    Returns
    -------
    dict
        ``face`` (what is left of the front wall), ``frame`` (rails, posts, end wall,
        cap), ``joints`` (thin lines on both).
    """
    wall, family = bed.wall.si, bed.wall.family
    height, opening, post = _box_height(bed), paper.opening, bed.wall.si.post
    thick, end = float(bed.si.wall_thickness), paper.opening + end_width(bed)
    left = max(paper.x(0.0), opening - float(bed.si.inside_length) - end_width(bed))
    frame, joints = [], _joints(bed, left, -post, height)
    if family == "sheet":
        rail = _rail(bed, height)
        frame += [
            rectangle(left, 0.0, 0.0, rail),
            rectangle(left, 0.0, height - rail, height),
        ]
    else:
        frame.append(rectangle(end - thick, end, 0.0, height))
        joints += [(end - thick, z, end, z) for z in _courses(bed)]
    foot = 0.0
    if family == "trough":
        foot = paper.y(paper.base - DEEP - 8)
        frame.append(rectangle(0.0, opening, -0.022, 0.0))
    if post:
        frame.append(rectangle(opening, opening + post, foot, height))
        frame.append(rectangle(-post, 0.0, foot, height))
    if wall.cap_thick:
        out = wall.cap_out
        top = height + wall.cap_thick
        frame.append(rectangle(max(left - out, paper.x(0.0)), end + out, height, top))
    return {
        "face": outlines([rectangle(left, 0.0, 0.0, height)]),
        "frame": outlines(frame),
        "joints": segments(joints),
    }


def ground(bed: Bed, paper: Paper) -> tuple[tuple, tuple]:
    """The soil below and beside the bed, and the grass on it; nothing for a trough."""
    if bed.wall.family == "trough":
        return EMPTY, EMPTY
    end = paper.opening + end_width(bed)
    right = end + bed.wall.si.cap_out + GROUND / paper.scale
    level, under = float(bed.si.embedment), paper.y(paper.base - DEEP)
    left = paper.x(0.0)
    soil = (
        np.array([left, right, right, end, end, left, left]),
        np.array([under, under, level, level, 0.0, 0.0, under]),
    )
    return soil, (np.array([end, right]), np.full(2, level))
