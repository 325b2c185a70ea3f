"""The setting-out sheet: one page for a helper with a spade and a string.

A second page says why each number is as it is, and from where.

A plain HTML page with a drawing in millimetres, so that it prints to scale, in black
on white. Every number is read from the plan of the site.
"""

from __future__ import annotations

from html import escape

from bedcalc.basis import basis_of, because, notes
from bedcalc.plan_words import CORNERS, corner_names
from bedcalc.tables import table
from bedcalc.units import show

from .site_plan_words import ground_words
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
    steps = "".join(f"<li>{escape(line)}</li>" for line in _steps(plan, system))
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
    return f"""<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>{escape(title)}: setting out</title>
<style>{_style(paper)}</style></head><body>
<header><h1>Setting out: {escape(title)}</h1>
<p>{escape(_facts(plan, n, system))}</p></header>
<div class="row"><figure>{_drawing(plan, n, system)}
<figcaption>Drawn 1 : {n}. Print at 100 %. The bar must measure 100 mm on the paper.
{numbers}.{outline}</figcaption></figure>
<ol>{steps}</ol></div>
{_table(plan, system)}
<p class="box"><b>Before any digging</b> ask the locating service; private lines are not
marked. Trenches stay below {"30 cm" if system == "metric" else "12 in"}; cover them at
night. No string at shin height without a flag. This sheet teaches estimating
and is no design by a licensed person.
</p>
<p class="sign">Set out by ______________ date ________ · checked by ______________
· notes: ____________________________________________</p>
{_why(plan, system)}
</body></html>"""


def _why(plan, system: str) -> str:
    """Formula in words, numbers and sources of what the sheet says."""
    parts = {"plan": plan}
    told = [("", because(check, parts, system)) for check in plan.checks]
    heads = [basis_of("view.level", parts, system)]
    cells = "".join(
        f'<tr><th scope="row">{escape(row[0])}</th>'
        + "".join(f"<td>{escape(cell)}</td>" for cell in row[1:])
        + "</tr>"
        for row in notes(told, heads)
    )
    head = "".join(
        f'<th scope="col">{h}</th>'
        for h in ("what", "how it is worked out", "with these numbers", "from where")
    )
    return (
        '<section class="why"><h1>Why, and from where</h1><table><thead><tr>'
        f"{head}</tr></thead><tbody>{cells}</tbody></table></section>"
    )


def _style(paper: str) -> str:
    return f"""@page {{ size: {paper} landscape; margin: 8mm; }}
* {{ box-sizing: border-box; }}
body {{ font: 9pt/1.22 system-ui, 'Segoe UI', 'Liberation Sans', Arial, sans-serif;
  color: #000; background: #fff; margin: 0 auto; max-width: 281mm; }}
h1 {{ font-size: 14pt; margin: 0; }} header p {{ margin: 0 0 1mm; }}
.row {{ display: flex; gap: 4mm; }} figure {{ margin: 0; flex: none; }}
figcaption {{ font-size: 8pt; max-width: 182mm; }}
ol {{ margin: 0; padding-left: 5mm; font-size: 9pt; }} li {{ margin-bottom: 0.8mm; }}
table {{ border-collapse: collapse; width: 100%; margin: 1.2mm 0; font-size: 8.5pt; }}
td {{ white-space: nowrap; }}
th, td {{ border: 0.2mm solid #000; padding: 0.3mm 1.2mm; text-align: right; }}
th {{ font-weight: 600; }} th:first-child {{ text-align: left; }}
.box {{ border: 0.5mm solid #000; padding: 0.8mm 2mm; margin: 1mm 0;
  font-size: 8.5pt; }}
.sign {{ margin: 2mm 0 0; }}
.why {{ break-before: page; }}
.why td, .why th {{ white-space: normal; text-align: left; vertical-align: top; }}
text {{ font-family: inherit; }}"""


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


def _drawing(plan, n: int, system: str) -> str:
    """The plan as SVG in millimetres on paper."""
    k = 1000.0 / n
    x0, x1, y0, y1 = (v * k for v in _box(plan))
    wide, high = x1 - x0, y1 - y0
    left, top = 11.0, 6.0
    beside = 15.0 if plan.si.slope > 1e-4 else 3.0  # room for the arrow
    size = f"{max(wide + beside, 132.0) + left:.1f}", f"{high + top + 8:.1f}"
    outline = "L".join(f"{x * k:.2f} {y * k:.2f}" for x, y in plan.plot.outline)
    dash = "" if plan.outlined else ' stroke-dasharray="1.5 1"'
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" '
        f'aria-label="Plan of the beds, 1 to {n}" width="{size[0]}mm" '
        f'height="{size[1]}mm" '
        f'viewBox="{x0 - left:.1f} {y0 - top:.1f} {size[0]} {size[1]}">',
        f'<path d="M{outline}Z" fill="none" stroke="#000" stroke-width="0.3"{dash}/>',
        f'<path d="M{x0 - left + 4:.1f} 0H{x1 + 2:.1f} M0 {y0 - top + 2:.1f}'
        f'V{y1 + 2:.1f}" stroke="#000" stroke-width="0.25" stroke-dasharray="2 1"/>',
        _text((x0 + x1) / 2, -1.4, "base line, top of the plan", 2.6, halo=True),
        _text(-1.6, (y0 + y1) / 2, "base line, left", 2.6, turn=True, halo=True),
    ]
    for t in plan.plot.things:
        parts.append(_thing(t, k, (x0, x1, y0, y1)))
    parts.append(_down(plan, k))
    for bed in plan.beds:
        parts.append(_bed(bed, k, system, plan.measured))
    small = 2.5 if system == "metric" else 2.1
    for gap in plan.gaps:
        across, mid = sum(gap.at) / 2 * k, (gap.start + gap.end) / 2 * k
        x, y = (across, mid) if gap.across == "x" else (mid, across)
        ends = [v * k for v in gap.at]
        path = (
            f"M{ends[0]:.2f} {mid:.2f}H{ends[1]:.2f}"
            if gap.across == "x"
            else f"M{mid:.2f} {ends[0]:.2f}V{ends[1]:.2f}"
        )
        parts.append(f'<path d="{path}" stroke="#000" stroke-width="0.2"/>')
        parts.append(_text(x, y - 0.6, far(gap.width, system), small, halo=True))
    bar, end = y1 + 5.5, x0 + 100
    parts.append(
        f'<path d="M{x0:.2f} {bar - 1:.2f}V{bar + 1:.2f}M{x0:.2f} {bar:.2f}H{end:.2f}'
        f"M{end:.2f} {bar - 1:.2f}V{bar + 1:.2f}M{end - 50:.2f} {bar - 0.6:.2f}"
        f'V{bar + 0.6:.2f}" stroke="#000" stroke-width="0.4"/>'
    )
    parts.append(_text(end + 18, bar + 0.9, "100 mm on paper", 2.6))
    return "".join(parts) + "</svg>"


def _text(x, y, words, size, *, bold=False, turn=False, anchor="middle", halo=False):
    more = f' transform="rotate(-90 {x:.2f} {y:.2f})"' if turn else ""
    weight = ' font-weight="700"' if bold else ""
    behind = ' stroke="#fff" stroke-width="1.2" paint-order="stroke"' if halo else ""
    return (
        f'<text x="{x:.2f}" y="{y:.2f}" font-size="{size}" text-anchor="{anchor}"'
        f"{weight}{behind}{more}>{escape(str(words))}</text>"
    )


def _down(plan, k) -> str:
    """An arrow down the slope, to the right of the plot."""
    slope = float(plan.si.slope)
    if not plan.measured or slope < 1e-4:
        return ""
    _, right, top, _ = plan.plot.bounds
    dx, dy = -plan.si.slope_x / slope, -plan.si.slope_y / slope
    x, y = right * k + 8, top * k + 8
    tip, tail = (x + 4 * dx, y + 4 * dy), (x - 4 * dx, y - 4 * dy)
    wings = [
        (tip[0] - 2 * dx + s * 1.1 * dy, tip[1] - 2 * dy - s * 1.1 * dx)
        for s in (1, -1)
    ]  # fmt: skip
    way = f"M{tail[0]:.2f} {tail[1]:.2f}L{tip[0]:.2f} {tip[1]:.2f}"
    way += "".join(f"M{tip[0]:.2f} {tip[1]:.2f}L{a:.2f} {b:.2f}" for a, b in wings)
    return f'<path d="{way}" fill="none" stroke="#000" stroke-width="0.4"/>' + _text(
        x, y + 7, "downhill", 2.5, halo=True
    )


def _thing(t, k, box) -> str:
    x, y = (v * k for v in t.middle)
    x0, x1, y0, y1 = box
    if not (x0 - 3 <= x <= x1 + 3 and y0 - 3 <= y <= y1 + 3):
        return ""
    if t.kind == "pipe":
        return _pipe(t, k, box)
    if t.kind == "tree":
        shape = (
            f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{t.length / 2 * k:.2f}" fill="none" '
            'stroke="#000" stroke-width="0.25" stroke-dasharray="1 1"/>'
        )
    elif t.length and t.kind not in ("gate", "fence"):
        shape = (
            f'<rect x="{t.x * k:.2f}" y="{t.y * k:.2f}" width="{t.length * k:.2f}" '
            f'height="{t.width * k:.2f}" fill="#ddd" stroke="#000" '
            'stroke-width="0.25"/>'
        )
    elif t.kind == "fence":
        return ""
    else:
        shape = f'<circle cx="{x:.2f}" cy="{y:.2f}" r="0.9" fill="#000"/>'
    down = 3.6 + t.width / 2 * k if y < y1 - 2 else -1.6
    down = 0.9 if t.kind == "tree" else down
    return shape + _text(min(x, x1 - 4), y + down, t.name, 2.5)


def _pipe(t, k, box) -> str:
    """A pipe with the strip along it where one digs by hand."""
    far = table("setbacks")["cable"].distance
    x0, x1, y0, y1 = box
    left, right = max((t.x - far) * k, x0), min((t.x + t.length + far) * k, x1)
    top, low = max((t.y - far) * k, y0), min((t.y + t.width + far) * k, y1)
    tall = t.width > t.length
    x = left + 2.6 if tall else (left + right) / 2
    y = (top + low) / 2 if tall else top + 2.6
    return (
        f'<rect x="{left:.2f}" y="{top:.2f}" width="{right - left:.2f}" '
        f'height="{low - top:.2f}" fill="none" stroke="#000" stroke-width="0.2" '
        'stroke-dasharray="1.5 1"/>'
        + _text(x, y, f"{t.name}: dig by hand", 2.5, turn=tall)
    )


def _bed(bed, k, system, measured: bool) -> str:
    s = bed.si
    x, y, w, h = s.x * k, s.y * k, s.length * k, s.width * k
    parts = [
        f'<rect x="{x:.2f}" y="{y:.2f}" width="{w:.2f}" height="{h:.2f}" fill="#fff" '
        'stroke="#000" stroke-width="0.6"/>',
        _text(x + w / 2, y + h / 2 + 1.4, bed.name, 4, bold=True),
    ]
    places = ((x, y - 1.2, "start"), (x + w, y - 1.2, "end"),
              (x + w, y + h + 3.0, "end"), (x, y + h + 3.0, "start"))  # fmt: skip
    if w < 20:  # two numbers do not fit side by side
        places = ((x - 1, y + 2.4, "end"), (x + w + 1, y + 2.4, "start"),
                  (x + w + 1, y + h - 0.4, "start"),
                  (x - 1, y + h - 0.4, "end"))  # fmt: skip
    for (px, py, anchor), dig, depth in zip(places, s.dig, s.depths, strict=True):
        if not measured:
            break
        words = dig_or_block(float(dig), float(depth), system, "depth").replace(
            " in", "″"
        )
        parts.append(_text(px, py, words, 2.5, anchor=anchor))
    for cx, cy in bed.corners * k:
        parts.append(f'<circle cx="{cx:.2f}" cy="{cy:.2f}" r="0.6" fill="#000"/>')
    return "".join(parts)


def _table(plan, system) -> str:
    gravel = plan.levelling.si.gravel
    heads = [
        "Bed", "from left line", "from top line", "long × wide", "both diagonals",
        "stick at the foot", "dig until it reads",
        *(f"dig {name}" for name in CORNERS), "dig out", "done",
    ]  # fmt: skip
    if gravel:
        heads[6] += f" (with {_gravel(plan, system)} gravel)"
    head = "".join(f'<th scope="col">{escape(h)}</th>' for h in heads)
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
                stick(s.staff, system), stick(s.floor, system),
                *(_marked(dig_or_block(float(dig), float(depth), system), name)
                  for (dig, depth), name in zip(depths, corner_names(s.depths),
                                                strict=True)),
                show(s.cut, "volume", system),
            ]  # fmt: skip
        cells = (far(s.x, system), far(s.y, system), size, diagonal, *found, "☐")
        rows.append(
            f'<tr><th scope="row">{escape(b.name)}</th>'
            + "".join(
                f"<td>{f'<b>{escape(c)}</b>' if i == 5 else escape(c)}</td>"
                for i, c in enumerate(cells)
            )
            + "</tr>"
        )
    return (
        f"<table><thead><tr>{head}</tr></thead><tbody>{''.join(rows)}</tbody></table>"
    )


def _marked(words: str, name: str) -> str:
    """A depth with a sign where the ground is highest (▲) or lowest (▼)."""
    sign = "▲" if "highest" in name else "▼" if "lowest" in name else ""
    return f"{words} {sign}".strip()
