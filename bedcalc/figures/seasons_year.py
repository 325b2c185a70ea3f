"""Seasons: nitrogen of the first year, the year of work, repair or a new box."""

from __future__ import annotations

from types import SimpleNamespace
from typing import TYPE_CHECKING

import numpy as np

from bedcalc.units import Q_, from_si, number, show, shown_in, unit_sign

from ..model.climate import MONTHS
from ..model.outcome import Outcome
from . import theme
from .drawing import Drawing, Numbers
from .shapes import line, marks

if TYPE_CHECKING:  # names for an editor; nothing is imported from a chapter
    from ..questions.years import Repair
    from ..seasons import Seasons, WorkYear

__all__ = ["feeding_figure", "repair_figure", "work_figure"]

_MONTHS = "JFMAMJJASOND"
_GROUPS = {
    "plants": ("sow, weed, harvest, clear", "#009E73", ""),
    "water": ("water", "#56B4E9", "/"),
    "bed": ("look after the bed", "#CC79A7", "x"),
    "compost": ("top up", "#7C5C47", "."),
}


def feeding_figure(
    outcome: Outcome,
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw nitrogen of the first year: given, taken by rot, wanted, left over.

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
    s, si = outcome.seasons, outcome.seasons.si
    values = [
        [float(shown_in(from_si(v, "g"), "nitrogen", system)) for v in row[:3]]
        for row in _rows(si)
    ]
    low = min(0.0, *(v for row in values for v in row))
    top = max(v for row in values for v in row) or 1.0
    at = np.arange(len(values), dtype=float)[::-1]
    ends = np.array([[v[1], v[2], np.nan] for v in values]).ravel()
    gives, takes, wants = (
        show(one, "nitrogen", system) for one in (s.gives, s.takes, s.wants)
    )
    deep = show(Q_(30, "cm"), "depth", system)
    return Drawing(
        traces=(
            _feeding_bars(values, at),
            line((ends, np.repeat(at, 3)), theme.INK, 2),
        ),
        layout=theme.base_layout(
            margin={"l": 12, "r": 12, "t": 62, "b": 46}, width=width, height=300
        ),
        live_layout={
            "xaxis": theme.axis(
                f"nitrogen in the first year, {unit_sign('nitrogen', system)}",
                range=[low * 1.05, top + (top - low) * 0.55],
            ),
            "yaxis": {"visible": False, "fixedrange": True, "range": [-0.6, 3.8]},
        },
        annotations=(
            *theme.heading(
                f"Nitrogen for the first crop: {_enough(si)}",
                "bar: likely; line: from the best to the worst",
            ),
            *_feeding_notes(values, at, low, system),
        ),
        alt=(
            f"Nitrogen of the first year. The fill gives {gives}, rotting wood takes "
            f"{takes}, the crop wants {wants}."
        ),
        caption=f"Only the upper {deep} count for the crop. Wood takes most where it "
        "touches the soil that roots are in.",
        numbers=_feeding_numbers(s, system),
    )


def _feeding_bars(values, at: np.ndarray) -> dict:
    return {
        "type": "bar",
        "orientation": "h",
        "x": [v[0] for v in values],
        "y": list(at),
        "width": [0.4] * len(values),
        "marker": {"color": [c for _, c in _FEEDS], "line": {"width": 0}},
        "hoverinfo": "skip",
    }


def _feeding_numbers(seasons: Seasons, system: str) -> Numbers:
    def row(one) -> tuple[str, ...]:
        amounts = (one.gives, one.near, one.ties)
        return (one.name, *(show(amount, "nitrogen", system) for amount in amounts))

    return Numbers(
        caption="Nitrogen of the first year, layer by layer, top first",
        headings=("layer", "gives", "takes, likely", "takes at most"),
        rows=tuple(row(one) for one in seasons.feeding),
    )


#: rows of the picture of nitrogen: name and colour
_FEEDS = (
    ("the fill gives", theme.BAR), ("rotting wood takes", "#B9770E"),
    ("the crop wants", "#009E73"), ("left over", theme.ACCENT),
)  # fmt: skip  # rows of a table


def _rows(si: SimpleNamespace) -> tuple[tuple[float, float, float], ...]:
    """Likely, least and most of each row of the picture, kilograms."""
    return (
        (si.gives, si.gives_low, si.gives_high),
        (si.takes, si.takes, si.takes_most),
        (si.wants, si.wants, si.wants),
        (si.over, si.over_least, si.over_most),
    )


def _enough(si: SimpleNamespace) -> str:
    if si.over < 0:
        return "not enough"
    return "enough" if si.over_least >= 0 else "likely enough, not surely"


def _feeding_notes(values, at, low: float, system: str) -> list[dict]:
    """Names over the bars, numbers behind them."""
    found, digits = [], 0 if str(system) == "metric" else 1
    soft = {"xanchor": "left", "size": theme.TICK, "colour": theme.SECOND}
    sign = unit_sign("nitrogen", system)
    for (name, _), y, (likely, least, most) in zip(_FEEDS, at, values, strict=True):
        found.append(theme.note(name, low, y + 0.42, **soft))
        text = f"{_signed(likely, digits)} {sign}"
        if most - least > 1e-6:
            text += f"   ({_signed(least, digits)} to {_signed(most, digits)})"
        end = max(most, likely, 0.0)
        found.append(theme.note(text, end, y, xanchor="left", xshift=8))
    return found


def _signed(value: float, digits: int) -> str:
    """A number with a real minus sign."""
    return ("−" if round(value, digits) < 0 else "") + number(abs(value), digits)


def _by_group(work: WorkYear, hours: np.ndarray) -> dict[str, np.ndarray]:
    """Hours of each group of tasks, month by month."""
    groups = np.array(work.groups)
    return {g: hours[:, groups == g].sum(axis=1) for g in _GROUPS}


def _work_bars(by_group: dict[str, np.ndarray]) -> tuple[dict, ...]:
    """One trace a group, each on top of the one before."""
    base, traces = np.zeros(12), []
    for name, (_, colour, pattern) in _GROUPS.items():
        shape = {"shape": pattern, "fgcolor": theme.PAPER, "size": 6}
        look = {"color": colour, "line": {"width": 0}, "pattern": shape}
        bars = {"type": "bar", "x": list(range(12)), "y": by_group[name], "base": base}
        traces.append(bars | {"width": [0.7] * 12, "hoverinfo": "skip", "marker": look})
        base = base + by_group[name]
    return tuple(traces)


def _work_key(by_group: dict[str, np.ndarray]) -> list[dict]:
    style = {"axes": ("paper", "paper"), "xanchor": "left", "yanchor": "bottom"}
    return [
        theme.note(
            f"<b>■</b> {words}: {number(float(by_group[g].sum()), 1)} h",
            0.0 if i % 2 == 0 else 0.5,
            1.0,
            yshift=24 - 18 * (i // 2),
            size=theme.TICK,
            colour=colour,
            **style,
        )
        for i, (g, (words, colour, _)) in enumerate(_GROUPS.items())
    ]


def work_figure(
    work: WorkYear,
    year: int,
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw the hours of one year, month by month.

    Parameters
    ----------
    work : WorkYear
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
    hours = work.si.hours[year - 1] / 3600
    by_group = _by_group(work, hours)
    most = max(float(hours.sum(axis=1).max()), 0.5)
    total = float(hours.sum())
    busy = int(hours.sum(axis=1).argmax())
    step = theme.nice_step(most)
    under = f"most in {MONTHS[busy]}: {number(float(hours[busy].sum()), 1)} h"
    if not work.known:
        under = "months not known: spread evenly"
    return Drawing(
        traces=_work_bars(by_group),
        layout=theme.base_layout(
            margin={"l": 46, "r": 12, "t": 108, "b": 40},
            width=width,
            height=340,
            barmode="overlay",
        ),
        live_layout={
            "xaxis": theme.axis(
                "", range=[-0.6, 11.6], tickvals=list(range(12)), ticktext=list(_MONTHS)
            ),
            "yaxis": theme.axis("hours a month", range=[0, most * 1.1], dtick=step),
        },
        annotations=(
            *(
                n | {"yshift": n["yshift"] + 44}
                for n in theme.heading(
                    f"Year {year}: {number(total, 0)} hours for one person", under
                )
            ),
            *_work_key(by_group),
        ),
        alt=f"Hours of work by month in year {year}, {number(total, 0)} in all; "
        f"{under}.",
        caption="One bed alone. Watering is by can, for what rain does not bring.",
        numbers=Numbers(
            caption=f"Hours in year {year}",
            headings=("task", "hours"),
            rows=tuple(
                (task, number(float(hours[:, i].sum()), 1))
                for i, task in enumerate(work.tasks)
            ),
        ),
    )


def repair_figure(
    repair: Repair,
    lasts: float,
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw what a year costs with a repair, by how long it lasts, and with a new box.

    Parameters
    ----------
    repair : Repair
        From :func:`bedcalc.questions.years.repair_of`.
    lasts : float
        Years that the reader thinks it lasts.
    system : str
        The reader's units, with the currency.
    narrow : bool
        For a narrow page.
    width : float or None
        Pixels it will be shown at.

    Returns
    -------
    Drawing
    """
    width = width or (340 if narrow else 620)
    now = float(np.interp(lasts, repair.years, repair.repair))
    top = max(repair.anew * 2.2, now * 1.15, 1.0)
    sign = unit_sign("money", system)
    better = "The repair is cheaper" if now <= repair.anew else "A new box is cheaper"
    start = min(float(np.interp(1.4, repair.years, repair.repair)), top * 0.93)
    new = {"xanchor": "right", "yshift": 10, "colour": theme.FAILS}
    again = {"xanchor": "left", "xshift": 10, "colour": theme.LATER}
    anew, this = (show(one, "money", system) for one in (repair.anew, now))
    return Drawing(
        traces=_repair_lines(repair, lasts, now, top),
        layout=theme.base_layout(
            margin={"l": 60, "r": 16, "t": 62, "b": 46}, width=width, height=310
        ),
        live_layout={
            "xaxis": theme.axis("years the repair lasts", range=[1, 15], dtick=2),
            "yaxis": theme.axis(
                f"{sign} a year", range=[0, top], dtick=theme.nice_step(top)
            ),
        },
        annotations=(
            *theme.heading(
                better, f"a new box lasts about {number(repair.life, 0)} years"
            ),
            theme.note("new box", 15, repair.anew, **new),
            theme.note("repair", 1.4, start, **again),
        ),
        alt=(
            f"Money a year against the years that the repair lasts. New box {anew} a "
            f"year; the repair, lasting {number(lasts, 0)} years, {this}."
        ),
        caption="Where the lines cross, the repair has paid for itself.",
        numbers=Numbers(
            caption="Money a year",
            headings=("the repair lasts", "repair", "new box"),
            rows=tuple(
                (
                    f"{y} years",
                    show(
                        float(np.interp(y, repair.years, repair.repair)),
                        "money",
                        system,
                    ),
                    anew,
                )
                for y in (2, 5, 10, 15)
            ),
        ),
    )


def _repair_lines(repair: Repair, lasts: float, now: float, top: float) -> tuple:
    """The repair, the new box, and where the reader stands."""
    curve = repair.years, np.minimum(repair.repair, top * 2)
    level = np.array([1.0, 15.0]), np.full(2, repair.anew)
    here = np.array([lasts]), np.array([now])
    return (
        line(curve, theme.LATER, theme.STRONG),
        line(level, theme.FAILS, 2, dash="dash"),
        marks(here, 10, theme.PAPER, color=theme.LATER, width=3),
    )
