"""Own boards, rails, posts and blocks of a garden: which there are, and changing them.

A block of one's own is used through a build of that block. When a block or a build is
changed, the beds that are built of it change too.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from ..garden.garden import Garden
from ..model.bed import Bed, Wall
from ..model.materials import BlockSize
from ..units import Q_
from ..walls.custom_sections import sized_wall, wall_of_block

__all__ = ["BUILD_SIZES", "own_build", "own_builds", "with_builds"]

#: sizes of a build that a person may give
BUILD_SIZES = (
    "thickness", "course", "rail_thin", "rail_wide", "post", "post_spacing",
    "cap_wide", "cap_thick",
)  # fmt: skip  # rows of a table


def own_builds(garden: Garden) -> tuple[Wall, ...]:
    """Own boards, rails and posts; those of own blocks follow from the blocks."""
    return tuple(w for w in _walls(garden).values() if isinstance(w.block, str))


def _walls(garden: Garden) -> dict[str, Wall]:
    """All own builds by key: those of the garden, and those that a bed carries."""
    found = {wall.key: wall for wall in garden.walls}
    for bed in garden:
        if bed.wall.like:
            found.setdefault(bed.wall.key, bed.wall)
    return found


def own_build(key: str, given: Mapping[str, Any], before: Wall | None = None) -> Wall:
    """A build out of a name, the build it is like, and the sizes that differ.

    Parameters
    ----------
    key : str
    given : mapping
        ``name``, ``like`` and sizes; a size that is None is as in ``like``.
    before : Wall or None
        What it was until now: what was not changed stays as it was.
    """
    base = Wall.named(given["like"])
    if before is not None and before.like == given["like"]:
        start = before
    else:
        start = base.own(key, given["name"])
    sizes = {}
    for name in BUILD_SIZES:
        wanted, now = given.get(name), getattr(start, name)
        wanted = getattr(base, name) if wanted is None else wanted
        if abs(wanted.m_as("mm") - now.m_as("mm")) > _SAME:
            sizes[name] = wanted
    made = sized_wall(start, **sizes) if sizes else start
    return made if made.name == given["name"] else replace(made, name=given["name"])


_SAME = 1e-6  # mm, from turning inches into millimetres and back


def _of_block(wall: Wall, block: BlockSize) -> Wall:
    """A build with a changed block, as thick and as high as the block."""
    if wall.block == block:
        return wall
    row = block.row
    return replace(
        wall, block=block, thickness=row.q("thickness"), course=row.q("course")
    )


def with_builds(
    garden: Garden,
    builds: Sequence[Wall] | None = None,
    blocks: Sequence[BlockSize] | None = None,
) -> Garden:
    """The garden with these own builds and blocks, in its beds too.

    Parameters
    ----------
    garden : Garden
    builds : sequence of Wall or None
        All own builds but those of own blocks; as before if None.
    blocks : sequence of BlockSize or None
        All own blocks; as before if None. Each gets a build that has none yet.
    """
    old, now = _walls(garden), {}
    known = {b.key: b for b in (garden.blocks if blocks is None else blocks)}
    for wall in builds if builds is not None else own_builds(garden):
        now[wall.key] = wall
    for wall in old.values():
        if not isinstance(wall.block, str) and wall.block.key in known:
            now[wall.key] = _of_block(wall, known[wall.block.key])
    held = {w.block.key for w in now.values() if not isinstance(w.block, str)}
    for block in known.values():
        if block.key not in held:
            wall = wall_of_block(block)
            now[wall.key] = wall

    now = {key: now[key] for key in (*old, *now) if key in now}  # in the old order

    def rebuilt(bed: Bed) -> Bed:
        wall = bed.wall
        if wall == old.get(wall.key):
            wall = now.get(wall.key, wall)
        elif not isinstance(wall.block, str) and wall.block.key in known:
            wall = _of_block(wall, known[wall.block.key])
        if wall == bed.wall:
            return bed
        rows = round(bed.si.height / bed.wall.si.course) if wall.block else 0
        new_height = rows * wall.si.course
        more = {"height": Q_(new_height, "m").to("mm")} if rows else {}
        return bed.change(wall=wall, **more)

    return garden.change(
        beds=tuple(rebuilt(bed) for bed in garden),
        walls=tuple(now.values()),
        blocks=tuple(known.values()),
    )
