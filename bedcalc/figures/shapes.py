"""Plain traces and outlines, as dicts and arrays, for the flat figures."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from . import theme

__all__ = ["EMPTY", "area", "line", "marks", "outlines", "rectangle", "segments"]

EMPTY = (np.empty(0), np.empty(0))


def area(
    points: Sequence[Any], colour: str, *, edge: str = theme.EDGE, width: float = 1.2
) -> dict:
    """A filled outline, or several with gaps between them."""
    return line(points, edge, width) | {"fill": "toself", "fillcolor": colour}


def line(points: Sequence[Any], colour: str, width: float, **style) -> dict:
    """A line through points; nan makes a gap."""
    return {
        "type": "scatter",
        "mode": "lines",
        "x": points[0],
        "y": points[1],
        "line": {"color": colour, "width": width, **style},
        "hoverinfo": "skip",
    }


def marks(
    points: Sequence[Any], size: Any, colour: Any, symbol: str = "circle", **edge
) -> dict:
    """Marks at points; ``edge`` holds colour and width of their rim."""
    return {
        "type": "scatter",
        "mode": "markers",
        "x": points[0],
        "y": points[1],
        "marker": {
            "size": size,
            "color": colour,
            "symbol": symbol,
            "line": edge,
            "opacity": 1,  # else marks of many sizes are drawn see-through
        },
        "cliponaxis": False,
        "hoverinfo": "skip",
    }


def rectangle(left: float, right: float, bottom: float, top: float) -> tuple:
    """Corners of a rectangle, closed, with a gap after it."""
    gap = np.nan
    return (
        [left, right, right, left, left, gap],
        [bottom, bottom, top, top, bottom, gap],
    )


def outlines(rings: Sequence[Any]) -> tuple[np.ndarray, np.ndarray]:
    """Many outlines as the points of one trace."""
    x = [value for ring in rings for value in ring[0]]
    y = [value for ring in rings for value in ring[1]]
    return np.array(x, dtype=float), np.array(y, dtype=float)


def segments(pairs: Sequence[Any]) -> tuple[np.ndarray, np.ndarray]:
    """Straight lines (x0, y0, x1, y1) as the points of one trace."""
    if not len(pairs):
        return EMPTY
    ends = np.asarray(pairs, dtype=float)
    gap = np.full(len(ends), np.nan)
    return (
        np.stack([ends[:, 0], ends[:, 2], gap], axis=1).ravel(),
        np.stack([ends[:, 1], ends[:, 3], gap], axis=1).ravel(),
    )
