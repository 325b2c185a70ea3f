"""What a builder can do to a wall: every single move but ties, and ties in words.

Each move is a key, an act in words, what it changes, and what to know. Whether it
helps is not said here: :mod:`bedcalc.questions.fixes` tries it.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from bedcalc.model.bed import Bed, Wall
from bedcalc.model.layers import strategy_layers
from bedcalc.tables import table
from bedcalc.units import Q_

__all__ = ["DEPTHS", "Move", "in_words", "moves", "set_posts", "tie_words"]

#: key, act, change, what to know
Move = tuple[str, str, dict, str]
#: how deep posts are set, in cm, where a fix sets them
DEPTHS = (30, 45, 60, 75, 90, 120)


def moves(bed: Bed) -> Iterator[Move]:
    """Every single move but ties: key, act, change, what to know.

    The act names sizes of the change as :class:`~bedcalc.model.outcome.Fix` does.
    """
    wall, family, s = bed.wall, bed.wall.family, bed.si
    if not bed.open_base:
        yield "drains", "Open the base, so that it drains", {"open_base": True}, ""
    if family == "sheet" and not bed.rail_lying:
        act = "Turn the rails by a quarter, their wide side level"
        yield "turn", act, {"rail_lying": True}, "The inside gets narrower."
    if family == "sheet" and wall.post_goods and wall.si.post > wall.si.rail_thin:
        change = {
            "rail_thin": wall.post,
            "rail_wide": wall.post,
            "rail_goods": wall.post_goods,
            "rail_lying": False,
        }
        yield "deeper", "Rails of {rail_thin:stock} × {rail_wide:stock}", change, ""
    if family == "sheet" and bed.ribs_lying:
        yield "upright", "Stand the ribs upright", {"ribs_lying": False}, ""
    if wall.si.cap_thick > 0 and not wall.cap_counts:
        act = "One long cap, screwed down from corner to corner"
        yield (
            "cap",
            act,
            {"cap_counts": True},
            "A cap joined at mid-length does nothing.",
        )
    if family == "boards" or (family == "sheet" and bed.ribs_lying):
        gap = 0.6 if wall.si.post_spacing > 0.65 else 0.4
        change = {"post_spacing": Q_(gap, "m")}
        note = "Posts that are not tied only pin the boards together."
        yield "posts", "Posts every {post_spacing:depth}", change, note
    if all(layer.kind != "logs" for layer in bed.fill) and family != "trough":
        layers = strategy_layers("logs_chips_mix", Q_(33, "percent"))
        note = "The heavy mix stays on top, where it pushes with a long lever."
        yield "logs", "Logs in the lower third", {"fill": layers}, note
    if family not in ("trough", "blocks"):
        change = {"embedment": Q_(200, "mm")}
        yield (
            "dig",
            "Dig it in {embedment:depth} by hand",
            change,
            "Digging is not in the price.",
        )
    yield from _lower(bed, s)
    yield from _builds(bed)


def set_posts(bed: Bed) -> Iterator[Move]:
    """Posts set into the ground, the shallowest first, deeper than they stand."""
    if bed.wall.family not in ("boards", "sheet") or not bed.wall.si.post:
        return
    for deep in DEPTHS:
        if deep > 100 * bed.si.post_depth + 1e-9:
            change = {"post_depth": Q_(10 * deep, "mm")}
            act = "Set the posts {post_depth:depth} deep"
            yield f"deep {deep}", act, change, "Digging the holes is not in the price."


def _lower(bed: Bed, s) -> Iterator[Move]:
    """Lower walls: one course less, or two thirds; of blocks any number of courses."""
    course = bed.wall.si.course
    if bed.wall.family == "trough":
        return
    if not course:
        heights = [np.floor(s.height * 100 * 2 / 3) / 100]
    else:
        rows = int(np.ceil(s.height / course - 1e-9))
        fewest = rows - 1 if bed.wall.family != "blocks" else 1
        heights = [n * course for n in range(rows - 1, max(fewest, 1) - 1, -1)]
    for height in heights:
        change = {"height": Q_(round(float(height) * 1000), "mm")}
        yield f"low {height:.2f}", "Build it {height:depth} high", change, ""


def _builds(bed: Bed) -> Iterator[Move]:
    """The other builds of the same yard, of the same outside size."""
    for row in table("walls"):
        if row.key == bed.wall.key or row.yard != bed.wall.yard:
            continue
        if "trough" in (row.family, bed.wall.family):
            continue
        # one kind of block is enough to compare a wall of wood with
        if row.key.startswith("blocks_") and bed.wall.family != "blocks":
            continue
        change = {"wall": Wall.named(row.key), "rail_lying": False}
        yield f"build {row.key}", f"Build it of {row.name}", change, ""


def in_words(count: int) -> str:
    """A count as one writes it in a sentence: words up to twelve, then digits."""
    names = "no one two three four five six seven eight nine ten eleven twelve".split()
    return names[count] if count < len(names) else str(count)


def tie_words(top: int, foot: int) -> str:
    """Ties in words: ``one tie on top, one at the foot``."""
    parts = []
    if top:
        parts.append(f"{in_words(top)} {'tie' if top == 1 else 'ties'} on top")
    if foot:
        ties = "" if top else f" tie{'s' * (foot > 1)}"
        parts.append(f"{in_words(foot)}{ties} at the foot")
    return ", ".join(parts)
