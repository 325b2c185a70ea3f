"""Cost flow: from the parts to the total, each step on top of the last."""

from __future__ import annotations

import numpy as np

from bedcalc.units import number, show, unit_sign

from . import theme
from .drawing import Drawing, Numbers
from .shapes import line, segments

__all__ = ["flow_figure"]

_PARTS = (
    ("walls", "walls"), ("ties", "cross ties"), ("fixings", "screws, mesh"),
    ("fill", "fill"), ("delivery", "delivery"), ("extras", "extras"),
)  # fmt: skip
_MARGIN = {"l": 8, "r": 10, "t": 62, "b": 10}
_PITCH = 34.0


def flow_figure(
    cost, *, name: str = "", narrow: bool = False, width: float | None = None
) -> Drawing:
    """Draw how the parts of a bill add up to its total.

    Parameters
    ----------
    cost : Cost
        Of one bed or of many.
    name : str
        Whose bill it is, for the heading.
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
    before = 1 + (cost.rate if cost.with_tax else 0.0)
    steps = [
        (label, getattr(cost.si, key) / before) for key, label in _PARTS
    ]  # fmt: skip
    steps = [(label, value) for label, value in steps if value > 0.005]
    if cost.with_tax:
        rest = cost.si.total - sum(value for _, value in steps)
        steps.append(("tax", rest))
    starts = np.concatenate([[0.0], np.cumsum([v for _, v in steps])])
    total, kept = cost.si.total, cost.si.contingency
    names = [n for n, _ in steps] + ["total", "keep back"]
    bases = [*starts[:-1], 0.0, total]
    values = [*(v for _, v in steps), total, kept]
    share = {n: v / total for n, v in steps} if total else {}
    room = 98 if narrow else 110
    scale = (wide - room - 92) / max(total + kept, 1.0)
    rows = [i * _PITCH for i in range(len(names))]
    colours = [theme.BAR] * len(steps) + [theme.INK, theme.PAPER]
    notes = []
    for label, base, value, y in zip(names, bases, values, rows, strict=True):
        strong = label == "total"
        left = theme.note(
            f"<b>{label}</b>" if strong else label, 0.0, y, xanchor="right", xshift=-8,
            colour=theme.INK if label != "keep back" else theme.SECOND,
        )  # fmt: skip
        words = show(value, "money")
        if label in share and not narrow:
            words += f" · {number(100 * share[label], 0)} %"
        if label == "keep back":
            words = f"+{number(value, 0)}"
        end = theme.note(f"<b>{words}</b>", base + value, y, xanchor="left", xshift=6)
        notes += [left, end]
    links = [
        (x, y, x, y + _PITCH)
        for x, y in zip(starts[1:], rows[: len(steps)], strict=True)
    ]
    most = max(steps, key=lambda step: step[1]) if steps else ("nothing", 0.0)
    low, high = (number(v, 0) for v in (cost.si.low, cost.si.high))
    sign = unit_sign("money")
    whose = f"{name}: " if name else ""
    title = f"{whose}{show(total, 'money')}, most of it {most[0]}"
    under = f"8 in 10 bills: {low} to {high} {sign}"
    under += "; with tax" if cost.with_tax else "; no tax"
    spoken = "; ".join(f"{n} {show(v, 'money')}" for n, v in steps)
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
            f"Bars that add up. {spoken}; together {show(total, 'money')}. "
            f"To keep back: {show(kept, 'money')}."
        ),
        caption=(
            "Each bar begins where the last one ended. The white bar is money to keep "
            "back for what was forgotten. It is not hidden in the prices."
        ),
        numbers=Numbers(
            caption="From part to total",
            headings=("part", "amount", "share"),
            rows=(
                *(
                    (n, show(v, "coins"), f"{100 * share.get(n, 0):.0f} %")
                    for n, v in steps
                ),
                ("total", show(total, "coins"), "100 %"),
                ("keep back", show(kept, "money"), ""),
            ),
        ),
    )
