"""The pieces of a bed: every stick and sheet with its label, length and number.

Joints decide the lengths: long sides run through, ends stand between them; the rails
of a sheet frame lap the same way; the cap is mitred at the corners, so its pieces are
as long as its outer edge. What no stock is long enough for is joined over a post, see
:mod:`bedcalc.cutting.splices`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedcalc.bed import Bed
from bedcalc.tables import table
from bedcalc.units import quantities
from bedcalc.walls.layout import layout

__all__ = [
    "Part", "blocks_needed", "courses", "parts", "piece_mass", "strips_needed",
    "tie_part",
]  # fmt: skip

_STEEL = 7850.0  # kg/m3


@dataclass(frozen=True, kw_only=True)
class Part:
    """Equal pieces of one bed: what they are cut from, how long (m), how many.

    ``angle`` is how far both ends are off square, in degrees: 45 for a mitre.
    ``straight`` asks for a straight board. ``thick`` and ``wide`` are the section in
    metres, 0 where the design does not say; ``density`` is in kg/m3.
    """

    goods: str
    label: str
    length: float
    count: int
    bed: str = ""
    what: str = ""
    angle: float = 0.0
    straight: bool = False
    thick: float = 0.0
    wide: float = 0.0
    density: float = 0.0

    @property
    def mass(self) -> float:
        """Mass of one piece in kilograms, 0 where the section is not known."""
        return piece_mass.si(self.thick, self.wide, self.length, self.density)

    def names(self) -> tuple[str, ...]:
        """What is written on each piece: bed, part, number."""
        return tuple(f"{self.bed}-{self.what}-{n}" for n in range(1, self.count + 1))


@quantities(
    "kg",
    thick="m (0, inf)",
    wide="m (0, inf)",
    length="m (0, inf)",
    density="kg/m^3 (0, inf)",
)
def piece_mass(thick, wide, length, density):
    """Mass of a piece of timber or sheet.

    Parameters
    ----------
    thick, wide, length : quantity [m]
        Its size; for sheet the flat width before it was bent into ribs.
    density : quantity [kg/m^3]
        As it is handled.

    Returns
    -------
    quantity [kg]
        thick x wide x length x density.

    Notes
    -----
    Fresh or wet timber is up to half as heavy again. Source: computed.
    """
    return thick * wide * length * density


@quantities("", side="m", lap="m [0, inf)", cover="m (0, inf)")
def strips_needed(side, lap, cover):
    """Sheets side by side that close a length.

    Parameters
    ----------
    side : quantity [m]
        Length (or height) to close.
    lap : quantity [m]
        Overlap of neighbours; one rib.
    cover : quantity [m]
        Width of a sheet less one lap.

    Returns
    -------
    quantity []
        Whole sheets: ceil((side - lap) / cover).

    Notes
    -----
    Source: common practice.
    """
    return np.maximum(np.ceil((side - lap) / cover - 1e-9), 1)


def courses(bed: Bed) -> int:
    """Courses of boards, blocks or sleepers up to the rim."""
    height = bed.si.soil_depth if bed.wall.family == "trough" else bed.si.height
    return np.ceil(height / np.maximum(bed.wall.si.course, 1e-9) - 1e-9).astype(int)


def blocks_needed(bed: Bed, spare: float = 0.0) -> tuple[float, int]:
    """Blocks by running length of the wall's middle, and how many to buy.

    Parameters
    ----------
    bed : Bed
        A bed of blocks.
    spare : float
        Share bought on top, such as 0.05.

    Returns
    -------
    tuple of float and int
        Exact number (halves are cut), whole number to buy.

    Notes
    -----
    Running length 2 L + 2 (W - 2 t): corners are counted once. Source: common
    practice.
    """
    s, module = bed.si, bed.wall.block_row.length
    run = 2 * s.length + 2 * (s.width - 2 * s.wall_thickness)
    exact = courses(bed) * run / module
    return exact, np.ceil(exact * (1 + spare) - 1e-9)


def parts(bed: Bed) -> tuple[Part, ...]:
    """Every piece of one bed that is cut from a length of stock."""
    family = bed.wall.family
    if family == "blocks":
        return ()
    make = {"sheet": _sheet, "trough": _trough}.get(family, _boards)
    found = [*make(bed), *_posts(bed), *_cap(bed)]
    return tuple(p for p in found if p.count and p.length > 0)


def tie_part(bed: Bed, extra: float) -> tuple[Part, ...]:
    """The rods of its cross ties, ``extra`` metres longer than the bed is wide."""
    number = int(bed.ties) + int(bed.base_ties)
    if not number:
        return ()
    return (_part(bed, "rod_m10", "tie", bed.si.width + extra, number),)


def _part(bed: Bed, goods: str, what: str, length, count, size=(0.0, 0.0), **more):
    if "density" not in more and bed.wall.wood:
        more["density"] = table("woods")[bed.wall.wood].density
    return Part(
        goods=goods,
        label=f"{bed.name} {what}",
        length=float(length),
        count=int(count),
        bed=bed.name,
        what=what,
        thick=float(size[0]),
        wide=float(size[1]),
        **more,
    )


def _boards(bed: Bed) -> list[Part]:
    s, rows, goods = bed.si, courses(bed), bed.wall.goods
    size = bed.wall.si.thickness, bed.wall.si.course
    return [
        _part(bed, goods, "side", s.length, 2 * rows, size, straight=True),
        _part(bed, goods, "end", s.inside_width, 2 * rows, size),
    ]


def _posts(bed: Bed) -> list[Part]:
    post = bed.wall.si.post
    if not post:
        return []
    count, length = layout(bed).posts, bed.si.height + bed.si.post_depth
    return [_part(bed, bed.wall.post_goods, "post", length, count, (post, post))]


def _cap(bed: Bed) -> list[Part]:
    wall = bed.wall.si
    if not wall.cap_wide:
        return []
    more, size = 2 * wall.cap_out, (wall.cap_thick, wall.cap_wide)
    goods, s = bed.wall.cap_goods, bed.si
    return [
        _part(
            bed, goods, "cap side", s.length + more, 2, size, angle=45.0, straight=True
        ),
        _part(bed, goods, "cap end", s.width + more, 2, size, angle=45.0),
    ]


def _sheet(bed: Bed) -> list[Part]:
    """Sheet inside a frame of two rails a side: base and top."""
    s, wall = bed.si, bed.wall
    row = table("sheets")[wall.sheet]
    size = wall.si.rail_thin, wall.si.rail_wide
    flat = row.thickness, (row.cover + row.pitch) * _unbent(row)

    def strips(side):
        return strips_needed.si(side, row.pitch, row.cover)

    if bed.ribs_lying:
        up = [("sheet side", s.inside_length, 2 * strips(s.height))]
        up += [("sheet end", s.inside_width, 2 * strips(s.height))]
    else:
        around = strips(s.inside_length) + strips(s.inside_width)
        up = [("sheet", s.height, 2 * around)]
    return [
        _part(bed, wall.rail_goods, "rail side", s.length, 4, size, straight=True),
        _part(bed, wall.rail_goods, "rail end", s.inside_width, 4, size),
        *(_part(bed, wall.goods, *piece, flat, density=_STEEL) for piece in up),
    ]


def _unbent(row) -> float:
    """Flat width over ribbed width, a wave taken as a zigzag of straight flanks."""
    flank = row.pitch / 2 - (0.0 if row.profile == "sinus" else row.top_flat)
    flank = max(flank, row.pitch / 20)
    return 1 + 2 * (np.hypot(flank, row.depth) - flank) / row.pitch


def _trough(bed: Bed) -> list[Part]:
    """Boards round a slatted floor on a frame, carried by legs."""
    s, wall = bed.si, bed.wall
    slats = np.floor(s.inside_length / max(wall.si.slat_wide, 0.02) + 1e-9)
    size, rail = (0.0, wall.si.slat_wide), (wall.si.rail_thin, wall.si.rail_wide)
    bearers = layout(bed).bays + 1
    return [
        *_boards(bed),
        _part(
            bed, wall.rail_goods, "floor frame side", s.length, 2, rail, straight=True
        ),
        _part(bed, wall.rail_goods, "floor bearer", s.inside_width, bearers, rail),
        _part(bed, wall.cap_goods, "slat", s.inside_width, slats, size),
    ]
