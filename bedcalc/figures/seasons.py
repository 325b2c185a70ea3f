"""Seasons: the bed cut open, as it stands in three years."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedcalc.units import number, show, shown_in, unit_sign

from ..model.outcome import Outcome
from . import theme
from .drawing import Drawing, Numbers
from .shapes import EMPTY, area, line, marks, rectangle
from .texture import log_ends

__all__ = ["standing_figure"]

_SLOTS = 8


def _sunk(outcome: Outcome, name: str, year: int, system: str) -> str:
    """How far it has sunk, without its unit."""
    value = getattr(outcome.seasons, name)[year]
    return number(float(shown_in(value, "depth", system)), 0)


def _join(rings) -> tuple:
    """Several outlines as one trace."""
    if not rings:
        return EMPTY
    return tuple(
        np.concatenate([np.asarray(r[i], dtype=float) for r in rings]) for i in (0, 1)
    )


@dataclass(frozen=True, kw_only=True)
class _ThreeBeds:
    """Where three beds side by side stand, in metres."""

    full: float
    high: float
    inside: float
    wall: float
    gap: float

    @classmethod
    def of(cls, outcome: Outcome, narrow: bool) -> _ThreeBeds:
        """Sizes that suit the bed."""
        full = float(outcome.fill.layers[-1].si.top)
        high = max(float(outcome.bed.si.soil_depth), full) * 1.02
        return cls(
            full=full,
            high=high,
            inside=high * (0.62 if narrow else 1.05),
            wall=high * 0.07,
            gap=high * (0.18 if narrow else 0.34),
        )

    @property
    def low(self) -> float:
        """Underside of the ground."""
        return -0.16 * self.high

    @property
    def total(self) -> float:
        """Width of all three."""
        return 3 * (self.inside + 2 * self.wall) + 2 * self.gap

    def sides(self, place: int) -> tuple[float, float]:
        """Left and right end of the fill of one bed."""
        left = place * (self.inside + 2 * self.wall + self.gap)
        return left, left + self.inside


def _fills(outcome: Outcome, years, page: _ThreeBeds) -> tuple[list, tuple]:
    """Outlines by layer, and the log ends: the same logs, grown thinner."""
    layers: list[list] = [[] for _ in range(_SLOTS)]
    logs: list[tuple] = []
    for place, year in enumerate(years):
        (left, right), z = page.sides(place), 0.0
        for slot, layer in enumerate(outcome.fill.layers[:_SLOTS]):
            thick = float(layer.si.depth)
            deep = max(thick - float(outcome.seasons.si.layers_sunk[slot, year]), 0.0)
            layers[slot].append(rectangle(left, right, z, z + deep))
            if layer.si.material == "logs" and thick > 0.03:
                found, shrunk = log_ends(left, right, 0.0, thick), deep / thick
                logs.append((found.x, z + found.z * shrunk, found.r * shrunk))
            z += deep
    ends = tuple(
        np.concatenate([one[i] for one in logs]) if logs else np.empty(0)
        for i in range(3)
    )
    return layers, ends


def _traces(outcome: Outcome, years, page: _ThreeBeds, scale: float) -> tuple:
    bed, m = outcome.bed, theme.MATERIAL
    layers, (x, z, r) = _fills(outcome, years, page)
    soil, walls, dashes = [], [], []
    for place in range(len(years)):
        left, right = page.sides(place)
        wall, out = page.wall, 2.2 * page.wall
        soil.append(rectangle(left - out, right + out, page.low, 0.0))
        walls.append(rectangle(left - wall, left, 0.0, page.high))
        walls.append(rectangle(right, right + wall, 0.0, page.high))
        dashes.append(([left, right, np.nan], [page.full, page.full, np.nan]))
    keys = [layer.si.material for layer in outcome.fill.layers][:_SLOTS]
    keys += ["mix"] * (_SLOTS - len(keys))
    colours = [m["gap" if key == "logs" else key] for key in keys]
    family = "boards" if bed.wall.family == "sheet" else bed.wall.family
    size = np.maximum(2 * r * scale - 1.5, 1.0)
    return (
        area(_join(soil), m["ground"], width=0),
        *(
            area(_join(rings), colour, width=0)
            for rings, colour in zip(layers, colours, strict=True)
        ),
        marks((x, z), size, m["log end"], color=m["bark"], width=1.5),
        area(_join(walls), theme.wall_colour(family, bed.wall.wood)),
        line(_join(dashes), theme.LATER, 2, dash="dash"),
    )


def _notes(outcome: Outcome, years, page: _ThreeBeds, system: str) -> list[dict]:
    unit, found = unit_sign("depth", system), []
    soft = {"size": theme.TICK, "colour": theme.SECOND}
    for place, year in enumerate(years):
        middle = sum(page.sides(place)) / 2
        head = f"year {year}" if year else "when filled"
        found.append(theme.note(f"<b>{head}</b>", middle, page.high, yshift=30))
        if year:
            low, high = (
                _sunk(outcome, n, year, system) for n in ("sunk_low", "sunk_high")
            )
            text = f"−{show(outcome.seasons.sunk[year], 'depth', system)}"
            band = f"{low} to {high} {unit}"
            found.append(theme.note(text, middle, page.high, yshift=13))
            found.append(theme.note(band, middle, page.low, yshift=-10, **soft))
    return found


def _numbers(outcome: Outcome, system: str) -> Numbers:
    names = ("sunk_low", "sunk", "sunk_high")

    def row(year: int) -> tuple[str, ...]:
        values = (getattr(outcome.seasons, name)[year] for name in names)
        return (str(year), *(show(value, "depth", system) for value in values))

    return Numbers(
        caption="How far the soil has sunk, left alone",
        headings=("year", "slow rot", "likely", "fast rot"),
        rows=tuple(row(year) for year in (1, 3, 5, 10)),
    )


def standing_figure(
    outcome: Outcome,
    year: int,
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw the bed cut open in year 0, in the middle, and in the year asked about.

    Parameters
    ----------
    outcome : Outcome
        Of one bed.
    year : int
        1 to 10.
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
    years = (0, max(year // 2, 1), year) if year > 1 else (0, 1, 1)
    page = _ThreeBeds.of(outcome, narrow)
    scale = (width - 20) / (page.total + 4 * page.wall)
    mid, deep = years[1:]
    first, half = (
        show(outcome.seasons.sunk[at], "depth", system) for at in (deep, mid)
    )
    hidden = {"visible": False, "fixedrange": True}
    return Drawing(
        traces=_traces(outcome, years, page, scale),
        layout=theme.base_layout(
            margin={"l": 10, "r": 10, "t": 108, "b": 30}, width=width
        ),
        live_layout={
            "height": scale * page.high * 1.16 + 138,
            "xaxis": hidden | {"range": [-2.6 * page.wall, page.total]},
            "yaxis": hidden | {"range": [page.low, page.high]},
        },
        annotations=(
            *(
                n | {"yshift": n["yshift"] + 44}
                for n in theme.heading(
                    f"Left alone it sinks {first} by year {deep}",
                    "dashed: where the soil stood; below: slow and fast rot",
                )
            ),
            *_notes(outcome, years, page, system),
        ),
        alt=(
            f"The bed cut open: when filled, in year {mid} and in year {deep}. "
            f"The soil is {half} lower in year {mid} and {first} lower in year {deep}."
        ),
        caption="Each layer shrinks by what it loses to rot. Nobody has topped it up.",
        numbers=_numbers(outcome, system),
    )
