"""Cross ties: rods from wall to wall with a plate and a nut at either end."""

from __future__ import annotations

import numpy as np

from .filling import Step
from .plan import Plan
from .solids import Solids

__all__ = ["tie_heights", "tie_lines", "ties"]


def tie_heights(plan: Plan) -> tuple[float, float]:
    """Height of the axis of the ties at the top and at the foot."""
    return plan.height - plan.tie_in, plan.floor + plan.tie_in


def ties(s: Solids, plan: Plan, top_x, base_x) -> None:
    """Put in the ties at these places along the bed."""
    w = plan.width
    rods, plates, nuts = [], [], []
    for xs, z in zip((top_x, base_x), tie_heights(plan), strict=True):
        for x in xs:
            rods.append((x - 0.007, x + 0.007, -0.034, w + 0.034, z - 0.007, z + 0.007))
            for y in ((-0.006, 0.0), (w, w + 0.006)):
                plates.append((x - 0.028, x + 0.028, *y, z - 0.028, z + 0.028))
            nuts.append((x - 0.012, x + 0.012, -0.018, -0.006, z - 0.012, z + 0.012))
    s.boxes(rods, "steel", 0.82, edges="")
    s.boxes(plates, "steel", 0.95)
    s.boxes(nuts, "steel", 0.8)


def tie_lines(plan: Plan, made: list[Step], top_x) -> np.ndarray:
    """Where the fill hides a tie at the top: a line over it, drawn dashed."""
    if not made or not len(top_x):
        return np.empty((0, 3))
    last, z = made[-1], tie_heights(plan)[0]
    if last.top < z - 0.007:
        return np.empty((0, 3))
    rows = []
    for x in top_x:
        y0 = plan.wall if x < last.a else last.b
        rows += [[x, y0, last.top], [x, plan.width - plan.wall, last.top], [np.nan] * 3]
    return np.array(rows)
