"""Sun: where it stands, how long a shade is, how many hours of sun a point gets.

Positions come from the ephem library. Hours are sun time: at 12 the sun stands highest.
"""

from __future__ import annotations

import functools

import numpy as np

from ..model.plot import Plot
from ..units import Value, quantities

__all__ = ["DAYS", "noon_shade", "sun_direction", "sun_hours", "sun_path"]

#: days people ask about, by the northern calendar
DAYS = {
    "21 March": (3, 21), "21 April": (4, 21), "21 June": (6, 21), "21 August": (8, 21),
    "23 September": (9, 23), "21 December": (12, 21),
}  # fmt: skip  # rows of a table
_YEAR = 2025


@quantities(
    "m",
    height="m (0, inf)",
    latitude="rad [-1.5708, 1.5708]",
    declination="rad [-0.41, 0.41]",
)
def noon_shade(height: Value, latitude: Value, declination: Value) -> Value:
    """Length of the shade of an upright thing at noon, on level ground.

    Parameters
    ----------
    height : quantity [m]
        Of the thing.
    latitude : quantity [rad]
        North positive.
    declination : quantity [rad]
        Of the sun: 0 at the equinoxes, +-23.44 degrees at the solstices.

    Returns
    -------
    quantity [m]
        h / tan(90 deg - |latitude - declination|).

    Notes
    -----
    Endless where the sun does not rise. Source: computed, geometry of the sphere.
    """
    from_zenith = np.minimum(np.abs(latitude - declination), np.pi / 2)
    return height * np.tan(from_zenith)


@functools.lru_cache(maxsize=64)
def sun_path(latitude: float, month: int, day: int, steps: int = 6):
    """The sun's way over one day, in sun time.

    Parameters
    ----------
    latitude : float
        In degrees, north positive.
    month, day : int
        The date.
    steps : int
        Points an hour.

    Returns
    -------
    hours, heights, bearings : arrays
        Only while the sun is up; in hours and degrees.
    """
    import ephem

    observer = ephem.Observer()
    observer.lat, observer.lon, observer.pressure = str(latitude), "0", 0
    observer.date = f"{_YEAR}/{month}/{day} 06:00:00"
    noon = observer.next_transit(ephem.Sun())
    hours = np.arange(24 * steps + 1) / steps
    heights, bearings = np.empty_like(hours), np.empty_like(hours)
    sun = ephem.Sun()
    for i, hour in enumerate(hours):
        observer.date = noon + (hour - 12) / 24
        sun.compute(observer)
        heights[i], bearings[i] = np.rad2deg(sun.alt), np.rad2deg(sun.az)
    up = heights > 0
    return hours[up], heights[up], bearings[up]


def sun_direction(downhill: float, heights: Value, bearings: Value) -> np.ndarray:
    """Unit vectors towards the sun in the axes of the plan (x, y, z up).

    ``downhill`` is the compass bearing of +y. ``x`` points a quarter turn against the
    clock from it, seen from above: where +y is south, +x is east.
    """
    turn = np.deg2rad(np.asarray(bearings) - downhill)
    level = np.cos(np.deg2rad(heights))
    return np.stack(
        [-np.sin(turn) * level, np.cos(turn) * level, np.sin(np.deg2rad(heights))],
        axis=-1,
    )


def sun_hours(
    plot: Plot,
    latitude: float,
    date: tuple[int, int],
    points: np.ndarray,
    plane: tuple[float, float, float],
    boxes: tuple[tuple[float, float, float, float, float], ...] = (),
) -> np.ndarray:
    """Hours of direct sun of points on one clear day.

    Parameters
    ----------
    plot : Plot
        Its things with a height throw shade, by the bearing of its +y.
    latitude : float
        In degrees.
    date : (month, day)
    points : array (n, 3)
        x, y and elevation in metres.
    plane : (a, b, c)
        Ground z = a + b x + c y, on which the things stand.
    boxes : tuple of (left, right, top, bottom, elevation of the top)
        More that throws shade, such as beds.

    Notes
    -----
    Every 10 minutes: a point is in shade if the ray to the sun meets a box below its
    top. Trees count as solid boxes, clouds are left out, and a low sun below 3 degrees
    is left out. Source: computed.
    """
    points = np.asarray(points, dtype=float)
    _, heights, bearings = sun_path(latitude, *date)
    high = heights > 3
    toward = sun_direction(plot.downhill or 0.0, heights[high], bearings[high])
    a, b, c = plane
    solids = list(boxes)
    for t in plot.things:
        if t.height > 0:
            x, y = t.middle
            solids.append(
                (t.x, t.x + t.length, t.y, t.y + t.width, a + b * x + c * y + t.height)
            )
    lit = np.ones((len(points), len(toward)), dtype=bool)
    level = np.maximum(np.hypot(toward[:, 0], toward[:, 1]), 1e-9)  # 0 overhead
    ray = toward[:, :2] / level[:, None]
    rise = toward[:, 2] / level
    for left, right, top, bottom, crest in solids:
        enter = np.zeros_like(lit, dtype=float)
        leave = np.full(lit.shape, np.inf)
        for axis, (low, high_) in enumerate(((left, right), (top, bottom))):
            step = np.where(np.abs(ray[:, axis]) < 1e-9, 1e-9, ray[:, axis])[None, :]
            first = (low - points[:, axis, None]) / step
            last = (high_ - points[:, axis, None]) / step
            enter = np.maximum(enter, np.minimum(first, last))
            leave = np.minimum(leave, np.maximum(first, last))
        under = points[:, 2, None] + enter * rise[None, :] < crest - 1e-9
        # a wall that is drawn as a line is entered and left at once
        lit &= ~((leave >= enter) & (leave > 1e-6) & under)
    return lit.sum(axis=1) / 6.0
