"""Read sheets of numbers: find the columns, read the cells, note what cannot be used.

A cell may carry its own unit and a decimal comma. Nothing is ever run: a formula is
refused.
"""

from __future__ import annotations

import difflib
import math
from collections.abc import Mapping, Sequence
from datetime import date, datetime, time
from typing import Any

from ..currency import Currency
from ..parsing.typed import EntryError, read_entry
from ..units import GRAVITY, Q_, UnitError
from .columns import (
    ALLOWED,
    EXAMPLE,
    UNIT_WORDS,
    Column,
    Formula,
    Grid,
    Problems,
    allowed,
    unit_words,
)

__all__ = ["headings", "read_cell", "read_table"]

_DENSITY = (("kg/m^3", Q_(GRAVITY, "m/s^2")),)
#: units that a cell may carry besides that of its column
_OTHER_UNITS = {
    "unit_weight_moist": _DENSITY,
    "unit_weight_soaked": _DENSITY,
    "content": (("m^3", Q_(1, "1/m^3")), ("m^2", Q_(1, "1/m^2"))),
}
_YES = {"yes": True, "y": True, "true": True, "no": False, "n": False, "false": False}


def _plain(text: Any) -> str:
    return " ".join(str(text).replace("_", " ").split()).casefold()


def headings(
    cells: Sequence[Any], columns: Sequence[Column]
) -> dict[str, list[tuple[int, str]]]:
    """By column key: where it stands and the unit its heading gives."""
    known = {_plain(c.heading): c.key for c in columns}
    known |= {_plain(c.key): c.key for c in columns}
    found: dict[str, list[tuple[int, str]]] = {}
    for n, cell in enumerate(cells):
        if not isinstance(cell, str):
            continue
        bare, _, old = cell.strip().partition(" [")
        unit = old.rstrip("]")
        if _plain(bare) not in known and " in " in bare:
            bare, _, unit = bare.rpartition(" in ")
        if _plain(bare) in known:
            found.setdefault(known[_plain(bare)], []).append((n, unit.strip()))
    return found


def read_table(
    grid: Grid,
    columns: Sequence[Column],
    problems: Problems,
    words: Mapping[str, Mapping[str, Any]],
    *,
    currency: Currency | None = None,
    optional: Sequence[str] = (),
) -> list[tuple[int, dict[str, Any]]]:
    """The reader's rows of a sheet: number of the line, and values by column.

    Parameters
    ----------
    grid : Grid
    columns : sequence of Column
    problems : Problems
        Takes what cannot be used.
    words : mapping
        Lists of words by name, each word with what it stands for.
    currency : Currency, optional
        Its sign may stand in a price.
    optional : sequence of str
        Columns that may be left out of the file.
    """
    for what in grid.hidden:
        problems.say(
            f"{grid.where()}: {what} is hidden; show it, so that you see what is read"
        )
    if not grid.lines:
        problems.say(f"{grid.where()}: is empty; its headings are missing")
        return []
    start = max(
        range(min(5, len(grid.lines))),
        key=lambda n: len(headings(grid.lines[n][1], columns)),
    )
    line, cells = grid.lines[start]
    places = headings(cells, columns)
    missing = [
        c.heading for c in columns if c.key not in places and c.key not in optional
    ]
    if missing:
        given = ", ".join(str(c) for c in cells if c not in (None, ""))
        many = "columns" if len(missing) > 1 else "column"
        problems.add(grid.where(line), f"the {many} {', '.join(missing)}", given)
        return []
    for key, at in places.items():
        if len(at) > 1:
            name = next(c.heading for c in columns if c.key == key)
            problems.say(f"{grid.where(line)}: two columns are called {name}")
    units = {
        c.key: _unit_of(c, places[c.key][0][1], grid.where(line), problems)
        for c in columns
        if c.key in places
    }
    rows = []
    for line, cells in grid.lines[start + 1 :]:
        given = {
            key: cells[at[0][0]] if at[0][0] < len(cells) else None
            for key, at in places.items()
        }
        kind = _marked(given)
        if kind == EXAMPLE:
            _example_kept(columns, given, grid.where(line), problems)
        if kind or not any(c is not None and str(c).strip() for c in given.values()):
            continue
        rows.append(
            (
                line,
                {
                    c.key: read_cell(
                        c,
                        given.get(c.key),
                        grid.where(line, c.heading),
                        problems,
                        words,
                        units.get(c.key, c.unit),
                        currency or Currency(),
                    )
                    for c in columns
                },
            )
        )
    return rows


def _marked(given: Mapping[str, Any]) -> str:
    for cell in given.values():
        for mark in (EXAMPLE, ALLOWED):
            if isinstance(cell, str) and cell.strip().startswith(mark.strip()):
                return mark
    return ""


def _example_kept(columns, given, where, problems) -> None:
    """Say so where somebody wrote their numbers into the row of examples."""
    for c in columns:
        cell = given.get(c.key)
        text = "" if cell is None else str(cell).strip().removeprefix(EXAMPLE).strip()
        if text and text.removeprefix(EXAMPLE.strip()).strip() != c.example:
            problems.say(
                f"{where}, {c.heading}: this is the example row, which is not read; "
                "write your own in a row below it"
            )
            return


def _unit_of(column: Column, given: str, where: str, problems: Problems):
    """The unit of a column: that of its heading, if it gives one."""
    if not column.unit or column.unit == "money" or not given:
        return column.unit
    word = {words: unit for unit, words in UNIT_WORDS.items()}.get(given, given)
    try:
        found = read_entry(f"1 {word}", column.unit, column.heading)
        short = f"{found.units:~C}".replace("**", "^")
        return "percent" if column.unit == "percent" else short
    except EntryError:
        problems.add(
            f"{where}, {column.heading}",
            f"a unit in the heading such as {unit_words(column.unit)}",
            given,
        )
        return column.unit


def read_cell(
    column: Column,
    cell: Any,
    where: str,
    problems: Problems,
    words: Mapping[str, Any],
    unit: str,
    currency: Currency,
) -> Any:
    """The value of a cell: text, a number, a quantity, or None for a blank."""
    example = column.example
    if cell is None or not str(cell).strip():
        if column.needed:
            problems.add(where, _needs(column, words), None, example)
        return None
    if isinstance(cell, Formula):
        problems.add(where, "a number or a word, not a formula", cell, example)
        return None
    if column.words:
        return _word(column, str(cell).strip(), where, problems, words)
    if column.unit is None:
        return _text(cell)
    if isinstance(cell, bool | datetime | date | time):
        given = _text(cell) if not isinstance(cell, bool) else cell
        problems.add(where, _needs(column, words), given, example)
        return None
    found = _number(column, cell, unit, where, problems, words, currency)
    if found is None:
        return None
    plain = found.m_as(column.unit) if column.unit else found.m_as("")
    slack = 1e-9 * max(abs(plain), 1)
    if not column.low - slack <= plain <= column.high + slack:
        problems.add(where, _needs(column, words), cell, example)
        return None
    return float(plain) if column.unit in ("", "money") else found


def _needs(column: Column, words) -> str:
    said = allowed(column, words).removesuffix(", or blank")
    number = column.unit is not None and not column.says
    return f"a number, {said}" if number and said != "a number" else said


def _text(cell: Any) -> str:
    """Text as it stands; a date of the spreadsheet is written as a day in words."""
    if isinstance(cell, datetime | date):
        return f"{cell.day} {cell:%B} {cell.year}"
    if isinstance(cell, float) and cell.is_integer():
        return str(int(cell))
    return str(cell).strip().lstrip("'")


def _word(column: Column, text: str, where: str, problems: Problems, words) -> Any:
    known = words[column.words]
    by_plain = {_plain(word): value for word, value in known.items()}
    by_plain = {_plain(v): v for v in known.values()} | by_plain
    if column.words == "yes":
        by_plain |= _YES
    if _plain(text) in by_plain:
        return by_plain[_plain(text)]
    near = difflib.get_close_matches(_plain(text), [_plain(w) for w in known], n=1)
    example = next((w for w in known if near and _plain(w) == near[0]), column.example)
    problems.add(where, _needs(column, words), text, example)
    return None


def _number(column, cell, unit, where, problems, words, currency):
    money = column.unit == "money"
    if isinstance(cell, int | float):
        if not math.isfinite(cell):
            problems.add(where, _needs(column, words), cell, column.example)
            return None
        return Q_(float(cell), unit or "")
    text = str(cell).strip().lstrip("'")
    try:
        return read_entry(
            text,
            unit or "",
            column.heading,
            bare=True,
            example=column.example,
            currency=currency,
        )
    except (EntryError, UnitError) as error:
        for other, factor in _OTHER_UNITS.get(column.key, ()):
            try:
                return read_entry(text, other, column.heading) * factor
            except (EntryError, UnitError):
                continue
        if "comma" in str(error) or "," in text and not money:
            problems.say(f"{where}: {error}")
        else:
            problems.add(where, _needs(column, words), text, column.example)
        return None
