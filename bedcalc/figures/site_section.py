"""One bed cut through: the sloping ground, its trench or blocks, the level box."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from bedcalc.model.plan_words import corner_names
from bedcalc.units import show

from . import theme
from .drawing import Drawing, Numbers
from .shapes import EMPTY, area, line, outlines, rectangle, segments
from .site_plan_words import dig_words

if TYPE_CHECKING:  # names for an editor
    from ..site.bed_levels import SitePlan

__all__ = ["section_figure"]

_WALL = 0.045
_TALL = 400.0  # px, about the most the picture is high


def _ring(*sides):
    """One rectangle as arrays."""
    return outlines([rectangle(*sides)])


def section_figure(
    plan: SitePlan,
    name: str,
    *,
    across: bool = True,
    ghost: bool = True,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw a bed in its trench, cut across or along.

    Parameters
    ----------
    plan : SitePlan
        All beds.
    name : str
        Which one.
    across : bool
        Cut across the bed; False: along it, on the side with the deepest corner.
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
    size = s.length if across == bed.turned else s.width
    first, second = _pair(bed, across)
    g0, g1, under, high = s.ground[first], s.ground[second], s.underside, s.height
    slope = (g1 - g0) / size
    wide = width or (340 if narrow else 620)
    room = 115 * size / (wide - 16 - 230)  # m at both sides for 115 px of words
    spare = max((high + 0.85) * (wide - 16) / _TALL - size - 2 * room, 0.0)
    room += spare / 2
    left, right = -room, size + room
    low = min(under - s.gravel, g0, g1, g1 + slope * room) - 0.22
    top = max(under + high, g0, g0 - slope * room) + 0.30

    def ground(x):
        return g0 + slope * x

    margin = {"l": 8, "r": 8, "t": 58, "b": 8}
    scale = (wide - 16) / (right - left)
    ghost = ghost and across and abs(slope) > 1e-3
    tilted = _tilted(size, high, slope, g0, g1) if ghost else EMPTY
    return Drawing(
        traces=(
            area(([left, right, right, left, left],
                  [ground(left), ground(right), low, low, ground(left)]),
                 theme.MATERIAL["ground"], width=0),
            line(([left, right], [ground(left), ground(right)]),
                 theme.MATERIAL["grass edge"], 4),
            area(_trench(size, ground, under - s.gravel), theme.PAPER, width=0),
            area(_ring(0, size, under - s.gravel, under) if s.gravel else EMPTY,
                 theme.MATERIAL["concrete"], width=0.6),
            area(_blocks(size, g0, g1, under), theme.MATERIAL["concrete"]),
            area(_ring(0, size, under, under + high), theme.MATERIAL["mix"]),
            area(outlines([rectangle(0, _WALL, under, under + high),
                           rectangle(size - _WALL, size, under, under + high)]),
                 theme.MATERIAL["timber"]),
            line(([0, size], [g0, g1]), theme.PAPER, 1.6, dash="dash"),
            line(tilted, theme.SECOND, 1.6, dash="dot"),
            line(([left + 0.1, right - 0.1], [under + high] * 2), theme.LATER, 1.4,
                 dash="dash"),
            line(_dims(size, g0, g1, under, s.gravel, high, 12 / scale), theme.INK,
                 1.2),
        ),
        layout=theme.base_layout(width=wide, margin=margin),
        live_layout={
            "height": (top - low) * scale + margin["t"] + margin["b"],
            "xaxis": {"range": [left, right], "visible": False, "fixedrange": True},
            "yaxis": {"range": [low, top], "visible": False, "fixedrange": True},
        },
        annotations=(
            *_headings(bed, across, system, narrow),
            *_labels(bed, (first, second), size, room, across, system),
        ),
        alt=_alt(bed, (first, second), across, system),
        caption=_caption(bed, across, bool(len(tilted[0]))),
        numbers=_numbers(bed, system),
    )  # fmt: skip  # rows of a table


def _pair(bed, across: bool) -> tuple[int, int]:
    """Which two corners the cut runs through: the side with the deepest corner."""
    depths = bed.si.depths
    down_the_page = across != bed.turned
    pairs = ((0, 3), (1, 2)) if down_the_page else ((0, 1), (3, 2))
    return max(pairs, key=lambda pair: float(np.max(depths[list(pair)])))


def _sides(bed, pair, across: bool) -> tuple[str, str]:
    """Where either end of the cut lies: on the plan, and on the slope."""
    names = ("top", "bottom") if across != bed.turned else ("left", "right")
    first, second = (float(bed.si.ground[k]) for k in pair)
    if abs(first - second) < 1e-3:
        return names
    ways = ("uphill", "downhill") if first > second else ("downhill", "uphill")
    return f"{names[0]}, {ways[0]}", f"{names[1]}, {ways[1]}"


def _trench(size, ground, under):
    """The air above the underside where ground was dug away beside the box."""
    found = []
    for x, out in ((0.0, -0.06), (size, 0.06)):
        level = ground(x + out)
        if level > under:
            found.append(
                (
                    [x, x + out, x + out, x, x, np.nan],
                    [under, under, level, ground(x), under, np.nan],
                )
            )
    return outlines(found) if found else EMPTY


def _blocks(size, g0, g1, under):
    found = []
    for x0, x1, level in ((0.0, 0.2, g0), (size - 0.2, size, g1)):
        if level < under - 1e-6:
            found.append(rectangle(x0, x1, level - 0.03, under))
    return outlines(found) if found else EMPTY


def _tilted(size, high, slope, g0, g1):
    """The box as it lay on the slope, its lower bottom edge where it will be."""
    run, way = np.hypot(1.0, slope), -1.0 if slope <= 0 else 1.0
    along, up = way * np.array([1.0, slope]) / run, np.array([-slope, 1.0]) / run
    start = np.array([size, g1]) if slope <= 0 else np.array([0.0, g0])
    ring = [start, start + size * along, start + size * along + high * up,
            start + high * up, start]  # fmt: skip  # rows of a table
    return np.array(ring)[:, 0], np.array(ring)[:, 1]


def _dims(size, g0, g1, under, gravel, high, out):
    found = []
    for x, level in ((-out, g0), (size + out, g1)):
        foot = under - gravel if level > under - 1e-9 else under
        found.append((x, foot, x, level))
        found.append((x, level, x, under + high))
        for y in (foot, level, under + high):
            found.append((x - out / 4, y, x + out / 4, y))
    return segments(found)


def _headings(bed, across, system, narrow):
    s = bed.si
    if not bed.measured:
        return theme.heading(
            f"Bed {bed.name}: not measured, taken as level",
            "read levels to learn how deep to dig",
            x=0.0,
            y=1.0,
            shift=4,
        )
    fall = show(s.fall, "depth", system)
    sloped = across and s.shift > 5e-4
    head = f"Bed {bed.name}: level rim, uneven wall"
    if not across:
        head = f"Bed {bed.name}, along its long side"
    elif not sloped:
        head = f"Bed {bed.name}, across"
    under = f"{fall} between its highest and its lowest corner"
    if sloped:
        far = show(s.shift, "stock", system)
        under = f"before it was let in, its rim lay {far} farther downhill"
        if narrow:
            under = f"before, its rim lay {far} downhill"
    return theme.heading(head, under, x=0.0, y=1.0, shift=4)


def _labels(bed, pair, size, room, across, system) -> list[dict]:
    s = bed.si
    found = []
    sides = ((pair[0], 0.0, "right", -17), (pair[1], size, "left", 17))
    for corner, x, anchor, shift in sides:
        level = float(s.ground[corner])
        if bed.measured:
            y = (level + s.underside) / 2
            words = dig_words(bed, corner, system)
            text = f"dig <b>{words}</b>"
            if words.startswith("block "):
                text = f"block <b>{words.removeprefix('block ')}</b>"
            found.append(
                theme.note(
                    text,
                    x,
                    y,
                    xanchor=anchor,
                    xshift=shift,
                    bgcolor=theme.PAPER,
                    borderpad=1,
                )
            )
            wall = show(float(s.exposed[corner]), "stock", system)
            found.append(
                theme.note(
                    f"wall <b>{wall}</b>",
                    x,
                    level + s.exposed[corner] / 2,
                    xanchor=anchor,
                    xshift=shift,
                )
            )
    rim = s.underside + s.height
    found.append(
        theme.note(
            "level",
            size / 2,
            rim,
            colour=theme.LATER,
            yanchor="bottom",
            yshift=2,
            bgcolor=theme.PAPER,
        )
    )
    names = _sides(bed, pair, across)
    for text, x, anchor in (
        (names[0], -room, "left"),
        (names[1], size + room, "right"),
    ):
        found.append(
            theme.note(text, x, rim + 0.24, colour=theme.SECOND, xanchor=anchor)
        )
    return found


def _caption(bed, across, ghost) -> str:
    words = (
        "The rim is level and the ground is not, so one side shows more wall. "
        if bed.si.fall > 1e-3
        else "The rim and the ground are level, so the wall looks even. "
    )
    if not bed.measured:
        words = "The ground is not measured and is taken as level. "
    words += "White dashes: the ground as it was."
    if ghost:
        words += " Grey dots: the box before it was let in."
    if bed.si.gravel:
        words += " Under the box lies the gravel; the trench is deeper by it."
    return words


def _alt(bed, pair, across, system) -> str:
    if not bed.measured:
        return (
            f"Section through bed {bed.name}. The ground is not measured and is taken "
            "as level; how deep to dig is open."
        )
    words = []
    for side, corner in zip(_sides(bed, pair, across), pair, strict=True):
        dig = dig_words(bed, corner, system)
        how = "it stands on a " if dig.startswith("block") else "the trench is "
        wall = show(float(bed.si.exposed[corner]), "stock", system)
        words.append(f"{side}: {how}{dig}, and {wall} of wall shows")
    return f"Section through bed {bed.name} on its ground. {'; '.join(words)}."


def _numbers(bed, system) -> Numbers:
    s = bed.si
    rows = tuple(
        (
            name,
            dig_words(bed, k, system),
            show(float(s.exposed[k]), "stock", system) if bed.measured else "open",
        )
        for k, name in enumerate(corner_names(s.depths))
    )
    if bed.measured:
        rows += (
            ("rim moves uphill when made level", show(s.shift, "stock", system), ""),
            ("ground to dig out", show(s.cut, "volume", system), ""),
            ("the same as strips under the walls", show(s.strip, "volume", system), ""),
        )
    return Numbers(
        caption=f"Bed {bed.name}",
        headings=("corner", "dig", "wall above the ground"),
        rows=rows,
    )
