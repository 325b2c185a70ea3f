"""Words for places on the plan: corners, and which way the ground falls."""

from __future__ import annotations

from typing import Any

import numpy as np

__all__ = ["CORNERS", "corner_names", "fall_words"]

#: corners of a bed or plot by their place on the plan, in the order of every ring
CORNERS = ("top left", "top right", "bottom right", "bottom left")
_WAYS = (
    "to the bottom", "to the bottom right", "to the right", "to the top right",
    "to the top", "to the top left", "to the left", "to the bottom left",
)  # fmt: skip  # rows of a table
_COMPASS = (
    "north", "north-east", "east", "south-east", "south", "south-west", "west",
    "north-west",
)  # fmt: skip  # rows of a table


def corner_names(depths: Any) -> tuple[str, ...]:
    """The four corners of a level bed, with which of them lies highest and lowest.

    Parameters
    ----------
    depths : array (4,)
        Trench depths in ring order, in metres: where it is deepest, the ground is
        highest.
    """
    depths = np.asarray(depths, dtype=float)
    if np.ptp(depths) < 1e-3:
        return CORNERS
    found = []
    for name, depth in zip(CORNERS, depths, strict=True):
        if depth > depths.max() - 5e-4:
            name += " (highest)"
        elif depth < depths.min() + 5e-4:
            name += " (lowest)"
        found.append(name)
    return tuple(found)


def fall_words(slope_x: float, slope_y: float, downhill: float | None = None) -> str:
    """Which way the ground falls, on the plan and by the compass where it is known.

    Parameters
    ----------
    slope_x, slope_y : float
        Rise of the ground along x and y.
    downhill : float or None
        Compass bearing of +y in degrees.
    """
    if np.hypot(slope_x, slope_y) < 1e-9:
        return "nowhere"
    turn = np.rad2deg(np.arctan2(-slope_x, -slope_y))
    words = f"{_WAYS[round(turn / 45) % 8]} of the plan"
    if downhill is not None:
        words += f", {_COMPASS[round((downhill - turn) / 45) % 8]}"
    return words
