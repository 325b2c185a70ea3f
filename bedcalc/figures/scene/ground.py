"""Lawn and trench: a slab of the slope, cut flush with the opened corner.

The lawn goes round the bed like an L, so that the foot of the opened wall and the cut
ground under it are seen. Under a trough the lawn goes on; the cut shows one leg on its
pad.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .person import Yardstick
from .plan import Plan
from .solids import LIGHT, Solids

__all__ = ["Plot", "ground", "person", "plot_of"]

_SOD = 0.028


@dataclass(frozen=True)
class Plot:
    """Edges of the lawn in metres: left, right, near, far; thickness of the slab."""

    left: float
    right: float
    near: float
    far: float
    thick: float
    cut_x: float
    cut_y: float
    notch: float


def plot_of(plan: Plan, left: float) -> Plot:
    """How much of the lawn is shown round this bed.

    Parameters
    ----------
    left : float
        How far the lawn must reach on the left, for whoever stands there.
    """
    n, w = plan.length, plan.width
    size = float(np.clip(0.16 * (n + w), 0.22, 0.62))
    deep = max(plan.ground)
    inset = plan.wall + 0.02 if plan.family == "trough" else 0.0
    return Plot(
        left=min(left, -0.75 * size),
        right=n + size,
        near=-0.85 * size,
        far=w + 0.55 * size,
        thick=deep + 0.05 + 0.17 * size,
        cut_x=min(plan.opened + (0.16 if inset else 0.0), n - 0.02),
        cut_y=plan.half,
        notch=inset,
    )


def ground(s: Solids, plan: Plan, plot: Plot) -> None:
    """The slab of lawn, with the corner under the opening cut out."""
    n, w, inset = plan.length, plan.width, plot.notch
    x0, x1, y0, y1 = plot.left, plot.right, plot.near, plot.far
    cx, cy = plot.cut_x, plot.cut_y
    trough = plan.family == "trough"
    # the lawn runs a little into the walls, so that no gap shows at their foot
    t = 0.0 if trough else 0.9 * plan.wall
    e = 0.004  # neighbours overlap by a hair, else a seam shimmers
    tops = [
        (x0, t + e, y0, y1),
        (0, cx, y0, e),
        (0, cx - e, 0, t),
        (n - t, x1, cy, y1),
        (t, n - t + e, w - t, y1),
    ]
    if trough:
        tops += [
            (0, cx, 0, inset + e),
            (0, n - inset, inset, cy + e),
            (0, n + e, cy, w + e),
        ]
    for a, b, c, d in tops:
        p = np.array([[a, c], [b, c], [b, d], [a, d]])
        z = plan.soil(p[:, 0], p[:, 1])
        s.quads(np.column_stack([p, z]), "grass", still=True)
    if not trough:
        s.flat((0, n), (0, w), 0.0, "ground", 1.05, still=True)
        _bank(s, plan, (t, w - t), (n - t, w - t))
        _bank(s, plan, (t, 0), (t, w - t))
        _low_side(s, plan)
    # cut faces: from the front left round to the right
    _cut(s, plan, plot, (x0, y0), (cx, y0))
    _cut(s, plan, plot, (cx, y0), (cx, inset))
    flush = None if trough else 0.0
    _cut(s, plan, plot, (cx, inset), (n - inset, inset), flush)
    _cut(s, plan, plot, (n - inset, inset), (n - inset, cy), flush)
    _cut(s, plan, plot, (n - inset, cy), (x1, cy))
    _cut(s, plan, plot, (x1, cy), (x1, y1))
    if trough:
        _pads(s, plan)


def _cut(s: Solids, plan: Plan, plot: Plot, p, q, top: float | None = None) -> None:
    """An upright cut from p to q, sod on top where it reaches the lawn."""
    ends = np.array([p, q], float)
    lawn = plan.soil(ends[:, 0], ends[:, 1])
    foot = lawn - plot.thick
    high = lawn if top is None else np.minimum(lawn, top)
    sod = high - _SOD if top is None else high

    def face(low, up, paint, bright):
        s.quads(
            [
                [*p, low[0]],
                [*q, low[1]],
                [*q, up[1]],
                [*p, up[0]],
            ],
            paint,
            bright,
            still=True,
        )

    face(foot, sod, "ground", 1.0)
    if top is None:
        face(sod, high, "grass edge", 1.0)
        s.line([[*p, high[0]], [*q, high[1]]], still=True)


def _bank(s: Solids, plan: Plan, p, q) -> None:
    """The side of the pit from p to q, where the lawn stands above the rim."""
    ends = np.array([p, q], float)
    lawn = plan.soil(ends[:, 0], ends[:, 1])
    if lawn.max() > plan.height:
        low = np.minimum(plan.height - 0.01, lawn)
        face = [[*p, low[0]], [*q, low[1]], [*q, lawn[1]], [*p, lawn[0]]]
        s.quads(face, "ground", 0.9, still=True)


def _low_side(s: Solids, plan: Plan) -> None:
    """What carries the box where the ground lies below its foot."""
    n, w = plan.length, plan.width
    ring = [(0, 0), (n, 0), (n, w), (0, w)]
    soil = [float(plan.soil(x, y)) for x, y in ring]
    if min(soil) > -0.002:
        return
    if not plan.filled:
        side = 0.2
        s.boxes(
            [
                (
                    abs(x - side) if x else 0,
                    x or side,
                    abs(y - side) if y else 0,
                    y or side,
                    z - 0.02,
                    0.0,
                )
                for (x, y), z in zip(ring, soil, strict=True)
                if z < -0.002
            ],
            "concrete",
            1.0,
            still=True,
        )
        return
    for k in range(4):
        (ax, ay), (bx, by) = ring[k], ring[(k + 1) % 4]
        for t in np.arange(8) / 8:
            a = (ax + t * (bx - ax), ay + t * (by - ay))
            b = (a[0] + (bx - ax) / 8, a[1] + (by - ay) / 8)
            low = [min(float(plan.soil(*p)), 0.0) for p in (a, b)]
            if min(low) < 0:
                face = [[*a, low[0]], [*b, low[1]], [*b, 0.0], [*a, 0.0]]
                s.quads(face, "ground", 0.95, still=True)


def _pads(s: Solids, plan: Plan) -> None:
    """A flat stone under every leg of a trough."""
    t, p, w = plan.wall, plan.post, plan.width
    side = max(0.10, 0.9 * p)
    rows = [
        (x - side, x + side, y - side, y + side, -0.05, -0.001)
        for x in plan.axes
        for y in (t + p / 2, w - t - p / 2)
    ]
    s.boxes(rows, "concrete", 1.0, still=True)


def shadow(s: Solids, plan: Plan, plot: Plot) -> None:
    """The shade of the bed on the lawn, to the right and behind."""
    n, w, x1, y1 = plan.length, plan.width, plot.right, plot.far
    over = plan.soil(n / 2, w / 2)
    if plan.family == "trough":
        _shade(s, plan, *_under(plan, plot, plan.floor - over))
        return
    high = max(plan.height + plan.cap_thick - float(over), 0.0)
    dx, dy = -LIGHT[:2] / LIGHT[2] * high
    cy, side, t = plot.cut_y, min(dx, x1 - n), 0.9 * plan.wall
    lean = side / max(dx, 1e-9) * dy
    right = [(n - t, cy), (n + side * min(cy / max(lean, 1e-9), 1), cy)]
    if lean > cy:
        right.append((n + side, min(lean, y1)))
    end = min(w + dy, y1)
    right += [(n + side, end), (n - t, end)]
    back = [(0, w), (n, w), (n, end), (dx * (end - w) / max(dy, 1e-9), end)]
    _shade(s, plan, right, back)


def _under(plan: Plan, plot: Plot, high: float):
    """Outlines of the shade under a trough, cut where the lawn is cut."""
    n, w = plan.length, plan.width
    dx, dy = -LIGHT[:2] / LIGHT[2] * high
    i, cx, cy = plot.notch, plot.cut_x, plot.cut_y
    x0, x1, y0, y1 = dx, min(n + dx, plot.right), dy, min(w + dy, plot.far)
    if y0 < cy:
        yield [(x0, y0), (n - i, max(y0, i)), (n - i, cy), (x0, cy)]
    low = max(y0, cy)
    yield [(x0, low), (x1, low), (x1, y1), (x0, y1)]
    del cx


def _shade(s: Solids, plan: Plan, *outlines) -> None:
    for outline in outlines:
        p = np.array(outline, float)
        z = plan.soil(p[:, 0], p[:, 1]) + 0.003
        s.fans(np.column_stack([p, z])[None], "grass", 0.86, still=True)


def person(s: Solids, plan: Plan, right, figure: Yardstick, at) -> None:
    """Somebody standing (or sitting) on the lawn at x, y, turned to the viewer.

    ``right`` is the picture's direction to the right.
    """
    foot = np.array([*at, float(plan.soil(*at))])
    turn = np.linspace(0, 2 * np.pi, 13)[:-1]
    ring = 0.13 * figure.tall * np.column_stack([np.cos(turn), 0.6 * np.sin(turn)])
    ring += foot[:2]
    z = plan.soil(ring[:, 0], ring[:, 1]) + 0.004
    s.fans(np.column_stack([ring, z])[None], "grass", 0.9, still=True)
    for piece in figure.pieces:
        p = foot + piece[:, :1] * right + piece[:, 1:] * np.array([0, 0, 1.0])
        s.fans(p[None], "person", still=True)
