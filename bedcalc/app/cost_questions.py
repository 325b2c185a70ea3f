"""Questions of workbook 05 with their keys."""

from __future__ import annotations

from ..model.outcome import Outcome
from ..units import Q_, show
from .kit.grading import Item, Key, Question
from .kit.words import asked_of

__all__ = ["KEYS", "item"]


def _bill_facts(outcome: Outcome):
    cost = outcome.cost
    return {
        "bed": asked_of(outcome.bed, outcome.place),
        "total": (cost.total, "money"),
        "fill": (cost.fill + cost.delivery, "money"),
        "share": (cost.fill_share, "percent"),
    }


def _money(value: float) -> Q_:
    return Q_(value, "money")


def _square(outcome: Outcome, system: str) -> str:
    """The ground that grows in square metres too, for whoever reads square feet."""
    metres = show(outcome.size.inside_area, "area")
    return "" if system == "metric" else f", which is {metres}"


def _plain(outcome: Outcome) -> float:
    """The bill without tax, whether it is added or inside the prices."""
    return outcome.cost.si.total - outcome.cost.si.tax


KEYS = {
    "pallet": Key(
        answer=lambda o: _money(150.0),
        mistakes={
            "exact": lambda o: _money(49.5 * 2.9),
            "single": lambda o: _money(52 * 2.9),
        },
    ),
    "tax": Key(
        answer=lambda o: _money(_plain(o) * 1.2),
        mistakes={
            "added": lambda o: _money(_plain(o) + 20),
            "only": lambda o: _money(_plain(o) * 0.2),
        },
        facts=lambda o: {
            **_bill_facts(o),
            "plain": (_plain(o), "coins"),
        },
    ),
    "yearly": Key(
        answer=lambda o: "dear",
    ),
    "sum": Key(answer=lambda o: "most"),
    "area": Key(
        answer=lambda o: o.cost.total / o.size.inside_area.m_as("m^2"),
        mistakes={
            "outside": lambda o: o.cost.total / o.size.outside_area.m_as("m^2"),
            "times": lambda o: o.cost.total * o.size.inside_area.m_as("m^2"),
        },
        facts=lambda o: {
            **_bill_facts(o),
            "inside": (o.size.inside_area, "area"),
            "outside": (o.size.outside_area, "area"),
            "metres": show(o.size.inside_area, "area"),
            "square": lambda system: _square(o, system),
        },
    ),
}


def item(name: str) -> Item:
    """A question of workbook 05 with its key."""
    return Item(question=Question.read(name, "05"), key=KEYS[name])
