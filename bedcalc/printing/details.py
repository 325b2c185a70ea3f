"""Details of one bed, larger: corner from above, the tie, the fill with its marks."""

from __future__ import annotations

import numpy as np

from ..assembly import sheet_depth
from ..evaluate import Outcome
from ..tables import table
from ..units import show
from .canvas import GREY, STRONG, THIN, Canvas
from .views import size

__all__ = ["corner_detail", "fill_detail", "tie_detail"]


def corner_detail(outcome: Outcome, n: int, system: str) -> str:
    """One corner from above: who runs through, where the screws go, cap mitre."""
    bed = outcome.bed
    s, wall, canvas = bed.si, bed.wall.si, Canvas(n, system)
    t, post, reach = s.wall_thickness, wall.post, 0.30
    deep = sheet_depth(outcome.bed)
    canvas.rect(0, 0, reach, t, GREY["timber"])
    canvas.rect(0, t, t, reach, GREY["timber"])
    if deep:
        row = table("sheets")[bed.wall.sheet]
        along = np.arange(t, reach, row.pitch / 12)
        wave = t + deep / 2 * (1 + np.sin(2 * np.pi * (along - t) / row.pitch))
        canvas.line(zip(along, wave, strict=True), 0.45)
        canvas.line(zip(wave, along, strict=True), 0.45)
    if post:
        a = t + deep
        canvas.rect(a, a, a + post, a + post, GREY["post"])
        canvas.text(a + post, a + post, "post", dx=1.5, dy=3, anchor="start")
        mid = a + post / 2
        long_ = 0.100 if bed.wall.family == "sheet" else 0.070
        for x0, y0, x1, y1 in (
            (mid + 0.008, 0, mid + 0.008, long_),
            (0, mid - 0.008, long_, mid - 0.008),
        ):
            canvas.line([(x0, y0), (x1, y1)], STRONG)
            canvas.dot(x0, y0, 0.9)
        canvas.across(0, mid, 0, size(mid, system), 6.0)
    if wall.cap_wide:
        out, inner = wall.cap_out, wall.cap_wide - wall.cap_out
        canvas.line([(-out, -out), (reach, -out)], THIN, "2 1")
        canvas.line([(-out, -out), (-out, reach)], THIN, "2 1")
        canvas.line([(-out, -out), (inner, inner)], THIN, "2 1")
        canvas.text(-out, -out, "cap, mitre 45°", dx=-1, dy=4, anchor="start")
        canvas.upright(-out, 0, reach, "", 5.0)
        canvas.text(reach, -out / 2, size(out, system), dx=7, dy=1.1, anchor="start")
    canvas.text(reach, t / 2, "side runs through", dx=2, dy=1, anchor="start")
    canvas.text(t / 2, reach, "end stands between", dy=-2, anchor="start")
    return canvas.svg(f"Corner of bed {bed.name} from above, 1 to {n}")


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
    canvas.text(-0.008, 0.022, "plate 50 × 50 × 5", dx=-1, anchor="end")
    canvas.text(-0.022, -0.012, "2 nuts", dx=-1, dy=2, anchor="end")
    canvas.text(0.16, -0.01, "rod M10 in a pipe", dy=4)
    canvas.text(
        t / 2, wide / 2, "rail" if bed.wall.family == "sheet" else "wall", dy=-1.5
    )
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
