"""Views of workbook 02: layers, a stack of one's own, logs, work, sinking, buying."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from ..figures.fill import fill_figure
from ..figures.fill_barrows import barrows_figure
from ..figures.fill_comparison import buying_figure, small_first, ways_figure
from ..figures.fill_logs import logs_figure
from ..figures.fill_settlement import sinking_figure
from ..model.layers import Layer, strategy_layers
from ..model.outcome import Outcome
from ..questions.compare import buying, compare_fills
from ..tables import table
from ..units import Q_, number, show
from .kit.controls import list_row, slider_row
from .kit.grading import Item, Key, Question
from .kit.offers import STRATEGIES, sized, strategy_of
from .kit.style import html, paper
from .kit.view import Desk, View, facts_html, when_new
from .kit.words import asked_of, literal, phrase

__all__ = [
    "buying_view", "item", "layers_sentence", "layers_view", "logs_view",
    "minerals_block", "sinking_view", "ways_view", "work_view",
]  # fmt: skip  # a list of names

_GOODS = [("mix", "garden mix"), ("compost", "compost"), ("chips", "wood chips")]
_NAMES = {row.goods: row.name for row in table("fills")} | {"truck": "delivery"}


def _orders(outcome: Outcome, system: str) -> str:
    words = [
        f"{show(o.order, 'volume', system)} {o.name}"
        for o in outcome.fill.orders
        if o.delivered and o.si.order > 0
    ]
    return " and ".join(words) if len(words) < 3 else ", ".join(words)


def _no_price(about: Desk, goods: Iterable[str]) -> str:
    """Why these goods cannot be priced; empty if they can."""
    if about.place.prices is None:
        return phrase("no_prices")
    lacks = [key for key in goods if key not in about.place.goods]
    if not lacks:
        return ""
    own = {one.key: one.name for one in about.garden.fills}
    names = ", ".join(own.get(key, _NAMES.get(key, key)) for key in lacks)
    return phrase("not_priced", missing=f"your list has no {names}")


def _count(n: float, thing: str) -> str:
    return f"{number(float(n), 0)} {thing}{'' if round(float(n)) == 1 else 's'}"


def _saving(fill, system: str) -> str:
    saved = fill.si.saved
    if abs(saved) < 0.5:
        return "That is what all bought mix costs."
    way = "less" if saved > 0 else "more"
    return f"That is {show(abs(saved), 'money', system)} {way} than all bought mix."


def layers_sentence(about: Desk) -> str:
    """What to order for the layers, what it costs, and whether the logs lie deep."""
    o, system = about.outcome, about.system
    fill = o.fill
    words = f"Order **{_orders(o, system) or 'nothing'}**"
    if np.isfinite(fill.si.cost + fill.si.delivery):
        cost = show(fill.cost + fill.delivery, "money", system)
        words += f" for {cost} with delivery. "
        if np.isfinite(fill.si.saved):
            words += _saving(fill, system)
    else:
        brought = [] if fill.si.delivery == 0 else ["truck"]
        words += ". " + _no_price(
            about, [*(or_.goods for or_ in fill.orders), *brought]
        )
    words += f" {_count(fill.si.loads, 'barrow load')}."
    cover = o.check("cover")
    if cover is not None and cover.verdict != "holds":
        words += f" ✕ {cover.sentence(system)} Take fewer logs."
    return words


def layers_view(about: Desk) -> View:
    """Choose a fill, its logs and the height; see layers, order and saving."""
    start, share = strategy_of(about.bed)

    def options():
        own = strategy_of(about.bed)[0] == "own"
        return [*STRATEGIES, *([("own", "own layers")] if own else [])]

    def reads():
        strategy, share = strategy_of(about.bed)
        rows[0].relist(options(), strategy)
        sizes = {"logs": Q_(share, "percent"), "height": about.bed.height}
        return sizes | {"strategy": strategy}

    def writes(moved):
        change = {"height": moved["height"]} if "height" in moved else {}
        strategy = moved.get("strategy", rows[0].value)
        if moved.keys() & {"strategy", "logs"} and strategy != "own":
            change["fill"] = strategy_layers(strategy, moved.get("logs", rows[1].value))
        about.take(sized(about.bed, **change))

    def render(values, size):
        strategy = values["strategy"]
        rows[1].shown = strategy != "own" and any(
            layer.kind == "logs"
            for layer in strategy_layers(strategy, Q_(30, "percent"))
        )
        drawing = fill_figure(about.outcome, system=about.system, **size)
        return drawing, layers_sentence(about)

    rows = (
        list_row("Fill", options(), start, name="strategy"),
        slider_row("Logs", "percent", 0, 60, 1, Q_(share, "percent"), name="logs"),
        slider_row("Height", "cm", 15, 110, 1, about.bed.height, name="height"),
    )
    return View(
        about,
        rows,
        render,
        name="layers",
        reads=reads,
        writes=writes,
        presets={
            "All bought": {"strategy": "all_mix"},
            "Logs, chips, compost": {
                "strategy": "logs_chips_compost",
                "logs": Q_(40, "percent"),
            },
            "Half logs": {"strategy": "half_logs", "logs": Q_(50, "percent")},
        },
    )


def logs_view(about: Desk) -> View:
    """Choose how thick the logs are; see how they lie and what one weighs."""

    def render(values, size):
        o, system = about.outcome, about.system
        plan = o.fill.logs(values["diameter"])
        drawing = logs_figure(o, plan, system=system, **size)
        if plan is None:
            return drawing, "This fill has no logs. Choose one with logs above."
        if not plan.fits:
            words = "These logs are thicker than the log zone is deep. "
            return drawing, words + "Take thinner ones, or a deeper zone."
        lift = float(plan.si.mass_each)
        words = f"**{_count(plan.si.laid, 'log')}** of "
        words += f"{show(values['diameter'], 'depth', system)} fit, "
        words += f"{show(plan.mass_each, 'mass', system)} each when green."
        words += " Lift one in pairs." if lift > 23 else " One person can lift one."
        short = [name for name, _, enough in o.fill.covers() if not enough]
        if short:
            words += f" ! Too little soil on top for {short[-1].split(' over')[0]}."
        words += f" Chips over {show(plan.largest_chip, 'stock', system)} stay on top."
        return drawing, words

    rows = [slider_row("Thickness", "cm", 6, 45, 1, 20, name="diameter")]
    return View(about, rows, render, name="logs")


def work_view(about: Desk) -> View:
    """Choose barrow, distance and crew; see loads, weight and hours."""
    barrows = [
        (row.key, f"{row.name}, {row.volume * 1000:.0f} L") for row in table("barrows")
    ]

    def render(values, size):
        o, system = about.outcome, about.system
        work = o.fill.work(values["barrow"], values["distance"], values["crew"])
        drawing = barrows_figure(o, work, system=system, **size)
        crew = "1 person" if values["crew"] == 1 else f"{values['crew']} people"
        words = f"**{_count(work.si.loads, 'load')}, about "
        words += f"{show(work.hours, 'time')}** for {crew}, "
        words += "without breaks. Laying the logs is included."
        if work.too_heavy:
            words += f" ! A full load of {work.too_heavy[0]} weighs "
            words += f"{show(work.heaviest, 'mass', system)}: go half full."
        return drawing, words

    rows = [
        list_row("Barrow", barrows, "builder", name="barrow"),
        slider_row("Distance", "m", 5, 120, 5, 40, name="distance"),
        slider_row("People", "", 1, 12, 1, about.place.crew, name="crew"),
    ]
    crew = when_new(lambda: {"crew": about.place.crew})
    return View(about, rows, render, name="work", reads=crew)


def sinking_view(about: Desk) -> View:
    """Choose a year; see how far the bed has sunk and what topping it up costs."""

    def render(values, size):
        o, system, years = about.outcome, about.system, values["years"]
        later = o.fill.top_up(years)
        drawing = sinking_figure(o, system=system, **size)
        lacks = _no_price(about, ["compost"]) if later.si.total_loose > 0 else ""
        cost = f", about {show(later.total_cost, 'money', system)} in all"
        words = f"By year {years} it sinks "
        words += f"**{show(o.fill.sunk(Q_(float(years), 'year')), 'depth', system)}**. "
        words += "Kept full all the time, it takes "
        words += f"{show(later.total_loose, 'volume', system)} compost"
        return drawing, words + (f". {lacks}" if lacks else f"{cost}.")

    rows = [slider_row("Year", "", 1, 10, 1, 5, name="years")]
    return View(about, rows, render, name="sinking")


def _own_ways(about: Desk) -> dict[str, tuple[Layer, ...]]:
    """Ways to fill that no list has: the layers of this bed, and each own fill."""
    found, here = {}, about.bed.fill
    if here not in [strategy_layers(key) for key, _ in STRATEGIES]:
        found["Your own layers" if about.own else "The layers chosen here"] = here
    for fill in about.garden.fills:
        layers = (Layer(material=fill),)
        if layers != here:
            found[f"All {fill.name}"] = layers
    return found


def ways_view(about: Desk) -> View:
    """Choose how many years to count; see the fills side by side."""

    def render(values, size):
        years = values["years"]
        q = about.system
        choices = compare_fills(
            about.bed, about.place, years=years, own=_own_ways(about)
        )
        drawing = ways_figure(choices, years=years, system=q, **size)
        priced = [c for c in choices if np.isfinite(c.after.m)]
        if not priced:
            goods = dict.fromkeys(o.goods for c in choices for o in c.fill.orders)
            return drawing, _no_price(about, [*goods, "truck"])
        best = min(priced, key=lambda c: float(c.after.m))
        name = literal(small_first(best.name))
        words = f"Counting {years} years, **{name}** costs least: "
        words += f"{show(best.after, 'money', q)}"
        if np.isfinite(best.saved_after.m):
            words += f", {show(best.saved_after, 'money', q)} less than all bought mix"
            words += f". On the first day it saved {show(best.saved_now, 'money', q)}"
        return drawing, words + "."

    rows = [slider_row("Years", "", 1, 10, 1, 5, name="years")]
    return View(about, rows, render, name="ways")


def buying_view(about: Desk) -> View:
    """Choose a material and a volume; see bags against bulk."""

    def goods():
        own = [(one.key, one.name) for one in about.garden.fills]
        return [*_GOODS, *own]

    def reads():
        offered = goods()
        kept = rows[0].value in dict(offered)
        rows[0].relist(offered, rows[0].value if kept else "mix")
        return {}

    def render(values, size):
        name = dict(goods())[values["goods"]]
        volumes, cost, tie = buying(values["goods"], about.place)
        needed = values["needed"]
        drawing = buying_figure(
            volumes,
            cost,
            needed.m_as("m^3"),
            tie,
            name=name,
            system=about.system,
            **size,
        )
        cost = {how: sums for how, sums in cost.items() if np.isfinite(sums).all()}
        if not cost:
            return drawing, _no_price(about, [values["goods"], "truck"])
        near = int(abs(volumes - needed.m_as("m^3")).argmin())
        pay = {how: float(values_[near]) for how, values_ in cost.items()}
        how = min(pay, key=pay.get)
        other = max(pay, key=pay.get)
        words = f"For {show(needed, 'volume', about.system)} of {name}, **{how}** cost "
        words += show(pay[how], "money", about.system)
        if other != how:
            words += f"; {other} {show(pay[other], 'money', about.system)}"
        return drawing, words + "."

    rows = [
        list_row("Buy", goods(), "mix", name="goods"),
        slider_row(
            "You need", "L", 50, 3000, 50, Q_(800, "L"), name="needed",
            us=("yd^3", 0.1, 4.0, 0.1),
        ),
    ]  # fmt: skip  # rows of a table
    return View(about, rows, render, name="buying", reads=reads)


def minerals_block(about: Desk):
    """Minerals for the bed on the desk, by weight; kept up to date."""
    page = html("", "bc-scroll")

    def write(outcome: Outcome) -> None:
        unit, sign = ("oz", "oz") if about.system == "us" else ("g", "g")
        rows = [
            (name, f"{low.m_as(unit):.0f} to {high.m_as(unit):.0f} {sign}", when)
            for name, low, high, when in outcome.fill.minerals()
        ]
        heads = ("What", f"for {about.name}", "when")
        words = "Minerals, strewn over the top and raked in"
        page.value = facts_html(heads, rows, words)

    about.observe(write)
    return paper(page)


# ---- questions of workbook 02


def _bed(outcome: Outcome) -> str:
    return asked_of(outcome.bed, outcome.place)


def _settle():
    return table("fills")["mix"].q("settle")


def _mix_facts(outcome: Outcome):
    return {
        "bed": _bed(outcome),
        "full": (outcome.fill.settled_volume, "volume"),
        "settle": (_settle(), "percent"),
        "left": (1 - _settle(), "ratio"),
    }


def _loose(outcome: Outcome):
    return outcome.fill.settled_volume / (1 - _settle())


def _zone(outcome: Outcome):
    """A log zone a third of the fill deep."""
    return outcome.fill.settled_volume / 3


def _gap_facts(outcome: Outcome):
    row = table("fills")["logs"]
    return {
        "bed": _bed(outcome),
        "zone": (_zone(outcome), "volume"),
        "wood": (row.q("packing"), "percent"),
        "gaps": (1 - row.q("packing"), "percent"),
        "share": (row.q("void_fill"), "percent"),
    }


def _gaps(outcome: Outcome):
    row = table("fills")["logs"]
    return _zone(outcome) * (1 - row.q("packing")) * row.q("void_fill")


def _load_facts(outcome: Outcome):
    return {
        "loose": (_loose(outcome), "volume"),
        "barrow": "85 L",
        "answer": number(float(_whole(_loose(outcome) / Q_(85, "liter")).m), 0),
    }


def _whole(value) -> Q_:
    return Q_(float(-(-value.m_as("") // 1)), "")


KEYS = {
    "loose": Key(
        answer=_loose,
        mistakes={
            "times": lambda o: o.fill.settled_volume * (1 + _settle()),
            "none": lambda o: o.fill.settled_volume,
            "shrunk": lambda o: o.fill.settled_volume * (1 - _settle()),
        },
        facts=_mix_facts,
    ),
    "gaps": Key(
        answer=_gaps,
        mistakes={
            "all_gaps": lambda o: _zone(o) * (1 - table("fills")["logs"].q("packing")),
            "of_zone": lambda o: _zone(o) * table("fills")["logs"].q("void_fill"),
            "wood": lambda o: _zone(o) * table("fills")["logs"].q("packing"),
        },
        facts=_gap_facts,
    ),
    "loads": Key(
        answer=lambda o: _whole(_loose(o) / Q_(85, "liter")),
        mistakes={
            "settled": lambda o: _whole(o.fill.settled_volume / Q_(85, "liter")),
        },
        facts=_load_facts,
    ),
    "gravel": Key(answer=lambda outcome: "no"),
    "bottom": Key(answer=lambda outcome: "cardboard"),
}


def item(name: str) -> Item:
    """A question of workbook 02 with its key."""
    return Item(question=Question.read(name, "02"), key=KEYS[name])
