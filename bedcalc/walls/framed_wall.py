"""A long wall of rails or boards as one leaning surface, tied or not.

Every member at height z bows by z/H of the top: the posts keep the wall straight from
base to rim, whatever they are fixed to. With two rails that is exact; with stacked
boards it is the limit of stiff posts. The base is taken as held here; whether it is,
the check of the foot answers.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from bedcalc.model.bed import Bed
from bedcalc.model.straightness import SUMS_END, aim_parts
from bedcalc.units import Count, Value

from .beams import (
    MOST_SPANS,
    BeamCoefficients,
    posted_coefficients,
    posted_shape,
    span_coefficients,
)
from .elastic_supports import GroundPosts
from .frame import member_loads, rule
from .load_cases import Push
from .material import Material, material
from .timber import long_term_bow, second_moment, section_modulus

__all__ = ["MOST_TIES", "WallBow", "WallMember", "bows", "members", "top_spans"]

MOST_TIES = 8
#: past this share of what its material may bear it breaks; a bow says nothing then
MOST_STRESS = 3.0
_BOWS = ("moist", "soaked", "yielding", "light", "heavy")


@dataclass(frozen=True, kw_only=True)
class WallMember:
    """A rail, board or cap of the long wall, as it takes the push; in SI.

    ``z`` is its height over the base; ``EI`` and ``S`` are against the push.
    """

    name: str
    z: Value
    face: Value
    thickness: Value
    wood: Material
    EI: Value
    S: Value


@dataclass(frozen=True, kw_only=True)
class WallBow:
    """How the long wall bows, what it bears and passes on; in SI.

    Bows at the top: ``active``, ``once``, ``soaked``, ``years``, ``low``, ``high``, and
    ``light``, ``heavy`` after years, if weight and friction of the fill are as far off
    as one must expect; ``aim``; ``plain``, from where everybody sees it; ``past``: the
    sums carry no number. ``stress`` has the route's load factor, ``strength`` is what
    the weakest member bears. ``tie``, ``corner`` and ``post`` are forces, soaked. By
    member: ``z``, ``EI``, ``loads``, ``stresses``, ``strengths``. ``shape`` draws the
    bow from above.
    """

    active: Value
    once: Value
    soaked: Value
    years: Value
    low: Value
    high: Value
    light: Value
    heavy: Value
    aim: Value
    plain: Value
    past: bool | np.ndarray
    stress: Value
    strength: Value
    tie: Value
    corner: Value
    post: Value
    weakest: Count
    members: Sequence[WallMember]
    z: np.ndarray
    EI: np.ndarray
    loads: np.ndarray
    stresses: np.ndarray
    strengths: np.ndarray
    c: BeamCoefficients
    shape: Callable[[np.ndarray], np.ndarray]


def members(bed: Bed) -> list[WallMember]:
    """Rails or boards of the long wall from the base up, as they take the push.

    Parameters
    ----------
    bed : Bed
        Framed with sheet, or of boards, planks or sleepers.

    Returns
    -------
    list of WallMember
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


def _cap(bed: Bed) -> list[WallMember]:
    """A cap in one piece from corner to corner, screwed down, carries its share."""
    wall = bed.wall.si
    if not bed.wall.cap_counts or wall.cap_thick <= 0:
        return []
    return [_member(bed, "cap", bed.si.soil_depth, wall.cap_thick, wall.cap_wide)]


def _member(bed, name, z, face, thickness) -> WallMember:
    wood = material(bed.wall.wood, np.maximum(face, 1e-6), thickness)
    return WallMember(
        name=name,
        z=z,
        face=face,
        thickness=thickness,
        wood=wood,
        EI=wood.E * second_moment.si(face, thickness),
        S=section_modulus.si(face, thickness),
    )


def top_spans(bed: Bed, bays: Count, ties: Count) -> Count:
    """Equal spans of the leaning wall: a trough's legs hold it, else only ties do."""
    if bed.wall.family == "trough":
        return np.minimum(bays, MOST_SPANS)
    return np.asarray(ties) + 1


def bows(
    bed: Bed,
    cases: Mapping[str, Push],
    span: Value,
    spans: Count,
    posts: GroundPosts | None = None,
) -> WallBow:
    """Bow, stress and forces of the long wall for some number of equal spans.

    Parameters
    ----------
    bed : Bed
    cases : dict of str to Push
        From :func:`bedcalc.walls.load_cases.pushes`.
    span : float or array
        Axis to axis of the end walls, m.
    spans : int or int array
        Equal spans between the ends and the ties; broadcasts, so that many numbers
        of ties are tried at once.
    posts : GroundPosts or None
        From :func:`bedcalc.walls.elastic_supports.ground_posts`: posts that hold the
        rim too.

    Returns
    -------
    WallBow
    """
    stack = members(bed)
    height = bed.si.soil_depth
    z = np.stack([np.broadcast_to(m.z, np.shape(height)) for m in stack])
    EI = np.stack([np.broadcast_to(m.EI, np.shape(height)) for m in stack])
    wood, push = stack[-1].wood, cases["soaked"].si
    # bow and moment grow with the load: once for a unit of it, then for every state
    _, _, s2 = rule.si(z, EI)
    ratio = 0.0 if posts is None else posts.spring * span**3 * height**2 / s2
    bays = 1 if posts is None else posts.bays
    c = posted_coefficients(spans, bays, ratio)
    bay = span / spans
    each = c.bow * height * bay**4 / s2
    # after years the wood gives ``creep`` times as much, posts in their own measure
    longer = wood.creep
    if posts is not None:
        old = ratio * wood.creep * posts.lasts
        longer = longer * posted_coefficients(spans, bays, old).bow / c.bow
    bow = {name: each * cases[name].si.moment for name in _BOWS}
    once, soaked = bow["moist"], bow["soaked"]
    wet = soaked - once
    loads = member_loads.si(z, EI, push.moment, push.total)
    # ribs that lie hand the push over post by post: at most a quarter more moment
    lying = 1.25 if bed.wall.family == "sheet" and bed.ribs_lying else 1.0
    factor = wood.load_factor * lying * c.moment * bay**2
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
    stress, strength = pick(stresses, worst), pick(strengths, worst)
    years = long_term_bow.si(once, soaked, longer)
    rim = push.top_load * bay
    return WallBow(
        active=bow["yielding"],
        once=once,
        soaked=soaked,
        years=years,
        low=2.0 * longer / wood.creep * bow["yielding"],
        high=3.0 * longer / wood.creep * once + wet,
        light=longer * bow["light"],
        heavy=longer * bow["heavy"] + wet,
        aim=bay / aim_parts(bed.straight),
        plain=bay / 120,
        past=(years > bay * SUMS_END * (1 + 1e-9)) | (stress > MOST_STRESS * strength),
        stress=stress,
        strength=strength,
        stresses=stresses,
        z=z,
        EI=EI,
        tie=rim * c.reaction_interior,
        corner=rim * c.reaction_end,
        post=rim * c.post,
        c=c,
        shape=lambda share: posted_shape(int(spans), int(bays), float(ratio), share),
        weakest=worst,
        members=stack,
        loads=loads,
        strengths=strengths,
    )


def top_name(found: WallBow) -> str:
    """Name of the top board or rail; the cap lies on it."""
    return [m.name for m in found.members if m.name != "cap"][-1]


def weakest_name(found: WallBow) -> str:
    """Name of the member that uses most of its strength; none for many designs."""
    weakest = found.weakest
    return "" if np.ndim(weakest) else found.members[int(weakest)].name


def pick(values: np.ndarray, index: Count) -> Value:
    """Select ``values[index[d], d]`` for every design d."""
    if not np.ndim(index):
        return values[int(index)]
    values = np.asarray(values)
    if values.ndim == 1:  # one design's, asked of many
        return values[index]
    return np.take_along_axis(values, np.expand_dims(index, 0), 0)[0]


def rail_capacity(member: WallMember, span: Value, spans: Count) -> Value:
    """Line load that one rail carries between supports, by bow and by strength.

    Parameters
    ----------
    member : WallMember
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
