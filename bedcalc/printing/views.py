"""Views of one bed, to scale: long side, end, from above."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..assembly import (
    ANGLE,
    SCREWS_UP,
    assembly,
    bands,
    levels,
    post_axes,
    rail_levels,
    sheet_depth,
)
from ..cutting.splices import Splice
from ..evaluate import Outcome
from ..tables import table
from .canvas import GREY, LINE, STRONG, THIN, Canvas
from .tape import size

__all__ = ["end_view", "front_view", "top_view"]


def _screws(canvas, xs, bands) -> None:
    for x in xs:
        for low, high in bands:
            for share in SCREWS_UP:
                canvas.screw(x, low + (high - low) * share)


def _ground(canvas, x0, x1, left, right) -> None:
    """Ground with its hatch, let-in depths at both ends."""
    canvas.line([(x0 - 0.12, left), (x1 + 0.12, right)], STRONG)
    for n in range(14):
        t = n / 13
        x, y = x0 - 0.12 + (x1 - x0 + 0.24) * t, left + (right - left) * t
        canvas.line([(x, y), (x - 0.03, y - 0.03)], THIN)


def _body(canvas, outcome, length, posts, wall_seen: str) -> None:
    """Wall seen from outside: courses or sheet, rails, posts behind, cap."""
    bed = outcome.bed
    family, s, wall = bed.wall.family, bed.si, bed.wall.si
    if family == "sheet":
        canvas.rect(0, 0, length, s.height, GREY["sheet"])
        pitch = table("sheets")[bed.wall.sheet].pitch
        for at in np.arange(pitch / 2, s.height if bed.ribs_lying else length, pitch):
            lying = [(0, at), (length, at)]
            canvas.line(lying if bed.ribs_lying else [(at, 0), (at, s.height)], THIN)
    rows = bands(bed)
    fill = GREY["stone"] if family == "blocks" else GREY["timber"]
    for n, (low, high) in enumerate(rows):
        canvas.rect(0, low, length, high, fill)
        if family == "blocks":
            for block in assembly(bed).of("block"):
                if (block.wall, block.level) == (wall_seen, n):
                    x = block.box[2 * "xyz".index(block.axis) + 1]
                    canvas.line([(x, low), (x, high)])
    if family == "trough":
        _floor_frame(canvas, bed, wall_seen)
    half = wall.post / 2
    for x in posts:
        top = rows[0][0] if family == "trough" else 0.0
        canvas.line([(x - half, 0), (x - half, s.height)], THIN, "1.2 0.8")
        canvas.line([(x + half, 0), (x + half, s.height)], THIN, "1.2 0.8")
        if family == "trough":
            canvas.rect(x - half, 0, x + half, top, GREY["post"])
    _screws(canvas, posts, rows)
    if wall.cap_wide:
        out = wall.cap_out
        canvas.rect(
            -out, s.height, length + out, s.height + wall.cap_thick, GREY["timber"]
        )


def _floor_frame(canvas, bed, wall_seen: str) -> None:
    """Bearers and rails under the floor of a trough, behind the legs."""
    along = 0 if wall_seen == "front" else 2
    for what in ("floor rail", "floor bearer"):
        for piece in assembly(bed).of(what):
            box = piece.box
            canvas.rect(
                box[along], box[4], box[along + 1], box[5], GREY["timber"], THIN
            )


def front_view(
    outcome: Outcome, n: int, system: str, splices: Sequence[Splice] = ()
) -> str:
    """The long side, seen from the front, with posts, screws, ties and ground."""
    bed = outcome.bed
    s, wall, canvas = bed.si, bed.wall.si, Canvas(n, system)
    posts = post_axes(outcome.bed)
    _body(canvas, outcome, s.length, posts, "front")
    rows = bands(bed)
    for splice in splices:
        capped = splice.part.what.startswith("cap")
        start = -wall.cap_out if capped else 0.0
        for row in splice.rows():
            if row.side == "front":
                top = s.height + wall.cap_thick
                low, high = (s.height, top) if capped else rows[row.level]
                for x in row.joints:
                    canvas.line([(start + x, low), (start + x, high)], STRONG)
    depths = np.asarray(outcome.site.own_depths, dtype=float)
    left, right = depths[3], depths[2]
    if bed.wall.family != "trough":
        _ground(canvas, 0, s.length, left, right)
    else:
        _ground(canvas, 0, s.length, 0.0, 0.0)
    for pin in assembly(bed).pins:
        if pin.y < s.wall_thickness:
            canvas.line([(pin.x, pin.foot), (pin.x, pin.top)], LINE, "1.2 0.8")
            canvas.text(pin.x, pin.top / 2, "pin", dx=1, size=2.6, anchor="start")
    for tie in assembly(bed).ties:
        canvas.dot(tie.x, tie.z, 1.3, "#fff")
        words = f"tie, {size(tie.x, system)}"
        canvas.text(tie.x, tie.z, words, dx=2.4, dy=1.1, anchor="start")
    _names(canvas, outcome, s.length, "side")
    low = -0.02
    if len(posts) > 2:
        marks = [0.0, *posts[1:-1], s.length]
        for a, b in zip(marks, marks[1:], strict=False):
            canvas.across(a, b, low, size(b - a, system), 7.0)
    canvas.across(0, s.length, low, size(s.length, system), 13.0)
    canvas.upright(0, s.height, 0, size(s.height, system), -7.0)
    if wall.cap_wide:
        words = f"cap side, {size(wall.cap_thick, system)}"
        canvas.text(s.length + wall.cap_out, s.height, words, dx=1.5, anchor="start")
    return canvas.svg(f"Long side of bed {bed.name}, 1 to {n}")


def _names(canvas, outcome, length, where: str) -> None:
    """What each piece is called, as on its label."""
    bed = outcome.bed
    family = bed.wall.family
    posts = post_axes(outcome.bed)
    if family == "sheet":
        low, high = rail_levels(outcome.bed)
        for a, b in (low, high):
            middle = posts[0] + (posts[1] if where == "side" else length - posts[0])
            canvas.text(middle / 2, (a + b) / 2, f"rail {where}", dy=1.1)
        x = middle / 2
        canvas.text(x, bed.si.height * 0.62, "sheet", dy=1.1)
    elif family in ("boards", "trough", "sleepers"):
        for a, b in levels(outcome.bed):
            if (b - a) * canvas.k > 4:
                x = length * (0.34 if len(posts) == 3 else 0.5)
                x = (posts[0] + posts[1]) / 2 if where == "side" and len(posts) else x
                canvas.text(x, (a + b) / 2, where, dy=1.1)
    if len(posts):
        words = "leg" if family == "trough" else "post"
        x = posts[1] if where == "side" else posts[0]
        z = 0.2 if family == "trough" else bed.si.height * 0.38
        if family == "sheet":
            canvas.text(
                x,
                z,
                "post",
                dx=bed.wall.si.post / 2 * canvas.k + 1,
                dy=1.1,
                anchor="start",
            )
        elif family == "trough":
            canvas.text(
                x, z, words, dx=bed.wall.si.post / 2 * canvas.k + 1.5, anchor="start"
            )


def end_view(outcome: Outcome, n: int, system: str) -> str:
    """The end, seen from the left."""
    bed = outcome.bed
    s, canvas = bed.si, Canvas(n, system)
    post, t = bed.wall.si.post, bed.si.wall_thickness
    near = t + sheet_depth(outcome.bed) + post / 2
    axes = [near, s.width - near] if post else []
    _body(canvas, outcome, s.width, axes, "left")
    depths = np.asarray(outcome.site.own_depths, dtype=float)
    if bed.wall.family != "trough":
        _ground(canvas, 0, s.width, depths[0], depths[3])
    else:
        _ground(canvas, 0, s.width, 0.0, 0.0)
    if bed.wall.family != "blocks":
        # the long sides run through: their ends are seen
        rows = bands(bed)
        for low, high in rows:
            canvas.rect(0, low, t, high, "#fff")
            canvas.rect(s.width - t, low, s.width, high, "#fff")
    _names(canvas, outcome, s.width, "end")
    canvas.across(0, s.width, -0.02, size(s.width, system), 7.0)
    canvas.upright(0, s.height, 0, size(s.height, system), -7.0)
    return canvas.svg(f"End of bed {bed.name}, 1 to {n}")


def top_view(outcome: Outcome, n: int, system: str, course: int = 0) -> str:
    """From above without the cap: one course, or the rails; posts, ties, pins."""
    bed = outcome.bed
    s, wall, canvas = bed.si, bed.wall.si, Canvas(n, system)
    t, post, length, width = s.wall_thickness, wall.post, s.length, s.width
    if wall.cap_wide:
        out, inner = wall.cap_out, wall.cap_wide - wall.cap_out
        canvas.rect(-out, -out, length + out, width + out, "none", THIN, "2 1")
        corners = (
            (0, 0, 1, 1),
            (length, 0, -1, 1),
            (length, width, -1, -1),
            (0, width, 1, -1),
        )
        for x, y, dx, dy in corners:
            ends = (
                (x - out * dx, y - out * dy),
                (x + inner * dx, y + inner * dy),
            )
            canvas.line(ends, THIN, "2 1")
    for piece in assembly(bed).members:
        if (
            piece.level == course
            and piece.what in ("side", "end", "block")
            or (piece.level == 0 and piece.what in ("rail side", "rail end"))
        ):
            x0, x1, y0, y1, *_ = piece.box
            stone = GREY["stone" if piece.what == "block" else "timber"]
            canvas.rect(x0, y0, x1, y1, stone)
            if (
                piece.what == "block"
                and piece.length < 0.99 * bed.wall.block_row.length
            ):
                canvas.text((x0 + x1) / 2, (y0 + y1) / 2, "cut", dy=1, size=2.6)
    deep = sheet_depth(outcome.bed)
    if deep:
        _waves(canvas, bed, t, deep)
    half = post / 2
    for x in post_axes(outcome.bed):
        for y in (t + deep, width - t - deep - post):
            canvas.rect(x - half, y, x + half, y + post, GREY["post"])
    for pin in assembly(bed).pins:
        canvas.dot(pin.x, pin.y, 0.9)
    for angle in assembly(bed).angles:
        a, b = angle.x + ANGLE * angle.along, angle.y + ANGLE * angle.across
        shape = [(angle.x, b), (angle.x, angle.y), (a, angle.y)]
        canvas.line(shape, 0.9)
    for x in outcome.walls.si.ties_x:
        canvas.line([(x, -0.02), (x, width + 0.02)], STRONG, "3 1")
        canvas.text(x, width * 0.8, "tie", dx=2, anchor="start")
    canvas.line([(t, t), (length - t, width - t)], THIN, "0.6 1.4")
    canvas.line([(t, width - t), (length - t, t)], THIN, "0.6 1.4")
    inside = f"inside {size(s.inside_length, system)} × {size(s.inside_width, system)}"
    canvas.text(length / 2, width / 2, inside, dy=-4)
    diagonal = float(np.hypot(length, width))
    canvas.text(
        length / 2, width / 2, f"both outside diagonals {size(diagonal, system)}", dy=8
    )
    canvas.across(0, length, -wall.cap_out, size(length, system), 5.0)
    canvas.upright(0, width, -wall.cap_out, size(width, system), -5.0)
    return canvas.svg(f"Bed {bed.name} from above, 1 to {n}")


def _waves(canvas, bed, t, deep) -> None:
    """Corrugated sheet behind the rails, all round."""
    s, pitch = bed.si, table("sheets")[bed.wall.sheet].pitch
    for a, b, axis, base in (
        (t, s.length - t, "x", t),
        (t, s.length - t, "x", s.width - t - deep),
        (t, s.width - t, "y", t),
        (t, s.width - t, "y", s.length - t - deep),
    ):
        along = np.arange(a, b, pitch / 8)
        wave = base + deep / 2 * (1 + np.sin(2 * np.pi * (along - a) / pitch))
        points = zip(along, wave, strict=True)
        canvas.line([(p, q) if axis == "x" else (q, p) for p, q in points], THIN)
