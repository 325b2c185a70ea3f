"""Views of workbook 08: years of sinking, compost, feeding, work, wear and repair."""

from __future__ import annotations

import numpy as np

from ..figures.seasons import standing_figure
from ..figures.seasons_year import feeding_figure, repair_figure, work_figure
from ..model.layers import strategy_layers
from ..questions.years import (
    heap_of,
    log_half_life,
    repair_of,
    sheet_lasts,
    year_mean,
)
from ..tables import table
from ..units import Q_, number, show
from .kit.controls import list_row, slider_row
from .kit.grading import Item, Key, Question
from .kit.offers import STRATEGIES, sized, strategy_of
from .kit.view import Desk, View
from .kit.words import asked_of, phrase

__all__ = [
    "feeding_view", "heap_view", "item", "repair_view", "rot_view",
    "sheet_view", "standing_view", "work_view",
]  # fmt: skip  # a list of names


def _fill_row(about: Desk):
    """A list of fills that stands where the bed does; how it is read and written."""
    start, share = strategy_of(about.bed)

    def options():
        own = strategy_of(about.bed)[0] == "own"
        return [*STRATEGIES, *([("own", "own layers")] if own else [])]

    row = list_row("Fill", options(), start, name="strategy")

    def reads():
        now = strategy_of(about.bed)[0]
        row.relist(options(), now)
        return {"strategy": now}

    def writes(moved):
        strategy = moved.get("strategy", "own")
        if strategy != "own":
            layers = strategy_layers(strategy, Q_(share or 40, "percent"))
            about.take(sized(about.bed, fill=layers))

    return row, reads, writes


def standing_view(about: Desk) -> View:
    """Choose a fill and a year; see the bed as it stands then."""
    row, reads, writes = _fill_row(about)

    def render(values, size):
        o, system, year = about.outcome, about.system, values["year"]
        s = o.seasons
        low, high = s.sunk_low[year], s.sunk_high[year]
        words = f"By year {year} the soil is **{show(s.sunk[year], 'depth', system)}** "
        words += f"lower (slow rot {show(low, 'depth', system)}, "
        words += f"fast rot {show(high, 'depth', system)}). "
        compost = sum(s.si.compost[:year])
        bought = show(Q_(float(compost), "m^3"), "volume", system)
        words += f"Topped up each year, it takes {bought} of compost until then"
        cost = float(np.sum(s.si.compost_cost[:year]))
        if np.isfinite(cost):
            words += f", about {show(cost, 'money', system)}"
        return standing_figure(o, year, system=system, **size), words + "."

    rows = (row, slider_row("Year", "", 1, 10, 1, 5, name="year"))
    return View(
        about,
        rows,
        render,
        name="standing",
        reads=reads,
        writes=writes,
        presets={
            "All bought": {"strategy": "all_mix"},
            "Logs and compost": {"strategy": "logs_chips_compost"},
            "Half logs": {"strategy": "half_logs"},
        },
    )


def feeding_view(about: Desk) -> View:
    """Choose a fill; see whether the first crop goes hungry."""
    row, reads, writes = _fill_row(about)

    def render(values, size):
        o, system = about.outcome, about.system
        s = o.seasons
        check = next(c for c in s.checks if c.name == "hungry")
        words = f"{check.sign} {check.sentence(system)} "
        dose = show(Q_(10 * float(s.si.area), "g"), "nitrogen", system)
        if not check.ok:
            words += f"Give one dose of **{dose}** of nitrogen at planting, look again "
            words += "after four weeks. "
        elif s.si.over_least < 0:
            words += f"At the worst it falls short: keep a dose of **{dose}** ready. "
        else:
            words += "**No fertiliser.** What is left over is washed out in winter. "
        years = number(float(s.phosphorus_years.m), 0)
        words += f"Its phosphorus lasts about {years} years."
        return feeding_figure(o, system=system, **size), words

    return View(about, (row,), render, name="feeding", reads=reads, writes=writes)


def work_view(about: Desk) -> View:
    """Choose a year, and put in what it really took; see the hours by month."""

    def render(values, size):
        o, system, year = about.outcome, about.system, values["year"]
        work = o.seasons.work()
        hours = float(work.by_year[year - 1].m)
        august = float(work.si.hours[year - 1, 7].sum() / 3600)
        words = f"Year {year}: **{number(hours, 0)} hours**"
        if work.known:
            words += f", {number(august, 1)} of them in August"
        words += "."
        money = work.si.compost_cost[year - 1] + work.si.parts_cost[year - 1]
        if np.isfinite(money):
            words += f" Compost and parts: {show(float(money), 'money', system)}."
        names = [name for when, name, _ in work.parts if when == year]
        if names:
            words += f" Worn out by then: {names[0]}"
            words += f" and {len(names) - 1} more lines of the bill." * (len(names) > 1)
        spent = values["spent"]
        if spent:
            more = spent - hours
            side = "more" if more > 0 else "less"
            words += (
                f" You took {spent} hours, {number(abs(more), 0)} {side} than that."
            )
        if work.asks:
            words += f" {work.asks}"
        return work_figure(work, year, system=system, **size), words

    rows = (
        slider_row("Year", "", 1, 10, 1, 1, name="year"),
        slider_row("Hours it really took", "", 0, 200, 1, 0, name="spent"),
    )
    return View(about, rows, render, name="work_year")


def repair_view(about: Desk) -> View:
    """Choose what a repair costs and how long it lasts; see it beside a new box."""

    def render(values, size):
        o, system = about.outcome, about.system
        if o.cost is None or not np.isfinite(float(o.cost.si.walls)):
            return None, phrase("no_prices")
        found = repair_of(o, values["share"] / 100)
        lasts = float(values["lasts"])
        drawing = repair_figure(found, lasts, system=system, **size)
        price = show(found.box * values["share"] / 100, "money", system)
        words = f"A repair for {price}, beside a new box for "
        words += f"{show(found.box, 'money', system)}: "
        if found.breaks_even is None:
            return drawing, words + "**build anew**; it pays in none of fifteen years."
        words += (
            f"it pays if it lasts **{number(found.breaks_even, 1)} years** or more."
        )
        return drawing, words

    rows = (
        slider_row("Repair, percent of a new box", "", 1, 90, 1, 20, name="share"),
        slider_row("Years it lasts", "", 1, 15, 1, 5, name="lasts"),
    )
    return View(about, rows, render, name="repair_years")


_MEANS = [(5, "cold, 5 °C (41 °F)"), (10, "mild, 10 °C (50 °F)"),
          (15, "warm, 15 °C (59 °F)"),
          (20, "hot, 20 °C (68 °F)")]  # fmt: skip  # rows of a table
_WETS = [(1.0, "moist"), (0.5, "dry"), (0.3, "under water")]
_WOODS = [(0.03, "durable: oak heart, locust, cedar"), (0.05, "softwood: spruce, pine"),
          (0.08, "soft: birch, poplar, beech")]  # fmt: skip  # rows of a table


def rot_view(about: Desk) -> View:
    """Choose wood, warmth, moisture and thickness; see when half of a log is gone."""

    def means():
        mean = year_mean(about.place.climate)
        return [*([("own", "as in my climate")] if mean is not None else []), *_MEANS]

    def reads():
        offered = means()
        kept = rows[1].value in dict(offered)
        rows[1].relist(offered, rows[1].value if kept else offered[0][0])
        return {}

    def render(values, size):
        mean = year_mean(about.place.climate)
        if values["mean"] != "own" or mean is None:
            given = values["mean"] if values["mean"] != "own" else 10
            mean = Q_(given + 273.15, "K")
        half = log_half_life(values["wood"], mean, values["wet"], values["diameter"])
        words = (
            f"Half of a log is gone after about **{number(float(half.m), 0)} years**."
        )
        words += " It begins to hold water for the roots about then, not before."
        return None, words

    rows = (
        list_row("Wood", _WOODS, 0.08, name="wood"),
        list_row("Warmth", means(), means()[0][0], name="mean"),
        list_row("It lies", _WETS, 1.0, name="wet"),
        slider_row("Thickness", "cm", 5, 45, 1, 20, name="diameter"),
    )
    return View(about, rows, render, name="rot", reads=reads)


def heap_view(about: Desk) -> View:
    """Choose two materials for a heap; see how much of the second it takes."""
    names = [(row.key, row.name) for row in table("heap")]

    def render(values, size):
        first, second = (table("heap")[values[n]] for n in ("first", "second"))
        found = heap_of(first.key, second.key, values["mass"])
        mass = show(values["mass"], "mass", about.system)
        if not 0 < found.second < np.inf:
            words = f"With {second.name} you cannot bring {first.name} to 30 to 1. "
            return None, words + "Take one that is over 30 and one that is under."
        words = f"{mass} of {first.name} want "
        words += f"**{show(Q_(found.second, 'kg'), 'mass', about.system)}** of "
        words += f"{second.name} for 30 to 1. The heap is then "
        words += f"{number(100 * found.moisture, 0)} % water: "
        if found.moisture > 0.65:
            words += "too wet. Add dry stuff, or let the first material wilt."
        elif found.moisture < 0.45:
            words += "too dry. Water it as you build it."
        else:
            words += "about right."
        return None, words

    rows = (
        list_row("First", names, "grass", name="first"),
        list_row("Second", names, "leaves", name="second"),
        slider_row("Of the first", "kg", 1, 200, 1, Q_(10, "kg"), name="mass",
                   us=("lb", 2, 440, 1)),
    )  # fmt: skip  # rows of a table
    return View(about, rows, render, name="heap")


def sheet_view(about: Desk) -> View:
    """Choose zinc, steel and what lies against it; see how long the sheet lasts."""

    def render(values, size):
        zinc = Q_(float(values["zinc"]), "micrometer")
        bare, end = sheet_lasts(zinc, Q_(values["steel"], "mm"), values["sides"])
        words = f"In soil the zinc lasts about **{number(float(bare.m), 0)} years**, "
        words += f"half of the steel about **{number(float(end.m), 0)}**. "
        return None, words + "Damp, sour compost is harder on it; a liner helps."

    coats = [(19.2, "G90 or Z275, rolled on"), (45.0, "dipped, thin"),
             (86.0, "dipped, thick")]  # fmt: skip  # rows of a table
    steels = [(0.42, "0.42 mm (0.017 in)"), (0.5, "0.5 mm (0.020 in)"),
              (0.75, "0.75 mm (0.030 in)")]  # fmt: skip  # rows of a table
    sides = [(1, "soil on one side"), (2, "soil on both sides")]
    rows = (
        list_row("Zinc", coats, 19.2, name="zinc"),
        list_row("Steel", steels, 0.5, name="steel"),
        list_row("Against it", sides, 1, name="sides"),
    )  # fmt: skip  # rows of a table
    return View(about, rows, render, name="sheet_years")


# ---- questions of workbook 08


def _bed(outcome) -> str:
    return asked_of(outcome.bed, outcome.place)


def _buy(outcome):
    """Loose compost for what has sunk by year five, once and together."""
    sunk = outcome.seasons.sunk[5] * outcome.seasons.area
    return sunk / (1 - table("fills")["compost"].settle)


def _sunk_facts(outcome):
    return {
        "bed": _bed(outcome),
        "sunk": (outcome.seasons.sunk[5], "depth"),
        "area": (outcome.seasons.area, "area"),
        "left": (Q_(1 - table("fills")["compost"].settle, ""), "ratio"),
    }


def _dose(outcome):
    return 10 * outcome.seasons.area.m_as("m^2") * Q_(1, "g")


KEYS = {
    "top_up": Key(
        answer=_buy,
        mistakes={
            "settled": lambda o: o.seasons.sunk[5] * o.seasons.area,
            "times": lambda o: (
                o.seasons.sunk[5]
                * o.seasons.area
                * (1 + table("fills")["compost"].settle)
            ),
        },
        facts=_sunk_facts,
    ),
    "left_half": Key(
        answer=lambda outcome: Q_(25.0, "percent"),
        mistakes={
            "none": lambda outcome: Q_(0.0, "percent"),
            "once": lambda outcome: Q_(50.0, "percent"),
        },
    ),
    "pale": Key(answer=lambda outcome: "dose"),
    "nuts": Key(answer=lambda outcome: "dig"),
}


def item(name: str) -> Item:
    """A question of workbook 08 with its key."""
    return Item(question=Question.read(name, "08"), key=KEYS[name])
