"""Strips: each board with its marks, saw cuts and leftover, as one cuts it.

Marks count from the raw end where the tape is hooked first; each holds the saw cuts
before it. Boards that are cut alike share one strip, so the stop is set once.
"""

from __future__ import annotations

from markupsafe import Markup

from ..cutting import Board, Saw
from ..questions.cut_garden import CutList, GoodsCut
from ..units import show
from .canvas import FONT
from .page import ROOM, plain
from .tape import mark

__all__ = ["cut_strips", "order_of", "strip"]

_WIDE = ROOM - 6.0  # mm on paper of the longest board
_HIGH = 6.5


def strip(board: Board, saw: Saw, longest: int, system: str = "metric") -> Markup:
    """One board as SVG: pieces, saw cuts in black, leftover hatched, marks below."""
    k = _WIDE / longest
    total, parts = board.stock.length * k, []
    marks = board.marks(saw)
    add = parts.append
    first = marks[0][1] * k
    add(
        f'<rect x="0" y="0" width="{total:.2f}" height="{_HIGH}" fill="#fff" '
        'stroke="#000" stroke-width="0.3"/>'
    )
    last_text = -99.0
    if first > 0:
        add(_hatch(0, first))
        add(_text(max(first, 1.5), _HIGH + 4.4, mark(marks[0][1], system), 3.0))
        last_text = first
    for place, (_, start, end) in enumerate(marks):
        x, w = start * k, (end - start) * k
        add(
            f'<rect x="{x:.2f}" y="0" width="{w:.2f}" height="{_HIGH}" '
            'fill="#ececec" stroke="#000" stroke-width="0.3"/>'
        )
        if w > 9:
            words = (
                f"{place + 1}: {mark(end - start, system)}"
                if w > 17
                else (mark(end - start, system))
            )
            add(_text(x + w / 2, 4.4, words, 3.2, bold=True))
        add(
            f'<path d="M{end * k:.2f} 0V{_HIGH + 1.2}" stroke="#000" '
            'stroke-width="0.8"/>'
        )
        low = _HIGH + 4.4
        if end * k - last_text < 13:
            low += 3.4
        add(_text(end * k, low, mark(end, system), 3.0))
        last_text = end * k if low < _HIGH + 5 else last_text
    rest = marks[-1][2] * k
    if total - rest > 0.8:
        add(_hatch(rest + 0.4, total))
        left = board.leftover(saw)
        if total - rest > 16:
            words = f"left {mark(left, system)}"
            half = len(words) * 0.85
            mid = (rest + total) / 2
            add(
                f'<rect x="{mid - half:.2f}" y="1.3" width="{2 * half:.2f}" '
                'height="4" fill="#fff"/>'
            )
            add(_text(mid, 4.4, words, 3.0))
    add(f'<circle cx="0" cy="{_HIGH + 0.9}" r="0.8" fill="#000"/>')
    words = ", ".join(mark(end, system) for _, _, end in marks)
    return Markup(
        f'<svg xmlns="http://www.w3.org/2000/svg" {FONT} role="img" '
        f'aria-label="Board with marks at {plain(words)}" width="{_WIDE + 4:.1f}mm" '
        f'height="{_HIGH + 9:.1f}mm" viewBox="-1.5 -0.5 {_WIDE + 4:.1f} '
        f'{_HIGH + 9:.1f}">{"".join(parts)}</svg>'
    )


def _hatch(x0: float, x1: float) -> str:
    lines = []
    x = x0
    while x < x1 + _HIGH:
        a, b = max(x - _HIGH, x0), min(x, x1)
        if b > a:
            lines.append(f"M{a:.2f} {x - a:.2f}L{b:.2f} {x - b:.2f}")
        x += 2.0
    return f'<path d="{"".join(lines)}" stroke="#000" stroke-width="0.15"/>'


def _text(x, y, words, size, bold=False) -> str:
    weight = ' font-weight="700"' if bold else ""
    return (
        f'<text x="{x:.2f}" y="{y:.2f}" font-size="{size}" text-anchor="middle"'
        f"{weight}>{plain(words)}</text>"
    )


def order_of(cut: GoodsCut) -> list[tuple[Board, list[Board]]]:
    """Boards cut alike together; long pieces first, so a bad board hurts least."""
    alike: dict[tuple, list[Board]] = {}
    for board in cut.plan.boards:
        alike.setdefault(board.pattern, []).append(board)
    groups = [(boards[0], boards) for boards in alike.values()]
    return sorted(groups, key=lambda g: -max(length for _, length in g[0].pieces))


def _length(board: Board, system: str) -> str:
    """How long a board is, and whether it is the reader's own."""
    own = "owned, " if board.stock.key.startswith(("own ", "offcut ", "bad ")) else ""
    return own + show(board.stock.length / 10_000, "size", system)


def _goods(cut: GoodsCut, system: str) -> dict:
    """Every board of one section: its strip, and which pieces come out of it."""
    saw, number_ = cut.plan.saw, 0
    longest = max(b.stock.length for b in cut.plan.boards)
    unit, long_unit = ("mm", "mm") if system == "metric" else ("in", "inches")
    boards = []
    for first, alike in order_of(cut):
        thing = _thing(cut.goods)
        many = f"{len(alike)} {thing}s alike" if len(alike) > 1 else f"1 {thing}"
        names = []
        for board in alike:
            number_ += 1
            names.append((number_, " · ".join(label for label, _ in board.pieces)))
        keep = first.offcut(saw)
        words = f"; keep the leftover, {mark(keep, system)} {unit} once its end is"
        boards.append(
            {
                "head": f"{_length(first, system)}: {many}",
                "keep": f"{words} trimmed" if keep >= 3000 else "",
                "strip": strip(first, saw, longest, system),
                "names": names,
            }
        )
    plan = cut.plan
    sets = len(plan.setups)
    trim = (
        f"each end trimmed by {mark(saw.trim // 2, system)} {unit}"
        if saw.trim
        else "ends not trimmed"
    )
    said = (
        f"{len(plan.boards)} to buy or take for {show(cut.cost, 'coins', system)} "
        f"({plan.verdict()}), {sets} set-up{'s' if sets != 1 else ''}, waste "
        f"{plan.waste_share:.1%}. Saw cut {mark(saw.kerf, system)} {unit}, {trim}. "
        f"Marks in {long_unit}."
    )
    return {"name": cut.name, "said": said, "boards": boards}


def _thing(goods: str) -> str:
    """What one of them is called."""
    for part in ("sheet", "rod", "plank", "sleeper", "post"):
        if part in goods:
            return part
    return "board"


RULES = (
    "Hook the tape to the raw end, at the black dot. Where the first number is small, "
    "begin with that cut: it trims the end square.",
    "Blade on the waste side: the line belongs to the piece. Put an ✕ on the waste.",
    "Measure each piece from the fresh end, cut, measure again. The numbers under the "
    "strip hold the saw cuts; use them to check, never to mark all at once.",
    "Equal pieces: set a stop block once. Equal matters more than exact.",
    "Long pieces first. If a board turns out bad, it still gives short ones.",
)


def cut_strips(cut_list: CutList, system: str) -> list[dict]:
    """All boards of the cut list, section by section."""
    return [_goods(cut, system) for cut in cut_list if cut.plan.boards]
