"""Beds can be built as they are placed: nothing clashes, nothing sticks out or floats.

Nothing here needs a source: a piece of wood cannot be where another one is.
"""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest

from bedcalc import Bed, demo_garden
from bedcalc.assembly import assembly, bands, floor_of, layout, post_axes, sheet_depth
from bedcalc.cost.besides import besides_of
from bedcalc.tables import table
from tests.properties.any_beds import random_bed

DEMO = demo_garden()
NEAR = 1e-6


def _random(number: int, seed: int) -> list[Bed]:
    draw, found = np.random.default_rng(seed), []
    while len(found) < number:
        try:
            bed = random_bed(draw)
        except ValueError:  # refused at the door
            continue
        # so many ties that posts stand shoulder to shoulder: nobody builds that
        crowded = bed.wall.si.post and layout(bed).post_gap < 2 * bed.wall.si.post + 0.2
        # a trough whose soil reaches the ground has no legs, and no floor under it
        sunk = bed.wall.family == "trough" and floor_of(bed) < 0.2
        if not crowded and not sunk and bed.si.inside_width > 0.3:
            found.append(bed)
    return found


BEDS = [*DEMO, *_random(60, 23)]


def _name(bed: Bed) -> str:
    return f"{bed.name}-{bed.wall.family}"


def _shared(one, other) -> float:
    """The least of the three lengths that two boxes share; below zero: a gap."""
    return min(
        min(one[2 * k + 1], other[2 * k + 1]) - max(one[2 * k], other[2 * k])
        for k in range(3)
    )


def _inside(point, box) -> bool:
    return all(box[2 * k] + NEAR < point[k] < box[2 * k + 1] - NEAR for k in range(3))


@pytest.mark.parametrize("bed", BEDS, ids=_name)
def test_no_two_pieces_are_in_one_place(bed):
    """All but the mitred cap, and sheets that lap each other."""
    solid = [m for m in assembly(bed).members if not m.angle]

    for one, other in combinations(solid, 2):
        laps = one.what.startswith("sheet") and other.what == one.what
        if laps and one.wall == other.wall:
            continue
        assert _shared(one.box, other.box) < NEAR, (one, other)


@pytest.mark.parametrize("bed", BEDS, ids=_name)
def test_every_screw_ends_inside_a_piece(bed):
    made = assembly(bed)
    boxes = [m.box for m in made.members if not m.what.startswith("sheet")]

    for joint in made.joints:
        for point in joint.points:
            assert any(_inside(point, box) for box in boxes), (joint, point)


@pytest.mark.parametrize("bed", BEDS, ids=_name)
def test_screws_that_meet_in_a_corner_pass_each_other(bed):
    """Axes of the screws of a side and an end are a screw's thickness apart."""
    ways: dict[tuple, list] = {}
    for joint in assembly(bed).joints:
        ways.setdefault(joint.way, []).extend(
            zip(joint.screws, joint.points, strict=True)
        )
    for one, other in combinations(ways, 2):
        if abs(np.dot(one, other)) > 0.1 or abs(one[2]) + abs(other[2]) > 0.1:
            continue
        slim = [low for low, high in bands(bed) if high - low < 0.045]
        for a, b in ways[one]:
            if any(low <= a[2] <= low + 0.045 for low in slim):
                continue  # a strip too slim for screws; the sheet says so
            for c, d in ways[other]:
                box = [(min(p, q), max(p, q)) for p, q in zip(a, b, strict=True)]
                far = [(min(p, q), max(p, q)) for p, q in zip(c, d, strict=True)]
                gaps = [
                    max(u[0], v[0]) - min(u[1], v[1])
                    for u, v in zip(box, far, strict=True)
                ]
                assert max(gaps) > 0.005 or bed.rail_lying, (a, b, c, d)


@pytest.mark.parametrize(
    "bed", [b for b in BEDS if b.wall.family == "sheet"], ids=_name
)
def test_every_edge_of_a_sheet_is_covered(bed):
    """The top edge under the cap, the outer edges in front of a corner post."""
    made, s, wall = assembly(bed), bed.si, bed.wall.si
    deep, pitch = sheet_depth(bed), table("sheets")[bed.wall.sheet].pitch
    covered = wall.cap_wide - wall.cap_out >= s.wall_thickness + deep - NEAR
    trimmed = any("trim" in b.name for b in besides_of(bed))
    assert covered != trimmed
    if bed.ribs_lying:
        return
    posts = made.of("post")
    for wall_ in ("front", "back", "left", "right"):
        sheets = sorted(
            (m for m in made.of("sheet") if m.wall == wall_), key=lambda m: m.box
        )
        at = 0 if wall_ in ("front", "back") else 2
        low, high = sheets[0].box[at], sheets[-1].box[at + 1]
        assert any(p.box[at] <= low + 0.04 and p.box[at + 1] > low for p in posts)
        assert any(p.box[at] < high and p.box[at + 1] >= high - 0.04 for p in posts)
        for one, other in zip(sheets, sheets[1:], strict=False):
            assert one.box[at + 1] - other.box[at] == pytest.approx(pitch)
        for sheet in sheets:  # cut along a valley: a whole number of ribs
            ribs = (sheet.box[at + 1] - sheet.box[at]) / pitch
            assert ribs == pytest.approx(round(ribs), abs=1e-6) or len(sheets) == 1


@pytest.mark.parametrize("bed", BEDS, ids=_name)
def test_every_piece_touches_another_or_the_ground(bed):
    made = assembly(bed)
    boxes = [m.box for m in made.members]

    for n, box in enumerate(boxes):
        on_ground = box[4] < NEAR
        touches = any(
            _shared(box, other) > -NEAR for k, other in enumerate(boxes) if k != n
        )
        assert on_ground or touches, made.members[n]


@pytest.mark.parametrize(
    "bed", [b for b in BEDS if b.wall.family == "trough"], ids=_name
)
def test_the_floor_of_a_trough_lies_on_something(bed):
    """Slats on rails, rails on bearers, bearers between their legs."""
    made = assembly(bed)
    for upper, lower in (("slat", "floor rail"), ("short slat", "floor rail"),
                         ("floor rail", "floor bearer")):  # fmt: skip
        for piece in made.of(upper):
            x0, x1, y0, y1, z0, _ = piece.box
            below = (x0, x1, y0, y1, z0 - 0.001, z0)
            held = [m for m in made.of(lower) if _shared(below, m.box) > NEAR]
            assert len(held) >= 2, (upper, piece)
    legs = made.of("post")
    for bearer in made.of("floor bearer"):
        assert sum(abs(_shared(bearer.box, leg.box)) < NEAR for leg in legs) == 2
    assert len(made.of("floor bearer")) == len(post_axes(bed))
