"""A measured bulge on the ruler of what one watches and when one acts."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from bedcalc.model.straightness import PAST, bow_words, one_in
from bedcalc.tables import table
from bedcalc.units import show

from . import theme
from .drawing import Drawing, Numbers
from .shapes import area, line, marks, outlines, rectangle

if TYPE_CHECKING:  # names for an editor
    from ..questions.repair import Bulge

__all__ = ["bulge_figure"]

_STARTS = [(row.share, row.key) for row in table("bulges")] + [(1.0, "")]
_ENDS = tuple((a, b, key) for (a, key), (b, _) in pairwise(_STARTS))
_NAMES = {row.key: row.name for row in table("bulges")}
_TONES = {
    "straight": "#DCE6E2",
    "seen": "#EDE6CF",
    "bowed": "#E6CF97",
    "act": "#DDA77C",
}


def bulge_figure(
    bulge: Bulge,
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw a measured bulge: the rim from above, and where its size lies.

    Parameters
    ----------
    bulge : Bulge
        From :func:`bedcalc.questions.repair.judge_bulge`.
    system : str
        ``"metric"`` or ``"us"``.
    narrow : bool
        For a narrow output.
    width : float or None
        Pixels it will be shown at.

    Returns
    -------
    Drawing
    """
    width = width or (340 if narrow else 620)
    most = max(1 / 35, bulge.share * 1.1)
    span = bulge.span.m_as("m")
    bands, names = [], []
    for low, high, name in _ENDS:
        if low < most:
            end = min(high, most)
            shape = outlines([rectangle(low, end, 0.0, 1.0)])
            bands.append(area(shape, _TONES[name], edge=theme.PAPER, width=1))
            names.append((_NAMES[name].split(" ")[0], (low + end) / 2))
        else:  # the number of traces stays
            bands.append(area((np.empty(0), np.empty(0)), _TONES[name], width=0))
    x = np.linspace(0.0, 1.0, 41)
    shape = 16 / 5 * (x - 2 * x**3 + x**4)
    rail = 0.15 * most + x * 0.7 * most, 1.95 - 0.55 * shape * bulge.share / most
    chord = np.array([0.15, 0.85]) * most, np.array([1.95, 1.95])
    here = np.array([bulge.share]), np.array([0.5])
    ticks = (1 / 180, 1 / 120, 1 / 50)
    colour = {"act": theme.FAILS, "bowed": theme.WATCH}.get(bulge.row.key, theme.INK)
    measured = show(bulge.measured, "bow", system)
    length = show(bulge.span, "size", system)
    title = f"{bulge.row.name[:1].upper()}{bulge.row.name[1:]}: {measured} in {length}"
    part = (
        f"{one_in(bulge.share, measured=True)} of the bay"
        if bulge.share
        else "no bulge"
    )
    notes = [
        *theme.heading(title, part),
        theme.note("rim from above, drawn larger", 0.5 * most, 2.12, size=theme.TICK,
                   colour=theme.SECOND),
    ]  # fmt: skip  # rows of a table
    for name, at in names:
        low = width < 420 and name in ("seen", "act")  # else the words meet
        high = 0.66 if low else 0.82
        notes.append(theme.note(name, at, high, size=theme.TICK))
    known = not bulge.walls.past_sums
    low, high = bulge.walls.si.bow_low / span, bulge.walls.si.bow_high / span
    expected = np.clip([low, high], 0, most), np.array([0.1, 0.1])
    words = "the sums expect" if low < most else "the sums expect more than this"
    if not known:
        expected = np.empty(0), np.empty(0)
        words = f"by the sums it {PAST}"
    notes.append(
        theme.note(
            words,
            float(expected[0][0]) if known else 0.0,
            0.1,
            size=theme.TICK,
            xanchor="left",
            yshift=11,
            colour=theme.LATER,
        )
    )
    return Drawing(
        traces=(
            *bands,
            line(chord, theme.CONTROL, 1.5, dash="4px,4px"),
            line(rail, theme.LATER, theme.STRONG),
            line(expected, theme.LATER, 5.0),
            marks(here, 20, colour, "diamond", color=theme.INK, width=1.5),
        ),
        layout=theme.base_layout(width=width),
        live_layout={
            "height": 300,
            "margin": {"l": 16, "r": 20, "t": 62, "b": 50},
            "xaxis": theme.axis(
                "bulge, as a part of the bay",
                range=[0, most],
                tickvals=list(ticks),
                ticktext=["1/180" if not narrow else "", "1/120", "1/50"],
            ),
            "yaxis": {"visible": False, "fixedrange": True, "range": [0, 2.3]},
        },
        annotations=tuple(notes),
        alt=f"{title}, {part}. {bulge.row.says} {bulge.row.do}",
        caption="The diamond is your bulge, on the scale that a new wall is judged by "
        "too. Act from a fiftieth of the bay. Blue: what the sums expect after years.",
        numbers=Numbers(
            caption="A measured bulge",
            headings=("what", "size"),
            rows=(
                ("measured", measured),
                ("bay", length),
                ("that is", part),
                ("seen from", show(bulge.span / 180, "bow", system)),
                ("plainly bowed from", show(bulge.span / 120, "bow", system)),
                ("act from", show(bulge.span / 50, "bow", system)),
                ("the sums expect, low", bow_words(bulge.walls, "low", system)),
                ("the sums expect, high", bow_words(bulge.walls, "high", system)),
            ),
        ),
    )
