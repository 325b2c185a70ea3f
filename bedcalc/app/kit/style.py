"""The sheet of paper on which all panels lie: one style for every workbook.

:func:`paper` wraps a block or a bench; it carries the style with it, which lands in
the page's head once and stays there, whichever cell has been run or scrolled away.
The colours and type sizes come from figures/theme.py, the rules from sheet.css
and bench.css.

Classes for a bench (all inside ``bc``, the paper)::

    bc-strip      headline numbers in a row; each HTML of figure_box() in it
    bc-main       the row of bc-scene (the picture) and bc-verdicts
    bc-controls   the groups of controls, in columns
    bc-close      the close-up
    bc-verdict    one row: sign, sentence, button
    bc-group      controls under a small heading (controls.group)
    bc-row        one control; bc-row-<name> for tests
    bc-buttons    buttons side by side
    bc-scroll     a box whose content may scroll sideways when narrow
    bc-hide       not on the page (wins over everything)

The layouts change with the width of the output, not of the window: ``wide`` from
1300 px, ``full`` from 900, ``middle`` from 520, ``narrow`` below.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import anywidget
import ipywidgets

from ...figures import theme
from .words import cautions_at, plain

if TYPE_CHECKING:  # names for an editor
    from ...model.outcome import Check

__all__ = [
    "Presses", "button", "button_row", "care", "css", "headline", "html", "paper",
    "verdict_sign",
]  # fmt: skip  # a list of names

_SHEETS = [Path(__file__).parent / name for name in ("sheet.css", "bench.css")]
_HIDE = ".bc-hide, .bc .bc-hide { display: none !important; }"
_COLOURS = {
    "ink": theme.INK, "second": theme.SECOND, "rule": theme.RULE,
    "control": theme.CONTROL, "accent": theme.ACCENT, "paper": theme.PAPER,
    "holds": theme.HOLDS, "watch": theme.WATCH, "fails": theme.FAILS,
    "later": theme.LATER, "caution": theme.MATERIAL["topdressing"],
}  # fmt: skip  # rows of a table
_SIZES = {
    "title": theme.TITLE,
    "body": theme.BODY,
    "label": theme.LABEL,
    "tick": theme.TICK,
    "strip": theme.STRIP,
}


def css() -> str:
    """The whole style: variables out of the theme, then the rules of sheet.css."""
    values = [f"--bc-{name}:{colour}" for name, colour in _COLOURS.items()]
    values += [f"--bc-{name}-size:{size}px" for name, size in _SIZES.items()]
    values.append(f"--bc-family:{theme.FAMILY},sans-serif")
    rules = "\n".join(path.read_text(encoding="utf-8") for path in _SHEETS)
    return f".bc{{{';'.join(values)}}}\n{rules}\n{_HIDE}"


class _Style(anywidget.AnyWidget):
    """Puts the style into the page, and keeps its keys.

    Each paper has its own: a page that is loaded again runs the lesson before it has
    the widgets of the last time, so one made then must not stand on a new paper.
    """

    _esm = Path(__file__).parent / "sheet.js"
    _css = css()


def paper(*children: ipywidgets.Widget, kind: str = "lesson") -> ipywidgets.VBox:
    """A white sheet with these widgets on it, in Lab's light and dark theme.

    Parameters
    ----------
    *children : Widget
        From top to bottom.
    kind : str
        ``"lesson"`` for blocks to read, ``"bench"`` for the whole width.
    """
    inner = ipywidgets.VBox(list(children)).add_class("bc-inner")
    sheet = ipywidgets.VBox([inner, _Style()])
    return sheet.add_class("bc").add_class(f"bc-{kind}")


class Presses:
    """Tells a person's press from the second half of a double click.

    A press does not count that comes while the last one is at work, or so soon after
    it that the person cannot have seen what it did.
    """

    #: A double click takes up to half a second; most take a quarter.
    SECONDS = 0.4

    def __init__(self) -> None:
        self._ended = -self.SECONDS
        self._working = False

    def counts(self) -> bool:
        """Whether a press made now is one of its own."""
        return not self._working and time.monotonic() - self._ended >= self.SECONDS

    def run(self, act: Callable[[], object]) -> None:
        """Do what a press asks for, unless the press does not count."""
        if not self.counts():
            return
        self._working = True
        try:
            act()
        finally:
            self._working, self._ended = False, time.monotonic()


class _Button(ipywidgets.Button):
    """A button that takes a double click on the page for one; a script may press on."""

    def __init__(self, presses: Presses, **options: Any) -> None:
        super().__init__(**options)
        self._presses = presses

    def _handle_button_msg(self, _: Any, content: dict[str, Any], __: Any) -> None:
        if content.get("event", "") == "click":
            self._presses.run(self.click)


def button(
    text: str,
    press: Callable[[], object],
    *,
    strong: bool = False,
    presses: Presses | None = None,
) -> ipywidgets.Button:
    """A button that calls ``press()``; a double click on it acts once.

    Parameters
    ----------
    text : str
        What stands on it.
    press : callable
        What it does.
    strong : bool
        For the one main act of a block.
    presses : Presses, optional
        Shared by buttons that change places after a press, so that the second click
        of a double click cannot reach the next one.
    """
    made = _Button(presses or Presses(), description=text)
    made.add_class("bc-button")
    if strong:
        made.add_class("bc-strong")
    made.on_click(lambda _: press())
    return made


def button_row(*buttons: ipywidgets.Widget) -> ipywidgets.Box:
    """Buttons side by side, on the next line where there is no room."""
    return ipywidgets.Box(list(buttons)).add_class("bc-buttons")


def html(text: str, *classes: str) -> ipywidgets.HTML:
    """A piece of page; ``text`` must be made of escaped words."""
    made = ipywidgets.HTML(text)
    for name in classes:
        made.add_class(name)
    return made


def care(place: str) -> ipywidgets.HTML:
    """The line of cautions of a block, from data/caution_places.csv."""
    return html(cautions_at(place))


def headline(label: str, number: str, unit: str = "") -> str:
    """One number of the headline strip as HTML."""
    return (
        f'<div class="bc-head"><span class="bc-head-label">{plain(label)}</span>'
        f'<span class="bc-head-number"><b>{plain(number)}</b>'
        f'<span class="bc-head-unit"> {plain(unit)}</span></span></div>'
    )


def verdict_sign(check: Check) -> str:
    """The sign of a check as HTML: shape, glyph, word."""
    word = check.word[:1].upper() + check.word[1:]
    return (
        f'<span class="bc-sign bc-sign-{check.verdict}" role="img" '
        f'aria-label="{plain(word)}">{check.sign}</span>'
    )
