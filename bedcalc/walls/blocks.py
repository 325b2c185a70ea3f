"""Walls that stand by their weight: dry-stacked blocks, filled, grouted; sleepers.

Say which weight of fill a number is for: moist, soaked, or with treading-in. A wall
that passes moist and fails soaked fails.
"""

from __future__ import annotations

from bedcalc.units import Value, quantities

__all__ = ["overturning_safety", "sliding_safety", "wall_weight"]


@quantities(
    "N/m", unit_weight="N/m^3 [0, inf)", thickness="m (0, inf)", height="m (0, inf)"
)
def wall_weight(unit_weight: Value, thickness: Value, height: Value) -> Value:
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
def overturning_safety(weight: Value, thickness: Value, moment: Value) -> Value:
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
def sliding_safety(weight: Value, friction: Value, push: Value) -> Value:
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
