"""Fixes of a wall, tried: every move a builder can make, what it does, what it costs.

Each move changes the bed and is evaluated the same way as the bed itself. A cure is a
move, or a few together, after which every check of the wall holds. How to use a bed
(sitting on the rim, standing on the fill, treading it in) has checks, but no cure here.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from ..assembly import posts_change
from ..cost import life_of
from ..evaluate import Outcome, evaluate
from ..model.bed import Bed, BedError, Wall
from ..model.outcome import Check, with_sizes
from ..model.place import Place
from ..tables import table
from ..units import Q_, from_si, show
from ..walls.fixes import DEPTHS, Move, set_posts, tie_words
from ..walls.fixes import moves as moves_of

__all__ = [
    "TIES_TRIED", "USE", "HowDeep", "Life", "TriedFix", "after_change", "as_wanted",
    "cheapest_cure", "cures", "first_to_fail", "how_deep", "stands", "wall_checks",
    "wall_fixes", "wall_life", "where_as_wanted",
]  # fmt: skip  # a list of names

#: checks of how the bed is used; a wall may stand without them
USE = ("sitting", "trodden", "treading")
#: numbers of ties at top and foot that are tried together
TIES_TRIED = tuple((int(top), int(foot)) for top in range(5) for foot in range(4))


def wall_checks(outcome: Outcome) -> tuple[Check, ...]:
    """Checks on which it hangs whether the wall stands, and how straight it stays."""
    return tuple(
        c for c in outcome.checks if c.chapter == "walls" and c.name not in USE
    )


def stands(outcome: Outcome) -> bool:
    """Whether the wall holds. A bow is no matter of strength, so it does not count."""
    return all(check.ok for check in wall_checks(outcome) if not check.straight)


def as_wanted(outcome: Outcome) -> bool:
    """Whether the wall holds and stays as straight as the reader wants it."""
    return all(check.ok for check in wall_checks(outcome))


def where_as_wanted(bed: Bed, place: Place) -> np.ndarray:
    """The same for a sweep over ties: of which of its designs it is true."""
    good = np.ones(np.shape(bed.ties), bool)
    for check in wall_checks(evaluate(bed, place)):
        good = good & check.ok
    return good


def after_change(bed: Bed, place: Place, change: Mapping[str, Any]) -> Outcome | None:
    """The outcome of a changed bed, or None where the bed cannot be so."""
    try:
        return evaluate(bed.change(**change), place)
    except BedError:
        return None


def first_to_fail(outcome: Outcome) -> Check:
    """What of the wall does not hold, worst first; else what bows more than wanted.

    Where all is well, the part that is nearest to its limit.
    """
    found = [c for c in wall_checks(outcome) if c.name != "height" or not c.ok]
    return min(found, key=lambda c: (c.ok, c.straight and not c.ok, -c.utilisation))


@dataclass(frozen=True, kw_only=True)
class TriedFix:
    """One move, or several together, and what the bed is like with it."""

    key: str
    says: str
    change: Mapping[str, Any]
    before: Outcome
    after: Outcome
    note: str = ""

    def sentence(self, system: str = "metric") -> str:
        """What is done, in the reader's units."""
        return with_sizes(self.says, self.change, system)

    @property
    def cost(self):
        """What the bed costs more (money)."""
        return from_si(self.after.cost.more_than(self.before.cost), "money")

    @cached_property
    def cures(self) -> bool:
        """Whether the wall holds with it, as straight as wanted."""
        return as_wanted(self.after)

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
    cost = outcome.cost
    lines = [n for n in (*cost.lines, *cost.unpriced) if n.part == "walls"]
    if not lines:  # every piece is of a size that the price list does not have
        nan = float("nan")
        return Life(low=nan, likely=nan, high=nan, what="not known")
    shortest = min(lines, key=life_of)
    low, likely, high = (
        float(life_of(shortest, case)) for case in ("short", "likely", "long")
    )
    row = table("service_life")
    goods = shortest.lasts_as or shortest.goods
    what = row[goods].name if goods in row else shortest.name
    return Life(low=low, likely=likely, high=high, what=what)


# ---- single moves


def _other_blocks(bed: Bed, place: Place, above: float) -> Iterator[Move]:
    """Other blocks for a wall of blocks, where they stand higher than its own."""
    if bed.wall.family != "blocks":
        return
    for row in table("walls"):
        if row.family != "blocks" or row.key == bed.wall.key:
            continue
        wall = Wall.named(row.key)
        course = wall.course.m_as("mm")
        for rows in range(int(np.ceil(bed.si.height * 1000 / course - 1e-9)), 0, -1):
            if rows * course < 1000 * above + course / 2:
                break
            change = {"wall": wall, "height": Q_(rows * course, "mm")}
            after = after_change(bed, place, change)
            if after is not None and as_wanted(after):
                act = f"Build it of {row.name}, {{height:depth}} high"
                yield f"build {row.key}", act, change, "Wider blocks narrow the inside."
                break


def _evaluated(before: Outcome, key, act, change, note="") -> TriedFix | None:
    """A move tried, or None where the bed cannot be so."""
    after = after_change(before.bed, before.place, change)
    if after is None:
        return None
    return TriedFix(
        key=key, says=act, change=change, before=before, after=after, note=note
    )


def wall_fixes(outcome: Outcome) -> tuple[TriedFix, ...]:
    """Every single move, tried, those that cure first, then by what they cost.

    Parameters
    ----------
    outcome : Outcome
        Of one bed.

    Returns
    -------
    tuple of TriedFix
    """
    bed, moves = outcome.bed, []
    if bed.wall.family in ("sheet", "boards", "sleepers"):
        for more in (1, 2):
            top, foot = bed.ties + more, bed.base_ties + 1
            if top <= 4:
                act = _said(tie_words(more, 0) + posts_change(bed, top))
                moves.append((f"tie {more}", act, {"ties": top}, ""))
            if more == 1 and foot <= 4:
                act = _said(tie_words(0, 1))
                moves.append(("foot 1", act, {"base_ties": foot}, ""))
    moves += list(moves_of(bed))
    found = [_evaluated(outcome, *move) for move in moves]
    deep = [t for t in (_evaluated(outcome, *m) for m in set_posts(bed)) if t]
    # the shallowest that does it, else two to compare
    does = [t for t in deep if t.cures][:1]
    found += does or [t for t in deep if t.key in ("deep 60", "deep 120")]
    return tuple(sorted(filter(None, found), key=_rank))


def _said(words: str) -> str:
    return words[:1].upper() + words[1:]


def _rank(tried: TriedFix) -> tuple:
    cost = float(tried.cost.m)
    unknown = np.isnan(cost)  # no price yet: fewest ties first
    return not tried.cures, unknown, _count(tried) if unknown else cost, tried.key


def cures(outcome: Outcome) -> tuple[TriedFix, ...]:
    """Ways to make the wall as it shall be, the cheapest first: a move, ties, or both.

    For every single move, and for none, the fewest ties on top and at the foot with
    which everything holds are found in one sweep; then that bed is evaluated. A move
    that needs as many ties as without it is left out. A bed that would drown is drained
    first: stronger timber is no fix for standing water.

    Parameters
    ----------
    outcome : Outcome
        Of one bed.

    Returns
    -------
    tuple of TriedFix
        Empty where nothing needs a fix, or where nothing that was tried helps.
    """
    if as_wanted(outcome):
        return ()
    found, always, said = [], {}, ""
    wet = outcome.check("waterlogged")
    if wet is not None and not wet.ok:  # no timber against standing water
        always, said = dict(wet.fix.change), wet.fix.says
    bed = outcome.bed.change(**always)
    alone = _with_ties(outcome, "drains" if always else "", said, always, "")
    if alone is not None:
        found.append(alone)
    fewest = _count(alone) if alone else np.inf

    def acts(act: str) -> str:
        return f"{said}, {act[:1].lower()}{act[1:]}" if said else act

    for key, act, change, note in moves_of(bed):
        tried = _with_ties(outcome, key, acts(act), always | change, note)
        build = key.startswith("build")
        if tried is not None and (build or _count(tried) < fewest):
            found.append(tried)
    lower = [c.after.bed.si.height for c in found if c.key.startswith("low")]
    own = max(lower, default=0.0)
    for move in _other_blocks(bed, outcome.place, float(own)):
        tried = _evaluated(outcome, *move)
        if tried is not None and tried.cures:
            found.append(tried)
    for key, act, change, note in set_posts(bed):
        tried = _with_ties(outcome, key, acts(act), always | change, note)
        if tried is not None and _count(tried) < fewest:
            found.append(tried)
            fewest = _count(tried)  # deeper posts are listed where they save a tie
    return tuple(sorted(found, key=_rank))


def cheapest_cure(
    outcome: Outcome, found: tuple[TriedFix, ...] = ()
) -> TriedFix | None:
    """The cheapest cure that keeps build and height, else the cheapest of all.

    ``found`` are the cures, where they are known already.
    """
    found = found or cures(outcome)
    kept = [c for c in found if not c.key.startswith(("build", "low"))]
    return next(iter(kept or found), None)


def _count(tried: TriedFix) -> int:
    bed, old = tried.after.bed, tried.before.bed
    return int(bed.ties + bed.base_ties - old.ties - old.base_ties)


def _with_ties(before: Outcome, key, act, change, note) -> TriedFix | None:
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
    more = tie_words(top - before.bed.ties, foot - before.bed.base_ties)
    if set(change) == {"ties", "base_ties"}:
        more += posts_change(before.bed, top)
    words = _said(", ".join(filter(None, (act, more)))) or "As it is"
    tried = _evaluated(before, key or "ties", words, change, note)
    return tried if tried is not None and tried.cures else None


def _fewest(bed: Bed, before: Outcome) -> tuple[int, int] | None:
    """Fewest ties on top and at the foot, in one sweep; never fewer than there are."""
    top, foot = np.array(TIES_TRIED).T
    good = (top >= before.bed.ties) & (foot >= before.bed.base_ties)
    good &= where_as_wanted(bed.change(ties=top, base_ties=foot), before.place)
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
        with_ties = _said(tie_words(own, 0) or "no tie on top")
        deep = self.depths[own]
        if deep is not None and deep.m == 0:
            return (
                "The posts may stand on the ground: corners and ties hold the rim, "
                "ties or the ground the foot."
            )
        if deep is not None:
            return f"{with_ties}: posts {show(deep, 'depth', system)} deep are enough."
        words = f"{with_ties}: not even posts "
        words += (
            f"{show(Q_(max(DEPTHS), 'cm'), 'depth', system)} deep can hold this wall."
        )
        better = [n for n, d in self.depths.items() if n > own and d is not None]
        if better:
            n, deep = better[0], self.depths[better[0]]
            do = "they may stand on the ground"
            if deep.m:
                do = f"{show(deep, 'depth', system)} is enough"
            words += f" With {tie_words(n, 0)} {do}."
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
    good = where_as_wanted(swept, outcome.place)
    found = {}
    for n in ties:
        does = deep[(tried == n) & good]
        found[int(n)] = Q_(int(does[0]), "cm") if len(does) else None
    return HowDeep(outcome=outcome, depths=found)
