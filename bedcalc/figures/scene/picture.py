"""One picture: what must be seen, the camera that shows it, and the arrays that draw it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from bedcalc.figures import theme
from bedcalc.figures.drawing import Drawing
from bedcalc.tables import table
from bedcalc.units import show

from . import marks, words
from .camera import Frame, axes, fit
from .filling import filling, steps
from .ground import Plot, ground, person, plot_of, shadow
from .labels import Table, Tag, text_size
from .person import wide
from .plan import Plan, plan_of
from .solids import Shape, Solids, face_colours, join
from .ties import tie_lines, ties
from .walls import walls

__all__ = ["Picture", "Scene"]

_FACTORS = (5.0, 3.0, 2.0, 1.0, 1 / 2, 1 / 3, 1 / 5, 1 / 10, 1 / 20, 1 / 50)
_ROW = 23  # pixels between layer names
_LEVEL = 0.003  # a slope below this is called level


@dataclass(frozen=True, kw_only=True)
class Scene(Drawing):
    """A drawing in space that knows its camera; hand ``frame`` on to hold it still."""

    frame: Frame


@lru_cache(maxsize=24)
def _built(plan: Plan) -> tuple[Shape, np.ndarray, np.ndarray]:
    """Walls and fill of a plan, and how far corners and edges share in the bow."""
    s = Solids(plan.stations)
    walls(s, plan)
    filling(s, plan)
    shape = s.shape()
    return shape, plan.sway(shape.corners), plan.sway(shape.lines)


def drawn_factor(bow: float, wanted: float, plan: Plan) -> float:
    """The factor the bow is drawn by: as wanted, or less where it would burst."""
    most = max(min(0.32 * plan.width, plan.length / 11, 0.30), 0.02)
    if bow * wanted <= most:
        return float(wanted)
    less = [f for f in _FACTORS if f < wanted]
    return next((f for f in less if bow * f <= most), less[-1] if less else wanted)


class Picture:
    """The drawing of one outcome in the making."""

    def __init__(self, outcome, system, exaggerate, view, narrow, with_person):
        self.outcome, self.system, self.view, self.narrow = (
            outcome,
            system,
            view,
            narrow,
        )
        self.plan = plan_of(outcome)
        self.walls = outcome.walls.si
        self.bow = float(self.walls.bow_years)
        self.factor = drawn_factor(self.bow, exaggerate, self.plan)
        self.users = outcome.bed.users
        self.stature = float(table("people")[self.users].stature)
        self.with_person = with_person and not narrow and view != "above"
        self.axes = axes(view)
        self.level = float(outcome.site.si.slope) < _LEVEL

    # ---- what must be seen

    @cached_property
    def apex(self) -> tuple[float, float]:
        """Where the drawn bow is largest, and how large it is drawn there."""
        bow = np.asarray(self.walls.bow_x_years, float)
        k = int(np.argmax(bow))
        return float(np.asarray(self.walls.x)[k]), float(bow[k]) * self.factor

    def outward(self, x) -> np.ndarray:
        """Drawn outward shift of the top of the long walls at x."""
        bow = np.asarray(self.walls.bow_x_years, float) * self.factor
        return np.interp(x, np.asarray(self.walls.x, float), bow, left=0.0, right=0.0)

    @cached_property
    def hull(self) -> np.ndarray:
        """Outer corners of the bed with its cap, bowed."""
        p = self.plan
        o, top = p.cap_out if p.cap_wide else 0.0, p.height + p.cap_thick
        x, bow = self.apex
        rows = [
            (a, b, c)
            for a in (-o, p.length + o)
            for b in (-o, p.width + o)
            for c in (0.0, top)
        ]
        return np.array([*rows, (x, -o - bow, top), (x, p.width + o + bow, top)])

    def lawn(self, plot: Plot) -> np.ndarray:
        """Corners of the slab of lawn that are seen."""
        x0, x1, y0, y1 = plot.left, plot.right, plot.near, plot.far
        xy = np.array(
            [
                (x0, y0),
                (x0, y1),
                (x1, y1),
                (x1, plot.cut_y),
                (plot.cut_x, y0),
                (plot.cut_x, 0),
                (self.plan.length, 0),
            ]
        )
        z = self.plan.soil(xy[:, 0], xy[:, 1])
        z[-1] = min(z[-1], 0.0) if self.plan.family != "trough" else z[-1]
        top, foot = np.column_stack([xy, z]), np.column_stack([xy, z - plot.thick])
        foot[-1, 2] = self.plan.soil(*xy[-1]) - plot.thick
        return np.vstack([top, foot[[0, 2, 3, 4, 5, 6]]])

    def stand(self, scale: float) -> tuple[float, float] | None:
        """Where the person stands: left of the height's label, whatever the scale."""
        if not self.with_person:
            return None
        right = self.axes[0]
        label = text_size(f"<b>{self._size('height')}</b>", theme.LABEL)[0]
        reach = wide(self.users, self.stature)[1]
        edge = float((self.hull @ right).min())
        aim = edge - (label + 34) / scale - reach
        way = np.array([-1.0, 0.0]) if self.view == "front" else np.array([0.0, -1.0])
        start = np.array([0.0, 0.45 * plot_of(self.plan, 0.0, 0.0).near])
        if self.view != "front":
            start = np.array([0.15 * self.plan.length, 0.0])
        step = (aim - start @ right[:2]) / (way @ right[:2])
        return tuple((start + max(step, 0.25) * way).tolist())

    def _plot(self, at) -> Plot:
        if at is None:
            return plot_of(self.plan, 0.0, 0.0)
        low, high = wide(self.users, self.stature)
        room = 0.13 * self.stature + 0.05
        if self.view == "front":
            return plot_of(self.plan, at[0] + low - 0.06, 0.0)
        return plot_of(self.plan, 0.0, at[1] - room - 0.5 * (high - low))

    def _person_box(self, at) -> np.ndarray:
        low, high = wide(self.users, self.stature)
        foot = np.array([*at, float(self.plan.soil(*at))])
        tall = self.stature * (0.80 if self.users == "seated" else 1.0)
        return np.array(
            [
                foot + a * self.axes[0] + np.array([0, 0, b])
                for a in (low, high)
                for b in (0, tall)
            ]
        )

    # ---- the camera and the words

    def _compose(self, width, height, frame):
        """Find the frame and set the words; widen the margins until all is inside."""
        pads = np.array([8.0, 8.0, 8.0, 8.0])
        if not self.narrow and self._names:
            column = max(text_size(t, theme.LABEL)[0] for t in self._names)
            pads[2] += column + 22
        scale, found = (frame.scale if frame else height / 2.6), None
        for _ in range(5):
            for _ in range(1 if frame else 3):
                at = self.stand(scale)
                plot = self._plot(at)
                seen = [self.hull, self.lawn(plot)]
                seen += [self._person_box(at)] if at else []
                found = fit(np.vstack(seen), self.view, width, height, pads, frame)
                scale = found.scale
            at = self.stand(scale)
            plot = self._plot(at)
            setting = self._words(found, plot, at)
            more = np.array(setting[0].overflow())
            if not more.any():
                break
            pads, frame = pads + np.ceil(more), None
        return found, plot, at, setting

    @cached_property
    def _names(self) -> list[str]:
        """Layer names, top layer first, as they stand in the column."""
        layers = [la for la in self.outcome.fill.layers if la.si.depth > 0.002]
        return [words.layer_words(la, self.system) for la in reversed(layers)]

    def _size(self, name: str) -> str:
        return show(getattr(self.plan, name), "size", self.system)

    def _words(self, frame: Frame, plot: Plot, at):
        """Set every word of the picture and the lines that belong to them."""
        desk, lines = Table(frame), []
        if at is not None:
            box = frame.pixels(self._person_box(at))
            desk.keep_free((*box.min(0), *box.max(0)))
        self._dimensions(desk, lines, frame, plot)
        if not self.narrow:
            self._layers(desk, frame, plot)
        self._bow_words(desk, frame)
        way = np.empty((0, 3))
        if not self.narrow:
            self._trench(desk, frame)
            if not self.level:
                way = self._slope(desk, frame, plot)
        return desk, np.vstack(lines), way

    def _dimensions(self, desk: Table, lines: list, frame: Frame, plot: Plot) -> None:
        p = self.plan
        slab = self.lawn(plot)
        foot, right, back = (0, 0, 0), (p.length, 0, 0), (p.length, p.width, 0)
        gap, drawn = 10 if self.narrow else 14, []
        for start, end, name in ((foot, right, "length"), (right, back, "width")):
            away = marks.offset_below(frame, start, end, slab) + gap
            line, ends = marks.dimension(frame, start, end, away)
            lines += [line, marks.GAP]
            text = f"<b>{self._size(name)}</b>"
            spots = [
                ends[0] + f * (ends[1] - ends[0]) for f in (0.5, 0.4, 0.6, 0.3, 0.7)
            ]
            desk.put(*(Tag(text=text, x=x, y=y, start="center", on_paper=True)
                       for x, y in spots))  # fmt: skip
            drawn.append(ends)
        for a, b in drawn:
            desk.keep_line_free(a, b)
        edge = float(frame.pixels(self.hull)[:, 0].min())
        base = frame.pixels([(0, 0, 0)])[0]
        line, ends = marks.dimension(
            frame, (0, 0, 0), (0, 0, p.height), base[0] - edge + 12
        )
        lines += [line, marks.GAP]
        text = f"<b>{self._size('height')}</b>"
        half = text_size(text, theme.LABEL)[0] / 2
        x, y = ends.mean(0)
        desk.put(
            Tag(text=text, x=x - half - 6, y=y, start="right", on_paper=True),
            Tag(text=text, x=x, y=ends[:, 1].min() - 14, start="center", on_paper=True),
        )

    def _layers(self, desk: Table, frame: Frame, plot: Plot) -> None:
        """Layer names in one column, top layer first, each led to its own cut."""
        made = steps(self.plan)[::-1]
        if not made:
            return
        p, right = self.plan, self.plan.length - self.plan.wall
        spots = [
            (right, 0.45 * max(m.b, p.wall) + 0.55 * p.half, (m.low + m.top) / 2)
            for m in made
        ]
        if len(made) > 1:  # the uppermost shows its top best
            back = 0.35 * p.half + 0.65 * (p.width - p.wall)
            spots[0] = (right - 0.08 * p.length, back, made[0].top)
        spots = frame.pixels(spots)
        seen = frame.pixels(np.vstack([self.hull, self.lawn(plot)]))
        x = float(seen[:, 0].max()) + 20
        room = 0.5 * _ROW * (len(made) - 1)
        middle = float(np.mean(spots[:, 1])) - 6
        middle = min(max(middle, 12 + room), frame.height - 12 - room)
        for k, (text, spot) in enumerate(zip(self._names, spots, strict=True)):
            high = middle + (k - (len(made) - 1) / 2) * _ROW
            wide_ = text_size(text, theme.LABEL)[0]
            tag = Tag(text=text, x=x + wide_ / 2, y=high, to=tuple(spot.tolist()))
            desk.put(tag)

    def _bow_words(self, desk: Table, frame: Frame) -> None:
        """How far the wall bows and how it is drawn, over the back of the bed."""
        if self.bow <= 0:
            return
        x, bow = self.apex
        p = self.plan
        out = p.cap_out if p.cap_wide else 0.0
        tip = frame.pixels([(x, -out - bow, p.height + p.cap_thick)])[0]
        text = words.bow_words(self.outcome, self.factor, self.system)
        wide_, high = text_size(text, theme.LABEL)
        hull = frame.pixels(self.hull)
        back = hull[:, 1].min()
        spots = []
        for lift in (6, 16, 30):
            for aside in (0.0, 60.0, -60.0, 120.0, -120.0, 190.0):
                spots.append((tip[0] + aside, back - lift - high / 2))
        tags = [
            Tag(
                text=text,
                x=a,
                y=b,
                to=tuple(tip.tolist()),
                start="bottom",
                on_paper=True,
            )
            for a, b in spots
        ]
        del wide_
        desk.put(*tags)

    def _trench(self, desk: Table, frame: Frame) -> None:
        """How deep the bed is dug in, with a line to the near right foot."""
        text = words.trench_words(self.outcome, self.system)
        foot = frame.pixels([(self.plan.length, 0, 0)])[0]
        wide_, high = text_size(text, theme.LABEL)
        spots = []
        for down in range(40, 190, 10):
            for aside in (30, 50, 10, 80, -20, 110):
                spots.append((foot[0] + aside + wide_ / 2, foot[1] + down + high / 2))
        spots.sort(key=lambda s: 1.6 * (s[1] - foot[1]) + abs(s[0] - foot[0] - 30))
        tags = [
            Tag(text=text, x=a, y=b, to=tuple(foot.tolist()), dot=False)
            for a, b in spots
        ]
        desk.put(*tags)

    def _slope(self, desk: Table, frame: Frame, plot: Plot) -> np.ndarray:
        """The arrow down the slope, and its words."""
        long = min(0.72 * -plot.near, 0.5)
        x = 0.30 * plot.cut_x
        way = marks.arrow(self.plan, x, 0.52 * plot.near, long)
        px = frame.pixels(way)
        fall = show(float(self.outcome.site.si.slope), "percent", self.system)
        text = f"falls <b>{fall}</b>"
        half = text_size(text, theme.LABEL)[0] / 2
        y = float(px[:, 1].mean())
        right, left = float(px[:, 0].max()), float(px[:, 0].min())
        desk.put(
            Tag(text=text, x=right + 8 + half, y=y),
            Tag(text=text, x=left - 8 - half, y=y, start="right"),
            Tag(text=text, x=right + 8 + half, y=y + 12),
        )
        return way

    # ---- the arrays

    def drawn(self, width: int, height: int, frame: Frame | None) -> Scene:
        """Put everything together."""
        frame, plot, at, (desk, dims, way) = self._compose(width, height, frame)
        o, system = self.outcome, self.system
        return Scene(
            traces=self._traces(frame, plot, at, dims, way),
            layout=theme.base_layout(
                margin={"l": 0, "r": 0, "t": 0, "b": 0},
                height=height,
                scene={
                    **Frame.ranges(),
                    "aspectmode": "manual",
                    "dragmode": False,
                    "bgcolor": theme.PAPER,
                },
                uirevision="scene",
            ),
            live_layout=frame.layout(),
            annotations=tuple(a for tag in desk.tags for a in tag.annotations(frame)),
            alt=words.alt(o, self.factor, system),
            caption=words.caption(o, self.factor, system),
            numbers=words.numbers(o, system),
            frame=frame,
        )

    def _traces(self, frame: Frame, plot: Plot, at, dims, way) -> tuple[dict, ...]:
        plan, (shape, sway, line_sway) = self.plan, _built(self.plan)
        s = Solids()
        ties(s, plan, self.walls.ties_x, self.walls.base_ties_x)
        moving = s.shape()
        s = Solids()
        ground(s, plan, plot)
        shadow(s, plan, plot)
        if at is not None:
            person(s, plan, self.axes[0], self.users, self.stature, at)
        still = s.shape()
        whole = join(shape, moving, still)
        corners, lines = whole.corners.copy(), whole.lines.copy()
        sway = np.concatenate([sway, plan.sway(moving.corners)])
        line_sway = np.concatenate([line_sway, plan.sway(moving.lines)])
        bent, bent_lines = len(sway), len(line_sway)
        corners[:bent, 1] += sway * self.outward(corners[:bent, 0])
        lines[:bent_lines, 1] += line_sway * self.outward(lines[:bent_lines, 0])
        push = float(np.clip(1.6 / frame.scale, 0.004, 0.014))
        hidden = np.vstack(
            [tie_lines(plan, steps(plan), self.walls.ties_x), marks.left_out(plan)]
        )
        x, bow = self.apex
        fails, watch = self.bow > self.walls.bow_limit, self.bow > self.walls.bow_aim
        colour = theme.FAILS if fails else theme.WATCH if watch else theme.HOLDS
        bowed = self.bow > 0
        return (
            _mesh(whole, corners),
            _line(frame.moved(lines, nearer=push), theme.EDGE, 1.8),
            _line(frame.moved(hidden, nearer=0.02), theme.EDGE, 2, "dash"),
            _line(dims, theme.SECOND, 2),
            _line(marks.straight(frame, plan) if bowed else None, theme.INK, 4, "dot"),
            _line(marks.bow_mark(frame, plan, x, bow) if bowed else None, colour, 8),
            _line(way if not len(way) else frame.moved(way, nearer=0.02), theme.INK, 4),
        )


def _mesh(shape: Shape, corners: np.ndarray) -> dict:
    p, tri = corners.astype(np.float32), shape.triangles.astype(np.int32)
    return {
        "type": "mesh3d",
        "x": np.ascontiguousarray(p[:, 0]),
        "y": np.ascontiguousarray(p[:, 1]),
        "z": np.ascontiguousarray(p[:, 2]),
        "i": np.ascontiguousarray(tri[:, 0]),
        "j": np.ascontiguousarray(tri[:, 1]),
        "k": np.ascontiguousarray(tri[:, 2]),
        "facecolor": face_colours(shape, corners),
        "flatshading": True,
        "lighting": {
            "ambient": 1,
            "diffuse": 0,
            "specular": 0,
            "fresnel": 0,
            "roughness": 1,
        },
        "hoverinfo": "skip",
        "showscale": False,
    }


def _line(points, colour: str, width: float, dash: str = "solid") -> dict:
    p = np.empty((0, 3)) if points is None else np.asarray(points)
    p = p.astype(np.float32)
    return {
        "type": "scatter3d",
        "mode": "lines",
        "x": np.ascontiguousarray(p[:, 0]),
        "y": np.ascontiguousarray(p[:, 1]),
        "z": np.ascontiguousarray(p[:, 2]),
        "line": {"color": colour, "width": width, "dash": dash},
        "hoverinfo": "skip",
        "showlegend": False,
        "connectgaps": False,
    }
