"""A picture as flat shapes in pixels, and its text as SVG."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from html import escape
from itertools import pairwise

import numpy as np

from bedcalc.figures import theme
from bedcalc.figures.drawing import Numbers

__all__ = ["Dot", "Path", "Picture2D", "Sign", "Words"]

_BOLD = re.compile(r"(</?b>)")
#: 3 px of the colour of failing in every 8.5, at 45 degrees; tenths of a pixel
_STRIPES = (
    '<pattern id="bc-fails" width="85" height="85" patternUnits="userSpaceOnUse" '
    f'patternTransform="rotate(45)"><rect width="32" height="85" fill="{theme.FAILS}"/>'
    "</pattern>"
)


@dataclass(frozen=True, slots=True)
class Path:
    """Rings of points (n, 2) in px, filled, outlined, or both; open without a fill."""

    rings: tuple[np.ndarray, ...]
    fill: str = ""
    line: float = 0.0
    ink: str = ""
    dash: str = ""


@dataclass(frozen=True, slots=True)
class Words:
    """Lines of text from x, y, the middle of the first; ``<b>`` makes bold."""

    text: str
    x: float
    y: float
    size: int = theme.LABEL
    colour: str = theme.INK
    anchor: str = "start"


@dataclass(frozen=True, slots=True)
class Dot:
    """A hollow dot on a part."""

    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Sign:
    """The sign of a verdict; told apart by its shape as well as by its colour."""

    verdict: str
    x: float
    y: float


@dataclass(frozen=True, kw_only=True)
class Picture2D:
    """One picture as data: shapes from back to front, then what is written on it."""

    width: int
    height: int
    shapes: tuple[Path, ...]
    notes: tuple[Words | Dot | Sign, ...] = field(default=())
    alt: str = ""
    caption: str = ""
    numbers: Numbers = Numbers(caption="", headings=(), rows=())

    @property
    def said(self) -> list[str]:
        """Everything that is written on the picture."""
        return [note.text for note in self.notes if isinstance(note, Words)]

    def svg(self) -> str:
        """The picture as SVG: as wide as there is room, up to its own width."""
        notes = "".join(_note(note) for note in self.notes)
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="bc-svg" role="img" '
            f'aria-label="{escape(self.alt, quote=True)}" '
            f'viewBox="0 0 {self.width} {self.height}" width="{self.width}" '
            f'height="{self.height}" style="max-width:100%;height:auto;display:block;'
            f'background:{theme.PAPER}"><defs>{_STRIPES}</defs>'
            f'<g transform="scale(.1)" stroke-linejoin="round">'
            f"{_paths(self.shapes)}</g>"
            f'<g font-family="{theme.FAMILY}" '
            f'style="font-variant-numeric:tabular-nums">{notes}</g></svg>'
        )


def _paths(shapes: tuple[Path, ...]) -> str:
    """All paths in tenths of a pixel, whole numbers: short, and quick to write."""
    rings = [ring for shape in shapes for ring in shape.rings]
    if not rings:
        return ""
    ends = np.cumsum([0, *(2 * len(ring) for ring in rings)]).tolist()
    whole = np.rint(10 * np.concatenate(rings)).astype(int).ravel().tolist()
    numbers = list(map(str, whole))
    runs = [" ".join(numbers[a:b]) for a, b in pairwise(ends)]
    found, at = [], 0
    for shape in shapes:
        mine = runs[at : at + len(shape.rings)]
        at += len(mine)
        close = "Z" if shape.fill else ""
        style = f'fill="{shape.fill or "none"}"'
        if shape.line:
            style += f' stroke="{shape.ink}" stroke-width="{10 * shape.line:.0f}"'
        if shape.dash:
            dash = " ".join(f"{10 * float(d):.0f}" for d in shape.dash.split())
            style += f' stroke-dasharray="{dash}"'
        found.append(f'<path d="{"".join(f"M{run}{close}" for run in mine)}" {style}/>')
    return "".join(found)


def _note(note) -> str:
    if isinstance(note, Dot):
        return (
            f'<circle cx="{note.x:.1f}" cy="{note.y:.1f}" r="3" fill="{theme.PAPER}" '
            f'stroke="{theme.INK}" stroke-width="1.2"/>'
        )
    if isinstance(note, Sign):
        return _sign(note)
    found, lines = [], note.text.split("<br>")
    for k, line in enumerate(lines):
        bold, spans = False, []
        for part in _BOLD.split(line):
            if part in ("<b>", "</b>"):
                bold = part == "<b>"
            elif part:
                weight = ' font-weight="700"' if bold else ""
                spans.append(f"<tspan{weight}>{escape(part)}</tspan>")
        y = note.y + (1.28 * k + 0.36) * note.size
        found.append(
            f'<text x="{note.x:.1f}" y="{y:.1f}" '
            f'font-size="{note.size}" fill="{note.colour}" text-anchor="{note.anchor}" '
            f'paint-order="stroke" stroke="{theme.PAPER}" stroke-width="3" '
            f'stroke-linejoin="round">{"".join(spans)}</text>'
        )
    return "".join(found)


def _sign(sign: Sign) -> str:
    """A disc with a tick, an outlined box with "!", a square with a cross."""
    x, y, colour = sign.x, sign.y, theme.VERDICT[sign.verdict]
    if sign.verdict == "holds":
        return (
            f'<circle cx="{x:.1f}" cy="{y:.1f}" r="7.5" fill="{colour}"/>'
            f'<path d="M{x - 3.6:.1f} {y + 0.2:.1f}l2.6 2.7 4.6 -5.6" fill="none" '
            f'stroke="{theme.PAPER}" stroke-width="1.8"/>'
        )
    box = f'x="{x - 7:.1f}" y="{y - 7:.1f}" width="14" height="14" rx="1.5"'
    if sign.verdict == "watch":
        return (
            f'<rect {box} fill="{theme.PAPER}" stroke="{colour}" stroke-width="1.8"/>'
            f'<path d="M{x:.1f} {y - 4:.1f}v4.6M{x:.1f} {y + 2.6:.1f}v1.8" '
            f'stroke="{colour}" stroke-width="2"/>'
        )
    return (
        f'<rect {box} fill="{colour}"/>'
        f'<path d="M{x - 3:.1f} {y - 3:.1f}l6 6m0 -6l-6 6" '
        f'stroke="{theme.PAPER}" stroke-width="2"/>'
    )
