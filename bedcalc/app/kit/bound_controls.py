"""What moves: one control, or several bound together as one.

Every control has ``.widget`` to show, ``.value``, ``.observe(callback)`` and a silent
``.set(value)``. A callback receives one :class:`Change`; if it raises a ``BedError``
or ``UnitError``, the control goes back to its last good value and says the message
beside the field.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

import ipywidgets

from ...model.bed import BedError
from ...model.place import PlaceError
from ...units import UnitError
from .words import phrase

__all__ = ["Change", "Control", "Controls", "sentence"]

REFUSALS = (BedError, PlaceError, UnitError)


@dataclass(frozen=True, kw_only=True)
class Change:
    """One control has a new value; ``name`` is the control's, such as ``"length"``."""

    control: Control
    name: str
    old: Any
    new: Any


class Control:
    """What all rows have in common.

    Parameters
    ----------
    name : str
        The field it moves, such as ``"length"``.
    label : str
        What people read.
    """

    widget: ipywidgets.Box

    def __init__(self, name: str, label: str):
        self.name, self.label = name, label
        self._callbacks: list[Callable[[Change], Any]] = []
        self._quiet = False
        self._value: Any = None

    def observe(self, callback: Callable[[Change], Any]) -> None:
        """Call ``callback(change)`` whenever a person, or ``.value =``, moves it."""
        self._callbacks.append(callback)

    @property
    def value(self) -> Any:
        """What it stands at. Assigning moves it as a person would."""
        return self._value

    @value.setter
    def value(self, value: Any) -> None:
        self._move(self._fit(value))

    def set(self, value: Any) -> None:
        """Put it somewhere without telling anybody."""
        self._value = self._fit(value)
        self.say("")
        self._show()

    def say(self, text: str, tone: str = "refused") -> None:
        """Write a sentence beside the field (an empty one takes it away)."""

    @property
    def shown(self) -> bool:
        """Whether the row is on the page."""
        return "bc-hide" not in self.widget._dom_classes

    @shown.setter
    def shown(self, shown: bool) -> None:
        (self.widget.remove_class if shown else self.widget.add_class)("bc-hide")

    def use(self, system: str) -> None:
        """Show sizes in ``"metric"`` or ``"us"`` units; the value stays."""

    def _repr_mimebundle_(self, **kwargs):
        return self.widget._repr_mimebundle_(**kwargs)

    # -- for the rows

    def _fit(self, value: Any) -> Any:
        """The value as this row keeps it, or a teaching error."""
        return value

    def _show(self) -> None:
        """Bring the widgets to the value."""

    @contextmanager
    def _silence(self) -> Iterator[None]:
        before, self._quiet = self._quiet, True
        try:
            yield
        finally:
            self._quiet = before

    def _move(self, new: Any) -> None:
        """Take a new value, tell it, and go back if it is refused."""
        old, self._value = self._value, new
        self.say("")
        self._show()
        if _same(old, new):
            return
        change = Change(control=self, name=self.name, old=old, new=new)
        try:
            for callback in tuple(self._callbacks):
                callback(change)
        except REFUSALS as refusal:
            self._value = old
            self._show()
            self.say(phrase("stays", said=sentence(refusal), kept=self._kept()))

    def _kept(self) -> str:
        return str(self._value)


def _same(old: Any, new: Any) -> bool:
    try:
        return bool(old == new)
    except (ValueError, TypeError):
        return False


def sentence(error: Exception) -> str:
    """The message of an error with a full stop."""
    text = str(error).rstrip()
    return text if text.endswith((".", "!", "?")) else f"{text}."


class Controls:
    """Several controls as one: a preset moves six of them and tells once.

    Parameters
    ----------
    *controls : Control
        Reached by name: ``controls["length"]``.
    """

    def __init__(self, *controls: Control):
        self._by_name = {control.name: control for control in controls}
        self._callbacks: list[Callable[[list[Change]], Any]] = []
        self._held: list[Change] | None = None
        for control in controls:
            control.observe(self._heard)

    def __getitem__(self, name: str) -> Control:
        return self._by_name[name]

    def __iter__(self) -> Iterator[Control]:
        return iter(self._by_name.values())

    @property
    def values(self) -> dict[str, Any]:
        """Every value by name."""
        return {name: control.value for name, control in self._by_name.items()}

    def observe(self, callback: Callable[[list[Change]], Any]) -> None:
        """Call ``callback(changes)``: one change a move, several after a busy time."""
        self._callbacks.append(callback)

    def set(self, **values: Any) -> None:
        """Put controls somewhere without telling anybody."""
        for name, value in values.items():
            self._by_name[name].set(value)

    def use(self, system: str) -> None:
        """Show all sizes in ``"metric"`` or ``"us"`` units."""
        for control in self:
            control.use(system)

    @contextmanager
    def busy(self) -> Iterator[None]:
        """Hold back what is told until the end, then tell it all at once."""
        if self._held is not None:  # a busy time within another
            yield
            return
        self._held = []
        try:
            yield
        finally:
            held, self._held = self._held, None
        if held:
            self._tell(held)

    def _heard(self, change: Change) -> None:
        if self._held is None:
            self._tell([change])
        else:
            self._held.append(change)

    def _tell(self, changes: list[Change]) -> None:
        for callback in tuple(self._callbacks):
            callback(changes)
