"""The fill, cut in steps at the open corner so that each layer shows a top and a front.

Every layer is cut further back than the one under it, so the cut reads like a stair.
Logs lie across the bed and turn their round ends to us.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .plan import Plan
from .solids import Piece, Solids, lit, ring
from .texture import STYLES, flecks, logs

__all__ = ["Step", "fill_at", "filling", "steps"]

#: light on a layer's front, top and right side
_LIGHT = {
    "compost": (1.15, 1.75, 0.85), "logs": (0.52, 0.70, 0.42),
    "chips": (0.86, 0.98, 0.70),
}  # fmt: skip
_PLAIN = (0.90, 1.10, 0.72)
_LIP = {"mix": "#A98A72", "topsoil": "#9C7C60", "compost": "#75604F"}
_MOST = 420  # slivers of a texture


@dataclass(frozen=True)
class Step:
    """One layer: from low to top, cut away right of ``a`` and in front of ``b``."""

    material: str
    low: float
    top: float
    a: float
    b: float


def steps(plan: Plan) -> list[Step]:
    """The layers as they are cut, bottom first."""
    found = [(m, h) for m, h in plan.layers if h > 0.002]
    front, right = _front(plan), _right(plan)
    begin, back = plan.opened + 0.06, plan.half - 0.03
    count = max(len(found) - 1, 1)
    deep = min(0.19, max(back - front, 0.0) / count)
    wide = min(0.18, 0.5 * max(right - begin, 0.0) / count)
    made, low = [], plan.floor
    for k, (material, h) in enumerate(found):
        top = min(low + h, plan.height - 0.005)
        a = right if k == 0 else begin + (len(found) - 1 - k) * wide
        made.append(Step(material, low, top, a, front + k * deep))
        low = top
    return made


def fill_at(plan: Plan, x: float, y: float) -> float:
    """Height to which the fill lies at x, y."""
    covers = [m.top for m in steps(plan) if x < m.a or y >= m.b]
    return max(covers, default=plan.floor)


def _front(plan: Plan) -> float:
    """Where the cut fill begins behind the front of the wall."""
    return plan.wall + (0.004 + plan.wave[1] if plan.family == "sheet" else 0.010)


def _right(plan: Plan) -> float:
    """Where the fill ends at the right: at the sheet, or at the inner face."""
    return plan.length - plan.wall - (plan.wave[1] + 0.003 if plan.wave[1] else 0.0)


def filling(s: Solids, plan: Plan) -> None:
    """Put the fill into the bed of this plan, lowest layer first."""
    made = steps(plan)
    t, w = plan.wall, plan.width
    solid = s.solid((t, _right(plan), t, w - t, plan.floor, plan.height))
    if not made:
        floor = s.top((t, plan.length - t), (t, w - t), plan.floor + 0.004)
        solid.pieces.append(Piece([floor], lit("ground", 1.0)))
        return
    solid.box = (*solid.box[:5], made[-1].top)
    share = min(1.0, _MOST / max(_strewn(plan, made), 1.0))
    for k, step in enumerate(made):
        above = made[k + 1] if k + 1 < len(made) else None
        _layer(s, solid, plan, step, above)
        for kind, at, u, v in _faces(plan, step, above):
            if step.material != "logs" or kind == "top":
                _dust(solid, step, kind, at, u, v, share, k, above is None)
        if step.material == "logs":
            _logs(s, solid, plan, step, above)
        _lips(s, solid, plan, step)


def _faces(plan: Plan, step: Step, above: Step | None):
    """Faces that are seen: kind (front, top, side), place, and the two ranges."""
    right, y0 = _right(plan), _front(plan)
    z = (step.low, step.top)
    if above is None:
        t, w = plan.wall, plan.width
        left = min(step.a + 0.004, right)  # a hair over the other, else a seam shows
        yield "top", step.top, (t, left), (min(t, step.b), w - t)
        if step.a < right:
            yield "top", step.top, (step.a, right), (step.b, w - t)
    else:
        left = min(step.a, right)
        yield "top", step.top, (above.a, right), (step.b, above.b)
        if left > above.a:
            yield "top", step.top, (above.a, left), (y0, step.b)
    if step.a > plan.opened:
        yield "front", y0, (plan.opened, min(step.a, right)), z
    if step.a < right:
        yield "front", step.b, (step.a, right), z
        yield "side", step.a, (y0, step.b), z
    yield "side", right, (max(step.b, y0), plan.half), z


def _layer(s: Solids, solid, plan: Plan, step: Step, above: Step | None) -> None:
    """The bare faces of one layer."""
    front, top, side = _LIGHT.get(step.material, _PLAIN)
    paint = "chips" if step.material == "logs" else step.material
    for kind, at, u, v in _faces(plan, step, above):
        if u[1] - u[0] < 1e-4 or v[1] - v[0] < 1e-4:
            continue
        if kind == "front":
            shape, bright = s.front(u, at, v), front
        elif kind == "top":
            shape, bright = s.top(u, v, at), top
        else:
            shape, bright = s.side(at, u, v), side
        solid.pieces.append(Piece([shape], lit(paint, bright)))


def _lips(s: Solids, solid, plan: Plan, step: Step) -> None:
    """A pale line along the upper edge of a cut through soil."""
    ink = _LIP.get(step.material)
    right, y0 = _right(plan), _front(plan)
    if ink is None:
        return
    a = min(step.a, right)
    z, far = step.top, plan.half
    run = s.along(plan.opened, a)
    first = ring(run, y0, z, run[:1], y0, z)[: len(run)]
    more = [[a, step.b, z]]
    if step.a < right:
        more = [[a, step.b, z], [right, step.b, z]]
    rest = np.array([*more, [right, max(far, step.b), z]])
    solid.pieces.append(Piece([np.vstack([first, rest])], line=1.6, ink=ink))


# ---- texture


def _strewn(plan: Plan, made) -> float:
    """How many slivers full cover would take."""
    total = 0.0
    for k, step in enumerate(made):
        above = made[k + 1] if k + 1 < len(made) else None
        many = sum(style[1] for style in STYLES.get(step.material, ()))
        for kind, _, u, v in _faces(plan, step, above):
            less = 0.3 if kind == "top" and above is None else 1.0
            total += less * many * max(u[1] - u[0], 0) * max(v[1] - v[0], 0)
    return total


def _dust(solid, step: Step, kind, at, u, v, share, layer: int, last: bool) -> None:
    """Strew one face of a layer with its slivers."""
    if u[1] - u[0] < 0.01 or v[1] - v[0] < 0.01:
        return
    dim = {"front": 0.92, "top": 1.0, "side": 0.74}[kind]
    kept = share * (0.3 if last and kind == "top" else 1.0)
    for number, (colour, density, length, slim) in enumerate(
        STYLES.get(step.material, ())
    ):
        p = flecks(number + 5 * layer, density, length, slim, u, v, kept)
        if not len(p):
            continue
        flat = np.full(p.shape[:2], at)
        order = {
            "front": (p[..., 0], flat, p[..., 1]),
            "top": (p[..., 0], p[..., 1], flat),
            "side": (flat, p[..., 0], p[..., 1]),
        }[kind]
        rings = list(np.stack(order, -1))
        solid.pieces.append(Piece(rings, lit(colour, dim)))


# ---- logs


def _logs(s: Solids, solid, plan: Plan, step: Step, above: Step | None) -> None:
    """Round ends at the front, bark along the open tops and the right side."""
    left, right = plan.opened + 0.5 * plan.post * plan.behind_opened, _right(plan)
    found = logs(right - left, step.top - step.low) + (left, step.low, 0)
    if not len(found):
        return
    _bark(solid, plan, step, above, found)
    for share, corners, colour in (
        (1.0, 12, "#5C4535"), (0.84, 12, "#EFD3A2"), (0.58, 10, "#DDB57C"),
        (0.47, 10, "#EFD3A2"), (0.20, 8, "#C99A5E"),
    ):  # fmt: skip
        turn = 0.2 + 2 * np.pi * np.arange(corners) / corners
        unit = share * np.stack([np.cos(turn), np.sin(turn)], -1)
        x, z, r = (found[:, i, None] for i in range(3))
        p = np.empty((len(found), corners, 3))
        p[..., 0] = np.minimum(x + r * unit[:, 0], right)
        p[..., 1] = step.b
        p[..., 2] = np.minimum(z + r * unit[:, 1], step.top)
        solid.pieces.append(Piece(list(p), colour))


def _bark(solid, plan: Plan, step: Step, above: Step | None, found) -> None:
    """Logs seen from the side: along the open top, and at the right end."""
    right = _right(plan)
    far = above.b if above is not None else plan.width - plan.wall
    z = step.top
    backs, shine = [], []
    for x, high, r in found:
        if high + 1.25 * r > z and far > step.b + 0.02:
            a, b = max(x - 0.8 * r, plan.opened), min(x + 0.8 * r, right)
            backs.append(np.array([[a, step.b, z], [b, step.b, z], [b, far, z],
                                   [a, far, z]]))  # fmt: skip
            m = x - 0.15 * r
            n = min(m + 0.3 * r, right)
            if n > m:
                shine.append(np.array([[m, step.b, z], [n, step.b, z], [n, far, z],
                                       [m, far, z]]))  # fmt: skip
    solid.pieces.append(Piece(backs, "#6b5140"))
    solid.pieces.append(Piece(shine, "#8a6b55"))
    dark, light = [], []
    rows = max(round((step.top - step.low) / 0.075), 1)
    for k in range(rows):
        low = step.low + (step.top - step.low) * (k + 0.12) / rows
        high = step.low + (step.top - step.low) * (k + 0.9) / rows
        dark.append(Solids.side(right, (step.b, plan.half), (low, high)))
        mid = low + 0.45 * (high - low)
        light.append(
            Solids.side(right, (step.b, plan.half), (mid, mid + 0.2 * (high - low)))
        )
    solid.pieces.append(Piece(dark, "#4a3729"))
    solid.pieces.append(Piece(light, "#6b5140"))
