"""Pictures of the size: a person at the bed, outlines side by side, what it costs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from bedcalc.units import show, shown_in, sign_after, unit_sign

from . import theme
from .drawing import Drawing, Numbers
from .shapes import EMPTY, area, line, marks, outlines, rectangle, segments

if TYPE_CHECKING:  # names for an editor
    from ..model.bed import Bed
    from ..questions.size_plan import OutlinePrice, Sizes
    from ..size.plan import Posture, Shapes

__all__ = ["cost_curve", "outlines_figure", "posture_figure"]

_TALL = 400.0  # px, the most a picture of a person is high
_NAMES = {
    "box": "box",
    "L": "L",
    "U": "U",
    "keyhole": "keyhole",
    "hexagon": "hexagon",
}


def _ring(*sides):
    """One rectangle as arrays."""
    return outlines([rectangle(*sides)])


def _body(p, x_wall: float):
    """Joints of a person with a hand on the soil: hip, shoulder, palm, head."""
    s = p.si
    tall, bend = s.stature, s.bend if np.isfinite(s.bend) else np.pi / 2
    hip = np.array([0.0, 0.530 * tall])
    trunk = 0.288 * tall
    shoulder = hip + trunk * np.array([np.sin(bend), np.cos(bend)])
    head = shoulder + 0.12 * tall * np.array([np.sin(bend * 0.7), np.cos(bend * 0.7)])
    arm = 0.39 * tall
    drop = min(shoulder[1] - s.soil, arm)
    hand = np.array([shoulder[0] + np.sqrt(max(arm**2 - drop**2, 0)), s.soil])
    if shoulder[1] - s.soil > arm:
        hand = shoulder + [0, -arm]
    back = x_wall - 0.14 - max(hip[0], 0)
    shift = np.array([back, 0.0])
    return [point + shift for point in (hip, shoulder, hand, head)]


def _sitter(p, x_wall: float):
    """Joints of a person on wheels beside the bed, seen from behind."""
    s = p.si
    hip = np.array([x_wall - 0.36, 0.50])
    shoulder = hip + [0.04, 0.288 * 1.65]
    hand = np.array([x_wall + min(s.into * 0.5, 0.3), s.soil])
    return [hip, shoulder, hand, shoulder + [0.03, 0.2]]


def _chair(hip):
    """Two wheels and a seat, seen from behind."""
    x = hip[0]
    return outlines(
        [
            rectangle(x - 0.31, x - 0.26, 0, 0.62),
            rectangle(x + 0.26, x + 0.31, 0, 0.62),
            rectangle(x - 0.26, x + 0.26, 0.40, 0.46),
        ]
    )


def posture_figure(
    p: Posture,
    bed: Bed,
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw a person at a bed cut across, and how far the hands reach.

    Parameters
    ----------
    p : Posture
        The person and the bed.
    bed : Bed
        For its width and walls.
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
    s, b = p.si, bed.si
    wide = width or (340 if narrow else 720)
    w, t, rim, soil = float(b.width), float(b.wall_thickness), s.rim, s.soil
    cap = bed.wall.si.cap_out
    legs = rim - float(b.soil_depth) if bed.soil_depth is not None else 0.0
    floor = max(legs, 0.0)
    top = max(s.stature + 0.16, rim + 0.4)
    left, right = -0.95, w + (0.75 if narrow else 0.55)
    spare = max((top + 0.14) * (wide - 20) / _TALL - (right - left), 0.0)
    left, right = left - spare / 2, right + spare / 2
    seated = bed.person_kind == "seated"
    hip, shoulder, hand, head = (_sitter if seated else _body)(p, -cap)
    foot = 0.02 if not seated else hip[1] - 0.05
    turn = np.linspace(0, 2 * np.pi, 33)
    r = 0.062 * s.stature
    reached = min(s.into, float(b.inside_width))
    zones = [rectangle(t, t + reached, soil - 0.07, soil)]
    if bed.sides == "both":
        zones.append(rectangle(w - t - reached, w - t, soil - 0.07, soil))
    miss = EMPTY
    if s.unreached > 1e-6:
        ends = (
            (t + reached, w - t - reached)
            if bed.sides == "both"
            else (t + reached, w - t)
        )
        miss = _ring(*ends, soil - 0.07, soil)
    thick = 24 if not narrow else 15
    scale = (wide - 20) / (right - left)
    legs_x = [rectangle(0, 0.07, 0, floor), rectangle(w - 0.07, w, 0, floor)]
    knee = _ring(0.08, w - 0.08, 0, 0.685) if bed.person_kind == "seated" else EMPTY
    lean = np.rad2deg(s.bend) if np.isfinite(s.bend) else np.nan
    head_words = "Upright, no bending" if lean < 3 else f"The back leans {lean:.0f}°"
    if seated:
        head_words = "Working from the side, sitting"
    elif not np.isfinite(lean):
        head_words = "Hands do not reach the soil without kneeling"
    return Drawing(
        traces=(
            area(_ring(left, right, -0.14, 0), theme.MATERIAL["ground"], width=0),
            area(_chair(hip) if seated else EMPTY, theme.MATERIAL["steel"]),
            line(knee, theme.LATER, 1.6, dash="dash"),
            area(outlines(legs_x) if floor > 0.01 else EMPTY, theme.MATERIAL["timber"]),
            area(_ring(t, w - t, floor, soil), theme.MATERIAL["mix"]),
            area(outlines([rectangle(0, t, floor, rim),
                           rectangle(w - t, w, floor, rim)]),
                 theme.MATERIAL["timber"]),
            area(outlines([rectangle(-cap, t + 0.01, rim - 0.022, rim),
                           rectangle(w - t - 0.01, w + cap, rim - 0.022, rim)])
                 if bed.wall.si.cap_wide > 0 else EMPTY, theme.MATERIAL["timber"]),
            area(outlines(zones), theme.MATERIAL["topdressing"]),
            area(miss, theme.FAILS),
            line(([hip[0], hip[0]], [foot, hip[1]]), theme.MATERIAL["person"], thick),
            line(([hip[0], shoulder[0]], [hip[1], shoulder[1]]),
                 theme.MATERIAL["person"], thick * 1.25),
            line(([shoulder[0], hand[0]], [shoulder[1], hand[1]]), theme.CONTROL,
                 thick * 0.5),
            area((head[0] + r * np.cos(turn), head[1] + r * np.sin(turn)),
                 theme.MATERIAL["person"], width=0),
            line(EMPTY if seated else ([left + 0.05, right - 0.05], [s.clear] * 2),
                 theme.LATER, 1.4, dash="dash"),
            line(segments([(w + 0.2, 0, w + 0.2, rim), (w + 0.16, 0, w + 0.24, 0),
                           (w + 0.16, rim, w + 0.24, rim)]), theme.INK, 1.2),
        ),
        layout=theme.base_layout(width=wide,
                                 margin={"l": 10, "r": 10, "t": 58, "b": 6}),
        live_layout={
            "height": (top + 0.14) * scale + 64,
            "xaxis": {"range": [left, right], "visible": False, "fixedrange": True},
            "yaxis": {"range": [-0.14, top], "visible": False, "fixedrange": True},
        },
        annotations=(
            *theme.heading(head_words, _under(p, system, narrow), shift=2),
            *([] if seated else [
                theme.note(f"no bending above {show(s.clear, 'depth', system)}",
                           left + 0.05, s.clear, colour=theme.LATER, xanchor="left",
                           yanchor="bottom", yshift=2, size=theme.TICK,
                           bgcolor=theme.PAPER)]),
            theme.note(f"rim {show(rim, 'depth', system)}", w + 0.24, rim / 2,
                       xanchor="left", xshift=4),
            *([theme.note("<b>knee space</b>", w / 2, 0.3, colour=theme.LATER)]
              if len(knee[0]) else []),
        ),
        alt=f"A person {show(s.stature, 'size', system)} tall by a bed with its rim at "
        f"{show(rim, 'depth', system)}. {head_words}. {_under(p, system)}.",
        caption="Straight legs, a straight back, a hanging arm. Pale yellow: soil one "
        "can reach. Red: soil nobody reaches.",
        numbers=_posture_numbers(p, system),
    )  # fmt: skip  # rows of a table


def _under(p, system, narrow=False) -> str:
    s = p.si
    into = show(s.into, "depth", system)
    if s.unreached > 1e-6:
        miss = show(s.unreached, "depth", system)
        if narrow:
            return f"{miss} stay out of reach"
        return f"hands reach {into} in from the wall; {miss} stay out of reach"
    if narrow:
        return "all of the soil is in reach"
    return f"hands reach {into} in from the wall: all of the soil"


def _posture_numbers(p, system) -> Numbers:
    rows = [
        (show(float(h), "depth", system), f"{b:.0f}°" if np.isfinite(b) else "kneel")
        for h, b in zip(p.heights[::10], p.bends[::10], strict=True)
    ]
    return Numbers(
        caption="Lean of the back by height of the soil",
        headings=("soil at", "lean"),
        rows=tuple(rows),
    )


def outlines_figure(
    shapes: Shapes,
    *,
    prices: Sequence[OutlinePrice] = (),
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Five outlines of one outside size, with the ground one reaches in each.

    Parameters
    ----------
    shapes : Shapes
        The outlines compared.
    prices : sequence of OutlinePrice
        What each costs about, or none.
    system : str
        ``"metric"`` or ``"us"``.
    narrow : bool
        Two in a row.
    width : float or None
        Pixels it will be shown at.

    Returns
    -------
    Drawing
    """
    wide = width or (340 if narrow else 900)
    box = shapes.outlines[0].ring.max(axis=0)
    row = 2 if narrow else 5
    scale = (wide - 20) / (row * (box[0] + 0.5))
    head, foot = (
        30 / scale,
        (84 if prices else 66) / scale,
    )  # m for the words above and below
    step = (box[0] + 0.5, box[1] + head + foot)
    rows = -(-len(shapes.outlines) // row)
    near, far, edge, notes = [], [], [], []
    each = [_for_area(p.each, system) for p in prices]
    for i, o in enumerate(shapes.outlines):
        at = np.array([(i % row) * step[0], (i // row) * step[1]])
        for into, points in ((near, o.points[o.near]), (far, o.points[~o.near])):
            into += _runs(points + at)
        ring = np.vstack([o.ring, o.ring[:1]]) + at
        edge.append(([*ring[:, 0], np.nan], [*ring[:, 1], np.nan]))
        notes += [
            theme.note(f"<b>{_NAMES[o.kind]}</b>", at[0] + box[0] / 2, at[1],
                       yshift=14),
            theme.note(
                f"{show(o.area, 'area', system)}<br>"
                f"{100 * o.reached:.0f} % in reach<br>"
                f"wall {show(o.perimeter, 'size', system)}"
                + (f"<br>about {each[i]}" if prices else ""),
                at[0] + box[0] / 2, at[1] + box[1], size=theme.TICK,
                yanchor="top", yshift=-4,
            ),
        ]  # fmt: skip  # rows of a table
    span = (-0.25, row * step[0] - 0.25)
    high = rows * step[1]
    best = max(shapes.outlines, key=lambda o: o.area * o.reached)
    return Drawing(
        traces=(
            area(outlines(near) if near else EMPTY, theme.MATERIAL["topdressing"],
                 width=0),
            area(outlines(far) if far else EMPTY, theme.FAILS, width=0),
            line(outlines(edge), theme.EDGE, 2.2),
        ),
        layout=theme.base_layout(width=wide,
                                 margin={"l": 10, "r": 10, "t": 56, "b": 4}),
        live_layout={
            "height": high * scale + 60,
            "xaxis": {"range": list(span), "visible": False, "fixedrange": True},
            "yaxis": {"range": [high - head, -head], "visible": False,
                      "fixedrange": True},
        },
        annotations=(
            *theme.heading(
                f"Most ground in reach: {_NAMES[best.kind]}",
                f"same outside size; hands reach {show(shapes.reach, 'depth', system)}",
            ),
            *notes,
        ),
        alt="Five outlines of one outside size. "
        + "; ".join(
            f"{_NAMES[o.kind]}: {show(o.area, 'area', system)}, "
            f"{100 * o.reached:.0f} % in reach" for o in shapes.outlines
        ) + ".",
        caption="Pale yellow: ground one reaches from outside. Red: out of reach. "
        "A bay brings hands to the middle, and costs wall."
        + (" The price is for growing area, by the metre of wall." if prices else ""),
        numbers=_outline_numbers(shapes, prices, system),
    )  # fmt: skip  # rows of a table


def _for_area(each: float, system: str) -> str:
    """Money for growing area in the reader's units."""
    if not np.isfinite(each):
        return "no room"
    return show(each, "money", system, per="area")


def _outline_numbers(shapes, prices, system) -> Numbers:
    rows = []
    for i, o in enumerate(shapes.outlines):
        row = [
            _NAMES[o.kind],
            show(o.area, "area", system),
            show(o.perimeter, "size", system),
            f"{100 * o.reached:.0f} %",
        ]
        if prices:
            p = prices[i]
            sums = [show(sum_, "money", system) for sum_ in (p.walls, p.fill)]
            row += [show(p.inside, "area", system), *sums, _for_area(p.each, system)]
        rows.append(tuple(row))
    heads = ("outline", "area", "wall", "in reach")
    if prices:
        heads += ("growing area", "walls", "fill", "for growing area")
    return Numbers(caption="Outlines", headings=heads, rows=tuple(rows))


def _runs(points) -> list:
    """Points of a raster joined into strips, row by row."""
    found = []
    if not len(points):
        return found
    cell = 0.02
    order = np.lexsort((points[:, 0], np.floor(points[:, 1] / cell)))
    points = points[order]
    rows = np.floor(points[:, 1] / cell)
    breaks = (np.diff(rows) != 0) | (np.diff(points[:, 0]) > 1.5 * cell)
    for part in np.split(points, np.flatnonzero(breaks) + 1):
        y = part[0, 1]
        found.append(
            rectangle(
                part[0, 0] - cell / 2, part[-1, 0] + cell / 2, y - 0.013, y + 0.013
            )
        )
    return found


def _larger_for_less(sizes, system: str) -> str:
    """Where the whole bed gets larger and yet cheaper, and why."""
    falls = np.flatnonzero(np.diff(sizes.cost) < -0.005)
    if not len(falls):
        return ""
    a, b = (show(float(sizes.at[n]), "size", system) for n in (falls[0], falls[0] + 1))
    return (
        f" The whole bed costs less at {b} than at {a}: its pieces share the boards "
        "out better, or their joints come to lie over other posts."
    )


def cost_curve(
    sizes: Sizes,
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """What a square metre of growing area costs as one size moves.

    Parameters
    ----------
    sizes : Sizes
        The size moved.
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
    kind = "size"
    at = np.array([shown_in(float(v), kind, system) for v in sizes.at])
    each = sizes.each / shown_in(1.0, "area", system)
    now = float(shown_in(sizes.now, kind, system))
    per = [show(float(e), "money", system, per="area") for e in sizes.each]
    here, top, ends = np.nan, 1.0, (0.0, 1.5 * now)
    title, under = "No prices yet", "so nothing can be drawn here"
    if len(at):
        here, top = float(np.interp(now, at, each)), float(each.max()) * 1.15
        ends = float(at[0]), float(at[-1])
        best = int(np.argmin(each))
        cost = show(
            float(np.interp(sizes.now, sizes.at, sizes.each)),
            "money",
            system,
            per="area",
        )
        title = f"Now {cost} of growing area"
        under = f"least on this line: {per[best]} at "
        under += show(float(sizes.at[best]), kind, system)
    mark = ([now], [here]) if len(at) else EMPTY
    return Drawing(
        traces=(
            line((at, each) if len(at) else EMPTY, theme.LATER, theme.STRONG),
            line(([now, now], [0, here]) if len(at) else EMPTY, theme.INK, 1.4,
                 dash="dash"),
            marks(mark, 13, theme.NOW, "diamond", color=theme.INK, width=1.5),
        ),
        layout=theme.base_layout(
            width=width or (340 if narrow else 460), height=290,
            margin={"l": 58, "r": 20, "t": 60, "b": 50},
        ),
        live_layout={
            "xaxis": theme.axis(f"{sizes.field}, {unit_sign(kind, system)}",
                                range=list(ends)),
            "yaxis": theme.axis(
                sign_after("for growing area", "money", system, per="area"),
                range=[0, top],
            ),
        },
        annotations=(*theme.heading(title, under),),
        alt=f"Cost of growing area against the {sizes.field}. {title}; {under}.",
        caption="Steps come from stock lengths and bags: nobody sells half a board."
        + _larger_for_less(sizes, system),
        numbers=Numbers(
            caption=f"Cost by {sizes.field}",
            headings=(sizes.field, "for growing area"),
            rows=tuple((show(float(v), kind, system), e)
                       for v, e in zip(sizes.at, per, strict=True)),
        ),
    )  # fmt: skip  # rows of a table
