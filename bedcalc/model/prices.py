"""Price lists: what is sold, in which sizes, at which price, in which currency.

A list is invented (the two of the demo garden) or the reader's own. Nothing that it
lacks is free, and no price of one list ever fills a gap in another.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

import numpy as np

from ..currency import Currency, CurrencyError
from ..tables import Row, table
from ..text_files import short

__all__ = ["COLUMNS", "PriceError", "PriceList", "check_row", "goods_name"]

#: columns of a price list: name, unit (None is text). ``count`` is how many there
#: are; blank is plenty. With a price of 0 they lie there already
COLUMNS = (
    ("key", None), ("goods", None), ("name", None), ("group", None),
    ("sold_by", None), ("length", "m"), ("content", ""), ("price", "money"),
    ("low", "money"), ("high", "money"), ("count", ""), ("yard", None),
    ("taxed", None), ("source", None), ("where", None),
)  # fmt: skip  # rows of a table
UNITS = {name: unit for name, unit in COLUMNS if unit is not None}
_CURRENCY = ("code", "sign", "decimals", "before")
_NEEDED = ("goods", "name", "group", "sold_by", "price")


_NOTHING: Mapping[str, Sequence[Row]] = {}


class PriceError(ValueError):
    """A line of a price list cannot be used: the message says what would do."""


def goods_name(goods: str, sold: Mapping[str, Sequence[Row]] = _NOTHING) -> str:
    """What people call some goods: as the list does, else as data/goods.csv does.

    Parameters
    ----------
    goods : str
        Key of the goods. One that nobody knows is the reader's own word.
    sold : mapping of goods to rows, optional
        What a price list has.
    """
    if sold.get(goods):
        return sold[goods][0].name
    if goods in table("goods"):
        return table("goods")[goods].name
    return goods.replace("_", " ")


def _shown(value: float) -> str:
    return f"{value:g}" if value == value else "a blank"


def check_row(values: dict[str, Any], where: str) -> None:
    """Refuse a line of a price list that cannot be; a blank content becomes 1.

    Parameters
    ----------
    values : dict
        Column to text or number, blanks as not-a-number.
    where : str
        File and line, for the message.
    """
    if not values["goods"]:
        raise PriceError(f"{where}, goods: needs a key, given nothing; for example mix")
    if not 0 <= values["price"] < 1e10:
        raise PriceError(
            f"{where}, price: needs an amount, zero or more; given "
            f"{_shown(values['price'])}; for example 24.00"
        )
    low, price, high = (values[name] for name in ("low", "price", "high"))
    if low < 0 or low > price or high < price or np.isinf(high):
        wrong = "high" if high < price or np.isinf(high) else "low"
        raise PriceError(
            f"{where}, {wrong}: needs low, price, high in rising order, or a blank; "
            f"given {', '.join(map(_shown, (low, price, high)))}; for example "
            "22.00, 24.00, 30.00"
        )
    count = values.get("count", np.nan)
    if not np.isnan(count) and (count != int(count) or not 0 <= count <= 10_000):
        raise PriceError(
            f"{where}, count: needs a whole number from 0 to 10000, or a blank for "
            f"plenty; given {_shown(count)}; for example 6"
        )
    known = table("goods")
    cut = values["goods"] in known and known[values["goods"]].counted == "m"
    if cut and not values["length"] > 0:
        raise PriceError(
            f"{where}, length: needs the length of one {values['name']} in m; given "
            f"{_shown(values['length'])}; for example 3.6"
        )
    if not values["content"] > 0:
        values["content"] = 1.0
    if values["group"] not in table("price_spread"):
        raise PriceError(
            f"{where}, group: needs one of {', '.join(table('price_spread').rows)}; "
            f"given {short(values['group'])!r}; for example soil"
        )


@dataclass(frozen=True, kw_only=True)
class PriceList:
    """One price list in one currency.

    ``rows`` have the columns of ``COLUMNS``; ``date`` is the day of the prices as the
    reader writes it; ``taxed_inside`` says that the prices contain the tax already.
    """

    name: str
    rows: tuple[Row, ...] = ()
    currency: Currency = Currency()
    date: str = ""
    taxed_inside: bool = False

    def __post_init__(self):
        if not isinstance(self.name, str) or not self.name.strip():
            raise PriceError(
                f"price list, name: needs some words; given {self.name!r}; for "
                "example 'timber merchant, spring'"
            )
        if not isinstance(self.date, str) or not isinstance(self.taxed_inside, bool):
            raise PriceError(
                f"price list {self.name}: needs date as text and taxed_inside true or "
                f"false; given {self.date!r} and {self.taxed_inside!r}; for example "
                "date = '1 March', taxed_inside = false"
            )
        whole = tuple(
            r if hasattr(r, "low") and hasattr(r, "count") else _with_blanks(r)
            for r in self.rows
        )
        object.__setattr__(self, "rows", whole)

    @classmethod
    def named(cls, key: str) -> PriceList:
        """An invented list of the demo garden: ``demo`` or ``demo_us``."""
        if key not in table("price_lists"):
            raise PriceError(
                f"price list: needs one of {', '.join(table('price_lists').rows)}, or "
                f"a list of your own; given {short(key)!r}; for example 'demo'"
            )
        about = table("price_lists")[key]
        return cls(
            name=key,
            rows=tuple(table(f"prices_{key}")),
            currency=Currency.of(about.currency),
            date=about.date,
            taxed_inside=about.taxed_inside == "yes",
        )

    @property
    def invented(self) -> bool:
        """Whether it is one of the demo garden's lists."""
        return self.name in table("price_lists")

    @cached_property
    def goods(self) -> dict[str, tuple[Row, ...]]:
        """What is for sale, by goods key: the sizes with their prices."""
        found: dict[str, list[Row]] = {}
        for row in self.rows:
            found.setdefault(row.goods, []).append(row)
        return {key: tuple(rows) for key, rows in found.items()}

    def with_rows(self, rows: Iterable[Row], **changes: Any) -> PriceList:
        """The same list with other rows."""
        return replace(self, rows=tuple(rows), **changes)

    def dearer(self, share: float) -> PriceList:
        """All prices dearer by a share (0.2 is a fifth), rounded to the coin."""
        if not share:
            return self
        step = self.currency.decimals
        return self.with_rows(_priced(row, 1 + share, step) for row in self.rows)

    def times(self, **groups: float) -> PriceList:
        """Prices of some groups multiplied: ``timber=1.2``, ``soil=0`` for a gift."""
        return self.with_rows(
            _priced(row, groups.get(row.group, 1.0)) for row in self.rows
        )

    # ---- in a file

    def as_words(self) -> dict[str, Any]:
        """The list as a garden file keeps it: filled cells only."""
        money = self.currency
        return {
            "name": self.name,
            "date": self.date,
            "taxed_inside": self.taxed_inside,
            "currency": {n: getattr(money, n) for n in _CURRENCY} if money else {},
            "rows": [_row_words(row) for row in self.rows],
        }

    @classmethod
    def from_words(cls, given: Mapping[str, Any], where: str) -> PriceList:
        """A list out of a garden file.

        Parameters
        ----------
        given : mapping
            As :meth:`as_words` writes it; ``currency = { code = "CHF" }`` will do.
        where : str
            Which list of which file it is, for the message.

        Raises
        ------
        PriceError
            With line and entry, what was needed and what was given.
        """
        _named_entries(given, where, 'name = "spring", rows = [...]')
        name = given.get("name", "")
        where = f"{where} {name}".strip()
        if name in table("price_lists"):
            raise PriceError(
                f"{where}, name: needs a name of its own, given that of an invented "
                "list; for example 'timber merchant, spring'"
            )
        rows = given.get("rows", [])
        if not isinstance(rows, list):
            raise PriceError(
                f"{where}, rows: needs a list of lines; given {short(rows)!r}; for "
                f"example rows = [{_EXAMPLE}]"
            )
        return cls(
            name=name,
            rows=tuple(
                _row_read(one, f"{where}, line {n}", n)
                for n, one in enumerate(rows, start=1)
            ),
            currency=_currency_read(given.get("currency", {}), where),
            date=given.get("date", ""),
            taxed_inside=given.get("taxed_inside", False),
        )


_EXAMPLE = (
    '{ goods = "mix", name = "garden mix", group = "soil", sold_by = "m³", price = 48 }'
)


def _named_entries(given: Any, where: str, example: str) -> None:
    """Refuse what is not a set of named entries; one that nobody reads may stay."""
    if not isinstance(given, Mapping):
        raise PriceError(
            f"{where}: needs named entries; given {short(given)!r}; for example "
            f"{{ {example} }}"
        )


def _currency_read(given: Any, where: str) -> Currency:
    """The currency; what is left out is as usual for its code."""
    where = f"{where}, currency"
    _named_entries(given, where, 'code = "CHF"')
    given = {name: given[name] for name in _CURRENCY if name in given}
    try:
        if given.get("code") and len(given) < len(_CURRENCY):
            return Currency.of(**given)
        return Currency(**given)
    except CurrencyError as error:
        raise PriceError(f"{where.removesuffix('currency')}{error}") from None


def _with_blanks(row: Row) -> Row:
    """A line with all columns, those it did not have left blank."""
    found = {n: getattr(row, n, "" if u is None else np.nan) for n, u in COLUMNS[1:]}
    return Row(row.key, found, UNITS)


def _priced(row: Row, factor: float, step: int | None = None) -> Row:
    if factor == 1:
        return row
    moved = {name: getattr(row, name) * factor for name in ("price", "low", "high")}
    if step is not None:
        moved = {name: round(value, step) for name, value in moved.items()}
    return row.changed(**moved)


def _row_words(row: Row) -> dict[str, Any]:
    found: dict[str, Any] = {"key": row.key}
    for name, unit in COLUMNS[1:]:
        value = getattr(row, name, "")
        if value != "" and value == value:  # neither empty nor not-a-number
            found[name] = float(value) if unit is not None else value
    return found


def _row_read(given: Any, where: str, number: int) -> Row:
    _named_entries(given, where, _EXAMPLE.strip("{ }"))
    missing = [name for name in _NEEDED if name not in given]
    if missing:
        raise PriceError(
            f"{where}: needs {', '.join(missing)}, which the file does not give; for "
            f"example {_EXAMPLE}"
        )
    values: dict[str, Any] = {}
    for name, unit in COLUMNS:
        value = given.get(name, "" if unit is None else float("nan"))
        number_ = isinstance(value, int | float) and not isinstance(value, bool)
        if number_ != (unit is not None) or not isinstance(value, str | int | float):
            raise PriceError(
                f"{where}, {name}: needs {'text' if unit is None else 'a number'}; "
                f"given {short(value)!r}; for example "
                f"{'larch board' if unit is None else '8.90'}"
            )
        values[name] = value if unit is None else float(value)
    key = values.pop("key") or f"{values['goods']}-{number}"
    check_row(values, where)
    return Row(key, values, UNITS)
