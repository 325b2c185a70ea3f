"""Site: how the ground falls, and how deep a level bed is dug in at each corner.

Levels are read down from a datum, so elevation z = -reading. ``x`` runs to the right
and ``y`` down the page of the plan; the ground may fall any way. Corners go round from
the top left of the plan, as in :data:`bedcalc.model.plot.CORNERS`.
"""

from __future__ import annotations

import functools
from collections.abc import Sequence

import numpy as np

from ..model.bed import Bed
from ..model.outcome import Amount, Part, Plain
from ..model.place import Place, Survey
from ..model.plot import Plot
from .levelling import cut_and_fill, depths_under, underside

__all__ = ["Site", "fit_plane", "assess_site", "plane_of", "plot_of"]


def fit_plane(points: np.ndarray) -> tuple[float, float, float, np.ndarray]:
    """Fit a plane to level readings by least squares.

    Parameters
    ----------
    points : array (n, 3)
        Rows of x, y and the reading down from the datum, in metres; n of at least 3,
        not all in one line.

    Returns
    -------
    a, b, c : float
        Elevation z = a + b x + c y, in metres (b and c are slopes, up positive).
    residuals : array (n,)
        Measured less fitted elevation in metres: the largest names the suspect.

    Notes
    -----
    Three readings fix the plane without a check. Source: least squares, computed.
    """
    points = np.asarray(points, dtype=float)
    sums = np.column_stack([np.ones(len(points)), points[:, 0], points[:, 1]])
    (a, b, c), *_ = np.linalg.lstsq(sums, -points[:, 2], rcond=None)
    return a, b, c, -points[:, 2] - sums @ (a, b, c)


@functools.lru_cache(maxsize=16)
def plane_of(survey: Survey | None):
    """The plane of a survey, fitted once; level ground where nobody measured.

    Parameters
    ----------
    survey : Survey or None

    Returns
    -------
    a, b, c, residuals
        As of :func:`fit_plane`.
    """
    if survey is None:
        return 0.0, 0.0, 0.0, np.empty(0)
    return fit_plane(survey.points)


def plot_of(place: Place, beds: Sequence[Bed] = ()) -> Plot:
    """The plot of a place, or the area its beds and readings cover if it has none.

    Parameters
    ----------
    place : Place
    beds : sequence of Bed
        What stands there.
    """
    if place.plot is not None:
        return place.plot
    x, y = [0.0], [0.0]  # where measuring began
    for s in (bed.si for bed in beds):
        x += [s.x, s.x + s.plan_length]
        y += [s.y, s.y + s.plan_width]
    if place.survey is not None:
        x += list(place.survey.points[:, 0])
        y += list(place.survey.points[:, 1])
    left, top = float(min(x)), float(min(y))
    right = max(float(max(x)), left + 1.0)
    low = max(float(max(y)), top + 1.0)
    return Plot(outline=((left, top), (right, top), (right, low), (left, low)))


class Site(Part):
    """How the bed sits in the ground; corners from the top left of the plan."""

    measured = Plain("Whether levels were read; if not, the ground is taken as level")
    rule = Plain("Rule for the underside")
    turned = Plain("Whether the long side runs down the page of the plan")
    slope_x = Amount("percent", "Rise of the ground along x", "slope")
    slope_y = Amount("percent", "Rise of the ground along y", "slope")
    slope = Amount("percent", "Steepest slope of the ground", "slope")
    fit_error = Amount("mm", "Spread of the readings round the plane (n - 3)", "fine")
    worst_reading = Amount("mm", "Largest distance of a reading from the plane", "fine")
    ground = Amount("m", "Elevation of the ground at the corners", "size")
    underside = Amount("m", "Elevation of the underside of the box", "size")
    staff = Amount("m", "Reading down from the datum at the underside, or None", "size")
    floor = Amount("m", "The same on the floor of the trench, under the gravel", "size")
    corner_depths = Amount("mm", "Box in the ground, below zero on a block", "stock")
    dig = Amount("mm", "Trench at the corners: box and gravel, 0 if none", "stock")
    gravel = Amount("mm", "Gravel under the box", "depth")
    fall = Amount("mm", "Difference between the deepest and the lowest corner", "stock")
    block = Amount("mm", "Highest block, 0 if none", "stock")
    cut = Amount("m^3", "Ground to dig out, as it lies, with room for gravel", "volume")
    fill = Amount("m^3", "Ground filled in under the bed", "volume")

    @property
    def own_depths(self):
        """Box in the ground at its own corners, far left and round, in metres.

        As somebody sees it who stands before its long side: below it on the plan, or
        to the right of it if the bed is turned.
        """
        return np.roll(self.si.corner_depths, int(self.si.turned), axis=0)


def assess_site(bed: Bed, place: Place) -> Site:
    """What the site chapter says about this bed."""
    s, levelling = bed.si, place.levelling
    a, b, c, residuals = plane_of(place.survey)
    measured = place.survey is not None
    left, top = s.x + 0.0 * s.plan_length, s.y + 0.0 * s.plan_width
    right, low = left + s.plan_length, top + s.plan_width
    ground = np.stack(
        np.broadcast_arrays(
            *(
                a + b * x + c * y
                for x, y in ((left, top), (right, top), (right, low), (left, low))
            )
        )
    )
    gravel = levelling.si.gravel
    level = underside(ground, levelling.rule, s.embedment, levelling.si.limit - gravel)
    depths = depths_under.si(ground, level)
    reads = -level if measured else None
    cut, _ = cut_and_fill(s.plan_length, s.plan_width, depths + gravel)
    _, fill = cut_and_fill(s.plan_length, s.plan_width, depths)
    return Site(
        measured=measured,
        rule=levelling.rule,
        turned=bed.turned,
        slope_x=b,
        slope_y=c,
        slope=np.hypot(b, c),
        fit_error=np.sqrt(np.sum(residuals**2) / max(len(residuals) - 3, 1))
        if measured
        else None,
        worst_reading=np.max(np.abs(residuals)) if measured else None,
        ground=ground,
        underside=level,
        staff=reads,
        floor=reads + gravel if measured else None,
        corner_depths=depths,
        dig=np.maximum(depths + gravel, 0.0),
        gravel=gravel,
        fall=depths.max(axis=0) - depths.min(axis=0),
        block=np.maximum(-depths.min(axis=0), 0.0),
        cut=cut,
        fill=fill,
    )
