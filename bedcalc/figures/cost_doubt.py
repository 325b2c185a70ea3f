"""Doubt about the bill: the fan of chances, and what moves the total most."""

from __future__ import annotations

import numpy as np

from bedcalc.units import number, show, unit_sign

from . import theme
from .drawing import Drawing, Numbers
from .shapes import EMPTY, line, marks, segments

__all__ = ["fan_figure", "swing_figure"]

_MARGIN = {"l": 54, "r": 24, "t": 62, "b": 46}
_CHANCES = np.linspace(0.01, 0.99, 99)
_HOW = (
    ("alone", "each price by itself", theme.SECOND, "dot", 1.8),
    ("together", "all prices as one", theme.FAILS, "dash", 1.8),
    ("judged", "as judged", theme.LATER, "solid", theme.STRONG),
)


def fan_figure(
    spreads, *, chance: float = 0.8, narrow: bool = False, width: float | None = None
) -> Drawing:
    """Draw the chance that the bill stays under an amount, for three ways to move.

    Parameters
    ----------
    spreads : mapping of ``judged``, ``alone``, ``together`` to Spread
        From ``cost.spread(moves)``.
    chance : float
        The chance one wants.
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
    low, high = min(*ends, likely) * 0.985, max(ends) * 1.01
    sign = unit_sign("money")
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
            theme.INK, 1.2, dash="dash",
        ),
        line((np.full(2, likely), whole), theme.WATCH, 1.6, dash="dot"),
        marks(points, 8, theme.PAPER, color=theme.LATER, width=2),
    ]  # fmt: skip
    notes = [
        theme.note(
            f"<b>{number(want, 0)} {sign}</b>", want, 4, xanchor="left", xshift=5,
            yanchor="bottom",
        ),
        theme.note(
            "likely prices<br>added up" if not narrow else "likely", likely, 62,
            xanchor="right", xshift=-5, align="right", size=12, colour=theme.WATCH,
        ),
    ]  # fmt: skip
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
    title = f"{ten} bills stay under {show(want, 'money')}"
    under = (
        f"the likely prices add up to {number(likely, 0)}; {number(over, 0)} % pass it"
    )
    if narrow:
        under = f"likely {number(likely, 0)}; {number(over, 0)} % pass it"
    step = theme.nice_step(high - low, 3 if narrow else 6)
    return Drawing(
        traces=tuple(traces),
        layout=theme.base_layout(margin=_MARGIN, width=width, height=350),
        live_layout={
            "xaxis": theme.axis(f"the bill, {sign}", range=[low, high], dtick=step),
            "yaxis": theme.axis("chance to stay under, %", range=[0, 100], dtick=20),
        },
        annotations=(*theme.heading(title, under), *notes),
        alt=(
            f"Chance against amount. One bill in ten stays under {number(p10, 0)}, "
            f"half under {number(p50, 0)}, nine in ten under {number(p90, 0)} {sign}. "
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
                    *(show(spreads[key].under(c), "money") for key, *_ in _HOW),
                )
                for c in (0.1, 0.5, 0.8, 0.9)
            ),
        ),
    )  # fmt: skip


def swing_figure(
    swings, total: float, *, narrow: bool = False, width: float | None = None
) -> Drawing:
    """Draw what each thing alone can do to the total, the widest first.

    Parameters
    ----------
    swings : sequence of Swing
    total : float
        The bill as guessed, money.
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
    shown = [s for s in swings if s.width >= 0.5]
    rows = [i * pitch for i in range(len(shown))]
    low = min([s.low for s in shown] + [s.high for s in shown] + [total])
    high = max([s.low for s in shown] + [s.high for s in shown] + [total])
    scale = (wide - 130) / max(high - low, 1.0)
    lows = [min(s.low, s.high, total) for s in shown]
    highs = [max(s.low, s.high, total) for s in shown]
    bar = {
        "type": "bar", "orientation": "h", "y": rows, "hoverinfo": "skip",
        "width": [17.0] * len(rows),
    }  # fmt: skip
    edge = {"color": theme.INK, "width": 1}
    notes = []
    for s, a, b, y in zip(shown, lows, highs, rows, strict=True):
        for value, way, shift in ((a, "right", -6), (b, "left", 6)):
            if abs(value - total) >= 0.5:
                text = f"{value - total:+.0f}".replace("-", "−")
                notes.append(theme.note(text, value, y, xanchor=way, xshift=shift))
        notes.append(theme.note(s.name, total, y, yshift=20, bgcolor=theme.PAPER))
    first = shown[0].name if shown else "nothing"
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
            *theme.heading(
                f"What matters most: {first}",
                f"up or down from {show(total, 'money')}, one thing at a time",
            ),
            *notes,
        ),
        alt="; ".join(
            f"{s.name}: {number(s.low, 0)} to {number(s.high, 0)}" for s in shown
        ) + ".",
        caption=(
            "Pale: the low end of a guess. Dark: the high end. Get a firm price for "
            "the top bar first; the bottom ones can wait."
        ),
        numbers=Numbers(
            caption="What the total becomes",
            headings=("one thing", "low", "high"),
            rows=tuple(
                (s.name, show(s.low, "money"), show(s.high, "money")) for s in shown
            ),
        ),
    )  # fmt: skip
