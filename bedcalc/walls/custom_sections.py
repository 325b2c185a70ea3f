"""A wall of one's own sizes: any board, rail or post, and what may sit on its rim.

The goods follow from the size. A section that the list of builds knows in the same
wood keeps its goods; any other is named by its size, so that the bill says that it has
no price for it instead of taking the price of another.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from bedcalc.model.bed import Bed, BedError, Wall
from bedcalc.model.materials import BlockSize
from bedcalc.model.outcome import Check
from bedcalc.tables import table
from bedcalc.units import Value, quantities

__all__ = [
    "SIZES",
    "custom_sections_of",
    "rim_load_mass",
    "sized_wall",
    "wall_of_block",
    "who_may_sit",
]

#: sizes one may choose, by family, the one that carries first
SIZES = {
    "boards": ("thickness", "course", "post", "post_spacing"),
    "trough": ("thickness", "course", "post", "post_spacing"),
    "sheet": ("rail_thin", "rail_wide", "post", "post_spacing"),
    "sleepers": ("thickness", "course"),
    "blocks": (),
}
#: goods field, its two sides, and what it is called
_GOODS = (
    ("goods", ("thickness", "course"), "board"),
    ("rail_goods", ("rail_thin", "rail_wide"), "rail"),
    ("post_goods", ("post", "post"), "post"),
)
_GRAVITY = 9.80665
_CHILD = 0.4  # of the person the check counts with: 40 kg of 100, a judgement


def _section(wall, sides) -> tuple[float, ...]:
    """Both sides in tenths of a millimetre, the smaller first."""
    return tuple(sorted(round(1e4 * getattr(wall, side)) for side in sides))


def _sold(wood: str) -> Iterator[tuple[tuple[float, ...], str]]:
    """Sections of the list of builds in this wood, and their goods."""
    for row in table("walls"):
        if row.wood == wood:
            for goods, sides, _ in _GOODS:
                if getattr(row, goods) and (goods, row.family) != ("goods", "sheet"):
                    yield _section(row, sides), getattr(row, goods)


def custom_sections_of(bed: Bed, **sizes: Any) -> Bed:
    """The bed with boards, rails or posts of other sizes.

    Parameters
    ----------
    bed : Bed
    **sizes
        Of ``thickness``, ``course`` (the face of a board), ``rail_thin``,
        ``rail_wide``, ``post``, ``post_spacing``, those its family has (``SIZES``).

    Returns
    -------
    Bed
        Goods are named after their size where no build of the list has them.
    """
    family = bed.wall.family
    wrong = set(sizes) - set(SIZES[family])
    if wrong:
        known = ", ".join(SIZES[family]) or "none: blocks come as they are"
        raise BedError(
            f"wall of {family}, sizes: needs names among {known}; given "
            f"{', '.join(sorted(wrong))}; for example custom_sections_of(bed, "
            "post_spacing=Q_(60, 'cm'))"
        )
    return bed.change(wall=sized_wall(bed.wall, **sizes)) if sizes else bed


def sized_wall(wall: Wall, **sizes: Any) -> Wall:
    """A build of other sizes; its goods follow, as in ``custom_sections_of``.

    Parameters
    ----------
    wall : Wall
    **sizes
        Any size of a wall.
    """
    new = replace(wall, **sizes)
    sold, change = dict(_sold(wall.wood)), {}
    for goods, sides, name in _GOODS:
        before, after = (_section(w.si, sides) for w in (wall, new))
        if before != after and getattr(wall, goods):
            thin, wide = (f"{side / 10:.10g}" for side in after)
            own = f"{name} of {thin} × {wide} mm"
            change[goods] = sold.get(after, own)
    return replace(new, **change) if change else new


def wall_of_block(block: BlockSize) -> Wall:
    """A build of blocks of one's own; its goods have the key of the block.

    Parameters
    ----------
    block : BlockSize
        Sizes that it does not give are those of the block it is like.
    """
    row = block.row
    like = next(r.key for r in table("walls") if r.family == "blocks")
    like = next((r.key for r in table("walls") if r.block == block.like), like)
    return Wall.named(like).own(
        block.key,
        block.name,
        block=block,
        goods=block.key,
        thickness=row.q("thickness"),
        course=row.q("course"),
    )


@quantities("kg", force="N")
def rim_load_mass(force: Value) -> Value:
    """The weight of a person as a mass, the way people say it.

    Parameters
    ----------
    force : quantity [N]
        Of the person on the rim.

    Returns
    -------
    quantity [kg]
        F / g, with g = 9.80665 m/s2.

    Notes
    -----
    Source: common practice, as the check of the rim.
    """
    return force / _GRAVITY


def who_may_sit(check: Check | None) -> str:
    """Who may sit on the rim, as a key: nobody, child, adult, or unknown."""
    if check is None:
        return "unknown"
    bears = check.capacity.m_as("N") / check.demand.m_as("N")
    return "adult" if bears >= 1 else "child" if bears >= _CHILD else "nobody"
