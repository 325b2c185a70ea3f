"""The row "Price list": a demo list, metric or US, or one's own spreadsheet."""

from __future__ import annotations

from dataclasses import fields
from pathlib import Path

from ..bed import Wall
from ..exports import read_prices
from ..place import Place, PlaceError
from ..shopping import PricedPlace, priced
from ..tables import table
from .controls import ListRow, list_row

__all__ = ["OWN", "list_for", "lists_row", "place_with", "walls_sold"]

OWN = "own"
_LISTS = [("demo", "demo, metric"), ("demo_us", "demo, US"), (OWN, "my spreadsheet")]


def lists_row(place: Place) -> ListRow:
    """The row to choose a price list; ``place.prices`` stands first."""
    known = dict(_LISTS)
    first = [] if place.prices in known else [(place.prices, place.prices)]
    return list_row("Price list", [*first, *_LISTS], place.prices, name="prices")


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
    same = {f.name: getattr(place, f.name) for f in fields(Place)}
    if choice != OWN:
        return Place(**same | {"prices": choice}), ""
    plain = Place(**same)
    if not path.is_file():
        return plain, (
            f"There is no {path.name} beside this workbook yet: press *Write the price "
            "list*, at the order of the whole garden. Until then the demo list is used."
        )
    try:
        return priced(plain, read_prices(path), f"from {path.name}"), ""
    except PlaceError as error:
        return plain, f"{path.name} is not used: {error}. The demo list is used."


def list_for(wall: Wall, place: Place) -> str:
    """The demo list that sells a wall, where the place has one of the demo lists.

    A US build cannot be bought from the metric list, nor the other way round; a
    person's own list stays whatever it lacks, and the bill then says what is missing.
    """
    if isinstance(place, PricedPlace) or place.prices not in ("demo", "demo_us"):
        return place.prices
    return "demo_us" if wall.yard == "us" else "demo"


def walls_sold(place: Place, walls: tuple[str, ...]) -> tuple[str, ...]:
    """Those builds whose boards, sheet, planks or blocks are on the price list."""
    return tuple(key for key in walls if table("walls")[key].goods in place.goods)
