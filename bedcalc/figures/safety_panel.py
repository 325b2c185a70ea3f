"""Right panel for a stacked wall: how far it is from tipping and from sliding."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from bedcalc.units import show

from ..model.outcome import Outcome
from . import theme
from .shapes import EMPTY, line

__all__ = ["safeties", "safety_axes", "safety_notes", "safety_traces"]

_AXES = {"xaxis": "x3", "yaxis": "y2"}
_ROWS = (82.0, 158.0)  # px from the top of the panel to the middle of a bar


def safeties(outcome: Outcome) -> list[tuple[str, float, float]]:
    """What may happen, how safe it is, what is needed; empty but for stacked walls."""
    if outcome.walls.family != "blocks":
        return []
    s = outcome.walls.si
    found = []
    for name, words, value in (
        ("tipping", "against tipping over", s.overturning_safety),
        ("sliding", "against sliding", s.sliding_safety),
    ):
        check = next(c for c in outcome.walls.checks if c.name == name)
        found.append((words, float(value), float(check.demand.m_as(""))))
    return found


def safety_traces(found: Sequence[Any]) -> list[dict]:
    """Bars and the line of what is needed; empty where there is a rail."""
    needed = EMPTY
    if found:
        needed = np.full(2, found[0][2]), np.array([40.0, 190.0])
    colours = [theme.BAR if v >= n * (1 - 1e-9) else theme.FAILS for _, v, n in found]
    bars = {
        "type": "bar",
        "orientation": "h",
        "x": [value for _, value, _ in found],
        "y": list(_ROWS[: len(found)]),
        "width": [24.0] * len(found),
        "marker": {"color": colours or [theme.BAR], "line": {"width": 0}},
        "hoverinfo": "skip",
    }
    return [bars | _AXES, line(needed, theme.INK, 2.0, dash="12px,6px") | _AXES]


def safety_notes(found: Sequence[Any]) -> list[dict]:
    """Name over each bar, number and verdict at its end, what is needed on top."""
    style = {"axes": ("x3", "y2"), "xanchor": "left"}
    veil = {"bgcolor": theme.PAPER, "borderpad": 1}
    notes = []
    for (words, value, needed), y in zip(found, _ROWS, strict=True):
        holds = value >= needed * (1 - 1e-9)
        verdict = "holds" if holds else "does not hold"
        colour = theme.INK if holds else theme.FAILS
        text = f"<b>{show(value, 'ratio')}</b>  {verdict}"
        notes.append(theme.note(words, 0.0, y - 24, **style, **veil))
        at = {"xshift": 7, "colour": colour} | veil
        notes.append(theme.note(text, value, y, **style, **at))
    text = f"needed {show(found[0][2], 'ratio')}"
    style |= {"xanchor": "center", "size": theme.TICK}
    return [*notes, theme.note(text, found[0][2], 30.0, **style)]


def safety_axes(found: Sequence[Any], high: float) -> dict[str, dict]:
    """Both axes of the panel; up and down it is laid out in px."""
    needed, most = found[0][2], max(value for _, value, _ in found)
    room = max(needed * 4 / 3, most * 1.45)  # words stand behind the bars
    step = theme.nice_step(room, 4)
    top = float(np.ceil(room / step - 1e-9)) * step
    return {
        "xaxis3": theme.axis(
            "push it could stand, over push", range=[0, top], dtick=step
        ),
        "yaxis2": {"visible": False, "fixedrange": True, "range": [high, 0.0]},
    }
