"""Watering: a summer day by day, fills compared, days away, ways to bring the water."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..evaluate import Outcome
from ..model.layers import strategy_layers
from ..tables import Row, table
from ..units import Q_, from_si
from ..water import Days, assess_water
from ..water.evapotranspiration import depletion_fraction
from ..water.generator import LENGTHS
from ..water.layered import LayeredMarch, march_layers

__all__ = [
    "Absence", "Summer", "Way", "absence", "fills_by_water", "gauge", "summer_of",
    "tank_of", "ways_to_water",
]  # fmt: skip  # a list of names

_DAY = 86400.0
#: plants wilt where they get less than this share of what they need (an assumption)
_WILTING = 0.5


@dataclass(frozen=True, kw_only=True)
class Summer:
    """Five months around the driest one, day by day.

    Attributes
    ----------
    first : int
        Day of the year of the first day; 0 is 1 January.
    days : Days
        Rain, and what short grass uses.
    layered : LayeredMarch
        What each layer holds.
    easy : float
        Metres that may be missing before plants suffer.
    litres : quantity [L]
        What was watered in all.
    """

    first: int
    days: Days
    layered: LayeredMarch
    easy: float
    litres: object


def summer_of(outcome: Outcome, seed: int = 1, *, water: bool = True) -> Summer | None:
    """A made-up summer of this bed, or None where the climate is not known.

    Parameters
    ----------
    outcome : Outcome
    seed : int
        Another seed is another summer of the same climate.
    water : bool
        Whether somebody waters before the plants suffer.
    """
    found = outcome.water
    year = found.year(seed)
    if year is None:
        return None
    start = (found.month - 2) % 12
    first = sum(LENGTHS[:start])
    count = sum(LENGTHS[(start + i) % 12] for i in range(5))
    days = year.part(first, (first + count) % 365)
    layered = march_layers(
        found.layers, days, found.factor, found.crop.easy, water=water
    )
    litres = from_si(layered.watered.sum() * found.si.area, "L")
    return Summer(
        first=first, days=days, layered=layered, easy=found.si.easy, litres=litres
    )


def fills_by_water(outcome: Outcome) -> tuple[list[tuple[str, float, float]], int]:
    """Days between waterings for every way to fill, the longest first.

    Returns
    -------
    list of (name, days, metres of water in reach)
    int
        Which of them is the bed as it is.
    """
    names = {row.strategy: row.name for row in table("strategies")}
    rows = [("this bed", outcome.water)]
    for key, name in names.items():
        try:
            bed = outcome.bed.change(fill=strategy_layers(key, Q_(40, "percent")))
        except ValueError:  # too low for its layers
            continue
        rows.append((name, assess_water(bed, outcome.place)))
    told = [
        (name, float(w.interval.m_as("day")), float(w.si.holds)) for name, w in rows
    ]
    told.sort(key=lambda row: -row[1])
    return told, [row[0] for row in told].index("this bed")


@dataclass(frozen=True)
class Absence:
    """What happens while nobody waters: days until plants suffer, and until they wilt.

    ``left`` is the share of the water in reach that is left when people come back.
    """

    suffers: int
    wilts: int
    left: float


def absence(outcome: Outcome, days: int, month: int | None = None) -> Absence | None:
    """Leave a bed that was watered well on the last evening.

    Parameters
    ----------
    outcome : Outcome
    days : int
        Days without watering and without rain.
    month : int or None
        0 is January; None is the driest month.
    """
    found = outcome.water
    if found.month is None:
        return None
    use = found.si.use[found.month if month is None else month] * _DAY
    if use <= 0:
        return Absence(999, 999, 1.0)
    share = float(depletion_fraction.si(found.crop.easy, use / _DAY))
    still = Days(np.zeros(365), np.full(365, use / found.factor))
    dry = found.over(still, water=False)
    suffers = int(np.argmax(dry.depletion > share * found.si.holds + 1e-12))
    gone = dry.stress < _WILTING
    wilts = int(np.argmax(gone)) if gone.any() else 365
    left = 1 - float(dry.depletion[min(days, 365) - 1]) / found.si.holds if days else 1
    return Absence(suffers, wilts, max(left, 0.0))


def gauge(outcome: Outcome, rain: float, days: int) -> float | None:
    """Litres still to water after so many days with so much rain in the gauge.

    Parameters
    ----------
    outcome : Outcome
    rain : float
        Metres in the rain gauge.
    days : int
        Days since the bed was watered well.
    """
    found = outcome.water
    if found.month is None:
        return None
    need = min(found.si.use[found.month] * _DAY * days, found.si.holds)
    return max(need - rain, 0.0) * found.si.area * 1e3


@dataclass(frozen=True)
class Way:
    """One way to bring the water of a summer: its hours, and what leaves the tap."""

    row: Row
    litres: float
    hours: float
    each: float  # minutes for one watering


def ways_to_water(outcome: Outcome, summer: Summer) -> list[Way]:
    """Ways of data/watering.csv for the water of this summer, least hours of a person.

    What a way does not bring to the roots is drawn from the tap all the same.
    """
    told = []
    for row in table("watering"):
        litres = summer.litres.m_as("L") / row.reaches
        flow = row.q("flow").m_as("L/hour")
        once = outcome.water.each.m_as("L") / row.reaches / flow * 60
        told.append(Way(row, litres, litres / flow, once))
    return sorted(told, key=lambda way: (way.row.attended == "yes", way.hours))


def tank_of(outcome: Outcome, roof: float, size: float):
    """A tank of ``size`` cubic metres under a roof of ``roof`` square metres.

    Returns None where rain or use are not known, else the arrays of
    :func:`bedcalc.water.tank_months`.
    """
    found = outcome.water
    if found.month is None or not np.all(np.isfinite(found.si.rain)):
        return None
    return found.tank(roof, size)
