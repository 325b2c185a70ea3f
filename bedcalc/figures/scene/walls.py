"""The walls as they are built, one corner left out.

Joints follow the cut list: long sides run through, ends stand between them, the cap
is mitred. Frame, posts and cap stay where the wall is opened.
"""

from __future__ import annotations

import numpy as np

from bedcalc.assembly import bonded

from .plan import Plan
from .solids import Solids

__all__ = ["walls"]

#: brightness of neighbouring pieces, so that boards and blocks can be told apart
_TONES = np.array([1.0, 0.955, 1.03, 0.975, 1.015, 0.94, 1.02, 0.965, 1.005, 0.985])
_END_GRAIN = {"timber": "log end", "oak": "log end", "treated": "log end"}


def _tone(i: int) -> float:
    return float(_TONES[i % len(_TONES)])


def walls(s: Solids, plan: Plan) -> None:
    """Put up the walls of this plan."""
    {
        "boards": _boards,
        "sheet": _sheet,
        "trough": _trough,
        "blocks": _blocks,
        "sleepers": _sleepers,
    }[plan.family](s, plan)


# ---- timber in courses


def _cut_end(s: Solids, plan: Plan, x, y, z, facing: str) -> None:
    """A sawn end: lighter end grain on the face of a cut piece."""
    paint, bright = _END_GRAIN.get(plan.timber, plan.timber), 0.96
    if plan.timber not in _END_GRAIN:
        bright = 1.25
    if facing == "right":
        s.side(x + 0.001, y, z, paint, bright)
    else:
        s.front(x, y - 0.001, z, paint, bright)


def _courses(s: Solids, plan: Plan) -> None:
    """Long sides through, ends between them, open at the front right corner."""
    n, w, t = plan.length, plan.width, plan.wall
    cut, half, paint = plan.opened, plan.half, plan.timber
    for i, z in enumerate(plan.rows):
        s.bar((0, cut), (0, t), z, paint, _tone(i))
        _cut_end(s, plan, cut, (0, t), z, "right")
        s.boxes([[n - t, n, half, w - t, *z]], paint, _tone(i + 3))
        _cut_end(s, plan, (n - t, n), half, z, "front")
        s.line([[n, w - t, z[1]], [n, w, z[1]]])
    z = (plan.floor, plan.height)
    s.bar((0, n), (w - t, w), z, paint, _tone(1))
    s.boxes([[0, t, t, w - t, *z]], paint, _tone(4))


def _posts(s: Solids, plan: Plan) -> None:
    """Posts inside the walls: corners and, along the long sides, between them."""
    p, w, deep = plan.post, plan.width, plan.behind
    rows = [
        (x - p / 2, x + p / 2, *y, 0, plan.height)
        for x in plan.axes
        for y in ((deep, deep + p), (w - deep - p, w - deep))
    ]
    s.boxes(rows, plan.timber, 0.97)


def _cap(s: Solids, plan: Plan) -> None:
    """A flat cap all round, mitred at the corners."""
    c, o, n, w = plan.cap_wide, plan.cap_out, plan.length, plan.width
    if not c:
        return
    low, top = plan.height, plan.height + plan.cap_thick
    share = s.stops(0, n) / n
    outer = -o + (n + 2 * o) * share
    inner = (c - o) + (n - 2 * (c - o)) * share
    z = np.array([low, top, top, low])
    front = np.column_stack([[-o, -o, c - o, c - o], z])
    back = np.column_stack([[w - c + o, w - c + o, w + o, w + o], z])
    s.sweep(np.stack([outer, outer, inner, inner], 1), front, plan.timber, 1.04)
    s.sweep(np.stack([inner, inner, outer, outer], 1), back, plan.timber, 1.04)
    wide, slim = [-o, -o, w + o, w + o], [c - o, c - o, w - c + o, w - c + o]
    for x, ys in (
        ((-o, c - o), (wide, slim)),
        ((n - c + o, n + o), (slim, wide)),
    ):
        section = np.stack([np.column_stack([y, z]) for y in ys])
        s.sweep(np.repeat(np.array(x)[:, None], 4, 1), section, plan.timber, 1.0)


def _boards(s: Solids, plan: Plan) -> None:
    _courses(s, plan)
    _posts(s, plan)
    _cap(s, plan)


def _sleepers(s: Solids, plan: Plan) -> None:
    """Heavy timbers, held together by pins driven from the top."""
    _courses(s, plan)
    at = [(x, y) for x, y in plan.pins if x < plan.opened or y > plan.wall]
    top = plan.height
    turn = np.linspace(0, 2 * np.pi, 7)[:-1]
    ring = 0.011 * np.column_stack([np.cos(turn), np.sin(turn), 0 * turn])
    s.fans([ring + (x, y, top + 0.002) for x, y in at], "gap")


# ---- sheet in a frame


def _sheet(s: Solids, plan: Plan) -> None:
    """Rails outside, posts and upright sheet behind them, a cap on top."""
    n, w, t, h, r = plan.length, plan.width, plan.wall, plan.height, plan.rail_high
    for z, tone in (((0, r), 0.95), ((h - r, h), 1.0)):
        s.bar((0, n), (0, t), z, plan.timber, tone)
        s.bar((0, n), (w - t, w), z, plan.timber, tone)
        ends = [(0, t, t, w - t, *z), (n - t, n, t, w - t, *z)]
        s.boxes(ends, plan.timber, tone)
    _posts(s, plan)
    z = (r - 0.01, h - r + 0.01)
    if z[1] - z[0] > 0.02:
        _panels(s, plan, z)
    _cap(s, plan)


def _panels(s: Solids, plan: Plan, z) -> None:
    """The corrugated sheet between the posts of the closed bays."""
    n, w, t, p = plan.length, plan.width, plan.wall, plan.post
    edges, begin = [], t + p
    for x in plan.posts:
        if x <= plan.opened + 1e-6:
            edges.append((begin, x - p / 2))
            begin = x + p / 2
    if not edges or plan.opened > begin + 0.02:
        edges.append((begin, plan.opened))
    waves = sum(b - a for a, b in edges) / plan.wave[0]
    steps = 4 if waves < 31 else 2
    pitch = plan.wave[0] * max(1.0, waves / 66)
    for a, b in edges:
        if b - a > 0.02 and plan.ribs_lying:
            _lying(s, plan, np.linspace(a, b, 7), t + 0.002, z)
        elif b - a > 0.02:
            run, deep, tone = _wave(a, b, pitch, plan.wave[1], steps)
            s.grid(_upright(run, t + 0.002 + deep, z), "steel", tone)
    a, b = plan.half, w - t - p
    if b - a > 0.02 and plan.ribs_lying:
        _lying(s, plan, n - t - 0.002, np.linspace(a, b, 7), z)
    elif b - a > 0.02:
        run, deep, tone = _wave(a, b, plan.wave[0], plan.wave[1], 4)
        s.grid(_upright(n - t - 0.002 - deep, run, z), "steel", tone)
    inside = t + plan.wave[1]
    s.front((t, n - t), w - inside, z, "steel", 0.92)
    s.side(inside, (t, w - t), z, "steel", 0.95)


def _lying(s: Solids, plan: Plan, x, y, z) -> None:
    """Sheet with lying ribs along x (a long side) or along y (the right end)."""
    run, deep, tone = _wave(*z, plan.wave[0], plan.wave[1], 2)
    along = max(np.size(x), np.size(y))
    points = np.empty((along, len(run), 3))
    points[:, :, 0], points[:, :, 1] = np.reshape(x, (-1, 1)), np.reshape(y, (-1, 1))
    if np.size(x) > 1:
        points[:, :, 1] += deep
    else:
        points[:, :, 0] -= deep
    points[:, :, 2] = run
    s.grid(points, "steel", np.tile(tone, along - 1))


def _upright(x, y, z):
    """Points (n, 2, 3) of an upright surface over the line x, y."""
    x, y = np.broadcast_arrays(x, y)
    p = np.empty((len(x), 2, 3))
    p[:, :, 0], p[:, :, 1], p[:, :, 2] = x[:, None], y[:, None], z
    return p


def _wave(a, b, pitch, depth, steps):
    """Line of a corrugated sheet from a to b: run, depth behind the crests, tones."""
    first = np.ceil(a / pitch * steps - 1e-6)
    last = np.floor(b / pitch * steps + 1e-6)
    k = np.arange(first, last + 1)
    run = np.concatenate([[a], k * pitch / steps, [b]])
    phase = np.concatenate([[a / pitch * steps], k, [b / pitch * steps]])
    if steps == 4:
        deep = np.interp(phase % 4, [0, 1, 2, 3, 4], [0, 0, 1, 1, 0])
        tone = np.array([1.05, 0.97, 0.86, 1.0])[
            np.floor(phase[:-1] + 1e-6).astype(int) % 4
        ]
    else:
        deep = np.interp(phase % 2, [0, 1, 2], [0, 1, 0])
        tone = np.array([0.92, 1.05])[np.floor(phase[:-1] + 1e-6).astype(int) % 2]
    return run, depth * deep, tone


# ---- a trough on legs


def _trough(s: Solids, plan: Plan) -> None:
    """Boards round a slatted floor on a frame, carried by legs."""
    n, w, t, floor = plan.length, plan.width, plan.wall, plan.floor
    slat = 0.022
    low = (floor - slat - plan.rail_high, floor - slat)
    wide = max(plan.post, 0.04)
    for y in ((0, wide), (w - wide, w)):
        s.bar((0, n), y, low, plan.timber, 0.93)
    at = (wide / 2, *plan.posts, n - wide / 2)
    rows = [(x - wide / 2, x + wide / 2, wide, w - wide, *low) for x in at]
    s.boxes(rows, plan.timber, 0.9)
    inside, pitch = n - 2 * t, max(plan.slat, 0.02)
    count = max(int(np.floor(inside / pitch + 1e-9)), 1)
    pitch = inside / count
    x = t + pitch * np.arange(count)
    if count > 40:
        s.boxes([[t, plan.opened, t, w - t, floor - slat, floor]], plan.timber, 0.98)
        x = x[x > plan.opened]
    gap = min(0.004, 0.1 * pitch)
    rows = np.array(
        [[a + gap, a + pitch - gap, t, w - t, floor - slat, floor] for a in x]
    )
    s.boxes(rows, plan.timber, 0.98, edges="front")
    _posts(s, plan)
    _courses(s, plan)


# ---- blocks


def _blocks(s: Solids, plan: Plan) -> None:
    """Running bond: at the corners long sides and ends run through by turns."""
    n, w, t, module = plan.length, plan.width, plan.wall, plan.block
    course = plan.rows
    front, tones, dull = [], [], []
    for i, z in enumerate(course):
        inset = 0 if i % 2 == 0 else t
        top = i == len(course) - 1
        along, across = (inset, n - inset), (t - inset, w - t + inset)
        found = [(a, min(b, plan.opened), 0, t) for a, b in bonded(*along, module)]
        found = [f for f in found if f[1] > f[0] + 0.01]
        sides = [(n - t, n, max(a, plan.half), b) for a, b in bonded(*across, module)]
        found += [f for f in sides if f[3] > f[2] + 0.01]
        if top:
            found += [(a, b, w - t, w) for a, b in bonded(*along, module)]
            found += [(0, t, a, b) for a, b in bonded(*across, module)]
        else:
            dull += [(*along, w - t, w, *z), (0, t, *across, *z)]
        front += [(*f, *z) for f in found]
        tones += [_tone(7 * i + 3 * k) for k in range(len(found))]
    s.boxes(front, "concrete", np.array(tones))
    s.boxes(dull, "concrete")
