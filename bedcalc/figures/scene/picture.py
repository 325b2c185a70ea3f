"""One picture: what must be seen, the camera that shows it, the shapes that draw it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import numpy as np

from bedcalc.assembly import assembly
from bedcalc.figures import theme
from bedcalc.units import show

from . import marks, ties, words
from .camera import Frame, axes, fit, held
from .filling import filling
from .greens import greens
from .ground import Plot, lawn_before, lawn_behind, plot_of
from .labels import text_size
from .people import somebody
from .plan import Plan, plan_of
from .setting import Setting
from .solids import Piece, Solid, Solids, painted_in_order
from .svg import Path, Picture2D
from .walls import far_walls, near_walls

__all__ = ["Picture", "Scene", "solids_of"]

_LEVEL = 0.003  # a slope below this is called level


@dataclass(frozen=True, kw_only=True)
class Scene(Picture2D):
    """A picture that knows its camera; hand ``frame`` on to hold it still."""

    frame: Frame


@lru_cache(maxsize=24)
def solids_of(plan: Plan, bed, view: str, all_round: bool = False) -> tuple[Solid, ...]:
    """Walls, fill and ties of a plan, from back to front."""
    made = assembly(bed)
    far, near = (Solids(plan.stations, all_round) for _ in range(2))
    far_walls(far, plan, made)
    filling(far, plan)
    near_walls(near, plan, made)
    between = Solids(plan.stations)
    greens(between, plan)
    ties.rods(between, plan, made)
    front = Solids(plan.stations)
    ties.plates(front, plan, made)
    way = axes(view)
    return (
        *painted_in_order(far.found, way), *between.found,
        *painted_in_order(near.found, way), *front.found,
    )  # fmt: skip


class Picture:
    """The drawing of one outcome in the making."""

    def __init__(self, outcome, system, exaggerate, view, narrow, with_person):
        self.outcome, self.system, self.view = outcome, system, view
        self.narrow, self.factor = narrow, float(exaggerate)
        self.plan, self.made = plan_of(outcome), assembly(outcome.bed)
        self.walls = outcome.walls.si
        self.bow = float(self.walls.bow_years)
        # the factor stays; a bow that would burst the bed is drawn cut short
        p = self.plan
        most = max(min(0.34 * p.width, p.length / 10, 0.32), 0.02)
        self.drawn_factor = min(self.factor, most / max(self.bow, 1e-9))
        self.with_person = with_person and view == "front"
        self.axes = axes(view)
        self.level = float(outcome.site.si.slope) < _LEVEL

    @property
    def factors(self) -> tuple[float, float]:
        """The factor that is asked for, and the one that fits the picture."""
        return self.factor, self.drawn_factor

    # ---- what must be seen

    @cached_property
    def figure(self):
        """Who works at the left end."""
        p, people = self.plan, self.outcome.bed.person
        ground = float(p.soil(-0.3, 0.5 * p.width))
        return somebody(
            self.outcome.bed.person_kind,
            float(people.stature),
            p.height + p.cap_thick - ground,
            self.fill_top - ground,
            p.wall + max(p.cap_wide - p.cap_out - p.wall, 0.0),
            self.outcome.bed.name,
        )

    @cached_property
    def fill_top(self) -> float:
        """Height of the fill over the underside of the walls."""
        p = self.plan
        return min(p.floor + sum(h for _, h in p.layers), p.height - 0.005)

    @cached_property
    def apex(self) -> tuple[float, float]:
        """Where the drawn bow is largest, and how large it is drawn there."""
        bow = np.asarray(self.walls.bow_x_years, float)
        k = int(np.argmax(bow))
        return float(np.asarray(self.walls.x)[k]), float(bow[k]) * self.drawn_factor

    def outward(self, x) -> np.ndarray:
        """Drawn outward shift of the top of the long walls at x."""
        bow = np.asarray(self.walls.bow_x_years, float) * self.drawn_factor
        return np.interp(x, np.asarray(self.walls.x, float), bow, left=0.0, right=0.0)

    def bent(self, points: np.ndarray) -> np.ndarray:
        """Points moved with the bow of the walls."""
        if self.bow <= 0:
            return points
        moved = points.copy()
        moved[:, 1] += self.plan.sway(points) * self.outward(points[:, 0])
        return moved

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
        p = self.plan
        x0, x1, y0, y1 = plot.left, plot.right, plot.near, plot.far
        xy = np.array(
            [(x0, y0), (x0, y1), (x1, y1), (x1, p.half), (p.opened, y0), (p.length, 0)]
        )
        z = p.soil(xy[:, 0], xy[:, 1])
        z[-1] = min(z[-1], 0.0) if p.family != "trough" else z[-1]
        top, foot = np.column_stack([xy, z]), np.column_stack([xy, z - plot.thick])
        foot[-1, 2] = p.soil(*xy[-1]) - plot.thick
        return np.vstack([top, foot[[0, 2, 3, 4, 5]]])

    @cached_property
    def plot(self) -> Plot:
        """The piece of lawn that is shown."""
        return plot_of(self.plan, self.figure.left - 0.06 if self.with_person else 0.0)

    def standing(self, rings) -> list[np.ndarray]:
        """Rings of a person (n, 2) put up at the left end, in the bed's own upright."""
        p = self.plan
        y, out = 0.5 * p.width, p.cap_out if p.cap_wide else 0.0
        ground = float(p.soil(-0.3, y))
        return [
            np.column_stack([r[:, 0] - out, np.full(len(r), y), r[:, 1] + ground])
            for r in rings
        ]

    @cached_property
    def figure_points(self) -> np.ndarray:
        """Every point of whoever works there, in space."""
        f = self.figure
        return np.vstack(
            [p for _, rings in (*f.body, *f.arm) for p in self.standing(rings)]
        )

    def figure_boxes(self, frame: Frame) -> list[tuple]:
        """The person in the picture, in strips of a few pixels."""
        if not self.with_person:
            return []
        px = frame.pixels(self.figure_points)
        found = []
        low, high = px[:, 1].min(), px[:, 1].max()
        for top in np.arange(low, high, 24.0):
            strip = px[(px[:, 1] >= top - 2) & (px[:, 1] <= top + 26)]
            if len(strip):
                found.append((strip[:, 0].min(), top, strip[:, 0].max(), top + 24))
        return found

    # ---- the camera and the words

    def _compose(self, width, height, frame):
        """Find the frame and set the words; widen the margins until all is inside."""
        column = max((text_size(t, theme.LABEL)[0] for t in self.names), default=0)
        pads = np.array([8.0, 8.0, 8.0 if self.narrow else column + 24, 8.0])
        kept, dragged = held(frame, self.view, width, height), frame is not None
        if kept is not None and kept.shows(self.seen, pads - 7):
            said = Setting(self, kept, self.plot, True)
            if not any(said.desk.overflow()):
                return kept, said
        pads[1] = 30.0 if self.bow > 0 and not self.with_person else 8.0
        for _ in range(8):
            found = fit(self.seen, self.view, width, height, pads)
            if dragged:  # room to grow, so that the camera can rest again
                found = replace(found, scale=0.87 * found.scale)
            said = Setting(self, found, self.plot, False)
            more = np.array(said.desk.overflow())
            if not more.any():
                break
            pads = pads + np.ceil(more)
        return found, said

    @cached_property
    def seen(self) -> np.ndarray:
        """Every point that must lie inside the picture."""
        parts = [self.hull, self.lawn(self.plot)]
        if self.with_person:
            parts.append(self.figure_points)
        return np.vstack(parts)

    @cached_property
    def names(self) -> list[str]:
        """Layer names, top layer first, as they stand in the column."""
        if self.narrow:
            return []
        layers = [la for la in self.outcome.fill.layers if la.si.depth > 0.002]
        return [words.layer_words(la, self.system) for la in reversed(layers)]

    def size(self, name: str) -> str:
        """A size of the bed in the reader's units."""
        return show(getattr(self.plan, name), "size", self.system)

    # ---- the shapes

    def drawn(self, width: int, height: int, frame: Frame | None) -> Scene:
        """Put everything together."""
        frame, said = self._compose(width, height, frame)
        o, system = self.outcome, self.system
        tags = said.desk.tags
        return Scene(
            width=width,
            height=height,
            shapes=(
                *flat(self.pieces(), frame, self.bent),
                *said.paths,
                *(line for tag in tags for line in tag.lines()),
            ),
            notes=(*said.notes, *(note for tag in tags for note in tag.notes())),
            alt=words.alt(o, self.factors, system),
            caption=words.caption(o, self.factors, system),
            numbers=words.numbers(o, system),
            frame=frame,
        )

    def pieces(self) -> list[Piece]:
        """All pieces from back to front."""
        p = self.plan
        behind, before = Solids(p.stations), Solids(p.stations)
        lawn_behind(behind, p, self.plot, self.with_person)
        lawn_before(before, p, self.plot)
        found = [q for solid in behind.found for q in solid.pieces]
        if self.with_person:
            found += self._person(self.figure.body)
        for solid in solids_of(p, self.outcome.bed, self.view):
            found += solid.pieces
        found += [q for solid in before.found for q in solid.pieces]
        found += marks.left_out(p)
        if self.bow > 0:
            found += marks.straight(p)
        if self.with_person:
            found += self._person(self.figure.arm)
        return found

    def _person(self, shapes) -> list[Piece]:
        return [
            Piece(self.standing(rings), colour, bends=False) for colour, rings in shapes
        ]


def flat(pieces: list[Piece], frame: Frame, bent) -> list[Path]:
    """Pieces in space as paths in the picture, all at once."""
    rings = [r for piece in pieces for r in piece.rings]
    points = np.concatenate(rings)
    follows = np.repeat(
        [piece.bends for piece in pieces for _ in piece.rings], [len(r) for r in rings]
    )
    points[follows] = bent(points[follows])
    px = frame.pixels(points)
    cut = np.split(px, np.cumsum([len(r) for r in rings])[:-1])
    found, at = [], 0
    for piece in pieces:
        mine = tuple(cut[at : at + len(piece.rings)])
        at += len(mine)
        if mine:
            found.append(
                Path(mine, piece.fill, piece.line, piece.ink if piece.line else "",
                     piece.dash)
            )  # fmt: skip
    return found
