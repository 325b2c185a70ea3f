"""What goes into a cut plan and what comes out: pieces, stock, saw, boards, plan.

Lengths and prices are given as quantities: ``Q_(2.7, "m")``, ``Q_(11.40, "money")``.
They are kept as integers, tenths of a millimetre and thousandths of a unit of money, so
that "does it still fit" is never a question of rounding. :class:`Tenths` and
:class:`Coins` mark such integers; a bare number is refused, as nobody can say whether
600 means 60 mm or 600. The search only needs one common integer unit: sixty-fourths of
an inch work as well, if all lengths of a question use it.

Only cuts *between* pieces cost a kerf: the cut that frees the last piece falls in the
waste. A board of length L, trimmed by t in all, holds pieces l1, l2, ... if
``sum(l) + (n - 1) kerf <= L - t``, which is the same as
``sum(l + kerf) <= L - t + kerf``; the right-hand side is :meth:`Stock.room`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from math import isfinite
from typing import Any

from ..units import UnitError, from_si, to_si, ureg

__all__ = [
    "COIN", "Board", "Coins", "CutError", "Piece", "Plan", "Saw", "Stock", "Tenths",
    "tenths",
]  # fmt: skip  # a list of names

#: parts of one unit of money in which boards are priced: no currency has smaller coins
COIN = 1000


class CutError(ValueError):
    """The wanted pieces cannot be cut from the given stock, or an entry is wrong."""


class Tenths(int):
    """A length as a whole number of tenths of a millimetre."""

    __slots__ = ()


class Coins(int):
    """A price as a whole number of thousandths of a unit of money."""

    __slots__ = ()


def tenths(metres: float) -> Tenths:
    """Turn a length in metres into whole tenths of a millimetre.

    Parameters
    ----------
    metres : float
        A length in SI, zero or more.

    Returns
    -------
    Tenths
        The nearest tenth of a millimetre; 2.7 becomes 27000.
    """
    if not isfinite(metres) or metres < 0:
        raise CutError(
            f"length: needs metres, zero or more, given {metres!r}; "
            "for example tenths(2.7) for a board of 2.70 m"
        )
    return Tenths(round(metres * 10_000))


def whole_number(owner: str, name: str, value: Any, least: int, example: str) -> None:
    """Refuse anything but an integer of at least ``least``."""
    if type(value) is int and value >= least:
        return
    try:  # numpy integers are welcome
        if value.__index__() >= least and not isinstance(value, bool):
            return
    except (AttributeError, TypeError):
        pass
    raise CutError(
        f"{owner}: {name} needs a whole number of at least {least}, "
        f"given {value!r}; for example {example}"
    )


def as_tenths(owner: str, name: str, value: Any, least: int, example: str) -> Tenths:
    """A length as given, in tenths of a millimetre; ``example`` is in millimetres."""
    needed = (
        f"{owner}: {name} needs a length with its unit, of {least / 10:g} mm or more"
    )
    told = f"for example {name}=Q_({example}, 'mm')"
    if isinstance(value, ureg.Quantity):
        try:
            value = Tenths(round(to_si(value, "m", name) * 10_000))
        except (UnitError, ValueError, OverflowError, TypeError):
            raise CutError(f"{needed}; given {value}; {told}") from None
    if not isinstance(value, Tenths):
        raise CutError(f"{needed}; given {value!r} without one; {told}")
    if value < least:
        raise CutError(f"{needed}; given {value / 10:g} mm; {told}")
    return value


def as_coins(owner: str, name: str, value: Any) -> Coins:
    """A price as given, in thousandths of a unit of money."""
    needed = f"{owner}: {name} needs a sum of money of 0 or more"
    told = f"for example {name}=Q_(11.40, 'money')"
    if isinstance(value, ureg.Quantity):
        try:
            value = Coins(round(to_si(value, "money", name) * COIN))
        except (UnitError, ValueError, OverflowError, TypeError):
            raise CutError(f"{needed}; given {value}; {told}") from None
    if not isinstance(value, Coins) or value < 0:
        raise CutError(f"{needed}; given {value!r}; {told}")
    return value


def put(thing: Any, **values) -> None:
    """Set fields of a frozen dataclass while it is made."""
    for name, value in values.items():
        object.__setattr__(thing, name, value)


@dataclass(frozen=True, kw_only=True, slots=True)
class Piece:
    """Equal pieces to be cut.

    Parameters
    ----------
    label : str
        What stands on the piece, such as ``"A-side"``.
    length : quantity [m], or Tenths
        Kept in whole tenths of a millimetre.
    count : int
        How many.
    straight : bool
        Cut only from straight stock.
    """

    label: str
    length: Tenths
    count: int
    straight: bool = False

    def __post_init__(self):
        owner = f"piece {self.label!r}"
        put(self, length=as_tenths(owner, "length", self.length, 1, "2700"))
        whole_number(owner, "count", self.count, 0, "count=4")


@dataclass(frozen=True, kw_only=True, slots=True)
class Stock:
    """Boards of one length that can be bought, or are owned already.

    Parameters
    ----------
    key : str
        Its name on the list, such as ``"3.0 m"``.
    length : quantity [m], or Tenths
        As it lies there; kept in whole tenths of a millimetre.
    price : quantity [money], or Coins
        Of one board; zero for owned ones.
    limit : int, optional
        How many there are; none means as many as wanted.
    owned : bool
        Paid for already (an offcut, a sound part of a bad board).
    straight : bool
        Good enough for pieces that must be straight.
    trim : quantity [m], or Tenths, optional
        Cut away from both ends together, if not what the saw's ``trim`` says.
    """

    key: str
    length: Tenths
    price: Coins
    limit: int | None = None
    owned: bool = False
    straight: bool = True
    trim: Tenths | None = None

    def __post_init__(self):
        owner = f"stock {self.key!r}"
        put(self, length=as_tenths(owner, "length", self.length, 1, "3000"))
        put(self, price=as_coins(owner, "price", self.price))
        if self.limit is not None:
            whole_number(owner, "limit", self.limit, 0, "limit=6")
        if self.trim is not None:
            put(self, trim=as_tenths(owner, "trim", self.trim, 0, "20"))
        if self.owned and (self.price or self.limit is None):
            raise CutError(
                f"{owner}: owned boards cost nothing and are counted, given price "
                f"{self.price / COIN:g} and limit {self.limit}; "
                "for example price=Q_(0, 'money'), limit=3"
            )

    def trimmed(self, saw: Saw) -> int:
        """What is cut away from both ends together."""
        return saw.trim if self.trim is None else self.trim

    def room(self, saw: Saw) -> int:
        """The length to be shared out when each piece counts with one kerf."""
        trim = saw.trim if self.trim is None else self.trim
        return self.length - trim + saw.kerf


@dataclass(frozen=True, kw_only=True, slots=True)
class Saw:
    """What a cut takes away.

    Parameters
    ----------
    kerf : quantity [m], or Tenths
        Width of the cut.
    trim : quantity [m], or Tenths
        Cut away from both ends of a board together, saw cuts included.
    """

    kerf: Tenths
    trim: Tenths = Tenths(0)

    def __post_init__(self):
        put(self, kerf=as_tenths("saw", "kerf", self.kerf, 0, "3.2"))
        put(self, trim=as_tenths("saw", "trim", self.trim, 0, "20"))


@dataclass(frozen=True, kw_only=True, slots=True)
class Board:
    """One board and what is cut from it, as (label, length) in cutting order."""

    stock: Stock
    pieces: tuple[tuple[str, int], ...]

    @property
    def used(self) -> int:
        """The length of its pieces together."""
        return sum(length for _, length in self.pieces)

    @property
    def pattern(self) -> tuple[str, tuple[int, ...]]:
        """Stock and lengths: boards with the same pattern are cut with one set-up."""
        return self.stock.key, tuple(length for _, length in self.pieces)

    def marks(self, saw: Saw) -> tuple[tuple[str, int, int], ...]:
        """Each piece as (label, from, to) on a tape hooked to the raw end.

        Half of the trim is taken at this end. Between two pieces lies one kerf.
        """
        at = self.stock.trimmed(saw) // 2
        marks = []
        for label, length in self.pieces:
            marks.append((label, at, at + length))
            at += length + saw.kerf
        return tuple(marks)

    def leftover(self, saw: Saw) -> int:
        """From the last mark to the raw far end, its trim included."""
        start = self.stock.trimmed(saw) // 2
        cuts = max(len(self.pieces) - 1, 0)
        return self.stock.length - start - self.used - cuts * saw.kerf

    def offcut(self, saw: Saw) -> int:
        """What remains to keep: the leftover less the cut and the trim of that end."""
        trim = self.stock.trimmed(saw)
        return max(self.leftover(saw) - saw.kerf - (trim - trim // 2), 0)

    def sawdust(self, saw: Saw) -> int:
        """What the kerfs eat: one between pieces, one more if something is left."""
        trim = self.stock.trimmed(saw)
        end = self.leftover(saw) - (trim - trim // 2)
        return max(len(self.pieces) - 1, 0) * saw.kerf + max(min(end, saw.kerf), 0)


@dataclass(frozen=True, kw_only=True)
class Plan:
    """Which boards to buy and how to cut them, with what is proven about the cost.

    Parameters
    ----------
    pieces, stocks, saw
        What was asked.
    boards : tuple of Board
        What to take and cut.
    cost : int
        Thousandths of a unit of money; as a quantity: :attr:`price`.
    bound : int
        No plan can be cheaper than this.
    method : str
        How the plan was found, in a few plain words.
    seconds : float
        How long that took.
    """

    pieces: tuple[Piece, ...]
    stocks: tuple[Stock, ...]
    saw: Saw
    boards: tuple[Board, ...]
    cost: int
    bound: int
    method: str
    seconds: float = field(default=0.0, compare=False)

    @property
    def proven(self) -> bool:
        """No cheaper plan exists."""
        return self.bound >= self.cost

    @property
    def price(self):
        """What the boards cost, as a quantity of money."""
        return from_si(self.cost / COIN, "money")

    @property
    def gap(self) -> float:
        """How much dearer than the cheapest possible it can be at most, a share."""
        if self.proven:
            return 0.0
        return (self.cost - self.bound) / self.bound if self.bound else 1.0

    @property
    def used(self) -> int:
        """The length of all pieces together."""
        return sum(piece.length * piece.count for piece in self.pieces)

    @property
    def taken(self) -> int:
        """The length of all boards together."""
        return sum(board.stock.length for board in self.boards)

    @property
    def waste_share(self) -> float:
        """Length that is not in a piece, over length of all boards."""
        return 1 - self.used / self.taken if self.boards else 0.0

    @property
    def sawdust(self) -> int:
        """Length the kerfs eat, on all boards."""
        return sum(board.sawdust(self.saw) for board in self.boards)

    @property
    def leftovers(self) -> tuple[int, ...]:
        """What remains to keep from each board."""
        return tuple(board.offcut(self.saw) for board in self.boards)

    @property
    def shopping(self) -> dict[str, int]:
        """How many boards of each stock, owned ones too, in the order of the list."""
        taken = Counter(board.stock.key for board in self.boards)
        return {s.key: taken[s.key] for s in self.stocks if taken[s.key]}

    @property
    def setups(self) -> dict[tuple[str, tuple[int, ...]], int]:
        """Different patterns and how often each is cut."""
        return dict(Counter(board.pattern for board in self.boards))

    @property
    def marks(self) -> tuple[tuple[tuple[str, int, int], ...], ...]:
        """The marks of each board, see :meth:`Board.marks`."""
        return tuple(board.marks(self.saw) for board in self.boards)

    def verdict(self) -> str:
        """What is known about the cost, in words."""
        if self.proven:
            return "proven cheapest"
        if not self.bound:
            return "good, not proven"
        return f"at most {self.gap:.1%} above the cheapest possible"

    def check(self) -> Plan:
        """Go through every board again and return the plan, or say what is wrong."""
        stocks = {stock.key: stock for stock in self.stocks}
        if len(stocks) < len(self.stocks):
            raise CutError("stock: each needs its own key")
        straight = {(p.label, p.length) for p in self.pieces if p.straight}
        wanted = Counter()
        for piece in self.pieces:
            wanted[piece.label, piece.length] += piece.count
        got = Counter(piece for board in self.boards for piece in board.pieces)
        if got != +wanted:
            less, more = dict(wanted - got), dict(got - wanted)
            raise CutError(f"plan: pieces missing {less}, too many {more}")
        for board in self.boards:
            if stocks.get(board.stock.key) != board.stock:
                raise CutError(f"plan: {board.stock.key!r} is not on the stock list")
            need = sum(length + self.saw.kerf for _, length in board.pieces)
            if not board.pieces or need > board.stock.room(self.saw):
                raise CutError(f"plan: {board.pieces} do not fit {board.stock.key!r}")
            if not board.stock.straight and straight.intersection(board.pieces):
                raise CutError(f"plan: a straight piece from {board.stock.key!r}")
        for key, number in self.shopping.items():
            limit = stocks[key].limit
            if limit is not None and number > limit:
                raise CutError(f"plan: {number} of {key!r}, but there are {limit}")
        cost = sum(board.stock.price for board in self.boards)
        if cost != self.cost or self.bound > self.cost:
            raise CutError(f"plan: costs {cost}, says {self.cost}, bound {self.bound}")
        return self


def merged(pieces: Iterable[Piece]) -> dict[tuple[int, bool], int]:
    """How many of each (length, straight), longest first, straight before any."""
    counts: dict[tuple[int, bool], int] = {}
    for piece in pieces:
        if piece.count:
            kind = (piece.length, piece.straight)
            counts[kind] = counts.get(kind, 0) + piece.count
    return dict(sorted(counts.items(), reverse=True))
