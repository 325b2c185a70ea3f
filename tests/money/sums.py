"""Recalculates the few formulas of the order, as a spreadsheet program would."""

from __future__ import annotations

import re
from decimal import ROUND_HALF_UP, Decimal

__all__ = ["cells_of", "recalculated"]


def cells_of(sheet, name: str) -> str:
    """Where the sum beside these words stands."""
    return next(f"G{row[1].row}" for row in sheet.iter_rows() if row[1].value == name)


def _round(value: float, digits: int) -> float:
    step = Decimal(1).scaleb(-digits)
    return float(Decimal(repr(value)).quantize(step, rounding=ROUND_HALF_UP))


def recalculated(sheet) -> dict[str, object]:
    """Every cell by its name, formulas worked out from the other cells."""
    raw = {c.coordinate: c.value for row in sheet.iter_rows() for c in row}
    done: dict[str, object] = {}

    def value(name: str):
        if name not in done:
            cell = raw.get(name)
            formula = isinstance(cell, str) and cell.startswith("=")
            done[name] = _work(cell[1:]) if formula else cell
        return done[name]

    def column(first: str, last: str) -> list[float]:
        letter, low, high = first[0], int(first[1:]), int(last[1:])
        found = [value(f"{letter}{n}") for n in range(low, high + 1)]
        return [v for v in found if isinstance(v, int | float)]

    def number(name: str) -> float:
        found = value(name)
        return found if isinstance(found, int | float) else 0.0

    def _work(text: str):
        text = text.replace("$", "").replace("=", "==")
        text = re.sub(r"([A-Z]\d+):([A-Z]\d+)", r"column('\1', '\2')", text)
        text = re.sub(r"ISNUMBER\(([A-Z]\d+)\)", r"ISNUMBER(value('\1'))", text)
        text = re.sub(r"(?<!['\w])([A-Z]\d+)(?!['\w])", r"number('\1')", text)
        names = {
            "IF": lambda test, yes, no: yes if test else no,
            "ISNUMBER": lambda v: isinstance(v, int | float),
            "ROUND": _round,
            "SUM": sum,
            "COUNT": len,
            "value": value,
            "number": number,
            "column": column,
        }
        return eval(text, names)

    for name in raw:
        value(name)
    return done
