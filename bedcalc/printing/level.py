"""Square and level: how deep to dig at each corner, and how to check it."""

from __future__ import annotations

import numpy as np

from ..evaluate import Outcome
from ..model.bed import Bed
from ..model.plan_words import CORNERS, corner_names
from ..questions.site_plan import SitePlan
from ..tables import table
from .page import PaperTable
from .tape import dig_or_block, size, stick, tolerance

__all__ = ["level_section"]


def level_section(outcome: Outcome, plan: SitePlan | None, system: str) -> dict:
    """Square and level: diagonals, how deep to dig at each corner, tolerances."""
    bed = outcome.bed
    s = bed.si
    diagonal = float(np.hypot(s.length, s.width))
    words = (
        f"Both outside diagonals measure {size(diagonal, system)}. If one is longer, "
        "slide the far long side along its own line towards the shorter diagonal by "
        "about the difference × diagonal ÷ (2 × length), and measure again."
    )
    site = outcome.site.si
    rows = [(name, "______", "______", "☐") for name in CORNERS]
    if site.measured:
        reads = "______"
        if plan is not None and bed.name in [b.name for b in plan.beds]:
            reads = stick(float(site.floor), system)
        rows = [
            (name, dig_or_block(float(dig), float(depth), system), reads, "☐")
            for name, dig, depth in zip(
                corner_names(site.corner_depths),
                site.dig,
                site.corner_depths,
                strict=True,
            )
        ]
    head = ("corner on the plan", "dig below ground", "stick reads", "done")
    tolerances = [
        (row.name, tolerance(row, "good", system), tolerance(row, "accept", system))
        for row in table("tolerances")
        if row.key != "path"
    ]
    return {
        "words": words,
        "corners": PaperTable(head, rows, (1, 2)),
        "tolerances": PaperTable(
            ("measure", "good", "still good enough"), tolerances, kind="small keep"
        ),
        "note": _level_note(outcome, system) + _post_holes(bed, system),
    }


def _level_note(outcome: Outcome, system: str) -> str:
    """How the depths were found, or how to find them where nobody has measured."""
    site, let_in = outcome.site.si, size(outcome.bed.si.embedment, system)
    gravel = f"{size(float(site.gravel), system)} for the gravel"
    if not site.measured:
        more = f" plus {gravel}" if site.gravel > 0 else ""
        return (
            "Not measured: taken as level, so the depths are open. Hang a level string "
            "or a water level over the bed, read the stick at the four corners on the "
            f"ground, and dig until it reads the largest of the four plus {let_in}"
            f"{more}, the same at all four corners."
        )
    rule = {
        "all_cut": f"Lowest corner let in {let_in}",
        "limited": "No trench deeper than your limit; low corners stand on blocks",
        "balanced": "What is cut fills the low side; tamp it in thin layers",
    }[site.rule]
    more = f"; {gravel} are counted in" if site.gravel > 0 else ""
    return (
        f"{rule}{more}. The datum is the level your readings were taken from: a "
        "string, or a water level. A stick on the trench floor reads the same number "
        "at all four corners, down from it."
    )


def _post_holes(bed: Bed, system: str) -> str:
    """How deep the post holes are, where the posts go into the ground."""
    if not bed.si.post_depth:
        return ""
    return (
        f" Post holes: {size(bed.si.post_depth, system)} below the trench floor. "
        "Refill round each post a hand deep at a time, and tamp."
    )
