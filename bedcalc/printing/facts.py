"""Template values for the pages of one bed, and the table rows that fit its wall."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..assembly import assembly, levels, tie_inset
from ..cost.besides import Besides, besides_of
from ..cutting.cut_list import CutPart, strips_needed
from ..cutting.splices import whole
from ..evaluate import Outcome
from ..model.bed import Bed
from ..tables import Row, table
from ..units import show
from ..walls.ties import snug_torque
from .tape import size

__all__ = [
    "besides_words",
    "crossings",
    "front_words",
    "not_listed",
    "order_besides",
    "rows_for",
    "screw_name",
    "sheet_words",
    "tie_words",
    "top_course",
]


SLIM = 0.045  # m, of a board that still takes two screws; common practice, no source


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
    words = f"The top course is ripped to {size(high - low, system)}."
    if high - low < SLIM:
        whole_ = size(low - levels(bed)[0][0], system)
        words += f" So slim a strip splits: make the walls {whole_} high instead."
    return words


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
            "rib. Cut the top row to the height."
        )
    said = []
    for name, wall in (("a long side", "front"), ("an end", "left")):
        wide = [m.box for m in assembly(bed).of("sheet") if m.wall == wall]
        at = 0 if wall == "front" else 2
        ribs = [round((box[at + 1] - box[at]) / row.pitch) for box in wide]
        words = (
            f"{len(ribs)} sheets close {name}" if len(ribs) > 1 else f"1 sheet {name}"
        )
        if ribs[-1] < round(row.cover / row.pitch) + 1:
            cut = size(ribs[-1] * row.pitch, system)
            words += f", the last one cut along a valley to {ribs[-1]} ribs, {cut}"
        said.append(words)
    left = (s.inside_length % row.pitch) / 2
    return (
        f"{'; '.join(said)}. Neighbours lap by one rib. Begin and end "
        f"{size(left, system)} from the corner, in front of the corner posts."
    )


def not_listed(outcome: Outcome, system: str) -> list[str]:
    """What this bed needs that the price list does not hold."""
    bed = outcome.bed
    lines = [besides_words(one, system) for one in besides_of(bed)]
    if bed.drained:
        lines.append(
            "A drain at the foot that leads the water away: pipe with holes in gravel, "
            "down to lower ground. It is not in the bill."
        )
    return lines


def besides_words(one: Besides, system: str) -> str:
    """Something to bring, in words: how many, what, what for."""
    sizes = {key: size(metres, system) for key, metres in one.sizes.items()}
    unit = "" if one.unit == "piece" else f" {one.unit}"
    return f"{one.number:g}{unit} × {one.name.format(**sizes)}: {one.use}."


def order_besides(beds: Iterable[Bed], system: str) -> list[str]:
    """What several beds need that no price list holds, each said once with its beds."""
    found: dict[str, list[str]] = {}
    for bed in beds:
        for one in besides_of(bed):
            found.setdefault(besides_words(one, system), []).append(bed.name)
    return [f"Bed {', '.join(names)}: {words}" for words, names in found.items()]


def screw_name(goods: str, system: str) -> str:
    """What a screw is called where millimetres, or inches, are at home."""
    row = table("pilot_holes")[goods]
    return row.name if system == "metric" else row.us


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
