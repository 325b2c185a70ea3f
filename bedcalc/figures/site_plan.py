"""The plot from above: ground, beds with their trench depths, paths, what is there.

The page has the reader's own axes, x to the right and y down; an arrow shows the way
down the slope. One drawing serves all views: depths, readings, ways of a barrow, hours
of sun, or other layouts.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from bedcalc.tables import table

from . import theme
from .drawing import Drawing
from .shapes import EMPTY, area, line, marks, outlines, rectangle, segments
from .site_plan_numbers import numbers
from .site_plan_words import (
    LEFT,
    TOP,
    alt_text,
    arrow_down,
    caption,
    headings,
    labels,
)

if TYPE_CHECKING:  # names for an editor
    from ..site.bed_levels import SitePlan
    from ..site.layout import Spot
    from ..site.overflow import Overflow
    from ..site.plots import Sun
    from ..site.routes import Walk

__all__ = ["VIEWS", "plan_figure"]

VIEWS = ("depths", "readings", "routes", "sun", "water")
_LEFT, _TOP, _RIGHT, _DOWN = LEFT, TOP, 0.7, 0.9  # m shown round the plot
_HEDGE, _TREE, _CELL_ON = "#6F8A4B", "#C9DDB0", "#BFE0F5"
_SUN = [
    [0.0, "#5E6A78"],
    [0.25, "#9AA3A6"],
    [0.5, "#D9D3B8"],
    [0.75, "#F2E08A"],
    [1.0, "#FFD34D"],
]
_GRASS = "#E4EDD6"
_MOST = 690.0  # px, about the most the plan is high
_WET = "rgba(86,180,233,0.55)"  # water over whatever lies under it


def _ring(*sides):
    """One rectangle as arrays."""
    return outlines([rectangle(*sides)])


def plan_figure(
    plan: SitePlan,
    *,
    view: str = "depths",
    walk: Walk | None = None,
    sun: Sun | None = None,
    water: Overflow | None = None,
    spots: tuple[Spot, ...] | None = None,
    pick: str = "",
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw the plot from above.

    Parameters
    ----------
    plan : SitePlan
        Where the beds stand.
    view : str
        One of ``VIEWS``: what is written on it.
    walk : Walk or None
        Ways of a barrow or wheelchair, for ``routes``.
    sun : Sun or None
        Hours of sun, for ``sun``.
    water : Overflow or None
        Swale and overflow, for ``water``.
    spots : tuple of Spot or None
        Another layout in place of the plan's beds.
    pick : str
        Name of a bed to mark.
    system : str
        ``"metric"`` or ``"us"``.
    narrow : bool
        Fewer texts.
    width : float or None
        Pixels it will be shown at.

    Returns
    -------
    Drawing
    """
    wide = width or (340 if narrow else 900)
    plot = plan.plot
    left, right, top, low = plot.bounds
    margin = {"l": 8, "r": 8, "t": 56, "b": 8}
    span_x, span_y = plot.length + _LEFT + _RIGHT, plot.width + _TOP + _DOWN
    scale = min((wide - 16) / span_x, _MOST / span_y)
    spare = ((wide - 16) / scale - span_x) / 2  # beside a plot that runs down the page
    beds = _boxes(plan) if spots is None else _spot_boxes(spots)
    sunny = sun if view == "sun" else None
    ways = walk if view == "routes" else None
    wet = water if view == "water" else None
    return Drawing(
        traces=(
            line(_edge(plot), theme.EDGE, 1.4,
                 dash="solid" if plan.outlined else "dash"),
            _heat(sunny), _ways(ways),
            line(_contours(plan), theme.SECOND, 0.8, dash="dot"),
            *_things(plot),
            line(_by_hand(plot), theme.FAILS, 1.4, dash="dash"),
            area(outlines([rectangle(*b[1:]) for b in beds]), theme.MATERIAL["mix"]),
            area(_picked(beds, pick), theme.MATERIAL["chips"], width=2.4),
            area(EMPTY if wet is None else outlines([rectangle(*wet.swale)]),
                 _WET, edge=theme.MATERIAL["water"], width=1.6),
            line(_overflow(wet), theme.LATER, 5),
            line(_dims(plan, spots, view), theme.INK, 1),
            marks(_points(plan, view), 7, theme.PAPER, color=theme.INK, width=1.4),
            marks(_odd(plan, view), 20, "rgba(0,0,0,0)", "square",
                  color=theme.FAILS, width=3),
            line(_gate(plot), theme.PAPER, 7),
            marks(_tap(plot), 13, theme.MATERIAL["water"], "diamond",
                  color=theme.INK, width=1),
        ),
        layout=theme.base_layout(width=wide, margin=margin),
        live_layout={
            "height": span_y * scale + margin["t"] + margin["b"],
            "xaxis": _bare([left - _LEFT - spare, right + _RIGHT + spare]),
            "yaxis": _bare([low + _DOWN, top - _TOP]),
            "shapes": [_lawn(plot)],
        },
        annotations=(
            *headings(plan, view, walk, sun, spots, system, wet),
            *arrow_down(wet, system),
            *labels(plan, beds, view, sun, spots, scale, system, narrow),
        ),
        alt=alt_text(plan, view, walk, sun, spots, system, wet),
        caption=caption(view, spots, system),
        numbers=numbers(plan, view, walk, sun, system, wet),
    )  # fmt: skip  # rows of a table


def _edge(plot):
    """The outline of the plot, closed."""
    ring = np.vstack([plot.corners, plot.corners[:1]])
    return ring[:, 0], ring[:, 1]


def _lawn(plot) -> dict:
    """The lawn under everything else."""
    way = " L ".join(f"{x:.4f},{y:.4f}" for x, y in plot.outline)
    return {
        "type": "path",
        "layer": "below",
        "path": f"M {way} Z",
        "fillcolor": _GRASS,
        "line": {"width": 0},
    }


def _bare(ends) -> dict:
    return {"range": ends, "visible": False, "fixedrange": True}


def _boxes(plan) -> list[tuple]:
    return [
        (b.name, b.si.x, b.si.x + b.si.length, b.si.y, b.si.y + b.si.width)
        for b in plan.beds
    ]


def _spot_boxes(spots) -> list[tuple]:
    return [
        (str(i + 1), s.x, s.x + s.length, s.y, s.y + s.width)
        for i, s in enumerate(spots)
    ]


def _picked(beds, pick: str):
    found = [rectangle(*b[1:]) for b in beds if b[0] == pick]
    return outlines(found) if found else EMPTY


def _heat(sun) -> dict:
    none = sun is None
    return {
        "type": "heatmap",
        "x": [] if none else sun.x, "y": [] if none else sun.y,
        "z": [] if none else sun.hours,
        "colorscale": _SUN, "zmin": 0, "zmax": 14, "showscale": False,
        "hoverinfo": "skip", "zsmooth": False,
    }  # fmt: skip  # rows of a table


def _ways(walk) -> dict:
    z, x, y = [], [], []
    if walk is not None:
        rows, cols = walk.open_.shape
        x, y = (
            start + (np.arange(n) + 0.5) * walk.cell
            for start, n in zip(walk.corner, (cols, rows), strict=True)
        )
        z = np.where(walk.open_, 1.0, np.nan)
    return {
        "type": "heatmap", "x": x, "y": y, "z": z, "zmin": 0, "zmax": 1,
        "colorscale": [[0, _CELL_ON], [1, _CELL_ON]], "showscale": False,
        "hoverinfo": "skip", "zsmooth": False,
    }  # fmt: skip  # rows of a table


def _contours(plan, step: float = 0.1):
    """Lines of one level over the plot, each a step lower."""
    (a, b, c), plot = plan.plane, plan.plot
    left, right, top, bottom = plot.bounds
    corners = [a + b * x + c * y for x in (left, right) for y in (top, bottom)]
    low, high = min(corners), max(corners)
    if high - low < 1e-6:
        return EMPTY
    while (high - low) / step > 14:
        step *= 2
    found = []
    for z in np.arange(np.ceil(low / step) * step, high, step):
        if abs(c) >= abs(b):
            x = np.linspace(left, right, 121)
            y = (z - a - b * x) / c
        else:
            y = np.linspace(top, bottom, 121)
            x = (z - a - c * y) / b
        inside = plot.inside(x, y)
        found.append((np.where(inside, x, np.nan), np.where(inside, y, np.nan)))
        found.append(([np.nan], [np.nan]))
    return outlines(found)


def _things(plot) -> list[dict]:
    """Houses, fences, crowns and covers, one trace each."""
    x0, x1, y0, y1 = plot.bounds

    def of(*kinds):
        rings = []
        for t in plot.things:
            if t.kind in kinds:
                left, right = max(t.x, x0 - _LEFT), min(t.x + t.length, x1 + 0.7)
                top, low = max(t.y, y0 - _TOP), min(t.y + t.width, y1 + 0.9)
                if right > left and low > top:
                    rings.append(rectangle(left, right, top, low))
        return outlines(rings) if rings else EMPTY

    turn = np.linspace(0, 2 * np.pi, 41)
    crowns = [
        (
            [*(t.middle[0] + t.length / 2 * np.cos(turn)), np.nan],
            [*(t.middle[1] + t.width / 2 * np.sin(turn)), np.nan],
        )
        for t in plot.things
        if t.kind == "tree"
    ]
    return [
        area(of("house"), theme.MATERIAL["concrete"]),
        area(of("fence"), _HEDGE),
        area(outlines(crowns) if crowns else EMPTY, _TREE),
        area(of("cover", "pipe", "other"), theme.MATERIAL["steel"]),
    ]


def _by_hand(plot):
    """Both edges of the strip along a pipe or cable where one digs by hand."""
    far = table("setbacks")["cable"].distance
    x0, x1, y0, y1 = plot.bounds
    found = []
    for t in plot.things:
        if t.kind == "pipe":
            left, right = max(t.x - far, x0), min(t.x + t.length + far, x1)
            top, low = max(t.y - far, y0), min(t.y + t.width + far, y1)
            found.append(rectangle(left, right, top, low))
    return outlines(found) if found else EMPTY


def _overflow(wet):
    """The way of the water that runs over, but for the arrow at its end."""
    if wet is None or not wet.free:
        return EMPTY
    end = wet.way[-1] - 0.25 * _along(wet.way)
    return np.array([*wet.way[:-1, 0], end[0]]), np.array([*wet.way[:-1, 1], end[1]])


def _along(way):
    """Direction of the last part of a way."""
    step = way[-1] - way[-2]
    return step / np.hypot(*step)


def _dims(plan, spots, view):
    """Lines across the paths with small ends."""
    if spots is not None or view in ("readings", "sun", "water"):
        return EMPTY
    found = []
    for gap in plan.gaps:
        low, high = gap.at
        mid = (gap.start + gap.end) / 2
        for ends in (
            (low, mid, high, mid),
            *((v, mid - 0.09, v, mid + 0.09) for v in gap.at),
        ):
            x0, y0, x1, y1 = ends
            found.append(ends if gap.across == "x" else (y0, x0, y1, x1))
    return segments(found)


def _points(plan, view):
    if view != "readings":
        return EMPTY
    return plan.points[:, 0], plan.points[:, 1]


def _odd(plan, view):
    odd = plan.suspect
    if view != "readings" or odd is None or not odd.doubtful:
        return EMPTY
    return plan.points[[odd.index], 0], plan.points[[odd.index], 1]


def _gate(plot):
    gate = plot.of_kind("gate")
    if gate is None:
        return EMPTY
    long_ = gate.length if gate.width > gate.length else max(gate.length, 0.8)
    return [gate.x, gate.x + long_], [gate.y, gate.y + gate.width]


def _tap(plot):
    tap = plot.of_kind("tap")
    return EMPTY if tap is None else ([tap.middle[0]], [tap.middle[1]])
