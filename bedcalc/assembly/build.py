"""Place the pieces, screws, ties and pins of each kind of wall."""

from __future__ import annotations

import functools
from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np

from ..model.bed import Bed
from ..tables import table
from .layout import layout
from .levels import (
    bands,
    courses,
    floor_of,
    levels,
    post_axes,
    rail_levels,
    sheet_depth,
    strips,
    tie_inset,
)
from .pieces import Assembly, Joint, Member, Pin, Tie

if TYPE_CHECKING:  # names for an editor
    from ..tables import Row

__all__ = ["SCREWS_UP", "assembly", "bonded"]

STEEL = 7850.0  # kg/m3, EN 1991-1-1 annex A
#: m, along a stack of sleepers; common practice, no source
PIN_STEP = 1.2
PIN_INSET = 0.1  # m, from the end of a sleeper; common practice, no source
PIN_COVER = 0.03  # m, that a pin ends below the top
#: shares of the face of a board at which its two screws stand
SCREWS_UP = (0.28, 0.72)


class _Maker:
    """Collects members and joints; numbers the members of each kind."""

    def __init__(self, bed: Bed):
        self.bed, self.members, self.joints = bed, [], []
        self.density = table("woods")[bed.wall.wood].density if bed.wall.wood else 0.0
        self._count: dict[str, int] = {}

    def add(self, what: str, goods: str, box, axis: str, size=(0.0, 0.0), **more):
        """Add a piece, if it is there at all."""
        x0, x1, y0, y1, z0, z1 = (float(v) for v in box)
        if min(x1 - x0, y1 - y0, z1 - z0) < -1e-9:
            return
        number = self._count[what] = self._count.get(what, 0) + 1
        self.members.append(
            Member(
                what=what,
                number=number,
                goods=goods,
                box=(x0, x1, y0, y1, z0, z1),
                axis=axis,
                thick=float(size[0]),
                wide=float(size[1]),
                density=more.pop("density", self.density),
                **more,
            )
        )

    def join(self, where: str, goods: str, *screws) -> None:
        """Add a joint with its screws."""
        points = tuple((float(x), float(y), float(z)) for x, y, z in screws)
        self.joints.append(Joint(where=where, goods=goods, screws=points))

    def ring(self, side: str, end: str, goods: str, levels_, size, straight=True):
        """Long sides through and ends between them, course by course."""
        s, t = self.bed.si, self.bed.si.wall_thickness
        far, back = s.length - t, s.width - t
        sides = ("front", (0, s.length, 0, t)), ("back", (0, s.length, back, s.width))
        ends = ("left", (0, t, t, back)), ("right", (far, s.length, t, back))
        for what, long in ((side, True), (end, False)):
            for n, z in enumerate(levels_):
                for wall, plan in sides if long else ends:
                    self.add(
                        what,
                        goods,
                        (*plan, *z),
                        "x" if long else "y",
                        size,
                        wall=wall,
                        level=n,
                        straight=straight and long,
                    )


@functools.lru_cache(maxsize=256)
def assembly(bed: Bed) -> Assembly:
    """Place every piece of one bed.

    Parameters
    ----------
    bed : Bed
        One bed; sizes that are arrays are not placed.

    Returns
    -------
    Assembly
        Pieces in the order of the workshop, joints, ties and pins.
    """
    made = _Maker(bed)
    {
        "boards": _boards,
        "sheet": _sheet,
        "trough": _trough,
        "blocks": _blocks,
        "sleepers": _courses,
    }[bed.wall.family](made)
    return Assembly(
        bed=bed,
        members=tuple(made.members),
        joints=tuple(made.joints),
        ties=tuple(_ties(bed)),
        pins=tuple(_pins(bed)),
    )


def _courses(made: _Maker) -> None:
    """Boards or sleepers in courses."""
    bed = made.bed
    size = bed.wall.si.thickness, bed.wall.si.course
    rows = levels(bed)
    made.ring("side", "end", bed.wall.goods, rows, size)
    if bed.wall.family == "sleepers":
        s, t = bed.si, bed.si.wall_thickness
        for z in rows:
            up = [z[0] + (z[1] - z[0]) * share for share in SCREWS_UP]
            for x in (0.0, s.length):
                for y in (t, s.width - t):
                    made.join(
                        "each corner of each course",
                        "screw_6x100",
                        *((x, y, h) for h in up),
                    )
        return
    words = "each board end into its corner post", "each board into each middle post"
    _board_screws(made, "screw_5x70", words)


def _board_screws(made: _Maker, goods: str, words) -> None:
    """Screws of courses or rails: two at each post, at each end of each piece."""
    bed, axes = made.bed, post_axes(made.bed)
    if not axes:
        return
    s, corner = bed.si, axes[0]
    for low, high in bands(bed):
        up = [low + (high - low) * share for share in SCREWS_UP]
        for y in (0.0, s.width):
            for n, x in enumerate(axes):
                at_end = n in (0, len(axes) - 1)
                made.join(
                    words[0] if at_end else words[1], goods, *((x, y, z) for z in up)
                )
        for x in (0.0, s.length):
            for y in (corner, s.width - corner):
                made.join(words[0], goods, *((x, y, z) for z in up))


def _posts(made: _Maker) -> None:
    """Posts inside the walls: at the corners and, along the long sides, between."""
    bed, p = made.bed, made.bed.wall.si.post
    in_ = bed.si.wall_thickness + sheet_depth(bed)
    for x in post_axes(bed):
        for wall, y in (("front", in_), ("back", bed.si.width - in_ - p)):
            made.add(
                "post",
                bed.wall.post_goods,
                (x - p / 2, x + p / 2, y, y + p, -bed.si.post_depth, bed.si.height),
                "z",
                (p, p),
                wall=wall,
            )


def _cap(made: _Maker) -> None:
    """A flat cap all round, mitred at the corners, and its screws."""
    bed, s, wall = made.bed, made.bed.si, made.bed.wall.si
    if not wall.cap_wide:
        return
    o, c, size = wall.cap_out, wall.cap_wide, (wall.cap_thick, wall.cap_wide)
    z = s.height, s.height + wall.cap_thick
    for side, y in (("front", -o), ("back", s.width + o - c)):
        made.add(
            "cap side",
            bed.wall.cap_goods,
            (-o, s.length + o, y, y + c, *z),
            "x",
            size,
            wall=side,
            angle=45.0,
            straight=True,
        )
    for side, x in (("left", -o), ("right", s.length + o - c)):
        made.add(
            "cap end",
            bed.wall.cap_goods,
            (x, x + c, -o, s.width + o, *z),
            "y",
            size,
            wall=side,
            angle=45.0,
        )
    if bed.wall.family == "trough" or not bed.wall.cap_goods:
        return
    where, step = "cap, all round and twice at each mitre", table("work")["cap_spacing"]
    for x, y in _round_the_cap(s, step.value, c - o):
        made.join(where, "screw_5x70", (x, y, z[1]))


def _round_the_cap(s, step: float, inner: float) -> Iterator[tuple[float, float]]:
    """Screws at equal distances along the axes of the walls, two more at a mitre."""
    t = min(s.wall_thickness, inner) / 2
    for run, at in ((s.length, "x"), (s.width, "y")):
        count = int(np.ceil(run / step - 1e-9))
        far = (s.width if at == "x" else s.length) - t
        for n in range(count):
            along = run * (n + 0.5) / count
            for off in (t, far):
                yield (along, off) if at == "x" else (off, along)
    for x in (0.0, s.length):
        for y in (0.0, s.width):
            yield x, y + (t if y == 0 else -t)
            yield x + (t if x == 0 else -t), y


def _boards(made: _Maker) -> None:
    _courses(made)
    _posts(made)
    _cap(made)


def _sheet(made: _Maker) -> None:
    """Rails outside, sheet behind them, posts behind the sheet, a cap on top."""
    bed = made.bed
    size = bed.wall.si.rail_thin, bed.wall.si.rail_wide
    made.ring("rail side", "rail end", bed.wall.rail_goods, rail_levels(bed), size)
    words = "each rail end into its corner post", "each rail into each middle post"
    _board_screws(made, "screw_6x100", words)
    _strips(made)
    _posts(made)
    _cap(made)


def _strips(made: _Maker) -> None:
    """The sheets, ribs upright or lying, and their screws into the rails."""
    bed, s = made.bed, made.bed.si
    row, t, deep = table("sheets")[bed.wall.sheet], s.wall_thickness, sheet_depth(bed)
    flat = row.thickness, (row.cover + row.pitch) * unbent(row)
    sides = (
        ("front", "x", t, (t, t + deep)),
        ("back", "x", t, (s.width - t - deep, s.width - t)),
        ("left", "y", t, (t, t + deep)),
        ("right", "y", t, (s.length - t - deep, s.length - t)),
    )
    for wall, along, start, across in sides:
        run = s.inside_length if along == "x" else s.inside_width
        lying = bed.ribs_lying
        for n, (a, b) in enumerate(strips(bed, s.height if lying else run)):
            wide = (start, start + run) if lying else (start + a, start + b)
            high = (a, b) if lying else (0.0, s.height)
            plan = (*wide, *across) if along == "x" else (*across, *wide)
            what = ("sheet side" if along == "x" else "sheet end") if lying else "sheet"
            made.add(
                what,
                bed.wall.goods,
                (*plan, *high),
                along if lying else "z",
                flat,
                wall=wall,
                level=n if lying else 0,
                density=STEEL,
            )
    _sheet_screws(made)


def _sheet_screws(made: _Maker) -> None:
    """A screw in every second valley, into the foot rail and the top rail."""
    s, rails = made.bed.si, rail_levels(made.bed)
    t, run = s.wall_thickness, 2 * (s.inside_length + s.inside_width)
    count = int(np.ceil(2 * run / table("work")["sheet_fixing"].value - 1e-9))
    far, back = s.length - t, s.width - t
    sides = (  # once round: length of a side, where it begins, which way it runs
        (s.inside_length, (t, t), (1, 0)),
        (s.inside_width, (far, t), (0, 1)),
        (s.inside_length, (far, back), (-1, 0)),
        (s.inside_width, (t, back), (0, -1)),
    )
    for n, (low, high) in enumerate(rails):
        number = count // 2 if n else count - count // 2
        for k in range(number):
            d = run * (k + 0.5) / number
            for length, (x, y), (along, across) in sides:
                if d < length:
                    point = x + along * d, y + across * d, (low + high) / 2
                    made.join(
                        "sheet on rails, every second valley", "screw_sheet", point
                    )
                    break
                d -= length


def unbent(row: Row) -> float:
    """Flat width over ribbed width, a wave taken as a zigzag of straight flanks."""
    flank = row.pitch / 2 - (0.0 if row.profile == "sinus" else row.top_flat)
    flank = max(flank, row.pitch / 20)
    return 1 + 2 * (np.hypot(flank, row.depth) - flank) / row.pitch


def _trough(made: _Maker) -> None:
    """Boards round a slatted floor on a frame, carried by legs."""
    bed, s, wall = made.bed, made.bed.si, made.bed.wall
    _courses(made)
    floor, t = float(floor_of(bed)), s.wall_thickness
    rail = wall.si.rail_thin, wall.si.rail_wide
    low = (floor - SLAT - rail[0], floor - SLAT)
    for side, y in (("front", 0.0), ("back", s.width - rail[1])):
        made.add(
            "floor frame side",
            wall.rail_goods,
            (0, s.length, y, y + rail[1], *low),
            "x",
            rail,
            wall=side,
            straight=True,
        )
    bays = int(layout(bed).bays)
    for n in range(bays + 1):
        x = rail[1] / 2 + (s.length - rail[1]) * n / bays
        made.add(
            "floor bearer",
            wall.rail_goods,
            (x - rail[1] / 2, x + rail[1] / 2, t, s.width - t, *low),
            "y",
            rail,
            wall="floor",
            level=n,
        )
    pitch = max(wall.si.slat_wide, 0.02)
    count = int(np.floor(s.inside_length / pitch + 1e-9))
    gap = (s.inside_length - count * wall.si.slat_wide) / (count + 1) if count else 0.0
    for n in range(count):
        x = t + gap + n * (wall.si.slat_wide + gap)
        made.add(
            "slat",
            wall.cap_goods,
            (x, x + wall.si.slat_wide, t, s.width - t, floor - SLAT, floor),
            "y",
            (0.0, wall.si.slat_wide),
            wall="floor",
            level=n,
        )
    _posts(made)
    _cap(made)


SLAT = 0.022  # m, a slat of the floor of a trough


def _blocks(made: _Maker) -> None:
    """Running bond: at the corners long sides and ends run through by turns."""
    bed, s, t = made.bed, made.bed.si, made.bed.si.wall_thickness
    module = bed.wall.block_row.length
    for n, z in enumerate(levels(bed)):
        inset = 0.0 if n % 2 == 0 else t
        along = bonded(inset, s.length - inset, module)
        across = bonded(t - inset, s.width - t + inset, module)
        for wall, y in (("front", (0, t)), ("back", (s.width - t, s.width))):
            for x in along:
                made.add("block", bed.wall.goods, (*x, *y, *z), "x", wall=wall, level=n)
        for wall, x in (("left", (0, t)), ("right", (s.length - t, s.length))):
            for y in across:
                made.add("block", bed.wall.goods, (*x, *y, *z), "y", wall=wall, level=n)


def bonded(a: float, b: float, module: float) -> list[tuple[float, float]]:
    """Blocks from a to b; no sliver at the end, the last two share it."""
    joints = [a]
    while joints[-1] + module < b - 1e-6:
        joints.append(joints[-1] + module)
    if len(joints) > 1 and b - joints[-1] < 0.2 * module:
        joints[-1] = (joints[-2] + b) / 2
    return list(zip(joints, [*joints[1:], b], strict=True))


# ---- ties and pins


def _ties(bed: Bed) -> Iterator[Tie]:
    plan, inset = layout(bed), tie_inset(bed)
    for x in plan.ties_x:
        yield Tie(x=float(x), z=float(bed.si.height - inset), foot=False)
    for x in plan.base_ties_x:
        yield Tie(x=float(x), z=float(floor_of(bed) + inset), foot=True)


def _pins(bed: Bed) -> Iterator[Pin]:
    """Pins through two or more courses of sleepers, near each end and between."""
    if bed.wall.family != "sleepers" or int(courses(bed)) < 2:
        return
    s, t = bed.si, bed.si.wall_thickness
    top = float(s.height - PIN_COVER)

    def places(start: float, run: float) -> list[float]:
        more = max(int(np.ceil(run / PIN_STEP - 1e-9)) - 1, 0)
        inset = min(PIN_INSET, run / 4)
        return [
            float(v) for v in np.linspace(start + inset, start + run - inset, more + 2)
        ]

    for y in (t / 2, s.width - t / 2):
        for x in places(0.0, s.length):
            yield Pin(x=x, y=float(y), foot=0.0, top=top)
    for x in (t / 2, s.length - t / 2):
        for y in places(t, s.inside_width):
            yield Pin(x=float(x), y=y, foot=0.0, top=top)
