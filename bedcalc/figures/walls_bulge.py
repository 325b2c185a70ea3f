"""A measured bulge on the ruler of what one watches and when one acts."""

from __future__ import annotations

import numpy as np

from bedcalc.units import number, show

from . import theme
from .drawing import Drawing, Numbers
from .shapes import area, line, marks, outlines, rectangle

__all__ = ["bulge_figure"]

_ENDS = ((0.0, 1 / 120, "straight"), (1 / 120, 1 / 100, "seen"),
         (1 / 100, 1 / 50, "watch"), (1 / 50, 1.0, "act"))  # fmt: skip
_TONES = {
    "straight": "#DCE6E2",
    "seen": "#EDE6CF",
    "watch": "#E6CF97",
    "act": "#DDA77C",
}


def bulge_figure(
    bulge, *, system: str = "metric", narrow: bool = False, width: float | None = None
) -> Drawing:
    """Draw a measured bulge: the rim from above, and where its size lies.

    Parameters
    ----------
    bulge : Bulge
        From :func:`bedcalc.repair.judge_bulge`.
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
            names.append((name, (low + end) / 2))
        else:  # the number of traces stays
            bands.append(area((np.empty(0), np.empty(0)), _TONES[name], width=0))
    x = np.linspace(0.0, 1.0, 41)
    shape = 16 / 5 * (x - 2 * x**3 + x**4)
    rail = 0.15 * most + x * 0.7 * most, 1.95 - 0.55 * shape * bulge.share / most
    chord = np.array([0.15, 0.85]) * most, np.array([1.95, 1.95])
    here = np.array([bulge.share]), np.array([0.5])
    ticks = (1 / 120, 1 / 100, 1 / 50)
    colour = {"act": theme.FAILS, "watch": theme.WATCH}.get(bulge.row.key, theme.INK)
    measured = show(bulge.measured, "bow", system)
    length = show(bulge.span, "size", system)
    title = f"{bulge.row.name[:1].upper()}{bulge.row.name[1:]}: {measured} in {length}"
    part = "no bulge" if not np.isfinite(bulge.one_in) else (
        f"one part in {number(bulge.one_in, 0)} of the bay"
    )  # fmt: skip
    notes = [
        *theme.heading(title, part),
        theme.note("rim from above, drawn larger", 0.5 * most, 2.12, size=theme.TICK,
                   colour=theme.SECOND),
    ]  # fmt: skip
    for name, at in names:
        low = width < 420 and name in ("seen", "act")  # else the words meet
        high = 0.66 if low else 0.82
        notes.append(theme.note(name, at, high, size=theme.TICK))
    low, high = (
        bulge.expected_low.m_as("m") / span,
        bulge.expected_high.m_as("m") / span,
    )
    expected = np.clip([low, high], 0, most), np.array([0.1, 0.1])
    words = "the sums expect" if low < most else "the sums expect more than this"
    notes.append(
        theme.note(words, float(expected[0][0]), 0.1, size=theme.TICK, xanchor="left",
                   yshift=11, colour=theme.LATER)
    )  # fmt: skip
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
                ticktext=["1/120", "1/100" if not narrow else "", "1/50"],
            ),
            "yaxis": {"visible": False, "fixedrange": True, "range": [0, 2.3]},
        },
        annotations=tuple(notes),
        alt=f"{title}, {part}. {bulge.row.says} {bulge.row.do}",
        caption="The diamond is your bulge. One watches from a hundredth of the bay, "
        "and acts from a fiftieth. Blue: what the sums expect after years.",
        numbers=Numbers(
            caption="A measured bulge",
            headings=("what", "size"),
            rows=(
                ("measured", measured),
                ("bay", length),
                ("one part in", number(bulge.one_in, 0)),
                ("watch from", show(bulge.span / 100, "bow", system)),
                ("act from", show(bulge.span / 50, "bow", system)),
                ("the sums expect, low", show(bulge.expected_low, "bow", system)),
                ("the sums expect, high", show(bulge.expected_high, "bow", system)),
            ),
        ),
    )
