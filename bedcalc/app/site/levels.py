"""Views of the levels: readings, one bed cut through."""

from __future__ import annotations

import numpy as np

from ...figures.site_plan import plan_figure
from ...figures.site_section import section_figure
from ...model.plan_words import corner_names
from ...units import Q_, show
from ..kit.controls import choice_row, list_row, slider_row
from ..kit.view import View
from .desk import READABLE, SiteDesk, units_row

__all__ = ["level_view", "readings_view"]

_RULES = [("all_cut", "all cut"), ("limited", "limited"), ("balanced", "balanced")]


def readings_view(desk: SiteDesk) -> View:
    """The readings one by one, and which of them does not fit."""

    def options():
        return [(i, str(i + 1)) for i in range(len(_points(desk)))] or [(0, "none")]

    which = list_row("Reading", options(), min(6, len(options()) - 1), name="which")
    far, deep = (int(1000 * v) for v in READABLE)
    zero = Q_(0, "cm")
    x = slider_row("Along (x)", "cm", 0, far // 10, 10, zero, name="x")
    y = slider_row("Down (y)", "cm", 0, far // 10, 10, zero, name="y")
    down = slider_row("Stick reads", "mm", 0, deep, 1, Q_(0, "mm"), name="down")
    system = units_row(desk)

    def reads():
        count = len(options())
        if len(which.options) != count:
            which.relist(options(), min(which.value, count - 1))
        for control in (which, x, y, down):
            control.shown = desk.plan.measured
        found = {"system": str(desk.system)}
        if desk.plan.measured:
            row = _points(desk)[which.value]
            for control, value, unit in (
                (x, row[0], "cm"),
                (y, row[1], "cm"),
                (down, row[2], "mm"),
            ):
                shown = round(float(Q_(value, "m").m_as(unit)), 3)
                found[control.name] = Q_(shown, unit)
        return found

    def writes(moved):
        if "system" in moved:
            desk.take(system=moved["system"])
        if moved.keys() & {"x", "y", "down"} and desk.plan.measured:
            rows = _points(desk).copy()
            for column, name in enumerate(("x", "y", "down")):
                if name in moved:
                    rows[which.value, column] = moved[name].m_as("m")
            desk.read(rows)

    def render(values, size):
        figure = plan_figure(desk.plan, view="readings", system=desk.system, **size)
        return figure, _fit(desk)

    def wrong() -> str:
        if len(_points(desk)) < 7:
            return "Not done: that needs at least seven readings."
        if desk.own:
            return "Not done: your own readings stay. Look at the demo bed first."
        rows = _points(desk).copy()
        rows[6, 2] -= 0.018
        desk.read(rows)
        return "Reading 7 lost 18 mm, as if two digits had been swapped."

    def add() -> str:
        if not desk.plan.measured:
            return "Not done: write the first three readings into the box below."
        rows = _points(desk)
        middle = rows[:, :2].mean(axis=0).round(2)
        desk.read([*rows.tolist(), [*middle.tolist(), round(rows[:, 2].mean(), 3)]])
        which.relist(options(), len(rows))
        view.refresh()
        return f"Reading {len(rows) + 1} added in the middle. Put in where you read it."

    def remove() -> str:
        rows = _points(desk).tolist()
        if len(rows) <= 3:
            return "Not done: a slope needs at least three readings."
        gone = which.value
        rows.pop(gone)
        desk.read(rows)
        return f"Reading {gone + 1} is left out."

    def first() -> str:
        desk.take(place=desk.place.change(survey=desk.garden.place.survey))
        return "All readings are as they were measured."

    view = View(
        desk, [which, x, y, down, system], render, name="readings", reads=reads,
        writes=writes,
        acts={"Add a reading": add, "Remove this one": remove,
              "Swap two digits": wrong, "As measured": first},
    )  # fmt: skip  # rows of a table
    return view


def _points(desk: SiteDesk):
    """The readings of the desk, none where nobody measured."""
    return desk.plan.points


def _each(slope: float, system: str) -> str:
    """A slope as a fall over a length people can picture."""
    if system == "us":
        return f"{12 * slope:.1f} in for each foot"
    return f"{1000 * slope:.0f} mm in each metre"


def _fit(desk: SiteDesk) -> str:
    plan, q = desk.plan, desk.system
    if not plan.measured:
        return plan.check("slope").sentence(q)
    off = show(plan.si.fit_error, "fine", q)
    words = (
        f"{len(plan.points)} readings. The ground falls "
        f"**{show(plan.si.slope, 'slope', q)}**, that is "
        f"{_each(plan.si.slope, desk.system)}, or 1 in {plan.one_in:.0f}. "
        if np.isfinite(plan.one_in)
        else "The ground is level. "
    )
    if len(plan.points) < 4:
        return words + plan.check("readings").sentence(q)
    words += f"The readings lie {off} round one plane. "
    odd = plan.suspect
    if odd is not None and odd.doubtful:
        return words + (
            f"**Reading {odd.index + 1} does not fit**: the others say "
            f"{show(odd.expected, 'reading', q)} there. Read that point again."
        )
    return words + "No reading stands out."


def level_view(desk: SiteDesk) -> View:
    """One bed cut through, under the three rules."""
    bed = list_row("Bed", desk.names, desk.current, name="bed")
    cut = choice_row("Cut it", [(True, "across"), (False, "along")], True, name="cut")
    levelling = desk.place.levelling
    rule = choice_row("Rule", _RULES, levelling.rule, name="rule")
    limit = slider_row("Dig at most", "mm", 20, 300, 10, levelling.limit, name="limit")
    gravel = slider_row(
        "Gravel under it", "mm", 0, 150, 5, levelling.gravel, name="gravel"
    )
    high = slider_row(
        "Height", "cm", 15, 110, 1, desk.bed(bed.value).height, name="height"
    )

    def reads():
        if [key for key, _ in bed.options] != desk.names:
            kept = bed.value if bed.value in desk.names else desk.current
            bed.relist(desk.names, kept)
        now = desk.place.levelling
        limit.shown = now.rule == "limited"
        return {
            "rule": now.rule,
            "limit": now.limit,
            "gravel": now.gravel,
            "height": desk.bed(bed.value).height,
        }

    def writes(moved):
        new = {k: moved[k] for k in ("rule", "limit", "gravel") if k in moved}
        if new:
            now = desk.place.levelling
            desk.take(place=desk.place.change(levelling=now.change(**new)))
        if "height" in moved:
            _resize(desk, bed.value, moved["height"])

    def render(values, size):
        figure = section_figure(
            desk.plan, values["bed"], across=values["cut"], system=desk.system, **size
        )
        return figure, _depths(desk, values["bed"])

    return View(desk, [bed, cut, rule, limit, gravel, high], render, name="level",
                reads=reads, writes=writes)  # fmt: skip  # rows of a table


def _resize(desk: SiteDesk, name: str, height) -> None:
    bed = desk.bed(name)
    more = {}
    if bed.soil_depth is not None and bed.soil_depth > height:
        more["soil_depth"] = height
    desk.move(name, height=height, **more)


def _depths(desk: SiteDesk, name: str) -> str:
    bed, q = desk.plan[name], desk.system
    if not bed.measured:
        return desk.plan.check("slope").sentence(q)
    low, high = (show(float(f(bed.si.exposed)), "stock", q) for f in (np.min, np.max))
    corners = ", ".join(
        f"{corner} **{show(float(abs(depth) if depth < -1e-9 else dig), 'stock', q)}**"
        + (" of block" if depth < -1e-9 else "")
        for corner, dig, depth in zip(
            corner_names(bed.si.depths), bed.si.dig, bed.si.depths, strict=True
        )
    )
    words = (
        f"Bed {name}, dig by the corners of the plan: {corners}. "
        f"{show(bed.si.cut, 'volume', q)} of ground comes out"
    )
    if bed.si.fill <= 0.005 and bed.rule == "all_cut":
        words += f" ({show(bed.si.strip, 'volume', q)} if you dig only under the walls)"
    if bed.si.fill > 0.005:
        words += f", {show(bed.si.fill, 'volume', q)} must be filled in and tamped"
    words += f". The wall shows {low} at least and {high} at most."
    if bed.steps > 1:
        fall = bed.si.fall_along * max(bed.si.length, bed.si.width)
        words += (
            f" Along its length the ground falls {show(fall, 'depth', q)}: built in "
            f"steps, it makes {bed.steps:.0f} level parts."
        )
    return words
