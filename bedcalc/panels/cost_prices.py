"""The row "Price list": a demo list, metric or US, or one's own spreadsheet."""

from __future__ import annotations

from pathlib import Path

from ..bed import Wall
from ..exports import read_prices
from ..place import Place, PlaceError
from ..prices import PriceList
from ..tables import table
from .controls import ListRow, list_row

__all__ = ["OWN", "list_for", "lists_row", "place_with", "walls_sold"]

OWN = "own"
_LISTS = [("demo", "demo, metric"), ("demo_us", "demo, US"), (OWN, "my spreadsheet")]


def lists_row(place: Place) -> ListRow:
    """The row to choose a price list; ``place.prices`` stands first."""
    known, now = dict(_LISTS), place.prices.name if place.prices else ""
    first = [] if now in known else [(now, now or "no prices yet")]
    return list_row("Price list", [*first, *_LISTS], now, name="prices")


def place_with(place: Place, choice: str, path: Path) -> tuple[Place, str]:
    """The place with the chosen list, and a sentence where it could not be read.

    Parameters
    ----------
    place : Place
        With any list; its other entries are kept.
    choice : str
        Name of a table of prices, or ``own`` for the file.
    path : Path
        The spreadsheet that a person has edited.
    """
    if choice in table("price_lists"):
        return place.change(prices=PriceList.named(choice)), ""
    if choice != OWN:
        return place, ""
    if not path.is_file():
        return place, (
            f"There is no {path.name} beside this workbook yet: press *Write the price "
            "list*, at the order of the whole garden. Until then the list stays."
        )
    try:
        return place.change(prices=read_prices(path, place.currency)), ""
    except PlaceError as error:
        return place, f"{path.name} is not used: {error}. The list stays as it was."


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
