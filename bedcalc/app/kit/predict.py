"""Guess first: one guess before anything moves, then the bench opens.

A guess is compared with what is computed in words, without a mark, and kept nowhere.
Whoever would rather not guess skips it, and the bench opens all the same.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import ipywidgets
import numpy as np

from ...currency import Currency
from ...parsing.typed import EntryError, read_entry, sign
from ...units import Q_, currency_of, number, show
from .inputs import Choice, Message, NumberField
from .question import demo_of, outcome_of, system_of
from .style import button, button_row, html, paper
from .words import inline, markup, measured, phrase, plain

__all__ = ["Predict", "compare", "predict"]


def compare(guess: Any, found: Any, guess_words: str, found_words: str) -> str:
    """How a guess lies beside what was found, in words and without a mark.

    Parameters
    ----------
    guess, found : quantity or float
        Of one kind.
    guess_words, found_words : str
        The same as they are shown.
    """
    guess, found = (
        float(v.to_base_units().m) if isinstance(v, Q_) else float(v)
        for v in (guess, found)
    )
    key, times = "predict_both", 1.0
    if np.isfinite(found) and guess * found > 0:
        ratio = guess / found
        times, side = (1 / ratio, "low") if ratio < 1 else (ratio, "high")
        key = f"predict_{side}" if times <= 1.5 else f"predict_times_{side}"
        key = "predict_near" if times <= 1.1 else key
    return phrase(
        key,
        guess=guess_words,
        found=found_words,
        times=number(times, 1 if times < 3 else 0),
    )


class Predict(ipywidgets.VBox):
    """One guess; then what stands below opens. See :func:`predict`.

    Attributes
    ----------
    opened : bool
        Whether the guess was made or skipped.
    guess : quantity, str or None
        What was guessed; None after a skip.
    said : str
        What was said after it, as HTML.
    """

    def __init__(self, question, answer, *, unit, kind, choices, then, given, tells):
        self._answer, self._unit, self._kind = answer, unit, kind
        self._choices, self._given, self._tells = choices, given, tells
        self._then = None if then is None else getattr(then, "widget", then)
        self.opened, self.guess, self.said = False, None, ""
        if choices:
            self.choice = Choice(
                texts=list(choices.values()),
                label=phrase("predict_choose"),
                stacked=True,
            )
            self.entry = None
        else:
            self.choice = None
            self.entry = NumberField(label=phrase("predict_label"), unit=self._sign())
            self.entry.add_class("bc-answer")
            self.entry.on_sent(lambda text: self.make_guess())
        self.go = button(phrase("predict_go"), self.make_guess, strong=True)
        self.skip = button(phrase("predict_skip"), self.make_skip)
        self._says = Message()
        self._acts = button_row(self.go, self.skip)
        self._question, self._head = question, html("")
        super().__init__()
        self.children = [
            paper(self._head, self.choice or self.entry, self._acts, self._says)
        ]
        self.add_class("bc-predict")
        self._ask()
        if hasattr(given, "observe"):  # in other units, the question is too
            given.observe(lambda *_: self._ask())
        if self._then is not None:
            self._then.add_class("bc-hide")

    def _ask(self) -> None:
        question = measured(self._question, system_of(self._given))
        head = f"<h2>{plain(phrase('predict'))}</h2>{markup(question)}"
        self._head.value = (
            head + f'<p class="bc-soft">{plain(phrase("predict_why"))}</p>'
        )

    def with_below(self) -> Predict:
        """Show what is to open inside this block."""
        if self._then is not None:
            self.children = [*self.children, self._then]
        return self

    def make_guess(self) -> None:
        """Take what was written or chosen, compare it, and open what stands below."""
        if self.opened:
            return
        if self.choice is not None:
            if self.choice.index < 0:
                self._says.html = plain(phrase("predict_choose_first"))
                return
            self.guess = list(self._choices)[self.choice.index]
        elif not self._read():
            return
        self._open()

    def make_skip(self) -> None:
        """Open without a guess; honest and without a word about it."""
        if not self.opened:
            self.guess = None
            self._open()

    def _read(self) -> bool:
        if not self.entry.value.strip():
            self.entry.says = plain(phrase("predict_write_first"))
            return False
        try:
            self.guess = read_entry(
                self.entry.value,
                self._unit,
                phrase("predict_label"),
                bare=True,
                currency=self._currency(),
            )
        except EntryError as error:
            self.entry.says, self.entry.tone = plain(error), "refused"
            return False
        self.entry.says, self.entry.tone = "", ""
        return True

    def _found(self) -> Any:
        if not callable(self._answer):
            return self._answer
        if self._given is None:
            return self._answer()
        return self._answer(outcome_of(self._given))

    def _open(self) -> None:
        self.opened = True
        found = self._found()
        self.said = inline(" ".join(filter(None, self._words(found))))
        with self._says.hold_sync():
            self._says.html, self._says.tone = f"<p>{self.said}</p>", "news"
        (self.choice or self.entry).disabled = True
        self._acts.add_class("bc-hide")
        if self._then is not None:
            self._then.remove_class("bc-hide")

    def _words(self, found: Any) -> list[str]:
        tells, opened = self._tells, ""
        if isinstance(tells, Mapping):
            tells = tells.get(self.guess, "")
        tells = measured(tells, system_of(self._given))
        if self._then is not None:
            opened = phrase("predict_opened")
        if found is None:
            return [phrase("predict_none"), tells, opened]
        if self._choices:
            name = self._choices[found]
            key = "predict_same_choice" if self.guess == found else None
            key = key or ("predict_other_choice" if self.guess else "predict_skipped")
            guess = self._choices.get(self.guess, "")
            return [phrase(key, guess=guess, found=name), tells, opened]
        shown = self._shown(found)
        if self.guess is None:
            return [phrase("predict_skipped", found=shown), tells, opened]
        both = compare(self.guess, found, self._shown(self.guess), shown)
        return [both, tells, opened]

    def _shown(self, value: Any) -> str:
        if self._kind:
            return show(value, self._kind, system_of(self._given))
        size = value.m_as(self._unit) if isinstance(value, Q_) else value
        return f"{size:.3g} {self._sign()}".strip()

    def _currency(self) -> Currency:
        return currency_of(system_of(self._given))

    def _sign(self) -> str:
        return sign(self._unit, self._currency())


def predict(
    question: str,
    answer: Any,
    *,
    unit: str = "",
    kind: str = "",
    choices: Mapping[str, str] | Sequence[str] | None = None,
    then: Any = None,
    given: Any = None,
    tells: str | Mapping[str, str] = "",
    below: bool = True,
) -> Predict:
    """One guess before anything moves; then what stands below opens.

    Parameters
    ----------
    question : str
        What to guess. Measures in brackets, ``[72 cm]``, are put in the reader's units.
    answer : quantity, str, None or function
        What is compared with: a quantity, or the key of a choice. A function is called
        when the guess is made, with the outcome of ``given`` if there is one.
    unit : str
        The unit beside the box, such as ``"mm"``; any fitting one may be typed.
    kind : str
        How the numbers are shown (a kind of ``units.KINDS``); three digits if empty.
    choices : mapping or sequence of str, optional
        Key to text, for a guess by choice instead of a number.
    then : widget or bench, optional
        Hidden until the guess is made or skipped.
    given : bench, outcome or function, optional
        Whose outcome the answer is; ``then`` itself if that has an outcome. Of a desk
        it is the demo bed: a guess is about the demo, whatever the reader has saved.
    tells : str or mapping
        A sentence for afterwards; by choice if a mapping.
    below : bool
        Whether ``then`` is part of this block. False if a cell of its own shows it.

    Returns
    -------
    Predict
        Display it. ``.make_guess()`` and ``.make_skip()`` do what its buttons do.
    """
    if choices is not None and not isinstance(choices, Mapping):
        choices = {text: text for text in choices}
    if given is None and hasattr(then, "outcome"):
        given = then
    given = demo_of(given)
    made = Predict(
        question,
        answer,
        unit=unit,
        kind=kind,
        choices=choices,
        then=then,
        given=given,
        tells=tells,
    )
    return made.with_below() if below else made
