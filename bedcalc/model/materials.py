"""Own materials: a fill, a group of people or a block that the tables do not list.

Each is made by name and by what differs from the row of data/ that it is ``like``; the
rest is taken from that row. ``row`` is then used wherever a row of the table is.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from functools import cached_property
from typing import Any

from ..tables import Row, table
from ..text_files import short
from ..units import UnitError, from_si, to_si

__all__ = ["BlockSize", "FillMaterial", "MaterialError", "Person", "fill_row"]


class MaterialError(ValueError):
    """An entry of an own material cannot be used: the message says what would do."""


@dataclass(frozen=True, kw_only=True)
class _Own:
    """A row of a table under another name, with some of its numbers changed."""

    key: str
    name: str
    like: str

    _TABLE = ""
    _WHAT = ""
    #: field: unit, least, most, example
    _RANGES = {}

    def __post_init__(self):
        for field in ("key", "name"):
            text = getattr(self, field)
            if not isinstance(text, str) or not text.strip() or len(text) > 80:
                self._refuse(field, "some words, 80 letters at most", repr(text), "'x'")
        if self.like not in table(self._TABLE):
            rows = ", ".join(table(self._TABLE).rows)
            self._refuse("like", f"one of {rows}", repr(self.like), repr(self._FIRST))
        if self.key in table(self._TABLE):
            self._refuse(
                "key", "a name that the tables do not use", repr(self.key), "'my_mix'"
            )
        for field, (unit, low, high, example) in self._RANGES.items():
            self._within(field, unit, low, high, example)

    def _refuse(self, field: str, needed: str, given: Any, example: str):
        raise MaterialError(
            f"own {self._WHAT} {short(self.name)!r}, {field}: needs {needed}; given "
            f"{short(given)}; for example {example}"
        )

    def _within(self, field, unit, low, high, example):
        value = getattr(self, field)
        if value is None:
            return
        shown = f"Q_({example:g}, {unit!r})"
        try:
            number = from_si(to_si(value, unit, field), unit).m
        except UnitError:
            needed = f"a quantity in {unit}"
            self._refuse(field, needed, repr(value), shown)
        if not low * (1 - 1e-9) <= number <= high * (1 + 1e-9):  # 15° is 15.000…
            self._refuse(field, f"{low:g} to {high:g} {unit}", f"{value:~P}", shown)

    @property
    def given(self) -> dict[str, Any]:
        """What differs from the row it is like: field to quantity."""
        found = {f.name: getattr(self, f.name) for f in fields(self)}
        return {
            name: value
            for name, value in found.items()
            if name in self._RANGES and value is not None
        }

    @cached_property
    def row(self) -> Row:
        """The row of the table with the own numbers in place (SI)."""
        base = table(self._TABLE)[self.like]
        values = {
            name: to_si(value, self._RANGES[name][0], name)
            for name, value in self.given.items()
        }
        more = self._follow(base, values)
        words = {"name": self.name, "source": "own", "where": "given by the reader"}
        return Row(self.key, base._values | values | more | words, base._units)

    def _follow(self, base: Row, values: dict) -> dict:
        """Columns that move along with those given."""
        return {}

    def __getstate__(self):
        return {f.name: getattr(self, f.name) for f in fields(self)}


def _shifted(base: Row, name: str, values: dict, low: float, high: float) -> dict:
    """The low and high ends of a range, moved as far as its middle was moved."""
    if name not in values:
        return {}
    moved = values[name] - getattr(base, name)
    return {
        f"{name}_{end}": min(max(getattr(base, f"{name}_{end}") + moved, low), high)
        for end in ("low", "high")
    }


@dataclass(frozen=True, kw_only=True)
class FillMaterial(_Own):
    """A fill of one's own.

    ``unit_weight_moist`` and ``unit_weight_soaked`` are weights of the settled fill (4
    to 25 kN/m³; 10 kN/m³ is about 1 t/m³), ``friction`` its angle of internal friction,
    ``settle`` the share of the loose volume that is lost at first settling. It is sold
    as the goods of its own ``key``. How fast it rots is taken from ``like``.
    """

    like: str = "mix"
    unit_weight_moist: Any = None
    unit_weight_soaked: Any = None
    friction: Any = None
    settle: Any = None

    _TABLE, _WHAT, _FIRST = "fills", "fill", "mix"
    _RANGES = {
        "unit_weight_moist": ("kN/m^3", 0.5, 25, 11),
        "unit_weight_soaked": ("kN/m^3", 0.5, 25, 15),
        "friction": ("deg", 15, 45, 30),
        "settle": ("percent", 0, 70, 15),
    }

    def __post_init__(self):
        super().__post_init__()
        row = self.row
        if row.unit_weight_soaked < row.unit_weight_moist:
            self._refuse(
                "unit_weight_soaked",
                "at least the moist weight",
                f"{from_si(row.unit_weight_soaked, 'kN/m^3'):.3g~P} soaked and "
                f"{from_si(row.unit_weight_moist, 'kN/m^3'):.3g~P} moist",
                "Q_(15, 'kN/m^3')",
            )

    def _follow(self, base, values):
        dry = values.get("unit_weight_moist", base.unit_weight_moist)
        ratio = dry / base.unit_weight_moist
        return (
            _shifted(base, "settle", values, 0.0, 0.8)
            | _shifted(base, "friction", values, 0.2, 0.87)
            | {
                "goods": self.key,
                "unit_weight_dry": base.unit_weight_dry * ratio,
                "loose_density": base.loose_density * ratio,
                "settled_dry_density": base.settled_dry_density * ratio,
            }
        )


@dataclass(frozen=True, kw_only=True)
class Person(_Own):
    """People of one's own: how far they reach and how tall they are.

    ``reach`` is measured from one side, at the outside of the cap.
    """

    like: str = "adult"
    reach: Any = None
    stature: Any = None
    barrow: Any = None

    _TABLE, _WHAT, _FIRST = "people", "people", "adult"
    _RANGES = {
        "reach": ("cm", 15, 110, 60),
        "stature": ("cm", 70, 220, 165),
        "barrow": ("L", 5, 300, 85),
    }

    def _follow(self, base, values):
        return _shifted(base, "reach", values, 0.1, 1.2)


@dataclass(frozen=True, kw_only=True)
class BlockSize(_Own):
    """A block of one's own: its length, course height, thickness and weight."""

    like: str = "solid_400x200x150"
    length: Any = None
    course: Any = None
    thickness: Any = None
    unit_weight: Any = None

    _TABLE, _WHAT, _FIRST = "blocks", "block", "solid_400x200x150"
    _RANGES = {
        "length": ("mm", 100, 1200, 400),
        "course": ("mm", 50, 500, 200),
        "thickness": ("mm", 80, 600, 150),
        "unit_weight": ("kN/m^3", 5, 30, 20),
    }

    def _follow(self, base, values):
        weight = values.get("unit_weight", base.unit_weight)
        thick = values.get("thickness", base.thickness)
        return {"face_weight": weight * thick}


def fill_row(material: str | FillMaterial) -> Row:
    """The row of a fill, of the table or one's own."""
    return (
        material.row if isinstance(material, FillMaterial) else table("fills")[material]
    )
