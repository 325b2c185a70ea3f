"""Overflow: where a storm too big for the swale leaves, and what it keeps away from.

The swale lies along the rows, uphill of the first bed. It runs over where one lets it:
at a level place in its rim, at the end where the ground is lower. From there a free
strip of grass must lead downhill past the beds.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import SimpleNamespace

import numpy as np

from ..outcome import Check, Mend
from ..tables import table
from ..units import Q_, from_si, quantities, show
from .verdicts import clashes

__all__ = ["Overflow", "box_distance", "overflow_of"]

BANK = 0.3  # m of ground between swale and bed; common practice, so no wall gets wet
STRIP = 0.6  # m of grass the water runs down on; common practice, a row to walk in
_RASTER = 0.05


@quantities("m", one="m", other="m")
def box_distance(one, other):
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

    ``swale`` is left, right, top, bottom in metres; ``right`` tells that its right end
    is the lower one; ``way`` holds the corners of the water's path (n, 2), none where
    no strip is free. ``house`` is the distance of swale and way to the next building,
    not-a-number without one.
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


def overflow_of(plan, storm) -> Overflow:
    """Where the swale lies on the plan, and where it runs over.

    Parameters
    ----------
    plan : SitePlan
        With beds, yard and slopes.
    storm : Rain
        With the size of the swale.

    Returns
    -------
    Overflow

    Notes
    -----
    Valid where the ground is one plane and falls towards y. Source: common practice,
    spillway at the low end, level and wide; nothing near a building.
    """
    yard, width = plan.yard, storm.si.swale_width
    long_ = min(storm.si.swale_length, yard.length)
    first = min((b.si.y for b in plan.beds), default=yard.width)
    top = max((first - BANK - width) / 2, 0.0)
    right = bool(plan.si.slope_x <= 0)
    left = yard.length - long_ if right else 0.0
    swale = (left, left + long_, top, top + width)
    way = _way(plan, swale, right)
    house = _to_house(yard, swale, way)
    return Overflow(
        swale=swale, right=right, way=way, house=house,
        checks=_checks(plan, swale, way, house),
    )  # fmt: skip


def _way(plan, swale, right: bool) -> np.ndarray:
    """Out of the rim and straight down the free strip that is nearest its low end."""
    yard, half = plan.yard, STRIP / 2
    last = max((b.si.y + b.si.width for b in plan.beds), default=swale[3])
    start = (swale[2] + swale[3]) / 2
    low = max(min(last + 1.0, yard.width - 0.2), start + 0.5)
    blocks = [
        (b.si.x, b.si.x + b.si.length, b.si.y, b.si.y + b.si.width) for b in plan.beds
    ]
    blocks += [t.box for t in yard.things if t.kind in ("tree", "house", "other")]
    at = np.arange(swale[0] + half, swale[1] - half + 1e-9, _RASTER)
    free = np.ones(len(at), bool)
    for x0, x1, y0, y1 in blocks:
        if y1 > start and y0 < low:
            free &= (at + half <= x0 + 1e-9) | (at - half >= x1 - 1e-9)
    if not free.any():
        return np.empty((0, 2))
    x = at[free].max() if right else at[free].min()
    return np.array([(x, start), (x, low)])


def _to_house(yard, swale, way) -> float:
    boxes = [swale]
    boxes += [
        (min(p[0], q[0]) - STRIP / 2, max(p[0], q[0]) + STRIP / 2,
         min(p[1], q[1]), max(p[1], q[1]))
        for p, q in zip(way, way[1:], strict=False)
    ]  # fmt: skip
    found = [
        float(box_distance.si(np.array(box), np.array(t.box)))
        for t in yard.things
        if t.kind == "house"
        for box in boxes
    ]
    return min(found, default=np.nan)


def _down(plan, by: float) -> Mend | None:
    """All beds moved downhill, if they then stand on nothing."""
    by = float(np.ceil(by / 0.05 - 1e-9)) * 0.05
    moved = [
        SimpleNamespace(
            name=b.name,
            si=SimpleNamespace(
                x=b.si.x, y=b.si.y + by, length=b.si.length, width=b.si.width
            ),
        )
        for b in plan.beds
    ]
    if clashes(moved, plan.yard):
        return None
    return Mend(
        act=f"Move all beds {show(by, 'depth')} downhill",
        change={"down": Q_(round(by, 4), "m")}, trial=lambda: (0.0, True),
    )  # fmt: skip


def _checks(plan, swale, way, house: float) -> tuple[Check, ...]:
    first = min((b.si.y for b in plan.beds), default=plan.yard.width)
    needed = swale[3] - swale[2] + BANK
    found = [
        Check(
            name="swale_room",
            says="The swale and its bank need {demand}; above the first bed there is "
            "{capacity}.",
            demand=from_si(needed, "m"), capacity=from_si(max(first, 1e-6), "m"),
            kind="size", chapter="site", source="computed",
            mend=_down(plan, needed - first) if needed > first + 1e-9 else None,
            note="Or dig it further up, beyond the plot, if that ground is yours.",
        ),
        Check(
            name="overflow",
            says="What runs over finds a strip of grass past the beds, down the slope."
            if len(way)
            else "What runs over has no free strip downhill: it would meet a bed. "
            "Leave a strip of {demand} free.",
            demand=from_si(STRIP, "m"), capacity=from_si(STRIP if len(way) else 1e-6,
                                                         "m"),
            kind="depth", chapter="site", source="common_practice",
        ),
    ]  # fmt: skip
    if np.isfinite(house):
        row = table("setbacks")["house"]
        short = row.distance - house
        long_ = swale[1] - swale[0]
        mend = None
        if 0 < short < long_ - 3:
            new = float(np.floor(long_ - short))
            mend = Mend(
                act=f"Make the swale {show(new, 'size')} long",
                change={"swale_length": Q_(new, "m")},
                trial=lambda: (0.0, True),
            )
        found.append(
            Check(
                name="water_house",
                says="Swale and overflow keep {capacity} from the next building; "
                "{demand} is the least.",
                demand=row.q("distance"), capacity=from_si(max(house, 1e-6), "m"),
                kind="size", chapter="site", source=row.source, mend=mend,
                note="6 m is better.",
            )
        )  # fmt: skip
    return tuple(found)
