"""Air, sun and wind of a day, as FAO-56 puts them: what evaporation is driven by.

R. G. Allen, L. S. Pereira, D. Raes, M. Smith, *Crop evapotranspiration*, FAO Irrigation
and Drainage Paper 56 (1998), chapter 3. The equation numbers below are those of the
paper. Inside, temperatures are kelvin, pressures pascals, radiation watts per square
metre (a mean over the day), lengths metres.
"""

from __future__ import annotations

import numpy as np

from ..units import quantities

__all__ = [
    "air_pressure",
    "clear_sky_radiation",
    "daylight",
    "extraterrestrial_radiation",
    "net_longwave",
    "net_shortwave",
    "psychrometric_constant",
    "saturation_pressure",
    "saturation_slope",
    "solar_from_sunshine",
    "solar_from_temperature",
    "vapour_pressure",
    "wind_at_two_metres",
]

_ZERO = 273.15  # K
_DAY = 86400.0  # s
_SOLAR = 0.0820e6 / 60  # W/m2, the solar constant as FAO-56 rounds it
_BOLTZMANN = 4.903e-3 / _DAY  # W/(m2 K4): 4.903e-9 MJ/(K4 m2 day)
ALBEDO = 0.23  # of the reference grass

TEMPERATURE = "K [200, 340]"
LATITUDE = "rad [-1.5708, 1.5708]"


def _celsius(kelvin):
    return kelvin - _ZERO


@quantities("kPa", elevation="m [-450, 9000]")
def air_pressure(elevation):
    """Mean pressure of the air at a height over the sea.

    Parameters
    ----------
    elevation : quantity [m]

    Returns
    -------
    quantity [kPa]
        101.3 ((293 - 0.0065 z)/293)^5.26.

    Notes
    -----
    Source: fao56, eq. 7.
    """
    return 101.3e3 * ((293 - 0.0065 * elevation) / 293) ** 5.26


@quantities("kPa/K", pressure="Pa (0, 200000]")
def psychrometric_constant(pressure):
    """Psychrometric constant of moist air.

    Parameters
    ----------
    pressure : quantity [Pa]
        Of the air.

    Returns
    -------
    quantity [kPa/K]
        0.665e-3 P.

    Notes
    -----
    Source: fao56, eq. 8.
    """
    return 0.665e-3 * pressure


@quantities("kPa", temperature=TEMPERATURE)
def saturation_pressure(temperature):
    """Vapour pressure of saturated air; of the dew point: what is in the air.

    Parameters
    ----------
    temperature : quantity [K]

    Returns
    -------
    quantity [kPa]
        0.6108 exp(17.27 T/(T + 237.3)), T in degrees Celsius.

    Notes
    -----
    Source: fao56, eq. 11 (and 14 for the dew point).
    """
    t = _celsius(temperature)
    return 610.8 * np.exp(17.27 * t / (t + 237.3))


@quantities("kPa/K", temperature=TEMPERATURE)
def saturation_slope(temperature):
    """How fast the saturated vapour pressure grows with temperature.

    Parameters
    ----------
    temperature : quantity [K]

    Returns
    -------
    quantity [kPa/K]
        4098 e0(T)/(T + 237.3)^2, T in degrees Celsius.

    Notes
    -----
    Source: fao56, eq. 13.
    """
    return (
        4098
        * saturation_pressure.si(temperature)
        / (_celsius(temperature) + 237.3) ** 2
    )


@quantities(
    "kPa", t_min=TEMPERATURE, t_max=TEMPERATURE, rh_min="[0, 1]", rh_max="[0, 1]"
)
def vapour_pressure(t_min, t_max, rh_min, rh_max):
    """Vapour pressure of the air from the highest and lowest relative humidity.

    Without humidity take the saturated pressure of the night's low instead, as in
    FAO-56 eq. 48.

    Parameters
    ----------
    t_min, t_max : quantity [K]
        Lowest and highest temperature of the day.
    rh_min, rh_max : quantity []
        Lowest (by day) and highest (by night) relative humidity.

    Returns
    -------
    quantity [kPa]
        (e0(Tmin) RHmax + e0(Tmax) RHmin)/2.

    Notes
    -----
    Source: fao56, eq. 17.
    """
    low, high = saturation_pressure.si(t_min), saturation_pressure.si(t_max)
    return (low * rh_max + high * rh_min) / 2


def _sun(latitude, day):
    """Nearness and declination of the sun, and the hour angle of sunset."""
    turn = 2 * np.pi * np.asarray(day) / 365
    near = 1 + 0.033 * np.cos(turn)
    declination = 0.409 * np.sin(turn - 1.39)
    sunset = np.arccos(np.clip(-np.tan(latitude) * np.tan(declination), -1, 1))
    return near, declination, sunset


@quantities("MJ/m^2/day", latitude=LATITUDE, day="[1, 366]")
def extraterrestrial_radiation(latitude, day):
    """Sun on a level square metre above the air, over a day.

    Parameters
    ----------
    latitude : quantity [rad]
        North positive.
    day : quantity []
        Of the year, 1 for the first of January.

    Returns
    -------
    quantity [MJ/m^2/day]
        24 60/pi 0.0820 dr (ws sin f sin d + cos f cos d sin ws).

    Notes
    -----
    Beyond the polar circles the sunset angle is 0 or pi. Source: fao56, eq. 21 to 25.
    """
    near, declination, sunset = _sun(latitude, day)
    share = sunset * np.sin(latitude) * np.sin(declination)
    share = share + np.cos(latitude) * np.cos(declination) * np.sin(sunset)
    return _SOLAR / np.pi * near * share


@quantities("hour", latitude=LATITUDE, day="[1, 366]")
def daylight(latitude, day):
    """Hours from sunrise to sunset.

    Parameters
    ----------
    latitude : quantity [rad]
    day : quantity []
        Of the year.

    Returns
    -------
    quantity [hour]
        24 ws/pi.

    Notes
    -----
    Of the middle of the sun, without the bending of light. Source: fao56, eq. 34.
    """
    return _DAY / np.pi * _sun(latitude, day)[2]


@quantities("MJ/m^2/day", extraterrestrial="W/m^2 [0, 600]", sunny="[0, 1]")
def solar_from_sunshine(extraterrestrial, sunny):
    """Sun on the ground from the hours of sunshine.

    Parameters
    ----------
    extraterrestrial : quantity [W/m^2]
        Above the air.
    sunny : quantity []
        Hours of sunshine over hours of daylight.

    Returns
    -------
    quantity [MJ/m^2/day]
        (0.25 + 0.50 n/N) Ra.

    Notes
    -----
    Source: fao56, eq. 35.
    """
    return (0.25 + 0.50 * sunny) * extraterrestrial


@quantities(
    "MJ/m^2/day",
    extraterrestrial="W/m^2 [0, 600]",
    t_min=TEMPERATURE,
    t_max=TEMPERATURE,
    coefficient="[0.1, 0.25]",
)
def solar_from_temperature(extraterrestrial, t_min, t_max, coefficient):
    """Sun on the ground from how far day and night differ, where nobody measured it.

    Parameters
    ----------
    extraterrestrial : quantity [W/m^2]
        Above the air.
    t_min, t_max : quantity [K]
        Lowest and highest temperature of the day.
    coefficient : quantity []
        0.16 inland, 0.19 near the coast; for a difference in kelvin.

    Returns
    -------
    quantity [MJ/m^2/day]
        k sqrt(Tmax - Tmin) Ra.

    Notes
    -----
    Not on small islands. Source: fao56, eq. 50.
    """
    return coefficient * np.sqrt(np.maximum(t_max - t_min, 0)) * extraterrestrial


@quantities("MJ/m^2/day", extraterrestrial="W/m^2 [0, 600]", elevation="m [-450, 9000]")
def clear_sky_radiation(extraterrestrial, elevation):
    """Sun on the ground on a day without clouds.

    Parameters
    ----------
    extraterrestrial : quantity [W/m^2]
    elevation : quantity [m]

    Returns
    -------
    quantity [MJ/m^2/day]
        (0.75 + 2e-5 z) Ra.

    Notes
    -----
    Source: fao56, eq. 37.
    """
    return (0.75 + 2e-5 * elevation) * extraterrestrial


@quantities("MJ/m^2/day", solar="W/m^2 [0, 600]")
def net_shortwave(solar):
    """Sun that the reference grass keeps.

    Parameters
    ----------
    solar : quantity [W/m^2]
        On the ground.

    Returns
    -------
    quantity [MJ/m^2/day]
        0.77 Rs.

    Notes
    -----
    Source: fao56, eq. 38, albedo 0.23.
    """
    return (1 - ALBEDO) * solar


@quantities(
    "MJ/m^2/day",
    t_min=TEMPERATURE,
    t_max=TEMPERATURE,
    vapour="Pa [0, 20000]",
    clearness="[0, 10]",
)
def net_longwave(t_min, t_max, vapour, clearness):
    """Heat that the ground loses to the sky over a day.

    Parameters
    ----------
    t_min, t_max : quantity [K]
        Lowest and highest temperature of the day.
    vapour : quantity [Pa]
        Vapour pressure of the air.
    clearness : quantity []
        Sun on the ground over that of a day without clouds; more than 1 counts as 1.

    Returns
    -------
    quantity [MJ/m^2/day]
        4.903e-9 (Tmax^4 + Tmin^4)/2 (0.34 - 0.14 sqrt(ea)) (1.35 Rs/Rso - 0.35).

    Notes
    -----
    ea in kPa, temperatures in C + 273.16. Source: fao56, eq. 39.
    """
    low, high = t_min + 0.01, t_max + 0.01
    humid = 0.34 - 0.14 * np.sqrt(vapour / 1e3)
    cloudy = 1.35 * np.minimum(clearness, 1.0) - 0.35
    return _BOLTZMANN * (low**4 + high**4) / 2 * humid * cloudy


@quantities("m/s", wind="m/s [0, 100]", height="m [0.2, 200]")
def wind_at_two_metres(wind, height):
    """Wind at 2 m over grass from that at another height.

    Parameters
    ----------
    wind : quantity [m/s]
        Mean of the day.
    height : quantity [m]
        At which it was measured.

    Returns
    -------
    quantity [m/s]
        u 4.87/ln(67.8 z - 5.42).

    Notes
    -----
    Source: fao56, eq. 47.
    """
    return wind * 4.87 / np.log(67.8 * height - 5.42)
