"""What can be had: the merchant's lengths, boards owned already, bad boards."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from .model import COIN, Coins, CutError, Stock, tenths

__all__ = ["BadBoard", "Owned", "Sold", "stocks_from"]

LENGTHS = (0.3, 13.0)  # m, of anything that is sold by the length


@dataclass(frozen=True, kw_only=True)
class Sold:
    """One length the merchant has.

    Parameters
    ----------
    length : float
        Metres.
    price : float
        Money for one; 0 for boards that lie there already and are counted.
    count : int, optional
        How many there are; none means as many as wanted.
    """

    length: float
    price: float
    count: int | None = None

    def __post_init__(self):
        low, high = LENGTHS
        if not low <= self.length <= high:
            raise CutError(
                f"length: needs {low:g} to {high:g} m; given {self.length:g} m; "
                "for example 3.6"
            )
        if not 0 <= self.price < 1e9:
            raise CutError(
                f"price: needs 0 or more for one board; given {self.price:g}; "
                "for example 11.40"
            )
        number = self.count
        if number is not None and (number != int(number) or not 0 <= number <= 10_000):
            raise CutError(
                f"how many: needs a whole number, or nothing for plenty; given "
                f"{number:g}; for example 6"
            )
        if self.price == 0 and number is None:
            raise CutError(
                "how many: needs a number where the price is 0, for boards that lie "
                "there already are counted; given nothing; for example 3"
            )


@dataclass(frozen=True, kw_only=True)
class Owned:
    """Boards lying there already: ``count`` of ``length`` metres of these goods."""

    goods: str
    length: float
    count: int = 1
    straight: bool = True


@dataclass(frozen=True, kw_only=True)
class BadBoard:
    """A bought board of ``stock`` (a key of the price list) with a bad place.

    ``at`` is the middle of the bad place from one end, ``width`` what is cut out, in
    metres. It becomes two short sound boards.
    """

    goods: str
    stock: str
    at: float
    width: float = 0.1


def stocks_from(goods: str, rows: Iterable[Sold]) -> list[Stock]:
    """The merchant's lengths of one section as stock to cut from.

    Parameters
    ----------
    goods : str
        Key of the section.
    rows : iterable of Sold
        A price of 0 makes owned boards: they lie there already.
    """
    found = []
    for number, row in enumerate(rows, start=1):
        free = row.price == 0
        start = f"own {row.length:g} m" if free else f"{goods}-{row.length:g}"
        found.append(
            Stock(
                key=f"{start} ({number})",
                length=tenths(row.length),
                price=Coins(round(row.price * COIN)),
                limit=None if row.count is None else int(row.count),
                owned=free,
            )
        )
    return found
