"""Price lists to choose from, and what to say where prices are not known."""

from __future__ import annotations

from typing import Any

from ..model.bed import Wall
from ..model.place import Place
from ..model.prices import PriceList
from ..tables import table
from .kit.controls import ListRow, list_row
from .kit.words import literal

__all__ = [
    "NONE", "lent_words", "list_for", "list_named", "lists_of", "lists_row", "needs",
    "no_prices", "not_complete", "walls_sold",
]  # fmt: skip  # a list of names

NONE = ""  # the choice of a garden that has no prices yet
_INVENTED = [("demo", "invented, metric sizes"), ("demo_us", "invented, US sizes")]
_WHERE = "under *Your own prices*, in workbook 05"


def lists_of(about: Any) -> list[tuple[str, str]]:
    """The price lists to choose from: the garden's own, and the invented ones."""
    own = []
    here = about.place.prices
    every = (*about.garden.price_lists, *([here] if here else []))
    for one in {one.name: one for one in every if not one.invented}.values():
        facts = [one.name, one.currency.code or one.currency.sign, one.date]
        own.append((one.name, ", ".join(filter(None, facts))))
    if here is None:
        own.insert(0, (NONE, "no prices yet"))
    return [*own, *_INVENTED]


def lists_row(about: Any) -> ListRow:
    """The row to choose a price list."""
    here = about.place.prices
    return list_row(
        "Price list", lists_of(about), here.name if here else NONE, name="prices"
    )


def list_named(about: Any, name: str) -> PriceList | None:
    """The list of this name: the garden's own, or an invented one."""
    if name in table("price_lists"):
        return PriceList.named(name)
    own = {one.name: one for one in about.garden.price_lists}
    return own.get(name, about.place.prices)


def list_for(wall: Wall, place: Place) -> PriceList | None:
    """The invented list that sells a wall, where the place has an invented list.

    A US build cannot be bought from the metric list, nor the other way round; a
    person's own list stays whatever it lacks, and the bill then says what is missing.
    """
    if place.prices is None or not place.prices.invented:
        return place.prices
    key = "demo_us" if wall.yard == "us" else "demo"
    return place.prices if place.prices.name == key else PriceList.named(key)


def walls_sold(place: Place, walls: tuple[str, ...]) -> tuple[str, ...]:
    """Those builds whose boards, sheet, planks or blocks are on the price list."""
    return tuple(key for key in walls if table("walls")[key].goods in place.goods)


def needs(cost: Any, system: str, most: int = 40) -> str:
    """What is needed and has no price, with its amounts."""
    lines = [line.words(system) for line in cost.unpriced]
    more = f"; and {len(lines) - most} more" if len(lines) > most else ""
    return "; ".join(lines[:most]) + more


def no_prices(cost: Any, system: str, all_of_it: bool = False) -> str:
    """What to say where nothing has a price; empty where something has one.

    Parameters
    ----------
    cost : Cost
    system : str
    all_of_it : bool
        Whether to name everything that is needed, where a list can be chosen.
    """
    if cost.priced:
        return ""
    words = f"**No prices yet**: put yours in {_WHERE}"
    if not all_of_it:
        return f"{words}."
    return (
        f"{words}, or choose an invented list under *Price list* to try it out. "
        f"Needed: {needs(cost, system)}."
    )


def lent_words(cost: Any) -> str:
    """Whose life was taken for goods of one's own; empty where all lives are known."""
    lent: dict[str, list[str]] = {}
    for name, like in cost.lent_lives.items():
        lent.setdefault(like, []).append(name)
    return "".join(
        f" The life of {' and '.join(map(literal, names))} is not known: counted to "
        f"last like {like}."
        for like, names in lent.items()
    )


def not_complete(cost: Any, system: str) -> str:
    """What to say where some things have no price; empty where all have one."""
    if not cost.priced or not cost.missing:
        return ""
    if not cost.unpriced:
        return f" ! Not complete: {'; '.join(cost.missing[:3])}."
    return f" ! Not complete. No price for {needs(cost, system, 3)}."
