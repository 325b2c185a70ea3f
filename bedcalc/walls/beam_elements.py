"""One rail with any supports, ties, loads and stiffness, by small beam elements.

For what the closed forms of beams.py cannot say, and to prove that they are right.
Plain SI numbers throughout; bows are positive outwards, moments where the outer side
is stretched.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

__all__ = ["BeamAnswer", "element_load", "element_stiffness", "nodes", "solve_beam"]


@dataclass(frozen=True, kw_only=True)
class BeamAnswer:
    """What the solver found, in SI.

    ``x``, ``bow``, ``slope`` at the nodes; ``x_cut``, ``moment``, ``shear`` at both
    ends of each element, so that jumps over supports show; ``holds`` the force with
    which each support holds back, in the order given.
    """

    x: np.ndarray
    bow: np.ndarray
    slope: np.ndarray
    x_cut: np.ndarray
    moment: np.ndarray
    shear: np.ndarray
    holds: np.ndarray


def element_stiffness(stiffness, size):
    """Stiffness matrix of a bending element, (..., 4, 4): bow, slope at each end."""
    k = np.array([[12, 6, -12, 6], [6, 4, -6, 2], [-12, -6, 12, -6], [6, 2, -6, 4]])
    power = np.array([[3, 2, 3, 2], [2, 1, 2, 1], [3, 2, 3, 2], [2, 1, 2, 1]])
    size, stiffness = np.asarray(size), np.asarray(stiffness)
    return k * stiffness[..., None, None] / size[..., None, None] ** power


def element_load(first, last, size):
    """Nodal loads of a line load that runs straight from first to last, (..., 4)."""
    return np.stack(
        [
            size * (7 * first + 3 * last) / 20,
            size**2 * (3 * first + 2 * last) / 60,
            size * (3 * first + 7 * last) / 20,
            -(size**2) * (2 * first + 3 * last) / 60,
        ],
        axis=-1,
    )


def nodes(length: float, marks, elements: int) -> np.ndarray:
    """Places of the nodes: every mark, and an even mesh where no mark is near.

    Marks closer together than a millionth of the length become one, because a
    vanishing element would be stiffer than the arithmetic can tell.
    """
    near = 1e-6 * length
    inner = np.unique(np.asarray([*marks], float))
    inner = inner[(inner > near) & (inner < length - near)]
    inner = inner[np.diff(inner, prepend=0.0) > near]
    marks = np.array([0.0, *inner, length])
    mesh = np.linspace(0, length, elements + 1)
    apart = np.min(np.abs(mesh[:, None] - marks), axis=1)
    return np.unique([*marks, *mesh[apart > 0.2 * length / elements]])


def _line(values, x):
    """A constant, or the polyline (places, values), at x."""
    if np.ndim(values) == 0:
        return np.full(len(x), float(values))
    return np.interp(x, *values)


def solve_beam(
    length: float,
    stiffness,
    load,
    supports: dict[float, float],
    *,
    points: dict[float, float] | None = None,
    clamped: tuple[bool, bool] = (False, False),
    elements: int = 64,
) -> BeamAnswer:
    """Solve one rail with any supports, ties and loads. All in SI.

    Parameters
    ----------
    length : float
        L in m.
    stiffness : float or (places, values)
        EI in N m2, constant or a polyline along the rail.
    load : float or (places, values)
        Line load in N/m, constant or a polyline.
    supports : dict
        Place in m: spring in N/m, ``np.inf`` for rigid. The corners are supports too.
    points : dict or None
        Place in m: single load in N.
    clamped : tuple of bool
        Whether an end cannot turn.
    elements : int
        Least number of elements; every support and load gets a node besides.

    Returns
    -------
    BeamAnswer

    Notes
    -----
    Two-node Euler-Bernoulli elements with consistent loads: the nodes of a prismatic
    rail under straight loads are exact. Moments and shears come from the element's
    end forces, not from differences of the bow. Source: statics.
    """
    points = points or {}
    marks = [*supports, *points]
    for values in (stiffness, load):
        marks += [] if np.ndim(values) == 0 else [*values[0]]
    if min(marks) < -1e-9 or max(marks) > length + 1e-9:
        raise ValueError(
            f"beam: needs every support and load between 0 and {length} m, given "
            f"{sorted(marks)}; for example supports={{0: np.inf, {length}: np.inf}}"
        )
    x = nodes(length, marks, elements)
    size, middle = np.diff(x), (x[:-1] + x[1:]) / 2
    k = element_stiffness(_line(stiffness, middle), size)
    inward = 1e-6 * size  # so that a jump in the load belongs to one side
    f = element_load(_line(load, x[:-1] + inward), _line(load, x[1:] - inward), size)
    places = 2 * np.arange(len(size))[:, None] + np.arange(4)
    full, force = np.zeros((2 * len(x),) * 2), np.zeros(2 * len(x))
    np.add.at(full, (places[:, :, None], places[:, None, :]), k)
    np.add.at(force, places, f)

    def node(at):
        return int(np.argmin(np.abs(x - at)))

    for at, value in points.items():
        force[2 * node(at)] += value
    fixed = [2 * node(at) for at, spring in supports.items() if np.isinf(spring)]
    fixed += [i for i, held in ((1, clamped[0]), (2 * len(x) - 1, clamped[1])) if held]
    sprung = full.copy()
    for at, spring in supports.items():
        if np.isfinite(spring):
            sprung[2 * node(at), 2 * node(at)] += spring
    free = np.setdiff1d(np.arange(2 * len(x)), fixed)
    u = np.zeros(2 * len(x))
    u[free] = np.linalg.solve(sprung[np.ix_(free, free)], force[free])
    ends = np.einsum("eij,ej->ei", k, u[places]) - f
    left_over = force - full @ u
    return BeamAnswer(
        x=x,
        bow=u[::2],
        slope=u[1::2],
        x_cut=np.stack([x[:-1], x[1:]], axis=1).ravel(),
        moment=np.stack([ends[:, 1], -ends[:, 3]], axis=1).ravel(),
        shear=np.stack([-ends[:, 0], ends[:, 2]], axis=1).ravel(),
        holds=np.array([left_over[2 * node(at)] for at in supports]),
    )
