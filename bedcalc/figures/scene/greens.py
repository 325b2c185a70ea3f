"""A row of young lettuces on the fill: the bed is there to grow something."""

from __future__ import annotations

import numpy as np

from .filling import steps
from .plan import Plan
from .solids import Piece, Solids

__all__ = ["greens"]

_LEAVES = ("#5E8240", "#7FA054", "#A3BF73", "#C2D69A")


def greens(s: Solids, plan: Plan) -> None:
    """Lettuces in one row along the back half of the fill."""
    made = steps(plan)
    if not made:
        return
    z, room = made[-1].top, plan.width - 2 * plan.wall
    y, r = plan.wall + 0.68 * room, min(0.13, 0.2 * room)
    begin = plan.wall + max(0.62, 0.24 * plan.length)
    end = min(plan.opened + 0.45, plan.length - plan.wall - 0.2)
    count = min(int((end - begin) / (2.5 * r)), 12)
    solid = s.solid((0, 0, 0, 0, 0, 0))
    for n in range(max(count, 0)):
        x = begin + (n + 0.5) * (end - begin) / count
        random = np.random.default_rng([7, n])
        shade = _clump(x + 0.02, y - 0.02, z, 1.05 * r, 0.0, random)
        solid.pieces.append(Piece([shade], "#4f3b2c"))
        for colour, wide, many, lift in zip(
            _LEAVES, (0.66, 0.60, 0.48, 0.34), (7, 6, 5, 3), (0.25, 0.5, 0.85, 1.1),
            strict=True,
        ):  # fmt: skip
            turn = np.linspace(0, 2 * np.pi, many, endpoint=False) + random.uniform(
                0, 6
            )
            away = r * (1 - 0.86 * wide) * (1.15 - 0.6 * lift)
            rings = [
                _clump(x + away * np.cos(t), y + away * np.sin(t), z + lift * r,
                       wide * r * random.uniform(0.8, 1.1), 0.45, random)
                for t in turn
            ]  # fmt: skip
            solid.pieces.append(Piece(rings, colour))


def _clump(x, y, z, r, high: float, random) -> np.ndarray:
    """A crinkled leaf seen from our side: wide along x, ``high`` how much it stands."""
    turn = np.linspace(0, 2 * np.pi, 15)[:-1]
    wave = r * (1 + 0.14 * np.sin(4 * turn + random.uniform(0, 6)))
    wave = wave * random.uniform(0.9, 1.1, len(turn))
    across = wave * np.sin(turn)
    return np.column_stack(
        [x + wave * np.cos(turn), y + (1 - high) * across, z + high * across]
    )
