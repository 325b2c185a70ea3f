"""Ways to fill and ways to buy: what is paid now and later, bags against bulk."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from bedcalc.units import number, show, shown_in, sign_after, unit_sign

from ..units import Q_, Value
from . import theme
from .drawing import Drawing, Numbers
from .shapes import EMPTY, line, marks

if TYPE_CHECKING:  # names for an editor
    from ..questions.compare import FillChoice

__all__ = ["buying_figure", "small_first", "ways_figure"]

_MARGIN = {"l": 8, "r": 10, "t": 62, "b": 10}
_PLOT = {"l": 58, "r": 70, "t": 62, "b": 44}
_PITCH = 46.0


def small_first(words: str) -> str:
    """Words that go on in the middle of a sentence; names in them stay as they are."""
    return words[:1].lower() + words[1:]


def ways_figure(
    choices: Sequence[FillChoice],
    *,
    years: int = 5,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw what each way to fill costs now, and in compost later.

    Parameters
    ----------
    choices : sequence of FillChoice
        From :func:`bedcalc.questions.compare.compare_fills`.
    years : int
        Years of topping up in them.
    system : str
        ``"metric"`` or ``"us"``, with the currency.
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
    priced = [c for c in choices if np.isfinite(c.after.m)]
    now = [float(c.first.m) if c in priced else 0.0 for c in choices]
    later = [float(c.top_up.m) if c in priced else 0.0 for c in choices]
    rows = [i * _PITCH for i in range(len(choices))]
    scale = (wide - 132) / max(max(a + b for a, b in zip(now, later, strict=True)), 1)
    bar = {
        "type": "bar",
        "orientation": "h",
        "y": rows,
        "width": [18.0] * len(rows),
        "hoverinfo": "skip",
    }
    edge = {"color": theme.INK, "width": 1}
    striped = {"shape": "/", "fgcolor": theme.INK, "bgcolor": theme.PAPER, "size": 6}
    notes = []
    for c, y, a, b in zip(choices, rows, now, later, strict=True):
        saved = float(c.saved_after.m)
        words = show(a + b, "money", system) if c in priced else "no price"
        if np.isfinite(saved) and abs(saved) >= 1:
            words += f", {number(abs(saved), 0)} {'less' if saved > 0 else 'more'}"
        left = {"xanchor": "left"}
        notes.append(theme.note(f"<b>{words}</b>", a + b, y, xshift=6, **left))
        notes.append(theme.note(c.name, 0.0, y, yshift=19, **left))
    title = "Ways to fill, not yet priced"
    if priced:
        best = min(priced, key=lambda c: float(c.after.m))
        cheap = min(priced, key=lambda c: float(c.first.m))
        title = f"Cheapest now: {small_first(cheap.name)}"
        if best is not cheap:
            title += f"; after {years} years: {small_first(best.name)}"
    hidden = {"visible": False, "fixedrange": True}
    return Drawing(
        traces=(
            bar | {"x": now, "base": 0, "marker": {"color": theme.BAR, "line": edge}},
            bar
            | {
                "x": later,
                "base": now,
                "marker": {"color": theme.PAPER, "line": edge, "pattern": striped},
            },
        ),
        layout=theme.base_layout(margin=_MARGIN, width=width, barmode="overlay"),
        live_layout={
            "height": len(rows) * _PITCH + 20 + _MARGIN["t"] + _MARGIN["b"],
            "xaxis": hidden | {"range": [0, wide / scale]},
            "yaxis": hidden
            | {"range": [(len(rows) - 0.6) * _PITCH, -0.5 * _PITCH - 10]},
        },
        annotations=(
            *theme.heading(
                title
                if theme.text_px(title, theme.TITLE, True) < wide
                else title.split(";")[0],
                f"full: fill and trips now; striped: compost in {years} years",
            ),
            *notes,
        ),
        alt="; ".join(
            f"{c.name}: {show(c.first, 'money', system)} now, "
            f"{show(c.top_up, 'money', system)} later"
            for c in choices
        )
        + ".",
        caption=(
            "Less and more are against all bought mix, later included. Logs save money "
            "now and cost compost later, because they rot. Your hours for hauling logs "
            "are not in it."
        ),
        numbers=Numbers(
            caption="Ways to fill",
            headings=("fill", "now", f"compost, {years} years", "hours", "soil bought"),
            rows=tuple(
                (
                    c.name,
                    show(c.first, "money", system),
                    show(c.top_up, "money", system),
                    show(c.fill.hours, "time"),
                    f"{100 * (1 - c.less_bought):.0f} %",
                )
                for c in choices
            ),
        ),
    )


def buying_figure(
    volumes: Value,
    cost: Mapping[str, Any],
    needed: float,
    tie: Q_ | None,
    *,
    name: str = "garden mix",
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw the price of bags and of bulk with its trips against the volume.

    Parameters
    ----------
    volumes : array
        Cubic metres.
    cost : mapping of ``bags`` and ``bulk`` to array
        Money at these volumes.
    needed : float
        Cubic metres needed.
    tie : quantity or None
        From here on bulk is no dearer.
    name : str
        What is bought.
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
    x = np.asarray(shown_in(volumes, "volume", system), dtype=float)
    unit = unit_sign("volume", system)
    cost = {how: sums for how, sums in cost.items() if np.isfinite(sums).all()}
    top = max((float(np.max(v)) for v in cost.values()), default=1.0) * 1.08
    at = float(shown_in(needed, "volume", system))
    near = int(np.argmin(np.abs(volumes - needed)))
    pay = {how: float(values[near]) for how, values in cost.items()}
    right = {"xanchor": "left", "xshift": 6, "size": theme.LABEL}
    notes = [
        theme.note(how, x[-1], float(cost[how][-1]), colour=colour, **right)
        for how, colour in (("bags", theme.FAILS), ("bulk", theme.LATER))
        if how in cost
    ]
    words = f"you need {show(needed, 'volume', system)}"
    notes.append(
        theme.note(words, at, top, yanchor="top", xanchor="left", xshift=5, size=12)
    )
    title = f"Bags or bulk: what {name} costs"
    if not cost:
        title = f"No price for {name} yet"
    if tie is not None:
        title = f"From {show(tie, 'volume', system)} on, bulk is cheaper"
    tie_x = [float(shown_in(tie, "volume", system))] if tie is not None else []
    tie_y = [float(np.interp(tie_x[0], x, cost["bulk"]))] if tie_x else []
    under = ", ".join(f"{how} {show(v, 'money', system)}" for how, v in pay.items())
    empty = EMPTY
    return Drawing(
        traces=(
            line((x, cost["bags"]) if "bags" in cost else empty, theme.FAILS, 2.2),
            line((x, cost["bulk"]) if "bulk" in cost else empty, theme.LATER, 3),
            line((np.full(2, at), np.array([0, top])), theme.INK, 1.2, dash="dash"),
            marks((tie_x, tie_y), 11, theme.PAPER, "diamond", color=theme.INK, width=2),
        ),
        layout=theme.base_layout(margin=_PLOT, width=width, height=330),
        live_layout={
            "xaxis": theme.axis(
                f"loose {name}, {unit}",
                range=[0, float(x[-1])],
                dtick=theme.nice_step(float(x[-1]), 6),
            ),
            "yaxis": theme.axis(
                sign_after("price with delivery", "money", system),
                range=[0, top],
                dtick=theme.nice_step(top),
            ),
        },
        annotations=(
            *theme.heading(title, f"what you need costs: {under}" if cost else ""),
            *notes,
        ),
        alt=(
            f"Price against volume. Bags rise evenly; bulk rises in steps and starts "
            f"with the delivery. {title}. {words.capitalize()}: {under or 'no price'}."
        ),
        caption=(
            "Bulk comes in steps, and the first step carries the whole trip. "
            "A second trip is one more step up."
        ),
        numbers=Numbers(
            caption=f"Price of {name}",
            headings=("how", "for what you need"),
            rows=tuple((how, show(v, "coins", system)) for how, v in pay.items()),
        ),
    )
