"""The setting-out sheet: one page for a helper with a spade and a string.

A second page says why each number is as it is, and from where. Every number is read
from the plan of the site; paper, drawing and tables are those of the build sheet.
"""

from __future__ import annotations

from ..figures.site_plan_words import ground_words
from ..model.plan_words import CORNERS, corner_names
from ..questions.basis import basis_of, because, notes
from ..questions.site_plan import SitePlan
from ..units import show
from .canvas import LINE, STRONG, THIN, Canvas, check_bar
from .page import PaperTable, render
from .plot import down_arrow, plot_and_things
from .tape import deep, dig_or_block, far, stick

__all__ = ["SCALES", "setting_out_sheet"]

SCALES = (20, 25, 50, 75, 100, 150, 200, 250, 500, 750, 1000, 2000, 4000)
_ROOM = {"A4": (168.0, 100.0), "Letter": (158.0, 100.0)}  # mm for the drawing

_LINE = "________"  # to be filled in by hand
_BEFORE = (
    "Ask where pipes and cables lie. Wait for the answer. Dig by hand.",
    "Stretch the two base lines: along the top of the plan, and along its left, square "
    "to it (3-4-5).",
    "Measure level from both lines, never along the ground. Put a peg at each corner.",
    "Both diagonals must measure what the table says. One longer? Slide a long side "
    "along itself until they are equal.",
)
_MEASURED = (
    "Hang the level line (datum) where it hung for the readings. Check: the stick "
    "reads {check} at point 1.",
    "Dig the uphill side first. Stop when the stick reads the bold number, all over "
    "the floor of the trench.",
)
_OPEN = (
    "Nobody has read the ground yet. Hang a level line (datum) over the bed and read "
    "the stick at its four corners; write the four numbers down.",
    "Dig to the largest of the four (the lowest corner) plus {let_in} for letting in"
    "{more}. Write it into the table. Dig the uphill side first, until the stick reads "
    "that number all over the floor of the trench.",
)
_AFTER = (
    "{put}Set the box. Check level lengthwise, crosswise and on both diagonals.",
    "Too high? Take earth from the high side. Never pack earth under the low side.",
    "Check each path with a stick cut to its width: both ends, middle, ground and rim.",
    "Tamp earth around the box. Look again after the first rain.",
)


def _scale(length: float, width: float, paper: str) -> int:
    room = _ROOM[paper]
    for n in SCALES:
        if length * 1000 / n <= room[0] and width * 1000 / n <= room[1]:
            return n
    return SCALES[-1]


def setting_out_sheet(
    plan, title: str, *, paper: str = "A4", system: str = "metric"
) -> str:
    """The page as HTML, to be saved beside the workbook and printed.

    Parameters
    ----------
    plan : SitePlan
        Where the beds stand, and how they are let in.
    title : str
        Name of the place.
    paper : str
        ``"A4"`` or ``"Letter"``.
    system : str
        ``"metric"`` or ``"us"``.

    Returns
    -------
    str
    """
    x0, x1, y0, y1 = _box(plan)
    n = _scale(x1 - x0, y1 - y0, paper)
    numbers = "Numbers at the corners: how deep to dig there"
    if plan.levelling.si.gravel:
        numbers += f", with {_gravel(plan, system)} for the gravel"
    if plan.si.slope > 1e-4:
        numbers += "; in the table ▲ is the highest corner, ▼ the lowest"
    if not plan.measured:
        numbers = "Not measured: taken as level. How deep to dig is open"
    outline = (
        ""
        if plan.outlined
        else " No plot outline given: dashed is what beds and readings cover."
    )
    return render(
        "setting_out",
        f"{title}: setting out",
        paper,
        landscape=True,
        heading=f"Setting out: {title}",
        facts=_facts(plan, n, system),
        drawing=_drawing(plan, n, system),
        bar=check_bar(system),
        caption=f"Drawn 1 : {n}. Print at 100 %. {numbers}.{outline}",
        steps=_steps(plan, system),
        depths=_table(plan, system),
        least="30 cm" if system == "metric" else "12 in",
        reasons=_why(plan, system),
    )


def _why(plan: SitePlan, system: str) -> PaperTable:
    """Formula in words, numbers and sources of what the sheet says."""
    parts = {"plan": plan}
    told = [("", because(check, parts, system)) for check in plan.checks]
    heads = [basis_of("view.level", parts, system)]
    words = ("what", "how it is worked out", "with these numbers", "from where")
    return PaperTable(words, notes(told, heads), kind="small")


def _box(plan) -> tuple[float, float, float, float]:
    """What is drawn: the plot and both base lines, in metres."""
    left, right, top, low = plan.plot.bounds
    return min(left, 0.0), max(right, 0.0), min(top, 0.0), max(low, 0.0)


def _gravel(plan, system) -> str:
    return deep(plan.levelling.si.gravel, system, "depth")


def _steps(plan, system: str) -> list[str]:
    """What to do, in order."""
    gravel = plan.levelling.si.gravel
    words = {"put": f"Put {_gravel(plan, system)} of gravel in. " if gravel else ""}
    if plan.measured:
        words["check"] = stick(plan.points[0][2], system)
    else:
        let_in = sorted({round(float(b.si.depths.max()), 4) for b in plan.beds})
        words["let_in"] = " or ".join(deep(v, system, "depth") for v in let_in) or "0"
        words["more"] = (
            f" plus {_gravel(plan, system)} for the gravel" if gravel else ""
        )
    middle = _MEASURED if plan.measured else _OPEN
    return [line.format(**words) for line in (*_BEFORE, *middle, *_AFTER)]


def _facts(plan, n: int, system: str) -> str:
    last = "All distances level. A larger stick reading is lower."
    if not plan.measured:
        return f"Not measured: taken as level. The depths stay open. {last}"
    count = len(plan.points)
    checked = " (three check nothing)" if count < 4 else ""
    ground = ground_words(plan, system)
    if plan.si.slope > 1e-4:
        ground += f", {plan.way}"
    gravel = " with room for the gravel" if plan.levelling.si.gravel else ""
    return (
        f"{count} readings{checked}; the ground {ground}. To dig out{gravel}: "
        f"{show(plan.si.cut, 'volume', system)}, on a heap "
        f"{show(plan.si.heap, 'volume', system)}. {last}"
    )


def _drawing(plan: SitePlan, n: int, system: str) -> str:
    """The plan to scale: base lines, plot, things, beds, paths, the way down."""
    canvas, (x0, x1, y0, y1) = Canvas(n, system), _box(plan)
    pad, k = 7.0 / (1000.0 / n), 1000.0 / n
    canvas.line([(x0 - pad, 0), (x1 + 2 / k, 0)], LINE, "2 1")
    canvas.line([(0, -y0 + 4 / k), (0, -y1 - 2 / k)], LINE, "2 1")
    middle = (x0 + x1) / 2, -(y0 + y1) / 2
    canvas.text(middle[0], 0, "base line, top of the plan", dy=-1.4, size=2.6)
    canvas.text(0, middle[1], "base line, left", dx=-1.6, size=2.6, turn=True)
    plot_and_things(canvas, plan, (x0, x1, y0, y1))
    down_arrow(canvas, plan)
    for bed in plan.beds:
        _bed(canvas, bed, system, plan.measured)
    for gap in plan.gaps:
        across, along = sum(gap.at) / 2, (gap.start + gap.end) / 2
        ends = [(v, along) if gap.across == "x" else (along, v) for v in gap.at]
        canvas.line([(x, -y) for x, y in ends], THIN)
        x, y = (across, along) if gap.across == "x" else (along, across)
        small = 2.5 if system == "metric" else 2.1
        canvas.text(x, -y, far(gap.width, system), dy=-0.6, size=small)
    return canvas.svg(f"Plan of the beds, 1 to {n}")


def _bed(canvas: Canvas, bed, system: str, measured: bool) -> None:
    """A bed with its name, its corners and how deep to dig at each."""
    s = bed.si
    x, y, right, low = s.x, -s.y, s.x + s.length, -s.y - s.width
    canvas.rect(x, y, right, low, "#fff", STRONG)
    middle = (x + right) / 2, (y + low) / 2
    canvas.text(*middle, bed.name, dy=1.4, size=4, bold=True, halo=False)
    places = (
        (x, y, 0, -1.2, "start"),
        (right, y, 0, -1.2, "end"),
        (right, low, 0, 3.0, "end"),
        (x, low, 0, 3.0, "start"),
    )
    if s.length * canvas.k < 15:  # two numbers do not fit side by side
        places = (
            (x, y, -1, 2.4, "end"),
            (right, y, 1, 2.4, "start"),
            (right, low, 1, -0.4, "start"),
            (x, low, -1, -0.4, "end"),
        )
    for (px, py, dx, dy, anchor), dig, depth in zip(
        places, s.dig, s.depths, strict=True
    ):
        if not measured:
            break
        words = dig_or_block(float(dig), float(depth), system, "depth")
        words = words.replace(" in", "″")
        canvas.text(px, py, words, dx=dx, dy=dy, size=2.5, anchor=anchor)
    for cx, cy in bed.corners:
        canvas.dot(cx, -cy, 0.5)


def _table(plan, system) -> PaperTable:
    gravel = plan.levelling.si.gravel
    heads = [
        "Bed",
        "from left line",
        "from top line",
        "long × wide",
        "both diagonals",
        "stick at the foot",
        "dig until it reads",
        *(f"dig {name}" for name in CORNERS),
        "dig out",
        "done",
    ]
    if gravel:
        heads[6] += f" (with {_gravel(plan, system)} gravel)"
    rows = []
    for b in plan.beds:
        s = b.si
        long_ = far(max(s.length, s.width), system).removesuffix("\N{NO-BREAK SPACE}m")
        size = f"{long_} × {far(min(s.length, s.width), system)}"
        diagonal = (
            show(s.diagonal, "stock", system)
            if system == "metric"
            else far(s.diagonal, system)
        )
        found = [_LINE] * 7
        if plan.measured:
            depths = zip(s.dig, s.depths, strict=True)
            found = [
                stick(s.staff, system),
                stick(s.floor, system),
                *(
                    _marked(dig_or_block(float(dig), float(depth), system), name)
                    for (dig, depth), name in zip(
                        depths, corner_names(s.depths), strict=True
                    )
                ),
                show(s.cut, "volume", system),
            ]
        cells = (far(s.x, system), far(s.y, system), size, diagonal, *found, "☐")
        rows.append((b.name, *cells))
    return PaperTable(heads, rows, kind="grid")


def _marked(words: str, name: str) -> str:
    """A depth with a sign where the ground is highest (▲) or lowest (▼)."""
    sign = "▲" if "highest" in name else "▼" if "lowest" in name else ""
    return f"{words} {sign}".strip()
