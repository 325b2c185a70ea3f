"""Exports: the bill and the cut list as files for other people.

A spreadsheet file (.xlsx) for whoever orders, the same as CSV for whoever has another
program. Text that begins like a formula stays text in both.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from ..cost import Cost, donor_of
from ..cost.counting import work
from ..cost.lines import Line
from ..model.place import Place
from ..tables import table
from ..units import number, show, show_range, sign_after
from .writing import head, plain_text, put

if TYPE_CHECKING:  # names for an editor
    from openpyxl.worksheet.worksheet import Worksheet

__all__ = ["cut_rows", "order_rows", "write_order", "write_order_csv"]

_PARTS = {
    "walls": "Walls", "ties": "Cross ties", "fixings": "Screws and mesh",
    "fill": "Fill", "delivery": "Delivery", "extras": "Extras",
}  # fmt: skip  # rows of a table
_WIDTHS = (15, 38, 10, 9, 15, 11, 11, 9, 58, 22, 9, 9)


def _headings(cost: Cost) -> tuple[str, ...]:
    """Headings of the order, sums of money with their currency."""
    units = cost.units()
    return (
        "For", "What", "How many", "Unit", "Really needed",
        sign_after("Price each", "coins", units), sign_after("Amount", "coins", units),
        sign_after("Tax in it" if cost.tax_inside else "Tax", "coins", units),
        "Say when you order", "Where", "Ordered", "Here",
    )  # fmt: skip  # rows of a table


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
    if line.goods.startswith("screw"):
        used = line.needed / (1 + work("screw_spare"))
        return f"{used:.0f}, and {line.needed - used:.0f} to spare"
    if line.part == "walls" or float(line.needed).is_integer():
        return f"{line.needed:.0f}"
    return number(line.needed, 0 if line.needed > 20 else 1)


def _ordered(cost: Cost) -> list[tuple[str, Line]]:
    """Lines part by part, those of the same goods together, short ones first."""
    found = []
    every = [line for line in (*cost.lines, *cost.unpriced) if line.quantity]
    first = {line.goods: n for n, line in reversed(list(enumerate(every)))}
    for part, title in _PARTS.items():
        lines = [line for line in every if line.part == part]
        lines.sort(key=lambda line: (first[line.goods], line.name))
        found += [(title, line) for line in lines]
    return found


def order_rows(cost: Cost) -> list[tuple[Any, ...]]:
    """Rows of the order, part by part, as the columns of the spreadsheet."""
    return [
        (
            title,
            line.name,
            _count(line.quantity),
            line.unit,
            _needed(line),
            _money(line.price, cost),
            _money(line.amount, cost),
            _money(cost.tax_of(line) + 0 * line.amount, cost),
            _note(line.goods),
            donor_of(line),
            "",
            "",
        )
        for title, line in _ordered(cost)
    ]


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


def write_order_csv(
    cost: Cost, place: Place, path: str | Path, besides: Sequence[str] = ()
) -> Path:
    """Write the order as CSV (UTF-8, comma, decimal point).

    Parameters
    ----------
    cost : Cost
    place : Place
    path : str or Path
    besides : sequence of str
        What no price list holds, in words.
    """
    path = Path(path)
    with path.open("w", newline="", encoding="utf-8-sig") as file:
        out = csv.writer(file)
        out.writerow(_headings(cost))
        rows: Iterable = [
            *order_rows(cost),
            *_unlisted(besides),
            (),
            *_totals(cost, place),
        ]
        for row in rows:
            out.writerow([plain_text(cell) for cell in row])
    return path


def _page(sheet, title: str):
    """Print on as many pages as it takes, one wide, the heading on each."""
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.print_title_rows = "1:1"
    sheet.oddFooter.center.text = f"{title}, page &P of &N"


def _fill_order(
    sheet: Worksheet, cost: Cost, place: Place, besides: Sequence[str]
) -> None:
    """The order with formulas: whoever changes a price or a number sees new sums."""
    from openpyxl.styles import Alignment, Font

    head(sheet, _headings(cost), _WIDTHS)
    decimals = cost.currency.decimals
    money = "#,##0" + ("." + "0" * decimals if decimals else "")
    rows = order_rows(cost)
    free = _unlisted(besides)
    last = len(rows) + len(free) + 1
    lines = _ordered(cost)
    for r, row in enumerate([*rows, *free], start=2):
        taxed = r - 2 >= len(lines) or lines[r - 2][1].taxed
        for column, value in enumerate(row, 1):
            cell = put(sheet, r, column, value)
            cell.alignment = Alignment(wrap_text=column in (2, 9, 10), vertical="top")
        for column, formula in _formulas(r, taxed, last, cost).items():
            sheet.cell(row=r, column=column).value = formula
        for column in (6, 7, 8):
            sheet.cell(row=r, column=column).number_format = money
    for r, (name, value) in enumerate(_totals(cost, place), start=last + 2):
        put(sheet, r, 2, name).font = Font(bold=name == "Total")
        cell = put(sheet, r, 7, value)
        if (formula := _total(name, cost, last)) is not None:
            cell.value, cell.quotePrefix = formula, False
            cell.data_type = "f"
        cell.font = Font(bold=name == "Total")
        cell.alignment = Alignment(horizontal="right")
        cell.number_format = money
    put(sheet, last + 1, 2, "Tax rate")
    rate = sheet.cell(row=last + 1, column=7)
    rate.value, rate.number_format = place.si.tax_rate, "0.0%"


def _unlisted(besides: Sequence[str]) -> list[tuple[Any, ...]]:
    """Rows for what no price list holds."""
    return [("Not priced", words, 1, *[""] * 9) for words in besides]


def _formulas(r: int, taxed: bool, last: int, cost: Cost) -> dict[int, str]:
    """Amount and tax of one row; empty while it has no price."""
    rate, coins = f"$G${last + 1}", cost.currency.decimals
    share = "0" if not taxed else rate
    if taxed and cost.tax_inside:
        share = f"{rate}/(1+{rate})"
    return {
        7: f'=IF(ISNUMBER(F{r}),ROUND(C{r}*F{r},{coins}),"")',
        8: f'=IF(ISNUMBER(G{r}),ROUND(G{r}*{share},{coins}),"")',
    }


def _total(name: str, cost: Cost, last: int) -> str | None:
    """The formula of one of the totals, or None where it is words."""
    amounts, tax = f"SUM(G2:G{last})", f"SUM(H2:H{last})"
    if name == "Total":
        both = cost.with_tax and not cost.tax_inside
        due = f"{amounts}+{tax}" if both else amounts
        return f'=IF(COUNT(F2:F{last})=0,"no prices yet",{due})'
    if name == "Without tax":
        return f"={amounts}"
    if name.startswith(("Tax, ", "Of which tax")):
        return f"={tax}"
    return None


def _fill_plain(sheet, headings, widths, rows):
    from openpyxl.styles import Alignment

    head(sheet, headings, widths)
    for r, row in enumerate(rows, start=2):
        for column, value in enumerate(row, 1):
            cell = put(sheet, r, column, value)
            cell.alignment = Alignment(wrap_text=True, vertical="top")


def write_order(
    cost: Cost, place: Place, path: str | Path, besides: Sequence[str] = ()
) -> Path:
    """Write the order as a spreadsheet: what to order, how to cut, what was assumed.

    Parameters
    ----------
    cost : Cost
        Such as :func:`bedcalc.questions.shopping.shopping` returns.
    place : Place
    path : str or Path
        Ending in ``.xlsx``.
    besides : sequence of str
        What no price list holds, in words; each gets a row with room for its price.
    """
    from openpyxl import Workbook

    book = Workbook()
    order, cuts, facts = book.active, book.create_sheet(), book.create_sheet()
    order.title, cuts.title, facts.title = "Order", "Cut list", "About"
    _fill_order(order, cost, place, besides)
    headings = ("Goods", "Board, mm", "Boards", "Cut, mm", "Left, mm", "This plan is")
    _fill_plain(cuts, headings, (18, 11, 8, 80, 9, 18), cut_rows(cost))
    _fill_plain(facts, ("About", "What"), (22, 90), _facts(cost, place))
    for sheet in book.worksheets:
        _page(sheet, sheet.title)
    path = Path(path)
    book.save(path)
    return path
