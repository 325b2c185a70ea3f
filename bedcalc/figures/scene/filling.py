"""The fill, cut in steps at the open corner so that each layer shows a top and a front.

The lowest layer is cut flush with the walls; every higher one is cut further back, so
the cut reads like a stair. Logs lie across the bed and turn their round ends to us.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .plan import Plan
from .solids import Solids
from .texture import STYLES, flecks, logs

__all__ = ["Step", "filling", "steps"]

#: brightness of a layer's front, top and right side; dark ones need help to part
_LIGHT = {"compost": (1.0, 1.55, 1.0), "logs": (0.46, 0.60, 0.42)}
_PLAIN = (1.0, 1.03, 0.97)


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
    begin, back = plan.opened + 0.06, plan.half - 0.035
    count = max(len(found) - 1, 1)
    deep = min(0.17, max(back - front, 0.0) / count)
    wide = min(0.16, 0.5 * max(right - begin, 0.0) / count)
    made, low = [], plan.floor
    for k, (material, h) in enumerate(found):
        top = min(low + h, plan.height - 0.005)
        a = right if k == 0 else begin + (len(found) - 1 - k) * wide
        made.append(Step(material, low, top, a, front + k * deep))
        low = top
    return made


def _front(plan: Plan) -> float:
    """Where the cut fill begins behind the front of the wall."""
    return plan.wall + (0.004 + plan.wave[1] if plan.family == "sheet" else 0.010)


def _right(plan: Plan) -> float:
    """Where the fill ends at the right: at the sheet, or at the inner face."""
    return plan.length - plan.wall - (plan.wave[1] + 0.003 if plan.wave[1] else 0.0)


def filling(s: Solids, plan: Plan) -> None:
    """Put the fill into the bed of this plan."""
    made = steps(plan)
    if not made:
        x, y = (plan.wall, plan.length - plan.wall), (plan.wall, plan.width - plan.wall)
        s.flat(x, y, plan.floor + 0.004, "ground")
        return
    share = _thinned(plan, made)
    for k, step in enumerate(made):
        above = made[k + 1] if k + 1 < len(made) else None
        _layer(s, plan, step, above)
        _dust(s, plan, step, above, share, k)
        if step.material == "logs":
            _logs(s, plan, step, above)


def _layer(s: Solids, plan: Plan, step: Step, above: Step | None) -> None:
    """Fronts, right sides and the visible part of the top of one layer."""
    t, w, right = plan.wall, plan.width, _right(plan)
    y0, y1, cut = _front(plan), w - t, plan.opened
    paint, z = step.material, (step.low, step.top)
    front, top, side = _LIGHT.get(paint, _PLAIN)
    if paint == "logs":  # between the logs lie chips, in the dark
        paint = "chips"
    lowered = step.top - (0.3 * _bump(step) if step.material == "logs" else 0.0)
    if step.a > cut:
        s.front((cut, step.a), y0, z, paint, front)
        s.line(_run(s, cut, step.a, y0, step.top))
    if step.a < right:
        s.front((step.a, right), step.b, z, paint, front)
        s.side(step.a, (y0, step.b), z, paint, side)
        s.line([[step.a, y0, z[1]], [step.a, step.b, z[1]]])
        s.line(_run(s, step.a, right, step.b, step.top))
        s.line([[step.a, step.b, z[0]], [step.a, step.b, z[1]]])
    begin = max(step.b, y0)
    if plan.half > begin:
        s.side(right, (begin, plan.half + 0.02), z, paint, side)
    s.line([[right, begin, z[0]], [right, begin, z[1]], [right, plan.half, z[1]]])
    if above is None:
        # under the rim the top reaches the rail; lower down it ends at the sheet
        rim = not plan.wave[1] or step.top > plan.height - plan.rail_high
        y, end = (t, plan.length - t) if rim else (y0, right)
        if step.a >= right:
            s.flat((t, end), (y, y1), step.top, paint, top)
        else:
            s.flat((t, step.a), (y, y1), step.top, paint, top)
            s.flat((step.a, end), (step.b, y1), step.top, paint, top)
        return
    s.flat((above.a - 0.01, right), (step.b, above.b + 0.01), lowered, paint, top)
    if step.a > above.a:
        left = (above.a - 0.01, min(step.a, right))
        s.flat(left, (y0, step.b), lowered, paint, top)


def _run(s: Solids, x0, x1, y, z) -> np.ndarray:
    """An edge along x that bends with the wall."""
    x = s.stops(x0, x1)
    return np.column_stack([x, np.full_like(x, y), np.full_like(x, z)])


# ---- texture


def _faces(plan: Plan, step: Step, above: Step | None):
    """Windows to strew: kind (front, top, side), place, and the two ranges."""
    t, right, y0 = plan.wall, _right(plan), _front(plan)
    z = (step.low, step.top)
    yield "front", y0, (plan.opened, min(step.a, right)), z
    if step.a < right:
        yield "front", step.b, (step.a, right), z
        yield "side", step.a, (y0, step.b), z
    yield "side", right, (max(step.b, y0), plan.half), z
    if above is not None:
        yield "top", step.top, (above.a, right), (step.b, above.b)
        yield "top", step.top, (above.a, step.a), (y0, step.b)
    else:
        yield "top", step.top, (t, right), (step.b, plan.width - t)
        yield "top", step.top, (t, step.a), (t, step.b)


def _area(plan, made) -> float:
    total = 0.0
    for k, step in enumerate(made):
        above = made[k + 1] if k + 1 < len(made) else None
        weight = sum(style[2] for style in STYLES.get(step.material, ()))
        for kind, _, u, v in _faces(plan, step, above):
            if kind != "top" or above is not None:
                total += weight * max(u[1] - u[0], 0) * max(v[1] - v[0], 0)
            else:
                total += 0.25 * weight * max(u[1] - u[0], 0) * max(v[1] - v[0], 0)
    return total


def _thinned(plan, made) -> float:
    """Share of the flecks to keep, so that large cuts do not cost more than small."""
    return min(1.0, 165 / max(_area(plan, made), 1.0))


def _dust(s: Solids, plan: Plan, step: Step, above, share: float, layer: int) -> None:
    """Strew the visible faces of one layer with its flecks."""
    for number, style in enumerate(STYLES.get(step.material, ())):
        paint, bright, density, length, slim = style
        for kind, at, u, v in _faces(plan, step, above):
            final = kind == "top" and above is None
            if u[1] <= u[0] or v[1] <= v[0]:
                continue
            kept = share * (0.25 if final else 1.0)
            p = flecks(number + 2 * layer, density, length, slim, u, v, kept)
            if not len(p):
                continue
            xyz = np.empty((*p.shape[:2], 3))
            if kind == "front":
                xyz[..., 0], xyz[..., 1], xyz[..., 2] = p[..., 0], at - 0.004, p[..., 1]
            elif kind == "top":
                xyz[..., 0], xyz[..., 1], xyz[..., 2] = p[..., 0], p[..., 1], at + 0.004
            else:
                xyz[..., 0], xyz[..., 1], xyz[..., 2] = at + 0.004, p[..., 0], p[..., 1]
            s.fans(xyz, paint, bright)


# ---- logs


def _bump(step: Step) -> float:
    return min(0.04, 0.4 * (step.top - step.low))


def _logs(s: Solids, plan: Plan, step: Step, above: Step | None) -> None:
    """Round ends at the front, bark along the open tops and the right side."""
    left, right = plan.opened, _right(plan)
    if any(abs(x - left) < 1e-6 for x in plan.posts):
        left -= plan.post / 2
    found = logs(right - left, step.top - step.low) + (left, step.low, 0)
    if not len(found):
        return
    thin = found[:, 2] < 0.7 * np.median(found[:, 2])
    tone = 0.94 + 0.12 * ((np.arange(len(found)) * 7) % 5) / 4

    def disc(pick, share, nearer, corners):
        """Round ends as polygons, cut off where the layer ends."""
        turn = 0.2 + 2 * np.pi * np.arange(corners) / corners
        ring = share * np.stack([np.cos(turn), np.sin(turn)], -1)
        x, z, r = (found[pick, i, None] for i in range(3))
        p = np.empty((len(x), corners, 3))
        p[..., 0] = np.minimum(x + r * ring[:, 0], right - 0.002)
        p[..., 1] = step.b - nearer
        p[..., 2] = np.minimum(z + r * ring[:, 1], step.top - 0.001)
        return p

    thin |= len(found) > 64  # a long row of poles: plainer ends, no bark on top
    for pick, corners in ((~thin, 8), (thin, 6)):
        s.fans(disc(pick, 1.0, 0.003, corners), "bark")
        s.fans(disc(pick, 0.84, 0.005, corners), "log end", tone[pick])
    s.fans(disc(~thin, 0.40, 0.007, 4), "heart", tone[~thin])
    _bark(s, plan, step, above, found)


def _bark(s: Solids, plan: Plan, step: Step, above, found) -> None:
    """The backs of logs that nothing lies on, and of those at the right end."""
    right = _right(plan)
    x, z, r = found.T
    over = (np.abs(x[:, None] - x) < 0.6 * (r[:, None] + r)) & (
        z > z[:, None] + 0.3 * r
    )
    free = ~over.any(1) & (len(x) <= 64)
    deep = (above.b if above is not None else plan.width - plan.wall) + 0.02
    angle = np.radians([0, 60, 120, 180])
    for k in np.nonzero(free)[0]:
        round_ = np.column_stack([np.cos(angle[::-1]), np.sin(angle[::-1])])
        ring = found[k, :2] + r[k] * round_
        ring[:, 1] = np.minimum(ring[:, 1], step.top - 0.002)
        s.grid(_along(ring, step.b, deep, right), "bark", 1.35)
    # the right side: logs cut or touched by the end wall
    for k in np.nonzero(x + r > right - 0.35 * r)[0]:
        z0, z1 = z[k] - r[k], z[k] + r[k]
        ring = [[right + 0.001, z0], [right + 0.006, z[k]], [right + 0.001, z1]]
        s.grid(_along(np.array(ring)[::-1], step.b, plan.half, np.inf), "bark", 1.4)


def _along(ring, y0, y1, most) -> np.ndarray:
    """A surface through a ring of x, z, from y0 to y1; x at most ``most``."""
    p = np.empty((len(ring), 2, 3))
    p[:, :, 0] = np.minimum(ring[:, 0], most)[:, None]
    p[:, :, 1] = y0, y1
    p[:, :, 2] = ring[:, 1][:, None]
    return p
