"""Place the pieces, screws, ties and pins of each kind of wall."""

from __future__ import annotations

import functools
from collections.abc import Iterator

import numpy as np

from ..model.bed import Bed
from ..tables import table
from .fittings import angles_of, pins_of, ties_of
from .levels import bands, levels, post_axes, rail_levels, sheet_depth
from .maker import Maker
from .pieces import Angle, Assembly
from .sheets import place_sheets
from .trough import place_floor

__all__ = ["SCREWS_UP", "assembly", "bonded"]

#: shares of the face of a board at which its two screws stand; those of the end walls
#: stand a little higher, so that they pass the others inside a corner post
SCREWS_UP = (0.22, 0.66)
_END_SCREWS_UP = (0.34, 0.78)
_MITRE = 0.03  # m from the corner to the screws on both sides of a mitre
_TOE = 0.035  # m from the joint at which a slanting screw enters


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
    made = Maker(bed)
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
        ties=tuple(ties_of(bed)),
        pins=tuple(pins_of(bed)),
        angles=tuple(angles_of(bed)),
    )


def _courses(made: Maker) -> None:
    """Boards or sleepers in courses."""
    bed = made.bed
    size = bed.wall.si.thickness, bed.wall.si.course
    rows = levels(bed)
    made.ring("side", "end", bed.wall.goods, rows, size)
    if bed.wall.family == "sleepers":
        s, t = bed.si, bed.si.wall_thickness
        for z in rows:
            up = [z[0] + (z[1] - z[0]) * share for share in SCREWS_UP]
            for x, inward in ((0.0, 1), (s.length, -1)):
                for y, out in ((t + _TOE, -1), (s.width - t - _TOE, 1)):
                    made.join(
                        "each corner of each course, on the slant",
                        "screw_6x100",
                        (inward * 0.5**0.5, out * 0.5**0.5, 0.0),
                        1.4 * t,
                        *((x, y, h) for h in up),
                    )
        for angle in angles_of(bed):
            _angle_screws(made, angle)
        return
    words = "each board end into its corner post", "each board into each middle post"
    _board_screws(made, "screw_5x70", words)


def _angle_screws(made: Maker, angle: Angle) -> None:
    """Two screws of a steel angle into the side, two into the end."""
    x, y, z, room = angle.x, angle.y, angle.z, made.bed.si.wall_thickness
    where, far = "each steel angle, two in the side and two in the end", (0.035, 0.07)
    on_side = ((x + angle.along * d, y, z) for d in far)
    on_end = ((x, y + angle.across * d, z) for d in far)
    made.join(where, "screw_4x50", (0, -angle.across, 0), room, *on_side)
    made.join(where, "screw_4x50", (-angle.along, 0, 0), room, *on_end)


def _board_screws(made: Maker, goods: str, words) -> None:
    """Screws of courses or rails: two at each post, at each end of each piece."""
    bed, axes = made.bed, post_axes(made.bed)
    if not axes:
        return
    s, corner = bed.si, axes[0]
    outer = s.wall_thickness + sheet_depth(bed)
    room = outer + bed.wall.si.post
    for low, high in bands(bed):
        up, ends = (
            [low + (high - low) * share for share in shares]
            for shares in (SCREWS_UP, _END_SCREWS_UP)
        )
        for y, way in ((0.0, 1), (s.width, -1)):
            for n, x in enumerate(axes):
                at_end = n in (0, len(axes) - 1)
                made.join(
                    words[0] if at_end else words[1],
                    goods,
                    (0, way, 0),
                    room,
                    *((x, y, z) for z in up),
                    outer=outer,
                )
        for x, way in ((0.0, 1), (s.length, -1)):
            for y in (corner, s.width - corner):
                made.join(
                    words[0],
                    goods,
                    (way, 0, 0),
                    room,
                    *((x, y, z) for z in ends),
                    outer=outer,
                )


def _posts(made: Maker) -> None:
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


def _cap(made: Maker) -> None:
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
    low, high = bands(bed)[-1]
    room = wall.cap_thick + high - low
    for x, y in _round_the_cap(s, step.value, c - o):
        made.join(where, "screw_5x70", (0, 0, -1), room, (x, y, z[1]))


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
    for x, right in ((0.0, 1), (s.length, -1)):
        for y, back in ((0.0, 1), (s.width, -1)):
            yield x + right * _MITRE, y + back * t
            yield x + right * t, y + back * (s.wall_thickness + _MITRE)


def _boards(made: Maker) -> None:
    _courses(made)
    _posts(made)
    _cap(made)


def _sheet(made: Maker) -> None:
    """Rails outside, sheet behind them, posts behind the sheet, a cap on top."""
    bed = made.bed
    size = bed.wall.si.rail_thin, bed.wall.si.rail_wide
    made.ring("rail side", "rail end", bed.wall.rail_goods, rail_levels(bed), size)
    words = "each rail end into its corner post", "each rail into each middle post"
    _board_screws(made, "screw_6x100", words)
    place_sheets(made)
    _posts(made)
    _cap(made)


def _trough(made: Maker) -> None:
    """Boards round a slatted floor on a frame, carried by legs.

    A bearer joins each pair of legs, screwed to their sides. Two rails lie flat on the
    bearers, inside the legs. The slats lie on the rails, from board to board; between
    two legs lies a short one.
    """
    _courses(made)
    _posts(made)
    place_floor(made)
    _cap(made)


def _blocks(made: Maker) -> None:
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
