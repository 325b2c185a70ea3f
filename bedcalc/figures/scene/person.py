"""Somebody beside the bed, for scale: a flat pale figure that faces the viewer.

Figures are drawn in a unit of their own height, from tapered limbs: circles joined by
tangents. All in one tone, so overlaps do not show.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

__all__ = ["figure", "wide"]


def _limb(*nodes) -> list[np.ndarray]:
    """Tapered pieces between circles (x, z, r), rounded at both ends."""
    found = []
    for (x0, z0, r0), (x1, z1, r1) in zip(nodes, nodes[1:], strict=False):
        angle = np.arctan2(z1 - z0, x1 - x0)
        half = np.linspace(np.pi / 2, 3 * np.pi / 2, 5)
        a = np.column_stack(
            [x0 + r0 * np.cos(angle + half), z0 + r0 * np.sin(angle + half)]
        )
        b = np.column_stack(
            [x1 - r1 * np.cos(angle + half), z1 - r1 * np.sin(angle + half)]
        )
        found.append(np.vstack([a, b]))
    return found


def _round(x, z, rx, rz, n=14) -> np.ndarray:
    turn = np.linspace(0, 2 * np.pi, n + 1)[:-1]
    return np.column_stack([x + rx * np.cos(turn), z + rz * np.sin(turn)])


@lru_cache(maxsize=8)
def _standing(heads: float) -> tuple[np.ndarray, ...]:
    """Someone standing at ease, a spade at the right hand; ``heads`` tall."""
    head = 1.0 / heads
    chin = 1.0 - head
    shoulder = chin - 0.30 * head
    hip = 0.50 * chin + 0.02
    broad, waist = 0.70 * head * (heads / 7.5) ** 0.3, 0.0
    del waist
    knee, ankle = 0.53 * hip, 0.045
    parts = [
        _round(0.004, chin + 0.53 * head, 0.35 * head, 0.49 * head),
        *_limb((0.0, chin + 0.15 * head, 0.19 * head), (0, shoulder, 0.22 * head)),
        # trunk: shoulders, waist, hips
        np.array([
            [-0.055, hip - 0.02], [0.055, hip - 0.02], [0.082, hip + 0.02],
            [0.078, hip + 0.10], [broad - 0.005, shoulder - 0.05],
            [broad, shoulder - 0.012], [broad * 0.55, shoulder + 0.022],
            [-broad * 0.55, shoulder + 0.022], [-broad, shoulder - 0.012],
            [-broad + 0.005, shoulder - 0.05], [-0.078, hip + 0.10], [-0.082, hip + 0.02],
        ]),
        # the leg that carries, the leg at ease
        *_limb((-0.036, hip, 0.050), (-0.040, knee, 0.034), (-0.038, ankle, 0.021)),
        *_limb((0.042, hip, 0.050), (0.066, knee, 0.034), (0.076, ankle, 0.021)),
        *_limb((-0.040, 0.016, 0.016), (-0.078, 0.012, 0.012)),
        *_limb((0.076, 0.016, 0.016), (0.122, 0.011, 0.011)),
        # one arm hangs, one holds the spade
        *_limb((-broad + 0.012, shoulder - 0.03, 0.030), (-broad - 0.022, 0.5 * (shoulder + hip), 0.024),
               (-broad - 0.012, hip + 0.01, 0.019), (-broad - 0.006, hip - 0.035, 0.020)),
        *_limb((broad - 0.012, shoulder - 0.03, 0.030), (broad + 0.040, 0.5 * (shoulder + hip) + 0.015, 0.024),
               (broad + 0.086, hip + 0.075, 0.019), (broad + 0.094, hip + 0.072, 0.020)),
        # spade
        *_limb((broad + 0.094, hip + 0.10, 0.007), (broad + 0.108, 0.17, 0.007)),
        *_limb((broad + 0.070, hip + 0.104, 0.008), (broad + 0.118, hip + 0.108, 0.008)),
        np.array([[broad + 0.075, 0.17], [broad + 0.084, 0.03], [broad + 0.112, 0.0],
                  [broad + 0.140, 0.03], [broad + 0.143, 0.175]]),
    ]  # fmt: skip
    return tuple(parts)


@lru_cache(maxsize=2)
def _rolling() -> tuple[np.ndarray, ...]:
    """Someone on wheels, seen from the side, facing the bed; stature 1."""
    ring = _round(-0.02, 0.185, 0.185, 0.185, 24)
    hole = _round(-0.02, 0.185, 0.165, 0.165, 24)
    rim = [
        np.array([ring[i], ring[j], hole[j], hole[i]])
        for i, j in zip(range(24), [*range(1, 24), 0], strict=True)
    ]
    parts = [
        *rim,
        _round(-0.02, 0.185, 0.022, 0.022, 10),
        _round(0.175, 0.036, 0.036, 0.036, 12),
        *_limb((0.17, 0.285, 0.010), (0.175, 0.04, 0.009)),
        # frame: seat, back, foot rest
        *_limb((-0.135, 0.285, 0.012), (0.17, 0.285, 0.012), (0.225, 0.10, 0.010), (0.30, 0.075, 0.011)),
        *_limb((-0.125, 0.29, 0.011), (-0.165, 0.53, 0.011), (-0.215, 0.545, 0.012)),
        # legs, trunk, neck, head
        *_limb((-0.075, 0.345, 0.062), (0.155, 0.345, 0.046), (0.215, 0.13, 0.026)),
        *_limb((0.215, 0.105, 0.017), (0.285, 0.098, 0.015)),
        np.array([[-0.135, 0.30], [-0.02, 0.30], [0.0, 0.40], [0.012, 0.55], [-0.01, 0.615],
                  [-0.075, 0.63], [-0.125, 0.585], [-0.14, 0.45]]),
        *_limb((-0.05, 0.60, 0.035), (-0.036, 0.68, 0.028)),
        _round(-0.022, 0.735, 0.052, 0.066),
        # arm, reaching forward
        *_limb((-0.06, 0.575, 0.033), (0.015, 0.44, 0.026), (0.135, 0.47, 0.020), (0.17, 0.48, 0.020)),
    ]  # fmt: skip
    return tuple(parts)


def figure(users: str, stature: float) -> list[np.ndarray]:
    """Convex pieces (m, 2) in metres: across from the middle, up from the feet.

    Parameters
    ----------
    users : str
        Key of data/people.csv; people on wheels sit.
    stature : float
        Height of the standing person in metres.
    """
    if users == "seated":
        return [stature * p for p in _rolling()]
    # a small child is about five heads tall, an adult seven and a half
    heads = float(np.clip(5.1 + 4.0 * (stature - 1.0), 4.8, 7.4))
    return [stature * p for p in _standing(heads)]


def wide(users: str, stature: float) -> tuple[float, float]:
    """How far the figure reaches to the left and right of its middle, metres."""
    points = np.vstack(figure(users, stature))
    return float(points[:, 0].min()), float(points[:, 0].max())
