"""A rim held by ties that do not move and by posts in the ground that give.

The leaning wall is one beam (see :mod:`bedcalc.walls.frame`): every post in the ground
is a spring at its rim. Coefficients come in the units of
:class:`bedcalc.walls.beams.SpanCoefficients`, so that everything else stays the same.
"""

from __future__ import annotations

from types import SimpleNamespace
from typing import NamedTuple

import numpy as np

from bedcalc.model.bed import Bed
from bedcalc.model.place import Place

from .beams import SpanCoefficients, bow_shape, span_coefficients
from .load_cases import load
from .material import material
from .posts import (
    bending_force,
    clamped_spring,
    post_flexibility,
    stake_force,
    toe_moment,
)
from .timber import second_moment, section_modulus

__all__ = [
    "SAFETY", "BeamCoefficients", "ground_posts", "post_wood", "posted_coefficients",
    "posted_shape", "rigid_supports",
]  # fmt: skip

SAFETY = 1.5  # on what the ground holds: foot, posts, blocks tipping and sliding
_PLACES = np.linspace(0.0, 1.0, 241)


def post_wood(bed: Bed) -> str:
    """What the posts are of: planks of plastic stand on posts of larch."""
    return "larch" if bed.wall.wood == "recycled_plastic" else bed.wall.wood


def ground_posts(
    bed: Bed, place: Place, plan, collar: float | None = None
) -> SimpleNamespace | None:
    """What each post between the corners does, or None where none is in the ground.

    Parameters
    ----------
    bed, place : Bed, Place
    plan : SimpleNamespace
        From :func:`bedcalc.assembly.layout`.
    collar : float or None
        Width of a collar of concrete round each post, m: the ground holds that.

    Returns
    -------
    SimpleNamespace
        SI: ``spring`` at the rim (N/m), ``lasts`` (the share of it after years),
        ``toe`` (moment about the toe that the ground holds, safety taken off),
        ``holds`` (force at the rim, the least of ground and wood), ``wood_holds``,
        ``depth``, ``bays``.
    """
    deep = bed.si.post_depth
    if not np.any((np.asarray(deep) > 0) & (np.asarray(plan.bays) > 1)):
        return None
    width, reach, ground = bed.wall.si.post, bed.si.soil_depth, place.ground
    wood = material(post_wood(bed), width, width)
    bends = clamped_spring.si(wood.E * second_moment.si(width, width), reach)
    soil_gives = post_flexibility.si(deep, reach, load("post_ground").weight)
    give = soil_gives + 1 / bends
    # wood creeps, and the ground gives way in its own measure
    duration_factor = soil_gives / load("post_ground_years").share + wood.creep / bends
    wide = width if collar is None else collar
    soil = stake_force.si(wide, deep, reach, ground.unit_weight, ground.kp)
    strong = wood.bending * section_modulus.si(width, width) / wood.load_factor
    by_wood = bending_force.si(strong, reach, wide, ground.unit_weight, ground.kp)
    return SimpleNamespace(
        spring=1 / give,
        lasts=_finite(give) / _finite(duration_factor),
        toe=toe_moment.si(wide, deep, ground.unit_weight, ground.kp) / SAFETY,
        holds=np.minimum(soil / SAFETY, by_wood),
        wood_holds=by_wood,
        depth=deep,
        bays=plan.bays,
        soil=place.soil_note,
    )


def _finite(value):
    """One in place of the endless give of a post that stands on the ground."""
    return np.where(np.isfinite(value), value, 1.0)[()]


class BeamCoefficients(NamedTuple):
    """Coefficients of one rim, and the largest force on a post, in w s."""

    bow: np.ndarray
    moment: np.ndarray
    reaction_end: np.ndarray
    reaction_interior: np.ndarray
    moment_span: np.ndarray
    post: np.ndarray


def rigid_supports(spans) -> BeamCoefficients:
    """Coefficients where no post is in the ground: ties only."""
    c: SpanCoefficients = span_coefficients(spans)
    return BeamCoefficients(
        bow=c.bow,
        moment=c.moment,
        reaction_end=c.reaction_end,
        reaction_interior=c.reaction_interior,
        moment_span=c.moment_span,
        post=0.0 * c.bow,
    )


def _free(x):
    """Bow of the free beam under an even load, w = L = EI = 1."""
    return x * (1 - 2 * x**2 + x**3) / 24


def _influence(x, at):
    """Bow at x, and moment, from a unit force at ``at`` on the beam of length 1."""
    low, high = np.minimum(x, at), np.maximum(x, at)
    return low * (1 - high) * (2 * high - high**2 - low**2) / 6, low * (1 - high)


def _places(count, most: int):
    """Inner points of ``count`` equal parts, filled up with nan; (..., most)."""
    n = np.arange(1, most + 1)
    count = np.asarray(count)[..., None]
    return np.where(n < count, n / count, np.nan)


def _forces(spans, bays, ratio):
    """Places of ties and posts, what each holds, and which are ties; w = L = 1."""
    spans, bays, ratio = np.broadcast_arrays(spans, bays, np.asarray(ratio, float))
    most = max(int(np.max(spans)) - 1, 0), max(int(np.max(bays)) - 1, 0)
    ties, posts = _places(spans, most[0]), _places(bays, most[1])
    posts = np.where(ratio[..., None] > 0, posts, np.nan)
    at = np.concatenate([ties, posts], axis=-1)
    if not at.shape[-1]:
        return at, at, most[0]
    spring = np.maximum(np.broadcast_to(ratio[..., None], posts.shape), 1e-12)
    give = np.concatenate([0.0 * np.nan_to_num(ties), 1 / spring], axis=-1)
    there, x = ~np.isnan(at), np.nan_to_num(at)
    eye = np.eye(at.shape[-1])
    soft = _influence(x[..., :, None], x[..., None, :])[0] + eye * give[..., None]
    soft = np.where(there[..., :, None] & there[..., None, :], soft, eye)
    free = np.where(there, _free(x), 0.0)
    return x, np.linalg.solve(soft, free[..., None])[..., 0], most[0]


def _bent(x, at, force):
    """Bow and moment at x of the loaded beam less what the supports hold."""
    bow, moment = _influence(x[..., :, None], at[..., None, :])
    held = np.sum(bow * force[..., None, :], axis=-1)
    eased = np.sum(moment * force[..., None, :], axis=-1)
    return _free(x) - held, x * (1 - x) / 2 - eased


def posted_coefficients(spans, bays, ratio) -> BeamCoefficients:
    """Coefficients of a rim on rigid ties and on posts that give.

    Parameters
    ----------
    spans : int or int array
        Equal spans between corners and ties.
    bays : int or int array
        Equal bays between corners and posts.
    ratio : float or array
        k L3 / EI: spring of one post over the stiffness of the wall; 0 for none.

    Returns
    -------
    BeamCoefficients
        As shares of w s4/EI, w s2 and w s, with s = L / spans. Largest anywhere.

    Notes
    -----
    Forces by compatibility: (G + 1/k) F = u_free at ties (1/k = 0) and posts. Exact;
    the largest bow is read at 241 places. Source: statics.
    """
    plain = rigid_supports(spans)
    if not np.any((np.asarray(ratio) > 0) & (np.asarray(bays) > 1)):
        return plain
    at, force, ties = _forces(spans, bays, ratio)
    grid = np.broadcast_to(_PLACES, (*at.shape[:-1], len(_PLACES)))
    bow, moment = _bent(np.concatenate([grid, at], axis=-1), at, force)
    n = np.asarray(spans)
    found = BeamCoefficients(
        bow=np.max(bow, axis=-1) * n**4,
        moment=np.max(np.abs(moment), axis=-1) * n**2,
        reaction_end=(0.5 - np.sum(force * (1 - at), axis=-1)) * n,
        reaction_interior=np.max(force[..., :ties], axis=-1, initial=0.0) * n,
        moment_span=np.max(moment, axis=-1) * n**2,
        post=np.max(force[..., ties:], axis=-1, initial=0.0) * n,
    )
    there = (np.asarray(ratio) > 0) & (np.asarray(bays) > 1)
    pairs = zip(found, plain, strict=True)
    return BeamCoefficients(*(np.where(there, new, old)[()] for new, old in pairs))


def posted_shape(spans: int, bays: int, ratio: float, share: np.ndarray) -> np.ndarray:
    """Shape of one rim for drawing: 1 where it bows most, 0 over corners and ties."""
    if not ratio > 0 or bays < 2:
        return bow_shape(spans, share)
    at, force, _ = _forces(spans, bays, ratio)
    bow = _bent(np.asarray(share, float), at, force)[0]
    return bow / np.max(_bent(_PLACES, at, force)[0])
