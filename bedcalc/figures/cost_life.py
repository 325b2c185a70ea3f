"""Builds over the years: cost a year against life, and side by side."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from bedcalc.model.straightness import PAST, bow_words
from bedcalc.units import NO_BREAK, number, show, shown_in, sign_after

from . import theme
from .drawing import Drawing, Numbers
from .shapes import EMPTY, line, marks, segments

if TYPE_CHECKING:  # names for an editor
    from ..questions.compare import BoxLife, Build

__all__ = ["life_figure", "side_by_side"]

_MARGIN = {"l": 54, "r": 132, "t": 62, "b": 46}
_SLOTS = 6
_LOOKS = (
    (theme.LATER, "solid"), (theme.FAILS, "dash"), (theme.HOLDS, "dot"),
    (theme.INK, "dashdot"), ("#CC79A7", "longdash"), (theme.WATCH, "longdashdot"),
)  # fmt: skip  # rows of a table


def short(name: str) -> str:
    """A build's name without its sizes: ``larch boards``."""
    return re.split(r" \d|,| on | in a | of ", name)[0]


def _spread_out(wanted, gap: float) -> list[float]:
    """Label heights as near as can be to where they belong, none too close."""
    order = np.argsort(wanted)
    found = np.array(wanted, dtype=float)
    for a, b in zip(order, order[1:], strict=False):
        found[b] = max(found[b], found[a] + gap)
    return list(found)


def life_figure(
    lives: Sequence[BoxLife],
    pair: tuple[int, ...] = (0, 1),
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw what each box costs a year, depending on how long it lasts.

    Parameters
    ----------
    lives : sequence of BoxLife
        From :func:`bedcalc.questions.compare.box_lives`, up to six.
    pair : tuple of int
        The two whose tie is marked: how long the first must last to be no dearer a
        year than the second.
    system : str
        The reader's units, with the currency.
    narrow : bool
        For a narrow page.
    width : float or None
        Pixels it will be shown at.

    Returns
    -------
    Drawing
    """
    width = width or (340 if narrow else 620)
    lives = list(lives)[:_SLOTS]
    one, two = lives[pair[0]], lives[pair[1] if len(lives) > 1 else 0]
    longest = float(lives[0].years[-1])
    curves = [np.nan_to_num(li.curve) for li in lives]  # no price: along the bottom
    top = 1.25 * max(
        float(np.interp(li.lives[0], li.years, curve))
        for li, curve in zip(lives, curves, strict=True)
    )
    top = top or 1.0
    ends = [float(curve[-1]) for curve in curves]
    margin = _MARGIN | ({"r": 96, "l": 44} if narrow else {})
    gap = 15 * top / 240
    heights = _spread_out(ends, gap)
    traces, notes = [], []
    for i, (li, curve) in enumerate(zip(lives, curves, strict=True)):
        colour, dash = _LOOKS[i]
        seen = curve <= top * 1.2
        traces.append(line((li.years[seen], curve[seen]), colour, 1.8, dash=dash))
        ages = np.linspace(li.lives[0], min(li.lives[2], longest), 21)
        traces.append(line((ages, np.interp(ages, li.years, curve)), colour, 5))
        notes.append(
            theme.note(
                short(li.name),
                longest,
                heights[i],
                colour=colour,
                size=12,
                xanchor="left",
                xshift=6,
            )
        )
    traces += [line(EMPTY, theme.INK, 1)] * (2 * (_SLOTS - len(lives)))
    dots = (
        np.array([min(li.lives[1], longest) for li in lives]),
        np.array(
            [
                np.interp(li.lives[1], li.years, curve)
                for li, curve in zip(lives, curves, strict=True)
            ]
        ),
    )
    traces.append(marks(dots, 9, theme.PAPER, color=theme.INK, width=2))
    tie = one.ties_with.get(two.name, float("inf"))
    seen = np.isfinite(tie) and tie <= longest and one is not two
    if seen:
        path = [(0, two.yearly, tie, two.yearly), (tie, 0, tie, two.yearly)]
        traces.append(line(segments(path), theme.INK, 1.2, dash="dash"))
        notes.append(
            theme.note(
                f"<b>{number(tie, 0)} years</b>",
                tie,
                0,
                yanchor="bottom",
                xanchor="left",
                xshift=5,
                yshift=3,
            )
        )
        under = f"tie: {short(one.name)} lasting {number(tie, 0)} years"
        under += f" = {short(two.name)} lasting {number(two.lives[1], 0)}"
    else:
        traces.append(line(EMPTY, theme.INK, 1.2, dash="dash"))
        under = f"{short(one.name)} and {short(two.name)} never tie here"
    traces.append(
        marks(
            ([tie], [two.yearly]) if seen else EMPTY,
            11,
            theme.PAPER,
            "diamond",
            color=theme.INK,
            width=2,
        )
    )
    priced = [li for li in lives if np.isfinite(li.box)]
    if priced:
        least = min(priced, key=lambda li: li.box)
        best = min(priced, key=lambda li: li.yearly)
        title = f"Cheapest per year: {short(best.name)}"
        if not narrow:
            title = f"Cheapest box: {short(least.name)}; per year: {short(best.name)}"
    else:
        title, under = "No prices yet", "how long boxes last is known, the cost is not"
    return Drawing(
        traces=tuple(traces),
        layout=theme.base_layout(margin=margin, width=width, height=380),
        live_layout={
            "xaxis": theme.axis(
                "years it lasts", range=[0, longest], dtick=10 if narrow else 5
            ),
            "yaxis": theme.axis(
                f"{sign_after('box', 'money', system)} a year",
                range=[0, top],
                dtick=theme.nice_step(top),
            ),
        },
        annotations=(
            *theme.heading(title, under if not narrow else under.split(": ")[-1]),
            *notes,
        ),
        alt="; ".join(
            f"{li.name}: {show(li.box, 'money', system)} at first, "
            f"{show(li.yearly, 'money', system)} a year if it lasts "
            f"{number(li.lives[1], 0)} years"
            for li in lives
        )
        + f". {under}.",
        caption=(
            "Thick: the lives that are likely. Ring: the middle guess. Posts and "
            "frame may go before the wall's main part does."
        ),
        numbers=Numbers(
            caption="Boxes: walls, ties, screws, mesh",
            headings=("build", "first cost", "lasts, years", "a year"),
            rows=tuple(
                (
                    li.name,
                    show(li.box, "money", system),
                    f"{li.lives[0]:.0f} to {li.lives[2]:.0f}",
                    show(li.yearly, "money", system),
                )
                for li in lives
            ),
        ),
    )


def _days(days) -> str:
    return "not yet" if days is None else number(float(days), 0)


_COLUMNS = (
    ("first", "first cost", "money"),
    ("yearly", "a year", "money"),
    ("mass", "soaked", "load mass"),
    ("bow", "bow", "bow"),
)


def _cheapest(builds) -> str:
    """The heading: the cheapest of the builds that hold, at first and by the year."""
    priced = [b for b in builds if np.isfinite(b.first.m)]
    if not priced:
        return "No prices yet"
    holding = [b for b in priced if b.stands]
    if not holding:
        return "None of these holds as it is"
    cheap = min(holding, key=lambda b: float(b.first.m))
    yearly = min(holding, key=lambda b: float(np.nan_to_num(b.yearly.m, nan=np.inf)))
    if len(holding) < len(builds):
        named = f"Of those that hold, cheapest first: {short(cheap.name)}"
    else:
        named = f"Cheapest first: {short(cheap.name)}"
    return f"{named}; cheapest a year: {short(yearly.name)}"


def _bow(build, system: str, badly: str) -> str:
    walls = build.outcome.walls
    if walls.family == "blocks":
        return "–"
    return badly if walls.past_sums else bow_words(walls, "years", system)


def side_by_side(
    builds: Sequence[Build],
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw builds of the same bed side by side: money, weight, bow, verdict.

    Parameters
    ----------
    builds : sequence of Build
        From :func:`bedcalc.questions.compare.compare`.
    system : str
        ``"metric"`` or ``"us"``.
    narrow : bool
        For a narrow page: money only.
    width : float or None
        Pixels it will be shown at.

    Returns
    -------
    Drawing
    """
    width = width or (340 if narrow else 900)
    columns = _COLUMNS[:2] if narrow else _COLUMNS
    wide, pitch = width - 18, 48.0
    verdict_px = 0 if narrow else 150
    each = (wide - verdict_px) / len(columns)
    rows = [i * pitch for i in range(len(builds))]
    bars, notes = {"x": [], "base": [], "y": [], "colours": []}, []
    for c, (key, title, kind) in enumerate(columns):
        left = c * each
        raw = [getattr(b, key) for b in builds]
        known = [0.0 if v is None else float(shown_in(v, kind, system)) for v in raw]
        values = list(np.nan_to_num(known))
        far = 50.0 if system == "metric" else 2.0  # beyond it, "over" will do
        cap = max(np.median(values) * 3, far) if key == "bow" else max(values)
        scale = (each - 78) / max(min(max(values), cap), 1e-9)
        notes.append(
            theme.note(
                sign_after(title, kind, system),
                left,
                -0.86 * pitch,
                xanchor="left",
                colour=theme.SECOND,
                size=12,
            )
        )
        least = min((v for v in known if np.isfinite(v)), default=np.nan)
        digits = 1 if kind == "load mass" or (kind == "bow" and system == "us") else 0
        for i, value in enumerate(values):
            bars["x"].append(min(value, cap) * scale)
            bars["base"].append(left)
            bars["y"].append(rows[i])
            bars["colours"].append(theme.ACCENT if known[i] == least else theme.BAR)
            words = number(known[i], digits)
            if key == "bow":
                words = _bow(builds[i], system, "bows badly").partition(NO_BREAK)[0]
            elif value > cap:
                words = f"over {number(cap, 0)}"
            at = left + min(value, cap) * scale
            notes.append(
                theme.note(f"<b>{words}</b>", at, rows[i], xanchor="left", xshift=5)
            )
    for i, b in enumerate(builds):
        notes.append(theme.note(b.name, 0, rows[i], yshift=19, xanchor="left"))
        if not narrow and b.worst is not None:
            verdict = b.worst.verdict
            words = f"<b>{b.worst.sign} {b.worst.word}</b>"
            if not b.worst.straight:
                words += f" · {b.worst.name.replace('_', ' ')}"
            notes.append(
                theme.note(
                    words,
                    wide - verdict_px + 12,
                    rows[i],
                    xanchor="left",
                    colour=theme.VERDICT[verdict],
                )
            )
    if not narrow:
        notes.append(
            theme.note(
                "worst verdict of the wall",
                wide - verdict_px + 12,
                -0.86 * pitch,
                xanchor="left",
                colour=theme.SECOND,
                size=12,
            )
        )
    title = _cheapest(builds)
    hidden = {"visible": False, "fixedrange": True}
    head = ("build", *(t for _, t, _ in _COLUMNS), "worst verdict", "water days")
    return Drawing(
        traces=(
            {
                "type": "bar", "orientation": "h", "x": bars["x"], "y": bars["y"],
                "base": bars["base"], "width": [17.0] * len(bars["y"]),
                "marker": {"color": bars["colours"], "line": {"width": 0}},
                "hoverinfo": "skip",
            },
        ),
        layout=theme.base_layout(
            margin={"l": 8, "r": 10, "t": 62, "b": 10}, width=width, barmode="overlay"
        ),
        live_layout={
            "height": len(rows) * pitch + 30 + 72,
            "xaxis": hidden | {"range": [0, wide]},
            "yaxis": hidden | {"range": [(len(rows) - 0.6) * pitch, -1.1 * pitch]},
        },
        annotations=(
            *theme.heading(
                title,
                "with fill; what wears out is bought again",
            ),
            *notes,
        ),
        alt="; ".join(
            f"{b.name}: {show(b.first, 'money', system)} first, "
            f"{show(b.yearly, 'money', system)} a year"
            + (f", {b.worst.word}" if b.worst is not None else "")
            for b in builds
        ) + ".",
        caption=(
            "A build that does not hold needs its fix first, and that costs money. "
            "Dark bars are the least of their column."
        ),
        numbers=Numbers(
            caption="Builds side by side",
            headings=head,
            rows=tuple(
                (
                    b.name,
                    *(
                        "–" if getattr(b, key) is None
                        else _bow(b, system, PAST) if key == "bow"
                        else show(getattr(b, key), kind, system)
                        for key, _, kind in _COLUMNS
                    ),
                    b.worst.sentence(system) if b.worst is not None else "–",
                    _days(b.water_days),
                )
                for b in builds
            ),
        ),
    )  # fmt: skip  # rows of a table
