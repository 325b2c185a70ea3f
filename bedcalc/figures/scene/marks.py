"""What is drawn over the bed: the straight line, the arrow, the card of the bow."""

from __future__ import annotations

import numpy as np

from bedcalc.figures import theme

from .plan import Plan
from .solids import Piece
from .svg import Path

__all__ = ["arrow", "card", "left_out", "straight"]

CARD = 150  # px, length of the rail on the card
_MOST = 20.0  # px, the largest bow on the card


def straight(plan: Plan) -> list[Piece]:
    """The line on which the top of the front wall would lie if it were straight."""
    top = plan.height + plan.cap_thick
    y = -plan.cap_out if plan.cap_wide else 0.0
    run = np.array([[-plan.cap_out, y, top], [plan.length + plan.cap_out, y, top]])
    return [
        Piece([run], line=3.4, ink=theme.PAPER, bends=False),
        Piece([run], line=1.5, ink=theme.INK, dash="5 4", bends=False),
    ]


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
    return np.column_stack([p, plan.soil(p[:, 0], p[:, 1]) + 0.005])


def left_out(plan: Plan) -> list[Piece]:
    """Outline of the wall that is left out, where no post or frame shows it."""
    if plan.family not in ("blocks", "sleepers") or plan.tips:
        return _stood(plan) if plan.tips else []
    n, top = plan.length, plan.height
    run = np.array([(plan.opened, 0, top), (n, 0, top), (n, plan.half, top)])
    post = np.array([(n, 0, 0), (n, 0, top)])
    return [Piece([run, post], line=1.2, ink=theme.EDGE, dash="4 4", bends=False)]


def _stood(plan: Plan) -> list[Piece]:
    """Where a course stood before it tipped: dashes round its end."""
    low, top = plan.rows[plan.tips - 1]
    x = plan.opened
    run = np.array([(x, 0, low), (x, 0, top), (x, plan.wall, top)])
    return [
        Piece([run], line=3.2, ink=theme.PAPER, bends=False),
        Piece([run], line=1.5, ink=theme.INK, dash="5 4", bends=False),
    ]


def card(x: float, y: float, run, bow, factor: float, drawn: float, ties) -> list[Path]:
    """The rail from above, as drawn and as it is; x, y is its upper left corner.

    ``run`` from 0 to 1 along the rail, ``bow`` in shares of its length, ``ties`` where
    it is held.
    """
    k = CARD * min(1.0, _MOST / max(CARD * float(np.max(bow)) * drawn, 1e-9))
    found = []
    for row, scale, ink in ((0, drawn, "#A77B45"), (1, 1.0, "#BDB6AA")):
        line = np.column_stack([x + CARD * run, y + 24 * row + k * bow * scale])
        found.append(Path((line,), line=5.0, ink=ink))
    ends = np.array([[x, y], [x + CARD, y]])
    found.append(Path((ends,), line=1.3, ink=theme.INK, dash="5 4"))
    boxes = tuple(
        np.array([(a - 3, y - 3), (a + 3, y - 3), (a + 3, y + 3), (a - 3, y + 3)])
        for a in (x + CARD * float(t) for t in ties)
    )
    if boxes:
        found.append(Path(boxes, fill=theme.PAPER, line=1.2, ink=theme.INK))
    return found
