"""What is right: the keys of the questions in data/checks_*.csv, by workbook.

A key works on the learner's own outcome. The sums stand in the chapters; here are only
the usual wrong turns, written out so that the mistake can be named.
"""

from __future__ import annotations

from collections.abc import Mapping

from ...evaluate import evaluate
from ...model.bed import Layer
from ...model.outcome import Outcome
from ...tables import table
from ...units import Q_
from .grading import Item, Key, Question
from .words import asked_of

__all__ = ["KEYS", "item"]


def item(name: str, workbook: str = "00") -> Item:
    """A question with its key, ready to be judged."""
    return Item(question=Question.read(name, workbook), key=KEYS[workbook][name])


def _bed(outcome: Outcome) -> str:
    return asked_of(outcome.bed, outcome.place)


def _settle() -> Q_:
    """Share of the loose volume that garden mix loses when it settles."""
    return table("fills")["mix"].q("settle")


# ---- 00: how much room is inside


def _room_facts(outcome: Outcome):
    bed, size = outcome.bed, outcome.size
    return {
        "bed": _bed(outcome),
        "length": (bed.length, "stock"),
        "width": (bed.width, "stock"),
        "height": (Q_(bed.si.soil_depth, "m"), "stock"),
        "thick": (Q_(bed.si.wall_thickness, "m"), "stock"),
        "inside_length": (size.inside_length, "stock"),
        "inside_width": (size.inside_width, "stock"),
    }


def _outside(outcome: Outcome):
    return outcome.bed.length * outcome.bed.width * Q_(outcome.bed.si.soil_depth, "m")


def _one_wall(outcome: Outcome):
    bed, wall = outcome.bed, Q_(outcome.bed.si.wall_thickness, "m")
    return (bed.length - wall) * (bed.width - wall) * Q_(bed.si.soil_depth, "m")


_ROOM = Key(
    answer=lambda outcome: outcome.size.inside_volume,
    mistakes={"outside": _outside, "one_wall": _one_wall},
    facts=_room_facts,
)

# ---- 00: how much to order


def _order_facts(outcome: Outcome):
    return {
        "bed": _bed(outcome),
        "full": (outcome.size.fill_volume, "volume"),
        "settle": (_settle(), "percent"),
        "left": (1 - _settle(), "percent"),
        "left_ratio": (1 - _settle(), "ratio"),
    }


def _all_mix(outcome: Outcome):
    """Loose mix for this bed if nothing else goes in, by the one path there is."""
    bed = outcome.bed.change(fill=(Layer(material="mix"),))
    return evaluate(bed, outcome.place).fill.loose_volume


_ORDER = Key(
    answer=_all_mix,
    mistakes={
        "no_settling": lambda outcome: outcome.size.fill_volume,
        "times": lambda outcome: outcome.size.fill_volume * (1 + _settle()),
        "only_extra": lambda outcome: outcome.size.fill_volume * _settle(),
        "shrunk": lambda outcome: outcome.size.fill_volume * (1 - _settle()),
    },
    facts=_order_facts,
)

# ---- 00: what one tie does, and what the wet bed weighs

_TIE = Key(answer=lambda outcome: "sixteenth")


def _weight_facts(outcome: Outcome):
    return {
        "bed": _bed(outcome),
        "area": (outcome.size.inside_area, "area"),
        "bearing": (outcome.size.bearing, "pressure"),
    }


def _kilonewtons(outcome: Outcome):
    """The weight in kN, read as tonnes."""
    force = outcome.size.bearing * outcome.size.inside_area
    return Q_(force.m_as("kN"), "metric_ton")


_WEIGHT = Key(
    answer=lambda outcome: outcome.size.mass_soaked,
    mistakes={
        "kilonewtons": _kilonewtons,
        "moist": lambda outcome: outcome.size.mass_moist,
    },
    facts=_weight_facts,
)

KEYS: Mapping[str, Mapping[str, Key]] = {
    "00": {"room": _ROOM, "order": _ORDER, "tie": _TIE, "weight": _WEIGHT},
}
