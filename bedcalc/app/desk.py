"""The desk of a workbook: which bed its views are about, in which place and units.

A desk that is bound to the session shows the reader's current bed and hands every
change to the session, which saves it. While no garden of one's own is open, or when the
reader asks for it, it shows the demo bed of the lesson; nothing of that is saved.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property
from pathlib import Path
from typing import Any

from ..evaluate import evaluate
from ..garden.garden import Garden, demo_garden
from ..model.bed import Bed
from ..model.place import Place
from ..units import Q_, Units
from .cost_prices import list_for
from .kit.words import literal
from .session import Session, open_session

__all__ = ["Desk", "demo_desk", "demo_garden_once", "desk"]


class Desk:
    """The bed, the place and the units of one workbook.

    Parameters
    ----------
    demo : Bed
        The bed of the demo garden that the lesson speaks of.
    session : Session or None
        Whose garden it works on; None for a desk that stays with the demo bed.

    Attributes
    ----------
    outcome : Outcome
        Of the bed as it now is.
    own : bool
        Whether it is the reader's own bed.
    """

    def __init__(self, demo: Bed, session: Session | None = None):
        self.session, self._demo_bed = session, demo
        self._listeners: list[Callable[[Any], Any]] = []
        self._system = session.garden.system if session else "metric"
        self._wants_demo, self._rise = False, Q_(0, "percent")
        self._settle(demo)
        if session is not None:
            if session.own:
                self._settle()
            session.observe(self._heard)

    # ---- what it is about

    @property
    def own(self) -> bool:
        """Whether it shows the reader's own bed."""
        s = self.session
        return bool(s and s.own and s.bed is not None and not self._wants_demo)

    @property
    def can_turn(self) -> bool:
        """Whether there is an own bed to look at instead of the demo bed."""
        return bool(self.session and self.session.own and self.session.bed is not None)

    @cached_property
    def demo(self) -> Desk:
        """A desk with the demo bed of the lesson, for questions about it."""
        found = Desk(self._demo_bed)
        found._leader = self
        return found

    @property
    def garden(self) -> Garden:
        """The garden of the bed: the reader's own, or the demo garden."""
        return self.session.garden if self.own else demo_garden_once()

    @property
    def file(self) -> Path:
        """The garden file; papers are written beside it."""
        return self.session.path if self.session else open_session().path

    @property
    def bed(self) -> Bed:
        """The bed as it now is."""
        return self.outcome.bed

    @property
    def start(self) -> Bed:
        """The bed to begin from: the own one as saved, or the demo bed."""
        return self.session.bed if self.own else self._demo_bed

    @property
    def system(self) -> Units:
        """The reader's units, with the currency of the prices at hand."""
        leader = self._leader
        return Units(leader._system if leader else self._system, self.place.currency)

    @property
    def name(self) -> str:
        """What a sentence calls the bed."""
        return "your bed" if self.own else f"bed {self.bed.name}"

    @property
    def about(self) -> str:
        """Which bed this is, in a line that stands over a view."""
        if self.own:
            return f"Your bed **{literal(self.bed.name)}**, {literal(self.garden.name)}"
        return f"Bed **{self.bed.name}** of the demo garden"

    # ---- changing

    def observe(self, listener: Callable[[Any], Any]) -> None:
        """Call ``listener(outcome)`` after every change, and once now."""
        self._listeners.append(listener)
        listener(self.outcome)

    def take(
        self,
        bed: Bed | None = None,
        place: Place | None = None,
        system: str | None = None,
    ) -> None:
        """Change bed, place or units; everybody is told, and the own bed is saved."""
        if bed is not None or place is not None:
            new_bed, new_place = bed or self.bed, place or self.place
            self.outcome = evaluate(new_bed, new_place)
            self.place, self._rise = new_place, new_place.price_rise
            if self.own:
                self._hand_over(new_bed, new_place)
        if system is not None and str(system) != self._system:
            self._system = str(system)
            if self.session is not None:
                self.session.show_in(self._system, origin=self)
        self._tell()

    def _hand_over(self, bed: Bed, place: Place) -> None:
        """Give the session what was changed; a rise of prices is only tried out."""
        session = self.session
        kept = place.change(price_rise=session.place.price_rise)
        if kept.prices is not session.place.prices and kept.prices is not None:
            known = [one.name for one in session.garden.price_lists]
            if not kept.prices.invented and kept.prices.name not in known:
                kept = kept.change(prices=session.place.prices)
        garden = session.garden.change(place=kept)
        if bed.name in garden:  # a bed that was deleted meanwhile does not come back
            session.update(garden.with_bed(bed), origin=self)

    def look_at(self, which: str) -> None:
        """Turn to the ``"demo"`` bed of the lesson, or back to one's ``"own"`` bed."""
        self._wants_demo = which == "demo"
        self._settle(None if self.own else self._demo_bed)
        self._tell()

    def copy(self) -> Desk:
        """A desk of its own with the same bed, for a view that tries things out."""
        other = Desk(self._demo_bed)
        other._system = self._system
        other.outcome, other.place = self.outcome, self.place
        return other

    def keep(self) -> str:
        """Save now; what to say about it."""
        if not self.own:
            return (
                "Not saved: this is the demo garden. Start a garden of your own in the "
                "bar at the top of this workbook."
            )
        self.session.flush()
        if self.session.trouble or self.session.conflicts:
            return self.session.trouble or "Not saved yet: see the bar at the top."
        return f"Saved in {self.session.path.name}."

    # ---- keeping up

    def _settle(self, bed: Bed | None = None) -> None:
        """Take the bed and place afresh: the own ones, or the demo's."""
        if self.own:
            bed, place = self.session.bed, self.session.place
        else:
            bed, place = bed or self._demo_bed, demo_garden_once().place
        prices = list_for(bed.wall, place)
        self.place = place.change(prices=prices, price_rise=self._rise)
        self.outcome = evaluate(bed, self.place)

    def _heard(self, origin: Any) -> None:
        """Follow the session: another bed, another garden, a step taken back."""
        session = self.session
        if origin is self or origin is session:  # own change, or only saved
            return
        system, before = session.garden.system, (self.own, self.bed)
        if self.own:
            if session.bed == self.bed and session.place == self._session_place:
                if system == self._system and _own_of(session) == self._known:
                    return
            else:
                self._settle()
        elif not session.own and session.name in session.garden:
            shown = session.bed
            if shown.name != self.bed.name:
                self._settle(shown)
        elif before[0] != self.own or self.bed.name not in demo_garden_once():
            self._settle()
        self._system = system
        self._session_place, self._known = session.place, _own_of(session)
        self._tell()

    _session_place: Place | None = None
    _known: tuple = ()
    _leader: Desk | None = None

    def _tell(self) -> None:
        for listener in tuple(self._listeners):
            listener(self.outcome)
        if "demo" in self.__dict__:
            self.demo._tell()  # its units are those of this desk


def _own_of(session: Session) -> tuple:
    """What a list offers besides the tables."""
    garden = session.garden
    return garden.fills, garden.people, garden.walls, garden.blocks


def demo_garden_once() -> Garden:
    """The demo garden, read once."""
    if not _DEMO:
        _DEMO.append(demo_garden())
    return _DEMO[0]


_DEMO: list[Garden] = []


def demo_desk(name: str = "B", **change: Any) -> Desk:
    """A desk that stays with a bed of the demo garden, whatever the reader has."""
    return Desk(demo_garden_once()[name].change(**change))


def desk(demo: str = "B", file: str | Path | None = None, **change: Any) -> Desk:
    """The reader's current bed if there is one, else a bed of the demo garden.

    Parameters
    ----------
    demo : str
        Name of the demo bed that the lesson speaks of.
    file : str or Path or None
        The garden file; the one that was open last if None.
    **change
        What differs in the demo bed, for :meth:`bedcalc.Bed.change`.
    """
    return Desk(demo_garden_once()[demo].change(**change), open_session(file))
