"""Close-up of the long wall: the push of the fill, and the top rail from above.

A wall of stacked blocks has no rail; it shows how far it is from tipping and sliding.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..model.outcome import Outcome
from . import theme
from .drawing import Drawing
from .push_panel import push_axes, push_notes, push_traces, pushes
from .rail_panel import OVER, rail_axes, rail_notes, rail_of, rail_traces
from .safety_panel import safeties, safety_axes, safety_notes, safety_traces
from .wall_words import alt_text, caption, finding, numbers, push_finding

__all__ = ["wall_figure"]

_STRIP = 66.0  # px, width of the strip with the layers


@dataclass(frozen=True, kw_only=True)
class _Page:
    """Where the panels stand, in px of the plot's area: (from, to)."""

    width: float
    height: float
    margin: dict
    push: tuple[float, float]
    rail: tuple[float, float]
    push_up: tuple[float, float]
    rail_up: tuple[float, float]

    def across(self, ends) -> list[float]:
        """Px as shares of the plot's width."""
        wide = self.width - self.margin["l"] - self.margin["r"]
        return [float(np.clip(px / wide, 0, 1)) for px in ends]

    def up(self, ends) -> list[float]:
        """Px as shares of the plot's height."""
        high = self.height - self.margin["t"] - self.margin["b"]
        return [float(np.clip(px / high, 0, 1)) for px in ends]


def _page(width: float, narrow: bool) -> _Page:
    """Both panels side by side, or the rail under the push."""
    margin = {"l": 54, "r": 90, "t": 62, "b": 50}
    wide, gap = width - margin["l"] - margin["r"], _STRIP + 3
    if narrow:
        return _Page(
            width=width,
            height=638.0,
            margin=margin,
            push=(gap, wide),
            rail=(0.0, wide),
            push_up=(326.0, 520.0),
            rail_up=(0.0, 208.0),
        )
    push = float(np.clip(0.25 * wide, 104, 180))
    return _Page(
        width=width,
        height=340.0,
        margin=margin,
        push=(gap, gap + push),
        rail=(gap + push + 68, wide),
        push_up=(0.0, 222.0),
        rail_up=(0.0, 228.0),
    )


def _placed(axes: dict[str, dict], page: _Page) -> dict[str, dict]:
    """Axes with their places on the page."""
    domains = {
        "xaxis": ("y", page.across((0, _STRIP))),
        "xaxis2": ("y", page.across(page.push)),
        "yaxis": ("x", page.up(page.push_up)),
        "xaxis3": ("y2", page.across(page.rail)),
        "yaxis2": ("x3", page.up(page.rail_up)),
    }
    return {
        name: axis | {"anchor": domains[name][0], "domain": domains[name][1]}
        for name, axis in axes.items()
    }


def _headings(outcome: Outcome, page: _Page, system: str) -> list[dict]:
    """Titles of both panels with the line under each."""
    left = push_finding(outcome, system), "at most, when moist"
    blocks = outcome.walls.family == "blocks"
    under = (
        "strength over push, fill soaked"
        if blocks
        else ("filled mark holds, hollow mark does not")
    )
    x, y = page.across((page.rail[0], 0))[0], page.up((page.rail_up[1], 0))[0]
    title = finding(outcome)
    room = page.width - page.margin["l"] - page.rail[0] + 20
    if theme.text_px(title, theme.TITLE, bold=True) > room:
        title = title.replace(" from above", "")
    return [
        *theme.heading(*left, x=0.0, shift=-40),
        *theme.heading(title, under, x=x, y=y, shift=-40 if not x else -26),
    ]


def wall_figure(
    outcome: Outcome,
    *,
    system: str = "metric",
    before: Outcome | None = None,
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw the long wall: what pushes, and how far its top bows.

    Parameters
    ----------
    outcome : Outcome
        Of one bed.
    system : str
        ``"metric"`` or ``"us"``.
    before : Outcome or None
        An earlier outcome of the same bed, to show what a change has brought.
    narrow : bool
        The panels stand one under the other.
    width : float or None
        Pixels it will be shown at.

    Returns
    -------
    Drawing
    """
    page = _page(width or (340 if narrow else 620), narrow)
    found, stacked = pushes(outcome, system), safeties(outcome)
    high = page.push_up[1] - page.push_up[0]
    room = page.rail_up[1] - page.rail_up[0]
    axes = push_axes(outcome, found, system)
    notes = push_notes(outcome, found, high, system)
    if stacked:
        rail = None
        axes |= safety_axes(stacked, room)
        notes += safety_notes(stacked)
    else:
        rail = rail_of(outcome, before, room - OVER, system)
        wide = page.rail[1] - page.rail[0]
        axes |= rail_axes(rail, wide, system)
        notes += rail_notes(rail, outcome, before, wide, system)
    colour = theme.wall_colour("boards", outcome.bed.wall.wood)
    return Drawing(
        traces=(
            *push_traces(outcome, found, system),
            *rail_traces(rail, colour),
            *safety_traces(stacked),
        ),
        layout=theme.base_layout(width=page.width),
        live_layout={
            "height": page.height,
            "margin": page.margin,
            **_placed(axes, page),
        },
        annotations=(*_headings(outcome, page, system), *notes),
        alt=alt_text(outcome, before, system),
        caption=caption(outcome, system),
        numbers=numbers(outcome, system),
    )
