"""Water: what a bed uses, what its root zone holds, and how long that lasts."""

from __future__ import annotations

from typing import Any

import numpy as np

from ..model.bed import Bed
from ..model.climate import Climate
from ..model.outcome import Amount, Part, Plain
from ..model.place import Place
from ..tables import table
from .bucket import March, march
from .evapotranspiration import depletion_fraction, hargreaves, penman_monteith
from .generator import Days, days_of
from .root_zone import (
    available_water,
    catch,
    litres,
    root_share,
    tank_months,
    watering_interval,
)
from .sky import (
    clear_sky_radiation,
    daylight,
    extraterrestrial_radiation,
    net_longwave,
    net_shortwave,
    saturation_pressure,
    solar_from_sunshine,
)

__all__ = ["RootLayer", "Water", "assess_water", "layer_row", "reference_months"]

DAY = 86400.0
_ELEVATION = 100.0  # m, taken where nobody asks for it: 500 m change 1 to 2 %
MONTH_DAYS = np.array([31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
#: the middle of each month, as a day of the year
_MIDDLES = np.array([15, 46, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344])


class RootLayer(Part):
    """One layer of the fill, as far as roots use it; the top layer first."""

    name = Plain("What people call it")
    material = Plain("Row of data/water_layers.csv")
    depth = Amount("cm", "How much of it the roots reach", "depth")
    top = Amount("cm", "Depth of its top below the surface", "depth")
    holds = Amount("mm", "Water that plants can take out of it", "rain")
    share = Plain("Share of the roots in it")


class Water(Part):
    """What the bed uses and holds; without a climate only what it holds is known."""

    layers = Plain("Layers that roots use, the top one first")
    crop = Plain("Row of data/crops.csv")
    around = Plain("Row of data/surroundings.csv")
    roots = Amount("cm", "Depth of soil that the roots use", "depth")
    holds = Amount("mm", "Water that plants can take out of the root zone", "rain")
    easy = Amount("mm", "What they take before they suffer", "rain")
    area = Amount("m^2", "Area that is watered", "area")
    factor = Plain("Use of the bed over that of short grass")
    reference = Amount("mm/day", "What short grass uses in a day, month by month")
    rain = Amount("mm", "Rain of each month", "rain")
    use = Amount("mm/day", "What the bed uses in a day, month by month")
    month = Plain("Month in which it dries fastest, 0 is January; None if not known")
    interval = Amount("day", "Days between waterings without rain, in that month")
    days = Plain("The same in whole days, at least 1; None if not known")
    each = Amount("L", "One watering", "water")
    week = Amount("L", "Water of a week without rain, in that month", "water")
    missing = Amount("mm", "What rain does not bring, month by month", "rain")
    asks = Plain("What to enter so that the rest can be said")

    def over(self, days: Days, *, water: bool = True) -> March:
        """March through the days of a weather with one bucket for the root zone."""
        si = self.si
        return march(
            days.rain,
            si.factor * days.reference,
            days.reference,
            si.holds,
            si.crop.easy,
            start=0.0,
            water=water,
        )

    def year(self, seed: int = 1) -> Days | None:
        """A made-up year whose months are those of the climate, or None."""
        if self.si.asks or not np.all(np.isfinite(self.si.rain)):
            return None
        return days_of(self.si.rain, self.si.reference, seed)

    def tank(self, roof: float, size: float, share: float = 0.85):
        """What a tank under a roof gives the bed, month by month; see tank_months."""
        caught = catch.si(self.si.rain, roof, share)
        return tank_months(caught, self.si.missing * self.si.area, size)


def layer_row(layer: Any):
    """What a layer holds of water: its own row, or that of the material it is like."""
    rows = table("water_layers")
    return rows[layer.kind] if layer.kind in rows else rows["mix"]


def reference_months(climate: Climate | None, latitude: float | None):
    """Water that short grass uses in a day, month by month.

    Parameters
    ----------
    climate : Climate or None
    latitude : float or None
        Radians, north positive.

    Returns
    -------
    array (12,) or None
        Metres a second: the normals where they say it; else Penman-Monteith where
        humidity, wind and sun are known; else Hargreaves from highs and lows. None
        where neither is known.
    str
        What is lacking, as a sentence; empty if nothing is.
    """
    if climate is None:
        return None, "Give a climate to see how often to water."
    if climate.whole("et0"):
        return climate.q("et0").m_as("m") / MONTH_DAYS / DAY, ""
    if not climate.whole("t_min", "t_max"):
        return None, climate.asks("t_min", "t_max")
    if latitude is None:
        return None, "Say how far north or south the garden lies."
    low, high = (climate.q(name).to("K").m for name in ("t_min", "t_max"))
    high = np.maximum(high, low)
    sun = extraterrestrial_radiation.si(latitude, _MIDDLES)
    wet = climate.whole("humidity", "wind")
    if wet and climate.whole("radiation"):
        ground = climate.q("radiation").m_as("J/m^2") / DAY
    elif wet and climate.whole("sunshine"):
        hours = climate.q("sunshine").m_as("s")
        sunny = hours / np.maximum(daylight.si(latitude, _MIDDLES), 1.0)
        ground = solar_from_sunshine.si(sun, np.clip(sunny, 0.0, 1.0))
    else:
        return hargreaves.si(low, high, sun), ""
    return _penman_months(climate, low, high, sun, ground), ""


def _penman_months(climate: Climate, low, high, sun, ground):
    """FAO-56 Penman-Monteith month by month, from all that a station measures."""
    clear = np.maximum(clear_sky_radiation.si(sun, _ELEVATION), 1e-9)
    full = (saturation_pressure.si(low) + saturation_pressure.si(high)) / 2
    vapour = np.clip(climate.q("humidity").m_as(""), 0, 1) * full
    lost = net_longwave.si(low, high, vapour, np.clip(ground / clear, 0.3, 1.0))
    found = penman_monteith.si(
        (low + high) / 2, low, high, vapour, net_shortwave.si(ground) - lost, 0.0,
        climate.q("wind").m_as("m/s"), _ELEVATION,
    )  # fmt: skip  # a list of names
    return np.maximum(found, 0.0)


def _layers(bed: Bed, depth: float) -> tuple[RootLayer, ...]:
    """From the surface down, as deep as roots go."""
    found, top = [], 0.0
    thick = [float(np.asarray(d)) for d in bed.layer_depths]
    for layer, d in zip(reversed(bed.fill), reversed(thick), strict=True):
        reached = min(d, depth - top)
        if reached <= 1e-9:
            break
        row = layer_row(layer)
        found.append(
            RootLayer(
                name=layer.row.name,
                material=row,
                depth=reached,
                top=top,
                holds=available_water.si(
                    row.field_capacity, row.wilting, reached, row.access
                ),
                share=root_share.si(top, top + reached) * row.access,
            )
        )
        top += reached
    return tuple(found)


def assess_water(bed: Bed, place: Place) -> Water:
    """What the water chapter says about this bed.

    Parameters
    ----------
    bed : Bed
        One bed, no sweep. Its ``crop``, ``around`` and ``trailing`` say what it uses.
    place : Place
        Its climate says when; without one only what the bed holds is known.
    """
    crop, around = table("crops")[bed.crop], table("surroundings")[bed.around]
    fill = float(bed.si.fill_depth)
    layers = _layers(bed, min(crop.roots, fill))
    holds = sum(float(layer.si.holds) for layer in layers)
    area = float(bed.si.inside_length * bed.si.inside_width)
    outside = bed.trailing.m_as("m^2")
    factor = crop.kc * around.factor * (area + outside) / area
    where = None if place.latitude is None else place.latitude.m_as("rad")
    reference, asks = reference_months(place.climate, where)
    unknown = np.full(12, np.nan)
    rain = unknown
    if place.climate is not None and place.climate.rain is not None:
        rain = place.climate.q("rain").m_as("m")
    use = unknown if reference is None else factor * reference
    missing = np.maximum(use * DAY * MONTH_DAYS - rain, 0.0)
    month = days = None
    interval = each = week = easy = np.nan
    if reference is not None:
        month = int(np.argmax(use))
        share = float(depletion_fraction.si(crop.easy, use[month]))
        easy = share * holds
        interval = float(watering_interval.si(holds, share, use[month]))
        days = max(int(interval / DAY + 1e-9), 1)
        each = float(litres.si(min(days * DAY * use[month], holds), area))
        week = float(litres.si(7 * DAY * use[month], area))
    return Water(
        layers=layers, crop=crop, around=around,
        roots=sum(float(layer.si.depth) for layer in layers), holds=holds, easy=easy,
        area=area, factor=factor,
        reference=unknown if reference is None else reference, rain=rain, use=use,
        month=month, interval=interval, days=days, each=each, week=week,
        missing=missing, asks=asks,
    )  # fmt: skip  # a list of names
