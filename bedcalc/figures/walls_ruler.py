"""Everything on one ruler: how much of its strength each part uses; mends compared.

A bar that ends before the line at 100 % holds. Signs and words carry the verdict, not
colour alone. Bars longer than the ruler are cut off and say so.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bedcalc.units import number, show

from . import theme
from .drawing import Drawing, Numbers
from .shapes import EMPTY, area, line, outlines, rectangle

__all__ = ["PARTS", "mends_figure", "part_words", "parts_figure"]

_ROW, _BAR, _MOST = 42.0, 13.0, 2.5  # px a row, px a bar, end of the ruler
_GREY = theme.CONTROL

#: what a check of the wall is about, in the words of the figure
PARTS = {
    "bow": "bow after years, against its limit",
    "rail": "{member}, soaked fill",
    "trodden": "{member}, somebody on the fill",
    "sitting": "rim, somebody sits or leans on it",
    "waterlogged": "{member}, bed full of water",
    "sheet": "steel of the sheet, soaked",
    "between posts": "lowest board between two posts",
    "floor": "floor frame, soaked",
    "foot": "foot of the wall on the ground",
    "corner": "screws of the top corner",
    "tie": "wood under the plate of the tie",
    "rod": "steel of the rod",
    "tipping": "stacked wall, tipping over",
    "sliding": "stacked wall, sliding",
    "treading": "stacked wall, fill trodden in",
    "height": "height, before one asks an engineer",
}


def part_words(name: str, outcome) -> str:
    """What a check is about, in words."""
    family = outcome.walls.family
    member = {"sheet": "top rail and cap", "sleepers": "sleepers"}.get(family, "boards")
    if family == "blocks":
        member = "stacked wall"
    return PARTS.get(name, name).format(member=member)


@dataclass(frozen=True, kw_only=True)
class _Row:
    name: str
    share: float
    words: str
    tone: str  # holds, fails, before


def _bars(rows: Sequence[_Row], tone: str) -> tuple[np.ndarray, np.ndarray]:
    """Outlines of the bars of one tone; up and down in px from the top."""
    rings = []
    for i, row in enumerate(rows):
        if row.tone == tone:
            y = i * _ROW + 30
            end = max(min(row.share, _MOST), 0.004)
            rings.append(rectangle(0.0, end, y - _BAR / 2, y + _BAR / 2))
    return outlines(rings) if rings else EMPTY


def _notes(rows: Sequence[_Row], px: float) -> list[dict]:
    """The name over each bar and the words at its end, or inside where it is long."""
    notes, style = [], {"xanchor": "left", "size": theme.LABEL}
    for i, row in enumerate(rows):
        y = i * _ROW
        tone = {"fails": theme.FAILS}.get(row.tone, theme.INK)
        notes.append(theme.note(row.name, 0.0, y + 12, **style))
        end = min(row.share, _MOST)
        room = (_MOST - end) * px
        bold = f"<b>{row.words}</b>" if row.tone != "before" else row.words
        if room > theme.text_px(row.words, theme.TICK, bold=True) + 8:
            at = {"x": end, "xshift": 6, "xanchor": "left"}
            colour, veil = tone, {"bgcolor": theme.PAPER, "borderpad": 1}
        else:
            at = {"x": end, "xshift": -4, "xanchor": "right"}
            colour, veil = theme.PAPER, {}
            if row.tone == "before":
                colour = theme.INK
        more = {"size": theme.TICK, "colour": colour} | veil
        x = at.pop("x")
        notes.append(theme.note(bold, x, y + 30, **more, **at))
    return notes


def _ruler(rows, title: str, under: str, axis: str, width: float, **words) -> Drawing:
    """The ruler with its rows, first row on top."""
    margin = {"l": 12, "r": 18, "t": 62, "b": 50}
    high = len(rows) * _ROW + 6
    px = (width - margin["l"] - margin["r"]) / _MOST
    limit = np.array([1.0, 1.0]), np.array([0.0, high])
    traces = [
        area(_bars(rows, "holds"), theme.BAR, width=0),
        area(_bars(rows, "fails"), theme.FAILS, width=0),
        area(_bars(rows, "before"), theme.RULE, edge=_GREY, width=1),
        line(limit, theme.INK, 2.0, dash="12px,6px"),
    ]
    ticks = [0, 0.5, 1, 1.5, 2, _MOST]
    live = {
        "height": margin["t"] + margin["b"] + high,
        "margin": margin,
        "xaxis": theme.axis(
            axis,
            range=[0, _MOST],
            tickvals=ticks,
            ticktext=[f"{t * 100:.0f} %" for t in ticks[:-1]] + ["more"],
        ),
        "yaxis": {"visible": False, "fixedrange": True, "range": [high, 0.0]},
    }
    return Drawing(
        traces=tuple(traces),
        layout=theme.base_layout(width=width),
        live_layout=live,
        annotations=(*theme.heading(title, under), *_notes(rows, px)),
        **words,
    )


def _percent(share: float) -> str:
    return f"{number(100 * share, 0)} %" if share < 10 else f"{number(share, 0)} times"


# ---- parts


def parts_figure(
    outcome, *, system: str = "metric", narrow: bool = False, width: float | None = None
) -> Drawing:
    """How much of its strength each part of the wall uses, on one ruler.

    Parameters
    ----------
    outcome : Outcome
        Of one bed.
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
    checks = sorted(
        (c for c in outcome.checks if c.chapter == "walls" and c.name != "height"),
        key=lambda c: -c.utilisation,
    )
    rows = [
        _Row(
            name=part_words(c.name, outcome),
            share=float(c.utilisation),
            words=f"{'✓' if c.ok else '✕'} {_percent(float(c.utilisation))}",
            tone="holds" if c.ok else "fails",
        )
        for c in checks
    ]
    worst, failing = rows[0], [row for row in rows if row.tone == "fails"]
    if failing:
        title = f"{len(failing)} of {len(rows)} fail"
        under = f"worst: {worst.name}"
    else:
        title, under = "Every part holds", f"nearest to its limit: {worst.name}"
    alt = f"{title}. " + "; ".join(f"{r.name} {_percent(r.share)}" for r in rows) + "."
    return _ruler(
        rows,
        title,
        under,
        "used, of what it can bear",
        width or (340 if narrow else 620),
        alt=alt,
        caption="A bar that ends before the dashed line holds. Longest bar: fails "
        "first. Bars past the end are cut off; the number is right.",
        numbers=Numbers(
            caption="Parts of the wall",
            headings=("part", "asked", "can bear", "used", "verdict"),
            rows=tuple(
                (
                    row.name,
                    show(check.demand, check.kind, system),
                    show(check.capacity, check.kind, system),
                    _percent(row.share),
                    check.verdict,
                )
                for row, check in zip(rows, checks, strict=True)
            ),
        ),
    )


# ---- mends


def _price(cost: float) -> str:
    coins = round(cost)
    return f"+{coins} ¤" if coins > 0 else f"−{-coins} ¤" if coins < 0 else "no cost"


def _mend_row(name: str, outcome, worst, cost: str, tone: str, system: str) -> _Row:
    parts = [] if outcome.walls.family == "blocks" else [
        f"bow {show(outcome.walls.bow_years, 'bow', system)}"
    ]  # fmt: skip
    if not worst.ok and worst.name != "bow":
        parts.append(f"{worst.name} {_percent(worst.utilisation)}")
    sign = "✓ " if worst.ok else "✕ "
    words = sign + ", ".join([*parts, cost] if cost else parts)
    share = float(worst.utilisation)
    return _Row(name=name, share=share, words=words, tone=tone)


def mends_figure(
    outcome,
    tried,
    *,
    worst,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
    most: int = 10,
) -> Drawing:
    """Mends compared: what is left to fear with each, its bow and its price.

    Parameters
    ----------
    outcome : Outcome
        Of the bed as it is.
    tried : sequence of Tried
        In the order of the rows.
    worst : Check
        What is nearest to failing as it is.
    system, narrow, width
        As in :func:`parts_figure`.
    most : int
        Rows at most.

    Returns
    -------
    Drawing
    """
    shown = list(tried)[:most]
    rows = [_mend_row("as it is", outcome, worst, "", "before", system)]
    for t in shown:
        tone = "holds" if t.worst.ok else "fails"
        cost = _price(float(t.cost.m))
        rows.append(_mend_row(t.act, t.after, t.worst, cost, tone, system))
    good = [t for t in shown if t.worst.ok]
    title = f"{len(good)} of {len(shown)} mend it" if shown else "Nothing to mend"
    first = min(good, key=lambda t: float(t.cost.m)) if good else None
    under = f"cheapest: {_price(float(first.cost.m))}" if first else "none alone does"
    if not shown:
        under = "every part of the wall holds"
    alt = f"{title}; {under}. " + "; ".join(f"{r.name}: {r.words}" for r in rows) + "."
    return _ruler(
        rows,
        title,
        under,
        "worst part, used of what it can bear",
        width or (340 if narrow else 620),
        alt=alt,
        caption="Each bar is what is worst with that mend. Before the dashed line all "
        "holds. Grey: the wall as it is.",
        numbers=Numbers(
            caption="Mends tried",
            headings=("mend", "bow after years", "worst part", "used", "price"),
            rows=tuple(
                (
                    t.act,
                    show(t.bow, "bow", system),
                    part_words(t.worst.name, t.after),
                    _percent(float(t.worst.utilisation)),
                    _price(float(t.cost.m)),
                )
                for t in shown
            ),
        ),
    )
