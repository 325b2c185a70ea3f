"""Somebody beside the bed, for scale: a flat pale figure that faces the viewer.

Figures are drawn in a unit of their own height, from tapered limbs: circles joined by
tangents. All in one tone, so overlaps do not show.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

__all__ = ["Yardstick", "yardstick"]


def _limb(*nodes) -> list[np.ndarray]:
    """Tapered pieces between circles (x, z, r), rounded at both ends."""
    found = []
    half = np.linspace(np.pi / 2, 3 * np.pi / 2, 6)
    for (x0, z0, r0), (x1, z1, r1) in zip(nodes, nodes[1:], strict=False):
        turn = np.arctan2(z1 - z0, x1 - x0) + half
        ring = np.column_stack([np.cos(turn), np.sin(turn)])
        found.append(np.vstack([(x0, z0) + r0 * ring, (x1, z1) - r1 * ring]))
    return found


def _round(x, z, rx, rz, n=18) -> np.ndarray:
    turn = np.linspace(0, 2 * np.pi, n + 1)[:-1]
    return np.column_stack([x + rx * np.cos(turn), z + rz * np.sin(turn)])


def _both(*half) -> np.ndarray:
    """A shape alike on both sides, from its right half, foot first."""
    right = np.array(half)
    return np.vstack([right, right[::-1] * (-1, 1)])


@lru_cache(maxsize=8)
def _standing(heads: float) -> tuple[np.ndarray, ...]:
    """Someone standing at ease, a spade at the right hand; ``heads`` tall."""
    head = 1.0 / heads
    chin = 1.0 - head
    arm = chin - 0.34 * head  # height of the shoulder joint
    hip = 0.50 * chin + 0.03
    broad = 0.72 * head * (heads / 7.5) ** 0.4
    knee, ankle, mid = 0.54 * hip, 0.045, 0.5 * (arm + hip)
    seat, side = hip - 0.01, broad - 0.026
    tool = broad + 0.098
    return (
        _round(0.004, chin + 0.52 * head, 0.335 * head, 0.48 * head),
        *_limb((0.0, chin + 0.2 * head, 0.17 * head), (0, arm, 0.2 * head)),
        # shoulders sloping from the neck, chest, hips
        _both(
            (0.0, arm - 0.06),
            (broad - 0.018, arm - 0.06),
            (broad - 0.002, arm - 0.01),
            (broad - 0.012, arm + 0.018),
            (0.20 * head, arm + 0.25 * head),
        ),
        _both(
            (0.068, mid - 0.03), (0.072, mid), (broad - 0.012, arm - 0.04), (0.0, arm)
        ),
        _both(
            (0.050, hip - 0.045), (0.080, hip - 0.01), (0.084, hip + 0.03), (0.069, mid)
        ),
        # the leg that carries, the leg at ease
        *_limb((-0.036, seat, 0.047), (-0.042, knee, 0.033), (-0.040, ankle, 0.021)),
        *_limb((0.040, seat, 0.047), (0.062, knee, 0.033), (0.076, ankle, 0.021)),
        *_limb((-0.043, 0.018, 0.018), (-0.074, 0.012, 0.012)),
        *_limb((0.078, 0.018, 0.018), (0.120, 0.012, 0.012)),
        # one arm hangs, one holds the spade
        *_limb(
            (-side, arm - 0.012, 0.031),
            (-broad - 0.014, mid - 0.01, 0.024),
            (-broad - 0.006, hip - 0.005, 0.018),
            (-broad, hip - 0.045, 0.019),
        ),
        *_limb(
            (side, arm - 0.012, 0.031),
            (broad + 0.034, mid + 0.01, 0.024),
            (tool - 0.012, hip + 0.075, 0.018),
            (tool - 0.002, hip + 0.076, 0.021),
        ),
        # spade
        *_limb((tool - 0.026, hip + 0.108, 0.008), (tool + 0.024, hip + 0.112, 0.008)),
        *_limb((tool, hip + 0.10, 0.007), (tool + 0.014, 0.17, 0.007)),
        np.array(
            [
                [tool - 0.020, 0.175],
                [tool - 0.012, 0.035],
                [tool + 0.018, 0.0],
                [tool + 0.046, 0.035],
                [tool + 0.050, 0.18],
            ]
        ),
    )


@lru_cache(maxsize=2)
def _rolling() -> tuple[np.ndarray, ...]:
    """Someone on wheels, seen from the side, facing the bed; stature 1."""
    ring = _round(-0.02, 0.185, 0.185, 0.185, 28)
    hole = _round(-0.02, 0.185, 0.165, 0.165, 28)
    rim = [np.array([ring[i], ring[i - 27], hole[i - 27], hole[i]]) for i in range(28)]
    return (
        *rim,
        _round(-0.02, 0.185, 0.022, 0.022, 10),
        _round(0.180, 0.034, 0.034, 0.034, 12),
        # frame: seat, fork, foot rest, back, handle
        *_limb((0.165, 0.285, 0.010), (0.180, 0.04, 0.009)),
        *_limb(
            (-0.135, 0.285, 0.012),
            (0.17, 0.285, 0.012),
            (0.235, 0.10, 0.009),
            (0.315, 0.078, 0.010),
        ),
        *_limb((-0.125, 0.29, 0.011), (-0.165, 0.53, 0.011), (-0.215, 0.545, 0.012)),
        # legs, feet
        *_limb((-0.070, 0.345, 0.060), (0.155, 0.348, 0.044), (0.222, 0.135, 0.025)),
        *_limb((0.228, 0.108, 0.017), (0.298, 0.100, 0.013)),
        # trunk: seat to waist, waist to shoulders; neck, head
        *_limb((-0.072, 0.355, 0.066), (-0.066, 0.47, 0.060), (-0.066, 0.570, 0.058)),
        *_limb((-0.056, 0.60, 0.036), (-0.036, 0.68, 0.028)),
        _round(-0.020, 0.735, 0.050, 0.064),
        # arm, reaching for the bed
        *_limb(
            (-0.062, 0.575, 0.033),
            (0.020, 0.445, 0.025),
            (0.140, 0.478, 0.019),
            (0.178, 0.490, 0.020),
        ),
    )


@lru_cache(maxsize=1)
def _can() -> tuple[np.ndarray, ...]:
    """A watering can of height 1."""
    turn = np.linspace(-0.42 * np.pi, 0.80 * np.pi, 13)
    ring = np.column_stack([np.cos(turn), np.sin(turn)])
    outer, inner = (0.30, 0.55) + 0.38 * ring, (0.30, 0.55) + 0.31 * ring
    handle = [
        np.array([outer[k], outer[k + 1], inner[k + 1], inner[k]]) for k in range(12)
    ]
    return (
        np.array([[-0.30, 0.0], [0.38, 0.0], [0.33, 0.72], [-0.25, 0.72]]),
        *handle,
        *_limb((-0.26, 0.14, 0.060), (-0.62, 0.72, 0.032)),
        *_limb((-0.70, 0.68, 0.028), (-0.57, 0.80, 0.028)),
    )


@dataclass(frozen=True)
class Yardstick:
    """Something of known size beside the bed: convex pieces (m, 2) in metres.

    Pieces are measured across from the middle and up from the ground; ``left`` and
    ``right`` are how far they reach, ``tall`` how high.
    """

    pieces: tuple[np.ndarray, ...]
    left: float
    right: float
    tall: float


@lru_cache(maxsize=16)
def yardstick(users: str, stature: float, length: float, height: float) -> Yardstick:
    """Who stands beside a bed of this length and height.

    Parameters
    ----------
    users : str
        Key of data/people.csv; people on wheels sit.
    stature : float
        Height of a standing person in metres.
    length, height : float
        Size of the bed; beside a box for the balcony stands a watering can of 34 cm.
    """
    if max(length, 1.6 * height) < 0.95:
        pieces, scale = _can(), 0.34
    elif users == "seated":
        pieces, scale = _rolling(), stature
    else:
        # a small child is about five heads tall, an adult seven and a half
        heads = float(np.clip(5.1 + 4.0 * (stature - 1.0), 4.8, 7.4))
        pieces, scale = _standing(heads), stature
    points = scale * np.vstack(pieces)
    return Yardstick(
        tuple(scale * p for p in pieces),
        float(points[:, 0].min()),
        float(points[:, 0].max()),
        float(points[:, 1].max()),
    )
