"""What the yard has: lengths, prices and numbers of one section, typed row by row."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import ipywidgets

from ..currency import Currency
from ..parsing.typed import EntryError, read_entry
from ..questions.cut_garden import CutError, Sold
from ..units import Q_, Units, sign_after
from .kit.inputs import NumberField
from .kit.style import button, button_row, html
from .kit.words import phrase, plain

__all__ = ["StockTable"]

_ROWS = 8
_FIELDS = (
    ("length", "Length", "m", "3.6", 0.1),
    ("price", "Price", "money", "13.90", 0.1),
    ("count", "How many", "", "6", 1.0),
)


class _Cell(NumberField):
    """A number box of the table; its sentence lies under the whole row."""

    _css = """
    .bc-stock-row { display: grid; width: 100%; gap: 2px 8px; padding: 2px 0;
      max-width: 30em !important; grid-template-columns: repeat(3, minmax(0, 1fr)); }
    .bc-stock-row > .bc-entry { display: contents; }
    .bc-stock-row .bc-input { grid-row: 1; text-align: right; }
    .bc-stock-row .bc-unit { display: none; }
    .bc-stock-row .bc-says { grid-column: 1 / -1; grid-row: 2; }
    .bc-stock-row .bc-says:empty { display: none; }
    .bc .bc-stock h3 { margin: 16px 0 2px; }
    .bc-stock-head { align-self: end; text-align: right; color: var(--bc-second);
      font-size: var(--bc-label-size); }
    """


class _Row:
    """One length: three boxes that are read together."""

    def __init__(self, number: int, changed: Callable, currency: Currency):
        self._currency, self._long = currency, "m"
        self.sold: Sold | None = None
        self._texts = ["", "", ""]
        self._changed = changed
        self.cells = [
            _Cell(
                label=f"{label}, line {number}",
                label_shown=False,
                step=step,
                low=0,
                high=10_000_000,
                unit="",
                placeholder="plenty" if label == _FIELDS[2][1] else "",
            )
            for _, label, _, _, step in _FIELDS
        ]
        for n, cell in enumerate(self.cells):
            cell.on_sent(lambda text, n=n: self._typed(n))
        self.widget = ipywidgets.Box(self.cells).add_class("bc-stock-row")

    def show(self, sold: Sold | None) -> None:
        """Bring the boxes to a length, or empty them."""
        self.sold = sold
        self._texts = ["", "", ""]
        if sold is not None:
            count = "" if sold.count is None else f"{sold.count}"
            self._texts = [
                f"{Q_(sold.length, 'm').m_as(self._long):.4g}",
                f"{sold.price:.{self._currency.decimals}f}",
                count,
            ]
        for cell, text in zip(self.cells, self._texts, strict=True):
            cell.value, cell.says, cell.tone = text, "", ""

    def use(self, currency: Currency, long: str) -> None:
        """Show prices in this currency and lengths in ``"m"`` or ``"ft"``."""
        self._currency, before, self._long = currency, self._long, long
        if before != long and self.sold is not None:
            self.show(self.sold)

    def _typed(self, n: int) -> None:
        texts = [cell.value.strip() for cell in self.cells]
        for cell in self.cells:
            cell.says, cell.tone = "", ""
        if texts == self._texts:
            return
        if not texts[0]:
            if self.sold is not None or any(texts):
                self.show(None)
                self._changed()
            return
        if not texts[1]:
            self._ask(1)
            return
        try:
            sold = self._read(texts)
        except (EntryError, CutError) as error:
            self._refuse(n, str(error))
            return
        self.show(sold)
        self._changed()

    def _read(self, texts: Sequence[str]) -> Sold:
        found = {}
        for n, ((field, label, unit, example, _), text) in enumerate(
            zip(_FIELDS, texts, strict=True)
        ):
            if not text:
                found[field] = None
            elif self.sold is not None and text == self._texts[n]:
                found[field] = getattr(self.sold, field)  # as exact as it was given
            else:
                example = "" if unit == "money" else example
                given = read_entry(
                    text,
                    self._long if unit == "m" else unit,
                    label,
                    bare=True,
                    example=example,
                    currency=self._currency,
                )
                found[field] = float(given.m_as(unit))
        count = found["count"]
        if count is not None and count == int(count):
            found["count"] = int(count)
        return Sold(**found)

    def _ask(self, n: int) -> None:
        _, label, _, example, _ = _FIELDS[n]
        said = f"{label}: this length counts once it has one; for example {example}"
        self.cells[n].says, self.cells[n].tone = plain(said), "hint"

    def _refuse(self, n: int, said: str) -> None:
        """Say what would do beside the field, and put back what was there."""
        names = [label.lower() for _, label, *_ in _FIELDS]
        n = next(
            (i for i, name in enumerate(names) if said.lower().startswith(name)), n
        )
        kept = self._texts[n]
        said = said[0].upper() + said[1:]
        if kept:
            said = phrase("stays", said=said.rstrip(".") + ".", kept=kept)
        self.cells[n].value = kept
        self.cells[n].says, self.cells[n].tone = plain(said), "refused"


class StockTable:
    """Lengths the yard has of one section, to be changed by numbers.

    Parameters
    ----------
    as_listed : callable
        The lengths of some goods on the price list.
    changed : callable
        Called with the goods and their lengths after each change.
    units : Units
        The reader's, with the currency of the price list.
    """

    def __init__(
        self,
        as_listed: Callable[[str], Sequence[Sold]],
        changed: Callable[[str, tuple[Sold, ...]], object],
        units: Units,
    ):
        self._listed, self._told = as_listed, changed
        self.goods, self._kept = "", {}
        self.rows = [_Row(n + 1, self._changed, units.currency) for n in range(_ROWS)]
        self._heading, self._head, self._owned = html(""), html(""), False
        self._back = button_row(button("As the price list says", self.restore))
        self.use(units)
        self.widget = ipywidgets.VBox(
            [
                self._heading,
                self._head,
                *(row.widget for row in self.rows),
                self._back,
            ]
        ).add_class("bc-stock")

    def use(self, units: Units, own: bool = False) -> None:
        """Show it in these units; ``own``: what is typed goes into the price list."""
        long = "m" if units == "metric" else "ft"
        for row in self.rows:
            row.use(units.currency, long)
        price = sign_after("price each", "coins", units)
        head = "".join(
            f"<span class='bc-stock-head'>{words}</span>"
            for words in (f"length, {long}", price, "how many")
        )
        self._head.value = f'<div class="bc-stock-row">{head}</div>'
        self._owned = own
        (self._back.add_class if own else self._back.remove_class)("bc-hide")

    @property
    def sold(self) -> dict[str, tuple[Sold, ...]]:
        """What was changed and is in no list, by goods."""
        return dict(self._kept)

    @property
    def typed(self) -> tuple[Sold, ...]:
        """The lengths in the boxes."""
        return tuple(row.sold for row in self.rows if row.sold)

    def show(self, goods: str, name: str) -> None:
        """Bring the table to another section, or to the list as it now is."""
        kept = "It is kept in your price list." if self._owned else ""
        self._heading.value = (
            f"<h3>What the yard has: {plain(name)}</h3><p>Type over the numbers. Empty "
            "a length to take it off; a price of 0 is for boards you own, with how "
            f"many there are. {kept}</p>"
        )
        rows = tuple(self._kept.get(goods) or self._listed(goods))
        if goods == self.goods and _same(rows, self.typed):
            return  # a line that is not complete yet stays
        self.goods = goods
        self._fill(rows)

    def forget(self) -> None:
        """Let go of what was only tried out: another garden is open."""
        self._kept = {}

    def _fill(self, rows: Sequence[Sold]) -> None:
        for n, row in enumerate(self.rows):
            row.show(rows[n] if n < len(rows) else None)
        self._room()

    def _room(self) -> None:
        """Show what is used, and one empty line."""
        used = max((n for n, r in enumerate(self.rows) if r.sold), default=-1)
        for n, row in enumerate(self.rows):
            (row.widget.remove_class if n <= used + 1 else row.widget.add_class)(
                "bc-hide"
            )

    def restore(self) -> None:
        """Back to the price list."""
        if self.goods in self._kept:
            del self._kept[self.goods]
            self._told(self.goods, ())
        self._fill(tuple(self._listed(self.goods)))

    def _changed(self) -> None:
        if not self._owned:
            self._kept[self.goods] = self.typed
        self._room()
        self._told(self.goods, self.typed)


def _same(some: Sequence[Sold], others: Sequence[Sold]) -> bool:
    def order(rows: Sequence[Sold]) -> list[tuple]:
        return sorted((r.length, r.price, r.count or -1) for r in rows)

    return order(some) == order(others)
