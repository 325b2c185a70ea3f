"""Read the sheets of own numbers back into a garden: all of it, or nothing.

Every cell that cannot be used is noted with its sheet, row and column, so that all can
be fixed at once. What is unchanged stays exactly as it was in the garden.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from ..currency import CurrencyError
from ..garden.garden import Garden
from ..model.climate import MONTHS, NORMALS, Climate
from ..model.materials import BlockSize, FillMaterial, MaterialError, Person
from ..model.place import Place, PlaceError, Survey
from ..model.plot import Plot, Thing
from ..model.prices import PriceList
from ..questions.own_builds import own_build, own_builds, with_builds
from ..tables import table
from ..units import Q_
from ..walls.custom_sections import wall_of_block
from .columns import Grid, Problems
from .own_sheets import SHEETS, goods_of, own_materials, words_of
from .place import read_place
from .prices import read_price_rows
from .reading import read_table

__all__ = ["Reader"]

_ERRORS = (PlaceError, MaterialError, CurrencyError, ValueError)


class Reader:
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
        """Own fills, people or blocks; an old one of the same name keeps its key."""

        def make(key: str, given: dict[str, Any], before: Any) -> Any:
            if before is not None:
                given = {
                    n: getattr(before, n) if _equal(getattr(before, n), v) else v
                    for n, v in given.items()
                }
            return cls(key=key, **given)

        return self.named(name, cls._TABLE, old, make)

    def named(
        self,
        sheet: str,
        listed: str,
        old: Sequence[Any],
        make: Callable[[str, dict[str, Any], Any], Any],
    ) -> tuple:
        """What the rows of a sheet make, each with a name of its own."""
        known = {made.name: made for made in old}
        taken = set(table(listed).rows) | {made.key for made in old}
        found: dict[str, Any] = {}
        for line, given in self.rows(sheet):
            where = self.grids[sheet].where(line)
            if given["name"] is None or given["like"] is None:
                continue
            if given["name"] in found:
                self.problems.say(f"{where}, Name: {given['name']} stands there twice")
                continue
            before = known.get(given["name"])
            key = before.key if before else _free_key(given["name"], taken)
            taken.add(key)
            found[given["name"]] = self.made(
                where, lambda k=key, g=given, b=before: make(k, g, b)
            )
        return tuple(made for made in found.values() if made is not None)

    def climate(self, given: Mapping[str, Any], old: Climate | None) -> Climate | None:
        """The climate: months of its sheet, the rest from the sheet Place."""
        changes, old = dict(given), old or Climate()
        if "Climate" in self.grids:
            rows: dict[int, dict[str, Any]] = {}
            for line, row in self.rows("Climate"):
                month = row.pop("month")
                if month in rows:
                    where = self.grids["Climate"].where(line)
                    self.problems.say(f"{where}, Month: stands there twice")
                elif month is not None:
                    rows[month] = row
            for name, about in NORMALS.items():
                cells = [rows.get(n, {}).get(name) for n in range(len(MONTHS))]
                changes[name] = [
                    c.m_as(about.unit) if isinstance(c, Q_) else c for c in cells
                ]
        now = self.made("sheet Climate", lambda: old.change(**changes))
        same = now is not None and all(
            _same(getattr(old, name), getattr(now, name)) for name in changes
        )
        return (old if same else now) or None

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
            abs(a - b) < 1e-7
            for r, o in zip(rows, old, strict=True)
            for a, b in zip(r, o, strict=True)
        )
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
            same = (
                before is not None
                and before.kind == made.kind
                and all(
                    _equal(getattr(before, key), size) for key, size in sizes.items()
                )
            )
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
            self.problems.add(
                "sheet Plot corners",
                "the corners of the plot, because there are things on it",
                None,
                "4 rows",
            )
        if not outline:
            return None
        return self.made(
            "sheet Plot corners",
            lambda: Plot(outline=outline, downhill=downhill, things=things),
        )

    def prices(self, given: Mapping[str, Any], old: PriceList | None):
        """The price list, with what the sheet Place says of it."""
        about = dict(
            currency=given["currency"],
            date=given["date"],
            taxed_inside=given["taxed_inside"],
        )
        rows = old.rows if old else ()
        if "Prices" in self.grids:
            rows = read_price_rows(
                self.grids["Prices"], self.problems, self.words, about["currency"], old
            )
        if not rows and not about["currency"] and not about["date"]:
            return None
        if (
            old
            and _same_prices(old, rows)
            and all(getattr(old, name) == value for name, value in about.items())
        ):
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
        blocks = builds = None
        if "Blocks" in self.grids:
            blocks = self.materials("Blocks", BlockSize, own_materials(old, "blocks"))
        if "Boards and posts" in self.grids:
            builds = self.named("Boards and posts", "walls", own_builds(old), own_build)
        made = [*(builds or ()), *map(wall_of_block, blocks or ())]
        self.words["goods"] |= goods_of(made)
        survey = place.survey
        if "Level readings" in self.grids:
            was = survey.readings if survey else ()
            readings = self.points("Level readings", ("x", "y", "down"), was)
            if readings != was:
                survey = readings and self.made(
                    "sheet Level readings", lambda: Survey(readings=readings)
                )
        changes = given["place"] | {
            "plot": self.plot(given["downhill"]),
            "survey": survey or None,
            "prices": self.prices(given, place.prices),
            "climate": self.climate(given["climate"], place.climate),
        }
        new = self.made("sheet Place", lambda: place.change(**changes))
        self.problems.stop()
        garden = old.change(place=new, price_lists=_lists(old, new))
        if fills is not None:
            garden = _with_fills(garden.change(fills=fills))
        if people is not None:
            garden = _with_people(garden.change(people=people))
        if blocks is not None or builds is not None:
            garden = self.made(
                "sheet Boards and posts", lambda: with_builds(garden, builds, blocks)
            )
            self.problems.stop()
        return garden


def _equal(one: Any, other: Any) -> bool:
    if isinstance(one, Q_) and isinstance(other, Q_):
        return abs(one.m_as(other.units) - other.m) <= 1e-8 * max(abs(other.m), 1)
    if isinstance(one, int | float) and isinstance(other, int | float):
        return abs(one - other) < 1e-7
    return one == other


def _same(one: Any, other: Any) -> bool:
    """Whether two entries of a climate are the same, up to how they were converted."""
    if isinstance(one, tuple) and isinstance(other, tuple):
        return all(
            (a is None) == (b is None) and (a is None or abs(a - b) < 1e-6)
            for a, b in zip(one, other, strict=True)
        )
    return _equal(one, other)


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
        bed
        if isinstance(bed.users, str)
        else bed.change(users=now.get(bed.users.key, bed.users))
        for bed in garden
    )
    return garden.change(beds=tuple(beds))
