"""Pieces of a bed: labels, mitres, straight boards, splices over posts, sheet ways."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest

from bedcalc import Q_, Wall, demo_garden
from bedcalc.assembly import layout
from bedcalc.cutting import CutError
from bedcalc.cutting.cut_list import parts, piece_mass, strips_needed, tie_part
from bedcalc.cutting.splices import joints, sheet_ways, spliced

GARDEN = demo_garden()

#: the demo garden's cut lists, section by section: goods, length in mm, number
DEMO_PIECES = {
    ("larch_140x33", 2700): 8, ("larch_140x33", 984): 8, ("larch_140x33", 2100): 4,
    ("larch_140x33", 534): 4, ("post_70x70", 560): 8, ("post_70x70", 720): 8,
    ("post_70x70", 800): 6, ("cap_90x22", 2780): 2, ("cap_90x22", 1130): 2,
    ("cap_90x22", 2750): 2, ("cap_90x22", 1100): 2, ("cap_90x22", 394): 3,
    ("cap_90x22", 534): 18, ("frame_70x45", 2700): 4, ("frame_70x45", 960): 4,
    ("frame_70x45", 2034): 2, ("frame_70x45", 534): 3, ("sheet_0.76", 720): 12,
    ("plank_125x30", 1800): 6, ("plank_125x30", 840): 6, ("sleeper_200x100", 3000): 4,
    ("sleeper_200x100", 1000): 4, ("post_60x60", 375): 6,
}  # fmt: skip


def test_pieces_of_the_demo_garden_are_those_of_its_cut_lists():
    got = Counter()
    for bed in GARDEN:
        for part in parts(bed):
            got[part.goods, round(part.length * 1000)] += part.count

    assert got == DEMO_PIECES


def test_every_piece_has_a_name_of_its_own():
    names = [n for bed in GARDEN for part in parts(bed) for n in part.names()]

    assert len(names) == len(set(names))
    assert "B-rail side-4" in names


def test_only_caps_are_mitred_and_long_pieces_ask_for_straight_boards():
    found = {part.what: part for part in parts(GARDEN["B"])}

    assert found["cap side"].angle == found["cap end"].angle == 45
    assert found["rail side"].angle == 0
    assert found["rail side"].straight and not found["post"].straight


def test_mass_of_a_board_and_a_sleeper():
    """Demo garden, masses for the lift lesson: 7.5 kg, 45 kg."""
    board = next(p for p in parts(GARDEN["A"]) if p.what == "side")
    sleeper = next(p for p in parts(GARDEN["F"]) if p.what == "side")

    assert board.mass == pytest.approx(7.5, abs=0.05)
    assert sleeper.mass == pytest.approx(45, abs=0.5)
    one = piece_mass(Q_(140, "mm"), Q_(33, "mm"), Q_(2.7, "m"), Q_(600, "kg/m^3"))
    assert one.m_as("kg") == pytest.approx(7.48, abs=0.005)


def test_sheets_side_by_side():
    """Computed by hand: (2610 - 76) / 760 = 3.33, so 4; one cover plus lap, 1."""
    assert strips_needed.si(2.61, 0.076, 0.76) == 4
    assert strips_needed.si(0.836, 0.076, 0.76) == 1
    assert strips_needed.si(0.837, 0.076, 0.76) == 2
    upright, lying = sheet_ways(GARDEN["B"])
    assert upright.pieces == ((0.72, 12),)
    assert [n for _, n in lying.pieces] == [2, 2]


def test_a_tie_is_longer_than_the_bed_is_wide():
    """Own derivation: a bed 1050 mm wide needs 1092 mm of rod."""
    assert tie_part(GARDEN["B"], 0.042) == ()
    (tie,) = tie_part(GARDEN["B"].change(ties=1, base_ties=1), 0.042)
    assert (tie.length, tie.count) == (pytest.approx(1.092), 2)


def test_joints_lie_over_posts_and_leave_no_piece_too_long():
    assert joints(5.4, 3.0, [1.1, 2.2, 3.2, 4.3]) == [2.2, 4.3]
    assert joints(2.0, 3.0, []) == []
    with pytest.raises(CutError, match="no post to join"):
        joints(5.4, 3.0, [4.0])


def test_long_sides_are_joined_and_nothing_is_lost():
    bed = GARDEN["B"].change(length=Q_(5.4, "m"), wall=Wall.named("boards"))

    found, notes = spliced(bed, parts(bed), {"larch_140x33": 3.0, "cap_90x22": 4.0})

    sides = [p for p in found if p.what.startswith("side")]
    assert sum(p.length for p in sides) == pytest.approx(5.4)
    assert {p.count for p in sides} == {12}
    assert max(p.length for p in sides) <= 3.0
    assert len(notes) == 2 and "over a post" in notes[0].note


def test_joints_on_one_line_are_backed():
    bed = GARDEN["A"].change(length=Q_(4, "m"), post_spacing=Q_(2, "m"))

    found, notes = spliced(bed, parts(bed), {"larch_140x33": 2.2})

    assert [round(p.length, 3) for p in found if p.what[:4] == "side"] == [2.0, 2.0]
    assert "cleat" in notes[0].note


def test_short_sides_stay_whole():
    bed = GARDEN["A"]

    found, notes = spliced(bed, parts(bed), {"larch_140x33": 3.0})

    assert found == parts(bed) and not notes


def test_which_piece_of_which_long_side_lies_over_which_post():
    """Computed by hand: 8 sides of 2700 in 1794.5 + 905.5, every second turned."""
    bed = GARDEN["A"]
    posts = list(layout(bed).posts_x)

    _, (side, cap) = spliced(bed, parts(bed), {"larch_140x33": 2.38, "cap_90x22": 2.38})

    rows = side.rows()
    assert [row.words for row in rows[:2]] == ["front, course 1",
                                               "front, course 2"]  # fmt: skip
    assert len(rows) == 8 and {row.side for row in rows} == {"front", "back"}
    names = [name for row in rows for name, _, _ in row.pieces]
    assert len(set(names)) == 16 and "A-side a-1" in names
    for row in rows:
        assert row.pieces[-1][2] == pytest.approx(2.7)
        assert all(min(abs(np.array(posts) - at)) < 1e-9 for at in row.joints)
    for low, high in zip(rows[:3], rows[1:4], strict=True):
        assert low.joints != high.joints
    assert cap.part.what == "cap side" and len(cap.rows()) == 2


def test_a_joined_cap_is_mitred_at_its_outer_ends_only():
    bed = GARDEN["B"].change(length=Q_(6, "m"))

    found, _ = spliced(bed, parts(bed), {"cap_90x22": 2.4})

    caps = [p.angle for p in found if p.what.startswith("cap side")]
    assert len(caps) > 2 and caps[0] == caps[-1] == 45 and set(caps[1:-1]) == {0}


def test_an_end_has_no_post_to_be_joined_on():
    with pytest.raises(CutError, match="no post to join"):
        spliced(GARDEN["A"], parts(GARDEN["A"]), {"larch_140x33": 0.95})
