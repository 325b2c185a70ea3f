"""Posture: how far one bends to reach the soil, and whether knees fit under a trough.

A body is drawn as straight legs, a straight trunk that bends at the hip, and an arm
that hangs down. Real people bend their knees as well; the model shows the trend.
"""

from __future__ import annotations

import numpy as np

from ..tables import table
from ..units import Value, quantities

__all__ = [
    "bend_angle",
    "clear_height",
    "reach_into",
    "seat_verdict",
    "soil_over_knees",
]


def _ratios() -> tuple[float, float, float]:
    """Hip height, shoulder height and arm length as shares of the stature."""
    rows = table("body")
    return rows["hip"].share, rows["shoulder"].share, rows["arm"].share


@quantities("deg", stature="m (0, inf)", hand="m")
def bend_angle(stature: Value, hand: Value) -> Value:
    """How far the trunk leans forward when the hand is at a given height.

    Parameters
    ----------
    stature : quantity [m]
        How tall the person is.
    hand : quantity [m]
        Height of the hand above the ground one stands on.

    Returns
    -------
    quantity [deg]
        0 when one stands upright, 90 with a level trunk; not-a-number below what a
        straight-legged person can touch.

    Notes
    -----
    cos(bend) = (hand + arm - hip) / (shoulder - hip), all as shares of the stature.
    Valid with straight legs and a hanging arm; below about 60 degrees of reach most
    people bend their knees instead. Source: from_memory, segment lengths after Drillis
    and Contini as printed in D. A. Winter's book on human movement.
    """
    hip, shoulder, arm = _ratios()
    lean = (hand + (arm - hip) * stature) / ((shoulder - hip) * stature)
    lean = np.where(lean < -1.0, np.nan, np.minimum(lean, 1.0))
    return np.arccos(lean)


@quantities("m", stature="m (0, inf)")
def clear_height(stature: Value) -> Value:
    """The height above which the hand needs no bending at all.

    Parameters
    ----------
    stature : quantity [m]
        How tall the person is.

    Returns
    -------
    quantity [m]
        Shoulder height less arm length.

    Notes
    -----
    (shoulder - arm) x stature. Valid for a person who stands upright.
    Source: from_memory, as :func:`bend_angle`.
    """
    _, shoulder, arm = _ratios()
    return (shoulder - arm) * stature


@quantities("m", rim="m", clearance="m", floor="m")
def soil_over_knees(rim: Value, clearance: Value, floor: Value) -> Value:
    """Depth of soil that is left in a trough above a knee space.

    Parameters
    ----------
    rim : quantity [m]
        Height of the rim above the ground.
    clearance : quantity [m]
        Free height that knees need.
    floor : quantity [m]
        Thickness of the trough's floor with its bearers.

    Returns
    -------
    quantity [m]
        Rim less clearance less floor; below zero it cannot be built.

    Notes
    -----
    Valid for a flat floor over the whole knee space. Source: ada_2010, section 306.3
    for the clearance.
    """
    return rim - clearance - floor


@quantities("m", reach="m [0, inf)", overhang="m", wall="m [0, inf)", freeboard="m")
def reach_into(reach: Value, overhang: Value, wall: Value, freeboard: Value) -> Value:
    """How far into the soil a hand comes from outside the cap.

    Parameters
    ----------
    reach : quantity [m]
        From the outside of the cap, measured level.
    overhang : quantity [m]
        How far the cap stands out over the wall.
    wall : quantity [m]
        Thickness of the wall.
    freeboard : quantity [m]
        How far the soil lies under the rim; the arm goes down as well as across.

    Returns
    -------
    quantity [m]
        Measured on the soil from the inner face of the wall.

    Notes
    -----
    sqrt(reach^2 - freeboard^2) - overhang - wall. Valid for a freeboard less than the
    reach. Source: common practice.
    """
    across = np.sqrt(np.maximum(reach**2 - freeboard**2, 0.0))
    return np.maximum(across - overhang - wall, 0.0)


@quantities(None, height="m (0, inf)", cap="m")
def seat_verdict(height: Value, cap: Value):
    """Whether the rim is a place to sit.

    Parameters
    ----------
    height : quantity [m]
        Height of the rim above the ground.
    cap : quantity [m]
        Width of the cap.

    Returns
    -------
    bool or array of bool
        True where height and cap are both in the range people sit on.

    Notes
    -----
    Rim 400 to 500 mm, cap at least 100 mm. Source: common practice.
    """
    low, high, least = (
        table("body")[key].length for key in ("seat_low", "seat_high", "seat_cap")
    )
    return (height >= low - 1e-9) & (height <= high + 1e-9) & (cap >= least - 1e-9)
