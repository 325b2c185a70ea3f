"""What the pages of one bed say: drawings, parts, holes, ties, steps, level, fill."""

from __future__ import annotations

from collections.abc import Sequence

from ..assembly import courses
from ..cost.counting import work
from ..cutting.cut_list import CutPart, blocks_needed
from ..cutting.splices import Splice, whole
from ..evaluate import Outcome
from ..questions.site_plan import SitePlan
from ..tables import table
from ..units import number, show
from .canvas import check_bar, scale_for
from .details import corner_detail, fill_detail, tie_detail
from .facts import (
    crossings,
    facts_of,
    front_words,
    pins,
    rows_for,
    sheet_words,
    side_mass,
    step_cautions,
    tie_words,
    top_course,
    torque_words,
)
from .joints import joint_screws, joint_view, joint_words
from .level import level_section
from .page import Table
from .views import end_view, front_view, size, top_view

__all__ = ["bed_pages"]

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
    near = 5 if system == "metric" else 6
    ground = "the ground" + ("" if outcome.site.measured else " taken as level")
    stone, capped = bed.wall.family == "blocks", bool(bed.wall.si.cap_wide)
    note = f"Drawn 1 : {n}" + ("" if stone else f", details 1 : {near}")
    note += (
        f". Sizes in {'millimetres' if system == 'metric' else 'inches'}, of the "
        "finished piece."
    )
    if bed.wall.si.post:
        edge = " or the edge of the cap" if capped else ""
        note += f" × is a screw, dashed lines are posts behind the wall{edge}."
    long_ = f"Long side, seen from {front_words(bed)}; the thick line is {ground}"
    above = "From above, cap taken off" if capped else "From above"
    small = [_drawn(end_view(outcome, n, system), "End")]
    if not stone:
        corner = corner_detail(outcome, near, system)
        small.append(_drawn(corner, "Corner from above"))
    return {
        "scale": note,
        "bar": check_bar(system),
        "large": [
            _drawn(front_view(outcome, n, system, splices), long_),
            _drawn(top_view(outcome, n, system), above),
        ],
        "small": small,
    }


def _ends(part: CutPart) -> str:
    if not part.angle:
        return "square"
    joined = whole(part.what) != part.what
    ends = "mitre at the outer end" if joined else "mitre"
    return f"{ends} {part.angle:g}°, length along the outer edge"


def _pieces(outcome: Outcome, found: Sequence[CutPart], goods, system: str) -> dict:
    bed = outcome.bed
    if bed.wall.family == "blocks":
        exact, _ = blocks_needed(bed)
        words = (
            f"{exact:g} blocks in {int(courses(bed))} courses of "
            f"{exact / int(courses(bed)):g}, joints half a block on from course to "
            "course. Halves are cut wet or split with a bolster."
        )
        return {"pieces": Table((), ()), "said": [words]}
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
        pins(outcome, system),
    ]
    if side:
        many = "two people" if side < 46 else "four people"
        words.append(
            f"The heaviest piece, a {what}, has about {show(heavy, 'mass', system)}; "
            f"one long side put together about {show(side, 'mass', system)}: {many} "
            "carry it, more if the timber is fresh."
        )
    return {"pieces": Table(_HEADS, rows, (1, 2, 5), "pieces"), "said": words}


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
    rows = []
    for where, key, joints, each in used:
        rows.append(
            (
                where,
                table("pilot_holes")[key].name,
                f"{joints} × {each}",
                f"{joints * each}",
            )
        )
    keys = dict.fromkeys(key for _, key, _, _ in used)
    holes = []
    for key in keys:
        row = table("pilot_holes")[key]
        holes.append(
            (
                row.name,
                row.joins,
                show(row.q("clearance"), "fine", system),
                f"{show(row.q('pilot'), 'fine', system)} (hardwood "
                f"{show(row.q('pilot_hard'), 'fine', system)})",
                show(row.q("from_end"), "stock", system),
                row.how,
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
    drilled = (
        "screw",
        "joins",
        "wide hole, outer piece",
        "thin hole, inner piece",
        "nearer to an end, drill always",
        "how",
    )
    return {
        "words": words,
        "count": Table(
            ("where", "screw", "joints × screws", "screws"), rows, (2, 3), "small"
        ),
        "holes": Table(drilled, holes, kind="small"),
    }


def _ties(outcome: Outcome, system: str) -> dict | None:
    bed = outcome.bed
    number_ = int(bed.ties) + int(bed.base_ties)
    if not number_:
        return None
    step, _ = tie_words(outcome, system)
    rod = size(bed.si.width + work("rod_extra"), system)
    lines = (
        f"{number_} rods M10 of {rod}, {2 * number_} plates 50 × 50 × 5, "
        f"{4 * number_} nuts, a plastic pipe over each rod.",
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
                "children": row.helpers,
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
    n = 15 if system == "metric" else 16
    words = (
        f"About {number(float(fill.si.loads), 0)} barrow loads, "
        f"{show(fill.hours, 'time', system)} for the crew. Depths are after settling: "
        "heap the last layer a hand higher and let it sink."
    )
    heads = ("order", "layer", "depth", "top below rim", "settled", "bring loose")
    return _drawn(
        fill_detail(outcome, n, system),
        f"Layers, 1 : {n}. Mark each top on the inside of the wall.",
        layers=Table(heads, rows, (2, 3, 4, 5)),
        said=words,
    )
