"""Parts, splices and sheets against sums on paper."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bedcalc import Q_, Wall, demo_garden
from bedcalc.cutting import CutError
from bedcalc.cutting.cut_list import CutPart, blocks_needed, parts, piece_mass
from bedcalc.cutting.splices import SheetWay, Splice, joints, sheet_ways, spliced, whole

GARDEN = demo_garden()


def test_masses_and_names():
    """50 x 100 x 1000 mm at 600 kg/m3: 3 kg."""
    assert piece_mass.si(0.05, 0.1, 1.0, 600.0) == pytest.approx(3.0)
    one = CutPart(goods="x", label="A side", length=1.0, count=3, bed="A", what="side",
               thick=0.05, wide=0.1, density=600.0)  # fmt: skip
    assert one.mass == pytest.approx(3.0)
    assert one.names() == ("A-side-1", "A-side-2", "A-side-3")
    assert replace(one, thick=0.0).mass == 0


def test_blocks_of_other_beds():
    """E of 3.0 x 1.4 m, 800 mm, blocks 400 x 200 x 150: run 6.0 + 2.2, 4 courses: 82.

    5 % more: 86.1, so 87; no spare: 82.
    """
    bed = GARDEN["E"].change(length=Q_(3, "m"), width=Q_(1.4, "m"), height=Q_(0.8, "m"))

    assert blocks_needed(bed) == pytest.approx((82.0, 82))
    assert blocks_needed(bed, 0.05)[1] == 87
    assert parts(bed) == ()


def test_joints_by_hand():
    """Each piece as long as can be: 6 m, 2.5 m at most, posts every 1.2 m: 2.4, 4.8."""
    posts = [1.2, 2.4, 3.6, 4.8]

    assert joints(6.0, 2.5, posts) == [2.4, 4.8]
    assert joints(6.0, 2.4, posts[::-1]) == [2.4, 4.8]  # a piece as long as the board
    assert joints(6.0, 1.2, posts) == posts
    assert joints(2.4, 2.4, posts) == []
    with pytest.raises(CutError, match="6000 mm: the longest board gives 1100 mm"):
        joints(6.0, 1.1, posts)
    with pytest.raises(CutError, match="between 2400 and 3500 mm"):
        joints(6.0, 1.1, [0.9, 1.6, 2.4, 3.6])
    many = [0.2 * n for n in range(1, 40)]
    assert len(joints(5.2, 0.2, many)) == 25  # 26 pieces, a to z
    with pytest.raises(CutError, match="which make 27 pieces of it"):
        joints(5.4, 0.2, many)


def test_names_of_pieces_of_a_whole():
    for name, of in (("rail side a", "rail side"), ("side b", "side")):
        assert whole(name) == of == whole(of)
    assert whole("side ab") == "side ab" and whole("side A") == "side A"


def _splice(what="side", count=4, lengths=(1.5, 1.2), over="post"):
    part = CutPart(
        goods="x",
        label=f"A {what}",
        length=sum(lengths),
        count=count,
        bed="A",
        what=what,
    )
    return Splice(part=part, lengths=lengths, over=over)


def test_rows_of_a_splice():
    """Two courses a side, every second turned; numbers run on from front to back."""
    rows = _splice().rows()

    assert [(r.side, r.level, r.words) for r in rows] == [
        ("front", 0, "front, course 1"), ("front", 1, "front, course 2"),
        ("back", 0, "back, course 1"), ("back", 1, "back, course 2"),
    ]  # fmt: skip
    assert rows[0].pieces == (
        ("A-side a-1", 0.0, 1.5),
        ("A-side b-1", 1.5, pytest.approx(2.7)),
    )
    assert rows[1].pieces == (
        ("A-side b-2", 0.0, 1.2),
        ("A-side a-2", 1.2, pytest.approx(2.7)),
    )
    assert rows[3].pieces[0][0] == "A-side b-4"
    assert rows[0].joints == (1.5,) and rows[1].joints == (1.2,)
    rails = [r.words for r in _splice("rail side").rows()]
    assert rails[:2] == ["front, foot rail", "front, top rail"]
    assert rails[2:] == ["back, foot rail", "back, top rail"]
    front, back = _splice("cap side", count=2).rows()
    assert (front.words, back.words) == ("front, cap", "back, cap")
    assert front.joints == (1.5,) and back.joints == (1.2,)  # the back is turned
    assert [r.words for r in _splice("rail side", count=6).rows()][
        2
    ] == "front, top rail"


def test_words_of_a_splice():
    assert _splice().note == (
        "A side: no board is long enough, so 1500 + 1200 mm meet over a post. Lay one "
        "course from the left and the next from the right."
    )
    even = _splice(lengths=(1.35, 1.35))
    assert even.even and not _splice().even
    assert "back each with a cleat of 400 mm" in even.note
    assert _splice(lengths=(1.0, 0.7, 1.00001)).even
    assert "1350 + 1350 mm meet end to end." in replace(even, over="").note


def test_where_pieces_may_meet():
    """Boards over their posts; caps as much later as they stand out; sleepers anywhere.

    Bed A, 2.7 m, posts at 905.5 and 1794.5 mm: 1794.5 + 905.5 where 1.9 m is the most.
    The cap (2780 mm) stands out 40 mm: 1834.5 + 945.5. Sleepers of 3.0 m: joints every
    10 cm from 0.6 to 2.4 m.
    """
    bed = GARDEN["A"]
    found, notes = spliced(bed, parts(bed), {"larch_140x33": 1.9, "cap_90x22": 1.9})
    sizes = {p.what: (round(p.length, 4), p.count) for p in found}

    assert (sizes["side a"], sizes["side b"]) == ((1.7945, 8), (0.9055, 8))
    assert (sizes["cap side a"], sizes["cap side b"]) == ((1.8345, 2), (0.9455, 2))
    assert [p.label for p in found if p.what == "side a"] == ["A side a"]
    assert {n.over for n in notes} == {"post"}
    sleepers = GARDEN["F"]
    found, (note,) = spliced(sleepers, parts(sleepers), {"sleeper_200x100": 2.45})
    sides = [round(p.length, 6) for p in found if p.what.startswith("side")]
    assert sides == [2.4, 0.6] and note.over == ""
    with pytest.raises(CutError, match="no post to join"):
        spliced(sleepers, parts(sleepers), {"sleeper_200x100": 0.55})


def test_sheets_both_ways_round():
    """B, 2.61 x 0.96 m inside, 720 mm, cover 760, lap 76: 4 + 2 a side, 12 in all.

    Lying: (720 - 76)/760, so one row: 2 of 2.61 m and, between them, 2 of 0.96 m less
    the depth of both, 2 x 18 mm. At 900 mm two rows.
    """
    upright, lying = sheet_ways(GARDEN["B"])

    assert upright.pieces == ((0.72, 12),)
    assert lying.pieces == ((pytest.approx(2.61), 2), (pytest.approx(0.924), 2))
    assert upright.area == pytest.approx(8.64)
    assert lying.area == pytest.approx(2 * 2.61 + 2 * 0.924)
    _, tall = sheet_ways(GARDEN["B"].change(height=Q_(0.9, "m")))
    assert [n for _, n in tall.pieces] == [4, 4]
    assert SheetWay(name="x", pieces=((2.0, 3), (1.0, 1)), asks="").area == 7
    assert Wall.named("sheet").sheet
