"""What the words of the steps and of the checks of one bed are filled with."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from ..assembly import assembly, floor_of
from ..cost.counting import work
from ..cutting.cut_list import CutPart
from ..evaluate import Outcome
from ..tables import table
from ..units import show
from .facts import side_mass, tie_words
from .tape import drill_bit, size, tolerance

__all__ = ["facts_of"]


def facts_of(
    outcome: Outcome, found: Sequence[CutPart], system: str
) -> Mapping[str, str]:
    """Words for the places in braces of data/work_order.csv and data/sign_off.csv."""
    bed, s = outcome.bed, outcome.bed.si
    step, check = tie_words(outcome, system)
    facts = {
        "length": size(s.length, system),
        "width": size(s.width, system),
        "height": size(s.height, system),
        "diagonal": size(float(np.hypot(s.length, s.width)), system),
        "strip": size(work("gravel_width"), system),
        "tread": _tread(outcome),
        "tie_step": step,
        "tie_check": check,
        "gravel_in": _gravel_in(outcome, system),
        "cap_out": size(bed.wall.si.cap_out, system),
        "cap_edge": "; its inner edge covers the sheet"
        if bed.wall.family == "sheet"
        else "",
        "cap_step": size(work("cap_spacing"), system),
        **_masses(outcome, found, system),
    }
    for row in table("tolerances"):
        facts[f"{row.key}_good"] = tolerance(row, "good", system)
        facts[f"{row.key}_ok"] = tolerance(row, "accept", system)
    more = {
        "sheet": _sheet,
        "trough": _trough,
        "sleepers": _sleepers,
        "blocks": _blocks,
    }
    if bed.wall.family in more:
        facts |= more[bed.wall.family](outcome, found, system)
    return {"steel": "", **facts}


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


def _masses(outcome: Outcome, found: Sequence[CutPart], system: str) -> dict[str, str]:
    heavy, _, side = side_mass(found)
    whole = sum(part.mass * part.count for part in found)
    return {
        "heavy": show(heavy, "mass", system),
        "side_mass": show(side, "mass", system),
        "whole_mass": show(whole, "mass", system),
    }


def _gravel_in(outcome: Outcome, system: str) -> str:
    """The step with the gravel, where there is any."""
    gravel = float(outcome.site.si.gravel)
    if gravel <= 0:
        return ""
    return (
        f" Put {show(gravel, 'depth', system)} of gravel in and tamp it level; the "
        "depths of the table have room for it."
    )


def _sheet(outcome: Outcome, found: Sequence[CutPart], system: str) -> dict[str, str]:
    bed = outcome.bed
    made, row = assembly(bed), table("sheets")[bed.wall.sheet]
    sheets = [p for p in found if p.what.startswith("sheet")]
    screws = [j for j in made.joints if j.goods == "screw_sheet"]
    each = {
        "side": sum(abs(j.way[1]) > 0.5 for j in screws) // 2,
        "end": sum(abs(j.way[0]) > 0.5 for j in screws) // 2,
    }
    full = round(row.cover / row.pitch) + 1
    slim = []
    for wall, at in (("front", 0), ("left", 2)):
        for m in made.of("sheet"):
            ribs = round((m.box[at + 1] - m.box[at]) / row.pitch)
            if m.wall == wall and ribs < full:
                slim.append(f"2 along to {size(ribs * row.pitch, system)}")
    bit = drill_bit(table("pilot_holes")["screw_6x100"].clearance, system)
    return {
        "sheet": ", ".join(f"{p.count} × {size(p.length, system)}" for p in sheets),
        "narrow": f", and of these {' and '.join(slim)}" if slim else "",
        "sheet_side": f"{each['side']}",
        "sheet_end": f"{each['end']}",
        "sheet_long": size(min(j.length for j in screws), system),
        "steel": f" Drill the sheet as well, {bit} with a metal bit, where the screws "
        "of the rails go through it.",
    }


def _trough(outcome: Outcome, found: Sequence[CutPart], system: str) -> dict[str, str]:
    bed, made = outcome.bed, assembly(outcome.bed)
    slats = sorted(m.box[:2] for m in made.members if "slat" in m.what)
    gaps = [b[0] - a[1] for a, b in zip(slats, slats[1:], strict=False)]
    return {
        "gap": size(round(max(gaps), 3), system) if gaps else "",
        "legs": f"{len(made.of('post'))}",
        "pad": size(0.4, system),
        "bearer_top": size(made.of("floor bearer")[0].box[5], system),
        "floor": size(float(floor_of(bed)), system),
    }


def _sleepers(
    outcome: Outcome, found: Sequence[CutPart], system: str
) -> dict[str, str]:
    made, pilot = assembly(outcome.bed), table("pilot_holes")["screw_6x100"]
    pins = made.pins
    return {
        "pins": f"{len(pins)}",
        "pin_drill": drill_bit(pins[0].thick, system) if pins else "",
        "pin_long": size(pins[0].top - pins[0].foot, system) if pins else "",
        "pin_in": size(0.1, system),
        "pilot": drill_bit(pilot.pilot_hard, system),
        "angles": f"{len(made.angles)}",
    }


def _blocks(outcome: Outcome, found: Sequence[CutPart], system: str) -> dict[str, str]:
    row, gravel = outcome.bed.wall.block_row, outcome.site.si.gravel > 0
    mass = row.face_weight * row.length * row.course / 9.81
    return {
        "heavy": show(mass, "mass", system),
        "first_course": "Lay the first course on the gravel"
        if gravel
        else "Lay the first course on firm, level ground (if you want gravel under it, "
        "set its depth and print again: the trench gets deeper by it)",
    }


_MORE = {"sheet": _sheet, "trough": _trough, "sleepers": _sleepers, "blocks": _blocks}
