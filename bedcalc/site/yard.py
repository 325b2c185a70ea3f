"""The plot: its size, what stands on it, where one comes in, where the tap is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from ..place import Place, PlaceError
from ..tables import table
from ..units import Q_, UnitError, read_quantity, to_si

__all__ = ["Thing", "Yard", "demo_yard", "yard_of"]

KINDS = ("house", "fence", "tree", "gate", "tap", "cover", "pipe", "other")


@dataclass(frozen=True, kw_only=True)
class Thing:
    """Something on the plot: a rectangle in plan, in metres, with its height.

    ``crown`` of a tree is its shade, its trunk is in the way only in the middle.
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
                f"yard, {self.name}: needs a kind among {', '.join(KINDS)}; "
                f"given {self.kind!r}; for example 'tree'"
            )

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
class Yard:
    """A rectangular plot: ``length`` along the contour, ``width`` down the slope.

    ``downhill`` is the compass bearing of the way down (180 degrees: it falls to the
    south). Things outside the plot still throw shade.
    """

    length: float
    width: float
    downhill: float = 180.0
    things: tuple[Thing, ...] = ()

    def __post_init__(self):
        for name in ("length", "width"):
            if not 1 <= getattr(self, name) <= 500:
                raise PlaceError(
                    f"yard, {name}: needs 1 m to 500 m; given {getattr(self, name)}; "
                    "for example 14.4"
                )

    def of_kind(self, kind: str) -> Thing | None:
        """The first thing of a kind, or None."""
        return next((t for t in self.things if t.kind == kind), None)

    @property
    def blocked(self) -> tuple[tuple[float, float, float, float], ...]:
        """Rectangles no bed may touch."""
        return tuple(t.box for t in self.things if t.in_the_way)

    @property
    def area(self) -> float:
        """Of the plot, in square metres."""
        return self.length * self.width


def demo_yard() -> Yard:
    """The invented yard of the demo garden, from data/yard_demo.csv."""
    rows = {row.key: row for row in table("yard_demo")}
    plot = rows.pop("plot")
    things = tuple(
        Thing(
            name=r.name, kind=r.kind, x=r.x, y=r.y, length=r.length, width=r.width,
            height=r.height,
        )
        for r in rows.values()
    )  # fmt: skip
    return Yard(
        length=plot.length, width=plot.width,
        downhill=float(np.rad2deg(plot.bearing)), things=things,
    )  # fmt: skip


def yard_of(place: Place) -> Yard:
    """The yard of a place.

    Parameters
    ----------
    place : Place
        Its garden file may have a part ``[place.yard]`` with ``length``, ``width``,
        ``downhill`` and a list ``things``. Without it, the demo garden has its own
        yard, and any other place the rectangle that its survey covers.
    """
    given: dict[str, Any] | None = place.extra.get("yard")
    if given is None:
        points = place.survey.points
        x, y = points[:, 0], points[:, 1]
        if place.name == table("yard_demo")["plot"].name:
            return demo_yard()
        return Yard(length=max(np.ptp(x), 1.0), width=max(np.ptp(y), 1.0))
    try:
        return Yard(
            length=_metres(given, "length", "plot"),
            width=_metres(given, "width", "plot"),
            downhill=to_si(
                read_quantity(given.get("downhill", "180 deg"), "deg", "downhill"),
                "deg", "yard, downhill",
            ) * 180 / np.pi,
            things=tuple(_thing(one) for one in given.get("things", ())),
        )  # fmt: skip
    except UnitError as error:
        raise PlaceError(str(error)) from None


def _metres(given: dict, name: str, of: str) -> float:
    if name not in given:
        if of != "plot":
            return 0.0
        raise PlaceError(
            f"yard, {name}: needs a length; given nothing; for example "
            f'{name} = "14.4 m" under [place.yard]'
        )
    where = f"yard, {of}, {name}"
    return float(to_si(read_quantity(given[name], "m", where), "m", where))


def _thing(given: dict) -> Thing:
    name = str(given.get("name", given.get("kind", "thing")))
    sizes = {
        key: _metres(given, key, name)
        for key in ("x", "y", "length", "width", "height")
    }
    return Thing(name=name, kind=str(given.get("kind", "other")), **sizes)


def as_words(yard: Yard) -> dict[str, Any]:
    """A yard as a garden file keeps it, for ``place.extra['yard']``."""

    def m(value: float) -> str:
        return f"{Q_(round(value, 4), 'm'):~}"

    return {
        "length": m(yard.length),
        "width": m(yard.width),
        "downhill": f"{yard.downhill:g} deg",
        "things": [
            {"name": t.name, "kind": t.kind}
            | {k: m(getattr(t, k)) for k in ("x", "y", "length", "width", "height")}
            for t in yard.things
        ],
    }
