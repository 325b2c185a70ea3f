"""How much of the fill's weight pushes sideways: the coefficients, and two effects
that soften the push and are shown for teaching but never credited.
"""

from __future__ import annotations

import numpy as np

from bedcalc.units import quantities

__all__ = [
    "cohesion_depth", "cohesive_push", "k_active", "k_active_coulomb",
    "k_active_sloping", "k_at_rest", "k_mobilised", "k_passive", "silo_pressure",
]  # fmt: skip


@quantities("", friction_angle="rad [0, 1.4]", floor="[0, 1]")
def k_at_rest(friction_angle, floor=0.0):
    """Share of the vertical stress that pushes sideways while the wall stands still.

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
def k_active(friction_angle):
    """Share of the vertical stress that pushes once the wall has given way.

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


@quantities("", friction_angle="rad [0, 1.4]")
def k_passive(friction_angle):
    """Share of the vertical stress with which soil resists being pushed into.

    Parameters
    ----------
    friction_angle : quantity [rad]
        Angle of internal friction of the ground outside.

    Returns
    -------
    quantity []

    Notes
    -----
    Kp = 1 / Ka. Takes far more movement to wake than Ka. Source: rankine_1857.
    """
    return 1 / k_active.si(friction_angle)


@quantities("", friction_angle="rad [0, 1.4]", wall_friction="rad [0, 1.4]")
def k_active_coulomb(friction_angle, wall_friction):
    """Active coefficient with friction between fill and wall, along the thrust.

    Parameters
    ----------
    friction_angle : quantity [rad]
        Angle of internal friction.
    wall_friction : quantity [rad]
        Angle of friction between fill and wall; the level push is the result times
        its cosine.

    Returns
    -------
    quantity []

    Notes
    -----
    Upright wall, level fill:
    K = cos2(phi) / {cos d [1 + sqrt(sin(phi + d) sin(phi) / cos d)]^2}.
    Some 10 % below Rankine, hence shown and not used. Source: coulomb_1776.
    """
    phi, delta = friction_angle, wall_friction
    wedge = np.sqrt(np.sin(phi + delta) * np.sin(phi) / np.cos(delta))
    return np.cos(phi) ** 2 / (np.cos(delta) * (1 + wedge) ** 2)


@quantities("", friction_angle="rad [0, 1.4]", slope="rad [0, 1.4]")
def k_active_sloping(friction_angle, slope):
    """Active coefficient of ground that slopes up from the wall, along the slope.

    Parameters
    ----------
    friction_angle : quantity [rad]
        Angle of internal friction.
    slope : quantity [rad]
        Rise of the ground behind the wall; no more than the friction angle.

    Returns
    -------
    quantity []

    Notes
    -----
    K = cos b (cos b - r) / (cos b + r), r = sqrt(cos2 b - cos2 phi); at b = 0 it is
    Rankine's level value. For the uphill wall of a bed let into a slope.
    Source: rankine_1857, from memory.
    """
    cosine = np.cos(slope)
    root = np.sqrt(np.maximum(cosine**2 - np.cos(friction_angle) ** 2, 0.0))
    return cosine * (cosine - root) / (cosine + root)


@quantities(
    "", k_yielding="[0, 2]", k_still="[0, 2]", mean_bow="m", height="m (0, inf)"
)
def k_mobilised(k_yielding, k_still, mean_bow, height):
    """Coefficient on the way from at rest to active as a wall moves outwards.

    Parameters
    ----------
    k_yielding, k_still : quantity []
        Active and at-rest coefficients.
    mean_bow : quantity [m]
        Mean outward movement along the wall.
    height : quantity [m]
        Height of the fill.

    Returns
    -------
    quantity []

    Notes
    -----
    K = Ka + (K0 - Ka) max(0, 1 - u / (0.004 H)): a straight line to the movement that
    loose fill needs. For the expected bow of a wall that stands, never for strength:
    watering and topping up bring the pressure back. Source: clough_duncan, from
    memory; the straight line is an assumption.
    """
    stillness = np.maximum(0.0, 1 - mean_bow / (0.004 * height))
    return k_yielding + (k_still - k_yielding) * stillness


@quantities(
    "Pa",
    depth="m [0, inf)",
    weight="N/m^3 [0, inf)",
    coefficient="[0, 100]",
    wall_friction="rad [0, 1.4]",
    width="m (0, inf)",
)
def silo_pressure(depth, weight, coefficient, wall_friction, width):
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


@quantities(
    "m", cohesion="Pa [0, inf)", weight="N/m^3 [0, inf)", friction_angle="rad [0, 1.4]"
)
def cohesion_depth(cohesion, weight, friction_angle):
    """Depth to which moist fill stands by itself: teaching only, gone when soaked.

    Parameters
    ----------
    cohesion : quantity [Pa]
        Apparent cohesion c of the moist fill.
    weight : quantity [N/m^3]
        Unit weight.
    friction_angle : quantity [rad]
        Angle of internal friction.

    Returns
    -------
    quantity [m]

    Notes
    -----
    s_c = 2 c / (gamma sqrt(Ka)). Source: das_geotech, from memory.
    """
    return 2 * cohesion / (weight * np.sqrt(k_active.si(friction_angle)))


@quantities(
    ("N/m", "N*m/m"),
    height="m (0, inf)",
    cohesion="Pa [0, inf)",
    weight="N/m^3 [0, inf)",
    friction_angle="rad [0, 1.4]",
)
def cohesive_push(height, cohesion, weight, friction_angle):
    """Active push and base moment with cohesion, the pull cut off: teaching only.

    Parameters
    ----------
    height : quantity [m]
        H of the fill.
    cohesion, weight, friction_angle : quantity [Pa, N/m^3, rad]
        As in :func:`cohesion_depth`.

    Returns
    -------
    tuple of quantity [N/m, N*m/m]

    Notes
    -----
    A triangle on what is left of the height: P = Ka gamma (H - s_c)2 / 2,
    M = P (H - s_c)/3. Source: das_geotech, from memory.
    """
    left = np.maximum(0.0, height - cohesion_depth.si(cohesion, weight, friction_angle))
    total = k_active.si(friction_angle) * weight * left**2 / 2
    return total, total * left / 3
