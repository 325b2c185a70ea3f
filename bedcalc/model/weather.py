"""Given: weather day by day, as a station has measured it. What is missing is a gap."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta

import numpy as np

from ..units import Q_

__all__ = ["KINDS", "Kind", "Weather"]


@dataclass(frozen=True, kw_only=True)
class Kind:
    """One kind of daily weather: what people call it and what can be.

    ``units`` are those that a file may use, each as factor and shift into ``unit``, so
    that a value in ``unit`` is value × factor + shift.
    """

    label: str
    unit: str
    low: float
    high: float
    example: str
    units: Mapping[str, tuple[float, float]]


_DEGREES = {"°C": (1, 0), "°F": (5 / 9, -160 / 9), "K": (1, -273.15)}
#: the ranges hold the records of the world, with a little to spare (common practice)
KINDS = {
    "tmin": Kind(label="lowest temperature", unit="degC", low=-95, high=60,
                 example="4.1", units=_DEGREES),
    "tmax": Kind(label="highest temperature", unit="degC", low=-95, high=65,
                 example="13.6", units=_DEGREES),
    "rain": Kind(label="rain", unit="mm", low=0, high=2000, example="2.4",
                 units={"mm": (1, 0), "cm": (10, 0), "in": (25.4, 0)}),
    "humidity": Kind(label="humidity", unit="percent", low=0, high=100, example="72",
                     units={"%": (1, 0)}),
    "wind": Kind(label="wind", unit="m/s", low=0, high=110, example="2.5",
                 units={"m/s": (1, 0), "km/h": (1 / 3.6, 0), "mph": (0.44704, 0),
                        "kn": (1.852 / 3.6, 0)}),
    "sun": Kind(label="sunshine", unit="hour", low=0, high=24, example="5.5",
                units={"h": (1, 0), "min": (1 / 60, 0)}),
    "radiation": Kind(label="energy of the sun", unit="MJ/m^2", low=0, high=50,
                      example="14.2",
                      units={"MJ/m²": (1, 0), "kWh/m²": (3.6, 0), "J/cm²": (0.01, 0),
                             "W/m²": (0.0864, 0)}),
}  # fmt: skip  # rows of a table


def _day(day: date) -> str:
    return f"{day.day} {day:%B %Y}"


@dataclass(frozen=True, kw_only=True, eq=False)
class Weather:
    """Daily weather without a missing day: from ``first`` on, a number for each day.

    Parameters
    ----------
    first : date
        The first day.
    values : mapping of str to array
        By the keys of ``KINDS``, in the unit of each kind; not-a-number is not known.
    name : str
        Where it is from, such as the name of the file.
    flagged : int
        Values that the weather service itself doubts; they are gaps.
    """

    first: date
    values: Mapping[str, np.ndarray] = field(repr=False)
    name: str = ""
    flagged: int = 0

    def __len__(self) -> int:
        """Days from the first to the last."""
        return max(map(len, self.values.values()), default=0)

    @property
    def last(self) -> date:
        """The last day."""
        return self.first + timedelta(days=len(self) - 1)

    @property
    def days(self) -> np.ndarray:
        """All days, as ``datetime64``."""
        return np.datetime64(self.first) + np.arange(len(self))

    def q(self, kind: str):
        """The days' values as a quantity; not-a-number where not known."""
        found = self.values.get(kind, np.full(len(self), np.nan))
        return Q_(found, KINDS[kind].unit)

    def runs(self, kind: str) -> Iterator[tuple[date, int]]:
        """Gaps of one kind: the first day of each and how many days it has."""
        gone = np.isnan(self.values[kind])
        edges = np.flatnonzero(np.diff(np.concatenate(([False], gone, [False]))))
        for start, end in edges.reshape(-1, 2):
            yield self.first + timedelta(days=int(start)), int(end - start)

    @property
    def gaps(self) -> tuple[str, ...]:
        """What is not known, in words: one sentence for each kind that has gaps."""
        found = []
        for kind in self.values:
            runs = list(self.runs(kind))
            if not runs:
                continue
            many = sum(days for _, days in runs)
            start, longest = max(runs, key=lambda run: run[1])
            end = start + timedelta(days=longest - 1)
            where = _day(start) if longest == 1 else f"{_day(start)} to {_day(end)}"
            label = KINDS[kind].label
            if len(runs) == 1:
                days = "1 day is" if many == 1 else f"{many} days are"
                found.append(f"{label}: {days} not known, {where}")
            else:
                found.append(
                    f"{label}: {many} of {len(self)} days are not known, in "
                    f"{len(runs)} gaps; the longest is {where}"
                )
        return tuple(found)
