"""Ask: questions that answer back, with hints, the solution, and named mistakes.

Nothing is graded, stored or sent. What a question needs of the learner's bed it asks
of ``given``: an outcome, a function that returns one, or a bench (anything with
``.outcome``; if it also has ``.observe(listener)``, the numbers follow the bench).
"""

from __future__ import annotations

import asyncio
from collections.abc import Sequence
from typing import Any

import ipywidgets

from ...model.outcome import Outcome
from ...parsing.typed import sign
from .answers import item as stored_item
from .grading import Item, Verdict
from .inputs import Choice, Message, NumberField
from .style import button, button_row, html, paper
from .words import inline, markup, measured, phrase, plain

__all__ = [
    "CheckItem",
    "check",
    "check_yourself",
    "demo_of",
    "outcome_of",
    "recall",
    "system_of",
]

CALM = 0.5  # seconds a bench must rest before a question takes its new numbers


def outcome_of(given: Any) -> Any:
    """The outcome behind what was given."""
    if hasattr(given, "outcome"):
        return given.outcome
    return given() if callable(given) else given


def demo_of(given: Any) -> Any:
    """The demo bed of the lesson behind what was given, or what was given."""
    return getattr(given, "demo", given)


def system_of(given: Any) -> str:
    """The reader's units, as the bench or the outcome says; else metric."""
    if not hasattr(given, "system") and hasattr(given, "place"):
        return given.place.units()
    return getattr(given, "system", "metric")


class CheckItem(ipywidgets.VBox):
    """One question with its check, hints and solution. See :func:`check`.

    Attributes
    ----------
    verdict : Verdict
        What came of the last answer; its state is ``untried`` before the first.
    helped : int
        How many hints were asked for, one more once the solution was shown.
    """

    def __init__(self, item: Item, given: Any = None, label: str = ""):
        self.item, self._given, self._label = item, given, label
        self.outcome = outcome_of(given)
        self.verdict = item.judge(self.outcome, "")
        self.helped, self._waiting = 0, None
        question = item.question
        self._head = html("")
        if question.options:
            self.choice = Choice(
                texts=self._texts(),
                label=phrase("check_choose"),
                stacked=True,
            )
            self.entry = None
            self.choice.observe(lambda change: self.try_it(), "index")
        else:
            self.choice = None
            self.entry = NumberField(
                label=self._label_words(), placeholder=self._example()
            )
            self.entry.add_class("bc-answer")
            self.entry.on_sent(lambda text: self.try_it())
        self.go = button(phrase("check_button"), self.try_it, strong=True)
        self.help = button("", self.ask_help)
        self._says, self._hints = Message(), Message().add_class("bc-hints")
        acts = (self.go, self.help) if self.entry else (self.help,)
        super().__init__()
        self.children = [
            self._head,
            self.choice or self.entry,
            button_row(*acts),
            self._says,
            self._hints,
        ]
        self.add_class("bc-item").add_class(f"bc-item-{question.name}")
        self.refresh()
        if hasattr(given, "observe"):
            given.observe(lambda *_: self._soon())

    # -- what a person does

    def try_it(self) -> Verdict:
        """Judge what is written or chosen, and say it."""
        if self.choice is not None:
            options, index = self.item.question.options, self.choice.index
            text = options[index].name if index >= 0 else ""
        else:
            text = self.entry.value
        self.verdict = self.item.judge(self.outcome, text)
        self._say(self.verdict)
        return self.verdict

    def ask_help(self) -> str:
        """Give the next hint, and after the last one the solution; what is shown."""
        question = self.item.question
        self.helped = min(self.helped + 1, len(question.hints) + 1)
        self._show_help()
        return self._hints.html

    def refresh(self) -> None:
        """Take the numbers of the bed as it is now; what was tried is then untried."""
        outcome, before = outcome_of(self._given), self.verdict.state
        head = self._question(outcome)
        if self.choice is not None and self.choice.texts != (texts := self._texts()):
            self.choice.texts = texts
        if head != self._head.value:
            self.outcome, self._head.value = outcome, head
            self.verdict = self.item.judge(outcome, "")
        if before not in ("untried", "absent") and self.verdict.state == "untried":
            says = phrase("untried_new")
            self.verdict = Verdict(state="untried", says=says)
        self._say(self.verdict)
        self._show_help()

    # -- how it is shown

    def _question(self, outcome: Outcome) -> str:
        if not self.item.fits(outcome):
            return markup(phrase("absent"))
        words = self.item.words(
            self.item.question.text, outcome, system_of(self._given)
        )
        label = f'<span class="bc-number">{plain(self._label)}</span>'
        return f"{label if self._label else ''}{markup(words)}"

    def _texts(self) -> list[str]:
        system = system_of(self._given)
        return [measured(one.text, system) for one in self.item.question.options]

    def _example(self) -> str:
        question = self.item.question
        unit = sign(question.unit)  # a sum of money may be typed without its sign
        example = phrase("example_unit" if unit else "example", unit=unit)
        return phrase("check_placeholder", example=example)

    def _label_words(self) -> str:
        return phrase("check_ask_unit" if self.item.question.unit else "check_label")

    def _say(self, verdict: Verdict) -> None:
        with self._says.hold_sync():
            self._says.html = f"<p>{inline(verdict.says)}</p>"
            self._says.tone = verdict.state
        if self.entry is not None:
            self.entry.tone = "refused" if verdict.state == "unread" else ""

    def _show_help(self) -> None:
        question, system = self.item.question, system_of(self._given)
        hints = question.hints
        shown = [
            phrase("check_hint_text", number=n, text=text)
            for n, text in enumerate(hints[: self.helped], start=1)
        ]
        if self.helped > len(hints):
            shown.append(phrase("check_solution_text", text=question.solution))
        fits = self.item.fits(self.outcome)
        words = [self.item.words(text, self.outcome, system) for text in shown if fits]
        self._hints.html = "".join(f"<p>{inline(text)}</p>" for text in words)
        if self.helped < len(hints):
            next_ = phrase("check_hint", number=self.helped + 1, of=len(hints))
        else:
            next_ = phrase("check_solution")
        self.help.description = next_
        self.help.disabled = self.helped > len(hints)

    def _soon(self) -> None:
        """Refresh once the bench has come to rest; at once where no loop runs."""
        if self._waiting is not None:
            self._waiting.cancel()
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            self.refresh()
            return
        self._waiting = loop.call_later(CALM, self.refresh)


def check(name: str | Item, given: Any = None, *, workbook: str = "00") -> Any:
    """One question of a workbook as a block; ``.items`` holds its :class:`CheckItem`.

    Parameters
    ----------
    name : str or Item
        Its name in data/checks_<workbook>.csv, or an item of one's own.
    given : bench, outcome or function
        Whose numbers it takes.
    workbook : str
        Number of the workbook, two digits.
    """
    return _block((name,), given, workbook, "")


def check_yourself(
    *names: str | Item, given: Any = None, workbook: str = "00"
) -> ipywidgets.VBox:
    """Three to five questions under their heading; ``.items`` holds them."""
    return _block(names, given, workbook, "check")


def recall(
    names: Sequence[str | Item], given: Any = None, *, workbook: str = "00"
) -> ipywidgets.VBox:
    """Two or three questions of an earlier workbook; ``.items`` holds them."""
    return _block(names, given, workbook, "recall")


def _whose(item: Item, given: Any) -> Any:
    """Whose numbers a question takes; the demo's where the own bed lacks the thing."""
    if item.question.about == "own" and item.fits(outcome_of(given)):
        return given
    return demo_of(given)


def _block(names, given, workbook, head) -> ipywidgets.VBox:
    found = [
        name if isinstance(name, Item) else stored_item(name, workbook)
        for name in names
    ]
    many = len(found) > 1
    items = [
        CheckItem(item, _whose(item, given), str(n) if many else "")
        for n, item in enumerate(found, start=1)
    ]
    shown = list(items)
    if head:
        key = "check_head" if head == "check" else "recall"
        why = "check_why" if head == "check" else "recall_why"
        title = f"<h2>{plain(phrase(key))}</h2>"
        title += f'<p class="bc-soft">{plain(phrase(why))}</p>'
        shown.insert(0, html(title))
    sheet = paper(*shown)
    sheet.items = tuple(items)
    return sheet
