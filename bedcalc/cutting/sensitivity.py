"""What would change the cost: a little shorter, a better length, a thinner saw."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

import numpy as np

from ..units import Q_, to_si
from .first_fit import lower_bound
from .least_cost import least_cost
from .model import COIN, CutError, Plan, Saw, Stock, Tenths

__all__ = ["Nudge", "SawLoss", "SweetSpots", "nudges", "saw_loss", "sweet_spots"]


@dataclass(frozen=True, kw_only=True)
class Nudge:
    """What happens if all pieces of one length change a little.

    Parameters
    ----------
    labels : tuple of str
        The pieces of this length.
    length, change : int
        Tenths of a millimetre.
    saves : int
        Smallest coins; negative if it costs more.
    proven : bool
        Both plans are proven, so the saving is exact.
    """

    labels: tuple[str, ...]
    length: int
    change: int
    saves: int
    proven: bool


#: how much is taken off a length to see what that saves
LESS = Q_(-20, "mm")


def nudges(
    plan: Plan,
    change: Q_ = LESS,
    *,
    seconds: float = 1.0,
    progress: Callable[[int, int], None] | None = None,
) -> tuple[Nudge, ...]:
    """What 20 mm less of each length would save, the largest saving first.

    Each length is changed by itself and the whole list is planned again. A saving that
    is not proven may be a little more or less.

    Parameters
    ----------
    plan : Plan
        The plan to improve, from :func:`bedcalc.cutting.least_cost`.
    change : quantity [m]
        20 mm shorter by default.
    seconds : float
        Time budget for each length.
    progress : callable, optional
        Called with how many lengths are done, and of how many.
    """
    change = round(to_si(change, "m", "nudges: 'change'") * 10_000)
    lengths = sorted({p.length for p in plan.pieces if p.count}, reverse=True)
    found = []
    for done, length in enumerate(lengths, 1):
        pieces = tuple(
            replace(p, length=Tenths(p.length + change)) if p.length == length else p
            for p in plan.pieces
        )
        new = least_cost(pieces, plan.stocks, plan.saw, seconds=seconds)
        # what fits still fits when it is shorter
        cost = min(new.cost, plan.cost) if change <= 0 else new.cost
        labels = [p.label for p in plan.pieces if p.length == length and p.count]
        found.append(
            Nudge(
                labels=tuple(dict.fromkeys(labels)),
                length=length,
                change=change,
                saves=plan.cost - cost,
                proven=plan.proven and new.bound >= cost,
            )
        )
        if progress is not None:
            progress(done, len(lengths))
    return tuple(sorted(found, key=lambda nudge: -nudge.saves))


@dataclass(frozen=True, kw_only=True)
class SweetSpots:
    """Cost of one piece over its length, if it is cut from boards of its own.

    Parameters
    ----------
    lengths : int array
        Tenths of a millimetre.
    per_piece : float array
        Smallest coins; infinite where no board is long enough.
    per_metre : float array
        Smallest coins per metre of piece.
    stock : int array
        Which stock is the cheapest, by its place on the list; -1 for none.
    pieces : int array
        Pieces that come out of one such board.
    """

    lengths: np.ndarray
    per_piece: np.ndarray
    per_metre: np.ndarray
    stock: np.ndarray
    pieces: np.ndarray

    @property
    def money(self) -> np.ndarray:
        """Cost of one piece, in whole units of money."""
        return self.per_piece / COIN


def sweet_spots(lengths: Q_, stocks: Iterable[Stock], saw: Saw) -> SweetSpots:
    """The cost of a piece jumps where one more comes out of a board: find these spots.

    Parameters
    ----------
    lengths : quantity [m], array
        Lengths to try; rounded to tenths of a millimetre.
    stocks : iterable of Stock
        What can be bought.
    saw : Saw
        Kerf and trim.

    Notes
    -----
    From a board of length L trimmed by t come n = floor((L - t + k) / (l + k)) pieces
    of length l with kerf k.
    """
    metres = np.atleast_1d(to_si(lengths, "m", "sweet_spots: 'lengths'"))
    lengths = np.rint(metres * 10_000).astype(int)
    if lengths.size and lengths.min() < 1:
        raise CutError(
            "sweet_spots: 'lengths': needs lengths of 0.1 mm or more; given "
            f"{metres.min():g} m; for example Q_(0.6, 'm')"
        )
    stocks = tuple(stocks)
    rooms = np.array([stock.room(saw) for stock in stocks])[:, None]
    prices = np.array([float(stock.price) for stock in stocks])[:, None]
    number = np.maximum(rooms // (lengths + saw.kerf), 0)
    cost = np.where(number > 0, prices / np.maximum(number, 1), np.inf)
    best = np.argmin(cost, axis=0)
    place = (best, np.arange(lengths.size))
    per_piece, some = cost[place], np.isfinite(cost[place])
    return SweetSpots(
        lengths=lengths,
        per_piece=per_piece,
        per_metre=per_piece / (lengths / 10_000),
        stock=np.where(some, best, -1),
        pieces=number[place],
    )


@dataclass(frozen=True, kw_only=True)
class SawLoss:
    """What the saw eats.

    Parameters
    ----------
    length : int
        All kerfs of the plan together, tenths of a millimetre.
    cost : int
        What a saw without kerf would save, smallest coins.
    proven : bool
        Both plans are proven, so the saving is exact.
    """

    length: int
    cost: int
    proven: bool


def saw_loss(plan: Plan, *, seconds: float = 1.0) -> SawLoss:
    """The sawdust of a plan, and what it costs compared with a saw without kerf."""
    ideal = replace(plan.saw, kerf=Tenths(0))
    pieces, stocks = plan.pieces, plan.stocks
    if lower_bound(pieces, stocks, ideal) >= plan.cost:
        return SawLoss(length=plan.sawdust, cost=0, proven=True)
    new = least_cost(pieces, stocks, ideal, seconds=seconds)
    cost = min(new.cost, plan.cost)  # the boards of the plan would do as well
    return SawLoss(
        length=plan.sawdust,
        cost=plan.cost - cost,
        proven=plan.proven and new.bound >= cost,
    )
