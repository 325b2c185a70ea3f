"""Rows that the bill and the order share: price list, tax, extras."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ..model.place import Place
from ..units import show
from .cost_prices import NONE, list_named, lists_of
from .kit.controls import (
    ChoiceRow,
    Control,
    ListRow,
    SliderRow,
    choice_row,
    list_row,
    slider_row,
)

__all__ = [
    "EXTRAS", "extras_row", "of_which_tax", "place_values", "rate_row",
    "show_tax_rows", "tax_row", "with_place",
]  # fmt: skip  # a list of names

_YES = [(False, "no"), (True, "yes")]
_MORE = [("none", "none"), ("liner", "liner"), ("all", "liner, gear and hire")]
EXTRAS = {"none": (), "liner": ("liner",), "all": ("liner", "hire", "protection")}


def extras_row() -> ListRow:
    """What may be bought besides."""
    return list_row("Extras", _MORE, "none", name="more")


def tax_row(place: Place) -> ChoiceRow:
    """Whether tax is added to the bill."""
    return choice_row("Tax", _YES, place.with_tax, name="tax")


def rate_row(place: Place) -> SliderRow:
    """The tax rate."""
    return slider_row("Tax rate", "percent", 0, 30, 1, place.tax_rate, name="rate")


def show_tax_rows(rows: Mapping[str, Control], place: Place) -> None:
    """Offer to add tax where the prices do not hold it already, and the rate."""
    inside = bool(place.prices and place.prices.taxed_inside)
    rows["tax"].shown = not inside
    rows["rate"].shown = inside or place.with_tax


def of_which_tax(cost: Any, units: str) -> str:
    """The tax that the prices hold already, in words; empty where they hold none."""
    if not cost.tax_inside:
        return ""
    return f", of which tax {show(cost.tax, 'coins', units)}"


def place_values(about: Any, rows: Mapping[str, Control]) -> dict[str, Any]:
    """Values of these rows for the place on the desk; the lists are offered anew."""
    place = about.place
    name = place.prices.name if place.prices else NONE
    rows["prices"].relist(lists_of(about), name)
    return {"prices": name, "tax": place.with_tax, "rate": place.tax_rate}


def with_place(about: Any, place: Place, moved: Mapping[str, Any]) -> Place:
    """The place with what was moved in these rows, and nothing else."""
    change: dict[str, Any] = {}
    if moved.get("prices", NONE) != NONE:
        change["prices"] = list_named(about, moved["prices"])
    for name, field in (("tax", "with_tax"), ("rate", "tax_rate")):
        if name in moved:
            change[field] = moved[name]
    return place.change(**change) if change else place
