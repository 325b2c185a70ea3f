"""Your own reach and height: people of one's own, and for whom the bed is."""

from __future__ import annotations

from typing import Any

from ..garden.garden import Garden
from ..model.materials import Person
from .desk import Desk
from .kit.offers import key_of
from .own_form import Field, OwnForm

__all__ = ["OwnPeople", "own_people"]


class OwnPeople(OwnForm):
    """The form for people; whoever is added or changed works at the current bed."""

    PART, CLASS, THING = "people", Person, "people"
    TITLE = "Your own reach and height"
    INTRO = (
        "Stand at a table as high as the rim and reach in with one hand. Measure from "
        "the edge of the table to the palm. Take the one who reaches least."
    )
    EXAMPLE = "our children"
    FIELDS = (
        Field(name="reach", label="Reach", metric="cm", us="inch"),
        Field(name="stature", label="Tall", metric="cm", us="inch"),
    )

    def used(self, bed: Any, key: str) -> bool:
        """Whether the bed is for these people."""
        return key_of(bed.users) == key

    def put(self, bed: Any, made: Person) -> Any:
        """The bed for the changed people, if it was for them."""
        return bed.change(users=made) if self.used(bed, made.key) else bed

    def carry_over(self, garden: Garden, made: Person) -> tuple[Garden, str]:
        """The current bed is for them from now on."""
        name = self.desk.session.name
        if name not in garden:
            return garden, "They stand in the list of people now."
        return (
            garden.with_bed(garden[name].change(users=made)),
            f"{name} is for them now.",
        )


def own_people(about: Desk) -> OwnPeople:
    """The form for people of one's own."""
    return OwnPeople(about)
