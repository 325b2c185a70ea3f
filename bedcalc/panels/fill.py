"""Views of workbook 02: layers, a stack of one's own, logs, work, sinking, buying."""

from __future__ import annotations

from ..bed import Layer, strategy_layers
from ..compare import buying, compare_fills
from ..figures.fill import fill_figure
from ..figures.fill_barrows import barrows_figure
from ..figures.fill_logs import logs_figure
from ..figures.fill_sinking import sinking_figure
from ..figures.fill_ways import buying_figure, ways_figure
from ..tables import table
from ..units import Q_, number, show
from .bench import _strategy_of as strategy_of
from .checking import Item, Key, Question
from .controls import choice_row, list_row, slider_row
from .view import Desk, View, facts_table
from .words import called

__all__ = [
    "buying_view", "item", "layers_view", "logs_view", "minerals_block",
    "sinking_view", "stack_view", "ways_view", "work_view",
]  # fmt: skip

_SYSTEMS = [("metric", "metric"), ("us", "feet, inches")]
_GOODS = [("mix", "garden mix"), ("compost", "compost"), ("chips", "wood chips")]
NOTHING = "none"


def _orders(outcome, system: str) -> str:
    words = [
        f"{show(o.order, 'volume', system)} {o.name}"
        for o in outcome.fill.orders
        if o.delivered and o.si.order > 0
    ]
    return " and ".join(words) if len(words) < 3 else ", ".join(words)


def _saving(fill) -> str:
    saved = fill.si.saved
    if abs(saved) < 0.5:
        return "That is what all bought mix costs."
    way = "less" if saved > 0 else "more"
    return f"That is {show(abs(saved), 'money')} {way} than all bought mix."


def _layers_sentence(about: Desk) -> str:
    o, system = about.outcome, about.system
    fill = o.fill
    words = f"Order **{_orders(o, system)}** for "
    words += f"{show(fill.cost + fill.delivery, 'money')} with delivery. "
    words += _saving(fill)
    words += f" {number(float(fill.si.loads), 0)} barrow loads."
    cover = o.check("cover")
    if cover is not None and cover.verdict != "holds":
        words += f" ✕ {cover.sentence(system)} Take fewer logs."
    return words


def layers_view(about: Desk) -> View:
    """Choose a fill, its logs and the height; see layers, order and saving."""
    names = {row.strategy: row.name for row in table("strategies")}
    first = about.bed

    def follow(values, size):
        strategy = values["strategy"]
        change = {"height": values["height"]}
        if first.soil_depth is not None:
            change["soil_depth"] = min(first.soil_depth, values["height"])
        if strategy == "own":
            change["fill"] = first.fill
        else:
            change["fill"] = strategy_layers(strategy, values["logs"])
        about.take(bed=first.change(**change), system=values["system"])
        logs = strategy != "own" and any(
            layer.kind == "logs"
            for layer in strategy_layers(strategy, Q_(30, "percent"))
        )
        controls["logs"].shown = logs
        for control in controls.values():
            control.use(about.system)
        drawing = fill_figure(about.outcome, system=about.system, **size)
        return drawing, _layers_sentence(about)

    options = [*names.items(), ("own", "as it was saved")]
    start, share = strategy_of(first)
    rows = (
        choice_row("Show in", _SYSTEMS, about.system, name="system"),
        list_row("Fill", options, start, name="strategy"),
        slider_row("Logs", "percent", 0, 60, 1, Q_(share, "percent"), name="logs"),
        slider_row("Height", "cm", 15, 110, 1, first.height, name="height"),
    )
    controls = {row.name: row for row in rows}
    return View(
        about,
        rows,
        follow,
        name="layers",
        acts={"Save as my bed": about.keep},
        presets={
            "All bought": {"strategy": "all_mix"},
            "Logs, chips, compost": {
                "strategy": "logs_chips_compost",
                "logs": Q_(40, "percent"),
            },
            "Half logs": {"strategy": "half_logs", "logs": Q_(50, "percent")},
        },
    )


def stack_view(about: Desk) -> View:
    """Build a stack layer by layer, bottom first; the last one takes the rest."""
    about = about.copy()
    deep = float(about.bed.si.fill_depth) * 100
    materials = [(row.key, row.name) for row in table("fills")]
    below = [(NOTHING, "nothing"), *materials]
    begin = (("logs", deep // 3), ("chips", deep // 9), (NOTHING, 5), (NOTHING, 5))

    def follow(values, size):
        layers = [
            Layer(material=values[f"material_{n}"], depth=values[f"depth_{n}"])
            for n in range(1, 5)
            if values[f"material_{n}"] != NOTHING
        ]
        layers.append(Layer(material=values["rest"]))
        if values["top"] > Q_(0, "cm"):
            layers.append(Layer(material="topdressing", depth=values["top"]))
        for n in range(1, 5):
            rows[f"depth_{n}"].shown = values[f"material_{n}"] != NOTHING
        about.take(bed=about.bed.change(fill=tuple(layers)))
        drawing = fill_figure(about.outcome, system=about.system, **size)
        return drawing, _layers_sentence(about)

    made = []
    for n, (material, depth) in enumerate(begin, start=1):
        label = "Bottom" if n == 1 else f"Layer {n}"
        made.append(list_row(label, below, material, name=f"material_{n}"))
        made.append(slider_row("deep", "cm", 0, 80, 1, int(depth), name=f"depth_{n}"))
    made.append(list_row("The rest", materials, "mix", name="rest"))
    made.append(slider_row("Top layer", "cm", 0, 15, 1, 4, name="top"))
    rows = {row.name: row for row in made}
    return View(about, made, follow, name="stack", acts={"Save as my bed": about.keep})


def logs_view(about: Desk) -> View:
    """Choose how thick the logs are; see how they lie and what one weighs."""

    def follow(values, size):
        o, system = about.outcome, about.system
        plan = o.fill.logs(values["diameter"])
        drawing = logs_figure(o, plan, system=system, **size)
        if plan is None:
            return drawing, "This fill has no logs. Choose one with logs above."
        if not plan.fits:
            words = "These logs are thicker than the log zone is deep. "
            return drawing, words + "Take thinner ones, or a deeper zone."
        lift = float(plan.si.mass_each)
        words = f"**{number(float(plan.si.laid), 0)} logs** of "
        words += f"{show(values['diameter'], 'depth', system)} fit, "
        words += f"{show(plan.mass_each, 'mass', system)} each when green."
        words += " Lift one in pairs." if lift > 23 else " One person can lift one."
        short = [name for name, _, enough in o.fill.covers() if not enough]
        if short:
            words += f" ! Too little soil on top for {short[-1].split(' over')[0]}."
        words += f" Chips over {show(plan.largest_chip, 'stock', system)} stay on top."
        return drawing, words

    rows = [slider_row("Thickness", "cm", 6, 45, 1, 20, name="diameter")]
    return View(about, rows, follow, name="logs")


def work_view(about: Desk) -> View:
    """Choose barrow, distance and crew; see loads, weight and hours."""
    barrows = [
        (row.key, f"{row.name}, {row.volume * 1000:.0f} L") for row in table("barrows")
    ]

    def follow(values, size):
        o, system = about.outcome, about.system
        work = o.fill.work(values["barrow"], values["distance"], values["crew"])
        drawing = barrows_figure(o, work, system=system, **size)
        words = f"**{number(float(work.si.loads), 0)} loads, about "
        words += f"{show(work.hours, 'time')}** for {values['crew']} people, "
        words += "logs laid too and nobody resting."
        if work.too_heavy:
            words += f" ! A full load of {work.too_heavy[0]} weighs "
            words += f"{show(work.heaviest, 'mass', system)}: go half full."
        return drawing, words

    rows = [
        list_row("Barrow", barrows, "builder", name="barrow"),
        slider_row("Distance", "m", 5, 120, 5, 40, name="distance"),
        slider_row("People", "", 1, 12, 1, about.place.crew, name="crew"),
    ]
    return View(about, rows, follow, name="work")


def sinking_view(about: Desk) -> View:
    """Choose a year; see how far the bed has sunk and what topping it up costs."""

    def follow(values, size):
        o, system, years = about.outcome, about.system, values["years"]
        later = o.fill.top_up(years)
        drawing = sinking_figure(o, system=system, **size)
        words = f"By year {years} it sinks "
        words += f"**{show(o.fill.sunk(Q_(float(years), 'year')), 'depth', system)}**. "
        words += "Kept full all the time, it takes "
        words += f"{show(later.total_loose, 'volume', system)} compost, about "
        words += f"{show(later.total_cost, 'money')} in all."
        return drawing, words

    rows = [slider_row("Year", "", 1, 10, 1, 5, name="years")]
    return View(about, rows, follow, name="sinking")


def ways_view(about: Desk) -> View:
    """Choose how many years to count; see the fills side by side."""

    def follow(values, size):
        years = values["years"]
        choices = compare_fills(about.bed, about.place, years=years)
        drawing = ways_figure(choices, years=years, **size)
        best = min(choices, key=lambda c: float(c.after.m))
        words = f"Counting {years} years, **{best.name.lower()}** costs least: "
        words += f"{show(best.after, 'money')}, "
        words += f"{show(best.saved_after, 'money')} less than all bought mix. "
        words += f"On the first day it saved {show(best.saved_now, 'money')}."
        return drawing, words

    rows = [slider_row("Years", "", 1, 10, 1, 5, name="years")]
    return View(about, rows, follow, name="ways")


def buying_view(about: Desk) -> View:
    """Choose a material and a volume; see bags against bulk."""

    def follow(values, size):
        name = dict(_GOODS)[values["goods"]]
        volumes, cost, tie = buying(values["goods"], about.place)
        needed = values["needed"]
        drawing = buying_figure(
            volumes, cost, needed.m_as("m^3"), tie, name=name, system=about.system,
            **size,
        )  # fmt: skip
        near = int(abs(volumes - needed.m_as("m^3")).argmin())
        pay = {how: float(values_[near]) for how, values_ in cost.items()}
        how = min(pay, key=pay.get)
        other = max(pay, key=pay.get)
        words = f"For {show(needed, 'volume', about.system)} of {name}, **{how}** cost "
        words += f"{show(pay[how], 'money')}; {other} {show(pay[other], 'money')}."
        return drawing, words

    rows = [
        list_row("Buy", _GOODS, "mix", name="goods"),
        slider_row(
            "You need", "L", 50, 3000, 50, Q_(800, "L"), name="needed",
            us=("yd^3", 0.1, 4.0, 0.1),
        ),
    ]  # fmt: skip
    return View(about, rows, follow, name="buying")


def minerals_block(about: Desk):
    """Minerals for the bed on the desk, by weight."""
    rows = [
        (name, f"{low.m:.0f} to {high.m:.0f} g", when)
        for name, low, high, when in about.outcome.fill.minerals()
    ]
    heads = ("What", f"for {about.name}", "when")
    return facts_table(heads, rows, "Minerals, strewn over the top and raked in")


# ---- questions of workbook 02


def _bed(outcome) -> str:
    return called(outcome.bed)


def _settle():
    return table("fills")["mix"].q("settle")


def _mix_facts(outcome):
    return {
        "bed": _bed(outcome),
        "full": (outcome.fill.settled_volume, "volume"),
        "settle": (_settle(), "percent"),
        "left": (1 - _settle(), "ratio"),
    }


def _loose(outcome):
    return outcome.fill.settled_volume / (1 - _settle())


def _zone(outcome):
    """A log zone a third of the fill deep."""
    return outcome.fill.settled_volume / 3


def _gap_facts(outcome):
    row = table("fills")["logs"]
    return {
        "bed": _bed(outcome),
        "zone": (_zone(outcome), "volume"),
        "wood": (row.q("packing"), "percent"),
        "gaps": (1 - row.q("packing"), "percent"),
        "share": (row.q("void_fill"), "percent"),
    }


def _gaps(outcome):
    row = table("fills")["logs"]
    return _zone(outcome) * (1 - row.q("packing")) * row.q("void_fill")


def _load_facts(outcome):
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
