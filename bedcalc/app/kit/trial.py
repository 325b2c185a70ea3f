"""A bed to try things on: any bed of the reader's garden, or of the demo garden.

Nothing that is tried here changes a bed until the reader takes it over; then it is
saved, and can be undone, like every other change.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ...evaluate import evaluate
from ...garden.garden import Garden
from ...model.bed import Bed
from ...model.place import Place
from ...tables import table
from ..bench_words import bed_title
from ..cost_prices import list_for
from ..desk import Desk, demo_garden_once
from .controls import ListRow, list_row
from .words import literal

__all__ = ["USE", "Trial", "bed_row", "trial"]

USE = "Use this in my bed"
_OWN = "own "  # before the name of an own bed, in the keys of the list


class Trial(Desk):
    """A desk for trying things out, beside the desk of the workbook.

    Parameters
    ----------
    about : Desk
        Of the workbook: whose current bed it begins with.
    more : mapping of key to Bed, optional
        Beds to offer after those of the demo garden.
    **change
        What differs in the demo bed of the lesson, for :meth:`bedcalc.Bed.change`.

    Attributes
    ----------
    key : str
        Which bed of :meth:`beds` is tried on.
    """

    def __init__(self, about: Desk, more: Mapping[str, Bed] | None = None, **change):
        lesson = about.demo.bed.change(**change)
        super().__init__(lesson)
        self._leader, self._main, self._more = about, about, dict(more or {})
        self._reader, self.key, self._state = about.session, "", None
        self._shown = self._current()
        self.choose(self._shown)
        about.observe(lambda outcome: self._follow())
        if self._reader is not None:
            self._reader.observe(lambda origin: self._follow())

    # ---- which beds there are

    def beds(self) -> dict[str, Bed]:
        """The beds to choose from: those of the own garden first."""
        reader, lesson = self._reader, self._demo_bed
        own = reader.garden if reader is not None and reader.own else ()
        found = {f"{_OWN}{bed.name}": bed for bed in own}
        for bed in demo_garden_once():
            found[bed.name] = lesson if bed.name == lesson.name else bed
        return found | self._more

    def titles(self) -> list[tuple[str, str]]:
        """The same as (key, words) for a list."""
        found = self.beds()
        mixed = any(key.startswith(_OWN) for key in found)
        return [
            (key, title if key.startswith(_OWN) or not mixed else f"demo, {title}")
            for key, title in ((key, bed_title(bed)) for key, bed in found.items())
        ]

    def _current(self) -> str:
        """The bed that is current in the workbook."""
        about = self._main
        if about.own:
            return f"{_OWN}{about.bed.name}"
        name = about.bed.name
        return name if name in self.beds() else self._demo_bed.name

    @property
    def own(self) -> bool:
        """Whether it is a bed of the reader's own."""
        return getattr(self, "key", "").startswith(_OWN)

    @property
    def can_turn(self) -> bool:
        """Whether there is an own bed to look at instead of a demo bed."""
        return self._main.can_turn

    def look_at(self, which: str) -> None:
        """Turn to the ``"demo"`` bed of the lesson, or to one's ``"own"`` bed."""
        reader = self._reader
        own = f"{_OWN}{reader.name}" if reader is not None else ""
        self.choose(self._demo_bed.name if which == "demo" else own)

    @property
    def demo(self) -> Desk:
        """The demo bed of the lesson, for questions about it."""
        return self._main.demo

    @property
    def garden(self) -> Garden:
        """The garden of the bed: the reader's own, or the demo garden."""
        return self._reader.garden if self.own else demo_garden_once()

    @property
    def start(self) -> Bed:
        """The bed as it is in its garden."""
        return self.beds()[self.key]

    @property
    def about(self) -> str:
        """Which bed this is, in a line that stands over a view."""
        if self.own:
            return (
                f"Tried on your bed **{literal(self.bed.name)}**, "
                f"{literal(self.garden.name)}"
            )
        return f"Bed **{self.bed.name}** of the demo garden"

    # ---- trying

    def choose(self, key: str) -> None:
        """Begin with this bed, as it is in its garden."""
        self.key = key
        self._state = self._now()
        bed, place = self.start, self.garden.place
        self.place = place.change(prices=list_for(bed.wall, place))
        self.outcome = evaluate(bed, self.place)
        self._tell()

    def take(
        self,
        bed: Bed | None = None,
        place: Place | None = None,
        system: str | None = None,
    ) -> None:
        """Try a changed bed; the bed of the garden stays as it is."""
        if bed is not None or place is not None:
            self.place = place or self.place
            self.outcome = evaluate(bed or self.bed, self.place)
            self._tell()
        if system is not None:
            self._main.take(system=system)

    # ---- taking over

    def no_bed(self) -> str:
        """Why nothing can be taken over; empty where it can."""
        reader = self._reader
        if reader is None or not reader.own:
            return (
                "Not taken: there is no garden of your own yet. Start one in the bar "
                "at the top of this workbook."
            )
        if not self.own:
            return (
                "Not taken: this is a bed of the demo garden. Choose one of your own "
                "beds under *Bed* first."
            )
        return ""

    def use(self, change: Mapping[str, Any] | None = None) -> str:
        """Put what is tried into the own bed, and save; what to say about it.

        Parameters
        ----------
        change : mapping, optional
            What to change besides, for :meth:`bedcalc.Bed.change`.
        """
        refused = self.no_bed()
        if refused:
            return refused
        bed = self.bed.change(**(change or {}))
        if bed == self.start:
            return f"{self.bed.name} is like this already."
        reader = self._reader
        reader.step(reader.garden.with_bed(bed), origin=self)
        return self._saved(f"Your bed {bed.name} is now like this.")

    def save_wall(self, name: str) -> str:
        """Keep the wall that is tried as a build of the garden's own."""
        reader, name = self._reader, " ".join(name.split())
        if reader is None or not reader.own:
            return self.no_bed().replace("Not taken", "Not saved")
        wall = self.bed.wall
        like = f"my {wall.name}"
        if not name:
            return (
                "Not saved: name of the build: needs some words; given nothing; for "
                f"example {like!r}"
            )
        garden = reader.garden
        if name.casefold() in {one.name.casefold() for one in _builds(garden)}:
            return (
                "Not saved: name of the build: needs a name that no other build has; "
                f"given {name!r}; for example {name + ', second'!r}"
            )
        made = wall.own(_free_key(garden), name[:80])
        reader.step(garden.change(walls=(*garden.walls, made)), origin=self)
        return self._saved(f"“{made.name}” now stands in every list *Built of*.")

    def _saved(self, words: str) -> str:
        said = self._main.keep() if self._main.own else ""
        trouble = self._reader.trouble
        if trouble:
            return trouble
        return f"{words} {said}".strip()

    # ---- keeping up

    def _now(self) -> tuple:
        """What it hangs on besides its own bed."""
        walls = self._reader.garden.walls if self._reader else ()
        return (
            self.beds().get(self.key),
            self.garden.place,
            walls,
            tuple(self.titles()),
            str(self.system),
        )

    def _follow(self) -> None:
        """Another bed was chosen in the bar, or a bed was changed elsewhere."""
        current = self._current()
        if current != self._shown or self.key not in self.beds():
            self._shown = current
            self.choose(current)
            return
        before, now = self._state, self._now()
        if before == now:
            return
        if before[:2] != now[:2]:
            self.choose(self.key)
            return
        self._state = now
        self._tell()

    def _tell(self) -> None:
        for listener in tuple(self._listeners):
            listener(self.outcome)


def _builds(garden: Garden) -> list[Any]:
    """All builds that have a name: those of the list and the garden's own."""
    return [*table("walls"), *garden.walls]


def _free_key(garden: Garden) -> str:
    known = {one.key for one in _builds(garden)}
    known |= {bed.wall.key for bed in garden}
    return next(key for n in range(1, 10_000) if (key := f"own_{n}") not in known)


def trial(about: Desk, more: Mapping[str, Bed] | None = None, **change) -> Trial:
    """The same desk if it is for trying things out, else one beside it."""
    return about if isinstance(about, Trial) else Trial(about, more, **change)


def bed_row(about: Trial) -> ListRow:
    """The row to choose the bed that is tried on."""
    return list_row("Bed", about.titles(), about.key, name="bed")
