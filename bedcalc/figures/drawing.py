"""A drawing: everything a figure shows, as plain data, and how Plotly is given it."""

from __future__ import annotations

from base64 import b64encode
from dataclasses import dataclass, field
from math import isfinite
from typing import Any

import numpy as np

__all__ = ["Drawing", "Numbers", "as_data"]


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


def as_data(drawing: Drawing, **size: int) -> dict[str, Any]:
    """What plotly.js is given: data and layout, ready to be sent.

    Parameters
    ----------
    drawing : Drawing
    size : int
        ``width`` and ``height`` in px, where the page decides them.
    """
    layout = {**drawing.layout, **drawing.live_layout, **size}
    layout["annotations"] = drawing.annotations
    return {"data": _plain(drawing.traces), "layout": _plain(layout)}


def _plain(value: Any) -> Any:
    """Numbers, texts, lists and dicts; arrays of numbers packed, gaps as None."""
    if isinstance(value, dict):
        return {k: _plain(v) for k, v in value.items()}
    if isinstance(value, np.ndarray):
        if value.ndim == 1 and value.dtype.kind in "fi":
            kind = "f8" if value.dtype.kind == "f" else "i4"
            packed = np.ascontiguousarray(value, dtype=f"<{kind}").tobytes()
            return {"dtype": kind, "bdata": b64encode(packed).decode("ascii")}
        value = value.tolist()
    if isinstance(value, (list, tuple)):
        return [_plain(v) for v in value]
    if isinstance(value, np.generic):
        value = value.item()
    return None if isinstance(value, float) and not isfinite(value) else value
