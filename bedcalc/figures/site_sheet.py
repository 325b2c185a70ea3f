"""The setting-out sheet: one page for a helper with a spade and a string.

A plain HTML page with a drawing in millimetres, so that it prints to scale, in black
on white. Every number is read from the plan of the site.
"""

from __future__ import annotations

from html import escape

from bedcalc.tables import table
from bedcalc.units import show

__all__ = ["SCALES", "setting_out_sheet"]

SCALES = (20, 25, 50, 75, 100, 150, 200, 250, 500)
_ROOM = {"A4": (182.0, 100.0), "Letter": (172.0, 100.0)}  # mm for the drawing

_STEPS = (
    "Ask where pipes and cables lie. Wait for the answer. Dig by hand.",
    "Stretch the two base lines: along the uphill edge, and along the left edge, "
    "square to it (3-4-5).",
    "Measure level from both lines, never along the ground. Put a peg at each corner.",
    "Both diagonals must measure what the table says. One longer? Slide a long side "
    "along itself until they are equal.",
    "Hang the level line (datum) where it hung for the readings. Check: the stick "
    "reads {check} at point 1.",
    "Dig the uphill side first. Stop when the stick reads the bold number, all over "
    "the floor of the trench.",
    "Put {gravel} of gravel in. Set the box. Check level lengthwise, crosswise and on "
    "both diagonals.",
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
    plan, title: str, *, paper: str = "A4", system: str = "metric", gravel: float = 0.05
) -> str:
    """The page as HTML, to be saved beside the workbook and printed.

    Parameters
    ----------
    plan : SitePlan
        Where the beds stand.
    title : str
        Name of the place.
    paper : str
        ``"A4"`` or ``"Letter"``.
    system : str
        ``"metric"`` or ``"us"``.
    gravel : float
        Gravel under the walls in metres; one digs that much deeper.

    Returns
    -------
    str
    """
    n = _scale(plan.yard.length, plan.yard.width, paper)
    words = {"gravel": _deep(gravel, system, "depth")}
    steps = "".join(
        f"<li>{escape(s.format(check=_read(plan.points[0][2], system), **words))}</li>"
        for s in _STEPS
    )
    return f"""<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>{escape(title)}: setting out</title>
<style>{_style(paper)}</style></head><body>
<header><h1>Setting out: {escape(title)}</h1>
<p>{escape(_facts(plan, n, system))}</p></header>
<div class="row"><figure>{_drawing(plan, n, system)}
<figcaption>Drawn 1 : {n}. Print at 100 %. The bar must measure 100 mm on the paper.
Up is uphill. Numbers at the corners: how deep the foot of the box sits in the ground
there; dig {words["gravel"]} deeper for the gravel.</figcaption></figure>
<ol>{steps}</ol></div>
{_table(plan, system, gravel)}
<p class="box"><b>Before any digging</b> ask the locating service; private lines are not
marked. Trenches stay below {"30 cm" if system == "metric" else "12 in"}; cover them at
night. No string at shin height without a flag. This sheet teaches estimating
and is no design by a licensed person.
</p>
<p class="sign">Set out by ______________ date ________ · checked by ______________
· notes: ____________________________________________</p>
</body></html>"""


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
text {{ font-family: inherit; }}"""


def _facts(plan, n: int, system: str) -> str:
    count = len(plan.points)
    return (
        f"{count} readings; the ground falls {show(plan.si.slope, 'slope', system)} "
        f"(1 in {plan.one_in:.0f}). To dig out: {show(plan.si.cut, 'volume', system)} "
        f"without the gravel bed, on a heap {show(plan.si.heap, 'volume', system)}. "
        "All distances level. A larger stick reading is lower."
    )


def _read(value: float, system: str) -> str:
    return f"{value:.3f} m" if system == "metric" else f"{_eighths(value / 0.0254)} in"


def _eighths(inches: float) -> str:
    """Inches to the nearest eighth, as a tape shows them: ``10 7/8``."""
    whole, part = divmod(round(abs(inches) * 8), 8)
    down = next(d for d in (1, 2, 4, 8) if part * d % 8 == 0)
    words = [str(whole)] if whole or not part else []
    minus = "−" if inches < 0 else ""
    return minus + " ".join(words + ([f"{part * down // 8}/{down}"] if part else []))


def _far(metres: float, system: str) -> str:
    """A distance as a tape shows it."""
    if system == "metric":
        return show(metres, "size", system)
    feet, rest = divmod(round(metres / 0.0254 * 8) / 8, 12)
    return f"{feet:.0f}′ {_eighths(rest)}″"


def _deep(metres: float, system: str, kind: str) -> str:
    """A depth as a tape shows it."""
    if system == "metric":
        return show(metres, kind, system)
    return f"{_eighths(metres / 0.0254)} in"


def _drawing(plan, n: int, system: str) -> str:
    """The plan as SVG in millimetres on paper."""
    k = 1000.0 / n
    yard = plan.yard
    wide, high = yard.length * k, yard.width * k
    left, top = 11.0, 6.0
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" '
        f'aria-label="Plan of the beds, 1 to {n}" width="{wide + left + 3:.1f}mm" '
        f'height="{high + top + 8:.1f}mm" '
        f'viewBox="{-left:.1f} {-top:.1f} {wide + left + 3:.1f} {high + top + 8:.1f}">',
        f'<rect x="0" y="0" width="{wide:.2f}" height="{high:.2f}" fill="none" '
        'stroke="#000" stroke-width="0.3"/>',
        f'<path d="M{-left + 4:.1f} 0H{wide + 2:.1f} M0 {-top + 2:.1f}V{high + 2:.1f}" '
        'stroke="#000" stroke-width="0.25" stroke-dasharray="2 1"/>',
        _text(wide / 2, -1.4, "base line, uphill edge", 2.6),
        _text(-1.6, high / 2, "base line, left edge", 2.6, turn=True),
    ]
    for t in yard.things:
        parts.append(_thing(t, k, wide, high))
    for bed in plan.beds:
        parts.append(_bed(bed, k, system))
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
        parts.append(_text(x, y - 0.6, _far(gap.width, system), small, halo=True))
    bar = high + 5.5
    parts.append(
        f'<path d="M0 {bar - 1:.2f}V{bar + 1:.2f}M0 {bar:.2f}H100M100 {bar - 1:.2f}V'
        f'{bar + 1:.2f}M50 {bar - 0.6:.2f}V{bar + 0.6:.2f}" stroke="#000" '
        'stroke-width="0.4"/>'
    )
    parts.append(_text(118, bar + 0.9, "100 mm on paper", 2.6))
    return "".join(parts) + "</svg>"


def _text(x, y, words, size, *, bold=False, turn=False, anchor="middle", halo=False):
    more = f' transform="rotate(-90 {x:.2f} {y:.2f})"' if turn else ""
    weight = ' font-weight="700"' if bold else ""
    behind = ' stroke="#fff" stroke-width="1.2" paint-order="stroke"' if halo else ""
    return (
        f'<text x="{x:.2f}" y="{y:.2f}" font-size="{size}" text-anchor="{anchor}"'
        f"{weight}{behind}{more}>{escape(str(words))}</text>"
    )


def _thing(t, k, wide, high) -> str:
    x, y = (v * k for v in t.middle)
    if not (-3 <= x <= wide + 3 and -3 <= y <= high + 3):
        return ""
    if t.kind == "pipe":
        return _pipe(t, k, wide, high)
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
    down = 3.6 + t.width / 2 * k if y < high - 2 else -1.6
    down = 0.9 if t.kind == "tree" else down
    return shape + _text(min(x, wide - 4), y + down, t.name, 2.5)


def _pipe(t, k, wide, high) -> str:
    """A pipe with the strip along it where one digs by hand."""
    far = table("setbacks")["cable"].distance
    left, right = max((t.x - far) * k, 0), min((t.x + t.length + far) * k, wide)
    top, low = max((t.y - far) * k, 0), min((t.y + t.width + far) * k, high)
    tall = t.width > t.length
    x = left + 2.6 if tall else (left + right) / 2
    y = (top + low) / 2 if tall else top + 2.6
    return (
        f'<rect x="{left:.2f}" y="{top:.2f}" width="{right - left:.2f}" '
        f'height="{low - top:.2f}" fill="none" stroke="#000" stroke-width="0.2" '
        'stroke-dasharray="1.5 1"/>'
        + _text(x, y, f"{t.name}: dig by hand", 2.5, turn=tall)
    )


def _bed(bed, k, system) -> str:
    s = bed.si
    x, y, w, h = s.x * k, s.y * k, s.length * k, s.width * k
    parts = [
        f'<rect x="{x:.2f}" y="{y:.2f}" width="{w:.2f}" height="{h:.2f}" fill="#fff" '
        'stroke="#000" stroke-width="0.6"/>',
        _text(x + w / 2, y + h / 2 + 1.4, bed.name, 4, bold=True),
    ]
    places = ((x, y - 1.2, "start"), (x + w, y - 1.2, "end"),
              (x + w, y + h + 3.0, "end"), (x, y + h + 3.0, "start"))  # fmt: skip
    for (px, py, anchor), depth in zip(places, s.depths, strict=True):
        words = _deep(float(depth), system, "depth").replace(" in", "″")
        parts.append(_text(px, py, words, 2.5, anchor=anchor))
    for cx, cy in bed.corners * k:
        parts.append(f'<circle cx="{cx:.2f}" cy="{cy:.2f}" r="0.6" fill="#000"/>')
    return "".join(parts)


def _table(plan, system, gravel) -> str:
    heads = (
        "Bed", "from left line", "from uphill line", "long × wide", "both diagonals",
        "stick at the foot", f"dig to (with {_deep(gravel, system, 'depth')} gravel)",
        "depth uphill left", "uphill right", "downhill right", "downhill left",
        "dig out", "done",
    )  # fmt: skip
    head = "".join(f'<th scope="col">{escape(h)}</th>' for h in heads)
    rows = []
    for b in plan.beds:
        s = b.si
        long_ = _far(s.length, system).removesuffix("\N{NO-BREAK SPACE}m")
        size = f"{long_} × {_far(s.width, system)}"
        diagonal = (
            show(s.diagonal, "stock", system)
            if system == "metric"
            else _far(s.diagonal, system)
        )
        cells = (
            _far(s.x, system), _far(s.y, system), size, diagonal,
            _read(s.staff, system), _read(s.staff + gravel, system),
            *(_corner(float(d), system) for d in s.depths),
            show(s.cut, "volume", system), "☐",
        )  # fmt: skip
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


def _corner(depth: float, system: str) -> str:
    words = _deep(abs(depth), system, "stock")
    return words if depth >= 0 else f"block {words}"
