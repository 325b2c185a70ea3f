"""Where the beds stand: the plot from above, and how far each is from its edges."""

from __future__ import annotations

from collections.abc import Collection

from ..site_plan import SitePlan
from ..units import show
from .canvas import GREY, STRONG, THIN, Canvas
from .page import plain, section, table_of

__all__ = ["plot_section"]

_SCALES = {"metric": (50, 75, 100, 150, 200, 300, 500), "us": (48, 96, 144, 192, 384)}
_ROOM = 112.0  # mm on paper


def plot_section(plan: SitePlan | None, names: Collection[str], system: str) -> str:
    """The plot to scale with all beds, the chosen ones grey, and their distances."""
    if plan is None or not any(bed.name in names for bed in plan.beds):
        return ""
    n = next(
        (n for n in _SCALES[system] if plan.yard.length * 1000 / n <= _ROOM),
        _SCALES[system][-1],
    )
    rows = [
        (bed.name, show(bed.x, "size", system), show(bed.y, "size", system))
        for bed in plan.beds
        if bed.name in names
    ]
    words = f"1 : {n}. Down the page is down the slope."
    if len(rows) < len(plan.beds):
        words += " Beds not in this sheet are white."
    figure = (
        f"<figure>{_plot(plan, names, n, system)}<figcaption>{plain(words)}"
        "</figcaption></figure>"
    )
    heads = ("bed", "from left", "from uphill")
    return section(
        "Where to put it" if len(rows) == 1 else "Where to put them",
        f'<div class="row">{figure}<div>'
        f"{table_of(heads, rows, numbers=(1, 2), kind='small')}</div></div>",
        kind="keep",
        note="From the left and the uphill edge of the plot to the uphill left corner "
        "of the bed, left as seen from downhill. Hold the tape level.",
    )


def _plot(plan: SitePlan, names: Collection[str], n: int, system: str) -> str:
    yard, canvas = plan.yard, Canvas(n, system)
    canvas.rect(0, 0, yard.length, -yard.width, "none", STRONG)
    for thing in yard.things:
        x0, x1 = thing.x, thing.x + thing.length
        y0, y1 = -thing.y, -thing.y - thing.width
        if x1 < 0 or x0 > yard.length or y0 > 0 or y0 < -yard.width - 1e-9:
            continue
        if not (thing.length or thing.width):
            canvas.dot(x0, y0, 1.0, "#fff")
        elif thing.kind == "gate":
            canvas.line([(x0, y0), (x1, y1)], 1.6)
        else:
            canvas.rect(x0, y0, x1, y1, "none", THIN, "1.2 0.8")
        room = thing.length * canvas.k > 10
        side = x0 > yard.length / 2 and not room and thing.kind != "tree"
        across = (x0 + x1) / 2 if room else (x0 if side else x1)
        canvas.text(
            across, (y0 + y1) / 2, thing.name, size=2.6,
            dx=0 if room else (-1.5 if side else 1.5),
            dy=4 if thing.kind == "gate" else 1,
            anchor="middle" if room else ("end" if side else "start"),
        )  # fmt: skip
    for bed in plan.beds:
        x, y = bed.si.x, -bed.si.y
        fill = GREY["post"] if bed.name in names else "#fff"
        canvas.rect(x, y, x + bed.si.length, y - bed.si.width, fill)
        middle = x + bed.si.length / 2, y - bed.si.width / 2
        canvas.text(*middle, bed.name, dy=1.2, bold=True, halo=False)
        if bed.name in names and len(names) == 1:
            canvas.across(0, x, 0, show(bed.x, "size", system), -3.0)
            canvas.upright(y, 0, x, show(bed.y, "size", system), 4.0)
    canvas.text(yard.length * 0.75, 0, "uphill", dy=-1.5, size=2.8)
    return canvas.svg(f"The plot from above with its beds, 1 to {n}")
