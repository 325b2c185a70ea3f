"""Flat faces and dark edges, collected one by one and turned into arrays at the end.

Coordinates: x along the bed from its outside left end, y away from the viewer from the
outside of the front wall, z up from the underside, all in metres. Faces are wound
outward. A face has a paint (a name of ``theme.MATERIAL``) and a brightness; its shade
follows from its normal and is baked into its colour, so the picture looks the same in
every browser and after every update.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from bedcalc.figures import theme

__all__ = ["EMPTY", "LIGHT", "Shape", "Solids", "face_colours", "join"]

#: direction towards the light: from the left, the front and above
LIGHT = np.array([-0.35, -0.62, 0.70]) / np.linalg.norm([-0.35, -0.62, 0.70])
AMBIENT, DIFFUSE = 0.66, 0.40

# corners of a box: x, y, z each low (0) or high (1)
_BOX = np.array([[i >> 2 & 1, i >> 1 & 1, i & 1] for i in range(8)])
# front, right, back, left, top, bottom, wound outward
_BOX_QUADS = np.array(
    [[0, 4, 5, 1], [4, 6, 7, 5], [6, 2, 3, 7], [2, 0, 1, 3], [1, 5, 7, 3], [0, 2, 6, 4]]
)
# the nine edges of a box seen from the right front above, as one path with gaps
_BOX_PATH = np.array([0, 4, 5, 1, 0, -1, 1, 3, 7, 5, -1, 7, 6, 4, -1])
_BOX_FRONT = np.array([0, 4, 5, 1, 0, -1])
_GAP = np.full((1, 3), np.nan)


@dataclass(frozen=True)
class Shape:
    """Corners, faces and edges of some solids, as arrays.

    ``still`` and ``line_still`` mark what does not move when the walls bow.
    """

    corners: np.ndarray
    quads: np.ndarray
    tris: np.ndarray
    paint: np.ndarray
    bright: np.ndarray
    still: np.ndarray
    lines: np.ndarray
    line_still: np.ndarray

    @property
    def triangles(self) -> np.ndarray:
        """All faces as triangles: both halves of the quads, then the triangles."""
        q = self.quads
        return np.concatenate([q[:, [0, 1, 2]], q[:, [0, 2, 3]], self.tris])

    def volume(self) -> float:
        """Signed volume: positive where a closed solid is wound outward."""
        a, b, c = (self.corners[self.triangles[:, i]] for i in range(3))
        return float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6)


EMPTY = Shape(
    np.empty((0, 3)),
    np.empty((0, 4), int),
    np.empty((0, 3), int),
    np.empty(0, int),
    np.empty(0),
    np.empty(0, bool),
    np.empty((0, 3)),
    np.empty(0, bool),
)


def join(*shapes: Shape) -> Shape:
    """Several shapes as one; quads stay before triangles in paint and brightness."""
    first = np.cumsum([0, *(len(s.corners) for s in shapes)])
    quads = [s.quads + n for s, n in zip(shapes, first, strict=False)]
    tris = [s.tris + n for s, n in zip(shapes, first, strict=False)]

    def both(name):
        parts = [getattr(s, name) for s in shapes]
        return np.concatenate(
            [p[: len(s.quads)] for p, s in zip(parts, shapes, strict=True)]
            + [p[len(s.quads) :] for p, s in zip(parts, shapes, strict=True)]
        )

    return Shape(
        np.concatenate([s.corners for s in shapes]),
        np.concatenate(quads),
        np.concatenate(tris),
        both("paint"),
        both("bright"),
        np.concatenate([s.still for s in shapes]),
        np.concatenate([s.lines for s in shapes]),
        np.concatenate([s.line_still for s in shapes]),
    )


class Solids:
    """A growing heap of faces. ``stations`` are the x at which long bars may bend."""

    def __init__(self, stations=()):
        self.stations = np.asarray(stations, float)
        self._corners, self._quads, self._tris = [], [], []
        self._quad_look, self._tri_look = [], []
        self._still, self._lines, self._line_still = [], [], []
        self._count = 0

    # ---- what the rest is made of

    def _add(self, corners, still: bool) -> int:
        first = self._count
        self._corners.append(corners)
        self._still.append((len(corners), still))
        self._count += len(corners)
        return first

    def _faces(self, faces, paint: str, bright) -> None:
        kind = self._quads if faces.shape[1] == 4 else self._tris
        look = self._quad_look if faces.shape[1] == 4 else self._tri_look
        kind.append(faces)
        look.append((len(faces), _PAINT[paint], bright))

    def line(self, points, still: bool = False) -> None:
        """An edge through these points."""
        points = np.asarray(points, float)
        self._lines += [points, _GAP]
        self._line_still.append((len(points) + 1, still))

    def quads(self, points, paint: str, bright=1.0, *, still=False) -> None:
        """Four-cornered faces (n, 4, 3) with corners of their own."""
        points = np.asarray(points, float).reshape(-1, 4, 3)
        first = self._add(points.reshape(-1, 3), still)
        self._faces(first + np.arange(4 * len(points)).reshape(-1, 4), paint, bright)

    def fans(self, points, paint: str, bright=1.0, *, still=False) -> None:
        """Convex polygons (n, m, 3) as fans of triangles; bright may be one each."""
        points = np.asarray(points, float)
        if not points.size:
            return
        n, m = points.shape[:2]
        first = self._add(points.reshape(-1, 3), still)
        faces = first + m * np.arange(n)[:, None, None] + _fan(m)[None]
        if np.ndim(bright):
            bright = np.repeat(bright, m - 2)
        self._faces(faces.reshape(-1, 3), paint, bright)

    def grid(self, points, paint: str, bright=1.0, *, still=False) -> None:
        """A surface (n, m, 3); its outside is where n goes right and m goes up."""
        n, m = points.shape[:2]
        first = self._add(points.reshape(-1, 3), still)
        self._faces(first + _grid(n, m), paint, bright)

    def boxes(self, rows, paint: str, bright=1.0, *, edges="all", still=False) -> None:
        """Boxes, one a row: x low, x high, y low, y high, z low, z high."""
        rows = np.asarray(rows, float).reshape(-1, 3, 2)
        if not len(rows):
            return
        corners = np.take_along_axis(
            rows[:, None], _BOX[None, :, :, None], axis=3
        ).squeeze(3)
        first = self._add(corners.reshape(-1, 3), still)
        starts = first + 8 * np.arange(len(rows))
        if np.ndim(bright):
            bright = np.repeat(bright, 6)
        self._faces((starts[:, None, None] + _BOX_QUADS).reshape(-1, 4), paint, bright)
        if edges:
            path = _BOX_FRONT if edges == "front" else _BOX_PATH
            drawn = np.where(path[None, :, None] < 0, np.nan, corners[:, path])
            self._lines.append(drawn.reshape(-1, 3))
            self._line_still.append((len(path) * len(rows), still))

    # ---- long things that bend

    def stops(self, x0: float, x1: float) -> np.ndarray:
        """The ends and the stations between them."""
        inner = self.stations
        return np.concatenate(
            [[x0], inner[(inner > x0 + 0.02) & (inner < x1 - 0.02)], [x1]]
        )

    def bar(self, x, y, z, paint, bright=1.0, *, edges="all", still=False) -> None:
        """A box along x between the pairs x, y, z; bends at the stations."""
        stops = np.asarray([x[0], x[1]] if still else self.stops(*x), float)
        section = np.array([[y[0], z[0]], [y[0], z[1]], [y[1], z[1]], [y[1], z[0]]])
        self.sweep(
            np.repeat(stops[:, None], 4, 1),
            section,
            paint,
            bright,
            edges=edges,
            still=still,
        )

    def sweep(self, x, section, paint, bright=1.0, *, edges="all", still=False):
        """A prism along x: x (n, 4), section (4, 2) of y, z from the front foot up."""
        n = len(x)
        p = np.empty((n, 4, 3))
        p[..., 0], p[..., 1:] = x, section
        first = self._add(p.reshape(-1, 3), still)
        self._faces(first + _tube(n), paint, bright)
        if not edges:
            return
        front = np.concatenate([p[:, 0], p[::-1, 1], p[:1, 0]])
        self.line(front, still)
        if edges == "all":
            self.line(np.concatenate([p[:1, 1], p[:, 2], p[-1:, 1]]), still)
            self.line(p[-1, [2, 3, 0]], still)

    def flat(self, x, y, z: float, paint, bright=1.0, *, still=False) -> None:
        """A level rectangle seen from above; bends at the stations."""
        self._sheet(x, ((y[0], z), (y[1], z)), paint, bright, still)

    def front(self, x, y: float, z, paint, bright=1.0, *, still=False) -> None:
        """An upright rectangle seen from the front; bends at the stations."""
        self._sheet(x, ((y, z[0]), (y, z[1])), paint, bright, still)

    def _sheet(self, x, section, paint, bright, still) -> None:
        stops = np.asarray([x[0], x[1]] if still else self.stops(*x), float)
        p = np.empty((len(stops), 2, 3))
        p[..., 0], p[..., 1:] = stops[:, None], np.array(section)
        self.grid(p, paint, bright, still=still)

    def side(self, x: float, y, z, paint, bright=1.0, *, still=False) -> None:
        """An upright rectangle seen from the right end."""
        (a, b), (c, d) = y, z
        self.quads(
            [[x, a, c], [x, b, c], [x, b, d], [x, a, d]], paint, bright, still=still
        )

    # ---- the end

    def shape(self) -> Shape:
        """Everything so far, as arrays."""
        looks = self._quad_look + self._tri_look
        return Shape(
            _stacked(self._corners, (0, 3), float),
            _stacked(self._quads, (0, 4), int),
            _stacked(self._tris, (0, 3), int),
            np.repeat([p for _, p, _ in looks], [n for n, _, _ in looks]).astype(int),
            np.concatenate([np.broadcast_to(b, n) for n, _, b in looks] or [[]]),
            _flags(self._still),
            _stacked(self._lines, (0, 3), float),
            _flags(self._line_still),
        )


def _stacked(parts, shape, kind):
    return np.concatenate(parts) if parts else np.empty(shape, kind)


def _flags(runs):
    return np.repeat([s for _, s in runs], [n for n, _ in runs]).astype(bool)


@lru_cache(maxsize=64)
def _fan(m: int) -> np.ndarray:
    k = np.arange(1, m - 1)
    return np.column_stack([np.zeros_like(k), k, k + 1])


@lru_cache(maxsize=256)
def _grid(n: int, m: int) -> np.ndarray:
    a = (m * np.arange(n - 1)[:, None] + np.arange(m - 1)).ravel()
    return np.column_stack([a, a + m, a + m + 1, a + 1])


@lru_cache(maxsize=256)
def _tube(n: int) -> np.ndarray:
    """Four sides of a prism with n stations and its two ends."""
    a, c = 4 * np.arange(n - 1)[:, None], np.arange(4)
    d = (c + 1) % 4
    sides = np.stack([a + c, a + 4 + c, a + 4 + d, a + d], axis=-1).reshape(-1, 4)
    last = 4 * (n - 1)
    return np.vstack([sides, [[0, 1, 2, 3]], [[last + i for i in (3, 2, 1, 0)]]])


_PAINT = {name: i for i, name in enumerate(theme.MATERIAL)}
_RGB = np.array(
    [[int(c[i : i + 2], 16) for i in (1, 3, 5)] for c in theme.MATERIAL.values()], float
)
_UNLIT = [_PAINT["person"]]


def face_colours(shape: Shape, corners: np.ndarray) -> np.ndarray:
    """The colour of every triangle of ``shape.triangles``, shade baked in."""
    q, t = shape.quads, shape.tris
    flat = np.cross(
        corners[q[:, 2]] - corners[q[:, 0]], corners[q[:, 3]] - corners[q[:, 1]]
    )
    tri = np.cross(
        corners[t[:, 1]] - corners[t[:, 0]], corners[t[:, 2]] - corners[t[:, 0]]
    )
    normal = np.concatenate([flat, tri])
    length = np.sqrt(np.einsum("ij,ij->i", normal, normal))
    lit = np.maximum(normal @ LIGHT / np.maximum(length, 1e-12), 0.0)
    shade = np.where(np.isin(shape.paint, _UNLIT), 1.0, AMBIENT + DIFFUSE * lit)
    rgb = _RGB[shape.paint] * (shade * shape.bright)[:, None]
    rgb = np.minimum(rgb, 255).astype(np.int64)
    code = (rgb[:, 0] << 16) + (rgb[:, 1] << 8) + rgb[:, 2]
    found, where = np.unique(code, return_inverse=True)
    names = np.array([f"#{c:06x}" for c in found])[where]
    return np.concatenate([names[: len(q)], names[: len(q)], names[len(q) :]])
