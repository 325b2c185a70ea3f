"""The sheets of a reader's own numbers: their columns, and the words they may hold."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from ..garden.garden import Garden
from ..model.bed import Wall
from ..model.climate import MONTHS, NORMALS
from ..model.entries import WALL_MOST
from ..model.place import RULES
from ..model.plot import KINDS
from ..tables import table
from .columns import Column
from .place import PLACE
from .prices import PRICES, price_words

__all__ = [
    "BLOCKS", "BUILDS", "CLIMATE", "CORNERS", "FILLS", "LEVELS", "PEOPLE", "SHEETS",
    "THINGS", "goods_of", "own_materials", "words_of",
]  # fmt: skip  # a list of names


def _metres(key: str, text: str, low: float, high: float, **more) -> Column:
    return Column(key=key, heading=text, unit="m", us="ft", low=low, high=high, **more)


def _millimetres(key: str, text: str, low: float, high: float, example: str) -> Column:
    return Column(
        key=key,
        heading=text,
        unit="mm",
        us="inch",
        low=low,
        high=high,
        example=example,
        width=18,
    )


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
)  # fmt: skip  # rows of a table
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
)  # fmt: skip  # rows of a table
CORNERS = (
    Column(
        key="name", heading="Corner", says="some words", example="corner 1", width=24
    ),
    _metres("x", "To the right", -1000, 1000, needed=True, example="0", width=18),
    _metres("y", "Down the page", -1000, 1000, needed=True, example="0", width=18),
)
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
)  # fmt: skip  # rows of a table
CLIMATE = (
    Column(key="month", heading="Month", words="months", needed=True, example="April",
           width=20),
    *(
        Column(key=name, heading=about.label, unit=about.unit, us=about.us,
               low=about.low, high=about.high, example=f"{about.example:g}", width=18)
        for name, about in NORMALS.items()
    ),
)  # fmt: skip  # rows of a table
BLOCKS = (
    Column(**_NAME, example="blocks from the quarry"),
    Column(key="like", heading="Most like", words="blocks", needed=True,
           example="solid concrete block 400 × 200 × 150 mm", width=44),
    _millimetres("length", "Block length", 100, 1200, "400"),
    _millimetres("course", "Block height", 50, 500, "200"),
    _millimetres("thickness", "Block thickness", 80, 600, "150"),
    Column(key="unit_weight", heading="Weight", unit="kN/m^3", us="lbf/ft^3", low=5,
           high=30, example="20", width=18),
)  # fmt: skip  # rows of a table
BUILDS = (
    Column(**_NAME, example="boards from the barn"),
    Column(
        key="like",
        heading="Most like",
        words="walls",
        needed=True,
        example="larch boards 140 × 33 on posts",
        width=44,
    ),
    _millimetres("thickness", "Board thickness", 0, WALL_MOST["thickness"], "48"),
    _millimetres("course", "Board face", 0, WALL_MOST["course"], "170"),
    _millimetres("rail_thin", "Rail thickness", 0, WALL_MOST["rail_thin"], "45"),
    _millimetres("rail_wide", "Rail face", 0, WALL_MOST["rail_wide"], "70"),
    _millimetres("post", "Post", 0, WALL_MOST["post"], "90"),
    _millimetres(
        "post_spacing", "From post to post", 100, WALL_MOST["post_spacing"], "900"
    ),
    _millimetres("cap_wide", "Cap width", 0, WALL_MOST["cap_wide"], "120"),
    _millimetres("cap_thick", "Cap thickness", 0, WALL_MOST["cap_thick"], "22"),
)
SHEETS: dict[str, Sequence[Column]] = {
    "Place": PLACE,
    "Prices": PRICES,
    "Fills": FILLS,
    "People": PEOPLE,
    "Boards and posts": BUILDS,
    "Blocks": BLOCKS,
    "Climate": CLIMATE,
    "Plot corners": CORNERS,
    "Things on the plot": THINGS,
    "Level readings": LEVELS,
}


def words_of(garden: Garden) -> dict[str, dict[str, Any]]:
    """All words that cells may hold, each with what it stands for."""
    fills = {fill.name: fill.key for fill in own_materials(garden, "fills")}
    goods = goods_of((*garden.walls, *(bed.wall for bed in garden)))
    return price_words(garden.place.prices, {**fills, **goods}) | {
        "fills": {row.name: row.key for row in table("fills")},
        "people": {row.name: row.key for row in table("people")},
        "kinds": {kind: kind for kind in KINDS},
        "months": {month: n for n, month in enumerate(MONTHS)},
        "blocks": {row.name: row.key for row in table("blocks")},
        "walls": {row.name: row.key for row in table("walls")},
        "soils": {row.name: row.key for row in table("soils")},
        "rules": dict(
            zip(("dig all in", "dig to a limit", "cut and fill"), RULES, strict=True)
        ),
    }


def goods_of(walls: Iterable[Wall]) -> dict[str, str]:
    """Goods of these builds that no table knows: what they are called, and their key.

    Blocks of one's own are called by their name.
    """
    found = {}
    for wall in walls:
        for key in (wall.goods, wall.post_goods, wall.rail_goods, wall.cap_goods):
            if key and key not in table("goods"):
                own = not isinstance(wall.block, str) and key == wall.block.key
                found[wall.block.name if own else key.replace("_", " ")] = key
    return found


def own_materials(garden: Garden, part: str) -> tuple:
    """Own fills, people or blocks: those of the garden, and those a bed carries."""
    found = {made.key: made for made in getattr(garden, part)}
    held = {
        "fills": lambda bed: [layer.material for layer in bed.fill],
        "people": lambda bed: [bed.users],
        "blocks": lambda bed: [bed.wall.block],
    }[part]
    carried = [made for bed in garden for made in held(bed)]
    if part == "blocks":
        carried += [wall.block for wall in garden.walls]
    for made in carried:
        if not isinstance(made, str):
            found.setdefault(made.key, made)
    return tuple(found.values())
