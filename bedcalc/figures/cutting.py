"""Pictures of cutting: boards as strips, the price of a length, a bed's length."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..units import NO_BREAK, Units, currency_of, show, sign_after
from . import theme
from .drawing import Drawing, Numbers
from .shapes import EMPTY, area, line, outlines, rectangle, segments

if TYPE_CHECKING:  # names for an editor
    from ..cutting.sensitivity import SweetSpots
    from ..questions.cut_garden import GoodsCut

__all__ = ["BoardRow", "lengths_figure", "plan_rows", "spots_figure", "strips_figure"]

_PITCH, _BAR = 46, 26  # px from strip to strip, and of a strip
_TOP, _LEFT, _RIGHT = 62, 10, 12
_WASTE = "#F4F1EA"


@dataclass(frozen=True, kw_only=True)
class BoardRow:
    """One strip: a board with pieces as (words, from, to), all in millimetres.

    ``wrong`` pieces are drawn as missing: they do not come out of the board.
    """

    title: str
    board: float
    pieces: tuple[tuple[str, float, float], ...] = ()
    wrong: tuple[tuple[str, float, float], ...] = ()


def plan_rows(cut: GoodsCut, system: str = "metric") -> tuple[BoardRow, ...]:
    """The boards of a cut plan; boards cut alike are one strip."""
    alike: dict[tuple, list] = {}
    for board in cut.plan.boards:
        alike.setdefault(board.pattern, []).append(board)
    rows = []
    for boards in alike.values():
        first = boards[0]
        long_ = f"{first.stock.length / 10_000:.4g}{NO_BREAK}m"
        price = (
            "owned"
            if first.stock.owned
            else f"{show(cut.price(first.stock), 'coins', system)} each"
        )
        rows.append(
            BoardRow(
                title=f"<b>{len(boards)} × {long_}</b>, {price}",
                board=first.stock.length / 10,
                pieces=tuple(
                    (f"{(end - start) / 10:g}", start / 10, end / 10)
                    for _, start, end in first.marks(cut.plan.saw)
                ),
            )
        )
    return tuple(rows)


def strips_figure(
    rows: Sequence[BoardRow],
    *,
    title: str,
    under: str,
    caption: str,
    width: float = 620,
    narrow: bool = False,
    timber: str = "timber",
    least: int = 1,
) -> Drawing:
    """Boards as strips: pieces in wood, saw cuts dark, leftover hatched.

    Parameters
    ----------
    rows : sequence of BoardRow
    title, under, caption : str
        The finding, a line below it, and what to see.
    width : float
        Of the picture in px.
    narrow : bool
    timber : str
        Colour of the pieces, a key of the theme.
    least : int
        Rows there is always room for, so that the picture does not jump.
    """
    longest = max(
        [r.board for r in rows] + [end for r in rows for *_, end in r.wrong] + [1.0]
    )
    px = (width - _LEFT - _RIGHT) / longest
    ink = theme.ink_on(theme.MATERIAL.get(timber, theme.MATERIAL["timber"]))
    wood, waste, lost, cuts, notes = [], [], [], [], theme.heading(title, under)
    for n, row in enumerate(rows):
        y = -n * _PITCH
        low, high = y - _BAR / 2, y + _BAR / 2
        notes.append(
            theme.note(
                row.title,
                0,
                high,
                xanchor="left",
                yanchor="bottom",
                size=theme.TICK,
                colour=theme.SECOND,
            )
        )
        end = 0.0
        for words, start, end in row.pieces:
            wood.append(rectangle(start, end, low, high))
            cuts.append((end, low - 4, end, high + 2))
            if theme.text_px(words, theme.LABEL) < (end - start) * px - 2:
                notes.append(theme.note(words, (start + end) / 2, y, colour=ink))
        if end < row.board - 0.5:
            waste.append(rectangle(end, row.board, low, high))
            left = f"{row.board - end:.0f} left"
            if theme.text_px(left, theme.TICK) < (row.board - end) * px - 4:
                notes.append(
                    theme.note(
                        left,
                        (end + row.board) / 2,
                        y,
                        size=theme.TICK,
                        colour=theme.SECOND,
                    )
                )
        for words, start, stop in row.wrong:
            lost.append(rectangle(start, stop, low, high))
            notes.append(
                theme.note(
                    words,
                    min((start + stop) / 2, longest),
                    low - 3,
                    colour=theme.FAILS,
                    yanchor="top",
                    xanchor="right",
                )
            )
    shown = max(len(rows), least)
    height = _TOP + _PITCH * shown + 6
    bottom = -(shown - 1) * _PITCH - _PITCH * 0.5
    colour = theme.MATERIAL.get(timber, theme.MATERIAL["timber"])
    offcut = area(outlines(waste) if waste else EMPTY, _WASTE)
    offcut["fillpattern"] = {
        "shape": "/",
        "fgcolor": theme.CONTROL,
        "bgcolor": _WASTE,
        "size": 7,
        "solidity": 0.12,
    }
    traces = (
        offcut,
        area(outlines(wood) if wood else EMPTY, colour),
        line(outlines(lost) if lost else EMPTY, theme.FAILS, 2, dash="dot"),
        line(segments(cuts), theme.INK, 2.6),
    )
    axes = {"visible": False, "fixedrange": True}
    return Drawing(
        traces=traces,
        layout=theme.base_layout(
            margin={"l": _LEFT, "r": _RIGHT, "t": _TOP, "b": 6}, width=width
        ),
        annotations=tuple(notes),
        live_layout={
            "height": height,
            "xaxis": axes | {"range": [0, longest * 1.002]},
            "yaxis": axes | {"range": [bottom, _PITCH * 0.62]},
        },
        alt=f"{_no_tags(title)}. {_no_tags(under)} "
        + "; ".join(_said(r) for r in rows),
        caption=caption,
        numbers=Numbers(
            caption="Marks from the raw end, saw cuts counted, in mm",
            headings=("board", "pieces", "ends at", "left"),
            rows=tuple(
                (
                    _no_tags(r.title),
                    ", ".join(words for words, *_ in r.pieces),
                    ", ".join(f"{end:.1f}" for *_, end in r.pieces),
                    f"{r.board - (r.pieces[-1][2] if r.pieces else 0):.1f}",
                )
                for r in rows
            ),
        ),
    )


def _no_tags(text: str) -> str:
    return text.replace("<b>", "").replace("</b>", "")


def _said(row: BoardRow) -> str:
    words = ", ".join(words for words, *_ in row.pieces) or "nothing yet"
    return f"{_no_tags(row.title)}: {words}"


def spots_figure(
    spots: SweetSpots,
    at: float,
    name: str,
    *,
    system: str = "metric",
    width: float = 620,
    narrow: bool = False,
) -> Drawing:
    """What one piece costs over its length: it jumps where one fewer comes out.

    Parameters
    ----------
    spots : SweetSpots
    at : float
        The length looked at, mm.
    name : str
        What is cut.
    system : str
        The reader's units, with the currency.
    """
    x, y = spots.lengths / 10, spots.money

    def money(amount):
        return show(float(amount), "coins", system)

    good = np.isfinite(y)
    top = float(np.max(y[good], initial=0.0)) * 1.1
    drops = _drops(x[good], y[good])
    here = float(np.interp(at, x[good], y[good])) if good.any() else 0.0
    near = max((d for d in drops if d <= at), default=None)
    marks = ", ".join(f"{d:.0f}" for d in drops)
    notes = theme.heading(
        f"One piece of {at:.0f} mm costs {money(here)}",
        f"cut from boards of its own, {name}",
    )
    if near is not None and at - near > 1:
        saved = here - float(np.interp(near, x[good], y[good]))
        left = near < x[0] + 0.6 * (x[-1] - x[0])
        side = (
            {"xanchor": "left", "xshift": 10, "yshift": -14}
            if left
            else {"xanchor": "right", "xshift": -10, "yshift": 14}
        )
        notes.append(
            theme.note(
                f"{near:.0f} mm: {money(saved)} less",
                near,
                float(np.interp(near, x[good], y[good])),
                colour=theme.HOLDS,
                **side,
            )
        )
    dots = (np.array(drops), np.interp(drops, x[good], y[good]) if drops else EMPTY[0])
    return Drawing(
        traces=(
            line((x, np.where(good, y, np.nan)), theme.LATER, 2.2, shape="linear"),
            _dots(dots, theme.HOLDS, "diamond"),
            _dots((np.array([at]), np.array([here])), theme.INK, "circle"),
        ),
        layout=theme.base_layout(height=330, width=width),
        annotations=tuple(notes),
        live_layout={
            "xaxis": theme.axis(
                "length of the piece, mm", range=[float(x[0]), float(x[-1])]
            ),
            "yaxis": theme.axis(
                sign_after("one piece", "coins", system), range=[0, top]
            ),
        },
        alt=f"Cost of one piece over its length, {name}, stepping up at "
        f"{marks} mm. At {at:.0f} mm {money(here)}.",
        caption="Diamonds are sweet spots: one millimetre more, and a board gives one "
        "piece fewer.",
        numbers=Numbers(
            caption="Sweet spots",
            headings=("length, mm", "one piece"),
            rows=tuple(
                (f"{d:.0f}", money(np.interp(d, x[good], y[good]))) for d in drops
            ),
        ),
    )


def _drops(x, y) -> list[float]:
    """Lengths just before the cost jumps up."""
    rise = np.diff(y) / np.maximum(y[:-1], 1e-9)
    return [float(v) for v in x[:-1][rise > 0.02]]


def _dots(points, colour, symbol) -> dict:
    return {
        "type": "scatter", "mode": "markers", "x": points[0], "y": points[1],
        "marker": {"size": 10, "color": colour, "symbol": symbol},
        "hoverinfo": "skip", "cliponaxis": False,
    }  # fmt: skip  # rows of a table


def lengths_figure(
    lengths: Sequence[float],
    per_area: Sequence[float],
    now: float,
    *,
    name: str,
    system: str = "metric",
    width: float = 620,
    narrow: bool = False,
) -> Drawing:
    """Boards per square metre of growing area over the outside length of a bed."""
    units = Units("metric", currency_of(system))  # its lengths are metres

    def money(amount):
        return show(float(amount), "coins", units, per="area")

    x, y = np.asarray(lengths, dtype=float), np.asarray(per_area, dtype=float)
    good = np.isfinite(y)
    best = int(np.nanargmin(y)) if good.any() else 0
    ends = np.diff(y, append=np.inf) > 0
    low = np.diff(y, prepend=np.inf) < 0
    spots = good & ends & low
    notes = theme.heading(
        f"{x[best]:.2f} m gives the most bed for its timber",
        f"boards of {name} for each m² to plant, cheapest cut each time",
    )
    notes.append(theme.note(money(y[best]), x[best], y[best], yshift=-16))
    here = float(np.interp(now, x[good], y[good])) if good.any() else 0.0
    notes.append(theme.note("now", now, here, yshift=16))
    top, bottom = float(np.nanmax(y)), float(np.nanmin(y))
    pad = (top - bottom) * 0.2 + 0.5
    return Drawing(
        traces=(
            line((x, y), theme.LATER, 2.2),
            _dots((x[spots], y[spots]), theme.HOLDS, "diamond"),
            _dots((np.array([now]), np.array([here])), theme.INK, "circle"),
        ),
        layout=theme.base_layout(height=330, width=width),
        annotations=tuple(notes),
        live_layout={
            "xaxis": theme.axis("outside length, m"),
            "yaxis": theme.axis(
                sign_after("boards", "coins", units, per="area"),
                range=[bottom - pad, top + pad],
            ),
        },
        alt=f"Cost of boards for each square metre over the length of {name}: lowest "
        f"at {x[best]:.2f} m with {money(y[best])}, now {money(here)}.",
        caption="Diamonds are lengths that leave little over. Longer is mostly cheaper "
        "for each square metre, until one more board is needed.",
        numbers=Numbers(
            caption="Boards for each m²",
            headings=("length, m", "boards for growing area"),
            rows=tuple(
                (f"{a:.2f}", money(b) if ok else "cannot be cut")
                for a, b, ok in zip(x, y, good, strict=True)
            ),
        ),
    )
