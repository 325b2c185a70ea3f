"""One picture: what must be seen, the camera that shows it, the arrays that draw it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import numpy as np

from bedcalc.figures import theme
from bedcalc.figures.drawing import Drawing
from bedcalc.units import show

from . import marks, weak, words
from .camera import Frame, axes, fit, held
from .filling import filling, steps
from .ground import Plot, ground, person, plot_of, shadow
from .labels import text_size
from .person import yardstick
from .plan import Plan, plan_of
from .setting import Setting
from .solids import Shape, Solids, face_colours, join
from .ties import tie_lines, ties
from .walls import walls

__all__ = ["Picture", "Scene"]

_FACTORS = (5.0, 3.0, 2.0, 1.0, 1 / 2, 1 / 3, 1 / 5, 1 / 10, 1 / 20, 1 / 50)
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
    most = max(min(0.34 * plan.width, plan.length / 10, 0.32), 0.02)
    if bow * wanted <= most:
        return float(wanted)
    less = (f for f in _FACTORS if f < wanted and bow * f <= most)
    return next(less, most / bow)


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
        people = outcome.bed.person
        self.figure = yardstick(
            outcome.bed.person_kind,
            float(people.stature),
            self.plan.length,
            self.plan.height,
        )
        self.with_person = with_person and not narrow and view == "front"
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

    def stand(self, scale: float, room: float) -> tuple[float, float] | None:
        """Where the person stands: ``room`` pixels left of the bed, at any scale."""
        if not self.with_person:
            return None
        right, p = self.axes[0], self.plan
        edge = float((self.hull @ right).min())
        aim = edge - room / scale - self.figure.right
        y = 0.45 * plot_of(p, 0.0).near
        return (float(min((aim - y * right[1]) / right[0], -0.1)), y)

    def plot(self, at) -> Plot:
        """The piece of lawn that is shown."""
        left = 0.0 if at is None else at[0] + self.figure.left - 0.06
        return plot_of(self.plan, left)

    def figure_box(self, at) -> np.ndarray:
        """Corners of the person standing at this place."""
        f, up = self.figure, np.array([0, 0, 1.0])
        foot = np.array([*at, float(self.plan.soil(*at))])
        return np.array(
            [
                foot + a * self.axes[0] + b * up
                for a in (f.left, f.right)
                for b in (0, f.tall)
            ]
        )

    # ---- the camera and the words

    def _compose(self, width, height, frame):
        """Find the frame and set the words; widen the margins until all is inside."""
        tight = self.narrow or width < 700
        column = max((text_size(t, theme.LABEL)[0] for t in self.names), default=0)
        pads = np.array([8.0, 8.0, 8.0 if self.narrow else column + 30, 8.0])
        label = text_size(f"<b>{self.size('height')}</b>", theme.LABEL)[0]
        room = 30 if tight else label + 34
        kept, dragged = held(frame, self.view, width, height), frame is not None
        if kept is not None:
            at = self.stand(kept.scale, room)
            if kept.shows(self.seen(at), pads - 7):
                said = Setting(self, kept, self.plot(at), at, tight, True)
                if not any(said.desk.overflow()):
                    return kept, at, said
        # a good guess at the words' margins saves a round
        pads[3] = 30 if self.narrow else 82
        pads[1] = 44 if not self.with_person and self.bow > 0 else 8
        scale = height / 2.6
        for _ in range(12):
            for _ in range(4):
                at = self.stand(scale, room)
                found = fit(self.seen(at), self.view, width, height, pads)
                if abs(found.scale - scale) < 0.5:
                    break
                scale = found.scale
            if dragged:  # room to grow, so that the camera can rest again
                found = replace(found, scale=0.87 * found.scale)
            at = self.stand(found.scale, room)
            said = Setting(self, found, self.plot(at), at, tight, False)
            more = np.array(said.desk.overflow())
            if not more.any():
                break
            pads, scale = pads + np.ceil(more), found.scale
        return found, at, said

    def seen(self, at) -> np.ndarray:
        """Every point that must lie inside the picture."""
        parts = [self.hull, self.lawn(self.plot(at))]
        if at is not None:
            parts.append(self.figure_box(at))
        return np.vstack(parts)

    @cached_property
    def names(self) -> list[str]:
        """Layer names, top layer first, as they stand in the column."""
        layers = [la for la in self.outcome.fill.layers if la.si.depth > 0.002]
        return [words.layer_words(la, self.system) for la in reversed(layers)]

    def size(self, name: str) -> str:
        """A size of the bed in the reader's units."""
        return show(getattr(self.plan, name), "size", self.system)

    # ---- the arrays

    def drawn(self, width: int, height: int, frame: Frame | None) -> Scene:
        """Put everything together."""
        frame, at, said = self._compose(width, height, frame)
        o, system = self.outcome, self.system
        return Scene(
            traces=self._traces(frame, at, said),
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
            annotations=tuple(
                a for tag in said.desk.tags for a in tag.annotations(frame)
            ),
            alt=words.alt(o, self.factor, system),
            caption=words.caption(o, self.factor, system),
            numbers=words.numbers(o, system),
            frame=frame,
        )

    def _traces(self, frame: Frame, at, said: Setting) -> tuple[dict, ...]:
        plan, plot = self.plan, said.plot
        shape, sway, line_sway = _built(plan)
        s = Solids()
        ties(s, plan, self.walls.ties_x, self.walls.base_ties_x)
        moving = s.shape()
        s = Solids()
        ground(s, plan, plot)
        shadow(s, plan, plot)
        if at is not None:
            person(s, plan, self.axes[0], self.figure, at)
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
        seen = self.bow > self.walls.bow_aim
        colour = theme.WATCH if seen else theme.HOLDS
        bowed = self.bow > 0
        return (
            _mesh(whole, corners),
            _line(frame.moved(lines, nearer=push), theme.EDGE, 1.8),
            _line(frame.moved(hidden, nearer=0.02), theme.EDGE, 3, "dash"),
            _line(np.vstack(said.lines), theme.SECOND, 2),
            _line(marks.straight(frame, plan) if bowed else None, theme.INK, 4, "dot"),
            _line(marks.bow_mark(frame, plan, x, bow) if bowed else None, colour, 8),
            _line(frame.moved(said.arrow, nearer=0.02), theme.INK, 4),
            _line(self._striped(frame), theme.FAILS, 3),
        )

    def _striped(self, frame: Frame) -> np.ndarray:
        """Stripes over the part that gives way first, bowed like the wall."""
        lines = weak.stripes(self.plan, weak.band(self.outcome, self.plan))
        if len(lines):
            lines[:, 1] += self.plan.sway(lines) * self.outward(lines[:, 0])
        return frame.moved(lines, nearer=0.02)


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
