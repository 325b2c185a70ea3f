"""What would put a verdict on the plot right: a bed moved, a reading left out, a rule.

A fix is tried by placing everything again; it works if its verdict then holds and
none that held has failed for it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from ..model.outcome import Check, Fix
from ..model.place import Survey
from ..tables import table
from ..units import Q_
from .checks import clashes, span, steep_gaps

if TYPE_CHECKING:  # names for an editor
    from ..model.bed import Bed
    from ..model.place import Place
    from ..site.bed_levels import SitePlan

__all__ = ["fixed", "with_fixes"]

_WAYS = {
    ("x", 1): "to the right",
    ("x", -1): "to the left",
    ("y", 1): "down the plan",
    ("y", -1): "up the plan",
}


def fixed(
    beds: Sequence[Bed], place: Place, change: Mapping[str, Any]
) -> tuple[tuple, Any]:
    """Beds and place once a fix of the plot is done.

    Parameters
    ----------
    beds : tuple of Bed
        As they stand.
    place : Place
        With its survey and levelling.
    change : mapping
        ``bed`` with ``x``, ``y`` or ``turned``; ``shift``, (x, y) for all beds;
        ``leave_out``, the index of a reading; ``rule`` of the levelling.

    Returns
    -------
    beds, place
    """
    if "shift" in change:
        x, y = change["shift"]
        beds = tuple(b.change(x=b.x + x, y=b.y + y) for b in beds)
    if "bed" in change:
        to = {k: change[k] for k in ("x", "y", "turned") if k in change}
        beds = tuple(b.change(**to) if b.name == change["bed"] else b for b in beds)
    if "leave_out" in change:
        rows = [
            tuple(float(v) for v in row)
            for i, row in enumerate(place.survey.points)
            if i != change["leave_out"]
        ]
        place = place.change(survey=Survey(readings=tuple(rows)))
    if "rule" in change:
        place = place.change(levelling=place.levelling.change(rule=change["rule"]))
    return beds, place


def with_fixes(
    plan: SitePlan, wheel: str, again: Callable[[Mapping[str, Any]], Any]
) -> tuple[Check, ...]:
    """The verdicts of a plan; what does not hold has the first move that fixes it.

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
        check
        if check.verdict == "holds"
        else check.with_fix(_first(plan, check, wheel, again))
        for check in plan.checks
    )


def _first(plan, check: Check, wheel: str, again) -> Fix | None:
    """The first move that works; the ground asks for no money."""
    held = {c.name for c in plan.checks if c.ok}
    for fix in _moves(plan, check.name, wheel):
        if not _stays(plan, fix.change):
            continue
        after = {c.name: c for c in again(fix.change).checks}
        done = after.get(check.name) is None or after[check.name].verdict == "holds"
        if done and all(after[name].ok for name in held if name in after):
            return replace(fix, trial=lambda: (0.0, True))
    return None


def _stays(plan, change: Mapping[str, Any]) -> bool:
    """Whether a moved bed stays on the plot; without a plot, on this side of zero."""
    if "bed" not in change:
        return True
    s = plan[change["bed"]].si
    x, y = (change[k].m_as("m") if k in change else getattr(s, k) for k in ("x", "y"))
    long_, wide = s.length, s.width
    if "turned" in change:
        long_, wide = wide, long_
    if not plan.outlined:
        return min(x, y) >= 0
    return plan.plot.contains(x, x + long_, y, y + wide)


def _moves(plan, name: str, wheel: str) -> Iterator[Fix]:
    if name in ("path", "slide"):
        yield from _wider(plan, name, table("paths")[wheel].width)
    if name == "standing":
        yield from _off(plan)
    if name == "readings" and plan.suspect is not None:
        at = plan.suspect.index
        yield Fix(says=f"Leave reading {at + 1} out", change={"leave_out": at})
    if name == "block":
        yield Fix(says="Dig instead: all cut", change={"rule": "all_cut"})
    if name == "contour":
        for bed in plan.beds:
            if bed.si.fall_along > bed.si.fall_across:
                change = {"bed": bed.name, "turned": not bed.turned}
                yield Fix(says=f"Turn bed {bed.name} by a quarter", change=change)


def _move(bed, axis: str, by: float) -> Fix:
    """A bed moved by at least so much, to the next 5 cm."""
    steps = -(-abs(by) // 0.05) if abs(by) % 0.05 > 1e-9 else abs(by) / 0.05
    way = 1 if by > 0 else -1
    to = round(getattr(bed.si, axis) + way * steps * 0.05, 4)
    far = "{by:depth}" if steps < 30 else "{by:size}"
    return Fix(
        says=f"Move bed {bed.name} {far} {_WAYS[axis, way]}",
        change={"bed": bed.name, axis: Q_(to, "m")},
        sizes={"by": Q_(steps * 0.05, "m")},
    )


def _wider(plan, name: str, needed: float) -> Iterator[Fix]:
    """The bed on either side of the narrowest path, moved away from it."""
    gaps = plan.gaps
    if name == "slide":
        gaps = steep_gaps(gaps, plan.si.slope_x, plan.si.slope_y)
    slid = {g.name: g.at_rims - g.width if name == "slide" else 0.0 for g in gaps}
    least = min(gaps, key=lambda g: g.width - slid[g.name])
    short = needed - least.width + slid[least.name]
    for bed, way in zip(least.between, (-1, 1), strict=True):
        yield _move(plan[bed], least.across, way * short)


def _off(plan) -> Iterator[Fix]:
    """A bed moved off what it stands on, the shortest way first."""
    plot = plan.plot
    for name in dict.fromkeys(
        bed for bed, _ in clashes(plan.beds, plot, plan.outlined)
    ):
        bed = plan[name]
        edges = {
            "x": sorted({x for x, _ in plot.outline}),
            "y": sorted({y for _, y in plot.outline}),
        }
        boxes = [(*span(o, 0), *span(o, 1)) for o in plan.beds if o is not bed]
        boxes += plot.blocked
        found = []
        for axis, ends in (("x", 0), ("y", 1)):
            low, high = span(bed, ends)
            if plan.outlined:
                for edge in edges[axis]:
                    found += [(axis, edge - low), (axis, edge - high)]
            for box in boxes:
                start, end = box[2 * ends : 2 * ends + 2]
                found += [(axis, start - high), (axis, end - low)]
            if plan.outlined and not plot.is_box:  # no edge need be square to an axis
                far = np.arange(0.25, max(plot.length, plot.width), 0.25)
                found += [(axis, float(by)) for by in (*far, *-far)]
        for axis, by in sorted(found, key=lambda f: abs(f[1])):
            if abs(by) > 1e-9:
                yield _move(bed, axis, by)
