"""Keys of the questions of workbook 06: what is right for the learner's own plot."""

from __future__ import annotations

from ...units import Q_
from ..kit.grading import Item, Key, Question

__all__ = ["KEYS", "site_items"]

WORKBOOK = "06"


def _facts(asked):
    bed = asked.placed
    s = bed.si
    fall = float(s.ground.max() - s.ground.min())
    return {
        "bed": asked.name,
        "height": (bed.height, "stock"),
        "high": (Q_(-float(s.ground.max()), "m"), "reading"),
        "low": (Q_(-float(s.ground.min()), "m"), "reading"),
        "fall": (Q_(fall, "m"), "stock"),
        "let_in": (Q_(float(s.depths.min()), "m"), "stock"),
        "area": (bed.length * bed.width, "area"),
        "mean": (Q_(float(s.depths.mean()), "m"), "stock"),
        "shift": (bed.shift, "stock"),
    }


def _deepest(asked):
    return Q_(float(asked.placed.si.depths.max()), "m")


def _let_in(asked):
    return Q_(float(asked.placed.si.depths.min()), "m")


def _all_cut(asked) -> bool:
    return asked.plan.measured and asked.placed.rule == "all_cut"


KEYS = {
    "trench": Key(
        answer=lambda asked: _deepest(asked) if _all_cut(asked) else None,
        mistakes={
            "fall_only": lambda asked: _deepest(asked) - _let_in(asked),
            "wrong_way": lambda asked: abs(2 * _let_in(asked) - _deepest(asked)),
            "only_let_in": _let_in,
        },
        facts=_facts,
    ),
    "spoil": Key(
        answer=lambda asked: asked.placed.heap if asked.plan.measured else None,
        mistakes={
            "not_loose": lambda asked: asked.placed.cut,
            "shrunk": lambda asked: asked.placed.cut * 0.75,
            "deepest": lambda asked: (
                asked.placed.length * asked.placed.width * _deepest(asked)
            ),
        },
        facts=_facts,
    ),
    "path": Key(answer=lambda asked: "horizontal"),
    "reading": Key(answer=lambda asked: "lower"),
    "shift": Key(
        answer=lambda asked: "uphill" if asked.plan.measured else None, facts=_facts
    ),
}


def site_items(*names: str) -> list[Item]:
    """Questions of workbook 06 with their keys, to be judged on a plan and its bed."""
    return [Item(question=Question.read(n, WORKBOOK), key=KEYS[n]) for n in names]
