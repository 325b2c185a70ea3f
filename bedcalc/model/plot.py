"""Given: the plot. Its outline by corners, and what stands on it or beside it.

All measures in metres in the reader's own axes: ``x`` to the right and ``y`` down the
page of the plan, both from the point where measuring began. ``downhill`` is the compass
bearing of +y. What is not known is None.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

import numpy as np

from ..parsing.unit_words import read_quantity
from ..text_files import short
from ..units import UnitError, to_si

__all__ = ["KINDS", "PlaceError", "Plot", "Thing", "rectangle"]

KINDS = ("house", "fence", "tree", "gate", "tap", "cover", "pipe", "other")
_TINY = 1e-9
#: m, from side to side: beds and readings may lie 1000 m off on either side
WIDEST = 2500


class PlaceError(ValueError):
    """An entry of the place or its plot cannot be: the message says what would do."""


def _number(value: Any, where: str, low: float, high: float, example: str) -> float:
    try:
        found = float(value)
    except (TypeError, ValueError):
        found = np.nan
    if isinstance(value, bool) or not low <= found <= high:
        raise PlaceError(
            f"{where}: needs a number from {low:g} to {high:g}; given "
            f"{short(value)!r}; for example {example}"
        )
    return found


@dataclass(frozen=True, kw_only=True)
class Thing:
    """Something on the plot: a rectangle in plan, in metres, with its height.

    The rectangle of a tree is its crown, which throws shade; no bed may stand within
    half a metre of its stem.
    """

    name: str
    kind: str
    x: float
    y: float
    length: float = 0.0
    width: float = 0.0
    height: float = 0.0

    def __post_init__(self):
        if self.kind not in KINDS:
            raise PlaceError(
                f"plot, {self.name}: needs a kind among {', '.join(KINDS)}; "
                f"given {short(self.kind)!r}; for example 'tree'"
            )
        for name, low, high in (
            ("x", -1000, 1000),
            ("y", -1000, 1000),
            ("length", 0, 1000),
            ("width", 0, 1000),
            ("height", 0, 100),
        ):
            where = f"plot, {self.name}, {name}"
            _number(getattr(self, name), where, low, high, f"{name}=2.4")

    @property
    def in_the_way(self) -> bool:
        """Whether no bed may stand there."""
        return self.kind in ("tree", "cover", "pipe", "other", "house")

    @property
    def middle(self) -> tuple[float, float]:
        """Its middle in plan."""
        return self.x + self.length / 2, self.y + self.width / 2

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, right, top, bottom in plan; a tree blocks 0.5 m round its stem."""
        if self.kind == "tree":
            x, y = self.middle
            return x - 0.5, x + 0.5, y - 0.5, y + 0.5
        return self.x, self.x + self.length, self.y, self.y + self.width


@dataclass(frozen=True, kw_only=True)
class Plot:
    """A plot of any shape: its corners in turn, in metres.

    ``downhill`` is the compass bearing of +y in degrees (180: down the page of the
    plan is south), or None if nobody has looked. Things outside the plot still throw
    shade.
    """

    outline: tuple[tuple[float, float], ...]
    downhill: float | None = None
    things: tuple[Thing, ...] = ()

    def __post_init__(self):
        where = "plot, outline"
        example = "((0, 0), (12, 0), (12, 8), (0, 8))"
        try:
            rows = np.array([[float(v) for v in c] for c in self.outline], dtype=float)
        except (TypeError, ValueError):
            rows = np.empty((0, 0))
        if rows.ndim != 2 or rows.shape[1:] != (2,) or not np.isfinite(rows).all():
            raise PlaceError(
                f"{where}: needs corners of two numbers in metres (x, y); "
                f"given {short(self.outline)!r}; for example {example}"
            )
        if len(rows) > 1 and np.allclose(rows[0], rows[-1]):
            rows = rows[:-1]  # some people end where they began
        if len(rows) < 3:
            raise PlaceError(
                f"{where}: needs at least 3 corners; given {len(rows)}; "
                f"for example {example}"
            )
        clean = tuple((float(x), float(y)) for x, y in rows)
        object.__setattr__(self, "outline", clean)
        object.__setattr__(self, "things", tuple(self.things))
        crossed = _crossing(rows)
        if crossed is not None:
            one, other = (f"{i + 1}" for i in crossed)
            raise PlaceError(
                f"{where}: the line after corner {one} meets the line after corner "
                f"{other}; needs corners in the order in which you walk round the plot;"
                f" given {short(clean)!r}; for example {example}"
            )
        sides = np.ptp(rows, axis=0)
        if sides.min() < 1 - _TINY or sides.max() > WIDEST:
            raise PlaceError(
                f"{where}: needs 1 m to {WIDEST} m from side to side; given "
                f"{sides[0]:g} m by {sides[1]:g} m; for example {example}"
            )
        if self.downhill is not None:
            turn = _number(self.downhill, "plot, downhill", -360, 360, "downhill=180")
            object.__setattr__(self, "downhill", turn % 360)

    @cached_property
    def corners(self) -> np.ndarray:
        """The outline as an array (n, 2), not closed."""
        return np.array(self.outline, dtype=float)

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Left, right, top, bottom of the box round the plot."""
        (x0, y0), (x1, y1) = self.corners.min(axis=0), self.corners.max(axis=0)
        return float(x0), float(x1), float(y0), float(y1)

    @property
    def length(self) -> float:
        """Of the box round the plot, along x."""
        return self.bounds[1] - self.bounds[0]

    @property
    def width(self) -> float:
        """Of the box round the plot, along y."""
        return self.bounds[3] - self.bounds[2]

    @cached_property
    def area(self) -> float:
        """Of the plot itself, in square metres."""
        x, y = self.corners.T
        return float(abs(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1))) / 2)

    @property
    def is_box(self) -> bool:
        """Whether it is a rectangle along the axes."""
        return len(self.outline) == 4 and abs(self.length * self.width - self.area) < (
            _TINY * max(self.area, 1.0)
        )

    def inside(self, x: Any, y: Any) -> np.ndarray:
        """Which points lie within the outline; arrays of any one shape."""
        x, y = np.broadcast_arrays(np.asarray(x, float), np.asarray(y, float))
        found = np.zeros(x.shape, dtype=bool)
        for (x0, y0), (x1, y1) in _sides(self.corners):
            if y0 != y1:
                spans = (y0 > y) != (y1 > y)
                found ^= spans & (x < x0 + (y - y0) * (x1 - x0) / (y1 - y0))
        return found

    def contains(
        self, left: float, right: float, top: float, bottom: float
    ) -> np.ndarray | bool:
        """Whether rectangles lie within the outline; to touch it is allowed.

        Parameters
        ----------
        left, right, top, bottom : float or array
            In metres, of one rectangle or of many.
        """
        left, right, top, bottom = np.broadcast_arrays(
            *(np.asarray(v, float) for v in (left, right, top, bottom))
        )
        found = self.inside((left + right) / 2, (top + bottom) / 2)
        for (x0, y0), (x1, y1) in _sides(self.corners):
            start, end = np.zeros(left.shape), np.ones(left.shape)
            for at, run, low, high in (
                (x0, x1 - x0, left, right),
                (y0, y1 - y0, top, bottom),
            ):
                low, high = low + 1e-6, high - 1e-6
                if run == 0:
                    end = np.where((at > low) & (at < high), end, -1.0)
                    continue
                one, other = (low - at) / run, (high - at) / run
                start = np.maximum(start, np.minimum(one, other))
                end = np.minimum(end, np.maximum(one, other))
            found &= ~(end > start)
        return found if found.ndim else bool(found)

    def of_kind(self, kind: str) -> Thing | None:
        """The first thing of a kind, or None."""
        return next((t for t in self.things if t.kind == kind), None)

    @property
    def blocked(self) -> tuple[tuple[float, float, float, float], ...]:
        """Rectangles no bed may touch."""
        return tuple(t.box for t in self.things if t.in_the_way)

    @classmethod
    def from_words(cls, given: Any) -> Plot:
        """A plot out of a garden file.

        Parameters
        ----------
        given : mapping
            ``outline``, a list of corners [x, y] in metres, or for a rectangle
            ``length`` and ``width``; ``downhill``, a bearing such as ``"180 deg"``;
            ``things``, each with ``name``, ``kind``, ``x``, ``y``, ``length``,
            ``width`` and ``height``.
        """
        if not isinstance(given, Mapping):
            raise PlaceError(
                f"plot: needs a part [place.plot]; given {short(given)!r}; for example "
                "outline = [[0, 0], [12, 0], [12, 8], [0, 8]]"
            )
        try:
            turn = given.get("downhill")
            if isinstance(turn, str):
                turn = read_quantity(turn, "deg", "plot, downhill").m_as("deg")
            more = {
                "downhill": turn,
                "things": tuple(_thing(one) for one in given.get("things", ())),
            }
            if "outline" in given:
                return cls(outline=given["outline"], **more)
            for name in ("length", "width"):
                if name not in given:
                    raise PlaceError(
                        "plot, outline: needs corners; given nothing; for example "
                        "outline = [[0, 0], [12, 0], [12, 8], [0, 8]]"
                    )
            sizes = (_metres(given, name, "plot") for name in ("length", "width"))
            return rectangle(*sizes, **more)
        except UnitError as error:
            raise PlaceError(str(error)) from None

    def as_words(self) -> dict[str, Any]:
        """What a garden file says of it."""

        def m(value: float) -> str:
            return f"{_exact(value)} m"

        found: dict[str, Any] = {"outline": [[x, y] for x, y in self.outline]}
        if self.downhill is not None:
            found["downhill"] = f"{_exact(self.downhill)} deg"
        if self.things:
            found["things"] = [
                {"name": t.name, "kind": t.kind}
                | {k: m(getattr(t, k)) for k in ("x", "y", "length", "width", "height")}
                for t in self.things
            ]
        return found

    def change(self, **changes: Any) -> Plot:
        """A copy with some fields changed."""
        return replace(self, **changes)


def rectangle(length: float, width: float, **more: Any) -> Plot:
    """A rectangular plot with one corner at the point where measuring began.

    Parameters
    ----------
    length, width : float
        Along x and y, in metres.
    **more
        ``downhill`` and ``things``.
    """
    corners = ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))
    return Plot(outline=corners, **more)


def _sides(corners: np.ndarray):
    return zip(corners, np.roll(corners, -1, axis=0), strict=True)


def _crossing(corners: np.ndarray) -> tuple[int, int] | None:
    """Two sides that meet where they must not, counted from 0, or None."""

    def turn(a, b, c) -> float:
        area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
        return 0.0 if abs(area) < _TINY else area

    def on(a, b, c) -> bool:
        """Whether c, in line with a and b, lies between them."""
        return bool(
            (np.minimum(a, b) - _TINY <= c).all()
            and (c <= np.maximum(a, b) + _TINY).all()
        )

    sides, count = list(_sides(corners)), len(corners)
    for i, (a, b) in enumerate(sides):
        if np.hypot(*(b - a)) < 1e-6:
            return i, (i + 1) % count
        for j in range(i + 1, count):
            c, d = sides[j]
            if j == i + 1 or (i == 0 and j == count - 1):
                # neighbours share a corner: they must not run back on each other
                end, start, back = (a, b, d) if j == i + 1 else (c, d, b)
                if turn(end, start, back) == 0 and (start - end) @ (back - start) < 0:
                    return i, j
                continue
            ends = turn(a, b, c), turn(a, b, d), turn(c, d, a), turn(c, d, b)
            if ends[0] * ends[1] < 0 and ends[2] * ends[3] < 0:
                return i, j
            touches = ((a, b, c), (a, b, d), (c, d, a), (c, d, b))
            if any(e == 0 and on(*t) for e, t in zip(ends, touches, strict=True)):
                return i, j
    return None


# ---- as the garden file has it


def _exact(value: float) -> str:
    """A number as short as it can be without becoming another."""
    return min(
        f"{value:.12g}", repr(float(value)), key=lambda t: (float(t) != value, len(t))
    )


def _metres(given: Mapping, name: str, of: str) -> float:
    where = f"{of}, {name}"
    if name not in given:
        return 0.0
    value = given[name]
    if isinstance(value, int | float) and not isinstance(value, bool):
        return float(value)
    return float(to_si(read_quantity(value, "m", where), "m", where))


def _thing(given: Any) -> Thing:
    if not isinstance(given, Mapping):
        raise PlaceError(
            f"plot, things: needs name, kind and measures; given {short(given)!r}; for "
            'example { name = "plum", kind = "tree", x = "12 m", y = "7 m" }'
        )
    name = str(given.get("name", given.get("kind", "thing")))
    sizes = {
        key: _metres(given, key, f"plot, {name}")
        for key in ("x", "y", "length", "width", "height")
    }
    return Thing(name=name, kind=str(given.get("kind", "other")), **sizes)
