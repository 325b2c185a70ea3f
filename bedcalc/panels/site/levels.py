"""Views of the levels: readings, one bed cut through."""

from __future__ import annotations

import numpy as np

from ...figures.site_plan import plan_figure
from ...figures.site_section import section_figure
from ...plan_words import corner_names
from ...units import Q_, show
from ..controls import choice_row, list_row, slider_row
from ..view import View
from .desk import READABLE, SiteDesk, in_units, units_row

__all__ = ["level_view", "readings_view"]

_RULES = [("all_cut", "all cut"), ("limited", "limited"), ("balanced", "balanced")]


def readings_view(desk: SiteDesk) -> View:
    """The readings one by one, and which of them does not fit."""
    points = _points(desk)

    def options():
        return [(i, str(i + 1)) for i in range(len(_points(desk)))] or [(0, "none")]

    which = list_row("Reading", options(), min(6, len(options()) - 1), name="which")
    far, deep = (int(1000 * v) for v in READABLE)
    ends = np.vstack([points, np.zeros(3)])
    low, high = np.floor(100 * ends.min(axis=0)), np.ceil(100 * ends.max(axis=0))
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
        for control in (which, x, y, down):
            control.shown = desk.plan.measured
        if not desk.plan.measured:
            return
        row = _points(desk)[which.value]
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
            if values["which"] >= len(options()):
                which.relist(options(), 0)
            elif len(which.options) != len(options()):
                which.relist(options(), values["which"])
            put()
        elif desk.plan.measured:
            rows = _points(desk).copy()
            new = [x.value.m_as("m"), y.value.m_as("m"), down.value.m_as("m")]
            if not np.allclose(rows[which.value], new, atol=1e-7):
                rows[which.value] = new
                desk.read(rows)
        state.update(at=which.value, points=desk.place.survey)
        units = desk.system
        figure = plan_figure(desk.plan, view="readings", system=units, **size)
        return figure, _fit(desk)

    def wrong() -> str:
        first = desk.garden.place.survey
        if first is None or len(first.points) < 7:
            return "Not done: that needs at least seven readings."
        rows = first.points.copy()
        rows[6, 2] -= 0.018
        desk.read(rows)
        return "Reading 7 lost 18 mm, as if two digits had been swapped."

    def first() -> str:
        desk.take(place=desk.place.change(survey=desk.garden.place.survey))
        return "All readings are as they were measured."

    return View(desk, [which, x, y, down, system], follow, name="readings",
                acts={"Swap two digits": wrong, "As measured": first})  # fmt: skip


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
            f"{odd.expected:.3f} m there. Read that point again."
        )
    return words + "No reading stands out."


def level_view(desk: SiteDesk) -> View:
    """One bed cut through, under the three rules."""
    bed = list_row("Bed", desk.names, "B" if "B" in desk.names else desk.names[0],
                   name="bed")  # fmt: skip
    cut = choice_row("Cut it", [(True, "across"), (False, "along")], True,
                     name="cut")  # fmt: skip
    levelling = desk.place.levelling
    rule = choice_row("Rule", _RULES, levelling.rule, name="rule")
    limit = slider_row("Dig at most", "mm", 20, 300, 10, levelling.limit, name="limit")
    high = slider_row("Height", "cm", 15, 110, 1, desk.bed(bed.value).height,
                      name="height")  # fmt: skip
    state = {"bed": bed.value, "high": high.value, "levelling": levelling}

    bring = in_units(desk, limit, high)

    def follow(values, size):
        bring()
        name = values["bed"]
        now = desk.place.levelling
        if now != state["levelling"]:  # mended elsewhere
            rule.set(now.rule)
            limit.set(now.limit)
        if name != state["bed"] or desk.bed(name).height != state["high"]:
            high.set(desk.bed(name).height)
        new = now.change(rule=rule.value, limit=limit.value)
        desk.take(place=desk.place.change(levelling=new))
        if abs((high.value - desk.bed(name).height).m_as("m")) > 1e-6:
            _resize(desk, name, high.value)
        limit.shown = rule.value == "limited"
        state.update(bed=name, high=desk.bed(name).height, levelling=new)
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
    if not bed.measured:
        return desk.plan.check("slope").sentence(q)
    low, high = (show(float(f(bed.si.exposed)), "stock", q) for f in (np.min, np.max))
    corners = ", ".join(
        f"{corner} **{show(float(abs(depth) if depth < 0 else dig), 'stock', q)}**"
        + (" of block" if depth < 0 else "")
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
    return words + f". The wall shows {low} at least and {high} at most."
