"""Ways to fill a plot with equal beds, and what a storm or a day of sun brings it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from ..model.outcome import Amount, Part, Plain
from ..model.place import Place, PlaceError
from ..model.plot import Plot
from ..tables import table
from ..units import Q_, to_si
from .chapter import plane_of, plot_of
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

if TYPE_CHECKING:  # names for an editor
    from ..model.bed import Bed

__all__ = ["Filling", "Rain", "Sun", "fill_plot", "rain_on", "sun_asks", "sun_on"]


_LARGEST = 20_000  # m²


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
            left < s.x + s.length - 1e-9
            and right > s.x + 1e-9
            and top < s.y + s.width - 1e-9
            and bottom > s.y + 1e-9
            for left, right, top, bottom in blocked
        )
    )


def _inside(plot: Plot, edge: float, spots) -> tuple[Spot, ...]:
    """Those of the spots in the box round the plot that lie on it, moved to it."""
    left, _, top, _ = plot.bounds
    moved = [replace(s, x=s.x + left, y=s.y + top) for s in spots]
    if plot.is_box or not moved:
        return tuple(moved)
    x, y, length, width = np.array([(s.x, s.y, s.length, s.width) for s in moved]).T
    stays = plot.contains(x - edge, x + length + edge, y - edge, y + width + edge)
    return tuple(s for s, good in zip(moved, stays, strict=True) if good)


def fill_plot(plot: Plot, length: Q_, width: Q_, path: Q_, edge: Q_) -> Filling:
    """Fill a plot with beds of one size.

    Parameters
    ----------
    plot : Plot
        With what is in the way.
    length, width : quantity [m]
        Of one bed, outside.
    path, edge : quantity [m]
        Narrowest path, and what is kept free all round.

    Returns
    -------
    Filling

    Raises
    ------
    PlaceError
        For a field of over two hectares.
    """
    if plot.area > _LARGEST:
        raise PlaceError(
            f"plot, outline: needs up to {_LARGEST} m² to be filled with beds; given "
            f"{plot.area:.0f} m²; for example the part of it where beds shall stand"
        )
    bed = (to_si(length, "m", "length"), to_si(width, "m", "width"))
    p, e = to_si(path, "m", "path"), to_si(edge, "m", "edge")
    size, (left, _, top, _) = (plot.length, plot.width), plot.bounds
    blocked = tuple(
        (a - left, b - left, c - top, d - top) for a, b, c, d in plot.blocked
    )

    def within(x0, x1, y0, y1):
        return plot.contains(x0 + left - e, x1 + left + e, y0 + top - e, y1 + top + e)

    around = [
        fit_rows(size, bed, p, e, blocked, turned, None if plot.is_box else within)
        for turned in (False, True)
    ]
    found = {
        "along": fit_grid(size, bed, p, e),
        "turned": fit_grid(size, bed, p, e, turned=True),
        "mixed": fit_mixed(size, bed, p, e),
        "around": max(around, key=len),
    }
    ways = {name: _inside(plot, e, spots) for name, spots in found.items()}
    paths = np.arange(0.40, 2.4001, 0.01)
    across = bed_count.si(size[1], bed[1], paths, e)
    counts = bed_count.si(size[0], bed[0], paths, e) * across
    rows = int(bed_count.si(size[1], bed[1], p, e))
    if not plot.is_box:
        grids = [_inside(plot, e, fit_grid(size, bed, w, e)) for w in paths]
        counts = np.array([float(len(g)) for g in grids])
        across = np.array([float(len({s.y for s in g})) for g in grids])
        rows = len({s.y for s in ways["along"]})
    real = float(path_left.si(size[1], bed[1], e, rows)) if rows > 1 else np.nan
    now = counts[np.argmin(np.abs(paths - p))]
    same = paths[counts >= now]
    return Filling(
        bed=bed, path=p, edge=e, ways=ways,
        free={k: len(_free(v, plot.blocked)) for k, v in ways.items()},
        share={k: len(v) * bed[0] * bed[1] / plot.area for k, v in ways.items()},
        steps=(paths, counts), across=(paths, across), rows=rows, real_path=real,
        widest=float(same.max()) if len(same) else p,
    )  # fmt: skip  # rows of a table


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
    note = Plain("What was taken for the soil where it is not known")


SIDE, GAPS, FREE = 3.0, 0.40, 1.25


def rain_on(
    place: Place,
    rain: Q_,
    area: Q_,
    *,
    cover: str = "lawn_fair",
    share: float = 0.30,
    swale_length: Q_ | None = None,
    soaks: Q_ | None = None,
) -> Rain:
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
        Along the contour; the length of the plot (or of what was read) if None.
    soaks : quantity [m/s] or None
        Fall of the water in a test hole; 15 mm an hour if None.

    Returns
    -------
    Rain
    """
    p, a = to_si(rain, "m", "rain"), to_si(area, "m^2", "area")
    curve = getattr(table("curve_numbers")[cover], place.ground.cn_group)
    depth = float(curve_runoff.si(p, curve))
    by_curve, by_share = depth * a, float(runoff_volume.si(share, a, p))
    volume = max(by_curve, by_share)
    along = plot_of(place).length
    if swale_length is not None:
        along = to_si(swale_length, "m", "swale_length")
    water = float(swale_depth.si(volume, SIDE, along))
    dig = water * FREE
    rate = 0.015 / 3600 if soaks is None else to_si(soaks, "mm/hour", "soaks")
    return Rain(
        rain=p,
        area=a,
        curve=curve,
        share=share,
        depth=depth,
        by_curve=by_curve,
        by_share=by_share,
        volume=volume,
        swale_length=along,
        swale_depth=water,
        swale_dig=dig,
        swale_width=float(swale_width.si(dig, SIDE, 0.0)),
        trench=float(trench_volume.si(0.4, 0.5, along, GAPS)),
        empties=float(emptying_time.si(water, rate)),
        too_deep=water > 0.2,
        note=place.soil_note,
    )


def holds(depth: Q_, bottom: Q_, length: Q_):
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


def _skyline(plot: Plot, plane) -> tuple:
    """Outlines of things with a height as seen from the middle of the ground.

    Bearings run on past 0 and 360 degrees where a thing stands there.
    """
    a, b, c = plane
    left, right, top, low = plot.bounds
    x0, y0 = (left + right) / 2, (top + low) / 2
    eye = a + b * x0 + c * y0
    found = []
    for t in plot.things:
        x, y = t.middle
        size = max(t.length, 0.01), max(t.width, 0.01)
        x1, y1 = x - size[0] / 2, y - size[1] / 2
        around = x1 <= x0 <= x1 + size[0] and y1 <= y0 <= y1 + size[1]
        if t.height <= 0 or around:
            continue
        crest = a + b * x + c * y + t.height - eye
        edge = np.linspace(0, 1, 100)
        walls = [
            np.outer(1 - edge, p) + np.outer(edge, q)
            for p, q in zip(
                _corners(x1, y1, *size), _corners(x1, y1, *size)[1:], strict=False
            )
        ]
        away = np.concatenate(walls) - (x0, y0)
        middle = np.arctan2(-(x - x0), y - y0)
        turn = np.arctan2(-away[:, 0], away[:, 1]) - middle
        turn = (turn + np.pi) % (2 * np.pi) - np.pi
        height = np.rad2deg(np.arctan2(max(crest, 0.0), np.hypot(*away.T)))
        at = np.linspace(turn.min(), turn.max(), 41)
        step = (at[1] - at[0]) / 2 + 1e-9
        line = [height[np.abs(turn - one) <= step].max(initial=0.0) for one in at]
        line = np.maximum.reduce([line, np.roll(line, 1), np.roll(line, -1)])
        bearing = np.rad2deg(at + middle) + (plot.downhill or 0.0)
        bearing -= 360 * np.floor(bearing[20] / 360)
        found.append(
            ((bearing[0], *bearing, bearing[-1], bearing[0]), (0.0, *line, 0.0, 0.0))
        )
    return tuple(found)


def _corners(x, y, length, width):
    """Corners of a rectangle, closed."""
    return [(x, y), (x + length, y), (x + length, y + width), (x, y + width), (x, y)]


def sun_asks(place: Place) -> str:
    """What the sun's way still asks for, or nothing."""
    if place.latitude is None:
        return (
            "Latitude not given: how far north or south of the equator is your garden? "
            "For example 48 degrees, or -34 degrees in the south."
        )
    plot = place.plot
    if plot and plot.downhill is None and any(t.height > 0 for t in plot.things):
        return (
            "Bearing of the plot not given: towards which point of the compass does "
            "the page of the plan run down? For example 180 degrees, south."
        )
    return ""


def sun_on(place: Place, beds: Sequence[Bed], day: str, raster: float = 0.3) -> Sun:
    """Hours of direct sun on the plot on one clear day.

    Parameters
    ----------
    place : Place
        Its latitude, plot and survey.
    beds : sequence of Bed
        Hours are given on their soil.
    day : str
        One of ``site.sun.DAYS``.
    raster : float
        Distance of the points in metres; more on a plot of over 60 m.

    Returns
    -------
    Sun

    Raises
    ------
    PlaceError
        With what is missing, as :func:`sun_asks` says it.
    """
    if asks := sun_asks(place):
        raise PlaceError(f"place: {asks}")
    plot = plot_of(place, beds)
    a, b, c, _ = plane_of(place.survey)
    latitude = float(place.latitude.m_as("deg"))
    left, right, top, low = plot.bounds
    raster = max(raster, max(plot.length, plot.width) / 200)
    xs, ys = (
        start + (np.arange(n) + 0.5) * (end - start) / n
        for start, end in ((left, right), (top, low))
        for n in (int(np.ceil((end - start) / raster - 1e-9)),)
    )
    gx, gy = np.meshgrid(xs, ys)
    flat = np.column_stack([gx.ravel(), gy.ravel(), (a + b * gx + c * gy).ravel()])
    hours = sun_hours(plot, latitude, DAYS[day], flat, (a, b, c)).reshape(gx.shape)
    hours = np.where(plot.inside(gx, gy), hours, np.nan)
    found = {}
    for bed in beds:
        s = bed.si
        u = (np.arange(4) + 0.5) / 4
        bx, by = np.meshgrid(s.x + u * s.plan_length, s.y + u * s.plan_width)
        z = a + b * bx + c * by + s.height
        rim = np.column_stack([bx.ravel(), by.ravel(), z.ravel()])
        lit = sun_hours(plot, latitude, DAYS[day], rim, (a, b, c))
        found[bed.name] = float(lit.mean())
    ways = {name: sun_path(latitude, *date) for name, date in DAYS.items()}
    _, heights, _ = ways[day]
    highest = float(heights.max()) if len(heights) else 0.0
    turned = np.deg2rad(90.0 - highest)
    shade = float(noon_shade.si(1.0, turned, 0.0)) if highest > 0 else np.inf
    return Sun(
        day=day,
        x=xs,
        y=ys,
        hours=hours,
        beds=found,
        ways=ways,
        highest=highest,
        shade=shade,
        skyline=_skyline(plot, (a, b, c)),
    )
