"""Setting the words: which word goes where round the finished picture."""

from __future__ import annotations

import numpy as np

from bedcalc.figures import theme
from bedcalc.units import show

from . import marks, words
from .camera import Frame
from .filling import steps
from .ground import Plot
from .labels import Table, Tag, text_size
from .weak import weak_words

__all__ = ["Setting"]

_ROW = 23  # pixels between layer names
#: places for the words on the trench, right and down from the foot, nearest first
_NEARBY = sorted(
    (
        (aside, down)
        for down in range(4, 170, 8)
        for aside in (26, 40, 12, 0, 60, 90, -20, -50, -100)
    ),
    key=lambda spot: 1.6 * spot[1] + abs(spot[0] - 26),
)


class Setting:
    """All words of one picture, the lines that measure, and the slope's arrow."""

    def __init__(self, picture, frame: Frame, plot: Plot, at, tight, held):
        self.picture, self.frame, self.plot, self.tight = picture, frame, plot, tight
        self.plan = picture.plan
        self.desk = Table(frame, held)
        self.lines: list[np.ndarray] = []
        self.arrow = np.empty((0, 3))
        self.hull = frame.pixels(picture.hull)
        self.lawn = frame.pixels(picture.lawn(plot))
        if at is not None:
            box = frame.pixels(picture.figure_box(at))
            self.desk.keep_free((*box.min(0), *box.max(0)))
        self._dimensions()
        if not picture.narrow:
            self._layers()
        self._bow()
        if not picture.narrow:
            self._trench()
            if not picture.level:
                self._slope()

    # ---- sizes

    def _dimensions(self) -> None:
        p, frame, slab = self.plan, self.frame, self.picture.lawn(self.plot)
        foot, right, back = (0, 0, 0), (p.length, 0, 0), (p.length, p.width, 0)
        found = []
        for start, end, name in ((foot, right, "length"), (right, back, "width")):
            away = marks.offset_below(frame, start, end, slab)
            line, ends = marks.dimension(
                frame, start, end, away + (10 if self.tight else 14)
            )
            self.lines += [line, marks.GAP]
            self.desk.put(self._beside(f"<b>{self.picture.size(name)}</b>", ends))
            found.append(ends)
        for a, b in found:
            self.desk.keep_line_free(a, b)
        self._height()

    @staticmethod
    def _beside(text: str, ends: np.ndarray) -> list[Tag]:
        """Places on a dimension line, or beside it where it is too short."""
        wide, high = text_size(text, theme.LABEL)
        (a, b), run = ends, np.abs(ends[1] - ends[0])
        hidden = min(wide / max(run[0], 1e-9), high / max(run[1], 1e-9))
        shares = (0.5, 0.4, 0.6, 0.3, 0.7) if hidden < 0.62 else ()
        spots = [tuple(a + f * (b - a)) for f in shares]
        x, y = ends.mean(0)
        spots += [
            (x + 8 + wide / 2, y + 2 + high / 2),
            (x + 0.5 * run[0] + 6 + wide / 2, y + high / 2),
            (x, ends[:, 1].max() + 6 + high / 2),
            (x + 0.5 * run[0] + 8 + wide / 2, y - high / 2),
        ]
        return [
            Tag(text=text, x=u, y=v, start="center", on_paper=True) for u, v in spots
        ]

    def _height(self) -> None:
        p, frame = self.plan, self.frame
        edge, base = self.hull[:, 0].min(), frame.pixels([(0, 0, 0)])[0]
        line, ends = marks.dimension(
            frame, (0, 0, 0), (0, 0, p.height), base[0] - edge + 12
        )
        self.lines += [line, marks.GAP]
        text = f"<b>{self.picture.size('height')}</b>"
        wide, high = text_size(text, theme.LABEL)
        (x, y), top = ends.mean(0), ends[:, 1].min()
        left = Tag(text=text, x=x - wide / 2 - 6, y=y, start="right", on_paper=True)
        over = [
            Tag(text=text, x=x + d, y=top - 7 - high / 2, start="center", on_paper=True)
            for d in (-14, -24, 0, 12)
        ]
        self.desk.put([*over, left] if self.tight else [left, *over])
        self.desk.keep_line_free(*ends)

    # ---- what is inside

    def _layers(self) -> None:
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
        spots = self.frame.pixels(spots)
        x = max(self.hull[:, 0].max(), self.lawn[:, 0].max()) + 20
        room = 0.5 * _ROW * (len(made) - 1)
        middle = float(np.mean(spots[:, 1])) - 6
        middle = min(max(middle, 12 + room), self.frame.height - 12 - room)
        for lift in (0, 10, 20, 35, 50, 70, 90):
            column = [
                Tag(
                    text=text,
                    x=x + text_size(text, theme.LABEL)[0] / 2,
                    y=middle - lift + (k - (len(made) - 1) / 2) * _ROW,
                    to=tuple(spot.tolist()),
                )
                for k, (text, spot) in enumerate(
                    zip(self.picture.names, spots, strict=True)
                )
            ]
            if all(self.desk.free(tag.box) for tag in column):
                break
        for tag in column:
            self.desk.put([tag])

    # ---- what happens to it

    def _bow(self) -> None:
        """How far the wall bows and how it is drawn, over the back of the bed."""
        picture, p = self.picture, self.plan
        broken = weak_words(picture.outcome)
        if picture.bow <= 0 and not broken:
            return
        x, bow = picture.apex if picture.bow > 0 else (p.length / 2, 0.0)
        out = p.cap_out if p.cap_wide else 0.0
        tip = self.frame.pixels([(x, -out - bow, p.height + p.cap_thick)])[0]
        text = words.bow_words(
            picture.outcome, picture.factor, picture.system, picture.narrow
        )
        if picture.bow <= 0:  # blocks do not bow
            text = f"<b>{broken}</b>"
        wide, high = text_size(text, theme.LABEL)
        back, edge = self.hull[:, 1].min(), wide / 2 + 5
        self.desk.put(
            Tag(
                text=text,
                x=float(np.clip(tip[0] + aside, edge, self.frame.width - edge)),
                y=back - lift - high / 2,
                to=tuple(tip.tolist()),
                start="bottom",
            )
            for lift in (6, 16, 30)
            for aside in (0.0, 40.0, -40.0, 80.0, -80.0, 130.0, 190.0)
        )

    def _trench(self) -> None:
        """How deep the bed is dug in, with a line to the near right foot."""
        text = words.trench_words(self.picture.outcome, self.picture.system)
        p, plot = self.plan, self.plot
        low = p.soil(p.length, 0) - plot.thick
        foot, base = self.frame.pixels([(p.length, 0, 0), (p.length, 0, low)])
        wide, high = text_size(text, theme.LABEL)
        self.desk.put(
            Tag(
                text=text,
                x=float(base[0] + aside + wide / 2),
                y=float(base[1] + down + high / 2),
                to=tuple(foot.tolist()),
                dot=False,
            )
            for aside, down in _NEARBY
        )

    def _slope(self) -> None:
        """The arrow down the slope and its words, where the front lawn has room."""
        p, frame, near = self.plan, self.frame, self.plot.near
        x = np.linspace(0, p.length, 13)
        low = frame.pixels(np.column_stack([x, 0 * x, p.soil(x, 0)]))
        top = frame.pixels(np.column_stack([x, 0 * x, 0 * x + p.height]))
        for k in range(12):
            self.desk.keep_free((*top[k], *low[k + 1]))
        fall = show(float(self.picture.outcome.site.si.slope), "percent")
        text = f"falls <b>{fall}</b>"
        long = min(0.72 * max(-near, 0.1), 0.5)
        spots = [
            (along * p.opened, depth * near)
            for depth in (0.52, 0.64)
            for along in (0.30, 0.45, 0.15, 0.6, 0.02, -0.1, -0.25)
        ]
        for x, y in spots:
            way = marks.arrow(p, x, y, long)
            tag = self._slope_words(text, way, y)
            if tag is not None:  # where there is no room, the caption has to do
                self.arrow = way
                self.desk.put([tag])
                return

    def _slope_words(self, text, way, y: float) -> Tag | None:
        """Words right or left of an arrow, if both find room there."""
        p, frame = self.plan, self.frame
        px, wide = frame.pixels(way), text_size(text, theme.LABEL)[0]
        low, top = px.max(0), px.min(0)
        # the words follow the middle of the lawn, which sinks to the right
        (x0, y0), (x1, y1) = frame.pixels([(x, y, p.soil(x, y)) for x in (0, p.length)])
        tags = [
            Tag(
                text=text,
                x=float(x),
                start=start,
                y=float(y0 + 4 + (x - x0) * (y1 - y0) / (x1 - x0)),
            )
            for x, start in (
                (low[0] + 8 + wide / 2, "left"),
                (top[0] - 8 - wide / 2, "right"),
            )
        ]
        if not self.desk.free((*top, *low)):
            return None
        return next((tag for tag in tags if self.desk.free(tag.box)), None)
