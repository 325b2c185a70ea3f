"""Views of workbook 03: rim, push, parts, mends, a measured bulge; six beds at once."""

from __future__ import annotations

from collections.abc import Callable

import ipywidgets
import numpy as np

from ..bed import Bed, strategy_layers
from ..checked import checked
from ..evaluate import evaluate
from ..figures.walls import wall_figure
from ..figures.walls_bulge import bulge_figure
from ..figures.walls_path import path_figure
from ..figures.walls_ruler import mends_figure, part_words, parts_figure
from ..garden import Garden, demo_garden
from ..mends import (
    cheapest_cure,
    cures,
    first_to_fail,
    how_deep,
    stands,
    wall_life,
    wall_mends,
)
from ..outcome import price_words
from ..repair import block_kinds, judge_bulge, metals
from ..tables import table
from ..units import Q_, number, show
from .bench_words import bed_title, rail_words
from .controls import choice_row, list_row, slider_row
from .style import html, paper
from .view import Desk, View, demo_desk, facts_table
from .words import markup, plain, source_line

__all__ = [
    "blocks_table", "bulge_view", "checked_table", "demo_desk", "mends_view",
    "metals_table", "parts_view", "path_view", "push_view", "repairs", "rim_view",
    "short_answers", "six_beds",
]  # fmt: skip

OWN = "own"  # the reader's current bed in a list of demo beds
_RIBS = [(False, "upright"), (True, "lying")]
_SYSTEMS = [("metric", "metric"), ("us", "feet, inches")]


def _units(about: Desk):
    return choice_row("Show in", _SYSTEMS, about.system, name="system")


def _counts(now: int) -> list[tuple[int, str]]:
    """None to three ties, or as many as the bed has."""
    return [(n, "none" if n == 0 else str(n)) for n in range(max(3, int(now)) + 1)]


def _percent(share: float) -> str:
    return f"{number(100 * share, 0)} %" if share < 10 else f"{number(share, 0)} times"


# ---- the rim: length, way of the rail, ties


def rim_view(about: Desk) -> View:
    """Move length, rail and ties; see the rim from above, and how it was before."""
    bed = about.bed
    controls = [
        slider_row("Length", "cm", 100, 500, 5, bed.length),
        choice_row("Rail, thick", rail_words(bed), bed.rail_lying, name="rails"),
        choice_row("Ties on top", _counts(bed.ties), bed.ties, name="ties"),
        _units(about),
    ]

    def follow(values, size):
        old = about.outcome
        about.take(
            about.bed.change(
                length=values["length"], ties=values["ties"], rail_lying=values["rails"]
            ),
            system=values["system"],
        )
        new, system = about.outcome, about.system
        moved = (old.bed.ties, old.bed.rail_lying) != (new.bed.ties, new.bed.rail_lying)
        before = old if moved and old.bed.length == new.bed.length else None
        drawing = wall_figure(new, system=system, before=before, **size)
        return drawing, _rim_sentence(new, before, system)

    return View(about, controls, follow, name="rim")


def _rim_sentence(o, before, system: str) -> str:
    walls, check = o.walls, o.check("bow")
    if check is None:
        return "A stacked wall does not bow: it stands by its weight, or it tips over."
    words = f"**{_bow_words(o, system)}**, against a limit of "
    words += f"{show(walls.bow_limit, _kind(walls), system)}. "
    words += "It holds. " if check.ok else "It fails. "
    if before is not None and walls.si.bow_years > 0:
        ratio = float(before.walls.si.bow_years / walls.si.bow_years)
        if ratio >= 1:
            words += f"That divides the bow by {number(ratio, 1)}. "
        else:
            words += f"The bow grew {number(1 / ratio, 1)} times. "
    low, high = walls.bow_light, walls.bow_heavy
    kind = _kind(walls)
    words += (
        f"If the fill is lighter or heavier than thought: {show(low, kind, system)} "
        f"to {show(high, kind, system)}."
    )
    return words


def _kind(walls) -> str:
    """Small bows with one digit more."""
    return "fine" if walls.si.bow_years < 0.01 else "bow"


def _bow_words(o, system: str) -> str:
    s = o.walls.si
    if s.bow_years > 3 * s.bow_limit:
        bow = show(o.walls.bow_years, "bow", system)
        return f"Bows badly: {bow} after years by the sums"
    return f"Bows {show(o.walls.bow_years, _kind(o.walls), system)} after years"


# ---- the push: height, logs, water


def push_view(about: Desk) -> View:
    """Move height, logs and the base; see what the fill does to the wall."""
    controls = [
        slider_row("Height", "cm", 20, 100, 1, about.bed.height),
        slider_row("Logs", "percent", 0, 60, 1, _logs(about.bed), name="logs"),
        choice_row(
            "Base",
            [(True, "open, drains"), (False, "closed")],
            about.bed.open_base,
            name="base",
        ),
        _units(about),
    ]

    def follow(values, size):
        bed = _filled(about.bed, values)
        about.take(bed, system=values["system"])
        drawing = wall_figure(about.outcome, system=about.system, **size)
        return drawing, _push_sentence(about, values)

    return View(about, controls, follow, name="push")


def _logs(bed: Bed):
    """Share of the fill's depth that is logs, in whole percent."""
    depths = zip(bed.fill, bed.layer_depths, strict=True)
    logs = sum(float(depth) for layer, depth in depths if layer.kind == "logs")
    return Q_(float(np.round(100 * logs / float(bed.si.fill_depth))), "percent")


def _filled(bed: Bed, values) -> Bed:
    """The bed with its height, logs and base as the controls say.

    The layers stay as they are while the share of logs is not moved.
    """
    logs, change = values["logs"], {}
    if abs(logs.m_as("percent") - _logs(bed).m) > 0.5:
        name = "logs_chips_mix" if logs.m > 0 else "all_mix"
        change = {"fill": strategy_layers(name, logs if logs.m > 0 else None)}
    return bed.change(height=values["height"], open_base=values["base"], **change)


def _push_sentence(about: Desk, values) -> str:
    o, system = about.outcome, about.system
    moist = o.walls.cases["moist"]
    words = (
        f"The rim of each long wall gets **{show(moist.top_load, 'line load', system)}"
    )
    words += f"**, the foot {show(moist.base_load, 'line load', system)}. "
    if values["logs"].m > 0:
        plain_mix = evaluate(
            about.bed.change(fill=strategy_layers("all_mix")), about.place
        )
        was = plain_mix.walls.cases["moist"].si.top_load
        words += f"All mix would push {_percent(was / moist.si.top_load - 1)} harder. "
    if not values["base"]:
        wet = o.walls.cases["waterlogged"].si.top_load / moist.si.top_load
        words += f"Full of water it gets **{number(float(wet), 1)} times** as much. "
        words += "No tie empties a tub: open the base."
    return words


# ---- the way of the force, and all parts on one ruler


def parts_view(about: Desk) -> View:
    """Choose a bed and its ties; see every part on one ruler."""
    bed = about.bed
    beds = [(b.name, bed_title(b)) for b in about.garden.beds]
    controls = [
        list_row("Bed", beds, about.bed.name, name="bed"),
        choice_row("Ties on top", _counts(bed.ties), bed.ties, name="ties"),
        choice_row(
            "Ties at foot", _counts(bed.base_ties), bed.base_ties, name="base_ties"
        ),
        choice_row("Ribs", _RIBS, about.bed.ribs_lying, name="ribs"),
        slider_row("Posts every", "cm", 30, 150, 5, Q_(105, "cm"), name="posts"),
        slider_row("Posts deep", "cm", 0, 120, 5, about.bed.post_depth, name="deep"),
        _units(about),
    ]
    _, top, foot, ribs, posts, deep, _ = controls

    def follow(values, size):
        bed = about.garden[values["bed"]]
        top.shown = foot.shown = bed.wall.family in ("sheet", "boards", "sleepers")
        if top.shown:
            bed = bed.change(ties=values["ties"], base_ties=values["base_ties"])
        ribs.shown = bed.wall.family == "sheet"
        if ribs.shown:
            bed = bed.change(ribs_lying=values["ribs"])
        posts.shown = bed.wall.family == "boards" or (ribs.shown and values["ribs"])
        if posts.shown:
            bed = bed.change(post_spacing=values["posts"])
        deep.shown = bed.wall.family in ("boards", "sheet")
        if deep.shown:
            bed = bed.change(post_depth=values["deep"])
        about.take(bed, system=values["system"])
        drawing = parts_figure(about.outcome, system=about.system, **size)
        return drawing, _parts_sentence(about.outcome, about.system)

    return View(about, controls, follow, name="parts")


def _parts_sentence(o, system: str) -> str:
    worst = first_to_fail(o)
    verb = "The wall stands. Nearest to its limit" if stands(o) else "Fails first"
    words = f"**{verb}: {part_words(worst.name, o)}.** {worst.sentence(system)}"
    sitting = o.check("sitting")
    if sitting is not None and not sitting.ok:
        words += " Do not sit on the rim."
    deep = how_deep(o)
    return words if deep is None else f"{words} **How deep?** {deep.sentence(system)}"


def path_view(about: Desk) -> View:
    """The way of the force for the bed on the desk."""

    def follow(values, size):
        o = about.outcome
        return path_figure(o, system=about.system, **size), (
            "Follow the numbers: a force must arrive somewhere."
        )

    return View(about, [], follow, name="path")


# ---- mends


def _beds_to_mend(about: Desk) -> dict[str, Bed]:
    found = {bed.name: bed for bed in demo_garden()}
    closed = found["B"].change(
        ties=1, base_ties=1, open_base=False, title="tied, but with a closed base"
    )
    found["wet"] = closed
    if about.own:
        found[OWN] = about.start
    return found


def mends_view(about: Desk) -> View:
    """Choose a bed; see every move alone, or what mends all of it."""
    beds = _beds_to_mend(about)
    names = [(key, bed_title(bed)) for key, bed in beds.items()]
    first = OWN if OWN in beds else about.bed.name
    controls = [
        list_row("Bed", names, first, name="bed"),
        choice_row(
            "Show", [(True, "full mends"), (False, "each alone")], True, name="all"
        ),
        _units(about),
    ]  # fmt: skip
    known: dict = {}

    def follow(values, size):
        bed, system = beds[values["bed"]], values["system"]
        about.take(bed, system=system)
        o, key = about.outcome, (values["bed"], values["all"])
        if key not in known:
            known[key] = cures(o) if values["all"] else wall_mends(o)
        by = "bow" if not values["all"] and o.check("bow") is not None else ""
        drawing = mends_figure(
            o, known[key], worst=first_to_fail(o), by=by, system=system, **size
        )
        return drawing, _mend_sentence(o, cheapest_cure(o), system)

    return View(about, controls, follow, name="mends")


def _mend_sentence(o, best, system: str) -> str:
    if stands(o):
        return "**This wall stands.** There is nothing to mend."
    worst = first_to_fail(o)
    words = f"Fails first: {part_words(worst.name, o)}. "
    if best is None:
        return words + "Nothing that was tried mends all: ask an engineer."
    words += (
        f"**Cheapest: {best.act[:1].lower()}{best.act[1:]}, {_price(best, system)}.**"
    )
    if not best.key.startswith(("build", "low", "drains")):
        bow = show(best.bow, "fine", system)
        words += f" It then bows {bow} after years."
    return f"{words} {best.note}".strip()


def _price(tried, system: str) -> str:
    words = price_words(tried.cost, system)
    if not {"embedment", "post_depth"} & set(tried.change):
        return words
    return f"{words} {'but' if words == 'no cost' else 'and'} digging"


# ---- a wall that has bowed already


def bulge_view(about: Desk) -> View:
    """Type in a measured bulge; hear how bad it is and what to do first."""
    span = about.bed.length / (int(about.bed.ties) + 1)
    controls = [
        slider_row("Bulge", "mm", 0, 100, 1, Q_(28, "mm")),
        slider_row("Bay", "cm", 40, 500, 5, span.to("cm").round(0), name="bay"),
        _units(about),
    ]

    def follow(values, size):
        if values["system"] != about.system:
            about.take(system=values["system"])
        found = judge_bulge(about.outcome, values["bulge"], values["bay"])
        drawing = bulge_figure(found, system=about.system, **size)
        words = f"**{found.sentence(about.system)}** {found.row.do}"
        return drawing, words

    return View(about, controls, follow, name="bulge")


def _folded(parts) -> ipywidgets.VBox:
    """Folded texts: heading, text, source line."""
    text = "".join(
        f"<details><summary>{plain(head)}</summary>{markup(body)}"
        f'<p class="bc-source">{plain(source)}</p></details>'
        for head, body, source in parts
    )
    return paper(html(text, "bc-folded"))


def repairs() -> ipywidgets.VBox:
    """What to do first, then, and never, for six things one finds; folded."""
    return _folded(
        (
            row.sign,
            f"**First.** {row.first}\n\n**Then.** {row.then}\n\n**Never.** {row.never}",
            source_line(row.source, row.where),
        )
        for row in table("repairs")
    )


def short_answers() -> ipywidgets.VBox:
    """Questions about walls that need a sentence, not a sum; folded."""
    return _folded(
        (row.ask, row.answer, source_line(row.source, row.where))
        for row in table("wall_answers")
    )


# ---- tables


def six_beds(garden: Garden | None = None) -> ipywidgets.VBox:
    """One line a bed: does it stand, what fails first, the cheapest mend, how long."""
    garden, rows = garden or demo_garden(), []
    for bed in garden:
        o = evaluate(bed, garden.place)
        best, worst, life = cheapest_cure(o), first_to_fail(o), wall_life(o)
        good = stands(o)
        rows.append(
            (
                f"**{bed.name}** {bed.wall.name}",
                "✓ stands" if good else "✕ fails",
                f"{part_words(worst.name, o)}, {_percent(worst.utilisation)}",
                "none needed" if good else best.act if best else "none found",
                "" if good or best is None else _price(best, garden.units),
                f"{life.low:.0f} to {life.high:.0f} years: {life.what}",
            )
        )
    made = facts_table(
        ("bed", "as drawn", "first to fail", "cheapest mend", "price", "lasts"),
        rows,
        "Six beds as they were drawn. Some fail on purpose.",
    )
    made.remove_class("bc-lesson")
    return made.add_class("bc-bench").add_class("bc-six")


def blocks_table(garden: Garden | None = None) -> ipywidgets.VBox:
    """Other blocks in the place of bed E's: courses that stand, safety of three."""
    garden = garden or demo_garden()
    rows = [
        (
            kind.row.name,
            number(kind.courses, 0),
            number(kind.tipping, 2),
            number(kind.sliding, 2),
            source_line(kind.row.source, kind.row.where),
        )
        for kind in block_kinds(evaluate(garden["E"], garden.place))
    ]
    return facts_table(
        ("blocks of bed E, soaked", "courses that stand", "3 courses, tipping",
         "3 courses, sliding", "weight from"), rows,
        "Needed is 1.50. Nothing in the joints.",
    )  # fmt: skip


def checked_table() -> ipywidgets.VBox:
    """What books, standards and other programs print, and what comes out here."""
    rows = [
        (
            c.row.what,
            number(c.printed, c.digits),
            number(c.ours, c.digits),
            source_line(c.row.source, c.row.where),
        )
        for c in checked()
    ]
    return facts_table(("what", "printed", "here", "where it is printed"), rows)


def metals_table(given: Desk | Callable) -> ipywidgets.VBox:
    """Which screws and metals go with the wood of this bed."""
    outcome = given.outcome if hasattr(given, "outcome") else given()
    rows = [
        (row.wood, row.metal, "✓ yes" if row.good == "yes" else "✕ no", row.why)
        for row in metals(outcome)
    ]
    return facts_table(("wood or fill", "with", "good?", "why"), rows)
