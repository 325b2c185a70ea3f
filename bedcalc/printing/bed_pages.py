"""The pages of one bed: drawings, parts, holes, ties, order of work, level, fill."""

from __future__ import annotations

from collections.abc import Sequence

from ..assembly import courses
from ..cost.counting import work
from ..cutting.cut_list import Part, blocks_needed
from ..cutting.splices import Splice, whole
from ..evaluate import Outcome
from ..parsing.typed import phrase
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
from .page import items, plain, section, table_of
from .views import end_view, front_view, size, top_view

__all__ = ["bed_pages"]

_HEADS = "piece", "number", "length", "cut from", "ends", "each"


def bed_pages(
    outcome: Outcome,
    found: Sequence[Part],
    plan: SitePlan | None,
    goods,
    system: str,
    splices: Sequence[Splice] = (),
) -> str:
    """Everything about one bed, beginning on a new page.

    Parameters
    ----------
    outcome : Outcome
    found : sequence of Part
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
    return "".join(
        (
            _drawings(outcome, system, splices),
            _pieces(outcome, found, goods, system),
            _joints(outcome, splices, system),
            _holes(outcome, system, splices),
            _ties(outcome, system),
            level_section(outcome, plan, system),
            _order(outcome, found, system),
            _fill(outcome, system),
            _checks(outcome, found, system),
        )
    )


def _title(outcome: Outcome) -> str:
    bed = outcome.bed
    return f"Bed {bed.name}" + (f", {bed.title}" if bed.title else "")


def _drawings(outcome: Outcome, system: str, splices: Sequence[Splice]) -> str:
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
    above = "From above, cap taken off" if capped else "From above"
    figures = [
        (f"Long side, seen from {front_words(bed)}; the thick line is {ground}",
         front_view(outcome, n, system, splices)),
        (above, top_view(outcome, n, system)),
    ]  # fmt: skip
    big = "".join(
        f"<figure>{svg}<figcaption>{plain(words)}</figcaption></figure>"
        for words, svg in figures
    )
    small = [("End", end_view(outcome, n, system))]
    if bed.wall.family != "blocks":
        small.append(("Corner from above", corner_detail(outcome, near, system)))
    beside = "".join(
        f"<figure>{svg}<figcaption>{plain(words)}</figcaption></figure>"
        for words, svg in small
    )
    return section(
        f"{_title(outcome)}: drawing",
        check_bar(system),
        big,
        f'<div class="row">{beside}</div>',
        kind="new",
        note=note,
    )


def _ends(part: Part) -> str:
    if not part.angle:
        return "square"
    joined = whole(part.what) != part.what
    ends = "mitre at the outer end" if joined else "mitre"
    return f"{ends} {part.angle:g}°, length along the outer edge"


def _pieces(outcome: Outcome, found: Sequence[Part], goods, system: str) -> str:
    bed = outcome.bed
    if bed.wall.family == "blocks":
        exact, _ = blocks_needed(bed)
        words = (
            f"{exact:g} blocks in {int(courses(bed))} courses of "
            f"{exact / int(courses(bed)):g}, joints half a block on from course to "
            "course. Halves are cut wet or split with a bolster."
        )
        return section("Pieces", f"<p>{plain(words)}</p>")
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
    words = [top_course(outcome, system), _lies(outcome, system),
             sheet_words(outcome, system), pins(outcome, system)]  # fmt: skip
    if side:
        many = "two people" if side < 46 else "four people"
        words.append(
            f"The heaviest piece, a {what}, has about {show(heavy, 'mass', system)}; "
            f"one long side put together about {show(side, 'mass', system)}: {many} "
            "carry it, more if the timber is fresh."
        )
    body = table_of(
        _HEADS,
        rows,
        numbers=(1, 2, 5),
        kind="pieces",
    )
    said = "".join(f"<p>{plain(w)}</p>" for w in words if w)
    return section("Pieces", body, said)


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


def _joints(outcome: Outcome, splices: Sequence[Splice], system: str) -> str:
    """Which piece of which long side lies over which post."""
    if not splices:
        return ""
    words = (
        f"Both long sides, seen from {front_words(outcome.bed)}; posts counted from "
    )
    words += "the left"
    return section(
        "Joints of the long sides",
        f"<figure>{joint_view(outcome, splices, system)}<figcaption>{plain(words)}"
        "</figcaption></figure>",
        items(joint_words(outcome, splices, system)),
        kind="keep",
    )


def _holes(outcome: Outcome, system: str, splices: Sequence[Splice] = ()) -> str:
    used = crossings(outcome)
    if not used:
        return ""
    if joined := joint_screws(splices):
        used = [*used, ("the second piece at each joint", used[0][1], joined, 2)]
    rows = []
    for where, key, joints, each in used:
        rows.append((where, table("pilot_holes")[key].name, f"{joints} × {each}",
                     f"{joints * each}"))  # fmt: skip
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
    count = table_of(("where", "screw", "joints × screws", "screws"), rows,
                     numbers=(2, 3))  # fmt: skip
    drill = table_of(
        ("screw", "joins", "wide hole, outer piece", "thin hole, inner piece",
         "nearer to an end, drill always", "how"), holes, numbers=(), kind="small",
    )  # fmt: skip
    words = (
        "Pins hold course on course, a steel angle inside holds each corner. The "
        "screws, on the slant, hold it until then. Counts are without spares."
        if outcome.bed.wall.family == "sleepers"
        else "Two screws at each post, one quarter in from either edge of the board or "
        "rail, in the middle of the post. The thin hole is as deep as the screw goes: "
        "mark it on the bit with tape. Screws into end grain hold nothing, so every "
        "board and rail is screwed to a post. Counts are without spares."
    )
    return section("Screws and holes", f"<p>{plain(words)}</p>", count, drill)


def _ties(outcome: Outcome, system: str) -> str:
    bed = outcome.bed
    number_ = int(bed.ties) + int(bed.base_ties)
    if not number_:
        return ""
    step, _ = tie_words(outcome, system)
    rod = size(bed.si.width + work("rod_extra"), system)
    lines = (
        f"{number_} rods M10 of {rod}, {2 * number_} plates 50 × 50 × 5, "
        f"{4 * number_} nuts, a plastic pipe over each rod.",
        step,
        "How tight: " + torque_words(outcome, system),
    )
    words = "End of a tie, from above, 1 : 2"
    figure = f"<figure>{tie_detail(outcome, 2, system)}<figcaption>{words}"
    return section("Ties", items(lines), figure + "</figcaption></figure>")


def _order(outcome: Outcome, found: Sequence[Part], system: str) -> str:
    facts = facts_of(outcome, found, system)
    rows = []
    tied = int(outcome.bed.ties) + int(outcome.bed.base_ties) > 0
    steps = rows_for("work_order", outcome.bed.wall.family)
    capped = bool(outcome.bed.wall.si.cap_wide)
    steps = [
        row
        for row in steps
        if (tied or row.key != "ties") and (capped or row.key != "cap")
    ]
    for n, row in enumerate(steps, start=1):
        care = step_cautions(row.key, outcome.bed.wall.family)
        care = f" {phrase('take_care')} {care}" if care else ""
        rows.append(
            (
                f"{n}",
                f"{row.place.capitalize()}. {row.text.format(**facts)}{care}",
                row.check.format(**facts),
                f"{row.people:.0f}",
                row.helpers,
                "☐",
            )
        )
    return section(
        "Order of work",
        table_of(
            ("step", "what to do", "right if", "people", "children", "done"),
            rows, numbers=(3,), kind="small order",
        ),
        note="Build at the bench where you can, carry, then set. Only adults run power "
        "saws.",
    )  # fmt: skip


def _fill(outcome: Outcome, system: str) -> str:
    bed, fill = outcome.bed, outcome.fill
    rim, rows = bed.si.height, []
    floor = bed.si.height - bed.si.soil_depth
    for n, layer in enumerate(fill.layers, start=1):
        mark_ = rim - (floor + layer.si.top)
        down = "to the rim" if mark_ < 1e-6 else f"{show(mark_, 'depth', system)} below"
        rows.append(
            (f"{n}", layer.name, show(layer.depth, "depth", system), down,
             show(layer.settled, "volume", system), show(layer.loose, "volume", system))
        )  # fmt: skip
    n = 15 if system == "metric" else 16
    words = (
        f"About {number(float(fill.si.loads), 0)} barrow loads, "
        f"{show(fill.hours, 'time', system)} for the crew. Depths are after settling: "
        "heap the last layer a hand higher and let it sink."
    )
    figure = (
        f"<figure>{fill_detail(outcome, n, system)}<figcaption>"
        f"{plain(f'Layers, 1 : {n}. Mark each top on the inside of a post.')}"
        "</figcaption></figure>"
    )
    return section(
        "Fill, bottom first",
        table_of(("order", "layer", "depth", "top below rim", "settled", "bring loose"),
                 rows, numbers=(2, 3, 4, 5)),
        f'<div class="row">{figure}<p>{plain(words)}</p></div>',
        kind="keep",
    )  # fmt: skip


def _checks(outcome: Outcome, found: Sequence[Part], system: str) -> str:
    facts = facts_of(outcome, found, system)
    lines = [
        row.text.format(**facts)
        for row in rows_for("sign_off", outcome.bed.wall.family)
    ]
    sign = (
        '<p class="sign">Built by ______________________ &nbsp; checked by '
        "______________________ &nbsp; date ______________</p>"
    )
    inner = items(lines, kind="tick")
    return section("Checks before filling", inner, sign, kind="keep")
