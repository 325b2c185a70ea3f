"""Sheets of numbers that a person fills in: their columns, files, and what is wrong.

A sheet has a row of headings in plain words with the unit, a row that says what is
allowed, a row with an example, and then the reader's own rows. Whatever cannot be used
is collected, so that all of it can be fixed at once.
"""

from __future__ import annotations

import csv
import io
import math
import re
import warnings
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from zipfile import ZipFile

from ..parsing.typed import sign
from ..text_files import FileError, decode, read_bytes, short
from ..units import Q_

__all__ = [
    "ALLOWED", "EXAMPLE", "UNIT_WORDS", "Column", "Formula", "Grid", "NumbersError",
    "Problems", "allowed", "csv_rows", "heading", "read_files", "unit_words",
]  # fmt: skip  # a list of names

ALLOWED, EXAMPLE = "Allowed: ", "Example: "
UNIT_WORDS = {
    "deg": "degrees",
    "degC": "°C",
    "degF": "°F",
    "kW*hour/m^2": "kWh/m²",
    "lbf/ft^3": "lb/ft³",
    "liter": "litres",
}
MOST = 20  # problems that are listed
_LARGEST = 5_000_000  # bytes of a file
_UNPACKED = 8_000_000  # bytes of a spreadsheet's parts
_ROWS = 3000  # of a sheet
_CELLS = 200  # of a row


class NumbersError(FileError):
    """A file cannot be taken over; ``problems`` says each thing to fix."""

    def __init__(self, file: str, problems: Sequence[str]):
        self.file, self.problems = file, tuple(short(one, 400) for one in problems)
        shown = [f"{n}. {text}" for n, text in enumerate(self.problems[:MOST], 1)]
        more = len(self.problems) - MOST
        if more > 0:
            shown.append(f"… and {more} more")
        head = f"{file}: nothing was taken over. To fix:"
        super().__init__("\n".join([head, *shown]))


class Problems:
    """What cannot be used in a file, with the place of each."""

    def __init__(self, file: str):
        self.file, self.found = file, []

    def add(self, where: str, needs: str, given: Any, example: str = "") -> None:
        """Note one problem: where it is, what is needed, what is given."""
        shown = "nothing" if given in (None, "") else short(given)
        words = f"{where}: needs {needs}; given {shown}"
        self.found.append(words + (f"; for example {example}" if example else ""))

    def say(self, words: str) -> None:
        """Note a problem that already has its words."""
        self.found.append(words)

    def stop(self) -> None:
        """Raise what was found, if anything was."""
        if self.found:
            raise NumbersError(self.file, self.found)


class Formula(str):
    """A cell that holds a formula."""


@dataclass(frozen=True, kw_only=True)
class Column:
    """One column: its heading, its unit and what is allowed.

    ``unit`` is None for text, empty for a plain number, ``"money"`` for a price; ``us``
    is the unit for a reader who works in feet and inches. ``low`` and ``high`` are in
    ``unit``. ``words`` names a list of words of which the cell needs one.
    """

    key: str
    heading: str
    unit: str | None = None
    us: str = ""
    low: float = -math.inf
    high: float = math.inf
    words: str = ""
    needed: bool = False
    says: str = ""
    example: str = ""
    width: float = 14

    def unit_in(self, system: str) -> str:
        """Its unit for a reader of metric or US units."""
        return (self.us if system == "us" else "") or self.unit or ""


@dataclass(frozen=True, kw_only=True)
class Grid:
    """The cells of a sheet as they stand: number of the line and its cells."""

    name: str
    lines: tuple[tuple[int, tuple[Any, ...]], ...]
    hidden: tuple[str, ...] = ()

    def where(self, line: int = 0, column: str = "") -> str:
        """A place in the sheet, in words."""
        parts = [f"sheet {self.name}"] if self.name else ["price list"]
        parts += [f"row {line}"] if line else []
        return ", ".join([*parts, *([column] if column else [])])


# ---- headings


def unit_words(unit: str) -> str:
    """A unit as the headings write it."""
    return UNIT_WORDS.get(unit, sign(unit))


def heading(column: Column, system: str = "metric") -> str:
    """The heading of a column with its unit."""
    unit = column.unit_in(system)
    if not unit or unit == "money":
        return column.heading
    return f"{column.heading} in {unit_words(unit)}"


def _end(value: float, column: Column, unit: str) -> str:
    if column.unit and unit != column.unit:
        value = Q_(value, column.unit).m_as(unit)
    return f"{value:.4g}"


def allowed(
    column: Column, words: Mapping[str, Mapping[str, Any]], system: str = "metric"
) -> str:
    """What a cell of the column may hold."""
    if column.says:
        found = column.says
    elif column.words:
        every = list(words[column.words])
        few = len(every) <= 8 and sum(map(len, every)) < 90
        found = ", ".join(every) if few else "a name from sheet Words"
    elif column.unit is None:
        found = "some words"
    else:
        unit = column.unit_in(system)
        low, high = (_end(end, column, unit) for end in (column.low, column.high))
        if math.isinf(column.high):
            found = "a number" if math.isinf(column.low) else f"{low} or more"
        else:
            found = f"{low} to {high}"
            if unit and unit != "money":
                found += f" {unit_words(unit)}"
    return found if column.needed else f"{found}, or blank"


# ---- files


def read_files(path: Path) -> dict[str, Grid]:
    """The sheets of a spreadsheet, or the one of a plain text file, by name.

    Raises
    ------
    NumbersError
        If there is no such file, it is empty, too large, or something else.
    """
    path = Path(path)
    if path.suffix.lower() == ".csv":
        return {"": Grid(name="", lines=_filled(csv_rows(path), path.name))}
    return _book(path)


def _raw(path: Path, most: int) -> bytes:
    try:
        raw = read_bytes(path, most)
    except FileError as error:
        raise _named(error, path) from None
    if not raw:
        raise NumbersError(path.name, ["the file is empty; write it again"])
    return raw


def _named(error: FileError, path: Path) -> NumbersError:
    return NumbersError(path.name, [str(error).removeprefix(f"{path.name}: ")])


def csv_rows(path: Path, most: int = _LARGEST) -> list[tuple[int, list[str]]]:
    """The rows of a plain text file: number of the line, and its cells.

    Commas, semicolons or tabs part the cells. Where it is not the comma, numbers may
    have decimal commas and points between thousands; they come back with a point.

    Parameters
    ----------
    path : Path
    most : int
        Bytes it may have.

    Raises
    ------
    NumbersError
        If there is no such file, or it is not plain text.
    """
    try:
        text = decode(_raw(path, most), path.name)
    except NumbersError:
        raise
    except FileError as error:
        raise _named(error, path) from None
    first, _, rest = text.partition("\n")
    said = re.fullmatch(r'"?sep=(.)"?\s*', first, re.I)  # as some spreadsheets begin
    mark = said[1] if said else max(";\t,", key=first.count)
    rows = csv.reader(
        io.StringIO(rest if said else text, newline=""), delimiter=_mark(mark)
    )
    try:
        found = [(line, cells) for line, cells in enumerate(rows, 2 if said else 1)]
    except csv.Error as error:
        raise NumbersError(
            path.name, [f"needs plain text (CSV); given something else ({error})"]
        ) from None
    if mark != ",":
        found = [(line, [_with_point(cell) for cell in cells]) for line, cells in found]
    return found


def _mark(sign_: str) -> str:
    return sign_ if sign_ in ";,\t|:" else ","


_COMMA = re.compile(r"\s*[-+]?(?:\d{1,3}(?:\.\d{3}){0,5}|\d{1,15}),\d{1,15}\s*")


def _with_point(cell: str) -> str:
    """A number with a decimal comma, with a point instead; other text as it is."""
    if not _COMMA.fullmatch(cell[:60]) or len(cell) > 60:
        return cell
    return cell.replace(".", "").replace(",", ".")


def _filled(rows: Iterable, file: str) -> tuple:
    found = []
    for line, cells in rows:
        if any(cell is not None and str(cell).strip() for cell in cells):
            found.append((line, tuple(cells)))
            if len(cells) > _CELLS:
                raise NumbersError(
                    file, [f"row {line}: needs at most {_CELLS} cells; given more"]
                )
        if len(found) > _ROWS:
            raise NumbersError(file, [f"a sheet has more than {_ROWS} rows"])
    return tuple(found)


def _book(path: Path) -> dict[str, Grid]:
    from openpyxl import load_workbook

    raw = _raw(path, _LARGEST)
    refusal = NumbersError(
        path.name,
        [
            "needs a spreadsheet saved as .xlsx; given something else; open it, "
            "save it as .xlsx, and close it"
        ],
    )
    try:
        with ZipFile(io.BytesIO(raw)) as parts:
            unpacked = sum(part.file_size for part in parts.infolist())
        if unpacked > _UNPACKED:
            raise NumbersError(path.name, ["the file is too large; write it again"])
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # on parts of a file that we do not read
            book = load_workbook(io.BytesIO(raw))
    except NumbersError:
        raise
    except Exception:  # a damaged spreadsheet fails in a hundred ways
        raise refusal from None
    found = {}
    for sheet in book.worksheets:
        end = {
            "max_row": min(sheet.max_row, _ROWS + 5),
            "max_col": min(sheet.max_column, _CELLS),
        }
        rows = (
            (line, [_cell(cell) for cell in cells])
            for line, cells in enumerate(sheet.iter_rows(**end), start=1)
        )
        lines = _filled(rows, path.name)
        width = max((len(cells) for _, cells in lines), default=0)
        found[sheet.title.strip()] = Grid(
            name=sheet.title.strip(), lines=lines, hidden=_hidden(sheet, lines, width)
        )
    book.close()
    if not found:
        raise refusal
    return found


def _cell(cell) -> Any:
    if cell.data_type == "f":
        return Formula(getattr(cell.value, "text", cell.value))
    return None if cell.data_type == "e" and cell.value is None else cell.value


def _hidden(sheet, lines, width: int) -> tuple[str, ...]:
    """Columns and filled rows that cannot be seen."""
    from openpyxl.utils import column_index_from_string

    found = []
    for letter, column in sheet.column_dimensions.items():
        if column.hidden and column_index_from_string(letter) <= width:
            found.append(f"column {letter}")
    filled = {line for line, _ in lines}
    rows = [n for n, row in sheet.row_dimensions.items() if row.hidden and n in filled]
    return (*found, *(f"row {n}" for n in rows[:5]))
