"""The cheapest plan and the build sheet, each on a button that can be stopped."""

from __future__ import annotations

import asyncio
from collections.abc import Callable

import ipywidgets

from ..build_sheet import PAPERS, SheetError, joint_picture, write_sheet
from ..cut_changes import sawdust, what_less_saves
from ..cut_garden import CutList, cut_garden, nothing_to_cut, sections, sold_by_list
from ..figures.cutting import plan_rows, strips_figure
from ..garden import Garden
from ..units import show
from .controls import choice_row, list_row, slider_row
from .cutting_game import Strips, in_coins
from .cutting_stock import StockTable
from .inputs import Entry, Says
from .style import button, button_row, html, paper
from .words import plain

__all__ = ["Cutter", "SheetMaker", "cutter", "sheet_maker"]


# ---- work that takes a moment, on a button


class _Job:
    """Work off the loop, with progress and a way to stop; at once without a loop."""

    def __init__(self, done: Callable, told: Callable[[str], None]):
        self._done, self._told, self._stop = done, told, False
        self.busy = False

    def cancel(self) -> None:
        self._stop = True

    def stopped(self) -> bool:
        return self._stop

    def start(self, work: Callable) -> None:
        if self.busy:
            return
        self.busy, self._stop = True, False
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            self._finish(work)
            return
        loop.create_task(self._later(loop, work))

    async def _later(self, loop, work) -> None:
        try:
            result = await loop.run_in_executor(None, work)
        except Exception as error:  # said beside the button, never lost
            self.busy = False
            self._told(f"Not done: {error}")
            return
        self.busy = False
        self._done(result)

    def _finish(self, work) -> None:
        try:
            result = work()
        finally:
            self.busy = False
        self._done(result)


class Cutter(Strips):
    """The cheapest plan of a garden on a button, section by section.

    Parameters
    ----------
    garden : Garden
    """

    def __init__(self, garden: Garden):
        self.garden, self.found, self._before = garden, None, None
        self._job = _Job(self._show, self.say)
        place = garden.place
        self.prefer = choice_row(
            "Prefer",
            [("fewest set-ups", "few set-ups"),
             ("longest leftover", "long leftover")],
            "fewest set-ups", name="prefer",
        )  # fmt: skip
        most = max(6.0, place.longest_carried.m_as("m"))
        self.car = slider_row(
            "Car takes", "m", 1, most, 0.1, place.longest_carried, name="car"
        )
        self.names = sections(garden, place) or {"": "no boards"}
        self.goods = list_row("Show", list(self.names.items()), next(iter(self.names)),
                              name="goods")  # fmt: skip
        self.goods.observe(lambda change: self._turn())
        self.car.observe(lambda change: self._stale())
        self.stock = StockTable(
            lambda key: sold_by_list(key, place), self._stale, place.currency
        )
        self.stock.show(self.goods.value, self.names[self.goods.value])
        self.told, self.joined = html("", "bc-scroll"), html("", "bc-scroll")
        super().__init__(
            "cutter", self._drawing(620),
            button_row(
                button("Find the cheapest", self.find, strong=True),
                button("Think longer", lambda: self.find(20.0)),
                button("Stop", self._stop),
                button("What would 20 mm less save?", self.nudge),
            ),
            self.prefer.widget, self.car.widget, self.goods.widget, self.told,
            self.joined, self.stock.widget,
        )  # fmt: skip
        self.say(
            nothing_to_cut(garden, place)
            or "Press the button. It looks at every bed together."
        )

    @property
    def place(self):
        """The garden's place with the car as it is set here."""
        return self.garden.place.change(longest_carried=self.car.value)

    def cut(self, beds, seconds: float = 1.0, **how) -> CutList:
        """The cheapest plan of some beds, from what the yard has and the car takes."""
        return cut_garden(
            beds, self.place, seconds=seconds, prefer=self.prefer.value,
            sold=self.stock.sold, **how,
        )  # fmt: skip

    def find(self, seconds: float = 1.0) -> None:
        """Look for the cheapest plan of all beds."""
        if self._job.busy:
            return
        if nothing := nothing_to_cut(self.garden, self.place):
            self.say(nothing)
            return
        self.say("Cutting …")
        how = {"cancel": self._job.stopped, "progress": self._progress}

        def work() -> CutList:
            return self.cut(tuple(self.garden), seconds, **how)

        self._job.start(work)

    def _stop(self) -> None:
        if self._job.busy:
            self._job.cancel()
        else:
            self.say("Nothing is running.")

    def _turn(self) -> None:
        """Another section is looked at."""
        self.stock.show(self.goods.value, self.names[self.goods.value])
        self.redraw()

    def _stale(self) -> None:
        """Something was changed: the plan shown is of before."""
        if self.found is not None:
            self._before = self.found
        self.found = None
        self.told.value = self.joined.value = ""
        self.redraw()
        self.say("Changed. Press **Find the cheapest** to see what follows.")

    def _progress(self, name: str, done: int, of: int) -> None:
        if done < of:
            self.say(f"Cutting {name}: {done} of {of} sections done.")

    def _show(self, found: CutList) -> None:
        self.found = found
        self.redraw()
        units = self.garden.units
        rows = "".join(
            f'<tr><th scope="row">{plain(c.name)}</th>'
            f"<td>{show(c.cost, 'coins', units)}</td>"
            f"<td>{in_coins((c.hand or c.plan).cost, units)}</td>"
            f"<td>{len(c.plan.boards)}</td><td>{len(c.plan.setups)}</td>"
            f"<td>{c.plan.waste_share:.1%}</td><td>{plain(c.plan.verdict())}</td></tr>"
            for c in found
        )
        heads = ("section", "cheapest", "hand rule", "boards", "set-ups", "waste",
                 "known")  # fmt: skip
        head = "".join(f'<th scope="col">{h}</th>' for h in heads)
        self.told.value = (
            f'<table class="bc-numbers"><thead><tr>{head}</tr></thead>'
            f"<tbody>{rows}</tbody></table>"
        ) + _said("Not cut", found.missing)
        self.joined.value = _said("Joined over posts", found.notes) + "".join(
            joint_picture(bed, self.place, found) for bed in self.garden
        )

    def _cut_shown(self):
        """The cut of the section chosen, or None."""
        found = self.found.plans if self.found else {}
        return self.found[self.goods.value] if self.goods.value in found else None

    def nudge(self) -> None:
        """What each length of the section shown would save, 20 mm shorter."""
        cut = self._cut_shown()
        if cut is None:
            self.say("Find the cheapest first.")
            return
        best = what_less_saves(cut)[0]
        lost = sawdust(cut)
        eaten = f"The saw eats {lost.length / 10:.0f} mm of it."
        if best.saves <= 0:
            self.say(f"**{cut.name}**: 20 mm less of any one length saves nothing. "
                     + eaten)  # fmt: skip
            return
        self.say(
            f"**{cut.name}**: the pieces of {best.length / 10:g} mm, 20 mm shorter, "
            f"save {in_coins(best.saves, self.garden.units)}. {eaten}"
        )

    def _drawing(self, width: int):
        cut = self._cut_shown()
        if cut is None:
            name = self.names[self.goods.value]
            title = f"{name}: cannot be cut so" if self.found else "Not cut yet"
            return strips_figure(
                (), title=title, under="", caption="", width=width, least=2
            )
        plan = cut.plan
        return strips_figure(
            plan_rows(cut, self.garden.units),
            title=f"{cut.name}: {show(cut.cost, 'coins', self.garden.units)}, "
            f"{plan.verdict()}",
            under=f"{len(plan.boards)} to buy, {len(plan.setups)} set-ups of the saw, "
            f"{plan.waste_share:.1%} left over or sawn away",
            caption="Boards that are cut alike are one strip. Dark lines are saw cuts.",
            width=width,
            timber=_paint(cut.goods),
            least=3,
        )

    def redraw(self) -> None:
        """Bring the picture to the section chosen."""
        width = self.width
        self.picture.size(width)
        self.picture.bring(self._drawing(width))
        if self.found is not None:
            self.say(self._sentence(self.found))

    def _sentence(self, f: CutList) -> str:
        if f.missing:
            return (
                "**Not everything can be cut** from what the yard has and the car "
                "takes. The list below says what, and what would do."
            )
        saved, units = f.by_hand - f.cost, self.garden.units
        words = (
            f"**{show(f.cost, 'coins', units)} for {f.boards} boards: {f.verdict()}.** "
            f"The hand rule pays {show(saved, 'coins', units)} more."
        )
        if self._before is None or self._before.missing:
            return words
        more = f.cost - self._before.cost
        if abs(more.m) < 0.005:
            return f"{words} That is as much as before."
        way = "more" if more.m > 0 else "less"
        return f"{words} That is {show(abs(more), 'coins', units)} {way} than before."


def _said(heading: str, lines) -> str:
    """A short list under a heading, or nothing."""
    if not lines:
        return ""
    inner = "".join(f"<li>{plain(line)}</li>" for line in lines)
    return f"<h4>{plain(heading)}</h4><ul>{inner}</ul>"


def _paint(goods: str) -> str:
    """The colour of what is cut, a name of the theme."""
    for part, colour in (("sheet", "steel"), ("rod", "steel"), ("plank", "plastic"),
                         ("sleeper", "oak"), ("us_", "treated")):  # fmt: skip
        if part in goods:
            return colour
    return "timber"


def cutter(garden: Garden) -> Cutter:
    """The cheapest plan of a garden, on a button."""
    return Cutter(garden)


class SheetMaker:
    """Make the build sheet of a garden or of one bed, on a button.

    Parameters
    ----------
    garden : Garden
    folder : str
        Where to.
    cutter : Cutter, optional
        Whose yard and car the sheet is made for.
    """

    def __init__(self, garden: Garden, folder: str = ".", cutter: Cutter | None = None):
        self.garden, self.folder, self.cutter = garden, folder, cutter
        self.says, self._job = Says(), _Job(self._made, self._say)
        beds = [("", "the whole garden"), *((b.name, f"bed {b.name}") for b in garden)]
        start = "B" if "B" in dict(beds) else beds[-1][0]
        self.bed = list_row("Sheet of", beds, start, name="bed")
        self.paper = choice_row("Paper", [(p, p) for p in PAPERS], "A4", name="paper")
        units = [("metric", "metric"), ("us", "feet, inches")]
        self.units = choice_row("Units", units, "metric", name="units")
        self.date = _line("Date", "as it shall stand on the sheet, such as 1 May")
        self.notes = _line("Notes", "your own words, on the last page")
        make = button("Make the build sheet", self.make, strong=True)
        pdf = button("As PDF", lambda: self.make(".pdf"))
        self.widget = paper(
            self.bed.widget, self.paper.widget, self.units.widget, _row(self.date),
            _row(self.notes), button_row(make, pdf), self.says,
        )  # fmt: skip
        self.widget.add_class("bc-view-sheet")

    def _repr_mimebundle_(self, **kwargs):
        return self.widget._repr_mimebundle_(**kwargs)

    def make(self, ending: str = ".html") -> None:
        """Write the sheet beside the workbook and say where."""
        name = self.bed.value
        safe = "".join(c if c.isalnum() else "_" for c in name)
        path = f"{self.folder}/build_sheet{'_' + safe if safe else ''}{ending}"
        options = {
            "paper": self.paper.value, "system": self.units.value,
            "date": self.date.value, "notes": self.notes.value,
        }  # fmt: skip
        self._say("Drawing …")
        names = [name] if name else ()
        beds = [self.garden[name]] if name else tuple(self.garden)

        def work():
            try:
                cut = self.cutter.cut(beds, 3.0) if self.cutter else None
                return write_sheet(self.garden, path, names, cut=cut, **options)
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


class _Line(Entry):
    """A line of free text, as wide as the row."""

    _css = """
    .bc .bc-row-text .bc-input { grid-area: move / move / unit / unit;
      text-align: left; }
    """


def _line(label: str, example: str) -> Entry:
    return _Line(label=label, label_shown=False, placeholder=example)


def _row(entry: Entry) -> ipywidgets.Box:
    heading = html(f'<span aria-hidden="true">{plain(entry.label)}</span>', "bc-label")
    return ipywidgets.Box([heading, entry]).add_class("bc-row").add_class("bc-row-text")


def sheet_maker(garden: Garden, cutter: Cutter | None = None) -> SheetMaker:
    """The build sheet, on a button; for the yard and car of a cutter if given."""
    return SheetMaker(garden, cutter=cutter)
