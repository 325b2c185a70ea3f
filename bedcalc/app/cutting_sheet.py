"""The build sheet, on a button."""

from __future__ import annotations

import re
from pathlib import Path

import ipywidgets

from ..garden.garden import Garden
from ..printing import PAPERS, PAPERS_OF, SheetError, write_sheet
from .bench_words import bed_title
from .cutting_plan import Cutter, Job
from .cutting_yard import yard
from .desk import Desk
from .kit.controls import choice_row, list_row
from .kit.inputs import Message, NumberField
from .kit.style import button, button_row, care, html, paper
from .kit.words import inline, plain

__all__ = ["SheetMaker", "sheet_maker"]


class SheetMaker:
    """Make the build sheet of a garden or of one bed, on a button.

    Parameters
    ----------
    given : Desk or Garden
    folder : str, optional
        Where to; beside the garden file if left out.
    cutter : Cutter, optional
        Whose yard, saw and car the sheet is made for.
    """

    def __init__(
        self,
        given: Desk | Garden,
        folder: str | Path = "",
        cutter: Cutter | None = None,
    ):
        self.yard = cutter.yard if cutter is not None else yard(given)
        self.folder, self.cutter = Path(folder or self.yard.folder), cutter
        self.says, self._job = Message(), Job(self._made, self._say)
        self.about, self._was = html(""), ""
        self.bed = list_row("Sheet of", [("", "no bed yet")], "", name="bed")
        self.paper = choice_row("Paper", [(p, p) for p in PAPERS], "A4", name="paper")
        self.date = _line("Date", "as it shall stand on the sheet, such as 1 May")
        self.notes = _line("Notes", "your own words, on the last page")
        make = button("Make the build sheet", self.make, strong=True)
        pdf = button("As PDF", lambda: self.make(".pdf"))
        wall = button(
            "One page for the shed wall", lambda: self.make(".pdf", "summary")
        )
        labels = button("Labels", lambda: self.make(".pdf", "labels"))
        why = button("Why, and from where", lambda: self.make(".pdf", "why"))
        self.widget = paper(
            self.about,
            self.bed.widget,
            self.paper.widget,
            _row(self.date),
            _row(self.notes),
            button_row(make, pdf),
            button_row(wall, labels, why),
            self.says,
            care("sheet_maker"),
        )
        self.widget.add_class("bc-view-sheet")
        self._look()
        self.yard.observe(self._look)

    def _repr_mimebundle_(self, **kwargs):
        return self.widget._repr_mimebundle_(**kwargs)

    def _look(self) -> None:
        """Offer the beds there are; begin with the current one."""
        garden, current = self.yard.garden, self.yard.current
        beds = [("", "the whole garden"), *((b.name, bed_title(b)) for b in garden)]
        keep = self.bed.value if current == self._was else current
        names = dict(beds)
        first = keep if keep in names else beds[-1][0]
        self.bed.relist(beds if len(beds) > 1 else [("", "no bed yet")], first)
        self._was = current
        self.about.value = f"<p>{inline(self.yard.words)}</p>"

    def make(self, ending: str = ".html", what: str = "sheet") -> None:
        """Write one of the papers beside the garden file and link it."""
        name, garden = self.bed.value, self.yard.garden
        words = filter(None, (PAPERS_OF[what], _safe(garden.name), _safe(name)))
        path = Path(self.folder) / f"{'_'.join(words)}{ending}"
        options = {
            "paper": self.paper.value,
            "system": str(self.yard.units),
            "date": self.date.value,
            "notes": self.notes.value,
        }
        self._say("Drawing …")
        names = [name] if name else ()
        beds = [garden[name]] if name else tuple(garden)

        def work():
            try:
                ours = self.cutter and beds
                cut = self.cutter.cut(beds, 3.0) if ours else None
                return write_sheet(garden, path, names, what=what, cut=cut, **options)
            except (SheetError, OSError) as error:
                return error

        self._job.start(work)

    def _made(self, found) -> None:
        if isinstance(found, Exception):
            self._say(f"Not made: {found}")
        else:
            self._say(f"{found.name} lies beside this workbook. Open it and print it.")

    def _say(self, words: str) -> None:
        self.says.html = f"<p>{plain(words)}</p>"


def _safe(name: str) -> str:
    """A name as part of the name of a file: letters, digits and hyphens, not too long.

    Names that the system could read as a path or a command are not let through.
    """
    return "_".join(re.findall(r"[\w-]+", name))[:60].strip("_-")


class _Line(NumberField):
    """A line of free text, as wide as the row."""

    _css = """
    .bc .bc-row-text .bc-input { grid-area: move / move / unit / unit;
      text-align: left; }
    """


def _line(label: str, example: str) -> NumberField:
    return _Line(label=label, label_shown=False, placeholder=example)


def _row(entry: NumberField) -> ipywidgets.Box:
    heading = html(f'<span aria-hidden="true">{plain(entry.label)}</span>', "bc-label")
    return ipywidgets.Box([heading, entry]).add_class("bc-row").add_class("bc-row-text")


def sheet_maker(given: Desk | Garden, cutter: Cutter | None = None) -> SheetMaker:
    """The build sheet, on a button; for the yard, saw and car of a cutter if given."""
    return SheetMaker(given, cutter=cutter)
