"""The plot of a workbook: place, beds, how they are levelled, and what follows.

It shows the reader's own garden while one with a bed is open in the session, and hands
every change to the session, which saves it; else the demo garden, of which nothing is
saved.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from ...evaluate import Outcome, evaluate
from ...garden.garden import Garden, demo_garden
from ...model.bed import Bed
from ...model.outcome import Check
from ...model.place import PlaceError, Survey
from ...questions.site_plan import (
    Filling,
    Overflow,
    PlacedBed,
    Plot,
    Rain,
    SitePlan,
    Sun,
    Walk,
    fill_plot,
    fixed,
    overflow_of,
    plan_site,
    plot_of,
    rain_on,
    routes,
    sun_asks,
    sun_on,
)
from ...units import Q_, Units
from ..kit.controls import ChoiceRow, Control, choice_row
from ..kit.words import asked_of, literal
from ..session import Session, open_session

__all__ = ["READABLE", "Asked", "SiteDesk", "in_units", "site_desk", "units_row"]

READABLE = (60.0, 5.0)  # m: how far sliders go along and down, how much a staff reads
_CACHED = ("plan", "walk", "sun", "filling", "storm", "overflow")
_ORDER = {"fails": 0, "watch": 1, "holds": 2}


@dataclass(frozen=True)
class Asked:
    """What questions ask: a plan, one bed in its trench, and what they call it."""

    plan: SitePlan
    placed: PlacedBed | None
    name: str

    def __getitem__(self, name: str) -> PlacedBed:
        """The bed of this name."""
        return self.plan[name]


class SiteDesk:
    """The plot of one workbook: place, beds, and how they are levelled.

    ``outcome`` is the plan of the site and its current bed, so that questions can ask
    them.
    """

    def __init__(self, session: Session | None = None):
        self.session, self._wants_demo, self._leader = session, False, None
        self._system = session.garden.system if session else "metric"
        self.wheel, self.day = "wheelchair", "21 June"
        self._heavy = None  # rain of the heaviest day, as it was last heard of
        self._given: dict[str, Any] = {}  # sizes and storm, once somebody moved them
        self._listeners: list[Callable[[Any], Any]] = []
        self._settle()
        if session is not None:
            session.observe(self._heard)

    # ---- what is tried on the plot, and saved nowhere

    @property
    def size(self) -> dict[str, Q_]:
        """Equal beds to fill the plot with: at first like the current bed."""
        like = self.bed(self.current) if self.beds else self.demo.bed("B")
        start = {"length": like.length, "width": like.width, "path": Q_(90, "cm")}
        return start | {"edge": Q_(60, "cm")} | self._given.get("size", {})

    @size.setter
    def size(self, size: dict[str, Q_]) -> None:
        self._given["size"] = size

    @property
    def rain(self) -> dict[str, Any]:
        """The storm: at first the demo's, or one on ground as large as the own plot."""
        area, long_ = Q_(310, "m^2"), Q_(14, "m")
        if self.own:
            left, right, *_ = self.plot.bounds
            area = Q_(min(max(round(self.plot.area, -1), 20), 1000), "m^2")
            long_ = Q_(min(max(round(right - left), 3), 30), "m")
        rain = self._heavy or Q_(38, "mm")
        start = {"rain": rain, "area": area, "cover": "lawn_fair"}
        return start | {"swale_length": long_} | self._given.get("rain", {})

    @rain.setter
    def rain(self, rain: dict[str, Any]) -> None:
        self._given["rain"] = rain

    @property
    def wants_swale(self) -> bool:
        """Whether a swale is asked for: in the demo, or once a storm was set."""
        return not self.own or "rain" in self._given

    # ---- whose plot it is

    @property
    def own(self) -> bool:
        """Whether it shows the reader's own garden."""
        return self.can_turn and not self._wants_demo

    @property
    def can_turn(self) -> bool:
        """Whether there is an own garden with a bed to look at."""
        return bool(self.session and self.session.own and self.session.garden.beds)

    @cached_property
    def demo(self) -> SiteDesk:
        """A desk with the demo garden, for questions about it."""
        found = SiteDesk()
        found._leader = self
        return found

    @property
    def system(self) -> Units:
        """The reader's units, with the currency of the prices at hand."""
        leader = self._leader
        return Units(leader._system if leader else self._system, self.place.currency)

    @property
    def file(self) -> Path:
        """The garden file; papers are written beside it."""
        return self.session.path if self.session else open_session().path

    @property
    def about(self) -> str:
        """Whose plot this is, in a line that stands over a view."""
        if self.own:
            return f"Your garden **{literal(self.place.name)}**"
        if self.session and self.session.own:
            if not self.session.garden.beds:
                return "Your garden has no bed yet. This is the **demo garden**"
        return "The **demo garden**"

    @property
    def current(self) -> str:
        """Name of the bed to begin with."""
        if self.own and self.session.name in self.names:
            return self.session.name
        return "B" if "B" in self.names else self.names[0]

    def look_at(self, which: str) -> None:
        """Turn to the ``"demo"`` garden, or back to one's ``"own"``."""
        self._wants_demo, self._given = which == "demo", {}
        self._settle()
        self._tell()

    def _settle(self) -> None:
        """Take garden, beds and place afresh: the own ones, or the demo's."""
        for name in _CACHED:
            self.__dict__.pop(name, None)
        self.garden: Garden = self.session.garden if self.own else demo_garden()
        self.beds: tuple[Bed, ...] = self.garden.beds
        self.place = self.garden.place
        heavy = self.place.climate.heavy_day if self.place.climate else None
        if heavy is not None and heavy != self._heavy:
            self._given.get("rain", {}).pop("rain", None)  # what was heard last counts
        self._heavy = heavy

    def _heard(self, origin: Any) -> None:
        """Follow the session: another garden, another bed, a step taken back."""
        session = self.session
        if origin is self or origin is session:
            return
        self._system, garden = session.garden.system, session.garden
        self.__dict__.pop("filling", None)  # beds like another one
        if self.own and (garden.beds, garden.place) == (self.beds, self.place):
            self._tell()
            return
        self._settle()
        self._tell()

    def _tell(self) -> None:
        for listener in tuple(self._listeners):
            listener(self.plan)
        if "demo" in self.__dict__:
            self.demo._tell()  # its units are those of this desk

    @cached_property
    def plan(self) -> SitePlan:
        """Where the beds stand."""
        return plan_site(self.beds, self.place, wheel=self.wheel)

    @property
    def plot(self) -> Plot:
        """The plot, or what beds and readings cover."""
        return plot_of(self.place, self.beds)

    @cached_property
    def walk(self) -> Walk:
        """Where the wheel gets to."""
        return routes(self.beds, self.place, self.wheel)

    @cached_property
    def sun(self) -> Sun | None:
        """The chosen day; None while ``sun_asks`` says what is missing."""
        if sun_asks(self.place):
            return None
        return sun_on(self.place, self.beds, self.day)

    @cached_property
    def filling(self) -> Filling:
        """The plot filled with equal beds."""
        return fill_plot(self.plot, **self.size)

    @cached_property
    def storm(self) -> Rain:
        """The storm."""
        return rain_on(self.place, **self.rain)

    @cached_property
    def overflow(self) -> Overflow:
        """Where the swale lies, and where it runs over."""
        return overflow_of(self.plan, self.storm)

    @property
    def checks(self) -> tuple[Check, ...]:
        """All verdicts on the plot, what fails first."""
        found = self.plan.checks
        if self.wants_swale:
            found = (*found, *self.overflow.checks)
        return tuple(sorted(found, key=lambda c: _ORDER[c.verdict]))

    def fix(self, change: Mapping[str, Any]) -> None:
        """Carry out a fix of the plot (:func:`bedcalc.questions.site_plan.fixed`)."""
        if "swale_length" in change:
            self.take(rain={**self.rain, **change})
            return
        beds, place = fixed(self.beds, self.place, change)
        self.take(beds=beds, place=place)

    @property
    def outcome(self) -> Asked:
        """The plan and the bed that questions are about."""
        if not self.beds:
            return Asked(self.plan, None, "")
        bed = self.bed(self.current)
        return Asked(self.plan, self.plan[bed.name], asked_of(bed, self.place))

    @property
    def names(self) -> list[str]:
        """Names of the beds."""
        return [bed.name for bed in self.beds]

    def bed(self, name: str) -> Bed:
        """The bed of this name."""
        return next(bed for bed in self.beds if bed.name == name)

    def observe(self, listener: Callable[[Any], Any]) -> None:
        """Call ``listener(plan)`` after every change, and once now."""
        self._listeners.append(listener)
        listener(self.plan)

    def take(self, **changes: Any) -> None:
        """Change what the desk holds; if it cannot be, nothing has changed."""
        system = changes.pop("system", None)
        if system is not None and str(system) != self._system:
            self._system = str(system)
            if self.session is not None:
                self.session.show_in(self._system, origin=self)
            self._tell()
        changed = {k: v for k, v in changes.items() if _differs(getattr(self, k), v)}
        if not changed:
            return
        before = {name: getattr(self, name) for name in changed}
        kept = {n: self.__dict__.pop(n) for n in _CACHED if n in self.__dict__}
        for name, value in changed.items():
            setattr(self, name, value)
        try:
            _ = self.plan
        except (ValueError, ZeroDivisionError):
            for name, value in before.items():
                setattr(self, name, value)
            self.__dict__.update(kept)
            raise
        if self.own and changed.keys() & {"beds", "place"}:
            garden = self.session.garden.change(beds=self.beds, place=self.place)
            self.session.update(garden, origin=self)
        self._tell()

    def move(self, name: str, **sizes: Any) -> None:
        """Change one bed."""
        self.take(
            beds=tuple(b.change(**sizes) if b.name == name else b for b in self.beds)
        )

    def read(self, readings: Sequence[Any]) -> None:
        """Take other readings."""
        rows = tuple(tuple(float(v) for v in row) for row in readings)
        for number, row in enumerate(rows, start=1):
            if max(map(abs, row[:2])) > 500 or abs(row[2]) > 50:
                raise PlaceError(
                    f"Reading {number}: needs x and y within 500 m, and no more than "
                    f"50 m up or down; given {' '.join(f'{v:g}' for v in row)}; for "
                    "example 4.8 0 0.281"
                )
        self.take(place=self.place.change(survey=Survey(readings=rows)))

    def outcome_of(self, name: str) -> Outcome:
        """Everything about one bed where it stands."""
        return evaluate(self.bed(name), self.place)


def _differs(one: Any, other: Any) -> bool:
    try:
        return bool(one != other)
    except (ValueError, TypeError):
        return True


def site_desk(file: str | Path | None = None) -> SiteDesk:
    """The reader's own garden if one with a bed is open, else the demo garden."""
    return SiteDesk(open_session(file))


def units_row(desk: SiteDesk) -> ChoiceRow:
    """The choice between metric and US customary units."""
    options = [("metric", "metric"), ("us", "feet, inches")]
    return choice_row("Show in", options, desk.system, name="system")


def in_units(desk: SiteDesk, *controls: Control) -> Callable[[], None]:
    """What brings controls to the units of the desk, once they have changed."""
    shown = {"system": "metric"}

    def bring() -> None:
        if desk.system != shown["system"]:
            shown["system"] = desk.system
            for control in controls:
                control.use(desk.system)

    return bring
