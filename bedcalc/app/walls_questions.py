"""What is right in the questions of workbook 03, and the usual wrong turns."""

from __future__ import annotations

from ..model.outcome import Outcome
from ..units import Q_
from .kit.grading import Item, Key, Question
from .kit.words import asked_of

__all__ = ["KEYS", "item"]


def item(name: str) -> Item:
    """A question of data/checks_03.csv with its key."""
    return Item(question=Question.read(name, "03"), key=KEYS[name])


def _load(outcome: Outcome):
    return outcome.walls.cases["moist"].top_load


def _taller_facts(outcome: Outcome):
    return {
        "bed": asked_of(outcome.bed, outcome.place),
        "height": (Q_(outcome.bed.si.soil_depth, "m"), "size"),
        "load": (_load(outcome), "line load"),
    }


_TURN = 70 / 45

KEYS = {
    "taller": Key(
        answer=lambda outcome: _load(outcome) * 1.25**2,
        mistakes={
            "linear": lambda outcome: _load(outcome) * 1.25,
            "cubed": lambda outcome: _load(outcome) * 1.25**3,
            "added": lambda outcome: _load(outcome) * (1.25**2 - 1),
        },
        facts=_taller_facts,
    ),
    "turned": Key(
        answer=lambda outcome: Q_(_TURN**2, ""),
        mistakes={
            "once": lambda outcome: Q_(_TURN, ""),
            "cubed": lambda outcome: Q_(_TURN**3, ""),
        },
    ),
    "two_ties": Key(answer=lambda outcome: "most"),
    "first_part": Key(answer=lambda outcome: "wood"),
    "one_in": Key(
        answer=lambda outcome: Q_(100, ""),
        mistakes={
            "units": lambda outcome: Q_(0.1, ""),
            "upside": lambda outcome: Q_(0.01, ""),
        },
    ),
}
