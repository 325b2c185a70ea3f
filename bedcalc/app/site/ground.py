"""What the ground does: how fast it drains, and how hard it pushes uphill."""

from __future__ import annotations

import ipywidgets

from ...evaluate import evaluate
from ...questions.repair import uphill_push
from ...questions.site_plan import soaking_rate
from ...tables import table
from ...units import Q_, show
from ..kit.controls import Controls, slider_row
from ..kit.style import care, html, paper
from ..kit.words import inline
from .desk import SiteDesk, in_units

__all__ = ["hill_block", "soak_block", "weight_block"]


def soak_block(desk: SiteDesk) -> ipywidgets.VBox:
    """A test hole: fall and minutes in, a verdict out."""
    fall = slider_row("Water fell", "mm", 1, 300, 1, Q_(20, "mm"), name="fell")
    time = slider_row("Minutes", "min", 5, 600, 5, Q_(60, "min"), name="minutes")
    page = html("")
    bring = in_units(desk, fall)

    def write(_=None) -> None:
        bring()
        rate = soaking_rate(fall.value, time.value).m_as("mm/hour")
        least = table("levelling")["soaks"].q("size").m_as("mm")
        said = "**It drains.**" if rate >= least else "**It does not drain.**"
        more = "" if rate >= least else " Lead water away; dig no swale here."
        units = (
            f"{rate / 25.4:.2f} inches an hour; under {least / 25.4:.2f}"
            if desk.system == "us"
            else f"{rate:.0f} mm an hour; under {least:.0f}"
        )
        page.value = (
            f"<p>{inline(f'{said} The water falls {units} ground does not drain.')}"
            f"{more} Source: common practice, percolation test.</p>"
        )

    desk.observe(write)
    Controls(fall, time).observe(write)
    made = paper(fall.widget, time.widget, page)
    made.add_class("bc-view-soak")
    return made


def hill_block(desk: SiteDesk) -> ipywidgets.VBox:
    """The uphill wall of the deepest bed: push, drain, limit, and whom to ask."""
    page = html("")

    def write(_=None) -> None:
        q = desk.system
        if not desk.plan.measured:
            page.value = f"<p>{inline(desk.plan.check('slope').sentence(q))}</p>"
            return
        placed = max(desk.plan.beds, key=lambda b: float(b.si.depths.max()))
        outcome = evaluate(desk.bed(placed.name), desk.place)
        deep = float(outcome.site.si.corner_depths.max())
        push = uphill_push(outcome)
        limit = table("loads")["height_engineer"].length
        words = (
            f"Bed {placed.name} is let in deepest, {show(deep, 'stock', q)}. While it "
            f"is empty, the hill pushes its wall inwards there with "
            f"**{show(push, 'line load', q)}** (ground at rest): "
            "brace it until it is full. Wet ground pushes more, so lay 10 to "
            "15 cm of gravel in fabric behind the wall, with a way out to the side. A "
            f"wall over {show(limit, 'size', q)}, or one that holds back "
            "a slope for good, is "
            "a job for an engineer; ask the council whether it needs a permit."
        )
        page.value = f"<p>{inline(words)}</p>"

    desk.observe(write)
    made = paper(page, care("hill_block"))
    made.add_class("bc-view-hill")
    return made


def weight_block(desk: SiteDesk) -> ipywidgets.VBox:
    """What each soaked bed presses with, against what a deck is built for."""
    page = html("")

    def write(_=None) -> None:
        q = desk.system
        found = {n: desk.outcome_of(n).size.bearing for n in desk.names}
        words = ", ".join(f"{n} {show(p, 'pressure', q)}" for n, p in found.items())
        deck = show(Q_(2, "kPa"), "pressure", q)
        page.value = (
            f"<p>{inline(f'Soaked, the beds press with: **{words}**.')} A deck is "
            f"often built for about {deck}. On a deck, roof or balcony ask a "
            "structural engineer first.</p>"
        )

    desk.observe(write)
    made = paper(page, care("weight_block"))
    made.add_class("bc-view-weight")
    return made
