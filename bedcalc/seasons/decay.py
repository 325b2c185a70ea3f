"""How fast wood rots where it lies: warmth, moisture and thickness."""

from __future__ import annotations

import numpy as np

from ..units import Value, quantities

__all__ = ["half_life", "rot_rate"]

_WARM, _STEP, _DOUBLES = 283.15, 10.0, 2.0  # K: at this warmth, a step doubles it
_THICK, _POWER = 0.20, -0.3  # m: thickness of the logs in data/decay.csv


@quantities(
    "1/s",
    rate="1/s [0, inf)",
    temperature="K [250, 330]",
    moisture="[0, 1]",
    diameter="m [0.01, 2]",
)
def rot_rate(
    rate: Value, temperature: Value, moisture: Value, diameter: Value
) -> Value:
    """Rate of rotting of a log under other conditions.

    Parameters
    ----------
    rate : quantity [1/s]
        Of a moist log 20 cm thick at 10 °C.
    temperature : quantity [K]
        Mean of the year in the bed.
    moisture : quantity []
        1 where it is moist, 0.5 where dry, 0.3 where it stands in water without air.
    diameter : quantity [m]
        Of the log.

    Returns
    -------
    quantity [1/s]
        rate x 2^((T - 10 °C) / 10) x moisture x (diameter / 20 cm)^-0.3.

    Notes
    -----
    Ten degrees more double it. Source: assumption; that thin wood rots faster is seen
    in herrmann_2015.
    """
    warm = _DOUBLES ** ((temperature - _WARM) / _STEP)
    return rate * warm * moisture * np.power(diameter / _THICK, _POWER)


@quantities("s", rate="1/s (0, inf)")
def half_life(rate: Value) -> Value:
    """Time until half of the mass is gone.

    Parameters
    ----------
    rate : quantity [1/s]
        Of first-order decay.

    Returns
    -------
    quantity [s]
        ln 2 / rate.

    Notes
    -----
    Source: computed.
    """
    return np.log(2.0) / rate
