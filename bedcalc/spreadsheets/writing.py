"""Write sheets of numbers: headings, what is allowed, an example, then the rows.

Text that begins like a formula stays text, in a spreadsheet and in plain text.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from .columns import ALLOWED, EXAMPLE, Column, allowed, heading

if TYPE_CHECKING:  # names for an editor
    from openpyxl.worksheet.worksheet import Worksheet

__all__ = ["head", "plain_text", "put", "write_book"]

_RISKY = ("=", "+", "-", "@", "\t", "\r")
_SPARE = 40  # empty rows that are made ready for writing


def plain_text(value: Any) -> Any:
    """Text that a spreadsheet would take for a formula, made plain in a CSV."""
    if isinstance(value, str) and value.startswith(_RISKY):
        return "'" + value
    return value


def put(sheet: Worksheet, row: int, column: int, value: Any):
    """Write a cell; text stays text whatever it begins with."""
    cell = sheet.cell(row=row, column=column)
    cell.value = value
    if isinstance(value, str):
        cell.data_type = "s"
        cell.quotePrefix = value.startswith(_RISKY)
    return cell


def head(sheet: Worksheet, headings: Sequence[str], widths: Sequence[float]) -> None:
    """Write the row of headings, which stays in sight."""
    from openpyxl.styles import Alignment, Font, PatternFill
    from openpyxl.utils import get_column_letter

    for column, (text, width) in enumerate(zip(headings, widths, strict=True), 1):
        cell = put(sheet, 1, column, text)
        cell.font, cell.fill = Font(bold=True), PatternFill("solid", fgColor="E6EAE8")
        cell.alignment = Alignment(wrap_text=True, vertical="top")
        sheet.column_dimensions[get_column_letter(column)].width = width
    sheet.freeze_panes = "A2"


def write_book(
    path: Path,
    sheets: Mapping[str, tuple[Sequence[Column], Sequence[Sequence[Any]]]],
    words: Mapping[str, Mapping[str, Any]],
    system: str = "metric",
) -> Path:
    """Write sheets to a spreadsheet, with a last one of the words that cells may hold.

    Parameters
    ----------
    path : Path
    sheets : mapping
        Name of the sheet to its columns and rows of cells.
    words : mapping
        Lists of words by name.
    system : str
        ``"metric"`` or ``"us"``: the units of the headings.
    """
    from openpyxl import Workbook

    book = Workbook()
    book.remove(book.active)
    used = {c.words: c for columns, _ in sheets.values() for c in columns if c.words}
    lists = _lists(used, words)
    for name, (columns, rows) in sheets.items():
        _fill(book.create_sheet(name), columns, rows, words, lists, system)
    about = book.create_sheet("Words")
    head(about, [used[name].heading for name in lists], [34] * len(lists))
    for column, name in enumerate(lists, start=1):
        for row, word in enumerate(words[name], start=2):
            put(about, row, column, word)
    book.save(path)
    return path


def _lists(used: Mapping[str, Column], words) -> dict[str, str]:
    """By name of a list of words: where it stands in the sheet Words."""
    from openpyxl.utils import get_column_letter

    found = {}
    for number, name in enumerate(used, start=1):
        letter = get_column_letter(number)
        last = len(words[name]) + 1
        found[name] = f"Words!${letter}$2:${letter}${last}"
    return found


def _fill(sheet, columns, rows, words, lists, system: str) -> None:
    from openpyxl.styles import Alignment, Font
    from openpyxl.utils import get_column_letter
    from openpyxl.worksheet.datavalidation import DataValidation

    head(sheet, [heading(c, system) for c in columns], [c.width for c in columns])
    sheet.freeze_panes = "A4"
    grey = Font(italic=True, color="6B7280")
    for column, c in enumerate(columns, start=1):
        first = column == 1
        for row, mark, text in (
            (2, ALLOWED, allowed(c, words, system)),
            (3, EXAMPLE, c.example),
        ):
            cell = put(sheet, row, column, (mark if first else "") + text)
            cell.font = grey
            cell.alignment = Alignment(wrap_text=True, vertical="top")
        last = 3 + len(rows) + _SPARE
        if c.words:
            offer = DataValidation(
                type="list", formula1=lists[c.words], showErrorMessage=False
            )
            letter = get_column_letter(column)
            offer.add(f"{letter}4:{letter}{last}")
            sheet.add_data_validation(offer)
        if c.unit is None:
            for row in range(4, last):
                sheet.cell(row=row, column=column).number_format = "@"
    for row, cells in enumerate(rows, start=4):
        for column, value in enumerate(cells, start=1):
            if value not in (None, ""):
                put(sheet, row, column, value)
