"""Left panel of the wall's close-up: the layers, and how they push."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from bedcalc.units import shown_in, unit_sign

from ..model.outcome import Outcome
from . import theme
from .shapes import EMPTY, area, line
from .wall_words import drowns

__all__ = ["push_axes", "push_notes", "push_traces", "pushes"]

_AXES = {"xaxis": "x2", "yaxis": "y"}
_FILL = "rgba(0,114,178,0.18)"
_NAMED = 14.0  # px a layer must be high to hold its name


def _height(bed) -> float:
    """Height of the wall that holds fill (m)."""
    return float(bed.si.soil_depth if bed.wall.family == "trough" else bed.si.height)


def pushes(outcome: Outcome, system: str) -> dict[str, tuple[np.ndarray, np.ndarray]]:
    """Pressure against height over the base for each state that is drawn.

    The points are those of the outcome, from the surface down; where K changes there
    are two at one height, so the jump is drawn as it is.
    """
    surface = float(outcome.fill.layers[-1].si.top)
    states = ["moist", "soaked"] + (["waterlogged"] if drowns(outcome) else [])
    found = {}
    for name in states:
        case = outcome.walls.cases[name].si
        depth = np.asarray(case.depth, dtype=float)
        found[name] = (
            shown_in(np.asarray(case.pressure, dtype=float), "pressure", system),
            shown_in(surface - depth, "size", system),
        )
    return found


def _closed(curve) -> tuple[np.ndarray, np.ndarray]:
    """The curve with its way back along the wall, as an outline."""
    pressure, height = curve
    zero = np.zeros(1)
    return (
        np.concatenate([zero, pressure, zero]),
        np.concatenate([height[:1], height, height[-1:]]),
    )


def push_traces(outcome: Outcome, found: Mapping[str, Any], system: str) -> list[dict]:
    """Strip of layers, outline of the moist push, lines of the others."""
    layers, tones = outcome.fill.layers, theme.MATERIAL
    strip = {
        "type": "bar",
        "x": [0.5] * len(layers),
        "width": [1.0] * len(layers),
        "base": [shown_in(float(la.si.bottom), "size", system) for la in layers],
        "y": [shown_in(float(la.si.depth), "size", system) for la in layers],
        "marker": {
            "color": [tones[la.si.material] for la in layers],
            "line": {"color": theme.PAPER, "width": 1},
        },
        "hoverinfo": "skip",
    }
    moist = area(_closed(found["moist"]), _FILL, edge=theme.LATER, width=2.0)
    soaked = line(_closed(found["soaked"]), theme.LATER, theme.LINE, dash="dot")
    standing = _closed(found["waterlogged"]) if "waterlogged" in found else EMPTY
    water = line(standing, tones["water"], theme.LINE, dash="dashdot")
    return [strip, moist | _AXES, soaked | _AXES, water | _AXES]


def _line_note(text: str, curve, share: float, colour: str) -> dict:
    """A name at the right of a line, at a share of its height."""
    pressure, height = curve
    at = height[-1] + share * (height[0] - height[-1])
    style = {"axes": ("x2", "y"), "size": theme.TICK, "xanchor": "left"}
    style |= {"align": "left", "xshift": 8, "colour": colour}
    return theme.note(text, float(np.interp(-at, -height, pressure)), at, **style)


def _led_note(text: str, curve, beyond, share: float, colour: str) -> dict:
    """A name beyond another line, led to its own by a thin stroke."""
    outer = _line_note(text, beyond, share, colour)
    own = _line_note(text, curve, share, colour)
    stroke = {"showarrow": True, "arrowhead": 0, "arrowwidth": 1, "arrowcolor": colour}
    stroke |= {"axref": "x2", "ayref": "y", "ax": outer["x"] + 0.06 * beyond[0].max()}
    return own | stroke | {"ay": own["y"], "xshift": 0, "borderpad": 2}


def push_notes(
    outcome: Outcome, found: Mapping[str, Any], high: float, system: str
) -> list[dict]:
    """Names of the layers in the strip, names of the lines at the lines.

    ``high`` is the height of the panel in px.
    """
    notes, per_px = [], _height(outcome.bed) / high
    for layer in outcome.fill.layers:
        if layer.si.depth < _NAMED * per_px:
            continue
        middle = shown_in(float(layer.si.bottom + layer.si.top) / 2, "size", system)
        name = theme.short_name(layer)
        colour = theme.ink_on(theme.MATERIAL[layer.si.material])
        notes.append(theme.note(name, 0.5, middle, colour=colour, size=theme.STRIP))
    soaked = "after<br>long rain", found["soaked"]
    if "waterlogged" not in found:
        return [*notes, _line_note(*soaked, 0.72, theme.LATER)]
    standing = "standing<br>water", found["waterlogged"]
    return [
        *notes,
        _line_note(*standing, 0.84, theme.MATERIAL["water"]),
        _led_note(*soaked, found["waterlogged"], 0.54, theme.LATER),
    ]


def push_axes(
    outcome: Outcome, found: Mapping[str, Any], system: str
) -> dict[str, dict]:
    """The axes of the panel, without their place on the page."""
    most = max(float(pressure.max()) for pressure, _ in found.values())
    step = theme.nice_step(most, 3)
    high = shown_in(_height(outcome.bed), "size", system)
    tall = theme.nice_step(high, 4)
    ticks = [k * tall for k in range(int(high / tall + 1e-9) + 1)]
    ticks = [tick for tick in ticks if high - tick > 0.45 * tall] + [high]
    return {
        "xaxis": {"visible": False, "fixedrange": True, "range": [0, 1]},
        "xaxis2": theme.axis(
            f"push on the wall, {unit_sign('pressure', system)}",
            range=[0, max(float(np.ceil(most / step - 1e-9)), 1.0) * step],
            dtick=step,
        ),
        "yaxis": theme.axis(
            f"height, {unit_sign('size', system)}",
            range=[0, high],
            tickvals=ticks,
            ticktext=[f"{tick:.2f}".rstrip("0").rstrip(".") for tick in ticks],
        ),
    }
