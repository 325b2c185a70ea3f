"""A fill of one's own: what it weighs, how it slides and settles, and what it costs."""

from __future__ import annotations

from typing import Any

from ..garden.garden import Garden
from ..model.materials import FillMaterial
from ..model.prices import UNITS, PriceList
from ..parsing.typed import EntryError, read_entry
from ..tables import Row, table
from ..units import Q_
from .desk import Desk
from .kit.inputs import NumberField
from .kit.words import plain
from .own_form import Field, OwnForm, as_typed, with_layers

__all__ = ["OwnFill", "own_fill"]

_GRAVITY = Q_(1, "standard_gravity")
_HALF = 0.5  # of the volume that is priced: the step in which it is ordered
_CUBE = {"metric": ("m^3", "m³", "cubic metre"), "us": ("yd^3", "yd³", "cubic yard")}


class OwnFill(OwnForm):
    """The form for a fill; it stands in the lists of materials afterwards."""

    PART, CLASS, THING = "fills", FillMaterial, "fill"
    TITLE = "A fill of your own"
    INTRO = (
        "Ask the seller, or weigh a bucket. Fill it, press the fill down, and weigh it "
        "moist; then soak it, let it drip, and weigh it again. The kilograms in a "
        "bucket of 10 litres, times 100, are kg/m³. A weight that is too small or an "
        "angle that is too large makes the wall look stronger than it is. So leave "
        "empty what you do not know: it is then as in the fill that yours is like."
    )
    EXAMPLE = "soil from the quarry"
    FIELDS = (
        Field(name="unit_weight_moist", label="Weight, moist", metric="kg/m^3",
              us="lb/ft^3", times=_GRAVITY),
        Field(name="unit_weight_soaked", label="Weight, soaked", metric="kg/m^3",
              us="lb/ft^3", times=_GRAVITY),
        Field(name="friction", label="Angle of friction", metric="deg", us="deg"),
        Field(name="settle", label="Settles by", metric="percent", us="percent"),
    )  # fmt: skip  # rows of a table

    def __init__(self, about: Desk):
        self.price = NumberField(label="Price")
        super().__init__(about)

    def boxes(self) -> list[NumberField]:
        """Those of the material, and the price."""
        return [*super().boxes(), self.price]

    # ---- the price

    @property
    def _list(self) -> PriceList | None:
        """The price list of the garden, if it is its own."""
        prices = self.desk.session.garden.place.prices if self.desk.session else None
        return None if prices is None or prices.invented else prices

    def _priced(self, key: str) -> Row | None:
        rows = self._list.goods.get(key, ()) if self._list else ()
        return rows[0] if rows else None

    def show(self) -> None:
        """The boxes, and the price as it stands in the list."""
        row = self._priced(self.chosen.key) if self.chosen else None
        self.price.value = ""
        if row is not None:
            volume = Q_(row.content, "m^3").m_as(_CUBE[self._system][0])
            self.price.value = as_typed(row.price / volume)
        super().show()

    def _hint(self) -> None:
        super()._hint()
        self.price.label = f"Price for a {_CUBE[self._system][2]}, loose"
        self.price.unit = self._list.currency.mark if self._list else ""
        self.price.placeholder = "not known, if left empty"

    def check(self, found: dict[str, Any]) -> bool:
        """Soaked weighs at least as much as moist; the price is an amount."""
        row = table("fills")[self.like.value]
        weights = [
            found[name] if found[name] is not None else row.q(name)
            for name in ("unit_weight_moist", "unit_weight_soaked")
        ]
        good = weights[1] >= weights[0]
        if not good:
            moist, soaked = (
                f"{field.shown(weight, self._system):.0f}"
                for field, weight in zip(self.FIELDS, weights, strict=False)
            )
            entry = self.entries["unit_weight_soaked"]
            entry.tone, entry.says = (
                "refused",
                plain(
                    f"Weight, soaked: needs at least the moist weight of {moist}; "
                    f"given {soaked}; for example {float(moist) * 1.3:.0f}"
                ),
            )
        try:
            self._amount()
        except EntryError as error:
            self.price.says, self.price.tone = plain(str(error)), "refused"
            return False
        return good

    def _amount(self) -> float | None:
        text = self.price.value.strip()
        if not text:
            return None
        money = {"currency": self._list.currency} if self._list else {}
        amount = float(read_entry(text, "money", "Price", bare=True, **money).m)
        if not 0 <= amount < 1e6:
            raise EntryError(
                f"Price: needs an amount, zero or more; given {text}; for example 38"
            )
        return amount

    # ---- what becomes of the garden

    def used(self, bed: Any, key: str) -> bool:
        """Whether a layer of the bed is of it."""
        return any(layer.row.key == key for layer in bed.fill)

    def put(self, bed: Any, made: FillMaterial) -> Any:
        """The bed with the changed fill in its layers."""
        return with_layers(bed, made)

    def carry_over(self, garden: Garden, made: FillMaterial) -> tuple[Garden, str]:
        """The price goes into the garden's own list, if there is one."""
        amount, known = self._amount(), self._list
        words = "It stands in the lists of materials now."
        if known is None:
            if amount is not None:
                words += (
                    " Its price was not kept: your garden has no price list of its own "
                    "yet. Make one in workbook 05, then give the price again."
                )
            return garden, words
        rows = [row for row in known.rows if row.goods != made.key]
        if amount is not None:
            rows.append(self._row(made, amount, known.currency.decimals))
        return _with_list(garden, known.with_rows(rows)), words

    def gone(self, garden: Garden, made: FillMaterial) -> Garden:
        """Its price goes with it."""
        if self._list is None:
            return garden
        rows = [row for row in self._list.rows if row.goods != made.key]
        return _with_list(garden, self._list.with_rows(rows))

    def _row(self, made: FillMaterial, amount: float, decimals: int) -> Row:
        unit, sign, _ = _CUBE[self._system]
        empty = float("nan")
        values = {
            "goods": made.key, "name": made.name, "group": "soil",
            "sold_by": f"{_HALF:g} {sign}", "length": empty,
            "content": Q_(_HALF, unit).m_as("m^3"),
            "price": round(amount * _HALF, decimals), "low": empty, "high": empty,
            "yard": self._system, "taxed": "yes", "source": "own",
            "where": "given by the reader",
        }  # fmt: skip  # rows of a table
        return Row(f"{made.key}-{_HALF:g}", values, UNITS)


def _with_list(garden: Garden, changed: PriceList) -> Garden:
    """A garden in which this list stands in place of the one of its name."""
    lists = tuple(
        changed if one.name == changed.name else one for one in garden.price_lists
    )
    return garden.change(price_lists=lists, place=garden.place.change(prices=changed))


def own_fill(about: Desk) -> OwnFill:
    """The form for a fill of one's own."""
    return OwnFill(about)
