"""Close-up of the bill: ordered bars, the number at the end of each, no axis."""

from __future__ import annotations

import re

import numpy as np

from bedcalc.units import show, show_range

from ..model.outcome import Outcome
from . import theme
from .drawing import Drawing, Numbers

__all__ = ["cost_figure"]

SMALL = "small things"
_SHARE = 0.02  # groups under this share of the bill are small things
_ROWS = 8  # rows there is always room for
_MARGIN = {"l": 8, "r": 10, "t": 62, "b": 10}


def _grouped(cost) -> tuple[list[tuple[str, float]], list[str]]:
    """Bars from the largest down, small things last; and the names of these."""
    sums: dict[str, float] = {}
    for line in cost.lines:
        if line.amount > 0:
            name = line.name.split(", ")[0]  # all lengths of a section are one bar
            sums[name] = sums.get(name, 0.0) + line.amount
    tax = cost.si.total - sum(sums.values())
    if cost.rate and tax > 0:
        sums["tax"] = tax
    bars = sorted(sums.items(), key=lambda item: -item[1])
    small = [name for name, value in bars if value < _SHARE * cost.si.total]
    if len(small) < 2:
        return bars, []
    rest = sum(sums[name] for name in small)
    return [*((n, v) for n, v in bars if n not in small), (SMALL, rest)], small


def _range_words(cost, units: str) -> str:
    return show_range(cost.si.low, cost.si.high, "money", units)


def _leaves_out(cost) -> str:
    return "tools" if cost.with_tax else "tax, tools"


def _title(cost, bars, wide: float, units: str) -> str:
    """Total and what takes most of it, if there is room for that."""
    short = f"The bill: {show(cost.si.total, 'money', units)}"
    if not cost.priced:
        return "The bill: no prices yet"
    if not bars:
        return short
    name, value = bars[0]
    share = show(value / cost.si.total, "percent")
    long = f"{short}, {share} of it {_plain(name)}"
    return long if theme.text_px(long, theme.TITLE, bold=True) < wide else short


def _plain(name: str) -> str:
    """A name without its sizes: ``larch board`` for ``larch board 140 × 33``."""
    return re.split(r" \d", name)[0]


def _frame(bars, wide: float, narrow: bool) -> tuple[float, float]:
    """Room for the names in px, and px per unit of money."""
    names = 0.0 if narrow else max((theme.text_px(n) for n, _ in bars), default=0) + 8
    names = min(names, 0.42 * wide)
    most = max((value for _, value in bars), default=1.0)
    return names, (wide - names - 74) / most


def _notes(bars, pitch: float, narrow: bool, units: str) -> list[dict]:
    """A name before (or over) each bar, the number at its end."""
    notes = []
    for row, (name, value) in enumerate(bars):
        y = row * pitch
        number = f"<b>{show(value, 'money', units)}</b>"
        end = {"xanchor": "left", "xshift": 6}
        notes.append(theme.note(number, value, y, **end))
        at = {"xanchor": "left", "yshift": 19} if narrow else {"xanchor": "right"}
        at |= {} if narrow else {"xshift": -8}
        colour = theme.SECOND if name == SMALL else theme.INK
        notes.append(theme.note(name, 0.0, y, colour=colour, **at))
    return notes


def _alt(cost, bars, units: str) -> str:
    largest = "; ".join(f"{n} {show(v, 'money', units)}" for n, v in bars[:3])
    if not cost.priced:
        return f"No bars: there are no prices yet. {_needed(cost, units)}"
    return (
        "Bars of the bill, largest first. Together "
        f"{show(cost.si.total, 'money', units)}, "
        f"likely {_range_words(cost, units)}. The largest: {largest}. "
        f"Not in it: {_leaves_out(cost)}."
    )


def _needed(cost, units: str) -> str:
    """What is needed and has no price, in words."""
    things = (line.words(units) for line in cost.unpriced)
    return f"Needed: {'; '.join(things)}."


def _caption(cost, small, units: str) -> str:
    if not cost.priced:
        return _needed(cost, units)
    band = _range_words(cost, units).replace(" to ", " and ")
    words = f"Eight bills in ten will lie between {band}. "
    words += f"Not in it: {_leaves_out(cost)}, work."
    if small:
        words += f" Small things: {', '.join(small)}."
    if cost.missing:
        words += f" Not complete: {'; '.join(cost.missing)}."
    return words


def _row(line, units: str) -> tuple[str, ...]:
    """A line of the bill as cells: what, how much, price, amount."""
    per = "volume" if line.unit == "m³" and np.isfinite(line.price) else ""
    price = show(line.price, "coins", units, per=per)
    amount = show(line.amount, "coins", units)
    return line.called(units), line.counted(units), price, amount


def _numbers(outcome: Outcome, units: str) -> Numbers:
    cost = outcome.cost
    rows = [_row(line, units) for line in (*cost.lines, *cost.unpriced)]
    tax = cost.si.total - sum(line.amount for line in cost.lines)
    if cost.with_tax:
        name = "of which tax" if cost.tax_inside else "tax"
        tax = cost.si.tax if cost.tax_inside else tax
        rows.append((name, "", "", show(tax, "coins", units)))
    for name, value in (
        ("together", cost.si.total),
        ("likely, low end", cost.si.low),
        ("likely, high end", cost.si.high),
    ):
        kind = "coins" if name == "together" else "money"
        rows.append((name, "", "", show(value, kind, units)))
    return Numbers(
        caption=f"The bill of bed {outcome.bed.name}",
        headings=("what", "how much", "price", "amount"),
        rows=tuple(rows),
    )


def _bars(bars, pitch: float) -> dict:
    return {
        "type": "bar",
        "orientation": "h",
        "x": [value for _, value in bars],
        "y": [row * pitch for row in range(len(bars))],
        "width": [0.62 * min(pitch, 28.0)] * len(bars),
        "marker": {"color": theme.BAR, "line": {"width": 0}},
        "hoverinfo": "skip",
    }


def cost_figure(
    outcome: Outcome,
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw the bill: one bar a good, largest first.

    Parameters
    ----------
    outcome : Outcome
        Of one bed.
    system : str
        ``"metric"`` or ``"us"``.
    narrow : bool
        Names stand over the bars instead of before them.
    width : float or None
        Pixels it will be shown at, for the length of the bars.

    Returns
    -------
    Drawing
    """
    cost, units = outcome.cost, outcome.units(system)
    width = width or (340 if narrow else 620)
    bars, small = _grouped(cost)
    pitch, wide = (42.0 if narrow else 28.0), width - _MARGIN["l"] - _MARGIN["r"]
    names, scale = _frame(bars, wide, narrow)
    rows = max(len(bars), _ROWS)
    over = 10.0 if narrow else 0.0  # px for the first name over its bar
    high = rows * pitch + over
    tax = "with tax" if cost.with_tax else "no tax"
    under = f"likely {_range_words(cost, units)}; {tax}, no tools"
    if not cost.priced:
        under = "what is needed stands in the table below"
    elif cost.missing:
        under = f"not complete; {under}"
    hidden = {"visible": False, "fixedrange": True}
    return Drawing(
        traces=(_bars(bars, pitch),),
        layout=theme.base_layout(margin=_MARGIN, width=width),
        live_layout={
            "height": high + _MARGIN["t"] + _MARGIN["b"],
            "xaxis": hidden | {"range": [-names / scale, (wide - names) / scale]},
            "yaxis": hidden | {"range": [(rows - 0.5) * pitch, -0.5 * pitch - over]},
        },
        annotations=(
            *theme.heading(_title(cost, bars, wide, units), under),
            *_notes(bars, pitch, narrow, units),
        ),
        alt=_alt(cost, bars, units),
        caption=_caption(cost, small, units),
        numbers=_numbers(outcome, units),
    )
