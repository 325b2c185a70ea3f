"""One assembly: cut list, bill, drawings and weights read the same pieces."""

from __future__ import annotations

from collections import Counter
from itertools import combinations

import numpy as np
import pytest

from bedcalc import Q_, Bed, Wall, demo_garden, evaluate
from bedcalc.assembly import assembly, layout, levels, post_axes
from bedcalc.cost.besides import besides_of
from bedcalc.cost.counting import SMALL, fixings, tie_goods, work
from bedcalc.cutting.cut_list import parts, tie_part
from bedcalc.printing.facts import crossings
from tests.properties.any_beds import random_bed

DEMO = demo_garden()


def _random(number: int, seed: int) -> list[Bed]:
    draw, found = np.random.default_rng(seed), []
    while len(found) < number:
        try:
            found.append(random_bed(draw))
        except ValueError:  # refused at the door
            continue
    return found


BEDS = [*DEMO, *_random(60, 11)]


def _overlap(one, other) -> float:
    """The least of the three lengths that two boxes share."""
    (a0, a1, b0, b1, c0, c1), (d0, d1, e0, e1, f0, f1) = one.box, other.box
    return min(
        min(a1, d1) - max(a0, d0), min(b1, e1) - max(b0, e0), min(c1, f1) - max(c0, f0)
    )


@pytest.mark.parametrize("bed", BEDS, ids=lambda b: f"{b.name}-{b.wall.family}")
def test_the_cut_list_holds_every_member_once(bed):
    made = assembly(bed)
    listed = Counter()
    for part in parts(bed):
        listed[part.what] += part.count
    there = Counter(m.what for m in made.members if m.what != "block" and m.length > 0)

    assert listed == there
    names = [name for part in parts(bed) for name in part.names()]
    assert len(set(names)) == len(names)


@pytest.mark.parametrize("bed", BEDS, ids=lambda b: f"{b.name}-{b.wall.family}")
def test_bill_sheet_and_assembly_count_the_same_screws_and_ties(bed):
    made, spare = assembly(bed), 1 + work("screw_spare")
    bill = {k: v / spare for k, v in fixings(bed).items() if k.startswith("screw")}
    sheet = Counter()
    for _, goods, joints, each in crossings(evaluate(bed, DEMO.place)):
        sheet[goods] += joints * each

    assert dict(sheet) == made.screws()
    bill |= {key: made.screws()[key] for key in SMALL if key in made.screws()}
    assert made.screws() == pytest.approx(bill)
    besides = sum(b.number for b in besides_of(bed) if b.name.startswith("screws"))
    assert besides == sum(made.screws().get(key, 0) for key in SMALL)
    number = len(made.ties)
    assert number == int(bed.ties) + int(bed.base_ties)
    assert tie_goods(bed) == (
        {"plate": 2 * number, "nut": 4 * number} if number else {}
    )
    assert sum(p.count for p in tie_part(bed, 0.1)) == number


@pytest.mark.parametrize("bed", BEDS, ids=lambda b: f"{b.name}-{b.wall.family}")
def test_courses_fill_the_wall_from_foot_to_rim(bed):
    if bed.wall.family == "sheet":
        return
    rows, step = levels(bed), bed.wall.si.course or bed.wall.block_row.course

    assert rows[-1][1] == pytest.approx(float(bed.si.height))
    for (_, top), (low, _) in zip(rows, rows[1:], strict=False):
        assert low == pytest.approx(top)
    assert all(
        b - a == pytest.approx(step) for a, b in rows[:-1]
    )  # only the top is cut
    assert 0 < rows[-1][1] - rows[-1][0] <= step + 1e-9


@pytest.mark.parametrize(
    "bed",
    [
        b
        for b in BEDS
        if b.wall.family in ("boards", "sleepers", "blocks")
        and (b.wall.family != "boards" or layout(b).post_gap > 2 * b.wall.si.post)
    ],
    ids=lambda b: f"{b.name}-{b.wall.family}",
)
def test_no_two_pieces_are_in_one_place(bed):
    """All but the mitred cap, whose boxes are drawn with the mitre filled up.

    Left out: beds with so many ties that their posts stand shoulder to shoulder.
    """
    solid = [m for m in assembly(bed).members if not m.angle]

    for one, other in combinations(solid, 2):
        assert _overlap(one, other) < 1e-6, (one.what, other.what, one.box, other.box)


@pytest.mark.parametrize("size", [(2.0, 1.0), (1.27, 0.83), (3.96, 1.2)])
def test_blocks_close_the_ring(size):
    """The volume of all blocks is that of the ring: 2 t (L + W - 2 t) H."""
    length, width = size
    bed = Bed(
        name="E", length=Q_(length, "m"), width=Q_(width, "m"), height=Q_(580, "mm"),
        wall=Wall.named("blocks"),
    )  # fmt: skip
    t = bed.si.wall_thickness
    volume = sum(
        (m.box[1] - m.box[0]) * (m.box[3] - m.box[2]) * (m.box[5] - m.box[4])
        for m in assembly(bed).of("block")
    )

    assert volume == pytest.approx(2 * t * (length + width - 2 * t) * 0.58)


def test_a_corner_post_of_sheet_stands_behind_the_ribs():
    """Bed B: rail 45 mm, sheet 18 mm, half a post 35 mm: its axis 98 mm in."""
    axes = post_axes(DEMO["B"])

    assert axes[0] == pytest.approx(0.098)
    posts = assembly(DEMO["B"]).of("post")
    assert min(p.box[2] for p in posts) == pytest.approx(0.045 + 0.018)
    assert len(posts) == 2 * len(axes)


def test_twelve_pins_hold_the_sleepers_of_bed_f():
    """One near each end of sides and ends, every 1.2 m between: 2 (2+2) + 2 (2+0)."""
    made = assembly(DEMO["F"])

    assert len(made.pins) == 12
    for pin in made.pins:
        through = [
            m for m in made.members
            if m.box[0] <= pin.x <= m.box[1] and m.box[2] <= pin.y <= m.box[3]
        ]  # fmt: skip
        assert len(through) == len(levels(DEMO["F"]))


@pytest.mark.parametrize("bed", BEDS, ids=lambda b: f"{b.name}-{b.wall.family}")
def test_every_screw_of_boards_and_rails_meets_a_piece(bed):
    """Heads lie on the outer face of the board, rail or cap that they hold."""
    made = assembly(bed)
    for joint in made.joints:
        if joint.where.startswith("each floor rail") and bed.si.length < 0.6:
            continue  # bearers of legs that stand shoulder to shoulder
        for x, y, z in joint.screws:
            assert any(
                m.box[0] - 1e-6 <= x <= m.box[1] + 1e-6
                and m.box[2] - 1e-6 <= y <= m.box[3] + 1e-6
                and m.box[4] - 1e-6 <= z <= m.box[5] + 1e-6
                for m in made.members
            ), joint
