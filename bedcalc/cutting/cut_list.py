"""The cut list of a bed: its pieces, equal ones together, with label and number.

Where each piece lies, and so how long it is, is decided in :mod:`bedcalc.assembly`.
What no stock is long enough for is joined over a post, see
:mod:`bedcalc.cutting.splices`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedcalc.assembly import Member, assembly, courses, strips_needed
from bedcalc.model.bed import Bed
from bedcalc.units import Value, quantities

__all__ = [
    "CutPart", "blocks_needed", "parts", "piece_mass", "strips_needed", "tie_part",
]  # fmt: skip  # a list of names


@dataclass(frozen=True, kw_only=True)
class CutPart:
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
def piece_mass(thick: Value, wide: Value, length: Value, density: Value) -> Value:
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


def parts(bed: Bed) -> tuple[CutPart, ...]:
    """Every piece of one bed that is cut from a length of stock, equal ones together.

    Blocks are laid, not cut to a list; see :func:`blocks_needed`.
    """
    equal: dict[tuple, list[Member]] = {}
    for member in assembly(bed).members:
        if member.what != "block" and member.length > 0:
            equal.setdefault((member.what, round(member.length, 6)), []).append(member)
    return tuple(_part(bed, members[0], len(members)) for members in equal.values())


def tie_part(bed: Bed, extra: float) -> tuple[CutPart, ...]:
    """The rods of its cross ties, ``extra`` metres longer than the bed is wide."""
    number = len(assembly(bed).ties)
    if not number:
        return ()
    return (
        CutPart(
            goods="rod_m10", label=f"{bed.name} tie", bed=bed.name, what="tie",
            length=float(bed.si.width + extra), count=number,
        ),
    )  # fmt: skip  # rows of a table


def _part(bed: Bed, member: Member, count: int) -> CutPart:
    return CutPart(
        goods=member.goods,
        label=f"{bed.name} {member.what}",
        bed=bed.name,
        what=member.what,
        length=member.length,
        count=count,
        angle=member.angle,
        straight=member.straight,
        thick=member.thick,
        wide=member.wide,
        density=member.density,
    )
