"""The reader's own ground: corners of the plot, what stands on it, soil and compass.

These forms work on the reader's garden also while it has no bed yet; as long as the
demo garden is open they change the demo, of which nothing is saved.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from ...figures.site_plan import plan_figure
from ...model.plot import KINDS, Plot, Thing, rectangle
from ...questions.site_plan import box_distance
from ...tables import table
from ...units import Q_, show
from ..kit.controls import list_row, slider_row
from ..kit.view import View
from ..kit.words import literal
from .desk import SiteDesk

__all__ = ["GroundDesk", "corner_view", "ground_desk", "thing_view"]

_UNKNOWN = "not known"
_COMPASS = [
    (_UNKNOWN, _UNKNOWN), (0, "north"), (45, "north-east"), (90, "east"),
    (135, "south-east"), (180, "south"), (225, "south-west"), (270, "west"),
    (315, "north-west"),
]  # fmt: skip  # rows of a table
_KIND_WORDS = {"cover": "manhole cover", "pipe": "pipe or cable", "other": "something"}


class GroundDesk(SiteDesk):
    """The plot of the session's garden, with or without beds on it."""

    def __init__(self, site: SiteDesk):
        self.site = site
        super().__init__(site.session)
        site.observe(lambda plan: self._follow_site())

    @property
    def can_turn(self) -> bool:
        """Whether a garden of one's own is open."""
        return bool(self.session and self.session.own)

    @property
    def own(self) -> bool:
        """Whether it shows the reader's own garden."""
        return self.can_turn

    @property
    def about(self) -> str:
        """Whose ground this is."""
        return (
            f"Your garden **{literal(self.place.name)}**"
            if self.own
            else "The **demo garden**"
        )

    def _settle(self) -> None:
        super()._settle()
        if not self.own:
            self.beds, self.place = self.site.beds, self.site.place

    def _follow_site(self) -> None:
        """The views have changed the demo: show the same."""
        if not self.own and self.place != self.site.place:
            self._settle()
            self._tell()

    def take(self, **changes: Any) -> None:
        """Change the own garden, or the demo that the views show."""
        (super() if self.own else self.site).take(**changes)


def ground_desk(site: SiteDesk) -> GroundDesk:
    """A desk for the forms of the ground, beside that of the views."""
    return GroundDesk(site)


def _put(desk: SiteDesk, plot: Plot) -> None:
    desk.take(place=desk.place.change(plot=plot))


def _number(count: int) -> list[tuple[int, str]]:
    return [(n, str(n + 1)) for n in range(count)] or [(0, "none yet")]


def _where(value: float, unit: str = "cm"):
    return Q_(round(float(Q_(value, "m").m_as(unit)), 3), unit)


def _drawn(desk: SiteDesk, size: dict):
    return plan_figure(desk.plan, view="depths", system=desk.system, **size)


def corner_view(desk: GroundDesk) -> View:
    """The outline, corner by corner; any shape. Also soil and compass of the place."""
    which = list_row("Corner", _number(0), 0, name="corner")
    x = slider_row("Along (x)", "cm", 0, 3000, 5, Q_(0, "cm"), name="x")
    y = slider_row("Down (y)", "cm", 0, 3000, 5, Q_(0, "cm"), name="y")
    soils = [(_UNKNOWN, _UNKNOWN), *((row.key, row.name) for row in table("soils"))]
    soil = list_row("Soil", soils, _UNKNOWN, name="soil")
    down = list_row("Down the plan", _COMPASS, _UNKNOWN, name="downhill")

    def corners() -> list[tuple[float, float]]:
        plot = desk.place.plot
        return list(plot.outline) if plot else []

    def reads():
        found = corners()
        if len(which.options) != max(len(found), 1) or not found:
            at = min(which.value, max(len(found) - 1, 0))
            which.relist(_number(len(found)), at)
        for control in (x, y, down):
            control.shown = bool(found)
        values: dict[str, Any] = {"soil": desk.place.soil or _UNKNOWN}
        if found:
            plot, at = desk.place.plot, found[which.value]
            values |= {"x": _where(at[0]), "y": _where(at[1])}
            turn = _UNKNOWN if plot.downhill is None else plot.downhill
            if turn not in [key for key, _ in down.options]:
                down.relist([*_COMPASS, (turn, f"{turn:g}°")], turn)
            values["downhill"] = turn
        return values

    def writes(moved):
        if "soil" in moved:
            soil_key = None if moved["soil"] == _UNKNOWN else moved["soil"]
            desk.take(place=desk.place.change(soil=soil_key))
        plot, found = desk.place.plot, corners()
        if moved.keys() & {"x", "y"} and found:
            at = found[which.value]
            found[which.value] = (
                moved["x"].m_as("m") if "x" in moved else at[0],
                moved["y"].m_as("m") if "y" in moved else at[1],
            )
            _put(desk, plot.change(outline=tuple(found)))
        if "downhill" in moved and plot:
            turn = None if moved["downhill"] == _UNKNOWN else float(moved["downhill"])
            _put(desk, desk.place.plot.change(downhill=turn))

    def start() -> str:
        if corners():
            return "Not done: there is a plot already; move its corners."
        _put(desk, rectangle(6.0, 4.0))
        return "A plot of 6 by 4 m to begin with. Move its corners, add more."

    def add() -> str:
        found, here = corners(), which.value
        if not found:
            return start()
        (x0, y0), (x1, y1) = found[here], found[(here + 1) % len(found)]
        found.insert(here + 1, (round((x0 + x1) / 2, 3), round((y0 + y1) / 2, 3)))
        _put(desk, desk.place.plot.change(outline=tuple(found)))
        which.set(here + 1)
        made.refresh()
        return f"Corner {here + 2} added, half way to the next one. Move it."

    def remove() -> str:
        found = corners()
        if len(found) <= 3:
            return "Not done: a plot needs at least three corners."
        found.pop(which.value)
        _put(desk, desk.place.plot.change(outline=tuple(found)))
        return "That corner is gone. The plot closes over it."

    def render(values, size):
        plot, q = desk.place.plot, desk.system
        words = (
            f"A plot with {len(plot.outline)} corners and "
            f"**{show(Q_(plot.area, 'm^2'), 'area', q)}**. Corner {which.value + 1} is "
            "the one you move. Walk round the plot and enter its corners in turn."
            if plot
            else "No plot outline given yet. Press *Start a plot*, then move its "
            "corners."
        )
        if desk.place.soil is None:
            words += " Soil not known: taken as clay, which holds least."
        return _drawn(desk, size), words

    made = View(
        desk, [which, x, y, down, soil], render, name="corners", reads=reads,
        writes=writes,
        acts={"Start a plot": start, "Add a corner": add, "Remove this corner": remove},
    )  # fmt: skip  # rows of a table
    return made


def _house_words(desk: GroundDesk, house: Thing) -> str:
    """What a house is used for, and which bed is next to it."""
    least = show(table("setbacks")["house"].q("distance"), "size", desk.system)
    words = (
        " A house throws shade, no bed may stand in it, and swale and overflow keep "
        f"{least} from it. Is only one wall near? Give it as a line: set its length or "
        "its width to 0. A house with corners is several houses side by side."
    )
    box, far = np.array(house.box), {}
    for bed in desk.plan.beds:
        s = bed.si
        sides = np.array([s.x, s.x + s.length, s.y, s.y + s.width])
        far[bed.name] = float(box_distance.si(box, sides))
    if far:
        name = min(far, key=far.get)
        gap = show(far[name], "size", desk.system)
        words += f" Next to it: bed **{literal(name)}**, {gap} away."
    return words


def thing_view(desk: GroundDesk) -> View:
    """What stands on the plot or beside it: house, fence, trees, gate, tap …"""
    which = list_row("Thing", _number(0), 0, name="thing")
    kinds = [(kind, _KIND_WORDS.get(kind, kind)) for kind in KINDS]
    kind = list_row("What it is", kinds, "tree", name="kind")
    zero = Q_(0, "cm")
    sizes = {
        "x": ("Along (x)", -500, 3000),
        "y": ("Down (y)", -500, 3000),
        "length": ("Length", 0, 2000),
        "width": ("Width", 0, 2000),
        "height": ("Height", 0, 1500),
    }
    rows = {
        name: slider_row(label, "cm", low, high, 5, zero, name=name)
        for name, (label, low, high) in sizes.items()
    }

    def things() -> list[Thing]:
        plot = desk.place.plot
        return list(plot.things) if plot else []

    def reads():
        found = things()
        names = [(n, f"{n + 1}: {t.name}") for n, t in enumerate(found)]
        at = min(which.value, max(len(found) - 1, 0))
        which.relist(names or _number(0), at)
        for control in (kind, *rows.values()):
            control.shown = bool(found)
        if not found:
            return {}
        here = found[at]
        return {"kind": here.kind} | {n: _where(getattr(here, n)) for n in rows}

    def writes(moved):
        found = things()
        if not found or not moved.keys() & {"kind", *rows}:
            return
        old = found[which.value]
        new = {n: moved[n].m_as("m") for n in rows if n in moved}
        kind_now = moved.get("kind", old.kind)
        named = (
            old.name if kind_now == old.kind else _KIND_WORDS.get(kind_now, kind_now)
        )
        fields = {n: getattr(old, n) for n in rows} | new
        found[which.value] = Thing(name=named, kind=kind_now, **fields)
        _put(desk, desk.place.plot.change(things=tuple(found)))

    def add() -> str:
        if desk.place.plot is None:
            return "Not done: give the plot its outline first, in the form above."
        found = things()
        left, _, top, _ = desk.place.plot.bounds
        new = Thing(
            name="tree",
            kind="tree",
            x=left + 0.5,
            y=top + 0.5,
            length=2,
            width=2,
            height=4,
        )
        _put(desk, desk.place.plot.change(things=(*found, new)))
        which.relist(_number(len(found) + 1), len(found))
        made.refresh()
        return "Added at the top left of the plan. Say what it is, and move it."

    def remove() -> str:
        found = things()
        if not found:
            return "Not done: nothing stands on the plot yet."
        gone = found.pop(which.value)
        _put(desk, desk.place.plot.change(things=tuple(found)))
        return f"{gone.name} is gone from the plan."

    def render(values, size):
        count = len(things())
        house = things()[min(which.value, count - 1)] if count else None
        words = (
            f"{count} things on or beside the plot. Those outside still throw shade."
            if count
            else "Nothing stands on the plot yet. Add the gate and the tap first: ways "
            "and hose begin there."
        )
        if house is not None and house.kind == "house":
            words += _house_words(desk, house)
        return _drawn(desk, size), words

    made = View(
        desk, [which, kind, *rows.values()], render, name="things", reads=reads,
        writes=writes, acts={"Add a thing": add, "Remove it": remove},
    )  # fmt: skip  # rows of a table
    return made
