"""What a yard has, kept in a price list: lengths, prices, how many, boards owned."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from ..cutting.stock import Sold
from ..model.prices import UNITS, PriceList, goods_name
from ..tables import Row, table

__all__ = ["with_sold"]

_OWN = "your own"


def with_sold(prices: PriceList, goods: str, sold: Iterable[Sold]) -> PriceList:
    """The list with these lengths of some goods in place of those it had.

    Parameters
    ----------
    prices : PriceList
    goods : str
        Key of what is cut.
    sold : iterable of Sold
        A price of 0 makes boards that lie there already; their lines come last.
    """
    old = list(prices.goods.get(goods, ()))
    known = table("goods")
    group = old[0].group if old else "timber"
    name = goods_name(goods, prices.goods).removesuffix(f", {_OWN}")
    made: list[Row] = []
    for one in sorted(sold, key=lambda one: one.price == 0):
        mine = one.price == 0
        called = f"{name}, {_OWN}" if mine else name
        row = next(
            (r for r in old if r.length == one.length and (r.price == 0) == mine), None
        )
        if row is None:
            values = {
                "goods": goods, "name": called, "sold_by": "piece",
                "group": known[goods].group if goods in known else group,
                "length": one.length, "content": 1.0, "low": np.nan, "high": np.nan,
                "yard": "", "taxed": "yes", "source": "own",
                "where": "price given by the reader",
            }  # fmt: skip  # rows of a table
            row = Row("", values | {"price": np.nan}, UNITS)
        else:
            old.remove(row)
        change = {"count": np.nan if one.count is None else float(one.count)}
        if row.price != one.price:  # what it may cost at most was said of the old price
            change |= {"price": float(one.price), "low": np.nan, "high": np.nan}
        changed = row.changed(**change)
        taken = {r.key for r in (*made, *prices.rows) if r is not row}
        made.append(Row(_key(changed, row.key, taken), changed._values, UNITS))
    rows, placed = [], False
    for row in prices.rows:
        if row.goods != goods:
            rows.append(row)
        elif not placed:
            rows += made
            placed = True
    return prices.with_rows(rows if placed else [*rows, *made])


def _key(row: Row, key: str, taken: set[str]) -> str:
    """Its own key, or a name for the line that no other has."""
    first = key or f"{row.goods}-{row.length:.6g}" + ("-own" if row.price == 0 else "")
    tries = (first if n == 1 else f"{first}-{n}" for n in range(1, 1000))
    return next(word for word in tries if word not in taken)
