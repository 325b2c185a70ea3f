"""Volumes: settled and loose, log zones, rounding, barrows, and what a load weighs."""

from __future__ import annotations

import numpy as np

from ..units import Value, quantities

__all__ = [
    "barrow_loads", "carrying_hours", "dug_out", "load_mass", "loads_per_hour",
    "log_zone", "loose_volume", "rounded_order", "settled_volume",
]  # fmt: skip  # a list of names


@quantities("m^3", settled="m^3 [0, inf)", settle="[0, 1)")
def loose_volume(settled: Value, settle: Value) -> Value:
    """Volume to buy so that this much is there once it has settled.

    Parameters
    ----------
    settled : quantity [m^3]
        Wanted after settling.
    settle : quantity []
        Share of the loose volume lost at first settling, 0 to below 1.

    Returns
    -------
    quantity [m^3]
        settled / (1 - settle).

    Notes
    -----
    First settling only, not rotting. Source: common practice.
    """
    return settled / (1 - settle)


@quantities(
    ("m^3", "m^3", "m^3"), zone="m^3 [0, inf)", packing="(0, 1]", void_fill="[0, 1]"
)
def log_zone(zone: Value, packing: Value, void_fill: Value) -> tuple[Value, ...]:
    """Share a log zone out into wood, chips in the gaps, and air.

    Parameters
    ----------
    zone : quantity [m^3]
        Whole volume of the zone.
    packing : quantity []
        Share that is wood: 0.50 to 0.70 for round logs laid by hand.
    void_fill : quantity []
        Share of the gaps that the chips fill: 0.6 tipped, 0.95 raked and hosed in.

    Returns
    -------
    tuple of quantity [m^3, m^3, m^3]
        Wood, chips in the gaps (settled), air left. They add up to the zone.

    Notes
    -----
    Chips larger than a sixth of the logs do not enter: void_fill 0.5.
    Source: assumption; packing of equal cylinders by geometry.
    """
    wood = packing * zone
    chips = void_fill * (zone - wood)
    return wood, chips, zone - wood - chips


@quantities("m^3", loose="m^3 [0, inf)", step="m^3 (0, inf)")
def rounded_order(loose: Value, step: Value) -> Value:
    """Round an order up to the seller's step.

    Parameters
    ----------
    loose : quantity [m^3]
        Loose volume needed.
    step : quantity [m^3]
        What the seller sells by, such as half a cubic metre.

    Returns
    -------
    quantity [m^3]
        The next whole number of steps.

    Notes
    -----
    Source: arithmetic; common practice.
    """
    return np.ceil(loose / step - 1e-9) * step + 0.0  # never −0


@quantities("", loose="m^3 [0, inf)", barrow="m^3 (0, inf)")
def barrow_loads(loose: Value, barrow: Value) -> Value:
    """How many barrow loads a loose volume makes, whole loads.

    Parameters
    ----------
    loose : quantity [m^3]
        Volume to move.
    barrow : quantity [m^3]
        What one load holds.

    Returns
    -------
    quantity []
        Whole loads.

    Notes
    -----
    Wet compost in half loads doubles the trips. Source: arithmetic.
    """
    return np.ceil(loose / barrow - 1e-9) + 0.0


@quantities("m^3", loose="m^3 [0, inf)", settle="[0, 1)")
def settled_volume(loose: Value, settle: Value) -> Value:
    """Find what is left of a loose volume once it has settled.

    Parameters
    ----------
    loose : quantity [m^3]
        As it comes from the truck.
    settle : quantity []
        Share of the loose volume lost at first settling.

    Returns
    -------
    quantity [m^3]
        loose (1 - settle), the inverse of :func:`loose_volume`.

    Notes
    -----
    First settling only, not rotting. Source: common practice.
    """
    return loose * (1 - settle)


@quantities("kg", volume="m^3 [0, inf)", density="kg/m^3 (0, inf)")
def load_mass(volume: Value, density: Value) -> Value:
    """Weigh a loose volume.

    Parameters
    ----------
    volume : quantity [m^3]
        Of one load, one bag or a whole order, loose.
    density : quantity [kg/m^3]
        Loose and moist, as delivered.

    Returns
    -------
    quantity [kg]
        volume x density.

    Notes
    -----
    Rain on the heap adds a fifth and more. Source: arithmetic; densities in
    data/fills.csv.
    """
    return volume * density


@quantities("1/hour", distance="m (0, inf)", still="s [0, inf)", pace="m/s (0, inf)")
def loads_per_hour(distance: Value, still: Value, pace: Value) -> Value:
    """How many barrow loads a pair moves in an hour.

    Parameters
    ----------
    distance : quantity [m]
        From the heap to the bed, one way.
    still : quantity [s]
        To fill and tip one load.
    pace : quantity [m/s]
        Of walking with a barrow, mean of full and empty.

    Returns
    -------
    quantity [1/hour]
        1 / (still + 2 distance / pace).

    Notes
    -----
    With 180 s and 40 m a minute: 12 an hour at 40 m, in the middle of the 10 to 15
    that are common for 30 to 50 m on level ground. Half loads on a slope or with wet
    compost double the trips. Source: assumption, tied to common practice.
    """
    return 1 / (still + 2 * distance / pace)


@quantities(
    "hour",
    loads="[0, inf)",
    rate="1/s [0, inf)",
    crew="(0, inf)",
    wood="m^3 [0, inf)",
    log_work="s/m^3 [0, inf)",
)
def carrying_hours(
    loads: Value, rate: Value, crew: Value, wood: Value, log_work: Value
) -> Value:
    """Hours until a crew has carried the fill and laid the logs.

    Parameters
    ----------
    loads : quantity []
        Barrow loads.
    rate : quantity [1/s]
        Loads a pair moves in an hour.
    crew : quantity []
        People; two make a pair, a single one counts as half a pair.
    wood : quantity [m^3]
        Solid wood of the logs.
    log_work : quantity [s/m^3]
        Helper-hours to collect and lay a cubic metre of logs.

    Returns
    -------
    quantity [hour]
        loads / (rate pairs) + wood log_work / crew.

    Notes
    -----
    Nobody rests, nobody waits: plan a third more. Source: common practice.
    """
    pairs = np.maximum(crew / 2, 0.5)
    return loads / rate / pairs + wood * log_work / crew


@quantities(
    ("m^3", "m^3", "m^3"),
    cut="m^3 [0, inf)",
    area="m^2 [0, inf)",
    turf="m [0, inf)",
    bulking="[0, 2]",
)
def dug_out(cut: Value, area: Value, turf: Value, bulking: Value) -> tuple[Value, ...]:
    """Share the ground that was dug out into turf and soil.

    Parameters
    ----------
    cut : quantity [m^3]
        Dug out in all, as it lay.
    area : quantity [m^2]
        Ground under the bed.
    turf : quantity [m]
        Thickness of the turf.
    bulking : quantity []
        Share by which dug soil swells: 0.2 to 0.3.

    Returns
    -------
    tuple of quantity [m^3, m^3, m^3]
        Turf and soil as they lay, and the loose heap of both.

    Notes
    -----
    Trodden in, dug soil comes back to about the volume it had in the ground.
    Source: common practice.
    """
    sods = np.minimum(cut, area * turf)
    return sods, cut - sods, cut * (1 + bulking)
