"""Given: the climate of a place. Normals month by month, frost dates, a heavy day.

Normals are means over many years, mostly thirty; a weather service gives them for the
nearest station. What is not known is None, a single month too. Nothing is guessed, and
no value of the demo garden fills a gap.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from functools import cached_property
from typing import Any

import numpy as np
from pint import PintError

from ..parsing.unit_words import plain_unit, read_quantity
from ..tables import table
from ..text_files import short
from ..units import Q_, UnitError, to_si
from .plot import PlaceError

__all__ = ["MONTHS", "NORMALS", "Climate", "Normal", "read_day"]

MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August",
    "September", "October", "November", "December",
)  # fmt: skip  # rows of a table
_DAYS = (31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
_DAYS_OF_A_YEAR = 365


@dataclass(frozen=True, kw_only=True)
class Normal:
    """One kind of normals: what people call it, its units and what can be."""

    label: str
    unit: str
    us: str
    low: float
    high: float
    example: float


#: what a climate may say of each month; numbers are kept in ``unit``
NORMALS = {
    "t_min": Normal(label="Mean daily low", unit="degC", us="degF",
                    low=-60, high=40, example=4.1),
    "t_max": Normal(label="Mean daily high", unit="degC", us="degF",
                    low=-50, high=50, example=13.6),
    "rain": Normal(label="Rain of the month", unit="mm", us="inch",
                   low=0, high=3000, example=49),
    "et0": Normal(label="Water that short grass uses in the month", unit="mm",
                  us="inch", low=0, high=500, example=68),
    "frost_days": Normal(label="Days with frost", unit="", us="",
                         low=0, high=31, example=3),
    "sunshine": Normal(label="Hours of sunshine a day", unit="hour", us="hour",
                       low=0, high=24, example=5.5),
    "radiation": Normal(label="Energy of the sun a day", unit="MJ/m^2",
                        us="kW*hour/m^2", low=0, high=45, example=14.2),
    "wind": Normal(label="Mean wind, 2 m above the ground", unit="m/s", us="mph",
                   low=0, high=40, example=2.5),
    "humidity": Normal(label="Mean humidity of the air", unit="percent", us="percent",
                       low=0, high=100, example=72),
}  # fmt: skip  # rows of a table
_FROST = {"last_frost": "20 April", "first_frost": "15 October"}


def _refuse(entry: str, needs: str, given: Any, example: str):
    shown = "nothing" if given is None else short(given) or "nothing"
    raise PlaceError(
        f"climate, {entry}: needs {needs}; given {shown}; for example {example}"
    )


def read_day(text: Any, entry: str = "day") -> tuple[int, int]:
    """Month and day out of ``20 April``, ``April 20`` or ``20 Apr``.

    Parameters
    ----------
    text : str
        A day of the year as a person writes it, the month in letters: 4/5 is the
        fourth of May here and the fifth of April elsewhere.
    entry : str
        Whose day it is, for the message.

    Returns
    -------
    tuple of int
        Month (1 to 12) and day of the month.
    """
    words = re.findall(r"[^\W\d_]+|\d+", str(text))
    days = [int(w) for w in words if w.isdigit() and len(w) <= 2]
    names = [w.lower() for w in words if not w.isdigit()]
    names = [n for n in names if n not in ("st", "nd", "rd", "th", "of", "the")]
    if len(days) == len(names) == 1 and len(names[0]) >= 3:
        for month, name in enumerate(MONTHS, start=1):
            if name.lower().startswith(names[0]) and 1 <= days[0] <= _DAYS[month - 1]:
                return month, days[0]
    _refuse(
        entry, "a day with the month in letters", text, _FROST.get(entry, "20 April")
    )


def _months(name: str, given: Any) -> tuple[float | None, ...] | None:
    """Twelve numbers in the unit of their kind, or None where none is known."""
    about = NORMALS[name]
    unit = f" in {about.unit}" if about.unit else ""
    needs = f"12 numbers{unit}, January to December, None where not known"
    example = f"{name}=({about.example:g}, None, ... )"
    if isinstance(given, Q_):
        try:
            to_si(given, about.unit, name)
            given = np.atleast_1d(given.m_as(about.unit or "dimensionless"))
        except UnitError:
            _refuse(name, needs, given, example)
    if isinstance(given, str | Mapping):
        _refuse(name, needs, given, example)
    try:
        found = [None if v is None else float(v) for v in given]
    except (TypeError, ValueError):
        _refuse(name, needs, given, example)
    if len(found) != len(MONTHS):
        _refuse(name, needs, f"{len(found)}", example)
    # rounded: a table in kelvin and a Fahrenheit number come back as they were written
    found = [None if v is None or np.isnan(v) else round(v, 9) for v in found]
    for month, value in zip(MONTHS, found, strict=True):
        if value is not None and not about.low - 1e-9 <= value <= about.high + 1e-9:
            _refuse(
                f"{name}, {month}",
                f"{about.low:g} to {about.high:g} {about.unit}".rstrip(),
                f"{value:g}",
                f"{about.example:g}",
            )
    return None if found == [None] * len(MONTHS) else tuple(found)


@dataclass(frozen=True, kw_only=True)
class Climate:
    """The climate of a place, as far as somebody knows it.

    The normals are tuples of twelve numbers, January to December, in the units and
    ranges of ``NORMALS``; arrays with units will do as well. A month that is not known
    is None in its tuple, a kind that is not known at all is None.

    Parameters
    ----------
    name : str
        Where the numbers are from, such as the station and the years.
    t_min, t_max : 12 numbers [degC]
        Mean daily low (-60 to 40) and mean daily high (-50 to 50).
    rain, et0 : 12 numbers [mm]
        Rain of the month (0 to 3000), and reference evapotranspiration of the month
        (0 to 500).
    frost_days : 12 numbers
        Days with frost (0 to 31).
    sunshine : 12 numbers [hour]
        Bright sunshine a day (0 to 24).
    radiation : 12 numbers [MJ/m^2]
        Global radiation on level ground a day (0 to 45).
    wind : 12 numbers [m/s]
        Mean speed 2 m above the ground (0 to 40).
    humidity : 12 numbers [percent]
        Mean relative humidity (0 to 100).
    last_frost, first_frost : str or None
        Last day with frost of the cold season and first one of the next in most years,
        such as ``"20 April"`` and ``"15 October"``; south of the equator the other way
        round in the year.
    heavy_day : quantity [mm] or None
        Rain of the heaviest day in about ten years (1 to 1000).
    """

    name: str = ""
    t_min: Any = None
    t_max: Any = None
    rain: Any = None
    et0: Any = None
    frost_days: Any = None
    sunshine: Any = None
    radiation: Any = None
    wind: Any = None
    humidity: Any = None
    last_frost: str | None = None
    first_frost: str | None = None
    heavy_day: Any = None
    extra: dict = field(default_factory=dict, compare=False, repr=False)

    def __post_init__(self):
        if not isinstance(self.name, str) or len(self.name) > 200:
            _refuse("name", "at most 200 letters", self.name, "'Elm Lane, 30 years'")
        for name in NORMALS:
            given = getattr(self, name)
            if given is not None:
                object.__setattr__(self, name, _months(name, given))
        if self.t_min and self.t_max:
            for month, low, high in zip(MONTHS, self.t_min, self.t_max, strict=True):
                if low is not None and high is not None and low > high:
                    _refuse(
                        f"t_max, {month}",
                        f"at least the low of {low:g} degC",
                        f"{high:g} degC",
                        f"{low + 8:g} degC",
                    )
        for name in _FROST:
            given = getattr(self, name)
            if given is not None:
                month, day = read_day(given, name)
                object.__setattr__(self, name, f"{day} {MONTHS[month - 1]}")
        if self.heavy_day is not None:
            try:
                rain = to_si(self.heavy_day, "mm", "climate, heavy_day") * 1000
            except UnitError as error:
                raise PlaceError(str(error)) from None
            if not 1 - 1e-9 <= rain <= 1000 + 1e-9:
                _refuse("heavy_day", "1 to 1000 mm", self.heavy_day, "Q_(38, 'mm')")

    # ---- what it says

    def __bool__(self):
        """Whether anything is known."""
        return any(
            getattr(self, f.name) not in (None, "")
            for f in fields(self)
            if f.name not in ("name", "extra")
        )

    def q(self, name: str):
        """Normals as a quantity of twelve numbers; not-a-number where not known."""
        return Q_(self._array(name), NORMALS[name].unit or "dimensionless")

    def _array(self, name: str) -> np.ndarray:
        given = getattr(self, name) or (None,) * len(MONTHS)
        return np.array([np.nan if v is None else v for v in given], dtype=float)

    def whole(self, *names: str) -> bool:
        """Whether every month of these normals is known."""
        return all(bool(np.isfinite(self._array(name)).all()) for name in names)

    @cached_property
    def frost_free(self) -> int | None:
        """Days from the last frost to the first of the next cold season."""
        if not self.last_frost or not self.first_frost:
            return None
        last, first = (_of_the_year(getattr(self, name)) for name in _FROST)
        return (first - last) % _DAYS_OF_A_YEAR

    def asks(self, *names: str) -> str:
        """A sentence that asks for what is not known; empty if all of it is."""
        words = {n: a.label[:1].lower() + a.label[1:] for n, a in NORMALS.items()}
        words |= {
            "last_frost": "last frost of spring",
            "first_frost": "first frost of autumn",
            "heavy_day": "rain of a heavy day",
        }
        gone = [
            words[n]
            for n in names
            if not (self.whole(n) if n in NORMALS else getattr(self, n))
        ]
        if not gone:
            return ""
        return f"Not known: {', '.join(gone)}. Enter it in workbook 06 under Climate."

    # ---- from tables and files

    @classmethod
    def named(cls, key: str) -> Climate:
        """The invented climate of the demo garden, data/climate_<key>.csv."""
        try:
            if not re.fullmatch(r"\w{1,60}", str(key)):
                raise ValueError(key)
            rows = table(f"climate_{key}")
        except (FileNotFoundError, ValueError, OSError):
            raise PlaceError(
                "place, climate: needs a Climate, or the name of a table "
                f"data/climate_<name>.csv; given {key!r}; for example 'plumtrellis'"
            ) from None
        first = next(iter(rows))
        return cls(
            name=key,
            **{
                name: tuple(float(row.q(name).m_as(about.unit or "")) for row in rows)
                for name, about in NORMALS.items()
                if hasattr(first, name)
            },
        )

    def change(self, **changes: Any) -> Climate:
        """A copy with some fields changed."""
        return replace(self, **changes)

    @classmethod
    def from_words(cls, given: Any) -> Climate:
        """A climate out of a garden file.

        Parameters
        ----------
        given : mapping or str
            ``rain = "71 54 58 - 56 62 68 73 77 86 84 79 mm"``: twelve numbers and a
            unit, ``-`` for a month that is not known; ``last_frost = "20 April"``;
            ``heavy_day = "38 mm"``. Or the name of the demo's climate.
        """
        if isinstance(given, str):
            return cls.named(given)
        if not isinstance(given, Mapping):
            raise PlaceError(
                f"place, climate: needs a part [place.climate]; given {given!r}; for "
                'example last_frost = "20 April"'
            )
        known = {f.name for f in fields(cls)} - {"extra"}
        found = {k: v for k, v in given.items() if k in known}
        extra = {k: v for k, v in given.items() if k not in known}
        for name in set(found) & set(NORMALS):
            found[name] = _from_line(name, found[name])
        if "heavy_day" in found:
            found["heavy_day"] = read_quantity(
                found["heavy_day"], "mm", "climate, heavy_day"
            )
        return cls(**found, extra=extra)

    def as_words(self) -> dict[str, Any] | str:
        """What a garden file says of it: the name alone of the demo's climate."""
        if self.invented:
            return self.name
        found: dict[str, Any] = {"name": self.name} if self.name else {}
        for name, about in NORMALS.items():
            value = getattr(self, name)
            if value is not None:
                line = " ".join("-" if v is None else _exact(v) for v in value)
                found[name] = f"{line} {about.unit}".rstrip()
        for name in _FROST:
            if getattr(self, name):
                found[name] = getattr(self, name)
        if self.heavy_day is not None:
            found["heavy_day"] = f"{_exact(self.heavy_day.m)} {self.heavy_day.units:~}"
        return found | self.extra

    @property
    def invented(self) -> bool:
        """Whether it is the demo's, unchanged."""
        try:
            return bool(self.name) and self == Climate.named(self.name)
        except PlaceError:
            return False


def _of_the_year(day: str) -> int:
    month, number = read_day(day)
    return sum(_DAYS[: month - 1]) - (month > 2) + number


def _exact(value: float) -> str:
    short = f"{value:.12g}"
    return short if float(short) == value else repr(float(value))


def _from_line(name: str, given: Any) -> tuple[float | None, ...]:
    """Twelve numbers and their unit, as a garden file writes them."""
    about = NORMALS[name]
    needs = "12 numbers, January to December, - where not known"
    needs += f", and a unit such as {about.unit}" if about.unit else ""
    example = " ".join([f"{about.example:g}"] * 11 + ["-"])
    example = f'{name} = "' + f"{example} {about.unit}".rstrip() + '"'
    parts = str(given).split()
    unit = parts.pop() if len(parts) == len(MONTHS) + 1 else ""
    if not isinstance(given, str) or len(parts) != len(MONTHS):
        _refuse(name, needs, given, example)
    found = []
    for part in parts:
        try:
            value = None if part in ("-", "?") else float(part[:40])
            if value is not None and unit:
                read = Q_(value, plain_unit(unit))
                to_si(read, about.unit, name)
                value = value if unit == about.unit else float(read.m_as(about.unit))
            elif value is not None and about.unit:
                raise ValueError
        except (ValueError, TypeError, AttributeError, PintError):
            _refuse(name, needs, given, example)
        found.append(value)
    return tuple(found)
