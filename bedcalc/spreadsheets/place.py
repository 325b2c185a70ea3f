"""The sheet *Place*: one entry a row, with its value and what it needs."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ..currency import Currency, CurrencyError
from ..model.climate import Climate
from ..model.place import Levelling, Place, PlaceError
from ..units import Q_
from .columns import Column, Grid, Problems, allowed, heading
from .reading import headings, read_cell, read_table

__all__ = ["PLACE", "place_cells", "read_place"]

PLACE = (
    Column(key="entry", heading="Entry", says="leave as it is", example="Tax rate in %",
           width=44),
    Column(key="value", heading="Value", says="what the third column says",
           example="20", width=34),
    Column(key="needs", heading="What it needs", says="for you to read", width=60),
)  # fmt: skip  # rows of a table
_ENTRIES = (
    Column(key="name", heading="Name of the garden", needed=True, example="Our garden"),
    Column(key="latitude", heading="Latitude", unit="deg", low=-66, high=66,
           says="-66 to 66 degrees, minus south of the equator", example="48"),
    Column(key="altitude", heading="Height above the sea", unit="m", us="ft", low=-400,
           high=5000, example="210"),
    Column(key="soil", heading="Soil under the beds", words="soils",
           example="heavy loam"),
    Column(key="climate", heading="Where the climate is from", says="some words",
           example="weather station in the next village, 30 years"),
    Column(key="last_frost", heading="Last frost of spring",
           says="a day, the month in letters", example="20 April"),
    Column(key="first_frost", heading="First frost of autumn",
           says="a day, the month in letters", example="15 October"),
    Column(key="heavy_day", heading="Rain of the heaviest day in ten years", unit="mm",
           us="inch", low=1, high=1000, example="38"),
    Column(key="list", heading="Name of the price list", example="spring prices"),
    Column(key="date", heading="Date of the prices", says="the day as you write it",
           example="1 March"),
    Column(key="code", heading="Currency", says="three letters", example="CHF"),
    Column(key="sign", heading="Own sign of the currency", says="1 to 6 letters",
           example="Fr."),
    Column(key="decimals", heading="Decimals of the currency", unit="", low=0, high=3,
           example="2"),
    Column(key="before", heading="Sign before the number", words="yes", example="no"),
    Column(key="taxed_inside", heading="Prices contain the tax", words="yes",
           example="no"),
    Column(key="with_tax", heading="Add the tax to the bill", words="yes",
           example="yes"),
    Column(key="tax_rate", heading="Tax rate", unit="percent", low=0, high=50,
           example="20"),
    Column(key="kerf", heading="Cut of the saw", unit="mm", us="inch", low=0, high=10,
           example="3.2"),
    Column(key="trim", heading="Cut off both ends of a board together", unit="mm",
           us="inch", low=0, high=300, example="20"),
    Column(key="longest_carried", heading="Longest piece that can be carried", unit="m",
           us="ft", low=1, high=15, example="3.6"),
    Column(key="crew", heading="People who build", unit="", low=1, high=100,
           example="2"),
    Column(key="rule", heading="How beds are let into a slope", words="rules",
           example="dig all in"),
    Column(key="limit", heading="Deepest trench", unit="mm", us="inch", low=20,
           high=600, example="150"),
    Column(key="gravel", heading="Gravel under the box", unit="mm", us="inch", low=0,
           high=300, example="50"),
    Column(key="downhill", heading="Compass bearing down the page of the plan",
           unit="deg", low=0, high=360, example="180"),
)  # fmt: skip  # rows of a table
_BY_KEY = {column.key: column for column in _ENTRIES}
_CLIMATE = ("last_frost", "first_frost", "heavy_day")
#: rows that files of earlier versions do not have
_LATER = ("climate", *_CLIMATE)
_CURRENCY = ("code", "sign", "decimals", "before")


def _known(place: Place) -> dict[str, Any]:
    """The value of each entry as the garden has it; None is not known."""
    prices, money = place.prices, place.currency
    fields = ("name", "latitude", "altitude", "soil", "with_tax", "tax_rate", "kerf",
              "trim", "longest_carried", "crew")  # fmt: skip  # rows of a table
    found = {name: getattr(place, name) for name in fields}
    found |= {
        name: getattr(place.levelling, name) for name in ("rule", "limit", "gravel")
    }
    found |= {name: getattr(money, name) if money else None for name in _CURRENCY}
    weather = place.climate or Climate()
    found |= {name: getattr(weather, name) for name in _CLIMATE}
    return found | {
        "climate": weather.name or None,
        "list": prices.name if prices else None,
        "date": (prices.date or None) if prices else None,
        "taxed_inside": prices.taxed_inside if prices else None,
        "downhill": place.plot.downhill if place.plot else None,
    }


def place_cells(
    place: Place, words: Mapping[str, Mapping[str, Any]], system: str
) -> list[list[Any]]:
    """The rows of the sheet, blank where something is not known."""
    known = _known(place)
    return [
        [
            heading(column, system),
            _shown(known[column.key], column, words, system),
            allowed(column, words, system),
        ]
        for column in _ENTRIES
    ]


def _shown(value: Any, column: Column, words, system: str) -> Any:
    if value is None or value == "":
        return None
    if column.words:
        return next(
            word for word, means in words[column.words].items() if means == value
        )
    if isinstance(value, Q_):
        return float(f"{value.m_as(column.unit_in(system)):.10g}")
    return value


def read_place(
    grid: Grid | None,
    place: Place,
    problems: Problems,
    words: Mapping[str, Mapping[str, Any]],
) -> dict[str, Any]:
    """What the sheet says; as the garden has it where there is no such sheet.

    Returns
    -------
    dict
        ``place``: changes for the place; ``currency``, ``date``, ``taxed_inside`` and
        ``list`` of the prices; ``downhill`` of the plot; ``climate``: its name, frosts
        and heavy day.
    """
    known = _known(place)
    given = dict(known)
    if grid is not None:
        given |= _entries(grid, problems, words)
    now = {k: known[k] if _equal(known[k], v) else v for k, v in given.items()}
    plain = Place(name="x")
    levels = Levelling()
    changes = {
        name: plain_value if now[name] is None else now[name]
        for name, plain_value in (
            ("name", place.name),
            ("latitude", None),
            ("altitude", None),
            ("soil", None),
            ("with_tax", False),
            ("tax_rate", plain.tax_rate),
            ("kerf", plain.kerf),
            ("trim", plain.trim),
            ("longest_carried", plain.longest_carried),
            ("crew", 2),
        )
    }
    if float(changes["crew"]).is_integer():
        changes["crew"] = int(changes["crew"])
    try:
        changes["levelling"] = Levelling(
            rule=now["rule"] or levels.rule,
            limit=now["limit"] or levels.limit,
            gravel=levels.gravel if now["gravel"] is None else now["gravel"],
        )
    except PlaceError as error:
        problems.say(f"sheet Place: {error}")
    turn = now["downhill"]
    return {
        "place": changes,
        "currency": _currency(now, known, problems),
        "date": now["date"] or "",
        "taxed_inside": bool(now["taxed_inside"]),
        "list": now["list"] or "",
        "climate": {"name": now["climate"] or ""} | {n: now[n] for n in _CLIMATE},
        "downhill": turn.m_as("deg") if isinstance(turn, Q_) else turn,
    }


def _entries(grid: Grid, problems: Problems, words) -> dict[str, Any]:
    """The values of the sheet by key of the entry."""
    found: dict[str, Any] = {}
    for line, row in read_table(grid, PLACE, problems, words, optional=("needs",)):
        where = grid.where(line)
        label = headings([row["entry"] or ""], _ENTRIES)
        if not label:
            problems.add(
                f"{where}, Entry",
                "an entry as it was written",
                row["entry"],
                "Tax rate in %",
            )
            continue
        key, ((_, unit),) = next(iter(label.items()))
        column = _BY_KEY[key]
        given = unit or column.unit
        found[key] = read_cell(
            column,
            row["value"],
            f"{where}, {column.heading}",
            problems,
            words,
            _unit(column, given),
            Currency(),
        )
    gone = [c.heading for c in _ENTRIES if c.key not in found and c.key not in _LATER]
    if gone and not problems.found:
        problems.add(f"{grid.where()}, Entry", f"the rows {', '.join(gone)}", "none")
    return found


def _unit(column: Column, given: str | None) -> str | None:
    """The unit that a label gives: ``%``, ``mm``, ``in``, ``ft``."""
    for unit in (column.unit, column.us):
        if unit and heading(Column(key="x", heading="x", unit=unit)).endswith(
            f" in {given}"
        ):
            return unit
    return column.unit


def _equal(one: Any, other: Any) -> bool:
    if isinstance(one, Q_) and isinstance(other, Q_):
        return abs(one.m_as(other.units) - other.m) <= 1e-8 * max(abs(other.m), 1)
    return one == other


def _currency(now, known, problems: Problems) -> Currency:
    """The currency; another code brings its own sign, place and decimals."""
    code = (now["code"] or "").upper()
    moved = code != (known["code"] or "")
    own = {
        name: now[name]
        for name in _CURRENCY[1:]
        if now[name] is not None and not (moved and code and now[name] == known[name])
    }
    if "decimals" in own and float(own["decimals"]).is_integer():
        own["decimals"] = int(own["decimals"])
    try:
        if code and not moved:
            return Currency(code=code, **own)
        return Currency.of(code, **own) if code else Currency(**own)
    except CurrencyError as error:
        problems.say(f"sheet Place: {error}")
        return Currency()
