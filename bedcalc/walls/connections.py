"""What joins a wall of boards: pulled screws, posts that bend, a bored rail."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from bedcalc.assembly import SCREWS_UP
from bedcalc.model.bed import Bed
from bedcalc.model.outcome import Check
from bedcalc.tables import table
from bedcalc.units import Count, Value, from_si

from .beams import MOST_SPANS, span_coefficients, uniform_moment
from .detail_checks import HeldScrew, corner_screw
from .elastic_supports import post_wood
from .fasteners import design_joint_en, withdrawal_en
from .fasteners_us import adjusted_us, screw_withdrawal_us
from .framed_wall import WallMember, pick
from .load_cases import mean_pressure, push_on
from .material import material
from .timber import section_modulus, section_modulus_bored

if TYPE_CHECKING:  # names for an editor
    from ..assembly.layout import Layout
    from ..walls.framed_wall import WallBow
    from ..walls.load_cases import Push

__all__ = ["joined_checks", "pulled_screw"]


def _check(**given) -> Check:
    return Check(chapter="walls", detail=True, **given)


def joined_checks(
    bed: Bed, plan: Layout, cases: Mapping[str, Push], found: WallBow
) -> list[Check]:
    """Verdicts of detail of what holds the boards, the posts and the bored rail."""
    family, checks = bed.wall.family, []
    several = np.any(np.asarray(plan.bays) > 1)
    if family in ("boards", "trough") and several:
        checks.append(_board(bed, plan, cases, found))
        pulled = _screws(bed, plan, cases, found)
        if pulled is not None:
            checks.append(pulled)
    if family == "boards" and several:
        checks.append(_post(bed, plan, cases, found))
    if family != "trough" and np.any(np.asarray(bed.ties) > 0):
        checks.append(_hole(bed, found))
    return checks


def _top(found):
    """Index of the top board or rail; a lower wall of a sweep has fewer of them."""
    faces = [m.face for m in found.members if m.name != "cap"]
    shape = np.shape(found.stresses[0])
    real = np.stack([np.broadcast_to(np.asarray(f) > 1e-6, shape) for f in faces])
    return np.sum(real, axis=0) - 1


class _Lowest(NamedTuple):
    """A board, its load (N/m) and the bays it runs over."""

    board: WallMember
    load: Value
    bays: Count


def _lowest(bed: Bed, plan, cases, found) -> _Lowest:
    """The lowest board and its soaked push, over the bays between posts."""
    board = found.members[0]
    load = mean_pressure(cases["soaked"].si, board.face) * board.face
    return _Lowest(board, load, np.minimum(plan.bays, MOST_SPANS))


def _board(bed: Bed, plan, cases, found) -> Check:
    """The strength of the lowest board between two posts."""
    low = _lowest(bed, plan, cases, found)
    moment = uniform_moment.si(low.load, plan.post_gap * low.bays, low.bays)
    wood = low.board.wood
    return _check(
        name="board",
        part=low.board.name,
        says="Between two posts the lowest board uses {percent} of its strength.",
        demand=from_si(wood.load_factor * moment / low.board.S, "MPa"),
        capacity=from_si(wood.bending + 0.0 * moment, "MPa"),
        kind="stress",
        source=wood.source,
        note="Soaked: the mean push over its face, over the bays between posts.",
    )


def pulled_screw(wood: str, thickness: float) -> HeldScrew | None:
    """The screw of a board this thick, and what one holds when it is pulled out.

    Parameters
    ----------
    wood : str
        Key of data/woods.csv, of the post that it is driven into.
    thickness : float
        Of the board, m.

    Returns
    -------
    HeldScrew or None
        None where no screw of the tables reaches six diameters into the post.
    """
    screw = corner_screw(wood, thickness)
    if screw is None:
        return None
    row, grade = screw.row, table("woods")[wood].strength_class
    deep = min(row.length - thickness, getattr(row, "thread", np.inf))
    if screw.route == "en":
        density = table("timber_en")[grade].rho_k
        each = withdrawal_en.si(row.key, deep, density)
        each = design_joint_en.si(each, "permanent")
    else:
        known = "sp_no2_4" if grade == "sp_no2" else grade
        gravity = table("timber_us")[known].G
        each = screw_withdrawal_us.si(gravity, row.diameter) * deep
        each = adjusted_us.si(each, table("durations_us")["permanent"].CD)
    return replace(screw, each=float(each))


def _screws(bed: Bed, plan, cases, found) -> Check | None:
    """Boards sit outside their posts: the fill pulls their screws out."""
    low = _lowest(bed, plan, cases, found)
    screw = pulled_screw(post_wood(bed), float(low.board.thickness))
    if screw is None:
        return None
    pull = low.load * plan.post_gap * span_coefficients(low.bays).reaction_interior
    pulls = [pull]
    boards = [
        load
        for m, load in zip(found.members, found.loads, strict=True)
        if m.name != "cap"
    ]
    if bed.wall.family == "boards":
        bay = plan.span / (np.asarray(bed.ties) + 1)
        # a tie's plate bears on the top board; the next one hangs on its screws
        top = _top(found)
        loads = np.stack(boards)
        under = np.where(top > 0, pick(loads, np.maximum(top - 1, 0)), 0.0)
        tied = under * bay * found.c.reaction_interior * (np.asarray(bed.ties) > 0)
        sunk = pick(loads, top) * bay * found.c.post
        pulls += [tied, sunk]
        pull = np.maximum(pull, np.maximum(tied, sunk))
    holds = len(SCREWS_UP) * screw.each
    return _check(
        name="screws",
        part=f"screws of {_pulled(found, *pulls)}",
        says=f"At a post the screws of a board are pulled with {{demand}}; "
        f"{len(SCREWS_UP)} screws {screw.name} hold {{capacity}}.",
        demand=from_si(pull * low.board.wood.load_factor, "kN"),
        capacity=from_si(holds + 0.0 * pull, "kN"),
        kind="force",
        source="en1995" if screw.route == "en" else "nds_2018",
        note="Soaked; the boards sit outside the posts, so the screws work against "
        "being pulled out. As many as bill and build sheet count at each post.",
    )


def _pulled(found, low, *top) -> str:
    """Name of the board whose screws are pulled most: lowest, next to top, or top."""
    names = [m.name for m in found.members if m.name != "cap"]
    if not top or np.ndim(low):
        return names[0]
    tied, sunk = top
    if low >= max(tied, sunk):
        return names[0]
    return names[-1] if sunk >= tied else names[-2]


def _post(bed: Bed, plan, cases, found) -> Check:
    """A post of a board wall, bent by what each board hands on to it."""
    push, size = cases["soaked"].si, bed.wall.si.post
    wall, height = bed.wall.si, bed.si.soil_depth
    wood = material(post_wood(bed), size, size)
    boards = [
        (m, load)
        for m, load in zip(found.members, found.loads, strict=True)
        if m.name != "cap"
    ]
    bay, tied = plan.span / (np.asarray(bed.ties) + 1), np.asarray(bed.ties) > 0
    free, held = [], []
    for i, (_, load) in enumerate(boards):
        low = np.minimum(i * wall.course, height)
        high = np.minimum((i + 1) * wall.course, height)
        given = (push_on(push, low, high) - load) * plan.post_gap
        free.append(given)
        held.append(given + load * bay * found.c.reaction_interior)
    z = [m.z for m, _ in boards]
    worst = 0.0 * plan.post_gap
    for j, at in enumerate(z):
        over = range(j + 1, len(z))
        loose = sum((free[i] * (z[i] - at) for i in over), 0.0 * worst)
        kept = sum((held[i] * (z[i] - at) for i in over), 0.0 * worst)
        kept = np.where(tied, kept - found.tie * (height - at), 0.0)
        worst = np.maximum(worst, np.maximum(np.abs(loose), np.abs(kept)))
    return _check(
        name="post bends",
        part="middle posts",
        says="Bent by the boards, a post uses {percent} of the strength of its wood.",
        demand=from_si(
            wood.load_factor * worst / section_modulus.si(size, size), "MPa"
        ),
        capacity=from_si(wood.bending + 0.0 * worst, "MPa"),
        kind="stress",
        source=wood.source,
        note="Soaked. A post hands the push from the lower boards to the upper ones, "
        "and to the tie where there is one.",
    )


def _hole(bed: Bed, found) -> Check:
    """The rod of a tie is bored through the top board or rail, where it bends most."""
    at, hole = _top(found), table("plates")["50x50x5"].hole
    rail = found.members[int(np.max(at))]
    members = [m for m in found.members if m.name != "cap"]
    shape = np.shape(found.stresses[0])
    more = [
        np.broadcast_to(
            m.S
            / np.maximum(section_modulus_bored.si(m.face, m.thickness, hole), 1e-12),
            shape,
        )
        for m in members
    ]
    stress = pick(np.stack(list(found.stresses[: len(members)])) * np.stack(more), at)
    return _check(
        name="hole",
        part=rail.name,
        says=f"At the rod's hole the {rail.name} uses {{percent}} of its strength.",
        demand=from_si(stress, "MPa"),
        capacity=from_si(pick(found.strengths[: len(members)], at), "MPa"),
        kind="stress",
        source=rail.wood.source,
        note="Soaked; a hole of 11 mm in the middle of the face, at the tie.",
    )
