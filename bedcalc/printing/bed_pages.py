"""What the pages of one bed say: drawings, parts, holes, ties, steps, level, fill."""

from __future__ import annotations

from collections.abc import Sequence

from ..assembly import assembly, courses
from ..cost.counting import work
from ..cutting.cut_list import CutPart, blocks_needed
from ..cutting.splices import Splice, whole
from ..evaluate import Outcome
from ..questions.site_plan import SitePlan
from ..tables import table
from ..units import number, show
from .canvas import check_bar, scale_for
from .details import (
    corner_detail,
    fill_detail,
    floor_view,
    section_detail,
    tie_detail,
)
from .facts import (
    crossings,
    front_words,
    rows_for,
    screw_name,
    sheet_words,
    side_mass,
    step_cautions,
    tie_words,
    top_course,
    torque_words,
)
from .joints import joint_screws, joint_view, joint_words
from .level import level_section
from .page import PaperTable
from .step_facts import facts_of
from .tape import drill_bit, size
from .views import end_view, front_view, top_view

__all__ = ["bed_pages"]

_ROD = {True: "M10", False: "3/8 in"}
_PLATE = {True: "50 × 50 × 5 mm", False: "2 × 2 × 3/16 in"}
_HEADS = "piece", "number", "length", "cut from", "ends", "each"


def bed_pages(
    outcome: Outcome,
    found: Sequence[CutPart],
    plan: SitePlan | None,
    goods,
    system: str,
    splices: Sequence[Splice] = (),
) -> dict:
    """Everything about one bed, for the template ``bed``.

    Parameters
    ----------
    outcome : Outcome
    found : sequence of CutPart
        Its pieces as they are cut.
    plan : SitePlan or None
        Where it stands, for the levels.
    goods : mapping of key to name
        What the pieces are cut from, in words.
    system : str
        ``"metric"`` or ``"us"``.
    splices : sequence of Splice
        Its pieces that are joined over posts.
    """
    facts = facts_of(outcome, found, system)
    checks = rows_for("sign_off", outcome.bed.wall.family)
    return {
        "title": _title(outcome),
        **_drawings(outcome, system, splices),
        **_pieces(outcome, found, goods, system),
        "joints": _joints(outcome, splices, system),
        "screws": _holes(outcome, system, splices),
        "ties": _ties(outcome, system),
        "level": level_section(outcome, plan, system),
        "steps": _steps(outcome, facts),
        "fill": _fill(outcome, system),
        "checks": [row.text.format(**facts) for row in checks],
    }


def _drawn(svg: str, words: str, **more) -> dict:
    return {"svg": svg, "words": words, **more}


def _title(outcome: Outcome) -> str:
    bed = outcome.bed
    return f"Bed {bed.name}" + (f", {bed.title}" if bed.title else "")


def _drawings(outcome: Outcome, system: str, splices: Sequence[Splice]) -> dict:
    bed = outcome.bed
    n = scale_for(bed.si.length + 2 * bed.wall.si.cap_out, 155.0, system)
    near = 8
    ground = "the ground" + ("" if outcome.site.measured else " taken as level")
    family, capped = bed.wall.family, bool(bed.wall.si.cap_wide)
    note = f"Drawn 1 : {n} where nothing else is said. Sizes in "
    note += f"{'millimetres' if system == 'metric' else 'feet and inches'}, of the "
    note += "finished piece."
    if bed.wall.si.post:
        edge = " or the edge of the cap" if capped else ""
        note += f" × is a screw, dashed lines are posts behind the wall{edge}."
    long_ = f"Long side, seen from {front_words(bed)}; the thick line is {ground}"
    large = [_drawn(front_view(outcome, n, system, splices), long_)]
    if family == "blocks":
        odd = "Courses 1, 3 … from above: long sides run through"
        large.append(_drawn(top_view(outcome, n, system), odd))
        if int(courses(bed)) > 1:
            even = "Courses 2, 4 …: ends run through; “cut” is a cut block"
            large.append(_drawn(top_view(outcome, n, system, 1), even))
    elif family == "trough":
        floor = "From above: the floor; dashed are rails and bearers under the slats"
        large.append(_drawn(floor_view(outcome, n, system), floor))
    cut, scale = section_detail(outcome, system)
    end = scale_for(bed.si.width, 44.0, system)
    small = []
    if family not in ("blocks", "trough"):
        above = "From above, cap taken off" if capped else "From above"
        small.append(_drawn(top_view(outcome, 2 * n, system), f"{above}, 1 : {2 * n}"))
    if family != "blocks":
        words = f"A corner taken apart, from above, 1 : {near}"
        small.append(_drawn(corner_detail(outcome, near, system), words))
    small += [
        _drawn(end_view(outcome, end, system), f"End, 1 : {end}"),
        _drawn(cut, f"The front wall cut through, {scale}"),
    ]
    return {"scale": note, "bar": check_bar(system), "large": large, "small": small}


def _ends(part: CutPart) -> str:
    if not part.angle:
        return "square"
    joined = whole(part.what) != part.what
    ends = "mitre at the outer end" if joined else "mitre"
    return f"{ends} {part.angle:g}°, length along the outer edge"


def _pieces(outcome: Outcome, found: Sequence[CutPart], goods, system: str) -> dict:
    bed = outcome.bed
    if bed.wall.family == "blocks":
        return {"pieces": _block_table(outcome, system), "said": _block_words(outcome)}
    rows = [
        (
            f"{part.bed}-{part.what}",
            f"{part.count}",
            size(part.length, system),
            goods.get(part.goods, part.goods),
            _ends(part) + (", straight board (S)" if part.straight else ""),
            show(part.mass, "mass", system) if part.mass >= 0.45 else "",
        )
        for part in found
    ]
    heavy, what, side = side_mass(found)
    words = [
        top_course(outcome, system),
        _lies(outcome, system),
        sheet_words(outcome, system),
    ]
    if side:
        many = "two people" if side < 46 else "four people"
        words.append(
            f"The heaviest piece, a {what}, has about {show(heavy, 'mass', system)}; "
            f"one long side put together about {show(side, 'mass', system)}: {many} "
            "carry it, more if the timber is fresh."
        )
    return {"pieces": PaperTable(_HEADS, rows, (1, 2, 5), "pieces"), "said": words}


def _block_table(outcome: Outcome, system: str) -> PaperTable:
    """Blocks course by course: how many whole, how many cut to which length."""
    bed, module = outcome.bed, outcome.bed.wall.block_row.length
    rows = []
    for n in range(int(courses(bed))):
        course = [m for m in assembly(bed).of("block") if m.level == n]
        for name, walls in (("each long side", ("front",)), ("each end", ("left",))):
            long_ = [m.length for m in course if m.wall in walls]
            whole_ = sum(one > module - 1e-6 for one in long_)
            cut = [size(one, system) for one in long_ if one < module - 1e-6]
            last = " and ".join(cut) + ", last" if cut else "none"
            rows.append((f"course {n + 1}, {name}", f"{whole_}", last))
    return PaperTable(("where", "whole blocks", "cut to"), rows, (1,), "pieces")


def _block_words(outcome: Outcome) -> list[str]:
    bed, made = outcome.bed, assembly(outcome.bed).of("block")
    module = bed.wall.block_row.length
    cut = sum(m.length < module - 1e-6 for m in made)
    _, buy = blocks_needed(bed, work("block_spare"))
    mass = module * bed.wall.si.course * bed.si.wall_thickness * 2000
    words = f"{len(made) - cut} whole blocks and {cut} cut pieces"
    return [
        f"{words}; {int(buy)} blocks with spares. Begin each run with a whole block at "
        "the left or front corner; a cut piece comes last, so that the joints of one "
        "course lie over the blocks of the other.",
        f"A solid block of this size has about {mass:.0f} kg. Cut wet, outdoors.",
    ]


def _lies(outcome: Outcome, system: str) -> str:
    """Which face of a piece stands upright."""
    bed = outcome.bed
    wall = bed.wall.si
    if bed.wall.family == "sheet":
        faces = (wall.rail_wide, wall.rail_thin)
        tall, thin = faces[::-1] if bed.rail_lying else faces
        return (
            f"Rails: the face of {size(tall, system)} stands upright, "
            f"{size(thin, system)} is the thickness of the wall."
        )
    if bed.wall.family in ("boards", "trough", "sleepers"):
        return (
            f"Boards stand on edge: {size(wall.course, system)} high, "
            f"{size(bed.si.wall_thickness, system)} thick."
        ).replace("Boards", "Sleepers" if bed.wall.family == "sleepers" else "Boards")
    return ""


def _joints(outcome: Outcome, splices: Sequence[Splice], system: str) -> dict | None:
    """Which piece of which long side lies over which post."""
    if not splices:
        return None
    where = front_words(outcome.bed)
    words = f"Both long sides, seen from {where}; posts counted from the left"
    lines = joint_words(outcome, splices, system)
    return _drawn(joint_view(outcome, splices, system), words, lines=lines)


def _holes(
    outcome: Outcome, system: str, splices: Sequence[Splice] = ()
) -> dict | None:
    used = crossings(outcome)
    if not used:
        return None
    if joined := joint_screws(splices):
        used = [*used, ("the second piece at each joint", used[0][1], joined, 2)]
    rows, how = [], {}
    for where, key, joints, each in used:
        row, name = table("pilot_holes")[key], screw_name(key, system)
        made = [j for j in assembly(outcome.bed).joints if j.goods == key]
        longest = min(j.length for j in made)
        here = f" Here not over {size(longest, system)} long."
        more = here if longest < row.length - 0.0025 else ""
        how[name] = f"{name}: {row.how}{more}"
        thin = f"{drill_bit(row.pilot, system)}, hardwood "
        rows.append(
            (
                where,
                name,
                f"{joints} × {each} = {joints * each}",
                drill_bit(row.clearance, system),
                thin + drill_bit(row.pilot_hard, system),
                size(row.from_end, system),
            )
        )
    words = (
        "Pins hold course on course, a steel angle inside holds each corner. The "
        "screws, on the slant, hold it until then. Counts are without spares."
        if outcome.bed.wall.family == "sleepers"
        else "Two screws at each post, one quarter in from either edge of the board or "
        "rail, in the middle of the post. The thin hole is as deep as the screw goes: "
        "mark it on the bit with tape. Screws into end grain hold nothing, so every "
        "board and rail is screwed to a post. Counts are without spares."
    )
    heads = (
        "where",
        "screw",
        "joints × screws",
        "wide hole, outer piece",
        "thin hole, inner piece",
        "nearer to an end, drill always",
    )
    return {"words": words, "table": PaperTable(heads, rows, (2,), "small"), "how": how}


def _ties(outcome: Outcome, system: str) -> dict | None:
    bed = outcome.bed
    number_ = int(bed.ties) + int(bed.base_ties)
    if not number_:
        return None
    step, _ = tie_words(outcome, system)
    metric = system == "metric"
    rod = size(bed.si.width + work("rod_extra"), system)
    lines = (
        f"{number_} rods {_ROD[metric]} of {rod}, {2 * number_} plates "
        f"{_PLATE[metric]}, {4 * number_} nuts, a plastic pipe over each rod.",
        step,
        "How tight: " + torque_words(outcome, system),
    )
    words = "End of a tie, from above, 1 : 2"
    return _drawn(tie_detail(outcome, 2, system), words, lines=lines)


def _steps(outcome: Outcome, facts) -> list[dict]:
    """The order of work, step by step."""
    bed, rows = outcome.bed, []
    left_out = set() if bed.ties or bed.base_ties else {"ties"}
    left_out |= set() if bed.wall.si.cap_wide else {"cap"}
    for row in rows_for("work_order", bed.wall.family):
        if row.key in left_out:
            continue
        people = f"{row.people:.0f} {'people' if row.people > 1 else 'person'}"
        rows.append(
            {
                "text": f"{row.place.capitalize()}. {row.text.format(**facts)}",
                "check": row.check.format(**facts),
                "people": people,
                "children": row.helpers.format(**facts),
                "tools": ", ".join(table("tools")[t].short for t in row.tools.split()),
                "cares": step_cautions(row.key, bed.wall.family),
            }
        )
    return rows


def _fill(outcome: Outcome, system: str) -> dict:
    bed, fill = outcome.bed, outcome.fill
    rim, rows = bed.si.height, []
    floor = bed.si.height - bed.si.soil_depth
    for n, layer in enumerate(fill.layers, start=1):
        mark_ = rim - (floor + layer.si.top)
        down = "to the rim" if mark_ < 1e-6 else f"{show(mark_, 'depth', system)} below"
        rows.append(
            (
                f"{n}",
                layer.name,
                show(layer.depth, "depth", system),
                down,
                show(layer.settled, "volume", system),
                show(layer.loose, "volume", system),
            )
        )
    n = 30 if system == "metric" else 32
    words = (
        f"About {number(float(fill.si.loads), 0)} barrow loads, "
        f"{show(fill.hours, 'time', system)} for the crew. Depths are after settling: "
        "heap the last layer a hand higher and let it sink."
    )
    heads = ("order", "layer", "depth", "top below rim", "settled", "bring loose")
    return _drawn(
        fill_detail(outcome, n, system),
        f"Layers, 1 : {n}. Mark each top on the inside of the wall.",
        layers=PaperTable(heads, rows, (2, 3, 4, 5)),
        said=words,
    )
