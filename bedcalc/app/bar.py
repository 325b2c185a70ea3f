"""The bar at the top of every workbook: which garden, which bed, and what is saved."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from pathlib import Path

import ipywidgets

from ..garden.files import FILE, free_path, garden_files
from ..garden.garden import GardenError, last_good
from .bench_words import bed_title
from .kit.controls import choice_row, list_row
from .kit.inputs import Message, NumberField
from .kit.style import button, button_row, paper
from .kit.words import plain
from .session import Session, open_session

__all__ = ["GardenBar", "garden_bar"]

LOOK = 2.0  # seconds between two looks at the file
_DEMO, _EMPTY, _COPY = "demo", "new, empty", "new, copy"
_UNITS = [("metric", "metric"), ("us", "feet, inches")]


class GardenBar:
    """The bar as an object; show :attr:`widget`.

    Parameters
    ----------
    session : Session
    """

    def __init__(self, session: Session):
        self.session = session
        self._asked: Callable[[str], None] | None = None
        self.garden = list_row("Garden", self._gardens(), self._open(), name="garden")
        self.bed = list_row("Bed", self._beds(), self._bed(), name="which")
        self.units = choice_row(
            "Show in", _UNITS, session.garden.system, name="garden_units"
        )
        self.garden.observe(lambda change: self._turn(change.new))
        self.bed.observe(lambda change: session.choose(change.new))
        self.units.observe(lambda change: session.show_in(change.new))
        self.start = button("Start my garden", lambda: self._turn(_EMPTY), strong=True)
        self.acts = {
            "Add a bed": button("Add a bed", lambda: session.add()),
            "Copy": button("Copy", lambda: session.copy()),
            "Rename": button("Rename", self._ask_rename),
            "Delete": button("Delete", session.delete),
            "Undo": button("Undo", session.undo),
        }
        self.says = Message()
        self.entry = NumberField(label="Name")
        self.entry.on_sent(self._answered)
        self._ok = button("OK", lambda: self._answered(self.entry.value), strong=True)
        self._no = button("Cancel", self._put_away)
        self._ask = ipywidgets.Box([self.entry, button_row(self._ok, self._no)])
        self._ask.add_class("bc-bar-ask").add_class("bc-hide")
        self._answers = button_row()
        self.widget = paper(
            ipywidgets.Box(
                [self.garden.widget, self.bed.widget, self.units.widget]
            ).add_class("bc-garden-bar"),
            ipywidgets.Box(
                [button_row(self.start, *self.acts.values()), self.says]
            ).add_class("bc-bar-acts"),
            self._ask,
            self._answers,
            kind="top",
        ).add_class("bc-view-bar")
        session.observe(lambda origin: self.show())
        self.show()
        self._watch()

    def _repr_mimebundle_(self, **kwargs):
        return self.widget._repr_mimebundle_(**kwargs)

    # ---- what there is to choose

    def _gardens(self) -> list[tuple[str, str]]:
        session = self.session
        folder = session.path.parent
        files = {path.name: path for path in garden_files(folder)}
        if session.own:
            files.setdefault(session.path.name, session.path)
        own = []
        for name in files:
            here = session.own and name == session.path.name
            title = f"{session.garden.name} ({name})" if here else name
            own.append((name, title))
        return [
            *own,
            (_DEMO, "demo garden, not saved"),
            (_EMPTY, "start a new garden, empty …"),
            (_COPY, "start from a copy of the demo …"),
        ]

    def _open(self) -> str:
        return self.session.path.name if self.session.own else _DEMO

    def _beds(self) -> list[tuple[str, str]]:
        return [(bed.name, bed_title(bed)) for bed in self.session.garden] or [
            ("", "no bed yet")
        ]

    def _bed(self) -> str:
        return self.session.name

    # ---- what one does

    def _turn(self, which: str) -> None:
        """Another garden was chosen in the list."""
        session = self.session
        if which in (_EMPTY, _COPY):
            copy = which == _COPY
            self.garden.set(self._open())
            self._ask_for(
                "Name of the garden",
                "Our garden",
                lambda name: self._begin(name, copy),
            )
        elif which == _DEMO:
            self._try(session.open_demo)
        else:
            self._try(lambda: session.open(session.path.with_name(which)))

    def _begin(self, name: str, copy: bool) -> None:
        path = free_path(self.session.path.with_name(FILE))
        self.session.start(name, copy, path)

    def _ask_rename(self) -> None:
        self._ask_for("New name of the bed", self.session.name, self.session.rename)

    def _ask_for(self, label: str, value: str, then: Callable[[str], None]) -> None:
        self.entry.label, self.entry.value, self._asked = label, value, then
        self.entry.says, self.entry.tone = "", ""
        self._ask.remove_class("bc-hide")

    def _answered(self, text: str) -> None:
        if self._asked is None:
            return
        try:
            self._asked(text)
        except (GardenError, ValueError, OSError) as error:
            self.entry.says, self.entry.tone = plain(str(error)), "refused"
            return
        self._put_away()
        self.show()

    def _put_away(self) -> None:
        self._asked = None
        self._ask.add_class("bc-hide")

    def _try(self, act: Callable[[], object]) -> None:
        try:
            act()
        except (GardenError, OSError) as error:
            self.show()
            self._say(str(error), "refused")

    # ---- what it shows

    def show(self) -> None:
        """Bring lists, buttons and the line of the file up to date."""
        session = self.session
        self.garden.relist(self._gardens(), self._open())
        self.bed.relist(self._beds(), self._bed())
        self.units.set(session.garden.system)
        for name, made in self.acts.items():
            lacks = name != "Add a bed" and session.bed is None
            gone = not session.own or (lacks if name != "Undo" else False)
            made.disabled = gone or (name == "Undo" and not session.can_undo)
            (made.remove_class if session.own else made.add_class)("bc-hide")
        (self.start.add_class if session.own else self.start.remove_class)("bc-hide")
        self._say(*self._state())
        self._offer()

    def _state(self) -> tuple[str, str]:
        """The line about the file, and its tone."""
        s = self.session
        if s.conflicts:
            return (
                f"{s.path.name} was changed here and elsewhere: "
                f"{'; '.join(s.conflicts[:4])}. Nothing is lost. What should stay?",
                "refused",
            )
        if s.trouble:
            return s.trouble, "refused"
        if not s.own:
            return (
                "This is the demo garden: change what you like, nothing is saved. "
                "Start a garden of your own to keep your beds.",
                "",
            )
        if s.changed_elsewhere:
            return f"{s.path.name} was changed in another workbook.", "news"
        if not s.saved:
            return f"Not saved yet in {s.path.name} …", ""
        when = f" at {s.saved_at}" if s.saved_at else ""
        beds = "" if s.bed else " It has no bed yet: press *Add a bed*."
        return f"Saved in {s.path.name}{when}.{beds}", "kept"

    def _offer(self) -> None:
        """Buttons that answer what the line asks."""
        s, made = self.session, []
        if s.conflicts:
            for text, whose in (
                ("Keep mine", "mine"),
                ("Take the other", "theirs"),
                ("Keep both", "both"),
            ):
                made.append(button(text, lambda w=whose: s.settle(w)))
        elif s.trouble and s.own and s.damaged:
            act = lambda: self._try(s.use_mine)  # noqa: E731
            made.append(button("Save it as it is here", act))
        elif s.trouble and not s.own and s.damaged and last_good(s.path).is_file():
            act = lambda: self._try(s.use_last_good)  # noqa: E731
            made.append(button("Use the last good copy", act))
        elif s.changed_elsewhere:
            made.append(button("Show it here", lambda: self._try(s.reload)))
        self._answers.children = tuple(made)

    def _say(self, words: str, tone: str) -> None:
        line = plain(words).replace("*Add a bed*", "<em>Add a bed</em>")
        with self.says.hold_sync():
            self.says.html, self.says.tone = f"<p>{line}</p>", tone

    def _watch(self) -> None:
        """Look at the file from time to time, where a loop runs."""
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            return

        def look() -> None:
            self.session.look()
            loop.call_later(LOOK, look)

        loop.call_later(LOOK, look)


def garden_bar(file: str | Path | None = None) -> GardenBar:
    """The bar of this workbook, on the garden that was open last."""
    return GardenBar(open_session(file))
