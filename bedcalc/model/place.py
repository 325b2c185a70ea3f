"""Given: the place. Slope, soil, climate, price list, and what can be bought.

Levels are read downward from a horizontal datum (a string, a water level): a larger
reading is lower ground. ``x`` runs to the right and ``y`` down the page of the plan.
What is not known is None, and what follows from it says so.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property
from types import SimpleNamespace
from typing import Any

import numpy as np

from ..currency import Currency
from ..parsing.unit_words import read_quantity
from ..tables import Row, table
from ..text_files import short
from ..units import Q_, UnitError, Units, to_si
from .climate import Climate
from .plot import PlaceError, Plot
from .prices import PriceError, PriceList

__all__ = ["RULES", "Levelling", "Place", "PlaceError", "Survey"]

RULES = ("all_cut", "limited", "balanced")
_FARTHEST = (1000, 1000, 100)  # m: x, y and down of a reading
_UNKNOWN_SOIL = "clay"  # carries and holds least of all rows of data/soils.csv
_EXAMPLES = {
    "survey": "Survey(readings=((0, 0, 0.2), (4, 0, 0.3), (0, 3, 0.5)))",
    "plot": "Plot(outline=((0, 0), (12, 0), (12, 8), (0, 8)))",
    "levelling": "Levelling(rule='all_cut')",
}


def _within(
    name: str,
    value,
    unit: str,
    low: float,
    high: float,
    example: str,
    of: str = "place",
):
    try:
        number = to_si(value, unit, f"{of}, {name}")
    except UnitError as error:
        raise PlaceError(str(error)) from None
    scale = to_si(Q_(1.0, unit), unit) if unit else 1.0
    if not low <= number / scale <= high:
        raise PlaceError(
            f"{of}, {name}: needs {low:g} to {high:g} {unit}; given {short(value)}; "
            f"for example {example}"
        )


@dataclass(frozen=True, kw_only=True)
class Survey:
    """Levels as they were read: rows of (x, y, down from the datum), in metres."""

    readings: tuple[tuple[float, float, float], ...]

    def __post_init__(self):
        try:
            rows = np.asarray(self.readings, dtype=float)
        except (TypeError, ValueError):
            rows = np.empty(0)
        if rows.ndim != 2 or rows.shape[1] != 3 or not np.isfinite(rows).all():
            raise PlaceError(
                "survey, readings: needs rows of three numbers in metres (x, y, down); "
                f"given {short(self.readings)}; for example "
                "((0, 0, 0.22), (4.8, 0, 0.281))"
            )
        far = np.any(np.abs(rows) > _FARTHEST, axis=1)
        if far.any():
            x, y, down = (f"{m:g} m" for m in rows[far][0])
            raise PlaceError(
                "survey, readings: needs x and y within 1000 m, and no more than 100 m "
                f"down or up; given {x}, {y}, {down}; for example (4.8, 0, 0.281)"
            )
        if len(rows) < 3 or np.linalg.matrix_rank(rows[:, :2] - rows[0, :2]) < 2:
            raise PlaceError(
                "survey, readings: needs at least three points that do not lie in one "
                f"line; given {len(rows)}; for example three corners of the bed"
            )

    @cached_property
    def points(self) -> np.ndarray:
        """The readings as an array (n, 3) in metres: x, y, down."""
        return np.asarray(self.readings, dtype=float)


@dataclass(frozen=True, kw_only=True)
class Levelling:
    """How the level boxes are let into sloping ground.

    ``rule`` is ``all_cut`` (the lowest corner is let in by the bed's embedment),
    ``limited`` (no trench deeper than ``limit``, low corners stand on blocks) or
    ``balanced`` (what is cut fills the low side). ``gravel`` is a layer under the box;
    the trench is dug deeper by it.
    """

    rule: str = "all_cut"
    limit: Any = field(default_factory=lambda: Q_(150, "mm"))
    gravel: Any = field(default_factory=lambda: Q_(0, "mm"))

    def __post_init__(self):
        if self.rule not in RULES:
            raise PlaceError(
                f"levelling, rule: needs one of {', '.join(RULES)}; "
                f"given {short(self.rule)!r}; for example 'all_cut'"
            )
        _within("limit", self.limit, "mm", 20, 600, "Q_(150, 'mm')", "levelling")
        _within("gravel", self.gravel, "mm", 0, 300, "Q_(50, 'mm')", "levelling")
        if self.rule == "limited" and self.limit < self.gravel:
            raise PlaceError(
                "levelling, limit: needs at least the depth of the gravel, "
                f"{self.gravel:~P}; given {self.limit:~P}; for example Q_(150, 'mm')"
            )

    @cached_property
    def si(self) -> SimpleNamespace:
        """Limit and gravel in metres."""
        return SimpleNamespace(limit=self.limit.m_as("m"), gravel=self.gravel.m_as("m"))

    @classmethod
    def from_words(cls, given: Any) -> Levelling:
        """A levelling out of a garden file: rule, limit and gravel."""
        names = ("rule", "limit", "gravel")
        if not isinstance(given, dict):
            raise PlaceError(
                f"place, levelling: needs {', '.join(names)}, given "
                f"{str(given)[:60]!r}; for example "
                'levelling = { rule = "all_cut", gravel = "50 mm" }'
            )
        found = {name: given[name] for name in names if name in given}
        for name in set(given) & {"limit", "gravel"}:
            found[name] = read_quantity(given[name], "m", f"levelling, {name}")
        return cls(**found)

    def as_words(self) -> dict[str, str]:
        """What a garden file says of it."""
        return {"rule": self.rule} | {
            name: f"{(size := getattr(self, name)).m:.12g} {size.units:~}"
            for name in ("limit", "gravel")
        }

    def change(self, **changes) -> Levelling:
        """A copy with some fields changed."""
        return replace(self, **changes)


@dataclass(frozen=True, kw_only=True)
class Place:
    """Where the beds will stand and what can be bought there.

    What is None is not known, and no value of the demo garden takes its place.
    ``survey`` and ``plot`` are what was measured, ``levelling`` says how the beds are
    let in. ``soil`` is a key of data/soils.csv (the ground under the bed), ``climate``
    is a :class:`Climate`, ``prices`` a :class:`PriceList` (of both, the name of an
    invented one will do). ``kerf`` is what the saw eats at each cut, ``trim`` what is
    cut off both ends of a board together. ``price_rise`` makes every price dearer by a
    share, to see what would follow.
    """

    name: str
    survey: Survey | None = None
    plot: Plot | None = None
    levelling: Levelling = field(default_factory=Levelling)
    latitude: Any = None
    altitude: Any = None
    soil: str | None = None
    climate: Climate | None = None
    prices: PriceList | None = None
    tax_rate: Any = field(default_factory=lambda: Q_(20, "percent"))
    with_tax: bool = False
    price_rise: Any = field(default_factory=lambda: Q_(0, "percent"))
    kerf: Any = field(default_factory=lambda: Q_(3.2, "mm"))
    trim: Any = field(default_factory=lambda: Q_(20, "mm"))
    longest_carried: Any = field(default_factory=lambda: Q_(6, "m"))
    crew: int = 2
    extra: dict = field(default_factory=dict, compare=False, repr=False)

    def __post_init__(self):
        if not isinstance(self.name, str) or not self.name.strip():
            raise PlaceError(
                f"place, name: needs some words; given {short(self.name)!r}; "
                "for example 'Plumtrellis Yard'"
            )
        for name, kind in (
            ("survey", Survey),
            ("plot", Plot),
            ("levelling", Levelling),
        ):
            value = getattr(self, name)
            unknown = value is None and name != "levelling"
            if not unknown and not isinstance(value, kind):
                raise PlaceError(
                    f"place, {name}: needs a {kind.__name__}; given "
                    f"{str(value)[:60]!r}; for example {_EXAMPLES[name]}"
                )
        for name, unit, low, high, example in (
            ("latitude", "deg", -66, 66, "Q_(48, 'deg')"),
            ("altitude", "m", -400, 5000, "Q_(210, 'm')"),
        ):
            if getattr(self, name) is not None:
                _within(name, getattr(self, name), unit, low, high, example)
        _within("tax_rate", self.tax_rate, "percent", 0, 50, "Q_(20, 'percent')")
        _within("price_rise", self.price_rise, "percent", -90, 300, "Q_(20, 'percent')")
        _within("kerf", self.kerf, "mm", 0, 10, "Q_(3.2, 'mm')")
        _within("trim", self.trim, "mm", 0, 300, "Q_(20, 'mm')")
        _within("longest_carried", self.longest_carried, "m", 1, 15, "Q_(3, 'm')")
        if self.soil is not None and self.soil not in table("soils"):
            raise PlaceError(
                f"place, soil: needs one of {', '.join(table('soils').rows)}; "
                f"given {short(self.soil)!r}; for example 'heavy_loam'"
            )
        if not isinstance(self.crew, int) or not 1 <= self.crew <= 100:
            raise PlaceError(
                "place, crew: needs a whole number from 1 to 100; given "
                f"{short(self.crew)}; for example 2"
            )
        if self.climate is not None and not isinstance(self.climate, Climate):
            object.__setattr__(self, "climate", Climate.named(self.climate))
        if self.climate == Climate() and not self.climate.extra:
            object.__setattr__(self, "climate", None)  # it says nothing
        if isinstance(self.prices, str):
            try:
                object.__setattr__(self, "prices", PriceList.named(self.prices))
            except PriceError as error:
                raise PlaceError(f"place, prices: {error}") from None
        if self.prices is not None and not isinstance(self.prices, PriceList):
            raise PlaceError(
                f"place, prices: needs a price list; given {short(self.prices)!r}; for "
                "example 'demo', or PriceList(name='mine', ...)"
            )

    @classmethod
    def unknown(cls, name: str, **known) -> Place:
        """A place of which nothing is known but its name and what is given."""
        return cls(name=name, **known)

    @property
    def currency(self) -> Currency:
        """Of the price list; not chosen where there is none."""
        return self.prices.currency if self.prices else Currency()

    def units(self, system: str = "metric") -> Units:
        """How numbers of this place are shown: metric or US, in its currency."""
        return Units(system, self.currency)

    @cached_property
    def si(self) -> SimpleNamespace:
        """The amounts in SI: metres and plain ratios."""
        names = ("kerf", "trim", "longest_carried")
        metres = {name: getattr(self, name).m_as("m") for name in names}
        return SimpleNamespace(**metres, tax_rate=self.tax_rate.m_as(""))

    @cached_property
    def goods(self) -> dict[str, tuple[Row, ...]]:
        """What is for sale, by goods key: the sizes with their prices."""
        if self.prices is None:
            return {}
        return self.prices.dearer(self.price_rise.m_as("")).goods

    @cached_property
    def ground(self) -> Row:
        """The soil under the bed, a row of data/soils.csv; the weakest if not known."""
        return table("soils")[self.soil or _UNKNOWN_SOIL]

    @property
    def soil_note(self) -> str:
        """What to say beside a verdict on the ground where the soil is not known."""
        return "" if self.soil else f"Soil not known: taken as {self.ground.name}."

    @classmethod
    def read_words(cls, given: dict, lists: dict[str, PriceList]) -> dict[str, Any]:
        """What was measured, climate and price list out of a garden file."""
        found: dict[str, Any] = {}
        if "plot" in given:
            found["plot"] = Plot.from_words(given["plot"])
        if "climate" in given:
            found["climate"] = Climate.from_words(given["climate"])
        if "levelling" in given:
            found["levelling"] = Levelling.from_words(given["levelling"])
        if "survey" in given:
            rows = given["survey"]
            rows = rows.get("readings") if isinstance(rows, dict) else rows
            try:
                found["survey"] = Survey(readings=tuple(tuple(row) for row in rows))
            except TypeError:
                raise PlaceError(
                    "place, survey: needs rows of [x, y, down] in metres, given "
                    f"{str(rows)[:60]!r}; for example "
                    "survey = [[0, 0, 0.22], [4.8, 0, 0.281], [0, 4.8, 0.611]]"
                ) from None
        if "prices" in given:
            name = given["prices"]
            found["prices"] = lists.get(name, name) if isinstance(name, str) else name
        return found

    def word_of(self, name: str) -> Any:
        """How a garden file writes a field that is more than a number or a word."""
        value = getattr(self, name)
        if name == "survey":
            return [list(row) for row in value.readings]
        if name == "prices":
            return value.name
        return value.as_words() if hasattr(value, "as_words") else None

    def change(self, **changes) -> Place:
        """A copy with some fields changed."""
        return replace(self, **changes)
