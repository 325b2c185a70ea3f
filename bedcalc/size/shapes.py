"""Outlines other than a box: L, U, keyhole, six sides, and what one reaches of them.

All have the same outside length and width; what differs is area, wall and reach.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass

import numpy as np

__all__ = ["KINDS", "Outline", "area_within", "outline"]

KINDS = ("box", "L", "U", "keyhole", "hexagon")
_CELL = 0.02  # m, the raster on which reach is measured


@dataclass(frozen=True, kw_only=True)
class Outline:
    """One outline in plan, in metres.

    ``ring`` holds its corners round (n, 2). ``reached`` is the share of its ground
    within reach of somebody who walks round it and into its bay.
    """

    kind: str
    ring: np.ndarray
    area: float
    perimeter: float
    reached: float
    points: np.ndarray
    near: np.ndarray


def _ring(kind: str, length: float, width: float, arm: float, bay: float):
    """Corners of an outline; ``arm`` is how wide its arms are, ``bay`` its entrance."""
    L, W = length, width
    arm = min(arm, W, L)
    if kind == "L":
        return [(0, 0), (L, 0), (L, arm), (arm, arm), (arm, W), (0, W)]
    if kind == "U":
        return [
            (0, 0), (L, 0), (L, W), (L - arm, W), (L - arm, arm), (arm, arm),
            (arm, W), (0, W),
        ]  # fmt: skip  # rows of a table
    if kind == "keyhole":
        half, deep = bay / 2, max(W - arm, 0.0)
        mid = L / 2
        return [
            (0, 0), (L, 0), (L, W), (mid + half, W), (mid + half, W - deep),
            (mid - half, W - deep), (mid - half, W), (0, W),
        ]  # fmt: skip  # rows of a table
    if kind == "hexagon":
        cut = min(W / 2 / np.sqrt(3.0), L / 2)
        return [(cut, 0), (L - cut, 0), (L, W / 2), (L - cut, W), (cut, W), (0, W / 2)]
    return [(0, 0), (L, 0), (L, W), (0, W)]


@functools.lru_cache(maxsize=64)
def outline(
    kind: str, length: float, width: float, arm: float, bay: float, reach: float
) -> Outline:
    """Area, wall length and reach of one outline.

    Parameters
    ----------
    kind : str
        One of ``KINDS``.
    length, width : float
        Outside length and width in metres.
    arm : float
        Width of the arms of an L or U, or of the back of a keyhole, in metres.
    bay : float
        Width of the entrance of a keyhole in metres.
    reach : float
        How far one reaches from the outside, in metres.

    Returns
    -------
    Outline

    Notes
    -----
    Area by the surveyor's formula, reach by distance to the nearest side on a raster
    of 2 cm. Source: computed.
    """
    if kind not in KINDS:
        raise ValueError(
            f"outline, kind: needs one of {', '.join(KINDS)}; given {kind!r}; "
            "for example 'L'"
        )
    ring = np.array(_ring(kind, length, width, arm, bay), dtype=float)
    after = np.roll(ring, -1, axis=0)
    area = 0.5 * abs(np.sum(ring[:, 0] * after[:, 1] - after[:, 0] * ring[:, 1]))
    perimeter = float(np.hypot(*(after - ring).T).sum())
    x, y = np.meshgrid(
        np.arange(_CELL / 2, length, _CELL), np.arange(_CELL / 2, width, _CELL)
    )
    points = np.column_stack([x.ravel(), y.ravel()])
    points = points[_inside(points, ring)]
    near = _to_side(points, ring) <= reach + 1e-9
    return Outline(
        kind=kind,
        ring=ring,
        area=float(area),
        perimeter=perimeter,
        reached=float(near.mean()),
        points=points,
        near=near,
    )


def area_within(ring: np.ndarray, thick: float) -> float:
    """Growing area inside walls of a thickness that stand along an outline.

    Parameters
    ----------
    ring : array (n, 2)
        Corners of the outside, in metres.
    thick : float
        Of the walls, in metres.

    Returns
    -------
    float
        A - P t + t^2 sum(tan(turn / 2)), with the signed turn at each corner; never
        below zero.

    Notes
    -----
    Exact while the walls leave room between them. Source: computed, offset of a
    polygon.
    """
    along = np.roll(ring, -1, axis=0) - ring
    along = along[np.hypot(*along.T) > 1e-9]  # an arm as wide as the bed
    before = np.roll(along, 1, axis=0)
    cross = before[:, 0] * along[:, 1] - before[:, 1] * along[:, 0]
    turn = np.arctan2(cross, (before * along).sum(axis=1))
    x, y = ring.T
    area = 0.5 * np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)
    corners = np.sum(np.tan(turn / 2) * np.sign(area))
    length = np.hypot(*along.T).sum()
    return max(float(abs(area) - length * thick + corners * thick**2), 0.0)


def _inside(points: np.ndarray, ring: np.ndarray) -> np.ndarray:
    """Which points lie inside a ring: a ray to the right crosses it an odd number."""
    odd = np.zeros(len(points), dtype=bool)
    for (x0, y0), (x1, y1) in zip(ring, np.roll(ring, -1, axis=0), strict=True):
        if y0 == y1:
            continue
        crosses = (y0 > points[:, 1]) != (y1 > points[:, 1])
        at = x0 + (points[:, 1] - y0) / (y1 - y0) * (x1 - x0)
        odd ^= crosses & (points[:, 0] < at)
    return odd


def _to_side(points: np.ndarray, ring: np.ndarray) -> np.ndarray:
    """Distance of points to the nearest side of a ring."""
    best = np.full(len(points), np.inf)
    for start, end in zip(ring, np.roll(ring, -1, axis=0), strict=True):
        along = end - start
        if not along.any():
            continue  # an arm as wide as the bed leaves a side of no length
        share = np.clip((points - start) @ along / (along @ along), 0, 1)
        away = np.hypot(*(points - start - share[:, None] * along).T)
        best = np.minimum(best, away)
    return best
