"""Overflow: where a storm too big for the swale leaves, and what it keeps away from.

The swale lies uphill of the first bed, along that axis of the plan that is nearer to
the contour. It runs over where you let it: at a level place in its rim, at the end
where the ground is lower. From there a free strip of grass must lead downhill past the
beds. The sums turn the plan by quarters until it falls down the page.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from ..model.outcome import Check, Fix
from ..tables import table
from ..units import Q_, Value, from_si, quantities
from .checks import clashes

if TYPE_CHECKING:  # names for an editor
    from ..site.bed_levels import SitePlan
    from ..site.plots import Rain

__all__ = ["Overflow", "box_distance", "overflow_of"]


class _Box(NamedTuple):
    """Where a bed would stand, in metres."""

    x: float
    y: float
    length: float
    width: float


class _Moved(NamedTuple):
    """A bed of the plan moved on trial."""

    name: str
    si: _Box


BANK = 0.3  # m of ground between swale and bed; common practice, so no wall gets wet
STRIP = 0.6  # m of grass the water runs down on; common practice, a row to walk in
_RASTER = 0.05


@quantities("m", one="m [0, inf)", other="m [0, inf)")
def box_distance(one: Value, other: Value) -> Value:
    """Distance between two upright rectangles in plan, 0 where they touch.

    Parameters
    ----------
    one : quantity [m]
        Left, right, top, bottom.
    other : quantity [m]
        The same of the other.

    Returns
    -------
    quantity [m]
        Hypotenuse of the gaps along both axes.

    Notes
    -----
    Source: computed, geometry.
    """
    across = np.maximum(np.maximum(other[0] - one[1], one[0] - other[1]), 0.0)
    down = np.maximum(np.maximum(other[2] - one[3], one[2] - other[3]), 0.0)
    return np.hypot(across, down)


@dataclass(frozen=True, kw_only=True)
class Overflow:
    """The swale on the plan, and the way of the water that runs over.

    ``swale`` is left, right, top, bottom in metres; ``way`` holds the corners of the
    water's path (n, 2), none where no strip is free; ``right`` tells that it leaves the
    swale at its right end, seen from below the slope. ``house`` is the distance of
    swale and way to the next building, not-a-number without one.
    """

    swale: tuple[float, float, float, float]
    right: bool
    way: np.ndarray
    house: float
    checks: tuple[Check, ...]

    @property
    def free(self) -> bool:
        """Whether there is a way down that meets no bed."""
        return len(self.way) > 0


class _Turned:
    """The plan turned by quarters, so that the ground falls down the page."""

    def __init__(self, plan):
        b, c = plan.si.slope_x, plan.si.slope_y
        steep = abs(b) > abs(c)
        # 0: it falls to the bottom of the plan already, 1: to the right, 2: to the top
        self.quarters = (1 if b < 0 else 3) if steep else (0 if c <= 0 else 2)
        self.slope_x = float((b, -c, -b, c)[self.quarters])
        self.plot, self.outlined = plan.plot, plan.outlined
        self.left, self.right, self.top, self.low = self.box(plan.plot.bounds)
        self.beds = [
            self.box((b.si.x, b.si.x + b.si.length, b.si.y, b.si.y + b.si.width))
            for b in plan.beds
        ]
        self.solid = [
            self.box(t.box)
            for t in plan.plot.things
            if t.kind in ("tree", "house", "other")
        ]

    def point(self, x, y):
        """A point of the plan, turned."""
        return ((x, y), (-y, x), (-x, -y), (y, -x))[self.quarters]

    def back(self, x, y):
        """A turned point, on the plan."""
        return ((x, y), (y, -x), (-x, -y), (-y, x))[self.quarters]

    def box(self, sides, back: bool = False):
        """A rectangle (left, right, top, bottom), turned or turned back."""
        turn = self.back if back else self.point
        (x0, y0), (x1, y1) = turn(sides[0], sides[2]), turn(sides[1], sides[3])
        return min(x0, x1), max(x0, x1), min(y0, y1), max(y0, y1)

    def within(self, sides) -> bool:
        """Whether a turned rectangle lies on the plot."""
        return not self.outlined or self.plot.contains(*self.box(sides, back=True))


def overflow_of(plan: SitePlan, storm: Rain) -> Overflow:
    """Where the swale lies on the plan, and where it runs over.

    Parameters
    ----------
    plan : SitePlan
        With beds, plot and slopes.
    storm : Rain
        With the size of the swale.

    Returns
    -------
    Overflow

    Notes
    -----
    Valid where the ground is one plane. Source: common practice,
    spillway at the low end, level and wide; nothing near a building.
    """
    t, width = _Turned(plan), storm.si.swale_width
    long_ = min(storm.si.swale_length, t.right - t.left)
    swale, way, found = _laid(plan, t, long_, width)
    row, shorter = table("setbacks")["house"], None
    if found["house"] < row.distance:
        less = float(np.floor(long_ - row.distance + found["house"]))
        if less >= 3 and _laid(plan, t, less, width)[2]["house"] >= row.distance:
            shorter = less
    return Overflow(
        **found, checks=_checks(plan, t, swale, len(way) > 0, found["house"], shorter)
    )


def _laid(plan, t: _Turned, long_: float, width: float):
    """A swale of some length: turned, its way, and what the plan says of both."""
    first = min((b[2] for b in t.beds), default=t.low)
    right = t.slope_x <= 0
    swale = _lay(t, long_, width, first, right)
    way = _way(t, swale, right)
    on_plan = t.box(swale, back=True)
    path = np.array([t.back(x, y) for x, y in way]).reshape(-1, 2)
    house = _to_house(plan.plot, on_plan, path)
    return swale, way, dict(swale=on_plan, right=right, way=path, house=house)


def _lay(t: _Turned, long_: float, width: float, first: float, right: bool):
    """The swale between the upper edge and the first bed, at the low end of the plot.

    On a plot that is no rectangle it is moved along, and down, until all of it lies on
    the plot.
    """
    free = max(first - t.top - BANK - width, 0.0)
    run = np.arange(0.0, t.right - t.left - long_ + 1e-9, 0.25)
    best = None
    for down in (free / 2, *np.arange(0.0, free, 0.25)):
        for by in run if len(run) else (0.0,):
            left = t.right - long_ - by if right else t.left + by
            swale = (left, left + long_, t.top + down, t.top + down + width)
            best = best or swale
            if t.within(swale):
                return swale
    return best


def _way(t: _Turned, swale, right: bool) -> list[tuple[float, float]]:
    """Out of the rim and straight down the free strip that is nearest its low end."""
    half = STRIP / 2
    last = max((b[3] for b in t.beds), default=swale[3])
    start = (swale[2] + swale[3]) / 2
    low = max(min(last + 1.0, t.low - 0.2), start + 0.5)
    at = np.arange(swale[0] + half, swale[1] - half + 1e-9, _RASTER)
    free = np.ones(len(at), bool)
    for x0, x1, y0, y1 in (*t.beds, *t.solid):
        if y1 > start and y0 < low:
            free &= (at + half <= x0 + 1e-9) | (at - half >= x1 - 1e-9)
    for x in (at[free] if not right else at[free][::-1]) if free.any() else ():
        end = low
        while end > start + 0.5 and not t.within((x - half, x + half, start, end)):
            end -= 0.25  # the plot ends further up here
        if end > start + 0.5 or end == low:
            return [(float(x), start), (float(x), float(end))]
    return []


def _to_house(plot, swale, way) -> float:
    boxes = [swale]
    boxes += [
        (min(p[0], q[0]) - STRIP / 2, max(p[0], q[0]) + STRIP / 2,
         min(p[1], q[1]) - STRIP / 2, max(p[1], q[1]) + STRIP / 2)
        for p, q in zip(way, way[1:], strict=False)
    ]  # fmt: skip  # rows of a table
    found = [
        float(box_distance.si(np.array(box), np.array(t.box)))
        for t in plot.things
        if t.kind == "house"
        for box in boxes
    ]
    return min(found, default=np.nan)


def _down(plan, t: _Turned, by: float) -> Fix | None:
    """All beds moved downhill, if they then stand on nothing."""
    by = float(np.ceil(by / 0.05 - 1e-9)) * 0.05
    dx, dy = (round(float(v), 4) for v in t.back(0.0, by))
    moved = [
        _Moved(b.name, _Box(b.si.x + dx, b.si.y + dy, b.si.length, b.si.width))
        for b in plan.beds
    ]
    off = not plan.outlined and any(min(b.si.x, b.si.y) < 0 for b in moved)
    if off or clashes(moved, plan.plot, plan.outlined):
        return None
    return Fix(
        says="Move all beds {by:depth} downhill",
        sizes={"by": Q_(by, "m")},
        change={"shift": (Q_(dx, "m"), Q_(dy, "m"))},
        trial=lambda: (0.0, True),
    )


def _checks(plan, t, swale, free: bool, house: float, shorter: float | None):
    if not plan.measured:
        return ()  # the verdict on the ground asks for the readings
    needed = swale[3] - swale[2] + BANK
    room = min((b[2] for b in t.beds), default=t.low) - t.top
    on_plot = t.within(swale)
    found = [
        Check(
            name="swale_room",
            says="The swale and its bank need {demand}; above the first bed there is "
            "{capacity}.",
            demand=from_si(needed, "m"), capacity=from_si(max(room, 1e-6), "m"),
            kind="size", chapter="site", source="computed",
            fix=_down(plan, t, needed - room) if needed > room + 1e-9 else None,
            note="Or dig it further up, beyond the plot, if that ground is yours."
            if on_plot
            else "Drawn straight, a part of it lies outside the plot: make it shorter, "
            "or let it follow the edge.",
        ),
        Check(
            name="overflow",
            says="If the ditch overflows, the water runs past the beds."
            if free
            else "If the ditch overflows, the water runs into a bed. "
            "Leave a strip of {demand} free.",
            demand=from_si(STRIP, "m"), capacity=from_si(STRIP if free else 1e-6,
                                                         "m"),
            kind="depth", chapter="site", source="common_practice",
        ),
    ]  # fmt: skip  # rows of a table
    if np.isfinite(house):
        row, fix = table("setbacks")["house"], None
        if shorter:
            fix = Fix(
                says="Make the swale {swale_length:size} long",
                change={"swale_length": Q_(shorter, "m")},
                trial=lambda: (0.0, True),
            )
        found.append(
            Check(
                name="water_house",
                says="Swale and overflow keep {capacity} from the next building; "
                "{demand} is the least.",
                demand=row.q("distance"),
                capacity=from_si(max(house, 1e-6), "m"),
                kind="size",
                chapter="site",
                source=row.source,
                fix=fix,
                note="{better:size} is better.",
                sizes={"better": Q_(6, "m")},
            )
        )
    return tuple(found)
