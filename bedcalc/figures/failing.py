"""A close-up of what gives way first: cut through the wall, or seen from above.

The part that fails is striped and carries its share; stripes survive grey. Which piece
it is, the check says (``Check.part``); where it lies, the assembly.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from bedcalc.assembly import assembly, pieces_of, post_axes
from bedcalc.units import show

from ..model.outcome import Check, Outcome
from . import theme
from .drawing import Drawing, Numbers
from .shapes import area, line, outlines, rectangle
from .utilisation_chart import part_words

__all__ = ["failing_figure", "gives_way"]

#: what bends the long wall outwards: best seen from above
_ABOVE = ("rail", "trodden", "sitting", "hole", "tie", "rod", "post")
_LEAN = np.radians(8.0)  # how far blocks are drawn to lean
_SLID = 0.06  # m, how far they are drawn to slide
_STEP = 9.0  # px between two stripes


@dataclass(kw_only=True)
class _Picture:
    """Outlines by kind, lines and words, in metres; ``up`` is where outside is not."""

    soil: list = field(default_factory=list)
    wood: list = field(default_factory=list)
    steel: list = field(default_factory=list)
    failing: list = field(default_factory=list)
    gap: list = field(default_factory=list)
    push: list = field(default_factory=list)
    thread: list = field(default_factory=list)
    was: list = field(default_factory=list)
    slip: list = field(default_factory=list)
    notes: list = field(default_factory=list)
    says: str = ""


def gives_way(outcome: Outcome) -> Check | None:
    """The check of strength with a part that is furthest past what holds, or None."""
    found = [c for c in outcome.walls.checks if not c.ok and not c.straight and c.part]
    return max(found, key=lambda c: (not c.detail, c.utilisation), default=None)


def _turned(ring, angle: float):
    """A ring turned outwards about the outer edge of the foot."""
    x, z = np.asarray(ring[0], dtype=float), np.asarray(ring[1], dtype=float)
    c, s = np.cos(angle), np.sin(angle)
    return x * c - z * s, x * s + z * c


def _arrows(pushes, y: float, long: float) -> list:
    """Arrows to the left at heights, as long as the push there."""
    most = max((p for _, p in pushes), default=0.0) or 1.0
    found = []
    for z, push in pushes:
        length = long * push / most
        if length > 0.15 * long:
            head, thin = 0.28 * long, 0.02 * long
            x = [y + length, y + head, y + head, y, y + head, y + head, y + length]
            w = [thin, thin, 3 * thin, 0.0, -3 * thin, -thin, -thin]
            found.append(([*x, x[0], np.nan], [*(z + v for v in w), z + thin, np.nan]))
    return found


def _front(outcome: Outcome) -> list[tuple]:
    """The front wall cut across: (member, its outline), each once."""
    seen, found = set(), []
    for m in assembly(outcome.bed).members:
        ring = tuple(round(v, 4) for v in m.box[2:])
        if m.wall == "front" and ring not in seen:
            seen.add(ring)
            found.append((m, rectangle(*m.box[2:])))
    return found


def _section(outcome: Outcome, check: Check | None) -> _Picture:
    """The front wall cut across, outside on the left; loose blocks lean or slide."""
    bed, made = outcome.bed, _Picture()
    height, deep = float(bed.si.soil_depth), float(bed.si.wall_thickness)
    failing = () if check is None else pieces_of(bed, check.part).members
    slides = check is not None and check.name == "sliding"
    loose = bed.wall.family == "blocks" and check is not None
    inner = deep
    for member, ring in _front(outcome):
        inner = max(inner, member.box[3]) if member.what != "cap side" else inner
        struck = member in failing
        if loose:
            made.was.append(ring)
            ring = (np.asarray(ring[0]) - _SLID, ring[1]) if slides else _turned(
                ring, _LEAN
            )  # fmt: skip  # two ways to go
        steel = member.what.startswith("sheet")
        (made.failing if struck else made.steel if steel else made.wood).append(ring)
    far = inner + 1.1 * height
    made.soil.append(rectangle(deep, far, 0.0, height))
    if loose:
        face = [deep, deep, deep - _SLID, deep - _SLID, deep]
        up = [0.0, height, height, 0.0, 0.0]
        if not slides:
            x, z = _turned(([deep, deep], [0.0, height]), _LEAN)
            face, up = [deep, deep, x[1], x[0], deep], [0.0, height, z[1], z[0], 0.0]
        made.gap.append(([*face, np.nan], [*up, np.nan]))
        steep = np.radians(45) + float(bed.fill[0].row.friction) / 2
        made.slip.append(
            ([deep, deep + height / np.tan(steep), np.nan], [0.0, height, np.nan])
        )
        made.says = "The dashed outline is where it stood; the earth breaks along the "
        made.says += "dotted line. How far it leans is drawn, not worked out."
    case = outcome.walls.cases["soaked"].si
    down, push = np.ravel(case.depth), np.ravel(case.pressure)
    order = np.argsort(down, kind="stable")
    at = [(height - d, float(np.interp(d, down[order], push[order])))
          for d in height * np.array([0.3, 0.6, 0.9])]  # fmt: skip  # one list
    made.push += _arrows(at, inner + 0.04 * height, 0.4 * height)
    made.notes.append(("outside", -0.32 * height, 0.06 * height))
    return made


def _joint(outcome: Outcome, check: Check) -> _Picture:
    """A post and its board from above, outside down: the screws come out."""
    bed, made = outcome.bed, _Picture()
    joint = pieces_of(bed, check.part).joints[0]
    corner = check.part.startswith("corner")
    deep, post = float(bed.si.wall_thickness), float(bed.wall.si.post)
    x, long = joint.screws[0][0], _screw(joint.goods)
    out = 0.35 * deep  # how far the board is drawn away from its post
    left, right = (0.0, x + 3.2 * post) if corner else (x - 2.2 * post, x + 2.2 * post)
    ring = [left, right, right, left, left], [-out, -out, deep - out, deep - out, -out]
    made.failing.append(([*ring[0], np.nan], [*ring[1], np.nan]))
    made.was.append(rectangle(left, right, 0.0, deep))
    made.gap.append(rectangle(left, right, deep - out, deep))
    made.wood.append(rectangle(x - post / 2, x + post / 2, deep, deep + post))
    start = left
    if corner:
        start = deep
        made.wood.append(rectangle(0.0, deep, deep, deep + 2.0 * post))
    made.soil.append(rectangle(start, right, deep, deep + 1.8 * post))
    # both screws stand over each other: from above they are one
    made.thread.append(([x, x, np.nan], [-out, long - out, np.nan]))
    for k in np.arange(0.25, 1.0, 0.08):
        at, w = long * k - out, 0.03 * post
        made.thread.append(([x - w, x + w, np.nan], [at, at + w, np.nan]))
    made.slip.append(([x, x, np.nan], [deep, long, np.nan]))  # the hole it leaves
    turned = _arrows([(0.0, 1.0)], 0.0, 0.6 * post)
    middle = (x + post / 2 + right) / 2
    made.push += [
        (np.asarray(b) + middle, np.asarray(a) + deep + 0.1 * post) for a, b in turned
    ]
    made.notes.append(("outside", (left + right) / 2, -out - 0.35 * deep))
    made.notes.append(("post", x, deep + 0.8 * post))
    made.says = "From above. The board is drawn away from its post; the dotted line is "
    made.says += "the hole that the thread leaves."
    return made


def _screw(goods: str) -> float:
    """Length of a screw by its key in the price list, such as ``screw_5x70``."""
    return float(goods.rpartition("x")[2]) / 1000


def _above(outcome: Outcome, check: Check) -> _Picture:
    """The front wall from above, outside down: it bows and the fill follows."""
    bed, walls, made = outcome.bed, outcome.walls.si, _Picture()
    length = float(bed.si.length)
    x, bow = np.asarray(walls.x), np.asarray(walls.bow_x_years)
    thick, most = 0.022 * length, 0.07 * length
    drawn = most * bow / max(float(np.max(bow)), 1e-9)
    x, drawn = np.r_[0.0, x, length], np.r_[0.0, drawn, 0.0]
    back = 0.26 * length
    made.failing.append(
        (np.r_[x, x[::-1], x[0], np.nan],
         np.r_[-drawn, (thick - drawn)[::-1], -drawn[0], np.nan])
    )  # fmt: skip  # there and back
    made.soil.append(
        (np.r_[x, length, 0.0, 0.0, np.nan],
         np.r_[thick - drawn, back, back, thick, np.nan])
    )  # fmt: skip  # there and back
    crack = 0.1 * length
    made.gap.append(
        (np.r_[x, x[::-1], np.nan],
         np.r_[crack + 0 * drawn, (crack - 0.25 * drawn)[::-1], np.nan])
    )  # fmt: skip  # there and back
    made.was.append(([0.0, length, np.nan], [0.0, 0.0, np.nan]))
    half = 0.5 * float(bed.wall.si.post or 0.04)
    for axis in post_axes(bed):
        off = float(np.interp(axis, x, drawn))
        made.wood.append(
            rectangle(axis - half, axis + half, thick - off, thick + 2 * half - off)
        )
    for tie in pieces_of(bed, "ties on top").ties:
        off = float(np.interp(tie.x, x, drawn))
        made.thread.append(([tie.x, tie.x, np.nan], [-off, back, np.nan]))
    made.notes.append(("outside", length / 2, -most - 0.035 * length))
    made.says = "From above. The fill has followed the wall and left a gap behind. The "
    made.says += "dashed line is straight; the bow is drawn far larger than life."
    return made


def _picture(outcome: Outcome, check: Check | None) -> _Picture:
    if check is None or outcome.walls.family == "blocks":
        return _section(outcome, check)
    if "screws of" in check.part:
        return _joint(outcome, check)
    return (_above if check.name in _ABOVE else _section)(outcome, check)


def _stripes(rings, step: float) -> tuple[np.ndarray, np.ndarray]:
    """Slanting lines inside outlines: where each line meets their edges."""
    xs, ys = [], []
    for ring in rings:
        x, y = np.asarray(ring[0], float), np.asarray(ring[1], float)
        good = np.isfinite(x)
        x, y = x[good], y[good]
        side = x - y  # constant along a stripe
        for c in np.arange(np.ceil(side.min() / step) * step, side.max(), step):
            a, b = side[:-1] - c, side[1:] - c
            hit = (a * b < 0) & (a != b)
            t = a[hit] / (a[hit] - b[hit])
            px = np.sort(x[:-1][hit] + t * (x[1:][hit] - x[:-1][hit]))
            for one, two in zip(px[::2], px[1::2], strict=False):
                xs += [one, two, np.nan]
                ys += [one - c, two - c, np.nan]
    return np.array(xs), np.array(ys)


def _traces(outcome: Outcome, made: _Picture, px: float) -> tuple[dict, ...]:
    bed = outcome.bed
    family = "blocks" if bed.wall.family == "blocks" else "boards"
    colour = theme.wall_colour(family, bed.wall.wood)
    layer = outcome.fill.layers[-1].si.material
    thin = {"edge": theme.EDGE, "width": 0.9}
    return (
        area(outlines(made.soil), theme.MATERIAL[layer], width=0),
        area(outlines(made.gap), theme.MATERIAL["gap"], width=0),
        area(outlines(made.steel), theme.MATERIAL["steel"], **thin),
        area(outlines(made.wood), colour, **thin),
        area(outlines(made.failing), colour, **thin),
        line(_stripes(made.failing, _STEP * px), theme.FAILS, 3.0),
        area(outlines(made.push), theme.LATER, edge=theme.PAPER, width=1),
        line(outlines(made.thread), theme.EDGE, 2.4),
        line(outlines(made.was), theme.INK, 1.4, dash="5px,4px"),
        line(outlines(made.slip), theme.PAPER, 2.0, dash="2px,4px"),
    )


def _ends(made: _Picture) -> tuple[float, float, float, float]:
    """What the picture needs, in metres."""
    rings = [*made.soil, *made.wood, *made.failing, *made.was, *made.steel]
    xs, ys = outlines(rings)
    xs = np.r_[xs, [x for _, x, _ in made.notes]]
    ys = np.r_[ys, [y for _, _, y in made.notes]]
    return (
        float(np.nanmin(xs)), float(np.nanmax(xs)),
        float(np.nanmin(ys)), float(np.nanmax(ys)),
    )  # fmt: skip  # two directions


def failing_figure(
    outcome: Outcome,
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw the part of the long wall that gives way first, close up.

    Parameters
    ----------
    outcome : Outcome
        Of one bed.
    system : str
        ``"metric"`` or ``"us"``.
    narrow : bool
        For a narrow output.
    width : float or None
        Pixels it will be shown at.

    Returns
    -------
    Drawing
        A cut through the wall without stripes where every part holds.
    """
    width = width or (340 if narrow else 620)
    check = gives_way(outcome)
    made = _picture(outcome, check)
    left, right, low, high = _ends(made)
    margin = {"l": 14, "r": 14, "t": 62, "b": 10}
    room = width - margin["l"] - margin["r"]
    px = max((right - left) / room, (high - low) / 260)  # metres a pixel
    spare = (room * px - (right - left)) / 2
    title, under = "Every part of the wall holds", "cut across, outside on the left"
    rows = (("part", "none gives way"),)
    if check is not None:
        part = part_words(check.name, outcome)
        title = f"{check.sign} {part[:1].upper()}{part[1:]}: {check.used()}"
        striped = check.part.rpartition(" of ")[2]  # of its screws, the board
        under = f"of what holds; striped: {striped}"
        rows = (
            ("gives way first", part),
            ("striped", striped),
            ("used of what holds", check.used()),
            ("asked", check.asked(system)),
            ("holds", show(check.capacity, check.kind, system)),
        )
    notes = [
        theme.note(words, x, y, size=theme.TICK, colour=theme.SECOND)
        for words, x, y in made.notes
    ]
    said = check.sentence(system) if check is not None else "Nothing is striped."
    return Drawing(
        traces=_traces(outcome, made, px),
        layout=theme.base_layout(width=width),
        live_layout={
            "height": margin["t"] + margin["b"] + (high - low) / px + 20,
            "margin": margin,
            "xaxis": {
                "visible": False,
                "fixedrange": True,
                "range": [left - spare, right + spare],
            },
            "yaxis": {
                "visible": False,
                "fixedrange": True,
                "range": [low - 10 * px, high + 10 * px],
            },
        },
        annotations=(*theme.heading(title, under), *notes),
        alt=f"{title}. {said} {made.says}".strip(),
        caption=made.says or "Blue arrows: the soaked fill pushes harder with depth.",
        numbers=Numbers(
            caption="What gives way first", headings=("what", "how much"), rows=rows
        ),
    )
