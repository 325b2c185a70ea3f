"""Details of one bed, larger: wall cut through, corner, tie, floor, fill.

Every piece, screw and pin is drawn where :mod:`bedcalc.assembly` has it.
"""

from __future__ import annotations

import numpy as np

from ..assembly import Member, assembly, post_axes
from ..evaluate import Outcome
from ..units import show
from .canvas import GREY, LINE, STRONG, THIN, Canvas, scale_for
from .tape import size

__all__ = ["corner_detail", "fill_detail", "floor_view", "section_detail", "tie_detail"]

_REACH = 0.28  # m of each wall that a corner shows


def _fill_of(piece: Member) -> str:
    if piece.what == "post":
        return GREY["post"]
    if piece.what.startswith("sheet"):
        return GREY["sheet"]
    return GREY["stone"] if piece.what == "block" else GREY["timber"]


def _name(piece: Member, system: str) -> str:
    """What it is called on its label, with its section where that is known."""
    if piece.thick < 0.005:
        return piece.what
    wide, thin = sorted((piece.wide, piece.thick), reverse=True)
    unit = size(thin, system)
    number = size(wide, system).rsplit("\N{NO-BREAK SPACE}", 1)[0]
    return f"{piece.what}, {number} × {unit}"


def section_detail(outcome: Outcome, system: str) -> tuple[str, str]:
    """The front wall cut through at a post: pieces, sizes, screws; and its scale."""
    bed = outcome.bed
    made, s, wall = assembly(bed), bed.si, bed.wall.si
    axes = post_axes(bed)
    at = axes[1] if len(axes) > 2 else axes[0] if axes else s.length / 2 + 0.01
    low = min(0.0, -s.post_depth)
    n = scale_for(s.height - low + wall.cap_thick, 80.0, system)
    canvas, deep = Canvas(n, system), 0.24
    cut = [m for m in made.members if m.box[0] < at < m.box[1] and m.box[2] < deep]
    named: dict[str, tuple[float, float, str]] = {}
    for piece in cut:
        _, _, y0, y1, z0, z1 = piece.box
        canvas.rect(y0, z0, min(y1, deep), z1, _fill_of(piece))
        place = (z0 + z1) / 2, min(y1, deep) - 0.005, _name(piece, system)
        named.setdefault(piece.what, place)
    for joint in made.joints:
        near = 0.08 if joint.goods == "screw_sheet" else max(wall.post / 2, 0.04)
        for head, tip in zip(joint.screws, joint.points, strict=True):
            if abs(head[0] - at) < near and head[1] < deep:
                canvas.line([head[1:], (min(tip[1], deep), tip[2])], STRONG)
                canvas.dot(*head[1:], 0.7)
    for pin in made.pins:
        if pin.y < deep and abs(pin.x - at) < 0.7:
            canvas.line([(pin.y, pin.foot), (pin.y, pin.top)], 0.8)
    step, last = 4.2 / canvas.k, 1e9
    right = max(m.box[3] for m in cut if m.box[3] < 2 * deep)
    right = min(max(right, wall.cap_wide), deep) + 4 / canvas.k
    for high, y, words in sorted(named.values(), reverse=True):
        z = min(high, last - step)  # one below the other
        canvas.line([(y, high), (right, z)], THIN)
        canvas.text(right, z, words, dx=0.8, dy=1.0, anchor="start")
        last = z
    canvas.text(0.0, s.height, "outside", dx=-1.5, dy=4, anchor="end")
    canvas.upright(0, s.height, -wall.cap_out, size(s.height, system), -5.0)
    if wall.cap_wide:
        top = s.height + wall.cap_thick
        canvas.across(-wall.cap_out, 0, top, size(wall.cap_out, system), -2.0)
    return canvas.svg(f"Section of the wall of bed {bed.name}, 1 to {n}"), f"1 : {n}"


def corner_detail(outcome: Outcome, n: int, system: str) -> str:
    """One corner from above, its pieces pulled apart; lines are the screws."""
    bed, made = outcome.bed, assembly(outcome.bed)
    wall, apart = bed.wall.si, 0.05
    canvas = Canvas(n, system)
    first = made.of("side") or made.of("rail side") or made.members
    z = (first[0].box[4] + first[0].box[5]) / 2
    moves = {"front": (0.0, -apart), "left": (-apart, 0.0)}
    named = set()
    for piece in made.members:
        x0, x1, y0, y1, z0, z1 = piece.box
        if not z0 < z < z1 or x0 > _REACH or y0 > _REACH or piece.angle:
            continue
        post = piece.what == "post"
        dx, dy = (0.0, 0.0) if post else moves.get(piece.wall, (0.0, 0.0))
        if piece.what.startswith("sheet"):
            dx, dy = dx / 2, dy / 2
        box = (x0 + dx, y0 + dy, min(x1, _REACH) + dx, min(y1, _REACH) + dy)
        canvas.rect(*box, _fill_of(piece))
        if piece.what not in named:
            named.add(piece.what)
            end = piece.wall == "left" and not post
            side = (box[0], box[3]) if end else (box[2], (box[1] + box[3]) / 2)
            words = piece.what + (" runs through" if "side" in piece.what else "")
            canvas.text(*side, words, dx=1.5, dy=-1.2 if end else 1.1, anchor="start")
    for joint in made.joints:
        for (x, y, h), (u, v, _) in zip(joint.screws, joint.points, strict=True):
            if abs(h - z) < 0.1 and x < _REACH and y < _REACH and not joint.way[2]:
                dx, dy = moves["front" if abs(joint.way[1]) > 0.9 else "left"]
                if joint.goods == "screw_4x50":
                    dx, dy = 0.0, 0.0
                canvas.line([(x + dx, y + dy), (u, v)], LINE, "1 0.6")
                canvas.dot(x + dx, y + dy, 0.7)
    for angle in made.angles[:1]:
        leg = 0.09
        shape = [(angle.x, angle.y + leg), (angle.x, angle.y), (angle.x + leg, angle.y)]
        canvas.line(shape, 0.9)
        canvas.text(angle.x + leg, angle.y, "angle", dx=1.5, dy=3, anchor="start")
    for pin in made.pins:
        if pin.x < _REACH and pin.y < _REACH:
            dx, dy = moves["front" if pin.y < wall.thickness + 0.01 else "left"]
            canvas.dot(pin.x + dx, pin.y + dy, 1.2)
            canvas.text(pin.x + dx, pin.y + dy, "pin", dx=2, dy=1, anchor="start")
    return canvas.svg(f"Corner of bed {bed.name} taken apart, from above, 1 to {n}")


def floor_view(outcome: Outcome, n: int, system: str) -> str:
    """The floor of a trough from above: legs, slats, and dashed what carries them."""
    bed, made = outcome.bed, assembly(outcome.bed)
    canvas = Canvas(n, system)
    for what in ("side", "end", "slat", "short slat", "post"):
        for piece in made.of(what):
            if piece.level == 0 or piece.wall == "floor":
                x0, x1, y0, y1, *_ = piece.box
                canvas.rect(x0, y0, x1, y1, _fill_of(piece))
    for what in ("floor rail", "floor bearer"):
        for piece in made.of(what):
            x0, x1, y0, y1, *_ = piece.box
            canvas.rect(x0, y0, x1, y1, "none", LINE, "2 1")
    rail, bearer = made.of("floor rail")[0].box, made.of("floor bearer")[0].box
    s = bed.si
    canvas.text(s.length, (rail[2] + rail[3]) / 2, "floor rail", dx=2, anchor="start")
    canvas.text(
        (bearer[0] + bearer[1]) / 2, s.width, "floor bearer", dy=-1.5, anchor="start"
    )
    canvas.across(0, bearer[0], 0, size(bearer[0], system), 5.0)
    canvas.upright(0, rail[2], 0, size(rail[2], system), -5.0)
    return canvas.svg(f"Floor of bed {bed.name} from above, 1 to {n}")


def tie_detail(outcome: Outcome, n: int, system: str) -> str:
    """One end of a tie: plate outside, two nuts, rod in a pipe through the bed."""
    bed = outcome.bed
    canvas = Canvas(n, system)
    t, wide = bed.si.wall_thickness, 0.07
    canvas.rect(0, -wide / 2, t, wide / 2, GREY["timber"])
    canvas.rect(-0.005, -0.025, 0, 0.025, "#000")
    canvas.rect(-0.031, -0.005, 0.26, 0.005, "#fff")
    canvas.rect(t + 0.01, -0.010, 0.26, 0.010, "none", THIN, "1.5 1")
    for x in (-0.013, -0.021):
        canvas.rect(x, -0.0085, x + 0.008, 0.0085, "#fff")
    plate = "plate 50 × 50 × 5" if system == "metric" else "plate 2 × 2 × 3/16"
    rod = "rod M10 in a pipe" if system == "metric" else "rod 3/8 in a pipe"
    canvas.text(-0.008, 0.022, plate, dx=-1, anchor="end")
    canvas.text(-0.022, -0.012, "2 nuts", dx=-1, dy=2, anchor="end")
    canvas.text(0.16, -0.01, rod, dy=4)
    words = "rail" if bed.wall.family == "sheet" else "wall"
    canvas.text(t / 2, wide / 2, words, dy=-1.5)
    return canvas.svg(f"End of a tie of bed {bed.name}, 1 to {n}")


def fill_detail(outcome: Outcome, n: int, system: str) -> str:
    """The layers in the bed, each top measured down from the rim."""
    bed = outcome.bed
    s, canvas = bed.si, Canvas(n, system)
    t, floor = s.wall_thickness, s.height - s.soil_depth
    width = min(s.width, 0.8)
    canvas.rect(0, floor, t, s.height, GREY["timber"])
    canvas.rect(width - t, floor, width, s.height, GREY["timber"])
    for layer in outcome.fill.layers:
        low, high = floor + layer.si.bottom, floor + layer.si.top
        canvas.rect(t, low, width - t, high, "#fff")
        _texture(canvas, layer.material, t, width - t, low, high)
        down = s.height - high
        words = f"{layer.name}: {show(layer.depth, 'depth', system)}"
        canvas.text(width, (low + high) / 2, words, dx=3, dy=1, anchor="start")
        if down > 1e-6:
            mark = f"{show(down, 'depth', system)} below rim"
            canvas.text(width, high, mark, dx=3, dy=1, anchor="start")
    canvas.text(width / 2, s.height, "rim", dy=-1.5)
    return canvas.svg(f"Layers of fill in bed {bed.name}, 1 to {n}")


def _texture(canvas, material, x0, x1, low, high) -> None:
    """A pattern that tells layers apart without colour, one path a layer."""
    rng = np.random.default_rng(len(material))
    step = {"logs": 0.09, "chips": 0.04}.get(material, 0.06)
    ys = np.arange(low + step / 2, high, step)
    for x, y in ((x, y) for y in ys for x in np.arange(x0 + step / 2, x1, step)):
        if material == "logs":
            if y + step / 2.4 < high and x + step / 2.4 < x1:
                canvas.dot(x, y, step / 2.4 * canvas.k, "#fff")
        elif material in ("chips", "brush", "straw"):
            a = rng.uniform(0, 3.14)
            dx, dy = np.cos(a) * step / 4, np.sin(a) * step / 4
            canvas.line([(x - dx, y - dy), (x + dx, y + dy)], THIN)
        else:
            canvas.dot(x, y, 0.1)
