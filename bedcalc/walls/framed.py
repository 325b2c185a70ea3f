"""A long wall of rails or boards as one leaning surface, tied or not.

Every member at height z bows by z/H of the top: the posts keep the wall straight from
base to rim, whatever they are fixed to. With two rails that is exact; with stacked
boards it is the limit of stiff posts. The base is taken as held here; whether it is,
the check of the foot answers.
"""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np

from bedcalc.bed import Bed

from .beams import (
    MOST_SPANS,
    bow_shape,
    span_coefficients,
    support_force,
    uniform_moment,
)
from .lever import held_wall_bow, member_loads
from .material import material
from .timber import long_term_bow, second_moment, section_modulus

__all__ = ["MOST_TIES", "bows", "members", "top_spans"]

MOST_TIES = 8
_BOWS = ("moist", "soaked", "yielding", "light", "heavy")


def members(bed: Bed) -> list[SimpleNamespace]:
    """Rails or boards of the long wall from the base up, as they take the push.

    Parameters
    ----------
    bed : Bed
        Framed with sheet, or of boards, planks or sleepers.

    Returns
    -------
    list of SimpleNamespace
        ``z`` (height over the base, m), ``face``, ``thickness`` (m), ``EI`` (N m2),
        ``S`` (m3), ``wood`` (a :func:`material`), ``name``.
    """
    wall, height = bed.wall.si, bed.si.soil_depth
    if bed.wall.family == "sheet":
        thick, face = wall.rail_thin, wall.rail_wide
        if bed.rail_lying:
            thick, face = face, thick
        found = [
            _member(bed, "base rail", 0.0 * height, face, thick),
            _member(bed, "top rail", height, face, thick),
        ]
        return found + _cap(bed)
    rows = int(np.max(np.ceil(height / wall.course - 1e-9)))
    found = []
    for i in range(rows):
        low = np.minimum(i * wall.course, height)
        high = np.minimum((i + 1) * wall.course, height)
        name = f"board {i + 1}"
        found.append(_member(bed, name, (low + high) / 2, high - low, wall.thickness))
    return found + _cap(bed)


def _cap(bed: Bed) -> list[SimpleNamespace]:
    """A cap in one piece from corner to corner, screwed down, carries its share."""
    wall = bed.wall.si
    if not bed.wall.cap_counts or wall.cap_thick <= 0:
        return []
    return [_member(bed, "cap", bed.si.soil_depth, wall.cap_thick, wall.cap_wide)]


def _member(bed, name, z, face, thickness) -> SimpleNamespace:
    wood = material(bed.wall.wood, np.maximum(face, 1e-6), thickness)
    return SimpleNamespace(
        name=name,
        z=z,
        face=face,
        thickness=thickness,
        wood=wood,
        EI=wood.E * second_moment.si(face, thickness),
        S=section_modulus.si(face, thickness),
    )


def top_spans(bed: Bed, bays, ties):
    """Equal spans of the leaning wall: a trough's legs hold it, else only ties do."""
    if bed.wall.family == "trough":
        return np.minimum(bays, MOST_SPANS)
    return np.asarray(ties) + 1


def bows(bed: Bed, cases: dict, span, spans) -> SimpleNamespace:
    """Bow, stress and forces of the long wall for some number of equal spans.

    Parameters
    ----------
    bed : Bed
    cases : dict of str to Push
        From :func:`bedcalc.walls.cases.pushes`.
    span : float or array
        Axis to axis of the end walls, m.
    spans : int or int array
        Equal spans between the ends and the ties; broadcasts, so that many numbers
        of ties are tried at once.

    Returns
    -------
    SimpleNamespace
        SI: bows at the top (``active``, ``once``, ``soaked``, ``years``, ``low``,
        ``high``, and ``light``, ``heavy``: after years, if weight and friction of the
        fill are as far off as one must expect), ``limit``, ``aim``, ``stress``,
        ``strength`` (both with the route's load factor on the stress), ``tie``,
        ``corner`` (soaked), ``weakest``; by member ``loads`` and
        ``strengths``.
    """
    stack = members(bed)
    height = bed.si.soil_depth
    z = np.stack([np.broadcast_to(m.z, np.shape(height)) for m in stack])
    EI = np.stack([np.broadcast_to(m.EI, np.shape(height)) for m in stack])
    wood, push = stack[-1].wood, cases["soaked"].si
    # bow and moment grow with the load: once for a unit of it, then for every state
    each = held_wall_bow.si(z, EI, 1.0, span, height, spans)
    bow = {name: each * cases[name].si.moment for name in _BOWS}
    once, soaked = bow["moist"], bow["soaked"]
    wet = soaked - once
    loads = member_loads.si(z, EI, push.moment, push.total)
    factor = wood.load_factor * uniform_moment.si(1.0, span, spans)
    stresses = np.stack(
        [
            load * factor / np.maximum(m.S, 1e-12)
            for m, load in zip(stack, loads, strict=True)
        ]
    )
    strengths = np.stack(
        [np.broadcast_to(m.wood.bending, stresses[0].shape) for m in stack]
    )
    worst = np.argmax(stresses / strengths, axis=0)
    corner, tie, _ = support_force.si(push.top_load, span, spans)
    return SimpleNamespace(
        active=bow["yielding"],
        once=once,
        soaked=soaked,
        years=long_term_bow.si(once, soaked, wood.creep),
        low=2.0 * bow["yielding"],
        high=3.0 * once + wet,
        light=wood.creep * bow["light"],
        heavy=wood.creep * bow["heavy"] + wet,
        limit=span / spans / 180,
        aim=span / spans / 240,
        stress=pick(stresses, worst),
        strength=pick(strengths, worst),
        tie=tie,
        corner=corner,
        weakest=worst,
        members=stack,
        loads=loads,
        strengths=strengths,
    )


def pick(values, index):
    """The row of each design's own index."""
    if not np.ndim(index):
        return values[int(index)]
    return np.take_along_axis(values, np.expand_dims(index, 0), 0)[0]


def shape(spans: int, share: np.ndarray) -> np.ndarray:
    """Shape of the top from above, 1 where it bows most; share 0 to 1 of the span."""
    return bow_shape(spans, share)


def rail_capacity(member, span, spans):
    """Line load that one rail carries between supports, by bow and by strength.

    Parameters
    ----------
    member : SimpleNamespace
        From :func:`members`.
    span : float or array
        Axis to axis, m.
    spans : int or array
        Equal spans.

    Returns
    -------
    float or array
        N/m: long-term bow up to a 180th of a span, stress up to the strength.
    """
    c, s = span_coefficients(spans), span / spans
    stiff = member.EI / (180 * member.wood.creep * c.bow * s**3)
    strong = (
        member.wood.bending * member.S / (member.wood.load_factor * c.moment * s**2)
    )
    return np.minimum(stiff, strong)
