"""A drawing: everything a figure shows, as plain data, and how Plotly shows it.

A picture is made once and then only changed: the number and the kinds of its traces
stay, and only the fields in ``LIVE`` follow the numbers. So a slider's move is one
batch of array updates, never a new figure.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

__all__ = ["Drawing", "Numbers", "to_figure", "update"]

#: trace fields that may change from one drawing to the next
LIVE = ("x", "y", "z", "i", "j", "k", "facecolor", "text", "base", "width", "visible")
#: single style fields that may change (whole line or marker objects must not)
LIVE_STYLE = ("line.color", "line.width", "marker.color", "marker.size", "fillcolor")


@dataclass(frozen=True, kw_only=True)
class Numbers:
    """The numbers of a figure as a table: headings, rows, and what it is about."""

    caption: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]

    def html(self) -> str:
        """A plain HTML table with header cells."""
        from html import escape

        head = "".join(f'<th scope="col">{escape(h)}</th>' for h in self.headings)
        body = "".join(
            f'<tr><th scope="row">{escape(str(row[0]))}</th>'
            + "".join(f"<td>{escape(str(cell))}</td>" for cell in row[1:])
            + "</tr>"
            for row in self.rows
        )
        return (
            f'<table class="bc-numbers"><caption>{escape(self.caption)}</caption>'
            f"<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"
        )


@dataclass(frozen=True, kw_only=True)
class Drawing:
    """One figure as data.

    ``traces`` and ``annotations`` are Plotly dicts; ``layout`` holds the rest.
    ``alt`` says in words what the picture shows, its trend and key numbers;
    ``caption`` says what to see; ``numbers`` is the same as a table.
    """

    traces: tuple[dict[str, Any], ...]
    layout: dict[str, Any]
    annotations: tuple[dict[str, Any], ...]
    alt: str
    caption: str
    numbers: Numbers
    live_layout: dict[str, Any] = field(default_factory=dict)


def to_figure(drawing: Drawing, kind: Callable[..., Any] | None = None):
    """Make the Plotly figure of a drawing, once.

    Parameters
    ----------
    drawing : Drawing
    kind : callable, optional
        What makes it from ``data`` and ``layout``: a live figure for a panel; a plain
        Plotly ``Figure`` if left out.
    """
    if kind is None:
        from plotly.graph_objects import Figure as kind

    layout = {**drawing.layout, **drawing.live_layout}
    layout["annotations"] = list(drawing.annotations)
    return kind(data=list(drawing.traces), layout=layout)


def _style(trace: dict, path: str):
    outer, _, inner = path.partition(".")
    found = trace.get(outer)
    return found.get(inner) if inner and isinstance(found, dict) else found


def update(figures: Sequence[tuple[Any, Drawing, Drawing | None]]) -> None:
    """Bring figure widgets to new drawings, in place, one batch a figure.

    Parameters
    ----------
    figures : sequence of (widget, new drawing, drawing shown before or None)
        What is the same as before is not sent again.
    """
    for widget, new, old in figures:
        with widget.batch_update():
            _update_one(widget, new, old)


def _same(a, b) -> bool:
    """Whether two values are the same; gaps (not-a-number) are equal to gaps."""
    if a is b:
        return True
    if isinstance(a, np.ndarray) or isinstance(b, np.ndarray):
        a, b = np.asarray(a), np.asarray(b)
        gaps = a.dtype.kind == "f" and b.dtype.kind == "f"
        return a.dtype == b.dtype and np.array_equal(a, b, equal_nan=gaps)
    return a == b


def _update_one(widget, new: Drawing, old: Drawing | None) -> None:
    if len(widget.data) != len(new.traces):
        raise ValueError(
            f"a drawing keeps its number of traces: needs {len(widget.data)}, "
            f"given {len(new.traces)}; hide one with empty arrays instead"
        )
    before = old.traces if old else ({},) * len(new.traces)
    for trace, values, was in zip(widget.data, new.traces, before, strict=True):
        for name in LIVE:
            if name in values and not _same(values[name], was.get(name)):
                trace[name] = values[name]
        for path in LIVE_STYLE:
            value = _style(values, path)
            if value is not None and not _same(value, _style(was, path)):
                trace[path.replace(".", "_")] = value
    if old is None or new.annotations != old.annotations:
        widget.layout.annotations = list(new.annotations)
    for name, value in new.live_layout.items():
        if old is None or old.live_layout.get(name) != value:
            widget.layout[name] = value
