"""Collects the pieces and joints of a bed while they are placed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from ..model.bed import Bed
from ..tables import table
from .pieces import Joint, Member

__all__ = ["Maker"]

BITE = 0.03  # m, at least, that a screw goes into the piece that holds it
TIP = 0.003  # m of wood that stay in front of the point of a screw


class Maker:
    """Collects members and joints; numbers the members of each kind."""

    def __init__(self, bed: Bed):
        self.bed, self.members, self.joints = bed, [], []
        self.density = table("woods")[bed.wall.wood].density if bed.wall.wood else 0.0
        self._count: dict[str, int] = {}

    def add(
        self,
        what: str,
        goods: str,
        box: Sequence[float],
        axis: str,
        size: tuple[float, float] = (0.0, 0.0),
        **more: Any,
    ) -> None:
        """Add a piece, if it is there at all."""
        x0, x1, y0, y1, z0, z1 = (float(v) for v in box)
        if min(x1 - x0, y1 - y0, z1 - z0) < -1e-9:
            return
        number = self._count[what] = self._count.get(what, 0) + 1
        self.members.append(
            Member(
                what=what,
                number=number,
                goods=goods,
                box=(x0, x1, y0, y1, z0, z1),
                axis=axis,
                thick=float(size[0]),
                wide=float(size[1]),
                density=more.pop("density", self.density),
                **more,
            )
        )

    def join(
        self,
        where: str,
        goods: str,
        way: Sequence[float],
        room: float,
        *screws: Sequence[float],
        outer: float = 0.0,
    ) -> None:
        """Add a joint with its screws.

        ``room`` is the wood in front of a head, ``outer`` what lies before the piece
        that has to hold; where that is thick, the screw is longer than usual.
        """
        usual = table("pilot_holes")[goods].length
        long_ = min(max(usual, float(outer) + BITE), float(room) - TIP)
        self.joints.append(
            Joint(
                where=where,
                goods=goods,
                way=tuple(float(v) for v in way),
                length=max(long_, 0.0),
                screws=tuple(tuple(float(v) for v in point) for point in screws),
            )
        )

    def ring(
        self,
        side: str,
        end: str,
        goods: str,
        levels_: Iterable[tuple[float, float]],
        size: tuple[float, float],
        straight: bool = True,
    ) -> None:
        """Long sides through and ends between them, course by course."""
        s, t = self.bed.si, self.bed.si.wall_thickness
        far, back = s.length - t, s.width - t
        sides = ("front", (0, s.length, 0, t)), ("back", (0, s.length, back, s.width))
        ends = ("left", (0, t, t, back)), ("right", (far, s.length, t, back))
        for what, long in ((side, True), (end, False)):
            for n, z in enumerate(levels_):
                for wall, plan in sides if long else ends:
                    self.add(
                        what,
                        goods,
                        (*plan, *z),
                        "x" if long else "y",
                        size,
                        wall=wall,
                        level=n,
                        straight=straight and long,
                    )
