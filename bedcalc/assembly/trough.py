"""The floor of a trough: bearers, rails and slats."""

from __future__ import annotations

from .levels import floor_of, post_axes
from .maker import Maker

__all__ = ["SLAT", "place_floor"]

SLAT = 0.022  # m, a slat of the floor of a trough


def place_floor(made: Maker) -> None:
    """Bearers, rails and slats of a trough, from below."""
    bed, s, wall = made.bed, made.bed.si, made.bed.wall
    floor, t = float(floor_of(bed)), s.wall_thickness
    p, thin, wide = wall.si.post, wall.si.rail_thin, wall.si.rail_wide
    size, axes = (thin, wide), post_axes(bed)
    low, high = floor - SLAT - thin - wide, floor - SLAT - thin
    near = t + p  # inner face of the legs
    rails = (("front", near), ("back", s.width - near - wide))
    for n, x in enumerate(axes):
        inward = -1 if n == len(axes) - 1 else 1  # the last lies before its legs
        face = x + inward * p / 2
        a, b = sorted((face, face + inward * thin))
        made.add(
            "floor bearer",
            wall.rail_goods,
            (a, b, t, s.width - t, low, high),
            "y",
            size,
            wall="floor",
            level=n,
        )
        for y in (t + p / 2, s.width - t - p / 2):
            made.join(
                "each bearer into the side of each of its legs",
                "screw_6x100",
                (-inward, 0, 0),
                thin + p,
                *(
                    (face + inward * thin, y, low + share * wide)
                    for share in (0.3, 0.7)
                ),
            )
        for _, y in rails:
            made.join(
                "each floor rail down on each bearer",
                "screw_6x100",
                (0, 0, -1),
                thin + wide,
                *(((a + b) / 2, y + share * wide, high + thin) for share in (0.3, 0.7)),
            )
    for side, y in rails:
        made.add(
            "floor rail",
            wall.rail_goods,
            (t, s.length - t, y, y + wide, high, high + thin),
            "x",
            size,
            wall=side,
            straight=True,
        )
    flat = max(wall.si.slat_wide, 0.02)
    edges = [t, s.length - t - flat]
    shorts = [edges[0], *(x - flat / 2 for x in axes[1:-1]), edges[1]]
    places = [(x, True) for x in shorts]
    for a, b in zip(shorts, shorts[1:], strict=False):
        places += [(x, False) for x in _spread(a + flat, b, flat)]
    for n, (x, short) in enumerate(sorted(places)):
        inset = near if short else t
        made.add(
            "short slat" if short else "slat",
            wall.cap_goods,
            (x, x + flat, inset, s.width - inset, floor - SLAT, floor),
            "y",
            (SLAT, flat),
            wall="floor",
            level=n,
        )
        for _, y in rails:
            made.join(
                "each slat on both floor rails",
                "screw_4x50",
                (0, 0, -1),
                SLAT + thin,
                *((x + share * flat, y + wide / 2, floor) for share in (0.25, 0.75)),
            )


def _spread(a: float, b: float, wide: float) -> list[float]:
    """Where slats begin between a and b: as many as fit, with equal gaps."""
    count = max(int((b - a) / wide + 1e-9), 0)
    gap = (b - a - count * wide) / (count + 1)
    return [a + gap + n * (wide + gap) for n in range(count)]
