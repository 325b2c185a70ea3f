"""Cut the whole garden: every piece of every bed, boards bought together, proven.

One plan for all beds is never dearer than one plan a bed. The search takes a moment,
so a slider never asks for it: a button does, with progress and a way to stop. What was
found is kept by its content.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from ..cost.counting import work
from ..cost.lines import no_price, saw_for, stocks_of, without_keys
from ..cutting import (
    COIN,
    Coins,
    CutError,
    Piece,
    Plan,
    Stock,
    Tenths,
    content_key,
    fewest_setups,
    first_fit,
    fit_in_car,
    least_cost,
    longest_leftover,
    split_at_defect,
    tenths,
)
from ..cutting.cut_list import CutPart, parts, tie_part
from ..cutting.splices import SheetWay, Splice, sheet_ways, spliced
from ..cutting.stock import BadBoard, Owned, Sold, stocks_from
from ..garden.garden import Garden
from ..model.bed import Bed
from ..model.place import Place
from ..model.prices import goods_name
from ..units import from_si

__all__ = [
    "COIN", "BadBoard", "CutError", "CutList", "GoodsCut", "Owned", "SheetWay", "Sold",
    "Splice", "cut_garden", "nothing_to_cut", "sections", "sheet_ways", "sold_by_list",
]  # fmt: skip  # a list of names

PREFER = ("as found", "fewest set-ups", "longest leftover")
_KEPT = 64
_known: OrderedDict[tuple, Plan] = OrderedDict()


@dataclass(frozen=True, kw_only=True)
class GoodsCut:
    """How one section is bought and cut: the plan, and the hand rule beside it."""

    goods: str
    name: str
    plan: Plan
    hand: Plan | None
    parts: tuple[CutPart, ...]

    @property
    def cost(self):
        """What its boards cost (money)."""
        return from_si(self.plan.cost / COIN, "money")

    def price(self, stock: Stock):
        """What one board of a stock costs (money)."""
        return from_si(stock.price / COIN, "money")

    @property
    def saved(self):
        """Less than the hand rule (money)."""
        by_hand = self.hand.cost if self.hand else self.plan.cost
        return from_si((by_hand - self.plan.cost) / COIN, "money")


@dataclass(frozen=True, kw_only=True)
class CutList:
    """The cut plans of some beds bought together, one for each section.

    ``splices`` say where pieces are joined; ``missing`` what cannot be cut, and why.
    """

    cuts: tuple[GoodsCut, ...]
    splices: tuple[Splice, ...] = ()
    missing: tuple[str, ...] = ()

    @property
    def notes(self) -> tuple[str, ...]:
        """In words, which pieces are joined and how they are laid."""
        return tuple(splice.note for splice in self.splices)

    def __getitem__(self, goods: str) -> GoodsCut:
        """The cut of these goods."""
        found = {cut.goods: cut for cut in self.cuts}
        if goods not in found:
            known = ", ".join(found) or "nothing, as nothing is cut"
            raise CutError(
                f"cut list, goods: needs one of {known}; given {goods!r}; for example "
                f"{next(iter(found), 'the goods of a bed of boards')!r}"
            )
        return found[goods]

    def __iter__(self):
        return iter(self.cuts)

    def of(self, bed: Bed) -> tuple[CutPart, ...]:
        """The pieces of one bed (of several equal ones, the first).

        What could not be cut is there as well, whole, as the bed needs it.
        """
        first = bed.name if bed.count == 1 else f"{bed.name}.1"
        cut = [
            p
            for p in self.parts
            if p.bed == first and p.label == f"{bed.name} {p.what}"
        ]
        known = {p.goods for p in cut}
        needed = (*parts(bed), *tie_part(bed, work("rod_extra")))
        rest = [replace(p, bed=first) for p in needed if p.goods not in known]
        return (*cut, *rest)

    @cached_property
    def plans(self) -> dict[str, Plan]:
        """Plans by goods."""
        return {cut.goods: cut.plan for cut in self.cuts}

    @property
    def cost(self):
        """All boards together (money)."""
        return from_si(sum(c.plan.cost for c in self.cuts) / COIN, "money")

    @property
    def bound(self):
        """No way of cutting costs less than this (money)."""
        return from_si(sum(c.plan.bound for c in self.cuts) / COIN, "money")

    @property
    def by_hand(self):
        """What the hand rule would pay (money)."""
        total = sum((c.hand or c.plan).cost for c in self.cuts)
        return from_si(total / COIN, "money")

    @property
    def proven(self) -> bool:
        """Nothing is missing and no cheaper way exists."""
        return not self.missing and all(c.plan.proven for c in self.cuts)

    @property
    def gap(self) -> float:
        """How much dearer than the cheapest possible at most, a share."""
        bound = sum(c.plan.bound for c in self.cuts)
        cost = sum(c.plan.cost for c in self.cuts)
        return (cost - bound) / bound if bound else 0.0

    @property
    def boards(self) -> int:
        """Boards, sheets and rods to take."""
        return sum(len(c.plan.boards) for c in self.cuts)

    @property
    def parts(self) -> tuple[CutPart, ...]:
        """All pieces, as they are cut."""
        return tuple(part for cut in self.cuts for part in cut.parts)

    def verdict(self) -> str:
        """What is known about the cost, in words."""
        if self.missing:
            return f"not complete: {'; '.join(self.missing)}"
        if self.proven:
            return "proven cheapest"
        return f"at most {self.gap:.1%} above the cheapest possible"


def _longest(goods: str, stocks: Sequence[Stock], place: Place) -> float:
    saw = saw_for(goods, place)
    rooms = [s.room(saw) - saw.kerf for s in stocks if s.limit != 0]
    return max(rooms, default=np.inf) / 10_000


def _needs(beds: Iterable[Bed], place: Place, yard):
    """Parts by goods, splices done; where they are; what cannot be joined."""
    found: dict[str, list[CutPart]] = {}
    splices, missing = [], []
    for bed in beds:
        every = (*parts(bed), *tie_part(bed, work("rod_extra")))
        longest = {p.goods: _longest(p.goods, yard(p.goods), place) for p in every}
        try:
            every, joined = spliced(bed, every, longest)
        except CutError as error:
            missing.append(f"bed {bed.name}, {error}")
            continue
        splices += joined
        for part in every:
            for n in range(1, bed.count + 1):
                name = bed.name if bed.count == 1 else f"{bed.name}.{n}"
                found.setdefault(part.goods, []).append(replace(part, bed=name))
    return found, tuple(splices), missing


def _stocks(goods: str, place: Place, owned: Sequence[Owned], sold) -> list[Stock]:
    """What is for sale and can be carried, and what lies there already."""
    if sold and goods in sold:
        bought = stocks_from(goods, sold[goods])
        longest = tenths(place.si.longest_carried)
        bought = [s for s in bought if s.owned or s.length <= longest]
    else:
        bought = stocks_of(goods, place)
    mine = [o for o in owned if o.goods == goods]
    return [
        *bought,
        *(
            Stock(
                key=f"own {o.length:g} m" + (f" ({n})" if n else ""),
                length=tenths(o.length),
                price=Coins(0),
                limit=o.count,
                owned=True,
                straight=o.straight,
                trim=Tenths(0),
            )
            for n, o in enumerate(mine)
        ),
    ]


def sold_by_list(goods: str, place: Place) -> tuple[Sold, ...]:
    """The lengths of these goods on the price list, carried or not."""
    return tuple(
        Sold(length=row.length, price=row.price, count=_count_of(row))
        for row in place.goods.get(goods, ())
    )


def _count_of(row) -> int | None:
    """How many there are; a gift without a count is plenty, said as a number."""
    if np.isnan(row.count):
        return None if row.price else 10_000
    return int(row.count)


def sections(beds: Iterable[Bed], place: Place) -> dict[str, str]:
    """What some beds are cut from: key of the goods and its name."""
    keys = dict.fromkeys(
        p.goods for bed in beds for p in (*parts(bed), *tie_part(bed, 0.0))
    )
    return {key: goods_name(key, place.goods) for key in keys}


def nothing_to_cut(beds: Garden | Iterable[Bed], place: Place) -> str:
    """Why there is nothing to cut, as a sentence; empty where there is something."""
    beds = tuple(beds)
    if not beds:
        return "There is no bed yet, so there is nothing to cut."
    if not sections(beds, place):
        some = "A bed of blocks has" if len(beds) == 1 else "Beds of blocks have"
        return f"{some} no boards to cut."
    if place.prices is None:
        return "There is no price list yet to choose boards from: give a list first."
    return ""


def _nothing_to_buy(goods: str, place: Place, sold) -> CutError:
    """Why there is no stock at all: nothing on the list, or nothing fits the car."""
    rows = sold[goods] if sold and goods in sold else sold_by_list(goods, place)
    try:
        if rows:
            fit_in_car(stocks_from(goods, rows), tenths(place.si.longest_carried))
    except CutError as error:
        return error
    words = no_price(goods_name(goods, place.goods), place)
    return CutError(f"{words}; add a length with its price")


def _split(goods: str, stocks: list[Stock], bad: Sequence[BadBoard], place: Place):
    """Bad boards, bought already, as two short sound ones each."""
    saw = saw_for(goods, place)
    found = list(stocks)
    for number, b in enumerate((b for b in bad if b.goods == goods), start=1):
        stock = next((s for s in stocks if s.key == b.stock), None)
        if stock is None:
            keys = ", ".join(s.key for s in stocks)
            raise CutError(
                f"bad board: needs one of {keys}; given {b.stock!r}; for example "
                f"BadBoard(goods={goods!r}, stock={stocks[0].key!r}, at=1.2)"
            )
        halves = split_at_defect(stock, tenths(b.at), tenths(b.width), saw)
        found += [replace(h, key=f"bad board {number}, {h.key}") for h in halves]
    return found


def _pieces(found: Sequence[CutPart]) -> tuple[Piece, ...]:
    """Every piece by itself, so that each label stands on the plan once."""
    return tuple(
        Piece(label=name, length=tenths(p.length), count=1, straight=p.straight)
        for p in found
        for name in p.names()
    )


def _solve(asked, seconds, prefer, **callbacks) -> Plan:
    """The cheapest plan, the handiest of them if wanted; kept once it is proven."""
    key = (content_key(*asked), prefer)
    if key in _known:
        _known.move_to_end(key)
        return _known[key]
    plan = least_cost(*asked, seconds=seconds, **callbacks)
    if prefer == "fewest set-ups":
        plan = fewest_setups(plan)
    elif prefer == "longest leftover":
        plan = longest_leftover(plan)
    if plan.proven:
        _known[key] = plan
        while len(_known) > _KEPT:
            _known.popitem(last=False)
    return plan


def cut_garden(
    beds: Garden | Iterable[Bed],
    place: Place | None = None,
    *,
    seconds: float = 1.0,
    prefer: str = "fewest set-ups",
    owned: Sequence[Owned] = (),
    bad: Sequence[BadBoard] = (),
    limits: Mapping[str, int] | None = None,
    sold: Mapping[str, Sequence[Sold]] | None = None,
    progress: Callable[[str, int, int], None] | None = None,
    cancel: Callable[[], bool] | None = None,
) -> CutList:
    """The cheapest way to buy and cut the boards of some beds together, with proof.

    Parameters
    ----------
    beds : Garden or iterable of Bed
    place : Place, optional
        The garden's own if left out: price list, saw, what the car takes.
    seconds : float
        Time budget for each section; most take a few hundredths.
    prefer : str
        Among equally cheap plans: ``"fewest set-ups"``, ``"longest leftover"`` or
        ``"as found"``.
    owned : sequence of Owned
        Boards lying there already.
    bad : sequence of BadBoard
        Boards bought already that have a bad place.
    limits : mapping of price key to int, optional
        How many the merchant has.
    sold : mapping of goods to sequence of Sold, optional
        What the merchant has of these goods, in place of the price list.
    progress : callable, optional
        Called with the name of the section, how many are done, of how many.
    cancel : callable, optional
        Return True to stop; what is not yet cut is then cut by the hand rule.
    """
    if prefer not in PREFER:
        raise ValueError(f"prefer: needs one of {', '.join(PREFER)}; given {prefer!r}")
    place = place or beds.place

    def yard(goods: str) -> list[Stock]:
        return _stocks(goods, place, owned, sold)

    found, splices, missing = _needs(tuple(beds), place, yard)
    cuts = []
    for number, (goods, some) in enumerate(found.items()):
        name, stocks = goods_name(goods, place.goods), ()
        if progress is not None:
            progress(name, number, len(found))
        try:
            stocks = _split(goods, yard(goods), bad, place)
            stocks = [
                replace(s, limit=(limits or {}).get(s.key, s.limit)) for s in stocks
            ]
            if not stocks:
                raise _nothing_to_buy(goods, place, sold)
            asked = _pieces(some), tuple(stocks), saw_for(goods, place)
            hand = _hand(asked)
            if cancel is not None and cancel():
                plan = hand or first_fit(*asked)
            else:
                more = {} if cancel is None else {"cancel": cancel}
                plan = _solve(asked, seconds, prefer, **more)
        except CutError as error:
            words = without_keys(error, stocks)
            missing.append(words if name in words else f"{name}: {words}")
            continue
        cuts.append(
            GoodsCut(goods=goods, name=name, plan=plan, hand=hand, parts=tuple(some))
        )
    if progress is not None:
        progress("done", len(found), len(found))
    return CutList(cuts=tuple(cuts), splices=splices, missing=tuple(missing))


def _hand(asked) -> Plan | None:
    try:
        return first_fit(*asked)
    except CutError:
        return None
