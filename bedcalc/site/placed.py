"""Placed: every bed where it stands on the slope, and the paths between them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..bed import Bed
from ..outcome import Amount, Check, Part, Plain
from ..place import Place
from ..tables import Row, table
from ..units import Q_, from_si, show, to_si
from .follow import _plane
from .level import (
    along_ground,
    cut_and_fill,
    depths_under,
    exposed_wall,
    loosened,
    plan_shortening,
    rim_shift,
    slope_advice,
    steps_needed,
    strip_volume,
    underside,
)
from .plane import Suspect, repeat_gap, suspect
from .setout import diagonal
from .yard import Yard, yard_of

__all__ = ["Gap", "PlacedBed", "SitePlan", "plan_site"]


def _given(key: str) -> float:
    return table("levelling")[key].size


class PlacedBed(Part):
    """One bed in its trench; corners uphill-left and round."""

    name = Plain("Name of the bed")
    title = Plain("What it is for")
    rule = Plain("Rule for the underside")
    advice = Plain("Row of data/slopes.csv for the fall across it")
    length = Amount("m", "Outside length, along x", "size")
    width = Amount("m", "Outside width, along y", "size")
    height = Amount("mm", "Height of the box over its underside", "stock")
    x = Amount("m", "Uphill-left corner, along the contour", "size")
    y = Amount("m", "Uphill-left corner, down the slope", "size")
    corners = Plain("Corners in plan (4, 2) in metres")
    ground = Amount("m", "Elevation of the ground at the corners", "size")
    underside = Amount("m", "Elevation of the underside", "size")
    staff = Amount("m", "Reading down from the datum at the underside", "size")
    depths = Amount("mm", "Trench depth at the corners, below zero a block", "stock")
    exposed = Amount("mm", "Wall above the ground at the corners", "stock")
    fall = Amount("mm", "Difference between deepest and lowest corner", "stock")
    fall_across = Amount("percent", "Fall of the ground down the short side", "slope")
    block = Amount("mm", "Highest block, 0 if none", "stock")
    cut = Amount("m^3", "Ground dug out under the whole bed, as it lies", "volume")
    fill = Amount("m^3", "Ground filled in under the bed", "volume")
    strip = Amount("m^3", "Ground dug out if only strips are dug", "volume")
    heap = Amount("m^3", "The cut as it lies on a heap", "volume")
    diagonal = Amount("mm", "What both diagonals measure", "stock")
    shift = Amount("mm", "How far the rim moves uphill when made level", "stock")
    shorten = Amount("mm", "How much narrower it looks while it lies tilted", "stock")
    steps = Plain("Level parts down the slope that the fall asks for")


@dataclass(frozen=True, kw_only=True)
class Gap:
    """A path between two beds, in metres.

    ``across`` is ``x`` if one walks down the slope in it, ``y`` if along the contour.
    ``start`` to ``end`` is its length; ``tape`` is what a tape laid on the ground
    reads; ``at_rims`` is what one measures between the rims while the lower bed still
    lies on the slope; ``fits`` is the row of data/paths.csv that just fits.
    """

    name: str
    between: tuple[str, str]
    across: str
    width: float
    at: tuple[float, float]
    start: float
    end: float
    tape: float
    at_rims: float
    fits: Row | None


class SitePlan(Part):
    """The plot with all its beds."""

    yard = Plain("The plot")
    points = Plain("Readings (n, 3): x, y, down, in metres")
    residuals = Amount("mm", "Reading by reading, off the plane (up positive)", "fine")
    plane = Plain("Ground z = a + b x + c y, as (a, b, c)")
    slope_x = Amount("percent", "Rise along x", "slope")
    slope_y = Amount("percent", "Rise along y, downhill", "slope")
    slope = Amount("percent", "Steepest slope", "slope")
    one_in = Plain("The slope as 1 in n")
    turned = Amount("deg", "Between the rows and the true contour")
    fit_error = Amount("mm", "Spread of the readings round the plane (n - 3)", "fine")
    suspect = Plain("The reading the others do not bear out, or None")
    repeat = Amount("mm", "Difference of a point that was read twice, or None", "fine")
    beds = Plain("Beds in their trenches")
    gaps = Plain("Paths between neighbours")
    cut = Amount("m^3", "Ground dug out under all beds, as it lies", "volume")
    heap = Amount("m^3", "The same on a heap", "volume")
    bed_share = Amount("percent", "Beds over plot", "percent")
    growing_share = Amount("percent", "Growing area over plot", "percent")
    checks = Plain("Verdicts on the plan")

    def __getitem__(self, name: str) -> PlacedBed:
        """The bed of this name."""
        return next(bed for bed in self.beds if bed.name == name)


def plan_site(
    beds, place: Place, yard: Yard | None = None, *, rule: str = "all_cut", limit=None,
    wheel: str = "barrow",
) -> SitePlan:  # fmt: skip
    """Place all beds on the ground that was measured.

    Parameters
    ----------
    beds : sequence of Bed
        Each with its ``x`` and ``y``.
    place : Place
        With the survey.
    yard : Yard or None
        The plot; what the place says of it if None.
    rule : str
        ``all_cut``, ``limited`` or ``balanced``.
    limit : quantity [m] or None
        Deepest trench of the limited rule; 150 mm if None.
    wheel : str
        Row of data/paths.csv that every path should let through.

    Returns
    -------
    SitePlan
    """
    yard = yard or yard_of(place)
    a, b, c, residuals = _plane(place.survey)
    points = place.survey.points
    slope = float(np.hypot(b, c))
    deep = 0.15 if limit is None else to_si(limit, "m", "limit")
    placed = tuple(_place(bed, (a, b, c), rule, deep) for bed in beds)
    gaps = _gaps(placed, (b, c))
    odd = suspect(points)
    repeat = repeat_gap(points)
    outside = sum(bed.si.length * bed.si.width for bed in placed)
    inside = sum(bed.si.inside_length * bed.si.inside_width for bed in beds)
    cut = sum(bed.si.cut for bed in placed)
    si = dict(
        yard=yard, points=points, residuals=residuals, plane=(a, b, c), slope_x=b,
        slope_y=c, slope=slope, one_in=1 / slope if slope > 1e-9 else np.inf,
        turned=float(np.arctan2(b, -c)) if slope > 1e-9 else 0.0,
        fit_error=float(np.sqrt(np.sum(residuals**2) / max(len(points) - 3, 1))),
        suspect=odd, repeat=repeat, beds=placed, gaps=gaps, cut=cut,
        heap=loosened.si(cut, table("levelling")["swell"].ratio),
        bed_share=outside / yard.area, growing_share=inside / yard.area,
    )  # fmt: skip
    return SitePlan(**si, checks=_checks(si, wheel))


def _place(bed: Bed, plane, rule: str, limit: float) -> PlacedBed:
    s = bed.si
    a, b, c = plane
    corners = np.array(
        [(s.x, s.y), (s.x + s.length, s.y), (s.x + s.length, s.y + s.width),
         (s.x, s.y + s.width)]
    )  # fmt: skip
    ground = a + corners @ (b, c)
    under = float(underside(ground, rule, s.embedment, limit))
    depths = depths_under.si(ground, under)
    cut, fill = cut_and_fill(s.length, s.width, depths)
    if (depths >= 0).all():
        cut = float(s.length * s.width * depths.mean())
    strip = min(_given("strip"), s.width / 2)
    allowed = _given("fall")
    return PlacedBed(
        name=bed.name, title=bed.title, rule=rule, advice=slope_advice(c),
        length=s.length, width=s.width, height=s.height, x=s.x, y=s.y,
        corners=corners, ground=ground, underside=under, staff=-under, depths=depths,
        exposed=exposed_wall.si(s.height, depths),
        fall=float(np.ptp(depths)), fall_across=abs(c),
        block=float(max(-depths.min(), 0.0)), cut=cut, fill=fill,
        strip=float(strip_volume.si(s.length, s.width, np.maximum(depths, 0), strip)),
        heap=loosened.si(cut, table("levelling")["swell"].ratio),
        diagonal=float(diagonal.si(s.length, s.width)),
        shift=float(rim_shift.si(s.height, abs(c))),
        shorten=float(plan_shortening.si(s.width, abs(c))),
        steps=int(steps_needed.si(s.length, b, allowed)),
    )  # fmt: skip


def _gaps(beds, slopes) -> tuple[Gap, ...]:
    """Paths between beds that face each other with nothing between."""
    found = []
    for one in beds:
        for axis in (0, 1):
            low, high = _span(one, axis), _span(one, 1 - axis)
            facing = []
            for other in beds:
                if other is one:
                    continue
                olow, ohigh = _span(other, axis), _span(other, 1 - axis)
                start, end = max(high[0], ohigh[0]), min(high[1], ohigh[1])
                if olow[0] >= low[1] - 1e-9 and end - start > 0.05:
                    facing.append((olow[0] - low[1], other, start, end))
            nearest = min((f[0] for f in facing), default=0.0)
            for width, other, start, end in facing:
                if width <= nearest + 0.5:
                    found.append(
                        _gap(one, other, axis, width, low[1], start, end, slopes)
                    )
    return tuple(found)


def _span(bed: PlacedBed, axis: int) -> tuple[float, float]:
    s = bed.si
    return (s.x, s.x + s.length) if axis == 0 else (s.y, s.y + s.width)


def _gap(one, other, axis, width, edge, start, end, slopes) -> Gap:
    fits = None
    for row in table("paths"):
        if row.width <= width + 1e-9:
            fits = row
    rims = width
    if axis == 1:
        rims = width + other.si.shift
    return Gap(
        name=f"{one.name}–{other.name}", between=(one.name, other.name),
        across="xy"[axis], width=float(width), at=(float(edge), float(edge + width)),
        start=float(start), end=float(end),
        tape=float(along_ground.si(width, slopes[axis])), at_rims=float(rims),
        fits=fits,
    )  # fmt: skip


# ---- verdicts


def _check(name, says, demand, capacity, kind, source="common_practice", **more):
    return Check(
        name=name, says=says, demand=demand, capacity=capacity, kind=kind,
        chapter="site", source=source, **more,
    )  # fmt: skip


def _checks(si: dict, wheel: str) -> tuple[Check, ...]:
    beds, gaps = si["beds"], si["gaps"]
    found = [_slope_check(si), *_reading_checks(si)]
    if beds:
        deepest = max(beds, key=lambda bed: bed.si.depths.max())
        found.append(
            _check(
                "trench",
                f"The deepest corner is bed {deepest.name}’s, {{demand}}; up to "
                "{capacity} one digs without more thought.",
                from_si(float(deepest.si.depths.max()), "mm"),
                from_si(_given("deep"), "mm"), "depth",
            )
        )  # fmt: skip
        tallest = max(beds, key=lambda bed: bed.si.block)
        if tallest.si.block > 1e-6:
            found.append(
                _check(
                    "block",
                    f"Bed {tallest.name} stands on {{demand}} of block; one block, "
                    "{capacity}, is the most without an engineer. Above that: step "
                    "it, turn it, or terrace.",
                    from_si(tallest.si.block, "mm"), from_si(_given("block"), "mm"),
                    "depth",
                )
            )  # fmt: skip
        found.append(_standing(si))
    if gaps:
        row = table("paths")[wheel]
        least = min(gaps, key=lambda gap: gap.width)
        found.append(
            _check(
                "path",
                f"The narrowest path is {least.name}, {{capacity}}; a {row.name} "
                "needs {demand}."
                if wheel != "two"
                else f"The narrowest path is {least.name}, {{capacity}}; two people "
                "side by side need {demand}.",
                from_si(row.width, "cm"), from_si(max(least.width, 1e-6), "cm"),
                "depth", row.source,
            )
        )  # fmt: skip
    rule = table("route_rules")["cross"]
    if wheel == "wheelchair":
        found.append(
            _check(
                "cross",
                "The ground falls {demand} across the paths along the contour; a "
                "wheelchair route allows {capacity}, so these paths must be graded.",
                from_si(abs(si["slope_y"]), "percent"), rule.q("value"), "slope",
                rule.source,
            )
        )  # fmt: skip
    return tuple(found)


def _slope_check(si: dict) -> Check:
    row = slope_advice(si["slope"])
    return _check(
        "slope",
        f"The ground falls {{demand}}, {row.name}. {row.do}",
        from_si(si["slope"], "percent"), Q_(20, "percent"), "slope", row.source,
    )  # fmt: skip


def _reading_checks(si: dict) -> list[Check]:
    found = []
    odd: Suspect | None = si["suspect"]
    allowed = from_si(_given("twist"), "mm")
    if odd is not None:
        says = (
            "The reading that fits least is {demand} off the others; up to {capacity} "
            "is a bump or the tape."
        )
        if odd.doubtful:
            x, y, down = si["points"][odd.index]
            says = (
                f"Reading {odd.index + 1}, at x {show(x, 'size')} and y "
                f"{show(y, 'size')}, says {down:.3f} m; the others say "
                f"{odd.expected:.3f} m there. It is {{demand}} off; {{capacity}} would "
                "pass. Read that point again."
            )
        found.append(
            _check("readings", says, from_si(abs(odd.off), "mm"), allowed, "bow",
                   "computed")
        )  # fmt: skip
    elif len(si["points"]) == 4:
        twist = float(np.abs(si["residuals"]).max())
        found.append(
            _check(
                "readings",
                "The four readings are {demand} off one plane; up to {capacity} is a "
                "bump or the tape.",
                from_si(twist, "mm"), allowed, "bow", "computed",
            )
        )  # fmt: skip
    if si["repeat"] is not None:
        found.append(
            _check(
                "loop",
                "The point that was read twice differs by {demand}; past {capacity} "
                "measure again.",
                from_si(si["repeat"], "mm"), from_si(_given("loop"), "mm"), "bow",
            )
        )  # fmt: skip
    return found


def _standing(si: dict) -> Check:
    """Whether a bed stands on another one, on a thing, or outside the plot."""
    yard, clashes = si["yard"], []
    beds = si["beds"]
    for i, bed in enumerate(beds):
        (x0, x1), (y0, y1) = _span(bed, 0), _span(bed, 1)
        over = max(-x0, -y0, x1 - yard.length, y1 - yard.width)
        if over > 1e-9:
            clashes.append(f"{bed.name} stands over the edge of the plot")
        others = [(f"bed {o.name}", *_span(o, 0), *_span(o, 1)) for o in beds[i + 1 :]]
        things = [(f"the {t.name}", *t.box) for t in yard.things if t.in_the_way]
        for name, left, right, top, bottom in (*others, *things):
            if left < x1 - 1e-9 and right > x0 + 1e-9 and top < y1 and bottom > y0:
                clashes.append(f"{bed.name} stands on {name}")
    says = "No bed stands on another, on a thing, or over the edge."
    if clashes:
        says = f"Bed {'; bed '.join(clashes)}. Move it."
    return _check(
        "standing", says, from_si(float(len(clashes)), ""), from_si(0.5, ""), "ratio",
        "computed",
    )  # fmt: skip
