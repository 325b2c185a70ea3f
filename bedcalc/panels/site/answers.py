"""Keys of the questions of workbook 06: what is right for the learner's own plot."""

from __future__ import annotations

from ...units import Q_
from ..checking import Item, Key, Question
from ..words import called

__all__ = ["KEYS", "site_items"]

WORKBOOK = "06"


def _first(plan):
    """The bed the questions are about."""
    return next((b for b in plan.beds if b.name == "B"), plan.beds[0])


def _facts(plan):
    bed = _first(plan)
    s = bed.si
    fall = float(s.ground.max() - s.ground.min())
    return {
        "bed": called(bed),
        "length": (bed.length, "size"),
        "width": (bed.width, "size"),
        "height": (bed.height, "stock"),
        "high": f"{-float(s.ground.max()):.3f} m",
        "low": f"{-float(s.ground.min()):.3f} m",
        "fall": (Q_(fall, "m"), "stock"),
        "let_in": (Q_(float(s.depths.min()), "m"), "stock"),
        "slope": (plan.slope_y * -1, "slope"),
        "area": (bed.length * bed.width, "area"),
        "mean": (Q_(float(s.depths.mean()), "m"), "stock"),
        "walls": (Q_(float(s.exposed.min()), "m"), "stock"),
    }


def _deepest(plan):
    return Q_(float(_first(plan).si.depths.max()), "m")


def _all_cut(plan) -> bool:
    return plan.measured and _first(plan).rule == "all_cut"


_TRENCH = Key(
    answer=lambda plan: _deepest(plan) if _all_cut(plan) else None,
    mistakes={
        "fall_only": lambda plan: _deepest(plan)
        - Q_(float(_first(plan).si.depths.min()), "m"),
        "wrong_way": lambda plan: Q_(
            abs(2 * float(_first(plan).si.depths.min())
                - float(_first(plan).si.depths.max())), "m"),
        "only_let_in": lambda plan: Q_(float(_first(plan).si.depths.min()), "m"),
    },
    facts=_facts,
)  # fmt: skip

_SPOIL = Key(
    answer=lambda plan: _first(plan).heap if plan.measured else None,
    mistakes={
        "not_loose": lambda plan: _first(plan).cut,
        "shrunk": lambda plan: _first(plan).cut * 0.75,
        "deepest": lambda plan: _first(plan).length * _first(plan).width
        * _deepest(plan),
    },
    facts=_facts,
)  # fmt: skip


_PATH = Key(answer=lambda plan: "horizontal")
_READING = Key(answer=lambda plan: "lower")


def _shift_facts(plan):
    return _facts(plan) | {"shift": (_first(plan).shift, "stock")}


_SHIFT = Key(
    answer=lambda plan: "uphill" if plan.measured else None, facts=_shift_facts
)

KEYS = {
    "trench": _TRENCH, "spoil": _SPOIL, "path": _PATH, "reading": _READING,
    "shift": _SHIFT,
}  # fmt: skip


def site_items(*names: str) -> list[Item]:
    """Questions of workbook 06 with their keys, to be judged on a plan."""
    return [Item(question=Question.read(n, WORKBOOK), key=KEYS[n]) for n in names]
