"""What does not hold, on the picture: the part is striped and carries its share.

Stripes are told from every other colour in grey as well. One part only: the one that
gives way first; how people use the bed is left to words.
"""

from __future__ import annotations

import numpy as np

from .plan import Plan

__all__ = ["band", "stripes", "weak_words", "weakest"]

#: part of the front wall that each verdict is about, and what the label calls it
_PARTS = {
    "rail": ("top", "rim"),
    "tie": ("top", "tie"),
    "rod": ("top", "rod"),
    "hole": ("top", "rod's hole"),
    "corner": ("top", "corner"),
    "post": ("top", "posts"),
    "post bends": ("all", "posts"),
    "upright": ("all", "posts"),
    "sheet": ("all", "sheet"),
    "waterlogged": ("all", "full of water"),
    "tipping": ("top", "tips over"),
    "sliding": ("all", "slides"),
    "foot": ("foot", "foot"),
    "base tie": ("foot", "tie at the foot"),
    "board": ("foot", "lowest board"),
    "screws": ("foot", "screws"),
    "floor": ("foot", "floor"),
}
_STEP, _FRONT = 0.06, 0.004  # m between two stripes, and before the wall


def weakest(outcome):
    """The check of strength that is furthest past what holds, or None."""
    found = [
        check
        for check in outcome.walls.checks
        if not check.ok and not check.straight and check.name in _PARTS
    ]
    return max(found, key=lambda check: check.utilisation, default=None)


def weak_words(outcome) -> str:
    """Sign, part and share: ``✕ foot: 130 %``; empty where all holds."""
    check = weakest(outcome)
    if check is None:
        return ""
    return f"{check.sign} {_PARTS[check.name][1]}: {check.used()}"


def band(outcome, plan: Plan) -> tuple[float, float] | None:
    """From which height to which the front wall is striped; None where all holds."""
    check = weakest(outcome)
    if check is None:
        return None
    wall = outcome.bed.wall.si
    part, high = _PARTS[check.name][0], float(wall.course or wall.rail_wide or 0.1)
    low, top = float(plan.floor), float(plan.height)
    high = min(high, top - low)
    return {"top": (top - high, top), "foot": (low, low + high)}.get(part, (low, top))


def stripes(plan: Plan, ends: tuple[float, float] | None) -> np.ndarray:
    """Slanting lines over a band of the front wall, with gaps between them."""
    if ends is None:
        return np.empty((0, 3))
    low, top = ends
    high, points = top - low, []
    for start in np.arange(-high, plan.length, _STEP):
        a, b = max(start, 0.0), min(start + high, plan.length)
        if b - a > 0.01:
            points += [
                (a, -_FRONT, low + a - start),
                (b, -_FRONT, low + b - start),
                (np.nan,) * 3,
            ]
    return np.array(points)
