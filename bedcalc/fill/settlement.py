"""Sinking: how far the surface goes down in the years after the first settling.

Wood and compost rot; part of the mass they lose shows as lost height. Nobody has
published a measured series for beds with logs inside, so this is a model with a wide
band: rates in data/decay.csv, low, likely, high.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from ..tables import table
from ..units import Value, quantities

if TYPE_CHECKING:  # names for an editor
    from ..fill.chapter import FillLayer

__all__ = ["layer_drop", "log_zone_drop", "mass_left", "sink"]

_CLOSE = 3 * 365.25 * 86400.0  # s: time in which the last air between logs closes
_CHIPS_SHARE = 0.5  # of what chips lose beyond the logs, this share shows as height


@quantities(
    "",
    years="s [0, inf)",
    rate="1/s [0, inf)",
    quick="[0, 1]",
    quick_rate="1/s [0, inf)",
)
def mass_left(years: Value, rate: Value, quick: Value, quick_rate: Value) -> Value:
    """Share of the dry mass still there.

    Parameters
    ----------
    years : quantity [s]
        Since filling.
    rate : quantity [1/s]
        Of the slow part.
    quick : quantity []
        Share that rots fast, 0 where there is none.
    quick_rate : quantity [1/s]
        Of the fast part.

    Returns
    -------
    quantity []
        quick exp(-k1 t) + (1 - quick) exp(-k t).

    Notes
    -----
    First-order decay. Logs on forest floors: 0.03 to 0.05 a year; buried, moist and
    fed they rot faster. Source: herrmann_2015 for logs on the ground; assumption for
    beds.
    """
    return quick * np.exp(-quick_rate * years) + (1 - quick) * np.exp(-rate * years)


@quantities("m", depth="m [0, inf)", shows="[0, 1]", organic="[0, 1]", left="[0, 1]")
def layer_drop(depth: Value, shows: Value, organic: Value, left: Value) -> Value:
    """How far a layer has sunk by rotting.

    Parameters
    ----------
    depth : quantity [m]
        Once settled.
    shows : quantity []
        Share of the lost mass that shows as lost height.
    organic : quantity []
        Share of the layer that can rot.
    left : quantity []
        Share of that still there.

    Returns
    -------
    quantity [m]
        depth x shows x organic x (1 - left).

    Notes
    -----
    Source: assumption.
    """
    return depth * shows * organic * (1 - left)


@quantities(
    "m",
    depth="m [0, inf)",
    packing="(0, 1]",
    void_fill="[0, 1]",
    years="s [0, inf)",
    chips_shows="[0, 1]",
    logs_left="[0, 1]",
    chips_left="[0, 1]",
)
def log_zone_drop(
    depth: Value,
    packing: Value,
    void_fill: Value,
    years: Value,
    chips_shows: Value,
    logs_left: Value,
    chips_left: Value,
) -> Value:
    """How far a log zone sinks beyond the logs' own rotting.

    Parameters
    ----------
    depth : quantity [m]
        Of the zone.
    packing : quantity []
        Share of it that is wood.
    void_fill : quantity []
        Share of the gaps that chips fill.
    years : quantity [s]
        Since filling.
    chips_shows : quantity []
        Share of the chips' lost mass that shows as height.
    logs_left : quantity []
        Share of the logs' mass still there.
    chips_left : quantity []
        Share of the chips' mass still there.

    Returns
    -------
    quantity [m]
        Air that closes within three years, and half of what the chips in the gaps
        lose faster than the logs.

    Notes
    -----
    Source: assumption.
    """
    gaps = depth * (1 - packing)
    air = gaps * (1 - void_fill) * np.minimum(1.0, years / _CLOSE)
    sooner = np.maximum(0.0, logs_left - chips_left)
    return air + gaps * void_fill * chips_shows * sooner * _CHIPS_SHARE


def _left(row, years, case: str):
    rate = {"low": row.k_low, "likely": row.k, "high": row.k_high}[case]
    return mass_left.si(years, rate, row.quick, row.quick_k)


def sink(layers: Sequence[FillLayer], years: Value, case: str = "likely") -> list:
    """How far each layer has sunk after some years (SI), bottom first.

    Parameters
    ----------
    layers : sequence of FillLayer
    years : array
        Seconds since filling.
    case : str
        ``low``, ``likely`` or ``high`` rates of rotting.

    Returns
    -------
    list of array
        Metres, one a layer.
    """
    found = []
    for layer in layers:
        row, depth = table("decay")[layer.material], layer.si.depth
        left = _left(row, years, case)
        drop = layer_drop.si(depth, row.shows, row.organic, left)
        fill = table("fills")[layer.material]
        if fill.void_material:
            chips = table("decay")[fill.void_material]
            drop = drop + log_zone_drop.si(
                depth,
                fill.packing,
                fill.void_fill,
                years,
                chips.shows,
                left,
                _left(chips, years, case),
            )
        found.append(drop)
    return found
