"""Doubt about the bill: the fan of chances, and what moves the total most."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from bedcalc.units import number, show, show_range, sign_after

from . import theme
from .drawing import Drawing, Numbers
from .shapes import EMPTY, line, marks, segments

if TYPE_CHECKING:  # names for an editor
    from ..cost.uncertainty import Swing

__all__ = ["fan_figure", "swing_figure"]

_MARGIN = {"l": 54, "r": 24, "t": 62, "b": 46}
_CHANCES = np.linspace(0.01, 0.99, 99)
_HOW = (
    ("alone", "each price by itself", theme.SECOND, "dot", 1.8),
    ("together", "all prices as one", theme.FAILS, "dash", 1.8),
    ("judged", "as judged", theme.LATER, "solid", theme.STRONG),
)


def fan_figure(
    spreads: Mapping[str, Any],
    *,
    chance: float = 0.8,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw the chance that the bill stays under an amount, for three ways to move.

    Parameters
    ----------
    spreads : mapping of ``judged``, ``alone``, ``together`` to Spread
        From ``cost.spread(moves)``.
    chance : float
        The chance one wants.
    system : str
        The reader's units, with the currency.
    narrow : bool
        For a narrow page.
    width : float or None
        Pixels it will be shown at.

    Returns
    -------
    Drawing
    """
    width = width or (340 if narrow else 620)
    judged = spreads["judged"]
    likely, want = judged.likely, judged.under(chance)
    ends = [s.under(c) for s in spreads.values() for c in (0.01, 0.99)]
    low, high = min(*ends, likely) * 0.985, max(max(ends) * 1.01, 1.0)
    priced = likely > 0

    def money(amount):
        return show(amount, "money", system)

    ten = f"{number(10 * chance, 0)} in 10"
    p10, p50, p90 = (judged.under(c) for c in (0.1, 0.5, 0.9))
    traces = []
    for key, _, colour, dash, wide in _HOW:
        s = spreads[key]
        values = np.array([s.under(c) for c in _CHANCES])
        traces.append(line((values, 100 * _CHANCES), colour, wide, dash=dash))
    points = np.array([p10, p50, p90]), np.array([10.0, 50.0, 90.0])
    level, whole = 100 * chance, np.array([0.0, 100.0])
    traces += [
        line(
            segments([(low, level, want, level), (want, 0, want, level)]),
            theme.INK,
            1.2,
            dash="dash",
        ),
        line((np.full(2, likely), whole), theme.WATCH, 1.6, dash="dot"),
        marks(points, 8, theme.PAPER, color=theme.LATER, width=2),
    ]
    notes = [
        theme.note(
            f"<b>{money(want)}</b>", want, 4, xanchor="left", xshift=5,
            yanchor="bottom",
        ),
        theme.note(
            "likely prices<br>added up" if not narrow else "likely", likely, 62,
            xanchor="right", xshift=-5, align="right", size=12, colour=theme.WATCH,
        ),
    ]  # fmt: skip  # rows of a table
    if not narrow:
        for key, words, colour, *_ in _HOW:
            at = {"alone": 0.97, "together": 0.93, "judged": 0.24}[key]
            x = spreads[key].under(at)
            if key == "alone":
                style = {"xanchor": "right", "xshift": -8}
            else:
                style = {"xanchor": "left", "xshift": 10}
            notes.append(
                theme.note(
                    words,
                    x,
                    100 * at,
                    colour=colour,
                    size=12,
                    bgcolor=theme.PAPER,
                    **style,
                )
            )
    over = 100 * (1 - judged.chance(likely))
    title = f"{ten} bills stay under {money(want)}"
    under = f"the likely prices add up to {money(likely)}; {number(over, 0)} % pass it"
    if narrow:
        under = f"likely {money(likely)}; {number(over, 0)} % pass it"
    if not priced:
        notes = []
        title, under = "No prices yet", "nothing to doubt before prices are known"
    step = theme.nice_step(high - low, 3 if narrow else 6)
    return Drawing(
        traces=tuple(traces),
        layout=theme.base_layout(margin=_MARGIN, width=width, height=350),
        live_layout={
            "xaxis": theme.axis(
                sign_after("the bill", "money", system), range=[low, high], dtick=step
            ),
            "yaxis": theme.axis("chance to stay under, %", range=[0, 100], dtick=20),
        },
        annotations=(*theme.heading(title, under), *notes),
        alt=f"{title}." if not priced else (
            f"Chance against amount. One bill in ten stays under {money(p10)}, "
            f"half under {money(p50)}, nine in ten under {money(p90)}. "
            "If all prices moved as one the curve would be flatter, if each moved by "
            "itself steeper."
        ),
        caption=(
            "Read up from an amount to the line: that is the chance to stay under it. "
            "Dotted and dashed: the same guesses, but prices that move each by itself, "
            "or all as one."
        ),
        numbers=Numbers(
            caption="What the bill stays under",
            headings=("chance", *(words for _, words, *_ in _HOW)),
            rows=tuple(
                (
                    f"{100 * c:.0f} %",
                    *(money(spreads[key].under(c) if priced else np.nan)
                      for key, *_ in _HOW),
                )
                for c in (0.1, 0.5, 0.8, 0.9)
            ),
        ),
    )  # fmt: skip  # rows of a table


def swing_figure(
    swings: Sequence[Swing],
    total: float,
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw what each thing alone can do to the total, the widest first.

    Parameters
    ----------
    swings : sequence of Swing
    total : float
        The bill as guessed, money.
    system : str
        The reader's units, with the currency.
    narrow : bool
        For a narrow page.
    width : float or None
        Pixels it will be shown at.

    Returns
    -------
    Drawing
    """
    width = width or (340 if narrow else 620)
    margin = {"l": 8, "r": 10, "t": 62, "b": 10}
    wide, pitch = width - 18, 44.0
    known, total = np.isfinite(total), float(np.nan_to_num(total))
    shown = [s for s in swings if s.width >= 0.5]
    rows = [i * pitch for i in range(len(shown))]
    low = min([s.low for s in shown] + [s.high for s in shown] + [total])
    high = max([s.low for s in shown] + [s.high for s in shown] + [total])
    scale = (wide - 130) / max(high - low, 1.0)
    lows = [min(s.low, s.high, total) for s in shown]
    highs = [max(s.low, s.high, total) for s in shown]
    bar = {
        "type": "bar",
        "orientation": "h",
        "y": rows,
        "hoverinfo": "skip",
        "width": [17.0] * len(rows),
    }
    edge = {"color": theme.INK, "width": 1}
    notes = []
    for s, a, b, y in zip(shown, lows, highs, rows, strict=True):
        for value, way, shift in ((a, "right", -6), (b, "left", 6)):
            if abs(value - total) >= 0.5:
                text = show(value - total, "money", system, plus=True)
                notes.append(theme.note(text, value, y, xanchor=way, xshift=shift))
        notes.append(theme.note(s.name, total, y, yshift=20, bgcolor=theme.PAPER))
    title = f"What matters most: {shown[0].name if shown else 'nothing'}"
    under = f"up or down from {show(total, 'money', system)}, one thing at a time"
    if not known:
        title, under = "No prices yet", "what matters shows once they are known"
    bottom = (len(rows) - 0.6) * pitch
    hidden = {"visible": False, "fixedrange": True}
    return Drawing(
        traces=(
            bar | {
                "x": [a - total for a in lows], "base": total,
                "marker": {"color": theme.NOW, "line": edge},
            },
            bar | {
                "x": [b - total for b in highs], "base": total,
                "marker": {"color": theme.LATER, "line": edge},
            },
            line((np.full(2, total), np.array([-pitch * 0.3, bottom])), theme.INK, 1.4)
            if shown else line(EMPTY, theme.INK, 1.4),
        ),
        layout=theme.base_layout(margin=margin, width=width, barmode="overlay"),
        live_layout={
            "height": max(len(rows), 1) * pitch + 16 + 72,
            "xaxis": hidden
            | {"range": [low - 60 / scale, high + 60 / scale]},
            "yaxis": hidden | {"range": [bottom, -0.5 * pitch - 12]},
        },
        annotations=(
            *theme.heading(title, under),
            *notes,
        ),
        alt="; ".join(
            f"{s.name}: {show_range(s.low, s.high, 'money', system)}" for s in shown
        ) + "." if shown else f"{title}.",
        caption=(
            "Pale: the low end of a guess. Dark: the high end. Get a firm price for "
            "the top bar first; the bottom ones can wait."
        ),
        numbers=Numbers(
            caption="What the total becomes",
            headings=("one thing", "low", "high"),
            rows=tuple(
                (s.name, *(show(v, "money", system) for v in (s.low, s.high)))
                for s in shown
            ),
        ),
    )  # fmt: skip  # rows of a table
