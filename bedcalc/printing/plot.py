"""Where the beds stand: the plot from above, and how far each is from its edges."""

from __future__ import annotations

from collections.abc import Collection

from ..model.plot import Thing
from ..questions.site_plan import SitePlan
from ..tables import table
from ..units import show
from .canvas import GREY, STRONG, THIN, Canvas
from .page import PaperTable

__all__ = ["down_arrow", "plot_and_things", "plot_section"]

_SCALES = {
    "metric": (50, 75, 100, 150, 200, 300, 500, 1000, 2000, 5000),
    "us": (48, 96, 144, 192, 384, 768, 1536, 3072),
}
_ROOM, _HIGH = 100.0, 60.0  # mm on paper


def plot_section(
    plan: SitePlan | None, names: Collection[str], system: str
) -> dict | None:
    """The plot to scale with all beds, the chosen ones grey, and their distances."""
    if plan is None or not any(bed.name in names for bed in plan.beds):
        return None
    n = next(
        (
            n
            for n in _SCALES[system]
            if plan.plot.length * 1000 / n <= _ROOM
            and plan.plot.width * 1000 / n <= _HIGH
        ),
        _SCALES[system][-1],
    )
    rows = [
        (bed.name, show(bed.x, "size", system), show(bed.y, "size", system))
        for bed in plan.beds
        if bed.name in names
    ]
    words = f"1 : {n}. {_ground(plan)}"
    if len(rows) < len(plan.beds):
        words += " Beds not in this sheet are white."
    return {
        "title": "Where to put it" if len(rows) == 1 else "Where to put them",
        "svg": _plot(plan, names, n, system),
        "words": words,
        "places": PaperTable(("bed", "from left", "from top"), rows, (1, 2), "small"),
    }


def _ground(plan: SitePlan) -> str:
    """Which way the ground falls on this drawing, and what is not known."""
    words = "The ground is not measured: taken as level."
    if plan.measured:
        words = "The ground is level."
        if plan.si.slope > 1e-4:
            words = f"The ground falls {plan.way}."
    if not plan.outlined:
        words += " No plot outline given: dashed is what beds and readings cover."
    return words


def _plot(plan: SitePlan, names: Collection[str], n: int, system: str) -> str:
    canvas = Canvas(n, system)
    plot_and_things(canvas, plan, plan.plot.bounds)
    for bed in plan.beds:
        x, y = bed.si.x, -bed.si.y
        fill = GREY["post"] if bed.name in names else "#fff"
        canvas.rect(x, y, x + bed.si.length, y - bed.si.width, fill)
        middle = x + bed.si.length / 2, y - bed.si.width / 2
        canvas.text(*middle, bed.name, dy=1.2, bold=True, halo=False)
        if bed.name in names and len(names) == 1:
            canvas.across(0, x, 0, show(bed.x, "size", system), -3.0)
            canvas.upright(y, 0, x, show(bed.y, "size", system), 4.0)
    down_arrow(canvas, plan)
    return canvas.svg(f"The plot from above with its beds, 1 to {n}")


def plot_and_things(
    canvas: Canvas, plan: SitePlan, box: tuple[float, float, float, float]
) -> None:
    """The outline of the plot and what stands on it, inside a box of the plan."""
    left, right, top, low = box
    ring = [(x, -y) for x, y in plan.plot.outline]
    canvas.line([*ring, ring[0]], STRONG, "" if plan.outlined else "2 1")
    for thing in plan.plot.things:
        x0, x1 = thing.x, thing.x + thing.length
        y0, y1 = -thing.y, -thing.y - thing.width
        if x1 < left or x0 > right or y0 > -top + 1e-9 or y0 < -low - 1e-9:
            continue
        if thing.kind == "pipe":
            _pipe(canvas, thing, box)
            continue
        if not (thing.length or thing.width):
            canvas.dot(x0, y0, 1.0, "#fff")
        elif thing.kind == "gate":
            canvas.line([(x0, y0), (x1, y1)], 1.6)
        elif thing.kind == "tree":
            canvas.ring((x0 + x1) / 2, (y0 + y1) / 2, thing.length / 2)
        else:
            canvas.rect(x0, y0, x1, y1, "none", THIN, "1.2 0.8")
        room = thing.length * canvas.k > 10
        side = x0 > (left + right) / 2 and not room and thing.kind != "tree"
        across = (x0 + x1) / 2 if room else (x0 if side else x1)
        canvas.text(
            across,
            (y0 + y1) / 2,
            thing.name,
            size=2.6,
            dx=0 if room else (-1.5 if side else 1.5),
            dy=4 if thing.kind == "gate" else 1,
            anchor="middle" if room else ("end" if side else "start"),
        )


def _pipe(canvas: Canvas, thing: Thing, box) -> None:
    """A pipe with the strip along it where one digs by hand."""
    far = table("setbacks")["cable"].distance
    left, right = max(thing.x - far, box[0]), min(thing.x + thing.length + far, box[1])
    top, low = max(thing.y - far, box[2]), min(thing.y + thing.width + far, box[3])
    canvas.rect(left, -top, right, -low, "none", THIN, "1.5 1")
    tall = thing.width > thing.length
    x = left + 2.6 / canvas.k if tall else (left + right) / 2
    y = (top + low) / 2 if tall else top + 2.6 / canvas.k
    canvas.text(x, -y, f"{thing.name}: dig by hand", size=2.5, turn=tall)


def down_arrow(canvas: Canvas, plan: SitePlan) -> None:
    """An arrow down the slope beside the plot, if the ground was measured."""
    if not plan.measured or plan.si.slope <= 1e-4:
        return
    slope, k = float(plan.si.slope), canvas.k
    dx, dy = -plan.si.slope_x / slope, plan.si.slope_y / slope
    _, right, top, _ = plan.plot.bounds
    x, y = right + 9 / k, -top - 6 / k
    tip = x + 4 / k * dx, y + 4 / k * dy
    canvas.line([(x - 4 / k * dx, y - 4 / k * dy), tip], STRONG)
    for s in (1, -1):
        wing = tip[0] + (-1.8 * dx + s * dy) / k, tip[1] + (-1.8 * dy - s * dx) / k
        canvas.line([tip, wing], STRONG)
    canvas.text(x, y, "downhill", dy=7.5, size=2.6)
