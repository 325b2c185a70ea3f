"""The walls: each piece where the assembly has it, one corner left out.

Frame, posts and cap stay where the wall is opened. Of the back and the left wall only
what stands over the fill is seen.
"""

from __future__ import annotations

import numpy as np

from bedcalc.assembly import Assembly, Member

from .filling import fill_at
from .plan import Plan
from .solids import EDGE, STRIPES, Piece, Solids, lit, ring

__all__ = ["far_walls", "near_walls"]

#: brightness of neighbouring pieces, so that boards and blocks can be told apart
_TONES = np.array([1.0, 0.95, 1.03, 0.97, 1.015, 0.94, 1.02, 0.96, 1.005, 0.985])
_END_GRAIN = {"timber": "log end", "oak": "log end", "treated": "log end"}
_OPENED = ("side", "end", "block")  # courses, which the cut takes away
_MOST_WAVES = 44


def _tone(member: Member) -> float:
    return float(_TONES[(7 * member.level + 3 * member.number) % len(_TONES)])


def _paint(plan: Plan, member: Member) -> str:
    return "concrete" if member.what == "block" else plan.timber


def far_walls(s: Solids, plan: Plan, made: Assembly) -> None:
    """Back and left wall over the fill, back posts, the floor of a trough."""
    top = -np.inf if s.all_round else fill_at(plan, 0.0, plan.width)
    for m in made.members:
        x0, x1, y0, y1, z0, z1 = m.box
        if m.what.startswith(("sheet", "cap")) or m.wall in ("front", "right"):
            continue
        if m.wall == "floor" or m.what == "floor rail":
            s.box(m.box, plan.timber, 0.9 + 0.1 * (m.what == "slat"))
            continue
        if z1 > top + 1e-4:
            box = (x0, x1, y0, y1, max(z0, top), z1)
            s.box(box, _paint(plan, m), _tone(m))
        if z0 < plan.floor - 1e-4 and not s.all_round:  # legs
            s.box((x0, x1, y0, y1, z0, min(z1, plan.floor)), plan.timber, 0.97)
    for wall in ("back", "left"):
        sheets = [m.box for m in made.members if m.what.startswith("sheet")
                  and m.wall == wall]  # fmt: skip
        if sheets and top < plan.height:
            b = np.array(sheets)
            low, high = b[:, ::2].min(0), b[:, 1::2].max(0)
            box = np.column_stack([low, high]).ravel()
            box[4] = max(box[4], top)
            s.box(box, "steel", 0.9 if wall == "back" else 0.95, edge=0)


def near_walls(s: Solids, plan: Plan, made: Assembly) -> None:
    """Front and right wall, front posts, and the cap all round."""
    for m in made.members:
        if m.what.startswith("cap"):
            _cap(s, plan, m)
        elif m.what == "post" and m.wall == "front":
            _post(s, plan, m)
        elif m.wall in ("front", "right") and not m.what.startswith("sheet"):
            _course(s, plan, m)
        elif m.wall == "left" and m.box[2] < 1e-6:  # its end is seen in the front
            s.box(m.box, _paint(plan, m), _tone(m), faces=("top", "front"))
        elif m.wall == "back" and m.box[1] > plan.length - 1e-6:
            if not m.what.startswith(("sheet", "floor")):
                s.box(m.box, _paint(plan, m), _tone(m), faces=("right",))
    _sheets(s, plan, made)
    if plan.tips:
        _wedge(s, plan)


def _course(s: Solids, plan: Plan, m: Member) -> None:
    """A course, a rail or a block, cut off clean where the corner is opened."""
    x0, x1, y0, y1, z0, z1 = m.box
    ends = ""
    if m.what in _OPENED and m.wall == "front":
        if x1 > plan.opened and m.what != "block":
            ends = _END_GRAIN.get(plan.timber, "")
        x1 = min(x1, plan.opened)
    if m.what in _OPENED and m.wall == "right":
        y0 = max(y0, plan.half)
    paint = _paint(plan, m)
    made = s.box((x0, x1, y0, y1, z0, z1), paint, _tone(m), ends=ends)
    if made is None:
        return
    if m.wall == "front":
        _stripe(plan, made, m)
    if plan.tips and m.level == plan.tips - 1 and m.wall == "front":
        for piece in made.pieces:
            piece.rings = [plan.tipped(r, (x0 + x1) / 2) for r in piece.rings]
    elif paint != "concrete" and m.wall == "front":
        _grain(s, made, (x0, x1), y0, (z0, z1), m)


def _stripe(plan: Plan, solid, m: Member) -> None:
    """Stripe what does not hold, front and top."""
    if (m.what, m.number) in plan.weak:
        faces = [p for p in solid.pieces if p.fill]
        if len(faces) > 2:  # the end stays plain
            faces = faces[-2:]
        solid.pieces += [Piece(list(p.rings), STRIPES, EDGE) for p in faces]


def _grain(s: Solids, made, x, y: float, z, m: Member) -> None:
    """Three long fibres on the face of a board."""
    random = np.random.default_rng([11, m.level, m.number])
    lines = []
    for share in (0.28, 0.52, 0.78):
        a, b = np.sort(random.uniform(x[0], x[1], 2))
        if b - a > 0.1:
            run = s.along(a, b)
            height = z[0] + (share + random.uniform(-0.06, 0.06)) * (z[1] - z[0])
            lines.append(ring(run, y, height, run[:1], y, height)[: len(run)])
    made.pieces.append(Piece(lines, line=0.6, ink=_fibre(m)))


def _fibre(m: Member) -> str:
    return "#a97c45" if m.density < 900 else "#5e6c72"


def _post(s: Solids, plan: Plan, m: Member) -> None:
    """A front post; its right side is seen as far as no fill lies against it."""
    x0, x1, y0, y1, z0, z1 = m.box
    made = s.box(m.box, plan.timber, 0.98, faces=("front", "top"))
    _stripe(plan, made, m)
    free = max(z0, fill_at(plan, x1 + 0.005, (y0 + y1) / 2))
    s.box((x0, x1, y0, y1, free, z1), plan.timber, 0.98, faces=("right",))


def _cap(s: Solids, plan: Plan, m: Member) -> None:
    """A flat cap, mitred at the corners."""
    x0, x1, y0, y1, z0, z1 = m.box
    wide = m.wide
    if m.axis == "x":
        solid = s.solid((x0 + wide, x1 - wide, y0, y1, z0, z1))
        near = m.wall == "front"
        outer = s.along(x0, x1)
        inner = x0 + wide + (outer - x0) * (x1 - x0 - 2 * wide) / (x1 - x0)
        front_x, back_x = (outer, inner) if near else (inner, outer)
        top = ring(front_x, y0, z1, back_x, y1, z1)
        face = ring(front_x, y0, z0, front_x, y0, z1)
        solid.pieces += [Piece([top], lit(plan.timber, 1.09), EDGE)]
        solid.pieces += [Piece([face], lit(plan.timber, 0.90), EDGE)]
        if near:
            _stripe(plan, solid, m)
        if s.all_round:
            back = ring(back_x, y1, z0, back_x, y1, z1)
            solid.pieces += [Piece([back], lit(plan.timber, 0.8), EDGE)]
        return
    solid = s.solid((x0, x1, y0 + wide, y1 - wide, z0, z1))
    left = m.wall == "left"
    a, b = (y0, y1), (y0 + wide, y1 - wide)
    at_left, at_right = (a, b) if left else (b, a)
    top = np.array([[x0, at_left[0], z1], [x1, at_right[0], z1],
                    [x1, at_right[1], z1], [x0, at_left[1], z1]])  # fmt: skip
    side = Solids.side(x1, at_right, (z0, z1))
    solid.pieces += [Piece([top], lit(plan.timber, 1.05), EDGE)]
    solid.pieces += [Piece([side], lit(plan.timber, 0.74), EDGE)]
    if s.all_round:
        outside = Solids.side(x0, at_left, (z0, z1))
        solid.pieces += [Piece([outside], lit(plan.timber, 0.74), EDGE)]


def _wedge(s: Solids, plan: Plan) -> None:
    """The dark joint that opens under a course that tips, at the opened end."""
    low = plan.rows[plan.tips - 1][0]
    x = plan.opened
    foot = [[x, 0, low], [x, plan.wall, low]]
    lifted = plan.tipped(np.array([[x, plan.wall, low]]), x - 0.1)
    solid = s.solid((x - 0.01, x, 0.0, plan.wall, low, low + 0.01))
    solid.pieces.append(Piece([np.vstack([foot, lifted])], "#2E221B"))


# ---- sheet in a frame


def _sheets(s: Solids, plan: Plan, made: Assembly) -> None:
    """The corrugated sheet behind the rails, as one surface a wall."""
    for wall in ("front", "right"):
        boxes = [m.box for m in made.members if m.what.startswith("sheet")
                 and m.wall == wall]  # fmt: skip
        if not boxes:
            continue
        b = np.array(boxes)
        (x0, y0, z0), (x1, y1, z1) = b[:, ::2].min(0), b[:, 1::2].max(0)
        if wall == "front":
            x1 = min(x1, plan.opened)
        else:
            y0 = max(y0, plan.half)
        if x1 - x0 < 0.01 or y1 - y0 < 0.005:
            continue
        solid = s.solid((x0, x1, y0, y1, z0, z1))
        run, at = ((x0, x1), y0) if wall == "front" else ((y0, y1), x1)
        _waves(s, solid, plan, wall, run, at, (z0, z1))


def _waves(s: Solids, solid, plan: Plan, wall, run, at, z) -> None:
    """A ribbed face: light and dark stripes, upright or lying."""
    pitch = plan.wave[0]
    ends = z if plan.ribs_lying else run
    pitch *= np.ceil((ends[1] - ends[0]) / pitch / _MOST_WAVES)

    def band(a: float, b: float, c: float, d: float) -> np.ndarray:
        """From a to b along the wall and from c to d up."""
        if wall == "front":
            return s.front((a, b), at, (c, d))
        return s.side(at, (a, b), (c, d))

    dim = 1.0 if wall == "front" else 0.74
    solid.pieces.append(Piece([band(*run, *z)], lit("steel", 0.90 * dim)))
    for low, high, bright in ((0.0, 0.34, 1.04), (0.5, 0.80, 0.76)):
        rings = []
        for k in range(int(ends[0] // pitch), int(ends[1] // pitch) + 1):
            a, b = (float(np.clip((k + share) * pitch, *ends)) for share in (low, high))
            if b - a > 0.004:
                rings.append(band(*run, a, b) if plan.ribs_lying else band(a, b, *z))
        solid.pieces.append(Piece(rings, lit("steel", bright * dim)))
    if wall == "front" and any(what.startswith("sheet") for what, _ in plan.weak):
        solid.pieces.append(Piece([band(*run, *z)], STRIPES))
    if wall == "front" or plan.ribs_lying:
        return
    # the cut edge of the sheet where the end is opened
    edge = [np.array([[at, run[0], z[0]], [at, run[0], z[1]]])]
    solid.pieces.append(Piece(edge, line=1.4, ink="#7c8890"))
