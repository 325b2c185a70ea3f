"""Reference evapotranspiration and what crops and beds make of it (FAO-56)."""

from __future__ import annotations

import numpy as np

from ..units import quantities
from .sky import (
    TEMPERATURE,
    air_pressure,
    psychrometric_constant,
    saturation_pressure,
    saturation_slope,
)

__all__ = [
    "climate_adjusted",
    "depletion_fraction",
    "hargreaves",
    "penman_monteith",
    "stage_coefficient",
    "water_stress",
]

_DAY = 86400.0
_LATENT = 2.45e9  # J/m3: heat that evaporates a cubic metre of water


@quantities(
    "mm/day",
    t_mean=TEMPERATURE,
    t_min=TEMPERATURE,
    t_max=TEMPERATURE,
    vapour="Pa [0, 20000]",
    net_radiation="W/m^2 [-200, 600]",
    ground_heat="W/m^2 [-100, 100]",
    wind="m/s [0, 50]",
    elevation="m [-450, 9000]",
)
def penman_monteith(
    t_mean, t_min, t_max, vapour, net_radiation, ground_heat, wind, elevation
):
    """Water that well-watered short grass uses in a day.

    Parameters
    ----------
    t_mean, t_min, t_max : quantity [K]
        Mean, lowest and highest temperature of the day.
    vapour : quantity [Pa]
        Vapour pressure of the air.
    net_radiation : quantity [W/m^2]
        Kept from the sun, less what is lost to the sky.
    ground_heat : quantity [W/m^2]
        Into the ground; 0 for a day.
    wind : quantity [m/s]
        At 2 m.
    elevation : quantity [m]

    Returns
    -------
    quantity [mm/day]
        [0.408 D (Rn - G) + g 900/(T + 273) u (es - ea)]/[D + g (1 + 0.34 u)].

    Notes
    -----
    Source: fao56, eq. 6, es of eq. 12.
    """
    slope = saturation_slope.si(t_mean)
    psychrometric = psychrometric_constant.si(air_pressure.si(elevation))
    saturated = (saturation_pressure.si(t_min) + saturation_pressure.si(t_max)) / 2
    # 0.408 mm of water are 1 MJ/m2; 900 holds for mm a day, kPa and u in m/s
    energy = 0.408e-9 * slope * (net_radiation - ground_heat)
    celsius = t_mean - 273.15
    air = psychrometric * 900 / (celsius + 273) * wind * (saturated - vapour) / 1e3
    air = air * 1e-3 / _DAY
    return (energy + air) / (slope + psychrometric * (1 + 0.34 * wind))


@quantities(
    "mm/day", t_min=TEMPERATURE, t_max=TEMPERATURE, extraterrestrial="W/m^2 [0, 600]"
)
def hargreaves(t_min, t_max, extraterrestrial):
    """The same from temperatures alone, where nothing else is known.

    Parameters
    ----------
    t_min, t_max : quantity [K]
        Lowest and highest temperature of the day.
    extraterrestrial : quantity [W/m^2]
        Sun above the air.

    Returns
    -------
    quantity [mm/day]
        0.0023 (Tmean + 17.8) sqrt(Tmax - Tmin) 0.408 Ra, Ra in MJ/(m2 day).

    Notes
    -----
    Best over a week or more; too high in humid places, too low in strong wind. Below
    -17.8 degrees nothing evaporates. Source: fao56, eq. 52.
    """
    mean = (t_min + t_max) / 2 - 273.15
    range_ = np.sqrt(np.maximum(t_max - t_min, 0))
    return 0.0023 * np.maximum(mean + 17.8, 0) * range_ * 0.408e-9 * extraterrestrial


@quantities(
    "", table="[0, 2.5]", wind="m/s [0, 50]", rh_min="[0, 1]", height="m [0, 10]"
)
def climate_adjusted(table, wind, rh_min, height):
    """A crop coefficient of the table in another climate than the table's.

    Parameters
    ----------
    table : quantity []
        Kc for 2 m/s of wind and 45 % lowest humidity.
    wind : quantity [m/s]
        At 2 m; used between 1 and 6.
    rh_min : quantity []
        Mean lowest humidity; used between 20 and 80 %.
    height : quantity [m]
        Of the crop; used between 0.1 and 10.

    Returns
    -------
    quantity []
        Kc + (0.04 (u - 2) - 0.004 (RHmin - 45)) (h/3)^0.3.

    Notes
    -----
    For the middle of the season and its end, where Kc is over 0.45. Source: fao56, eq.
    62 and 65.
    """
    u, rh = np.clip(wind, 1, 6), 100 * np.clip(rh_min, 0.2, 0.8)
    tall = (np.clip(height, 0.1, 10) / 3) ** 0.3
    return table + (0.04 * (u - 2) - 0.004 * (rh - 45)) * tall


@quantities(
    "",
    day="[0, 1000]",
    stages="[0, 400]",
    initial="[0, 2.5]",
    middle="[0, 2.5]",
    end="[0, 2.5]",
)
def stage_coefficient(day, stages, initial, middle, end):
    """The crop coefficient of a day: level, rising, level, falling.

    Parameters
    ----------
    day : quantity []
        Since sowing or planting, the first day is 1; an array of days.
    stages : quantity []
        Lengths of the four stages in days, an array (4,).
    initial, middle, end : quantity []
        Kc of the first stage, of the third, and at the end of the fourth.

    Returns
    -------
    quantity []
        0 before the first day and after the last.

    Notes
    -----
    Source: fao56, eq. 66.
    """
    start, grown, full, last = np.cumsum(stages)
    found = np.interp(day, [start, grown, full, last], [initial, middle, middle, end])
    return np.where((np.asarray(day) > 0) & (np.asarray(day) <= last), found, 0.0)


@quantities("", table="[0, 1]", use="m/s [0, 1e-6]")
def depletion_fraction(table, use):
    """Share of the available water that a crop takes without stress.

    Parameters
    ----------
    table : quantity []
        p for a use of 5 mm a day.
    use : quantity [m/s]
        Water that the crop uses in a day.

    Returns
    -------
    quantity []
        p + 0.04 (5 - ETc), from 0.1 to 0.8.

    Notes
    -----
    Source: fao56, table 22, footnote 2.
    """
    return np.clip(table + 0.04 * (5 - use * _DAY * 1e3), 0.1, 0.8)


@quantities("", available="m [0, 10]", depleted="m [0, 10]", fraction="[0, 1)")
def water_stress(available, depleted, fraction):
    """Share of its water need that a crop can still take up.

    Parameters
    ----------
    available : quantity [m]
        Water between field capacity and wilting in the root zone, TAW.
    depleted : quantity [m]
        Of it that is gone, Dr.
    fraction : quantity []
        Of it that is taken without stress, p.

    Returns
    -------
    quantity []
        1 down to RAW = p TAW, then (TAW - Dr)/((1 - p) TAW), never below 0.

    Notes
    -----
    Source: fao56, eq. 84.
    """
    left = np.maximum(available - depleted, 0)
    return np.clip(left / np.maximum((1 - fraction) * available, 1e-12), 0, 1)
