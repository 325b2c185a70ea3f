"""The floor of a trough: bearers, rails and slats."""

from __future__ import annotations

from .levels import floor_of, post_axes
from .maker import Maker

__all__ = ["SLAT", "place_floor"]

SLAT = 0.022  # m, a slat of the floor of a trough


def place_floor(made: Maker) -> None:
    """Bearers, rails and slats of a trough, from below."""
    bed, s, wall = made.bed, made.bed.si, made.bed.wall.si
    near, wide = s.wall_thickness + wall.post, wall.rail_wide  # inner face of the legs
    rails = (("front", near), ("back", s.width - near - wide))
    _bearers(made, [y for _, y in rails])
    high = float(floor_of(bed)) - SLAT
    for side, y in rails:
        made.add(
            "floor rail",
            bed.wall.rail_goods,
            (
                s.wall_thickness,
                s.length - s.wall_thickness,
                y,
                y + wide,
                high - wall.rail_thin,
                high,
            ),
            "x",
            (wall.rail_thin, wide),
            wall=side,
            straight=True,
        )
    _slats(made, [y for _, y in rails])


def _bearers(made: Maker, rails: list[float]) -> None:
    """A bearer at the side of each pair of legs, and the screws of the rails on it."""
    bed, s, wall = made.bed, made.bed.si, made.bed.wall
    t, p, thin, wide = (
        s.wall_thickness,
        wall.si.post,
        wall.si.rail_thin,
        wall.si.rail_wide,
    )
    high, axes = float(floor_of(bed)) - SLAT - thin, post_axes(bed)
    low = high - wide
    for n, x in enumerate(axes):
        inward = -1 if n == len(axes) - 1 else 1  # the last lies before its legs
        face = x + inward * p / 2
        a, b = sorted((face, face + inward * thin))
        made.add(
            "floor bearer",
            wall.rail_goods,
            (a, b, t, s.width - t, low, high),
            "y",
            (thin, wide),
            wall="floor",
            level=n,
        )
        for y in (t + p / 2, s.width - t - p / 2):
            heads = [(face + inward * thin, y, low + f * wide) for f in (0.3, 0.7)]
            where = "each bearer into the side of each of its legs"
            made.join(where, "screw_6x100", (-inward, 0, 0), thin + p, *heads)
        for y in rails:
            heads = [((a + b) / 2, y + f * wide, high + thin) for f in (0.3, 0.7)]
            where = "each floor rail down on each bearer"
            made.join(where, "screw_6x100", (0, 0, -1), thin + wide, *heads)


def _slats(made: Maker, rails: list[float]) -> None:
    """Slats from board to board, short ones between two legs, and their screws."""
    bed, s, wall = made.bed, made.bed.si, made.bed.wall
    floor, t = float(floor_of(bed)), s.wall_thickness
    flat = max(wall.si.slat_wide, 0.02)
    middle = [x - flat / 2 for x in post_axes(bed)[1:-1]]
    shorts = [t, *middle, s.length - t - flat]
    places = [(x, True) for x in shorts]
    for a, b in zip(shorts, shorts[1:], strict=False):
        places += [(x, False) for x in _spread(a + flat, b, flat)]
    for n, (x, short) in enumerate(sorted(places)):
        inset = t + wall.si.post if short else t
        made.add(
            "short slat" if short else "slat",
            wall.cap_goods,
            (x, x + flat, inset, s.width - inset, floor - SLAT, floor),
            "y",
            (SLAT, flat),
            wall="floor",
            level=n,
        )
        for y in rails:
            across = y + wall.si.rail_wide / 2
            heads = [(x + f * flat, across, floor) for f in (0.25, 0.75)]
            room = SLAT + wall.si.rail_thin
            where = "each slat on both floor rails"
            made.join(where, "screw_4x50", (0, 0, -1), room, *heads)


def _spread(a: float, b: float, wide: float) -> list[float]:
    """Where slats begin between a and b: as many as fit, with equal gaps."""
    count = max(int((b - a) / wide + 1e-9), 0)
    gap = (b - a - count * wide) / (count + 1)
    return [a + gap + n * (wide + gap) for n in range(count)]
