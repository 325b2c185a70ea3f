"""Views of a lesson: a few controls, one picture, one sentence, all about one bed.

A :class:`Desk` holds the bed, the place and the units a workbook works with. One view
may change the bed; the others follow when it has come to rest.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

import ipywidgets

from ..bed import Bed
from ..evaluate import Outcome, evaluate
from ..figures.drawing import Drawing
from ..garden import Garden, GardenError, demo_garden, load, save
from ..place import Place
from ..tables import table
from .bench import FILE, MINE, Picture
from .controls import Control, Controls
from .cost_prices import list_for
from .inputs import Says, WidthWatch
from .style import button, button_row, html, paper
from .words import inline, plain

__all__ = ["Desk", "View", "desk", "facts_table", "list_block"]

CALM = 0.35  # seconds the bed must rest before the other views follow
_SIDE = 356  # px of the controls and their gap beside the picture
_WIDEST = 760  # px of a picture
_LEAST = 300  # px of a picture; a narrower page scrolls it sideways


class Desk:
    """The bed, the place and the units of one workbook.

    Attributes
    ----------
    garden : Garden
        The learner's own, or the demo garden.
    outcome : Outcome
        Of the bed as it now is.
    system : str
        ``metric`` or ``us``.
    """

    def __init__(self, garden: Garden, bed: Bed, own: bool, file: Path):
        self.garden, self.own, self.file = garden, own, file
        prices = list_for(bed.wall, garden.place)
        self.start, self.system = bed, "metric"
        self.place = garden.place.change(prices=prices)
        self.outcome = evaluate(bed, self.place)
        self._listeners: list[Callable[[Any], Any]] = []

    @property
    def bed(self) -> Bed:
        """The bed as it now is."""
        return self.outcome.bed

    @property
    def name(self) -> str:
        """What a sentence calls the bed."""
        return "your bed" if self.own else f"bed {self.bed.name}"

    def observe(self, listener: Callable[[Any], Any]) -> None:
        """Call ``listener(outcome)`` after every change, and once now."""
        self._listeners.append(listener)
        listener(self.outcome)

    def take(
        self,
        bed: Bed | None = None,
        place: Place | None = None,
        system: str | None = None,
    ) -> None:
        """Change bed, place or units; everybody is told."""
        new_place = place or self.place
        if bed is not None or place is not None:
            self.outcome = evaluate(bed or self.bed, new_place)
        self.place, self.system = new_place, system or self.system
        for listener in tuple(self._listeners):
            listener(self.outcome)

    def copy(self) -> Desk:
        """Another desk with the same bed, for a view that must not move the others."""
        other = Desk(self.garden, self.bed, self.own, self.file)
        other.take(place=self.place, system=self.system)
        return other

    def keep(self) -> str:
        """Save the bed as one's own, beside the workbook; what to say about it."""
        bed = self.bed.change(name=MINE, title="my bed")
        try:
            known = self.file.is_file()
            garden = load(self.file) if known else Garden(place=self.garden.place)
            save(garden.with_bed(bed), self.file)
        except (GardenError, OSError) as error:
            return f"Not saved: {error}"
        return f"Saved in {self.file.name}, beside this workbook."


def desk(demo: str = "B", file: str | Path = FILE, **change: Any) -> Desk:
    """The learner's saved bed if there is one, else a bed of the demo garden.

    Parameters
    ----------
    demo : str
        Name of the demo bed.
    file : str or Path
        The learner's garden file.
    **change
        What differs in the demo bed, for :meth:`bedcalc.Bed.change`.
    """
    path = Path(file)
    try:
        garden = load(path)
        mine = [bed for bed in garden if bed.name == MINE] or list(garden)
        if mine:
            return Desk(garden, mine[0], True, path)
    except GardenError:
        pass
    garden = demo_garden()
    return Desk(garden, garden[demo].change(**change), False, path)


class View:
    """Controls, one picture and one sentence; show it as the last line of a cell.

    Parameters
    ----------
    about : Desk
    controls : sequence of Control
    follow : function
        ``follow(values, size)`` returns the drawing and a sentence; ``size`` holds
        ``narrow`` and ``width``. It may call ``about.take(...)``.
    name : str
        For tests: the box has the class ``bc-view-<name>``.
    acts : mapping of text to function
        Buttons; a function may return a sentence to say.
    presets : mapping of text to values
        Buttons that put several controls somewhere at once.
    """

    def __init__(
        self,
        about: Desk,
        controls: Sequence[Control],
        follow: Callable[[dict, dict], tuple[Drawing, str]],
        *,
        name: str,
        acts: Mapping[str, Callable[[], Any]] | None = None,
        presets: Mapping[str, Mapping[str, Any]] | None = None,
    ):
        self.desk, self._follow, self._waiting = about, follow, None
        self._moving = True
        self.controls = Controls(*controls)
        self._first = dict(self.controls.values)
        self.watch, self.says, self.told = WidthWatch(), Says(), Says()
        self.says.add_class("bc-live")
        drawing, sentence = follow(self.controls.values, self._size())
        self.picture = Picture(drawing, name)
        self.picture.widget.add_class("bc-scroll")
        self.picture.figure._config = {"displayModeBar": False}
        self._say(sentence)
        buttons = [
            button(text, lambda v=values: self.put(**v))
            for text, values in (presets or {}).items()
        ]
        if controls:
            buttons.append(button("Reset", self.reset))
        buttons += [
            button(text, lambda a=act: self._act(a))
            for text, act in (acts or {}).items()
        ]
        side = [control.widget for control in controls]
        if buttons:
            side.append(button_row(*buttons))
        side.append(self.told)
        left = ipywidgets.VBox([self.says, self.picture.widget])
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
        words = f"<p>{inline(sentence)}</p>"
        if self.says.html != words:
            self.says.html = words

    def redraw(self) -> None:
        """Bring picture and sentence to what the controls and the bed say."""
        size = self._size()
        self._moving = True
        try:
            drawing, sentence = self._follow(self.controls.values, size)
        finally:
            self._moving = False
        self.picture.size(size["width"])
        self.picture.bring(drawing)
        self._say(sentence)

    def _moved(self, changes: list) -> None:
        self.redraw()

    def put(self, **values: Any) -> None:
        """Put controls somewhere, as one move."""
        before = dict(self.controls.values)
        self.controls.set(**values)
        try:
            self.redraw()
        except ValueError as error:
            self.controls.set(**before)
            self.told.html, self.told.tone = f"<p>{plain(error)}</p>", "refused"

    def reset(self) -> None:
        """Back to where the controls stood at first."""
        self.told.html = ""
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
        if self._waiting is not None:
            self._waiting.cancel()
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            self.redraw()
            return
        self._waiting = loop.call_later(CALM, self.redraw)


def facts_table(
    headings: Sequence[str], rows: Sequence[Sequence[str]], caption: str = ""
) -> ipywidgets.VBox:
    """A plain table as a block of the lesson."""
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
    text += f"<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"
    return paper(html(text, "bc-scroll"))


def list_block(name: str, columns: Mapping[str, str], caption: str) -> ipywidgets.VBox:
    """A table of data/ as a block: column name to heading."""
    rows = [[getattr(row, column) for column in columns] for row in table(name)]
    return facts_table(tuple(columns.values()), rows, caption)
