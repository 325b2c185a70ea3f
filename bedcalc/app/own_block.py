"""Blocks of one's own: how long, high and thick they are, and what they weigh."""

from __future__ import annotations

from typing import Any

from ..garden.garden import Garden
from ..model.bed import BedError
from ..model.materials import BlockSize
from ..questions.own_builds import with_builds
from ..units import Q_
from .desk import Desk
from .own_form import Field, OwnForm

__all__ = ["OwnBlock", "own_block"]

_GRAVITY = Q_(1, "standard_gravity")


class OwnBlock(OwnForm):
    """The form for blocks; a build of them stands in the list of builds afterwards."""

    PART, CLASS, THING = "blocks", BlockSize, "blocks"
    TITLE = "Blocks of your own"
    INTRO = (
        "Measure a block, and weigh one as you will lay it, empty or filled. Divide "
        "what it weighs by its length × height × thickness: that is its weight by the "
        "cubic metre or foot. If you type in too much, the wall looks safer than it "
        "is. So leave empty what you do not know: it is then as in the block that "
        "yours is like."
    )
    EXAMPLE = "blocks from the quarry"
    FIELDS = (
        Field(name="length", label="Length", metric="mm", us="inch"),
        Field(name="course", label="Height of a course", metric="mm", us="inch"),
        Field(name="thickness", label="Thickness", metric="mm", us="inch"),
        Field(name="unit_weight", label="Weight", metric="kg/m^3", us="lb/ft^3",
              times=_GRAVITY),
    )  # fmt: skip  # rows of a table

    def used(self, bed: Any, key: str) -> bool:
        """Whether the bed is built of them."""
        return getattr(bed.wall.block, "key", "") == key

    def put(self, bed: Any, made: BlockSize) -> Any:
        """The bed as it is: ``follow`` changes builds and beds together."""
        return bed

    def allowed(self, garden: Garden, made: BlockSize) -> str:
        """Why the beds that are built of them could not be; empty where they can."""
        try:
            with_builds(garden, blocks=self._with(garden, made))
        except BedError as error:
            return f"Not changed: {error}"
        return ""

    def _with(self, garden: Garden, made: BlockSize) -> tuple[BlockSize, ...]:
        kept = {one.key: one for one in garden.blocks} | {made.key: made}
        return tuple(kept.values())

    def carry_over(self, garden: Garden, made: BlockSize) -> tuple[Garden, str]:
        """A build of them stands in the list, and beds of them change along."""
        garden = with_builds(garden, blocks=self._with(garden, made))
        return garden, (
            f"{made.name} stands in the list of builds now. Give its price in workbook "
            "05, under Your own prices."
        )

    def gone(self, garden: Garden, made: BlockSize) -> Garden:
        """The builds of these blocks go with them."""
        return with_builds(garden, blocks=garden.blocks)


def own_block(about: Desk) -> OwnBlock:
    """The form for blocks of one's own."""
    return OwnBlock(about)
