"""Lines of the bill: cut plans, packs, and what is sold how."""

from __future__ import annotations

import functools
import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np

from ..cutting import (
    COIN,
    Coins,
    CutError,
    Piece,
    Plan,
    Saw,
    Stock,
    first_fit,
    least_cost,
    tenths,
)
from ..cutting.cut_list import parts
from ..cutting.splices import spliced
from ..model.bed import Bed
from ..model.place import Place
from ..model.prices import goods_name
from ..tables import Row, table
from ..units import number, show
from .money import tax_inside

__all__ = [
    "Line", "cut_plans", "guesses", "no_price", "plan_lines", "saw_for", "sold",
    "stocks_of", "uncut_lines", "unpriced",
    "without_keys",
]  # fmt: skip  # a list of names

#: how timber and sheet are shared out: the hand rule is quick, the cheapest is proven
CUTS: dict[str, Callable[..., Plan]] = {
    "hand": first_fit,
    "cheapest": lambda *asked: least_cost(*asked, seconds=3.0),
}


_LENGTH = re.compile(r", (\d+(?:\.\d+)?) m$")
#: how a line that is measured is shown
_KINDS = {"m³": "volume", "m²": "area", "m": "size"}


def plural(unit: str) -> str:
    """More than one of a pack: ``boxes``, ``bags``."""
    return f"{unit}es" if unit.endswith(("x", "s", "ch")) else f"{unit}s"


@dataclass(frozen=True, kw_only=True)
class Line:
    """One line of the bill; ``amount`` is ``quantity`` packs at ``price``.

    A line without a price has not-a-number for ``price`` and ``amount``, and what is
    really needed for ``quantity``. ``coins`` are the decimals of its currency.
    ``low`` and ``high`` are the least and the most the price may become, as shares of
    it (-0.1 and 0.25), where the price list has them; else its group's spread holds.
    ``lasts_as`` are the goods whose service life it takes, where its own is not known.
    """

    name: str
    group: str
    part: str
    quantity: float
    unit: str
    price: float
    amount: float
    goods: str = ""
    taxed: bool = True
    needed: float = float("nan")
    low: float = float("nan")
    high: float = float("nan")
    coins: int = 2
    lasts_as: str = ""

    def called(self, units: str) -> str:
        """Its name, with the length of what is sold by length in the reader's units."""
        return _LENGTH.sub(
            lambda found: ", " + show(float(found[1]), "size", units), self.name
        )

    def words(self, units: str) -> str:
        """How much of what: ``8 × larch board 140 × 33, 3.60 m``, ``0.50 m³ mix``."""
        said = re.findall(r"\w+", self.name)
        named = self.unit not in _KINDS and self.unit in said
        times = self.unit in ("piece", "trip") or named
        amount = f"{self._number()} ×" if times else self.counted(units)
        return f"{amount} {self.called(units)}"

    def counted(self, units: str) -> str:
        """How much of it: ``0.50 m³``, ``3 boxes``, ``1 trip``."""
        if self.unit in _KINDS:
            return show(self.quantity, _KINDS[self.unit], units)
        amount = self._number()
        return f"{amount} {self.unit if amount == '1' else plural(self.unit)}"

    def _number(self) -> str:
        digits = 0 if self.quantity >= 10 else 1
        return number(self.quantity, digits).removesuffix(".0")

    def tax(self, rate: float, inside: bool = False) -> float:
        """Tax on this line, to the coin: on top of the amount, or inside it."""
        if not self.taxed or not np.isfinite(self.amount):
            return 0.0
        tax = tax_inside.si(self.amount, rate) if inside else self.amount * rate
        one = 10**self.coins
        return float(round(tax * one) / one)


def _taxed(row) -> bool:
    return getattr(row, "taxed", "yes") != "no"


def guesses(row: Row) -> dict[str, float]:
    """What a row of the price list itself says of its low and high price, as shares.

    Parameters
    ----------
    row : Row
        With the columns low and high, money, or without; blank is not-a-number.
    """
    if not row.price > 0:
        return {}
    ends = {name: getattr(row, name, np.nan) for name in ("low", "high")}
    return {name: end / row.price - 1 for name, end in ends.items()}


def unpriced(
    goods: str,
    needed: float,
    part: str,
    place: Place,
    *,
    name: str = "",
    unit: str = "piece",
    detail: str = "",
) -> Line:
    """A line for goods without a price: what they are and how much is needed.

    Parameters
    ----------
    goods : str
    needed : float
        In ``unit``.
    part : str
        Of the bill.
    place : Place
        Its price list may know a name.
    name : str
        What people call it, where neither list nor table does.
    unit : str
        In which it is counted, where data/goods.csv does not say.
    detail : str
        Said after the name, such as how many pieces.
    """
    known, group = table("goods"), "soil" if part == "fill" else "timber"
    if goods in known:
        group, unit, name = known[goods].group, known[goods].counted, ""
    name = name or goods_name(goods, place.goods)
    if unit not in ("m", "m²", "m³"):
        needed = float(np.ceil(needed - 1e-9))
    return Line(
        name=f"{name}, {detail}" if detail else name,
        group=group,
        part=part,
        quantity=needed,
        unit=unit,
        price=float("nan"),
        amount=float("nan"),
        goods=goods,
        needed=needed,
    )


def no_price(name: str, place: Place) -> str:
    """In words, that some goods have no price."""
    if place.prices is None:
        return f"no price yet: {name}"
    return f"the price list has no {name}"


def stocks_of(goods: str, place: Place) -> list[Stock]:
    """Lengths of a good that are sold and can be carried, and what lies there already.

    A row with a count and a price of 0 is the reader's own: nobody has to carry it.
    """
    return list(_stocks(place.goods.get(goods, ()), place.si.longest_carried))


@functools.lru_cache(maxsize=256)
def _stocks(rows: tuple[Row, ...], longest: float) -> tuple[Stock, ...]:
    found = []
    for row in rows:
        few = not np.isnan(row.count)
        mine = few and row.price == 0
        if mine or row.length <= longest + 1e-9:
            found.append(
                Stock(
                    key=row.key,
                    length=tenths(row.length),
                    price=Coins(round(row.price * COIN)),
                    limit=int(row.count) if few else None,
                    owned=mine,
                )
            )
    return tuple(found)


def saw_for(goods: str, place: Place) -> Saw:
    """The saw for a good: its own kerf and trim, or the place's."""
    return _saw(goods, place.si.kerf, place.si.trim)


@functools.lru_cache(maxsize=256)
def _saw(goods: str, kerf: float, trim: float) -> Saw:
    if goods in table("goods"):
        row = table("goods")[goods]
        kerf = kerf if np.isnan(row.kerf) else row.kerf
        trim = trim if np.isnan(row.trim) else row.trim
    return Saw(kerf=tenths(kerf), trim=tenths(trim))


def _joined(bed: Bed, place: Place):
    """The pieces of a bed; those longer than any board in two that meet at a post."""
    found = parts(bed)
    longest = {
        goods: max(s.room(saw) - saw.kerf for s in stocks) / 10_000
        for goods in dict.fromkeys(p.goods for p in found)
        if (stocks := [s for s in stocks_of(goods, place) if s.limit != 0])
        and (saw := saw_for(goods, place))
    }
    if all(p.length <= longest.get(p.goods, np.inf) + 1e-9 for p in found):
        return found
    return spliced(bed, found, longest)[0]


def cut_plans(
    beds: Iterable[Bed], place: Place, cut: str = "hand"
) -> tuple[dict[str, Plan], tuple[str, ...]]:
    """Cut plans by goods for the pieces of all beds together.

    Parameters
    ----------
    beds : iterable of Bed
        Each counted ``bed.count`` times.
    place : Place
        Its price list and saw.
    cut : str
        ``"hand"``: longest piece first, at once. ``"cheapest"``: least cost, proven
        where time allows.

    Returns
    -------
    dict of goods to Plan, and tuple of str
        The plans, and in words what cannot be bought.
    """
    if cut not in CUTS:
        raise ValueError(f"cut: needs 'hand' or 'cheapest', given {cut!r}")
    needs, _, missing = _pieces(beds, place)
    plans = {}
    for goods, pieces in needs.items():
        stocks = stocks_of(goods, place)
        if not stocks:
            name = goods_name(goods, place.goods)
            if goods in place.goods:
                name += " with a length that can be carried"
            missing.append(no_price(name, place))
            continue
        try:
            plans[goods] = _plan(cut, pieces, stocks, saw_for(goods, place))
        except CutError as error:
            name = goods_name(goods, place.goods)
            missing.append(f"{name}, {without_keys(error, stocks)}")
    return plans, tuple(missing)


def _plan(cut: str, pieces, stocks: list[Stock], saw: Saw) -> Plan:
    """A cut plan; where the hand rule runs out of counted boards, the cheapest."""
    try:
        return CUTS[cut](pieces, stocks, saw)
    except CutError:
        if cut == "cheapest" or all(stock.limit is None for stock in stocks):
            raise
        return least_cost(pieces, stocks, saw)


def _pieces(beds: Iterable[Bed], place: Place) -> tuple[dict, dict, list[str]]:
    """Pieces to cut by goods, those of beds that cannot be joined, and why not."""
    needs: dict[str, list[Piece]] = {}
    apart: dict[str, list[Piece]] = {}
    missing = []
    for bed in beds:
        found = needs
        try:
            pieces = _joined(bed, place)
        except CutError as error:
            missing.append(f"bed {bed.name}, {error}")
            pieces, found = parts(bed), apart
        for p in pieces:
            found.setdefault(p.goods, []).append(
                Piece(label=p.label, length=tenths(p.length), count=p.count * bed.count)
            )
    return needs, apart, missing


def uncut_lines(
    beds: Iterable[Bed], plans: dict[str, Plan], place: Place
) -> list[Line]:
    """Lines without a price for the boards that no plan cuts: metres and pieces."""
    needs, apart, _ = _pieces(beds, place)
    left = {goods: pieces for goods, pieces in needs.items() if goods not in plans}
    for goods, pieces in apart.items():
        left[goods] = left.get(goods, []) + pieces
    lines = []
    for goods, pieces in left.items():
        count = sum(p.count for p in pieces)
        metres = sum(p.count * p.length for p in pieces) / 10_000
        words = f"{count} piece{'s' if count > 1 else ''}"
        lines.append(unpriced(goods, metres, "walls", place, unit="m", detail=words))
    return lines


def without_keys(error: CutError, stocks: Iterable[Stock]) -> str:
    """What a cut plan refuses, without the keys of the price list."""
    words = str(error)
    for stock in stocks:
        words = words.replace(f", {stock.key!r},", "")
    return words


def sold(
    goods: str, amount: float, part: str, place: Place, *, single: bool = False
) -> list[Line]:
    """Lines for an amount sold in packs: one pack size, the cheapest to cover it.

    With ``single`` only the smallest pack is taken.
    """
    best = None
    rows = place.goods.get(goods, ())
    if single and rows:
        rows = (min(rows, key=lambda row: row.content),)
    for row in rows:
        packs = float(np.ceil(amount / row.content - 1e-9))
        if best is None or packs * row.price < best.amount:
            best = Line(
                name=row.name,
                group=row.group,
                part=part,
                quantity=packs,
                unit=row.sold_by,
                price=row.price,
                amount=packs * row.price,
                goods=goods,
                taxed=_taxed(row),
                needed=amount,
                coins=place.currency.decimals,
                **guesses(row),
            )
    return [best] if best and best.quantity else []


def plan_lines(plans: dict[str, Plan], place: Place, part: str = "walls") -> list[Line]:
    """Lines for the boards of cut plans, one a length."""
    lines = []
    for goods, plan in plans.items():
        rows = {row.key: row for row in place.goods[goods]}
        for key, count in sorted(plan.shopping.items()):
            row = rows[key]
            lines.append(
                Line(
                    name=f"{row.name}, {row.length:.4g} m",
                    group=row.group,
                    part=part,
                    quantity=count,
                    unit=row.sold_by,
                    price=row.price,
                    amount=count * row.price,
                    goods=goods,
                    taxed=_taxed(row),
                    coins=place.currency.decimals,
                    **guesses(row),
                )
            )
    return lines
