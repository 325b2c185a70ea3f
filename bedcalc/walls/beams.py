"""A rail on rigid ties and on posts that give, for any array of designs.

One solver, by compatibility: the forces of ties and posts are those that bring the bow
of the free rail back to what each support allows. Equal spans without posts are solved
once and looked up. Bows are positive outwards (the way the fill pushes), moments where
the outer side is stretched.
"""

from __future__ import annotations

import functools
from typing import NamedTuple

import numpy as np

from bedcalc.units import Count, Value, quantities

__all__ = [
    "MOST_SPANS", "BeamCoefficients", "posted_coefficients", "posted_shape",
    "span_coefficients", "uniform_bow", "uniform_moment",
]  # fmt: skip  # a list of names

MOST_SPANS = 12
_PLACES = np.linspace(0.0, 1.0, 241)
#: half a rail, for the table that is made once: peaks to two millionths
_CLOSE = np.linspace(0.0, 0.5, 4621)


class BeamCoefficients(NamedTuple):
    """Coefficients of a rail on n equal spans s, under an even load w, ends pinned.

    bow in w s4/EI, moment in w s2, reactions in w s. ``reaction_interior`` is the
    largest force of a tie (0 for a single span), ``post`` that of a post that gives,
    ``moment_span`` the largest moment between supports.
    """

    bow: np.ndarray
    moment: np.ndarray
    reaction_end: np.ndarray
    reaction_interior: np.ndarray
    moment_span: np.ndarray
    post: np.ndarray


def _free(x):
    """Bow of the free beam under an even load, w = L = EI = 1."""
    return x * (1 - 2 * x**2 + x**3) / 24


def _influence(x, at):
    """Bow at x, and moment, from a unit force at ``at`` on the beam of length 1."""
    low, high = np.minimum(x, at), np.maximum(x, at)
    return low * (1 - high) * (2 * high - high**2 - low**2) / 6, low * (1 - high)


def _places(count, most: int):
    """Inner points of ``count`` equal parts, filled up with nan; (..., most)."""
    n = np.arange(1, most + 1)
    count = np.asarray(count)[..., None]
    return np.where(n < count, n / count, np.nan)


def _forces(spans, bays, ratio):
    """Places of ties and posts, what each holds, and which are ties; w = L = 1."""
    spans, bays, ratio = np.broadcast_arrays(spans, bays, np.asarray(ratio, float))
    most = max(int(np.max(spans)) - 1, 0), max(int(np.max(bays)) - 1, 0)
    ties, posts = _places(spans, most[0]), _places(bays, most[1])
    posts = np.where(ratio[..., None] > 0, posts, np.nan)
    at = np.concatenate([ties, posts], axis=-1)
    if not at.shape[-1]:
        return at, at, most[0]
    spring = np.maximum(np.broadcast_to(ratio[..., None], posts.shape), 1e-12)
    give = np.concatenate([0.0 * np.nan_to_num(ties), 1 / spring], axis=-1)
    there, x = ~np.isnan(at), np.nan_to_num(at)
    eye = np.eye(at.shape[-1])
    soft = _influence(x[..., :, None], x[..., None, :])[0] + eye * give[..., None]
    soft = np.where(there[..., :, None] & there[..., None, :], soft, eye)
    free = np.where(there, _free(x), 0.0)
    return x, np.linalg.solve(soft, free[..., None])[..., 0], most[0]


def _bent(x, at, force):
    """Bow and moment at x of the loaded beam less what the supports hold."""
    bow, moment = _influence(x[..., :, None], at[..., None, :])
    held = np.sum(bow * force[..., None, :], axis=-1)
    eased = np.sum(moment * force[..., None, :], axis=-1)
    return _free(x) - held, x * (1 - x) / 2 - eased


@functools.cache
def _table() -> np.ndarray:
    """Rows 0 to MOST_SPANS (no row for none) of coefficients without posts."""
    rows = [_solved(n, 1, 0.0, _CLOSE) for n in range(1, MOST_SPANS + 1)]
    return np.array([[np.nan] * len(rows[0]), *rows])


def span_coefficients(spans: int | np.ndarray) -> BeamCoefficients:
    """Coefficients of beams on equal spans, looked up for any array of span counts.

    Parameters
    ----------
    spans : int or int array
        Number of equal spans, 1 to 12: one more than there are ties.

    Returns
    -------
    BeamCoefficients
        Plain ratios, each of the shape of ``spans``.

    Notes
    -----
    One tie in the middle of a wall of fixed length divides the bow by 38.5, two by 153.
    Source: statics; agrees with hicks_formulas, Table 2.1.
    """
    spans = np.asarray(spans)
    if spans.dtype.kind not in "iu" or np.any((spans < 1) | (spans > MOST_SPANS)):
        raise ValueError(
            f"spans: needs whole numbers from 1 to {MOST_SPANS}, given {spans!r}; "
            "for example 2 for a rail with one tie in the middle"
        )
    return BeamCoefficients(*np.moveaxis(_table()[spans], -1, 0))


def posted_coefficients(spans: Count, bays: Count, ratio: Value) -> BeamCoefficients:
    """Coefficients of a rim on rigid ties and on posts that give.

    Parameters
    ----------
    spans : int or int array
        Equal spans between corners and ties.
    bays : int or int array
        Equal bays between corners and posts.
    ratio : float or array
        k L3 / EI: spring of one post over the stiffness of the wall; 0 for none.

    Returns
    -------
    BeamCoefficients
        As shares of w s4/EI, w s2 and w s, with s = L / spans. Largest anywhere.

    Notes
    -----
    Forces by compatibility: (G + 1/k) F = u_free at ties (1/k = 0) and posts. Exact;
    with posts the largest bow is
    read at 241 places. Source: statics.
    """
    plain = span_coefficients(spans)
    there = (np.asarray(ratio) > 0) & (np.asarray(bays) > 1)
    if not np.any(there):
        return plain
    pairs = zip(_solved(spans, bays, ratio, _PLACES), plain, strict=True)
    return BeamCoefficients(*(np.where(there, new, old)[()] for new, old in pairs))


def _solved(spans, bays, ratio, places) -> BeamCoefficients:
    at, force, ties = _forces(spans, bays, ratio)
    grid = np.broadcast_to(places, (*at.shape[:-1], len(places)))
    bow, moment = _bent(np.concatenate([grid, at], axis=-1), at, force)
    n = np.asarray(spans)
    return BeamCoefficients(
        bow=np.max(bow, axis=-1) * n**4,
        moment=np.max(np.abs(moment), axis=-1) * n**2,
        reaction_end=(0.5 - np.sum(force * (1 - at), axis=-1)) * n,
        reaction_interior=np.max(force[..., :ties], axis=-1, initial=0.0) * n,
        moment_span=np.max(moment, axis=-1) * n**2,
        post=np.max(force[..., ties:], axis=-1, initial=0.0) * n,
    )


def posted_shape(spans: int, bays: int, ratio: float, share: np.ndarray) -> np.ndarray:
    """Shape of one rim for drawing: 1 where it bows most, 0 over corners and ties."""
    at, force, _ = _forces(spans, bays, ratio)
    bow = _bent(np.asarray(share, float), at, force)[0]
    return bow * spans**4 / posted_coefficients(spans, bays, ratio).bow


@quantities(
    "m", load="N/m", length="m (0, inf)", stiffness="N*m^2 (0, inf)", spans=None
)
def uniform_bow(
    load: Value, length: Value, stiffness: Value, spans: Count = 1
) -> Value:
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
def uniform_moment(load: Value, length: Value, spans: Count = 1) -> Value:
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
