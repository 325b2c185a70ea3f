"""Routes: where a barrow or a wheelchair gets to from the gate, and how far it is.

The plot is cut into squares of 10 cm (a large one into larger squares); a wheel of some
width passes where its middle keeps half that width from everything.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..model.plot import Plot
from .layout import Spot

__all__ = ["Route", "Walk", "walk"]

CELL = 0.1
TURN = 1.525  # m, turning circle of ada_2010 304.3.1
OUT = 1.5  # m of ground round the plot that is looked at, so that a gate can be entered


@dataclass(frozen=True, kw_only=True)
class Route:
    """What one bed can be reached by.

    ``sides`` holds the share of the top, right, bottom and left side on the plan that
    touches the route, ``long`` which two of them are the long ones; ``far`` is the walk
    from the gate to its nearest side, ``hose`` the walk from the tap to its farthest
    corner (m, not-a-number if there is none).
    ``turns`` tells whether a turning circle lies within 2 m of one of its ends.
    """

    name: str
    sides: tuple[float, float, float, float]
    far: float
    hose: float
    turns: bool
    long: tuple[int, int] = (0, 2)

    @property
    def reached(self) -> bool:
        """Both long sides along most of their length."""
        return self.best_sides >= 2

    @property
    def best_sides(self) -> int:
        """How many of the long sides are reached along nine tenths of their length."""
        return sum(share >= 0.9 for share in self.long_sides)

    @property
    def long_sides(self) -> tuple[float, float]:
        """Share of either long side that touches the route."""
        return self.sides[self.long[0]], self.sides[self.long[1]]


@dataclass(frozen=True, kw_only=True)
class Walk:
    """All routes for one width of wheel.

    ``open_`` marks the squares its middle can be at, row by row down the plan, the
    first of them at ``corner``.
    """

    width: float
    cell: float
    corner: tuple[float, float]
    open_: np.ndarray
    routes: tuple[Route, ...]


def walk(
    plot: Plot, beds: tuple[tuple[str, Spot], ...], width: float, *, fenced: bool = True
) -> Walk:
    """Find where something of a width gets to from the gate.

    Parameters
    ----------
    plot : Plot
        Its gate is where you start; without one, anywhere along its edge.
    beds : tuple of (name, Spot)
        What stands on it.
    width : float
        Clear width that is needed, in metres.
    fenced : bool
        Whether nothing passes the edge of the plot but at the gate.

    Notes
    -----
    Distances are along the squares, straight and slanting, so up to 8 % long.
    Source: computed.
    """
    from scipy import ndimage

    left, right, top, bottom = plot.bounds
    grid = _Grid(left - OUT, top - OUT, right + OUT, bottom + OUT)
    cell = grid.cell
    inside = plot.inside(*grid.middles)
    gate = plot.of_kind("gate") if fenced else None
    outside = ~inside
    if gate is not None:
        x, y = grid.middles
        near = (x > gate.x - 0.6) & (x < gate.x + gate.length + 0.6)
        near &= (y > gate.y - OUT) & (y < gate.y + gate.width + OUT)
        if gate.width > gate.length:
            near = (x > gate.x - OUT) & (x < gate.x + gate.length + OUT)
            near &= (y > gate.y - 0.6) & (y < gate.y + gate.width + 0.6)
        outside &= near
    if not outside.any():  # the gate stands somewhere inside
        outside = grid.nearest(inside, *gate.middle)
    free = inside | outside
    for box in (
        *(t.box for t in plot.things if t.kind in ("tree", "house", "other")),
        *((s.x, s.x + s.length, s.y, s.y + s.width) for _, s in beds),
    ):
        free[grid.cells(*box)] = False
    padded = np.pad(free, 1, constant_values=True)  # nothing is known to stand beyond
    room = ndimage.distance_transform_edt(padded)[1:-1, 1:-1] * cell - cell / 2
    open_ = free & (room >= width / 2 - cell)
    reach, far = _flood(open_, outside, cell)
    tap = plot.of_kind("tap")
    hose = None
    if tap is not None:
        hose = _flood(free, grid.nearest(free, *tap.middle), cell)[1]
    turn = reach & (room >= TURN / 2 - cell)
    routes = tuple(
        _route(name, s, grid, reach, far, hose, turn, width) for name, s in beds
    )
    return Walk(
        width=width,
        cell=cell,
        corner=(grid.left, grid.top),
        open_=reach & inside,
        routes=routes,
    )


class _Grid:
    """Squares over the plot and a strip round it."""

    def __init__(self, left: float, top: float, right: float, bottom: float):
        self.left, self.top = left, top
        self.cell = max(CELL, max(right - left, bottom - top) / 500)
        self.rows = round((bottom - top) / self.cell)
        self.cols = round((right - left) / self.cell)

    @property
    def middles(self):
        """Middle of every square, as two arrays x and y."""
        x = self.left + (np.arange(self.cols) + 0.5) * self.cell
        y = self.top + (np.arange(self.rows) + 0.5) * self.cell
        return np.meshgrid(x, y)

    def cells(self, left, right, top, bottom) -> tuple[slice, slice]:
        """The squares of a rectangle."""
        return (
            self._part(top - self.top, bottom - self.top, self.rows),
            self._part(left - self.left, right - self.left, self.cols),
        )

    def _part(self, low: float, high: float, most: int) -> slice:
        first, last = round(low / self.cell), round(high / self.cell)
        if first == last:  # thinner than a square, such as a wall drawn as a line
            first = int(np.floor(low / self.cell))
            last = first + 1
        first = int(np.clip(first, 0, most))
        return slice(first, int(np.clip(last, first, most)))

    def at(self, x, y):
        """Row and column of points, and which of them lie on the raster."""
        r = np.floor((np.asarray(y) - self.top) / self.cell).astype(int)
        c = np.floor((np.asarray(x) - self.left) / self.cell).astype(int)
        known = (r >= 0) & (r < self.rows) & (c >= 0) & (c < self.cols)
        return np.clip(r, 0, self.rows - 1), np.clip(c, 0, self.cols - 1), known

    def nearest(self, free: np.ndarray, x: float, y: float) -> np.ndarray:
        """The free square nearest to a point, as a mask."""
        rows, cols = np.nonzero(free)
        mark = np.zeros(free.shape, dtype=bool)
        if len(rows):
            px = self.left + (cols + 0.5) * self.cell
            py = self.top + (rows + 0.5) * self.cell
            at = int(np.argmin((px - x) ** 2 + (py - y) ** 2))
            mark[rows[at], cols[at]] = True
        return mark


def _flood(free: np.ndarray, start: np.ndarray, cell: float):
    """Squares that hang together with the start, and how far each is, in metres."""
    from scipy.sparse import coo_matrix
    from scipy.sparse.csgraph import dijkstra

    index = np.full(free.shape, -1)
    index[free] = np.arange(free.sum())
    count = int(free.sum())
    far = np.full(free.shape, np.inf)
    begin = index[start & free]
    if not count or not len(begin):
        return np.zeros_like(free), far
    links = []
    for down, right, length in ((0, 1, 1), (1, 0, 1), (1, 1, 2**0.5), (1, -1, 2**0.5)):
        rows, cols = free.shape
        here = index[: rows - down, max(-right, 0) : cols - max(right, 0)]
        there = index[down:, max(right, 0) : cols + min(right, 0)]
        both = (here >= 0) & (there >= 0)
        links.append((here[both], there[both], np.full(both.sum(), length * cell)))
    i, j, w = (np.concatenate(part) for part in zip(*links, strict=True))
    graph = coo_matrix((w, (i, j)), shape=(count, count)).tocsr()
    least = dijkstra(graph, directed=False, indices=begin, min_only=True)
    far[free] = least
    return np.isfinite(far), far


def _route(name, spot: Spot, grid, reach, far, hose, turn, width: float) -> Route:
    s, at = spot, grid.at
    along = s.x + (np.arange(0.05, 1, 0.1)) * s.length
    down = s.y + (np.arange(0.05, 1, 0.1)) * s.width
    sides, nearest = [], np.inf
    for side in range(4):
        hit = np.zeros(10, dtype=bool)
        for out in (width / 2, width / 2 + grid.cell):
            x, y = (
                (along, np.full(10, s.y - out)),
                (np.full(10, s.x + s.length + out), down),
                (along, np.full(10, s.y + s.width + out)),
                (np.full(10, s.x - out), down),
            )[side]
            r, c, known = at(x, y)
            hit |= reach[r, c] & known
        sides.append(float(hit.mean()))
        if hit.any():
            nearest = min(nearest, float(far[r, c][hit].min()))
    corner_far = np.nan
    if hose is not None:
        x = np.array([s.x - 0.1, s.x + s.length + 0.1] * 2)
        y = np.array([s.y - 0.1] * 2 + [s.y + s.width + 0.1] * 2)
        r, c, _ = at(x, y)
        found = hose[r, c]
        corner_far = float(found.max()) if np.isfinite(found).all() else np.nan
    rows, cols = np.nonzero(turn)
    tx, ty = grid.left + (cols + 0.5) * grid.cell, grid.top + (rows + 0.5) * grid.cell
    mx, my = s.x + s.length / 2, s.y + s.width / 2
    ends = ((s.x, my), (s.x + s.length, my))
    if s.turned:
        ends = ((mx, s.y), (mx, s.y + s.width))
    away = [np.hypot(tx - x, ty - y).min() if len(tx) else np.inf for x, y in ends]
    return Route(
        name=name,
        sides=tuple(sides),
        far=nearest if np.isfinite(nearest) else np.nan,
        hose=corner_far,
        turns=bool(min(away) <= 2.0),
        long=(1, 3) if s.turned else (0, 2),
    )
