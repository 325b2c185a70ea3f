"""Cost flow: from the parts to the total, each step on top of the last."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from bedcalc.units import show, show_range

from . import theme
from .drawing import Drawing, Numbers
from .shapes import line, segments

if TYPE_CHECKING:  # names for an editor
    from ..cost.chapter import Cost
    from ..questions.shopping import Stage

__all__ = ["flow_figure", "steps_figure"]

_PARTS = (
    ("walls", "walls"), ("ties", "cross ties"), ("fixings", "screws, mesh"),
    ("delivery", "timber delivery"), ("fill", "fill"), ("truck", "truck of fill"),
    ("extras", "extras"),
)  # fmt: skip  # rows of a table
_MARGIN = {"l": 8, "r": 10, "t": 62, "b": 10}
_PITCH = 34.0


def _steps(cost) -> list[tuple[str, float]]:
    """Parts of the bill without tax, the truck of the fill apart, and the tax."""
    sums = {label: 0.0 for _, label in _PARTS}
    labels = dict(_PARTS)
    for item in cost.lines:
        label = labels[item.part]
        if item.part == "delivery" and item.group == "soil":
            label = "truck of fill"
        sums[label] = sums.get(label, 0.0) + item.amount
    found = [(name, value) for name, value in sums.items() if value > 0.005]
    if cost.rate and cost.si.tax > 0.005:
        found.append(("tax", float(cost.si.tax)))
    return found


def flow_figure(
    cost: Cost,
    *,
    name: str = "",
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw how the parts of a bill add up to its total.

    Parameters
    ----------
    cost : Cost
        Of one bed or of many.
    name : str
        Whose bill it is, for the heading.
    system : str
        ``"metric"`` or ``"us"``; the currency is that of the bill.
    narrow : bool
        For a narrow page.
    width : float or None
        Pixels it will be shown at.

    Returns
    -------
    Drawing
    """
    steps, total, units = _steps(cost), float(cost.si.total), cost.units(system)
    title = f"{name}: " if name else ""
    if cost.priced:
        title += show(total, "money", units)
        if cost.lines and not narrow:
            title += f"; the largest line is {cost.lines[0].name.split(', ')[0]}"
        band = show_range(cost.si.low, cost.si.high, "money", units)
        under = f"8 in 10 bills lie between {band.replace(' to ', ' and ')}"
        under += "" if narrow else "; with tax" if cost.with_tax else "; no tax"
    else:
        title += "no prices yet"
        under = "what is needed stands in the table below"
    drawing = _waterfall(
        steps, total, ("keep back", float(cost.si.contingency)), title, under,
        "Each bar begins where the last one ended. The white bar is money to keep "
        "back for what was forgotten. It is not hidden in the prices.",
        units, narrow=narrow, width=width,
    )  # fmt: skip  # rows of a table
    lacks = tuple(
        (line.called(units), "no price yet", line.counted(units))
        for line in cost.unpriced
    )
    if cost.tax_inside:
        lacks = (("of which tax", show(cost.si.tax, "coins", units), ""), *lacks)
    numbers = replace(drawing.numbers, rows=drawing.numbers.rows + lacks)
    return replace(drawing, numbers=numbers)


def steps_figure(
    stages: Sequence[Stage],
    more: float,
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw what each step of building costs, and what steps cost more than at once.

    Parameters
    ----------
    stages : sequence of Stage
        From :func:`bedcalc.questions.shopping.in_parts`.
    more : float
        Money more than all at once.
    system : str
        ``"metric"`` or ``"us"``; the currency is that of the bills.
    narrow : bool
        For a narrow page.
    width : float or None
        Pixels it will be shown at.

    Returns
    -------
    Drawing
    """
    steps = [(f"{s.name}: {', '.join(s.beds)}", float(s.cost.si.total)) for s in stages]
    total = sum(value for _, value in steps)
    units = stages[0].cost.units(system)
    title = "All at once" if len(steps) == 1 else f"{len(steps)} steps"
    title += f": {show(total, 'money', units)}"
    return _waterfall(
        steps, total, ("of it for steps", -float(more)), title,
        f"at once it would be {show(total - more, 'money', units)}",
        "Trips, boxes and boards come whole, so every step pays for its own. The white "
        "bar is what you would save by buying all at once.",
        units, narrow=narrow, width=width,
    )  # fmt: skip  # rows of a table


def _waterfall(
    steps, total, last, title, under, caption, units, *, narrow, width
) -> Drawing:
    """Bars that begin where the last ended, the total, and one white bar.

    A sum that nobody knows has no bar.
    """
    width = width or (340 if narrow else 620)
    wide = width - _MARGIN["l"] - _MARGIN["r"]
    starts = np.concatenate([[0.0], np.cumsum([v for _, v in steps])])
    extra, kept = last
    names = [n for n, _ in steps] + ["total", extra]
    sums = [*(v for _, v in steps), total, abs(kept)]
    share = {n: v / total for n, v in steps} if total else {}
    spoken = "; ".join(f"{n} {show(v, 'money', units)}" for n, v in steps)
    spoken += "; together " if steps else "together "
    spoken += show(total, "money", units)
    rows_of_numbers = (
        *(
            (n, show(v, "coins", units), show(share.get(n, 0), "percent"))
            for n, v in steps
        ),
        ("total", show(total, "coins", units), "100 %"),
        (extra, show(abs(kept), "money", units), ""),
    )
    end_words = [show(v, "money", units) for v in sums[:-1]]
    if not narrow:
        end_words[: len(steps)] = [
            f"{words} · {show(share.get(n, 0), 'percent')}"
            for words, (n, _) in zip(end_words, steps, strict=False)
        ]
    end_words.append(show(kept, "money", units, plus=True).removeprefix("−"))
    starts, values = np.nan_to_num(starts), list(np.nan_to_num(sums))
    total, kept = (float(np.nan_to_num(v)) for v in (total, kept))
    bases = [*starts[:-1], 0.0, total + min(kept, 0.0)]
    room = max(theme.text_px(n) for n in names) + 12
    room = min(max(room, 98 if narrow else 110), 0.48 * wide)
    scale = (wide - room - (64 if narrow else 100)) / max(total + max(kept, 0.0), 1.0)
    rows = [i * _PITCH for i in range(len(names))]
    colours = [theme.BAR] * len(steps) + [theme.INK, theme.PAPER]
    notes = []
    for label, base, value, y, words in zip(
        names, bases, values, rows, end_words, strict=True
    ):
        left = theme.note(
            f"<b>{label}</b>" if label == "total" else label,
            0.0,
            y,
            xanchor="right",
            xshift=-8,
            colour=theme.SECOND if label == extra else theme.INK,
        )
        end = theme.note(f"<b>{words}</b>", base + value, y, xanchor="left", xshift=6)
        notes += [left, end]
    links = [
        (x, y, x, y + _PITCH)
        for x, y in zip(starts[1:], rows[: len(steps)], strict=True)
    ]
    hidden = {"visible": False, "fixedrange": True}
    return Drawing(
        traces=(
            {
                "type": "bar",
                "orientation": "h",
                "x": values,
                "base": bases,
                "y": rows,
                "width": [19.0] * len(rows),
                "marker": {
                    "color": colours,
                    "line": {"color": theme.INK, "width": 1},
                },
                "hoverinfo": "skip",
            },
            line(segments(links), theme.SECOND, 1, dash="dot"),
        ),
        layout=theme.base_layout(margin=_MARGIN, width=width),
        live_layout={
            "height": len(rows) * _PITCH + _MARGIN["t"] + _MARGIN["b"],
            "xaxis": hidden | {"range": [-room / scale, (wide - room) / scale]},
            "yaxis": hidden | {"range": [(len(rows) - 0.5) * _PITCH, -0.5 * _PITCH]},
        },
        annotations=(*theme.heading(title, under), *notes),
        alt=(
            f"Bars that add up. {spoken}. "
            f"{extra.capitalize()}: {rows_of_numbers[-1][1]}."
        ),
        caption=caption,
        numbers=Numbers(
            caption="From part to total",
            headings=("part", "amount", "share"),
            rows=rows_of_numbers,
        ),
    )
