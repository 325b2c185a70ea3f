"""Barrows to scale: the bed, and every load that goes into it, at one scale.

Laid out in metres: the bed above, the loads in rows below it, material by material.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from bedcalc.units import number, show

from ..model.outcome import Outcome
from . import theme
from .drawing import Drawing, Numbers
from .shapes import EMPTY, area, line, marks, outlines, rectangle

if TYPE_CHECKING:  # names for an editor
    from ..fill.topping_up import Work

__all__ = ["barrows_figure"]

_SLOTS = 6  # materials that can be told apart
_MARGIN = {"l": 8, "r": 10, "t": 62, "b": 6}
_BUILDER = 0.085  # m3, the barrow whose measures these are
_TRAY = ((0.0, 0.46), (0.78, 0.46), (0.60, 0.20), (0.16, 0.20))  # m, from its left end
_CELL, _HIGH = 1.42, 0.68  # m between two barrows of this size
_GOODS = {"mix": "mix", "compost": "compost", "chips": "chips", "brush": "brush"}


def _icons(work, columns: int) -> tuple[list, int]:
    """(goods name, share full) of each barrow drawn, and loads one stands for."""
    total = sum(n for _, n, _ in work.per_order)
    one = max(int(np.ceil(total / (columns * 12))), 1)
    found = []
    for name, n, _ in work.per_order:
        found += [(name, 1.0)] * int(np.ceil(n / one))
    return found, one


def _tray(x: float, y: float, k: float, share: float) -> tuple:
    """Outline of what lies in a tray that is ``share`` full (by height)."""
    (l0, top), (r0, _), (r1, low), (l1, _) = _TRAY
    t = low + (top - low) * share
    left, right = l1 + (l0 - l1) * share, r1 + (r0 - r1) * share
    xs = np.array([left, right, r1, l1, left, np.nan]) * k + x
    ys = np.array([t, t, low, low, t, np.nan]) * k + y
    return xs, ys


def _rods(x: float, y: float, k: float) -> list[tuple]:
    """Handle, leg and fork of a barrow, as lines."""
    at = np.array
    handle = at([0.72, 1.16, np.nan]) * k + x, at([0.30, 0.48, np.nan]) * k + y
    leg = at([0.66, 0.74, np.nan]) * k + x, at([0.22, 0.02, np.nan]) * k + y
    fork = at([0.30, -0.06, np.nan]) * k + x, at([0.22, 0.13, np.nan]) * k + y
    return [handle, leg, fork]


def _tone(order_name: str, outcome: Outcome) -> str:
    """Colour of a material by the name it is ordered under."""
    for order in outcome.fill.orders:
        if order.name == order_name:
            tone = _GOODS.get(order.goods, order.goods)
            like = [
                la.si.material for la in outcome.fill.layers if la.name == order.name
            ]
            return theme.MATERIAL[tone if tone in theme.MATERIAL else like[0]]
    return theme.MATERIAL["mix"]


def _bed(outcome: Outcome, x: float, y: float) -> tuple[dict, dict]:
    """The bed's layers as one bar trace, and its end walls."""
    s, layers = outcome.bed.si, outcome.fill.layers
    wide = float(s.inside_length)
    left = x + float(s.wall_thickness)
    bars = {
        "type": "bar",
        "x": [left + wide / 2] * len(layers),
        "width": [wide] * len(layers),
        "base": [y + float(la.si.bottom) for la in layers],
        "y": [float(la.si.depth) for la in layers],
        "marker": {
            "color": [theme.MATERIAL[la.material] for la in layers],
            "line": {"width": 0},
        },
        "hoverinfo": "skip",
    }
    high = float(s.soil_depth)
    t = float(s.wall_thickness)
    box = outlines(
        [
            rectangle(x, x + t, y, y + high),
            rectangle(x + t + wide, x + 2 * t + wide, y, y + high),
        ]
    )
    return bars, area(box, theme.wall_colour(outcome.bed.wall.family, ""))


def barrows_figure(
    outcome: Outcome,
    work: Work,
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw every barrow load beside the bed it fills, all to one scale.

    Parameters
    ----------
    outcome : Outcome
        Of one bed.
    work : Work
        Loads for one barrow, such as ``outcome.fill.work("builder")``.
    system : str
        ``"metric"`` or ``"us"``.
    narrow : bool
        For a narrow page.
    width : float or None
        Pixels it will be shown at.

    Returns
    -------
    Drawing
    """
    width = width or (340 if narrow else 620)
    wide = width - _MARGIN["l"] - _MARGIN["r"]
    k = (float(work.si.barrow) / _BUILDER) ** (1 / 3)
    columns = 6 if narrow else 9
    across = columns * _CELL * max(k, 0.9)
    columns = max(int(across / (_CELL * k)), 1)
    scale = wide / across
    icons, one = _icons(work, columns)
    rows = max(int(np.ceil(len(icons) / columns)), 1)
    bed_high = float(outcome.bed.si.soil_depth)
    pitch = _HIGH * k
    high = rows * pitch + bed_high + 0.5
    base = rows * pitch + 0.3
    bars, box = _bed(outcome, 0.0, base)
    names = list(dict.fromkeys(name for name, _ in icons))[:_SLOTS]
    inside: dict[str, list] = {name: [] for name in names}
    trays, rods, wheels = [], [], []
    for i, (name, share) in enumerate(icons):
        x = (i % columns) * _CELL * k + 0.2 * k
        y = (rows - 1 - i // columns) * pitch
        inside[name].append(_tray(x, y, k, share))
        trays.append(_tray(x, y, k, 1.0))
        rods += _rods(x, y, k)
        wheels.append((x - 0.06 * k, y + 0.13 * k))
    slots = [area(outlines(inside[n]), _tone(n, outcome), width=0) for n in names] + [
        area(EMPTY, theme.PAPER, width=0)
    ] * (_SLOTS - len(names))
    at = np.array(wheels) if wheels else np.empty((0, 2))
    size = 0.2 * k * scale
    traces = (
        bars,
        box,
        line(outlines(rods), theme.SECOND, 1.4),
        *slots,
        line(outlines(trays), theme.EDGE, 1.4),
        marks((at[:, 0], at[:, 1]), size, theme.PAPER, color=theme.INK, width=2),
        line((np.array([0.0, across]), np.full(2, base - 0.02)), theme.RULE, 1),
    )
    hidden = {"visible": False, "fixedrange": True}
    fill, loads = outcome.fill, float(work.si.loads)
    kinds = ", ".join(f"{number(n, 0)} {name}" for name, n, _ in work.per_order if n)
    text_x = min(float(outcome.bed.si.length) + 0.25, across * 0.62)
    beside = (
        f"{show(fill.settled_volume, 'volume', system)} once settled<br>"
        f"{show(fill.loose_volume, 'volume', system)} loose"
    )
    weighs = f"heaviest load {show(work.heaviest, 'mass', system)}"
    if work.too_heavy:
        weighs += ", too heavy: half loads"
    many = "" if one == 1 else f"; each drawn is {one} loads"
    return Drawing(
        traces=traces,
        layout=theme.base_layout(margin=_MARGIN, width=width, barmode="overlay"),
        live_layout={
            "height": high * scale + _MARGIN["t"] + _MARGIN["b"],
            "xaxis": hidden | {"range": [0.0, across]},
            "yaxis": hidden | {"range": [-0.04, high]},
        },
        annotations=(
            *theme.heading(
                f"{number(loads, 0)} barrow loads go into this bed",
                kinds if narrow else f"{kinds}; {weighs}{many}",
            ),
            theme.note(
                beside,
                text_x,
                base + bed_high / 2,
                xanchor="left",
                align="left",
                size=theme.TICK,
            ),
        ),
        alt=(
            f"The bed and its {number(loads, 0)} barrow loads at one scale: {kinds}. "
            f"{weighs.capitalize()}{many}."
        ),
        caption=(
            "Bed and barrows are drawn to one scale. Loose fill is more than the bed "
            "holds: it settles. Logs are carried by hand and not drawn."
        ),
        numbers=Numbers(
            caption="Barrow loads",
            headings=("what", "loads", "one load weighs"),
            rows=tuple(
                (name, number(n, 0), show(float(kg), "mass", system))
                for name, n, kg in work.per_order
            ),
        ),
    )
