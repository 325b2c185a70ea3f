"""Views of workbook 05 about all beds: building in steps, the order, lists."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import ipywidgets
import numpy as np

from ..figures.cost_waterfall import flow_figure, steps_figure
from ..model.outcome import Outcome
from ..printing import order_besides
from ..questions.shopping import in_parts, shopping
from ..spreadsheets.exports import write_order, write_order_csv
from ..spreadsheets.ticked import keep_ticked
from ..tables import table
from ..units import Q_, show, show_range
from .cost_prices import lists_row, no_prices, not_complete
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
from .kit.style import html, paper
from .kit.view import Desk, View, facts_table
from .kit.words import literal, plain

__all__ = [
    "ORDER", "ORDER_CSV", "gear_block", "gifts_block", "lengths_block", "order_view",
    "parts_view", "tools_block",
]  # fmt: skip  # a list of names

_FIRST = [
    ("order", "as they stand in the garden"),
    ("low", "the lowest beds"),
    ("cheap", "the cheapest beds"),
]
ORDER, ORDER_CSV = "my_order.xlsx", "my_order.csv"


def _beds(garden: Any) -> str:
    """The beds of a garden in words."""
    names = [bed.name for bed in garden]
    if len(names) == 1:
        return f"bed {names[0]}"
    return f"beds {', '.join(names)}"


def order_view(about: Desk, folder: str | Path | None = None) -> View:
    """The bill of the whole garden, with files for whoever orders."""
    made: dict[str, Any] = {}

    def reads():
        return {"car": about.place.longest_carried, **place_values(about, rows)}

    def writes(moved):
        place = with_place(about, about.place, moved)
        if "car" in moved:
            place = place.change(longest_carried=moved["car"])
        if place != about.place:
            about.take(place=place)

    def render(values, size):
        show_tax_rows(rows, about.place)
        units, place = about.system, about.place
        made["cost"] = cost = shopping(
            about.garden, place, extras=EXTRAS[values["more"]], cut=values["cut"]
        )
        if not cost.priced:
            return None, no_prices(cost, units, all_of_it=True)
        drawing = flow_figure(
            cost, name=_beds(about.garden), system=about.system, **size
        )
        count = len(about.garden.beds)
        words = f"**{show(cost.total, 'coins', units)}** for {count} "
        words += "bed" if count == 1 else "beds"
        words += f"{of_which_tax(cost, units)}. "
        words += "8 in 10 such bills stay under "
        words += f"{show(cost.spread().under(0.8), 'money', units)}. "
        words += f"Prices: {place.prices.date or 'no date given'}."
        return drawing, words + not_complete(cost, units)

    def order():
        where = Path(folder) if folder else about.file.parent
        kept = keep_ticked(where / ORDER, where / ORDER_CSV)
        free = order_besides(about.garden, about.system)
        write_order(made["cost"], about.place, where / ORDER, free)
        write_order_csv(made["cost"], about.place, where / ORDER_CSV, free)
        said = f"Written: {ORDER} and {ORDER_CSV}, for {about.place.name}."
        if kept:
            said += f" The order with your ticks is kept as {' and '.join(kept)}."
        return said

    rows = {
        row.name: row
        for row in (
            lists_row(about),
            choice_row(
                "Cut plan",
                [("hand", "by hand"), ("cheapest", "cheapest")],
                "cheapest",
                name="cut",
            ),
            tax_row(about.place),
            rate_row(about.place),
            extras_row(),
            slider_row(
                "Car takes", "cm", 180, 600, 10, about.place.longest_carried, name="car"
            ),
        )
    }
    return View(
        about, tuple(rows.values()), render, name="order", reads=reads, writes=writes,
        acts={"Write the order": order},
    )  # fmt: skip  # rows of a table


def parts_view(about: Desk) -> View:
    """Build in one go or in steps, a year apart; what each costs and lets you plant."""

    def names() -> list[str]:
        return [bed.name for bed in about.garden]

    def ordered(first: str) -> list[str]:
        beds = list(about.garden)
        if first == "low":
            beds.sort(key=lambda bed: bed.si.height)
        if first == "cheap":
            bills = [shopping([bed], about.place, cut="hand") for bed in beds]
            paid = {
                bed.name: np.nan_to_num(bill.si.total, nan=np.inf)
                for bed, bill in zip(beds, bills, strict=True)
            }
            beds.sort(key=lambda bed: paid[bed.name])
        return [bed.name for bed in beds]

    def reads():
        return {"steps": max(1, min(rows["steps"].value, len(names())))}

    def render(values, size):
        here, units = ordered(values["first"]), about.system
        rise = values["rise"].m_as("")
        steps = max(1, min(values["steps"], len(here)))
        bounds = [round(i * len(here) / steps) for i in range(steps + 1)]
        groups = [here[a:b] for a, b in zip(bounds, bounds[1:], strict=False)]
        garden = about.garden.change(place=about.place)
        stages, more = in_parts(garden, groups, rise=rise, cut="hand")
        cost = stages[0].cost
        if not cost.priced:
            return None, no_prices(cost, units)
        drawing = steps_figure(stages, more, system=about.system, **size)
        one = show(stages[0].so_far, "money", units)
        if len(here) == 1:
            name = literal(about.garden.name)
            words = f"{name} has one bed, so there is one step: **{one}**."
        elif steps == 1:
            words = f"All at once: **{one}**."
        else:
            each = "; ".join(
                f"{s.name} ({', '.join(s.beds)}) {show(s.cost.total, 'money', units)}"
                for s in stages
            )
            dearer = show(more, "money", units)
            words = f"{each[:1].upper()}{each[1:]}. In steps it costs **{dearer} more**"
            words += " than at once: trips, boxes and boards come whole"
            words += ", and prices rise meanwhile. " if rise else ". "
            words += _planted(stages, units)
        return drawing, words + not_complete(cost, units)

    first = max(1, min(3, len(names())))
    rows = {
        "steps": slider_row("Steps", "", 1, 6, 1, first, name="steps"),
        "first": list_row("First", _FIRST, "order", name="first"),
        "rise": slider_row(
            "Prices rise, a year", "percent", 0, 15, 1, Q_(0, "percent"), name="rise"
        ),
    }
    return View(about, tuple(rows.values()), render, name="parts", reads=reads)


def _planted(stages: Any, units: str) -> str:
    """What can be planted after each step, and what it may bring in a season."""
    parts = []
    for stage in stages:
        area = show(stage.area, "area", units)
        crop = show_range(*stage.crop, "mass", units)
        parts.append(f"after {stage.name} {area}, for very roughly {crop} a season")
    return f"You plant {'; '.join(parts)} (an assumption: weigh your own)."


# ---- lists that follow the garden


def _block(about: Desk, made) -> ipywidgets.VBox:
    """A list of the garden on the desk, written anew when it changes."""
    line = html("")
    body = ipywidgets.VBox([])
    shown: dict[str, Any] = {}

    def show_it(outcome: Outcome = None) -> None:
        key = (about.garden.change(place=about.place), str(about.system))
        if shown.get("key") == key:
            return
        shown["key"] = key
        line.value = f"<p>{plain(about.garden.name)}</p>"
        body.children = (made(),)

    about.observe(show_it)
    return paper(line, body)


def gifts_block(about: Desk) -> ipywidgets.VBox:
    """The bill of the garden as a list of gifts to ask for."""

    def made():
        units, rows = about.system, []
        for gift in shopping(about.garden, about.place, cut="hand").gifts():
            things = "; ".join(line.words(units) for line in gift.lines)
            worth = show(gift.worth, "money", units) if gift.worth > 0 else ""
            rows.append(
                (f"**{gift.donor}**", things, f"about {worth}" if worth else "no price")
            )
        return facts_table(("Ask", "for", "worth"), rows, "Whom to ask for what")

    return _block(about, made)


def lengths_block(about: Desk) -> ipywidgets.VBox:
    """Lengths that are sold of each section, with prices."""

    def made():
        units, rows = about.system, []
        for sizes in about.place.goods.values():
            if sizes[0].length == sizes[0].length:  # sold by length
                lengths = " · ".join(
                    f"{show(row.length, 'size', units)} "
                    f"{show(row.price, 'coins', units)}"
                    for row in sizes
                )
                rows.append((sizes[0].name, lengths))
        if not rows:
            return html(
                "<p>No lengths yet: put in the boards that your seller has, under "
                "<em>Your own prices</em>.</p>"
            )
        return facts_table(("What", "length and price"), rows, "What is sold")

    return _block(about, made)


def tools_block(about: Desk) -> ipywidgets.VBox:
    """Tools for the builds of the garden: borrow or hire."""

    def made():
        families = {bed.wall.family for bed in about.garden}
        rows = [
            (
                row.name,
                "hire" if row.goods else "borrow",
                f"{row.days:g} day{'' if row.days == 1 else 's'}",
            )
            for row in table("tools")
            if row.families == "all" or families & set(row.families.split())
        ]
        return facts_table(("Tool", "how", "how long"), rows, "Tools for these beds")

    return _block(about, made)


def gear_block(about: Desk) -> ipywidgets.VBox:
    """Protective gear for each helper."""

    def made():
        families = {bed.wall.family for bed in about.garden}
        rows = [
            (row.name, f"{row.each:g}" if row.each else "own", row.use)
            for row in table("protection")
            if row.families == "all" or families & set(row.families.split())
        ]
        return facts_table(
            ("Gear", "each helper", "for"), rows, "What each helper wears"
        )

    return _block(about, made)
