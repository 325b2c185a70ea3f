"""Input widgets that report why a value is refused; ipywidgets' boxes clamp silently.

An :class:`Entry` says why it refuses a number (stock number boxes clamp in silence), a
:class:`Choice` is a set of radio buttons for keyboard and screen reader, a
:class:`Says` is a sentence that screen readers announce, :class:`WidthWatch` knows how
wide the output is. Their front ends are the .js files beside this one.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import anywidget
import ipywidgets
import traitlets

__all__ = ["Choice", "NumberField", "Message", "Slider", "WidthWatch", "layout_kind"]

_HERE = Path(__file__).parent

#: narrowest output for each kind of layout, widest first
KINDS = ((1300, "wide"), (900, "full"), (520, "middle"), (0, "narrow"))


def layout_kind(width: int) -> str:
    """``wide`` from 1300 px, ``full`` from 900, ``middle`` from 520, or ``narrow``."""
    return next(kind for least, kind in KINDS if width >= least)


class NumberField(anywidget.AnyWidget):
    """A text field with label, unit and a sentence beside it.

    ``value`` follows the typing; Enter counts ``sent`` up. With a ``step`` it is a
    number box: arrow keys step it, and leaving the field sends it too.
    """

    _esm = _HERE / "entry.js"
    value = traitlets.Unicode("").tag(sync=True)
    sent = traitlets.Int(0).tag(sync=True)
    label = traitlets.Unicode("").tag(sync=True)
    label_shown = traitlets.Bool(True).tag(sync=True)
    unit = traitlets.Unicode("").tag(sync=True)
    placeholder = traitlets.Unicode("").tag(sync=True)
    says = traitlets.Unicode("").tag(sync=True)
    tone = traitlets.Unicode("").tag(sync=True)
    disabled = traitlets.Bool(False).tag(sync=True)
    low = traitlets.Float(0).tag(sync=True)
    high = traitlets.Float(0).tag(sync=True)
    step = traitlets.Float(0).tag(sync=True)

    def on_sent(self, callback: Callable[[str], object]) -> None:
        """Call ``callback(text)`` whenever an entry is sent."""
        self.observe(lambda change: callback(self.value), "sent")

    def send_text(self, text: str) -> None:
        """Type a text and press Enter, as a person would."""
        self.value = text
        self.sent += 1


class Choice(anywidget.AnyWidget):
    """Radio buttons; ``index`` is -1 while nothing is chosen."""

    _esm = _HERE / "choice.js"
    texts = traitlets.List(traitlets.Unicode()).tag(sync=True)
    index = traitlets.Int(-1).tag(sync=True)
    label = traitlets.Unicode("").tag(sync=True)
    stacked = traitlets.Bool(False).tag(sync=True)
    disabled = traitlets.Bool(False).tag(sync=True)


class Slider(ipywidgets.IntSlider):
    """A slider whose value is told after its ends and step.

    The page takes a message in the order it is written. A value that comes before the
    new step is rounded to the old one and sent back, as if a person had moved it.
    """

    def get_state(self, key: Any = None, drop_defaults: bool = False) -> dict:
        """What is sent: the value last."""
        state = super().get_state(key, drop_defaults)
        if "value" in state:
            state["value"] = state.pop("value")
        return state


class Message(anywidget.AnyWidget):
    """A live line: ``html`` must be made of escaped text; ``tone`` colours its edge."""

    _esm = _HERE / "says.js"
    html = traitlets.Unicode("").tag(sync=True)
    tone = traitlets.Unicode("").tag(sync=True)


class WidthWatch(anywidget.AnyWidget):
    """Reports the width of the box it lies in: ``width`` in px (0 until known)."""

    _esm = _HERE / "width.js"
    width = traitlets.Int(0).tag(sync=True)

    @property
    def kind(self) -> str:
        """The kind of layout that fits the width."""
        return layout_kind(self.width)
