"""The root zone of a bed: what its layers hold for plants, and what that lasts."""

from __future__ import annotations

import numpy as np

from ..units import quantities

__all__ = [
    "available_water", "catch", "litres", "root_share", "tank_months",
    "watering_interval",
]  # fmt: skip  # a list of names

#: share of the roots that lie above a depth of z cm is 1 - 0.961 ** z
_ROOTS = 0.961


@quantities(
    "m", field_capacity="[0, 1]", wilting="[0, 1]", depth="m [0, 3]", access="[0, 1]"
)
def available_water(field_capacity, wilting, depth, access):
    """Water that plants can take out of a layer, between drained and wilting.

    Parameters
    ----------
    field_capacity, wilting : quantity []
        Water content once drained, and when plants wilt, of the volume.
    depth : quantity [m]
        How much of the layer the roots reach.
    access : quantity []
        Share of its water that roots get at.

    Returns
    -------
    quantity [m]
        Depth of water: 10 mm on a square metre are 10 litres.

    Notes
    -----
    Source: fao56, eq. 82; the share of access is an assumption of ours.
    """
    return np.maximum(field_capacity - wilting, 0.0) * depth * access


@quantities("", top="m [0, 3]", bottom="m [0, 3]")
def root_share(top, bottom):
    """Share of the roots of a crop that lie between two depths.

    Parameters
    ----------
    top, bottom : quantity [m]
        Below the surface.

    Returns
    -------
    quantity []

    Notes
    -----
    Y = 1 - 0.961^d with d in cm, the mean of crops. Source: jackson_1996, from memory.
    """
    return _ROOTS ** (100 * top) - _ROOTS ** (100 * bottom)


@quantities("day", available="m [0, 3]", fraction="[0, 1]", use="m/s [0, 1e-6]")
def watering_interval(available, fraction, use):
    """Days between two waterings without rain.

    Parameters
    ----------
    available : quantity [m]
        Water that plants can take out of the root zone.
    fraction : quantity []
        Share of it that they take without suffering.
    use : quantity [m/s]
        What the bed uses in a day.

    Returns
    -------
    quantity [day]
        Not rounded. People water on whole days: round down, one at the least.

    Notes
    -----
    Source: fao56, eq. 83, readily available water over the use of a day.
    """
    return fraction * available / np.maximum(use, 1e-15)


@quantities("m^3", depth="m [0, inf)", area="m^2 [0, inf)")
def litres(depth, area):
    """Volume of a depth of water on an area: 1 mm on 1 m² is 1 litre.

    Parameters
    ----------
    depth : quantity [m]
    area : quantity [m^2]

    Returns
    -------
    quantity [m^3]

    Notes
    -----
    Source: computed.
    """
    return depth * area


@quantities("m^3", rain="m [0, inf)", roof="m^2 [0, inf)", share="[0, 1]")
def catch(rain, roof, share):
    """Rain that a roof leads into a tank.

    Parameters
    ----------
    rain : quantity [m]
        Of the month.
    roof : quantity [m^2]
        Seen from above.
    share : quantity []
        What arrives: 0.8 to 0.9, since some wets the roof and some splashes over.

    Returns
    -------
    quantity [m^3]

    Notes
    -----
    Source: common_practice, rational method.
    """
    return rain * roof * share


def tank_months(caught, needed, size: float, years: int = 2):
    """Month by month: what a tank of this size gives, and what is missing.

    Parameters
    ----------
    caught, needed : array (12,)
        Cubic metres of each month, January first.
    size : float
        Cubic metres that the tank holds.
    years : int
        The last of so many equal years is told, so that the start does not matter.

    Returns
    -------
    given, missing, left, over : arrays (12,)
        Cubic metres taken out, not there, in the tank at the end of the month, and run
        over. In the first year caught = given + over + what is left.

    Notes
    -----
    Within a month the rain comes before the watering. Source: common practice.
    """
    told = np.zeros((4, 12))
    held = 0.0
    for _ in range(years):
        for month in range(12):
            held += caught[month]
            over = max(held - size - needed[month], 0.0)
            held -= over
            given = min(held, needed[month])
            held = min(held - given, size)
            told[:, month] = given, needed[month] - given, held, over
    return tuple(told)
