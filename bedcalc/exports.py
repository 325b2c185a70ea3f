"""Exports: the bill, the cut list and the price list as files for other people.

A spreadsheet file (.xlsx) for whoever orders, the same as CSV for whoever has another
program. Text that begins like a formula stays text in both. A price list goes out,
is edited by hand, and comes back in; nothing in it is ever run.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any
from zipfile import BadZipFile

import numpy as np

from .cost import Cost, donor_of
from .currency import Currency
from .place import Place, PlaceError
from .prices import COLUMNS, UNITS, PriceError, PriceList, check_row
from .tables import Row, table
from .units import number, read_quantity, show, show_range, sign_after

NO_CURRENCY = Currency()

__all__ = [
    "cut_rows", "order_rows", "read_prices", "write_order", "write_order_csv",
    "write_prices",
]  # fmt: skip

_RISKY = ("=", "+", "-", "@", "\t", "\r")
_PARTS = {
    "walls": "Walls", "ties": "Cross ties", "fixings": "Screws and mesh",
    "fill": "Fill", "delivery": "Delivery", "extras": "Extras",
}  # fmt: skip
_WIDTHS = (15, 38, 10, 9, 15, 11, 11, 9, 58, 22, 9, 9)


def _headings(cost: Cost) -> tuple[str, ...]:
    """Headings of the order, sums of money with their currency."""
    units = cost.units()
    return (
        "For", "What", "How many", "Unit", "Really needed",
        sign_after("Price each", "coins", units), sign_after("Amount", "coins", units),
        sign_after("Tax in it" if cost.tax_inside else "Tax", "coins", units),
        "Say when you order", "Where", "Ordered", "Here",
    )  # fmt: skip


def _money(value: float, cost: Cost, without: str = "") -> float | str:
    """An amount to the coin, or words where there is no price."""
    return round(value, cost.currency.decimals) if np.isfinite(value) else without


def _note(goods: str) -> str:
    notes = table("order_notes")
    return notes[goods].note if goods in notes else ""


def _count(quantity: float) -> float | int:
    """A whole number where it is one."""
    return int(quantity) if float(quantity).is_integer() else round(quantity, 3)


def _needed(line) -> str:
    """What is really needed of a pack or a step, for whoever orders."""
    if not line.needed == line.needed or line.part == "delivery":  # not a number
        return ""
    if line.unit == "m³":
        return show(line.needed, "volume")
    if line.part == "walls" or float(line.needed).is_integer():
        return f"{line.needed:.0f}"
    return number(line.needed, 0 if line.needed > 20 else 1)


def order_rows(cost: Cost) -> list[tuple[Any, ...]]:
    """Rows of the order, part by part, as the columns of the spreadsheet."""
    rows = []
    for part, title in _PARTS.items():
        for line in (*cost.lines, *cost.unpriced):
            if line.part == part and line.quantity:
                rows.append(
                    (
                        title, line.name, _count(line.quantity), line.unit,
                        _needed(line),
                        _money(line.price, cost), _money(line.amount, cost),
                        _money(cost.tax_of(line) + 0 * line.amount, cost),
                        _note(line.goods),
                        donor_of(line), "", "",
                    )
                )  # fmt: skip
    return rows


def cut_rows(cost: Cost) -> list[tuple[Any, ...]]:
    """Rows of the cut list: board by board, the pieces in cutting order (mm)."""
    rows = []
    names = {line.goods: line.name.split(", ")[0] for line in cost.lines}
    for goods, plan in cost.plans.items():
        boards: dict[tuple, int] = {}
        for board in plan.boards:
            boards[board.stock.length, board.pieces] = (
                boards.get((board.stock.length, board.pieces), 0) + 1
            )
        for (length, pieces), count in boards.items():
            cuts = " | ".join(f"{label} {size / 10:g}" for label, size in pieces)
            rest = (length - sum(size for _, size in pieces)) / 10
            rows.append((names[goods], length / 10, count, cuts, rest, plan.verdict()))
    return rows


def _totals(cost: Cost, place: Place) -> list[tuple[str, Any]]:
    si, none = cost.si, "no prices yet"
    tax = f"Tax, {place.si.tax_rate:.0%}"
    total = ("Total", _money(si.total, cost, none))
    if cost.tax_inside:
        found = [total, (f"Of which {tax[0].lower()}{tax[1:]}", _money(si.tax, cost))]
    elif cost.priced:
        found = [("Without tax", _money(si.total - si.tax, cost))]
        found += [(tax, _money(si.tax, cost))] if cost.with_tax else []
        found.append(total)
    else:
        found = [total]
    if cost.priced:
        band = show_range(si.low, si.high, "money", cost.units())
        found += [
            (
                "Keep back for what was forgotten, not in the total",
                round(si.contingency),
            ),
            ("Eight bills in ten lie between", band.replace(" to ", " and ")),
        ]
    return found


def _currency_words(cost: Cost) -> str:
    money = cost.currency
    words = " ".join(dict.fromkeys(filter(None, (money.code, money.sign))))
    return f"{words or 'not chosen'}; one currency, no exchange rate"


def _facts(cost: Cost, place: Place) -> list[tuple[str, str]]:
    about = place.prices
    date = (about.date or "no date given") if about else "none yet"
    facts = [
        ("Deliver to", "…"),
        ("Wanted by", "…"),
        ("Who receives it, telephone", "…"),
        ("Place", place.name),
        ("Prices", date),
        ("Tax", "in the total" if cost.with_tax else "not in the total"),
        ("Currency", _currency_words(cost)),
        ("Fill", "volumes are loose, as the truck brings them, rounded up"),
        ("Boards", "real sizes; cut as the sheet 'Cut list' says"),
        ("Not in it", "work, tools you own, permits, plants, water"),
    ]
    return facts + [("Not on the price list", words) for words in cost.missing]


# ---- writing


def _safe(value: Any) -> Any:
    """Text that a spreadsheet would take for a formula, made plain in a CSV."""
    if isinstance(value, str) and value.startswith(_RISKY):
        return "'" + value
    return value


def write_order_csv(cost: Cost, place: Place, path: str | Path) -> Path:
    """Write the order as CSV (UTF-8, comma, decimal point).

    Parameters
    ----------
    cost : Cost
    place : Place
    path : str or Path
    """
    path = Path(path)
    with path.open("w", newline="", encoding="utf-8-sig") as file:
        out = csv.writer(file)
        out.writerow(_headings(cost))
        rows: Iterable = [*order_rows(cost), (), *_totals(cost, place)]
        for row in rows:
            out.writerow([_safe(cell) for cell in row])
    return path


def _put(sheet, row: int, column: int, value: Any):
    """Write a cell; text stays text whatever it begins with."""
    cell = sheet.cell(row=row, column=column)
    cell.value = value
    if isinstance(value, str):
        cell.data_type = "s"
        cell.quotePrefix = value.startswith(_RISKY)
    return cell


def _head(sheet, headings: Sequence[str], widths: Sequence[float]):
    from openpyxl.styles import Alignment, Font, PatternFill
    from openpyxl.utils import get_column_letter

    for column, (text, width) in enumerate(zip(headings, widths, strict=True), 1):
        cell = _put(sheet, 1, column, text)
        cell.font, cell.fill = Font(bold=True), PatternFill("solid", fgColor="E6EAE8")
        cell.alignment = Alignment(wrap_text=True, vertical="top")
        sheet.column_dimensions[get_column_letter(column)].width = width
    sheet.freeze_panes = "A2"


def _page(sheet, title: str):
    """Print on as many pages as it takes, one wide, the heading on each."""
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.print_title_rows = "1:1"
    sheet.oddFooter.center.text = f"{title}, page &P of &N"


def _fill_order(sheet, cost: Cost, place: Place):
    from openpyxl.styles import Alignment, Font

    _head(sheet, _headings(cost), _WIDTHS)
    decimals = cost.currency.decimals
    money = "#,##0" + ("." + "0" * decimals if decimals else "")
    rows = order_rows(cost)
    for r, row in enumerate(rows, start=2):
        for column, value in enumerate(row, 1):
            cell = _put(sheet, r, column, value)
            cell.alignment = Alignment(wrap_text=column in (2, 9, 10), vertical="top")
            if column in (6, 7, 8):
                cell.number_format = money
    start = len(rows) + 3
    for r, (name, value) in enumerate(_totals(cost, place), start=start):
        _put(sheet, r, 2, name).font = Font(bold=name == "Total")
        cell = _put(sheet, r, 7, value)
        cell.font = Font(bold=name == "Total")
        cell.alignment = Alignment(horizontal="right")
        cell.number_format = money


def _fill_plain(sheet, headings, widths, rows):
    from openpyxl.styles import Alignment

    _head(sheet, headings, widths)
    for r, row in enumerate(rows, start=2):
        for column, value in enumerate(row, 1):
            cell = _put(sheet, r, column, value)
            cell.alignment = Alignment(wrap_text=True, vertical="top")


def write_order(cost: Cost, place: Place, path: str | Path) -> Path:
    """Write the order as a spreadsheet: what to order, how to cut, what was assumed.

    Parameters
    ----------
    cost : Cost
        Such as :func:`bedcalc.shopping.shopping` returns.
    place : Place
    path : str or Path
        Ending in ``.xlsx``.
    """
    from openpyxl import Workbook

    book = Workbook()
    order, cuts, facts = book.active, book.create_sheet(), book.create_sheet()
    order.title, cuts.title, facts.title = "Order", "Cut list", "About"
    _fill_order(order, cost, place)
    headings = ("Goods", "Board, mm", "Boards", "Cut, mm", "Left, mm", "This plan is")
    _fill_plain(cuts, headings, (18, 11, 8, 80, 9, 18), cut_rows(cost))
    _fill_plain(facts, ("About", "What"), (22, 90), _facts(cost, place))
    for sheet in book.worksheets:
        _page(sheet, sheet.title)
    path = Path(path)
    book.save(path)
    return path


def _unpriced_rows() -> list[Row]:
    blank = {name: float("nan") for name in UNITS}
    return [
        Row(
            one.key,
            blank | {
                "goods": one.key, "name": one.name, "group": one.group,
                "sold_by": "piece" if one.counted == "m" else one.counted,
                "content": 1.0, "yard": "", "source": "own", "where": "price date: ",
            },
            UNITS,
        )
        for one in table("goods")
    ]  # fmt: skip


def write_prices(place: Place, path: str | Path) -> Path:
    """Write the price list as a spreadsheet to be edited and read in again.

    Parameters
    ----------
    place : Place
        Whose list it is. Where there is none yet, every goods that a bed may need
        stands there without a price.
    path : str or Path
        Ending in ``.xlsx``, or ``.csv`` for plain text.
    """
    path = Path(path)
    headings = [n if u is None else f"{n} [{u}]" for n, u in COLUMNS]
    sold = [row for sizes in place.goods.values() for row in sizes] or _unpriced_rows()
    rows = []
    for row in sold:
        cells = [row.key]
        for name, unit in COLUMNS[1:]:
            value = getattr(row, name, "yes" if name == "taxed" else "")
            blank = unit is not None and not value == value  # not a number
            cells.append("" if blank else value)
        rows.append(cells)
    if path.suffix == ".csv":
        with path.open("w", newline="", encoding="utf-8-sig") as file:
            out = csv.writer(file)
            out.writerow(headings)
            out.writerows([_safe(cell) for cell in row] for row in rows)
        return path
    from openpyxl import Workbook

    book = Workbook()
    book.active.title = "Prices"
    widths = (20, 18, 34, 10, 10, 11, 11, 13, 12, 12, 9, 8, 12, 26)
    _fill_plain(book.active, headings, widths, rows)
    book.save(path)
    return path


# ---- reading


def _raw_rows(path: Path) -> list[list[Any]]:
    if path.suffix == ".csv":
        with path.open(newline="", encoding="utf-8-sig") as file:
            mark = ";" if ";" in file.readline() else ","
            file.seek(0)
            found = csv.reader(file, delimiter=mark)
            return [row for row in found if any(c.strip() for c in row)]
    from openpyxl import load_workbook

    try:
        book = load_workbook(path, read_only=True, data_only=True)
    except (OSError, KeyError, ValueError, BadZipFile):
        raise PlaceError(
            f"price list {path.name}: needs a spreadsheet saved as .xlsx, given "
            "something else; open it, save it as .xlsx, and close it"
        ) from None
    rows = [
        ["" if cell is None else cell for cell in row]
        for row in book.active.iter_rows(values_only=True)
    ]
    book.close()
    return [row for row in rows if any(str(cell).strip() for cell in row)]


def _amount(cell: Any, unit: str, where: str) -> float:
    """A number of the list in SI; a comma is never guessed at."""
    if isinstance(cell, (int, float)) and not isinstance(cell, bool):
        value = float(cell)
        return read_quantity(f"{value!r} {unit}".strip(), unit, where).m
    text = str(cell).strip()
    if not text:
        return float("nan")
    if "," in text:
        raise PlaceError(
            f"{where}: needs a number with a decimal point, given {text!r}; "
            "for example 8.90"
        )
    try:
        return float(text)
    except ValueError:
        raise PlaceError(
            f"{where}: needs a number, given {text!r}; for example 8.90"
        ) from None


def read_prices(path: str | Path, currency: Currency = NO_CURRENCY) -> PriceList:
    """Read a price list that a person has edited; a line without a price is left out.

    Its name is that of the file, its date what the last column says, if that is the
    same in all lines.

    Parameters
    ----------
    path : str or Path
        ``.xlsx`` or ``.csv`` as :func:`write_prices` writes them; rows may be added,
        taken out and changed, columns may stand in any order.
    currency : Currency
        In which the prices are.

    Raises
    ------
    PlaceError
        With line and column, what was needed and what was given.
    """
    path = Path(path)
    if not path.is_file():
        raise PlaceError(
            f"price list {path.name}: there is no such file; write one first, for "
            "example write_prices(place, 'my_prices.xlsx')"
        )
    raw = _raw_rows(path)
    headings = [str(cell).strip().split(" [")[0] for cell in raw[0]] if raw else []
    missing = [
        name
        for name in ("goods", "name", "group", "sold_by", "price")
        if name not in headings
    ]
    if missing:
        raise PlaceError(
            f"price list {path.name}: needs the columns {', '.join(missing)}; "
            f"given {', '.join(headings) or 'none'}"
        )
    rows = []
    for line, cells in enumerate(raw[1:], start=2):
        given = dict(zip(headings, cells, strict=False))
        values: dict[str, Any] = {}
        for name, unit in COLUMNS:
            where = f"price list {path.name}, line {line}, {name}"
            cell = given.get(name, "")
            if unit is None:
                values[name] = str(cell).strip().lstrip("'")
            else:
                values[name] = _amount(cell, unit, where)
        if np.isnan([values[name] for name in ("price", "low", "high")]).all():
            continue  # not known yet: the bill says that it is missing
        key = values.pop("key") or f"{values['goods']}-{line}"
        try:
            check_row(values, f"price list {path.name}, line {line}")
        except PriceError as error:
            raise PlaceError(str(error)) from None
        rows.append(Row(key, values, UNITS))
    if not rows:
        raise PlaceError(
            f"price list {path.name}: needs at least one line with a price, given "
            "none; for example a line  mix-0.5, mix, garden mix, soil, ..., 24.00"
        )
    dates = {row.where.removeprefix("price date:").strip() for row in rows}
    return PriceList(
        name=path.stem,
        rows=tuple(rows),
        currency=currency,
        date=dates.pop() if len(dates) == 1 else "",
    )
