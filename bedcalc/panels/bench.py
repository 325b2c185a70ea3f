"""The bench: one bed, all its consequences, live.

A move replaces a field of the bed, evaluates it once, and brings numbers, verdicts and
pictures up to date in place. Only the close-up that is shown is redrawn. A wrong entry
is said beside its field and the last good picture stays.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import ipywidgets

from ..bed import Bed, Wall, strategy_layers
from ..evaluate import Outcome, evaluate
from ..figures.cost import cost_figure
from ..figures.drawing import Drawing
from ..figures.fill import fill_figure
from ..figures.scene import scene
from ..figures.walls import wall_figure
from ..garden import Garden, GardenError, demo_garden, load, save
from ..tables import table
from ..units import Q_, show
from .bench_words import (
    bed_title,
    headlines,
    live_sentence,
    rail_words,
    shown_checks,
)
from .controls import Controls, choice_row, group, list_row, slider_row
from .cost_prices import list_for
from .inputs import Says, WidthWatch
from .pictures import Picture
from .style import button, paper
from .verdicts import VerdictRow
from .words import plain

__all__ = ["Bench", "bench"]

MINE = "mine"
ROWS = 9  # verdict rows kept ready
_RISES = [(0, "as listed"), (20, "+ 20 %"), (50, "+ 50 %")]
FILE = "my_garden.toml"
_HEIGHT = {"wide": 460, "full": 400, "middle": 400, "narrow": 220}
_CLOSE = {"wall": wall_figure, "fill": fill_figure, "bill": cost_figure}


def _strategy_of(bed: Bed) -> tuple[str, int]:
    """The fill strategy and log share (%) that give this bed's layers, or its own."""
    share = 33
    for layer in bed.fill:
        if layer.kind == "logs" and layer.depth is not None:
            if layer.depth.check("[]"):
                share = round(layer.depth.m_as("percent"))
    for row in table("strategies"):
        if strategy_layers(row.strategy, Q_(share, "percent")) == bed.fill:
            return row.strategy, share
    return "own", share


class Bench:
    """The bench as an object; show :attr:`widget`.

    Parameters
    ----------
    garden : Garden or None
        Beds to begin from; the demo garden if None.
    start : str
        Name of the bed to begin from.
    file : str or Path
        Where "my bed" is saved, in the folder of the workbook.
    """

    def __init__(
        self, garden: Garden | None = None, start: str = "B", file: str | Path = FILE
    ):
        self.garden = garden or demo_garden()
        self.file = Path(file)
        self.system = "metric"
        self.before: Outcome | None = None
        self._base = self.garden[start]
        self._place = self.garden.place
        self._listeners: list[Callable[[Outcome], Any]] = []
        self._frame = None
        self._make_controls(start)
        self._evaluate(self._bed())
        self._make_page()
        self._follow()
        self.controls.observe(self._moved)

    # ---- what one moves

    def _make_controls(self, start: str) -> None:
        bed = self._base
        strategy, share = _strategy_of(bed)
        names = {row.strategy: row.name for row in table("strategies")}
        self._strategies = [*names.items(), ("own", "own layers, from the file")]
        walls = [(row.key, row.name) for row in table("walls")]
        people = [(row.key, row.name) for row in table("people")]
        length = ("inch", 24, 236, 1)
        self.controls = Controls(
            list_row("Begin with", self._begins(), start, name="begin"),
            choice_row(
                "Show in", [("metric", "metric"), ("us", "feet, inches")], "metric",
                name="system",
            ),
            slider_row("Length", "cm", 60, 600, 5, bed.length, us=length),
            slider_row("Width", "cm", 40, 200, 5, bed.width, name="width"),
            slider_row("Height", "cm", 15, 110, 1, bed.height, name="height"),
            list_row("For", people, bed.users, name="users"),
            list_row("Built of", walls, bed.wall.key, name="wall"),
            choice_row("Rail, thick", rail_words(bed), bed.rail_lying, name="rails"),
            choice_row("Ties on top", _counts(3), bed.ties, name="ties"),
            choice_row("Ties at foot", _counts(3), bed.base_ties, name="base_ties"),
            slider_row(
                "Posts deep", "cm", 0, 120, 5, bed.post_depth, name="post_depth"
            ),
            list_row("Fill", self._strategies, strategy, name="strategy"),
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
        )  # fmt: skip
        self.close = choice_row(
            "Close-up",
            [("wall", "the wall"), ("fill", "the fill"), ("bill", "the bill")],
            "wall",
            name="close",
        )
        self.close.observe(lambda change: self._draw_close())

    def _begins(self) -> list[tuple[str, str]]:
        return [
            *((bed.name, bed_title(bed)) for bed in self.garden.beds),
            (MINE, "my bed, saved here"),
        ]

    def _bed(self) -> Bed:
        """The bed as the controls stand, a ``BedError`` if it cannot be."""
        v, base = self.controls.values, self._base
        change: dict[str, Any] = {
            name: v[name]
            for name in (
                "length", "width", "height", "users", "ties", "base_ties", "post_depth",
            )
        } | {"rail_lying": v["rails"]}  # fmt: skip
        if v["wall"] != base.wall.key:
            change["wall"] = Wall.named(v["wall"])
            trough = change["wall"].family == "trough"
            change["soil_depth"] = min(Q_(280, "mm"), v["height"]) if trough else None
        elif base.soil_depth is not None:
            change["soil_depth"] = min(base.soil_depth, v["height"])
        if v["strategy"] != "own":
            change["fill"] = strategy_layers(v["strategy"], v["logs"])
        return base.change(**change)

    # ---- the page

    def _make_page(self) -> None:
        c = self.controls
        self.watch = WidthWatch()
        self.watch.observe(lambda change: self._resize(), "width")
        self.says = Says().add_class("bc-live").add_class("bc-sentence")
        self.strip = [ipywidgets.HTML() for _ in range(5)]
        self.scene = Picture(self._scene(), "scene")
        self.closes: dict[str, Picture] = {}
        self._close_box = ipywidgets.VBox([]).add_class("bc-close-box")
        self.rows = [VerdictRow(self._mend) for _ in range(ROWS)]
        buttons = ipywidgets.Box(
            [
                button("Save as my bed", self.save),
                button("Open mine", self.open),
                button("Reset", self.reset),
            ]
        ).add_class("bc-buttons")
        self.file_says = Says()
        bar = ipywidgets.Box(
            [c["begin"].widget, c["system"].widget, buttons]
        ).add_class("bc-bar")
        groups = [
            group("Size, outside", c["length"], c["width"], c["height"], c["users"]),
            group(
                "Long wall", c["wall"], c["rails"], c["ties"], c["base_ties"],
                c["post_depth"],
            ),
            group("Fill and prices", c["strategy"], c["logs"], c["rise"]),
        ]  # fmt: skip
        controls = ipywidgets.VBox(groups).add_class("bc-controls")
        looks = ipywidgets.Box([c["view"].widget, c["larger"].widget])
        picture = ipywidgets.VBox([self.scene.widget, looks.add_class("bc-looks")])
        picture.add_class("bc-scene")
        verdicts = ipywidgets.VBox(
            [
                ipywidgets.HTML('<h3 class="bc-heading">What the numbers say</h3>'),
                *(row.widget for row in self.rows),
            ]
        ).add_class("bc-verdicts")
        close = ipywidgets.VBox([self.close.widget, self._close_box])
        self.widget = paper(
            self.watch,
            bar,
            self.file_says,
            ipywidgets.Box(self.strip).add_class("bc-strip"),
            ipywidgets.Box([picture, controls]).add_class("bc-main"),
            self.says,
            ipywidgets.Box([verdicts, close.add_class("bc-close")]).add_class(
                "bc-lower"
            ),
            kind="bench",
        )
        self._draw_close()

    def _repr_mimebundle_(self, **kwargs):
        return self.widget._repr_mimebundle_(**kwargs)

    @property
    def kind(self) -> str:
        """The kind of layout that fits the output's width."""
        return self.watch.kind if self.watch.width else "full"

    def _scene(self) -> Drawing:
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

    def _scene_width(self) -> int:
        """Width of the scene in px: what the controls leave."""
        side = 340 + 16 if self.kind in ("wide", "full") else 0
        edge = 16 if self.kind == "narrow" else 32
        return max((self.watch.width or 1132) - edge - side, 240)

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
        """Width of the close-up in px: six elevenths beside the verdicts, or all."""
        inner = (self.watch.width or 1132) - (16 if self.kind == "narrow" else 32)
        return (inner - 16) * 6 // 11 if inner >= 1028 else inner

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
        self.scene.size(self._scene_width(), _HEIGHT[self.kind])
        self.scene.bring(self._scene())
        self._draw_close()

    # ---- what follows

    def _moved(self, changes) -> None:
        names = {change.name for change in changes}
        # while a size moves, the camera stays: a longer bed looks longer
        sizing = names <= {"length", "width", "height", "logs", "ties", "base_ties"}
        self._frame = self.scene.shown.frame if sizing else None
        if "begin" in names:
            self._begin(self.controls["begin"].value)
            return
        if "system" in names:
            self.system = self.controls["system"].value
            self.controls.use(self.system)
        if names - {"system", "larger", "view"}:
            bed = self._bed()  # a BedError goes back to the control that moved
            if "wall" in names:
                self._base = bed
            self.before = self.outcome if names & {"ties"} else None
            self._evaluate(bed)
        self._follow()

    def _evaluate(self, bed: Bed) -> None:
        """Evaluate a bed, once, at the prices that are chosen."""
        rise = Q_(self.controls["rise"].value, "percent")
        prices = list_for(bed.wall, self._place)
        place = self._place.change(price_rise=rise, prices=prices)
        self.outcome = evaluate(bed, place)

    def _follow(self) -> None:
        """Numbers, verdicts and pictures after a move."""
        self.scene.bring(self._scene())
        self._draw_close()
        for cell, html in zip(
            self.strip, headlines(self.outcome, self.system), strict=True
        ):
            if cell.value != html:
                cell.value = html
        checks = shown_checks(self.outcome, ROWS)
        for i, row in enumerate(self.rows):
            row.show(checks[i] if i < len(checks) else None, self.system)
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

    # ---- beginning, mending, keeping

    def _take(self, bed: Bed) -> None:
        """Put all controls to a bed, as one update."""
        strategy, share = _strategy_of(bed)
        self._base, self.before, self._frame = bed, None, None
        self.controls.set(
            length=bed.length, width=bed.width, height=bed.height, users=bed.users,
            wall=bed.wall.key, rails=bed.rail_lying, ties=min(bed.ties, 3),
            base_ties=min(bed.base_ties, 3), post_depth=bed.post_depth,
            strategy=strategy, logs=Q_(share, "percent"),
        )  # fmt: skip
        self._evaluate(bed)
        self._follow()

    def _begin(self, name: str) -> None:
        if name == MINE:
            self.open()
        else:
            self._place = self.garden.place
            self._take(self.garden[name])

    def reset(self) -> None:
        """Back to the bed one began from."""
        self._begin(self.controls["begin"].value)

    def _mend(self, change: dict) -> None:
        """Carry out the mend of a verdict."""
        before = self.outcome
        bed = before.bed.change(**change)
        self._take(bed)
        if "ties" in change:  # the close-up shows the wall before
            self.before = before
            self._draw_close()

    def save(self) -> None:
        """Save the bed as one's own, beside the workbook."""
        bed = self.outcome.bed.change(name=MINE, title="my bed")
        try:
            garden = (
                load(self.file) if self.file.is_file() else Garden(place=self._place)
            )
            save(garden.with_bed(bed), self.file)
        except (GardenError, OSError) as error:
            self._file_says(f"Not saved: {error}", "refused")
            return
        self._file_says(f"Saved in {self.file.name}, beside this workbook.", "kept")

    def open(self) -> None:
        """Open one's own bed again."""
        try:
            garden = load(self.file)
            bed = (
                garden[MINE] if any(b.name == MINE for b in garden) else garden.beds[0]
            )
        except (GardenError, IndexError) as error:
            words = str(error) or f"{self.file.name} holds no bed yet"
            self._file_says(f"Not opened: {words}.", "refused")
            return
        self._place = garden.place
        self.controls["begin"].set(MINE)
        self._take(bed)
        self._file_says(
            f"Opened {show(bed.length, 'size', self.system)} by "
            f"{show(bed.width, 'size', self.system)} from {self.file.name}.",
            "kept",
        )

    def _file_says(self, words: str, tone: str) -> None:
        self.file_says.html, self.file_says.tone = f"<p>{plain(words)}</p>", tone


def _counts(most: int) -> list[tuple[int, str]]:
    return [(n, "none" if n == 0 else str(n)) for n in range(most + 1)]


def bench(start: str = "B", file: str | Path = FILE) -> Bench:
    """The bench of workbook 00: begin from a demo bed, change everything, keep it."""
    return Bench(start=start, file=file)
