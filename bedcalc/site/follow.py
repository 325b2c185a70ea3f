"""Site: how the ground falls, and how deep a level bed is dug in at each corner.

Levels are read down from a datum, so elevation z = -reading. ``x`` along the contour,
``y`` downhill. Corners go round as uphill-left, uphill-right, downhill-right,
downhill-left.
"""

from __future__ import annotations

import functools

import numpy as np

from ..bed import Bed
from ..outcome import Amount, Part
from ..place import Place, Survey
from ..units import quantities

__all__ = ["Site", "corner_depths", "cut_volume", "fit_plane", "follow_site"]


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


@quantities("m", length="m", width="m", slope_x="", slope_y="", embedment="m")
def corner_depths(length, width, slope_x, slope_y, embedment):
    """How deep the underside of a level bed lies below the ground at its corners.

    Parameters
    ----------
    length : quantity [m]
        Outside length, along x.
    width : quantity [m]
        Outside width, along y.
    slope_x : quantity []
        Rise of the ground along x (negative: falls).
    slope_y : quantity []
        Rise of the ground along y (negative: falls).
    embedment : quantity [m]
        Depth at the lowest corner.

    Returns
    -------
    quantity [m]
        Four depths, uphill-left and round: (0, 0), (L, 0), (L, W), (0, W).

    Notes
    -----
    All-cut rule: underside = lowest ground - embedment. Valid for a plane ground.
    Source: common practice.
    """
    along, across = slope_x * length, slope_y * width
    ground = np.stack(np.broadcast_arrays(0.0 * along, along, along + across, across))
    return ground - ground.min(axis=0) + embedment


@quantities("m^3", length="m", width="m", depths="m")
def cut_volume(length, width, depths):
    """Ground dug out under the whole footprint, as it lies (not loosened).

    Parameters
    ----------
    length : quantity [m]
        Outside length.
    width : quantity [m]
        Outside width.
    depths : quantity [m]
        The four corner depths, all zero or more.

    Returns
    -------
    quantity [m^3]
        Length times width times the mean depth.

    Notes
    -----
    Exact for a plane ground. Loose spoil is 20 to 30 % more (common practice).
    Source: computed, mean of four corners.
    """
    return length * width * np.mean(depths, axis=0)


@functools.lru_cache(maxsize=16)
def _plane(survey: Survey | None):
    """The plane of a survey, fitted once: the place does not move with a slider."""
    if survey is None:  # not measured: taken as level
        return 0.0, 0.0, 0.0, np.zeros(1)
    return fit_plane(survey.points)


class Site(Part):
    """How the bed sits in the slope."""

    slope_x = Amount("percent", "Rise of the ground along the bed", "slope")
    slope_y = Amount("percent", "Rise of the ground across the bed, downhill", "slope")
    slope = Amount("percent", "Steepest slope of the ground", "slope")
    fit_error = Amount("mm", "Spread of the readings round the plane (n - 3)", "fine")
    worst_reading = Amount("mm", "Largest distance of a reading from the plane", "fine")
    corner_depths = Amount("mm", "Trench depth, uphill-left and round", "stock")
    fall = Amount("mm", "Difference between the deepest and the lowest corner", "stock")
    cut = Amount("m^3", "Ground to dig out, as it lies", "volume")


def follow_site(bed: Bed, place: Place) -> Site:
    """What the site chapter says about this bed."""
    s = bed.si
    _, slope_x, slope_y, residuals = _plane(place.survey)
    spare = max(len(residuals) - 3, 1)
    depths = corner_depths.si(s.length, s.width, slope_x, slope_y, s.embedment)
    return Site(
        slope_x=slope_x,
        slope_y=slope_y,
        slope=np.hypot(slope_x, slope_y),
        fit_error=np.sqrt(np.sum(residuals**2) / spare),
        worst_reading=np.max(np.abs(residuals)),
        corner_depths=depths,
        fall=depths.max(axis=0) - depths.min(axis=0),
        cut=cut_volume.si(s.length, s.width, depths),
    )
