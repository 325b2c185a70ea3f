"""Ways to fill a plot with equal beds, and what a storm or a day of sun brings it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..outcome import Amount, Part, Plain
from ..place import Place
from ..tables import table
from ..units import to_si
from .follow import _plane
from .layout import Spot, bed_count, fit_grid, fit_mixed, fit_rows, path_left
from .sun import DAYS, noon_shade, sun_hours, sun_path
from .water import (
    curve_runoff,
    emptying_time,
    runoff_volume,
    swale_depth,
    swale_volume,
    swale_width,
    trench_volume,
)
from .yard import Yard, yard_of

__all__ = ["Filling", "Rain", "Sun", "fill_plot", "rain_on", "sun_on"]


@dataclass(frozen=True, kw_only=True)
class Filling:
    """How many equal beds fit, tried in several ways.

    ``ways`` maps along, turned, mixed and around (rows that step over what is in the
    way) to spots; ``free`` maps the same names to how many of them stand clear of
    everything. ``steps`` holds path widths and the counts of the plain grid
    along the contour, ``widest`` the widest path that costs no bed of it.
    """

    bed: tuple[float, float]
    path: float
    edge: float
    ways: dict[str, tuple[Spot, ...]]
    free: dict[str, int]
    share: dict[str, float]
    steps: tuple[np.ndarray, np.ndarray]
    across: tuple[np.ndarray, np.ndarray]
    rows: int
    real_path: float
    widest: float


def _free(spots, blocked) -> tuple[Spot, ...]:
    return tuple(
        s
        for s in spots
        if not any(
            left < s.x + s.length - 1e-9 and right > s.x + 1e-9
            and top < s.y + s.width - 1e-9 and bottom > s.y + 1e-9
            for left, right, top, bottom in blocked
        )
    )  # fmt: skip


def fill_plot(yard: Yard, length, width, path, edge) -> Filling:
    """Fill a plot with beds of one size.

    Parameters
    ----------
    yard : Yard
        The plot, with what is in the way.
    length, width : quantity [m]
        Of one bed, outside.
    path, edge : quantity [m]
        Narrowest path, and what is kept free all round.

    Returns
    -------
    Filling
    """
    bed = (to_si(length, "m", "length"), to_si(width, "m", "width"))
    p, e = to_si(path, "m", "path"), to_si(edge, "m", "edge")
    plot = (yard.length, yard.width)
    around = [fit_rows(plot, bed, p, e, yard.blocked, turned) for turned in (0, 1)]
    ways = {
        "along": fit_grid(plot, bed, p, e),
        "turned": fit_grid(plot, bed, p, e, turned=True),
        "mixed": fit_mixed(plot, bed, p, e),
        "around": max(around, key=len),
    }
    paths = np.arange(0.40, 2.4001, 0.01)
    across = bed_count.si(plot[1], bed[1], paths, e)
    counts = bed_count.si(plot[0], bed[0], paths, e) * across
    rows = int(bed_count.si(plot[1], bed[1], p, e))
    real = float(path_left.si(plot[1], bed[1], e, rows)) if rows > 1 else np.nan
    now = counts[np.argmin(np.abs(paths - p))]
    same = paths[counts >= now]
    return Filling(
        bed=bed, path=p, edge=e, ways=ways,
        free={k: len(_free(v, yard.blocked)) for k, v in ways.items()},
        share={k: len(v) * bed[0] * bed[1] / yard.area for k, v in ways.items()},
        steps=(paths, counts), across=(paths, across), rows=rows, real_path=real,
        widest=float(same.max()) if len(same) else p,
    )  # fmt: skip


class Rain(Part):
    """One storm on the ground uphill, and what would hold it."""

    rain = Amount("mm", "Rain of the storm", "bow")
    area = Amount("m^2", "Ground uphill that drains towards the beds", "area")
    curve = Plain("Curve number")
    share = Plain("Runoff coefficient")
    depth = Amount("mm", "Runoff by curve number", "fine")
    by_curve = Amount("m^3", "Volume by curve number", "volume")
    by_share = Amount("m^3", "Volume by runoff coefficient", "volume")
    volume = Amount("m^3", "The larger of both", "volume")
    swale_length = Amount("m", "Along the contour", "size")
    swale_depth = Amount("mm", "Water in a V-shaped swale, banks 3 to 1", "stock")
    swale_dig = Amount("mm", "Depth to dig, a quarter more", "stock")
    swale_width = Amount("m", "Its width at the top", "size")
    trench = Amount("m^3", "What a gravel trench of 0.4 by 0.5 m holds", "volume")
    empties = Amount("hour", "How long the swale takes to soak away", "time")
    too_deep = Plain("Deeper than is safe near small children (0.2 m)")


SIDE, GAPS, FREE = 3.0, 0.40, 1.25


def rain_on(
    place: Place, rain, area, *, cover: str = "lawn_fair", share: float = 0.30,
    swale_length=None, soaks=None, yard: Yard | None = None,
) -> Rain:  # fmt: skip
    """What a storm brings down the slope.

    Parameters
    ----------
    place : Place
        Its soil fixes the curve number's group.
    rain : quantity [m]
        Of the storm, in 24 hours.
    area : quantity [m^2]
        Ground uphill that drains towards the beds.
    cover : str
        Row of data/curve_numbers.csv.
    share : float
        Runoff coefficient.
    swale_length : quantity [m] or None
        Along the contour; the plot's length if None.
    soaks : quantity [m/s] or None
        Fall of the water in a test hole; 15 mm an hour if None.
    yard : Yard or None
        The plot; what the place says of it if None.

    Returns
    -------
    Rain
    """
    yard = yard or yard_of(place)
    p, a = to_si(rain, "m", "rain"), to_si(area, "m^2", "area")
    curve = getattr(table("curve_numbers")[cover], place.ground.cn_group)
    depth = float(curve_runoff.si(p, curve))
    by_curve, by_share = depth * a, float(runoff_volume.si(share, a, p))
    volume = max(by_curve, by_share)
    along = yard.length
    if swale_length is not None:
        along = to_si(swale_length, "m", "swale_length")
    water = float(swale_depth.si(volume, SIDE, along))
    dig = water * FREE
    rate = 0.015 / 3600 if soaks is None else to_si(soaks, "mm/hour", "soaks")
    return Rain(
        rain=p, area=a, curve=curve, share=share, depth=depth, by_curve=by_curve,
        by_share=by_share, volume=volume, swale_length=along, swale_depth=water,
        swale_dig=dig, swale_width=float(swale_width.si(dig, SIDE, 0.0)),
        trench=float(trench_volume.si(0.4, 0.5, along, GAPS)),
        empties=float(emptying_time.si(water, rate)), too_deep=water > 0.2,
    )  # fmt: skip


def holds(depth, bottom, length):
    """What a swale of another section holds, as a quantity (see swale_volume)."""
    return swale_volume(depth, SIDE, bottom, length)


@dataclass(frozen=True, kw_only=True)
class Sun:
    """A clear day on the plot: hours of direct sun on a raster, and the sun's way.

    ``skyline`` outlines what stands round, seen from the middle of the plot, as
    (bearings, heights) in degrees. ``ways`` maps names of days to
    (hours, heights, bearings); ``beds`` maps beds to
    the mean hours on their soil; ``shade`` is the length of the shade of one metre at
    noon that day.
    """

    day: str
    x: np.ndarray
    y: np.ndarray
    hours: np.ndarray
    beds: dict[str, float]
    ways: dict[str, tuple[np.ndarray, np.ndarray, np.ndarray]]
    highest: float
    shade: float
    skyline: tuple[tuple[tuple[float, ...], tuple[float, ...]], ...]


def _skyline(yard: Yard, plane) -> tuple:
    """Outlines of things with a height as seen from the middle of the ground."""
    a, b, c = plane
    x0, y0 = yard.length / 2, yard.width / 2
    eye = a + b * x0 + c * y0
    found = []
    for t in yard.things:
        if t.height <= 0:
            continue
        mx, my = t.middle
        crest = a + b * mx + c * my + t.height - eye
        edge = np.linspace(0, 1, 25)
        corners = [
            (t.x, t.y), (t.x + t.length, t.y), (t.x + t.length, t.y + t.width),
            (t.x, t.y + t.width), (t.x, t.y),
        ]  # fmt: skip
        walls = [
            np.outer(1 - edge, p) + np.outer(edge, q)
            for p, q in zip(corners, corners[1:], strict=False)
        ]
        away = np.concatenate(walls) - (x0, y0)
        bearing = (
            np.rad2deg(np.arctan2(-away[:, 0], away[:, 1])) + yard.downhill
        ) % 360
        height = np.rad2deg(np.arctan2(crest, np.hypot(*away.T)))
        at = np.arange(360.0)
        top = np.full(360, np.nan)
        for bear, high in zip(bearing, np.maximum(height, 0.0), strict=True):
            i = int(bear) % 360
            top[i] = np.nanmax([top[i], high])
        known = np.flatnonzero(np.isfinite(top))
        around = [top[max(i - 4, 0) : i + 5] for i in known]
        top[known] = [np.nanmax(part) for part in around]
        if len(known) < 2 or known[-1] - known[0] > 300:
            continue
        span = at[known[0] : known[-1] + 1]
        line = np.interp(span, at[known], top[known])
        found.append(((span[0], *span, span[-1], span[0]), (0.0, *line, 0.0, 0.0)))
    return tuple(found)


def sun_on(
    place: Place, beds, day: str, yard: Yard | None = None, raster: float = 0.3
) -> Sun:
    """Hours of direct sun on the plot on one clear day.

    Parameters
    ----------
    place : Place
        Its latitude and survey.
    beds : sequence of Bed
        Hours are given on their soil.
    day : str
        One of ``site.sun.DAYS``.
    yard : Yard or None
        The plot; what the place says of it if None.
    raster : float
        Distance of the points in metres.
    """
    yard = yard or yard_of(place)
    a, b, c, _ = _plane(place.survey)
    latitude = float(place.latitude.m_as("deg"))
    xs = np.arange(raster / 2, yard.length, raster)
    ys = np.arange(raster / 2, yard.width, raster)
    gx, gy = np.meshgrid(xs, ys)
    flat = np.column_stack([gx.ravel(), gy.ravel(), (a + b * gx + c * gy).ravel()])
    hours = sun_hours(yard, latitude, DAYS[day], flat, (a, b, c)).reshape(gx.shape)
    found = {}
    for bed in beds:
        s = bed.si
        u = (np.arange(4) + 0.5) / 4
        bx, by = np.meshgrid(s.x + u * s.length, s.y + u * s.width)
        z = a + b * bx + c * by + s.height
        rim = np.column_stack([bx.ravel(), by.ravel(), z.ravel()])
        lit = sun_hours(yard, latitude, DAYS[day], rim, (a, b, c))
        found[bed.name] = float(lit.mean())
    ways = {name: sun_path(latitude, *date) for name, date in DAYS.items()}
    _, heights, _ = ways[day]
    highest = float(heights.max()) if len(heights) else 0.0
    turned = np.deg2rad(90.0 - highest)
    shade = float(noon_shade.si(1.0, turned, 0.0)) if highest > 0 else np.inf
    return Sun(
        day=day, x=xs, y=ys, hours=hours, beds=found, ways=ways, highest=highest,
        shade=shade, skyline=_skyline(yard, (a, b, c)),
    )  # fmt: skip
