"""Check an answer: read it, compare it, and name the mistake of each usual wrong one.

The texts of a question stand in data/checks_<workbook>.csv, one row a piece: the
question, hints, the solution, mistakes, options. What is right is not a number but a
function of the learner's own outcome: a :class:`Key` (answers.py holds them).
"""

from __future__ import annotations

import contextlib
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from ...model.outcome import Outcome
from ...parsing.typed import EntryError, MissingUnit, read_entry, sign
from ...parsing.unit_words import read_quantity
from ...tables import Row, table
from ...units import Q_, currency_of, number, show
from .words import measured, phrase

__all__ = ["Item", "Key", "Option", "Question", "Verdict"]

#: units in which people slip, by the unit a question asks for
_COUSINS = {
    "mm": ("mm", "cm", "m", "inch", "ft"),
    "cm": ("mm", "cm", "m", "inch", "ft"),
    "m": ("mm", "cm", "m", "inch", "ft"),
    "m^2": ("m^2", "cm^2", "ft^2", "yd^2"),
    "m^3": ("m^3", "liter", "ft^3", "yd^3"),
    "kg": ("kg", "metric_ton", "lb"),
    "kPa": ("kPa", "Pa", "lbf/ft^2"),
    "kN": ("kN", "N", "lbf"),
}
_TENS = (10.0, 100.0, 1000.0, 1e6)
_SAME = 0.005  # a listed mistake this near to the answer cannot be told from it


@dataclass(frozen=True, kw_only=True)
class Key:
    """What is right for an outcome, what is usually got wrong, and the numbers shown.

    ``answer(outcome)`` gives a quantity (or None where the question does not fit), or
    the name of an option. ``mistakes`` maps the name of a mistake of the table to the
    number that comes out of it. ``facts(outcome)`` fills the gaps of the texts: each
    is a text, a pair (quantity, kind) for :func:`bedcalc.units.show`, or a function of
    the reader's units that gives one of these.
    """

    answer: Callable[[Any], Any]
    mistakes: Mapping[str, Callable[[Any], Any]] = field(default_factory=dict)
    facts: Callable[[Any], Mapping[str, Any]] = lambda outcome: {}


@dataclass(frozen=True, kw_only=True)
class Option:
    """One answer to choose, and what is said to whoever chooses it."""

    name: str
    text: str
    says: str


@dataclass(frozen=True, kw_only=True)
class Question:
    """A question's texts. ``unit`` is empty for a plain number; options make a choice.

    ``about`` says whose numbers it takes: those of the reader's ``own`` bed, or of the
    ``demo`` bed of the lesson. An answer is right within ``near`` of it (a share), or
    within ``least`` (a quantity or None), whichever is more.
    """

    name: str
    text: str
    about: str = "demo"
    unit: str = ""
    kind: str = "ratio"
    hints: tuple[str, ...] = ()
    solution: str = ""
    mistakes: Mapping[str, str] = field(default_factory=dict)
    options: tuple[Option, ...] = ()
    near: float = 0.02
    least: Any = None

    @classmethod
    def read(cls, name: str, workbook: str = "00") -> Question:
        """The question of this name from data/checks_<workbook>.csv."""
        rows = [row for row in table(f"checks_{workbook}") if row.item == name]
        if not rows:
            known = dict.fromkeys(row.item for row in table(f"checks_{workbook}"))
            raise KeyError(f"no question {name!r}; there are {', '.join(known)}")

        def parts(part: str) -> list[Row]:
            return [row for row in rows if row.part == part]

        (main,), (solution,) = parts("question"), parts("solution")
        return cls(
            name=name,
            text=main.text,
            about=main.about,
            unit=main.unit,
            kind=main.kind or "ratio",
            hints=tuple(row.text for row in parts("hint")),
            solution=solution.text,
            mistakes={row.name: row.text for row in parts("mistake")},
            options=tuple(
                Option(name=row.name, text=row.text, says=row.says)
                for row in parts("option")
            ),
            near=0.02 if np.isnan(main.near) else main.near,
            least=read_quantity(main.least, main.unit) if main.least else None,
        )

    def option(self, name: str) -> Option:
        """The option of this name."""
        return next(option for option in self.options if option.name == name)


@dataclass(frozen=True, kw_only=True)
class Verdict:
    """What came of an answer.

    ``state`` is ``untried``, ``unread`` (no number, or no unit), ``absent`` (the
    question does not fit the bed), ``right``, ``mistake`` (a known one: ``name``) or
    ``wrong``; ``says`` is the sentence for the learner.
    """

    state: str
    says: str
    name: str = ""


@dataclass(frozen=True, kw_only=True)
class Item:
    """A question with its key: fills the texts and judges answers; keeps nothing."""

    question: Question
    key: Key

    def words(self, text: str, outcome: Outcome, system: str = "metric") -> str:
        """A text of the question with its gaps filled by the learner's own numbers."""
        system = _units_of(outcome, system)
        shown = {}
        if "{answer}" in text:
            shown["answer"] = self.answer_words(outcome, system)
        for name, fact in self.key.facts(outcome).items():
            if callable(fact):
                fact = fact(system)
            shown[name] = show(*fact, system) if isinstance(fact, tuple) else str(fact)
        return _sentence(measured(text.format(**shown), system))

    def answer_words(self, outcome: Outcome, system: str = "metric") -> str:
        """The answer as a person would write it; empty where there is none."""
        answer = self.key.answer(outcome)
        if answer is None:
            return ""
        if self.question.options:
            return self.question.option(answer).text
        return show(answer, self.question.kind, _units_of(outcome, system))

    def fits(self, outcome: Outcome) -> bool:
        """Whether the question can be answered for this outcome."""
        answer = self.key.answer(outcome)
        if isinstance(answer, str):
            return True
        return answer is not None and bool(np.isfinite(_si(answer)))

    def judge(self, outcome: Outcome, entry: str) -> Verdict:
        """What comes of a typed answer (or of the name of a chosen option)."""
        if not self.fits(outcome):
            return Verdict(state="absent", says=phrase("absent"))
        if not entry.strip():
            return Verdict(state="untried", says=phrase("untried"))
        if self.question.options:
            return self._judge_option(outcome, entry)
        try:
            given = read_entry(
                entry,
                self.question.unit,
                phrase("check_label"),
                currency=currency_of(_units_of(outcome)),
            )
        except MissingUnit as error:
            return Verdict(state="unread", says=str(error), name="unit")
        except EntryError as error:
            return Verdict(state="unread", says=str(error))
        name = self._nearest(outcome, _si(given))
        if name == "right" or self._as_shown(outcome, _si(given)):
            return Verdict(state="right", says=phrase("right", answer=entry.strip()))
        if name:
            text = self.words(self.question.mistakes[name], outcome)
            says = phrase("mistake", text=text)
            return Verdict(state="mistake", name=name, says=says)
        return self._slip(_si(self.key.answer(outcome)), given, entry.strip())

    def _judge_option(self, outcome: Outcome, name: str) -> Verdict:
        text = self.words(self.question.option(name).says, outcome)
        if name == self.key.answer(outcome):
            return Verdict(state="right", says=phrase("right_choice", text=text))
        return Verdict(state="mistake", name=name, says=phrase("mistake", text=text))

    def _fits_number(self, target: float, given: float) -> bool:
        question = self.question
        least = _si(question.least) if question.least is not None else 0.0
        return abs(given - target) <= max(question.near * abs(target), least, 1e-12)

    def _nearest(self, outcome: Outcome, given: float) -> str:
        """``right``, the name of the mistake that fits best, or nothing."""
        right = _si(self.key.answer(outcome))
        targets = {"right": right}
        for name, wrong in self.key.mistakes.items():
            value = _si(wrong(outcome))
            if abs(value - right) > _SAME * abs(right):
                targets[name] = value
        near = {n: t for n, t in targets.items() if self._fits_number(t, given)}
        return min(near, key=lambda name: abs(near[name] - given), default="")

    def _as_shown(self, outcome: Outcome, given: float) -> bool:
        """Whether it is the answer as the solution shows it, rounded as we round."""
        for system in ("metric", "us"):
            words = self.answer_words(outcome, system)
            with contextlib.suppress(EntryError):
                shown = _si(read_entry(words, self.question.unit, ""))
                if abs(shown - given) <= 1e-9 * abs(shown):
                    return True
        return False

    def _slip(self, right: float, given: Any, entry: str) -> Verdict:
        """Slips that are the same everywhere: another unit, a power of ten."""
        for unit in _COUSINS.get(self.question.unit, ()):
            if self._fits_number(right, _si(Q_(given.m, unit))):
                says = phrase("other_unit", unit=sign(unit), given=entry)
                return Verdict(state="mistake", name="other_unit", says=says)
        for ten in _TENS:
            for name, times in (("tenfold_large", ten), ("tenfold_small", 1 / ten)):
                if self._fits_number(right, _si(given) / times):
                    says = phrase(name, times=number(ten, 0))
                    return Verdict(state="mistake", name="tenfold", says=says)
        says = phrase("too_large" if _si(given) > right else "too_small")
        return Verdict(state="wrong", says=says)


def _units_of(outcome: Outcome, system: str = "metric") -> str:
    """The reader's units with the currency of the bed that is asked about."""
    plain = isinstance(outcome, Q_) or not hasattr(outcome, "units")
    return system if plain else outcome.units(system)


def _sentence(text: str) -> str:
    """A text with a capital letter at its beginning, also where that is strong."""
    start = re.match(r"\**", text).end()
    return text[:start] + text[start : start + 1].upper() + text[start + 1 :]


def _si(value: Any) -> float:
    return float(value.to_base_units().m) if isinstance(value, Q_) else float(value)
