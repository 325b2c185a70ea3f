"""A cutting problem stripped to its integers: what the exact search works on.

Pieces of equal length are one kind, each length counts with one kerf, everything is
divided by its common divisor, and stock that can never help is left out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import gcd

from .first_fit import price_step
from .model import Piece, Saw, Stock, merged

__all__ = ["Problem", "compact"]


@dataclass(frozen=True, kw_only=True)
class Problem:
    """Kinds of pieces and sorts of stock as plain integers.

    Parameters
    ----------
    kinds : tuple
        (length, straight) of each kind; the straight ones first, then by length.
    needs, counts : tuple of int
        Room each piece takes, kerf included, and how many are wanted.
    first_any : int
        Where the kinds begin that any stock may give.
    stocks : tuple of tuple of Stock
        The stocks behind each sort; equal ones are one sort, limits summed.
    rooms, prices : tuple of int
        Room and price of each sort.
    limits : tuple of int or None
        How many of each sort there are.
    starts : tuple of int
        First kind a sort may give: 0, or ``first_any`` if it is not straight.
    step : int
        All costs are multiples of this.
    """

    kinds: tuple[tuple[int, bool], ...]
    needs: tuple[int, ...]
    counts: tuple[int, ...]
    first_any: int
    stocks: tuple[tuple[Stock, ...], ...]
    rooms: tuple[int, ...]
    prices: tuple[int, ...]
    limits: tuple[int | None, ...]
    starts: tuple[int, ...]
    step: int


def compact(pieces: Sequence[Piece], stocks: Sequence[Stock], saw: Saw) -> Problem:
    """Strip pieces, stock and saw to a :class:`Problem`."""
    merged_kinds = merged(pieces)
    ordered = sorted(merged_kinds, key=lambda kind: (not kind[1], -kind[0]))
    scale = gcd(*(length + saw.kerf for length, _ in ordered)) or 1
    needs = tuple((length + saw.kerf) // scale for length, _ in ordered)
    first_any = sum(straight for _, straight in ordered)
    sorts: dict[tuple, list[Stock]] = {}
    for stock in stocks:
        start = 0 if stock.straight else first_any
        room = min(stock.room(saw) // scale, _most(needs, merged_kinds, ordered, start))
        if stock.limit != 0 and room >= min(needs[start:], default=room + 1):
            sorts.setdefault((room, stock.price, start), []).append(stock)
    rows = []
    for (room, price, start), group in sorted(sorts.items(), key=lambda item: item[0]):
        limits = [stock.limit for stock in group]
        rows.append(
            (room, price, None if None in limits else sum(limits), start, group)
        )
    rows = [row for row in rows if not any(_beats(other, row) for other in rows)]
    return Problem(
        kinds=tuple(ordered),
        needs=needs,
        counts=tuple(merged_kinds[kind] for kind in ordered),
        first_any=first_any,
        stocks=tuple(tuple(row[4]) for row in rows),
        rooms=tuple(row[0] for row in rows),
        prices=tuple(row[1] for row in rows),
        limits=tuple(row[2] for row in rows),
        starts=tuple(row[3] for row in rows),
        step=price_step(stocks),
    )


def _most(needs, counts, ordered, start) -> int:
    """The room all pieces from kind ``start`` on take together."""
    pairs = zip(needs[start:], ordered[start:], strict=True)
    return sum(need * counts[kind] for need, kind in pairs)


def _beats(other, row) -> bool:
    """Whether an unlimited sort is never dearer, shorter or worse than ``row``."""
    if other is row or other[2] is not None:
        return False
    return other[0] >= row[0] and other[1] <= row[1] and other[3] <= row[3]
