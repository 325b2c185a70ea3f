"""What would change the cost of cutting: a shorter piece, the saw, another length.

Each asks the cut plan again, or reads it; nothing is changed by asking.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from ..cost.lines import Line, saw_for, stocks_of
from ..cutting import CutError, Nudge, SawLoss, nudges, saw_loss, sweet_spots
from ..evaluate import Outcome, evaluate
from ..model.bed import Bed, BedError
from ..model.place import Place
from ..model.prices import goods_name
from ..units import Q_, from_si
from .cut_garden import GoodsCut, cut_garden

__all__ = [
    "LongerBed",
    "length_sweep",
    "longer_for_less",
    "sawdust",
    "spots",
    "what_less_saves",
]


def what_less_saves(cut: GoodsCut, change: float = -0.020) -> tuple[Nudge, ...]:
    """What each length of these goods would save if it were shorter, best first.

    Parameters
    ----------
    cut : GoodsCut
    change : float
        Metres; 20 mm shorter by default.
    """
    return nudges(cut.plan, Q_(change, "m"))


def sawdust(cut: GoodsCut) -> SawLoss:
    """What the saw eats of these goods."""
    return saw_loss(cut.plan)


def spots(goods: str, place: Place, lengths: Sequence[float]):
    """Cost of a piece over its length (m), each cut from boards of its own."""
    stocks, longest = stocks_of(goods, place), place.longest_carried
    if not stocks:
        raise CutError(
            f"{goods_name(goods, place.goods)}: needs a length that can be carried; "
            f"given a car that takes {longest:~P}; for example Q_(4, 'm') as "
            "longest_carried"
        )
    lengths = Q_(np.asarray(lengths, dtype=float), "m")
    return sweet_spots(lengths, stocks, saw_for(goods, place))


def length_sweep(
    bed: Bed, place: Place, lengths: Sequence[float], *, seconds: float = 0.2
) -> tuple[np.ndarray, np.ndarray]:
    """Cost of the boards of one bed over its outside length.

    Parameters
    ----------
    bed : Bed
    place : Place
    lengths : sequence of float
        Metres.
    seconds : float
        For each section and length.

    Returns
    -------
    cost, per_area
        Money, and money per square metre of growing area; nan where it cannot be
        cut.
    """
    cost, area = [], []
    for length in lengths:
        try:
            one = bed.change(length=from_si(length, "m"), count=1)
        except BedError:  # no room between walls as thick as these
            cost, area = [*cost, np.nan], [*area, 1.0]
            continue
        cut = cut_garden([one], place, seconds=seconds, prefer="as found")
        cost.append(float("nan") if cut.missing else cut.cost.m)
        area.append(one.si.inside_length * one.si.inside_width)
    return np.array(cost), np.array(cost) / np.array(area)


@dataclass(frozen=True, kw_only=True)
class LongerBed:
    """A longer bed that costs less, and what is bought differently for it.

    Attributes
    ----------
    length : quantity [m]
    saves : quantity [money]
        Of the whole bill.
    instead, bought : tuple of Line
        Lines of the bill that go, and lines that come in their place.
    """

    length: Any
    saves: Any
    instead: tuple[Line, ...]
    bought: tuple[Line, ...]


def longer_for_less(outcome: Outcome, share: float = 0.15) -> LongerBed | None:
    """The cheapest longer bed, where a longer one costs less than this.

    The boards of a bed are bought in lengths that the yard has: a longer piece may come
    out of a board length that leaves less over.

    Parameters
    ----------
    outcome : Outcome
    share : float
        How much longer is tried, at most, as a share of the length; eight lengths.
    """
    bed, best = outcome.bed, None
    for more in np.linspace(share / 8, share, 8):
        length = from_si(np.ceil(100 * bed.si.length * (1 + more)) / 100, "m")
        try:
            after = evaluate(bed.change(length=length), outcome.place)
        except BedError:
            continue
        saves = outcome.cost.total - after.cost.total
        if saves.m >= 0.005 and (best is None or saves > best[1]):
            best = length, saves, after.cost.lines
    if best is None:
        return None
    before = {line.name: line.quantity for line in outcome.cost.lines}
    after = {line.name: line.quantity for line in best[2]}
    differ = {k for k in {*before, *after} if before.get(k) != after.get(k)}
    return LongerBed(
        length=best[0],
        saves=best[1],
        instead=tuple(
            x
            for x in outcome.cost.lines
            if x.name in differ and before[x.name] > after.get(x.name, 0)
        ),
        bought=tuple(
            x
            for x in best[2]
            if x.name in differ and after[x.name] > before.get(x.name, 0)
        ),
    )
