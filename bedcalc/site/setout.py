"""Setting out: square corners, lines parallel to a house, paths of one width."""

from __future__ import annotations

import numpy as np

from ..units import Value, quantities

__all__ = [
    "diagonal",
    "diagonals_racked",
    "line_skew",
    "slide_to_square",
]


@quantities("m", length="m (0, inf)", width="m (0, inf)")
def diagonal(length: Value, width: Value) -> Value:
    """What both diagonals of a true rectangle measure.

    Parameters
    ----------
    length : quantity [m]
        One side.
    width : quantity [m]
        The other side.

    Returns
    -------
    quantity [m]
        sqrt(L^2 + W^2).

    Notes
    -----
    Source: computed, Pythagoras.
    """
    return np.hypot(length, width)


@quantities("m", longer="m", shorter="m", length="m (0, inf)")
def slide_to_square(longer: Value, shorter: Value, length: Value) -> Value:
    """How far one long side has to slide along itself to make the frame square.

    Parameters
    ----------
    longer : quantity [m]
        The longer diagonal.
    shorter : quantity [m]
        The shorter diagonal.
    length : quantity [m]
        Length of the side that slides.

    Returns
    -------
    quantity [m]
        (D1^2 - D2^2) / 4L.

    Notes
    -----
    Exact for a frame whose opposite sides are equal; equal diagonals alone also fit a
    frame that is wider at one end. Source: computed, law of cosines.
    """
    return (longer**2 - shorter**2) / (4 * length)


@quantities(("m", "m"), length="m (0, inf)", width="m (0, inf)", slid="m")
def diagonals_racked(length: Value, width: Value, slid: Value) -> tuple[Value, ...]:
    """The two diagonals of a frame that is out of square.

    Parameters
    ----------
    length : quantity [m]
        Side along which it has slid.
    width : quantity [m]
        Distance square to it.
    slid : quantity [m]
        How far one long side is out.

    Returns
    -------
    tuple of quantity [m, m]
        Longer and shorter diagonal.

    Notes
    -----
    sqrt((L +- slid)^2 + W^2). Source: computed, Pythagoras.
    """
    return np.hypot(length + slid, width), np.hypot(length - slid, width)


@quantities("rad", first="m", second="m", span="m (0, inf)")
def line_skew(first: Value, second: Value, span: Value) -> Value:
    """How far a line is turned against a house or a fence.

    Parameters
    ----------
    first : quantity [m]
        Offset to the wall at one end, square to the wall.
    second : quantity [m]
        Offset at the other end.
    span : quantity [m]
        Between the two places.

    Returns
    -------
    quantity [rad]
        atan of the difference over the span; zero when parallel.

    Notes
    -----
    Source: computed, geometry.
    """
    return np.arctan2(first - second, span)
