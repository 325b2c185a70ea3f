"""The sheets of a reader's own numbers: their columns, and the words they may hold."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from .garden import Garden
from .number_sheets import Column
from .place import RULES
from .place_sheet import PLACE
from .plot import KINDS
from .price_sheet import PRICES, price_words
from .tables import table

__all__ = [
    "CORNERS", "FILLS", "LEVELS", "PEOPLE", "SHEETS", "THINGS", "own_materials",
    "words_of",
]  # fmt: skip


def _metres(key: str, text: str, low: float, high: float, **more) -> Column:
    return Column(key=key, heading=text, unit="m", us="ft", low=low, high=high, **more)


_NAME = dict(key="name", heading="Name", needed=True, width=30)
FILLS = (
    Column(**_NAME, example="mix from the allotment"),
    Column(key="like", heading="Most like", words="fills", needed=True,
           example="garden mix", width=26),
    Column(key="unit_weight_moist", heading="Weight moist", unit="kN/m^3",
           us="lbf/ft^3", low=0.5, high=25, example="11", width=18),
    Column(key="unit_weight_soaked", heading="Weight soaked", unit="kN/m^3",
           us="lbf/ft^3", low=0.5, high=25, example="15", width=18),
    Column(key="friction", heading="Friction angle", unit="deg", low=15, high=45,
           example="30", width=18),
    Column(key="settle", heading="First settling", unit="percent", low=0, high=70,
           example="15", width=18),
)  # fmt: skip
PEOPLE = (
    Column(**_NAME, example="grandmother"),
    Column(key="like", heading="Most like", words="people", needed=True,
           example="adults", width=26),
    Column(key="reach", heading="Reach from one side", unit="cm", us="inch", low=15,
           high=110, example="55", width=18),
    Column(key="stature", heading="Height of the person", unit="cm", us="inch", low=70,
           high=220, example="162", width=18),
    Column(key="barrow", heading="Barrow holds", unit="liter", us="ft^3", low=5,
           high=300, example="60", width=18),
)  # fmt: skip
CORNERS = (
    Column(key="name", heading="Corner", says="some words", example="corner 1",
           width=24),
    _metres("x", "To the right", -1000, 1000, needed=True, example="0", width=18),
    _metres("y", "Down the page", -1000, 1000, needed=True, example="0", width=18),
)  # fmt: skip
THINGS = (
    Column(**_NAME, example="plum tree"),
    Column(key="kind", heading="Kind", words="kinds", needed=True, example="tree"),
    _metres("x", "Left edge", -1000, 1000, needed=True, example="8"),
    _metres("y", "Upper edge", -1000, 1000, needed=True, example="3"),
    _metres("length", "Size to the right", 0, 1000, example="2.4"),
    _metres("width", "Size down the page", 0, 1000, example="2.4"),
    _metres("height", "Height", 0, 100, example="4.5"),
)
LEVELS = (
    Column(key="name", heading="Point", says="some words", example="gate post",
           width=24),
    _metres("x", "To the right", -1000, 1000, needed=True, example="0", width=18),
    _metres("y", "Down the page", -1000, 1000, needed=True, example="4.8", width=18),
    _metres("down", "Down from the level line", -100, 100, needed=True,
            example="0.611", width=24),
)  # fmt: skip
SHEETS: dict[str, Sequence[Column]] = {
    "Place": PLACE,
    "Prices": PRICES,
    "Fills": FILLS,
    "People": PEOPLE,
    "Plot corners": CORNERS,
    "Things on the plot": THINGS,
    "Level readings": LEVELS,
}


def words_of(garden: Garden) -> dict[str, dict[str, Any]]:
    """All words that cells may hold, each with what it stands for."""
    fills = {fill.name: fill.key for fill in own_materials(garden, "fills")}
    walls = (*garden.walls, *(bed.wall for bed in garden))
    goods = {
        key.replace("_", " "): key
        for wall in walls
        for key in (wall.goods, wall.post_goods, wall.rail_goods, wall.cap_goods)
        if key and key not in table("goods")
    }
    return price_words(garden.place.prices, {**fills, **goods}) | {
        "fills": {row.name: row.key for row in table("fills")},
        "people": {row.name: row.key for row in table("people")},
        "kinds": {kind: kind for kind in KINDS},
        "soils": {row.name: row.key for row in table("soils")},
        "rules": dict(
            zip(("dig all in", "dig to a limit", "cut and fill"), RULES, strict=True)
        ),
    }


def own_materials(garden: Garden, part: str) -> tuple:
    """Own fills or people: those of the garden, and those that a bed carries."""
    found = {made.key: made for made in getattr(garden, part)}
    for bed in garden:
        held = (
            [layer.material for layer in bed.fill] if part == "fills" else [bed.users]
        )
        found |= {
            m.key: m for m in held if not isinstance(m, str) and m.key not in found
        }
    return tuple(found.values())
