"""Views of workbook 03: rim, push, parts, fixes, a measured bulge; six beds at once."""

from __future__ import annotations

from typing import Any

import numpy as np

from ..evaluate import evaluate
from ..figures.failing import failing_figure, gives_way
from ..figures.load_path import path_figure
from ..figures.utilisation_chart import fixes_figure, part_words, parts_figure
from ..figures.walls import wall_figure
from ..figures.walls_bulge import bulge_figure
from ..model.bed import Bed
from ..model.layers import strategy_layers
from ..model.straightness import NO_NUMBER, bow_words
from ..questions.fixes import (
    as_wanted,
    cheapest_cure,
    cures,
    first_to_fail,
    how_deep,
    stands,
    wall_fixes,
)
from ..questions.repair import judge_bulge
from ..tables import table
from ..units import Q_, number, show
from .bench_words import rail_words
from .kit.controls import choice_row, list_row, slider_row
from .kit.trial import USE, Trial, bed_row, trial
from .kit.view import Desk, View, demo_desk, when_new
from .kit.why import why_checks
from .walls_tables import (
    blocks_table,
    checked_table,
    is_priced,
    metals_table,
    percent,
    price_of,
    repairs,
    short_answers,
    six_beds,
)

__all__ = [
    "blocks_table", "bulge_view", "checked_table", "demo_desk", "failing_view",
    "fixes_view", "metals_table", "parts_view", "path_view", "push_view", "repairs",
    "rim_view", "short_answers", "six_beds", "trial",
]  # fmt: skip  # a list of names

_BELOW = [(False, "the ground"), (True, "a deck, roof or balcony")]
_DECK = Q_(2, "kPa")  # where the slider stands before anybody has said a load
_RIBS = [(False, "upright"), (True, "lying")]
#: how straight a wall shall stay, as the reader chooses it
AIMS = [(row.key, row.name) for row in table("aims")]
TIED = ("sheet", "boards", "sleepers")  # walls that ties can hold


def counts(now: int) -> list[tuple[int, str]]:
    """None to three ties, or as many as the bed has."""
    return [(n, "none" if n == 0 else str(n)) for n in range(max(3, int(now)) + 1)]


def read_bed(about: Trial, row: Any) -> dict:
    """The beds offered now, and which one is tried on."""
    row.relist(about.titles(), about.key)
    return {"bed": about.key}


def write_bed(about: Trial, moved: dict, **fields: str) -> bool:
    """Choose another bed, or change what was moved; whether another was chosen.

    ``fields`` are the fields of the bed for those controls that are named otherwise.
    """
    chosen = "bed" in moved and moved["bed"] != about.key
    if chosen:
        about.choose(moved["bed"])
    change = {fields.get(k, k): v for k, v in moved.items() if k != "bed"}
    if change:
        about.take(about.bed.change(**change))
    return chosen


# ---- the rim: length, way of the rail, ties


def rim_view(about: Desk) -> View:
    """Move length, rail and ties; see the rim from above, and how it was before."""
    about = trial(about)
    bed = about.bed
    controls = [
        bed_row(about),
        slider_row("Length", "cm", 100, 500, 5, bed.length),
        choice_row("Rail, thick", rail_words(bed), bed.rail_lying, name="rails"),
        choice_row("Ties on top", counts(bed.ties), bed.ties, name="ties"),
        choice_row("Shall stay", AIMS, bed.straight, name="straight"),
    ]
    _, _, rails, ties, straight = controls
    moved_from: list = []

    def reads():
        bed = about.bed
        ties.offer(counts(bed.ties), int(bed.ties))
        rails.rename(rail_words(bed, about.system))
        now = {"length": bed.length, "ties": int(bed.ties), "rails": bed.rail_lying}
        return read_bed(about, controls[0]) | now | {"straight": bed.straight}

    def writes(moved):
        old = about.outcome
        chosen = write_bed(about, moved, rails="rail_lying")
        alone = not chosen and moved.keys() <= {"rails", "ties"}
        moved_from[:] = [old, about.outcome] if alone else []

    def render(values, size):
        new, system = about.outcome, about.system
        rails.shown = new.bed.wall.family == "sheet"
        ties.shown = new.bed.wall.family in TIED
        straight.shown = new.bed.wall.family != "blocks"
        before = moved_from[0] if moved_from and moved_from[1] is new else None
        drawing = wall_figure(new, system=system, before=before, **size)
        return drawing, _rim_sentence(new, before, system)

    return View(
        about, controls, render, name="rim", reads=reads, writes=writes,
        acts={USE: about.use}, why=_whys(about),
    )  # fmt: skip  # rows of a table


def _rim_sentence(o, before, system: str) -> str:
    walls, check = o.walls, o.check("bow")
    if check is None:
        return "A stacked wall does not bow: it stands by its weight, or it tips over."
    words = f"**{check.sentence(system)}** "
    if before is not None and walls.si.bow_years > 0:
        ratio = float(before.walls.si.bow_years / walls.si.bow_years)
        if ratio >= 1:
            words += f"That divides the bow by {number(ratio, 1)}. "
        else:
            words += f"The bow grew {number(1 / ratio, 1)} times. "
    if walls.past_sums:
        return words
    low, high = (bow_words(walls, end, system) for end in ("light", "heavy"))
    if high == NO_NUMBER:
        high = "more than the sums carry"
    return words + f"If the fill is lighter or heavier than thought: {low} to {high}."


# ---- the push: height, logs, water


def push_view(about: Desk) -> View:
    """Move height, logs and the base; see what the fill does to the wall."""
    about = trial(about)
    controls = [
        bed_row(about),
        slider_row("Height", "cm", 20, 100, 1, about.bed.height),
        slider_row("Logs", "percent", 0, 60, 1, _logs(about.bed), name="logs"),
        choice_row(
            "Base",
            [(True, "open"), (False, "closed")],
            about.bed.open_base,
            name="base",
        ),
        choice_row(
            "Drain at the foot",
            [(False, "none"), (True, "leads the water away")],
            about.bed.drained,
            name="drained",
        ),
        choice_row("Stands on", _BELOW, about.bed.may_carry is not None, name="deck"),
        slider_row("May carry", "kPa", 1, 20, 1, about.bed.may_carry or _DECK,
                   name="carries", us=("lbf/ft^2", 20, 400, 5)),
    ]  # fmt: skip  # rows of a table
    carries = controls[-1]

    def reads():
        bed = about.bed
        now = {"height": bed.height, "logs": _logs(bed), "base": bed.open_base}
        now |= {"drained": bed.drained, "deck": bed.may_carry is not None}
        now |= {"carries": bed.may_carry or carries.value}
        return read_bed(about, controls[0]) | now

    def writes(moved):
        if "logs" in moved:
            logs = moved.pop("logs")
            name = "logs_chips_mix" if logs.m > 0 else "all_mix"
            moved["fill"] = strategy_layers(name, logs if logs.m > 0 else None)
        load = moved.pop("carries", carries.value)
        if "deck" in moved:
            moved["may_carry"] = load if moved.pop("deck") else None
        elif about.bed.may_carry is not None and "bed" not in moved:
            moved["may_carry"] = load
        write_bed(about, moved, base="open_base")

    def render(values, size):
        carries.shown = about.bed.may_carry is not None
        drawing = wall_figure(about.outcome, system=about.system, **size)
        return drawing, _push_sentence(about)

    return View(
        about, controls, render, name="push", reads=reads, writes=writes,
        acts={USE: about.use},
    )  # fmt: skip  # rows of a table


def _logs(bed: Bed):
    """Share of the fill's depth that is logs, in whole percent."""
    depths = zip(bed.fill, bed.layer_depths, strict=True)
    logs = sum(float(depth) for layer, depth in depths if layer.kind == "logs")
    return Q_(float(np.round(100 * logs / float(bed.si.fill_depth))), "percent")


def _push_sentence(about: Desk) -> str:
    o, system = about.outcome, about.system
    moist = o.walls.cases["moist"]
    words = (
        f"The rim of each long wall gets **{show(moist.top_load, 'line load', system)}"
    )
    words += f"**, the foot {show(moist.base_load, 'line load', system)}. "
    if _logs(o.bed).m > 0:
        plain_mix = evaluate(
            about.bed.change(fill=strategy_layers("all_mix")), about.place
        )
        was = plain_mix.walls.cases["moist"].si.top_load
        words += f"All mix would push {percent(was / moist.si.top_load - 1)} harder. "
    full = o.check("waterlogged")
    if full is not None:
        wet = o.walls.cases["waterlogged"].si.top_load / moist.si.top_load
        words += f"Full of water it gets **{number(float(wet), 1)} times** as much. "
        words += f"No tie empties a tub: {_drain_act(full, system)}. "
    elif not o.bed.open_base:
        words += "The base is closed; the drain at its foot must stay open for good. "
    floats, deck = o.check("floating"), o.check("deck")
    words += " ".join(c.sentence(system) for c in (floats, deck) if c is not None)
    return words


def _drain_act(full, system: str) -> str:
    """What leads the water away, inside a sentence."""
    act = full.fix.sentence(system) if full.fix else "lay a drain at the foot"
    return act[:1].lower() + act[1:]


# ---- the way of the force, and all parts on one ruler


def parts_view(about: Desk) -> View:
    """Choose a bed and its ties; see every part on one ruler."""
    about = trial(about)
    bed = about.bed
    controls = [
        bed_row(about),
        choice_row("Ties on top", counts(bed.ties), bed.ties, name="ties"),
        choice_row(
            "Ties at foot", counts(bed.base_ties), bed.base_ties, name="base_ties"
        ),
        choice_row("Ribs", _RIBS, bed.ribs_lying, name="ribs"),
        slider_row(
            "Posts every", "cm", 30, 150, 5, bed.wall.post_spacing, name="posts"
        ),
        slider_row("Posts deep", "cm", 0, 120, 5, bed.post_depth, name="deep"),
    ]
    _, top, foot, ribs, posts, deep = controls

    def reads():
        bed = about.bed
        top.offer(counts(bed.ties), int(bed.ties))
        foot.offer(counts(bed.base_ties), int(bed.base_ties))
        return read_bed(about, controls[0]) | {
            "ties": int(bed.ties),
            "base_ties": int(bed.base_ties),
            "ribs": bed.ribs_lying,
            "posts": bed.wall.post_spacing,
            "deep": bed.post_depth,
        }

    def writes(moved):
        write_bed(
            about, moved, ribs="ribs_lying", posts="post_spacing", deep="post_depth"
        )

    def render(values, size):
        bed = about.bed
        top.shown = foot.shown = bed.wall.family in TIED
        ribs.shown = bed.wall.family == "sheet"
        posts.shown = bed.wall.family == "boards" or (ribs.shown and bed.ribs_lying)
        deep.shown = bed.wall.family in ("boards", "sheet")
        drawing = parts_figure(about.outcome, system=about.system, **size)
        return drawing, _parts_sentence(about.outcome, about.system)

    return View(
        about, controls, render, name="parts", reads=reads, writes=writes,
        acts={USE: about.use}, why=_whys(about),
    )  # fmt: skip  # rows of a table


def _parts_sentence(o, system: str) -> str:
    worst = first_to_fail(o)
    verb = "Gives way first"
    if stands(o):
        verb = "The wall holds. Nearest to its limit"
        if not worst.ok:
            verb = f"The wall holds, but {worst.goes} more than you want"
    words = f"**{verb}: {part_words(worst.name, o)}.** {worst.sentence(system)}"
    sitting = o.check("sitting")
    if sitting is not None and not sitting.ok:
        words += " Do not sit on the rim."
    deep = how_deep(o)
    return words if deep is None else f"{words} **How deep?** {deep.sentence(system)}"


def path_view(about: Desk) -> View:
    """The way of the force for the bed on the desk."""

    def render(values, size):
        o = about.outcome
        return path_figure(o, system=about.system, **size), (
            "Follow the numbers: a force must arrive somewhere."
        )

    return View(about, [], render, name="path", why=_whys(about))


def failing_view(about: Desk) -> View:
    """The part of the wall that gives way first, close up."""

    def render(values, size):
        o = about.outcome
        check = gives_way(o)
        says = "No part gives way. Choose another bed or fewer ties above."
        if check is not None:
            says = check.sentence(about.system)
        return failing_figure(o, system=about.system, **size), says

    return View(about, [], render, name="failing", why=_whys(about))


def _whys(about: Desk):
    """What stands behind every verdict on the wall of the bed on the desk."""
    return why_checks(
        about, lambda: [c for c in about.outcome.checks if c.chapter == "walls"]
    )


# ---- fixes


def fixes_view(about: Desk) -> View:
    """Choose a bed; see every move alone, or what fixes all of it."""
    wet = about.demo.bed.change(
        ties=1, base_ties=1, open_base=False, title="tied, but with a closed base"
    )
    about = trial(about, {"wet": wet})
    which = list_row("Fix", [("", "none")], "", name="fix")
    controls = [
        bed_row(about),
        choice_row(
            "Show", [(True, "full fixes"), (False, "each alone")], True, name="all"
        ),
        which,
    ]
    known: dict = {}

    def found(all_: bool) -> tuple:
        if known.get("of") is not about.outcome:
            known.clear()
            known["of"] = about.outcome
        if all_ not in known:
            known[all_] = (cures if all_ else wall_fixes)(about.outcome)
        return known[all_]

    def writes(moved):
        if "bed" in moved:
            about.choose(moved["bed"])

    def render(values, size):
        o, system = about.outcome, about.system
        tried = found(values["all"])
        best = cheapest_cure(o, found(True))
        offered = [(one.key, one.sentence(system)) for one in tried] or [("", "none")]
        if values["all"] and best is not None:
            offered.sort(key=lambda one: one[0] != best.key)
        here = which.value in dict(offered) and known.get("said") == values["all"]
        which.relist(offered, which.value if here else offered[0][0])
        which.shown, known["said"] = bool(tried) and not as_wanted(o), values["all"]
        by = "bow" if not values["all"] and o.check("bow") is not None else ""
        drawing = fixes_figure(
            o, tried, worst=first_to_fail(o), by=by, system=system, **size
        )
        return drawing, _mend_sentence(o, best, system)

    def use() -> str:
        tried = [one for one in found(controls[1].value) if one.key == which.value]
        if as_wanted(about.outcome) or not tried:
            return about.no_bed() or "There is nothing to fix."
        return about.use(tried[0].change)

    return View(
        about, controls, render, name="fixes", writes=writes, acts={USE: use},
        reads=lambda: read_bed(about, controls[0]), why=_whys(about),
    )  # fmt: skip  # rows of a table


def _mend_sentence(o, best, system: str) -> str:
    if as_wanted(o):
        return "**This wall holds, as straight as you want it.** Nothing to fix."
    worst = first_to_fail(o)
    words = f"Gives way first: {part_words(worst.name, o)}. "
    if worst.straight:
        words = f"It holds, but {worst.goes} more than you want: {worst.word}. "
    if best is None:
        return words + "Nothing that was tried fixes all: ask an engineer."
    how = "Cheapest" if is_priced(best) else "What fixes it"
    act = best.sentence(system)
    words += f"**{how}: {act[:1].lower()}{act[1:]}, {price_of(best, system)}.**"
    if not best.key.startswith(("build", "low", "drains")):
        bow = bow_words(best.after.walls, "years", system)
        words += f" It then bows {bow} after years."
    return f"{words} {best.note}".strip()


# ---- a wall that has bowed already


def bulge_view(about: Desk) -> View:
    """Type in a measured bulge; hear how bad it is and what to do first."""

    def bay():
        return about.bed.length / (int(about.bed.ties) + 1)

    controls = [
        slider_row("Bulge", "mm", 0, 100, 1, Q_(28, "mm")),
        slider_row("Bay", "cm", 40, 500, 5, bay().to("cm").round(0), name="bay"),
    ]

    def render(values, size):
        found = judge_bulge(about.outcome, values["bulge"], values["bay"])
        drawing = bulge_figure(found, system=about.system, **size)
        words = f"**{found.sentence(about.system)}** {found.row.do}"
        return drawing, words

    return View(
        about,
        controls,
        render,
        name="bulge",
        reads=when_new(lambda: {"bay": bay().to("cm").round(0)}),
    )
