"""The way of the force: from the fill over wall and rails to ties, corners, ground.

A section across the bed. Numbers in the picture lead to the lines beside it.
"""

from __future__ import annotations

import textwrap
from dataclasses import dataclass

import numpy as np

from bedcalc.units import show

from ..model.outcome import Outcome
from . import theme
from .drawing import Drawing, Numbers
from .shapes import EMPTY, area, line, marks, outlines, rectangle, segments

__all__ = ["path_figure"]

_SIGNS = "①②③④⑤"
_FALL = 0.10  # of the bed's height, ground under the picture


@dataclass(frozen=True, kw_only=True)
class _Stage:
    """Sizes in metres and the scale of the picture in px."""

    width: float
    inside: float
    height: float
    thick: float
    scale: float
    wide: float
    high: float


def _stage(outcome: Outcome, width: float, narrow: bool) -> _Stage:
    s = outcome.bed.si
    high = float(s.soil_depth)
    room = width - 40 if narrow else min(0.52 * width, 400)
    scale = min((room - 110) / float(s.width), 200 / high)
    return _Stage(
        width=float(s.width),
        inside=float(s.inside_width),
        height=high,
        thick=float(s.wall_thickness),
        scale=scale,
        wide=room / scale,
        high=max(high * scale + 84, 0 if narrow else 210) / scale,
    )


def _arrow(x: float, y: float, long: float, px: float) -> tuple:
    """An arrow to the left (or right, if long is negative), as one outline."""
    head, thin = min(11 * px, abs(long) * 0.6), 2.2 * px
    way = -1.0 if long > 0 else 1.0
    tip, neck = x + way * abs(long), x + way * (abs(long) - head)
    xs = [x, neck, neck, tip, neck, neck, x, x, np.nan]
    ys = [y + thin, y + thin, y + 3 * thin, y, y - 3 * thin, y - thin, y - thin]
    return xs, [*ys, y + thin, np.nan]


def _pieces(outcome: Outcome, st: _Stage) -> list[tuple]:
    """Both long walls in section: boards, blocks, or sheet with its rails."""
    bed, wall = outcome.bed, outcome.bed.wall.si
    left, rings = -st.width / 2, []
    if bed.wall.family == "sheet":
        thin, wide = wall.rail_thin, wall.rail_wide
        if bed.rail_lying:
            thin, wide = wide, thin
        sheet = left + thin, left + thin + 0.018
        for low in (0.0, st.height - wide):
            rings.append((left, left + thin, low, low + wide))
        rings.append((*sheet, 0.0, st.height))
    else:
        rows = int(np.ceil(st.height / max(wall.course, 0.05) - 1e-9))
        for i in range(rows):
            low = i * wall.course
            top = min(low + wall.course, st.height)
            rings.append((left, left + st.thick, low, top))
    if wall.cap_thick > 0 and bed.wall.family != "trough":
        out = left - wall.cap_out + 0.02
        rings.append((out, out + wall.cap_wide, st.height, st.height + wall.cap_thick))
    mirrored = [(-b, -a, low, top) for a, b, low, top in rings]
    return [rectangle(*ring) for ring in rings + mirrored]


def _lines(outcome: Outcome, system: str) -> list[tuple[str, bool]]:
    """What each number of the picture says, and whether that part holds."""
    walls = outcome.walls
    case = walls.cases["soaked"]
    check = {c.name: c for c in outcome.checks if c.chapter == "walls"}

    def ok(*names) -> bool:
        return all(check[n].ok for n in names if n in check)

    push = f"The soaked fill pushes with {show(case.total, 'line load', system)}."
    if walls.family == "blocks":
        worst = min(("tipping", "sliding"), key=lambda n: check[n].capacity.m)
        return [
            (push, True),
            ("Only the weight of the blocks stands against it.", True),
            (check["tipping"].sentence(system), ok("tipping")),
            (check["sliding"].sentence(system), ok("sliding")),
            (f"What gives way first: {worst}.", ok(worst)),
        ]
    rim = show(case.top_load, "line load", system)
    rail = {"sheet": "rail and cap at the rim", "sleepers": "sleepers"}.get(
        walls.family, "boards, leaning on each other through the posts"
    )
    found = [
        (push, True),
        (f"The rim feels {rim} of it: {rail} carry it sideways.", ok("rail")),
        (
            f"Each top corner holds {show(walls.corner_force, 'force', system)}.",
            ok("corner"),
        ),
    ]
    if walls.family == "trough":
        found.append(("At every leg the wall is held.", True))
    elif outcome.bed.ties:
        found.append((check["tie"].sentence(system), ok("tie", "rod")))
    elif "post" in check:
        found.append((check["post"].sentence(system), ok("post")))
    else:
        found.append(("No tie: between the corners nothing holds the rim.", ok("rail")))
    if "foot" in check:
        foot = check["foot"].sentence(system)
        found.append((foot, ok("foot")))
    return found


def _traces(outcome: Outcome, st: _Stage) -> list[dict]:
    bed, walls = outcome.bed, outcome.walls
    layers = outcome.fill.layers
    case = walls.cases["soaked"].si
    px = 1 / st.scale
    fill = {
        "type": "bar",
        "x": [0.0] * len(layers),
        "width": [st.inside - 0.02] * len(layers),
        "base": [float(la.si.bottom) for la in layers],
        "y": [float(la.si.depth) for la in layers],
        "marker": {
            "color": [theme.MATERIAL[la.si.material] for la in layers],
            "line": {"color": theme.PAPER, "width": 1},
        },
        "hoverinfo": "skip",
    }
    ground = rectangle(-st.wide / 2, st.wide / 2, -36 * px, 0.0)
    longest = 84.0 * px  # the whole push
    edge = -st.width / 2
    total = max(float(case.total), 1e-9)
    inner = edge + st.thick + 0.02
    arrows = [_arrow(inner + longest + 4 * px, float(case.acts_at), longest, px)]
    rim = float(case.top_load) / total * longest
    foot = float(case.base_load) / total * longest
    if walls.family != "blocks":
        arrows.append(_arrow(edge - 3 * px, st.height, rim, px))
        arrows.append(_arrow(edge - 3 * px, 9 * px, foot, px))
    ends = []
    for count, z in ((bed.ties, st.height - 0.05), (bed.base_ties, 0.05)):
        if count and walls.family not in ("blocks", "trough"):
            ends.append((edge - 0.01, z, -edge + 0.01, z))
    plates = [(x, y) for a in ends for x, y in ((a[0], a[1]), (a[2], a[3]))]
    xy = (np.array([p[0] for p in plates]), np.array([p[1] for p in plates]))
    wood = theme.wall_colour(
        "blocks" if walls.family == "blocks" else "boards", bed.wall.wood
    )
    return [
        area(outlines([ground]), theme.MATERIAL["ground"], width=0),
        fill,
        area(outlines(_pieces(outcome, st)), wood),
        line(segments(ends), theme.HOLDS, 4.0),
        marks(xy if plates else EMPTY, 12, theme.HOLDS, "square"),
        area(outlines(arrows), theme.LATER, edge=theme.PAPER, width=1),
    ]


def _places(outcome: Outcome, st: _Stage) -> list[tuple[float, float]]:
    """Where the numbers stand in the picture."""
    case, px, edge = outcome.walls.cases["soaked"].si, 1 / st.scale, st.width / 2
    acts = float(case.acts_at)
    first = (-edge + st.thick + 104 * px, acts + 14 * px)
    if outcome.walls.family == "blocks":
        left = -edge - 16 * px
        middle = edge - st.thick / 2, st.height / 2
        return [first, middle, (left, st.height), (left, 9 * px), (left, 60 * px)]
    rim = (-edge - 44 * px, st.height + 18 * px)
    return [
        first,
        rim,
        (edge + 18 * px, st.height),
        (0.0, st.height + 10 * px),
        (-edge - 20 * px, 30 * px),
    ]


def path_figure(
    outcome: Outcome,
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw the way of the force across one bed, soaked.

    Parameters
    ----------
    outcome : Outcome
        Of one bed.
    system : str
        ``"metric"`` or ``"us"``.
    narrow : bool
        The lines stand under the picture.
    width : float or None
        Pixels it will be shown at.

    Returns
    -------
    Drawing
    """
    width = width or (340 if narrow else 620)
    narrow = narrow or width < 520
    st, lines = _stage(outcome, width, narrow), _lines(outcome, system)
    margin = {"l": 14, "r": 10, "t": 62, "b": 10}
    plot = width - margin["l"] - margin["r"]
    share = 1.0 if narrow else min(st.wide * st.scale / plot, 0.62)
    fails = [sign for sign, (_, ok) in zip(_SIGNS, lines, strict=False) if not ok]
    title = "The force ends too soon" if fails else "The force arrives"
    under = (
        f"{' '.join(fails)} cannot pass it on" if fails else "every part passes it on"
    )
    notes = theme.heading(title, under)
    size = 16 if not narrow else 14
    for sign, (x, y), (_, ok) in zip(_SIGNS, _places(outcome, st), lines, strict=False):
        colour = theme.INK if ok else theme.FAILS
        veil = {"bgcolor": "rgba(255,255,255,0.85)", "borderpad": 0}
        notes.append(
            theme.note(f"<b>{sign}</b>", x, y, size=size, colour=colour, **veil)
        )
    text = []
    room = (width - 20 if narrow else plot * (1 - share) - 14) / (0.54 * theme.LABEL)
    for sign, (words, ok) in zip(_SIGNS, lines, strict=False):
        wrapped = "<br>    ".join(textwrap.wrap(words, max(int(room), 20)))
        mark = "" if ok else " <b>✕</b>"
        text.append(f"<b>{sign}</b> {wrapped}{mark}")
    if narrow:
        margin["b"] = 20 + 18 * sum(1 + words.count("<br>") for words in text)
    style = {"xref": "paper", "yref": "paper", "showarrow": False, "align": "left"}
    style |= {"font": {"size": theme.LABEL}, "xanchor": "left", "yanchor": "top"}
    place = {"x": 0, "y": 0, "yshift": -8} if narrow else {"x": share + 0.02, "y": 1.0}
    notes.append(style | place | {"text": "<br>".join(text)})
    plain = [words for words, _ in lines]
    return Drawing(
        traces=tuple(_traces(outcome, st)),
        layout=theme.base_layout(width=width),
        live_layout={
            "height": margin["t"] + margin["b"] + st.high * st.scale,
            "margin": margin,
            "xaxis": {
                "visible": False,
                "fixedrange": True,
                "domain": [0, share],
                "range": [-st.wide / 2, st.wide / 2],
            },
            "yaxis": {
                "visible": False,
                "fixedrange": True,
                "range": [-36 / st.scale, st.high - 36 / st.scale],
            },
        },
        annotations=tuple(notes),
        alt=f"{title}; {under}. " + " ".join(plain),
        caption="A cut across the bed, soaked. Blue arrows push outwards; their length "
        "is their share. The other wall feels the same, mirrored.",
        numbers=Numbers(
            caption="The way of the force",
            headings=("step", "what happens", "holds"),
            rows=tuple(
                (sign, words, "yes" if ok else "no")
                for sign, (words, ok) in zip(_SIGNS, lines, strict=False)
            ),
        ),
    )
