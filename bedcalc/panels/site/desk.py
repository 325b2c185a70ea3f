"""The plot of a workbook: place, beds, how they are levelled, and what follows."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property
from pathlib import Path
from typing import Any

from ...bed import Bed
from ...evaluate import Outcome, evaluate
from ...garden import Garden, GardenError, demo_garden, load, save
from ...outcome import Check
from ...place import PlaceError, Survey
from ...site_plan import (
    Filling,
    Overflow,
    Plot,
    Rain,
    SitePlan,
    Sun,
    Walk,
    fill_plot,
    mended,
    overflow_of,
    plan_site,
    plot_of,
    rain_on,
    routes,
    sun_asks,
    sun_on,
)
from ...units import Q_
from ..controls import ChoiceRow, Control, choice_row

__all__ = ["READABLE", "SiteDesk", "in_units", "site_desk", "units_row"]

FILE = "my_garden.toml"
READABLE = (60.0, 5.0)  # m: how far along or down a reading lies, how much it reads
_CACHED = ("plan", "walk", "sun", "filling", "storm", "overflow")
_ORDER = {"fails": 0, "watch": 1, "holds": 2}


class SiteDesk:
    """The plot of one workbook: place, beds, and how they are levelled.

    ``outcome`` is the plan of the site, so that questions can ask it.
    """

    def __init__(self, garden: Garden, own: bool, file: Path):
        self.garden, self.own, self.file, self.system = garden, own, file, "metric"
        self.beds: tuple[Bed, ...] = garden.beds
        self.place, self.wheel = garden.place, "wheelchair"
        self.day = "21 June"
        self.size = {"length": Q_(270, "cm"), "width": Q_(105, "cm"),
                     "path": Q_(90, "cm"), "edge": Q_(60, "cm")}  # fmt: skip
        self.rain = {"rain": Q_(38, "mm"), "area": Q_(310, "m^2"),
                     "cover": "lawn_fair", "swale_length": Q_(14, "m")}  # fmt: skip
        self._listeners: list[Callable[[Any], Any]] = []

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
        found = (*self.plan.checks, *self.overflow.checks)
        return tuple(sorted(found, key=lambda c: _ORDER[c.verdict]))

    def mend(self, change) -> None:
        """Do what a mend of the plot says (see :func:`bedcalc.site_plan.mended`)."""
        if "swale_length" in change:
            self.take(rain={**self.rain, **change})
            return
        beds, place = mended(self.beds, self.place, change)
        self.take(beds=beds, place=place)

    @property
    def outcome(self) -> SitePlan:
        """The plan, for questions."""
        return self.plan

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
        for listener in tuple(self._listeners):
            listener(self.plan)

    def move(self, name: str, **sizes: Any) -> None:
        """Change one bed."""
        self.take(
            beds=tuple(b.change(**sizes) if b.name == name else b for b in self.beds)
        )

    def read(self, readings) -> None:
        """Take other readings."""
        rows = tuple(tuple(float(v) for v in row) for row in readings)
        first = self.garden.place.survey
        known = {tuple(float(v) for v in row) for row in first.points} if first else ()
        for number, row in enumerate(rows, start=1):
            far, deep = max(map(abs, row[:2])), row[2]
            fits = min(row) >= 0 and far <= READABLE[0] and deep <= READABLE[1]
            if not fits and row not in known:
                raise PlaceError(
                    f"Reading {number}: needs x and y from 0 to {READABLE[0]:g} m, and "
                    f"0 to {READABLE[1]:g} m down; given "
                    f"{' '.join(f'{v:g}' for v in row)}; for example 4.8 0 0.281"
                )
        self.take(place=self.place.change(survey=Survey(readings=rows)))

    def follow(self, name: str) -> Outcome:
        """Everything about one bed where it stands."""
        return evaluate(self.bed(name), self.place)

    def keep(self) -> str:
        """Save place and beds beside the workbook; what to say about it."""
        try:
            garden = load(self.file) if self.file.is_file() else None
            extra = garden.extra if garden else {}
            save(Garden(place=self.place, beds=self.beds, extra=extra), self.file)
        except (GardenError, OSError) as error:
            return f"Not saved: {error}"
        return f"Saved in {self.file.name}, beside this workbook."


def _differs(one: Any, other: Any) -> bool:
    try:
        return bool(one != other)
    except (ValueError, TypeError):
        return True


def site_desk(file: str | Path = FILE) -> SiteDesk:
    """The learner's own garden if there is one, else the demo garden."""
    path = Path(file)
    try:
        garden = load(path)
        if garden.beds:
            return SiteDesk(garden, True, path)
    except GardenError:
        pass
    return SiteDesk(demo_garden(), False, path)


def units_row(desk) -> ChoiceRow:
    """The choice between metric and US customary units."""
    options = [("metric", "metric"), ("us", "feet, inches")]
    return choice_row("Show in", options, desk.system, name="system")


def in_units(desk, *controls: Control) -> Callable[[], None]:
    """What brings controls to the units of the desk, once they have changed."""
    shown = {"system": "metric"}

    def bring() -> None:
        if desk.system != shown["system"]:
            shown["system"] = desk.system
            for control in controls:
                control.use(desk.system)

    return bring
