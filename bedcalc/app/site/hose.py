"""The hose: pressure left, flow, and the time that watering each bed takes."""

from __future__ import annotations

import ipywidgets
import numpy as np

from ...questions.site_plan import hose_runs
from ...tables import table
from ...units import Q_, show
from ..kit.controls import Controls, choice_row, slider_row
from ..kit.style import care, html, paper
from ..kit.words import plain
from .desk import SiteDesk, in_units

__all__ = ["hose_block"]


def hose_block(desk: SiteDesk) -> ipywidgets.VBox:
    """What the hose takes and gives, bed by bed; kept up to date."""
    shut = slider_row("Tap, shut", "kPa", 50, 800, 10, Q_(300, "kPa"), name="shut",
                      us=("psi", 8, 116, 1))  # fmt: skip  # rows of a table
    bucket = slider_row("10 L fill in", "s", 10, 240, 1, Q_(40, "s"), name="bucket")
    bores = [(row.key, row.name) for row in table("hoses")]
    bore = choice_row("Hose", bores, bores[0][0], name="bore")
    depth = slider_row("Water", "mm", 5, 40, 1, Q_(20, "mm"), name="depth")
    page = html("", "bc-scroll")
    bring = in_units(desk, shut, depth)

    def write(_=None) -> None:
        bring()
        runs = hose_runs(
            desk.plan,
            desk.walk,
            shut.value,
            Q_(10, "L") / bucket.value,
            table("hoses")[bore.value].q("bore"),
            depth.value,
        )
        page.value = _table(runs, desk.system)

    desk.observe(write)
    controls = Controls(shut, bucket, bore, depth)
    controls.observe(write)
    words = html(
        "<p>Read a gauge on the shut tap, or ask the water company. Then fill a bucket "
        "of 10 L at the open tap, without the hose, and count seconds.</p>"
    )
    made = paper(
        words,
        *(c.widget for c in (shut, bucket, bore, depth)),
        page,
        care("hose_block"),
    )
    made.add_class("bc-view-hose")
    return made


def _pressure(head: float, system: str) -> str:
    value = Q_(head, "m") * Q_(9.81, "kN/m^3")
    if system == "us":
        return f"{value.m_as('psi'):.1f} psi"
    return f"{value.m_as('kPa'):.0f} kPa"


def _flow(flow: float, system: str) -> str:
    value = Q_(flow, "m^3/s")
    if system == "us":
        return f"{value.m_as('gallon/minute'):.1f} gal/min"
    return f"{value.m_as('L/minute'):.1f} L/min"


def _water(volume: float, system: str) -> str:
    value = Q_(volume, "m^3")
    if system == "us":
        return f"{value.m_as('gallon'):.0f} gal"
    return f"{value.m_as('L'):.0f} L"


def _table(runs, system: str) -> str:
    if not runs:
        return (
            "<p>No tap on the plot, or no way for a hose. Write a line such as "
            "<code>tap 14.2 0.3 0 0 0 tap</code> into the plot.</p>"
        )
    heads = ("bed", "hose", "hose takes", "flow left", "water", "minutes")
    rows = "".join(
        f'<tr><th scope="row">{plain(r.name)}</th>'
        + "".join(
            f"<td>{plain(cell)}</td>"
            for cell in (
                show(r.length, "size", system),
                _pressure(r.lost, system),
                _flow(r.flow, system),
                _water(r.water, system),
                f"{r.time / 60:.0f}" if np.isfinite(r.time) else "never",
            )
        )
        + "</tr>"
        for r in runs
    )
    head = "".join(f'<th scope="col">{h}</th>' for h in heads)
    total = sum(r.time for r in runs) / 60
    words = f"All beds once: <strong>{total:.0f} minutes</strong> of watering by hand."
    if not np.isfinite(total):
        words = "The pressure does not lift the water to every rim."
    return (
        '<table class="bc-numbers"><caption>Watering with the hose</caption><thead><tr>'
        f"{head}</tr></thead><tbody>{rows}</tbody></table><p>{words}</p>"
    )
