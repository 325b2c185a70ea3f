"""The bench: one bed, all its consequences, live.

A move replaces a field of the bed on the desk, evaluates it once, and brings numbers,
verdicts and pictures up to date in place. Fields that were not moved keep what they
had, also where a control cannot show it. Only the close-up that is shown is redrawn. A
wrong entry is said beside its field and the last good picture stays.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import ipywidgets

from ..evaluate import Outcome
from ..figures.cost import cost_figure
from ..figures.drawing import Drawing
from ..figures.fill import fill_figure
from ..figures.scene import Scene, scene, turning
from ..figures.walls import wall_figure
from ..model.bed import Bed
from ..model.layers import strategy_layers
from ..questions.basis import parts_of
from ..questions.ways_out import with_way_out
from ..tables import table
from ..units import Q_, Units
from .bench_words import (
    HEADS,
    headline_bases,
    headlines,
    live_sentence,
    rail_words,
    shown_checks,
)
from .cost_prices import list_for
from .desk import Desk, desk
from .kit.check_row import VerdictRow
from .kit.controls import Controls, choice_row, group, list_row, slider_row
from .kit.inputs import Message, WidthWatch
from .kit.offers import (
    STRATEGIES,
    key_of,
    people,
    person_of,
    sized,
    strategy_of,
    wall_of,
    walls,
)
from .kit.pictures import FlatPicture, Picture
from .kit.style import button, button_row, paper
from .kit.view import AboutLine
from .kit.why import HeadlineStrip

__all__ = ["Bench", "bench"]

_SIZING = {"length", "width", "height", "logs", "ties", "base_ties"}
ROWS = 9  # verdict rows kept ready
_RISES = [(0, "as listed"), (20, "+ 20 %"), (50, "+ 50 %")]
_FIELDS = {
    "length", "width", "height", "freeboard", "ties", "base_ties", "post_depth",
}  # fmt: skip  # rows of a table
_STRATEGIES = [*STRATEGIES, ("own", "own layers")]
_HEIGHT = {"wide": 460, "full": 400, "middle": 400, "narrow": 220}
_TURN = "Turn it in 3D"
_CLOSE = {"wall": wall_figure, "fill": fill_figure, "bill": cost_figure}


class Bench:
    """The bench as an object; show :attr:`widget`.

    Parameters
    ----------
    about : Desk
        Whose bed it shows and changes.
    """

    def __init__(self, about: Desk):
        self.desk, self._quiet = about, False
        self.before: Outcome | None = None
        self._listeners: list[Callable[[Outcome], Any]] = []
        self._frame = None
        self._make_controls()
        self._make_page()
        self._follow()
        self.controls.observe(self._moved)
        about.observe(self._heard)

    @property
    def outcome(self) -> Outcome:
        """Of the bed on the desk."""
        return self.desk.outcome

    @property
    def demo(self) -> Desk:
        """The demo bed of the lesson, for questions about it."""
        return self.desk.demo

    @property
    def system(self) -> Units:
        """The reader's units."""
        return self.desk.system

    # ---- what one moves

    def _make_controls(self) -> None:
        bed = self.outcome.bed
        strategy, share = strategy_of(bed)
        length = ("inch", 24, 236, 1)
        self.controls = Controls(
            slider_row("Length", "cm", 60, 600, 5, bed.length, us=length),
            slider_row("Width", "cm", 40, 200, 5, bed.width, name="width"),
            slider_row("Height", "cm", 15, 110, 1, bed.height, name="height"),
            slider_row("Below rim", "mm", 0, 200, 5, bed.freeboard, name="freeboard"),
            list_row("For", people(self.desk), key_of(bed.users), name="users"),
            list_row("Built of", walls(self.desk), bed.wall.key, name="wall"),
            choice_row("Rail, thick", rail_words(bed), bed.rail_lying, name="rails"),
            choice_row("Ties on top", _counts(bed.ties), bed.ties, name="ties"),
            choice_row(
                "Ties at foot", _counts(bed.base_ties), bed.base_ties, name="base_ties"
            ),
            slider_row(
                "Posts deep", "cm", 0, 120, 5, bed.post_depth, name="post_depth"
            ),
            list_row("Fill", _STRATEGIES, strategy, name="strategy"),
            slider_row("Logs", "percent", 0, 60, 1, Q_(share, "percent"), name="logs"),
            choice_row("Prices", _RISES, 0, name="rise"),
            choice_row(
                "Draw bow", [(1.0, "true"), (5.0, "larger")], 5.0, name="larger"
            ),
            choice_row(
                "Look from",
                [("front", "front"), ("end", "end"), ("above", "above")],
                "front",
                name="view",
            ),
        )
        self.close = choice_row(
            "Close-up",
            [("wall", "the wall"), ("fill", "the fill"), ("bill", "the bill")],
            "wall",
            name="close",
        )
        self.close.observe(lambda change: self._draw_close())

    def _bed(self, names: set[str]) -> Bed:
        """The bed with what was moved, a ``BedError`` if it cannot be."""
        v, base = self.controls.values, self.outcome.bed
        change: dict[str, Any] = {
            name: v[name] for name in names & _FIELDS if name in v
        }
        if "rails" in names:
            change["rail_lying"] = v["rails"]
        if "users" in names:
            change["users"] = person_of(self.desk, v["users"])
        if "wall" in names:
            change["wall"] = wall_of(self.desk, v["wall"])
            trough = change["wall"].family == "trough"
            change["soil_depth"] = min(Q_(280, "mm"), v["height"]) if trough else None
        if names & {"strategy", "logs"} and v["strategy"] != "own":
            change["fill"] = strategy_layers(v["strategy"], v["logs"])
        return sized(base, **change)

    # ---- the page

    def _make_page(self) -> None:
        c = self.controls
        self.watch = WidthWatch()
        self.watch.observe(lambda change: self._resize(), "width")
        self.says = Message().add_class("bc-live").add_class("bc-sentence")
        self.heads = HeadlineStrip(HEADS)
        self.strip = self.heads.cells
        self.scene = FlatPicture(self._scene(), "scene")
        self.closes: dict[str, Picture] = {}
        self._close_box = ipywidgets.VBox([]).add_class("bc-close-box")
        self.rows = [VerdictRow(self._fix) for _ in range(ROWS)]
        reset = button("Reset the demo bed", self.reset)
        self._reset_row = button_row(reset)
        about = AboutLine(self.desk).widget
        bar = ipywidgets.Box([about, self._reset_row]).add_class("bc-bar-acts")
        self.turn = button(_TURN, self._turn)
        self.turned: Picture | None = None
        self._turn_box = ipywidgets.VBox([]).add_class("bc-turn")
        groups = [
            group(
                "Size, outside", c["length"], c["width"], c["height"],
                c["freeboard"], c["users"],
            ),
            group(
                "Long wall", c["wall"], c["rails"], c["ties"], c["base_ties"],
                c["post_depth"],
            ),
            group(
                "Fill and picture", c["strategy"], c["logs"], c["rise"], c["view"],
                c["larger"], button_row(self.turn),
            ),
        ]  # fmt: skip  # rows of a table
        controls = ipywidgets.Box(groups).add_class("bc-controls")
        picture = ipywidgets.VBox([self.scene.widget, self._turn_box])
        verdicts = ipywidgets.VBox([self.says, *(row.widget for row in self.rows)])
        beside = [picture.add_class("bc-scene"), verdicts.add_class("bc-verdicts")]
        close = ipywidgets.VBox([self.close.widget, self._close_box])
        self.widget = paper(
            self.watch,
            bar,
            self.heads.widget,
            ipywidgets.Box(beside).add_class("bc-main"),
            controls,
            close.add_class("bc-close"),
            kind="bench",
        ).add_class("bc-start")
        self._draw_close()

    def _repr_mimebundle_(self, **kwargs):
        return self.widget._repr_mimebundle_(**kwargs)

    @property
    def kind(self) -> str:
        """The kind of layout that fits the output's width."""
        return self.watch.kind if self.watch.width else "full"

    def _scene(self) -> Scene:
        return scene(
            self.outcome,
            system=self.system,
            exaggerate=self.controls["larger"].value,
            height_px=_HEIGHT[self.kind],
            width_px=self._scene_width(),
            view=self.controls["view"].value,
            narrow=self.kind == "narrow",
            frame=self._frame,
        )

    def _turning(self) -> Drawing:
        return turning(
            self.outcome,
            system=self.system,
            exaggerate=self.controls["larger"].value,
            width=self._scene_width(),
            height=_HEIGHT[self.kind],
        )

    def _turn(self) -> None:
        """Show the bed in space under its picture, or put it away again."""
        shown = bool(self._turn_box.children)
        if shown:
            self._turn_box.children, self.turned = (), None
        else:
            self.turned = Picture(self._turning(), "turning")
            self._turn_box.children = (self.turned.widget,)
        self.turn.description = _TURN if shown else "Put the 3D view away"

    def _draw_scene(self) -> None:
        """The picture, and the view in space where somebody has asked for it."""
        self.scene.bring(self._scene())
        if self.turned is not None:
            self.turned.bring(self._turning())

    def _scene_width(self) -> int:
        """Width of the scene in px: what the verdicts leave."""
        inner = self._inner()
        # as in bench.css, whose widths count the edges of 2 x 16 px too
        beside = 0 if inner < 868 else 420 if inner >= 1028 else 340
        return max(inner - beside - (24 if beside else 0), 240)

    def _inner(self) -> int:
        """Width of the sheet within its edges, in px."""
        return self.watch.width or 1132

    def _close(self, name: str) -> Drawing:
        more = {"before": self.before} if name == "wall" else {}
        return _CLOSE[name](
            self.outcome,
            system=self.system,
            narrow=self.kind == "narrow",
            width=self._close_width(),
            **more,
        )

    def _close_width(self) -> int:
        """Width of the close-up in px: all there is, up to where lines get long."""
        return min(self._inner(), 900)

    def _draw_close(self) -> None:
        """Bring the close-up that is shown up to date; make it the first time."""
        name = self.close.value
        drawing = self._close(name)
        if name in self.closes:
            self.closes[name].size(self._close_width())
            self.closes[name].bring(drawing)
        else:
            self.closes[name] = Picture(drawing, name)
            self.closes[name].size(self._close_width())
        if self._close_box.children != (self.closes[name].widget,):
            self._close_box.children = (self.closes[name].widget,)

    def _resize(self) -> None:
        self._frame = None
        self._draw_scene()
        self._draw_close()

    # ---- what follows

    def _moved(self, changes) -> None:
        names = {change.name for change in changes}
        # while a size moves, the camera stays: a longer bed looks longer
        sizing = names <= _SIZING
        self._frame = self.scene.shown.frame if sizing else None
        if names - {"larger", "view"}:
            bed = self._bed(names)  # a BedError goes back to the control that moved
            before = self.outcome
            self._take(bed)
            self.before = before if names & {"ties"} else None
        self._follow()

    def _take(self, bed: Bed) -> None:
        """Put a bed on the desk, evaluated once, at the prices that are chosen."""
        rise = Q_(self.controls["rise"].value, "percent")
        prices = list_for(bed.wall, self.desk.place)
        place = self.desk.place.change(price_rise=rise, prices=prices)
        self._quiet = True
        try:
            self.desk.take(bed, place)
        finally:
            self._quiet = False

    def _heard(self, outcome: Outcome) -> None:
        """Follow the desk: another bed, or one that was changed elsewhere."""
        if self._quiet:
            return
        self.before, self._frame = None, None
        self._show_bed()
        self._follow()

    def _show_bed(self) -> None:
        """Put all controls to the bed on the desk."""
        bed, c = self.outcome.bed, self.controls
        strategy, share = strategy_of(bed)
        c["wall"].relist(walls(self.desk), bed.wall.key)
        c["users"].relist(people(self.desk), key_of(bed.users))
        c["ties"].offer(_counts(bed.ties), bed.ties)
        c["base_ties"].offer(_counts(bed.base_ties), bed.base_ties)
        c.set(
            length=bed.length,
            width=bed.width,
            height=bed.height,
            freeboard=bed.freeboard,
            rails=bed.rail_lying,
            post_depth=bed.post_depth,
            strategy=strategy,
            logs=Q_(share, "percent"),
        )
        c.use(self.system)

    def _follow(self) -> None:
        """Numbers, verdicts and pictures after a move."""
        self._draw_scene()
        self._draw_close()
        self.heads.show(
            headlines(self.outcome, self.system),
            headline_bases(self.outcome, self.system),
        )
        checks, parts = shown_checks(self.outcome, ROWS), parts_of(self.outcome)
        checks = [with_way_out(self.outcome, check) for check in checks]
        for i, row in enumerate(self.rows):
            row.show(checks[i] if i < len(checks) else None, self.system, parts)
        self.says.html = live_sentence(self.outcome, self.system)
        self._fit_controls()
        for listener in self._listeners:
            listener(self.outcome)

    def _fit_controls(self) -> None:
        """Offer only what this build has."""
        bed, c = self.outcome.bed, self.controls
        family = bed.wall.family
        c["rails"].shown = family == "sheet"
        c["ties"].shown = family in ("sheet", "boards", "sleepers")
        c["base_ties"].shown = family in ("sheet", "boards", "sleepers")
        c["post_depth"].shown = family in ("sheet", "boards")
        (self._reset_row.add_class if self.desk.own else self._reset_row.remove_class)(
            "bc-hide"
        )
        c["logs"].shown = any(
            row.material == "logs" and row.strategy == c["strategy"].value
            for row in table("strategies")
        )
        if family == "sheet":
            c["rails"].rename(rail_words(bed, self.system))

    def observe(self, listener: Callable[[Outcome], Any]) -> None:
        """Call ``listener(outcome)`` after every move, and once now."""
        self._listeners.append(listener)
        listener(self.outcome)

    # ---- fixing

    def reset(self) -> None:
        """Back to the bed that the lesson begins from."""
        self.desk.look_at("demo" if not self.desk.own else "own")

    def _fix(self, change: dict) -> None:
        """Carry out the fix of a verdict."""
        before = self.outcome
        self._take(before.bed.change(**change))
        self._frame = None
        self._show_bed()
        self.before = before if "ties" in change else None  # the wall as it was
        self._follow()


def _counts(most: int) -> list[tuple[int, str]]:
    """None to three, or as many as the bed has."""
    return [(n, "none" if n == 0 else str(n)) for n in range(max(3, int(most)) + 1)]


def bench(start: str = "B", file: str | Path | None = None) -> Bench:
    """The bench of workbook 00: the reader's current bed, or a demo bed."""
    return Bench(desk(start, file))
