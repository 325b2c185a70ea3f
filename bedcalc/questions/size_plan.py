"""Plans of the size: questions about sizes that need more than one bed's outcome.

The sums are the size chapter's; what a size costs is asked of :func:`evaluate`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..evaluate import Outcome, evaluate
from ..model.bed import Bed, BedError
from ..model.place import Place
from ..size.decide import WAYS, Advice, advise
from ..size.plan import Posture, Shapes, compare_shapes, detour, people_fed, posture_at
from ..size.posture import bend_angle, clear_height, soil_over_knees
from ..size.shapes import Outline, area_within
from ..units import Q_

__all__ = [
    "WAYS", "Advice", "Outline", "OutlinePrice", "Posture", "Shapes", "Sizes",
    "advise", "bend_angle", "clear_height", "compare_shapes", "compare_sizes",
    "detour", "halves", "lowered", "outline_prices", "people_fed", "posture_at",
    "soil_over_knees",
]  # fmt: skip  # a list of names


@dataclass(frozen=True, kw_only=True)
class Sizes:
    """One field of a bed moved over a range: what it costs, for each growing area.

    ``at`` holds the field in metres; ``cost`` money; ``area`` and ``perimeter`` in
    square metres and metres; ``each`` money for a square metre of growing area.
    """

    field: str
    at: np.ndarray
    cost: np.ndarray
    area: np.ndarray
    perimeter: np.ndarray
    now: float

    @property
    def each(self) -> np.ndarray:
        """Money for each square metre of growing area."""
        return self.cost / self.area


def compare_sizes(
    bed: Bed, place: Place, field: str, low: Q_, high: Q_, count: int = 15
):
    """What a bed costs as one of its sizes moves.

    Parameters
    ----------
    bed : Bed
        The other sizes stay.
    place : Place
        Where it stands.
    field : str
        ``length``, ``width`` or ``height``.
    low, high : quantity [m]
        Ends of the range.
    count : int
        How many sizes are tried beside the one it has; those a bed cannot have, or
        that no board is long enough for, are left out.

    Returns
    -------
    Sizes
    """
    at, cost, area, perimeter = [], [], [], []
    tried = np.linspace(low.m_as("m"), high.m_as("m"), count)
    now = float(getattr(bed.si, field))
    if tried[0] <= now <= tried[-1]:  # as it is, and not between two others
        tried = np.sort([*tried[~np.isclose(tried, now)], now])
    for value in tried:
        try:
            outcome = evaluate(bed.change(**{field: Q_(float(value), "m")}), place)
        except BedError:
            continue
        if outcome.cost.missing:
            continue  # pieces no board is long enough for: no price
        at.append(value)
        cost.append(outcome.cost.si.total)
        area.append(outcome.size.si.inside_area)
        perimeter.append(outcome.size.si.perimeter)
    return Sizes(
        field=field,
        at=np.array(at),
        cost=np.array(cost),
        area=np.array(area),
        perimeter=np.array(perimeter),
        now=now,
    )


@dataclass(frozen=True, kw_only=True)
class OutlinePrice:
    """What an outline costs about, by the metre of wall: SI and money.

    ``inside`` is its growing area, ``walls`` its walls with screws and ties, ``fill``
    its fill; delivery, and the extra posts and slanted cuts of its corners, are not in.
    """

    kind: str
    inside: float
    walls: float
    fill: float

    @property
    def total(self) -> float:
        """Walls and fill together."""
        return self.walls + self.fill

    @property
    def each(self) -> float:
        """Money for each square metre of growing area."""
        return self.total / self.inside if self.inside > 0 else float("nan")


def outline_prices(shapes: Shapes, outcome: Outcome) -> tuple[OutlinePrice, ...]:
    """What outlines cost about, if built and filled like a bed.

    Parameters
    ----------
    shapes : Shapes
        The outlines.
    outcome : Outcome
        Of the bed whose bill gives the price of a metre of wall and of a square metre
        of fill.

    Returns
    -------
    tuple of OutlinePrice
    """
    cost, size = outcome.cost.si, outcome.size.si
    metre = (cost.walls + cost.ties + cost.fixings) / size.perimeter
    square = cost.fill / size.inside_area
    thick = float(outcome.bed.si.wall_thickness)
    found = []
    for o in shapes.outlines:
        inside = area_within(o.ring, thick)
        found.append(
            OutlinePrice(
                kind=o.kind,
                inside=inside,
                walls=float(metre * o.perimeter),
                fill=float(square * inside),
            )
        )
    return tuple(found)


def halves(bed: Bed, place: Place):
    """One big bed against two of half its length: outcomes of both.

    Parameters
    ----------
    bed : Bed
        The big one.
    place : Place
        Where it stands.

    Returns
    -------
    (Outcome, Outcome) or (Outcome, None)
        None if half of it is no bed.
    """
    whole = evaluate(bed, place)
    try:
        return whole, evaluate(bed.change(length=bed.length / 2), place)
    except BedError:
        return whole, None


def lowered(bed: Bed, place: Place) -> Outcome | None:
    """The same bed at half its height, or None if that is no bed."""
    more = {} if bed.soil_depth is None else {"soil_depth": bed.soil_depth / 2}
    try:
        return evaluate(bed.change(height=bed.height / 2, **more), place)
    except BedError:
        return None
