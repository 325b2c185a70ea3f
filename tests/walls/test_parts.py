"""A verdict names the pieces it is about, and they lie in the assembly."""

from __future__ import annotations

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.assembly import pieces_of
from bedcalc.tables import table

DEMO = bc.demo_garden()
#: verdicts that are about no piece: a height, a layer, what carries the bed
ABOUT_NONE = {"height", "floating", "deck"}


def outcome(name="B", **change):
    return bc.evaluate(DEMO[name].change(**change), DEMO.place)


@pytest.mark.parametrize("height", [0.3, 0.72, 1.1])
@pytest.mark.parametrize("key", [row.key for row in table("walls")])
def test_every_verdict_of_every_build_finds_its_pieces(key, height):
    wall = bc.Wall.named(key)
    ties = 0 if wall.family in ("blocks", "trough") else 1
    o = outcome(wall=wall, height=Q_(height, "m"), open_base=False, ties=ties,
                base_ties=ties, may_carry=Q_(5, "kPa"))  # fmt: skip
    for check in (c for c in o.checks if c.chapter in ("walls", "fill")):
        if check.name in ABOUT_NONE:
            assert not check.part and not pieces_of(o.bed, check.part)
        elif check.chapter == "walls":
            assert pieces_of(o.bed, check.part), (check.name, check.part)


def test_the_weakest_rail_is_the_one_that_is_said():
    """Bed B: the cap is wider, so it bends more for the same bow."""
    check = outcome().check("rail")
    found = pieces_of(outcome().bed, check.part)

    assert check.part == "cap" and check.sentence().startswith("The cap")
    assert [m.what for m in found.members] == ["cap side"] * 2
    assert {m.wall for m in found.members} == {"front", "back"}


def test_boards_count_from_the_foot():
    o = outcome("A")
    low = pieces_of(o.bed, o.check("foot").part).members
    top = pieces_of(o.bed, o.check("bow").part).members

    assert {m.box[4] for m in low} == {0.0} and len(low) == len(top) == 2
    assert max(m.box[5] for m in top) == pytest.approx(o.bed.height.m_as("m"))


def test_corner_screws_are_those_of_the_long_walls():
    """Four corners with two screws each, in the height of the top board."""
    o = outcome("A")
    joints = pieces_of(o.bed, o.check("corner").part).joints

    assert o.check("corner").part == "corner screws of board 4"
    assert [len(joint.screws) for joint in joints] == [2] * 4
    assert {y for j in joints for _, y, _ in j.screws} == {0.0, o.bed.si.width}
    assert all(0.42 < z < 0.56 for j in joints for _, _, z in j.screws)


def test_pulled_screws_are_those_at_the_middle_posts():
    o = outcome("A")
    joints = pieces_of(o.bed, o.check("screws").part).joints
    posts = {round(float(x), 6) for x in o.walls.si.posts_x}

    assert o.check("screws").part == "screws of board 1"
    assert {round(x, 6) for j in joints for x, _, _ in j.screws} == posts
    assert all(0 < z < 0.14 for j in joints for _, _, z in j.screws)


def test_a_tie_hands_the_pull_to_the_board_under_its_plate():
    """The plate bears on the top board; the next one hangs on its screws."""
    o = outcome("A", length=Q_(4.8, "m"), ties=1, post_spacing=Q_(0.4, "m"))

    assert o.check("screws").part == "screws of board 3"


def test_middle_posts_and_ties_by_place():
    o = outcome("B", ties=2, base_ties=1)
    posts = pieces_of(o.bed, "middle posts").members

    along = sorted({round(sum(m.box[:2]) / 2, 6) for m in posts})
    assert along == pytest.approx(sorted(o.walls.si.posts_x))
    assert len(pieces_of(o.bed, o.check("tie").part).ties) == 2
    assert [t.foot for t in pieces_of(o.bed, o.check("base tie").part).ties] == [True]


def test_loose_blocks_tip_as_a_whole_long_wall():
    o = outcome("E")
    found = pieces_of(o.bed, o.check("tipping").part).members

    assert {m.what for m in found} == {"block"}
    assert {m.wall for m in found} == {"front", "back"}
    assert {m.level for m in found} == {0, 1, 2}


def test_a_sweep_names_no_weakest_piece():
    o = outcome("B", length=Q_(np.array([1.8, 2.7]), "m"))

    assert o.check("rail").part == ""
