"""Sixty-four ordinary walls, and what the trade says of each: do the sums agree?

``real_walls.csv`` was written down before any sum was looked at. It is common practice
without a source: what builders have built or seen. Where the sums say something else,
the wall stands in ``DIFFERENT`` with what they say, and the reason is told in
DEVELOPERS.md. No number was bent to make a wall agree.
"""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

import bedcalc as bc
from bedcalc import Q_, Bed, Wall
from bedcalc.printing import build_sheet
from bedcalc.questions.fixes import stands

with (Path(__file__).parent / "real_walls.csv").open(encoding="utf-8") as file:
    ROWS = list(csv.DictReader(file))
PLACE = bc.demo_garden().place
#: number of the row -> what the sums say instead, and why: see DEVELOPERS.md
DIFFERENT: dict[int, tuple[str, str]] = {
    3: ("nobody", "safety"), 11: ("nobody", "safety"), 21: ("nobody", "safety"),
    23: ("nobody", "safety"), 29: ("nobody", "safety"), 39: ("nobody", "safety"),
    58: ("nobody", "safety"), 60: ("nobody", "safety"),
    12: ("nobody", "foot"), 14: ("nobody", "foot"), 59: ("nobody", "foot"),
    28: ("bows", "foot"),
    10: ("bows", "posts"), 20: ("bows", "posts"), 37: ("bows", "posts"),
    38: ("bows", "fill"), 26: ("stands", "near"),
    48: ("stands", "one piece"),
    54: ("nobody", "blocks"),
    61: ("nobody", "thin sheet"),
}  # fmt: skip


def bed_of(row) -> Bed:
    """The bed of one row."""
    family, us = row["family"], row["yard"] == "us"
    base = {"boards": "boards", "sheet": "sheet", "sleepers": "sleepers",
            "blocks": "blocks"}[family]  # fmt: skip
    wall = Wall.named(f"{base}_us" if us and base in ("boards", "sheet") else base)
    sizes = {}
    if family != "sheet":
        sizes = {k: Q_(float(row[f"{k}_mm"]), "mm") for k in ("thickness", "course")}
    if family in ("boards", "sleepers"):
        sizes["wood"] = row["wood"]
    if family == "boards":
        # nothing in the middle: posts stand as far apart as they may
        every = min(float(row["post_every_m"]), 3.0)
        sizes |= {"post": Q_(float(row["post_mm"]), "mm"),
                  "post_spacing": Q_(every, "m"),
                  "cap_wide": Q_(0, "mm"), "cap_thick": Q_(0, "mm"),
                  "cap_goods": ""}  # fmt: skip
    if family == "sheet" and "no cap" in row["seen_so"]:
        sizes["cap_counts"] = False
    if family == "blocks":
        sizes["block"] = row["block"]
    return Bed(
        name="real",
        length=Q_(float(row["length_m"]), "m"),
        width=Q_(float(row["width_m"]), "m"),
        height=Q_(float(row["height_mm"]), "mm"),
        wall=wall.own("real_wall", "a wall somebody built", **sizes),
        ties=int(row["ties"]),
        base_ties=int(row["base_ties"]),
        post_depth=Q_(float(row["post_depth_mm"]), "mm"),
    )


def sums_say(outcome) -> str:
    """The answer of the sums in the words of the trade."""
    if not stands(outcome):
        return "nobody"
    bent = [c for c in outcome.checks if c.straight]
    plain = any(c.verdict in ("bowed", "act") for c in bent)
    return "bows" if plain else "stands"


@pytest.mark.parametrize("number", range(len(ROWS)))
def test_the_sums_say_what_the_trade_says(number):
    row = ROWS[number]
    said, trade = sums_say(bc.evaluate(bed_of(row), PLACE)), row["trade_says"]
    if number in DIFFERENT:
        assert said == DIFFERENT[number][0] != trade
    else:
        assert said == trade, row["seen_so"]


def test_what_is_said_of_the_foot_and_of_people_on_the_fill():
    """Neither has a limit of its own: DEVELOPERS.md counts these walls."""
    far, kept_off = [], []
    for number, row in enumerate(ROWS):
        o = bc.evaluate(bed_of(row), PLACE)
        moves, trodden = o.check("foot moves"), o.check("trodden")
        if moves is not None and moves.beyond:
            far.append((number, stands(o)))
        if trodden is not None and not trodden.ok and stands(o):
            kept_off.append(number)

    assert len(far) == 17
    assert [number for number, holds in far if holds] == [28]
    assert kept_off == [2, 6, 34]
    assert {ROWS[n]["trade_says"] for n in kept_off} == {"bows"}


def test_who_may_not_step_on_the_fill_is_not_told_to_tread_it_in():
    def paper(number):
        return build_sheet(bc.Garden(beds=(bed_of(ROWS[number]),), place=PLACE))

    assert "Keep off the fill" in paper(2) and "tread the lower" not in paper(2)
    assert "tread the lower ones" in paper(0)


def test_the_table_is_wide_enough():
    """22 to 50 mm, flat and upright, dry and filled, tied and not, both yards."""

    def values(name, family=None):
        return [row[name] for row in ROWS if family in (None, row["family"])]

    thick = {float(t) for t in values("thickness_mm", "boards")}
    assert len(ROWS) >= 60
    assert min(thick) <= 22 and max(thick) >= 50
    assert {"100", "200"} <= set(values("thickness_mm", "sleepers"))
    assert {"hollow_8in", "filled_8in"} <= set(values("block", "blocks"))
    assert {"0", "1", "2"} <= set(values("ties", "sheet"))
    assert {"metric", "us"} == set(values("yard"))
    heights = [float(h) for h in values("height_mm")]
    lengths = [float(x) for x in values("length_m")]
    assert min(heights) <= 150 and max(heights) >= 900
    assert min(lengths) <= 1.2 and max(lengths) >= 4.8
    assert all("no source" in row["source"] for row in ROWS)


def test_most_walls_agree_and_no_wall_that_nobody_builds_is_passed():
    """The dangerous mistake: a wall that the sums let stand and the trade does not."""
    assert len(DIFFERENT) <= len(ROWS) / 3
    for number, (said, _) in DIFFERENT.items():
        assert not (ROWS[number]["trade_says"] == "nobody" and said == "stands")
