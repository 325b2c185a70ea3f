"""One hand for all pictures: colours of the materials, type sizes, line weights.

A material has one colour everywhere, chosen by what it looks like; neighbours in the
stack alternate dark and light, and a dark edge line carries what colour alone cannot.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..tables import table

if TYPE_CHECKING:  # names for an editor
    from ..fill.chapter import FillLayer

INK = "#1F2421"
SECOND = "#55605A"
RULE = "#D7DCD9"
CONTROL = "#8A948F"
ACCENT = "#3F5B6B"
BAR = "#5B7F95"
NOW = "#56B4E9"
LATER = "#0072B2"
PAPER = "#FFFFFF"
EDGE = "#3A332B"
HOLDS, WATCH, FAILS = "#00664B", "#8A5E00", "#B84A00"
#: colour of a verdict: strength, then the scale of straightness, which is never red
VERDICT = {
    "holds": HOLDS, "watch": WATCH, "fails": FAILS,
    "straight": SECOND, "seen": SECOND, "bowed": LATER, "act": LATER,
}  # fmt: skip  # rows of a table

MATERIAL = {
    "timber": "#CFA061",
    "treated": "#8E9270",
    "oak": "#B98A55",
    "plastic": "#6F7F86",
    "weathered": "#9C968D",
    "steel": "#C6D1D9",
    "concrete": "#AEACA5",
    "log end": "#EFD3A2",
    "heart": "#C99A5E",
    "bark": "#5C4535",
    "gap": "#3F3027",
    "chips": "#BD8645",
    "fleck": "#F0CF97",
    "compost": "#33261F",
    "mix": "#7C5C47",
    "topsoil": "#6E5138",
    "topdressing": "#E6D9A3",
    "brush": "#8A6B45",
    "leaves": "#A9733C",
    "straw": "#DCC178",
    "logs": "#5C4535",
    "water": "#2F78AD",
    "ground": "#8C745D",
    "grass": "#9DB873",
    "grass edge": "#6F8A4B",
    "person": "#C3CACC",
}

#: short names of layers, for narrow places
SHORT = {
    "mix": "mix",
    "topdressing": "top layer",
    "chips": "chips",
    "brush": "brush",
    "logs": "logs",
}


def short_name(layer: FillLayer) -> str:
    """A short name of a layer of fill; a fill of one's own keeps its name."""
    name = layer.si.name
    known = name == table("fills")[layer.si.material].name
    return SHORT.get(layer.si.material, name) if known else name


FAMILY = "system-ui, -apple-system, Segoe UI, Roboto, Liberation Sans, Arial"
TITLE, BODY, LABEL, TICK, STRIP = 15, 14, 13, 12, 11
THIN, LINE, STRONG = 1, 1.8, 3.5


def ink_on(colour: str) -> str:
    """Ink or paper, whichever reads better on this colour (WCAG contrast)."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts
    ]
    light = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    return INK if (light + 0.05) / 0.0667 > 1.05 / (light + 0.05) else PAPER


def axis(title: str = "", **more) -> dict:
    """A plain axis: ticks outside, no grid, the unit in its title."""
    return {
        "title": {"text": title, "font": {"size": LABEL}, "standoff": 8},
        "showgrid": False,
        "zeroline": False,
        "ticks": "outside",
        "ticklen": 4,
        "tickfont": {"size": TICK},
        "linecolor": SECOND,
        "tickcolor": SECOND,
        "showline": True,
        "fixedrange": True,
        "automargin": False,
        **more,
    }


def base_layout(**more) -> dict:
    """What every figure has in common."""
    return {
        "font": {"family": FAMILY, "size": LABEL, "color": INK},
        "paper_bgcolor": PAPER,
        "plot_bgcolor": PAPER,
        "showlegend": False,
        "hovermode": False,
        "dragmode": False,
        "margin": {"l": 50, "r": 84, "t": 58, "b": 46},
        **more,
    }


def heading(
    title: str, under: str, x: float = 0.0, y: float = 1.0, shift: float = 0.0
) -> list[dict]:
    """The title of a panel and the line under it, as paper annotations (they print).

    ``x``, ``y`` are shares of the plot's area, ``shift`` moves both sideways in px.
    """
    common = {"xref": "paper", "yref": "paper", "x": x, "y": y, "xanchor": "left"}
    common |= {"yanchor": "bottom", "showarrow": False, "align": "left"}
    common |= {"xshift": shift}
    return [
        common | {"text": f"<b>{title}</b>", "yshift": 26, "font": {"size": TITLE}},
        common | {"text": under, "yshift": 6, "font": {"size": LABEL, "color": SECOND}},
    ]


def note(
    text: str,
    x: float,
    y: float,
    *,
    axes: tuple[str, str] = ("x", "y"),
    colour: str = INK,
    size: int = LABEL,
    **more,
) -> dict:
    """A piece of text at a point of the picture, without an arrow."""
    return {
        "text": text,
        "x": x,
        "y": y,
        "xref": axes[0],
        "yref": axes[1],
        "xanchor": "center",
        "yanchor": "middle",
        "showarrow": False,
        "font": {"size": size, "color": colour},
        **more,
    }


def text_px(text: str, size: int = LABEL, bold: bool = False) -> float:
    """About how wide a text is in pixels, in a wide typeface (it may be less)."""
    return len(text) * size * (0.61 if bold else 0.57)


def nice_step(top: float, most: int = 5) -> float:
    """The step of 1, 2 or 5 times a power of ten that cuts 0 to top in few parts."""
    raw = max(top, 1e-9) / most
    ten = 10.0 ** np.floor(np.log10(raw))
    return float(next(k * ten for k in (1, 2, 5, 10) if k * ten >= raw * (1 - 1e-9)))


def wall_colour(family: str, wood: str) -> str:
    """The colour of what a wall is mainly made of."""
    if family == "blocks":
        return MATERIAL["concrete"]
    if family == "sheet":
        return MATERIAL["steel"]
    return MATERIAL[_WOOD.get(wood, "timber")]


_WOOD = {"oak": "oak", "recycled_plastic": "plastic", "southern_pine": "treated"}
