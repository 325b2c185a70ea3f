"""Lines that measure: dimensions, the straight line beside the bow, the slope's arrow.

Dimension lines are laid out in pixels round the finished picture and brought back into
space well in front of everything, so that they are never hidden.
"""

from __future__ import annotations

import numpy as np

from .camera import Frame
from .plan import Plan

__all__ = ["arrow", "bow_mark", "dimension", "left_out", "offset_below", "straight"]

GAP = np.full((1, 3), np.nan)
NEAR = 6.0


def offset_below(frame: Frame, start, end, points) -> float:
    """Pixels by which a line must move down, square to itself, to clear the points."""
    (a, b), p = frame.pixels([start, end]), frame.pixels(points)
    along = (b - a) / max(np.hypot(*(b - a)), 1e-9)
    down = np.array([-along[1], along[0]])
    down *= np.sign(down[1]) or 1.0
    low, high = sorted(((a - a) @ along, (b - a) @ along))
    at = (p - a) @ along
    beside = (at > low - 40) & (at < high + 40)
    if not beside.any():
        return 0.0
    return max(float(((p - a) @ down)[beside].max()), 0.0)


def dimension(frame: Frame, start, end, away: float) -> tuple[np.ndarray, np.ndarray]:
    """A dimension line with ticks, moved ``away`` pixels; and its ends in pixels.

    Returns
    -------
    tuple of array
        Line in space (n, 3) with gaps, and its two ends in the picture (2, 2).
    """
    ends = np.array([start, end], float)
    px = frame.pixels(ends)
    along = (px[1] - px[0]) / max(np.hypot(*(px[1] - px[0])), 1e-9)
    side = np.array([-along[1], along[0]])
    side *= np.sign(side[1]) if abs(side[1]) > 0.05 else -np.sign(side[0])
    moved = px + away * side
    made = []
    for base, at in zip(ends, moved, strict=True):
        shift = at - frame.pixels(base)
        p = frame.moved(base, *shift, NEAR)
        tick = [frame.moved(p, *(5 * side)), frame.moved(p, *(-5 * side)), GAP[0]]
        made.append((p, tick))
    (a, first), (b, last) = made
    line = np.vstack([a, b, GAP[0], *first, *last])
    return line, moved


def straight(frame: Frame, plan: Plan) -> np.ndarray:
    """The line on which the top of the front wall would lie if it were straight."""
    top = plan.height + plan.cap_thick
    y = -plan.cap_out if plan.cap_wide else 0.0
    ends = np.array([[0, y, top], [plan.length, y, top]])
    return frame.moved(ends, nearer=0.5)


def bow_mark(frame: Frame, plan: Plan, x: float, drawn: float) -> np.ndarray:
    """From the straight line to the bowed edge, where the bow is largest."""
    top = plan.height + plan.cap_thick
    y = -plan.cap_out if plan.cap_wide else 0.0
    ends = np.array([[x, y, top], [x, y - drawn, top]])
    return frame.moved(ends, nearer=0.6)


def arrow(plan: Plan, x: float, y: float, long: float) -> np.ndarray:
    """An arrow on the lawn, pointing down the slope."""
    d0, d1, _, d3 = plan.ground
    fall = -np.array([(d1 - d0) / plan.length, -(d3 - d0) / plan.width])
    fall /= max(np.hypot(*fall), 1e-9)
    across = np.array([-fall[1], fall[0]])
    middle = np.array([x, y])
    tail, head = middle - 0.5 * long * fall, middle + 0.5 * long * fall
    left = head - 0.32 * long * fall + 0.2 * long * across
    right = head - 0.32 * long * fall - 0.2 * long * across
    p = np.array([tail, head, left, head, right])
    return np.column_stack([p, plan.soil(p[:, 0], p[:, 1]) + 0.012])


def left_out(plan: Plan) -> np.ndarray:
    """Outline of the wall that is left out, where no post or frame shows it."""
    if plan.family not in ("blocks", "sleepers"):
        return np.empty((0, 3))
    n, top = plan.length, plan.height
    rows = [(n, 0, 0), (n, 0, top), (n, plan.half, top), GAP[0]]
    if plan.family == "blocks":  # nothing else marks the straight top
        rows += [(plan.opened, 0, top), (n, 0, top), GAP[0]]
    return np.array(rows)
