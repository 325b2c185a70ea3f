"""Sinking: the surface of the bed over the years, as a band, and the yearly top-up."""

from __future__ import annotations

import numpy as np

from bedcalc.units import Q_, number, show, shown_in, unit_sign

from ..model.outcome import Outcome
from . import theme
from .drawing import Drawing, Numbers
from .shapes import EMPTY, line, marks

__all__ = ["sinking_figure"]

_YEARS = 10
_MARK = (1, 3, 5, 10)
_MARGIN = {"l": 54, "r": 100, "t": 62, "b": 44}


def _in(value, system: str) -> np.ndarray:
    return np.asarray(shown_in(value, "depth", system), dtype=float)


def _less(depth: float, digits: int) -> str:
    """So much lower; a plain 0 where that rounds to nothing."""
    text = number(depth, digits)
    return f"−{text}" if text.strip("0.") else text


def sinking_figure(
    outcome: Outcome,
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw how the surface sinks over ten years if nobody tops it up.

    Parameters
    ----------
    outcome : Outcome
        Of one bed.
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
    width = width or (340 if narrow else 620)
    fill = outcome.fill
    years = np.linspace(0, _YEARS, 61)
    full = float(_in(fill.layers[-1].top, system))
    low, likely, high = (
        full - _in(fill.sunk(Q_(years, "year"), case), system)
        for case in ("low", "likely", "high")
    )
    unit = unit_sign("depth", system)
    logs = [la for la in fill.layers if la.material == "logs"]
    zone = float(_in(logs[-1].top, system)) if logs else None
    at = np.array(_MARK, dtype=float)
    drops = _in(fill.sunk(Q_(at, "year")), system)
    digits = 0 if system == "metric" else 1
    marked = [
        theme.note(_less(d, digits), y, full - d, yshift=-15, size=theme.TICK)
        for y, d in zip(at, drops, strict=True)
    ]
    first, five = (show(fill.sunk(Q_(y, "year")), "depth", system) for y in (1.0, 5.0))
    band = [
        number(float(_in(fill.sunk(Q_(5.0, "year"), case), system)), digits)
        for case in ("low", "high")
    ]
    teeth_x = np.repeat(np.arange(1, _YEARS + 1), 2).astype(float)
    ends = _in(fill.top_up(_YEARS).drops, system)
    teeth_y = np.stack([full - ends, np.full(_YEARS, full)], axis=1).ravel()
    teeth = np.concatenate([[0.0], teeth_x]), np.concatenate([[full], teeth_y])
    right = {"xanchor": "left", "xshift": 6, "size": theme.TICK, "align": "left"}
    notes = [
        theme.note(
            "topped up<br>each year", _YEARS, full, colour=theme.SECOND, **right
        ),
        theme.note(
            "left alone",
            _YEARS,
            likely[-1],
            colour=theme.LATER,
            yshift=-18 if full - likely[-1] < 0.16 * full else 0,
            **right | {"xshift": 20},  # past the number of the last year
        ),
    ]
    if zone is not None:
        style = {"yanchor": "top", "xanchor": "left", "size": theme.TICK}
        text = "top of the logs when laid"
        notes.append(theme.note(text, 0.1, zone, colour=theme.SECOND, **style))
    traces = (
        line(
            (np.concatenate([years, years[::-1]]), np.concatenate([low, high[::-1]])),
            theme.NOW, 0,
        ) | {"fill": "toself", "fillcolor": "rgba(86,180,233,0.28)"},
        line(teeth, theme.SECOND, 1.4, dash="dot"),
        line((years, likely), theme.LATER, theme.STRONG),
        marks((at, full - drops), 7, theme.PAPER, color=theme.LATER, width=2),
        line(
            (np.array([0.0, _YEARS]), np.full(2, zone)) if zone is not None else EMPTY,
            theme.MATERIAL["bark"], 1.6, dash="dash",
        ),
    )  # fmt: skip  # rows of a table
    top = full * 1.06
    step = theme.nice_step(top)
    return Drawing(
        traces=traces,
        layout=theme.base_layout(margin=_MARGIN, width=width, height=340),
        live_layout={
            "xaxis": theme.axis("years after filling", range=[0, _YEARS], dtick=1),
            "yaxis": theme.axis(
                f"height of the surface, {unit}", range=[0, top], dtick=step
            ),
        },
        annotations=(
            *theme.heading(
                f"It sinks {five} in five years"
                if narrow
                else f"It sinks {first} in year one, {five} in five",
                f"perhaps {band[0]} to {band[1]} {unit}; a model"
                if narrow
                else f"five years: {band[0]} to {band[1]} {unit}; a model, no measure",
            ),
            *marked,
            *notes,
        ),
        alt=(
            f"The surface over ten years. It starts {number(full, digits)} {unit} high "
            f"and sinks {first} in the first year, {five} in five. The band after five "
            f"years is {band[0]} to {band[1]} {unit}."
        ),
        caption=(
            "The band shows slow and fast rot. Dotted: you bring it back up with "
            "compost at the end of each year. The first settling is not in it; the "
            "order allows for that."
        ),
        numbers=Numbers(
            caption="How far the surface has sunk",
            headings=("year", "slow rot", "likely", "fast rot"),
            rows=tuple(
                (
                    str(y),
                    *(
                        show(fill.sunk(Q_(float(y), "year"), case), "depth", system)
                        for case in ("low", "likely", "high")
                    ),
                )
                for y in _MARK
            ),
        ),
    )
