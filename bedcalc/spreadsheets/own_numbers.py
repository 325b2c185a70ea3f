"""The reader's own numbers in one spreadsheet: prices, materials, plot, climate …

:func:`write_numbers` writes what the garden knows, and leaves blank what it does not
know. :func:`read_numbers` reads the file back: either all of it is taken over, or
nothing, with a list of what to fix. A sheet that is not in the file stays as it is.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from ..garden.garden import Garden
from ..model.climate import MONTHS, NORMALS, Climate
from ..questions.own_builds import BUILD_SIZES, own_builds
from ..questions.shopping import shopping
from ..units import Q_
from .columns import Column, NumbersError, read_files
from .own_reading import Reader
from .own_sheets import (
    BLOCKS,
    BUILDS,
    CLIMATE,
    CORNERS,
    FILLS,
    LEVELS,
    PEOPLE,
    SHEETS,
    THINGS,
    own_materials,
    words_of,
)
from .place import place_cells
from .prices import price_cells
from .writing import write_book

__all__ = ["NumbersError", "numbers_file", "read_numbers", "write_numbers"]


def numbers_file(garden: Garden) -> str:
    """The usual name of the file: ``Our garden numbers.xlsx``."""
    name = re.sub(r'[\\/:*?"<>|\x00-\x1f]+', " ", garden.name)
    name = " ".join(name.split()).strip(". ")[:80]
    return f"{name or 'My'} numbers.xlsx"


# ---- writing


def _amount(value: Any, column: Column, system: str) -> Any:
    """A cell for a quantity, or for a number in metres; blank where it is not known."""
    if value is None:
        return None
    unit = column.unit_in(system)
    quantity = value if isinstance(value, Q_) else Q_(float(value), column.unit)
    return float(f"{quantity.m_as(unit):.10g}")


def _row(made: Any, columns: Sequence[Column], system: str, **texts: Any) -> list[Any]:
    return [
        texts[c.key] if c.key in texts else _amount(getattr(made, c.key), c, system)
        for c in columns
    ]


def _months(climate: Climate, system: str) -> list[list[Any]]:
    """A row for each month, blank where something is not known."""
    known = {name: climate.q(name) for name in NORMALS}
    return [
        [
            month,
            *(
                _amount(value if value.m == value.m else None, column, system)
                for column in CLIMATE[1:]
                for value in (known[column.key][n],)
            ),
        ]
        for n, month in enumerate(MONTHS)
    ]


def _wanted(garden: Garden) -> dict[str, str]:
    """Goods that the beds need and that have no price, each with its group.

    Compost for later years is among them.
    """
    if not garden.beds:
        return {}
    needed = shopping(garden, cut="hand").unpriced
    blocks = {made.key for made in own_materials(garden, "blocks")}
    found = {n.goods: "stone" if n.goods in blocks else n.group for n in needed}
    return {**found, "compost": "soil"}


def write_numbers(garden: Garden, path: str | Path) -> Path:
    """Write what is known of a garden as a spreadsheet to fill in and read back.

    Parameters
    ----------
    garden : Garden
        What it does not know stays blank; goods that its beds need and that have no
        price stand in the sheet *Prices* without one.
    path : str or Path
        Ending in ``.xlsx``.
    """
    place, system, words = garden.place, garden.system, words_of(garden)
    names = {
        part: {key: w for w, key in words[part].items()}
        for part in ("fills", "people", "blocks", "walls")
    }
    plot, survey = place.plot, place.survey
    rows = {
        "Place": place_cells(place, words, system),
        "Prices": price_cells(
            place.prices, words, system, _wanted(garden)
        ),
        "Fills": [
            _row(f, FILLS, system, name=f.name, like=names["fills"][f.like])
            for f in own_materials(garden, "fills")
        ],
        "People": [
            _row(p, PEOPLE, system, name=p.name, like=names["people"][p.like])
            for p in own_materials(garden, "people")
        ],
        "Boards and posts": [
            _row(w, BUILDS, system, name=w.name, like=names["walls"][w.like], **{
                size: None for size in BUILD_SIZES if not getattr(w, size).m
            })
            for w in own_builds(garden)
        ],
        "Blocks": [
            _row(b, BLOCKS, system, name=b.name, like=names["blocks"][b.like])
            for b in own_materials(garden, "blocks")
        ],
        "Climate": _months(place.climate or Climate(), system),
        "Plot corners": [
            [f"corner {n}", *(_amount(v, c, system) for v, c in
                              zip(corner, CORNERS[1:], strict=True))]
            for n, corner in enumerate(plot.outline if plot else (), start=1)
        ],
        "Things on the plot": [
            _row(t, THINGS, system, name=t.name, kind=t.kind)
            for t in (plot.things if plot else ())
        ],
        "Level readings": [
            [f"point {n}", *(_amount(v, c, system) for v, c in
                             zip(reading, LEVELS[1:], strict=True))]
            for n, reading in enumerate(survey.readings if survey else (), start=1)
        ],
    }  # fmt: skip  # rows of a table
    sheets = {name: (columns, rows[name]) for name, columns in SHEETS.items()}
    return write_book(Path(path), sheets, words, system)


def read_numbers(path: str | Path, garden: Garden) -> Garden:
    """The garden with the numbers of a filled-in spreadsheet.

    Parameters
    ----------
    path : str or Path
        As :func:`write_numbers` writes it.
    garden : Garden
        What the file does not say stays as it is here.

    Raises
    ------
    NumbersError
        With sheet, row and column of all that cannot be used; nothing is taken over.
    """
    path = Path(path)
    if path.is_file() and path.suffix.lower() != ".xlsx":
        raise NumbersError(
            path.name,
            ["needs a spreadsheet saved as .xlsx; given a file of another kind"],
        )
    grids = read_files(path)
    known = {name.casefold(): name for name in SHEETS}
    mine = {
        known[name.casefold()]: grid
        for name, grid in grids.items()
        if name.casefold() in known
    }
    if not mine:
        raise NumbersError(
            path.name,
            [f"needs sheets such as {', '.join(SHEETS)}; given {', '.join(grids)}"],
        )
    return Reader(garden, mine, path.name).garden_of()
