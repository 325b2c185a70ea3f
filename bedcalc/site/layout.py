"""Layout: how many beds fit on a plot, in rows, in a grid, or mixed both ways."""

from __future__ import annotations

import functools
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from ..units import Count, Value, quantities

__all__ = ["Spot", "bed_count", "fit_grid", "fit_mixed", "fit_rows", "path_left"]

_SMALL = 1e-9
_STEP = 0.05
_MIXED_MOST = 60.0  # m


@quantities(None, space="m (0, inf)", bed="m (0, inf)", path="m (0, inf)", edge="m")
def bed_count(space: Value, bed: Value, path: Value, edge: Value):
    """How many beds stand side by side.

    Parameters
    ----------
    space : quantity [m]
        The plot in that direction.
    bed : quantity [m]
        The bed in that direction.
    path : quantity [m]
        Narrowest path between two beds.
    edge : quantity [m]
        Kept free at both ends.

    Returns
    -------
    float
        A whole number, zero or more.

    Notes
    -----
    floor((X - 2e + p) / (b + p)). Source: computed.
    """
    return np.maximum(np.floor((space - 2 * edge + path) / (bed + path) + 1e-9), 0.0)


@quantities("m", space="m (0, inf)", bed="m (0, inf)", edge="m", count=None)
def path_left(space: Value, bed: Value, edge: Value, count: Count) -> Value:
    """How wide the paths really are when so many beds share the space evenly.

    Parameters
    ----------
    space : quantity [m]
        The plot in that direction.
    bed : quantity [m]
        The bed in that direction.
    edge : quantity [m]
        Kept free at both ends.
    count : float
        Number of beds.

    Returns
    -------
    quantity [m]
        Not-a-number for a single bed, which has no path beside it.

    Notes
    -----
    (X - 2e - n b) / (n - 1). Source: computed.
    """
    gaps = np.where(np.asarray(count) > 1, np.asarray(count, dtype=float) - 1, np.nan)
    return (space - 2 * edge - count * bed) / gaps


@dataclass(frozen=True, kw_only=True)
class Spot:
    """A place for one bed: its corner at the top left of the plan and its size along x
    and y, in metres; ``turned`` if its long side runs down the page of the plan.
    """

    x: float
    y: float
    length: float
    width: float
    turned: bool = False


def fit_grid(
    plot: tuple[float, float],
    bed: tuple[float, float],
    path: float,
    edge: float,
    turned: bool = False,
) -> tuple[Spot, ...]:
    """Beds in a plain grid, the space shared evenly.

    Parameters
    ----------
    plot, bed : (length, width)
        In metres; the plot's length along x.
    path, edge : float
        Narrowest path, and what is kept free all round, in metres.
    turned : bool
        Long sides down the page of the plan.
    """
    size = bed[::-1] if turned else bed
    counts = [
        int(bed_count.si(p, b, path, edge)) for p, b in zip(plot, size, strict=True)
    ]
    starts = []
    for space, b, n in zip(plot, size, counts, strict=True):
        gap = (space - 2 * edge - n * b) / (n - 1) if n > 1 else 0.0
        first = edge if n > 1 else (space - b) / 2
        starts.append([first + i * (b + gap) for i in range(n)])
    return tuple(
        Spot(x=x, y=y, length=size[0], width=size[1], turned=turned)
        for y in starts[1]
        for x in starts[0]
    )


def fit_mixed(
    plot: tuple[float, float], bed: tuple[float, float], path: float, edge: float
) -> tuple[Spot, ...]:
    """As many equal beds as fit when some are turned and some are not.

    Parameters
    ----------
    plot, bed : (length, width)
        In metres.
    path, edge : float
        Narrowest path, and what is kept free all round, in metres.

    Returns
    -------
    tuple of Spot

    Notes
    -----
    Each bed and the plot are made larger by one path; then the best way is found to
    cut the plot by straight cuts from side to side, on a raster of 5 cm (sizes are
    rounded up, so that no path becomes too narrow). Exact for such cuts. On a plot of
    more than 60 m it would take too long: there the better plain grid is taken.
    Source: computed, dynamic programming.
    """
    if max(plot) > _MIXED_MOST:
        grids = (fit_grid(plot, bed, path, edge, turned=t) for t in (False, True))
        return max(grids, key=len)
    step = 0.05
    size = tuple(int(np.ceil((b + path) / step - 1e-9)) for b in bed)
    room = tuple(int(np.floor((p - 2 * edge + path) / step + 1e-9)) for p in plot)
    if min(room) < min(size):
        return ()
    steps = _sums(size, max(room))
    long_, wide = size

    @functools.cache
    def best(w: int, h: int) -> tuple[int, tuple]:
        found = (0, ())
        if w >= long_ and h >= wide:
            found = (1, ("bed", False))
        elif w >= wide and h >= long_:
            found = (1, ("bed", True))
        top = (w * h) // (long_ * wide)
        for cut in steps:
            if found[0] >= top or cut > w // 2:
                break
            rest = snap(w - cut)
            if rest:
                total = best(cut, h)[0] + best(rest, h)[0]
                if total > found[0]:
                    found = (total, ("across", cut, rest))
        for cut in steps:
            if found[0] >= top or cut > h // 2:
                break
            rest = snap(h - cut)
            if rest:
                total = best(w, cut)[0] + best(w, rest)[0]
                if total > found[0]:
                    found = (total, ("down", cut, rest))
        return found

    ordered = np.array([0, *steps])

    def snap(value: int) -> int:
        return int(ordered[np.searchsorted(ordered, value, side="right") - 1])

    spots: list[Spot] = []

    def place(w: int, h: int, x: float, y: float) -> None:
        count, how = best(w, h)
        if not count:
            return
        if how[0] == "bed":
            length, width = bed[::-1] if how[1] else bed
            spots.append(Spot(x=x, y=y, length=length, width=width, turned=how[1]))
        elif how[0] == "across":
            place(how[1], h, x, y)
            place(how[2], h, x + how[1] * step, y)
        else:
            place(w, how[1], x, y)
            place(w, how[2], x, y + how[1] * step)

    place(snap(room[0]), snap(room[1]), edge, edge)
    return tuple(spots)


def _sums(size: tuple[int, int], most: int) -> list[int]:
    """All lengths that come out of whole beds laid end to end, in steps."""
    found = {0}
    for one in size:
        for start in sorted(found):
            found |= set(range(start, most + 1, one))
    return sorted(found - {0})


def fit_rows(
    plot: tuple[float, float],
    bed: tuple[float, float],
    path: float,
    edge: float,
    blocked: tuple[tuple[float, float, float, float], ...],
    turned: bool = False,
    within: Callable[..., Any] | None = None,
) -> tuple[Spot, ...]:
    """Beds in rows across the plan that step over what is in the way.

    Parameters
    ----------
    plot, bed : (length, width)
        In metres.
    path, edge : float
        Narrowest path, and what is kept free all round, in metres.
    blocked : tuple of (left, right, top, bottom)
        Rectangles no bed may touch, in metres.
    turned : bool
        Long sides down the page of the plan.
    within : function or None
        Tells of left, right, top, bottom (arrays of any one shape) which rectangles
        lie on the plot; the whole rectangle if None.

    Notes
    -----
    Rows keep one path between them; the first row starts where most beds fit, tried in
    steps of 10 cm. Where a row leaves the plot it goes on in steps of 5 cm. Good, not
    proven best. Source: computed.
    """
    length, width = bed[::-1] if turned else bed
    best: list[Spot] = []
    rows = int(bed_count.si(plot[1], width, path, edge))
    if not rows:
        return ()
    slack = plot[1] - 2 * edge - rows * width - (rows - 1) * path
    for start in np.arange(0.0, slack + _SMALL, 0.1):
        spots: list[Spot] = []
        for row in range(rows):
            y = edge + start + row * (width + path)
            x, free = edge, None
            if within is not None:
                tried = np.arange(edge, plot[0] - edge - length + _SMALL, _STEP)
                free = tried[within(tried, tried + length, y, y + width)]
            while x + length <= plot[0] - edge + _SMALL:
                hit = [
                    right
                    for left, right, top, bottom in blocked
                    if left < x + length - _SMALL
                    and right > x + _SMALL
                    and top < y + width - _SMALL
                    and bottom > y + _SMALL
                ]
                if hit:
                    x = max(hit)
                    continue
                if free is not None and not within(x, x + length, y, y + width):
                    later = free[free > x]
                    if not len(later):
                        break
                    x = float(later[0])
                    continue
                spots.append(Spot(x=x, y=y, length=length, width=width, turned=turned))
                x += length + path
        if len(spots) > len(best):
            best = spots
    return tuple(best)
