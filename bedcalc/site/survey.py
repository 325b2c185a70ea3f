"""Readings: what a level says, whether it can be trusted, and which reading is off."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..units import Value, quantities
from .chapter import fit_plane

__all__ = [
    "Outlier",
    "repeat_gap",
    "reversed_gap",
    "suspect",
]


@quantities(("m", "m"), gap="m", turned="m")
def reversed_gap(gap: Value, turned: Value) -> tuple[Value, ...]:
    """The true fall under a straight-edge, and the error of its level.

    Parameters
    ----------
    gap : quantity [m]
        Gap under the low end with the bubble in the middle.
    turned : quantity [m]
        The same with the level turned end for end.

    Returns
    -------
    tuple of quantity [m, m]
        Fall over the straight-edge; what the level is wrong by over its length.

    Notes
    -----
    (gap + turned)/2 and |gap - turned|/2. Source: common practice.
    """
    return (gap + turned) / 2, np.abs(gap - turned) / 2


@dataclass(frozen=True, kw_only=True)
class Outlier:
    """The reading that fits the others least.

    ``index`` counts from 0; ``off`` is what it differs by from the plane of all the
    others (m, positive: ground read too high, the number is too small); ``doubtful``
    tells that this is too much for chance and tape; ``expected`` is what the others
    would read there.
    """

    index: int
    off: float
    expected: float
    doubtful: bool


def suspect(points: np.ndarray, allowed: float = 0.01) -> Outlier | None:
    """Find the reading that the others do not bear out.

    Parameters
    ----------
    points : array (n, 3)
        Rows of x, y and the reading down from the datum, in metres.
    allowed : float
        Difference from the plane of all the others that is still put down to bumps
        and tape, in metres.

    Returns
    -------
    Outlier or None
        None with fewer than five readings: four cannot tell which of them is wrong.

    Notes
    -----
    Each reading is left out in turn and compared with the plane of the others:
    off = e / (1 - h), h its share in its own fit. It is doubtful if it is off by more
    than ``allowed`` and stands out from the scatter of the others more than four
    times. Source: computed, least squares.
    """
    points = np.asarray(points, dtype=float)
    count = len(points)
    if count < 5:
        return None
    sums = np.column_stack([np.ones(count), points[:, :2]])
    share = np.einsum("ij,ji->i", sums, np.linalg.pinv(sums))
    residuals = fit_plane(points)[3]
    off = residuals / np.maximum(1 - share, 1e-9)
    spare = max(count - 4, 1)
    left = np.sum(residuals**2) - residuals * off  # squares left without each one
    scatter = np.sqrt(np.maximum(left, 1e-12) / spare)
    stands_out = np.abs(residuals) / (scatter * np.sqrt(np.maximum(1 - share, 1e-9)))
    worst = int(np.argmax(np.where(share < 1 - 1e-9, stands_out, 0.0)))
    doubtful = bool(abs(off[worst]) > allowed and stands_out[worst] > 4)
    return Outlier(
        index=worst,
        off=float(off[worst]),
        expected=float(points[worst, 2] + off[worst]),
        doubtful=doubtful,
    )


def repeat_gap(points: np.ndarray) -> float | None:
    """How far two readings of the same point differ, or None if none was repeated.

    Parameters
    ----------
    points : array (n, 3)
        Rows of x, y and the reading down from the datum, in metres.

    Notes
    -----
    The loop is closed by reading one point again at the end; more than 5 mm: measure
    again. Source: common practice.
    """
    points = np.asarray(points, dtype=float)
    found = None
    for i, one in enumerate(points):
        for other in points[i + 1 :]:
            if np.hypot(*(one[:2] - other[:2])) < 0.005:
                found = max(found or 0.0, float(abs(one[2] - other[2])))
    return found
