"""The framed wall as a ruled surface: stiff uprights tie rails or boards together.

Every member i at height z_i follows u(x, z) = a(x) + b(x) z: uprights stay straight.
One model says what a bare rail, stacked boards pinned by posts, a rail with a cap and
a wall held at its base do, and which member carries how much. With two members it is
plain statics. Members lie on the first axis; further axes are designs.

The wall is held at its two ends, by ties at any heights, and by what resistance the
base has. The line loads of the fill enter as push P and moment M about the base.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from bedcalc.units import quantities

from .beams import span_coefficients

__all__ = [
    "TiedWall", "base_hold_needed", "held_wall_bow", "member_loads", "rule",
    "stacked_boards_bow", "tied_wall", "upright_forces",
]  # fmt: skip


@quantities(
    ("N*m^2", "N*m^3", "N*m^4"), heights="m (0, inf)", stiffness="N*m^2 (0, inf)"
)
def rule(heights, stiffness):
    """Stiffness of a ruled wall: S0, S1, S2.

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
def base_hold_needed(heights, stiffness, moment, total):
    """How hard the ground must hold the base for the wall to turn about it.

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
def member_loads(heights, stiffness, moment, total, base_sliding_resistance=np.inf):
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
    B = M / S2, so moments share as EI_i z_i. Even on equal spans all along the wall;
    ties at one height with a base that moves are for :func:`tied_wall`.
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


@quantities(
    "m",
    heights="m (0, inf)",
    stiffness="N*m^2 (0, inf)",
    moment="N*m/m",
    length="m (0, inf)",
    at="m",
    spans=None,
)
def held_wall_bow(heights, stiffness, moment, length, at, spans=1):
    """Bow of a wall that turns about its held base, at a height.

    Parameters
    ----------
    heights, stiffness : quantity [m, N*m^2]
        As in :func:`rule`.
    moment : quantity [N*m/m]
        Moment of the push about the base.
    length : quantity [m]
        L between the end walls' axes.
    at : quantity [m]
        Height z where the bow is asked for.
    spans : int
        Equal spans: cross ties + 1.

    Returns
    -------
    quantity [m]

    Notes
    -----
    u = c z M s4 / S2; at the top of an untied wall 5 w L4 / (384 EI_eff) with
    w = M/H and EI_eff = sum EI_i (z_i/H)2. Source: statics.
    """
    _, _, s2 = rule.si(heights, stiffness)
    c = span_coefficients(spans).bow
    return c * at * moment * (length / spans) ** 4 / s2


@quantities(
    "m",
    modulus="Pa [0, inf)",
    coefficient="[0, 100]",
    weight="N/m^3 [0, inf)",
    height="m (0, inf)",
    thickness="m (0, inf)",
    length="m (0, inf)",
)
def stacked_boards_bow(modulus, coefficient, weight, height, thickness, length):
    """Bow at the top of boards stacked without rails, pinned by posts, base held.

    Parameters
    ----------
    modulus : quantity [Pa]
        E of the boards.
    coefficient, weight : quantity [, N/m^3]
        K and unit weight of an even fill.
    height, thickness, length : quantity [m]
        H, t (level), L.

    Returns
    -------
    quantity [m]

    Notes
    -----
    u = (5 L4 / 384 E)(6 K gamma H / t3): boards smeared over the height.
    Source: computed, from :func:`held_wall_bow`.
    """
    smeared = 6 * coefficient * weight * height / thickness**3
    return 5 * length**4 / (384 * modulus) * smeared


@quantities(
    ("N", "N*m"),
    heights="m (0, inf)",
    loads="N/m",
    slices="N/m",
    slice_heights="m [0, inf)",
    spacing="m (0, inf)",
)
def upright_forces(heights, loads, slices, slice_heights, spacing):
    """What one upright hands from board to board, and how it is bent by that.

    Parameters
    ----------
    heights : quantity [m]
        z of each member; (members, ...).
    loads : quantity [N/m]
        What each member carries, of :func:`member_loads`.
    slices : quantity [N/m]
        What the fill presses on each member; ``pressure.push_between``.
    slice_heights : quantity [m]
        Where each slice acts over the base.
    spacing : quantity [m]
        Between uprights: posts or rows of pins.

    Returns
    -------
    tuple of quantity [N, N*m]
        Force of each member on the upright, outwards positive (members, ...), which its
        screws must pass; and the largest moment in the upright.

    Notes
    -----
    F_i = (q_i - w_i) s. Moment at a member: what pushes above it less what the members
    above it carry, each times its distance. Source: statics.
    """
    force = (slices - loads) * spacing
    z, zq = np.asarray(heights), np.asarray(slice_heights)
    lever = np.maximum(z[:, None] - z[None], 0.0)  # (above, at, ...)
    pushed = np.maximum(zq[:, None] - z[None], 0.0)
    bent = np.sum(slices[:, None] * pushed - loads[:, None] * lever, axis=0)
    return force, np.max(np.abs(bent), axis=0) * spacing


# --- ties at chosen places and heights ------------------------------------------


class TiedWall(NamedTuple):
    """What :func:`tied_wall` found, in SI; designs last, as they came in."""

    tie_force: np.ndarray
    x: np.ndarray
    base: np.ndarray
    top: np.ndarray
    bow: np.ndarray
    moment: np.ndarray
    corner: np.ndarray


def _hat(x, at, length):
    """Bow at x from a unit load at ``at``, and its second derivative times -1."""
    low, high = np.minimum(x, at), np.maximum(x, at)
    bow = low * (length - high) * (2 * length * high - high**2 - low**2)
    return bow / (6 * length), low * (length - high) / length


def tied_wall(
    heights,
    stiffness,
    moment,
    total,
    length,
    *,
    tie_x,
    tie_z,
    tie_spring=np.inf,
    base_sliding_resistance=np.inf,
    places: int = 97,
) -> TiedWall:
    """A ruled wall with cross ties at any places and heights; plain SI.

    Parameters
    ----------
    heights, stiffness : array
        z (m) and EI (N m2) of each member; (members, ...).
    moment, total : array
        Moment about the base (N m/m) and push (N/m).
    length : array
        L in m.
    tie_x, tie_z : array
        Place (m) and height (m) of each tie; (ties, ...). A place of nan is no tie, so
        designs with different numbers of ties go together.
    tie_spring : float or array
        N/m, infinite for rigid.
    base_sliding_resistance : float or array
        N/m the ground can hold at the base; a tied base needs none.
    places : int
        Points along the wall where the answer is given; few for a large sweep, odd so
        that the middle is one of them.

    Returns
    -------
    TiedWall
        ``tie_force`` (ties, ...), pull of each tie; along ``x`` (places, ...): bow of
        ``base`` line and of ``top`` member; ``bow`` and ``moment`` of each member
        (members, places, ...); ``corner`` (members, 2, ...), hold at its two ends.

    Notes
    -----
    Forces by compatibility: (G + 1/k) T = u_free at the ties, G from the simple beam's
    influence line times [1, z] C [1, z'], C the inverse of [[S0, S1], [S1, S2]].
    Exact for the model; agrees with :func:`member_loads` where ties are equally
    spaced on a held base. A base that gives is taken to hold as evenly as it would
    without ties.
    Source: statics.
    """
    z, ei = np.asarray(heights, float), np.asarray(stiffness, float)
    tx, tz, ks = np.broadcast_arrays(tie_x, tie_z, tie_spring)
    axes = max(z.ndim, ei.ndim, tx.ndim, 1 + np.ndim(length), 1 + np.ndim(moment))
    z, ei, tx, tz, ks = (
        v.reshape(v.shape + (1,) * (axes - v.ndim)) for v in (z, ei, tx, tz, ks)
    )
    there = ~np.isnan(tx)
    top = np.max(z, axis=0)
    s0, s1, s2 = rule.si(z, ei)
    needed = base_hold_needed.si(z, ei, moment, total)
    # rigid ties at the top send the base all of its rail's load
    tied = np.where(np.any(there, axis=0), total - moment / top, 0.0)
    held = np.asarray(base_sliding_resistance) >= np.maximum(needed, tied)
    net = np.asarray(total - np.minimum(base_sliding_resistance, needed))
    det = s0 * s2 - s1**2
    lever = det > 1e-9 * s0 * s2  # members at one height only have no lever
    det = np.where(lever, det, 1.0)
    still = held | ~lever
    c00 = np.where(held, 0.0, np.where(lever, s2 / det, 1 / s0))
    c01 = np.where(still, 0.0, -s1 / det)
    c11 = np.where(held, 1 / s2, np.where(lever, s0 / det, 0.0))

    def soft(z1, z2):  # [1, z1] C [1, z2]
        return c00 + c01 * (z1 + z2) + c11 * z1 * z2

    def pushed(z1):  # [1, z1] C [P, M]
        return c00 * net + c01 * (moment + z1 * net) + c11 * z1 * moment

    def even(x):
        return x * (length**3 - 2 * length * x**2 + x**3) / 24

    at = np.where(there, tx, 0.0)
    eye = np.eye(len(at)).reshape(len(at), len(at), *(1,) * (axes - 1))
    g = _hat(at[:, None], at[None], length)[0] * soft(tz[:, None], tz[None])
    g = np.where(there[:, None] & there[None], g + eye / ks, eye)
    force = _solve_first(g, np.where(there, even(at) * pushed(tz), 0.0))

    x = np.linspace(0, 1, places).reshape(-1, *(1,) * (axes - 1)) * length
    hat, bend = _hat(x[None], at[:, None], length)  # (ties, places, ...)
    pull = force[:, None]

    def bow_at(z1):
        return even(x) * pushed(z1) - np.sum(pull * hat * soft(z1, tz[:, None]), axis=0)

    def bend_at(z1):
        line = x * (length - x) / 2
        return line * pushed(z1) - np.sum(pull * bend * soft(z1, tz[:, None]), axis=0)

    ends = np.stack([1 - at / length, at / length])  # share of a tie at each end

    def corner_at(z1):
        pulls = np.sum(force * ends * soft(z1, tz), axis=1)
        return length / 2 * pushed(z1) - pulls

    return TiedWall(
        tie_force=force,
        x=x,
        base=bow_at(0.0 * top),
        top=bow_at(top),
        bow=np.stack([bow_at(height) for height in z]),
        moment=np.stack([e * bend_at(h) for h, e in zip(z, ei, strict=True)]),
        corner=np.stack([e * corner_at(h) for h, e in zip(z, ei, strict=True)]),
    )


def _solve_first(matrix, right):
    """Solve with the equations on the first axes and the designs behind."""
    matrix = np.moveaxis(matrix, (0, 1), (-2, -1))
    right = np.broadcast_to(right, right.shape[:1] + matrix.shape[:-2])
    right = np.moveaxis(right, 0, -1)[..., None]
    return np.moveaxis(np.linalg.solve(matrix, right)[..., 0], -1, 0)
