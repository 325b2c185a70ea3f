"""Logs, chips and crumbs: patterns laid down once, of which a picture shows a window.

Each pattern is fixed in the bed's own coordinates. When a size changes, pieces come
and go at the edges; none moves. Everything follows from one fixed seed.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

__all__ = ["STYLES", "flecks", "logs"]

#: per material: colour, pieces a square metre, length and slimness, in metres
STYLES = {
    "chips": (
        ("#F0CF97", 190, 0.070, 0.27), ("#E0B46C", 190, 0.065, 0.30),
        ("#D39A4E", 190, 0.070, 0.27), ("#A8702F", 190, 0.060, 0.30),
        ("#8A5C2B", 160, 0.065, 0.25),
    ),
    "compost": (("#6E5138", 60, 0.022, 0.6), ("#8F6A48", 34, 0.018, 0.5)),
    "mix": (("#5A4132", 60, 0.024, 0.55), ("#A98A72", 44, 0.026, 0.30),
            ("#C9B59B", 12, 0.022, 0.30)),
    "topsoil": (("#4A3527", 55, 0.024, 0.7), ("#9A8C78", 26, 0.026, 0.8)),
    "topdressing": (("#A9733C", 60, 0.020, 0.5), ("#6E5138", 30, 0.016, 0.7)),
    "brush": (("#5C4535", 95, 0.10, 0.09), ("#B08B5E", 85, 0.09, 0.09)),
    "leaves": (("#DCC178", 100, 0.040, 0.55), ("#6F4A25", 75, 0.040, 0.55),
               ("#C4883F", 70, 0.040, 0.5)),
    "straw": (("#F3E2A6", 115, 0.10, 0.06), ("#B9984F", 90, 0.09, 0.06)),
    "logs": (("#7A5B3C", 70, 0.05, 0.3), ("#2E221B", 60, 0.05, 0.3)),
}  # fmt: skip
_AREA = (13.0, 3.2)  # metres of pattern along and across: the largest bed and a margin


@lru_cache(maxsize=64)
def _scatter(kind: int, density: int, length: float, slim: float):
    """Places, ranks and outlines of pieces over the whole pattern, and its cell.

    One piece lies somewhere in each cell of a grid, row after row along the bed.
    """
    random = np.random.default_rng([2027, kind])
    cell = density**-0.5
    n, m = (int(a / cell) for a in _AREA)
    grid = np.stack(np.meshgrid(np.arange(n), np.arange(m), indexing="ij"), -1)
    places = (grid.reshape(-1, 2) + random.uniform(0.05, 0.95, (n * m, 2))) * cell
    rank = random.permutation(n * m) / (n * m)
    turn = random.uniform(0, 2 * np.pi, (n * m, 1))
    corner = np.array([0.5, 2.6, 3.7, 5.8]) + random.normal(0, 0.16, (n * m, 4))
    along, across = np.cos(corner), slim * np.sign(np.sin(corner))
    shape = np.stack(
        [
            along * np.cos(turn) - across * np.sin(turn),
            along * np.sin(turn) + across * np.cos(turn),
        ],
        -1,
    )
    size = 0.5 * length * random.uniform(0.65, 1.2, (n * m, 1, 1))
    return places, rank, shape * size, cell, m


def flecks(kind: int, density, length, slim, a, b, share=1.0) -> np.ndarray:
    """Small slivers (n, 4, 2) in the window a x b of the pattern.

    Parameters
    ----------
    kind : int
        Which pattern: neighbours use different ones.
    density, length, slim : float
        Pieces a square metre, their length in metres, their slimness.
    a, b : pair of float
        The window, metres.
    share : float
        Keep only this share, evenly thinned out; those left are larger.
    """
    places, rank, shape, cell, m = _scatter(kind, int(density), length, slim)
    larger = max(share, 0.2) ** -0.4
    margin = min(0.4 * larger * length, 0.2 * (a[1] - a[0]), 0.2 * (b[1] - b[0]))
    rows = slice(max(int(a[0] / cell), 0) * m, (int(a[1] / cell) + 1) * m)
    x, y = places[rows].T
    inside = (x > a[0] + margin) & (x < a[1] - margin) & (rank[rows] < share)
    inside &= (y > b[0] + margin) & (y < b[1] - margin)
    found = larger * shape[rows][inside] + places[rows][inside][:, None]
    return np.clip(found, (a[0], b[0]), (a[1], b[1]))


# ---- logs

_LONG, _HIGH = 48.0, 12.0  # the pile, in mean log radii
_SMALL, _LARGE = 0.74, 1.32


@lru_cache(maxsize=1)
def _pile() -> np.ndarray:
    """Round ends (x, z, r) piled up, in mean log radii: each rests on those below.

    One after the other goes to the lowest free place, touching the ground or two
    others.
    """
    random = np.random.default_rng(5)
    placed = np.empty((0, 3))
    while True:
        r = random.uniform(_SMALL, _LARGE)
        spot = _lowest(placed, r)
        if spot is None or spot[1] > _HIGH:
            return placed
        placed = np.vstack([placed, [*spot, r]])


def _lowest(placed: np.ndarray, r: float):
    """The lowest free place for one more log of radius r."""
    tries, last = [np.array([[r, r]])], placed[-64:]
    if len(last):
        x, z, s = last.T
        step = np.sqrt(np.maximum((r + s) ** 2 - (r - z) ** 2, 0))
        tries.append(np.column_stack([x + step, np.full_like(x, r)])[z < 2 * r + s])
        i, k = np.nonzero(np.abs(x[:, None] - x) < s[:, None] + s + 2 * r)
        i, k = i[i != k], k[i != k]
        d = np.column_stack([x[k] - x[i], z[k] - z[i]])
        far = np.hypot(*d.T)
        p, q = r + s[i], r + s[k]
        along = (p**2 - q**2 + far**2) / (2 * far)
        over = np.sqrt(np.maximum(p**2 - along**2, 0))
        d /= far[:, None]
        spot = np.column_stack([x[i], z[i]]) + along[:, None] * d
        spot += over[:, None] * np.column_stack([-d[:, 1], d[:, 0]])
        tries.append(spot[far < p + q])
    spots = np.concatenate(tries)
    u, v = spots.T
    spots = spots[(v > r - 1e-6) & (u > r - 1e-6) & (u < _LONG - r)]
    apart = np.hypot(*(spots[:, None, :2] - placed[:, :2]).transpose(2, 0, 1))
    spots = spots[(apart > r + placed[:, 2] - 1e-6).all(1)]
    if not len(spots):
        return None
    return spots[np.argmin(spots[:, 1] + 0.02 * spots[:, 0])]


def logs(wide: float, high: float) -> np.ndarray:
    """Log ends (n, 3) as x, z, r in metres that fill a window wide x high.

    Small windows show thin logs; large ones show thicker logs, so that their number
    stays about fifty; their rows fill the height. What the window's right side or top
    cuts keeps its centre inside.
    """
    if wide < 0.03 or high < 0.03:
        return np.empty((0, 3))
    wish = max(0.046, (wide * high * 0.8 / (42 * np.pi)) ** 0.5, wide / (_LONG - 1.5))
    rows = np.clip(np.rint((high / wish - 2.1) / 1.7 + 1), 1, 7)
    mean = high / (2.1 + 1.7 * (rows - 1))
    found = _pile() * mean
    x, z, r = found.T
    found = found[(x < wide) & (z + r < high + 0.32 * mean)]
    return _filled(found, wide, high, mean)


def _filled(found: np.ndarray, wide: float, high: float, mean: float) -> np.ndarray:
    """Thin logs in the hollows along the top, where the pile was cut off."""
    for r in mean * np.array([0.78, 0.60]):
        x, z = np.meshgrid(
            np.arange(r, wide - r, 0.22 * mean), high - r * np.array([1.0, 1.35])
        )
        spots = np.column_stack([x.ravel(), z.ravel()])
        spots = spots[np.argsort(spots[:, 0], kind="stable")]
        gap = np.hypot(*(spots[:, None] - found[:, :2]).transpose(2, 0, 1))
        last = -np.inf
        for spot in spots[(gap > r + 0.97 * found[:, 2]).all(1)]:
            if spot[0] > last + 2 * r and spot[1] > r:
                found = np.vstack([found, [*spot, r]])
                last = spot[0]
    return found
