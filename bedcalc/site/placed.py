"""Placed: every bed where it stands on the slope, and the paths between them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..bed import Bed
from ..outcome import Amount, Check, Part, Plain
from ..place import Place
from ..tables import Row, table
from ..units import to_si
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
from .mends import mended, with_mends
from .plane import repeat_gap, suspect
from .setout import diagonal
from .verdicts import given, span, verdicts_on
from .yard import Yard, yard_of

__all__ = ["Gap", "PlacedBed", "SitePlan", "plan_site"]


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

    def check(self, name: str) -> Check | None:
        """The check of this name, or None where it does not apply."""
        return next((c for c in self.checks if c.name == name), None)


def plan_site(
    beds, place: Place, yard: Yard | None = None, *, rule: str = "all_cut", limit=None,
    wheel: str = "barrow", mends: bool = True,
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
    mends : bool
        Whether failing checks look for a move that puts them right.

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
    first = SitePlan(**si, checks=verdicts_on(si, wheel))
    if not mends:
        return first

    def again(change) -> SitePlan:
        found = mended(tuple(beds), place, rule, limit, change)
        return plan_site(yard=yard, wheel=wheel, mends=False, **found)

    return SitePlan(**si, checks=with_mends(first, wheel, again))


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
    strip = min(given("strip"), s.width / 2)
    allowed = given("fall")
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
