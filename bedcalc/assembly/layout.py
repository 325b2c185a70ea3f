"""Where things stand along the long wall: its axis, its posts, its ties.

The span of a long wall is the distance between the axes of the two end walls
(outside length less one wall thickness). Positions are metres from the outside left
end.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedcalc.model.bed import Bed
from bedcalc.units import Count, Value

__all__ = ["Layout", "layout", "posts_change"]


#: bays per added post: with fewer posts added, long rows would bow a little more
_ROW = 20


def _bays(needed, ties, tie_needs_post: bool, set_in_ground=False):
    """Equal bays between posts; boards and lying ribs have a post at each tie.

    Posts in the ground hold the rim between the ties, and each one gives. A tie that
    took the place of such a post would let the outer bays bow up to 8 % more (exact
    solution), and fewer posts let the whole wall bow more. So each further tie gets a
    post that is added to the row, and takes none away. Then one more tie never bows
    more, however much or little the posts give (tried for up to 120 bays).
    """
    needed = np.maximum(np.ceil(needed - 1e-9), 1).astype(int)
    if not tie_needs_post:
        return needed
    bays = _whole(needed, ties)
    if not np.any(set_in_ground):
        return bays
    kept = needed
    for fewer in range(1, int(np.max(ties)) + 1):
        # where every post gets a tie, none that gives is left to take the place of
        added = np.where(kept > fewer + 1, np.ceil(kept / _ROW).astype(int), 0)
        more = _whole(kept + added, fewer)
        kept = np.where(fewer <= np.asarray(ties), more, kept)
    return np.where(set_in_ground, kept, bays)


def _whole(bays, ties):
    """As many bays or more, the same number of them on both sides of each tie."""
    parts = np.asarray(ties) + 1
    return (parts * np.ceil(bays / parts - 1e-9)).astype(int)


def _inner(bays, start, span):
    """Positions of the inner points of equal bays, for one design."""
    return start + span * np.arange(1, int(bays)) / int(bays)


@dataclass(frozen=True, kw_only=True)
class Layout:
    """Where things stand along the long wall: metres from the outside left end, counts.

    ``end`` is the thickness of the end wall, ``span`` goes from axis to axis, ``bays``
    lie between posts (1 where there are none) with ``post_gap`` from axis to axis,
    ``posts`` counts all posts of the bed. Places are empty for a sweep.
    """

    end: Value
    span: Value
    bays: Count
    post_gap: Value
    posts: Count
    posts_x: np.ndarray
    ties_x: np.ndarray
    base_ties_x: np.ndarray


def layout(bed: Bed, ties: int | np.ndarray | None = None) -> Layout:
    """Span, bays, posts and ties of the long wall, in metres and counts.

    Parameters
    ----------
    bed : Bed
        One bed; its sizes may be arrays (then the positions are left out).
    ties : int or array, optional
        Another number of ties than the bed's.

    Returns
    -------
    Layout
    """
    family, s, wall = bed.wall.family, bed.si, bed.wall.si
    ties = bed.ties if ties is None else ties
    end = s.wall_thickness
    span = s.length - end
    posts_known = family in ("boards", "sheet", "trough")
    bays = np.ones_like(np.asarray(span), dtype=int)
    if posts_known:
        needed = span / np.maximum(wall.post_spacing, 0.1)
        tied = family != "sheet" or bed.ribs_lying
        bays = _bays(needed, ties, tied, np.asarray(s.post_depth) > 0)
    posts_x = ties_x = base_ties_x = np.array([])
    if np.ndim(bays) == 0 and np.ndim(ties) == 0:
        if posts_known:
            posts_x = _inner(bays, end / 2, span)
        ties_x = _inner(ties + 1, end / 2, span)
        base_ties_x = _inner(bed.base_ties + 1, end / 2, span)
    return Layout(
        end=end,
        span=span,
        bays=bays,
        post_gap=span / bays,
        posts=np.where(posts_known, 2 * (bays + 1), 0),
        posts_x=posts_x,
        ties_x=ties_x,
        base_ties_x=base_ties_x,
    )


def posts_change(bed: Bed, ties: int) -> str:
    """What another number of ties does to the posts, in words; nothing if nothing.

    Posts stand in equal bays, so that each tie has one: the next number of ties may
    need more of them, or fewer.
    """
    before, after = (int(layout(bed, n).posts) for n in (None, ties))
    return "" if before == after else f", {after} posts instead of {before}"
