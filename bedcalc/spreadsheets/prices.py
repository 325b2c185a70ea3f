"""The price list as a sheet: what is sold, in which sizes, at which price.

It goes out as a spreadsheet (.xlsx) or as plain text (.csv), is filled in by hand, and
comes back in. Semicolons, decimal commas and old Windows text are read as well.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import numpy as np

from ..currency import Currency
from ..model.place import Place
from ..model.prices import UNITS, PriceError, PriceList, check_row, goods_name
from ..tables import Row, table
from ..units import Q_
from .columns import Column, Grid, NumbersError, Problems, heading, read_files
from .reading import read_table
from .writing import plain_text, write_book

__all__ = [
    "PRICES", "price_cells", "price_row", "price_words", "read_price_rows",
    "read_prices", "same_goods", "write_prices",
]  # fmt: skip  # a list of names

PRICES = (
    Column(
        key="goods", heading="What it is", words="goods", needed=True,
        example="garden mix", width=30,
    ),
    Column(
        key="name", heading="Your name for it", says="some words",
        example="garden mix from the nursery", width=34,
    ),
    Column(key="group", heading="Group", words="groups", example="soil"),
    Column(key="sold_by", heading="Sold by", says="a word such as piece, box, m³",
           example="0.5 m³"),
    Column(key="length", heading="Length", unit="m", us="ft", low=0.05, high=20),
    Column(
        key="content", heading="Amount in one", unit="", low=1e-6, high=1e6,
        says="pieces, m² or m³ in one", example="0.5",
    ),
    Column(key="price", heading="Price each", unit="money", low=0,
           example="24.00"),
    Column(key="low", heading="Lowest price", unit="money", low=0,
           example="22.00"),
    Column(key="high", heading="Highest price", unit="money", low=0,
           example="30.00"),
    Column(key="taxed", heading="Taxed", words="yes", example="yes"),
    Column(key="count", heading="How many there are", unit="", low=0, high=10_000,
           says="a whole number; blank for plenty", example="6", width=20),
)  # fmt: skip  # rows of a table
_DATED = (
    *PRICES,
    Column(key="date", heading="Date of the price", says="the day as you write it",
           example="1 March", width=18),
)  # fmt: skip  # rows of a table
_OPTIONAL = ("name", "group", "low", "high", "taxed", "count", "date")


def price_words(
    prices: PriceList | None = None, more: Mapping[str, str] | None = None
) -> dict[str, dict[str, Any]]:
    """The words that a price list uses, each with what it stands for.

    Parameters
    ----------
    prices : PriceList or None
        A list whose own goods are known too.
    more : mapping of name to goods, optional
        Other goods, such as own fills.
    """
    goods = {row.name: row.key for row in table("goods")} | dict(more or {})
    for key, rows in (prices.goods if prices else {}).items():
        if key not in goods.values():
            goods[rows[0].name] = key
    return {
        "goods": goods,
        "groups": {key: key for key in table("price_spread").rows},
        "yes": {"yes": True, "no": False},
    }


def _size(row: Row, unit: str) -> float | None:
    if not row.length == row.length:  # not a number: not sold by length
        return None
    return float(f"{Q_(row.length, 'm').m_as(unit):.10g}")


def price_cells(
    prices: PriceList | None,
    words: Mapping[str, Mapping[str, Any]],
    system: str = "metric",
    wanted: Mapping[str, str] | Sequence[str] = (),
) -> list[list[Any]]:
    """The rows of the sheet: what has a price, then what is needed and has none.

    ``wanted`` gives each of these goods its group, where the tables do not know it.
    """
    names = {key: name for name, key in words["goods"].items()}
    unit = PRICES[4].unit_in(system)
    rows = []
    for row in prices.rows if prices else ():
        ends = [getattr(row, n, np.nan) for n in ("price", "low", "high")]
        rows.append(
            [
                names[row.goods],
                row.name,
                row.group,
                row.sold_by,
                _size(row, unit),
                row.content,
                *(None if np.isnan(end) else end for end in ends),
                getattr(row, "taxed", "") or "yes",
                None if np.isnan(row.count) else row.count,
            ]
        )
    sold = {row.goods for row in prices.rows} if prices else set()
    for goods in dict.fromkeys(wanted):
        if goods in names and goods not in sold:
            known = table("goods")
            own = wanted[goods] if isinstance(wanted, Mapping) else "soil"
            group = known[goods].group if goods in known else own
            rows.append([names[goods], "", group, *[None] * 6, "yes", None])
    return rows


def write_prices(place: Place, path: str | Path) -> Path:
    """Write the price list as a file to be edited and read in again.

    Parameters
    ----------
    place : Place
        Whose list it is; where it has none, all goods stand there without a price.
    path : str or Path
        Ending in ``.xlsx``, or ``.csv`` for plain text.
    """
    path = Path(path)
    words = price_words(place.prices)
    wanted = () if place.prices else tuple(words["goods"].values())
    date = place.prices.date if place.prices else ""
    rows = [[*row, date] for row in price_cells(place.prices, words, wanted=wanted)]
    if path.suffix == ".csv":
        with path.open("w", newline="", encoding="utf-8-sig") as file:
            out = csv.writer(file)
            out.writerow([heading(column) for column in _DATED])
            out.writerows([plain_text(cell) for cell in row] for row in rows)
        return path
    return write_book(path, {"Prices": (_DATED, rows)}, words)


# ---- reading


def read_price_rows(
    grid: Grid,
    problems: Problems,
    words: Mapping[str, Mapping[str, Any]],
    currency: Currency,
    old: PriceList | None = None,
    dates: set[str] | None = None,
) -> tuple[Row, ...]:
    """The rows of a price list; what cannot be used goes to ``problems``.

    Parameters
    ----------
    grid : Grid
    problems : Problems
    words : mapping
        As :func:`price_words` gives them.
    currency : Currency
        Its sign may stand in a price.
    old : PriceList or None
        The list as it was.
    dates : set of str, optional
        Takes the dates that the rows give.
    """
    known = {same_goods(row): row for row in old.rows} if old else {}
    found: dict[str, Row] = {}
    for line, given in read_table(
        grid, _DATED, problems, words, currency=currency, optional=_OPTIONAL
    ):
        row = price_row(given, grid.where(line), problems, known, found)
        if row is not None:
            found[row.key] = row
            if dates is not None:
                dates.add(given["date"] or "")
    return tuple(found.values())


def price_row(
    given: Mapping[str, Any],
    where: str,
    problems: Problems,
    known: Mapping[tuple, Row],
    taken: Mapping[str, Row],
) -> Row | None:
    """A row of the price list out of the cells of a line, or None.

    Parameters
    ----------
    given : mapping
        Values by the key of their column.
    where : str
        Where the line stands.
    problems : Problems
        Takes what cannot be used.
    known : mapping
        Rows that were there before, by what they sell.
    taken : mapping
        Rows that the list has already, by key.
    """
    goods = given["goods"]
    if goods is None or all(given[n] is None for n in ("price", "low", "high")):
        return None  # not known yet: the bill says that it has no price
    values = _values(given)
    if not values["group"]:
        problems.add(f"{where}, Group", "a group of goods", None, "timber")
        return None
    try:
        check_row(values, where)
    except PriceError as error:
        problems.say(_in_headings(str(error), where))
        return None
    row = Row("", values, UNITS)
    before = known.get(same_goods(row))
    if any(same_goods(row) == same_goods(one) for one in taken.values()):
        problems.say(f"{where}: this size of {values['name']} stands there twice")
        return None
    more = before._values if before is not None else {"count": np.nan}
    if "count" in given:
        values["count"] = np.nan if given["count"] is None else given["count"]
    key = before.key if before is not None else _key(values, taken)
    return Row(key, {**more, **values}, UNITS)


def _values(given: Mapping[str, Any]) -> dict[str, Any]:
    goods = given["goods"]
    group = table("goods")[goods].group if goods in table("goods") else ""
    sizes = {
        n: np.nan if given[n] is None else given[n] for n in ("price", "low", "high")
    }
    return {
        "goods": goods,
        "name": given["name"] or goods_name(goods),
        "group": given["group"] or group,
        "sold_by": given["sold_by"] or "piece",
        "length": np.nan if given["length"] is None else given["length"].m_as("m"),
        "content": np.nan if given["content"] is None else given["content"],
        **sizes,
        "yard": "",
        "taxed": "no" if given["taxed"] is False else "yes",
        "source": "own",
        "where": "price given by the reader",
    }


def same_goods(row: Row) -> tuple:
    """What a row sells, in which size: two rows of it would be one too many."""
    return row.goods, row.name, f"{row.length:.6g}", f"{row.content:.6g}"


def _key(values: Mapping[str, Any], taken: Mapping[str, Row]) -> str:
    """A name for a size that no other row has."""
    cut = values["length"] == values["length"]  # a number
    size = values["length"] if cut else values["content"]
    first = f"{values['goods']}-{size:.6g}"
    tries = (first if n == 1 else f"{first}-{n}" for n in range(1, 1000))
    return next(key for key in tries if key not in taken)


def _in_headings(words: str, where: str) -> str:
    """A message with the heading of the column in place of its key."""
    for column in PRICES:
        words = words.replace(f"{where}, {column.key}:", f"{where}, {column.heading}:")
    return words


def read_prices(path: str | Path, currency: Currency | None = None) -> PriceList:
    """Read a price list that a person has edited.

    Parameters
    ----------
    path : str or Path
        ``.xlsx`` or ``.csv`` as :func:`write_prices` writes them; rows may be added,
        taken out and changed, columns may stand in any order.
    currency : Currency, optional
        In which the prices are; its sign may stand in a cell.

    Raises
    ------
    NumbersError
        With row and column, what was needed and what was given, all at once.
    """
    path, currency = Path(path), currency or Currency()
    grids = read_files(path)
    grid = grids.get("Prices") or next(iter(grids.values()))
    problems = Problems(path.name)
    dates: set[str] = set()
    rows = read_price_rows(grid, problems, price_words(), currency, dates=dates)
    problems.stop()
    if not rows:
        raise NumbersError(
            path.name, ["needs at least one line with a price; given none"]
        )
    return PriceList(
        name=path.stem,
        rows=rows,
        currency=currency,
        date=dates.pop() if len(dates) == 1 else "",
    )
