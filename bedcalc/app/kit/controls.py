"""Controls: rows that one moves. A label, the thing to move, a number box, a unit.

Each is a :class:`~bedcalc.app.kit.bound_controls.Control`: ``.widget`` to show,
``.value``,
``.observe(callback)``, a silent ``.set(value)``. :class:`Controls` binds several, so
that a preset is one update. A row has the classes ``bc-row`` and ``bc-row-<name>``.

A size keeps the quantity it was given: showing it in inches or centimetres, or
rounding it for the slider, never changes it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import ipywidgets

from ...parsing.typed import EntryError, read_entry, sign
from ...units import Q_, UnitError
from .bound_controls import Change, Control, Controls, sentence
from .inputs import Choice, NumberField, Slider, WidthWatch, layout_kind
from .words import phrase, plain

__all__ = [
    "Change", "ChoiceRow", "Control", "Controls", "ListRow", "SliderRow", "WidthWatch",
    "choice_row", "group", "layout_kind", "list_row", "slider_row",
]  # fmt: skip  # a list of names


class SliderRow(Control):
    """A size or a count: label, slider, number box, unit. See :func:`slider_row`."""

    def __init__(self, name, label, scales, value):
        super().__init__(name, label)
        self._scales, self._system = scales, "metric"
        self.slider = Slider(description=label, readout=False)
        self.entry = NumberField(label=label, label_shown=False, tone="")
        self.widget = ipywidgets.Box([self.slider, self.entry])
        self.widget.add_class("bc-row").add_class(f"bc-row-{name}")
        self._value = None
        if not self.unit or isinstance(value, Q_):
            self._widen(value)
        self._value = self._fit(value)
        self.use("metric")
        self.slider.observe(self._slid, "value")
        self.entry.on_sent(self._typed)

    @property
    def unit(self) -> str:
        """The unit now shown, such as ``"cm"``; empty for a count."""
        return self._scales[self._system][3]

    @property
    def _one(self) -> float:
        """What one of the slider's whole numbers is: the unit, or a part of it."""
        step = self._scales[self._system][2]
        return 1 if step == int(step) else step

    @property
    def si(self) -> float:
        """The value in SI (a count as it is)."""
        return self._value.to_base_units().m if self.unit else float(self._value)

    def set(self, value: Any) -> None:
        """Put it somewhere without telling anybody; the ends give way to the value."""
        if not self.unit or isinstance(value, Q_):
            before = dict(self._scales)
            self._widen(value)
            if self._scales != before:
                self._value = self._fit(value)
                self.use(self._system)
        super().set(value)

    def _widen(self, value: Any) -> None:
        """Move the ends, by whole steps, so that the slider can show a value."""
        if self.unit and self._within(value):
            return
        for system, (low, high, step, unit) in self._scales.items():
            at = value.m_as(unit) if unit else value
            low = min(low, math.floor(at / step) * step)
            high = max(high, math.ceil(at / step) * step)
            self._scales[system] = (low, high, step, unit)

    def use(self, system: str) -> None:
        """Show it in ``"metric"`` or ``"us"`` units; the value stays."""
        self._system = str(system) if system in self._scales else "metric"
        low, high, step, unit = self._scales[self._system]
        least, most = (round(end / self._one) for end in (low, high))
        with self._silence(), self.slider.hold_sync():
            self.slider.max = max(most, self.slider.max)
            self.slider.min = least
            self.slider.max, self.slider.step = most, round(step / self._one)
            # in the same message: the page would round the old number and send it back
            # (and read last, see Slider)
            self._show()
        with self.entry.hold_sync():
            self.entry.low, self.entry.high, self.entry.step = low, high, step
            self.entry.unit = sign(unit)
        self.say("")
        self._show()

    def say(self, text: str, tone: str = "refused") -> None:
        """Write a sentence beside the field (an empty one takes it away)."""
        with self.entry.hold_sync():
            self.entry.says, self.entry.tone = plain(text), tone if text else ""

    def _number(self) -> float:
        """The value in the unit shown."""
        return self._value.m_as(self.unit) if self.unit else self._value

    def _text(self) -> str:
        fine = 0 if not self.unit else 2 if self._one < 1 else 1
        return f"{round(float(self._number()), fine):.10g}"

    def _kept(self) -> str:
        return f"{self._text()} {sign(self.unit)}".strip()

    def _show(self) -> None:
        low, high, step, _ = self._scales[self._system]
        near = low + round((self._number() - low) / step) * step
        with self._silence():
            self.slider.value = round(min(max(near, low), high) / self._one)
        self.entry.value = self._text()

    def _fit(self, value, given: str = ""):
        """A quantity of the right kind within the ends, or a whole count."""
        low, high, step, unit = self._scales[self._system]
        if not unit:
            if value != int(value) or not low <= value <= high:
                raise EntryError(self._refusal("not_whole", given or f"{value:g}"))
            return int(value)
        if not isinstance(value, Q_):
            raise UnitError(
                f"{self.label}: needs a size with a unit, given {value!r} without; "
                f"for example Q_({low}, {unit!r})"
            )
        if not self._within(value):
            raise EntryError(self._refusal("out_of_range", given or f"{value:~P}"))
        return value

    def _within(self, value) -> bool:
        """Between the ends of either system (rounded ends must not refuse)."""
        return any(
            low - 1e-9 <= value.m_as(unit) <= high + 1e-9
            for low, high, _, unit in self._scales.values()
        )

    def _refusal(self, key: str, given: str) -> str:
        low, high, _, unit = self._scales[self._system]
        return phrase(
            key,
            field=self.label,
            low=low,
            high=high,
            unit=sign(unit),
            given=given,
            kept=self._kept() if self._value is not None else low,
        )

    def _slid(self, change) -> None:
        if not self._quiet:
            moved = change.new * self._one
            self._move(Q_(float(moved), self.unit) if self.unit else int(moved))

    def _typed(self, text: str) -> None:
        """Read the number box; what will not do is said and the last value kept."""
        if text.strip() == self._text():
            self.say("")
            return
        try:
            typed = read_entry(
                text, self.unit, self.label, bare=True, example=self._kept()
            )
            if not self.unit:
                typed = float(typed.m_as(""))
            new = self._fit(typed, text.strip())
        except EntryError as error:
            said, kept = sentence(error), self._kept()
            self._show()
            if kept not in said:
                said = phrase("stays", said=said, kept=kept)
            self.say(said)
            return
        self._move(new)


def slider_row(
    label: str,
    unit: str,
    low: int,
    high: int,
    step: int,
    value: Any,
    *,
    name: str = "",
    us: tuple[str, float, float, float] | None = None,
) -> SliderRow:
    """A row with a slider and a number box for a size or a count.

    Parameters
    ----------
    label : str
        What people read, such as ``"Length"``.
    unit : str
        The unit shown, such as ``"cm"``; ``""`` for a count.
    low, high, step : int
        Ends and step of the slider, whole numbers of ``unit``. The number box takes
        any size between the ends, in any fitting unit (``2.7 m``, ``8 ft 6 in``).
    value : quantity or int
        Where it stands at first; a number is taken in ``unit``.
    name : str
        The field it moves, such as ``"length"``; the label in small letters if empty.
    us : (unit, low, high, step), optional
        How it is shown in US customary units. Left out: whole feet for a length in
        m, whole inches for one in cm, quarter inches for one in mm, inside the ends.

    Returns
    -------
    SliderRow
        With ``.widget``, ``.value`` (a quantity, or a whole number), ``.observe``,
        ``.set``, ``.say``, ``.use(system)``, ``.si``; parts ``.slider``, ``.entry``.
    """
    scales = {"metric": (low, high, step, unit)}
    if us is not None:
        scales["us"] = (us[1], us[2], us[3], us[0])
    elif unit == "m":
        least, most = (Q_(end, unit).m_as("ft") for end in (low, high))
        scales["us"] = (math.ceil(least), math.floor(most), 1, "ft")
    elif unit in ("mm", "cm"):
        fine = 0.25 if unit == "mm" else 1
        least, most = (Q_(end, unit).m_as("inch") / fine for end in (low, high))
        scales["us"] = (math.ceil(least) * fine, math.floor(most) * fine, fine, "inch")
    if unit and not isinstance(value, Q_):
        value = Q_(value, unit)
    return SliderRow(name or _key(label), label, scales, value)


def _key(label: str) -> str:
    return "_".join(label.lower().replace(",", "").split())


class _OneOf(Control):
    """A value out of a list of (value, text)."""

    def __init__(self, name, label, options):
        super().__init__(name, label)
        self._options = [
            option if isinstance(option, tuple) else (option, str(option))
            for option in options
        ]

    @property
    def options(self) -> list[tuple[Any, str]]:
        """The (value, text) pairs to choose from."""
        return self._options

    def _fit(self, value):
        if value not in [key for key, _ in self._options]:
            names = ", ".join(repr(key) for key, _ in self._options)
            raise EntryError(f"{self.label}: needs one of {names}; given {value!r}")
        return value

    def _index(self) -> int:
        return [key for key, _ in self._options].index(self._value)

    def _kept(self) -> str:
        return self._options[self._index()][1]

    def _texts(self) -> list[str]:
        return [text for _, text in self._options]


class ChoiceRow(_OneOf):
    """A choice out of two to four buttons. See :func:`choice_row`."""

    def __init__(self, name, label, options, value):
        super().__init__(name, label, options)
        self.choice = Choice(texts=self._texts(), label=label)
        heading = ipywidgets.HTML(f'<span aria-hidden="true">{plain(label)}</span>')
        heading.add_class("bc-label")
        self._says = ipywidgets.HTML().add_class("bc-says")
        self.widget = ipywidgets.Box([heading, self.choice, self._says])
        self.widget.add_class("bc-row").add_class(f"bc-row-{name}")
        self.set(value)
        self.choice.observe(self._chosen, "index")

    def say(self, text: str, tone: str = "refused") -> None:
        """Write a sentence beside the field (an empty one takes it away)."""
        self._says.value = f'<p role="alert">{plain(text)}</p>' if text else ""

    def offer(self, options: Sequence[Any], value: Any) -> None:
        """Offer other values, silently."""
        self._options = _OneOf("", "", options)._options
        with self._silence():
            self.choice.index = -1
            self.choice.texts = self._texts()
        self.set(value)

    def rename(self, options: Sequence[Any]) -> None:
        """Say the same values in other words, silently."""
        renamed = _OneOf("", "", options)._options
        if renamed != self._options:
            self._options = renamed
            self.choice.texts = self._texts()

    def _show(self) -> None:
        with self._silence():
            self.choice.index = self._index()

    def _chosen(self, change) -> None:
        if not self._quiet and change.new >= 0:
            self._move(self._options[change.new][0])


def choice_row(
    label: str,
    options: Sequence[Any],
    value: Any,
    *,
    name: str = "",
) -> ChoiceRow:
    """A row with two to four buttons, one of which is pressed.

    Parameters
    ----------
    label : str
        What people read.
    options : sequence of (value, text) or of texts
        What one can choose.
    value : object
        What is chosen at first.
    name : str
        The field it moves; the label in small letters if empty.
    """
    return ChoiceRow(name or _key(label), label, options, value)


class ListRow(_OneOf):
    """A choice out of a list that unfolds. See :func:`list_row`."""

    def __init__(self, name, label, options, value):
        super().__init__(name, label, options)
        self.dropdown = ipywidgets.Dropdown(
            options=self._pairs(), value=0, description=label
        )
        self._says = ipywidgets.HTML().add_class("bc-says")
        self.widget = ipywidgets.Box([self.dropdown, self._says])
        self.widget.add_class("bc-row").add_class(f"bc-row-{name}")
        self.set(value)
        self.dropdown.observe(self._chosen, "value")

    def say(self, text: str, tone: str = "refused") -> None:
        """Write a sentence beside the field (an empty one takes it away)."""
        self._says.value = f'<p role="alert">{plain(text)}</p>' if text else ""

    def relist(self, options: Sequence[Any], value: Any) -> None:
        """Offer other options, silently."""
        offered = _OneOf("", "", options)._options
        if offered != self._options:
            self._options = offered
            with self._silence():
                self.dropdown.options = self._pairs()
        self.set(value)

    def _pairs(self):
        return [(text, index) for index, text in enumerate(self._texts())]

    def _show(self) -> None:
        with self._silence():
            self.dropdown.value = self._index()

    def _chosen(self, change) -> None:
        if not self._quiet and change.new is not None:
            self._move(self._options[change.new][0])


def list_row(
    label: str, options: Sequence[Any], value: Any, *, name: str = ""
) -> ListRow:
    """A row with a list that unfolds; options as in :func:`choice_row`."""
    return ListRow(name or _key(label), label, options, value)


def group(title: str, *controls: Control | ipywidgets.Widget) -> ipywidgets.VBox:
    """Controls under a small heading that names the thing moved."""
    heading = ipywidgets.HTML(f"<h3>{plain(title)}</h3>").add_class("bc-heading")
    rows = [c.widget if isinstance(c, Control) else c for c in controls]
    return ipywidgets.VBox([heading, *rows]).add_class("bc-group")
