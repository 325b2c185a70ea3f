"""Views of workbook 05: the bill, its doubt, its life, builds side by side, orders."""

from __future__ import annotations

from pathlib import Path

import ipywidgets

from ..bed import Wall, strategy_layers
from ..compare import box_lives, builds, compare, what_matters
from ..exports import read_prices, write_order, write_order_csv, write_prices
from ..figures.cost_doubt import fan_figure, swing_figure
from ..figures.cost_flow import flow_figure, steps_figure
from ..figures.cost_life import life_figure, side_by_side
from ..place import Place, PlaceError
from ..shopping import in_parts, shopping
from ..tables import table
from ..units import Q_, number, show
from .controls import choice_row, list_row, slider_row
from .cost_prices import OWN, lists_row, place_with, walls_sold
from .cost_questions import KEYS, item
from .view import Desk, View, facts_table

__all__ = [
    "KEYS", "bill_view", "builds_view", "doubt_view", "gear_block", "gifts_block",
    "item", "lengths_block", "life_view", "order_view", "parts_view", "share_view",
    "swings_view", "tools_block",
]  # fmt: skip

_WALLS = ("boards", "sheet", "planks", "sleepers", "blocks")
_US_WALLS = ("boards_us", "sheet_us")
_SYSTEMS = [("metric", "metric"), ("us", "feet, inches")]
_YES = [(False, "no"), (True, "yes")]
_MORE = [("none", "none"), ("liner", "liner"), ("all", "liner, gear and hire")]
_EXTRAS = {"none": (), "liner": ("liner",), "all": ("liner", "hire", "protection")}
ORDER, ORDER_CSV, PRICES = "my_order.xlsx", "my_order.csv", "my_prices.xlsx"


def _wall_names() -> list[tuple[str, str]]:
    return [(key, table("walls")[key].name) for key in (*_WALLS, *_US_WALLS)]


def _sold(about: Desk) -> tuple[Place, tuple[str, ...]]:
    """The place and the builds its price list sells; the garden's list if none."""
    sold = walls_sold(about.place, (*_WALLS, *_US_WALLS))
    return (about.place, sold) if sold else (about.garden.place, _WALLS)


def _brief(missing: str) -> str:
    """The first part of a message about what cannot be bought."""
    return missing.split(";")[0].rstrip(".") + "."


def _rate_row(place: Place):
    """The row for the tax rate; a higher rate of a saved garden still fits."""
    most = max(30, place.tax_rate.m_as("percent"))
    return slider_row("Tax rate", "percent", 0, most, 1, place.tax_rate, name="rate")


def bill_view(about: Desk, folder: str | Path = ".") -> View:
    """Choose price list, build, fill, length and extras; see them add up."""
    first = about.bed
    fills = {row.strategy: row.name for row in table("strategies")}

    def follow(values, size):
        change = {"length": values["length"]}
        if values["wall"] != first.wall.key:
            change["wall"] = Wall.named(values["wall"])
        if values["strategy"] != "own":
            change["fill"] = strategy_layers(values["strategy"])
        place, unread = place_with(about.place, values["prices"], Path(folder) / PRICES)
        place = place.change(with_tax=values["tax"], tax_rate=values["rate"])
        controls["rate"].shown = values["tax"]
        about.take(bed=first.change(**change), place=place, system=values["system"])
        controls["length"].use(about.system)
        cost = shopping([about.bed], place, cut="hand", extras=_EXTRAS[values["more"]])
        drawing = flow_figure(cost, name=about.name, **size)
        words = f"**{show(cost.total, 'money')}**, and keep back "
        words += f"{show(cost.contingency, 'money')}. "
        words += f"Fill with its truck takes {show(cost.fill_share, 'percent')}"
        more = cost.si.fill_share * cost.si.total > cost.si.walls
        words += ", more than the walls. " if more else ". "
        words += f"Each square metre to grow in costs {number(cost.per_area.m, 0)} ¤."
        if cost.missing:
            words += f" ! Not complete: {_brief(cost.missing[0])}"
        if not walls_sold(place, (about.bed.wall.key,)):
            words += " Choose a wall that this list sells, under *Built of*."
        if unread:
            words += f" ! {unread}"
        return drawing, words

    walls = _wall_names()
    if first.wall.key not in dict(walls):
        walls.insert(0, (first.wall.key, first.wall.name))
    rows = (
        lists_row(about.place),
        list_row("Built of", walls, first.wall.key, name="wall"),
        list_row("Fill", [("own", "as it is"), *fills.items()], "own", name="strategy"),
        slider_row("Length", "cm", 60, 600, 1, first.length, name="length"),
        choice_row("Tax", _YES, about.place.with_tax, name="tax"),
        _rate_row(about.place),
        list_row("Extras", _MORE, "none", name="more"),
        choice_row("Show in", _SYSTEMS, about.system, name="system"),
    )
    controls = {row.name: row for row in rows}
    us = {"prices": "demo_us", "wall": "boards_us", "system": "us"}
    return View(
        about, rows, follow, name="bill",
        presets={"US list, US boards": us},
        acts={"Save as my bed": about.keep},
    )  # fmt: skip


def doubt_view(about: Desk) -> View:
    """Choose how sure one wants to be, and let prices drift; see the chances."""

    def follow(values, size):
        drift = {name: 1 + values[name].m_as("") for name in ("timber", "soil")}
        prices = about.place.prices
        place = about.place.change(prices=prices and prices.times(**drift))
        cost = shopping([about.bed], place, cut="hand")
        spreads = {m: cost.spread(m) for m in ("judged", "alone", "together")}
        chance = values["chance"].m_as("")
        drawing = fan_figure(spreads, chance=chance, **size)
        ask = spreads["judged"].under(chance)
        more = ask - spreads["judged"].likely
        words = f"Ask for **{number(ask, 0)} ¤** and the bill stays under it "
        words += f"{number(100 * chance, 0)} times in 100. "
        words += f"That is {number(more, 0)} ¤ more than the likely prices add up to."
        return drawing, words

    rows = [
        slider_row("Sure", "percent", 50, 95, 5, Q_(80, "percent"), name="chance"),
        slider_row("Timber", "percent", -30, 50, 5, Q_(0, "percent"), name="timber"),
        slider_row("Fill", "percent", -100, 50, 5, Q_(0, "percent"), name="soil"),
    ]
    presets = {"All a fifth dearer": {"timber": Q_(20, "%"), "soil": Q_(20, "%")}}
    return View(about, rows, follow, name="doubt", presets=presets)


def swings_view(about: Desk) -> View:
    """What moves the total most."""

    def follow(values, size):
        swings = what_matters(about.bed, about.place)
        drawing = swing_figure(swings, about.outcome.cost.si.total, **size)
        top = swings[0]
        words = f"**{top.name.capitalize()}** matters most: the bill goes from "
        words += f"{show(top.low, 'money')} to {show(top.high, 'money')}."
        return drawing, words

    return View(about, (), follow, name="swings")


def life_view(about: Desk) -> View:
    """Choose two builds and the interest; see which box costs less a year."""
    walls = _wall_names()

    def follow(values, size):
        place, sold = _sold(about)
        found = builds(about.bed, sold)
        lives = box_lives(place, found, interest=values["interest"].m_as(""))
        keys = list(found)
        names = dict(walls)
        pair = tuple(
            next((i for i, key in enumerate(keys) if key == names[values[which]]), 0)
            for which in ("one", "two")
        )
        drawing = life_figure(lives, pair, **size)
        one, two = lives[pair[0]], lives[pair[1]]
        tie = one.ties_with.get(two.name, float("inf"))
        first, second = (li.name[0].upper() + li.name[1:] for li in (one, two))
        words = f"{first}: {show(one.box, 'money')} at first, "
        words += f"**{show(one.yearly, 'money')} a year**. {second}: "
        words += f"{show(two.box, 'money')}, **{show(two.yearly, 'money')} a year**. "
        if one is two:
            words += "Choose two different ones."
        elif tie < 200:
            words += "To be no dearer a year, the first must last "
            words += f"{number(tie, 0)} years; {number(one.lives[1], 0)} are likely."
        else:
            words += "However long the first lasts, it stays dearer a year."
        for key in {values["one"], values["two"]} - set(sold):
            words += f" ! This price list has no {names[key]}."
        return drawing, words

    interest = Q_(3, "percent")
    rows = [
        list_row("This box", walls, "boards", name="one"),
        list_row("or this", walls, "planks", name="two"),
        slider_row("Interest", "percent", 0, 10, 1, interest, name="interest"),
    ]
    return View(about, rows, follow, name="life")


def builds_view(about: Desk) -> View:
    """Choose what is kept and the fill; see all builds side by side."""
    fills = {row.strategy: row.name for row in table("strategies")}

    def follow(values, size):
        chosen = [values["strategy"]] if values["strategy"] != "all" else list(fills)
        place, walls = _sold(about)
        walls = walls if values["strategy"] != "all" else (about.bed.wall.key,)
        beds, words = builds(about.bed, walls, chosen, same=values["same"]), ""
        if not beds:
            beds = builds(about.bed, walls, same=values["same"])
            words = "The layers of this fill are thicker than the bed is high: here "
            words += "are the builds with the bed's own fill. "
        found = compare(place, beds)
        drawing = side_by_side(found, system=about.system, **size)
        good = [b for b in found if b.worst is None or b.worst.verdict != "fails"]
        words += f"{len(good)} of {len(found)} hold as they are. "
        if good:
            least = min(good, key=lambda b: float(b.yearly.m))
            words += f"Of these, **{least.name}** costs least a year: "
            words += f"{show(least.yearly, 'money')}."
        else:
            words += "Mend them first, in the lesson on walls: a tie costs little."
        return drawing, words

    names = [*fills.items(), ("all", "all fills, this wall")]
    rows = [
        choice_row(
            "Keep", [("outside", "size outside"), ("inside", "room inside")],
            "inside", name="same",
        ),
        list_row("Fill", names, "logs_chips_mix", name="strategy"),
    ]  # fmt: skip
    return View(about, rows, follow, name="builds")


def share_view(about: Desk) -> View:
    """Choose how many gardeners share; see cost each, a year, a square metre."""

    def follow(values, size):
        cost, people = about.outcome.cost, values["people"]
        yearly = cost.yearly().total
        drawing = flow_figure(cost, name=about.name, **size)
        each = cost.shares([1] * people).m
        words = f"Each of {people} pays **{show(float(each[0]), 'coins')}** once, or "
        words += f"{show(yearly / people, 'money')} a year for as long as it lasts. "
        words += f"A square metre costs {number(cost.per_area.m, 0)} ¤, a cubic metre "
        words += f"for roots {number(cost.per_volume.m, 0)} ¤. "
        words += f"A year of it all costs {show(yearly, 'money')}, a kilogram of crop "
        low, high = (f"{number(kilogram.m, 1)}" for kilogram in cost.per_kilogram())
        words += f"very roughly {low} to {high} ¤ (an assumption, see below)."
        return drawing, words

    rows = [slider_row("Gardeners", "", 1, 40, 1, 4, name="people")]
    return View(about, rows, follow, name="share")


def order_view(about: Desk, folder: str | Path = ".") -> View:
    """The bill of the whole garden, with files for whoever orders."""
    folder, state = Path(folder), {"place": about.place, "cost": None, "unread": ""}

    def work(values):
        place, state["unread"] = place_with(
            about.garden.place, values["prices"], folder / PRICES
        )
        state["place"] = place = place.change(
            with_tax=values["tax"],
            tax_rate=values["rate"],
            longest_carried=values["car"],
        )
        state["cost"] = shopping(
            about.garden, place, extras=_EXTRAS[values["more"]], cut=values["cut"]
        )
        return place

    def follow(values, size):
        place = work(values)
        cost = state["cost"]
        names = ", ".join(bed.name for bed in about.garden)
        drawing = flow_figure(cost, name=f"beds {names}", **size)
        spread = cost.spread()
        words = f"**{show(cost.total, 'coins')}** for {len(about.garden.beds)} beds. "
        words += f"8 in 10 such bills stay under {number(spread.under(0.8), 0)} ¤. "
        words += f"Prices: {place.prices.date if place.prices else 'none yet'}."
        if cost.missing:
            words += f" ! Not complete: {_brief(cost.missing[0])}"
        if state["unread"]:
            words += f" ! {state['unread']}"
        return drawing, words

    def order():
        write_order(state["cost"], state["place"], folder / ORDER)
        write_order_csv(state["cost"], state["place"], folder / ORDER_CSV)
        return f"Written: {ORDER} and {ORDER_CSV}, beside this workbook."

    def prices():
        if (folder / PRICES).exists():
            return f"Not written: {PRICES} is there already, and may hold your prices."
        write_prices(state["place"], folder / PRICES)
        return f"Written: {PRICES}. Open it, change prices, save, then read it here."

    def read():
        try:
            own = read_prices(folder / PRICES)
        except PlaceError as error:
            return f"Not read: {error}"
        view.put(prices=OWN)
        return f"Read {len(own.rows)} prices from {PRICES}."

    rows = [
        lists_row(about.garden.place),
        choice_row(
            "Cut plan", [("hand", "by hand"), ("cheapest", "cheapest")], "cheapest",
            name="cut",
        ),
        choice_row("Tax", _YES, about.place.with_tax, name="tax"),
        _rate_row(about.place),
        list_row("Extras", _MORE, "none", name="more"),
        slider_row(
            "Car takes", "cm", 180, 600, 10, about.place.longest_carried, name="car"
        ),
    ]  # fmt: skip
    view = View(
        about, rows, follow, name="order",
        acts={
            "Write the order": order,
            "Write the price list": prices,
            "Read my prices": read,
        },
    )  # fmt: skip
    return view


def parts_view(about: Desk) -> View:
    """Build in one go or in steps; see what each step costs."""
    names = [bed.name for bed in about.garden]

    def follow(values, size):
        steps = min(values["steps"], len(names))
        bounds = [round(i * len(names) / steps) for i in range(steps + 1)]
        groups = [names[a:b] for a, b in zip(bounds, bounds[1:], strict=False)]
        stages, more = in_parts(about.garden, groups, cut="hand")
        drawing = steps_figure(stages, more, **size)
        each = "; ".join(
            f"{s.name} ({', '.join(s.beds)}) {show(s.cost.total, 'money')}"
            for s in stages
        )
        words = f"{each}. In steps it costs **{show(more, 'money')} more** than at "
        words += "once: trips, boxes and boards come whole."
        if steps == 1:
            words = f"All at once: **{show(stages[0].so_far, 'money')}**."
        return drawing, words

    rows = [slider_row("Steps", "", 1, 6, 1, min(3, max(len(names), 1)), name="steps")]
    return View(about, rows, follow, name="parts")


def gifts_block(about: Desk) -> ipywidgets.VBox:
    """The bill of the garden as a list of gifts to ask for."""
    rows = []
    for gift in shopping(about.garden, cut="hand").gifts():
        things = ", ".join(
            f"{line.quantity:g} {line.unit} {line.name}" for line in gift.lines
        )
        rows.append((f"**{gift.donor}**", things, f"about {show(gift.worth, 'money')}"))
    return facts_table(("Ask", "for", "worth"), rows, "Whom to ask for what")


def lengths_block(about: Desk) -> ipywidgets.VBox:
    """Lengths that are sold of each section, with prices."""
    rows = []
    for sizes in about.place.goods.values():
        if sizes[0].length == sizes[0].length:  # sold by length
            lengths = " · ".join(
                f"{show(row.length, 'size', about.system)} {row.price:.2f}"
                for row in sizes
            )
            rows.append((sizes[0].name, lengths))
    return facts_table(("What", "length and price, ¤"), rows, "What is sold")


def tools_block(about: Desk) -> ipywidgets.VBox:
    """Tools for the builds of the garden: borrow or hire."""
    families = {bed.wall.family for bed in about.garden}
    rows = [
        (row.name, "hire" if row.goods else "borrow", f"{row.days:g} day")
        for row in table("tools")
        if row.families == "all" or families & set(row.families.split())
    ]
    return facts_table(("Tool", "how", "how long"), rows, "Tools for these beds")


def gear_block(about: Desk) -> ipywidgets.VBox:
    """Protective gear for each helper."""
    families = {bed.wall.family for bed in about.garden}
    rows = [
        (row.name, f"{row.each:g}" if row.each else "own", row.use)
        for row in table("protection")
        if row.families == "all" or families & set(row.families.split())
    ]
    return facts_table(("Gear", "each helper", "for"), rows, "What each helper wears")
