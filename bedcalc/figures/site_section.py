"""One bed cut through: the sloping ground, its trench or blocks, the level box."""

from __future__ import annotations

import numpy as np

from bedcalc.units import show

from . import theme
from .drawing import Drawing, Numbers
from .shapes import EMPTY, area, line, outlines, rectangle, segments

__all__ = ["section_figure"]

_WALL = 0.045
_TALL = 400.0  # px, about the most the picture is high


def _ring(*sides):
    """One rectangle as arrays."""
    return outlines([rectangle(*sides)])


def section_figure(
    plan, name: str, *, across: bool = True, ghost: bool = True, system: str = "metric",
    narrow: bool = False, width: float | None = None,
) -> Drawing:  # fmt: skip
    """Draw a bed in its trench, cut across or along.

    Parameters
    ----------
    plan : SitePlan
        All beds.
    name : str
        Which one.
    across : bool
        Cut down the slope; False: along the contour, on the uphill side.
    ghost : bool
        Draw the box as it lay on the slope before.
    system : str
        ``"metric"`` or ``"us"``.
    narrow : bool
        For a narrow page.
    width : float or None
        Pixels it will be shown at.

    Returns
    -------
    Drawing
    """
    bed = plan[name]
    s = bed.si
    size = s.width if across else s.length
    first, second = _pair(bed, across)
    g0, g1, under, high = s.ground[first], s.ground[second], s.underside, s.height
    slope = (g1 - g0) / size
    wide = width or (340 if narrow else 620)
    room = 115 * size / (wide - 16 - 230)  # m at both sides for 115 px of words
    spare = max((high + 0.85) * (wide - 16) / _TALL - size - 2 * room, 0.0)
    room += spare / 2
    left, right = -room, size + room
    low = min(under, g0, g1, g1 + slope * room) - 0.22
    top = max(under + high, g0, g0 - slope * room) + 0.30

    def ground(x):
        return g0 + slope * x

    margin = {"l": 8, "r": 8, "t": 58, "b": 8}
    scale = (wide - 16) / (right - left)
    tilted = _tilted(size, high, slope, g1) if ghost and across else EMPTY
    return Drawing(
        traces=(
            area(([left, right, right, left, left],
                  [ground(left), ground(right), low, low, ground(left)]),
                 theme.MATERIAL["ground"], width=0),
            line(([left, right], [ground(left), ground(right)]),
                 theme.MATERIAL["grass edge"], 4),
            area(_trench(size, ground, under), theme.PAPER, width=0),
            area(_blocks(size, g0, g1, under), theme.MATERIAL["concrete"]),
            area(_ring(0, size, under, under + high), theme.MATERIAL["mix"]),
            area(outlines([rectangle(0, _WALL, under, under + high),
                           rectangle(size - _WALL, size, under, under + high)]),
                 theme.MATERIAL["timber"]),
            line(([0, size], [g0, g1]), theme.PAPER, 1.6, dash="dash"),
            line(tilted, theme.SECOND, 1.6, dash="dot"),
            line(([left + 0.1, right - 0.1], [under + high] * 2), theme.LATER, 1.4,
                 dash="dash"),
            line(_dims(size, g0, g1, under, high, 12 / scale), theme.INK, 1.2),
        ),
        layout=theme.base_layout(width=wide, margin=margin),
        live_layout={
            "height": (top - low) * scale + margin["t"] + margin["b"],
            "xaxis": {"range": [left, right], "visible": False, "fixedrange": True},
            "yaxis": {"range": [low, top], "visible": False, "fixedrange": True},
        },
        annotations=(
            *_headings(bed, across, system, narrow),
            *_labels(bed, first, second, size, room, across, system),
        ),
        alt=_alt(bed, first, second, across, system),
        caption=_caption(across, bool(len(tilted[0]))),
        numbers=_numbers(bed, system),
    )  # fmt: skip


def _pair(bed, across: bool) -> tuple[int, int]:
    """Which two corners the cut runs through: the side with the deepest corner."""
    depths = bed.si.depths
    pairs = ((0, 3), (1, 2)) if across else ((0, 1), (3, 2))
    return max(pairs, key=lambda pair: float(np.max(depths[list(pair)])))


def _trench(size, ground, under):
    """The air above the underside where ground was dug away beside the box."""
    found = []
    for x, out in ((0.0, -0.06), (size, 0.06)):
        level = ground(x + out)
        if level > under:
            found.append(
                ([x, x + out, x + out, x, x, np.nan],
                 [under, under, level, ground(x), under, np.nan])
            )  # fmt: skip
    return outlines(found) if found else EMPTY


def _blocks(size, g0, g1, under):
    found = []
    for x0, x1, level in ((0.0, 0.2, g0), (size - 0.2, size, g1)):
        if level < under - 1e-6:
            found.append(rectangle(x0, x1, level - 0.03, under))
    return outlines(found) if found else EMPTY


def _tilted(size, high, slope, foot):
    """The box as it lay on the slope, its lower bottom edge where it will be."""
    run = np.hypot(1.0, slope)
    along, up = np.array([-1.0, -slope]) / run, np.array([-slope, 1.0]) / run
    start = np.array([size, foot])
    ring = [start, start + size * along, start + size * along + high * up,
            start + high * up, start]  # fmt: skip
    return np.array(ring)[:, 0], np.array(ring)[:, 1]


def _dims(size, g0, g1, under, high, out):
    found = []
    for x, level in ((-out, g0), (size + out, g1)):
        found.append((x, under, x, level))
        found.append((x, level, x, under + high))
        for y in (under, level, under + high):
            found.append((x - out / 4, y, x + out / 4, y))
    return segments(found)


def _headings(bed, across, system, narrow):
    s = bed.si
    fall = show(s.fall, "depth", system)
    if across:
        head = f"Bed {bed.name}: level rim, uneven wall"
    else:
        head = f"Bed {bed.name}, along the contour"
    under = f"{fall} between its highest and its lowest corner"
    if across:
        far = show(s.shift, "stock", system)
        under = f"before it was let in, its rim lay {far} farther downhill"
        if narrow:
            under = f"before, its rim lay {far} downhill"
    return theme.heading(head, under, x=0.0, y=1.0, shift=4)


def _labels(bed, first, second, size, room, across, system) -> list[dict]:
    s = bed.si
    found = []
    sides = ((first, 0.0, "right", -17), (second, size, "left", 17))
    for corner, x, anchor, shift in sides:
        depth, level = float(s.depths[corner]), float(s.ground[corner])
        word = "dig" if depth >= 0 else "block"
        y = (level + s.underside) / 2
        text = f"{word} <b>{show(abs(depth), 'stock', system)}</b>"
        found.append(
            theme.note(text, x, y, xanchor=anchor, xshift=shift, bgcolor=theme.PAPER,
                       borderpad=1)
        )  # fmt: skip
        wall = show(float(s.exposed[corner]), "stock", system)
        found.append(
            theme.note(f"wall <b>{wall}</b>", x, level + s.exposed[corner] / 2,
                       xanchor=anchor, xshift=shift)
        )  # fmt: skip
    rim = s.underside + s.height
    found.append(
        theme.note("level", size / 2, rim, colour=theme.LATER, yanchor="bottom",
                   yshift=2, bgcolor=theme.PAPER)
    )  # fmt: skip
    for text, x, anchor in (
        ("uphill" if across else "left", -room, "left"),
        ("downhill" if across else "right", size + room, "right"),
    ):
        found.append(
            theme.note(text, x, rim + 0.24, colour=theme.SECOND, xanchor=anchor)
        )
    return found


def _caption(across, ghost) -> str:
    words = (
        "The rim is level and the ground is not, so one side shows more wall. "
        if across
        else "Along the contour the ground falls little, so the wall looks even. "
    )
    words += "White dashes: the ground as it was."
    if ghost:
        words += " Grey dots: the box before it was let in."
    return words


def _alt(bed, first, second, across, system) -> str:
    s = bed.si
    sides = ("uphill", "downhill") if across else ("left", "right")
    words = []
    for side, corner in zip(sides, (first, second), strict=True):
        depth = float(s.depths[corner])
        how = "let in" if depth >= 0 else "on a block of"
        wall = show(float(s.exposed[corner]), "stock", system)
        words.append(
            f"{side} it is {how} {show(abs(depth), 'stock', system)} and shows {wall} "
            "of wall"
        )
    return f"Section through bed {bed.name} on sloping ground: {'; '.join(words)}."


def _numbers(bed, system) -> Numbers:
    s = bed.si
    names = ("uphill left", "uphill right", "downhill right", "downhill left")
    rows = tuple(
        (name, show(float(d), "stock", system), show(float(e), "stock", system))
        for name, d, e in zip(names, s.depths, s.exposed, strict=True)
    )
    rows += (
        ("rim moves uphill when made level", show(s.shift, "stock", system), ""),
        ("ground to dig out", show(s.cut, "volume", system), ""),
        ("the same as strips under the walls", show(s.strip, "volume", system), ""),
    )
    return Numbers(
        caption=f"Bed {bed.name}", headings=("corner", "dig", "wall above the ground"),
        rows=rows,
    )  # fmt: skip
