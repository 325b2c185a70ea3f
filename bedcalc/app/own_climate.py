"""The climate of the reader's own garden: twelve boxes a kind of numbers, frost, rain.

What is typed is saved by itself. A row of twelve numbers may be put into the first box
at once. What is left empty is not known, and no number of the demo takes its place.
"""

from __future__ import annotations

from typing import Any

import ipywidgets

from ..model.climate import MONTHS, NORMALS, Climate, Normal
from ..model.plot import PlaceError
from ..parsing.typed import EntryError, read_entry, sign
from ..units import Q_, show
from .kit.controls import group, list_row
from .kit.inputs import Message, NumberField
from .kit.style import button, button_row, paper
from .kit.words import plain
from .own_form import as_typed

__all__ = ["OwnClimate", "climate_words", "own_climate"]

_UNKNOWN = "not known"
_FROST = {
    "last_frost": ("Last frost of spring", "20 April"),
    "first_frost": ("First frost of autumn", "15 October"),
}


class OwnClimate:
    """The form as an object; show :attr:`widget`.

    Parameters
    ----------
    desk : Desk or SiteDesk
        Its session keeps what is entered.
    """

    def __init__(self, desk: Any):
        self.desk, self.session = desk, desk.session
        kinds = [(name, about.label) for name, about in NORMALS.items()]
        self.which = list_row("Numbers", kinds, "t_min", name="normals")
        self.months = [NumberField(label=month[:3], step=1.0) for month in MONTHS]
        self.name = _line("Where from", "weather station, 1991 to 2020")
        self.frost = {key: _line(*words) for key, words in _FROST.items()}
        self.heavy = _line("Heaviest day", _UNKNOWN)
        self.says, self.told = Message(), Message()
        self._forget = button("Forget the climate", self.forget)
        boxes = ipywidgets.Box(self.months).add_class("bc-month-boxes")
        self.form = ipywidgets.VBox(
            [
                group("Month by month", self.which, boxes),
                group("Frost and rain", *self.frost.values(), self.heavy, self.name),
                button_row(self._forget),
            ]
        )
        self.widget = paper(self.says, self.form, self.told)
        self.widget.add_class("bc-view-own-climate")
        self._bind()
        if self.session is not None:
            self.session.observe(lambda origin: self.show())
        self.show()

    def _repr_mimebundle_(self, **kwargs):
        return self.widget._repr_mimebundle_(**kwargs)

    def _bind(self) -> None:
        self.which.observe(lambda change: self.show(fresh=True))
        for number, box in enumerate(self.months):
            box.on_sent(lambda text, n=number: self.typed(n, text))
        for key, box in self.frost.items():
            box.on_sent(lambda text, k=key, b=box: self._take(b, **{k: text.strip()}))
        self.name.on_sent(
            lambda text: self._take(self.name, name=" ".join(text.split())[:200])
        )
        self.heavy.on_sent(lambda text: self._rained(text))

    # ---- what is there

    @property
    def climate(self) -> Climate:
        """That of the garden; an empty one where nothing is known."""
        here = self.session.place.climate if self.session else None
        return here or Climate()

    @property
    def about(self) -> Normal:
        """The kind of numbers that is open."""
        return NORMALS[self.which.value]

    @property
    def system(self) -> str:
        """The reader's units."""
        return self.session.garden.system if self.session else "metric"

    @property
    def unit(self) -> str:
        """The unit beside the boxes."""
        return self.about.us if self.system == "us" else self.about.unit

    # ---- what is typed

    def typed(self, first: int, text: str) -> None:
        """One month, or several numbers from this month on."""
        box = self.months[first]
        parts = text.replace(";", " ").split() if len(text.split()) > 2 else [text]
        left = len(MONTHS) - first
        if len(parts) > left:
            words = (
                f"{MONTHS[first]}: needs a number a month up to December, {left} in "
            )
            words += f"all; given {len(parts)}; for example {self.about.example:g}"
            self._say(box, words)
            return
        now = list(getattr(self.climate, self.which.value) or [None] * len(MONTHS))
        for n, part in enumerate(parts, start=first):
            try:
                now[n] = self._read(part, MONTHS[n])
            except EntryError as error:
                self._say(self.months[n], str(error))
                return
        self._take(box, **{self.which.value: now})

    def _read(self, text: str, month: str) -> float | None:
        if not text.strip() or text.strip() in ("-", "?", _UNKNOWN):
            return None
        about, unit = self.about, self.unit
        low, high, example = (
            Q_(float(v), about.unit or "dimensionless").m_as(unit or "dimensionless")
            for v in (about.low, about.high, about.example)
        )
        shown = f"{as_typed(example)} {sign(unit)}".strip()
        read = read_entry(text, unit, month, bare=True, example=shown)
        if not low - 1e-9 <= read.m_as(unit or "dimensionless") <= high + 1e-9:
            raise EntryError(
                f"{month}: needs {as_typed(low)} to {as_typed(high)} {sign(unit)}; "
                f"given {text.strip()}; for example {shown}"
            )
        return float(read.m_as(about.unit or "dimensionless"))

    def _rained(self, text: str) -> None:
        """Rain of the heaviest day."""
        unit, found = self._rain_unit, None
        if text.strip():
            try:
                found = read_entry(text, unit, "Heaviest day", bare=True)
            except EntryError as error:
                self._say(self.heavy, str(error))
                return
        self._take(self.heavy, heavy_day=found)

    @property
    def _rain_unit(self) -> str:
        return "inch" if self.system == "us" else "mm"

    def _take(self, box: NumberField, **changes: Any) -> None:
        """Put what was typed into the garden; what will not do is said beside it."""
        if self.session is None or not self.session.own:
            return
        old = self.climate
        changes = {k: v if k == "name" else v or None for k, v in changes.items()}
        if old.invented:
            changes.setdefault("name", "")
        try:
            new = old.change(**changes)
        except PlaceError as error:
            self._say(box, str(error).removeprefix("climate, "))
            return
        box.says, box.tone = "", ""
        self._keep(new)

    def _keep(self, climate: Climate | None) -> None:
        self.session.take_place(self.session.place.change(climate=climate))
        self.show()

    def forget(self) -> None:
        """Nothing of the climate is known any more; undo brings it back."""
        garden = self.session.garden
        if garden.place.climate is not None:
            place = garden.place.change(climate=None)
            self.session.step(garden.change(place=place))
            self._tell("Forgotten. Undo, in the bar at the top, brings it back.")

    def _say(self, box: NumberField, words: str) -> None:
        box.says, box.tone = plain(words), "refused"

    def _tell(self, words: str) -> None:
        self.told.html = f"<p>{plain(words)}</p>" if words else ""

    # ---- showing

    def show(self, fresh: bool = False) -> None:
        """Bring the form to the garden as it now is.

        What was refused stays in its box until it is put right, unless ``fresh``.
        """
        own = self.session is not None and self.session.own
        (self.form.remove_class if own else self.form.add_class)("bc-hide")
        self._tell("")
        self.says.html = f"<p>{plain(self._head(own))}</p>"
        if not own:
            return
        climate, unit = self.climate, self.unit
        values = climate.q(self.which.value).m_as(unit or "dimensionless")
        for box, value in zip(self.months, values, strict=True):
            box.unit, box.placeholder = sign(unit), _UNKNOWN
            self._put(box, as_typed(value) if value == value else "", fresh)
        for key, box in self.frost.items():
            self._put(box, getattr(climate, key) or "")
        self.name.value = climate.name
        self.heavy.unit = sign(self._rain_unit)
        rain = climate.heavy_day
        self.heavy.value = (
            as_typed(rain.m_as(self._rain_unit)) if rain is not None else ""
        )
        self._forget.disabled = self.session.place.climate is None

    def _put(self, box: NumberField, text: str, fresh: bool = False) -> None:
        if fresh or box.tone != "refused":
            box.value, box.says, box.tone = text, "", ""

    def _head(self, own: bool) -> str:
        if not own:
            return (
                "The climate belongs to a garden of your own: start one in the bar at "
                "the top of this workbook. The climate of the demo garden is invented."
            )
        return climate_words(self.session.garden.name, self.climate, self.system)


def _line(label: str, placeholder: str) -> NumberField:
    """A field that is sent when it is left, too."""
    made = NumberField(label=label, step=1.0, placeholder=placeholder)
    return made.add_class("bc-text-row")


def climate_words(name: str, climate: Climate, system: str) -> str:
    """What is known of the climate of a garden, in a sentence or two."""
    if not climate:
        return (
            f"Climate of {name}: not known. A weather service gives means of thirty "
            "years for the nearest station. Type in what you find; the rest stays open."
        )
    known = []
    for kind, about in NORMALS.items():
        months = sum(v is not None for v in getattr(climate, kind) or ())
        if months:
            part = "" if months == len(MONTHS) else f" ({months} of 12 months)"
            known.append(f"{about.label[:1].lower()}{about.label[1:]}{part}")
    words = f"Climate of {name}: "
    words += f"you gave {', '.join(known)}. " if known else "no monthly numbers yet. "
    if climate.whole("rain"):
        rain = Q_(sum(climate.rain), "mm")
        words += f"{show(rain, 'bow', system)} of rain in a year. "
    if climate.frost_free is not None:
        words += f"{climate.frost_free} days in a row without frost. "
    if climate.invented:
        words += "These are the invented numbers of the demo garden: put in your own."
    return words.strip()


def own_climate(desk: Any) -> OwnClimate:
    """The form for the climate of the reader's own garden."""
    return OwnClimate(desk)
