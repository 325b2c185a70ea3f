"""Words and numbers on the plan of the plot."""

from __future__ import annotations

import numpy as np

from bedcalc.units import number, show, shown_in, unit_sign

from . import theme
from .drawing import Numbers

__all__ = ["alt_text", "arrow_down", "caption", "headings", "labels", "numbers"]

LEFT, TOP = 1.45, 1.0  # m shown left of and above the plot


def _title(plan, view, walk, sun, spots, system, wet=None) -> tuple[str, str]:
    falls = (
        f"falls {show(plan.si.slope, 'slope', system)}, 1 in {plan.one_in:.0f}"
        if np.isfinite(plan.one_in)
        else "is level"
    )
    if spots is not None:
        return f"{len(spots)} beds fit", f"the ground {falls}"
    if view == "readings":
        odd = plan.suspect
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
            "wide wheel gets to from the gate",
        )
    if view == "sun" and sun is not None:
        best, worst = max(sun.beds.values()), min(sun.beds.values())
        return (
            f"{worst:.0f} to {best:.0f} hours of sun on {sun.day}",
            "clear sky, measured at the rim; grey: under 4 hours",
        )
    if view == "water" and wet is not None:
        bad = [c for c in wet.checks if not c.ok]
        head = "Heavy rain leaves past the beds" if wet.free else "No way past the beds"
        if bad and wet.free:
            head = {
                "swale_room": "The swale has no room above the first row",
                "water_house": "The swale comes too near the house",
            }.get(bad[0].name, head)
        return head, "blue: the swale; arrow: where it runs over"
    unit = "inches" if system == "us" else unit_sign("depth", system)
    return (
        f"The ground {falls}",
        f"numbers at the corners: how deep to dig, in {unit}",
    )


def headings(plan, view, walk, sun, spots, system, wet=None) -> list[dict]:
    """Title and the line under it."""
    return theme.heading(
        *_title(plan, view, walk, sun, spots, system, wet), x=0.0, y=1.0, shift=4
    )


def labels(plan, beds, view, sun, spots, scale, system, narrow) -> list[dict]:
    """Everything written on the plan."""
    found = [*_compass(plan), *_thing_names(plan.yard, narrow)]
    for name, left, right, top, low in beds:
        text = f"<b>{name}</b>"
        if view == "sun" and sun is not None and name in sun.beds:
            text += f"  {sun.beds[name]:.1f} h"
        found.append(
            theme.note(
                text, (left + right) / 2, (top + low) / 2, colour=theme.PAPER,
                size=theme.TITLE if not narrow else theme.TICK,
            )
        )  # fmt: skip
    if spots is None:
        if view == "depths" and scale > 15:
            found += _depth_notes(plan, system, scale)
        if not narrow and view in ("depths", "routes"):
            found += [_gap_note(gap, system) for gap in plan.gaps]
    if view == "readings":
        for i, (x, y, down) in enumerate(plan.points):
            found.append(
                theme.note(
                    f"{i + 1}: <b>{down:.3f}</b>" if not narrow else f"{down:.2f}",
                    x, y, size=theme.TICK, yshift=_up(plan, i, y),
                    xanchor="left" if x < 0.2 else
                    "right" if x > plan.yard.length - 0.2 else "center",
                    bgcolor=theme.PAPER,
                )
            )  # fmt: skip
    return found


def arrow_down(wet, system) -> list[dict]:
    """The end of the overflow, and names on swale and way."""
    if wet is None:
        return []
    left, right, top, low = wet.swale
    found = [
        theme.note("swale", (left + right) / 2, (top + low) / 2, size=theme.TICK,
                   bgcolor=theme.PAPER, borderpad=1)
    ]  # fmt: skip
    if not wet.free:
        return found
    x, y = (float(v) for v in wet.way[-1])
    found.append(
        {
            "x": x, "y": y, "ax": 0, "ay": -26, "xref": "x", "yref": "y", "text": "",
            "showarrow": True, "arrowhead": 2, "arrowsize": 1.1, "arrowwidth": 5,
            "arrowcolor": theme.LATER,
        }
    )  # fmt: skip
    found.append(
        theme.note(
            "<b>overflow</b>", x, y, colour=theme.LATER, size=theme.TICK,
            xanchor="right" if wet.right else "left", xshift=-12 if wet.right else 12,
            yanchor="top", yshift=12, bgcolor=theme.PAPER, borderpad=1,
        )
    )  # fmt: skip
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
        for (x, y), depth, (ax, ay) in zip(
            bed.corners, bed.si.depths, sides, strict=True
        ):
            text = number(float(shown_in(depth, "depth", system)), 0 if system ==
                          "metric" else 1)  # fmt: skip
            found.append(
                theme.note(
                    text, float(x), float(y), size=theme.TICK,
                    colour=theme.INK if flat else theme.PAPER, xanchor=ax, yanchor=ay,
                    xshift=4 if ax == "left" else -4,
                    yshift=-2 if ay == "top" else 2,
                )
            )  # fmt: skip
    return found


def _gap_note(gap, system) -> dict:
    mid, across = (gap.start + gap.end) / 2, sum(gap.at) / 2
    x, y = (across, mid) if gap.across == "x" else (mid, across)
    return theme.note(
        show(gap.width, "size", system), x, y, size=theme.TICK, bgcolor=theme.PAPER,
        borderpad=1,
    )  # fmt: skip


def _compass(plan) -> list[dict]:
    """The way down, and the way north."""
    yard = plan.yard
    down = np.array([-plan.si.slope_x, -plan.si.slope_y])
    turn = np.deg2rad(yard.downhill)
    arrows = [("N", (np.sin(turn), np.cos(turn)), theme.SECOND, -0.5, 0.35)]
    if np.hypot(*down) > 1e-6:
        down = down / np.hypot(*down)
        arrows.append(("down", down, theme.LATER, yard.length + 0.32, yard.width / 2))
    found = []
    for text, (dx, dy), colour, x, y in arrows:
        found.append(
            {
                "x": x, "y": y, "ax": -34 * dx, "ay": -34 * dy, "xref": "x",
                "yref": "y", "showarrow": True, "arrowhead": 2, "arrowsize": 1.3,
                "arrowwidth": 2, "arrowcolor": colour, "text": f"<b>{text}</b>",
                "font": {"size": theme.TICK, "color": colour},
            }
        )  # fmt: skip
    return found


def _thing_names(yard, narrow) -> list[dict]:
    found = []
    for t in yard.things:
        x = float(np.clip(t.middle[0], -LEFT + 0.25, yard.length + 0.3))
        if t.kind == "house":
            x = (max(t.x, -LEFT) + min(t.x + t.length, yard.length + 0.7)) / 2
        y = float(np.clip(t.middle[1], -TOP + 0.25, yard.width + 0.5))
        more = {"textangle": -90} if t.kind == "house" and t.width > t.length else {}
        shift = {"tap": -15, "gate": -14, "cover": 0}.get(t.kind, 0)
        if narrow and t.kind not in ("gate", "tap"):
            continue
        if t.kind == "pipe":
            tall = t.width > t.length
            found.append(
                theme.note(f"{t.name}: dig by hand", x - 0.3 if tall else x, y,
                           size=theme.STRIP, colour=theme.FAILS,
                           textangle=-90 if tall else 0)
            )  # fmt: skip
            continue
        colour = theme.PAPER if t.kind == "fence" else theme.INK
        text = t.name.replace(" cover", "")
        found.append(
            theme.note(
                text, x, y, size=theme.STRIP, colour=colour, yshift=shift, **more
            )
        )
    return found


def caption(view, spots, system) -> str:
    """What to see."""
    if spots is not None:
        return (
            "Another way to fill the plot. Every bed keeps its path; a bed on the tree "
            "or on the drain cover would have to go."
        )
    return {
        "depths": "Up on the page is uphill. Dotted lines are contours, each 10 cm "
        "lower. Paths are measured level, not along the ground.",
        "readings": "Each dot is a place where the stick stood. A larger number is "
        "lower ground.",
        "routes": "A wheel passes where its middle keeps half its width from beds, "
        "tree and edge.",
        "sun": "Yellow ground has sun most of the day. Beds, hedge, school and tree "
        "stay where they are; the sun moves.",
        "water": "Leave the rim of the swale 5 cm lower at the start of the arrow, "
        "level and a metre wide, with stones under it. The strip stays free of beds.",
    }[view]


def alt_text(plan, view, walk, sun, spots, system, wet=None) -> str:
    """The picture in words."""
    head, under = _title(plan, view, walk, sun, spots, system, wet)
    names = ", ".join(b.name for b in plan.beds)
    words = (
        f"Plan of a plot {show(plan.yard.length, 'size', system)} by "
        f"{show(plan.yard.width, 'size', system)}. {head}: {under}. "
    )
    if spots is not None:
        return words + f"{len(spots)} equal beds are drawn."
    cut = show(plan.si.cut, "volume", system)
    return words + f"Beds {names}; {cut} of ground to dig out in all."


def numbers(plan, view, walk, sun, system, wet=None) -> Numbers:
    """The same as a table."""
    if view == "routes" and walk is not None:
        rows = tuple(
            (
                f"bed {r.name}", f"{100 * r.sides[0]:.0f} %",
                f"{100 * r.sides[2]:.0f} %",
                show(r.far, "size", system), show(r.hose, "size", system),
                "yes" if r.turns else "no",
            )
            for r in walk.routes
        )  # fmt: skip
        heads = ("bed", "uphill side", "downhill side", "walk from the gate",
                 "hose from the tap", "room to turn near")  # fmt: skip
        return Numbers(caption="Ways", headings=heads, rows=rows)
    if view == "water" and wet is not None:
        rows = tuple(
            (c.sentence(system), "holds" if c.ok else "fails") for c in wet.checks
        )
        return Numbers(caption="Swale and overflow", headings=("what", "verdict"),
                       rows=rows)  # fmt: skip
    if view == "sun" and sun is not None:
        rows = tuple((f"bed {k}", f"{v:.1f} h") for k, v in sun.beds.items())
        return Numbers(caption=f"Sun on {sun.day}", headings=("bed", "sun"), rows=rows)
    if view == "readings":
        rows = tuple(
            (
                str(i + 1), show(x, "size", system), show(y, "size", system),
                f"{down:.3f} m", show(off, "fine", system),
            )
            for i, ((x, y, down), off) in enumerate(
                zip(plan.points, plan.si.residuals, strict=True)
            )
        )  # fmt: skip
        heads = ("reading", "x", "y", "down from the datum", "off the plane")
        return Numbers(caption="The readings", headings=heads, rows=rows)
    rows = tuple(
        (
            f"bed {b.name}", *(show(float(d), "stock", system) for d in b.si.depths),
            show(b.si.cut, "volume", system), show(b.si.diagonal, "stock", system),
        )
        for b in plan.beds
    )  # fmt: skip
    heads = ("bed", "uphill left", "uphill right", "downhill right", "downhill left",
             "to dig out", "both diagonals")  # fmt: skip
    return Numbers(caption="How deep at each corner", headings=heads, rows=rows)
