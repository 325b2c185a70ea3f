"""Verdicts on the plot: demand, capacity and source, as of every other chapter.

They read the numbers of a plan; what would put them right is looked for in
:mod:`bedcalc.site.fixes`.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from ..model.outcome import Check, named
from ..tables import table
from ..units import Q_, from_si
from .levelling import slope_advice
from .survey import Outlier

if TYPE_CHECKING:  # names for an editor
    from ..model.plot import Plot
    from ..site.bed_levels import Gap, PlacedBed

__all__ = ["clashes", "given", "span", "verdicts_on"]


ENOUGH = 4  # readings that check each other: three always fit one plane
_SLOPING = 0.02  # slope from which it matters how a bed lies


def given(key: str) -> float:
    """A size of data/levelling.csv, in metres."""
    return table("levelling")[key].size


def span(bed: PlacedBed, axis: int) -> tuple[float, float]:
    """From where to where a placed bed reaches, along x (0) or y (1)."""
    s = bed.si
    return (s.x, s.x + s.length) if axis == 0 else (s.y, s.y + s.width)


def _check(name, says, demand, capacity, kind, source="common_practice", **more):
    return Check(
        name=name,
        says=says,
        demand=demand,
        capacity=capacity,
        kind=kind,
        chapter="site",
        source=source,
        **more,
    )


def verdicts_on(si: dict, wheel: str) -> tuple[Check, ...]:
    """All verdicts on a plan.

    Parameters
    ----------
    si : dict
        Numbers of the plan, in SI.
    wheel : str
        Row of data/paths.csv that every path should let through.
    """
    beds, gaps = si["beds"], si["gaps"]
    found = [_slope_check(si) if si["measured"] else _unmeasured()]
    found += _reading_checks(si)
    if beds and si["measured"]:
        found += _trench_checks(beds)
        if si["slope"] > _SLOPING:
            found.append(_contour(beds))
    if beds:
        found.append(_standing(si))
    if gaps:
        found += _path_checks(gaps, table("paths")[wheel], si)
    rule = table("route_rules")["cross"]
    if wheel == "wheelchair" and si["measured"]:
        found.append(
            _check(
                "cross",
                "The ground falls {demand} across the paths along the contour; a "
                "wheelchair route allows {capacity}, so these paths must be graded.",
                from_si(max(abs(si["slope_x"]), abs(si["slope_y"])), "percent"),
                rule.q("value"),
                "slope",
                rule.source,
            )
        )
    return tuple(found)


def _watch(name: str, says: str, have: int) -> Check:
    """A verdict that is open until enough was read."""
    return _check(
        name,
        says,
        from_si(float(ENOUGH - have), ""),
        from_si(float(ENOUGH), ""),
        "ratio",
        aim=0.0,
    )


def _unmeasured() -> Check:
    return _watch(
        "slope",
        "Not measured: taken as level. Read how far the ground lies below a level line "
        "at three points or more, better four, such as the corners of the plot. Until "
        "then nobody knows how deep to dig, which way water runs, or how steep the "
        "paths are.",
        0,
    )


def _trench_checks(beds) -> list[Check]:
    deepest = max(beds, key=lambda bed: bed.si.dig.max())
    gravel = " with its gravel" if deepest.si.gravel > 0 else ""
    found = [
        _check(
            "trench",
            f"The deepest corner, of bed {named(deepest.name)}, is {{demand}}{gravel}; "
            "up to {capacity} you dig without more thought.",
            from_si(float(deepest.si.dig.max()), "mm"),
            from_si(given("deep"), "mm"),
            "depth",
        )
    ]
    tallest = max(beds, key=lambda bed: bed.si.block)
    if tallest.si.block > 1e-6:
        found.append(
            _check(
                "block",
                f"Bed {named(tallest.name)} stands on {{demand}} of block; "
                "one block, {capacity}, is the most without an engineer. Above "
                "that: step it, turn it, or terrace.",
                from_si(tallest.si.block, "mm"),
                from_si(given("block"), "mm"),
                "depth",
            )
        )
    return found


def _contour(beds) -> Check:
    """Whether the long sides lie along the contour rather than down the slope."""
    worst = max(beds, key=lambda bed: bed.si.fall_along - bed.si.fall_across)
    along, across = worst.si.fall_along, worst.si.fall_across
    says = "Every bed lies with its long side along the contour, as near as it can."
    if along > across:
        says = (
            f"The long side of bed {named(worst.name)} runs down the slope: of a fall "
            "of {capacity} it takes {demand}. Turned, it needs a shallower trench."
        )
    return _check(
        "contour",
        says,
        from_si(along, "percent"),
        from_si(float(np.hypot(along, across)), "percent"),
        "slope",
        aim=float(np.sqrt(0.5)),
    )


def _path_checks(gaps, row, si: dict) -> list[Check]:
    """The narrowest path, as set out and as it would be if set by a tilted rim."""
    who = "two people side by side need" if row.key == "two" else f"a {row.name} needs"
    least = min(gaps, key=lambda gap: gap.width)
    needed = from_si(row.width, "cm")
    found = [
        _check(
            "path",
            f"The narrowest path is {named(least.name)}, {{capacity}}; {who} "
            "{demand}.",
            needed,
            from_si(max(least.width, 1e-6), "cm"),
            "depth",
            row.source,
        )
    ]
    down = steep_gaps(gaps, si["slope_x"], si["slope_y"])
    if down:
        least = min(down, key=lambda gap: 2 * gap.width - gap.at_rims)
        slid = least.at_rims - least.width
        low = named(least.lower)
        found.append(
            _check(
                "slide",
                f"Set by its rim while it lies on the slope, bed {low} would slide "
                f"into the path {named(least.name)} until {{capacity}} is left; {who} "
                "{demand}. Set it by pegs in the ground.",
                needed,
                from_si(max(least.width - slid, 1e-6), "cm"),
                "depth",
                row.source,
            )
        )
    return found


def steep_gaps(gaps: Sequence[Gap], slope_x: float, slope_y: float) -> list:
    """Paths with one bed above and one below them, along the steeper axis."""
    steep = "x" if abs(slope_x) > abs(slope_y) else "y"
    return [gap for gap in gaps if gap.across == steep and gap.lower is not None]


def _slope_check(si: dict) -> Check:
    row = slope_advice(si["slope"])
    way = f" {si['way']}" if si["slope"] > 1e-4 else ""
    return _check(
        "slope",
        f"The ground falls {{demand}}{way}: {row.name}. {row.do}",
        from_si(si["slope"], "percent"),
        Q_(20, "percent"),
        "slope",
        row.source,
    )


def _reading_checks(si: dict) -> list[Check]:
    found = []
    count = len(si["points"])
    if 0 < count < ENOUGH:
        found.append(
            _watch(
                "readings",
                "Three readings always fit one plane, so they check nothing: a slip of "
                "the tape stays hidden. Read a fourth point.",
                count,
            )
        )
    odd: Outlier | None = si["suspect"]
    allowed = from_si(given("twist"), "mm")
    if odd is not None:
        sizes = {}
        says = (
            "The worst reading is {demand} off. Up to {capacity} is normal: a bump, "
            "or the tape."
        )
        if odd.doubtful:
            x, y, down = si["points"][odd.index]
            says = (
                f"Reading {odd.index + 1}, at x {{x:size}} and y {{y:size}}, says "
                "{down:reading}; the others say {expected:reading} there. It is "
                "{demand} off; {capacity} would pass. Read that point again."
            )
            sizes = {"x": x, "y": y, "down": down, "expected": odd.expected}
        found.append(
            _check(
                "readings",
                says,
                from_si(abs(odd.off), "mm"),
                allowed,
                "bow",
                "computed",
                sizes=sizes,
            )
        )
    elif len(si["points"]) == 4:
        twist = float(np.abs(si["residuals"]).max())
        found.append(
            _check(
                "readings",
                "The four readings are {demand} off one plane; up to {capacity} is a "
                "bump or the tape.",
                from_si(twist, "mm"),
                allowed,
                "bow",
                "computed",
            )
        )
    if si["repeat"] is not None:
        found.append(
            _check(
                "loop",
                "The point that was read twice differs by {demand}; past {capacity} "
                "measure again.",
                from_si(si["repeat"], "mm"),
                from_si(given("loop"), "mm"),
                "bow",
            )
        )
    return found


def clashes(
    beds: Sequence[PlacedBed], plot: Plot, outlined: bool = True
) -> list[tuple[str, str]]:
    """Each bed that stands on a bed or a thing, or over the edge: (bed, on what)."""
    found = []
    for i, bed in enumerate(beds):
        (x0, x1), (y0, y1) = span(bed, 0), span(bed, 1)
        if outlined and not plot.contains(x0, x1, y0, y1):
            found.append((bed.name, "over the edge of the plot"))
        others = [(f"on bed {o.name}", *span(o, 0), *span(o, 1)) for o in beds[i + 1 :]]
        things = [(f"on the {t.name}", *t.box) for t in plot.things if t.in_the_way]
        for name, left, right, top, bottom in (*others, *things):
            if left < x1 - 1e-9 and right > x0 + 1e-9 and top < y1 and bottom > y0:
                found.append((bed.name, name))
    return found


def _standing(si: dict) -> Check:
    """Whether a bed stands on another one, on a thing, or outside the plot."""
    found = clashes(si["beds"], si["plot"], si["outlined"])
    says = "No bed stands on another, on a thing, or over the edge."
    if not si["outlined"]:
        says = (
            "No bed stands on another. No plot outline given: nobody can say whether "
            "all stand inside it."
        )
    if found:
        words = "; bed ".join(named(f"{bed} stands {on}") for bed, on in found)
        says = f"Bed {words}. Move it."
    return _check(
        "standing",
        says,
        from_si(float(len(found)), ""),
        from_si(0.5, ""),
        "ratio",
        "computed",
    )
