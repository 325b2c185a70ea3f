"""Walls that stand by their weight: dry-stacked blocks, filled, grouted; sleepers.

Say which weight of fill a number is for: moist, soaked, or with treading-in. A wall
that passes moist and fails soaked fails.
"""

from __future__ import annotations

import numpy as np

from bedcalc.units import quantities

__all__ = [
    "base_pressures", "eccentricity", "overturning_safety", "sliding_safety",
    "wall_weight",
]  # fmt: skip


@quantities(
    "N/m", unit_weight="N/m^3 [0, inf)", thickness="m (0, inf)", height="m (0, inf)"
)
def wall_weight(unit_weight, thickness, height):
    """Weight of a metre of wall.

    Parameters
    ----------
    unit_weight : quantity [N/m^3]
        Of the block with what fills its cores.
    thickness, height : quantity [m]
        Of the wall.

    Returns
    -------
    quantity [N/m]

    Notes
    -----
    gamma b H. Source: statics.
    """
    return unit_weight * thickness * height


@quantities("", weight="N/m", thickness="m (0, inf)", moment="N*m/m")
def overturning_safety(weight, thickness, moment):
    """How many times the weight outweighs tipping about the outer edge.

    Parameters
    ----------
    weight : quantity [N/m]
        W.
    thickness : quantity [m]
        b at the base.
    moment : quantity [N*m/m]
        Of the push about the base.

    Returns
    -------
    quantity []

    Notes
    -----
    W (b/2) / M; 1.5 is required of walls over 24 in that nothing holds at the top.
    Source: irc, R404.4; statics.
    """
    return weight * thickness / 2 / moment


@quantities("", weight="N/m", friction="[0, 2]", push="N/m")
def sliding_safety(weight, friction, push):
    """How many times friction under the wall outweighs the push.

    Parameters
    ----------
    weight : quantity [N/m]
        W.
    friction : quantity []
        mu under the lowest course, or between two courses with W above it.
    push : quantity [N/m]
        P.

    Returns
    -------
    quantity []

    Notes
    -----
    mu W / P; 1.5 is required. Source: irc, R404.4; statics.
    """
    return friction * weight / push


@quantities("m", weight="N/m", thickness="m (0, inf)", righting="N*m/m", moment="N*m/m")
def eccentricity(weight, thickness, righting, moment):
    """How far outwards of the middle the weight comes to bear.

    Parameters
    ----------
    weight, thickness : quantity [N/m, m]
        W and b.
    righting : quantity [N*m/m]
        Moment of the weight about the outer edge, W b/2 for an even wall.
    moment : quantity [N*m/m]
        Of the push about the base.

    Returns
    -------
    quantity [m]

    Notes
    -----
    e = b/2 - (M_R - M_O)/W. Up to b/6 the whole base presses; at b/3 half of it gapes;
    beyond b/2 the wall has gone. Source: statics.
    """
    return thickness / 2 - (righting - moment) / weight


@quantities(("Pa", "Pa"), weight="N/m", thickness="m (0, inf)", offset="m")
def base_pressures(weight, thickness, offset):
    """Pressure on the ground under the outer and the inner edge.

    Parameters
    ----------
    weight, thickness : quantity [N/m, m]
        W and b.
    offset : quantity [m]
        e of :func:`eccentricity`.

    Returns
    -------
    tuple of quantity [Pa, Pa]

    Notes
    -----
    W/b (1 +- 6 e/b) up to e = b/6; beyond it a triangle 2 W / (3 (b/2 - e)) and 0;
    infinite once e reaches b/2. Source: statics.
    """
    thickness, offset = np.asarray(thickness), np.asarray(offset)
    whole = np.abs(offset) <= thickness / 6 * (1 + 1e-12)
    lever = thickness / 2 - offset
    left = np.where(lever > 0, lever, np.inf)
    gaping = np.where(lever > 0, 2 * weight / (3 * left), np.inf)
    spread = 6 * offset / thickness
    outer = np.where(whole, weight / thickness * (1 + spread), gaping)
    return outer, np.where(whole, weight / thickness * (1 - spread), 0.0)
