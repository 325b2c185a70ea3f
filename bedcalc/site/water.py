"""Water on the slope: how much runs down in a storm, and what holds it."""

from __future__ import annotations

import numpy as np

from ..units import Value, quantities

__all__ = [
    "curve_runoff", "emptying_time", "runoff_volume", "soaking_rate", "storage",
    "swale_depth", "swale_width", "swale_volume", "trench_volume",
]  # fmt: skip  # a list of names

_INCH = 0.0254


@quantities("m^3", share="[0, 1]", area="m^2 [0, inf)", rain="m [0, inf)")
def runoff_volume(share: Value, area: Value, rain: Value) -> Value:
    """Water that runs off, by a runoff coefficient.

    Parameters
    ----------
    share : quantity []
        Share of the rain that runs off.
    area : quantity [m^2]
        In plan.
    rain : quantity [m]
        Depth of the rain.

    Returns
    -------
    quantity [m^3]
        Product of the three.

    Notes
    -----
    Source: common practice, tables of the rational method.
    """
    return share * area * rain


@quantities("m", curve="(0, 100]")
def storage(curve: Value) -> Value:
    """What the ground can hold before everything runs off.

    Parameters
    ----------
    curve : quantity []
        Curve number, above 0 to 100.

    Returns
    -------
    quantity [m]
        S = 1000/CN - 10 inches.

    Notes
    -----
    Source: tr55, equation 2-4.
    """
    return (1000 / curve - 10) * _INCH


@quantities("m", rain="m [0, inf)", curve="(0, 100]")
def curve_runoff(rain: Value, curve: Value) -> Value:
    """Depth of runoff of a 24 hour storm, by curve number.

    Parameters
    ----------
    rain : quantity [m]
        Depth of the storm.
    curve : quantity []
        Curve number of the ground.

    Returns
    -------
    quantity [m]
        Q = (P - 0.2 S)^2 / (P + 0.8 S); nothing while P is below 0.2 S.

    Notes
    -----
    Made for 24 hour storms; unreliable when Q is below 12 mm.
    Source: tr55, equations 2-1 to 2-4.
    """
    held = storage.si(curve)
    over = np.maximum(rain - 0.2 * held, 0.0)
    whole = rain + 0.8 * held
    return np.where(whole > 0, over**2 / np.where(whole > 0, whole, 1.0), 0.0)


@quantities("m", volume="m^3 [0, inf)", side="[0, 20]", length="m (0, inf)")
def swale_depth(volume: Value, side: Value, length: Value) -> Value:
    """Depth of a V-shaped swale that holds a volume.

    Parameters
    ----------
    volume : quantity [m^3]
        To be held.
    side : quantity []
        Level run of a bank over its rise, such as 3.
    length : quantity [m]
        Along the contour.

    Returns
    -------
    quantity [m]
        sqrt(V / (side x length)).

    Notes
    -----
    Full to the brim: dig 20 to 30 % deeper. Source: computed, area of a triangle.
    """
    return np.sqrt(volume / (side * length))


@quantities("m", depth="m [0, inf)", side="[0, 20]", bottom="m")
def swale_width(depth: Value, side: Value, bottom: Value) -> Value:
    """Width of a swale at the top.

    Parameters
    ----------
    depth : quantity [m]
        Of the water.
    side : quantity []
        Level run of a bank over its rise.
    bottom : quantity [m]
        Width of a flat bottom, 0 for a V.

    Returns
    -------
    quantity [m]
        bottom + 2 side x depth.

    Notes
    -----
    Source: computed, geometry.
    """
    return bottom + 2 * side * depth


@quantities("m^3", depth="m [0, inf)", side="[0, 20]", bottom="m", length="m (0, inf)")
def swale_volume(depth: Value, side: Value, bottom: Value, length: Value) -> Value:
    """What a swale holds.

    Parameters
    ----------
    depth : quantity [m]
        Of the water.
    side : quantity []
        Level run of a bank over its rise.
    bottom : quantity [m]
        Width of a flat bottom, 0 for a V.
    length : quantity [m]
        Along the contour.

    Returns
    -------
    quantity [m^3]
        (bottom + side x depth) x depth x length.

    Notes
    -----
    Source: computed, area of a trapezium.
    """
    return (bottom + side * depth) * depth * length


@quantities(
    "m^3", width="m (0, inf)", depth="m [0, inf)", length="m (0, inf)", gaps="[0, 1]"
)
def trench_volume(width: Value, depth: Value, length: Value, gaps: Value) -> Value:
    """What a gravel trench holds between its stones.

    Parameters
    ----------
    width : quantity [m]
        Of the trench.
    depth : quantity [m]
        Of the gravel.
    length : quantity [m]
        Of the trench.
    gaps : quantity []
        Share of gaps, 0.35 to 0.40 for clean gravel.

    Returns
    -------
    quantity [m^3]
        Product of the four.

    Notes
    -----
    It silts up in years. Source: common practice.
    """
    return width * depth * length * gaps


@quantities("hour", depth="m [0, inf)", rate="m/s (0, inf)")
def emptying_time(depth: Value, rate: Value) -> Value:
    """How long standing water takes to soak away.

    Parameters
    ----------
    depth : quantity [m]
        Of the water.
    rate : quantity [m/s]
        Fall of the water in a test hole that was soaked before.

    Returns
    -------
    quantity [hour]
        Depth over rate.

    Notes
    -----
    Wanted: 24 to 48 hours at most. Source: common practice.
    """
    return depth / np.maximum(rate, 1e-12)


@quantities("m/s", fall="m [0, inf)", time="s (0, inf)")
def soaking_rate(fall: Value, time: Value) -> Value:
    """How fast water goes down in a test hole that was soaked once before.

    Parameters
    ----------
    fall : quantity [m]
        Of the water in the hole.
    time : quantity [s]
        It took; more than 0.

    Returns
    -------
    quantity [m/s]

    Notes
    -----
    f = fall / time. Part of it goes into the sides of the hole, so open ground takes
    less. Source: common_practice, percolation test.
    """
    return fall / time
