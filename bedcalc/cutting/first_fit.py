"""First fit decreasing: the cut plan a person makes by hand, and a cheap bound.

Fast enough to run on every move of a slider. What it gives is a good plan, seldom the
cheapest; :func:`bedcalc.cutting.least_cost` finds that one and proves it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import gcd
from time import perf_counter
from typing import Any

from .model import Board, CutError, Piece, Plan, Saw, Stock, merged

__all__ = ["first_fit", "lower_bound"]

_PLENTY = 1 << 60


def first_fit(pieces: Iterable[Piece], stocks: Iterable[Stock], saw: Saw) -> Plan:
    """Cut the longest pieces first, each from the first board with room for it.

    The hand rule: lay out the owned boards, then choose one length to buy. Take the
    pieces from the longest to the shortest; put each on the first board with room, or
    else on a new board of the chosen length (of the shortest length that holds it, if
    the chosen one does not). At the end swap each filled board for the cheapest that
    still holds its pieces. Do this for every length as the chosen one; keep the
    cheapest outcome.

    Parameters
    ----------
    pieces : iterable of Piece
        What is needed.
    stocks : iterable of Stock
        What can be bought or is owned.
    saw : Saw
        Kerf and trim.

    Returns
    -------
    Plan
        With the bound of :func:`lower_bound`.

    Notes
    -----
    For one stock length never more than 11/9 of the least number of boards plus 6/9
    (Dosa 2007, from memory).
    """
    start = perf_counter()
    pieces, stocks = tuple(pieces), tuple(stocks)
    kinds = merged(pieces)
    rooms = [stock.room(saw) for stock in stocks]
    reach_or_teach(pieces, stocks, saw)
    owned = sorted((j for j, s in enumerate(stocks) if s.owned), key=lambda j: rooms[j])
    buyable = sorted(
        (j for j, s in enumerate(stocks) if not s.owned), key=lambda j: rooms[j]
    )
    best, best_cost = None, None
    for chosen in buyable or [None]:
        filled = _fill(kinds, stocks, rooms, saw.kerf, owned, buyable, chosen)
        if filled is None:
            continue
        cost = sum(stocks[j].price for j, _, _ in filled)
        if best_cost is None or cost < best_cost:
            best, best_cost = filled, cost
    if best is None:
        raise CutError(_too_few(pieces, stocks))
    return Plan(
        pieces=pieces,
        stocks=stocks,
        saw=saw,
        boards=labelled(pieces, [(stocks[j], cuts) for j, _, cuts in best]),
        cost=best_cost,
        bound=_bound(kinds, stocks, rooms, saw.kerf),
        method="first fit, longest first",
        seconds=perf_counter() - start,
    )


def _fill(kinds, stocks, rooms, kerf, owned, buyable, chosen):
    """Boards as [stock, room left, cuts], or None if the boards do not suffice."""
    left = [_PLENTY if s.limit is None else s.limit for s in stocks]
    boards = [[j, rooms[j], []] for j in owned for _ in range(left[j])]
    for kind, count in kinds.items():
        length, straight = kind
        need = length + kerf
        for board in boards:
            if board[1] >= need and (not straight or stocks[board[0]].straight):
                number = min(board[1] // need, count)
                board[1] -= number * need
                board[2].append((kind, number))
                count -= number
                if not count:
                    break
        while count:
            j = _next(need, straight, stocks, rooms, left, buyable, chosen)
            if j is None:
                return None
            number = min(rooms[j] // need, count)
            new = 1 if number == count else min(count // number, left[j])
            for _ in range(new):
                boards.append([j, rooms[j] - number * need, [(kind, number)]])
            left[j] -= new
            count -= new * number
    boards = [board for board in boards if board[2]]
    for board in boards:
        _swap(board, stocks, rooms, left, buyable)
    return boards


def _next(need, straight, stocks, rooms, left, buyable, chosen):
    """The stock to open: the chosen one, else the shortest that holds the piece."""
    if chosen is not None and rooms[chosen] >= need and left[chosen]:
        if not straight or stocks[chosen].straight:
            return chosen
    for j in buyable:
        if rooms[j] >= need and left[j] and (not straight or stocks[j].straight):
            return j
    return None


def _swap(board, stocks, rooms, left, buyable):
    """Change a filled board for the cheapest stock that still holds its pieces."""
    now = board[0]
    if stocks[now].owned:
        return
    filled = rooms[now] - board[1]
    straight = any(kind[1] for kind, _ in board[2])
    best = now
    for j in buyable:
        if rooms[j] >= filled and left[j] and stocks[j].price < stocks[best].price:
            if not straight or stocks[j].straight:
                best = j
    if best != now:
        left[now] += 1
        left[best] -= 1
        board[0], board[1] = best, rooms[best] - filled


def labelled(pieces: Sequence[Piece], cuts: Iterable[Any]) -> tuple[Board, ...]:
    """Boards with labels from (stock, [((length, straight), number), ...]) rows."""
    names: dict[tuple[int, bool], list[str]] = {}
    for piece in reversed(pieces):
        names.setdefault((piece.length, piece.straight), []).extend(
            [piece.label] * piece.count
        )
    boards = []
    for stock, row in cuts:
        rows = []
        for kind, number in row:
            rows += [(names[kind].pop(), kind[0]) for _ in range(number)]
        boards.append(Board(stock=stock, pieces=tuple(rows)))
    return tuple(boards)


def lower_bound(pieces: Iterable[Piece], stocks: Iterable[Stock], saw: Saw) -> int:
    """The cost that no cut plan can beat, from price per length alone.

    Buys just the length that is needed, kerfs included, at the best price per length
    and within the limits, as if boards could be joined without a seam. Pieces longer
    than half of the longest board need one board each; the dearer of the two counts,
    rounded up to a sum that the prices can make.

    Parameters
    ----------
    pieces, stocks, saw
        As for :func:`first_fit`.

    Returns
    -------
    int
        Smallest coins.
    """
    stocks = tuple(stocks)
    return _bound(merged(pieces), stocks, [s.room(saw) for s in stocks], saw.kerf)


def _bound(kinds, stocks, rooms, kerf) -> int:
    if not kinds or not stocks:
        return 0
    needs = [(length + kerf, count) for (length, _), count in kinds.items()]
    shortest, half = needs[-1][0], max(rooms) / 2
    useful = [j for j, room in enumerate(rooms) if room >= shortest]
    rest = sum(need * count for need, count in needs)
    by_length = 0
    for j in sorted(useful, key=lambda j: stocks[j].price / rooms[j]):
        limit = stocks[j].limit
        take = rest if limit is None else min(rest, limit * rooms[j])
        by_length -= -take * stocks[j].price // rooms[j]
        rest -= take
        if not rest:
            break
    by_number = 0
    for need, count in needs:
        if need > half and not any(s.owned for s in stocks):
            fits = (stocks[j].price for j in useful if rooms[j] >= need)
            by_number += count * min(fits, default=0)
    return round_up(max(by_length, by_number), price_step(stocks))


def price_step(stocks: Iterable[Stock]) -> int:
    """The step in which a cost can change: the common divisor of the prices."""
    return gcd(*(stock.price for stock in stocks)) or 1


def round_up(cost: int, step: int) -> int:
    """The next multiple of ``step`` that is not below ``cost``."""
    return -(-cost // step) * step


def reach_or_teach(pieces: Sequence[Piece], stocks: Sequence[Stock], saw: Saw) -> None:
    """Raise a helpful error if a piece is longer than every stock it may come from."""
    if not any(piece.count for piece in pieces):
        return
    if not stocks:
        raise CutError("stock: needs at least one length, given none")
    keys = [stock.key for stock in stocks]
    if len(set(keys)) < len(keys):
        twice = next(key for key in keys if keys.count(key) > 1)
        raise CutError(f"stock: each needs its own key, {twice!r} stands there twice")
    most = {}
    for straight in (False, True):
        rooms = [
            stock.room(saw) - saw.kerf
            for stock in stocks
            if stock.limit != 0 and (stock.straight or not straight)
        ]
        most[straight] = max(rooms, default=0)
    for piece in pieces:
        if piece.count and piece.length > most[piece.straight]:
            raise CutError(_too_long(piece, stocks, most[piece.straight]))


def _too_long(piece, stocks, most) -> str:
    longest = max(stocks, key=lambda stock: stock.length)
    kind = "straight " if piece.straight else ""
    return (
        f"piece {piece.label!r}: {piece.length / 10:g} mm is longer than any {kind}"
        f"board; the longest, {longest.key!r}, has {longest.length / 10:g} mm and "
        f"gives {most / 10:g} mm after trimming. Splice the piece over a post (two "
        f"pieces that meet at its middle, for example "
        f"{(piece.length - piece.length // 2) / 10:g} + {piece.length // 2 / 10:g} "
        "mm, staggered from course to course), or add a longer board"
    )


def _too_few(pieces, stocks) -> str:
    limits = ", ".join(f"{s.key!r}: {s.limit}" for s in stocks if s.limit is not None)
    number = sum(piece.count for piece in pieces)
    return (
        f"stock: first fit finds no place for all {number} pieces within the limits "
        f"({limits}); raise a limit or add a length"
    )
