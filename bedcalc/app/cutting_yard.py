"""Whose beds are cut, from which boards, with which saw and car."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from ..garden.garden import Garden
from ..model.place import Place
from ..model.prices import PriceList
from ..questions.cut_garden import Sold
from ..questions.yard_prices import with_sold
from ..units import Q_, Units
from .desk import Desk
from .kit.words import literal

__all__ = ["Yard", "yard"]

_SAW = ("kerf", "trim", "longest_carried")
_FIRST = "own prices"


class Yard:
    """The beds, the price list, the saw and the car of a desk, or of a garden.

    What is changed of the reader's own garden is saved in it; of another garden it is
    only tried out.
    """

    def __init__(self, given: Desk | Garden):
        self.desk = given if isinstance(given, Desk) else None
        self._garden = given if self.desk is None else None
        self._tried: dict[str, Any] = {}

    @property
    def own(self) -> bool:
        """Whether it is the reader's own garden, which is saved."""
        return self.desk is not None and self.desk.own

    @property
    def garden(self) -> Garden:
        """The garden, with the saw and the car as they are set here."""
        found = self._garden if self.desk is None else self.desk.garden
        return found if self.own else found.change(place=self._place(found.place))

    def _place(self, place: Place) -> Place:
        return place.change(**self._tried) if self._tried else place

    @property
    def place(self) -> Place:
        """The place, with the saw and the car as they are set here."""
        return self.garden.place

    @property
    def units(self) -> Units:
        """The reader's units, with the currency of the price list."""
        system = self.garden.system if self.desk is None else self.desk.system
        return self.place.units(str(system))

    @property
    def words(self) -> str:
        """Whose beds they are, in a line."""
        garden = self.garden
        if not self.own:
            return f"The beds of **{literal(garden.name)}**" + (
                ", the demo garden" if self.desk is not None else ""
            )
        count = len(garden.beds)
        beds = "no bed yet" if not count else "1 bed" if count == 1 else f"{count} beds"
        return f"Your garden **{literal(garden.name)}**, {beds}"

    @property
    def current(self) -> str:
        """The bed that is current in the workbook; empty where none is."""
        return self.desk.bed.name if self.desk is not None else ""

    @property
    def folder(self) -> Path:
        """Where papers are written: beside the garden file."""
        return self.desk.file.parent if self.desk is not None else Path()

    def observe(self, listener: Callable[[], Any]) -> None:
        """Call the listener after every change of the garden."""
        if self.desk is not None:
            self.desk.observe(lambda outcome: listener())

    def set_saw(self, name: str, value: Q_) -> None:
        """Set ``kerf``, ``trim`` or ``longest_carried``."""
        if self.own:
            session = self.desk.session
            session.take_place(session.place.change(**{name: value}), origin=self)
        else:
            self._tried[name] = value

    def keep(self, goods: str, sold: tuple[Sold, ...]) -> str:
        """Keep what was typed of some goods in the garden's own price list.

        Returns
        -------
        str
            What to say where a list was made for it.
        """
        session = self.desk.session
        garden, prices, said = session.garden, session.place.prices, ""
        if prices is None or prices.invented:
            known = {one.name for one in garden.price_lists}
            tries = (_FIRST if n == 1 else f"{_FIRST} {n}" for n in range(1, 1000))
            name = next(name for name in tries if name not in known)
            had = (
                "There was no price list yet"
                if prices is None
                else ("The invented list is out of use now")
            )
            said = (
                f"{had}: what you type here goes into your own list “{name}”. All else "
                "has no price until you give one, here or in workbook 05."
            )
            prices = PriceList(name=name)
        new = with_sold(prices, goods, sold)
        lists = {one.name: one for one in garden.price_lists} | {new.name: new}
        session.step(
            garden.change(
                place=garden.place.change(prices=new), price_lists=tuple(lists.values())
            ),
            origin=self,
        )
        return said


def yard(given: Desk | Garden | Yard) -> Yard:
    """The same yard, or that of a desk or a garden."""
    return given if isinstance(given, Yard) else Yard(given)
