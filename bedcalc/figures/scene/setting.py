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
from .shares import Share, shares
from .svg import Path, Words

__all__ = ["Setting"]

_ROW = 23  # pixels between layer names
_ASIDE = (-150, -110, -80, -50, -20, 10, 40, 70, 100, 140, 180, 230, 280)
_CARD = 62  # pixels from the upper edge of the card of the bow to its lower one


class Setting:
    """All words of one picture, with the lines that lead to their parts."""

    def __init__(self, picture, frame: Frame, plot: Plot, held: bool):
        self.picture, self.frame, self.plot = picture, frame, plot
        self.plan, self.narrow = picture.plan, picture.narrow
        self.desk = Table(frame, held)
        self.paths: list[Path] = []
        self.notes: list[Words] = []
        self.hull = frame.pixels(picture.hull)
        self.lawn = frame.pixels(picture.lawn(plot))
        self._keep_free()
        if not self.narrow:
            self._card()
            self._layers()
            if not picture.level:
                self._slope()
        self._off_the_lawn()
        self._bow()
        for share in shares(picture.outcome)[: 2 if self.narrow else 4]:
            self._share(share)

    def _keep_free(self) -> None:
        """No words over the bed, and none over whoever works at it."""
        p = self.plan
        top = p.height + p.cap_thick
        x = np.linspace(-p.cap_out, p.length + p.cap_out, 13)
        back = self.frame.pixels(np.column_stack([x, 0 * x + p.width, 0 * x + top]))
        foot = np.maximum(p.soil(x, 0.0), p.floor)
        low = self.frame.pixels(np.column_stack([x, 0 * x, foot]))
        for k in range(12):
            left, right = back[k][0], back[k + 1][0]
            self.desk.keep_free((left, back[k][1], right, low[k + 1][1]))
        for k in range(12):
            self.desk.keep_free((low[k][0], back[k][1], low[k + 1][0], low[k + 1][1]))
        for box in self.picture.figure_boxes(self.frame):
            self.desk.keep_free(box, lines=True)

    def _off_the_lawn(self) -> None:
        """From here on no words on the lawn either, nor on the ground under the bed."""
        p, plot = self.plan, self.plot
        for x, y, ends in (
            ((plot.left, p.opened), (plot.near, 0.0), 10),
            ((p.opened, p.length), (0.0, p.half), 10),
            ((p.length, plot.right), (p.half, plot.far), 6),
        ):
            run = np.linspace(*x, ends)
            top = self.frame.pixels(
                np.column_stack([run, 0 * run + y[1], p.soil(run, y[1])])
            )
            low = self.frame.pixels(
                np.column_stack([run, 0 * run + y[0], p.soil(run, y[0]) - plot.thick])
            )
            for k in range(ends - 1):
                left = min(low[k][0], top[k][0])
                right = max(low[k + 1][0], top[k + 1][0])
                self.desk.keep_free((left, top[k][1], right, low[k + 1][1]))

    # ---- what is inside

    def _layers(self) -> None:
        """Layer names in one column, top layer first, each led to its own cut."""
        made = steps(self.plan)[::-1]
        if not made:
            return
        p, right = self.plan, self.plan.length - self.plan.wall - self.plan.wave[1]
        spots = [
            (right, 0.5 * max(m.b, p.wall) + 0.5 * p.half, 0.5 * (m.low + m.top))
            for m in made
        ]
        if len(made) > 1:  # the uppermost shows its top best
            back = 0.4 * p.half + 0.6 * (p.width - p.wall)
            spots[0] = (right - 0.06 * p.length, back, made[0].top)
        spots = self.frame.pixels(spots)
        x = max(self.hull[:, 0].max(), self.lawn[:, 0].max()) + 14
        room = 0.5 * _ROW * (len(made) - 1)
        middle = float(np.mean(spots[:, 1])) - 30
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

    def _spot(self, part: str) -> tuple[np.ndarray, bool]:
        """Where a part is pointed at, in space, and whether its words stand above."""
        p, made = self.plan, self.picture.made
        top, rim = p.height + p.cap_thick, p.height
        out = p.cap_out if p.cap_wide else 0.0
        free = 0.5 * (p.opened + p.length)
        in_bay = [t for t in made.ties if t.x > p.opened - 0.02] or list(made.ties)
        face = (p.rail_high or p.course or 0.1) if p.family != "trough" else p.course
        at = {
            "top": (0.62 * p.opened, -0.5 * out, rim - 0.35 * face),
            "post": (p.opened, p.behind, 0.4 * p.height),
            "corner": (p.length - 0.02, 0.0, rim - 0.4 * face),
            "sheet": (0.3 * p.opened, p.wall, 0.5 * p.height),
            "all": (0.5 * p.opened, 0.0, 0.5 * p.height),
            "tips": (0.5 * p.opened, 0.0, rim - 0.5 * p.course),
            "foot": (0.5 * (free + p.length), 0.0, p.floor + 0.4 * min(face, 0.1)),
        }  # fmt: skip
        for part_, foot in (("tie", False), ("base tie", True)):
            ties = [t for t in in_bay if t.foot == foot]
            if ties:
                at[part_] = (ties[-1].x, 0.0, ties[-1].z)
        if p.family == "trough":
            at["foot"] = (0.5 * (free + p.length), 0.0, p.floor - 0.04)
        elif p.family != "sheet":  # the opened bay has no lowest course
            at["foot"] = (0.97 * p.opened, 0.0, p.floor + 0.6 * min(face, p.height))
        if p.cap_wide and part == "top":
            at["top"] = (0.62 * p.opened, -out, top - 0.4 * p.cap_thick)
        spot = np.array([at.get(part, at["top"])], float)
        if p.tips and part == "tips":
            spot = p.tipped(spot, spot[0, 0])
        return self.picture.bent(spot)[0], part not in ("foot", "base tie")

    def _share(self, share: Share) -> None:
        """One part with sign, name and share, led to the part itself."""
        spot, above = self._spot(share.part)
        at = self.frame.pixels([spot])[0]
        text = f"{share.label} <b>{share.used}</b>"
        wide = Tag.wide(text, share.verdict)
        if above:
            lifts = [self.hull[:, 1].min() - lift for lift in (14, 36, 58, 80)]
            lifts = [*lifts, 12, 34]
        else:
            lifts = [max(at[1], self.hull[:, 1].max()) + down for down in (26, 46, 66)]
            lifts += [self.lawn[:, 1].max() + down for down in (-20, 2, 14, 30)]
        edge = wide / 2 + 4
        self.desk.put(
            Tag(
                text=text,
                x=float(np.clip(at[0] + aside, edge, self.frame.width - edge)),
                y=float(y),
                to=tuple(at.tolist()),
                start="bottom" if above else "top",
                verdict=share.verdict,
            )
            for y, aside in sorted(
                ((y, aside) for y in lifts for aside in _ASIDE),
                key=lambda spot: abs(spot[1] - 30) + 2.5 * abs(spot[0] - lifts[0]),
            )
        )

    def _bow(self) -> None:
        """How far the wall bows, over the back of the bed."""
        picture, p = self.picture, self.plan
        if picture.bow <= 0:
            return
        x, bow = picture.apex
        out = p.cap_out if p.cap_wide else 0.0
        tip = self.frame.pixels([(x, -out - bow, p.height + p.cap_thick)])[0]
        text = words.bow_words(picture.outcome, picture.system)
        wide = text_size(text, theme.LABEL)[0]
        back, edge = self.hull[:, 1].min(), wide / 2 + 5
        self.desk.put(
            Tag(
                text=text,
                x=float(np.clip(tip[0] + aside, edge, self.frame.width - edge)),
                y=back - lift,
                to=tuple(tip.tolist()),
                start="bottom",
            )
            for lift in (14, 36, 58)
            for aside in (-20.0, 20.0, -60.0, 60.0, -110.0, 110.0, 190.0)
        )

    def _card(self) -> None:
        """The bow from above, as drawn and as it is."""
        picture = self.picture
        if picture.bow <= 0 or picture.factor == 1 or self.frame.width < 520:
            return
        if picture.walls.past_sums:  # no shape of it is known
            return
        walls, p = picture.walls, self.plan
        x, y = 10.0, self.frame.height - _CARD + 8.0
        run = (np.asarray(walls.x, float) - walls.x[0]) / (walls.x[-1] - walls.x[0])
        bow = np.asarray(walls.bow_x_years, float) / p.length
        ties = [t.x / p.length for t in picture.made.ties if not t.foot]
        self.paths += marks.card(
            x, y + 22, run, bow, picture.factor, picture.drawn_factor, ties
        )
        self.notes += [
            Words(f"Bow {words.factor_words(*picture.factors)}", x, y, theme.LABEL),
            Words("as drawn", x + marks.CARD + 10, y + 22, theme.TICK, theme.SECOND),
            Words("as it is", x + marks.CARD + 10, y + 46, theme.TICK, theme.SECOND),
        ]
        self.desk.keep_free((x, y - 12, x + marks.CARD + 66, y + _CARD - 8))

    def _slope(self) -> None:
        """The arrow down the slope and its words, where the front lawn has room."""
        p, frame, near = self.plan, self.frame, self.plot.near
        fall = show(float(self.picture.outcome.site.si.slope), "percent")
        text = f"falls <b>{fall}</b>"
        long = min(0.55 * max(-near, 0.1), 0.36)
        for along in (0.16, 0.3, 0.45, 0.05, 0.6):
            for depth in (0.5, 0.62, 0.4):
                way = marks.arrow(p, along * p.opened, depth * near, long)
                px, wide = frame.pixels(way), text_size(text, theme.LABEL)[0]
                low, top = px.max(0), px.min(0)
                tag = Tag(text=text, x=low[0] + 10 + wide / 2, y=(low[1] + top[1]) / 2)
                if self.desk.free((*top, *low)) and self.desk.free(tag.box):
                    runs = (px[:2], np.array([px[2], px[1], px[4]]))
                    self.paths.append(Path(runs, line=1.8, ink=theme.INK))
                    self.desk.put([tag])
                    return
