"""Views of the levels: readings, one bed cut through."""

from __future__ import annotations

import numpy as np

from ...figures.site_plan import plan_figure
from ...figures.site_section import section_figure
from ...units import Q_, show
from ..controls import choice_row, list_row, slider_row
from ..view import View
from .desk import READABLE, SiteDesk, in_units, units_row

__all__ = ["level_view", "readings_view"]

_RULES = [("all_cut", "all cut"), ("limited", "limited"), ("balanced", "balanced")]


def readings_view(desk: SiteDesk) -> View:
    """The readings one by one, and which of them does not fit."""
    points = desk.place.survey.points

    def options():
        return [(i, str(i + 1)) for i in range(len(desk.place.survey.points))]

    which = list_row("Reading", options(), min(6, len(points) - 1), name="which")
    far, deep = (int(1000 * v) for v in READABLE)
    low, high = np.floor(100 * points.min(axis=0)), np.ceil(100 * points.max(axis=0))
    ends = [
        (min(0, int(low[i])), max(far // 10, int(high[i]))) for i in (0, 1)
    ]  # a survey out of a file may go further
    x = slider_row("Along (x)", "cm", *ends[0], 10, Q_(0, "cm"), name="x")
    y = slider_row("Down (y)", "cm", *ends[1], 10, Q_(0, "cm"), name="y")
    down = slider_row(
        "Stick reads", "mm", min(0, 10 * int(low[2])), max(deep, 10 * int(high[2])), 1,
        Q_(0, "mm"), name="down",
    )  # fmt: skip

    def put() -> None:
        row = desk.place.survey.points[which.value]
        for control, value, unit in ((x, row[0], "cm"), (y, row[1], "cm"),
                                     (down, row[2], "mm")):  # fmt: skip
            control.set(Q_(round(float(Q_(value, "m").m_as(unit)), 3), unit))

    put()
    state = {"at": which.value, "points": desk.place.survey}

    system = units_row(desk)
    bring = in_units(desk, x, y, down)

    def follow(values, size):
        desk.take(system=values["system"])
        bring()
        if values["which"] != state["at"] or desk.place.survey is not state["points"]:
            if values["which"] >= len(desk.place.survey.points):
                which.relist(options(), 0)
            elif len(which.options) != len(desk.place.survey.points):
                which.relist(options(), values["which"])
            put()
        else:
            rows = desk.place.survey.points.copy()
            new = [x.value.m_as("m"), y.value.m_as("m"), down.value.m_as("m")]
            if not np.allclose(rows[which.value], new, atol=1e-7):
                rows[which.value] = new
                desk.read(rows)
        state.update(at=which.value, points=desk.place.survey)
        units = desk.system
        figure = plan_figure(desk.plan, view="readings", system=units, **size)
        return figure, _fit(desk)

    def wrong() -> str:
        rows = desk.garden.place.survey.points.copy()
        if len(rows) < 7:
            return "Not done: that needs at least seven readings."
        rows[6, 2] -= 0.018
        desk.read(rows)
        return "Reading 7 lost 18 mm, as if two digits had been swapped."

    def first() -> str:
        desk.read(desk.garden.place.survey.points)
        return "All readings are as they were measured."

    return View(desk, [which, x, y, down, system], follow, name="readings",
                acts={"Swap two digits": wrong, "As measured": first})  # fmt: skip


def _each(slope: float, system: str) -> str:
    """A slope as a fall over a length people can picture."""
    if system == "us":
        return f"{12 * slope:.1f} in for each foot"
    return f"{1000 * slope:.0f} mm in each metre"


def _fit(desk: SiteDesk) -> str:
    plan, q = desk.plan, desk.system
    off = show(plan.si.fit_error, "fine", q)
    words = (
        f"{len(plan.points)} readings. The ground falls "
        f"**{show(plan.si.slope, 'slope', q)}**, that is "
        f"{_each(plan.si.slope, desk.system)}, or 1 in {plan.one_in:.0f}. "
        if np.isfinite(plan.one_in)
        else "The ground is level. "
    )
    words += f"The readings lie {off} round one plane. "
    odd = plan.suspect
    if odd is not None and odd.doubtful:
        return words + (
            f"**Reading {odd.index + 1} does not fit**: the others say "
            f"{odd.expected:.3f} m there. Read that point again."
        )
    return words + "No reading stands out."


def level_view(desk: SiteDesk) -> View:
    """One bed cut through, under the three rules."""
    bed = list_row("Bed", desk.names, "B" if "B" in desk.names else desk.names[0],
                   name="bed")  # fmt: skip
    cut = choice_row("Cut it", [(True, "down the slope"), (False, "along")], True,
                     name="cut")  # fmt: skip
    rule = choice_row("Rule", _RULES, desk.rule, name="rule")
    limit = slider_row("Dig at most", "mm", 20, 300, 10, desk.limit, name="limit")
    high = slider_row("Height", "cm", 15, 110, 1, desk.bed(bed.value).height,
                      name="height")  # fmt: skip
    state = {"bed": bed.value, "high": high.value, "rule": desk.rule}

    bring = in_units(desk, limit, high)

    def follow(values, size):
        bring()
        name = values["bed"]
        if desk.rule != state["rule"]:  # mended elsewhere
            rule.set(desk.rule)
        if name != state["bed"] or desk.bed(name).height != state["high"]:
            high.set(desk.bed(name).height)
        desk.take(rule=rule.value, limit=values["limit"])
        if abs((high.value - desk.bed(name).height).m_as("m")) > 1e-6:
            _resize(desk, name, high.value)
        limit.shown = rule.value == "limited"
        state.update(bed=name, high=desk.bed(name).height, rule=desk.rule)
        figure = section_figure(desk.plan, name, across=values["cut"],
                                system=desk.system, **size)  # fmt: skip
        return figure, _depths(desk, name)

    return View(desk, [bed, cut, rule, limit, high], follow, name="level")


def _resize(desk: SiteDesk, name: str, height) -> None:
    bed = desk.bed(name)
    more = {}
    if bed.soil_depth is not None and bed.soil_depth > height:
        more["soil_depth"] = height
    desk.move(name, height=height, **more)


def _depths(desk: SiteDesk, name: str) -> str:
    bed, q = desk.plan[name], desk.system
    d = [show(abs(float(v)), "stock", q) for v in bed.si.depths]
    word = ["dig" if v >= 0 else "block" for v in bed.si.depths]
    low, high = (show(float(f(bed.si.exposed)), "stock", q) for f in (np.min, np.max))
    words = (
        f"Bed {name}: uphill {word[0]} **{d[0]}** left and {word[1]} **{d[1]}** right, "
        f"downhill {word[3]} **{d[3]}** left and {word[2]} **{d[2]}** right. "
        f"{show(bed.si.cut, 'volume', q)} of ground comes out"
    )
    if bed.si.fill <= 0.005 and bed.rule == "all_cut":
        words += f" ({show(bed.si.strip, 'volume', q)} if you dig only under the walls)"
    if bed.si.fill > 0.005:
        words += f", {show(bed.si.fill, 'volume', q)} must be filled in and tamped"
    return words + f". The wall shows {low} at least and {high} at most."
