"""Own prices without code: the list, its currency and tax, prices, a spreadsheet."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import ipywidgets

from ..currency import Currency, CurrencyError, currencies
from ..model.prices import PriceError, PriceList
from ..spreadsheets.columns import NumbersError
from ..spreadsheets.own_numbers import numbers_file, read_numbers, write_numbers
from .cost_goods import GoodsForm
from .kit.controls import choice_row, group, list_row, slider_row
from .kit.inputs import Message, NumberField
from .kit.style import button, button_row, paper
from .kit.view import Desk
from .kit.words import plain

__all__ = ["OwnPrices", "own_prices"]

_YES = [(False, "no"), (True, "yes")]
_INSIDE = [(False, "not in the prices"), (True, "in the prices")]
_NEW, _OWN = "new", "own"
_FIRST = "own prices"


def _field(label: str, placeholder: str = "") -> NumberField:
    """A field that is sent when it is left, too."""
    made = NumberField(label=label, step=1.0, placeholder=placeholder)
    return made.add_class("bc-text-row")


class OwnPrices:
    """A form for the price list of the reader's own garden; show :attr:`widget`.

    Parameters
    ----------
    about : Desk
        Its session keeps what is entered.
    """

    def __init__(self, about: Desk):
        self.about, self.session = about, about.session
        self.says, self.told = Message(), Message()
        self.lists = list_row("Price list", [(_NEW, "start a list")], _NEW, name="list")
        codes = [(code, f"{code}, {name}") for code, name in currencies()]
        self.code = list_row(
            "Currency",
            [("", "not chosen"), (_OWN, "a sign of my own"), *codes],
            "",
            name="code",
        )
        self.sign = _field("Sign", "Fr.")
        self.decimals = slider_row("Decimals", "", 0, 3, 1, 2, name="decimals")
        self.before = choice_row(
            "Sign stands",
            [(False, "after the number"), (True, "before it")],
            False,
            name="before",
        )
        self.date = _field("Prices of", "1 March")
        self.inside = choice_row("Tax is", _INSIDE, False, name="inside")
        self.tax = choice_row("Add tax", _YES, False, name="add_tax")
        self.rate = slider_row("Tax rate", "percent", 0, 30, 1, 20, name="own_rate")
        self.goods = GoodsForm(self)
        self._bind()
        self.form = ipywidgets.VBox(
            [
                group(
                    "List and money", self.lists, self.code, self.sign, self.decimals,
                    self.before, self.date, self.inside, self.tax, self.rate,
                ),
                self.goods.widget,
                button_row(
                    button("Write a spreadsheet", lambda: self._act(self.write)),
                    button("Read it back", lambda: self._act(self.read)),
                ),
            ]
        )  # fmt: skip  # rows of a table
        self.widget = paper(self.says, self.form, self.told)
        self.widget.add_class("bc-view-own-prices")
        if self.session is not None:
            self.session.observe(lambda origin: self.show())
        self.show()

    def _repr_mimebundle_(self, **kwargs):
        return self.widget._repr_mimebundle_(**kwargs)

    def _bind(self) -> None:
        self.lists.observe(lambda change: self._choose(change.new))
        self.code.observe(lambda change: self._act(lambda: self._coin(change.new)))
        self.sign.on_sent(lambda text: self._money(sign=text.strip()))
        self.decimals.observe(lambda change: self._money(decimals=change.new))
        self.before.observe(lambda change: self._money(before=change.new))
        self.date.on_sent(lambda text: self.put(date=text.strip()[:80]))
        self.inside.observe(lambda change: self.put(taxed_inside=change.new))
        self.tax.observe(lambda change: self._place(with_tax=change.new))
        self.rate.observe(lambda change: self._place(tax_rate=change.new))

    # ---- what is there

    @property
    def prices(self) -> PriceList | None:
        """The garden's own list that is open, or None."""
        here = self.session.place.prices if self.session else None
        return here if here is not None and not here.invented else None

    # ---- changing

    def put(self, **changes: Any) -> None:
        """Change the list, and save: ``rows``, ``currency``, ``date``."""
        old = self.prices or PriceList(name=self._free_name())
        self._keep(old.with_rows(changes.pop("rows", old.rows), **changes))

    def _keep(self, new: PriceList | None) -> None:
        garden = self.session.garden
        known = {one.name: one for one in garden.price_lists}
        if new is not None:
            known[new.name] = new
        place = garden.place.change(prices=new)
        self.session.update(
            garden.change(place=place, price_lists=tuple(known.values())), origin=self
        )

    def _place(self, **changes: Any) -> None:
        self.session.take_place(self.session.place.change(**changes))

    def _free_name(self) -> str:
        known = {one.name for one in self.session.garden.price_lists}
        tries = (_FIRST if n == 1 else f"{_FIRST} {n}" for n in range(1, 1000))
        return next(name for name in tries if name not in known)

    def _choose(self, name: str) -> None:
        """Another list was chosen, or a new one is begun."""
        if name == _NEW:
            money = self.session.place.currency if self.prices else Currency()
            self._keep(PriceList(name=self._free_name(), currency=money))
            return
        lists = {one.name: one for one in self.session.garden.price_lists}
        self._keep(lists.get(name, self.prices))

    def _coin(self, code: str) -> str:
        """Another currency was chosen."""
        if code == _OWN:
            self._own_sign(True)
            return "Now write the sign of your money, and press Enter."
        self.put(currency=Currency.of(code) if code else Currency())
        return ""

    def _money(self, **changes: Any) -> None:
        """Change sign, decimals or place of the sign of the currency."""
        now = self.prices.currency if self.prices else Currency()
        given = (
            dict(
                code="" if self.code.value == _OWN else now.code,
                sign=now.sign,
                decimals=now.decimals,
                before=now.before,
            )
            | changes
        )
        self.sign.says = ""
        try:
            self.put(currency=Currency(**given))
        except CurrencyError as error:
            self.sign.says, self.sign.tone = plain(str(error)), "refused"

    def _act(self, act: Callable[[], str]) -> None:
        try:
            said, tone = act(), "kept"
        except (NumbersError, CurrencyError, PriceError, OSError) as error:
            said, tone = str(error), "refused"
        lines = "</p><p>".join(plain(line) for line in said.splitlines())
        with self.told.hold_sync():
            self.told.html = f"<p>{lines}</p>" if said else ""
            self.told.tone = tone

    # ---- the spreadsheet

    def write(self) -> str:
        """Write the spreadsheet of all own numbers, beside the garden file."""
        garden = self.session.garden
        path = self.session.path.with_name(numbers_file(garden))
        older = path.with_name(f"{path.stem} before.xlsx")
        kept = ""
        if path.exists():
            path.replace(older)
            kept = f" The one that was there is now called {older.name}."
        write_numbers(garden, path)
        return (
            f"Written: {path.name}, beside your garden file. Open it, put in your "
            f"numbers, save and close it; then press Read it back.{kept}"
        )

    def read(self) -> str:
        """Take over what stands in the spreadsheet; all of it or nothing."""
        old = self.session.garden
        path = self.session.path.with_name(numbers_file(old))
        if not path.exists():
            return f"Not read: there is no {path.name} yet. Write it first."
        new = read_numbers(path, old)
        if new == old:
            return f"{path.name} says the same as your garden: nothing has changed."
        self.session.update(new, origin=self)
        prices = new.place.prices
        count = len(prices.rows) if prices else 0
        return (
            f"Taken over from {path.name}: {count} prices, {len(new.fills)} own fills, "
            f"{len(new.people)} own people, and what it says of the plot and the "
            "place. Undo, in the bar at the top, takes it back."
        )

    # ---- showing

    def show(self) -> None:
        """Bring the form to the garden as it now is."""
        own = self.session is not None and self.session.own
        (self.form.remove_class if own else self.form.add_class)("bc-hide")
        self._say(own)
        if not own:
            return
        garden, prices = self.session.garden, self.prices
        names = [(one.name, one.name) for one in garden.price_lists]
        if prices is not None and prices.name not in dict(names):
            names.append((prices.name, prices.name))
        first = [] if prices else [("", "none yet")]
        self.lists.relist(
            [
                *first,
                *names,
                (_NEW, "start another list …" if names else "start one …"),
            ],
            prices.name if prices else "",
        )
        money = prices.currency if prices else Currency()
        code = money.code or (_OWN if money.sign else "")
        known = dict(self.code.options)
        if code not in known:
            self.code.relist([(code, code), *self.code.options], code)
        self.code.set(code)
        self._own_sign(bool(money))
        self.sign.value = money.sign
        self.decimals.set(money.decimals)
        self.before.set(money.before)
        self.date.value = prices.date if prices else ""
        self.inside.set(bool(prices and prices.taxed_inside))
        self.tax.shown = not (prices and prices.taxed_inside)
        self.tax.set(garden.place.with_tax)
        self.rate.set(garden.place.tax_rate)
        self.goods.show()

    def _own_sign(self, shown: bool) -> None:
        (self.sign.remove_class if shown else self.sign.add_class)("bc-hide")
        self.decimals.shown = self.before.shown = shown

    def _say(self, own: bool) -> None:
        here = self.session.place.prices if self.session else None
        if not own:
            words = (
                "Your prices belong to a garden of your own: start one in the bar at "
                "the top of this workbook. The demo garden has invented prices."
            )
        elif self.prices is not None:
            count = len(self.prices.rows)
            words = f"List “{self.prices.name}” of {self.session.garden.name}: "
            words += f"{count} {'price' if count == 1 else 'prices'}."
        elif here is not None:
            words = (
                f"{self.session.garden.name} now uses the invented prices "
                f"({'US' if here.name == 'demo_us' else 'metric'}). What you put in "
                "here begins a list of your own."
            )
        else:
            words = f"{self.session.garden.name} has no prices yet."
        self.says.html = f"<p>{plain(words)}</p>"


def own_prices(about: Desk) -> OwnPrices:
    """The form for the prices of the reader's own garden."""
    return OwnPrices(about)
