"""Level: three rules for the underside of a level box on a slope, and what they dig.

Depths are positive where the box is let in and negative where it stands above the
ground, on a block.
"""

from __future__ import annotations

import numpy as np

from ..model.place import RULES
from ..tables import table
from ..units import Value, quantities

__all__ = [
    "RULES", "along_ground", "cut_and_fill", "depths_under", "exposed_wall", "loosened",
    "plan_shortening", "rim_shift", "slope_advice", "steps_needed", "strip_volume",
    "underside",
]  # fmt: skip  # a list of names


def underside(ground: np.ndarray, rule: str, embedment: float, limit: float):
    """Elevation of the underside of a level box.

    Parameters
    ----------
    ground : array (corners, ...)
        Elevation of the ground at the corners, in metres.
    rule : str
        ``all_cut``: the lowest corner is let in by ``embedment``. ``limited``: no
        corner deeper than ``limit``, low ones stand on blocks. ``balanced``: the mean
        of the corners, so that cut and fill are equal.
    embedment, limit : float
        In metres.

    Notes
    -----
    Source: common practice.
    """
    if rule not in RULES:
        raise ValueError(
            f"underside, rule: needs one of {', '.join(RULES)}; given {rule!r}; "
            "for example 'all_cut'"
        )
    ground = np.asarray(ground, dtype=float)
    if rule == "balanced":
        return ground.mean(axis=0)
    cut = ground.min(axis=0) - embedment
    return cut if rule == "all_cut" else np.maximum(cut, ground.max(axis=0) - limit)


@quantities("m", ground="m", underside="m")
def depths_under(ground: Value, underside: Value) -> Value:
    """How deep the underside lies below the ground at each corner.

    Parameters
    ----------
    ground : quantity [m]
        Elevation of the ground at the corners.
    underside : quantity [m]
        Elevation of the underside of the level box.

    Returns
    -------
    quantity [m]
        Positive: trench. Negative: height of a block.

    Notes
    -----
    Ground less underside. Source: common practice.
    """
    return ground - underside


@quantities("m", height="m (0, inf)", depths="m")
def exposed_wall(height: Value, depths: Value) -> Value:
    """How much of the wall stands above the ground at each corner.

    Parameters
    ----------
    height : quantity [m]
        Height of the box over its own underside.
    depths : quantity [m]
        Trench depths at the corners.

    Returns
    -------
    quantity [m]
        Height less depth.

    Notes
    -----
    For looks, guards and codes; the push of the fill goes by the height of the box.
    Source: common practice.
    """
    return height - depths


def cut_and_fill(length: float, width: float, depths: np.ndarray, parts: int = 120):
    """Ground to dig out and ground to fill in under a box, in cubic metres.

    Parameters
    ----------
    length, width : float or array
        Outside size in metres.
    depths : array (4, ...)
        Corner depths in ring order in metres, of either sign.
    parts : int
        Strips each way.

    Returns
    -------
    cut, fill : float or array

    Notes
    -----
    Integral of the surface through the four corners, its parts above and below the
    underside apart, by the midpoint rule; exact where no corner is below zero.
    Source: computed.
    """
    area, depths = length * width, np.asarray(depths, dtype=float)
    if (depths >= 0).all():
        return area * depths.mean(axis=0), 0.0 * area
    u = (np.arange(parts) + 0.5) / parts
    x, y = np.meshgrid(u, u)
    d1, d2, d3, d4 = depths[..., None, None]
    depth = d1 * (1 - x) * (1 - y) + d2 * x * (1 - y) + d3 * x * y + d4 * (1 - x) * y
    return (
        area * np.maximum(depth, 0).mean(axis=(-2, -1)),
        area * np.maximum(-depth, 0).mean(axis=(-2, -1)),
    )


@quantities(
    "m^3", length="m (0, inf)", width="m (0, inf)", depths="m", strip="m (0, inf)"
)
def strip_volume(length: Value, width: Value, depths: Value, strip: Value) -> Value:
    """Ground dug out if only a strip under the walls is dug.

    Parameters
    ----------
    length : quantity [m]
        Outside length.
    width : quantity [m]
        Outside width.
    depths : quantity [m]
        The four corner depths, all zero or more.
    strip : quantity [m]
        Width of the trench, inward from the outside.

    Returns
    -------
    quantity [m^3]
        Each side times the mean of its two depths, corners counted once.

    Notes
    -----
    strip x (sum of side x mean depth) - strip^2 x sum of depths. Valid for a strip of
    less than half the width. Source: computed.
    """
    sides = np.array([length, width, length, width])
    means = (depths + np.roll(depths, -1)) / 2
    return strip * np.sum(sides * means) - strip**2 * np.sum(depths)


@quantities("m^3", volume="m^3 [0, inf)", swell="[0, 2]")
def loosened(volume: Value, swell: Value) -> Value:
    """What dug ground takes up once it lies on a heap.

    Parameters
    ----------
    volume : quantity [m^3]
        As it lay.
    swell : quantity []
        Share by which it loosens, such as 0.25.

    Returns
    -------
    quantity [m^3]
        Volume times (1 + swell).

    Notes
    -----
    20 to 30 % for garden ground. Source: common practice.
    """
    return volume * (1 + swell)


@quantities("m", height="m (0, inf)", slope="[-5, 5]")
def rim_shift(height: Value, slope: Value) -> Value:
    """How far the rim moves uphill when a box that lay on the slope is made level.

    Parameters
    ----------
    height : quantity [m]
        Height of the box.
    slope : quantity []
        Slope across it, rise over level run.

    Returns
    -------
    quantity [m]
        H sin(theta), measured level, against the lower bottom edge.

    Notes
    -----
    theta = atan(slope). Source: computed, geometry of a turned box.
    """
    return height * slope / np.hypot(1.0, slope)


@quantities("m", length="m (0, inf)", slope="[-5, 5]")
def plan_shortening(length: Value, slope: Value) -> Value:
    """How much shorter a box looks from above while it lies on the slope.

    Parameters
    ----------
    length : quantity [m]
        Of the side that runs down the slope.
    slope : quantity []
        Rise over level run.

    Returns
    -------
    quantity [m]
        L (1 - cos(theta)).

    Notes
    -----
    theta = atan(slope). Source: computed, geometry.
    """
    return length * (1 - 1 / np.hypot(1.0, slope))


@quantities("m", plan="m (0, inf)", slope="[-5, 5]")
def along_ground(plan: Value, slope: Value) -> Value:
    """What a tape reads if it is laid on sloping ground instead of held level.

    Parameters
    ----------
    plan : quantity [m]
        The level distance.
    slope : quantity []
        Rise over level run along the tape.

    Returns
    -------
    quantity [m]
        Plan x sqrt(1 + slope^2).

    Notes
    -----
    Source: computed, Pythagoras.
    """
    return plan * np.hypot(1.0, slope)


@quantities(None, length="m (0, inf)", slope="[-5, 5]", allowed="m (0, inf)")
def steps_needed(length: Value, slope: Value, allowed: Value):
    """Into how many level parts a bed is stepped.

    Parameters
    ----------
    length : quantity [m]
        Down the slope.
    slope : quantity []
        Rise over level run, either sign.
    allowed : quantity [m]
        Fall that one part may have.

    Returns
    -------
    float
        The next whole number up, at least 1.

    Notes
    -----
    ceil(slope x length / allowed). Source: common practice.
    """
    return np.maximum(np.ceil(np.abs(slope) * length / allowed - 1e-9), 1.0)


def slope_advice(fall_share: float):
    """The row of data/slopes.csv for a slope: scrape, trench, step, terrace, ask.

    Parameters
    ----------
    fall_share : float
        Slope of the ground as a ratio, either sign.
    """
    rows = list(table("slopes"))
    return next((r for r in rows if abs(fall_share) < r.below - 1e-12), rows[-1])
