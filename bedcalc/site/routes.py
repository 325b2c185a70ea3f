"""Routes: where a barrow or a wheelchair gets to from the gate, and how far it is.

The plot is cut into squares of 10 cm; a wheel of some width passes where its middle
keeps half that width from everything.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .layout import Spot
from .yard import Yard

__all__ = ["Route", "Walk", "walk"]

CELL = 0.1
TURN = 1.525  # m, turning circle of ada_2010 304.3.1


@dataclass(frozen=True, kw_only=True)
class Route:
    """What one bed can be reached by.

    ``left`` to ``right``: share of the uphill, right, downhill and left side that
    touches the route; ``far`` is the walk from the gate to its nearest side, ``hose``
    the walk from the tap to its farthest corner (m, not-a-number if there is none).
    ``turns`` tells whether a turning circle lies within 2 m of one of its ends.
    """

    name: str
    sides: tuple[float, float, float, float]
    far: float
    hose: float
    turns: bool

    @property
    def reached(self) -> bool:
        """Both long sides along most of their length."""
        return self.best_sides >= 2

    @property
    def best_sides(self) -> int:
        """How many of the long sides are reached along nine tenths of their length."""
        return sum(share >= 0.9 for share in (self.sides[0], self.sides[2]))


@dataclass(frozen=True, kw_only=True)
class Walk:
    """All routes for one width of wheel.

    ``open_`` marks the squares its middle can be at, row by row down the slope.
    """

    width: float
    cell: float
    open_: np.ndarray
    routes: tuple[Route, ...]

    @property
    def everywhere(self) -> bool:
        """Whether every bed is reached from both long sides."""
        return all(route.reached for route in self.routes)


def walk(yard: Yard, beds: tuple[tuple[str, Spot], ...], width: float) -> Walk:
    """Find where something of a width gets to from the gate.

    Parameters
    ----------
    yard : Yard
        Its gate is where one starts; without one, anywhere along the downhill side.
    beds : tuple of (name, Spot)
        What stands on it.
    width : float
        Clear width that is needed, in metres.

    Notes
    -----
    Distances are along the squares, straight and slanting, so up to 8 % long.
    Source: computed.
    """
    from scipy import ndimage

    rows, cols = (max(int(round(v / CELL)), 1) for v in (yard.width, yard.length))
    free = np.ones((rows, cols), dtype=bool)
    for left, right, top, bottom in (
        *(t.box for t in yard.things if t.kind in ("tree", "house", "other")),
        *((s.x, s.x + s.length, s.y, s.y + s.width) for _, s in beds),
    ):
        free[_cells(top, bottom, rows), _cells(left, right, cols)] = False
    gate = yard.of_kind("gate")
    padded = np.pad(free, 1, constant_values=True)  # the gate's side is open below
    clear = ndimage.distance_transform_edt(padded)[1:-1, 1:-1] * CELL
    edge = _edge_room(rows, cols)
    room = np.minimum(clear - CELL / 2, edge)
    open_ = free & (room >= width / 2 - CELL)
    start = _start(gate, rows, cols, yard)
    reach, far = _flood(open_, start)
    tap = yard.of_kind("tap")
    hose = None
    if tap is not None:
        hose = _flood(free, _nearest(free, *tap.middle[::-1]))[1]
    turn = reach & (room >= TURN / 2 - CELL)
    routes = tuple(_route(name, s, reach, far, hose, turn, width) for name, s in beds)
    return Walk(width=width, cell=CELL, open_=reach, routes=routes)


def _cells(low: float, high: float, most: int) -> slice:
    first = int(np.clip(round(low / CELL), 0, most))
    return slice(first, int(np.clip(round(high / CELL), first, most)))


def _edge_room(rows: int, cols: int) -> np.ndarray:
    """Distance to the plot's edge, its downhill side with the gate left open."""
    y = (np.arange(rows) + 0.5) * CELL
    x = (np.arange(cols) + 0.5) * CELL
    side = np.minimum(x, cols * CELL - x)
    return np.minimum(side[None, :], y[:, None])


def _start(gate, rows: int, cols: int, yard: Yard) -> np.ndarray:
    mark = np.zeros((rows, cols), dtype=bool)
    if gate is None:
        mark[-1, :] = True
        return mark
    x, y = gate.middle
    row = int(np.clip(y / CELL, 0, rows - 1))
    mark[max(row - 2, 0) : row + 1, _cells(x - 0.6, x + 0.6, cols)] = True
    return mark


def _nearest(free: np.ndarray, y: float, x: float) -> np.ndarray:
    rows, cols = np.nonzero(free)
    mark = np.zeros(free.shape, dtype=bool)
    if len(rows):
        away = (rows - y / CELL) ** 2 + (cols - x / CELL) ** 2
        at = int(np.argmin(away))
        mark[rows[at], cols[at]] = True
    return mark


def _flood(free: np.ndarray, start: np.ndarray):
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
        links.append((here[both], there[both], np.full(both.sum(), length * CELL)))
    i, j, w = (np.concatenate(part) for part in zip(*links, strict=True))
    graph = coo_matrix((w, (i, j)), shape=(count, count)).tocsr()
    least = dijkstra(graph, directed=False, indices=begin, min_only=True)
    far[free] = least
    return np.isfinite(far), far


def _route(name, spot: Spot, reach, far, hose, turn, width: float) -> Route:
    rows, cols = reach.shape
    s = spot

    def at(x, y):
        inside = (x > 0) & (x < cols * CELL) & (y > 0) & (y < rows * CELL)
        r = np.clip((y / CELL).astype(int), 0, rows - 1)
        c = np.clip((x / CELL).astype(int), 0, cols - 1)
        return r, c, inside

    along = s.x + (np.arange(0.05, 1, 0.1)) * s.length
    down = s.y + (np.arange(0.05, 1, 0.1)) * s.width
    sides, nearest = [], np.inf
    for side in range(4):
        hit = np.zeros(10, dtype=bool)
        for out in (width / 2, width / 2 + CELL / 2, width / 2 + CELL):
            x, y = (
                (along, np.full(10, s.y - out)),
                (np.full(10, s.x + s.length + out), down),
                (along, np.full(10, s.y + s.width + out)),
                (np.full(10, s.x - out), down),
            )[side]
            r, c, inside = at(x, y)
            hit |= reach[r, c] & inside
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
    ty, tx = np.nonzero(turn)
    tx, ty = (tx + 0.5) * CELL, (ty + 0.5) * CELL
    middle = s.y + s.width / 2
    ends = [
        np.hypot(tx - x, ty - middle).min() if len(tx) else np.inf
        for x in (s.x, s.x + s.length)
    ]
    return Route(
        name=name, sides=tuple(sides), far=nearest if np.isfinite(nearest) else np.nan,
        hose=corner_far, turns=bool(min(ends) <= 2.0),
    )  # fmt: skip
