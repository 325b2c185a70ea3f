"""What a picture is painted from: pieces in space, gathered into solids.

A piece is a flat shape with a colour, or a line. A solid has a box, by which solids
are sorted from back to front, and its pieces in the order in which they are painted.
Only front, top and right are ever seen from where we stand; a view that can be turned
asks for the other three sides too.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np

from bedcalc.figures import theme

__all__ = ["EDGE", "STRIPES", "Piece", "Solid", "Solids", "lit", "painted_in_order"]

#: light on the faces of a box
SHADE = {"front": 0.95, "top": 1.06, "right": 0.76, "back": 0.8, "left": 0.7,
         "bottom": 0.6}  # fmt: skip
EDGE = 0.9  # px
#: the fill of a part that does not hold, see svg.py
STRIPES = "url(#bc-fails)"


@dataclass(slots=True)
class Piece:
    """Shapes of one colour, painted at once: rings of points (n, 3) in metres.

    With a ``line`` width their outline is drawn in ``ink``; without ``fill`` only that,
    and not closed. ``bends`` says whether it follows the bow of the walls.
    """

    rings: list[np.ndarray]
    fill: str = ""
    line: float = 0.0
    ink: str = theme.EDGE
    dash: str = ""
    bends: bool = True


@dataclass(slots=True)
class Solid:
    """Pieces painted one after the other; ``box`` is x0, x1, y0, y1, z0, z1."""

    box: tuple[float, ...]
    pieces: list[Piece] = field(default_factory=list)


@lru_cache(maxsize=512)
def lit(paint: str, k: float) -> str:
    """The colour of a material (or a hex colour) under light k."""
    colour = theme.MATERIAL.get(paint, paint)
    parts = [min(255, round(int(colour[i : i + 2], 16) * k)) for i in (1, 3, 5)]
    return "#{:02x}{:02x}{:02x}".format(*parts)


class Solids:
    """Collects solids; ``stations`` are the places along x where long ones may bend."""

    def __init__(self, stations: np.ndarray, all_round: bool = False):
        self.stations, self.all_round = stations, all_round
        self.found: list[Solid] = []

    def solid(self, box) -> Solid:
        """Begin a solid."""
        self.found.append(Solid(tuple(float(v) for v in box)))
        return self.found[-1]

    def along(self, x0: float, x1: float) -> np.ndarray:
        """From x0 to x1 with the stations between."""
        inner = self.stations
        inner = inner[(inner > x0 + 1e-6) & (inner < x1 - 1e-6)]
        return np.concatenate([[x0], inner, [x1]])

    def front(self, x, y: float, z) -> np.ndarray:
        """A ring in the plane of a front."""
        run = self.along(*x)
        return ring(run, y, z[0], run, y, z[1])

    def top(self, x, y, z: float) -> np.ndarray:
        """A level ring."""
        run = self.along(*x)
        return ring(run, y[0], z, run, y[1], z)

    @staticmethod
    def side(x: float, y, z) -> np.ndarray:
        """A ring in the plane of an end."""
        (a, b), (low, high) = y, z
        return np.array([[x, a, low], [x, b, low], [x, b, high], [x, a, high]])

    def box(
        self,
        box,
        paint: str,
        tone: float = 1.0,
        *,
        edge: float = EDGE,
        faces: tuple[str, ...] = ("right", "top", "front"),
        ends: str = "",
    ) -> Solid | None:
        """A box of one material; ``ends`` is the colour of its sawn right end."""
        x0, x1, y0, y1, z0, z1 = (float(v) for v in box)
        if min(x1 - x0, y1 - y0, z1 - z0) < 1e-4:
            return None
        made = self.solid(box)
        if self.all_round:
            faces = ("back", "left", "bottom", *faces)
        for face in faces:
            if face in ("front", "back"):
                shape = self.front((x0, x1), y0 if face == "front" else y1, (z0, z1))
            elif face in ("top", "bottom"):
                shape = self.top((x0, x1), (y0, y1), z1 if face == "top" else z0)
            else:
                shape = self.side(x1 if face == "right" else x0, (y0, y1), (z0, z1))
            own = ends if ends and face == "right" else paint
            bright = SHADE[face] * tone * (1.12 if ends and face == "right" else 1.0)
            made.pieces.append(Piece([shape], lit(own, bright), edge))
        return made


def ring(x0, y0, z0, x1, y1, z1) -> np.ndarray:
    """A closed band: there along the first line, back along the second."""
    there = np.column_stack(np.broadcast_arrays(x0, y0, z0))
    back = np.column_stack(np.broadcast_arrays(x1, y1, z1))
    return np.concatenate([there, back[::-1]]).astype(float)


def painted_in_order(solids: list[Solid], axes) -> list[Solid]:
    """Solids from back to front, for boxes that do not run into each other.

    Of two boxes the one that lies wholly beyond the other along an axis is painted
    first. Where two axes disagree, no line of sight meets both.
    """
    if len(solids) < 2:
        return list(solids)
    b = np.array([s.box for s in solids])
    right, up, toward = axes
    before = np.zeros((len(b), len(b)), bool)
    for axis, sign in enumerate(np.sign(toward)):
        low, high = b[:, 2 * axis], b[:, 2 * axis + 1]
        if sign > 0:
            before |= high[:, None] <= low[None] + 1e-6
        else:
            before |= low[:, None] >= high[None] - 1e-6
    before &= ~before.T
    corners = np.stack(
        [b[:, [i, 2 + j, 4 + k]] for i in (0, 1) for j in (0, 1) for k in (0, 1)], 1
    )
    for way in (right, up):  # what does not overlap in the picture needs no order
        at = corners @ way
        low, high = at.min(1), at.max(1)
        before &= (low[:, None] < high[None] + 0.02) & (
            low[None] < high[:, None] + 0.02
        )
    near = corners.mean(1) @ toward
    waits = before.sum(0).astype(float)
    found: list[Solid] = []
    done = np.zeros(len(b), bool)
    for _ in range(len(b)):
        ready = ~done & (waits <= 0)
        if not ready.any():  # three that lie on each other in a ring: the farthest
            ready = ~done
        k = int(np.argmin(np.where(ready, near, np.inf)))
        done[k] = True
        waits -= before[k]
        found.append(solids[k])
    return found
