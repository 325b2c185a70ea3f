"""A rail as a beam on equal spans, in closed form, for any array of designs.

Bows are positive outwards (the way the fill pushes), moments where the outer side is
stretched. Supports that are not equally spaced, or that give, are for
:mod:`bedcalc.walls.elastic_supports`.
"""

from __future__ import annotations

import functools
from typing import NamedTuple

import numpy as np

from bedcalc.units import quantities

__all__ = [
    "MOST_SPANS", "SpanCoefficients", "bow_shape", "span_coefficients", "uniform_bow",
    "uniform_moment",
]  # fmt: skip

MOST_SPANS = 12


class SpanCoefficients(NamedTuple):
    """Coefficients of n equal spans s, even load w, rigid supports, ends pinned.

    bow in w s4/EI, moment in w s2, reactions and shear in w s. ``reaction_interior``
    is the largest one between the ends (0 for a single span).
    """

    bow: np.ndarray
    moment: np.ndarray
    reaction_end: np.ndarray
    reaction_interior: np.ndarray
    shear: np.ndarray
    moment_span: np.ndarray


def _support_moments(n: int) -> np.ndarray:
    """Moments over the n + 1 supports in w s2, by the three-moment equation."""
    moments = np.zeros(n + 1)
    if n > 1:
        three = 4 * np.eye(n - 1) + np.eye(n - 1, k=1) + np.eye(n - 1, k=-1)
        moments[1:-1] = np.linalg.solve(three, np.full(n - 1, -0.5))
    return moments


def _span_bow(left, right, at):
    """Bow at a share ``at`` of a span from its end moments, in w s4/EI."""
    load = (at - 2 * at**3 + at**4) / 24
    turn = left * at * (1 - at) * (2 - at) + right * at * (1 - at**2)
    return load + turn / 6


@functools.lru_cache(maxsize=1)
def _tables():
    """Rows 1 .. MOST_SPANS: coefficients, support moments, support reactions."""
    rows = np.full((MOST_SPANS + 1, 6), np.nan)
    over = np.zeros((MOST_SPANS + 1, MOST_SPANS + 1))
    holds = np.zeros((MOST_SPANS + 1, MOST_SPANS + 1))
    for n in range(1, MOST_SPANS + 1):
        m = _support_moments(n)
        start = 0.5 + np.diff(m)  # shear at the left end of each span
        reaction = np.append(start, 0.0) + np.insert(1 - start, 0, 0.0)
        inside = m[:-1] + start**2 / 2
        bows = []
        for left, right in zip(m[:-1], m[1:], strict=True):
            # slope of _span_bow, highest power first
            slope = [1 / 6, (left - right) / 2 - 1 / 4, -left,
                     1 / 24 + left / 3 + right / 6]  # fmt: skip
            roots = np.roots(slope)
            roots = roots.real[np.abs(roots.imag) < 1e-9]
            inner = roots[(roots > 0) & (roots < 1)]
            bows.append(np.max(np.abs(_span_bow(left, right, inner))))
        rows[n] = (
            max(bows),
            max(np.max(np.abs(m)), np.max(inside)),
            reaction[0],
            np.max(reaction[1:-1], initial=0.0),
            np.max(np.abs([start, 1 - start])),
            np.max(inside),
        )
        over[n, : n + 1], holds[n, : n + 1] = m, reaction
    return rows, over, holds


def _checked(spans):
    spans = np.asarray(spans)
    if spans.dtype.kind not in "iu" or np.any((spans < 1) | (spans > MOST_SPANS)):
        raise ValueError(
            f"spans: needs whole numbers from 1 to {MOST_SPANS}, given {spans!r}; "
            "for example 2 for a rail with one tie in the middle"
        )
    return spans


def span_coefficients(spans) -> SpanCoefficients:
    """Coefficients of beams on equal spans, looked up for any array of span counts.

    Parameters
    ----------
    spans : int or int array
        Number of equal spans, 1 to 12: one more than there are ties.

    Returns
    -------
    SpanCoefficients
        Plain ratios, each of the shape of ``spans``.

    Notes
    -----
    Three-moment equation, M1 + 4 M2 + M3 = -w s2 / 2, solved once. One tie in the
    middle of a wall of fixed length divides the bow by 38.5, two by 153.
    Source: statics; agrees with hicks_formulas, Table 2.1.
    """
    rows, _, _ = _tables()
    found = rows[_checked(spans)]
    return SpanCoefficients(*np.moveaxis(found, -1, 0))


def _place(spans, share):
    spans = _checked(spans)
    along = np.clip(share, 0.0, 1.0) * spans
    span = np.minimum(np.floor(along).astype(int), spans - 1)
    over = _tables()[1]
    return over[spans, span], over[spans, span + 1], along - span


def bow_shape(spans, share):
    """Shape of the bent rail for drawing: 1 where it bows most, 0 over supports.

    Parameters
    ----------
    spans : int or int array
        Number of equal spans.
    share : float or array
        Place along the whole rail, 0 to 1; broadcasts with ``spans``.

    Returns
    -------
    array
        Bow over the largest bow; from 0 to 1, the inner spans less than the outer.
    """
    left, right, at = _place(spans, share)
    return _span_bow(left, right, at) / span_coefficients(spans).bow


@quantities(
    "m", load="N/m", length="m (0, inf)", stiffness="N*m^2 (0, inf)", spans=None
)
def uniform_bow(load, length, stiffness, spans=1):
    """Largest bow of a rail under an even load, tied at equal distances.

    Parameters
    ----------
    load : quantity [N/m]
        w.
    length : quantity [m]
        L, between the end walls' axes.
    stiffness : quantity [N*m^2]
        EI.
    spans : int
        Equal spans: ties + 1.

    Returns
    -------
    quantity [m]

    Notes
    -----
    c w s4 / EI, s = L / n: c = 5/384, 0.00542, 0.00688 for 1, 2, 3 spans. Small
    bows only: past L/60 both the load and the theory have gone.
    Source: statics; hicks_formulas, Table 2.1.
    """
    return span_coefficients(spans).bow * load * (length / spans) ** 4 / stiffness


@quantities("N*m", load="N/m", length="m (0, inf)", spans=None)
def uniform_moment(load, length, spans=1):
    """Largest moment, in a span or over a tie, of a rail under an even load.

    Parameters
    ----------
    load, length, spans : quantity [N/m, m], int
        As in :func:`uniform_bow`.

    Returns
    -------
    quantity [N*m]

    Notes
    -----
    c w s2: c = 1/8 for 1 and 2 spans, 1/10 for 3. Source: statics.
    """
    return span_coefficients(spans).moment * load * (length / spans) ** 2
