"""Read daily weather from a file: a plain table, or the open layout of GHCN-Daily.

The plain table is a CSV with a row of headings: ``date``, ``tmin``, ``tmax``, ``rain``
and, if known, ``humidity``, ``wind``, ``sun``, ``radiation``, each with its unit, such
as ``tmin (°C)`` or ``rain in mm``. Commas, semicolons or tabs part the cells; where it
is not the comma, decimal commas are read too.

GHCN-Daily is the open layout in which weather services of the world hand out their
days: one value a row, ``station, day, element, value, flags …`` without headings, in
tenths of a degree and of a millimetre. One file holds one station.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from pathlib import Path

import numpy as np

from ..model.weather import KINDS, Weather
from .columns import NumbersError, Problems, csv_rows

__all__ = ["read_weather"]

MOST = 8_000_000  # bytes: thirty years of a station with ten elements are 4,500,000
MOST_DAYS = 60_000  # from the first to the last day
MOST_CELLS = 400  # of a row
_NEEDED = ("tmin", "tmax", "rain")
#: GHCN-Daily element: kind, and value of one step (readme of GHCN-Daily, from memory)
_ELEMENTS = {
    "TMIN": ("tmin", 0.1), "TMAX": ("tmax", 0.1), "PRCP": ("rain", 0.1),
    "RHAV": ("humidity", 1), "AWND": ("wind", 0.1), "TSUN": ("sun", 1 / 60),
}  # fmt: skip  # rows of a table
_MISSING = "-9999"
_BLANK = ("", "-", "na", "n/a", "nan", "null", "none", _MISSING)
_HEADING = re.compile(r"\s*(\w+)\s*(?:[\[(]\s*(.*?)\s*[\])]|\bin\s+(.+?))?\s*")
_SAME_UNIT = {
    "c": "°C", "degc": "°C", "f": "°F", "degf": "°F", "inch": "in", "percent": "%",
    "hours": "h", "hour": "h", "minutes": "min", "mj/m2": "MJ/m²", "mj/m^2": "MJ/m²",
    "kwh/m2": "kWh/m²", "kwh/m^2": "kWh/m²", "w/m2": "W/m²", "w/m^2": "W/m²",
    "j/cm2": "J/cm²", "j/cm^2": "J/cm²", "kmh": "km/h", "knots": "kn",
}  # fmt: skip  # rows of a table
_NUMBER = re.compile(r"[-+]?\d{1,12}(?:\.\d{0,12})?|[-+]?\.\d{1,12}")
_ISO = re.compile(r"(\d{4})-?(\d\d)-?(\d\d)(?:[T ]00:00(?::00)?)?")
_DOTS = re.compile(r"(\d{1,2})\.(\d{1,2})\.(\d{4})")
_SLASHES = re.compile(r"(\d{1,2})/(\d{1,2})/(\d{4})")
_ENOUGH = 50  # problems after which reading stops


def read_weather(path: str | Path) -> Weather:
    """Daily weather out of a file.

    Parameters
    ----------
    path : str or Path
        A CSV with headings, or rows of GHCN-Daily.

    Returns
    -------
    Weather
        A number for each day from the first to the last; ``gaps`` says in words what
        is not known.

    Raises
    ------
    NumbersError
        With file, line and column, what was needed and what was given, all at once.
    """
    path = Path(path)
    rows = [
        (line, cells)
        for line, cells in csv_rows(path, MOST)
        if any(cell.strip() for cell in cells)
    ]
    problems = Problems(path.name)
    if not rows:
        raise NumbersError(path.name, ["is empty; its headings are missing"])
    if max(len(cells) for _, cells in rows) > MOST_CELLS:
        raise NumbersError(path.name, [f"has a row of more than {MOST_CELLS} cells"])
    if _is_ghcn(rows[0][1]):
        found, flagged = _ghcn(rows, problems)
    else:
        found, flagged = _table(rows, problems), 0
    problems.stop()
    return _weather(found, flagged, path.name)


Days = dict[str, dict[date, float]]


def _weather(found: Days, flagged: int, file: str) -> Weather:
    """A number for each day out of those that are known."""
    days = [day for known in found.values() for day in known]
    if not days:
        raise NumbersError(file, ["needs at least one day with a value; given none"])
    first, last = min(days), max(days)
    many = (last - first).days + 1
    if many > MOST_DAYS:
        raise NumbersError(
            file,
            [
                f"needs at most {MOST_DAYS} days from the first to the last; given "
                f"{first} to {last}"
            ],
        )
    values = {}
    for kind in KINDS:
        if kind in found:
            values[kind] = np.full(many, np.nan)
            for day, value in found[kind].items():
                values[kind][(day - first).days] = value
    _ordered(values, first, file)
    return Weather(first=first, values=values, name=file, flagged=flagged)


def _ordered(values, first: date, file: str) -> None:
    """Refuse days whose lowest temperature is above the highest."""
    if "tmin" not in values or "tmax" not in values:
        return
    wrong = np.flatnonzero(values["tmin"] > values["tmax"] + 1e-9)
    if len(wrong):
        at = int(wrong[0])
        low, high = values["tmin"][at], values["tmax"][at]
        raise NumbersError(
            file,
            [
                f"{first + timedelta(days=at)}, tmax: needs at least tmin, {low:g} °C; "
                f"given {high:g} °C; for example {low + 8:g}"
            ],
        )


def _checked(kind: str, value: float, where: str, problems: Problems) -> float | None:
    """A value in the unit of its kind, or None where it cannot be."""
    about = KINDS[kind]
    if about.low - 1e-9 <= value <= about.high + 1e-9:
        return value
    sign = next(iter(about.units))
    problems.add(
        where,
        f"{about.low:g} to {about.high:g} {sign}",
        f"{value:g} {sign}",
        about.example,
    )
    return None


# ---- a table with headings


def _table(rows: Sequence[tuple[int, list[str]]], problems: Problems) -> Days:
    line, cells = rows[0]
    places = _headings(cells, f"line {line}", problems)
    problems.stop()
    order = _slash_order(
        cells[places["date"][0]]
        for _, cells in rows[1:]
        if len(cells) > places["date"][0]
    )
    found: Days = {kind: {} for kind in places if kind != "date"}
    seen: set[date] = set()
    for line, cells in rows[1:]:
        if len(problems.found) > _ENOUGH:
            break
        where = f"line {line}"
        text = _cell(cells, places["date"][0])
        day = _date(text, order)
        if day is None:
            problems.add(f"{where}, date", "a day, year first", text, "2021-03-24")
            continue
        if day in seen:
            problems.add(f"{where}, date", "each day once", f"{text} again")
            continue
        seen.add(day)
        for kind in found:
            at, (factor, shift) = places[kind]
            text = _cell(cells, at)
            if text.casefold() in _BLANK:
                continue
            if not _NUMBER.fullmatch(text):
                needs = "a number, or a blank where it is not known"
                problems.add(f"{where}, {kind}", needs, text, KINDS[kind].example)
                continue
            value = _checked(
                kind, float(text) * factor + shift, f"{where}, {kind}", problems
            )
            if value is not None:
                found[kind][day] = value
    return found


def _cell(cells: Sequence[str], at: int) -> str:
    return cells[at].strip() if at < len(cells) else ""


def _headings(cells: Sequence[str], where: str, problems: Problems) -> dict:
    """By kind: its column, and factor and shift of its unit."""
    example = "date,tmin (°C),tmax (°C),rain (mm)"
    places: dict = {}
    for at, cell in enumerate(cells):
        match = _HEADING.fullmatch(cell[:200])
        name = match[1].casefold() if match else ""
        if name not in ("date", *KINDS):
            continue
        if name in places:
            problems.add(f"{where}, {name}", "one column of it", "two")
        elif name == "date":
            places[name] = (at, (1, 0))
        else:
            given = match[2] or match[3] or ""
            units = KINDS[name].units
            unit = _SAME_UNIT.get(given.casefold(), given)
            if unit in units:
                places[name] = (at, units[unit])
            else:
                needs = f"its unit in the heading, one of {', '.join(units)}"
                problems.add(
                    f"{where}, {name}", needs, given, f"{name} ({next(iter(units))})"
                )
                places[name] = (at, (1, 0))
    gone = [name for name in ("date", *_NEEDED) if name not in places]
    if gone:
        given = ", ".join(cell for cell in cells if cell.strip())
        many = "columns" if len(gone) > 1 else "column"
        problems.add(where, f"the {many} {', '.join(gone)}", given, example)
    return places


def _slash_order(texts: Iterable[str]) -> str:
    """How days with slashes are written: ``dmy``, ``mdy``, or empty if it is not clear.

    A number above 12 shows which of the two is the day.
    """
    shown = set()
    for text in texts:
        match = _SLASHES.fullmatch(text.strip())
        if match:
            shown |= {"dmy"} if int(match[1]) > 12 else set()
            shown |= {"mdy"} if int(match[2]) > 12 else set()
    return shown.pop() if len(shown) == 1 else ""


def _date(text: str, order: str = "") -> date | None:
    """A day, or None where it is none or could be two."""
    if match := _ISO.fullmatch(text):
        year, month, day = match.groups()
    elif match := _DOTS.fullmatch(text):
        day, month, year = match.groups()
    elif order and (match := _SLASHES.fullmatch(text)):
        day, month, year = match.groups()
        if order == "mdy":
            day, month = month, day
    else:
        return None
    try:
        found = date(int(year), int(month), int(day))
    except ValueError:
        return None
    return found if found.year >= 1700 else None


# ---- GHCN-Daily


def _is_ghcn(cells: Sequence[str]) -> bool:
    return (
        len(cells) >= 4
        and re.fullmatch(r"[A-Z]{2}[\w-]{9}", cells[0].strip()) is not None
        and re.fullmatch(r"[A-Z0-9]{4}", cells[2].strip()) is not None
    )


def _ghcn(rows: Sequence[tuple[int, list[str]]], problems: Problems):
    found: Days = {}
    station, flagged = rows[0][1][0].strip(), 0
    for line, cells in rows:
        if len(problems.found) > _ENOUGH:
            break
        where = f"line {line}"
        if len(cells) < 4:
            problems.add(
                where,
                "station, day, element and value",
                ",".join(cells),
                "XX000000001,20210324,TMIN,41,,,S,",
            )
            continue
        if cells[0].strip() != station:
            problems.add(f"{where}, station", f"one station, {station}", cells[0])
            continue
        if cells[2].strip() not in _ELEMENTS:
            continue
        kind, step = _ELEMENTS[cells[2].strip()]
        day, text = _date(cells[1].strip()), cells[3].strip()
        if day is None:
            problems.add(f"{where}, day", "year, month and day", cells[1], "20210324")
            continue
        known = found.setdefault(kind, {})
        if text == _MISSING:
            continue
        if not re.fullmatch(r"-?\d{1,6}", text):
            problems.add(
                f"{where}, {cells[2].strip()}",
                f"a whole number, or {_MISSING}",
                text,
                "41",
            )
            continue
        if _cell(cells, 5):  # the service's own checks have failed this value
            flagged += 1
            continue
        if day in known:
            problems.add(
                f"{where}, {cells[2].strip()}", "each day once", f"{day} again"
            )
            continue
        value = _checked(
            kind, int(text) * step, f"{where}, {cells[2].strip()}", problems
        )
        if value is not None:
            known[day] = value
    return found, flagged
