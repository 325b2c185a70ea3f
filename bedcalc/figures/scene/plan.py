"""What the picture needs to know of a bed: plain numbers, so that drawings can be kept.

Everything here is read off the outcome; nothing is worked out anew.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from bedcalc.assembly import assembly, levels, post_axes, sheet_depth, tie_inset
from bedcalc.tables import table

from .shares import shares

__all__ = ["Plan", "plan_of"]

_TIMBER = {"oak": "oak", "southern_pine": "treated", "recycled_plastic": "plastic"}


@dataclass(frozen=True, kw_only=True)
class Plan:
    """Sizes in metres, and what things are made of.

    ``posts`` are the axes of the posts between the corners, ``axes`` those of all;
    ``behind`` is how far in from the outside a post stands, ``rows`` the courses from
    the foot, ``tie_in`` how far below the rim and above the foot a tie goes through,
    ``tips`` the course of loose blocks that tips over (0: none), ``weak``
    the parts of the front wall that do not hold.
    """

    family: str
    length: float
    width: float
    height: float
    soil_depth: float
    wall: float
    course: float
    rail_high: float
    post: float
    cap_wide: float
    cap_thick: float
    cap_out: float
    slat: float
    block: float
    wave: tuple[float, float]
    ribs_lying: bool
    timber: str
    posts: tuple[float, ...]
    axes: tuple[float, ...]
    behind: float
    rows: tuple[tuple[float, float], ...]
    tie_in: float
    pins: tuple[tuple[float, float], ...]
    layers: tuple[tuple[str, float], ...]
    ground: tuple[float, float, float, float]
    tips: int = 0
    weak: frozenset[tuple[str, int]] = frozenset()

    @cached_property
    def stations(self) -> np.ndarray:
        """Where long bars may bend."""
        return np.linspace(0, self.length, 15 if self.length <= 4.5 else 21)

    @cached_property
    def floor(self) -> float:
        """Underside of the fill: zero, or the slatted floor of a trough."""
        return self.height - self.soil_depth if self.family == "trough" else 0.0

    @cached_property
    def opened(self) -> float:
        """Where the cut-away begins: a post near the middle, if there is one."""
        aim = 0.52 * self.length
        near = [x for x in self.posts if abs(x - aim) < 0.12 * self.length]
        if near:
            return min(near, key=lambda x: abs(x - aim))
        if self.family == "blocks":
            joints = np.arange(self.block, self.length - 0.15, self.block)
            if len(joints):
                return float(joints[np.argmin(np.abs(joints - 0.5 * self.length))])
        return aim

    @property
    def behind_opened(self) -> bool:
        """Whether a post stands where the cut-away begins."""
        return any(abs(x - self.opened) < 1e-6 for x in self.posts)

    @cached_property
    def half(self) -> float:
        """How far the right end is opened, from the front."""
        return self.width / 2

    @cached_property
    def rigid(self) -> float:
        """Outer strip that moves as one when a wall bows."""
        return min(
            max(self.wall, self.cap_wide - self.cap_out, 0.02), 0.35 * self.width
        )

    def soil(self, x, y):
        """Height of the ground over the underside of the bed at x, y (away)."""
        d0, d1, _, d3 = self.ground
        along = (d1 - d0) / self.length
        down = (d3 - d0) / self.width
        return d0 + along * x + down * (self.width - y)

    def sway(self, points: np.ndarray) -> np.ndarray:
        """Share of the top's bow that a point takes part in; minus is towards us."""
        mid = self.width / 2
        across = np.clip((points[:, 1] - mid) / (mid - self.rigid), -1, 1)
        high = self.height - self.floor
        return across * np.clip((points[:, 2] - self.floor) / high, 0, 1)

    def tipped(self, points: np.ndarray, x: float) -> np.ndarray:
        """Points of a course that tips about its outer edge, most in the middle."""
        share = np.sin(np.pi * np.clip(x / max(self.opened, 0.1), 0, 1))
        turn = np.radians(8 + 7 * share)
        low = self.rows[self.tips - 1][0]
        y, z = points[:, 1], points[:, 2] - low
        return np.column_stack(
            [
                points[:, 0],
                y * np.cos(turn) - z * np.sin(turn),
                low + y * np.sin(turn) + z * np.cos(turn),
            ]
        )


def _timber(wall) -> str:
    return _TIMBER.get(wall.wood, "timber")


def _tips(outcome) -> int:
    """Which course of loose blocks tips over, counted from 1; 0 where none does."""
    tipping = [c for c in outcome.walls.checks if c.name == "tipping" and not c.ok]
    return len(levels(outcome.bed)) if tipping else 0


def _weak(outcome) -> frozenset[tuple[str, int]]:
    """The members of the front wall that do not hold: what they are and which."""
    failing = [share.pieces for share in shares(outcome) if share.fails]
    return frozenset(piece for pieces in failing for piece in pieces)


def plan_of(outcome) -> Plan:
    """The plan of the bed of an outcome."""
    bed, s, w = outcome.bed, outcome.bed.si, outcome.bed.wall.si
    family = bed.wall.family
    lying = family == "trough" or bed.rail_lying
    block, wave = w.course, (0.0, 0.0)
    if family == "blocks":
        block = bed.wall.block_row.length
    if family == "sheet":
        row = table("sheets")[bed.wall.sheet]
        wave = (float(row.pitch), float(row.depth))
    layers = tuple(
        (layer.si.material, float(layer.si.depth)) for layer in outcome.fill.layers
    )
    return Plan(
        family=family,
        length=float(s.length),
        width=float(s.width),
        height=float(s.height),
        soil_depth=float(s.soil_depth),
        wall=float(s.wall_thickness),
        course=float(w.course),
        rail_high=float(w.rail_thin if lying else w.rail_wide),
        post=float(w.post),
        cap_wide=float(w.cap_wide),
        cap_thick=float(w.cap_thick),
        cap_out=float(w.cap_out),
        slat=float(w.slat_wide),
        block=float(block),
        wave=wave,
        ribs_lying=bool(bed.ribs_lying),
        timber=_timber(bed.wall),
        posts=tuple(float(x) for x in np.ravel(outcome.walls.si.posts_x)),
        axes=tuple(float(x) for x in post_axes(bed)),
        behind=float(s.wall_thickness + sheet_depth(bed)),
        rows=() if family == "sheet" else tuple(levels(bed)),
        tie_in=float(tie_inset(bed)),
        pins=tuple((pin.x, pin.y) for pin in assembly(bed).pins),
        layers=layers,
        tips=_tips(outcome),
        weak=_weak(outcome),
        ground=tuple(float(d) for d in np.ravel(outcome.site.own_depths)),
    )
