"""Size: outlines, areas and reach against a geometry library; printed sizes."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import optimize
from shapely import LineString, Point, Polygon, box

import bedcalc as bc
from bedcalc.size.posture import bend_angle, clear_height, reach_into
from bedcalc.size.shapes import KINDS, area_within, outline
from bedcalc.tables import table
from tests.validation.kinds import outside
from tests.validation.printed import printed

CHAPTER = "size"
OTHERS = "own derivation"

SHAPES = [(kind, 3.2, 2.6, 0.9, 0.7, 0.5) for kind in KINDS]
GARDEN = bc.demo_garden()


@outside("library", "outline", "shapely")
@pytest.mark.parametrize("given", SHAPES, ids=KINDS)
def test_outlines(given):
    """Area, length of wall and share within reach; a raster of 2 cm knows 0.5 %."""
    found, ring = outline(*given), Polygon(outline(*given).ring)

    assert found.area == pytest.approx(ring.area, rel=1e-12)
    assert found.perimeter == pytest.approx(ring.length, rel=1e-12)
    near = 1 - ring.buffer(-given[-1]).area / ring.area
    assert found.reached == pytest.approx(near, abs=0.01)


@outside("library", "area_within", "shapely")
@pytest.mark.parametrize("given", SHAPES, ids=KINDS)
def test_growing_area_inside_walls(given):
    ring = outline(*given).ring
    inside = Polygon(ring).buffer(-0.1, join_style="mitre", mitre_limit=9)

    assert area_within(ring, 0.1) == pytest.approx(inside.area, rel=1e-9)


@outside("library", "assess_size", "shapely")
@pytest.mark.parametrize("name", "ABCDE")
def test_inside_and_covered_area_of_the_demo_beds(name):
    bed = GARDEN[name]
    size = bc.evaluate(bed, GARDEN.place).size.si
    ground = box(0, 0, bed.si.length, bed.si.width)
    inside = ground.buffer(-bed.si.wall_thickness, join_style="mitre")

    assert size.outside_area == pytest.approx(ground.area)
    assert size.inside_area == pytest.approx(inside.area)
    assert size.perimeter == pytest.approx(ground.length)


@outside("library", "bend_angle", "scipy")
@pytest.mark.parametrize("hand", [0.05, 0.2, 0.35, 0.5, 0.65])
def test_lean_of_the_trunk_by_turning_it_until_the_hand_is_there(hand):
    """A trunk that turns about the hip, an arm that hangs: solved, not inverted."""
    rows, tall = table("body"), 1.72
    trunk = (rows["shoulder"].share - rows["hip"].share) * tall

    def height(lean):
        shoulder = rows["hip"].share * tall + trunk * np.cos(lean)
        return shoulder - rows["arm"].share * tall - hand

    lean = optimize.brentq(height, 0, np.pi)
    assert bend_angle.si(tall, hand) == pytest.approx(lean, abs=1e-9)


@outside("library", "reach_into", "shapely")
@pytest.mark.parametrize(
    ("reach", "down", "over", "wall"),
    [(0.6, 0.0, 0.04, 0.045), (0.6, 0.1, 0.04, 0.045), (0.5, 0.3, 0.0, 0.033),
     (0.45, 0.2, 0.0, 0.15), (0.65, 0.25, 0.05, 0.1)],
)  # fmt: skip
def test_how_far_an_arm_comes(reach, down, over, wall):
    """A circle about the edge of the cap meets the level of the soil."""
    arm = Point(0, 0).buffer(reach, quad_segs=20000)
    soil = LineString([(0, -down), (2, -down)]).intersection(arm)

    across = reach_into.si(reach, over, wall, down)
    assert across == pytest.approx(soil.length - over - wall, abs=1e-6)


@outside("library", "clear_height", "scipy")
@pytest.mark.parametrize("tall", [1.2, 1.65, 1.9])
def test_height_from_which_nobody_bends(tall):
    """The hand height at which the lean just becomes nothing."""
    found = optimize.brentq(
        lambda hand: bend_angle.si(tall, hand) - 1e-4, 0.3 * tall, 0.6 * tall
    )
    assert clear_height.si(tall) == pytest.approx(found, abs=1e-4)


@outside("printed", "table body", "ada_2010", facts=3)
def test_sizes_of_the_ada_standards():
    """306.3: knee clearance 27 in; 306.3.5: 30 in wide; 308.3.2: 34 in.

    The standard's own millimetres are rounded down: 685, 760, 865.
    """
    for key, inches, mm in (
        ("knee_high", 27, "685"), ("knee_wide", 30, "760"), ("rim_side", 34, "865"),
    ):  # fmt: skip
        length = table("body")[key].q("length")
        assert length.m_as("mm") == printed(mm)
        assert length.m_as("inch") == pytest.approx(inches, abs=0.1)


@outside("printed", "table people", "ada_2010", facts=1)
def test_reach_over_an_obstruction():
    """308.3.2: 24 in, 610 mm, deep at most."""
    seated = next(r for r in table("people") if r.source == "ada_2010")
    assert seated.q("reach").m_as("mm") == printed("610")


@outside("printed", "table roots", "fao56")
@pytest.mark.parametrize(
    ("key", "low", "high"),
    [("lettuce", "0.3", "0.5"), ("strawberry", "0.2", "0.3"), ("carrot", "0.5", "1.0"),
     ("tomato", "0.7", "1.5"), ("potato", "0.4", "0.6")],
)  # fmt: skip
def test_depth_of_roots(key, low, high):
    """FAO-56, Table 22, pages 163 to 165."""
    row = table("roots")[key]
    assert (row.low, row.high) == (printed(low), printed(high))


@outside("from memory", "table body", "winter_2009", facts=3)
def test_shares_of_body_height():
    """Winter, figure 4.1: hip 0.530, shoulder 0.818 of the height.

    Upper arm 0.186, forearm 0.146 and half a hand 0.108: to the palm 0.386, here 0.39.
    """
    rows = table("body")
    assert rows["hip"].share == printed("0.530")
    assert rows["shoulder"].share == printed("0.818")
    assert rows["arm"].share == pytest.approx(0.186 + 0.146 + 0.108 / 2, abs=0.005)
