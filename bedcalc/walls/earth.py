"""How much of the fill's weight pushes sideways: the coefficients, and two effects
that soften the push and are shown for teaching but never credited.
"""

from __future__ import annotations

import numpy as np

from bedcalc.units import Value, quantities

__all__ = ["k_active", "k_at_rest", "silo_pressure"]


@quantities("", friction_angle="rad [0, 1.4]", floor="[0, 1]")
def k_at_rest(friction_angle: Value, floor: Value = 0.0) -> Value:
    """At-rest earth pressure coefficient K0.

    Parameters
    ----------
    friction_angle : quantity [rad]
        Angle of internal friction of the loose, drained fill.
    floor : quantity []
        Least value allowed. Fibrous fill (chips, straw, brush, compost) stands at a
        steep angle and still pushes; strength checks take 0.50 for it.

    Returns
    -------
    quantity []

    Notes
    -----
    K0 = 1 - sin(phi). Normally consolidated fill, level surface. The floor is common
    practice; measured stress ratios of cut straw and reed reach 0.6 to 0.7.
    Source: jaky_1944; nulle_kakitis_2005 for the floor.
    """
    return np.maximum(1 - np.sin(friction_angle), floor)


@quantities("", friction_angle="rad [0, 1.4]")
def k_active(friction_angle: Value) -> Value:
    """Active earth pressure coefficient Ka (Rankine).

    Parameters
    ----------
    friction_angle : quantity [rad]
        Angle of internal friction.

    Returns
    -------
    quantity []

    Notes
    -----
    Ka = (1 - sin phi) / (1 + sin phi). Smooth upright wall, level fill, and an outward
    movement of some 0.001 H (dense) to 0.004 H (loose). Source: rankine_1857.
    """
    sine = np.sin(friction_angle)
    return (1 - sine) / (1 + sine)


@quantities(
    "Pa",
    depth="m [0, inf)",
    weight="N/m^3 [0, inf)",
    coefficient="[0, 100]",
    wall_friction="rad [0, 1.4]",
    width="m (0, inf)",
)
def silo_pressure(
    depth: Value, weight: Value, coefficient: Value, wall_friction: Value, width: Value
) -> Value:
    """Side pressure in a narrow bed whose walls carry part of the fill by friction.

    Parameters
    ----------
    depth : quantity [m]
        s, below the surface.
    weight : quantity [N/m^3]
        Unit weight of the fill.
    coefficient : quantity []
        K.
    wall_friction : quantity [rad]
        Friction between fill and wall.
    width : quantity [m]
        Clear width between the long walls.

    Returns
    -------
    quantity [Pa]

    Notes
    -----
    p = gamma B / (2 mu) [1 - exp(-2 K mu s / B)], mu = tan(delta): Janssen's silo,
    long trench. 5 to 10 % relief at the top rail of a garden bed: shown for teaching,
    never credited. Source: janssen_1895.
    """
    mu = np.tan(wall_friction)
    return weight * width / (2 * mu) * -np.expm1(-2 * coefficient * mu * depth / width)
