"""The reader's own numbers in one spreadsheet: prices, fills, people, plot, place.

:func:`write_numbers` writes what the garden knows, and leaves blank what it does not
know. :func:`read_numbers` reads the file back: either all of it is taken over, or
nothing, with a list of what to mend. A sheet that is not in the file stays as it is.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from .currency import CurrencyError
from .garden import Garden
from .materials import FillMaterial, MaterialError, Person
from .number_sheets import Column, Grid, NumbersError, Problems, read_files
from .own_sheets import (
    CORNERS,
    FILLS,
    LEVELS,
    PEOPLE,
    SHEETS,
    THINGS,
    own_materials,
    words_of,
)
from .place import Place, PlaceError, Survey
from .place_sheet import place_cells, read_place
from .plot import Plot, Thing
from .price_sheet import price_cells, read_price_rows
from .prices import PriceList
from .sheet_reading import read_table
from .sheet_writing import write_book
from .shopping import shopping
from .tables import table
from .units import Q_

__all__ = ["NumbersError", "numbers_file", "read_numbers", "write_numbers"]


_ERRORS = (PlaceError, MaterialError, CurrencyError, ValueError)


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


def _wanted(garden: Garden) -> list[str]:
    """Goods that the beds need and that have no price, compost for later years too."""
    if not garden.beds:
        return []
    needed = shopping(garden, cut="hand").unpriced
    return [*(line.goods for line in needed), "compost"]


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
    names = {part: {key: w for w, key in words[part].items()} for part in
             ("fills", "people")}  # fmt: skip
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
    }  # fmt: skip
    sheets = {name: (columns, rows[name]) for name, columns in SHEETS.items()}
    return write_book(Path(path), sheets, words, system)


# ---- reading


class _Reader:
    """Reads the sheets of one file for one garden."""

    def __init__(self, garden: Garden, grids: Mapping[str, Grid], file: str):
        self.garden, self.grids, self.words = garden, grids, words_of(garden)
        self.problems = Problems(file)

    def rows(self, name: str) -> list[tuple[int, dict[str, Any]]]:
        """The rows of a sheet."""
        return read_table(self.grids[name], SHEETS[name], self.problems, self.words)

    def made(self, where: str, make: Callable[[], Any]) -> Any:
        """What ``make`` gives; where it refuses, the problem is noted."""
        try:
            return make()
        except _ERRORS as error:
            self.problems.say(f"{where}: {error}")
            return None

    def materials(self, name: str, cls, old: Sequence[Any]) -> tuple:
        """Own fills or people; an old one of the same name keeps its key."""
        known = {made.name: made for made in old}
        taken = set(table(cls._TABLE).rows) | {made.key for made in old}
        found: dict[str, Any] = {}
        for line, given in self.rows(name):
            where = self.grids[name].where(line)
            if given["name"] is None or given["like"] is None:
                continue
            if given["name"] in found:
                self.problems.say(f"{where}, Name: {given['name']} stands there twice")
                continue
            before = known.get(given["name"])
            key = before.key if before else _free_key(given["name"], taken)
            taken.add(key)
            if before is not None:
                given = {
                    n: getattr(before, n) if _equal(getattr(before, n), v) else v
                    for n, v in given.items()
                }
            found[given["name"]] = self.made(
                where, lambda k=key, g=given: cls(key=k, **g)
            )
        return tuple(made for made in found.values() if made is not None)

    def points(self, name: str, keys: Sequence[str], old: Sequence) -> tuple | None:
        """Corners or readings in metres; as before where nothing was changed."""
        rows, whole = [], True
        for _, given in self.rows(name):
            values = [given[key] for key in keys]
            whole = whole and None not in values
            rows.append(tuple(v.m_as("m") if v is not None else 0.0 for v in values))
        if not whole:
            return None
        same = len(rows) == len(old) and all(
            abs(a - b) < 1e-7 for r, o in zip(rows, old, strict=True)
            for a, b in zip(r, o, strict=True)
        )  # fmt: skip
        return tuple(old) if same else tuple(rows)

    def things(self, old: Sequence[Thing]) -> tuple[Thing, ...]:
        """What stands on the plot."""
        sheet, found = "Things on the plot", []
        for line, given in self.rows(sheet):
            if any(given[key] is None for key in ("name", "kind", "x", "y")):
                continue
            sizes = {
                key: given[key].m_as("m") if given[key] is not None else 0.0
                for key in ("x", "y", "length", "width", "height")
            }
            made = self.made(
                self.grids[sheet].where(line),
                lambda g=given, s=sizes: Thing(name=g["name"], kind=g["kind"], **s),
            )
            before = next((o for o in old if made and o.name == made.name), None)
            same = before is not None and before.kind == made.kind and all(
                _equal(getattr(before, key), size) for key, size in sizes.items()
            )  # fmt: skip
            found.append(before if same else made)
        return tuple(thing for thing in found if thing is not None)

    def plot(self, downhill: float | None) -> Plot | None:
        """The plot by its corners and things."""
        old = self.garden.place.plot
        outline, things = (old.outline, old.things) if old else ((), ())
        if "Plot corners" in self.grids:
            outline = self.points("Plot corners", ("x", "y"), outline)
        if "Things on the plot" in self.grids:
            things = self.things(things)
        if outline is None:
            return None
        if not outline and things:
            self.problems.add("sheet Plot corners", "the corners of the plot, because "
                              "there are things on it", None, "4 rows")  # fmt: skip
        if not outline:
            return None
        return self.made(
            "sheet Plot corners",
            lambda: Plot(outline=outline, downhill=downhill, things=things),
        )

    def prices(self, given: Mapping[str, Any], old: PriceList | None):
        """The price list, with what the sheet Place says of it."""
        about = dict(
            currency=given["currency"], date=given["date"],
            taxed_inside=given["taxed_inside"],
        )  # fmt: skip
        rows = old.rows if old else ()
        if "Prices" in self.grids:
            rows = read_price_rows(
                self.grids["Prices"], self.problems, self.words, about["currency"], old
            )
        if not rows and not about["currency"] and not about["date"]:
            return None
        if old and _same_prices(old, rows) and all(
            getattr(old, name) == value for name, value in about.items()
        ):  # fmt: skip
            return old
        name = given["list"] or "own prices"
        if name in table("price_lists"):
            name = "own prices"
        return self.made(
            "sheet Place", lambda: PriceList(name=name, rows=rows, **about)
        )

    def garden_of(self) -> Garden:
        """The garden with all that the file says."""
        old, place = self.garden, self.garden.place
        given = read_place(self.grids.get("Place"), place, self.problems, self.words)
        fills = people = None
        if "Fills" in self.grids:
            fills = self.materials("Fills", FillMaterial, own_materials(old, "fills"))
            # a price may name a fill that this very file brings
            self.words["goods"] |= {fill.name: fill.key for fill in fills}
        if "People" in self.grids:
            people = self.materials("People", Person, own_materials(old, "people"))
        survey = place.survey
        if "Level readings" in self.grids:
            was = survey.readings if survey else ()
            readings = self.points("Level readings", ("x", "y", "down"), was)
            if readings != was:
                survey = readings and self.made(
                    "sheet Level readings", lambda: Survey(readings=readings)
                )
        changes = given["place"] | {
            "plot": self.plot(given["downhill"]), "survey": survey or None,
            "prices": self.prices(given, place.prices),
        }  # fmt: skip
        new = self.made("sheet Place", lambda: place.change(**changes))
        self.problems.stop()
        garden = old.change(place=new, price_lists=_lists(old, new))
        if fills is not None:
            garden = _with_fills(garden.change(fills=fills))
        return garden if people is None else _with_people(garden.change(people=people))


def _equal(one: Any, other: Any) -> bool:
    if isinstance(one, Q_) and isinstance(other, Q_):
        return abs(one.m_as(other.units) - other.m) <= 1e-8 * max(abs(other.m), 1)
    if isinstance(one, int | float) and isinstance(other, int | float):
        return abs(one - other) < 1e-7
    return one == other


def _same_prices(old: PriceList, rows: Sequence[Any]) -> bool:
    def cells(row):
        ends = [getattr(row, n, float("nan")) for n in ("price", "low", "high")]
        numbers = [f"{v:.8g}" for v in (row.length, row.content, *ends)]
        taxed = (getattr(row, "taxed", "") or "yes") != "no"
        return row.goods, row.name, row.group, row.sold_by, taxed, *numbers

    return [cells(row) for row in old.rows] == [cells(row) for row in rows]


def _free_key(name: str, taken: set[str]) -> str:
    """A key for a new material: its name in small letters."""
    base = re.sub(r"\W+", "_", name.casefold()).strip("_")[:60] or "own"
    base = base if base not in taken else f"own_{base}"
    tries = (base if n == 1 else f"{base}_{n}" for n in range(1, 1000))
    return next(key for key in tries if key not in taken)


def _lists(garden: Garden, place: Place) -> tuple[PriceList, ...]:
    """The garden's own lists, with the one of the place in its row."""
    new = place.prices
    if new is None or new.invented:
        return garden.price_lists
    kept = {one.name: one for one in garden.price_lists} | {new.name: new}
    return tuple(kept.values())


def _with_fills(garden: Garden) -> Garden:
    """The garden whose beds carry the own fills as they now are."""
    now = {fill.key: fill for fill in garden.fills}

    def layers(bed):
        return tuple(
            replace(la, material=now.get(la.row.key, la.material)) for la in bed.fill
        )

    return garden.change(beds=tuple(bed.change(fill=layers(bed)) for bed in garden))


def _with_people(garden: Garden) -> Garden:
    """The garden whose beds are for the own people as they now are."""
    now = {person.key: person for person in garden.people}
    beds = (
        bed if isinstance(bed.users, str) else bed.change(
            users=now.get(bed.users.key, bed.users)
        )
        for bed in garden
    )  # fmt: skip
    return garden.change(beds=tuple(beds))


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
    return _Reader(garden, mine, path.name).garden_of()
