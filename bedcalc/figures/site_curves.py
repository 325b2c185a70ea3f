"""Curves of the site: how many beds against the path, the sun's way, a swale."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from bedcalc.units import show, shown_in, unit_sign

from . import theme
from .drawing import Drawing, Numbers
from .shapes import EMPTY, area, line, marks, segments

if TYPE_CHECKING:  # names for an editor
    from ..site.plots import Filling, Rain, Sun

__all__ = ["stairs_figure", "sun_figure", "swale_figure"]

_UNIT = {"metric": 1.0, "us": 1 / 0.3048}


def stairs_figure(
    filling: Filling,
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """How many beds fit as the paths grow: a staircase.

    Parameters
    ----------
    filling : Filling
        The plot filled with equal beds.
    system : str
        ``"metric"`` or ``"us"``.
    narrow : bool
        For a narrow page.
    width : float or None
        Pixels it will be shown at.

    Returns
    -------
    Drawing
    """
    one = _UNIT[system]
    paths, counts = filling.steps[0] * one, filling.steps[1]
    now = float(counts[np.argmin(np.abs(filling.steps[0] - filling.path))])
    top = max(counts.max() * 1.12, 4)
    ends = np.nonzero(np.diff(counts) < 0)[0]
    words = f"Paths up to {show(filling.widest, 'size', system)} cost no bed"
    if filling.widest - filling.path < 0.015:
        words = "The next wider path costs a bed"
    return Drawing(
        traces=(
            line((paths, counts), theme.LATER, theme.STRONG, shape="hv"),
            marks((paths[ends], counts[ends]), 9, theme.LATER),
            line(([filling.path * one] * 2, [0, now]), theme.INK, 1.5, dash="dash"),
            marks(([filling.path * one], [now]), 13, theme.NOW, "diamond",
                  color=theme.INK, width=1.5),
        ),
        layout=theme.base_layout(
            width=width or (340 if narrow else 560), height=300,
            margin={"l": 54, "r": 20, "t": 62, "b": 50},
        ),
        live_layout={
            "xaxis": theme.axis(f"narrowest path, {unit_sign('size', system)}",
                                range=[paths[0], paths[-1]]),
            "yaxis": theme.axis("beds across the plan", range=[0, top],
                                dtick=max(1, round(top / 6))),
        },
        annotations=(
            *theme.heading(words, "dots: the widest path of each step"),
            theme.note(f"now: {now:.0f} beds", filling.path * one, now,
                       xanchor="left", xshift=12, yshift=12, bgcolor=theme.PAPER),
        ),
        alt=f"A staircase going down: the wider the paths, the fewer beds. Now "
        f"{now:.0f} beds with paths of at least {show(filling.path, 'size', system)}. "
        f"{words}.",
        caption="At the right end of a step the path is widest, and no bed is lost.",
        numbers=Numbers(
            caption="Widest path for each number of beds",
            headings=("beds", "path up to"),
            rows=tuple(
                (f"{counts[i]:.0f}", show(float(filling.steps[0][i]), "size", system))
                for i in ends
            ),
        ),
    )  # fmt: skip  # rows of a table


def sun_figure(
    sun: Sun,
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """The sun's way over the sky on the chosen day and the two turning days.

    Parameters
    ----------
    sun : Sun
        A clear day on the plot.
    system : str
        Not used; angles are the same everywhere.
    narrow : bool
        For a narrow page.
    width : float or None
        Pixels it will be shown at.

    Returns
    -------
    Drawing
    """
    if sun is None:
        return _no_sun(width or (340 if narrow else 560))
    days = [d for d in ("21 June", "21 March", "21 December") if d != sun.day]
    hours, heights, bearings = sun.ways[sun.day]
    noon = _noon_side(heights, bearings)
    whole = np.isclose(hours % 2, 0)
    dots = _round(bearings[whole], noon)
    notes = [
        theme.note(f"{h:.0f}", float(b), float(a), yshift=13, size=theme.TICK)
        for h, a, b in zip(hours[whole], heights[whole], dots, strict=True)
    ]
    for d in days:
        if len(sun.ways[d][1]):
            x = _round(sun.ways[d][2], noon)
            inner = np.abs(x - noon) < 140  # clear of both sides of the picture
            at = int(np.argmax(np.where(inner, sun.ways[d][1], -1.0)))
            notes.append(
                theme.note(
                    d,
                    float(x[at]),
                    float(sun.ways[d][1][at]),
                    colour=theme.SECOND,
                    size=theme.TICK,
                    yshift=9,
                    bgcolor=theme.PAPER,
                )
            )
    others = [_line(sun.ways[d][2], sun.ways[d][1], noon) for d in days]
    sky = [  # what stands near the edge of the picture is seen at both
        (np.append(np.array(b) + turn, np.nan), np.append(h, np.nan))
        for b, h in sun.skyline
        for turn in (-360.0, 0.0, 360.0)
    ]
    top = max(78.0, *(float(h.max(initial=0)) + 9 for _, h, _ in sun.ways.values()))
    names = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")
    ticks = np.arange(noon - 135, noon + 136, 45)
    shade = f"1 m throws a shade of {sun.shade:.1f} m at noon"
    return Drawing(
        traces=(
            area(_joined(sky), theme.MATERIAL["concrete"]),
            line(_joined(others), theme.CONTROL, 1.5),
            line(_line(bearings, heights, noon), "#C98A00", theme.STRONG),
            marks((dots, heights[whole]), 9, "#FFD34D", color=theme.INK, width=1),
        ),
        layout=_sun_layout(width or (340 if narrow else 560)),
        live_layout={
            "xaxis": theme.axis("towards", range=[noon - 180, noon + 180],
                                tickvals=list(ticks),
                                ticktext=[names[round(t / 45) % 8] for t in ticks]),
            "yaxis": theme.axis("height of the sun, °", range=[0, top]),
        },
        annotations=(
            *theme.heading(
                f"{sun.day}: highest {sun.highest:.0f}° in the {_SIDES[noon]}"
                if len(heights) else f"{sun.day}: the sun does not rise",
                shade if np.isfinite(sun.shade) else "the sun does not rise",
            ),
            *notes,
        ),
        alt=f"The sun's way on {sun.day}: {sun.highest:.0f} degrees high at noon, in "
        f"the {_SIDES[noon]}. "
        "Grey outlines: what stands round the plot, seen from its middle.",
        caption="Numbers on the line are hours of sun time. Where the line runs behind "
        "grey, the middle of the plot lies in shade.",
        numbers=Numbers(
            caption="Height of the sun", headings=("hour", "height", "towards"),
            rows=tuple(
                (f"{h:.0f}", f"{a:.0f}°", f"{b:.0f}°")
                for h, a, b in zip(hours[whole], heights[whole], bearings[whole],
                                   strict=True)
            ) or (("–", "the sun does not rise", "–"),),
        ),
    )  # fmt: skip  # rows of a table


_SIDES = {0: "north", 180: "south"}


def _noon_side(heights, bearings) -> int:
    """Whether the sun stands in the south (180) or in the north (0) when highest."""
    if not len(heights):
        return 180
    return 180 if np.cos(np.deg2rad(bearings[int(np.argmax(heights))])) < 0 else 0


def _round(bearings, noon: float):
    """Bearings within half a turn of the middle of the picture."""
    return (np.asarray(bearings, dtype=float) - noon + 180) % 360 - 180 + noon


def _line(bearings, heights, noon: float):
    """A way over the sky, broken where it leaves the picture at one side."""
    x, y = _round(bearings, noon), np.asarray(heights, dtype=float)
    breaks = np.flatnonzero(np.abs(np.diff(x)) > 180) + 1
    return np.insert(x, breaks, np.nan), np.insert(y, breaks, np.nan)


def _joined(lines):
    """Several lines as the points of one trace, with gaps between."""
    if not lines:
        return EMPTY
    return tuple(
        np.concatenate([np.append(one[k], np.nan) for one in lines]) for k in (0, 1)
    )


def _sun_layout(width: float) -> dict:
    return theme.base_layout(
        width=width, height=320, margin={"l": 54, "r": 20, "t": 62, "b": 50}
    )


def _no_sun(width: float) -> Drawing:
    """The same picture while nobody has said where the garden lies."""
    words = "Latitude or bearing not given"
    return Drawing(
        traces=(
            area(EMPTY, theme.MATERIAL["concrete"]), line(EMPTY, theme.CONTROL, 1.5),
            line(EMPTY, "#C98A00", theme.STRONG),
            marks(EMPTY, 9, "#FFD34D", color=theme.INK, width=1),
        ),
        layout=_sun_layout(width),
        live_layout={
            "xaxis": theme.axis("towards", range=[0, 360]),
            "yaxis": theme.axis("height of the sun, °", range=[0, 90]),
        },
        annotations=(*theme.heading(words, "then the sun's way is drawn here"),),
        alt=f"{words}: no way of the sun is drawn.",
        caption="Where the sun stands follows from how far north or south you are.",
        numbers=Numbers(caption="Height of the sun", headings=("hour", "height"),
                        rows=(("–", words),)),
    )  # fmt: skip  # rows of a table


def swale_figure(
    rain: Rain,
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """A swale on the slope above the first row, cut through.

    Parameters
    ----------
    rain : Rain
        A storm, and what holds it.
    system : str
        ``"metric"`` or ``"us"``.
    narrow : bool
        For a narrow page.
    width : float or None
        Pixels it will be shown at.

    Returns
    -------
    Drawing
    """
    dig, water = rain.si.swale_dig, rain.si.swale_depth
    half, wet = rain.si.swale_width / 2, 3 * water
    lip = 0.12
    x = [-half - 0.9, -half, 0, half, half + 0.25, half + 0.6, half + 1.0]
    y = [0.07, 0, -dig, 0, lip, lip, 0.02]
    low = -max(dig, 0.15) - 0.15
    spare = max((0.5 - low) * ((width or 560) - 16) / 300 - (x[-1] - x[0]), 0.0)
    x[0], x[-1] = x[0] - spare / 2, x[-1] + spare / 2
    y[0] += 0.07 * spare / 2
    span = (x[0], x[-1])
    wide = width or (340 if narrow else 560)
    scale = (wide - 16) / (span[1] - span[0])
    top = 0.5
    return Drawing(
        traces=(
            area(([*x, x[-1], x[0], x[0]], [*y, low, low, y[0]]),
                 theme.MATERIAL["ground"], width=0),
            area(([-wet, 0, wet, -wet], [-dig + water, -dig, -dig + water,
                                         -dig + water]),
                 theme.MATERIAL["water"], width=0.6),
            line((x, y), theme.MATERIAL["grass edge"], 4),
            line(segments([(-half, 0.14, half, 0.14), (-half, 0.1, -half, 0.18),
                           (half, 0.1, half, 0.18), (0, -dig, 0, 0.0)]),
                 theme.INK, 1.2),
        ),
        layout=theme.base_layout(width=wide, margin={"l": 8, "r": 8, "t": 60, "b": 8}),
        live_layout={
            "height": (top - low) * scale + 68,
            "xaxis": {"range": list(span), "visible": False, "fixedrange": True},
            "yaxis": {"range": [low, top], "visible": False, "fixedrange": True},
        },
        annotations=(
            *theme.heading(
                f"{show(rain.si.volume, 'volume', system)} of water to hold",
                _two_ways(rain, system, narrow),
                shift=4,
            ),
            theme.note(f"{show(rain.si.swale_width, 'size', system)} wide", 0, 0.14,
                       yanchor="bottom", yshift=3),
            theme.note(f"dig {show(dig, 'depth', system)}", 0, -dig / 3,
                       xanchor="left", xshift=5, bgcolor=theme.PAPER, borderpad=1),
            theme.note("uphill", span[0] + 0.05, 0.42, xanchor="left",
                       colour=theme.SECOND),
            theme.note("the beds" if narrow else "downhill, the beds",
                       span[1] - 0.05, 0.42,
                       xanchor="right", colour=theme.SECOND),
        ),
        alt=f"A V-shaped swale {show(rain.si.swale_width, 'size', system)} wide and "
        f"{show(dig, 'depth', system)} deep along "
        f"{show(rain.si.swale_length, 'size', system)} of contour holds "
        f"{show(rain.si.volume, 'volume', system)}.",
        caption="The banks run 3 along for 1 up. A bigger storm leaves over a level, "
        "wide place in the rim, past the beds: choose rain on the plan.",
        numbers=Numbers(
            caption="The storm", headings=("what", "how much"),
            rows=(
                ("rain", f"{shown_in(rain.si.rain, 'bow', system):.0f} "
                 f"{unit_sign('bow', system)}"),
                ("curve number", f"{rain.curve:.0f}"),
                ("runoff by curve number", show(rain.si.by_curve, "volume", system)),
                ("runoff by runoff share", show(rain.si.by_share, "volume", system)),
                ("swale, water", show(water, "stock", system)),
                ("swale, to dig", show(dig, "stock", system)),
                ("gravel trench 0.4 by 0.5 m holds",
                 show(rain.si.trench, "volume", system)),
                ("empty after", show(rain.si.empties, "time", system)),
            ),
        ),
    )  # fmt: skip  # rows of a table


def _two_ways(rain, system, narrow) -> str:
    """Both estimates in one line."""
    curve, share = (
        show(value, "volume", system) for value in (rain.si.by_curve, rain.si.by_share)
    )
    if narrow:
        return f"{curve} or {share}; the larger counts"
    return f"by curve number {curve}, by runoff share {share}; the larger counts"
