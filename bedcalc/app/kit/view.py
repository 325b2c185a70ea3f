"""Views of a lesson: a few controls, one picture, one sentence, all about one bed.

A :class:`Desk` holds the bed, the place and the units a workbook works with. One view
may change the bed; the others follow when it has come to rest. Each view says which bed
it is about, and offers to look at the demo bed instead.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Collection, Mapping, Sequence
from typing import Any

import ipywidgets

from ...evaluate import Outcome
from ...figures.drawing import Drawing
from ...questions.basis import Basis
from ...tables import table
from ..desk import Desk, demo_desk, desk
from .controls import Control, Controls
from .inputs import Message, WidthWatch
from .pictures import Picture
from .style import button, button_row, html, paper
from .why import Why, view_bases
from .words import cautions_at, inline, plain

__all__ = [
    "AboutLine",
    "Desk",
    "View",
    "demo_desk",
    "desk",
    "facts_html",
    "facts_table",
    "list_block",
    "when_new",
]

CALM = 0.35  # seconds the bed must rest before the other views follow
_SIDE = 356  # px of the controls and their gap beside the picture
_WIDEST = 760  # px of a picture
_LEAST = 300  # px of a picture; a narrower page scrolls it sideways


class AboutLine:
    """Which bed a view is about, with a button to look at the other one."""

    def __init__(self, about: Desk):
        self.about = about
        self.line = html("")
        self.turn = button("", self._turn)
        self.widget = ipywidgets.Box([self.line, self.turn]).add_class("bc-about")
        about.observe(lambda outcome: self.show())

    def _turn(self) -> None:
        self.about.look_at("demo" if self.about.own else "own")

    def show(self) -> None:
        """Say which bed it is now."""
        words = f"<p>{inline(self.about.about)}</p>"
        if self.line.value != words:
            self.line.value = words
        if getattr(self.about, "can_turn", False):
            self.turn.remove_class("bc-hide")
            self.turn.description = (
                "Look at the demo bed" if self.about.own else "Back to my bed"
            )
        else:
            self.turn.add_class("bc-hide")


class View:
    """Controls, one picture and one sentence; show it as the last line of a cell.

    Parameters
    ----------
    about : Desk
    controls : sequence of Control
    follow : function
        ``follow(values, size)`` returns the drawing and a sentence; ``size`` holds
        ``narrow`` and ``width``. Instead of the drawing it may return None where
        something is not known yet, and the sentence then says what.
    reads : function
        ``reads()`` returns the value of every control that shows the bed now on the
        desk, those of lists too; it may offer other lists before. The view asks it
        whenever the desk has changed, so that no control still shows another bed.
    writes : function
        ``writes(moved)`` changes the bed. It gets only the values that were moved, so
        that the rest of the bed stays as it is.
    name : str
        For tests: the box has the class ``bc-view-<name>``.
    acts : mapping of text to function
        Buttons; a function may return a sentence to say.
    presets : mapping of text to values
        Buttons that put several controls somewhere at once.
    why : function
        ``why()`` returns what stands behind the verdicts of this view; without it the
        row ``view.<name>`` of data/basis.csv is told.
    """

    def __init__(
        self,
        about: Desk,
        controls: Sequence[Control],
        render: Callable[[dict, dict], tuple[Drawing | None, str]],
        *,
        name: str,
        reads: Callable[[], dict[str, Any]] | None = None,
        writes: Callable[[dict[str, Any]], Any] | None = None,
        acts: Mapping[str, Callable[[], Any]] | None = None,
        presets: Mapping[str, Mapping[str, Any]] | None = None,
        why: Callable[[], Sequence[Basis]] | None = None,
    ):
        self.desk, self._follow, self._waiting = about, render, None
        self.acts = dict(acts or {})
        self._reads, self._writes = reads or dict, writes
        self._moving, self._behind, self._whose, self._shown_in = True, True, None, None
        self.controls = Controls(*controls)
        self._first = dict(self.controls.values)
        self._catch_up()
        self.watch, self.says, self.told = WidthWatch(), Message(), Message()
        self.care, self.why = html(""), Why(text="why_tip")
        why = why or view_bases(name, about)
        if why is not None:
            self.why.show(why)
        self.says.add_class("bc-live")
        self.picture: Picture | None = None
        self._name, self._frame = name, ipywidgets.VBox([])
        drawing, sentence = render(self.controls.values, self._size())
        self._show(drawing)
        self._say(sentence)
        buttons = [
            button(text, lambda v=values: self.put(**v))
            for text, values in (presets or {}).items()
        ]
        if controls:
            buttons.append(button("Reset", self.reset))
        buttons += [
            button(text, lambda a=act: self._act(a)) for text, act in self.acts.items()
        ]
        side = [control.widget for control in controls]
        if buttons:
            side.append(button_row(*buttons))
        side.append(self.told)
        above = [AboutLine(about).widget] if hasattr(about, "about") else []
        because = [self.why.button, self.why.page] if why is not None else []
        left = ipywidgets.VBox([*above, self.says, self._frame, self.care, *because])
        if buttons:
            right = ipywidgets.VBox(side).add_class("bc-controls")
            body = ipywidgets.Box([left, right]).add_class("bc-main")
        else:
            body = left
        self._beside = bool(buttons)
        self.widget = paper(self.watch, body, kind="bench")
        self.widget.add_class(f"bc-view-{name}")
        self.controls.observe(self._moved)
        self.watch.observe(lambda change: self.redraw(), "width")
        about.observe(self._soon)
        self._moving = False

    @property
    def outcome(self) -> Outcome:
        """Of the bed on the desk."""
        return self.desk.outcome

    @property
    def demo(self) -> Desk:
        """The demo bed of the lesson, for questions about it."""
        return getattr(self.desk, "demo", self.desk)

    @property
    def system(self) -> str:
        """``metric`` or ``us``."""
        return self.desk.system

    def observe(self, listener: Callable[[Any], Any]) -> None:
        """Call ``listener(outcome)`` after every change of the bed, and once now."""
        self.desk.observe(listener)

    def _repr_mimebundle_(self, **kwargs):
        return self.widget._repr_mimebundle_(**kwargs)

    def _size(self) -> dict:
        kind, width = self.watch.kind, self.watch.width
        if not width:
            return {"narrow": False, "width": 620}
        beside = (
            _SIDE if kind in ("wide", "full") and getattr(self, "_beside", 1) else 0
        )
        room = width - 32 - beside
        return {"narrow": room < 520, "width": max(min(room, _WIDEST), _LEAST)}

    def _say(self, sentence: str) -> None:
        bed = getattr(getattr(self.desk, "outcome", None), "bed", None)
        care = cautions_at(self._name, bed.wall.family if bed is not None else "")
        if self.care.value != care:
            self.care.value = care
        words = f"<p>{inline(sentence)}</p>"
        if self.says.html != words:
            self.says.html = words

    def redraw(self) -> None:
        """Bring picture and sentence to what the controls and the bed say."""
        size = self._size()
        self._moving = True
        try:
            self._catch_up()
            drawing, sentence = self._follow(self.controls.values, size)
        finally:
            self._moving = False
        self._show(drawing)
        if self.picture is not None:
            self.picture.size(size["width"])
        self._say(sentence)
        self.why.write()

    def refresh(self) -> None:
        """Read the bed again and draw, whether or not it has changed."""
        self._behind = True
        self.redraw()

    def _show(self, drawing: Drawing | None) -> None:
        """Bring the picture to a drawing; without one there is nothing to see."""
        if drawing is None:
            self._frame.add_class("bc-hide")
            return
        if self.picture is None:
            self.picture = Picture(drawing, self._name)
            self.picture.widget.add_class("bc-scroll")
            self._frame.children = (self.picture.widget,)
        else:
            self.picture.bring(drawing)
        self._frame.remove_class("bc-hide")

    def _catch_up(self, moved: Collection[str] = ()) -> None:
        """Put all controls but the moved ones to the bed, if the desk has changed."""
        if self._shown_in != self.system:
            self._shown_in = self.system
            self.controls.use(self.system)
        if not self._behind:
            return
        values = self._reads()
        self.controls.set(**{k: v for k, v in values.items() if k not in moved})
        self._behind = False
        whose = getattr(self.desk, "about", "")
        if whose != self._whose:  # Reset goes back to how this bed was found
            self._whose, self._first = whose, self._first | values

    def _move(self, values: dict[str, Any]) -> None:
        """Write what was moved, and draw; a refusal leaves the bed as it was."""
        self._moving = True
        try:
            self._catch_up(values)
            if self._writes is not None and values:
                self._writes(values)
                self._behind = True
        finally:
            self._moving = False
        self.redraw()

    def _moved(self, changes: list) -> None:
        self._move({change.name: change.new for change in changes})

    def put(self, **values: Any) -> None:
        """Put controls somewhere, as one move."""
        before = dict(self.controls.values)
        try:
            self.controls.set(**values)
            now = self.controls.values
            self._move(
                {name: now[name] for name in values if now[name] != before[name]}
            )
        except ValueError as error:
            self.controls.set(**before)
            self.told.html, self.told.tone = f"<p>{plain(error)}</p>", "refused"

    def reset(self) -> None:
        """Back to where the controls stood when this bed was first shown."""
        self.told.html = ""
        self._moving = True
        try:
            self._catch_up()
        finally:
            self._moving = False
        self.put(**self._first)

    def _act(self, act: Callable[[], Any]) -> None:
        said = act()
        if said:
            bad = str(said).startswith("Not ")
            self.told.html = f"<p>{plain(said)}</p>"
            self.told.tone = "refused" if bad else "kept"

    def _soon(self, outcome: Outcome) -> None:
        """Follow the bed once it has come to rest; at once where no loop runs."""
        if self._moving:
            return
        self._behind = True
        if self._waiting is not None:
            self._waiting.cancel()
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            self.redraw()
            return
        self._waiting = loop.call_later(CALM, self.redraw)


def when_new(read: Callable[[], dict[str, Any]]) -> Callable[[], dict[str, Any]]:
    """``reads`` of a view for values a reader may try out: only what has changed.

    Such a control begins where the bed stands, moves freely, and is put back only when
    the bed gives it another value.
    """
    seen: dict[str, Any] = {}

    def reads() -> dict[str, Any]:
        now = read()
        new = {k: v for k, v in now.items() if k not in seen or seen[k] != v}
        seen.update(now)
        return new

    return reads


def facts_table(
    headings: Sequence[str], rows: Sequence[Sequence[str]], caption: str = ""
) -> ipywidgets.VBox:
    """A plain table as a block of the lesson."""
    return paper(html(facts_html(headings, rows, caption), "bc-scroll"))


def facts_html(
    headings: Sequence[str], rows: Sequence[Sequence[str]], caption: str = ""
) -> str:
    """A plain table as HTML."""
    head = "".join(f'<th scope="col">{plain(h)}</th>' for h in headings)
    body = "".join(
        f'<tr><th scope="row">{inline(row[0])}</th>'
        + "".join(
            f'<td style="text-align:left">{inline(cell)}</td>' for cell in row[1:]
        )
        + "</tr>"
        for row in rows
    )
    text = f'<table class="bc-numbers"><caption>{plain(caption)}</caption>'
    return text + f"<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"


def list_block(name: str, columns: Mapping[str, str], caption: str) -> ipywidgets.VBox:
    """A table of data/ as a block: column name to heading."""
    rows = [[getattr(row, column) for column in columns] for row in table(name)]
    return facts_table(tuple(columns.values()), rows, caption)
