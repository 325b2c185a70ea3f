"""Cross ties: rods from wall to wall with a plate and a nut at either end."""

from __future__ import annotations

import numpy as np

from bedcalc.assembly import Assembly, Tie

from .filling import fill_at
from .plan import Plan
from .solids import Piece, Solids

__all__ = ["plates", "rods", "shown"]

_PLATE = 0.034  # m, half of a plate as drawn


def shown(plan: Plan, made: Assembly) -> list[Tie]:
    """The ties that are drawn with their rod: those in the opened bay, else all."""
    opened = [t for t in made.ties if t.x > plan.opened - 0.02]
    return opened or list(made.ties)


def rods(s: Solids, plan: Plan, made: Assembly) -> None:
    """Rods: steel in the open, white dashes where they run through the fill."""
    solid = s.solid((0, 0, 0, 0, 0, 0))
    begin, end = plan.wall, plan.width - plan.wall
    for tie in shown(plan, made):
        y = np.linspace(begin, end, 41)
        hidden = np.array([fill_at(plan, tie.x, v) > tie.z for v in y])
        if tie.x < plan.opened and tie.foot:  # dashes would lie on the wall
            continue
        open_to = y[np.argmax(hidden)] if hidden.any() else end
        if open_to > begin + 0.02:
            run = np.array([[tie.x, begin, tie.z], [tie.x, open_to, tie.z]])
            for width, ink in ((7.0, "#4b565e"), (5.2, "#B9C6CF"), (1.4, "#F4F7F9")):
                lift = (0, 0, 0.006 if width < 2 else 0)
                solid.pieces.append(Piece([run + lift], line=width, ink=ink))
        if hidden.any():
            far = _dashes_end(plan, tie, end)
            if far > open_to + 0.03:
                run = np.array([[tie.x, open_to, tie.z], [tie.x, far, tie.z]])
                solid.pieces.append(Piece([run], line=3.2, ink="#ffffff", dash="6 4"))


def _dashes_end(plan: Plan, tie: Tie, end: float) -> float:
    """How far the dashes go: to the far wall, or as far as they lie on the cut."""
    if not tie.foot:
        return end
    return min(end, plan.half + 0.1)


def plates(s: Solids, plan: Plan, made: Assembly) -> None:
    """A plate with its nut on the front of the wall for every tie."""
    solid = s.solid((0, 0, 0, 0, 0, 0))
    turn = np.linspace(0, 2 * np.pi, 13)[:-1]
    xs, p = sorted({tie.x for tie in made.ties}), _PLATE
    if len(xs) > 1:
        p = min(p, 0.3 * float(np.diff(xs).min()))
    for tie in made.ties:
        x, z = tie.x, tie.z
        square = np.array([[x - p, 0, z - p], [x + p, 0, z - p], [x + p, 0, z + p],
                           [x - p, 0, z + p]])  # fmt: skip
        nut = np.column_stack(
            [x + 0.45 * p * np.cos(turn), 0 * turn, z + 0.45 * p * np.sin(turn)]
        )
        solid.pieces.append(Piece([square], "#E3EAEE", 1.1))
        solid.pieces.append(Piece([nut], "#9aa7b0", 1.0))
