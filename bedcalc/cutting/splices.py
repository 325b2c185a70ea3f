"""Where no stock is long enough: a piece becomes several that meet over posts.

The joint is chosen before the boards are shared out. Joints of neighbouring courses
change sides: one course is laid from the left, the next from the right, so the same
pieces serve both.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from string import ascii_lowercase

from bedcalc.assembly import layout, upright_strips
from bedcalc.model.bed import Bed
from bedcalc.tables import table

from .cut_list import CutPart, strips_needed
from .model import CutError

__all__ = [
    "SheetWay",
    "Splice",
    "SpliceRow",
    "joints",
    "sheet_ways",
    "spliced",
    "whole",
]


_LETTERS = ascii_lowercase


def joints(length: float, longest: float, supports: Iterable[float]) -> list[float]:
    """Places where pieces meet, from one end, each piece as long as can be.

    Parameters
    ----------
    length : float
        Of the whole, metres.
    longest : float
        The longest piece that can be cut, metres.
    supports : iterable of float
        Where a joint may lie, metres from the same end.
    """
    at, found, places = 0.0, [], sorted(supports)
    while length - at > longest + 1e-9:
        within = [x for x in places if at + 1e-9 < x <= at + longest + 1e-9]
        if not within:
            raise CutError(
                f"a piece of {length * 1000:g} mm: the longest board gives "
                f"{longest * 1000:g} mm, and there is no post to join two pieces on "
                f"between {at * 1000:g} and {(at + longest) * 1000:g} mm; set posts "
                "closer, for example post_spacing=Q_(1, 'm'), or buy longer boards"
            )
        at = within[-1]
        found.append(at)
    if len(found) >= len(_LETTERS):
        raise CutError(
            f"a piece of {length * 1000:g} mm: needs boards longer than "
            f"{longest * 1000:g} mm, which make {len(found) + 1} pieces of it; for "
            "example a car that takes them, longest_carried=Q_(3, 'm')"
        )
    return found


def whole(what: str) -> str:
    """What a piece is part of: ``rail side a`` of ``rail side``."""
    head, _, letter = what.rpartition(" ")
    return head if head and len(letter) == 1 and letter in _LETTERS else what


@dataclass(frozen=True, kw_only=True)
class SpliceRow:
    """One course, rail or cap of one long side: its pieces from left to right.

    ``side`` is ``"front"`` or ``"back"``, ``level`` counts from below. Pieces are
    (name, from, to) in metres from the left end, seen from the front.
    """

    side: str
    level: int
    words: str
    pieces: tuple[tuple[str, float, float], ...]

    @property
    def joints(self) -> tuple[float, ...]:
        """Where pieces meet, metres from the left end."""
        return tuple(end for _, _, end in self.pieces[:-1])


@dataclass(frozen=True, kw_only=True)
class Splice:
    """Equal pieces too long for any board, each made of several that meet over posts.

    ``part`` is the whole, ``lengths`` its pieces (m), ``over`` what a joint lies on:
    ``"post"``, or nothing for sleepers.
    """

    part: CutPart
    lengths: tuple[float, ...]
    over: str = "post"

    @property
    def even(self) -> bool:
        """Whether all joints lie on one line, whichever end one begins at."""
        there = [round(length, 4) for length in self.lengths]
        return there == there[::-1]

    @property
    def note(self) -> str:
        """How to lay them, in words."""
        sizes = " + ".join(f"{round(x * 1000, 1):g}" for x in self.lengths)
        meet = f"meet over a {self.over}" if self.over else "meet end to end"
        words = f"{self.part.label}: no board is long enough, so {sizes} mm {meet}."
        if self.even:
            return (
                f"{words} The joints of all courses lie on one line: back each with a "
                "cleat of 400 mm."
            )
        return f"{words} Lay one course from the left and the next from the right."

    def rows(self) -> tuple[SpliceRow, ...]:
        """Which piece lies where, both long sides, from below."""
        each, found = max(self.part.count // 2, 1), []
        for side in ("front", "back"):
            for level in range(each):
                number = len(found) + 1
                turned = level % 2 if each > 1 else side == "back"
                found.append(
                    SpliceRow(
                        side=side,
                        level=level,
                        words=f"{side}, {self._where(level)}",
                        pieces=self._laid(number, bool(turned)),
                    )
                )
        return tuple(found)

    def _where(self, level: int) -> str:
        what = self.part.what
        if what == "side":
            return f"course {level + 1}"
        if what == "rail side":
            return ("foot rail", "top rail")[min(level, 1)]
        return what.removesuffix(" side")

    def _laid(self, number: int, turned: bool) -> tuple[tuple[str, float, float], ...]:
        lettered = list(zip(_LETTERS, self.lengths, strict=False))
        at, found = 0.0, []
        for letter, length in reversed(lettered) if turned else lettered:
            name = f"{self.part.bed}-{self.part.what} {letter}-{number}"
            found.append((name, at, at + length))
            at += length
        return tuple(found)


def spliced(
    bed: Bed, found: Iterable[CutPart], longest: Mapping[str, float]
) -> tuple[tuple[CutPart, ...], tuple[Splice, ...]]:
    """The same pieces, too long ones replaced by two or more that meet over posts.

    Parameters
    ----------
    bed : Bed
        Whose pieces they are.
    found : iterable of CutPart
        From :func:`bedcalc.cutting.cut_list.parts`.
    longest : mapping of goods to metres
        The longest piece that can be cut of each.

    Returns
    -------
    parts, splices
        Splices say which piece lies where.
    """
    done, splices = [], []
    for part in found:
        most = longest.get(part.goods, float("inf"))
        if part.length <= most + 1e-9:
            done.append(part)
            continue
        cuts = joints(part.length, most, _supports(bed, part))
        ends = [0.0, *cuts, part.length]
        lengths = [b - a for a, b in zip(ends, ends[1:], strict=False)]
        for n, (letter, length) in enumerate(zip(_LETTERS, lengths, strict=False)):
            outer = n in (0, len(lengths) - 1)
            done.append(
                replace(
                    part,
                    label=f"{part.label} {letter}",
                    what=f"{part.what} {letter}",
                    length=length,
                    angle=part.angle if outer else 0.0,
                )
            )
        over = "" if bed.wall.family == "sleepers" else "post"
        splices.append(Splice(part=part, lengths=tuple(lengths), over=over))
    return tuple(done), tuple(splices)


def _supports(bed: Bed, part: CutPart) -> list[float]:
    """Posts a joint may lie on; heavy sleepers carry their own joints.

    Only what runs along a long side passes posts between its ends.
    """
    if not part.what.endswith("side"):
        return []
    if bed.wall.family == "sleepers":
        step = 0.1
        return [step * n for n in range(6, int(part.length / step) - 5)]
    out = bed.wall.si.cap_out if part.what.startswith("cap") else 0.0
    if part.what.startswith("sheet"):  # begins inside the end wall
        out = -bed.si.wall_thickness
    return [float(x) + out for x in layout(bed).posts_x]


@dataclass(frozen=True, kw_only=True)
class SheetWay:
    """Sheet one way round: ``pieces`` of (length in m, how many), what it asks for."""

    name: str
    pieces: tuple[tuple[float, int], ...]
    asks: str

    @property
    def area(self) -> float:
        """Length of all pieces together, in metres."""
        return sum(length * count for length, count in self.pieces)


def sheet_ways(bed: Bed) -> tuple[SheetWay, SheetWay]:
    """Ribs upright or lying: which pieces each way needs, and what it asks for."""
    s, row = bed.si, table("sheets")[bed.wall.sheet]
    between = s.inside_width - 2 * row.depth  # the ends stand between the sides
    along = len(upright_strips(bed, s.inside_length))
    across = len(upright_strips(bed, between))
    rows = int(strips_needed.si(s.height, row.pitch, row.cover))
    upright = SheetWay(
        name="ribs upright",
        pieces=((float(s.height), int(2 * (along + across))),),
        asks="a rail at the foot and one at the rim; the ribs carry between them",
    )
    lying = SheetWay(
        name="ribs lying",
        pieces=(
            (float(s.inside_length), 2 * rows),
            (float(between), 2 * rows),
        ),
        asks="posts, not rails: the ribs carry from post to post; the top row is cut "
        "to the height",
    )
    return upright, lying
