"""Prices by number boxes: choose what it is, then its sizes with their prices."""

from __future__ import annotations

from typing import Any

import ipywidgets

from ..currency import Currency
from ..model.prices import goods_name
from ..questions.shopping import shopping
from ..spreadsheets.columns import Problems, heading
from ..spreadsheets.own_sheets import goods_of, own_materials
from ..spreadsheets.prices import PRICES, price_row, price_words, same_goods
from ..spreadsheets.reading import read_cell
from ..tables import Row, table
from ..units import Q_
from .kit.controls import group, list_row
from .kit.inputs import NumberField
from .kit.style import button, button_row
from .kit.words import plain

__all__ = ["GoodsForm"]

_TOP_UP = "compost"  # which tops up every bed, year by year
_MOST = 12  # sizes of some goods
_BY_KEY = {column.key: column for column in PRICES}
_FIELDS = ("length", "content", "price", "low", "high")
_NO_MONEY = Currency()
#: group of goods of one's own, by what they are counted in
_GROUPS = {"m³": "soil", "piece": "stone", "m": "timber"}


class _SizeRow:
    """One size: number boxes that are read together."""

    def __init__(self, form: GoodsForm, number: int):
        self.form = form
        self.boxes = {
            key: NumberField(label=_BY_KEY[key].heading, step=1e-9) for key in _FIELDS
        }
        self.remove = button("Take out", lambda: form.take_out(number))
        self.widget = ipywidgets.Box([*self.boxes.values(), self.remove])
        self.widget.add_class("bc-price-row")
        for box in self.boxes.values():
            box.on_sent(lambda text, n=number: form.sent(n))

    @property
    def texts(self) -> dict[str, str]:
        """What stands in the boxes."""
        return {key: box.value.strip() for key, box in self.boxes.items()}

    def show(self, row: Row | None, cut: bool, system: str) -> None:
        """Bring the boxes to a row of the list, or empty them."""
        length, content = self.boxes["length"], self.boxes["content"]
        (length.remove_class if cut else length.add_class)("bc-hide")
        (content.add_class if cut else content.remove_class)("bc-hide")
        length.label = heading(_BY_KEY["length"], system)
        content.label = f"{_BY_KEY['content'].heading}, {self.form.counted}"
        for key, box in self.boxes.items():
            value = getattr(row, key, float("nan")) if row is not None else float("nan")
            if key == "length" and value == value:
                value = Q_(value, "m").m_as(_BY_KEY["length"].unit_in(system))
            box.value = f"{value:.10g}" if value == value else ""
            box.says, box.tone = "", ""


class GoodsForm:
    """The part of the form that holds prices; ``owner`` keeps them.

    Parameters
    ----------
    owner : OwnPrices
    """

    def __init__(self, owner: Any):
        self.owner = owner
        self.goods = list_row(
            "What it is", [("mix", "garden mix")], "mix", name="goods"
        )
        self.goods.observe(lambda change: self.show())
        self.rows = [_SizeRow(self, n) for n in range(_MOST)]
        self._shown = 1
        self._more = button("Add a size", self.add)
        self.widget = group(
            "Prices",
            self.goods,
            *(row.widget for row in self.rows),
            button_row(self._more),
        )

    # ---- what is there

    @property
    def key(self) -> str:
        """The goods that are open."""
        return self.goods.value

    @property
    def cut(self) -> bool:
        """Whether they are sold by length."""
        return self.counted == "m"

    @property
    def counted(self) -> str:
        """In what they are counted: m³, m², m, piece."""
        if self.key in table("goods"):
            return table("goods")[self.key].counted
        own = {"m³": "fills", "piece": "blocks"}
        garden = self.owner.session.garden
        for unit, part in own.items():
            if any(made.key == self.key for made in own_materials(garden, part)):
                return unit
        return "m" if self.key in self._of_walls().values() else "m³"

    def sizes(self) -> list[Row]:
        """The rows of the list for these goods."""
        prices = self.owner.prices
        return list(prices.goods.get(self.key, ())) if prices else []

    def words(self) -> dict[str, dict[str, Any]]:
        """Names of all goods, own fills and builds among them."""
        fills = own_materials(self.owner.session.garden, "fills")
        own = {made.name: made.key for made in fills}
        return price_words(self.owner.prices, own | self._of_walls())

    def _of_walls(self) -> dict[str, str]:
        """Own boards, rails, posts and blocks: what they are called, and their key."""
        garden = self.owner.session.garden
        return goods_of((*garden.walls, *(bed.wall for bed in garden)))

    def offers(self) -> list[tuple[str, str]]:
        """What to choose from: what the beds need first, then all else."""
        garden, prices = self.owner.session.garden, self.owner.prices
        place = garden.place.change(prices=prices)
        names = {key: name for name, key in self.words()["goods"].items()}
        needed: list[str] = []
        if garden.beds:
            cost = shopping(garden, place, cut="hand")
            missing = [line.goods for line in cost.unpriced]
            needed = [*missing, *(line.goods for line in cost.lines), _TOP_UP]
        priced = prices.goods if prices else {}
        found = []
        for key in dict.fromkeys([*needed, *names]):
            count = len(priced.get(key, ()))
            sizes = f"{count} {'price' if count == 1 else 'prices'}"
            after = sizes if count else "needed, no price yet" if key in needed else ""
            name = names.get(key, goods_name(key))
            found.append((key, f"{name}: {after}" if after else name))
        return found

    # ---- changing

    def add(self) -> None:
        """Offer an empty row for one more size."""
        self._shown = min(self._shown + 1, _MOST)
        self._hide()

    def take_out(self, number: int) -> None:
        """Take a size out of the list."""
        sizes = self.sizes()
        if number < len(sizes):
            self._keep([row for n, row in enumerate(sizes) if n != number])
        else:
            self._shown = max(self._shown - 1, 1)
            self.show()

    def sent(self, number: int) -> None:
        """Read a row of boxes; what will not do is said beside it."""
        line, sizes = self.rows[number], self.sizes()
        old = sizes[number] if number < len(sizes) else None
        for box in line.boxes.values():
            box.says, box.tone = "", ""
        texts = line.texts
        if not texts["price"]:
            if any(texts.values()):
                self._say(line, "price", "Price each: this size counts once it has one")
            return
        problems = Problems("")
        given = self._given(texts, old, problems)
        row = None
        if not problems.found:
            others = {r.key: r for r in self._others() if r is not old}
            known = {same_goods(old): old} if old is not None else {}
            row = price_row(given, "", problems, known, others)
        if problems.found or row is None:
            self._refuse(line, problems.found[0] if problems.found else "")
            return
        sizes[number : number + 1] = [row]
        self._keep(sizes)

    def _given(self, texts: dict[str, str], old: Row | None, problems) -> dict:
        """The cells of a line of the list."""
        words, system = self.words(), self.owner.session.garden.system
        money = self.owner.prices.currency if self.owner.prices else None
        given: dict[str, Any] = {
            "goods": self.key,
            "name": old.name if old is not None else goods_name(self.key),
            "group": old.group if old is not None else None,
            "sold_by": old.sold_by if old is not None else self._sold_by(texts),
            "taxed": None if old is None else getattr(old, "taxed", "yes") != "no",
        }
        if self.key not in table("goods") and old is None:
            given["group"] = _GROUPS.get(self.counted, "soil")
        for key in _FIELDS:
            column = _BY_KEY[key]
            hidden = key == ("content" if self.cut else "length")
            given[key] = (
                None
                if hidden
                else read_cell(
                    column,
                    texts[key],
                    column.heading,
                    problems,
                    words,
                    column.unit_in(system),
                    money or _NO_MONEY,
                )
            )
        if given["name"] == self.key:
            given["name"] = next(
                (n for n, k in words["goods"].items() if k == self.key), self.key
            )
        return given

    def _sold_by(self, texts: dict[str, str]) -> str:
        counted = self.counted
        if self.cut:
            return "piece"
        amount = texts["content"] or "1"
        if counted in ("m³", "m²"):
            return f"{amount} {counted}"
        return counted if amount == "1" else f"pack of {amount}"

    def _others(self) -> list[Row]:
        return list(self.owner.prices.rows) if self.owner.prices else []

    def _keep(self, sizes: list[Row]) -> None:
        """Put the sizes of these goods into the list, where they stood before."""
        rows, placed = [], False
        for row in self._others():
            if row.goods != self.key:
                rows.append(row)
            elif not placed:
                rows += sizes
                placed = True
        self.owner.put(rows=rows if placed else [*rows, *sizes])

    def _refuse(self, line: _SizeRow, words: str) -> None:
        """Say it beside the box that it names."""
        words = words.lstrip(", ")
        key = next(
            (k for k in _FIELDS if words.startswith(_BY_KEY[k].heading)), "price"
        )
        self._say(line, key, words, "refused")

    def _say(self, line: _SizeRow, key: str, words: str, tone: str = "hint") -> None:
        box = line.boxes[key]
        box.says, box.tone = plain(words.rstrip(".") + "."), tone

    # ---- showing

    def show(self) -> None:
        """Bring the boxes to the list as it now is."""
        offers = self.offers()
        keys = [key for key, _ in offers]
        self.goods.relist(offers, self.key if self.key in keys else keys[0])
        sizes, system = self.sizes(), self.owner.session.garden.system
        for n, line in enumerate(self.rows):
            line.show(sizes[n] if n < len(sizes) else None, self.cut, system)
        self._shown = max(len(sizes), 1)
        self._hide()

    def _hide(self) -> None:
        for n, line in enumerate(self.rows):
            shown = n < self._shown
            (line.widget.remove_class if shown else line.widget.add_class)("bc-hide")
        self._more.disabled = self._shown >= _MOST
