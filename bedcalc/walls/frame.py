"""The framed wall as a ruled surface: stiff uprights tie rails or boards together.

Every member i at height z_i follows u(x, z) = a(x) + b(x) z: uprights stay straight.
One model says what a bare rail, stacked boards pinned by posts, a rail with a cap and
a wall held at its base do, and which member carries how much. With two members it is
plain statics. Members lie on the first axis; further axes are designs.

The wall is held at its two ends, by ties at any heights, and by what resistance the
base has. The line loads of the fill enter as push P and moment M about the base.
"""

from __future__ import annotations

import numpy as np

from bedcalc.units import Value, quantities

__all__ = ["base_hold_needed", "member_loads", "rule"]


@quantities(
    ("N*m^2", "N*m^3", "N*m^4"), heights="m (0, inf)", stiffness="N*m^2 (0, inf)"
)
def rule(heights: Value, stiffness: Value) -> tuple[Value, ...]:
    """Stiffness moments S0, S1, S2 of members joined by rigid uprights.

    Parameters
    ----------
    heights : quantity [m]
        z of each member's axis over the base; (members, ...).
    stiffness : quantity [N*m^2]
        EI of each member, thickness in the direction of the push.

    Returns
    -------
    tuple of quantity [N*m^2, N*m^3, N*m^4]

    Notes
    -----
    S_k = sum EI_i z_i^k; [[S0, S1], [S1, S2]] [a'''', b''''] = [P, M].
    Source: statics (least energy of the ruled surface).
    """
    z, ei = np.asarray(heights), np.asarray(stiffness)
    return tuple(np.sum(ei * z**k, axis=0) for k in (0, 1, 2))


@quantities(
    "N/m", heights="m (0, inf)", stiffness="N*m^2 (0, inf)", moment="N*m/m", total="N/m"
)
def base_hold_needed(
    heights: Value, stiffness: Value, moment: Value, total: Value
) -> Value:
    """Least base reaction for the wall to rotate about its base.

    Parameters
    ----------
    heights, stiffness : quantity [m, N*m^2]
        As in :func:`rule`.
    moment, total : quantity [N*m/m, N/m]
        Moment of the push about the base, and the push.

    Returns
    -------
    quantity [N/m]

    Notes
    -----
    P - M S1 / S2; with two rails it is P - M/H, the base rail's own load. Never
    negative. Source: statics.
    """
    _, s1, s2 = rule.si(heights, stiffness)
    return np.maximum(total - moment * s1 / s2, 0.0)


@quantities(
    "N/m",
    heights="m (0, inf)",
    stiffness="N*m^2 (0, inf)",
    moment="N*m/m",
    total="N/m",
    base_sliding_resistance="N/m",
)
def member_loads(
    heights: Value,
    stiffness: Value,
    moment: Value,
    total: Value,
    base_sliding_resistance: Value = np.inf,
) -> Value:
    """The even load that would bend each member, alone, as it bends in the wall.

    Parameters
    ----------
    heights, stiffness : quantity [m, N*m^2]
        As in :func:`rule`.
    moment, total : quantity [N*m/m, N/m]
        Moment of the push about the base, and the push.
    base_sliding_resistance : quantity [N/m]
        What the ground can hold at the base; infinite for a slab or a tied base.
        Only as much as is needed is used.

    Returns
    -------
    quantity [N/m]
        (members, ...). Bow of a member: c w L4 / EI; moment: c w s2.

    Notes
    -----
    w_i = EI_i (A + B z_i), [[S0, S1], [S1, S2]] [A, B] = [P - hold, M]. Held: A = 0,
    B = M / S2, so moments share as EI_i z_i. Even on equal spans all along the wall.
    Source: statics.
    """
    s0, s1, s2 = rule.si(heights, stiffness)
    needed = base_hold_needed.si(heights, stiffness, moment, total)
    net = total - np.minimum(base_sliding_resistance, needed)
    held = np.asarray(base_sliding_resistance) >= needed
    det = s0 * s2 - s1**2
    lever = det > 1e-9 * s0 * s2  # members at one height only have no lever
    det = np.where(lever, det, 1.0)
    a = np.where(lever, (s2 * net - s1 * moment) / det, net / s0)
    b = np.where(lever, (s0 * moment - s1 * net) / det, 0.0)
    a, b = np.where(held, 0.0, a), np.where(held, moment / s2, b)
    z, ei = np.asarray(heights), np.asarray(stiffness)
    return ei * (a + b * z)


# --- ties at chosen places and heights ------------------------------------------
