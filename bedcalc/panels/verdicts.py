"""A verdict of a panel: one row with its sign, its sentence, a button that mends."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import ipywidgets

from .bench_words import mend_words, verdict_html
from .style import Presses, button

__all__ = ["VerdictRow"]


class VerdictRow:
    """One verdict: sign, sentence, and a button that mends it."""

    _presses = Presses()  # of all rows: a mend moves the next row under the mouse

    def __init__(self, mend: Callable[[dict], Any]):
        self.sign = ipywidgets.HTML()
        self.words = ipywidgets.HTML()
        self.button = button("", self._press, presses=self._presses)
        self.widget = ipywidgets.Box([self.sign, self.words, self.button])
        self.widget.add_class("bc-verdict").add_class("bc-hide")
        self._mend, self._change = mend, {}

    def _press(self) -> None:
        if self._change:
            self._mend(self._change)

    def show(self, check, system: str) -> None:
        """Show a check, or nothing."""
        if check is None:
            self.widget.add_class("bc-hide")
            return
        sign, words = verdict_html(check, system)
        text = mend_words(check, system)
        self._change = dict(check.mend.change) if text else {}
        for cell, html in ((self.sign, sign), (self.words, words)):
            if cell.value != html:
                cell.value = html
        if self.button.description != text:
            self.button.description = text
        (self.button.remove_class if text else self.button.add_class)("bc-hide")
        self.widget.remove_class("bc-hide")
