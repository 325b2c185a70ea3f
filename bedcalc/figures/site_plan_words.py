"""Words and numbers on the plan of the plot."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from bedcalc.units import number, show, shown_in, unit_sign

from . import theme

if TYPE_CHECKING:  # names for an editor
    from ..site.bed_levels import PlacedBed, SitePlan
    from ..site.layout import Spot
    from ..site.overflow import Overflow
    from ..site.plots import Sun
    from ..site.routes import Walk

__all__ = [
    "alt_text", "arrow_down", "caption", "dig_words", "ground_words", "headings",
    "labels",
]  # fmt: skip  # a list of names

LEFT, TOP = 1.45, 1.0  # m shown left of and above the plot


_OPEN = "Not measured: taken as level"


def ground_words(plan: SitePlan, system: str) -> str:
    """How the ground falls, after the words "the ground"."""
    if not plan.measured:
        return "is not measured: taken as level"
    if not np.isfinite(plan.one_in):
        return "is level"
    return f"falls {show(plan.si.slope, 'slope', system)}, 1 in {plan.one_in:.0f}"


def _title(plan, view, walk, sun, spots, system, wet=None) -> tuple[str, str]:
    head, under = _titled(plan, view, walk, sun, spots, system, wet)
    if not plan.outlined:
        under += "; no plot outline given"
    return head, under


def _titled(plan, view, walk, sun, spots, system, wet=None) -> tuple[str, str]:
    falls = ground_words(plan, system)
    if spots is not None:
        return f"{len(spots)} beds fit", f"the ground {falls}"
    if view == "readings":
        odd = plan.suspect
        if not plan.measured:
            return _OPEN, "read at least three points, better four"
        if odd is not None and odd.doubtful:
            return (
                f"Reading {odd.index + 1} does not fit the others",
                "metres down from the datum; larger is lower",
            )
        return (
            f"The ground {falls}",
            "metres down from the datum; larger is lower",
        )
    if view == "routes" and walk is not None:
        missed = [r.name for r in walk.routes if not r.reached]
        head = "Every bed is reached from both long sides"
        if missed:
            head = f"Not reached from both sides: {', '.join(missed)}"
        return (
            head,
            f"blue: where the middle of a {show(walk.width, 'depth', system)} "
            "wide wheel gets to "
            + ("from the gate" if plan.plot.of_kind("gate") else "from the edge"),
        )
    if view == "sun" and (sun is None or not sun.beds):
        return "No hours of sun yet", "latitude, bearing or beds are not given"
    if view == "sun":
        best, worst = max(sun.beds.values()), min(sun.beds.values())
        return (
            f"{worst:.0f} to {best:.0f} hours of sun on {sun.day}",
            "clear sky, measured at the rim; grey: under 4 hours",
        )
    if view == "water" and not plan.measured:
        return _OPEN, "nobody knows which way water runs until the ground is read"
    if view == "water" and wet is not None:
        bad = [c for c in wet.checks if not c.ok]
        head = "Heavy rain leaves past the beds" if wet.free else "No way past the beds"
        if bad and wet.free:
            head = {
                "swale_room": "The swale has no room above the first bed",
                "water_house": "The swale comes too near the house",
            }.get(bad[0].name, head)
        return head, "blue: the swale; arrow: where it runs over"
    unit = "inches" if system == "us" else unit_sign("depth", system)
    if not plan.measured:
        return _OPEN, "read levels to learn how deep to dig"
    return (
        f"The ground {falls}",
        f"numbers at the corners: how deep to dig, in {unit}",
    )


def headings(
    plan: SitePlan,
    view: str,
    walk: Walk | None,
    sun: Sun | None,
    spots: Sequence[Spot] | None,
    system: str,
    wet: Overflow | None = None,
) -> list[dict]:
    """Title and the line under it."""
    return theme.heading(
        *_title(plan, view, walk, sun, spots, system, wet), x=0.0, y=1.0, shift=4
    )


def labels(
    plan: SitePlan,
    beds: Sequence[PlacedBed],
    view: str,
    sun: Sun | None,
    spots: Sequence[Spot] | None,
    scale: float,
    system: str,
    narrow: bool,
) -> list[dict]:
    """Everything written on the plan."""
    left, right, top, _ = plan.plot.bounds
    found = [*_compass(plan), *_thing_names(plan.plot, narrow)]
    for name, x0, x1, y0, y1 in beds:
        text = f"<b>{name}</b>"
        if view == "sun" and sun is not None and name in sun.beds:
            text += f"  {sun.beds[name]:.1f} h"
        found.append(
            theme.note(
                text,
                (x0 + x1) / 2,
                (y0 + y1) / 2,
                colour=theme.PAPER,
                size=theme.TITLE if not narrow else theme.TICK,
            )
        )
    if spots is None:
        if view == "depths" and scale > 15 and plan.measured:
            found += _depth_notes(plan, system, scale)
        if not narrow and view in ("depths", "routes"):
            found += [_gap_note(gap, system) for gap in plan.gaps]
    if view == "readings":
        for i, (x, y, down) in enumerate(plan.points):
            found.append(
                theme.note(
                    number(down, 2) if narrow else f"{i + 1}: <b>{number(down, 3)}</b>",
                    x,
                    y,
                    size=theme.TICK,
                    yshift=_up(plan, i, y - top),
                    xanchor="left"
                    if x < left + 0.2
                    else "right"
                    if x > right - 0.2
                    else "center",
                    bgcolor=theme.PAPER,
                )
            )
    return found


def arrow_down(wet: Overflow | None, system: str) -> list[dict]:
    """The end of the overflow, and names on swale and way."""
    if wet is None:
        return []
    left, right, top, low = wet.swale
    found = [
        theme.note("swale", (left + right) / 2, (top + low) / 2, size=theme.TICK,
                   bgcolor=theme.PAPER, borderpad=1)
    ]  # fmt: skip  # rows of a table
    if not wet.free:
        return found
    x, y = (float(v) for v in wet.way[-1])
    step = wet.way[-1] - wet.way[-2]
    dx, dy = (float(v) for v in step / np.hypot(*step))
    found.append(
        {
            "x": x,
            "y": y,
            "ax": -26 * dx,
            "ay": -26 * dy,
            "xref": "x",
            "yref": "y",
            "text": "",
            "showarrow": True,
            "arrowhead": 2,
            "arrowsize": 1.1,
            "arrowwidth": 5,
            "arrowcolor": theme.LATER,
        }
    )
    before = x > (left + right) / 2
    found.append(
        theme.note(
            "<b>overflow</b>",
            x,
            y,
            colour=theme.LATER,
            size=theme.TICK,
            xanchor="right" if before else "left",
            xshift=-12 if before else 12,
            yanchor="top" if dy >= 0 else "bottom",
            yshift=12 if dy >= 0 else -12,
            bgcolor=theme.PAPER,
            borderpad=1,
        )
    )
    return found


def _up(plan, index: int, y: float) -> int:
    """How far above its point a reading is written; more above a doubtful one."""
    odd = plan.suspect
    far = 20 if odd is not None and odd.doubtful and odd.index == index else 13
    return far if y > 0.2 else -far


def _depth_notes(plan, system, scale) -> list[dict]:
    """Depths inside the corners, or above and below a bed too narrow for two rows."""
    found = []
    for bed in plan.beds:
        flat = bed.si.width * scale < 46
        up, low = ("bottom", "top") if flat else ("top", "bottom")
        sides = (("left", up), ("right", up), ("right", low), ("left", low))
        for (x, y), dig, box, (ax, ay) in zip(
            bed.corners, bed.si.dig, bed.si.depths, sides, strict=True
        ):
            depth = dig if box >= -1e-9 else box  # below zero it stands on a block
            text = number(
                float(shown_in(depth, "depth", system)), 0 if system == "metric" else 1
            )
            found.append(
                theme.note(
                    text,
                    float(x),
                    float(y),
                    size=theme.TICK,
                    colour=theme.INK if flat else theme.PAPER,
                    xanchor=ax,
                    yanchor=ay,
                    xshift=4 if ax == "left" else -4,
                    yshift=-2 if ay == "top" else 2,
                )
            )
    return found


def _gap_note(gap, system) -> dict:
    mid, across = (gap.start + gap.end) / 2, sum(gap.at) / 2
    x, y = (across, mid) if gap.across == "x" else (mid, across)
    return theme.note(
        show(gap.width, "size", system),
        x,
        y,
        size=theme.TICK,
        bgcolor=theme.PAPER,
        borderpad=1,
    )


def _compass(plan) -> list[dict]:
    """The way down, and the way north where the bearing of the plot is known."""
    left, right, top, low = plan.plot.bounds
    down = np.array([-plan.si.slope_x, -plan.si.slope_y])
    arrows = []
    if plan.plot.downhill is not None:
        turn = np.deg2rad(plan.plot.downhill)
        north = (np.sin(turn), np.cos(turn))
        arrows.append(("N", north, theme.SECOND, left - 0.5, top + 0.35))
    if np.hypot(*down) > 1e-6:
        down = down / np.hypot(*down)
        arrows.append(("down", down, theme.LATER, right + 0.32, (top + low) / 2))
    found = []
    for text, (dx, dy), colour, x, y in arrows:
        found.append(
            {
                "x": x,
                "y": y,
                "ax": -34 * dx,
                "ay": -34 * dy,
                "xref": "x",
                "yref": "y",
                "showarrow": True,
                "arrowhead": 2,
                "arrowsize": 1.3,
                "arrowwidth": 2,
                "arrowcolor": colour,
                "text": f"<b>{text}</b>",
                "font": {"size": theme.TICK, "color": colour},
            }
        )
    return found


def _thing_names(plot, narrow) -> list[dict]:
    left, right, top, low = plot.bounds
    found = []
    for t in plot.things:
        x = float(np.clip(t.middle[0], left - LEFT + 0.25, right + 0.3))
        if t.kind == "house":
            x = (max(t.x, left - LEFT) + min(t.x + t.length, right + 0.7)) / 2
        y = float(np.clip(t.middle[1], top - TOP + 0.25, low + 0.5))
        more = {"textangle": -90} if t.kind == "house" and t.width > t.length else {}
        shift = {"tap": -15, "gate": -14, "cover": 0}.get(t.kind, 0)
        if narrow and t.kind not in ("gate", "tap"):
            continue
        if t.kind == "pipe":
            tall = t.width > t.length
            found.append(
                theme.note(
                    f"{t.name}: dig by hand",
                    x - 0.3 if tall else x,
                    y,
                    size=theme.STRIP,
                    colour=theme.FAILS,
                    textangle=-90 if tall else 0,
                )
            )
            continue
        colour = theme.PAPER if t.kind == "fence" else theme.INK
        text = t.name.replace(" cover", "")
        found.append(
            theme.note(
                text, x, y, size=theme.STRIP, colour=colour, yshift=shift, **more
            )
        )
    return found


def caption(view: str, spots: Sequence[Spot] | None, system: str) -> str:
    """What to see."""
    if spots is not None:
        return (
            "Another way to fill the plot. Every bed keeps its path; a bed on a tree "
            "or on anything else in the way would have to go."
        )
    return {
        "depths": "The arrow points down the slope. Dotted lines are contours, each "
        "10 cm lower. Paths are measured level, not along the ground.",
        "readings": "Each dot is a place where the stick stood. A larger number is "
        "lower ground.",
        "routes": "A wheel passes where its middle keeps half its width from beds, "
        "trees and edge.",
        "sun": "Yellow ground has sun most of the day. What throws shade stays where "
        "it is; the sun moves.",
        "water": "Leave the rim of the swale 5 cm lower at the start of the arrow, "
        "level and a metre wide, with stones under it. The strip stays free of beds.",
    }[view]


def alt_text(
    plan: SitePlan,
    view: str,
    walk: Walk | None,
    sun: Sun | None,
    spots: Sequence[Spot] | None,
    system: str,
    wet: Overflow | None = None,
) -> str:
    """The picture in words."""
    head, under = _title(plan, view, walk, sun, spots, system, wet)
    names = ", ".join(b.name for b in plan.beds)
    words = (
        f"Plan of {_shape(plan)} {show(plan.plot.length, 'size', system)} by "
        f"{show(plan.plot.width, 'size', system)}. {head}: {under}. "
    )
    if spots is not None:
        return words + f"{len(spots)} equal beds are drawn."
    words += f"Beds {names or 'none'}"
    if not plan.measured:
        return words + "."
    return (
        words + f"; {show(plan.si.cut, 'volume', system)} of ground to dig out in all."
    )


def _shape(plan) -> str:
    if not plan.outlined:
        return "the area that beds and readings cover,"
    if plan.plot.is_box:
        return "a plot"
    return f"a plot of {len(plan.plot.outline)} corners, in all"


def dig_words(bed: PlacedBed, corner: int, system: str, kind: str = "stock") -> str:
    """How deep to dig at a corner, or how high a block is; open if nobody measured."""
    if not bed.measured:
        return "not measured"
    depth, dig = float(bed.si.depths[corner]), float(bed.si.dig[corner])
    if depth < -1e-9:
        return f"block {show(-depth, kind, system)}"
    return show(dig, kind, system)
