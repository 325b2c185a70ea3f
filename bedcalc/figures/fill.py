"""Close-up of the fill: the layers seen from the front, their numbers beside them.

The picture is laid out in metres at a scale known in pixels per metre, so layers, log
ends and the distances between table rows are all true at the width it was drawn for;
at another width it only stretches a little.
"""

from __future__ import annotations

import numpy as np

from bedcalc.units import unit_sign

from ..model.outcome import Outcome
from . import theme
from .drawing import Drawing
from .fill_words import (
    alt_text,
    caption,
    cells,
    numbers,
    order_lines,
    short_name,
    sunk_to,
    title,
    total,
    under_title,
)
from .section import Paper, box_px, end_width, ground, paper_for, walls
from .shapes import EMPTY, area, line, marks, segments
from .texture import log_ends, strokes

__all__ = ["fill_figure"]

_SLOTS = 8  # traces kept for strokes; deeper stacks leave the rest plain
_ROW = 26.0  # px between two rows of the table at least
_MARGIN = {"l": 8, "r": 10, "t": 62, "b": 10}


def _paper(bed, rows: int, extra: float, wide: float, narrow: bool) -> Paper:
    """Room for the section and the table, in pixels; ``extra`` for more order lines."""
    table = rows * _ROW + 118
    base, beside = 58 + extra, _columns(wide, narrow)[0] + 32
    high = max(292.0, table) + extra
    if narrow:
        base, beside = table + 24 + extra, 0.0
        high = base + box_px(bed, narrow) + 6
    room = {"wide": wide, "high": high, "base": base, "foot": extra}
    return paper_for(bed, beside=beside, narrow=narrow, **room)


def _columns(wide: float, narrow: bool) -> tuple[float, dict[str, float]]:
    """Width of the table and, per column, px from its right edge (names: left)."""
    names = ["price", "buy", "settled", "deep"]
    if narrow:
        if wide < 310:
            names.remove("settled")
        gap = (wide - 108) / len(names)
        return wide, {name: i * gap for i, name in enumerate(names)}
    gap = float(np.clip((wide - 440) / 3, 51, 74))
    return 3 * gap + 36 + 92, {name: i * gap for i, name in enumerate(names)}


def _colour_at(outcome: Outcome, height: float) -> str:
    """Colour of the layer at a height over the base."""
    for layer in outcome.fill.layers:
        if height <= layer.si.top + 1e-9:
            return theme.MATERIAL[layer.si.material]
    return theme.PAPER


def _spread(wanted: list[float], low: float, high: float) -> list[float]:
    """Rows as near as can be to where they belong (bottom first), none too close."""
    rows = list(wanted)
    for i in range(len(rows)):
        rows[i] = max(rows[i], low if i == 0 else rows[i - 1] + _ROW)
    for i in reversed(range(len(rows))):
        top = high if i == len(rows) - 1 else rows[i + 1] - _ROW
        rows[i] = min(rows[i], top)
    return rows


def _rule(paper: Paper) -> float:
    """Height in px of the rule over the total."""
    return 66 + paper.foot


def _row_heights(outcome: Outcome, paper: Paper) -> list[float]:
    """Pixel heights of the table's rows, bottom layer first."""
    layers = outcome.fill.layers
    if paper.narrow:
        return [_rule(paper) + 18 + i * _ROW for i in range(len(layers))]
    middle = [
        paper.base + paper.scale * float(la.si.bottom + la.si.top) / 2 for la in layers
    ]
    return _spread(middle, _rule(paper) + 20, paper.high - 50)


def _table_notes(outcome: Outcome, system: str, paper: Paper) -> list[dict]:
    """The table as notes: heads, a row a layer, the total, what to order."""
    table, columns = _columns(paper.wide, paper.narrow)
    heights = _row_heights(outcome, paper)
    head = max(heights) + 30
    name_x = paper.x(18 if paper.narrow else paper.wide - table)

    def row(y_px, name, cells, **style):
        y = paper.y(y_px)
        bold = {"colour": theme.INK} | style
        yield theme.note(f"<b>{name}</b>", name_x, y, xanchor="left", **bold)
        for key, shift in columns.items():
            x = paper.x(paper.wide - shift)
            yield theme.note(cells[key], x, y, xanchor="right", align="right", **style)

    heads = {
        "deep": f"deep<br>{unit_sign('depth', system)}",
        "settled": f"settled<br>{unit_sign('volume', system)}",
        "buy": f"to buy<br>{unit_sign('volume', system)}",
        "price": f"price<br>{unit_sign('money', system)}",
    }
    notes = list(row(head, "", heads, colour=theme.SECOND, size=theme.TICK))
    for layer, y in zip(outcome.fill.layers, heights, strict=True):
        notes += row(y, short_name(layer), cells(layer.si, system))
    together = {k: f"<b>{v}</b>" for k, v in total(outcome, system).items()}
    notes += row(_rule(paper) - 15, "together", together)
    return notes


def _order_note(lines: list[str], paper: Paper) -> list[dict]:
    style = {"xanchor": "left", "yanchor": "bottom", "align": "left"}
    style |= {"colour": theme.SECOND, "size": theme.TICK}
    at = paper.x(0), paper.y(0)
    return [theme.note("<br>".join(lines), *at, **style)] if lines else []


def _sunk_note(outcome: Outcome, paper: Paper) -> list[dict]:
    """The words at the dashed line, on the colour of the layer they lie in."""
    sunk = sunk_to(outcome)
    room = paper.opening * paper.scale - 8
    text = "sinks to here"
    if sunk is None or theme.text_px(text, theme.TICK) > room:
        return []
    y = sunk - 11 / paper.scale
    ground = _colour_at(outcome, max(y, 0.0))
    style = {"colour": theme.ink_on(ground), "size": theme.TICK, "bgcolor": ground}
    return [theme.note(text, paper.opening / 2, y, borderpad=0, **style)]


def _legs_note(outcome: Outcome, paper: Paper) -> list[dict]:
    """That a trough's legs are not drawn in full."""
    if outcome.bed.wall.family != "trough":
        return []
    style = {"colour": theme.SECOND, "size": theme.STRIP}
    y = paper.y(paper.base - 24)
    return [theme.note("legs cut short", paper.opening / 2, y, **style)]


# ---- traces -----------------------------------------------------------------------


def _layer_bars(outcome: Outcome, paper: Paper) -> dict:
    layers = outcome.fill.layers
    return {
        "type": "bar",
        "x": [paper.opening / 2] * len(layers),
        "width": [paper.opening] * len(layers),
        "base": [float(la.si.bottom) for la in layers],
        "y": [float(la.si.depth) for la in layers],
        "marker": {
            "color": [theme.MATERIAL[_ground_tone(la.si.material)] for la in layers],
            "line": {"width": 0},
        },
        "hoverinfo": "skip",
    }


def _ground_tone(material: str) -> str:
    """Colour key behind the texture: between log ends it is dark."""
    return "gap" if material == "logs" else material


def _textures(outcome: Outcome, paper: Paper) -> list[dict]:
    found = []
    for layer in outcome.fill.layers[:_SLOTS]:
        box = 0.0, paper.opening, float(layer.si.bottom), float(layer.si.top)
        x, y, colour = strokes(layer.si.material, *box)
        found.append(line((x, y), colour, 1.8))
    found += [line(EMPTY, theme.INK, 1.8) for _ in range(_SLOTS - len(found))]
    logs = [
        log_ends(0.0, paper.opening, float(la.si.bottom), float(la.si.top))
        for la in outcome.fill.layers
        if la.si.material == "logs"
    ]
    x, z, r = (
        np.concatenate([getattr(part, name) for part in logs]) if logs else np.empty(0)
        for name in ("x", "z", "r")
    )
    size = np.maximum(2 * r * paper.scale - 2, 1.0)
    m = theme.MATERIAL
    found.append(marks((x, z), size, m["log end"], color=m["bark"], width=2))
    found.append(marks((x, z), 0.28 * size, m["heart"], width=0))
    return found


def _sunk_line(outcome: Outcome, paper: Paper) -> dict:
    """The dashed line the surface sinks to, light on dark or dark on light."""
    sunk = sunk_to(outcome)
    if sunk is None:
        return line(EMPTY, theme.PAPER, 2, dash="dash")
    level = np.array([0.0, paper.opening]), np.full(2, sunk)
    return line(level, theme.ink_on(_colour_at(outcome, sunk)), 2, dash="dash")


def _guides(outcome: Outcome, paper: Paper) -> list[dict]:
    """Leaders with their dots, the rule, the swatches of a narrow table."""
    layers, table = outcome.fill.layers, _columns(paper.wide, paper.narrow)[0]
    rows = [paper.y(px) for px in _row_heights(outcome, paper)]
    leaders, dots, swatches = EMPTY, EMPTY, EMPTY
    if paper.narrow:
        swatches = np.full(len(rows), paper.x(6)), np.array(rows)
    else:
        middles = [float(la.si.bottom + la.si.top) / 2 for la in layers]
        start, ends = paper.opening - 7 / paper.scale, paper.x(paper.wide - table - 6)
        bend = paper.opening + end_width(outcome.bed) + outcome.bed.wall.si.cap_out
        bend = min(bend + 10 / paper.scale, ends)
        paths = [(start, m, bend, m) for m in middles]
        paths += [(bend, m, ends, r) for m, r in zip(middles, rows, strict=True)]
        leaders, dots = segments(paths), (np.full(len(rows), start), np.array(middles))
    ends = np.array([paper.x(paper.wide - table), paper.x(paper.wide)])
    tones = [theme.MATERIAL[la.si.material] for la in layers]
    return [
        line(leaders, theme.SECOND, 1),
        marks(dots, 5, theme.PAPER, color=theme.INK, width=1),
        line((ends, np.full(2, paper.y(_rule(paper)))), theme.SECOND, 1),
        marks(swatches, 11, tones, "square", color=theme.EDGE, width=1),
    ]


def fill_figure(
    outcome: Outcome,
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw what goes in: layers from the front, numbers beside them.

    Parameters
    ----------
    outcome : Outcome
        Of one bed.
    system : str
        ``"metric"`` or ``"us"``.
    narrow : bool
        The table stands under the layers instead of beside them.
    width : float or None
        Pixels it will be shown at, for the scale.

    Returns
    -------
    Drawing
    """
    bed = outcome.bed
    width = width or (340 if narrow else 620)
    wide = width - _MARGIN["l"] - _MARGIN["r"]
    lines = order_lines(outcome, system, wide)
    extra = 15.0 * max(len(lines) - 1, 0)
    paper = _paper(bed, len(outcome.fill.layers), extra, wide, narrow)
    wall, (soil, grass) = walls(bed, paper), ground(bed, paper)
    m = theme.MATERIAL
    face = theme.wall_colour(bed.wall.family, bed.wall.wood)
    piece = theme.wall_colour(
        "boards" if bed.wall.family == "sheet" else bed.wall.family, bed.wall.wood
    )
    traces = (
        _layer_bars(outcome, paper),
        *_textures(outcome, paper),
        area(soil, m["ground"], width=0),
        line(grass, m["grass edge"], 4),
        area(wall["face"], face),
        area(wall["frame"], piece),
        line(wall["joints"], theme.EDGE, 1),
        _sunk_line(outcome, paper),
        *_guides(outcome, paper),
    )
    hidden = {"visible": False, "fixedrange": True}
    return Drawing(
        traces=traces,
        layout=theme.base_layout(margin=_MARGIN, width=width, barmode="overlay"),
        live_layout={
            "height": paper.high + _MARGIN["t"] + _MARGIN["b"],
            "xaxis": hidden | {"range": [paper.x(0), paper.x(paper.wide)]},
            "yaxis": hidden | {"range": [paper.y(0), paper.y(paper.high)]},
        },
        annotations=(
            *theme.heading(title(outcome, system), under_title(outcome, system)),
            *_table_notes(outcome, system, paper),
            *_order_note(lines, paper),
            *_sunk_note(outcome, paper),
            *_legs_note(outcome, paper),
        ),
        alt=alt_text(outcome, system),
        caption=caption(outcome, system),
        numbers=numbers(outcome, system),
    )
