"""The calendar: hours by month and year, compost, and parts that are bought again."""

from __future__ import annotations

import numpy as np

from ..cost import Cost
from ..cost.life_cycle_cost import life_of
from ..fill import Fill
from ..fill.buying import work
from ..model.bed import Bed
from ..model.climate import MONTHS, Climate, read_day
from ..model.outcome import Amount, Part, Plain
from ..model.place import Place
from ..tables import table
from ..water import Water

__all__ = ["WorkYear", "growing_months", "work_year"]

_WARM = 285.15  # K: mean of a month in which beds are watered and picked
_LEAST = 278.15  # K: mean of a month in which things grow


class WorkYear(Part):
    """Work and money of the first years."""

    tasks = Plain("Names of what this bed needs, topping up last")
    groups = Plain("What each belongs to: plants, water, bed or compost")
    hours = Amount("hour", "By year, month and task, for one person", "time")
    by_month = Amount("hour", "The first year, month by month", "time")
    by_year = Amount("hour", "Year by year", "time")
    by_task = Amount("hour", "Mean of a year, task by task", "time")
    compost_cost = Amount("money", "Compost, year by year", "money")
    parts_cost = Amount("money", "Parts bought again, year by year", "money")
    parts = Plain("(year, name, money) of what is bought again")
    known = Plain("Whether the months are known")
    asks = Plain("What to enter so that the months are known; empty if they are")


def growing_months(climate: Climate | None) -> dict[str, list[int]] | None:
    """Months of the year for work, by the words of data/tasks.csv.

    Parameters
    ----------
    climate : Climate or None

    Returns
    -------
    dict or None
        ``spring`` (the month of the last frost), ``autumn`` (of the first), ``growing``
        (between them), ``warm``; 0 is January. None where the climate does not say it.
    """
    if climate is None:
        return None
    mean = None
    if climate.whole("t_min", "t_max"):
        mean = sum(climate.q(n).to("K").m for n in ("t_min", "t_max")) / 2
    if climate.last_frost and climate.first_frost:
        first = read_day(climate.last_frost)[0] - 1
        last = read_day(climate.first_frost)[0] - 1
    elif mean is not None and np.any(mean >= _LEAST):
        grows = mean >= _LEAST
        # circular: a summer over the turn of the year is one summer
        starts = [m for m in range(12) if grows[m] and not grows[m - 1]]
        first = starts[0] if starts else 0
        run = [
            m for m in range(12) if all(grows[(first + k) % 12] for k in range(m + 1))
        ]
        last = (first + len(run) - 1) % 12
    else:
        return None
    count = (last - first) % 12 + 1
    growing = [(first + k) % 12 for k in range(count)]
    warm = growing[1:-1] or growing
    if mean is not None and np.any(mean[growing] >= _WARM):
        warm = [m for m in growing if mean[m] >= _WARM]
    return {"spring": [first], "autumn": [last], "growing": growing, "warm": warm}


def _minutes(task, bed, area: float) -> float:
    """Seconds of one time of this task."""
    around = 2 * float(bed.si.length + bed.si.width)
    seconds = task.minutes_bed + task.minutes_metre * around + task.minutes_area * area
    if task.for_wall == "tied":
        seconds += 600.0 * int(bed.ties + bed.base_ties)
    return float(seconds)


def _wanted(task, bed) -> bool:
    """Whether this bed needs this task at all."""
    if task.for_wall == "tied":
        return int(bed.ties + bed.base_ties) > 0
    return task.for_wall in ("", bed.wall.family)


def _by_can(water: Water) -> np.ndarray | None:
    """Seconds a month with the can, for what rain does not bring; None if not known."""
    if not np.all(np.isfinite(water.si.missing)):
        return None
    can = table("watering")["can"]
    return water.si.missing * water.si.area / can.reaches / can.flow


def work_year(
    bed: Bed, place: Place, fill: Fill, cost: Cost | None, water: Water, years: int
) -> WorkYear:
    """Hours and money of the first years of one bed.

    Parameters
    ----------
    bed : Bed
    place : Place
    fill : Fill
    cost : Cost or None
    water : Water
        Its months say how long watering takes, where the climate says it.
    years : int

    Returns
    -------
    WorkYear
        Without a climate the hours stand in no month: then they are spread evenly, and
        ``known`` says so.
    """
    months = growing_months(place.climate)
    area = float(fill.si.inside_length * fill.si.inside_width)
    tasks = [task for task in table("tasks") if _wanted(task, bed)]
    hours = np.zeros((years, len(MONTHS), len(tasks) + 1))
    for number, task in enumerate(tasks):
        when = range(12) if months is None else months[task.when]
        times = {"spring": 1, "autumn": 1, "growing": 7, "warm": 4}[task.when]
        each = _minutes(task, bed, area) * (times / 12 if months is None else 1)
        turn = np.arange(1, years + 1)
        does = (turn >= task.first) & ((turn - task.first) % task.every == 0)
        for month in when:
            hours[does, month, number] = each
        carried = _by_can(water) if task.key == "water" else None
        if carried is not None:
            hours[:, :, number] = carried
    later = fill.top_up(years)
    rate = work("loads_per_hour") / 3600 / 2  # by one person of a pair
    carried = later.si.loose / table("people")["adult"].barrow / rate
    for month in range(12) if months is None else months["autumn"]:
        hours[:, month, -1] = carried / (12 if months is None else 1)
    bought, parts = np.zeros(years), []
    for line in cost.lines if cost is not None else ():
        life = life_of(line)
        if life <= years and line.part not in ("fill",):
            amount = line.amount + line.tax(cost.rate)
            bought[int(np.ceil(life)) - 1] += amount
            parts.append((int(np.ceil(life)), line.name, amount))
    asks = ""
    if months is None:
        asks = (
            "Enter a climate in workbook 06 to see the months."
            if place.climate is None
            else place.climate.asks("last_frost", "first_frost")
        )
    return WorkYear(
        tasks=(*(task.name for task in tasks), "Top up with compost"),
        groups=(*(task.group for task in tasks), "compost"),
        hours=hours,
        by_month=hours[0].sum(axis=1),
        by_year=hours.sum(axis=(1, 2)),
        by_task=hours.sum(axis=(0, 1)) / years,
        compost_cost=later.si.cost,
        parts_cost=bought,
        parts=tuple(parts),
        known=months is not None,
        asks=asks,
    )
