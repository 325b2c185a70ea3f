"""Questions about the years: how fast a log rots, a heap, a sheet, repair or anew."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..model.climate import Climate
from ..model.outcome import Outcome
from ..seasons import (
    for_moisture,
    for_ratio,
    half_life,
    heap_moisture,
    heap_ratio,
    repair_pays,
    rot_rate,
    sheet_life,
    zinc_life,
)
from ..tables import table
from ..units import Q_, from_si, to_si

__all__ = [
    "Heap",
    "Repair",
    "heap_of",
    "log_half_life",
    "repair_of",
    "sheet_lasts",
    "year_mean",
]

_ZERO = 273.15
_MICRON_YEAR = 1e-6 / (365.25 * 86400.0)


def year_mean(climate: Climate | None) -> Q_ | None:
    """Mean temperature of the year, or None where the climate does not say it."""
    if climate is None or not climate.whole("t_min", "t_max"):
        return None
    return Q_(
        float(sum(climate.q(n).to("K").m.mean() for n in ("t_min", "t_max")) / 2), "K"
    )


def log_half_life(wood_rate: float, mean: Q_, moisture: float, diameter: Q_) -> Q_:
    """Time until half of a log is gone (a quantity).

    Parameters
    ----------
    wood_rate : float
        Of a moist log 20 cm thick at 10 °C, a year.
    mean : quantity
        Mean temperature of the year.
    moisture : float
        1 moist, 0.5 dry, 0.3 under water.
    diameter : quantity
        Of the log.
    """
    rate = rot_rate(Q_(wood_rate, "1/year"), mean.to("K"), moisture, diameter)
    return half_life(rate).to("year")


@dataclass(frozen=True, kw_only=True)
class Heap:
    """A heap: the second material, how wet it gets, what the moisture would ask for."""

    second: float
    moisture: float
    for_moisture: float
    ratio: float


def heap_of(
    first: str, second: str, mass: Q_, goal: float = 30.0, wet: float = 0.6
) -> Heap:
    """Second material for a heap (masses in kg; below 0 it cannot be reached).

    Parameters
    ----------
    first, second : str
        Rows of data/heap.csv.
    mass : quantity
        Of the first.
    goal, wet : float
        Carbon to nitrogen, and share of water, wanted.
    """
    a, b = table("heap")[first], table("heap")[second]
    kg = float(to_si(mass, "kg", "heap: 'mass'"))
    wants = np.inf
    if abs(b.ratio - goal) > 1e-9:
        wants = float(
            for_ratio.si(
                kg, goal, a.nitrogen, b.nitrogen, a.ratio, b.ratio, a.water, b.water
            )
        )
    asked = (
        float(for_moisture.si(kg, wet, a.water, b.water)) if b.water != wet else np.inf
    )
    used = wants if 0 < wants < np.inf else 0.0
    carbon = [row.nitrogen * row.ratio for row in (a, b)]
    return Heap(
        second=wants,
        moisture=float(heap_moisture.si(kg, used, a.water, b.water)),
        for_moisture=asked,
        ratio=float(
            heap_ratio.si(kg, used, *carbon, a.nitrogen, b.nitrogen, a.water, b.water)
        ),
    )


def sheet_lasts(zinc: Q_, steel: Q_, sides: int) -> tuple[Q_, Q_]:
    """Years until the zinc is gone, and until half of the steel is (quantities).

    Parameters
    ----------
    zinc, steel : quantity
        Thickness of zinc on one side, and of the steel.
    sides : int
        How many lie against soil.
    """
    first, later, steel_rate = (n * _MICRON_YEAR for n in (15.0, 4.0, 12.0))
    two_years = to_si(Q_(2, "year"), "s", "years")
    coat = to_si(zinc, "m", "zinc")
    bare = zinc_life.si(coat, two_years, first, later)
    end = sheet_life.si(bare, to_si(steel, "m", "steel"), steel_rate, sides)
    return from_si(bare, "year"), from_si(end, "year")


@dataclass(frozen=True, kw_only=True)
class Repair:
    """A repair beside a new box: money a year, over how long the repair lasts."""

    years: np.ndarray
    repair: np.ndarray
    anew: float
    breaks_even: float | None
    box: float
    life: float


def repair_of(outcome: Outcome, share: float, rate: float = 0.03) -> Repair:
    """A repair that costs a share of a new box, against a new box of the same build.

    Parameters
    ----------
    outcome : Outcome
        Of one bed, with a bill.
    share : float
        Of the price of walls, ties and screws.
    rate : float
        Interest a year.

    Returns
    -------
    Repair
        ``breaks_even`` is how many years the repair must last; None where even fifteen
        years are not enough.
    """
    cost = outcome.cost.si
    box = float(cost.walls + cost.ties + cost.fixings)
    life = float(min(outcome.cost.box_life(outcome.bed.wall)[1], 100.0))
    years = np.linspace(1.0, 15.0, 57)
    less = repair_pays.si(share * box, years, box, life, rate)
    anew = float(repair_pays.si(0.0, 1.0, box, life, rate))
    pays = years[less >= -1e-9]
    return Repair(
        years=years,
        repair=anew - less,
        anew=anew,
        breaks_even=float(pays[0]) if len(pays) else None,
        box=box,
        life=life,
    )
