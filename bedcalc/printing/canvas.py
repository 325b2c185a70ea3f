"""Drawing to a stated scale: SVG in millimetres on paper from metres on the bed."""

from __future__ import annotations

from markupsafe import Markup

from .page import plain

__all__ = ["GREY", "Canvas", "check_bar", "scale_for"]

#: greys that stay apart on any printer
GREY = {"timber": "#e9e9e9", "post": "#cfcfcf", "sheet": "#fff", "stone": "#dedede"}
SCALES = {
    "metric": (5, 8, 10, 15, 20, 25, 30, 40, 50),
    "us": (6, 8, 12, 16, 24, 32, 48),
}
THIN, LINE, STRONG = 0.15, 0.3, 0.55
FONT = 'font-family="Liberation Sans, Arial, sans-serif"'
TEXT = 3.2  # mm, about 9 pt


def scale_for(wide: float, room: float, system: str) -> int:
    """The largest scale 1 to n at which ``wide`` metres fit into ``room`` mm."""
    for n in SCALES[system]:
        if wide * 1000 / n <= room:
            return n
    return SCALES[system][-1]


class Canvas:
    """Shapes in metres, y upwards, drawn 1 to ``n``; text and lines in paper mm."""

    def __init__(self, n: float, system: str = "metric"):
        self.k, self.system = 1000.0 / n, system
        self._parts: list[str] = []
        self._box = [1e9, 1e9, -1e9, -1e9]

    def _at(self, x, y, pad=0.0):
        px, py = x * self.k, -y * self.k
        box = self._box
        box[0], box[1] = min(box[0], px - pad), min(box[1], py - pad)
        box[2], box[3] = max(box[2], px + pad), max(box[3], py + pad)
        return px, py

    def rect(self, x0, y0, x1, y1, fill="none", width=LINE, dash="") -> None:
        """A rectangle from corner to corner."""
        left, top = self._at(min(x0, x1), max(y0, y1), 0.5)
        self._at(max(x0, x1), min(y0, y1), 0.5)
        w, h = abs(x1 - x0) * self.k, abs(y1 - y0) * self.k
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        self._parts.append(
            f'<rect x="{left:.2f}" y="{top:.2f}" width="{w:.2f}" height="{h:.2f}" '
            f'fill="{fill}" stroke="#000" stroke-width="{width}"{dashed}/>'
        )

    def line(self, points, width=LINE, dash="", fill="none") -> None:
        """A line through points."""
        path = " ".join("{:.2f},{:.2f}".format(*self._at(x, y)) for x, y in points)
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        self._parts.append(
            f'<polyline points="{path}" fill="{fill}" stroke="#000" '
            f'stroke-width="{width}"{dashed}/>'
        )

    def screw(self, x, y, size=0.8) -> None:
        """A small cross."""
        px, py = self._at(x, y)
        s = size
        self._parts.append(
            f'<path d="M{px - s:.2f} {py - s:.2f}L{px + s:.2f} {py + s:.2f}'
            f'M{px - s:.2f} {py + s:.2f}L{px + s:.2f} {py - s:.2f}" stroke="#000" '
            'stroke-width="0.25"/>'
        )

    def dot(self, x, y, size=0.9, fill="#000") -> None:
        """A round mark."""
        px, py = self._at(x, y)
        self._parts.append(
            f'<circle cx="{px:.2f}" cy="{py:.2f}" r="{size}" fill="{fill}" '
            'stroke="#000" stroke-width="0.3"/>'
        )

    def ring(self, x, y, radius, width=THIN, dash="1.2 0.8") -> None:
        """A circle in metres, such as the crown of a tree."""
        px, py = self._at(x, y, radius * self.k)
        self._parts.append(
            f'<circle cx="{px:.2f}" cy="{py:.2f}" r="{radius * self.k:.2f}" '
            f'fill="none" stroke="#000" stroke-width="{width}" '
            f'stroke-dasharray="{dash}"/>'
        )

    def text(
        self,
        x,
        y,
        words,
        *,
        dx=0.0,
        dy=0.0,
        size=TEXT,
        anchor="middle",
        bold=False,
        turn=False,
        halo=True,
    ) -> None:
        """Words at a point, moved by dx, dy paper mm (dy downwards)."""
        px, py = self._at(x, y)
        px, py = px + dx, py + dy
        wide = len(str(words)) * size * 0.52
        left = px - {"start": 0, "middle": wide / 2, "end": wide}[anchor]
        box = self._box
        if turn:
            ends = (px - size, py - wide / 2, px + 1, py + wide / 2)
        else:
            ends = (left, py - size, left + wide, py + 1)
        box[:] = [
            min(box[0], ends[0]),
            min(box[1], ends[1]),
            max(box[2], ends[2]),
            max(box[3], ends[3]),
        ]
        more = f' transform="rotate(-90 {px:.2f} {py:.2f})"' if turn else ""
        more += ' font-weight="700"' if bold else ""
        if halo:
            more += ' stroke="#fff" stroke-width="1" paint-order="stroke"'
            self._parts.append(
                f'<text x="{px:.2f}" y="{py:.2f}" font-size="{size}" fill="#fff" '
                f'text-anchor="{anchor}" aria-hidden="true"{more}>{plain(words)}</text>'
            )
            more = more.replace(' stroke="#fff" stroke-width="1"', "")
            more = more.replace(' paint-order="stroke"', "")
        self._parts.append(
            f'<text x="{px:.2f}" y="{py:.2f}" font-size="{size}" '
            f'text-anchor="{anchor}"{more}>{plain(words)}</text>'
        )

    def across(self, x0, x1, y, words, off=6.0) -> None:
        """A dimension along x, ``off`` paper mm under (or over, if negative) y."""
        a, py = self._at(x0, y)
        b, _ = self._at(x1, y)
        at = py + off
        box = self._box
        box[1], box[3] = min(box[1], at - 4), max(box[3], at + 2)
        self._parts.append(
            f'<path d="M{a:.2f} {at:.2f}H{b:.2f}M{a:.2f} {at - 1.2:.2f}V{at + 1.2:.2f}'
            f"M{b:.2f} {at - 1.2:.2f}V{at + 1.2:.2f}M{a:.2f} {py:.2f}V{at:.2f}"
            f'M{b:.2f} {py:.2f}V{at:.2f}" stroke="#000" stroke-width="{THIN}" '
            'fill="none"/>'
        )
        self.text((x0 + x1) / 2, y, words, dy=off - 1.0)

    def upright(self, y0, y1, x, words, off=-6.0) -> None:
        """A dimension along y, ``off`` paper mm beside x."""
        px, a = self._at(x, y0)
        _, b = self._at(x, y1)
        at = px + off
        box = self._box
        box[0], box[2] = min(box[0], at - 4), max(box[2], at + 2)
        self._parts.append(
            f'<path d="M{at:.2f} {a:.2f}V{b:.2f}M{at - 1.2:.2f} {a:.2f}H{at + 1.2:.2f}'
            f"M{at - 1.2:.2f} {b:.2f}H{at + 1.2:.2f}M{px:.2f} {a:.2f}H{at:.2f}"
            f'M{px:.2f} {b:.2f}H{at:.2f}" stroke="#000" stroke-width="{THIN}" '
            'fill="none"/>'
        )
        self.text(x, (y0 + y1) / 2, words, dx=off - 1.0, turn=True)

    def svg(self, label: str) -> Markup:
        """The drawing, in true size on paper."""
        x0, y0, x1, y1 = self._box
        x0, y0, x1, y1 = x0 - 1, y0 - 1, x1 + 1, y1 + 1
        return Markup(
            f'<svg xmlns="http://www.w3.org/2000/svg" {FONT} role="img" '
            f'aria-label="{plain(label)}" width="{x1 - x0:.2f}mm" '
            f'height="{y1 - y0:.2f}mm" viewBox="{x0:.2f} {y0:.2f} {x1 - x0:.2f} '
            f'{y1 - y0:.2f}">{"".join(self._parts)}</svg>'
        )


def check_bar(system: str) -> Markup:
    """A bar of 100 mm or 4 in: if it measures right, the drawing is to scale."""
    long_, words, step = (
        (100.0, "100 mm", 10.0) if system == "metric" else (101.6, "4 in", 25.4)
    )
    ticks = "".join(
        f"M{step * n:.2f} 1V{3 if n % 5 else 2:g}"
        for n in range(round(long_ / step) + 1)
    )
    return Markup(
        f'<svg xmlns="http://www.w3.org/2000/svg" {FONT} role="img" aria-label="'
        f'check bar, {words}" width="{long_ + 62:.1f}mm" height="6mm" '
        f'viewBox="-0.5 0 {long_ + 62:.1f} 6">'
        f'<rect x="0" y="3" width="{long_}" height="1.2" fill="#000"/>'
        f'<path d="{ticks}" stroke="#000" stroke-width="0.25" fill="none"/>'
        f'<text x="{long_ + 2.5}" y="4.6" font-size="{TEXT}">measures {words}? '
        "Then it is to scale.</text></svg>"
    )
