"""Pictures of water: a summer day by day, fills compared, a tank through the year."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from bedcalc.model.climate import MONTHS
from bedcalc.units import number, show, shown_in, unit_sign

from . import theme
from .drawing import Drawing, Numbers
from .shapes import area, line, marks, outlines, rectangle, segments

__all__ = ["fills_figure", "summer_figure", "tank_figure"]

_LENGTHS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
_SOIL = "#D8C7B6"
_WATER = theme.LATER


def _mm(metres, system: str) -> np.ndarray:
    return np.asarray(shown_in(np.asarray(metres, dtype=float), "rain", system))


def day_words(day: int) -> str:
    """A day of the year in words: 0 is 1 January."""
    day %= 365
    for month, length in enumerate(_LENGTHS):
        if day < length:
            return f"{day + 1} {MONTHS[month]}"
        day -= length
    raise ValueError("a year has 365 days")


def _month_ticks(first: int, count: int) -> tuple[list[float], list[str]]:
    at, names, day = [], [], 0
    for _ in range(3):  # a summer may run over the new year
        for month, length in enumerate(_LENGTHS):
            if first <= day < first + count:
                at.append(float(day - first))
                names.append(MONTHS[month][:3])
            day += length
    return at, names


def summer_figure(
    water: Any,
    layered: Any,
    *,
    first: int,
    day: int,
    easy: float,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw a summer: how full each layer is on one day, and the root zone on all.

    Parameters
    ----------
    water : Water
        Part of an outcome.
    layered : LayeredMarch
        The days, layer by layer.
    first : int
        Day of the year of the first one.
    day : int
        Which of the days is shown layer by layer.
    easy : float
        Metres that may be missing before plants suffer.
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
    width = width or (340 if narrow else 700)
    bands, full, notes = _filled(water, layered, day, system)
    days = np.arange(len(layered.rain), dtype=float)
    total = _mm(layered.stored.sum(axis=1), system)
    most = float(_mm(layered.holds.sum(), system))
    limit = float(most - _mm(easy, system))
    share = 100 * float(total[day]) / max(most, 1e-9)
    dry = int(np.sum(layered.stored.sum(axis=1) < layered.holds.sum() - easy))
    title = f"{dry} dry days"
    if layered.waterings:
        times = "once" if layered.waterings == 1 else f"{layered.waterings} times"
        title = f"Watered {times}"
    said = f"{day_words(first + day)}: {number(share, 0)} % of what roots can reach"
    right = {"xaxis": "x2", "yaxis": "y2"}
    lift = 1.18 * most
    watered = layered.watered > 0
    traces = (
        area(outlines(bands), _SOIL, edge=theme.PAPER, width=1.5),
        area(outlines(full), "rgba(0,114,178,0.45)", edge=_WATER, width=1),
        line((days, total), _WATER, theme.STRONG) | right,
        line((days[[0, -1]], np.full(2, limit)), theme.INK, 1.4, dash="dash") | right,
        line(_rain_lines(layered, system), theme.NOW, 3) | right,
        marks((days[watered], np.full(watered.sum(), 1.08 * most)), 9, theme.INK,
              "triangle-down") | right,
        line((np.full(2, float(day)), np.array([0.0, lift])), theme.SECOND, 1) | right,
        marks((np.array([float(day)]), total[day : day + 1]), 10, theme.PAPER,
              color=_WATER, width=2) | right,
    )  # fmt: skip  # rows of a table
    style = {"axes": ("x2", "y2"), "size": theme.TICK, "xanchor": "left"}
    word = "water" if narrow else "water before this"
    at_end = style | {"xanchor": "right", "yshift": -10}
    notes.append(theme.note(word, len(days) - 1, limit, **at_end))
    if watered.any():
        notes.append(theme.note("▼ watered", 1, 1.15 * most, **style))
    return Drawing(
        traces=traces,
        layout=theme.base_layout(
            margin={"l": 46, "r": 14, "t": 62, "b": 40}, width=width, height=360
        ),
        live_layout=_summer_axes(water, layered, first, lift, narrow, system),
        annotations=(*theme.heading(title, said), *notes),
        alt=(
            "Left: the layers that roots use, each filled with blue as far as it "
            f"holds water on {day_words(first + day)}. Right: the water in reach of "
            f"the roots from {day_words(first)} on; {title.lower()}."
        ),
        caption=(
            "Blue in a layer: how much of its water is left for plants. Blue line: all "
            "layers together. Short lines below: rain."
        ),
        numbers=_left_numbers(water, layered, first, day, system),
    )


def _filled(water: Any, layered: Any, day: int, system: str) -> tuple:
    """Outlines of the layers and of the water in them, and their words."""
    deep = float(shown_in(water.roots, "depth", system))
    bands, full, notes = [], [], []
    for i, layer in enumerate(water.layers):
        top = -float(shown_in(layer.top, "depth", system))
        low = top - float(shown_in(layer.depth, "depth", system))
        share = float(layered.stored[day, i] / max(layered.holds[i], 1e-12))
        bands.append(rectangle(0, 1, low, top))
        full.append(rectangle(0, share, low, top))
        if top - low > 0.07 * deep:
            text = f"{layer.name}<br>{number(100 * share, 0)} %"
            notes.append(theme.note(text, 0.5, (top + low) / 2, size=theme.TICK))
    return bands, full, notes


def _rain_lines(layered: Any, system: str) -> tuple[np.ndarray, np.ndarray]:
    """A short upright line for each day with rain."""
    rain = _mm(layered.rain, system)
    days = np.flatnonzero(layered.rain > 0)
    return segments([(float(d), 0.0, float(d), float(rain[d])) for d in days])


def _summer_axes(
    water: Any, layered: Any, first: int, lift: float, narrow: bool, system: str
) -> dict:
    """The axes of the layers, left, and of the days, right."""
    deep = float(shown_in(water.roots, "depth", system))
    depths = np.arange(0, deep, theme.nice_step(deep))
    at, names = _month_ticks(first, len(layered.rain))
    split = 0.34 if narrow else 0.27
    return {
        "xaxis": theme.axis(
            domain=[0, split - 0.1], range=[0, 1], showticklabels=False, ticks=""
        ),
        "yaxis": theme.axis(
            f"depth, {unit_sign('depth', system)}", range=[-deep * 1.02, 0],
            tickvals=[-float(v) for v in depths],
            ticktext=[number(v, 0) for v in depths],
        ),
        "xaxis2": theme.axis(
            domain=[split, 1], range=[0, len(layered.rain)], anchor="y2",
            tickvals=at, ticktext=names,
        ),
        "yaxis2": theme.axis(
            f"water in reach, {unit_sign('rain', system)}", range=[0, lift],
            anchor="x2", dtick=theme.nice_step(lift),
        ),
    }  # fmt: skip  # rows of a table


def _left_numbers(
    water: Any, layered: Any, first: int, day: int, system: str
) -> Numbers:
    rows = tuple(
        (
            layer.name,
            show(layer.holds, "rain", system),
            show(float(layered.stored[day, i]), "rain", system),
        )
        for i, layer in enumerate(water.layers)
    )
    caption = f"The layers on {day_words(first + day)}"
    return Numbers(caption=caption, headings=("layer", "holds", "left"), rows=rows)


def fills_figure(
    rows: Sequence[tuple[str, float, float]],
    *,
    mine: int | None = None,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw fills as bars: days between waterings in the driest month.

    Parameters
    ----------
    rows : sequence of (name, days, metres of water in reach)
        The longest first.
    mine : int or None
        Which of them is the bed as it is.
    system, narrow, width
        As in the other figures.

    Returns
    -------
    Drawing
    """
    width = width or (340 if narrow else 620)
    y = -np.arange(len(rows), dtype=float)
    days = np.array([row[1] for row in rows])
    colours = [theme.LATER if i == mine else theme.BAR for i in range(len(rows))]
    bar = {
        "type": "bar", "orientation": "h", "x": days, "y": y, "width": 0.5,
        "marker": {"color": colours}, "hoverinfo": "skip",
    }  # fmt: skip  # rows of a table
    notes = []
    for (name, far, holds), level in zip(rows, y, strict=True):
        text = f"<b>{number(far, 1)} days</b>"
        notes.append(theme.note(text, far, level, xanchor="left", xshift=6))
        text = f"{name}: {show(holds, 'rain', system)} in reach"
        notes.append(
            theme.note(
                text, 0, level, xanchor="left", yshift=20, size=theme.TICK,
                colour=theme.SECOND,
            )
        )  # fmt: skip  # rows of a table
    best, least = rows[0], rows[-1]
    return Drawing(
        traces=(bar,),
        layout=theme.base_layout(
            margin={"l": 8, "r": 80, "t": 62, "b": 10}, width=width,
            height=90 + 52 * len(rows),
        ),
        live_layout={
            "xaxis": theme.axis(range=[0, days.max() * 1.05], visible=False),
            "yaxis": theme.axis(range=[-len(rows) + 0.4, 0.7], visible=False),
        },
        annotations=(
            *theme.heading(
                "Days between waterings",
                "in the driest month, without rain; new fills",
            ),
            *notes,
        ),
        alt=(
            f"Bars of days between waterings: {best[0]} {number(best[1], 1)} days, "
            f"{least[0]} {number(least[1], 1)} days, others between."
        ),
        caption="Fresh logs and chips hold water that roots cannot take.",
        numbers=Numbers(
            caption="Fills", headings=("fill", "in reach", "days between waterings"),
            rows=tuple(
                (name, show(holds, "rain", system), number(far, 1))
                for name, far, holds in rows
            ),
        ),
    )  # fmt: skip  # rows of a table


def tank_figure(
    given: np.ndarray,
    missing: np.ndarray,
    left: np.ndarray,
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw what a tank gives month by month, and what it cannot.

    Parameters
    ----------
    given, missing, left : array (12,)
        Cubic metres taken out, not there, and in the tank at the end of each month.
    system, narrow, width
        As in the other figures.

    Returns
    -------
    Drawing
    """
    width = width or (340 if narrow else 620)
    out, gone, held = (
        np.asarray(shown_in(values, "water", system), dtype=float)
        for values in (given, missing, left)
    )
    x = np.arange(12, dtype=float)
    unit = unit_sign("water", system)
    base = {"type": "bar", "x": x, "width": 0.6, "hoverinfo": "skip"}
    traces = (
        base | {"y": out, "marker": {"color": theme.LATER}},
        base | {
            "y": np.where(gone > 0.5, gone, np.nan), "base": out,
            "marker": {
                "color": theme.PAPER, "line": {"color": theme.INK, "width": 1.4},
            },
        },
        line((x, held), theme.SECOND, 1.6, dash="dot"),
    )  # fmt: skip  # rows of a table
    top = max(float((out + gone).max()), float(held.max()), 1.0) * 1.12
    short = float(gone.sum())
    title = "The tank is enough"
    if short > 0.5:
        title = f"{number(short, 0)} {unit} are missing in the year"
    step = 3 if narrow else 1
    return Drawing(
        traces=traces,
        layout=theme.base_layout(
            margin={"l": 58, "r": 14, "t": 62, "b": 40}, width=width, height=320,
            barmode="overlay",
        ),
        live_layout={
            "xaxis": theme.axis(
                range=[-0.6, 11.6], tickvals=[*range(0, 12, step)],
                ticktext=[MONTHS[m][:3] for m in range(0, 12, step)],
            ),
            "yaxis": theme.axis(
                f"{unit} a month", range=[0, top], dtick=theme.nice_step(top)
            ),
        },
        annotations=tuple(
            theme.heading(title, "blue: out of the tank; white: from the tap")
        ),
        alt=(
            "Bars for twelve months: what the tank gives to the bed, and what is "
            f"missing. {title}. A dotted line shows what is left in the tank."
        ),
        caption="Dotted: what is in the tank at the end of the month.",
        numbers=Numbers(
            caption="Tank, month by month",
            headings=("month", "from the tank", "from the tap", "left in the tank"),
            rows=tuple(
                (MONTHS[m], *(show(float(v[m]), "water", system)
                 for v in (given, missing, left)))
                for m in range(12)
            ),
        ),
    )  # fmt: skip  # rows of a table
