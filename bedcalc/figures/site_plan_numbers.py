"""What the plan of the plot shows, as a table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from bedcalc.model.plan_words import CORNERS
from bedcalc.units import show

from .drawing import Numbers
from .site_plan_words import dig_words

if TYPE_CHECKING:  # names for an editor
    from ..site.bed_levels import SitePlan
    from ..site.overflow import Overflow
    from ..site.plots import Sun
    from ..site.routes import Walk

__all__ = ["numbers"]


def numbers(
    plan: SitePlan,
    view: str,
    walk: Walk | None,
    sun: Sun | None,
    system: str,
    wet: Overflow | None = None,
) -> Numbers:
    """The same as a table."""
    if view == "routes" and walk is not None:
        rows = tuple(
            (
                f"bed {r.name}",
                *(f"{100 * v:.0f} %" for v in r.long_sides),
                show(r.far, "size", system),
                show(r.hose, "size", system),
                "yes" if r.turns else "no",
            )
            for r in walk.routes
        )
        heads = ("bed", "long side at the top or right", "the other long side",
                 "walk from the gate", "hose from the tap",
                 "room to turn near")  # fmt: skip  # rows of a table
        return Numbers(caption="Ways", headings=heads, rows=rows)
    if view == "water" and wet is not None:
        rows = tuple(
            (c.sentence(system), "holds" if c.ok else "does not hold")
            for c in wet.checks
        )
        return Numbers(
            caption="Swale and overflow", headings=("what", "verdict"), rows=rows
        )
    if view == "sun" and sun is not None:
        rows = tuple((f"bed {k}", f"{v:.1f} h") for k, v in sun.beds.items())
        return Numbers(caption=f"Sun on {sun.day}", headings=("bed", "sun"), rows=rows)
    if view == "readings":
        rows = tuple(
            (
                str(i + 1),
                show(x, "size", system),
                show(y, "size", system),
                show(down, "reading", system),
                show(off, "fine", system),
            )
            for i, ((x, y, down), off) in enumerate(
                zip(plan.points, plan.si.residuals, strict=True)
            )
        )
        heads = ("reading", "x", "y", "down from the datum", "off the plane")
        return Numbers(caption="The readings", headings=heads, rows=rows)
    rows = tuple(
        (
            f"bed {b.name}",
            *(dig_words(b, k, system) for k in range(4)),
            show(b.si.cut, "volume", system) if b.measured else "not measured",
            show(b.si.diagonal, "stock", system),
        )
        for b in plan.beds
    )
    heads = ("bed", *CORNERS, "to dig out", "both diagonals")
    return Numbers(caption="How deep at each corner", headings=heads, rows=rows)
