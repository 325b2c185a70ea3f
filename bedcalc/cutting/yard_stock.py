"""Stock as it really lies in the yard: what the car takes, bad boards, offcuts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from .model import Coins, CutError, Plan, Saw, Stock, Tenths, as_tenths

__all__ = ["fit_in_car", "offcuts", "split_at_defect"]


def fit_in_car(stocks: Iterable[Stock], longest: Tenths) -> tuple[Stock, ...]:
    """The stock that can be carried, and what is owned already.

    Parameters
    ----------
    stocks : iterable of Stock
        The merchant's list.
    longest : quantity [m], or Tenths
        Longest board the car takes.
    """
    longest = as_tenths("car", "longest", longest, 0, "3000")
    stocks = tuple(stocks)
    kept = tuple(s for s in stocks if s.owned or s.length <= longest)
    if stocks and not kept:
        shortest = min(stocks, key=lambda stock: stock.length)
        raise CutError(
            f"car: takes {longest / 10_000:g} m, but the shortest board has "
            f"{shortest.length / 10_000:g} m; have it delivered, or let the merchant "
            "cut it"
        )
    return kept


def split_at_defect(
    stock: Stock, at: Tenths, width: Tenths, saw: Saw, *, straight: bool = True
) -> tuple[Stock, ...]:
    """A board with a bad place, bought already, as two short sound boards.

    The bad place is cut out. Each part keeps one raw end, so it needs half the trim.
    This is exact: a piece cannot lie across the bad place.

    Parameters
    ----------
    stock : Stock
        The board as bought; take one off its own number.
    at : quantity [m], or Tenths
        Middle of the bad place from one raw end.
    width : quantity [m], or Tenths
        Length to cut out, saw cuts included.
    saw : Saw
        Its trim is shared between the two raw ends.
    straight : bool
        Whether the parts are good enough for pieces that must be straight.

    Returns
    -------
    tuple of Stock
        Owned, one of each; a part with no length is left out.
    """
    owner = f"stock {stock.key!r}"
    at = as_tenths(owner, "at", at, 0, "800")
    width = as_tenths(owner, "width", width, 0, "60")
    if at > stock.length:
        raise CutError(
            f"{owner}: the bad place needs to lie between 0 and "
            f"{stock.length / 10:g} mm, given {at / 10:g} mm (width {width / 10:g} mm)"
        )
    trim = stock.trimmed(saw)
    ends = (
        ("before", at - width // 2, trim // 2),
        ("after", stock.length - at - (width - width // 2), trim - trim // 2),
    )
    return tuple(
        Stock(
            key=f"{stock.key} {where} {at / 10:g}",
            length=Tenths(length),
            price=Coins(0),
            limit=1,
            owned=True,
            straight=straight,
            trim=Tenths(end),
        )
        for where, length, end in ends
        if length > 0
    )


#: mm/10; 300 mm still makes a brace or a stake: common practice, no source
LEAST = Tenths(3000)


def offcuts(plan: Plan, least: Tenths = LEAST) -> tuple[Stock, ...]:
    """The leftovers of a plan as owned stock for the next one.

    Parameters
    ----------
    plan : Plan
        What was cut.
    least : quantity [m], or Tenths
        Shorter ones are not worth keeping. Common practice, no source: 300 mm still
        makes a brace or a stake.
    """
    least = as_tenths("offcuts", "least", least, 0, "300")
    kept = Counter(
        (length, board.stock.straight)
        for board, length in zip(plan.boards, plan.leftovers, strict=True)
        if length >= least
    )
    return tuple(
        Stock(
            key=f"offcut {length / 10:g}" + ("" if straight else ", not straight"),
            length=Tenths(length),
            price=Coins(0),
            limit=number,
            owned=True,
            straight=straight,
            trim=Tenths(0),
        )
        for (length, straight), number in sorted(kept.items(), reverse=True)
    )
