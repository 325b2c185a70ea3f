"""Invented plots, grounds and beds of other shapes than the demo garden's."""

from __future__ import annotations

import numpy as np

import bedcalc as bc
from bedcalc import Q_

#: 9 by 8 m with the lower right corner, 4.5 by 4 m, cut out: 54 m2 by hand
L_SHAPE = ((0, 0), (9, 0), (9, 4), (4.5, 4), (4.5, 8), (0, 8))
#: half of 10 by 6 m: 30 m2 by hand
TRIANGLE = ((0, 0), (10, 0), (0, 6))
#: no side along an axis, begun away from the first corner, against the clock
IRREGULAR = ((-2.0, 1.0), (1.5, 9.0), (8.0, 7.5), (11.0, 2.0), (4.0, -1.5))
SHAPES = {"L": L_SHAPE, "triangle": TRIANGLE, "irregular": IRREGULAR}

#: which way the ground falls: name, x and y of that way
WAYS = {
    "bottom": (0, 1), "bottom right": (1, 1), "right": (1, 0), "top right": (1, -1),
    "top": (0, -1), "top left": (-1, -1), "left": (-1, 0), "bottom left": (-1, 1),
}  # fmt: skip


def survey(slope_x: float, slope_y: float, count: int = 5) -> bc.Survey:
    """Readings of a plane that rises so much along x and y."""
    points = [(0, 0), (9, 0), (4.5, 8), (0, 8), (4, 4)][:count]
    return bc.Survey(
        readings=tuple((x, y, 1.2 - slope_x * x - slope_y * y) for x, y in points)
    )


def falling(way: str, slope: float = 0.06) -> bc.Survey:
    """Ground that falls to one side of the plan."""
    x, y = np.array(WAYS[way]) / np.hypot(*WAYS[way])
    return survey(-slope * x, -slope * y)


def bed(name: str, x: float, y: float, **more) -> bc.Bed:
    """A bed of boards, 2.4 by 1.0 m, 50 cm high."""
    sizes = dict(length=Q_(2.4, "m"), width=Q_(1.0, "m"), height=Q_(500, "mm"))
    sizes |= dict(wall=bc.Wall.named("boards"), x=Q_(x, "m"), y=Q_(y, "m"))
    return bc.Bed(name=name, **(sizes | more))


BEDS = (bed("Beans", 0.8, 1.6), bed("Peas", 0.8, 4.4, turned=True), bed("Kale", 6, 1.6))


def place(**known) -> bc.Place:
    """The invented place Cutcorner, with what is known of it."""
    plot = bc.Plot(outline=L_SHAPE, downhill=180)
    return bc.Place(name="Cutcorner", **({"plot": plot} | known))
