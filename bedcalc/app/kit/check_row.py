"""A verdict of a panel: its sign, its sentence, a button that fixes, and why."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

import ipywidgets

from ...questions.basis import because
from ..bench_words import fix_words, verdict_html
from .style import Presses, button
from .why import Why

if TYPE_CHECKING:  # names for an editor
    from ...model.outcome import Check

__all__ = ["VerdictRow"]


class VerdictRow:
    """One verdict: sign, sentence, a button that fixes it, and why."""

    _presses = Presses()  # of all rows: a fix moves the next row under the mouse

    def __init__(self, fix: Callable[[dict], Any]):
        self.sign = ipywidgets.HTML()
        self.words = ipywidgets.HTML()
        self.button = button("", self._press, presses=self._presses)
        self.why = Why()
        self.widget = ipywidgets.Box(
            [self.sign, self.words, self.button, self.why.button, self.why.page]
        )
        self.widget.add_class("bc-verdict").add_class("bc-hide")
        self._fix, self._change = fix, {}

    def _press(self) -> None:
        if self._change:
            self._fix(self._change)

    def show(self, check: Check | None, system: str, parts: Mapping[str, Any]) -> None:
        """Show a check, or nothing; ``parts`` hold the numbers that went into it."""
        if check is None:
            self.widget.add_class("bc-hide")
            return
        sign, words = verdict_html(check, system)
        text = fix_words(check, system)
        self._change = dict(check.fix.change) if text else {}
        for cell, html in ((self.sign, sign), (self.words, words)):
            if cell.value != html:
                cell.value = html
        if self.button.description != text:
            self.button.description = text
        (self.button.remove_class if text else self.button.add_class)("bc-hide")
        self.why.show(lambda: [because(check, parts, system)])
        self.widget.remove_class("bc-hide")
