"""Mends of a wall, tried: every move a builder can make, what it does, what it costs.

Each move changes the bed and is evaluated the same way as the bed itself. A cure is a
move, or a few together, after which every check of the wall holds. How to use a bed
(sitting on the rim, treading in the fill of a stacked wall) is told, not cured.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from .bed import Bed, BedError, Wall, strategy_layers
from .cost import life_of
from .evaluate import Outcome, evaluate
from .outcome import Check
from .tables import table
from .units import Q_, from_si, show

__all__ = [
    "DEPTHS", "USE", "HowDeep", "Life", "Tried", "cheapest_cure", "cures",
    "first_to_fail", "how_deep", "set_posts", "stands", "wall_checks", "wall_life",
    "wall_mends",
]  # fmt: skip

#: checks of how the bed is used; a wall may stand without them
USE = ("sitting", "treading")
#: how deep posts are set, in cm, where a mend sets them
DEPTHS = (30, 45, 60, 75, 90, 120)
#: numbers of ties at top and foot that are tried together
_TOP, _FOOT = np.arange(5), np.arange(4)


def wall_checks(outcome: Outcome) -> tuple[Check, ...]:
    """Checks on which it hangs whether the wall stands."""
    return tuple(
        c for c in outcome.checks if c.chapter == "walls" and c.name not in USE
    )


def stands(outcome: Outcome) -> bool:
    """Whether every check of the wall holds."""
    return all(check.ok for check in wall_checks(outcome))


def first_to_fail(outcome: Outcome) -> Check:
    """The check of the wall that is nearest to failing, or furthest past it."""
    found = [c for c in wall_checks(outcome) if c.name != "height" or not c.ok]
    return max(found, key=lambda check: check.utilisation)


@dataclass(frozen=True, kw_only=True)
class Tried:
    """One move, or several together, and what the bed is like with it."""

    key: str
    act: str
    change: Mapping[str, Any]
    before: Outcome
    after: Outcome
    note: str = ""

    @property
    def cost(self):
        """What the bed costs more (money)."""
        more = self.after.cost.si.total - self.before.cost.si.total
        return from_si(more, "money")

    @cached_property
    def cures(self) -> bool:
        """Whether the wall stands with it."""
        return stands(self.after)

    @property
    def bow(self):
        """Bow after years with it."""
        return self.after.walls.bow_years

    @cached_property
    def worst(self) -> Check:
        """What is then nearest to failing."""
        return first_to_fail(self.after)


@dataclass(frozen=True, kw_only=True)
class Life:
    """How long the wall lasts, in years, and what goes first."""

    low: float
    likely: float
    high: float
    what: str


def wall_life(outcome: Outcome) -> Life:
    """Years until the part of the wall that wears out first is worn out."""
    lines = [line for line in outcome.cost.lines if line.part == "walls"]
    shortest = min(lines, key=life_of)
    low, likely, high = (
        float(life_of(shortest, case)) for case in ("short", "likely", "long")
    )
    row = table("service_life")
    what = row[shortest.goods].name if shortest.goods in row else shortest.name
    return Life(low=low, likely=likely, high=high, what=what)


# ---- the moves


def _moves(bed: Bed) -> Iterator[tuple[str, str, dict, str]]:
    """Every single move but ties: key, act, change, what to know."""
    wall, family, s = bed.wall, bed.wall.family, bed.si
    if not bed.open_base:
        yield "drains", "Open the base, so that it drains", {"open_base": True}, ""
    if family == "sheet" and not bed.rail_lying:
        act = f"Turn the rails: {wall.rail_wide.m_as('mm'):.0f} mm against the push"
        yield "turn", act, {"rail_lying": True}, "The inside gets narrower."
    if family == "sheet" and wall.post_goods and wall.si.post > wall.si.rail_thin:
        size = f"{wall.post.m_as('mm'):.0f}"
        change = {
            "rail_thin": wall.post, "rail_wide": wall.post,
            "rail_goods": wall.post_goods, "rail_lying": False,
        }  # fmt: skip
        yield "deeper", f"Rails of {size} × {size} mm", change, ""
    if family == "sheet" and bed.ribs_lying:
        yield "upright", "Stand the ribs upright", {"ribs_lying": False}, ""
    if wall.si.cap_thick > 0 and not wall.cap_counts:
        act = "One long cap, screwed down from corner to corner"
        yield (
            "cap",
            act,
            {"cap_counts": True},
            "A cap joined at mid-length does nothing.",
        )
    if family == "boards" or (family == "sheet" and bed.ribs_lying):
        gap = 0.6 if wall.si.post_spacing > 0.65 else 0.4
        change = {"post_spacing": Q_(gap, "m")}
        note = "Posts that are not tied only pin the boards together."
        yield "posts", f"Posts every {gap * 100:.0f} cm", change, note
    if all(layer.material != "logs" for layer in bed.fill) and family != "trough":
        layers = strategy_layers("logs_chips_mix", Q_(33, "percent"))
        note = "The heavy mix stays on top, where it pushes with a long lever."
        yield "logs", "Logs in the lower third", {"fill": layers}, note
    if family not in ("trough", "blocks"):
        change = {"embedment": Q_(200, "mm")}
        yield "dig", "Dig it in 20 cm by hand", change, "Digging is not in the price."
    yield from _lower(bed, s)
    yield from _builds(bed)


def set_posts(bed: Bed) -> Iterator[tuple[str, str, dict, str]]:
    """Posts set into the ground, the shallowest first, deeper than they stand."""
    if bed.wall.family not in ("boards", "sheet") or not bed.wall.si.post:
        return
    for deep in DEPTHS:
        if deep > 100 * bed.si.post_depth + 1e-9:
            change = {"post_depth": Q_(10 * deep, "mm")}
            act = f"Set the posts {deep} cm deep"
            yield f"deep {deep}", act, change, "Digging the holes is not in the price."


def _lower(bed: Bed, s) -> Iterator[tuple[str, str, dict, str]]:
    """Lower walls: one course less, or two thirds; of blocks any number of courses."""
    course = bed.wall.si.course
    if bed.wall.family == "trough":
        return
    if not course:
        heights = [np.floor(s.height * 100 * 2 / 3) / 100]
    else:
        rows = int(np.ceil(s.height / course - 1e-9))
        fewest = rows - 1 if bed.wall.family != "blocks" else 1
        heights = [n * course for n in range(rows - 1, max(fewest, 1) - 1, -1)]
    for height in heights:
        change = {"height": Q_(round(float(height) * 1000), "mm")}
        yield f"low {height:.2f}", f"Build it {height * 100:.0f} cm high", change, ""


def _builds(bed: Bed) -> Iterator[tuple[str, str, dict, str]]:
    """The other builds of the same yard, of the same outside size."""
    for row in table("walls"):
        if row.key == bed.wall.key or row.yard != bed.wall.yard:
            continue
        if "trough" in (row.family, bed.wall.family):
            continue
        change = {"wall": Wall.named(row.key), "rail_lying": False}
        yield f"build {row.key}", f"Build it of {row.name}", change, ""


def _tie_words(top: int, foot: int) -> str:
    """Ties in words: ``one tie on top, one at the foot``."""
    names = ("no", "one", "two", "three", "four")
    parts = []
    if top:
        parts.append(f"{names[top]} {'tie' if top == 1 else 'ties'} on top")
    if foot:
        more = f"{names[foot]} at the foot"
        parts.append(
            more if top else f"{names[foot]} tie{'s' * (foot > 1)} at the foot"
        )
    return ", ".join(parts)


def _evaluated(before: Outcome, key, act, change, note="") -> Tried | None:
    """A move tried, or None where the bed cannot be so."""
    try:
        after = evaluate(before.bed.change(**change), before.place)
    except BedError:
        return None
    return Tried(key=key, act=act, change=change, before=before, after=after, note=note)


def wall_mends(outcome: Outcome) -> tuple[Tried, ...]:
    """Every single move, tried, those that cure first, then by what they cost.

    Parameters
    ----------
    outcome : Outcome
        Of one bed.

    Returns
    -------
    tuple of Tried
    """
    bed, moves = outcome.bed, []
    if bed.wall.family in ("sheet", "boards", "sleepers"):
        for more in (1, 2):
            top, foot = bed.ties + more, bed.base_ties + 1
            if top <= 4:
                act = _tie_words(more, 0)
                moves.append((f"tie {more}", _said(act), {"ties": top}, ""))
            if more == 1 and foot <= 4:
                act = _said(_tie_words(0, 1))
                moves.append(("foot 1", act, {"base_ties": foot}, ""))
    moves += list(_moves(bed))
    found = [_evaluated(outcome, *move) for move in moves]
    deep = [t for t in (_evaluated(outcome, *m) for m in set_posts(bed)) if t]
    # the shallowest that does it, else two to compare
    does = [t for t in deep if t.cures][:1]
    found += does or [t for t in deep if t.key in ("deep 60", "deep 120")]
    return tuple(sorted(filter(None, found), key=_rank))


def _said(words: str) -> str:
    return words[:1].upper() + words[1:]


def _rank(tried: Tried) -> tuple:
    return not tried.cures, float(tried.cost.m), tried.key


def cures(outcome: Outcome) -> tuple[Tried, ...]:
    """Ways to make the wall stand, the cheapest first: a move, ties, or both.

    For every single move, and for none, the fewest ties on top and at the foot with
    which everything holds are found in one sweep; then that bed is evaluated. A move
    that needs as many ties as without it is left out. A bed that would drown is drained
    first: stronger timber is no mend for standing water.

    Parameters
    ----------
    outcome : Outcome
        Of one bed.

    Returns
    -------
    tuple of Tried
        Empty where the wall stands, or where nothing that was tried helps.
    """
    if stands(outcome):
        return ()
    found, always, said = [], {}, ""
    wet = outcome.check("waterlogged")
    if wet is not None and not wet.ok:  # no timber against standing water
        always, said = {"open_base": True}, "Open the base, so that it drains"
    bed = outcome.bed.change(**always)
    alone = _with_ties(outcome, "drains" if always else "", said, always, "")
    if alone is not None:
        found.append(alone)
    fewest = _count(alone) if alone else np.inf
    for key, act, change, note in _moves(bed):
        acts = ", ".join(
            filter(None, (said, act[:1].lower() + act[1:] if said else act))
        )
        tried = _with_ties(outcome, key, acts, always | change, note)
        build = key.startswith("build")
        if tried is not None and (build or _count(tried) < fewest):
            found.append(tried)
    for key, act, change, note in set_posts(bed):
        acts = ", ".join(filter(None, (said, act)))
        tried = _with_ties(outcome, key, acts, always | change, note)
        if tried is not None and _count(tried) < fewest:
            found.append(tried)
            fewest = _count(tried)  # deeper posts are listed where they save a tie
    return tuple(sorted(found, key=_rank))


def cheapest_cure(outcome: Outcome, found: tuple[Tried, ...] = ()) -> Tried | None:
    """The cheapest cure that keeps build and height, else the cheapest of all.

    ``found`` are the cures, where they are known already.
    """
    found = found or cures(outcome)
    kept = [c for c in found if not c.key.startswith(("build", "low"))]
    return next(iter(kept or found), None)


def _count(tried: Tried) -> int:
    bed, old = tried.after.bed, tried.before.bed
    return int(bed.ties + bed.base_ties - old.ties - old.base_ties)


def _with_ties(before: Outcome, key, act, change, note) -> Tried | None:
    """A move with the fewest ties beside it that make the wall stand."""
    try:
        bed = before.bed.change(**change)
    except BedError:
        return None
    top = foot = 0
    if bed.wall.family in ("sheet", "boards", "sleepers"):
        needed = _fewest(bed, before)
        if needed is None:
            return None
        top, foot = needed
        change = dict(change) | {"ties": top, "base_ties": foot}
    elif not change:
        return None
    more = _tie_words(top - before.bed.ties, foot - before.bed.base_ties)
    words = _said(", ".join(filter(None, (act, more)))) or "As it is"
    tried = _evaluated(before, key or "ties", words, change, note)
    return tried if tried is not None and tried.cures else None


def _fewest(bed: Bed, before: Outcome) -> tuple[int, int] | None:
    """Fewest ties on top and at the foot, in one sweep; never fewer than there are."""
    top, foot = (grid.ravel() for grid in np.meshgrid(_TOP, _FOOT, indexing="ij"))
    swept = evaluate(bed.change(ties=top, base_ties=foot), before.place)
    good = (top >= before.bed.ties) & (foot >= before.bed.base_ties)
    for check in wall_checks(swept):
        good = good & check.ok
    if not good.any():
        return None
    best = min(np.flatnonzero(good), key=lambda i: (top[i] + foot[i], top[i]))
    return int(top[best]), int(foot[best])


# ---- how deep posts must go


@dataclass(frozen=True, kw_only=True)
class HowDeep:
    """How deep the posts must go, by the number of ties on top; None: no depth does."""

    outcome: Outcome
    depths: Mapping[int, Any]

    def sentence(self, system: str = "metric") -> str:
        """What a builder asks: into the ground, or may they stand on it?"""
        own = int(self.outcome.bed.ties)
        with_ties = _said(_tie_words(own, 0) or "no tie on top")
        deep = self.depths[own]
        if deep is not None and deep.m == 0:
            return (
                "The posts may stand on the ground: corners and ties hold the rim, "
                "ties or the ground the foot."
            )
        if deep is not None:
            return f"{with_ties}: posts {show(deep, 'depth', system)} deep will do."
        words = f"{with_ties}: no post holds this wall, be it "
        words += f"{show(Q_(max(DEPTHS), 'cm'), 'depth', system)} deep."
        better = [n for n, d in self.depths.items() if n > own and d is not None]
        if better:
            n, deep = better[0], self.depths[better[0]]
            do = "they may stand on the ground"
            if deep.m:
                do = f"{show(deep, 'depth', system)} will do"
            words += f" With {_tie_words(n, 0)} {do}."
        return words


def how_deep(outcome: Outcome, most: int = 4) -> HowDeep | None:
    """The shallowest posts with which the wall stands, for each number of ties.

    Parameters
    ----------
    outcome : Outcome
        Of one bed; its ties at the foot stay as they are.
    most : int
        Ties on top tried at most.

    Returns
    -------
    HowDeep or None
        None for a build without posts to set.
    """
    bed = outcome.bed
    if bed.wall.family not in ("boards", "sheet") or not bed.wall.si.post:
        return None
    known = [d for d in (0, *DEPTHS) if bed.si.height + d / 100 <= 2.3]
    ties = np.arange(int(bed.ties), max(most, int(bed.ties)) + 1)
    tried, deep = (g.ravel() for g in np.meshgrid(ties, known, indexing="ij"))
    swept = bed.change(ties=tried, post_depth=Q_(deep.astype(float), "cm"))
    good = np.ones(tried.shape, bool)
    for check in wall_checks(evaluate(swept, outcome.place)):
        good = good & check.ok
    found = {}
    for n in ties:
        does = deep[(tried == n) & good]
        found[int(n)] = Q_(int(does[0]), "cm") if len(does) else None
    return HowDeep(outcome=outcome, depths=found)
