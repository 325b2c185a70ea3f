"""Everything on one ruler: how much of its strength each part uses; fixes compared.

A bar that ends before the line at 100 % holds. Signs and words carry the verdict, not
colour alone. Bars longer than the ruler are cut off and say so.
"""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from bedcalc.model.outcome import MOST_SAID, price_words
from bedcalc.model.straightness import bow_words
from bedcalc.units import number, show

from ..model.outcome import Outcome
from . import theme
from .drawing import Drawing, Numbers
from .shapes import EMPTY, area, line, outlines, rectangle

if TYPE_CHECKING:  # names for an editor
    from ..model.outcome import Check
    from ..questions.fixes import TriedFix

__all__ = ["PARTS", "fixes_figure", "part_words", "parts_figure", "rim_use_figure"]

_ROW, _BAR = 42.0, 13.0  # px a row, px a bar
_LEAST, _MOST = 1.5, 5.0  # shortest and longest ruler
_GREY = theme.CONTROL
_VEIL = {"bgcolor": theme.PAPER, "borderpad": 1}

#: what a check of the wall is about, in the words of the figure
PARTS = {
    "bow": "bow after years, against your aim",
    "rail": "{member}, soaked fill",
    "trodden": "{member}, somebody on the fill",
    "sitting": "rim, somebody sits or leans on it",
    "waterlogged": "{member}, bed full of water",
    "sheet": "steel of the sheet, soaked",
    "upright": "post behind the lying sheet, soaked",
    "between posts": "bow of the lowest board between two posts",
    "floor": "floor frame, soaked",
    "foot": "foot of the wall on the ground",
    "board": "lowest board between two posts, soaked",
    "screws": "screws of a board, pulled out of its post",
    "post bends": "post, bent by the boards",
    "hole": "{member} at the rod's hole",
    "foot moves": "foot, how far it moves",
    "base tie": "wood under the plate of a tie at the foot",
    "corner": "screws of the top corner",
    "tie": "wood under the plate of the tie",
    "rod": "steel of the rod",
    "post": "post in the ground, holding the rim",
    "tipping": "stacked wall, tipping over",
    "sliding": "stacked wall, sliding",
    "treading": "stacked wall, fill trodden in",
    "height": "height, before one asks an engineer",
}


def part_words(name: str, outcome: Outcome) -> str:
    """What a check is about, in words."""
    family = outcome.walls.family
    member = {"sheet": "top rail and cap", "sleepers": "sleepers"}.get(family, "boards")
    if family == "blocks":
        member = "stacked wall"
    if (name, family) == ("corner", "sleepers"):
        return "pin of the lapped corner"
    return PARTS.get(name, name).format(member=member)


@dataclass(frozen=True, kw_only=True)
class _Row:
    name: str
    share: float
    words: str
    tone: str  # holds, fails, bowed, before


def _end(rows: Sequence[_Row]) -> float:
    """Where the ruler ends: past the longest bar, but no ruler of a mile."""
    return float(np.clip(max(row.share for row in rows) * 1.02, _LEAST, _MOST))


def _bars(
    rows: Sequence[_Row], tone: str, most: float
) -> tuple[np.ndarray, np.ndarray]:
    """Outlines of the bars of one tone; up and down in px from the top."""
    rings = []
    for i, row in enumerate(rows):
        if row.tone == tone:
            y = i * _ROW + 30
            end = max(min(row.share, most), 0.004 * most)
            rings.append(rectangle(0.0, end, y - _BAR / 2, y + _BAR / 2))
    return outlines(rings) if rings else EMPTY


def _notes(rows: Sequence[_Row], px: float, most: float) -> list[dict]:
    """The name over each bar and the words at its end, or inside where it is long."""
    notes, style = [], {"xanchor": "left", "size": theme.LABEL}
    letters = int(most * px / (0.57 * theme.LABEL))
    for i, row in enumerate(rows):
        y = i * _ROW
        tone = {"fails": theme.FAILS, "bowed": theme.LATER}.get(row.tone, theme.INK)
        name = textwrap.shorten(row.name, max(letters, 12), placeholder=" …")
        notes.append(theme.note(name, 0.0, y + 12, **style, **_VEIL))
        end = min(row.share, most)
        wide = theme.text_px(row.words, theme.TICK, bold=True) + 8
        if (most - end) * px > wide:  # after the bar
            x, shift, side, colour, veil = end, 6, "left", tone, _VEIL
        elif end * px > wide:  # inside it
            dark = theme.INK if row.tone == "before" else theme.PAPER
            x, shift, side, colour, veil = end, -4, "right", dark, {}
        else:  # over its end, on a veil
            x, shift, side, colour, veil = most, 0, "right", tone, _VEIL
        words = f"<b>{row.words}</b>" if row.tone != "before" else row.words
        at = {"xshift": shift, "xanchor": side, "size": theme.TICK} | veil
        notes.append(theme.note(words, x, y + 30, colour=colour, **at))
    return notes


def _ruler(rows, title: str, under: str, axis: str, width: float, **words) -> Drawing:
    """The ruler with its rows, first row on top."""
    margin = {"l": 12, "r": 18, "t": 62, "b": 50}
    high = len(rows) * _ROW + 6
    most = _end(rows)
    px = (width - margin["l"] - margin["r"]) / most
    limit = np.array([1.0, 1.0]), np.array([0.0, high])
    traces = [
        area(_bars(rows, "holds", most), theme.BAR, width=0),
        area(_bars(rows, "fails", most), theme.FAILS, width=0),
        area(_bars(rows, "before", most), theme.RULE, edge=_GREY, width=1),
        area(_bars(rows, "bowed", most), theme.LATER, width=0),
        line(limit, theme.INK, 2.0, dash="12px,6px"),
    ]
    step = 0.5 if most <= 2.6 else 1.0
    ticks = [k * step for k in range(int(most / step + 1e-9) + 1)]
    live = {
        "height": margin["t"] + margin["b"] + high,
        "margin": margin,
        "xaxis": theme.axis(
            axis,
            range=[0, most],
            tickvals=ticks,
            ticktext=[f"{t * 100:.0f} %" for t in ticks],
        ),
        "yaxis": {"visible": False, "fixedrange": True, "range": [high, 0.0]},
    }
    return Drawing(
        traces=tuple(traces),
        layout=theme.base_layout(width=width),
        live_layout=live,
        annotations=(*theme.heading(title, under), *_notes(rows, px, most)),
        **words,
    )


def _percent(share: float) -> str:
    """A share of what a part can bear; past three times it only says so."""
    return f"{number(100 * share, 0)} %" if share <= MOST_SAID else "over 300 %"


def _row_of(check, outcome: Outcome) -> _Row:
    """One check on the ruler: its use, or of a bow the ratio and its place."""
    tone = "holds" if check.ok else "bowed" if check.straight else "fails"
    words = f"{check.sign} {_percent(float(check.utilisation))}"
    if check.straight:
        words = f"{check.sign} {check.word}"
    return _Row(
        name=part_words(check.name, outcome),
        share=float(check.utilisation),
        words=words,
        tone=tone,
    )


# ---- parts

_USE = ("sitting", "trodden", "treading")  # how one uses the bed: no part of the wall


def _parts_title(rows: Sequence[_Row], used: Sequence[bool]) -> tuple[str, str]:
    """What the wall does, and what is nearest to its limit; use is told apart."""
    own = [row for row, use in zip(rows, used, strict=True) if not use]
    failing = sum(row.tone == "fails" for row in rows)
    weak = [row for row in own if row.tone == "fails"]
    if weak:
        verb = "does" if failing == 1 else "do"
        return f"{failing} of {len(rows)} {verb} not hold", f"worst: {weak[0].name}"
    if any(row.tone == "bowed" for row in own):
        bent = next(row for row in own if row.tone == "bowed")
        return "Every part holds; not as straight as you want it", bent.words
    under = f"nearest to its limit: {own[0].name}"
    return (
        "Every part holds, one use does not" if failing else "Every part holds",
        under,
    )


def parts_figure(
    outcome: Outcome,
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
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
    rows = [_row_of(c, outcome) for c in checks]
    title, under = _parts_title(rows, [c.name in _USE for c in checks])
    alt = f"{title}. " + "; ".join(f"{r.name} {r.words}" for r in rows) + "."
    return _ruler(
        rows,
        title,
        under,
        "used, of what it can bear; a bow: of your aim",
        width or (340 if narrow else 620),
        alt=alt,
        caption="A bar that ends before the dashed line holds; a bow that does is "
        "within your aim. Bars past the end are cut off.",
        numbers=Numbers(
            caption="Parts of the wall",
            headings=("part", "asked", "can bear", "used", "verdict"),
            rows=tuple(
                (
                    row.name,
                    check.asked(system),
                    show(check.capacity, check.kind, system),
                    _percent(row.share),
                    check.word,
                )
                for row, check in zip(rows, checks, strict=True)
            ),
        ),
    )


def rim_use_figure(
    outcome: Outcome,
    wind: float | None,
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Somebody on the rim and a trellis in the wind, on one ruler.

    ``wind`` is the share of its strength that a post uses; None where no post is. Words
    as in :func:`parts_figure`.
    """
    check, rows = outcome.check("sitting"), []
    shares = [("a grown person sits or leans on the rim", check and check.utilisation)]
    shares.append(("post that carries a trellis in a storm", wind))
    for name, share in shares:
        if share is None:
            rows.append(_Row(name=name, share=0.0, words="no sum", tone="before"))
            continue
        sign = "✓" if share <= 1 else "✕"
        words, tone = f"{sign} {_percent(float(share))}", "holds"
        if share > 1:
            tone = "fails"
        rows.append(_Row(name=name, share=float(share), words=words, tone=tone))
    good = not any(row.tone == "fails" for row in rows)
    title = "The rim bears both" if good else "The rim does not bear all of this"
    if any(row.tone == "before" for row in rows):
        title = "What the rim bears"
    alt = f"{title}. " + "; ".join(f"{row.name}: {row.words}" for row in rows) + "."
    return _ruler(
        rows,
        title,
        "beside the push of moist fill",
        "used, of what it can bear",
        width or (340 if narrow else 620),
        alt=alt,
        caption="A bar that ends before the dashed line holds.",
        numbers=Numbers(
            caption="What the rim bears",
            headings=("use", "used"),
            rows=tuple((row.name, row.words) for row in rows),
        ),
    )


# ---- fixes


_BY_BOW = (
    "Each bar is the bow with that move alone, against your aim. ✓ all of the wall "
    "is as you want it, ✕ something does not hold. Grey: the wall as it is."
)
_BY_WORST = (
    "Each bar is what is worst with that fix. Before the dashed line all is well. "
    "Grey: the wall as it is."
)


def _mend_row(
    name: str, outcome: Outcome, judged, worst, cost: str, tone, system
) -> _Row:
    """One fix: the bar is what is judged, the words say what else fails."""
    walls, parts = outcome.walls, []
    if walls.family != "blocks":  # past what the sums carry digits mean nothing
        bow = f"bow {bow_words(walls, 'years', system)}"
        parts.append("bows badly" if walls.past_sums else bow)
    if not worst.ok and not worst.straight:
        parts.append(f"{worst.name} {_percent(worst.utilisation)}")
    sign = "✓" if worst.ok else worst.sign
    words = f"{sign} " + ", ".join([*parts, cost] if cost else parts)
    tone = tone or ("holds" if judged.ok else "bowed" if judged.straight else "fails")
    return _Row(name=name, share=float(judged.utilisation), words=words, tone=tone)


def fixes_figure(
    outcome: Outcome,
    tried: Sequence[TriedFix],
    *,
    worst: Check,
    by: str = "",
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
    most: int = 14,
) -> Drawing:
    """Fixes compared: what is left to fear with each, its bow and its price.

    Parameters
    ----------
    outcome : Outcome
        Of the bed as it is.
    tried : sequence of TriedFix
        In the order of the rows.
    worst : Check
        What is nearest to failing as it is.
    by : str
        Name of the check whose use the bars show, such as ``"bow"``; the worst one of
        each if empty, or where a bed has no such check.
    system, narrow, width
        As in :func:`parts_figure`.
    most : int
        Rows at most.

    Returns
    -------
    Drawing
    """
    shown, units = list(tried)[:most], outcome.units(system)

    def price(t):
        return price_words(t.cost, units)

    judged = outcome.check(by) or worst
    rows = [_mend_row("as it is", outcome, judged, worst, "", "before", system)]
    for t in shown:
        judged, cost = t.after.check(by) or t.worst, price(t)
        rows.append(
            _mend_row(t.sentence(system), t.after, judged, t.worst, cost, "", system)
        )
    good = [t for t in shown if t.worst.ok]
    title = f"{len(good)} of {len(shown)} fix it" if shown else "Nothing to fix"
    first = min(good, key=lambda t: np.nan_to_num(t.cost.m, nan=np.inf), default=None)
    under = f"cheapest: {price(first)}" if first else "none does it all"
    if by and shown:
        title = "Each move alone"
        under = under.replace("cheapest:", "cheapest that does it all:")
    if not shown:
        under = "every part of the wall is well"
    alt = f"{title}; {under}. " + "; ".join(f"{r.name}: {r.words}" for r in rows) + "."
    return _ruler(
        rows,
        title,
        under,
        "bow after years, of your aim"
        if by == "bow"
        else "worst part, used of what it can bear",
        width or (340 if narrow else 620),
        alt=alt,
        caption=_BY_BOW if by == "bow" else _BY_WORST,
        numbers=Numbers(
            caption="Fixes tried",
            headings=("fix", "bow after years", "worst part", "used", "price"),
            rows=tuple(
                (
                    t.sentence(system),
                    "–"
                    if t.after.walls.family == "blocks"
                    else bow_words(t.after.walls, "years", system),
                    part_words(t.worst.name, t.after),
                    _percent(float(t.worst.utilisation)),
                    price(t),
                )
                for t in shown
            ),
        ),
    )
