"""Views of workbook 05: the bill, its doubt, its life, builds side by side, shares."""

from __future__ import annotations

from math import isfinite
from typing import Any

from ..assembly import posts_change
from ..figures.cost_doubt import fan_figure, swing_figure
from ..figures.cost_life import life_figure, side_by_side
from ..figures.cost_waterfall import flow_figure
from ..model.bed import Bed, Wall
from ..model.layers import strategy_layers
from ..questions.compare import box_lives, builds, compare, what_matters
from ..questions.cut_changes import longer_for_less, tie_for_less
from ..questions.shopping import shopping
from ..tables import table
from ..units import Q_, number, show
from .cost_order import (
    gear_block,
    gifts_block,
    lengths_block,
    order_view,
    parts_view,
    tools_block,
)
from .cost_own import own_prices
from .cost_prices import lent_words, lists_row, no_prices, not_complete, walls_sold
from .cost_questions import KEYS, item
from .cost_rows import (
    EXTRAS,
    extras_row,
    of_which_tax,
    place_values,
    rate_row,
    show_tax_rows,
    tax_row,
    with_place,
)
from .kit.controls import choice_row, list_row, slider_row
from .kit.view import Desk, View

__all__ = [
    "KEYS", "bill_view", "builds_view", "doubt_view", "gear_block", "gifts_block",
    "item", "lengths_block", "life_view", "order_view", "own_prices", "parts_view",
    "share_view", "swings_view", "tools_block",
]  # fmt: skip  # a list of names

_WALLS = ("boards", "sheet", "planks", "sleepers", "blocks")
_US_WALLS = ("boards_us", "sheet_us")
_NO_YEAR = (
    "What it costs a year cannot be said before *compost* has a price: it tops up the "
    "bed every year. "
)


class _Builds:
    """Builds and fills to choose from, the bed's own among them."""

    def __init__(self, about: Desk):
        self.about = about
        self.fills = {row.strategy: row.name for row in table("strategies")}
        self._found: dict[str, Bed] = {}  # each bed as it was first shown

    @property
    def first(self) -> Bed:
        """The bed as it was when it came onto the desk."""
        return self._found.setdefault(self.about.about, self.about.bed)

    def walls(self) -> list[tuple[str, str]]:
        """Key and name of each build."""
        found = {key: table("walls")[key].name for key in (*_WALLS, *_US_WALLS)}
        own = (*self.about.garden.walls, self.first.wall, self.about.bed.wall)
        return [*(found | {wall.key: wall.name for wall in own}).items()]

    def wall(self, key: str) -> Wall:
        """The build of a key, with what is the reader's own in it."""
        own = {w.key: w for w in (*self.about.garden.walls, self.first.wall)}
        return own[key] if key in own else Wall.named(key)

    def strategy(self) -> str:
        """How the bed is filled: the name of a way, or ``own``."""
        fill = self.about.bed.fill
        if fill == self.first.fill:
            return "own"
        return next((key for key in self.fills if strategy_layers(key) == fill), "own")

    def fill(self, key: str) -> tuple:
        """The layers of a way to fill; ``own`` is as the bed was at first."""
        return self.first.fill if key == "own" else strategy_layers(key)

    def sold(self) -> tuple[str, ...]:
        """Builds that can be priced with the list at hand, and the bed's own."""
        sold = walls_sold(self.about.place, (*_WALLS, *_US_WALLS))
        here = self.about.bed.wall.key
        return tuple(dict.fromkeys((*sold, *([] if here in sold else [here]))))


def bill_view(about: Desk) -> View:
    """Choose price list, build, fill, length and extras; see them add up."""
    made = _Builds(about)

    def reads():
        rows["wall"].relist(made.walls(), about.bed.wall.key)
        return {
            "wall": about.bed.wall.key,
            "strategy": made.strategy(),
            "length": about.bed.length,
            **place_values(about, rows),
        }

    def writes(moved):
        change: dict[str, Any] = {}
        if "length" in moved:
            change["length"] = moved["length"]
        if "wall" in moved:
            change["wall"] = made.wall(moved["wall"])
        if "strategy" in moved:
            change["fill"] = made.fill(moved["strategy"])
        place = with_place(about, about.place, moved)
        if change or place != about.place:
            about.take(bed=about.bed.change(**change), place=place)

    def render(values, size):
        show_tax_rows(rows, about.place)
        units, place = about.system, about.place
        cost = shopping([about.bed], place, cut="hand", extras=EXTRAS[values["more"]])
        if not cost.priced:
            return None, no_prices(cost, units, all_of_it=True)
        drawing = flow_figure(cost, name=about.name, system=about.system, **size)
        words = f"**{show(cost.total, 'money', units)}**{of_which_tax(cost, units)}, "
        words += f"and keep back {show(cost.contingency, 'money', units)}. "
        words += f"Fill with its truck takes {show(cost.fill_share, 'percent')}"
        more = cost.si.fill_share * cost.si.total > cost.si.walls
        words += ", more than the walls. " if more else ". "
        words += "To grow in it costs "
        words += f"{show(cost.per_area, 'money', units, per='area')}."
        words += not_complete(cost, units)
        if not place.goods.get(about.bed.wall.goods):
            words += " Choose a wall that this list sells, under *Built of*."
        words += _cheaper_words(about)
        return drawing, words

    rows = {
        row.name: row
        for row in (
            lists_row(about),
            list_row("Built of", made.walls(), about.bed.wall.key, name="wall"),
            list_row(
                "Fill",
                [("own", "as it was"), *made.fills.items()],
                "own",
                name="strategy",
            ),
            slider_row("Length", "cm", 60, 600, 1, about.bed.length, name="length"),
            tax_row(about.place),
            rate_row(about.place),
            extras_row(),
        )
    }
    us = {"prices": "demo_us", "wall": "boards_us"}
    return View(
        about, tuple(rows.values()), render, name="bill", reads=reads, writes=writes,
        presets={"US list, US boards": us},
    )  # fmt: skip  # rows of a table


def _cheaper_words(about: Desk) -> str:
    """Says why a longer bed, or one with one more tie, would cost less, if it would."""
    units, words = about.system, ""
    longer, tied = longer_for_less(about.outcome), tie_for_less(about.outcome)
    for change, one in (("A bed of {}", longer), ("One more tie", tied)):
        if one is None:
            continue
        words += f" **{change.format(show(one.bed.length, 'size', units))} would cost "
        words += f"{show(one.saves, 'money', units)} less**"
        if one is tied:
            words += posts_change(about.bed, one.bed.ties)
        gone = ", ".join(line.words(units) for line in one.instead)
        bought = ", ".join(line.words(units) for line in one.bought)
        words += (
            f". You would buy {bought} instead of {gone}."
            if bought
            else f", without {gone}."
        )
    return words


def _unpriced(about: Desk) -> str:
    """What to say where the bed of the desk has no prices."""
    return no_prices(about.outcome.cost, about.system)


def doubt_view(about: Desk) -> View:
    """Choose how sure one wants to be, and let prices drift; see the chances."""

    def render(values, size):
        if words := _unpriced(about):
            return None, words
        units, prices = about.system, about.place.prices
        drift = {name: 1 + values[name].m_as("") for name in ("timber", "soil")}
        place = about.place.change(prices=prices.times(**drift))
        cost = shopping([about.bed], place, cut="hand")
        spreads = {m: cost.spread(m) for m in ("judged", "alone", "together")}
        chance = values["chance"].m_as("")
        drawing = fan_figure(spreads, chance=chance, system=about.system, **size)
        ask = spreads["judged"].under(chance)
        more = ask - spreads["judged"].likely
        words = f"Ask for **{show(ask, 'money', units)}** and the bill stays under it "
        words += f"{number(100 * chance, 0)} times in 100. "
        words += f"That is {show(more, 'money', units)} more than the likely prices "
        words += f"add up to.{not_complete(cost, units)}"
        return drawing, words

    rows = [
        slider_row("Sure", "percent", 50, 95, 5, Q_(80, "percent"), name="chance"),
        slider_row("Timber", "percent", -30, 50, 5, Q_(0, "percent"), name="timber"),
        slider_row("Fill", "percent", -100, 50, 5, Q_(0, "percent"), name="soil"),
    ]
    presets = {"All a fifth dearer": {"timber": Q_(20, "%"), "soil": Q_(20, "%")}}
    return View(about, rows, render, name="doubt", presets=presets)


def swings_view(about: Desk) -> View:
    """What moves the total most."""

    def render(values, size):
        if words := _unpriced(about):
            return None, words
        units = about.system
        swings = what_matters(about.bed, about.place)
        drawing = swing_figure(
            swings, about.outcome.cost.si.total, system=about.system, **size
        )
        top = swings[0]
        words = f"**{top.name.capitalize()}** matters most: the bill goes from "
        words += f"{show(top.low, 'money', units)} to {show(top.high, 'money', units)}."
        return drawing, words + not_complete(about.outcome.cost, units)

    return View(about, (), render, name="swings")


def life_view(about: Desk) -> View:
    """Choose two builds and the interest; see which box costs less a year."""
    made, shown = _Builds(about), {"wall": ""}

    def reads():
        """Offer the builds of this bed; the two that were chosen stay."""
        names = [key for key, _ in made.walls()]
        kept = {which: rows[which].value for which in ("one", "two")}
        if about.bed.wall.key != shown["wall"]:  # another bed, or another build of it
            shown["wall"] = about.bed.wall.key
            sold = [key for key in made.sold() if key in names] or names
            mine = shown["wall"] if shown["wall"] in sold else sold[0]
            other = "planks" if "planks" in sold and mine != "planks" else None
            kept = {"one": mine}
            kept["two"] = other or next((k for k in sold if k != mine), mine)
        kept = {w: key if key in names else names[0] for w, key in kept.items()}
        for which, key in kept.items():
            rows[which].relist(made.walls(), key)
        return kept

    def render(values, size):
        if words := _unpriced(about):
            return None, words
        units, sold, names = about.system, made.sold(), dict(made.walls())
        found = builds(about.bed, sold)
        if not found:
            return None, f"None of these builds fits {about.name}."
        lives = box_lives(about.place, found, interest=values["interest"].m_as(""))
        keys = list(found)
        pair = tuple(
            next((i for i, key in enumerate(keys) if key == names[values[which]]), 0)
            for which in ("one", "two")
        )
        drawing = life_figure(lives, pair, system=about.system, **size)
        words = _two_lives(lives[pair[0]], lives[pair[1]], units)
        for key in {values["one"], values["two"]} - set(sold):
            words += f" ! This price list has no {names[key]}."
        return drawing, words + lent_words(about.outcome.cost)

    rows = {
        row.name: row
        for row in (
            list_row("This box", made.walls(), "boards", name="one"),
            list_row("or this", made.walls(), "planks", name="two"),
            slider_row(
                "Interest", "percent", 0, 10, 1, Q_(3, "percent"), name="interest"
            ),
        )
    }
    return View(about, tuple(rows.values()), render, name="life", reads=reads)


def _two_lives(one: Any, two: Any, units: str) -> str:
    """Two boxes and what they cost a year, in words."""
    tie = one.ties_with.get(two.name, float("inf"))
    first, second = (li.name[0].upper() + li.name[1:] for li in (one, two))
    words = f"{first}: {show(one.box, 'money', units)} at first, "
    words += f"**{show(one.yearly, 'money', units)} a year**. {second}: "
    words += f"{show(two.box, 'money', units)}, "
    words += f"**{show(two.yearly, 'money', units)} a year**. "
    if one is two:
        return words + "Choose two different ones."
    if tie < 200:
        words += "To be no dearer a year, the first must last "
        return words + f"{number(tie, 0)} years; {number(one.lives[1], 0)} are likely."
    return words + "However long the first lasts, it stays dearer a year."


def builds_view(about: Desk) -> View:
    """Choose what is kept and the fill; see all builds side by side."""
    made = _Builds(about)

    def render(values, size):
        if words := _unpriced(about):
            return None, words
        units, every = about.system, values["strategy"] == "all"
        chosen = list(made.fills) if every else [values["strategy"]]
        walls = (about.bed.wall.key,) if every else made.sold()
        beds = builds(about.bed, walls, chosen, same=values["same"])
        if not beds:
            beds = builds(about.bed, walls, same=values["same"])
            words = "The layers of this fill are thicker than the bed is high: here "
            words += "are the builds with the bed's own fill. "
        if not beds:
            return None, f"None of these builds fits {about.name}."
        found = compare(about.place, beds)
        if not all(isfinite(b.yearly.m) for b in found):
            return None, words + _NO_YEAR + not_complete(about.outcome.cost, units)
        drawing = side_by_side(found, system=units, **size)
        good = [b for b in found if b.worst is None or b.worst.ok]
        words += f"{len(good)} of {len(found)} hold as they are. "
        if good:
            least = min(good, key=lambda b: float(b.yearly.m))
            words += f"Of these, **{least.name}** costs least a year: "
            words += f"{show(least.yearly, 'money', units)}."
            words += lent_words(about.outcome.cost)
        else:
            words += "Fix them first, in the lesson on walls: a tie costs little."
        return drawing, words + not_complete(about.outcome.cost, units)

    names = [*made.fills.items(), ("all", "all fills, this wall")]
    rows = [
        choice_row(
            "Keep",
            [("outside", "size outside"), ("inside", "room inside")],
            "inside",
            name="same",
        ),
        list_row("Fill", names, "logs_chips_mix", name="strategy"),
    ]
    return View(about, rows, render, name="builds")


def share_view(about: Desk) -> View:
    """Choose how many gardeners share; see cost each, a year, a square metre."""

    def render(values, size):
        if words := _unpriced(about):
            return None, words
        cost, people, units = about.outcome.cost, values["people"], about.system
        yearly = float(cost.yearly().total)
        drawing = flow_figure(cost, name=about.name, system=about.system, **size)
        each = float(cost.shares([1] * people).m[0])
        words = f"Each of {people} pays **{show(each, 'coins', units)}** once"
        words += ", or " if isfinite(yearly) else ". "
        if isfinite(yearly):
            words += (
                f"{show(yearly / people, 'money', units)} a year for as long as it "
            )
            words += "lasts. "
        words += f"By area it costs {_per(cost.per_area, 'area', units)}, by "
        words += f"room for roots {_per(cost.per_volume, 'volume', units)}. "
        if not isfinite(yearly):
            return drawing, words + _NO_YEAR + not_complete(cost, units)
        words += f"A year of it all costs {show(yearly, 'money', units)}, a kilogram "
        low, high = (f"{number(kilogram.m, 1)}" for kilogram in cost.per_kilogram())
        words += f"of crop very roughly {low} to {units.currency.around(high)} "
        words += "(an assumption, see below)."
        words += lent_words(cost) + not_complete(cost, units)
        return drawing, words

    rows = [slider_row("Gardeners", "", 1, 40, 1, 4, name="people")]
    return View(about, rows, render, name="share")


def _per(price: Any, kind: str, units: str) -> str:
    return show(price, "money", units, per=kind)
