"""A small form for a material or for people of one's own: add, change, delete.

What is left empty is as in the row of the table that it is like. What cannot be is said
beside its field, and nothing that was typed is lost.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from ..garden.garden import Garden
from ..model.materials import BlockSize, FillMaterial, MaterialError, Person
from ..parsing.typed import EntryError, read_entry, sign
from ..tables import table
from ..units import Q_
from .desk import Desk
from .kit.controls import list_row
from .kit.inputs import Message, NumberField
from .kit.style import button, button_row, html, paper
from .kit.words import plain

__all__ = ["Field", "OwnForm"]

NEW = ""
_LONGEST = 60  # letters of a name


@dataclass(frozen=True, kw_only=True)
class Field:
    """A number of the form: its name in the class, its label, metric and US unit.

    ``times`` turns what is typed into what the class keeps: a density into a weight.
    """

    name: str
    label: str
    metric: str
    us: str
    times: Any = 1

    def unit(self, system: str) -> str:
        """The unit beside the box."""
        return self.us if system == "us" else self.metric

    def shown(self, kept: Any, system: str) -> float:
        """A kept quantity as a number in the unit beside the box."""
        return (kept / self.times).m_as(self.unit(system))


def as_typed(number: float) -> str:
    """A number as it stands in a box."""
    return f"{number:.4g}" if abs(number) < 1e4 else f"{number:.0f}"


class OwnForm:
    """The form as an object; show :attr:`widget`.

    Parameters
    ----------
    about : Desk
        Whose garden keeps what is made here.
    """

    PART = ""  # field of the garden
    CLASS: type[FillMaterial] | type[Person] | type[BlockSize] = Person
    TITLE = INTRO = THING = EXAMPLE = ""
    FIELDS: Sequence[Field] = ()

    def __init__(self, about: Desk):
        self.desk = about
        self._system = str(about.system)
        likes = [(row.key, row.name) for row in table(self.CLASS._TABLE)]
        self.which = list_row("Which", self._known(), NEW, name="own_which")
        self.name = NumberField(label="Name", placeholder=self.EXAMPLE)
        self.like = list_row("Like", likes, self.CLASS._FIRST, name="own_like")
        self.entries = {
            field.name: NumberField(label=field.label) for field in self.FIELDS
        }
        for entry in (self.name, *self.boxes()):
            entry.add_class("bc-answer")
        self.says = Message()
        self._add = button("Add", self.add, strong=True)
        self._change = button("Change", self.change)
        self._delete = button("Delete", self.delete)
        self.widget = paper(
            html(f"<h3>{plain(self.TITLE)}</h3><p>{plain(self.INTRO)}</p>"),
            self.which.widget,
            self.name,
            self.like.widget,
            *self.boxes(),
            button_row(self._add, self._change, self._delete),
            self.says,
        ).add_class(f"bc-view-own-{self.PART}")
        self.which.observe(lambda change: self.show())
        self.like.observe(lambda change: self._hint())
        self.show()
        about.observe(lambda outcome: self._heard())

    def _repr_mimebundle_(self, **kwargs):
        return self.widget._repr_mimebundle_(**kwargs)

    def boxes(self) -> list[NumberField]:
        """The boxes from top to bottom."""
        return list(self.entries.values())

    # ---- what there is

    @property
    def own(self) -> tuple:
        """What the garden has of this kind; nothing in the demo garden."""
        session = self.desk.session
        return getattr(session.garden, self.PART) if session and session.own else ()

    @property
    def chosen(self) -> Any:
        """What is chosen to be changed, or None for a new one."""
        found = [one for one in self.own if one.key == self.which.value]
        return found[0] if found else None

    def _known(self) -> list[tuple[str, str]]:
        return [(NEW, "a new one"), *((one.key, one.name) for one in self.own)]

    def _heard(self) -> None:
        """Follow the garden and its units; what was typed stays."""
        known, now = self._known(), self.which.value
        self.which.relist(known, now if now in dict(known) else NEW)
        system = str(self.desk.system)
        if system != self._system:
            for field in self.FIELDS:
                self._turn(field, self.entries[field.name], system)
            self._system = system
        self._hint()

    def _turn(self, field: Field, entry: NumberField, system: str) -> None:
        try:
            typed = read_entry(
                entry.value, field.unit(self._system), field.label, bare=True
            )
        except EntryError:
            return
        entry.value = as_typed(typed.m_as(field.unit(system)))

    def show(self) -> None:
        """Bring the boxes to what is chosen."""
        made = self.chosen
        self.name.value = made.name if made else ""
        self.like.set(made.like if made else self.CLASS._FIRST)
        for field in self.FIELDS:
            kept = getattr(made, field.name, None)
            shown = "" if kept is None else as_typed(field.shown(kept, self._system))
            self.entries[field.name].value = shown
        self.clear()
        self._hint()

    def clear(self) -> None:
        """Take all sentences away."""
        for entry in (self.name, *self.boxes()):
            entry.says, entry.tone = "", ""
        self.say("")

    def say(self, words: str, tone: str = "kept") -> None:
        """Say a sentence under the form."""
        with self.says.hold_sync():
            self.says.html = f"<p>{plain(words)}</p>" if words else ""
            self.says.tone = tone if words else ""

    def _hint(self) -> None:
        """Units beside the boxes, and in empty ones what they would be."""
        row = table(self.CLASS._TABLE)[self.like.value]
        for field in self.FIELDS:
            entry = self.entries[field.name]
            entry.unit = sign(field.unit(self._system))
            usual = as_typed(field.shown(row.q(field.name), self._system))
            entry.placeholder = f"{usual}, if left empty"
        there = self.chosen is not None
        self._change.disabled = self._delete.disabled = not there

    # ---- what is typed

    def _read(self, field: Field) -> Any:
        """The quantity in a box, None if it is empty, or an ``EntryError``."""
        entry, unit = self.entries[field.name], field.unit(self._system)
        text = entry.value.strip()
        if not text:
            return None
        kind, low, high, example = self.CLASS._RANGES[field.name]
        ends = [
            field.shown(Q_(float(end), kind), self._system)
            for end in (low, high, example)
        ]
        example = f"{as_typed(ends[2])} {sign(unit)}"
        typed = read_entry(text, unit, field.label, bare=True, example=example)
        if not ends[0] * (1 - 1e-9) <= typed.m_as(unit) <= ends[1] * (1 + 1e-9):
            raise EntryError(
                f"{field.label}: needs {math.ceil(ends[0] - 1e-9)} to "
                f"{math.floor(ends[1] + 1e-9)} {sign(unit)}; given {text}; for example "
                f"{example}"
            )
        return (typed * field.times).to(kind)

    def _read_name(self) -> str:
        name = " ".join(self.name.value.split())
        now = self.chosen
        taken = [row.name for row in table(self.CLASS._TABLE)]
        taken += [one.name for one in self.own if one is not now]
        if not name or len(name) > _LONGEST or name in taken:
            needed = (
                "a name that is not in the list yet"
                if name in taken
                else (f"some words, {_LONGEST} letters at most")
            )
            raise EntryError(
                f"Name: needs {needed}; given {name[:_LONGEST] or 'nothing'}; for "
                f"example {self.EXAMPLE}"
            )
        return name

    def _made(self, key: str) -> Any:
        """What the boxes say, or None after a sentence beside each wrong one."""
        self.clear()
        found: dict[str, Any] = {}
        readers = [("name", self.name, self._read_name)]
        readers += [
            (f.name, self.entries[f.name], lambda f=f: self._read(f))
            for f in self.FIELDS
        ]
        good = True
        for name, entry, read in readers:
            try:
                found[name] = read()
            except EntryError as error:
                entry.says, entry.tone, good = plain(str(error)), "refused", False
        if not good or not self.check(found):
            return None
        try:
            return self.CLASS(key=key, like=self.like.value, **found)
        except MaterialError as error:
            self.say(str(error), "refused")
            return None

    def check(self, found: dict[str, Any]) -> bool:
        """Whether the values go together; says it beside a field if not."""
        return True

    def _key(self) -> str:
        words = re.sub(r"\W+", "_", self.name.value.strip().lower()).strip("_")
        start = f"my_{words or self.THING}"[:60]
        used = {one.key for one in self.own}
        tries = (f"{start}_{n}" if n > 1 else start for n in range(1, 1000))
        return next(key for key in tries if key not in used)

    # ---- what the buttons do

    def _allowed(self) -> bool:
        session = self.desk.session
        if session is None or not session.own:
            self.say(
                "Not kept: this is the demo garden. Start a garden of your own in the "
                "bar at the top.",
                "refused",
            )
            return False
        return True

    def add(self) -> None:
        """Put a new one into the garden."""
        if not self._allowed():
            return
        if self.chosen is not None:
            self.which.set(NEW)
        made = self._made(self._key())
        if made is not None:
            self._keep(made, f"{made.name}: added.")

    def change(self) -> None:
        """Put what is typed in place of the chosen one, in all beds too."""
        if self._allowed() and self.chosen is not None:
            made = self._made(self.chosen.key)
            if made is not None:
                self._keep(made, f"{made.name}: changed.")

    def delete(self) -> None:
        """Take the chosen one out of the garden, unless a bed uses it."""
        made = self.chosen
        if not self._allowed() or made is None:
            return
        garden = self.desk.session.garden
        users = [bed.name for bed in garden if self.used(bed, made.key)]
        if users:
            self.say(
                f"Not deleted: {', '.join(users)} uses {made.name}. Choose something "
                "else there first.",
                "refused",
            )
            return
        left = tuple(one for one in self.own if one.key != made.key)
        self.desk.session.step(self.gone(garden.change(**{self.PART: left}), made))
        self.which.set(NEW)
        self.show()
        self.say(f"{made.name}: deleted. Undo in the bar brings it back.")

    def _keep(self, made: Any, words: str) -> None:
        garden = self.desk.session.garden
        refused = self.allowed(garden, made)
        if refused:
            self.say(refused, "refused")
            return
        kept = tuple(made if one.key == made.key else one for one in self.own)
        if all(one.key != made.key for one in kept):
            kept = (*kept, made)
        garden = garden.change(
            beds=tuple(self.put(bed, made) for bed in garden), **{self.PART: kept}
        )
        garden, more = self.carry_over(garden, made)
        self.desk.session.step(garden)
        self.which.relist(self._known(), made.key)
        self.show()
        self.say(f"{words} {more}".strip())

    # ---- what differs between the forms

    def used(self, bed: Any, key: str) -> bool:
        """Whether a bed uses the one with this key."""
        raise NotImplementedError

    def put(self, bed: Any, made: Any) -> Any:
        """The bed with the changed one in place of the old."""
        raise NotImplementedError

    def allowed(self, garden: Garden, made: Any) -> str:
        """Why the garden cannot take it, in a sentence; empty where it can."""
        return ""

    def carry_over(self, garden: Garden, made: Any) -> tuple[Garden, str]:
        """What else becomes of the garden, and a sentence about it."""
        return garden, ""

    def gone(self, garden: Garden, made: Any) -> Garden:
        """The garden after one was deleted."""
        return garden


def with_layers(bed: Any, made: FillMaterial) -> Any:
    """A bed with a changed fill in place of the old one of the same key."""
    layers = tuple(
        replace(layer, material=made)
        if getattr(layer.material, "key", "") == made.key
        else layer
        for layer in bed.fill
    )
    return bed if layers == bed.fill else bed.change(fill=layers)
