"""What the ground holds: embedded posts, stakes, the foot of the wall."""

from __future__ import annotations

import numpy as np

from bedcalc.units import quantities

from .pressure import passive_push

__all__ = [
    "base_hold", "clamped_spring", "constrained_depth", "embedded_depth",
    "pole_factor", "stake_force",
]  # fmt: skip


@quantities("N/m", own_weight="N/m", push="N/m", embedment="m", weight="N/m^3",
            passive="", friction="", stakes="N/m", wall_friction="deg")  # fmt: skip
def base_hold(
    own_weight,
    push,
    embedment,
    weight,
    passive,
    friction,
    stakes=0.0,
    wall_friction=np.pi / 12,
):
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
    wall_friction : quantity [deg]
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


@quantities("N", width="m", depth="m", reach="m", weight="N/m^3", passive="")
def stake_force(width, depth, reach, weight, passive):
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
    return 0.5 * weight * width * depth**3 * passive / (reach + depth)


@quantities("m", force="N", bearing="Pa", width="m")
def pole_factor(force, bearing, width):
    """A of the building code's formula for embedded poles.

    Parameters
    ----------
    force : quantity [N]
        P.
    bearing : quantity [Pa]
        S1, allowable lateral bearing at a third of the depth.
    width : quantity [m]
        b: diameter, or diagonal of a square post.

    Returns
    -------
    quantity [m]

    Notes
    -----
    A = 2.34 P / (S1 b). Source: ibc, 1807.3.2.1.
    """
    return 2.34 * force / (bearing * width)


@quantities("m", force="N", reach="m", width="m", bearing_rate="Pa/m")
def embedded_depth(force, reach, width, bearing_rate):
    """Depth that the building code asks of a post free at the ground.

    Parameters
    ----------
    force : quantity [N]
        P.
    reach : quantity [m]
        h, height of the force over the ground.
    width : quantity [m]
        b: diameter, or diagonal of a square post.
    bearing_rate : quantity [Pa/m]
        Allowable lateral bearing per depth (100 to 200 psf/ft; twice that for a lone
        pole that may move half an inch).

    Returns
    -------
    quantity [m]

    Notes
    -----
    d = A/2 (1 + sqrt(1 + 4.36 h/A)), A = 2.34 P/(S1 b), S1 = rate d/3. Put together:
    d3 = c (d + 1.09 h), c = 7.02 P / (rate b), solved by Newton from above.
    Source: ibc, 1807.3.2.1.
    """
    c = 7.02 * np.asarray(force) / (bearing_rate * width)
    depth = np.sqrt(c) + np.cbrt(1.09 * reach * c)  # never below the root
    for _ in range(30):
        rest = depth**3 - c * (depth + 1.09 * reach)
        depth = depth - rest / (3 * depth**2 - c)
    return depth


@quantities("m", moment="N*m", width="m", bearing_rate="Pa/m")
def constrained_depth(moment, width, bearing_rate):
    """Depth that the building code asks of a post held by a slab at the ground.

    Parameters
    ----------
    moment : quantity [N*m]
        P h at the ground.
    width : quantity [m]
        b.
    bearing_rate : quantity [Pa/m]
        Allowable lateral bearing per depth.

    Returns
    -------
    quantity [m]

    Notes
    -----
    d2 = 4.25 M / (S3 b), S3 = rate d: d = (4.25 M / (rate b))^(1/3).
    Source: ibc, 1807.3.2.2.
    """
    return np.cbrt(4.25 * moment / (bearing_rate * width))


@quantities("N/m", stiffness="N*m^2", height="m")
def clamped_spring(stiffness, height):
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
