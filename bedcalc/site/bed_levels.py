"""Placed: every bed where it stands on the slope, and the paths between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..model.bed import Bed
from ..model.outcome import Amount, Check, Part, Plain
from ..model.place import Place
from ..model.plan_words import fall_words
from ..tables import Row, table
from .chapter import assess_site, plane_of, plot_of
from .checks import given, span, verdicts_on
from .fixes import fixed, with_fixes
from .levelling import (
    along_ground,
    exposed_wall,
    loosened,
    plan_shortening,
    rim_shift,
    slope_advice,
    steps_needed,
    strip_volume,
)
from .setout import diagonal
from .survey import repeat_gap, suspect

__all__ = ["Gap", "PlacedBed", "SitePlan", "plan_site"]


class PlacedBed(Part):
    """One bed in its trench; corners from the top left of the plan and round."""

    name = Plain("Name of the bed")
    title = Plain("What it is for")
    rule = Plain("Rule for the underside")
    turned = Plain("Whether its long side runs down the page of the plan")
    measured = Plain("Whether levels were read; if not, the ground is taken as level")
    advice = Plain("Row of data/slopes.csv for the fall down its short side")
    length = Amount("m", "Outside, along x", "size")
    width = Amount("m", "Outside, along y", "size")
    height = Amount("mm", "Height of the box over its underside", "stock")
    x = Amount("m", "Top left corner on the plan, to the right", "size")
    y = Amount("m", "Top left corner on the plan, down the page", "size")
    corners = Plain("Corners in plan (4, 2) in metres")
    ground = Amount("m", "Elevation of the ground at the corners", "size")
    underside = Amount("m", "Elevation of the underside", "size")
    staff = Amount("m", "Reading down from the datum at the underside, or None", "size")
    floor = Amount("m", "The same on the floor of the trench, under the gravel", "size")
    depths = Amount("mm", "Box in the ground, below zero on a block", "stock")
    dig = Amount("mm", "Trench at the corners: box and gravel, 0 if none", "stock")
    gravel = Amount("mm", "Gravel under the box", "depth")
    exposed = Amount("mm", "Wall above the ground at the corners", "stock")
    fall = Amount("mm", "Difference between deepest and lowest corner", "stock")
    fall_across = Amount("percent", "Slope of the ground along the short side", "slope")
    fall_along = Amount("percent", "Slope of the ground along the long side", "slope")
    block = Amount("mm", "Highest block, 0 if none", "stock")
    cut = Amount("m^3", "Ground dug out under the whole bed, as it lies", "volume")
    fill = Amount("m^3", "Ground filled in under the bed", "volume")
    strip = Amount("m^3", "Ground dug out if only strips are dug", "volume")
    heap = Amount("m^3", "The cut as it lies on a heap", "volume")
    diagonal = Amount("mm", "What both diagonals measure", "stock")
    shift = Amount("mm", "How far the rim moves uphill when made level", "stock")
    shorten = Amount("mm", "How much narrower it looks while it lies tilted", "stock")
    steps = Plain("Level parts that the fall along the long side asks for")


@dataclass(frozen=True, kw_only=True)
class Gap:
    """A path between two beds, in metres.

    ``across`` is the axis along which its width is measured; ``start`` to ``end`` is
    its length; ``tape`` is what a tape laid on the ground reads; ``lower`` is the bed
    on its downhill side (None on level ground), ``at_rims`` what one measures between
    the rims while that bed still lies on the slope; ``fits`` is the row of
    data/paths.csv that just fits.
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
    lower: str | None
    fits: Row | None


class SitePlan(Part):
    """The plot with all its beds."""

    plot = Plain("The plot, or the area that beds and readings cover")
    outlined = Plain("Whether the plot was given; if not, its edge is unknown")
    measured = Plain("Whether levels were read; if not, the ground is taken as level")
    levelling = Plain("How the beds are let in")
    points = Plain("Readings (n, 3): x, y, down, in metres")
    residuals = Amount("mm", "Reading by reading, off the plane (up positive)", "fine")
    plane = Plain("Ground z = a + b x + c y, as (a, b, c)")
    slope_x = Amount("percent", "Rise along x", "slope")
    slope_y = Amount("percent", "Rise along y", "slope")
    slope = Amount("percent", "Steepest slope", "slope")
    way = Plain("Which way the ground falls, in words")
    one_in = Plain("The slope as 1 in n")
    turned = Amount("deg", "Between the true contour and the nearer axis of the plan")
    fit_error = Amount("mm", "Spread of the readings round the plane (n - 3)", "fine")
    suspect = Plain("The reading the others do not bear out, or None")
    repeat = Amount("mm", "Difference of a point that was read twice, or None", "fine")
    beds = Plain("Beds in their trenches")
    gaps = Plain("Paths between neighbours")
    cut = Amount("m^3", "Ground dug out under all beds, as it lies", "volume")
    heap = Amount("m^3", "The same on a heap", "volume")
    bed_share = Amount("percent", "Beds over plot, None without a plot", "percent")
    growing_share = Amount("percent", "Growing area over plot, or None", "percent")
    checks = Plain("Verdicts on the plan")

    def __getitem__(self, name: str) -> PlacedBed:
        """The bed of this name."""
        return next(bed for bed in self.beds if bed.name == name)

    def check(self, name: str) -> Check | None:
        """The check of this name, or None where it does not apply."""
        return next((c for c in self.checks if c.name == name), None)


def plan_site(
    beds: Sequence[Bed], place: Place, *, wheel: str = "barrow", fixes: bool = True
) -> SitePlan:
    """Place all beds on the ground that was measured.

    Parameters
    ----------
    beds : sequence of Bed
        Each with its ``x`` and ``y``.
    place : Place
        With survey, plot and levelling.
    wheel : str
        Row of data/paths.csv that every path should let through.
    fixes : bool
        Whether failing checks look for a move that puts them right.

    Returns
    -------
    SitePlan
    """
    beds, plot = tuple(beds), plot_of(place, beds)
    a, b, c, residuals = plane_of(place.survey)
    measured = place.survey is not None
    points = place.survey.points if measured else np.empty((0, 3))
    slope = float(np.hypot(b, c))
    placed = tuple(_place(bed, place) for bed in beds)
    gaps = _gaps(placed, (b, c))
    outlined = place.plot is not None
    outside = sum(bed.si.length * bed.si.width for bed in placed)
    inside = sum(bed.si.inside_length * bed.si.inside_width for bed in beds)
    cut = sum(bed.si.cut for bed in placed)
    spread = np.sqrt(np.sum(residuals**2) / max(len(points) - 3, 1))
    steep, flat = max(abs(b), abs(c)), min(abs(b), abs(c))
    si = dict(
        plot=plot, outlined=outlined, measured=measured, levelling=place.levelling,
        points=points, residuals=residuals, plane=(a, b, c), slope_x=b,
        slope_y=c, slope=slope, way=fall_words(b, c, plot.downhill),
        one_in=1 / slope if slope > 1e-9 else np.inf,
        turned=float(np.arctan2(flat, steep)) if slope > 1e-9 else 0.0,
        fit_error=float(spread) if measured else None,
        suspect=suspect(points), repeat=repeat_gap(points), beds=placed, gaps=gaps,
        cut=cut, heap=loosened.si(cut, table("levelling")["swell"].ratio),
        bed_share=outside / plot.area if outlined else None,
        growing_share=inside / plot.area if outlined else None,
    )  # fmt: skip  # rows of a table
    first = SitePlan(**si, checks=verdicts_on(si, wheel))
    if not fixes:
        return first

    def again(change) -> SitePlan:
        return plan_site(*fixed(beds, place, change), wheel=wheel, fixes=False)

    return SitePlan(**si, checks=with_fixes(first, wheel, again))


def _place(bed: Bed, place: Place) -> PlacedBed:
    s, found = bed.si, assess_site(bed, place).si
    corners = np.array(
        [(s.x, s.y), (s.x + s.plan_length, s.y),
         (s.x + s.plan_length, s.y + s.plan_width), (s.x, s.y + s.plan_width)]
    )  # fmt: skip  # rows of a table
    along, across = found.slope_x, found.slope_y
    if bed.turned:
        along, across = across, along
    strip, allowed = min(given("strip"), s.width / 2), given("fall")
    sizes = s.plan_length, s.plan_width
    return PlacedBed(
        name=bed.name,
        title=bed.title,
        rule=found.rule,
        turned=bed.turned,
        measured=found.measured,
        advice=slope_advice(across),
        length=sizes[0],
        width=sizes[1],
        height=s.height,
        x=s.x,
        y=s.y,
        corners=corners,
        ground=found.ground,
        underside=float(found.underside),
        staff=found.staff,
        floor=found.floor,
        depths=found.corner_depths,
        dig=found.dig,
        gravel=found.gravel,
        exposed=exposed_wall.si(s.height, found.corner_depths),
        fall=float(found.fall),
        fall_across=abs(across),
        fall_along=abs(along),
        block=float(found.block),
        cut=float(found.cut),
        fill=float(found.fill),
        strip=float(strip_volume.si(*sizes, found.dig, strip)),
        heap=loosened.si(float(found.cut), table("levelling")["swell"].ratio),
        diagonal=float(diagonal.si(s.length, s.width)),
        shift=float(rim_shift.si(s.height, abs(across))),
        shorten=float(plan_shortening.si(s.width, abs(across))),
        steps=int(steps_needed.si(s.length, along, allowed)),
    )


def _gaps(beds, slopes) -> tuple[Gap, ...]:
    """Paths between beds that face each other with nothing between."""
    found = []
    for one in beds:
        for axis in (0, 1):
            low, high = span(one, axis), span(one, 1 - axis)
            facing = []
            for other in beds:
                if other is one:
                    continue
                olow, ohigh = span(other, axis), span(other, 1 - axis)
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


def _gap(one, other, axis, width, edge, start, end, slopes) -> Gap:
    fits = None
    for row in table("paths"):
        if row.width <= width + 1e-9:
            fits = row
    lower, rims = None, width
    if abs(slopes[axis]) > 1e-6:
        below = other if slopes[axis] < 0 else one
        lower = below.name
        rims = width + float(rim_shift.si(below.si.height, abs(slopes[axis])))
    return Gap(
        name=f"{one.name}–{other.name}", between=(one.name, other.name),
        across="xy"[axis], width=float(width), at=(float(edge), float(edge + width)),
        start=float(start), end=float(end),
        tape=float(along_ground.si(width, slopes[axis])), at_rims=float(rims),
        lower=lower, fits=fits,
    )  # fmt: skip  # rows of a table
