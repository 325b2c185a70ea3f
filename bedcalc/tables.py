"""Tables: facts out of data/*.csv, read once, typed, each row with its source.

A heading is ``name`` for text, ``name [unit]`` for a number with a unit, ``name []``
for a plain ratio. Every table has the columns ``key``, ``source`` and ``where``
(page, table or clause); the source key must stand in data/sources.csv, and
:func:`label` says how far a row can be trusted. Numbers are kept in SI; a blank cell
is not-a-number.
"""

from __future__ import annotations

import csv
import functools
import re
from pathlib import Path

import numpy as np

from .units import Q_, _factor, from_si

_ZERO_CELSIUS = 273.15
__all__ = ["LABELS", "Row", "Table", "data_folder", "label", "table"]

_HEADING = re.compile(r"^(?P<name>[A-Za-z_][A-Za-z0-9_]*)(?: \[(?P<unit>.*)\])?$")


def data_folder() -> Path:
    """The folder data/: inside an installed package, or beside it in a checkout."""
    here = Path(__file__).parent
    return here / "_data" if (here / "_data").is_dir() else here.parent / "data"


def _si(value: float, unit: str) -> float:
    """A number of a table in SI; degrees Celsius are the only scale with an offset."""
    return value + _ZERO_CELSIUS if unit == "degC" else value * _factor(unit)


class Row:
    """One fact: text as it stands, numbers in SI; ``q(name)`` has the unit."""

    __slots__ = ("_units", "_values", "key")

    def __init__(self, key: str, values: dict, units: dict):
        self.key, self._values, self._units = key, values, units

    def __getattr__(self, name):
        if name.startswith("_"):  # a copy asks before it has any column
            raise AttributeError(name)
        try:
            return self._values[name]
        except KeyError:
            raise AttributeError(
                f"row {self.key!r} has no column {name!r}; "
                f"it has {', '.join(self._values)}"
            ) from None

    def q(self, name: str):
        """The number in column ``name`` as a quantity, in the unit of the table."""
        value, unit = self._values[name], self._units[name]
        if unit == "degC":
            return Q_(value - _ZERO_CELSIUS, unit)
        return from_si(value, unit)

    def _same(self) -> tuple:
        """What makes two rows equal; a blank equals a blank."""
        pairs = sorted(self._values.items())
        return self.key, tuple((k, None if v != v else v) for k, v in pairs)

    def __eq__(self, other):
        return isinstance(other, Row) and self._same() == other._same()

    def __hash__(self):
        return hash(self.key)

    def __reduce__(self):
        return Row, (self.key, self._values, self._units)

    def changed(self, **values) -> Row:
        """The same row with other values, in SI."""
        return Row(self.key, self._values | values, self._units)

    def __repr__(self):
        return f"Row({self.key!r})"


class Table:
    """All rows of one file, by key, and its number columns as SI arrays."""

    def __init__(self, name: str, path: Path):
        self.name, self.path = name, path
        self.rows: dict[str, Row] = {}
        self.units: dict[str, str] = {}
        with path.open(newline="", encoding="utf-8") as file:
            reader = csv.reader(file)
            headings = [_HEADING.match(h.strip()) for h in next(reader)]
            names = [h["name"] for h in headings]
            units = [h["unit"] for h in headings]
            self.units = {
                n: u for n, u in zip(names, units, strict=True) if u is not None
            }
            for line, cells in enumerate(reader, start=2):
                if cells:
                    self._add(names, units, cells, line)

    def _add(self, names, units, cells, line):
        if len(cells) != len(names):
            raise ValueError(
                f"{self.path.name}, line {line}: needs {len(names)} cells, "
                f"given {len(cells)}"
            )
        values = {}
        for name, unit, cell in zip(names, units, cells, strict=True):
            cell = cell.strip()
            if unit is None:
                values[name] = cell
            else:
                try:
                    values[name] = _si(float(cell), unit) if cell else float("nan")
                except ValueError:
                    raise ValueError(
                        f"{self.path.name}, line {line}, column {name}: needs a number "
                        f"in {unit or 'no unit'}, given {cell!r}"
                    ) from None
        key = values.pop("key")
        if key in self.rows:
            raise ValueError(f"{self.path.name}, line {line}: key {key!r} stands twice")
        self.rows[key] = Row(key, values, self.units)

    def __getitem__(self, key: str) -> Row:
        try:
            return self.rows[key]
        except KeyError:
            raise KeyError(
                f"{self.name}: no row {key!r}; there are {', '.join(self.rows)}"
            ) from None

    def __iter__(self):
        return iter(self.rows.values())

    def __contains__(self, key) -> bool:
        return key in self.rows

    def __len__(self):
        return len(self.rows)

    def column(self, name: str) -> np.ndarray:
        """One number column as an SI array, in the order of the rows."""
        return np.array([getattr(row, name) for row in self])


@functools.cache
def table(name: str) -> Table:
    """The table data/<name>.csv, read once."""
    path = data_folder() / f"{name}.csv"
    if not path.is_file():
        raise FileNotFoundError(f"no table {name!r}: {path.name} is not in data/")
    return Table(name, path)


#: how far a number can be trusted, from best to least
LABELS = (
    "printed", "computed", "from memory", "common practice", "assumption", "invented",
)  # fmt: skip  # rows of a table


def label(source: str, where: str = "") -> str:
    """How honest a source is about a number: one of ``LABELS``.

    A published source counts as "printed" only if the number was read in it. Where the
    row or the source says "from memory", that is its label; where part of a row is
    assumed or judged by us, the whole row is an assumption.

    Parameters
    ----------
    source : str
        Key of data/sources.csv.
    where : str
        Page, table or clause, as it stands in the row.
    """
    row = table("sources")[source]
    if "assum" in where or "judgement" in where:
        return "invented" if row.kind == "invented" else "assumption"
    if row.kind in LABELS:
        return row.kind
    return "from memory" if "from memory" in f"{where} {row.note}" else "printed"
