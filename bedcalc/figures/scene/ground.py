"""Lawn and trench: a slab of the slope, cut back at the opened corner.

What lies behind the bed is painted before it; the lawn in front and at the right end
after it, so that the foot of the wall stands in its trench.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .plan import Plan
from .solids import Piece, Solids, lit, ring
from .texture import flecks

__all__ = ["Plot", "lawn_behind", "lawn_before", "plot_of"]

_SOD = 0.035
_SOIL = "#846c56"


@dataclass(frozen=True)
class Plot:
    """Edges of the lawn in metres: left, right, near, far; thickness of the slab."""

    left: float
    right: float
    near: float
    far: float
    thick: float


def plot_of(plan: Plan, left: float) -> Plot:
    """How much of the lawn is shown round this bed.

    Parameters
    ----------
    left : float
        How far the lawn must reach on the left, for whoever works there.
    """
    size = float(np.clip(0.14 * (plan.length + plan.width), 0.2, 0.5))
    return Plot(
        left=min(left, -0.6 * size),
        right=plan.length + size,
        near=-1.3 * size,
        far=plan.width + 0.5 * size,
        thick=max(*plan.ground, 0.0) + 0.06 + 0.17 * size,
    )


def lawn_behind(s: Solids, plan: Plan, plot: Plot, shadow: bool) -> None:
    """The lawn at the left and at the back, and the ground under the bed."""
    n, w = plan.length, plan.width
    solid = s.solid((0, 0, 0, 0, 0, 0))
    grass = [
        _level(plan, (plot.left, plot.right), (w, plot.far)),
        _level(plan, (plot.left, 0.0), (-0.02, w + 0.01)),
    ]
    solid.pieces.append(Piece(grass, lit("grass", 1.0), bends=False))
    tufts = [((plot.left, 0.0), (0.0, w))]
    if plan.family == "trough":
        under = _level(plan, (0.0, n), (0.0, w))
        dark = lit("grass edge", 0.95)
        solid.pieces.append(Piece([under], dark, bends=False))
    else:
        floor = np.array([[0, 0, 0], [n, 0, 0], [n, w, 0], [0, w, 0]], float)
        solid.pieces.append(Piece([floor], lit("ground", 1.0), bends=False))
        _trench(solid, plan)
    if shadow:
        _shadow(solid, plan, plot)
    _tufts(solid, plan, tufts)
    _under_the_opening(solid, plan, plot)


def _trench(solid, plan: Plan) -> None:
    """The sides of the trench behind the bed, where the lawn is higher."""
    n, w = plan.length, plan.width
    back, left = ((0.0, w), (n, w)), ((0.0, 0.0), (0.0, w))
    rings = []
    for (x0, y0), (x1, y1) in (back, left):
        high = [max(float(plan.soil(x, y)), 0.0) for x, y in ((x0, y0), (x1, y1))]
        rings.append(np.array([[x0, y0, 0], [x1, y1, 0], [x1, y1, high[1]],
                               [x0, y0, high[0]]]))  # fmt: skip
    solid.pieces.append(Piece(rings, lit(_SOIL, 0.8), bends=False))


def _shadow(solid, plan: Plan, plot: Plot) -> None:
    """Where somebody stands, the grass is darker."""
    turn = np.linspace(0, 2 * np.pi, 25)[:-1]
    x = 0.55 * plot.left + 0.36 * abs(plot.left) * np.cos(turn)
    y = 0.5 * plan.width + 0.24 * np.sin(turn)
    at = np.column_stack([x, y, plan.soil(x, y)])
    solid.pieces.append(Piece([at], "#86a161", bends=False))


def _under_the_opening(solid, plan: Plan, plot: Plot) -> None:
    """The ground under the opened corner, cut flush with the walls."""
    n, cut, half = plan.length, plan.opened, plan.half
    top = [min(0.0, float(plan.soil(x, y))) for x, y in ((cut, 0), (n, 0), (n, half))]
    if plan.family == "trough":
        top = [float(plan.soil(x, y)) for x, y in ((cut, 0), (n, 0), (n, half))]
    low = [
        float(plan.soil(x, y)) - plot.thick for x, y in ((cut, 0), (n, 0), (n, half))
    ]
    front = np.array(
        [[cut, 0, low[0]], [n, 0, low[1]], [n, 0, top[1]], [cut, 0, top[0]]]
    )
    side = np.array(
        [[n, 0, low[1]], [n, half, low[2]], [n, half, top[2]], [n, 0, top[1]]]
    )
    solid.pieces.append(Piece([front], lit(_SOIL, 0.98), bends=False))
    solid.pieces.append(Piece([side], lit(_SOIL, 0.74), bends=False))
    for number, (colour, density) in enumerate((("#B9A891", 60), ("#5f4b3b", 50))):
        p = flecks(40 + number, density, 0.035, 0.5, (cut, n), (min(low), min(top)))
        if len(p):
            flat = np.zeros(p.shape[:2])
            rings = list(np.stack([p[..., 0], flat, p[..., 1]], -1))
            solid.pieces.append(Piece(rings, colour, bends=False))


def lawn_before(s: Solids, plan: Plan, plot: Plot) -> None:
    """The lawn at the right of the closed half, and the one in front."""
    n, cut, half = plan.length, plan.opened, plan.half
    solid = s.solid((0, 0, 0, 0, 0, 0))
    _slab(solid, plan, plot, (n, plot.right), (half, plot.far))
    _slab(solid, plan, plot, (plot.left, cut), (plot.near, 0.0))
    x = np.linspace(0, cut, 9)
    foot = ring(
        x, -0.10, plan.soil(x, -0.10) + 0.001, x, 0.0, plan.soil(x, 0.0) + 0.001
    )
    if plan.family != "trough":
        solid.pieces.append(Piece([foot], "#86a161", bends=False))
    _tufts(
        solid, plan,
        [((plot.left, cut), (plot.near, -0.1)), ((n, plot.right), (half, plot.far))],
    )  # fmt: skip


def _slab(solid, plan: Plan, plot: Plot, x, y) -> None:
    """A piece of lawn with its sod and the earth under it, front and right."""
    solid.pieces.append(Piece([_level(plan, x, y)], lit("grass", 1.0), bends=False))
    for ends, bright in ((((x[0], y[0]), (x[1], y[0])), 0.98),
                         (((x[1], y[0]), (x[1], y[1])), 0.74)):  # fmt: skip
        for paint, low, high in (
            (_SOIL, plot.thick, 0.0), ("grass edge", _SOD, 0.0)
        ):  # fmt: skip
            (x0, y0), (x1, y1) = ends
            a, b = float(plan.soil(x0, y0)), float(plan.soil(x1, y1))
            face = np.array([[x0, y0, a - low], [x1, y1, b - low],
                             [x1, y1, b - high], [x0, y0, a - high]])  # fmt: skip
            solid.pieces.append(Piece([face], lit(paint, bright), bends=False))


def _level(plan: Plan, x, y) -> np.ndarray:
    p = np.array([[x[0], y[0]], [x[1], y[0]], [x[1], y[1]], [x[0], y[1]]])
    return np.column_stack([p, plan.soil(p[:, 0], p[:, 1])])


def _tufts(solid, plan: Plan, windows) -> None:
    """A few blades of grass."""
    rings = []
    for x, y in windows:
        if x[1] - x[0] < 0.1 or y[1] - y[0] < 0.1:
            continue
        run = (0.0, x[1] - x[0]), (0.0, y[1] - y[0])
        for blade in flecks(60, 7, 0.05, 0.3, *run) + (x[0], y[0]):
            a, b = blade[:, 0].mean(), blade[:, 1].mean()
            z = float(plan.soil(a, b))
            for lean in (-0.022, 0.0, 0.024):
                rings.append(np.array([[a, b, z], [a + lean, b, z + 0.03]]))
    solid.pieces.append(Piece(rings, line=0.8, ink="#7f9c5c", bends=False))
