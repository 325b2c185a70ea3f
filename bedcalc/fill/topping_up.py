"""After and around the filling: topping up, carrying, and the ground dug out."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING

import numpy as np

from ..model.outcome import Amount, Part, Plain
from ..tables import table
from ..units import Q_, to_si
from .buying import price_of, trips_of, ways_to_pay, work
from .settlement import sink
from .volumes import (
    barrow_loads,
    carrying_hours,
    dug_out,
    load_mass,
    loads_per_hour,
    loose_volume,
)

if TYPE_CHECKING:  # names for an editor
    from ..fill.chapter import Fill

__all__ = ["Spoil", "TopUp", "Work", "plan_spoil", "plan_top_up", "plan_work"]

_YEAR = 365.25 * 86400.0


class TopUp(Part):
    """What sinking costs later: compost, year by year."""

    drops = Amount("cm", "Sunk within each year", "depth")
    loose = Amount("m^3", "Compost to buy at the end of each year", "volume")
    cost = Amount("money", "Its price, bags or bulk, the cheaper", "money")
    total_loose = Amount("m^3", "All years together", "volume")
    total_cost = Amount("money", "All years together", "money")


class Work(Part):
    """The work of carrying, for one barrow, distance and crew."""

    barrow = Amount("L", "What one load holds")
    loads = Amount("", "Whole loads, material by material", "ratio")
    heaviest = Amount("kg", "Mass of the heaviest full load", "mass")
    rate = Amount("1/hour", "Loads a pair moves in an hour")
    hours = Amount("hour", "Hours for the crew, logs laid too", "time")
    per_order = Plain("(name, loads, kg a load) of each material")
    too_heavy = Plain("Names of what should go in half loads")


class Spoil(Part):
    """What was dug out and where it can go."""

    turf = Amount("m^3", "Turf, as it lay", "volume")
    soil = Amount("m^3", "Soil under it, as it lay", "volume")
    heap = Amount("m^3", "Both, as a loose heap", "volume")
    used = Amount("m^3", "Goes back in, trodden down", "volume")
    left = Amount("m^3", "Has to go somewhere else", "volume")
    less_mix = Amount("m^3", "Less loose mix to buy", "volume")
    saved = Amount("money", "Less money, goods and trips", "money")


def plan_top_up(fill: Fill, years: int, case: str) -> TopUp:
    """Compost to bring the surface back up at the end of each year."""
    ends = np.arange(years + 1) * _YEAR
    drops = np.diff(sum(sink(fill.layers, ends, case)))
    area = fill.si.inside_length * fill.si.inside_width
    loose = loose_volume.si(drops * area, table("fills")["compost"].settle)
    ways = ways_to_pay("compost", loose, fill.place).values()
    cheapest = functools.reduce(np.minimum, ways) if ways else np.nan
    cost = np.where(loose > 1e-9, cheapest, 0.0)
    return TopUp(
        drops=drops,
        loose=loose,
        cost=cost,
        total_loose=loose.sum(),
        total_cost=cost.sum(),
    )


def plan_work(fill: Fill, barrow: str, distance: Q_ | None, crew: int) -> Work:
    """Loads and hours with some barrow, distance and crew."""
    holds = table("people")["adult"].barrow
    if barrow:
        holds = table("barrows")[barrow].volume
    rate = work("loads_per_hour") / 3600
    if distance is not None:
        metres = to_si(distance, "m", "work: 'distance'")
        rate = loads_per_hour.si(metres, work("load_still"), work("load_pace"))
    limit = work("load_limit")
    per_order, loads = [], 0.0
    for order in fill.orders:
        if order.goods == "logs":  # carried by hand, counted with the laying
            continue
        n = float(barrow_loads.si(order.si.loose, holds))
        per_order.append((order.name, n, load_mass.si(holds, order.si.density)))
        loads += n
    people = crew or fill.place.crew
    log_work = work("log_hours") * 3600
    return Work(
        barrow=holds,
        loads=loads,
        heaviest=max((kg for _, n, kg in per_order if n), default=0.0),
        rate=rate,
        hours=carrying_hours.si(loads, rate, people, fill.si.wood, log_work),
        per_order=tuple(per_order),
        too_heavy=tuple(name for name, n, kg in per_order if n and kg > limit),
    )


def plan_spoil(fill: Fill, cut: float, area: float) -> Spoil:
    """Turf and soil dug out, and the mix they can stand in for."""
    turf, soil, heap = dug_out.si(cut, area, work("turf_thick"), work("spoil_bulking"))
    mix = next((o for o in fill.orders if o.goods == "mix"), None)
    settle = table("fills")["mix"].settle
    room = 0.0 if mix is None else mix.si.loose * (1 - settle) * work("spoil_share")
    used = np.minimum(turf + soil, room)
    less = loose_volume.si(used, settle)
    saved = 0.0
    if mix is not None:
        order, cost = price_of("mix", mix.si.loose - less, fill.place)
        trucked = fill.si.order_volume - mix.si.order + order
        trips = trips_of(trucked, fill.place)[1]
        saved = mix.si.cost - cost + fill.si.delivery - trips
    return Spoil(
        turf=turf,
        soil=soil,
        heap=heap,
        used=used,
        left=turf + soil - used,
        less_mix=less,
        saved=saved,
    )
