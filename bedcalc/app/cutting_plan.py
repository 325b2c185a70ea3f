"""The cheapest plan, on a button that can be stopped."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from typing import Any

from ..figures.cutting import plan_rows, strips_figure
from ..garden.garden import Garden
from ..model.bed import Bed
from ..model.place import Place
from ..printing import joint_picture
from ..questions.basis import basis_of
from ..questions.cut_changes import sawdust, what_less_saves
from ..questions.cut_garden import (
    CutList,
    cut_garden,
    nothing_to_cut,
    sections,
    sold_by_list,
)
from ..units import show
from .bench_words import bed_title
from .cutting_game import Strips, in_coins
from .cutting_stock import StockTable
from .cutting_yard import yard
from .desk import Desk
from .kit.controls import choice_row, list_row, slider_row
from .kit.style import button, button_row, html
from .kit.why import Why
from .kit.words import inline, plain

__all__ = ["Cutter", "Job", "cutter"]


# ---- work that takes a moment, on a button


class Job:
    """Work off the loop, with progress and a way to stop; at once without a loop."""

    def __init__(self, done: Callable, told: Callable[[str], None]):
        self._done, self._told, self._stop = done, told, False
        self.busy = False

    def cancel(self) -> None:
        """Ask the work to stop."""
        self._stop = True

    def stopped(self) -> bool:
        """Whether the work was asked to stop."""
        return self._stop

    def start(self, work: Callable) -> None:
        """Begin, unless it is still at work."""
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
    """The cheapest plan of some beds on a button, section by section.

    Parameters
    ----------
    given : Desk or Garden
        Whose beds; of a desk they follow the reader's garden.
    """

    def __init__(self, given: Desk | Garden):
        self.yard = yard(given)
        self.found, self._before, self._known = None, None, None
        self._job = Job(self._show, self.say)
        place = self.yard.place
        self.about = html("")
        self.beds = list_row("Beds", self._offered(), "", name="beds")
        self.prefer = choice_row(
            "Prefer",
            [("fewest set-ups", "few set-ups"), ("longest leftover", "long leftover")],
            "fewest set-ups",
            name="prefer",
        )
        self.car = slider_row(
            "Car takes", "m", 1, 6, 0.1, place.longest_carried, name="longest_carried"
        )
        self.kerf = slider_row("Saw cut", "mm", 0, 6, 0.1, place.kerf, name="kerf")
        self.trim = slider_row(
            "Trim, both ends", "mm", 0, 60, 1, place.trim, name="trim"
        )
        self.names = self._sections()
        self.goods = list_row(
            "Show", list(self.names.items()), next(iter(self.names)), name="goods"
        )
        self.stock = StockTable(
            lambda key: sold_by_list(key, self.place), self._typed, self.yard.units
        )
        self.told, self.joined = html("", "bc-scroll"), html("", "bc-scroll")
        self.why = Why(text="why_tip")
        self.why.show(lambda: [basis_of("view.cutter", {"place": self.place})])
        super().__init__(
            "cutter",
            self._drawing(620),
            button_row(
                button("Find the cheapest", self.find, strong=True),
                button("Think longer", lambda: self.find(20.0)),
                button("Stop", self._stop),
                button("What would 20 mm less save?", self.nudge),
            ),
            self.about,
            self.beds.widget,
            self.prefer.widget,
            self.car.widget,
            self.kerf.widget,
            self.trim.widget,
            self.goods.widget,
            self.told,
            self.joined,
            self.why.button,
            self.why.page,
            self.stock.widget,
        )
        self.goods.observe(lambda change: self._turn())
        self.beds.observe(lambda change: self._other_beds())
        self.prefer.observe(lambda change: self._stale())
        for row in (self.car, self.kerf, self.trim):
            row.observe(lambda change: self._saw(change.name, change.new))
        self._look()
        self._start()
        self.yard.observe(self._look)

    # ---- whose beds, and from what

    @property
    def garden(self) -> Garden:
        """The garden whose beds are cut."""
        return self.yard.garden

    @property
    def place(self) -> Place:
        """The garden's place with the saw and the car as they are set here."""
        return self.yard.place

    @property
    def chosen(self) -> tuple[Bed, ...]:
        """The beds that are cut together."""
        name = self.beds.value
        return (self.garden[name],) if name in self.garden else tuple(self.garden)

    def _offered(self) -> list[tuple[str, str]]:
        return [("", "all beds"), *((b.name, bed_title(b)) for b in self.garden)]

    def _sections(self) -> dict[str, str]:
        return sections(self.chosen, self.place) or {"": "no boards"}

    def _start(self) -> None:
        self.say(
            nothing_to_cut(self.chosen, self.place)
            or "Press the button. It looks at all these beds together."
        )

    def _look(self) -> None:
        """Follow the garden: other beds, another list, another saw."""
        now = (self.yard.own, self.garden.beds, self.place, str(self.yard.units))
        if now == self._known:
            return
        before, self._known = self._known, now
        place = self.place
        self.about.value = f"<p>{inline(self.yard.words)}</p>"
        if before is not None and before[0] != now[0]:
            self.stock.forget()
        for row, value in (
            (self.car, place.longest_carried),
            (self.kerf, place.kerf),
            (self.trim, place.trim),
        ):
            row.set(value)
            row.use(self.yard.units)
        here = self.beds.value if self.beds.value in self.garden else ""
        self.beds.relist(self._offered(), here)
        self.stock.use(self.yard.units, self.yard.own)
        self._list_sections()
        if before is not None:
            self._stale()

    def _list_sections(self) -> None:
        self.names, now = self._sections(), self.goods.value
        first = now if now in self.names else next(iter(self.names))
        self.goods.relist(list(self.names.items()), first)
        self.stock.show(first, self.names[first])
        hide = (
            self.stock.widget.add_class
            if not first
            else (self.stock.widget.remove_class)
        )
        hide("bc-hide")

    def _other_beds(self) -> None:
        self._list_sections()
        self._stale()

    def _saw(self, name: str, value) -> None:
        self.yard.set_saw(name, value)
        self._look()

    def _typed(self, goods: str, sold) -> None:
        """Lengths, prices or numbers were typed: an own garden keeps them."""
        said = self.yard.keep(goods, sold) if self.yard.own else ""
        self._look()
        if self.found is not None or not self.yard.own:
            self._stale()
        if said:
            self.say(said)

    def cut(self, beds: Any, seconds: float = 1.0, **how) -> CutList:
        """The cheapest plan of some beds, from what the yard has and the car takes."""
        return cut_garden(
            beds,
            self.place,
            seconds=seconds,
            prefer=self.prefer.value,
            sold=self.stock.sold,
            **how,
        )

    def find(self, seconds: float = 1.0) -> None:
        """Look for the cheapest plan of the beds that are chosen."""
        if self._job.busy:
            return
        beds, known = self.chosen, self._known
        if nothing := nothing_to_cut(beds, self.place):
            self.say(nothing)
            return
        self.say("Cutting …")
        how = {"cancel": self._job.stopped, "progress": self._progress}

        def work():
            return beds, known, self.cut(beds, seconds, **how)

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
        self.say(
            nothing_to_cut(self.chosen, self.place)
            or "Changed. Press **Find the cheapest** to see what follows."
        )

    def _progress(self, name: str, done: int, of: int) -> None:
        if done < of:
            self.say(f"Cutting {name}: {done} of {of} sections done.")

    def _show(self, done) -> None:
        beds, known, found = done
        if (beds, known) != (self.chosen, self._known):
            self._stale()  # the garden was changed while it was looked for
            return
        self.found = found
        self.redraw()
        units = self.yard.units
        rows = "".join(
            f'<tr><th scope="row">{plain(c.name)}</th>'
            f"<td>{show(c.cost, 'coins', units)}</td>"
            f"<td>{in_coins((c.hand or c.plan).cost, units)}</td>"
            f"<td>{len(c.plan.boards)}</td><td>{len(c.plan.setups)}</td>"
            f"<td>{c.plan.waste_share:.1%}</td><td>{plain(c.plan.verdict())}</td></tr>"
            for c in found
        )
        heads = ("section", "cheapest", "hand rule", "boards", "set-ups", "waste",
                 "known")  # fmt: skip  # rows of a table
        head = "".join(f'<th scope="col">{h}</th>' for h in heads)
        self.told.value = (
            f'<table class="bc-numbers"><thead><tr>{head}</tr></thead>'
            f"<tbody>{rows}</tbody></table>"
        ) + _said("Not cut", found.missing)
        self.joined.value = _said("Joined over posts", found.notes) + "".join(
            joint_picture(bed, self.place, found) for bed in self.chosen
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
        eaten = f"The saw takes {lost.length / 10:.0f} mm of it."
        if best.saves <= 0:
            self.say(
                f"**{cut.name}**: 20 mm less of any one length saves nothing. " + eaten
            )
            return
        self.say(
            f"**{cut.name}**: the pieces of {best.length / 10:g} mm, 20 mm shorter, "
            f"save {in_coins(best.saves, self.yard.units)}. {eaten}"
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
            plan_rows(cut, self.yard.units),
            title=f"{cut.name}: {show(cut.cost, 'coins', self.yard.units)}, "
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
        saved, units = f.by_hand - f.cost, self.yard.units
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
    for part, colour in (
        ("sheet", "steel"),
        ("rod", "steel"),
        ("plank", "plastic"),
        ("sleeper", "oak"),
        ("us_", "treated"),
    ):
        if part in goods:
            return colour
    return "timber"


def cutter(given: Desk | Garden) -> Cutter:
    """The cheapest plan of a garden, on a button."""
    return Cutter(given)
