"""What would put a verdict on the plot right: a bed moved, a reading left out, a rule.

A mend is tried by placing everything again; it works if its verdict then holds and
none that held has failed for it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from typing import Any

from ..outcome import Check, Mend
from ..place import Survey
from ..tables import table
from ..units import Q_, show
from .verdicts import clashes, span

__all__ = ["mended", "with_mends"]

_WAYS = {("x", 1): "to the right", ("x", -1): "to the left",
         ("y", 1): "downhill", ("y", -1): "uphill"}  # fmt: skip


def mended(beds, place, rule: str, limit, change: Mapping[str, Any]) -> dict[str, Any]:
    """Beds, place, rule and limit once a mend of the plot is done.

    Parameters
    ----------
    beds : tuple of Bed
        As they stand.
    place : Place
        With its survey.
    rule : str
        How the underside is found.
    limit : quantity [m] or None
        Deepest trench of the limited rule.
    change : mapping
        ``bed`` with ``x`` or ``y``; ``down``, all beds downhill; ``leave_out``, the
        index of a reading; ``rule``.
    """
    if "down" in change:
        beds = tuple(b.change(y=b.y + change["down"]) for b in beds)
    if "bed" in change:
        to = {k: change[k] for k in ("x", "y") if k in change}
        beds = tuple(b.change(**to) if b.name == change["bed"] else b for b in beds)
    if "leave_out" in change:
        rows = [
            tuple(float(v) for v in row)
            for i, row in enumerate(place.survey.points)
            if i != change["leave_out"]
        ]
        place = place.change(survey=Survey(readings=tuple(rows)))
    return {
        "beds": beds, "place": place, "rule": change.get("rule", rule), "limit": limit,
    }  # fmt: skip


def with_mends(
    plan, wheel: str, again: Callable[[Mapping[str, Any]], Any]
) -> tuple[Check, ...]:
    """The verdicts of a plan, those that fail with the first move that mends them.

    Parameters
    ----------
    plan : SitePlan
        As it is.
    wheel : str
        Row of data/paths.csv that every path should let through.
    again : function
        Plans again after a change.
    """
    return tuple(
        check if check.ok else check.with_mend(_first(plan, check, wheel, again))
        for check in plan.checks
    )


def _first(plan, check: Check, wheel: str, again) -> Mend | None:
    """The first move that works; the ground asks for no money."""
    held = {c.name for c in plan.checks if c.ok}
    for mend in _moves(plan, check.name, wheel):
        after = {c.name: c.ok for c in again(mend.change).checks}
        if all(after.get(name, True) for name in (check.name, *held)):
            return replace(mend, trial=lambda: (0.0, True))
    return None


def _moves(plan, name: str, wheel: str) -> Iterator[Mend]:
    if name in ("path", "slide"):
        yield from _wider(plan, name, table("paths")[wheel].width)
    if name == "standing":
        yield from _off(plan)
    if name == "readings" and plan.suspect is not None:
        at = plan.suspect.index
        yield Mend(act=f"Leave reading {at + 1} out", change={"leave_out": at})
    if name == "block":
        yield Mend(act="Dig instead: all cut", change={"rule": "all_cut"})


def _move(bed, axis: str, by: float) -> Mend:
    """A bed moved by at least so much, to the next 5 cm."""
    steps = -(-abs(by) // 0.05) if abs(by) % 0.05 > 1e-9 else abs(by) / 0.05
    way = 1 if by > 0 else -1
    to = round(getattr(bed.si, axis) + way * steps * 0.05, 4)
    far = show(steps * 0.05, "depth" if steps < 30 else "size")
    act = f"Move bed {bed.name} {far} {_WAYS[axis, way]}"
    return Mend(act=act, change={"bed": bed.name, axis: Q_(to, "m")})


def _wider(plan, name: str, needed: float) -> Iterator[Mend]:
    """The bed on either side of the narrowest path, moved away from it."""
    gaps = [g for g in plan.gaps if name == "path" or g.across == "y"]
    slid = {g.name: g.at_rims - g.width if name == "slide" else 0.0 for g in gaps}
    least = min(gaps, key=lambda g: g.width - slid[g.name])
    short = needed - least.width + slid[least.name]
    for bed, way in zip(least.between, (-1, 1), strict=True):
        yield _move(plan[bed], least.across, way * short)


def _off(plan) -> Iterator[Mend]:
    """A bed moved off what it stands on, the shortest way first."""
    yard = plan.yard
    for name in dict.fromkeys(bed for bed, _ in clashes(plan.beds, yard)):
        bed = plan[name]
        others = [(*span(o, 0), *span(o, 1)) for o in plan.beds if o is not bed]
        boxes = [t.box for t in yard.things if t.in_the_way]
        found = []
        for axis, ends, far in (("x", 0, yard.length), ("y", 1, yard.width)):
            low, high = span(bed, ends)
            found += [(axis, -low), (axis, far - high)]
            for box in (*others, *boxes):
                start, end = box[2 * ends : 2 * ends + 2]
                found += [(axis, start - high), (axis, end - low)]
        for axis, by in sorted(found, key=lambda f: abs(f[1])):
            if abs(by) > 1e-9:
                yield _move(bed, axis, by)
