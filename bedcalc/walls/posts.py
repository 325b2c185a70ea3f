"""What the ground holds: embedded posts, stakes, the foot of the wall."""

from __future__ import annotations

import numpy as np

from bedcalc.units import Value, quantities

from .pressure import passive_push

__all__ = [
    "base_sliding_resistance", "bending_force", "clamped_spring", "post_flexibility",
    "stake_force", "toe_moment",
]  # fmt: skip  # a list of names


@quantities(
    "N/m",
    own_weight="N/m [0, inf)",
    push="N/m",
    embedment="m [0, inf)",
    weight="N/m^3 [0, inf)",
    passive="[0, 100]",
    friction="[0, 2]",
    stakes="N/m [0, inf)",
    wall_friction="rad [0, 1.4]",
)
def base_sliding_resistance(
    own_weight: Value,
    push: Value,
    embedment: Value,
    weight: Value,
    passive: Value,
    friction: Value,
    stakes: Value = 0.0,
    wall_friction: Value = np.pi / 12,
) -> Value:
    """What the ground holds against the foot of a wall, per metre.

    Parameters
    ----------
    own_weight : quantity [N/m]
        Of the wall.
    push : quantity [N/m]
        P; the fill hangs on the wall with P tan(wall friction) and presses it down.
    embedment : quantity [m]
        How deep the foot is let in, at its least.
    weight : quantity [N/m^3]
        Of the ground outside.
    passive, friction : quantity []
        Kp of the ground, mu under the foot.
    stakes : quantity [N/m]
        Of :func:`stake_force` over their distance.
    wall_friction : quantity [rad]
        Between fill and wall.

    Returns
    -------
    quantity [N/m]

    Notes
    -----
    mu (W + P tan d) + Kp gamma d2 / 2 + stakes; the foot is held where this is 1.5
    times its load. Source: statics; wall friction and mu are judgements within
    navfac_dm702, Table 1.
    """
    down = own_weight + push * np.tan(wall_friction)
    return friction * down + passive_push.si(embedment, weight, passive) + stakes


@quantities(
    "N",
    width="m (0, inf)",
    depth="m [0, inf)",
    reach="m [0, inf)",
    weight="N/m^3 [0, inf)",
    passive="[0, 100]",
)
def stake_force(
    width: Value, depth: Value, reach: Value, weight: Value, passive: Value
) -> Value:
    """Ultimate push on a stake or post in sandy ground, without a safety factor.

    Parameters
    ----------
    width : quantity [m]
        D, of the stake or of its concrete collar.
    depth : quantity [m]
        L in the ground.
    reach : quantity [m]
        e, height of the push over the ground; 0 for a stake at the foot.
    weight : quantity [N/m^3]
        Of the ground.
    passive : quantity []
        Kp.

    Returns
    -------
    quantity [N]

    Notes
    -----
    P = 0.5 gamma D L3 Kp / (e + L): short stiff pile, free head.
    Source: broms_1964, from memory.
    """
    return toe_moment.si(width, depth, weight, passive) / (reach + depth)


@quantities(
    "N*m",
    width="m (0, inf)",
    depth="m [0, inf)",
    weight="N/m^3 [0, inf)",
    passive="[0, 100]",
)
def toe_moment(width: Value, depth: Value, weight: Value, passive: Value) -> Value:
    """Ultimate resisting moment of the soil about the toe of a short post (Broms).

    Parameters
    ----------
    width, depth : quantity [m]
        D, L as in :func:`stake_force`.
    weight : quantity [N/m^3]
        Of the ground.
    passive : quantity []
        Kp.

    Returns
    -------
    quantity [N*m]

    Notes
    -----
    0.5 gamma D L3 Kp. Forces at several heights use it up together: the sum of each
    times its height over the toe. Source: broms_1964, from memory.
    """
    return 0.5 * weight * width * depth**3 * passive


@quantities("m/N", depth="m [0, inf)", reach="m [0, inf)", rise="N/m^3 (0, inf)")
def post_flexibility(depth: Value, reach: Value, rise: Value) -> Value:
    """Flexibility of a rigid post in the ground: deflection at the load per unit load.

    Parameters
    ----------
    depth, reach : quantity [m]
        L in the ground, e over it.
    rise : quantity [N/m^3]
        n, by which the ground grows stiffer with depth, for a post of any width.

    Returns
    -------
    quantity [m/N]

    Notes
    -----
    y = 18 P (1 + 4e/3L) / (n L2) at the ground, turn = 24 P (1 + 3e/2L) / (n L3);
    the sum is y + turn e. Infinite without depth. Posts of up to about a metre; the
    bending of the post comes on top. Source: broms_1964, from memory; equilibrium of
    n z y over the depth, by hand.
    """
    deep = np.where(np.asarray(depth) > 0, depth, np.nan)
    shift = 18 * (1 + 4 * reach / (3 * deep)) / (rise * deep**2)
    turn = 24 * (1 + 3 * reach / (2 * deep)) / (rise * deep**3)
    return np.nan_to_num(shift + turn * reach, nan=np.inf)


@quantities(
    "N",
    moment="N*m",
    reach="m [0, inf)",
    width="m (0, inf)",
    weight="N/m^3 [0, inf)",
    passive="[0, 100]",
)
def bending_force(
    moment: Value, reach: Value, width: Value, weight: Value, passive: Value
) -> Value:
    """Push with which a post in the ground breaks; it does so below the surface.

    Parameters
    ----------
    moment : quantity [N*m]
        M that the post can bear.
    reach, width : quantity [m]
        e, D as in :func:`stake_force`.
    weight : quantity [N/m^3]
        Of the ground.
    passive : quantity []
        Kp.

    Returns
    -------
    quantity [N]

    Notes
    -----
    M = P (e + 2f/3) with P = 1.5 gamma D Kp f2, f below the ground. In f:
    c f2 (e + 2f/3) = M, solved by Newton from above. For a post long enough that the
    ground below f turns it back. Source: broms_1964, from memory.
    """
    c = 1.5 * weight * width * passive
    below = np.cbrt(1.5 * np.asarray(moment) / c)  # as for a push at the ground
    for _ in range(30):
        rest = c * below**2 * (reach + 2 * below / 3) - moment
        below = below - rest / (c * below * (2 * reach + 2 * below))
    return c * below**2


@quantities("N/m", stiffness="N*m^2 (0, inf)", height="m (0, inf)")
def clamped_spring(stiffness: Value, height: Value) -> Value:
    """How stiffly a post truly clamped at the ground holds the top rail.

    Parameters
    ----------
    stiffness : quantity [N*m^2]
        EI of the post.
    height : quantity [m]
        H.

    Returns
    -------
    quantity [N/m]

    Notes
    -----
    k = 3 EI / H3: an upper bound, soil gives. Source: statics.
    """
    return 3 * stiffness / height**3
