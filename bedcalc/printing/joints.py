"""Long sides that no board is long enough for: which piece lies on which post."""

from __future__ import annotations

from collections.abc import Sequence

from ..assembly import post_axes
from ..cutting.splices import Splice, SpliceRow
from ..evaluate import Outcome, evaluate
from ..model.bed import Bed
from ..model.place import Place
from ..questions.cut_garden import CutList
from .canvas import STRONG, TEXT, THIN, Canvas, scale_for
from .facts import front_words
from .page import plain
from .tape import size

__all__ = [
    "joint_picture",
    "joint_screws",
    "joint_view",
    "joint_words",
    "own_splices",
]

_HIGH, _PITCH, _GAP = 5.6, 7.4, 5.0  # mm on paper: a piece, row to row, side to side


def own_splices(splices: Sequence[Splice], name: str) -> tuple[Splice, ...]:
    """The joined pieces of one bed."""
    return tuple(s for s in splices if s.part.bed == name)


def _start(outcome: Outcome, splice: Splice) -> float:
    """Where a row begins, from the outer left end of the bed (a cap hangs over)."""
    return -outcome.bed.wall.si.cap_out if splice.part.what.startswith("cap") else 0.0


def _post_at(outcome: Outcome, x: float) -> str:
    axes = post_axes(outcome.bed)
    if not len(axes):
        return ""
    near = min(range(len(axes)), key=lambda n: abs(axes[n] - x))
    return f"post {near + 1}" if abs(axes[near] - x) < 0.005 else ""


def joint_screws(splices: Sequence[Splice]) -> int:
    """Places where a second piece is screwed to a post, caps left out."""
    return sum(
        len(row.joints)
        for splice in splices
        if splice.over and not splice.part.what.startswith("cap")
        for row in splice.rows()
    )


def joint_words(outcome: Outcome, splices: Sequence[Splice], system: str) -> list[str]:
    """How the joints are made, one line each."""
    lines = []
    for splice in splices:
        start = _start(outcome, splice)
        found = {round(x + start, 5) for row in splice.rows() for x in row.joints}
        where = [
            f"{size(x, system)} from the left end" + (f" ({post})" if post else "")
            for x in sorted(found)
            for post in [_post_at(outcome, x)]
        ]
        lines.append(
            f"{splice.part.bed}-{splice.part.what}: joint {' or '.join(where)}."
        )
        if splice.even:
            lines.append(
                "All its joints lie on one line: back each with a cleat of "
                f"{size(0.4, system)}."
            )
    if splices and splices[0].over:
        lines.append(
            "The joint lies on the middle of the post. Drill both ends first; two "
            f"screws in each, {size(0.02, system)} from the joint."
        )
        lines.append(
            "The checks of the wall take each side as one piece; a joint is weaker. "
            "Set a tie at a post where pieces meet."
        )
    return lines


def joint_view(outcome: Outcome, splices: Sequence[Splice], system: str) -> str:
    """Both long sides row by row as SVG: every piece by its name, posts dashed."""
    bed = outcome.bed
    n = scale_for(bed.si.length + 2 * bed.wall.si.cap_out, 140.0, system)
    canvas = Canvas(n, system)
    mm = 1.0 / canvas.k
    ordered = [
        (splice, row)
        for side in ("front", "back")
        for splice in sorted(splices, key=lambda s: not s.part.what.startswith("cap"))
        for row in reversed(splice.rows())
        if row.side == side
    ]
    y, before, found = 0.0, ordered[0][1].side, set()
    sides = len({row.side for _, row in ordered})
    down = len(ordered) * _PITCH + (sides - 1) * _GAP - (_PITCH - _HIGH)
    low = -down * mm
    for number, x in enumerate(post_axes(outcome.bed), start=1):
        canvas.line([(x, 4 * mm), (x, low - 1.5 * mm)], THIN, "1.2 0.8")
        canvas.text(x, 5 * mm, f"post {number}", size=TEXT)
    for splice, row in ordered:
        if row.side != before:
            y -= _GAP * mm
            before = row.side
        _row(canvas, row, _start(outcome, splice), y, mm)
        found |= {round(x + _start(outcome, splice), 5) for x in row.joints}
        y -= _PITCH * mm
    for x in sorted(found):
        canvas.line([(x, low), (x, low - 2.2 * mm)], STRONG)
        canvas.text(x, low - 5.4 * mm, size(x, system))
    return canvas.svg(f"Joints of the long sides of bed {bed.name}, 1 to {n}")


def joint_picture(bed: Bed, place: Place, cut: CutList, system: str = "metric") -> str:
    """The same picture for a bed of a cut list, with words; nothing without joints."""
    own = own_splices(cut.splices, bed.name)
    if not own:
        return ""
    outcome = evaluate(bed, place)
    words = f"Bed {bed.name}, long sides seen from {front_words(bed)}."
    return f"<p>{plain(words)}</p>{joint_view(outcome, own, system)}"


def _row(canvas: Canvas, row: SpliceRow, start: float, y: float, mm: float) -> None:
    mid = y - _HIGH / 2 * mm
    for _, x0, x1 in row.pieces:
        canvas.rect(start + x0, y, start + x1, y - _HIGH * mm, "none")
    for x in row.joints:
        canvas.line([(start + x, y), (start + x, y - _HIGH * mm)], STRONG)
    for name, x0, x1 in row.pieces:
        short = name.split("-", 1)[1]
        canvas.text(start + (x0 + x1) / 2, mid, short, dy=1.1, bold=True)
    canvas.text(0.0, mid, row.words, dx=-4.5, dy=1.1, anchor="end")
