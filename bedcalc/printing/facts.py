"""Template values for the pages of one bed, and the table rows that fit its wall."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from ..assembly import assembly, courses, levels, tie_inset
from ..cutting.cut_list import CutPart, strips_needed
from ..cutting.splices import whole
from ..evaluate import Outcome
from ..model.bed import Bed
from ..tables import Row, table
from ..units import show
from ..walls.ties import snug_torque
from .views import size

__all__ = [
    "crossings",
    "facts_of",
    "front_words",
    "not_listed",
    "pins",
    "rows_for",
    "sheet_words",
    "tie_words",
    "top_course",
]


_PIN_STEP = 1.2  # m, at most, between the pins of sleepers


def rows_for(name: str, family: str) -> list[Row]:
    """Rows of a table that are for this kind of wall."""
    return [
        row
        for row in table(name)
        if row.families == "all" or family in row.families.split()
    ]


def step_cautions(step: str, family: str) -> list[tuple[str, str]]:
    """What to take care of at a step of the order of work: hazard, short sentence."""
    return [
        (table("cautions")[row.hazard].hazard, table("cautions")[row.hazard].short)
        for row in rows_for("caution_places", family)
        if row.kind == "step" and row.place == step
    ]


def sheet_hazards(outcomes: Sequence[Outcome]) -> list[str]:
    """The hazards met anywhere on the sheet of some beds, in the order of the table."""
    met = set()
    for outcome in outcomes:
        family = outcome.bed.wall.family
        steps = {row.key for row in rows_for("work_order", family)}
        met |= {
            row.hazard
            for row in rows_for("caution_places", family)
            if row.kind == "paper" or (row.kind == "step" and row.place in steps)
        }
    return [row.key for row in table("cautions") if row.key in met]


def tie_words(outcome: Outcome, system: str) -> tuple[str, str]:
    """What to do about ties, and what to look at before filling."""
    bed, walls = outcome.bed, outcome.walls.si
    places = []
    for xs, where in (
        (walls.ties_x, f"{size(tie_inset(outcome.bed), system)} below the rim"),
        (walls.base_ties_x, f"{size(tie_inset(outcome.bed), system)} above the foot"),
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
    middle = {"sheet": " in the middle of the rails", "boards": " and the post"}.get(
        bed.wall.family, ""
    )
    step = (
        f"Drill {size(0.011, system)} through both long walls{middle}, "
        f"{'; '.join(places)}. Push the rod through a plastic pipe, plate and two nuts "
        "on each end. Turn the nut by hand until it touches, then an eighth of a turn, "
        "no more."
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
    low, high = levels(outcome.bed)[-1]
    step = levels(outcome.bed)[0][1] - levels(outcome.bed)[0][0]
    if high - low > step - 5e-4:
        return ""
    return f"The top course is ripped to {size(high - low, system)}."


def sheet_words(outcome: Outcome, system: str) -> str:
    """How many sheets close a long side and an end, and how the last one is cut."""
    bed = outcome.bed
    if bed.wall.family != "sheet":
        return ""
    s, row = bed.si, table("sheets")[bed.wall.sheet]
    if bed.ribs_lying:
        rows = int(strips_needed.si(s.height, row.pitch, row.cover))
        many = f"{rows} rows" if rows > 1 else "One row"
        return (
            f"{many} of sheet, ribs lying, screwed to every post. Rows lap by one "
            "rib. Cut the top row along a valley."
        )
    said = []
    for name, run in (("a long side", s.inside_length), ("an end", s.inside_width)):
        number = int(strips_needed.si(run, row.pitch, row.cover))
        last = float(run - (number - 1) * row.cover)
        words = f"{number} sheets close {name}" if number > 1 else f"1 sheet {name}"
        full = row.cover + row.pitch
        if last < full - 1e-3:
            words += f", the last one cut along to {size(last, system)}"
        said.append(words)
    return (
        f"{'; '.join(said)}. Neighbours lap by one rib. Cut along a valley; the cut "
        "edge goes into the corner."
    )


def pins(outcome: Outcome, system: str) -> str:
    """The steel pins of stacked sleepers, in words; nothing for other walls."""
    made = assembly(outcome.bed).pins
    if not made:
        return ""
    s, t = outcome.bed.si, outcome.bed.si.wall_thickness
    along = sum(pin.y == t / 2 for pin in made) - 2
    across = sum(
        pin.x == t / 2 and pin.y not in (t / 2, s.width - t / 2) for pin in made
    )
    across -= 2
    number, high = len(made), made[0].top - made[0].foot
    more = f", {along} more along each long side" if along else ""
    more += f", {across} in each end" if across else ""
    return (
        f"{number} steel pins 12 mm × {size(high, system)}: one "
        f"{size(0.1, system)} from each end of the stacked sleepers{more}. They end "
        "below the top."
    )


def not_listed(outcome: Outcome, found: Sequence[CutPart], system: str) -> list[str]:
    """What this bed needs that the price list does not hold."""
    bed = outcome.bed
    family, lines = bed.wall.family, []
    if pinned := pins(outcome, system):
        lines.append(pinned)
    if family == "sleepers":
        lines.append(
            f"{4 * int(courses(bed))} steel angles with their screws, one inside each "
            "corner of each course: the sides run through, so nothing else holds them."
        )
    if family == "trough":
        legs = sum(p.count for p in found if p.what == "post")
        lines += [
            f"{legs} slabs of {size(0.3, system)} × {size(0.3, system)}, one under "
            "each leg, with a bucket of gravel each.",
            "Screws 5 × 70 for the floor frame and two laths to brace the legs, cut "
            "from leftovers.",
        ]
    elif bed.open_base:
        lines.append("Staples, or stones, to hold the mesh.")
    if bed.drained:
        lines.append(
            "A drain at the foot that leads the water away: pipe with holes in gravel, "
            "down to lower ground. It is not in the bill."
        )
    return lines


def crossings(outcome: Outcome) -> list[tuple[str, str, int, int]]:
    """Joints as drawn: (where, key in data/pilot_holes.csv, joints, screws each)."""
    found: dict[tuple[str, str, int], int] = {}
    for joint in assembly(outcome.bed).joints:
        kind = joint.where, joint.goods, len(joint.screws)
        found[kind] = found.get(kind, 0) + 1
    return [(where, goods, n, each) for (where, goods, each), n in found.items()]


def side_mass(found: Sequence[CutPart]) -> tuple[float, str, float]:
    """Heaviest piece (kg, what), and one long side put together (kg)."""
    known = [p for p in found if p.mass]
    if not known:
        return 0.0, "", 0.0
    heavy = max(known, key=lambda p: p.mass)
    posts = sum(p.mass * p.count for p in known if p.what == "post") / 2
    sides = (
        sum(p.mass * p.count for p in known if whole(p.what) in ("side", "rail side"))
        / 2
    )
    sheet = sum(p.mass * p.count for p in known if p.what.startswith("sheet"))
    share = 0.0
    if sheet:
        long_ = sum(p.length for p in known if whole(p.what) == "rail side")
        short = sum(p.length for p in known if whole(p.what) == "rail end")
        share = sheet * long_ / (long_ + short) / 2
    return heavy.mass, heavy.what, posts + sides + share


def front_words(bed: Bed) -> str:
    """Where somebody stands who looks at the front of a bed."""
    side = "right" if bed.turned else "bottom"
    return f"the front (the {side} of the plan)"


def _gravel_in(outcome: Outcome, system: str) -> str:
    """The step with the gravel, where there is any."""
    gravel = float(outcome.site.si.gravel)
    if gravel <= 0:
        return ""
    return (
        f" Put {show(gravel, 'depth', system)} of gravel in and tamp it level; the "
        "depths of the table have room for it."
    )


def _tread(outcome: Outcome) -> str:
    """Whether the layers are trodden, at the end of the step that fills the bed."""
    if outcome.bed.wall.family == "blocks":
        return ". Do not tread or tamp it: that pushes the blocks out"
    trodden = outcome.check("trodden")
    if trodden is not None and not trodden.ok:
        return (
            ". Keep off the fill, now and later: the wall does not hold somebody on it"
        )
    return ", tread the lower ones, never the top"


def facts_of(
    outcome: Outcome, found: Sequence[CutPart], system: str
) -> Mapping[str, str]:
    """Words for the places in braces of data/work_order.csv and data/sign_off.csv."""
    bed = outcome.bed
    s = bed.si
    step, check = tie_words(outcome, system)
    sheets = [p for p in found if p.what.startswith("sheet")]
    cuts = ", ".join(f"{p.count} × {size(p.length, system)}" for p in sheets)
    slats = sum(p.count for p in found if p.what == "slat")
    gap = (s.inside_length - slats * bed.wall.si.slat_wide) / (slats + 1)
    return {
        "gap": size(round(gap, 3), system) if slats else "",
        "legs": f"{sum(p.count for p in found if p.what == 'post')}",
        "length": size(s.length, system),
        "width": size(s.width, system),
        "height": size(s.height, system),
        "diagonal": size(float(np.hypot(s.length, s.width)), system),
        "sheet": cuts,
        "tread": _tread(outcome),
        "tie_step": step,
        "tie_check": check,
        "gravel_in": _gravel_in(outcome, system),
        "first_course": "Lay the first course on the gravel"
        if outcome.site.si.gravel > 0
        else "Lay the first course on firm, level ground (if you want gravel under it, "
        "set its depth and print again: the trench gets deeper by it)",
    }
