"""Words on the picture: how wide they are, and where they find room.

A tag knows its box in pixels. Tags are set one after the other, the important ones
first; each takes the first of its places that is free.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property, lru_cache

from bedcalc.figures import theme

from .camera import Frame

__all__ = ["Tag", "Table", "text_size"]

_LINE = 1.28
_SEAM = "rgba(255,255,255,0.75)"
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

    ``to`` is a point to lead to with a line, in pixels; ``on_paper`` puts white
    behind the text.
    """

    text: str
    x: float
    y: float
    to: tuple[float, float] | None = None
    start: str = "left"
    size: int = theme.LABEL
    colour: str = theme.INK
    on_paper: bool = False
    dot: bool = True

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom."""
        wide, high = text_size(self.text, self.size)
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
        x = {"left": left - 3, "right": right + 3}.get(self.start, self.x)
        y = {"top": top, "bottom": bottom}.get(self.start, self.y)
        return x, y

    def annotations(self, frame: Frame) -> list[dict]:
        """The text, and its leading line, measured from the picture's middle."""
        left, _, right, _ = self.box
        common = {"xref": "paper", "yref": "paper", "x": 0.5, "y": 0.5}
        found = []
        if self.to is not None:
            x, y = self.end
            way = {
                **common,
                "xshift": round(self.to[0] - frame.width / 2, 1),
                "yshift": round(frame.height / 2 - self.to[1], 1),
                "ax": round(x - self.to[0], 1),
                "ay": round(y - self.to[1], 1),
                "text": "",
                "showarrow": True,
                "arrowhead": 6 if self.dot else 0,
            }
            # a white seam on both sides keeps the line legible on dark soil
            for width, head, colour in ((2.6, 0.5, _SEAM), (1, 0.8, theme.INK)):
                found.append(
                    way | {"arrowwidth": width, "arrowsize": head, "arrowcolor": colour}
                )
        anchor = {"left": left, "right": right}.get(self.start, self.x)
        align = self.start if self.start in ("left", "right") else "center"
        found.append(
            {
                **common,
                "xshift": round(anchor - frame.width / 2, 1),
                "yshift": round(frame.height / 2 - self.y, 1),
                "xanchor": align,
                "yanchor": "middle",
                "align": align,
                "text": self.text,
                "showarrow": False,
                "font": {"size": self.size, "color": self.colour},
                "borderpad": 1,
                "bgcolor": theme.PAPER if self.on_paper else "rgba(0,0,0,0)",
            }
        )
        return found


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
        self.lines: list[tuple] = []

    def keep_free(self, box) -> None:
        """Nothing may be set here."""
        self.taken.append(tuple(box))

    def keep_line_free(self, a, b, room: float = 3.0) -> None:
        """Nothing may be set over the line from a to b (pixels), nor lead across."""
        self.lines.append((*map(float, a), *map(float, b), room))

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
        return (
            inside
            and not any(_meet(box, other) for other in self.taken)
            and not any(_over(box, line) for line in self.lines)
        )

    def put(self, places: Iterable[Tag]) -> Tag:
        """Set a tag at the first of its places that is free (else at the least bad)."""
        tried = []
        for best in places:
            if self.free(best.box) and self.clear(best):
                break
            tried.append(best)
        else:
            best = min(tried, key=self._trouble)
        self.tags.append(best)
        self.taken.append(best.box)
        return best

    def clear(self, tag: Tag) -> bool:
        """Whether the leading line of a tag crosses no other text."""
        if tag.to is None:
            return True
        way = (*tag.end, *tag.to, 1.0)
        return not any(_over(other.box, way) for other in self.tags) and not any(
            _cross(way, line) for line in self.lines
        )

    def _trouble(self, tag: Tag) -> float:
        """How much of a tag lies over others; what stands out is fixed later."""
        box, total = tag.box, 0.0 if self.clear(tag) else 150.0
        for other in self.taken:
            wide = min(box[2], other[2]) - max(box[0], other[0])
            high = min(box[3], other[3]) - max(box[1], other[1])
            total += max(wide, 0) * max(high, 0)
        return total

    def overflow(self) -> tuple[float, float, float, float]:
        """Pixels by which words and lines stand out: left, top, right and bottom."""
        boxes = [tag.box for tag in self.tags]
        boxes += [
            (min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))
            for x0, y0, x1, y1, _ in self.lines
        ]
        return (
            max(0.0, 4 - min(b[0] for b in boxes)),
            max(0.0, 4 - min(b[1] for b in boxes)),
            max(0.0, max(b[2] for b in boxes) - self.frame.width + 4),
            max(0.0, max(b[3] for b in boxes) - self.frame.height + 4),
        )
