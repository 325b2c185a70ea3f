"""Words on the picture: how wide they are, and where they find room.

A tag knows its box in pixels. Tags are set one after the other, the important ones
first; each takes the first of its places that is free.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from bedcalc.figures import theme

from .camera import Frame
from .svg import Dot, Path, Sign, Words

__all__ = ["Tag", "Table", "text_size"]

_LINE = 1.28
_SIGN = 21  # px, a sign and the room behind it
_NARROW = set("iljtf.,:;'|!() \u00a0\u202f")
_BROAD = set("mwMW%@")
_TAGS = re.compile(r"<[^>]+>")


@lru_cache(maxsize=256)
def text_size(text: str, size: float) -> tuple[float, float]:
    """Pixels a text of some lines takes, on the safe side for wide fonts."""
    wide = 0.0
    lines = text.split("<br>")
    for line in lines:
        bold = 1.1 if "<b>" in line else 1.0
        plain = _TAGS.sub("", line)
        ems = sum(
            0.36 if c in _NARROW else 0.94 if c in _BROAD else 0.63 for c in plain
        )
        wide = max(wide, ems * bold * size)
    return wide, _LINE * size * len(lines)


@dataclass(frozen=True, kw_only=True)
class Tag:
    """One text at its place: ``x``, ``y`` is the middle of its box, in pixels.

    ``to`` is a point to lead to with a line, in pixels, with a dot on it; ``verdict``
    puts the sign of a verdict before the text.
    """

    text: str
    x: float
    y: float
    to: tuple[float, float] | None = None
    start: str = "left"
    size: int = theme.LABEL
    colour: str = theme.INK
    verdict: str = ""

    @staticmethod
    def wide(text: str, verdict: str = "", size: int = theme.LABEL) -> float:
        """How wide a tag gets, in pixels."""
        return text_size(text, size)[0] + (_SIGN if verdict else 0)

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom."""
        wide, high = self.wide(self.text, self.verdict, self.size), 0.0
        high = text_size(self.text, self.size)[1]
        return (
            self.x - wide / 2,
            self.y - high / 2,
            self.x + wide / 2,
            self.y + high / 2,
        )

    @property
    def end(self) -> tuple[float, float]:
        """Where the leading line meets the text."""
        left, top, right, bottom = self.box
        x = {"left": left - 4, "right": right + 4}.get(self.start, self.x)
        if self.verdict and self.start in ("top", "bottom"):
            x = left + 7  # from the sign
        y = {"top": top - 1, "bottom": bottom + 1}.get(self.start, self.y)
        return x, y

    def lines(self) -> list[Path]:
        """The leading line, with a white seam so that it shows on dark soil."""
        if self.to is None:
            return []
        run = (np.array([self.end, self.to]),)
        return [
            Path(run, line=3.0, ink=theme.PAPER),
            Path(run, line=1.0, ink=theme.SECOND),
        ]

    def notes(self) -> list[Words | Dot | Sign]:
        """The text, its sign, and the dot it leads to."""
        left = self.box[0]
        lines = self.text.count("<br>")
        y = self.y - lines * 1.28 * self.size / 2
        found: list[Words | Dot | Sign] = [] if self.to is None else [Dot(*self.to)]
        if self.verdict:
            found.append(Sign(self.verdict, left + 7.5, y))
            left += _SIGN
        return [*found, Words(self.text, left, y, self.size, self.colour)]


def _meet(a, b, gap: float = 2.0) -> bool:
    return (
        a[0] < b[2] + gap
        and b[0] < a[2] + gap
        and a[1] < b[3] + gap
        and b[1] < a[3] + gap
    )


def _cross(one, other) -> bool:
    """Whether two lines x, y, x, y cross."""
    (a, b, c, d), (e, f, g, h) = one[:4], other[:4]

    def side(p, q, r, s, u, v):
        return (r - p) * (v - q) - (s - q) * (u - p)

    return (
        side(a, b, c, d, e, f) * side(a, b, c, d, g, h) < 0
        and side(e, f, g, h, a, b) * side(e, f, g, h, c, d) < 0
    )


def _over(box, line) -> bool:
    """Whether a line x, y, x, y passes a box nearer than its room."""
    x0, y0, x1, y1, room = line
    low, high = 0.0, 1.0
    for start, way, least, most in (
        (x0, x1 - x0, box[0] - room, box[2] + room),
        (y0, y1 - y0, box[1] - room, box[3] + room),
    ):
        if abs(way) < 1e-9:
            if not least < start < most:
                return False
            continue
        first, last = sorted(((least - start) / way, (most - start) / way))
        low, high = max(low, first), min(high, last)
    return low < high


class Table:
    """The picture's surface while tags are being set."""

    def __init__(self, frame: Frame, held: bool = False):
        self.frame, self.held = frame, held
        self.tags: list[Tag] = []
        self.taken: list[tuple[float, float, float, float]] = []
        self.shy: list[tuple[float, float, float, float]] = []

    def keep_free(self, box, lines: bool = False) -> None:
        """Nothing may be set here; with ``lines`` no line may lead across either."""
        self.taken.append(tuple(box))
        if lines:
            self.shy.append(tuple(box))

    def free(self, box) -> bool:
        """Whether a box meets nothing and lies in the picture.

        Below it may stand out: then the picture gets a margin, unless it is held.
        """
        inside = (
            box[0] >= 2
            and box[1] >= 2
            and box[2] <= self.frame.width - 2
            and (box[3] <= self.frame.height - 2 or not self.held)
        )
        return inside and not any(_meet(box, other) for other in self.taken)

    def put(self, places: Iterable[Tag]) -> Tag:
        """Set a tag at the first of its places that is free (else at the least bad)."""
        tags = list(places)
        boxes = np.array([tag.box for tag in tags])
        best = next(
            (
                tags[k]
                for k in np.flatnonzero(self._overlap(boxes, 2.0) <= 0)
                if self.free(tags[k].box) and self.clear(tags[k])
            ),
            None,
        )
        if best is None:
            best = self._least_bad(tags, self._overlap(boxes))
        self.tags.append(best)
        self.taken.append(best.box)
        return best

    def _overlap(self, boxes: np.ndarray, gap: float = 0.0) -> np.ndarray:
        """Over how much of what is taken each box lies, in square pixels."""
        taken = np.array(self.taken).reshape(-1, 4)
        low = np.maximum(boxes[:, None, :2] - gap, taken[None, :, :2])
        high = np.minimum(boxes[:, None, 2:] + gap, taken[None, :, 2:])
        return np.clip(high - low, 0.0, None).prod(-1).sum(-1)

    def _least_bad(self, tags: list[Tag], over: np.ndarray) -> Tag:
        """Little over others, and no line across words; what stands out is fixed."""
        best, least = tags[0], np.inf
        for k in np.argsort(over, kind="stable"):
            if over[k] >= least:
                break
            trouble = over[k] + (0.0 if self.clear(tags[k]) else 150.0)
            if trouble < least:
                best, least = tags[k], trouble
        return best

    def clear(self, tag: Tag) -> bool:
        """Whether the leading line of a tag crosses no other text."""
        if tag.to is None:
            return True
        way = (*tag.end, *tag.to, 1.0)
        leads = [(*other.end, *other.to) for other in self.tags if other.to is not None]
        boxes = [*self.shy, *(other.box for other in self.tags)]
        return not any(_over(box, way) for box in boxes) and not any(
            _cross(way, line) for line in leads
        )

    def overflow(self) -> tuple[float, float, float, float]:
        """Pixels by which words and lines stand out: left, top, right and bottom."""
        boxes = [tag.box for tag in self.tags]
        return (
            max(0.0, 4 - min(b[0] for b in boxes)),
            max(0.0, 4 - min(b[1] for b in boxes)),
            max(0.0, max(b[2] for b in boxes) - self.frame.width + 4),
            max(0.0, max(b[3] for b in boxes) - self.frame.height + 4),
        )
