"""Views of workbook 01: posture, reach, outlines, cost against size, whether to build.

Each view changes the bed on the desk, or asks about it; what follows is asked of
:mod:`bedcalc.evaluate` and :mod:`bedcalc.questions.size_plan`.
"""

from __future__ import annotations

import ipywidgets
import numpy as np

from ..figures.posture import cost_curve, outlines_figure, posture_figure
from ..garden.garden import demo_garden
from ..model.outcome import Outcome
from ..questions.size_plan import (
    WAYS,
    advise,
    compare_shapes,
    compare_sizes,
    detour,
    halves,
    lowered,
    outline_prices,
    people_fed,
    posture_at,
)
from ..tables import table
from ..units import Q_, show
from .kit.controls import choice_row, group, list_row, slider_row
from .kit.grading import Item, Key, Question
from .kit.offers import key_of, people, person_of, sized
from .kit.style import html, paper
from .kit.view import Desk, View, when_new
from .kit.why import why_checks
from .kit.words import asked_of, plain, unpriced

__all__ = [
    "KEYS", "cost_view", "decide_block", "facts_block", "outlines_view", "posture_view",
    "size_items",
]  # fmt: skip  # a list of names

WORKBOOK = "01"
_DEMO_BEDS = ("A", "B", "D")


def _sunk(bed):
    """How far the box is let into the ground; a trough stands on its legs."""
    return Q_(0, "mm") if bed.wall.family == "trough" else bed.embedment


def _stature(bed):
    return bed.person.q("stature")


def posture_view(desk: Desk) -> View:
    """A person at the bed: height, width, stature, who, from how many sides."""
    bed = desk.bed
    users = list_row("For", people(desk), key_of(bed.users), name="users")
    tall = slider_row("Tall", "cm", 90, 200, 1, _stature(bed), name="stature")
    high = slider_row("Height", "cm", 15, 110, 1, bed.height, name="height")
    wide = slider_row("Width", "cm", 40, 200, 5, bed.width, name="width")
    sides = choice_row(
        "Sides", [("both", "both sides"), ("one", "one side")], bed.sides, name="sides"
    )
    who = when_new(lambda: {"stature": _stature(desk.bed)})

    def reads():
        bed = desk.bed
        key = key_of(bed.users)
        users.relist(people(desk), key)
        sizes = {"height": bed.height, "width": bed.width, "sides": bed.sides}
        return who() | sizes | {"users": key}

    def writes(moved):
        change = {k: v for k, v in moved.items() if k != "stature"}
        if "users" in change:
            change["users"] = person_of(desk, change["users"])
        if change:
            desk.take(sized(desk.bed, **change))

    def render(values, size):
        found = posture_at(desk.bed, values["stature"], _sunk(desk.bed))
        figure = posture_figure(found, desk.bed, system=desk.system, **size)
        return figure, _posture_words(desk, found)

    def like(name):
        def act() -> str:
            desk.look_at("demo")
            other = demo_garden()[name]
            desk.take(other)
            return f"Now shown: bed {name} of the demo garden, {other.title}."

        return act

    acts = {f"Demo bed {name}": like(name) for name in _DEMO_BEDS}

    def posture():
        return posture_at(desk.bed, tall.value, _sunk(desk.bed))

    def checks():
        own = [desk.outcome.check(name) for name in ("reach", "bearing")]
        return [*filter(None, own), *posture().checks]

    return View(
        desk,
        [users, tall, high, wide, sides],
        render,
        name="posture",
        reads=reads,
        writes=writes,
        acts=acts,
        why=why_checks(desk, checks, posture=posture),
    )


def _posture_words(desk: Desk, found) -> str:
    reach = desk.outcome.check("reach")
    sign = {"holds": "", "watch": "At a stretch: ", "fails": "**Too wide.** "}
    words = sign[reach.verdict] + reach.sentence(desk.system) + " "
    if reach.fix is not None and reach.verdict != "holds":
        wide = show(reach.fix.change["width"], "depth", desk.system)
        words += f"Make it {wide} wide and all of it is in reach. "
    knees = next((c for c in found.checks if c.name == "knees"), None)
    rim = next((c for c in found.checks if c.name == "rim" and not c.ok), None)
    if rim is not None:
        words += f"**Too high.** {rim.sentence(desk.system)} "
    if knees is not None:
        return words + knees.sentence(desk.system)
    if found.seat:
        words += "One can sit on this rim. "
    if not np.isfinite(found.si.bend):
        return words + "Hands do not reach the soil without kneeling."
    lean = np.rad2deg(found.si.bend)
    if lean < 1:
        return words + "Nobody bends here."
    more = "most people kneel here" if lean > 60 else "that is a working day’s lean"
    return words + f"The back leans **{lean:.0f}°**: {more}."


def outlines_view(desk: Desk) -> View:
    """Box, L, U, keyhole and six sides beside each other, from the bed's own size."""
    long_ = slider_row("Length", "cm", 120, 400, 10, Q_(270, "cm"), name="length")
    wide = slider_row("Width", "cm", 80, 350, 10, Q_(210, "cm"), name="width")
    arm = slider_row("Arm", "cm", 40, 130, 5, Q_(80, "cm"), name="arm")

    def start():
        if desk.own:
            return {"length": desk.bed.length, "width": desk.bed.width}
        return {"length": Q_(270, "cm"), "width": Q_(210, "cm")}

    def render(values, size):
        q = desk.system
        reach = desk.outcome.size.reach
        shapes = compare_shapes(
            values["length"],
            values["width"],
            min(values["arm"], values["width"]),
            Q_(60, "cm"),
            reach,
        )
        box, best = shapes.outlines[0], max(shapes.outlines, key=_useful)
        words = (
            f"A plain box this size leaves **{100 * (1 - box.reached):.0f} %** out of "
            f"reach. Most ground in reach: the **{best.kind}**, "
            f"{show(_useful(best), 'area', q)}, with "
            f"{show(best.perimeter, 'size', q)} of wall. "
        )
        prices = outline_prices(shapes, desk.outcome)
        dear = prices[shapes.outlines.index(best)].total
        if lacks := unpriced(desk.outcome):
            prices, words = (), words + lacks
        else:
            other = (
                ""
                if best is box
                else (f", the box {show(prices[0].total, 'money', q)}")
            )
            words += (
                f"Built like {desk.name} it costs about **{show(dear, 'money', q)}**"
                f"{other}: walls by the metre and fill, without delivery and extra "
                "corners."
            )
        return outlines_figure(shapes, prices=prices, system=q, **size), words

    return View(
        desk, [long_, wide, arm], render, name="outlines", reads=when_new(start)
    )


def _useful(outline) -> float:
    return outline.area * outline.reached


_RANGE = {
    "length": (Q_(0.8, "m"), Q_(4.1, "m")),
    "width": (Q_(0.5, "m"), Q_(1.5, "m")),
    "height": (Q_(0.2, "m"), Q_(0.9, "m")),
}


def cost_view(desk: Desk) -> View:
    """What a square metre of growing area costs as one size moves."""
    names = [(name, name) for name in _RANGE]
    field = choice_row("Move the", names, "length", name="field")
    long_ = slider_row("Length", "cm", 60, 480, 10, desk.bed.length, name="length")

    def writes(moved):
        if "length" in moved:
            desk.take(desk.bed.change(length=moved["length"]))

    def render(values, size):
        q = desk.system
        low, high = _RANGE[values["field"]]
        now = getattr(desk.bed, values["field"])
        ends = min(low, now), max(high, now)
        sizes = compare_sizes(desk.bed, desk.place, values["field"], *ends)
        whole, half = halves(desk.bed, desk.place)
        area = show(whole.size.inside_area, "area", q)
        lacks, two = unpriced(whole), ""
        words = f"This bed has {area} of growing area. {lacks} "
        if not lacks:
            cost = show(whole.cost.total, "money", q)
            words = f"This bed costs {cost} for {area} of growing area. "
        if half is not None:
            if not lacks:
                two = f"**{show(2 * half.cost.total, 'money', q)}** for "
            words += (
                f"Two of half its length: {two}"
                f"{show(2 * half.size.inside_area, 'area', q)}, with "
                f"{show(2 * half.size.perimeter, 'size', q)} of wall "
                f"instead of {show(whole.size.perimeter, 'size', q)}."
            )
        return cost_curve(sizes, system=q, **size), words

    return View(
        desk,
        [field, long_],
        render,
        name="cost",
        writes=writes,
        reads=lambda: {"length": desk.bed.length},
    )


def _fills(half, outcome: Outcome, system: str) -> str:
    """What a bed of half the height takes, beside what the whole one takes."""
    less, more = (show(o.fill.order_volume, "volume", system) for o in (half, outcome))
    if less == more:
        return f"fill {more} either way: sellers sell in steps"
    return f"fill {less} instead of {more}; what is saved buys firm paths"


def facts_block(desk: Desk) -> ipywidgets.VBox:
    """The bed in numbers: outside, inside, roots, people; kept up to date."""
    page = html("", "bc-scroll")

    def write(outcome: Outcome) -> None:
        q = desk.system
        bed, size = outcome.bed, outcome.size
        found = posture_at(bed, _stature(bed), _sunk(bed))
        rows = [
            ("outside", f"{show(bed.length, 'size', q)} × {show(bed.width, 'size', q)}",
             f"covers {show(size.outside_area, 'area', q)}"),
            ("inside", f"{show(size.inside_length, 'size', q)} × "
             f"{show(size.inside_width, 'size', q)}",
             f"grows on {show(size.inside_area, 'area', q)}"),
            ("wall", show(size.perimeter, "size", q),
             f"for {show(size.inside_area, 'area', q)} of growing area"),
            ("walk round its end", show(detour(bed.length, bed.width), "size", q),
             "to the place right opposite"),
            ("soil, without logs", show(found.depth, "depth", q),
             f"{show(bed.freeboard, 'depth', q)} below the rim"),
            ("deep enough for", _roots(found.roots, True, q),
             "roots as deep as in open ground"),
            ("shallow for", _roots(found.roots, False, q),
             "they grow, but want water oftener"),
        ]  # fmt: skip  # rows of a table
        half = lowered(bed, desk.place)
        if half is not None:
            cost = (
                f"{show(half.cost.total, 'money', q)} instead of "
                f"{show(outcome.cost.total, 'money', q)}"
            )
            rows.append(
                (
                    "at half this height",
                    unpriced(outcome) or cost,
                    _fills(half, outcome, q),
                )
            )
        for name, low, high in people_fed(size.inside_area):
            rows.append(
                (
                    name,
                    f"{1 / high:.1f} to {1 / low:.1f} beds of this size",
                    "for each person",
                )
            )
        body = "".join(
            f'<tr><th scope="row">{plain(a)}</th><td style="text-align:left">{plain(b)}'
            f'</td><td style="text-align:left">{plain(c)}</td></tr>'
            for a, b, c in rows
        )
        page.value = (
            f'<table class="bc-numbers"><caption>{plain(desk.name)} in numbers'
            f"</caption><tbody>{body}</tbody></table>"
        )

    desk.observe(write)
    made = paper(page)
    made.add_class("bc-view-facts")
    return made


def _roots(rows, fits: bool, system: str) -> str:
    """Crops for which there is depth enough or not, each with the depth it wants."""
    found = [f"{r[0]} {show(r[1], 'depth', system)}" for r in rows if r[3] == fits]
    return ", ".join(found) or "–"


def decide_block() -> ipywidgets.VBox:
    """Six questions, and which way of growing the answers speak for."""
    asked: dict[str, list] = {}
    for row in table("decide"):
        asked.setdefault(row.question, []).append(row)
    rows = [
        list_row(
            options[0].asks,
            [("", "not said"), *((r.key.split(".")[1], r.answer) for r in options)],
            "",
            name=name,
        )
        for name, options in asked.items()
    ]
    page = html("")

    def write(change=None) -> None:
        given = {row.name: row.value for row in rows if row.value}
        if not given:
            page.value = "<p>Answer what you know. Nothing is kept.</p>"
            return
        advice = advise(given)
        ways = sorted(WAYS, key=advice.points.get, reverse=True)
        lines = "".join(
            f'<tr><th scope="row">{plain(WAYS[way].capitalize())}</th>'
            f"<td>{advice.points[way]:+.0f}</td></tr>"
            for way in ways
        )
        lines = f'<table class="bc-numbers"><caption>Points</caption>{lines}</table>'
        close = " Two ways are close: either will do." if advice.close else ""
        why = "".join(f"<li>{plain(row.why)}</li>" for row in advice.reasons)
        first = "".join(
            f"<li><strong>First:</strong> {plain(t)}</li>" for t in advice.first
        )
        page.value = (
            f"<p>Your answers speak for <strong>{plain(WAYS[advice.best])}</strong>."
            f"{close}</p>{lines}<ul>{first}{why}</ul>"
        )

    for row in rows:
        row.observe(write)
    write()
    made = paper(group("Your answers", *rows), page)
    made.add_class("bc-view-decide")
    return made


# ---- questions of the workbook


def _facts(outcome: Outcome):
    bed, size = outcome.bed, outcome.size
    name = asked_of(bed, outcome.place)
    return {
        "bed": name,
        "reach": (size.reach, "stock"),
        "cap": (size.overhang, "stock"),
        "left": (size.reach - size.overhang, "stock"),
        "sides": "both long sides" if bed.sides == "both" else "one long side",
        "length": (bed.length, "stock"),
        "width": (bed.width, "stock"),
        "thick": (Q_(bed.si.wall_thickness, "m"), "stock"),
        "more": (2 * bed.width, "size"),
    }


def _times(outcome: Outcome) -> int:
    return 2 if outcome.bed.sides == "both" else 1


def _one_wall(outcome: Outcome):
    bed, wall = outcome.bed, Q_(outcome.bed.si.wall_thickness, "m")
    return (bed.length - wall) * (bed.width - wall)


KEYS = {
    "wide": Key(
        answer=lambda o: _times(o) * (o.size.reach - o.size.overhang),
        mistakes={
            "no_cap": lambda o: _times(o) * o.size.reach,
            "half": lambda o: (3 - _times(o)) * (o.size.reach - o.size.overhang),
            "one_cap": lambda o: _times(o) * o.size.reach - o.size.overhang,
        },
        facts=_facts,
    ),
    "grow": Key(
        answer=lambda o: o.size.inside_area,
        mistakes={"outside": lambda o: o.size.outside_area, "one_wall": _one_wall},
        facts=_facts,
    ),
    "knee": Key(
        answer=lambda o: Q_(865 - 685 - 67, "mm"),
        mistakes={"no_floor": lambda o: Q_(865 - 685, "mm")},
    ),
    "bend": Key(answer=lambda o: "high"),
    "two": Key(answer=lambda o: "wall", facts=_facts),
}


def size_items(*names: str) -> list[Item]:
    """Questions of workbook 01 with their keys, to be judged on an outcome."""
    return [Item(question=Question.read(n, WORKBOOK), key=KEYS[n]) for n in names]
