"""What the words of a bed's pages are filled with, and which rows of data/ fit it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from ..cost.counting import cap_screws, work
from ..cutting.parts import Part, courses
from ..cutting.splices import whole
from ..evaluate import Outcome
from ..tables import Row, table
from ..units import show
from ..walls.ties import snug_torque
from .views import levels, post_axes, size

__all__ = ["crossings", "facts_of", "rows_for", "tie_words", "top_course"]


def rows_for(name: str, family: str) -> list[Row]:
    """Rows of a table that are for this kind of wall."""
    return [
        row
        for row in table(name)
        if row.families == "all" or family in row.families.split()
    ]


def tie_words(outcome: Outcome, system: str) -> tuple[str, str]:
    """What to do about ties, and what to look at before filling."""
    bed, walls = outcome.bed, outcome.walls.si
    places = []
    for xs, where in (
        (walls.ties_x, f"{size(0.1, system)} below the rim"),
        (walls.base_ties_x, f"{size(0.1, system)} above the foot"),
    ):
        if len(xs):
            at = " and ".join(size(x, system) for x in xs)
            places.append(f"{where} at {at} from the left end")
    if not places:
        return (
            "This design has no ties. Read its verdicts first.",
            "No ties in this design; its verdicts were read.",
        )
    number = int(bed.ties) + int(bed.base_ties)
    step = (
        f"Drill through both long walls, {'; '.join(places)}. Push the rod "
        "through a plastic pipe, plate and two nuts on each end. Turn the nut by hand "
        "until it touches, then an eighth of a turn, no more."
    )
    return step, (
        f"All {number} ties in, plates flat on the wood, nuts hand tight and an eighth "
        "of a turn, second nut locked."
    )


def torque_words(outcome: Outcome, system: str) -> str:
    """How tight the tie is to be, in words first."""
    torque = float(snug_torque.si(1000.0, 0.010))
    turning = (
        f"{torque:.0f} N·m"
        if system == "metric"
        else (f"{torque / 0.112985:.0f} lbf·in")
    )
    return (
        "By hand until nut and plate touch the wood, then an eighth of a turn. More "
        f"crushes the wood: {turning} on the spanner already pulls with 1 kN, half a "
        "turn with about 8 kN. After filling, only take up what has come loose. The "
        f"fill itself pulls with up to {show(outcome.walls.tie_force, 'force', system)}"
        " when soaked."
    )


def top_course(outcome: Outcome, system: str) -> str:
    """A word where the top course has to be ripped, else nothing."""
    bed = outcome.bed
    if bed.wall.family in ("sheet",):
        return ""
    low, high = levels(outcome)[-1]
    step = levels(outcome)[0][1] - levels(outcome)[0][0]
    if high - low > step - 5e-4:
        return ""
    return f"The top course is ripped to {size(high - low, system)}."


def crossings(outcome: Outcome) -> list[tuple[str, str, int, int]]:
    """Joints as drawn: (where, key in data/pilot_holes.csv, joints, screws each)."""
    bed = outcome.bed
    family, found = bed.wall.family, []
    inner = max(len(post_axes(outcome)) - 2, 0)
    if family == "sheet":
        found.append(("each rail end into its corner post", "screw_6x100", 16, 2))
        found.append(("each rail into each middle post", "screw_6x100", 4 * inner, 2))
    elif family in ("boards", "trough"):
        rows = int(courses(bed))
        found.append(("each board end into its corner post", "screw_5x70", 8 * rows, 2))
        found.append(
            ("each board into each middle post", "screw_5x70", 2 * inner * rows, 2)
        )
    elif family == "sleepers":
        rows = int(courses(bed))
        found.append(("each corner of each course", "screw_6x100", 4 * rows, 2))
    s = bed.si
    if family == "sheet":
        run = 2 * (s.inside_length + s.inside_width)
        number = int(np.ceil(2 * run / work("sheet_fixing") - 1e-9))
        found.append(("sheet on rails, every second valley", "screw_sheet", number, 1))
    if bed.wall.cap_goods and bed.wall.si.cap_wide and family != "trough":
        number = int(cap_screws.si(s.length, s.width, work("cap_spacing")))
        words = "cap, all round and twice at each mitre"
        found.append((words, "screw_5x70", number, 1))
    return [row for row in found if row[2]]


def side_mass(found: Sequence[Part]) -> tuple[float, str, float]:
    """Heaviest piece (kg, what), and one long side put together (kg)."""
    known = [p for p in found if p.mass]
    if not known:
        return 0.0, "", 0.0
    heavy = max(known, key=lambda p: p.mass)
    posts = sum(p.mass * p.count for p in known if p.what == "post") / 2
    sides = sum(
        p.mass * p.count for p in known if whole(p.what) in ("side", "rail side")
    ) / 2  # fmt: skip
    sheet = sum(p.mass * p.count for p in known if p.what == "sheet")
    share = 0.0
    if sheet:
        long_ = sum(p.length for p in known if whole(p.what) == "rail side")
        short = sum(p.length for p in known if whole(p.what) == "rail end")
        share = sheet * long_ / (long_ + short) / 2
    return heavy.mass, heavy.what, posts + sides + share


def facts_of(outcome: Outcome, found: Sequence[Part], system: str) -> Mapping[str, str]:
    """Words for the places in braces of data/work_order.csv and data/sign_off.csv."""
    bed = outcome.bed
    s = bed.si
    step, check = tie_words(outcome, system)
    sheets = [p for p in found if p.what == "sheet"]
    return {
        "length": size(s.length, system),
        "width": size(s.width, system),
        "height": size(s.height, system),
        "diagonal": size(float(np.hypot(s.length, s.width)), system),
        "sheet": (
            f"{sheets[0].count} × {size(sheets[0].length, system)}" if sheets else ""
        ),
        "tie_step": step,
        "tie_check": check,
    }
