"""Rails and posts as a grillage: the model that does not assume stiff uprights.

For teaching and for proof. It shows what :mod:`bedcalc.walls.frame` takes for granted:
a post that is neither tied nor in the ground holds nothing; with two rails it changes
nothing at all, with three it makes the top worse, because it drags the middle rail's
load up. Plain SI numbers; bows positive outwards.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

__all__ = ["GrillageAnswer", "Post", "Rail", "solve_grillage"]


@dataclass(frozen=True, kw_only=True)
class Rail:
    """A member along the wall: height z (m), EI (N m2), even load (N/m).

    ``ties`` are places along it (m) with the spring of a tie (N/m, infinite for rigid).
    ``held`` says that it cannot move at all, as a base rail on a slab.
    """

    z: float
    stiffness: float
    load: float = 0.0
    ties: Mapping[float, float] = field(default_factory=dict)
    held: bool = False


@dataclass(frozen=True, kw_only=True)
class Post:
    """An upright at x (m), EI (N m2), hinged to every rail it crosses.

    ``ties`` and ``loads`` are heights (m) with springs (N/m) and forces (N). With
    ``clamped`` its foot, at z = 0, neither moves nor turns.
    """

    x: float
    stiffness: float
    ties: Mapping[float, float] = field(default_factory=dict)
    loads: Mapping[float, float] = field(default_factory=dict)
    clamped: bool = False


@dataclass(frozen=True, kw_only=True)
class GrillageAnswer:
    """What :func:`solve_grillage` found, in SI.

    ``x`` (nodes) and ``bow`` (rails, nodes); ``moment`` (rails, elements, 2 ends);
    ``post_bow`` and ``post_moment``, one mapping of height to value a post (moment the
    largest either side of a height); ``rail_ties`` and ``post_ties``, forces by
    (rail or post, place).
    """

    x: np.ndarray
    bow: np.ndarray
    moment: np.ndarray
    post_bow: list[dict[float, float]]
    post_moment: list[dict[float, float]]
    rail_ties: dict[tuple[int, float], float]
    post_ties: dict[tuple[int, float], float]


def _element_stiffness(stiffness, size):
    """Stiffness matrix of a bending element, (..., 4, 4): bow, slope at each end."""
    k = np.array([[12, 6, -12, 6], [6, 4, -6, 2], [-12, -6, 12, -6], [6, 2, -6, 4]])
    power = np.array([[3, 2, 3, 2], [2, 1, 2, 1], [3, 2, 3, 2], [2, 1, 2, 1]])
    size, stiffness = np.asarray(size), np.asarray(stiffness)
    return k * stiffness[..., None, None] / size[..., None, None] ** power


def _element_load(first, last, size):
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


def _nodes(length: float, marks, elements: int) -> np.ndarray:
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


def solve_grillage(
    length: float, rails: Sequence[Rail], posts: Sequence[Post], *, elements: int = 48
) -> GrillageAnswer:
    """Solve one long wall of rails and posts; the rails' ends are pinned.

    Parameters
    ----------
    length : float
        L in m, between the end walls' axes.
    rails, posts : sequence
        Members. The twisting stiffness of a rail is left out, which is safe.
    elements : int
        Least number of elements a rail; ties and posts get nodes besides.

    Returns
    -------
    GrillageAnswer

    Notes
    -----
    Euler-Bernoulli elements both ways; a rail and a post share the bow where they
    cross, each keeps its own turn. Source: statics.
    """
    marks = [p.x for p in posts] + [x for r in rails for x in r.ties]
    x = _nodes(length, marks, elements)
    n = len(x)
    size = np.diff(x)
    count = 2 * n * len(rails)
    matrix_parts, fixed, springs, force = [], [], {}, {}

    def node(at):
        return int(np.argmin(np.abs(x - at)))

    def tie(dof, spring):
        if np.isinf(spring):
            fixed.append(dof)
        else:
            springs[dof] = springs.get(dof, 0.0) + spring

    local = 2 * np.arange(n - 1)[:, None] + np.arange(4)
    rail_loads = []
    for i, rail in enumerate(rails):
        places = local + 2 * n * i
        k = _element_stiffness(np.full(n - 1, rail.stiffness), size)
        f = _element_load(np.full(n - 1, rail.load), np.full(n - 1, rail.load), size)
        matrix_parts.append((places, k))
        rail_loads.append((places, f))
        fixed += [2 * n * i, 2 * n * i + 2 * (n - 1)]
        if rail.held:
            fixed += [2 * n * i + 2 * j for j in range(n)]
        for at, spring in rail.ties.items():
            tie(2 * n * i + 2 * node(at), spring)

    levels = []  # of each post: height -> (bow freedom, turn freedom)
    for post in posts:
        heights = {rail.z for rail in rails} | set(post.ties) | set(post.loads)
        heights |= {0.0} if post.clamped else set()
        level = {}
        for height in sorted(heights):
            at_rail = [i for i, rail in enumerate(rails) if rail.z == height]
            if at_rail:
                level[height] = (2 * n * at_rail[0] + 2 * node(post.x), count)
                count += 1
            else:
                level[height] = (count, count + 1)
                count += 2
        levels.append(level)
        z = np.array(list(level))
        dofs = np.array(list(level.values()))
        places = np.hstack([dofs[:-1], dofs[1:]])
        k = _element_stiffness(np.full(len(z) - 1, post.stiffness), np.diff(z))
        matrix_parts.append((places, k))
        for height, spring in post.ties.items():
            tie(level[height][0], spring)
        for height, value in post.loads.items():
            force[level[height][0]] = force.get(level[height][0], 0.0) + value
        if post.clamped:
            fixed += level[0.0]

    full, right = np.zeros((count, count)), np.zeros(count)
    for places, k in matrix_parts:
        np.add.at(full, (places[:, :, None], places[:, None, :]), k)
    for places, f in rail_loads:
        np.add.at(right, places, f)
    for dof, value in force.items():
        right[dof] += value
    sprung = full.copy()
    for dof, spring in springs.items():
        sprung[dof, dof] += spring
    free = np.setdiff1d(np.arange(count), fixed)
    u = np.zeros(count)
    u[free] = np.linalg.solve(sprung[np.ix_(free, free)], right[free])
    left_over = right - full @ u

    moments = []
    for (places, f), (_, k) in zip(rail_loads, matrix_parts, strict=False):
        ends = np.einsum("eij,ej->ei", k, u[places]) - f
        moments.append(np.stack([ends[:, 1], -ends[:, 3]], axis=1))
    post_moment = []
    for level, (places, k) in zip(levels, matrix_parts[len(rails) :], strict=True):
        ends = np.einsum("eij,ej->ei", k, u[places])
        either = np.zeros((2, len(level)))
        either[0, :-1], either[1, 1:] = ends[:, 1], -ends[:, 3]
        largest = either[np.argmax(np.abs(either), axis=0), np.arange(len(level))]
        post_moment.append(dict(zip(level, map(float, largest), strict=True)))
    return GrillageAnswer(
        x=x,
        bow=u[: 2 * n * len(rails)].reshape(len(rails), n, 2)[..., 0],
        moment=np.array(moments),
        post_bow=[{z: float(u[d]) for z, (d, _) in level.items()} for level in levels],
        post_moment=post_moment,
        rail_ties={
            (i, at): float(left_over[2 * n * i + 2 * node(at)])
            for i, rail in enumerate(rails)
            for at in rail.ties
        },
        post_ties={
            (i, at): float(left_over[levels[i][at][0]])
            for i, post in enumerate(posts)
            for at in post.ties
        },
    )
