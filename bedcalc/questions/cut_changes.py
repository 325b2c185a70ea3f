"""What would change the cost of cutting: a shorter piece, the saw, another length.

Each asks the cut plan again, or reads it; nothing is changed by asking.
"""

from __future__ import annotations

from collections import Counter
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
    "Cheaper",
    "length_sweep",
    "longer_for_less",
    "sawdust",
    "spots",
    "tie_for_less",
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
class Cheaper:
    """A bed with more to it that costs less, and what is bought differently for it.

    Attributes
    ----------
    bed : Bed
    saves : quantity [money]
        Of the whole bill.
    instead, bought : tuple of Line
        Of the goods that cost less: lines of the bill that go, or change, and what
        is bought in their place.
    """

    bed: Bed
    saves: Any
    instead: tuple[Line, ...]
    bought: tuple[Line, ...]


def longer_for_less(outcome: Outcome, share: float = 0.15) -> Cheaper | None:
    """The cheapest longer bed, where a longer one costs less than this.

    The boards of a bed are bought in lengths that the yard has: a longer piece may come
    out of a board length that leaves less over.

    Parameters
    ----------
    outcome : Outcome
    share : float
        How much longer is tried, at most, as a share of the length; eight lengths.
    """
    now = outcome.bed.si.length
    lengths = [np.ceil(100 * now * (1 + k * share / 8)) / 100 for k in range(1, 9)]
    tried = [_cheaper(outcome, length=from_si(length, "m")) for length in lengths]
    return max(filter(None, tried), key=lambda one: one.saves, default=None)


def tie_for_less(outcome: Outcome) -> Cheaper | None:
    """The bed with one more tie, where that costs less than this.

    Each tie of boards or lying ribs has a post, and the posts stand in equal bays: the
    next number of ties may need fewer of them. Or boards are then joined over a new
    post, and shorter ones do.

    Parameters
    ----------
    outcome : Outcome
    """
    return _cheaper(outcome, ties=outcome.bed.ties + 1)


def _cheaper(outcome: Outcome, **change) -> Cheaper | None:
    """A changed bed, if it can be and costs less."""
    try:
        after = evaluate(outcome.bed.change(**change), outcome.place)
    except BedError:
        return None
    saves = outcome.cost.total - after.cost.total
    if not saves.m >= 0.005 or _unpriced_more(outcome, after):
        return None
    before, then = _paid(outcome), _paid(after)
    goods = {key for key in before if then[key] < before[key] - 1e-9}
    return Cheaper(
        bed=after.bed,
        saves=saves,
        instead=_for_less(outcome, after, goods),
        bought=_for_less(after, outcome, goods),
    )


def _unpriced_more(before: Outcome, after: Outcome) -> bool:
    """Whether more is needed of something that has no price."""
    needed = {line.name: line.quantity for line in before.cost.unpriced}
    return any(x.quantity > needed.get(x.name, 0) for x in after.cost.unpriced)


def _for_less(here: Outcome, there: Outcome, goods: set[str]) -> tuple[Line, ...]:
    """Lines of some goods in one bill that the other has not, or not as many of."""
    other = {line.name: line.quantity for line in there.cost.lines}
    return tuple(
        line
        for line in here.cost.lines
        if line.goods in goods and line.quantity != other.get(line.name)
    )


def _paid(outcome: Outcome) -> Counter[str]:
    """What each kind of goods costs."""
    paid: Counter[str] = Counter()
    for line in outcome.cost.lines:
        paid[line.goods] += line.amount
    return paid
