"""Size against sums on paper, and outlines against another library (shapely)."""

from __future__ import annotations

from math import acos, degrees

import numpy as np
import pytest
import shapely

import bedcalc as bc
from bedcalc import Q_
from bedcalc.questions.size_plan import compare_shapes, people_fed, posture_at
from bedcalc.size.chapter import (
    assess_size,
    pressure_below,
    reach_needed,
    widest_for_reach,
)
from bedcalc.size.decide import WAYS, advise
from bedcalc.size.plan import detour
from bedcalc.size.posture import bend_angle, clear_height, reach_into, seat_verdict
from bedcalc.size.shapes import KINDS, area_within, outline
from bedcalc.tables import table

GARDEN = bc.demo_garden()
A, B, D = GARDEN["A"], GARDEN["B"], GARDEN["D"]


def _plain(check):
    return check.sentence().replace("\N{NO-BREAK SPACE}", " ")


# -- how big and how heavy ------------------------------------------------------


def test_sizes_of_a_bed():
    """A: 2.7 x 1.05 m outside, boards of 33 mm: 2.634 x 0.984 m; 560 mm high.

    60 mm freeboard, 10 cm of logs under mix: 0.50 m of fill. Moist 6.5 and 11 kN/m3,
    soaked 10.5 and 15: 0.65 + 4.4 = 5.05 and 1.05 + 6.0 = 7.05 kPa.
    """
    layers = (bc.Layer(material="logs", depth=Q_(10, "cm")), bc.Layer(material="mix"))
    bed = A.change(freeboard=Q_(60, "mm"), fill=layers)
    size = assess_size(bed, GARDEN.place).si
    area = 2.634 * 0.984

    assert (size.outside_area, size.perimeter) == pytest.approx((2.835, 7.5))
    assert (size.inside_length, size.inside_width) == pytest.approx((2.634, 0.984))
    assert (size.inside_area, size.inside_volume) == pytest.approx((area, 0.56 * area))
    assert size.fill_volume == pytest.approx(0.50 * area)
    assert size.bearing == pytest.approx(7050)
    assert size.mass_moist == pytest.approx(5050 * area / 9.81, rel=1e-3)
    assert size.mass_soaked == pytest.approx(7050 * area / 9.81, rel=1e-3)
    assert (size.overhang, size.reach) == pytest.approx((0.04, 0.475))
    assert pressure_below.si(15.0, 0.4) == pytest.approx(6.0)


def test_reach_there_and_back():
    """1.05 m from both sides with 40 mm of cap: 565 mm; from one side 1090 mm."""
    assert reach_needed.si(1.05, 0.04, True) == pytest.approx(0.565)
    assert reach_needed.si(1.05, 0.04, False) == pytest.approx(1.09)
    assert widest_for_reach.si(0.565, 0.04, True) == pytest.approx(1.05)
    assert widest_for_reach.si(1.09, 0.04, False) == pytest.approx(1.05)


@pytest.mark.parametrize(
    ("sides", "far", "needed", "width"),
    [("both", "middle", 565, 87), ("one", "far side", 1090, 43)],
)
def test_a_bed_too_wide_says_how_wide_it_may_be(sides, far, needed, width):
    """Children of 9 to 12 reach 475 mm, 500 at a stretch; the cap stands 40 mm out.

    435 mm from one side, 870 mm from both; whole centimetres.
    """
    check = assess_size(A.change(sides=sides), GARDEN.place).checks[0]

    assert _plain(check).startswith(f"The {far} is ")
    assert _plain(check).endswith(" at a stretch.")
    assert check.demand.m_as("mm") == pytest.approx(needed)
    assert check.capacity.m_as("mm") == pytest.approx(500)
    assert not check.ok and check.aim == pytest.approx(475 / 500)
    assert check.fix.change["width"].m_as("cm") == width


def test_no_bed_is_made_narrower_than_40_cm():
    """Children of 3 to 5 from one side: 325 - 40 = 285 mm; adults 560 mm: 56 cm."""
    for users, width in (("child_3_5", None), ("adult", 56)):
        fix = (
            assess_size(A.change(sides="one", users=users), GARDEN.place).checks[0].fix
        )
        assert (fix and fix.change["width"].m_as("cm")) == width


def test_what_the_ground_carries():
    """B full of mix, soaked 15 kN/m3 x 0.72 m = 10.8 kPa, by the soil of the place."""
    check = assess_size(B, GARDEN.place).checks[1]
    unknown = assess_size(B, GARDEN.place.change(soil=None)).checks[1]

    assert check.demand.m_as("kPa") == pytest.approx(10.8)
    assert check.capacity == GARDEN.place.ground.q("bearing") and check.ok
    assert GARDEN.place.ground.name in _plain(check)
    assert "soil not known, taken as clay, carries" in _plain(unknown)
    assert check.note.startswith("Never on a deck") and "Never on" in unknown.note


# -- posture --------------------------------------------------------------------


def test_leaning_by_the_law_of_the_three_lengths():
    """Hip 0.530, shoulder 0.818, arm 0.39 of 1.65 m; hand at 0.5 m: acos by hand."""
    lean = (0.5 + 0.39 * 1.65 - 0.530 * 1.65) / (0.288 * 1.65)

    assert np.rad2deg(bend_angle.si(1.65, 0.5)) == pytest.approx(degrees(acos(lean)))
    # as low as straight legs allow: hip - arm - (shoulder - hip)
    low = (0.530 - 0.39 - 0.288) * 1.65
    assert np.rad2deg(bend_angle.si(1.65, low + 1e-9)) == pytest.approx(180, abs=0.1)
    assert np.isnan(bend_angle.si(1.65, low - 0.01))
    assert bend_angle.si(1.65, clear_height.si(1.65)) == pytest.approx(0, abs=1e-6)


def test_a_bed_in_a_trench_is_lower_for_whoever_works_at_it():
    """B, 720 mm, 60 mm freeboard, 50 mm in the ground: rim at 670, soil at 610 mm.

    Hand at 0.61 m, 1.65 m tall: the lean of that height; more than without the trench.
    Over a knee space: 670 - 685 - 67 = -82 mm.
    """
    bed = B.change(freeboard=Q_(60, "mm"))
    deep, level = (
        posture_at(bed, Q_(1.65, "m"), Q_(50, "mm")),
        posture_at(bed, Q_(1.65, "m")),
    )

    assert (deep.si.rim, deep.si.soil) == pytest.approx((0.67, 0.61))
    assert (level.si.rim, level.si.soil) == pytest.approx((0.72, 0.66))
    assert deep.si.bend == pytest.approx(float(bend_angle.si(1.65, 0.61)))
    assert deep.si.bend > level.si.bend
    assert deep.si.knee_soil == pytest.approx(-0.082)
    assert deep.si.clear == pytest.approx(0.428 * 1.65)
    wide = bed.change(wall=bed.wall.own("wide", "wide cap", cap_wide=Q_(120, "mm")))
    for down, seat in ((250, True), (200, False)):  # rim at 470 and 520 mm
        assert posture_at(wide, Q_(1.65, "m"), Q_(down, "mm")).seat == seat
    assert not posture_at(bed, Q_(1.65, "m"), Q_(250, "mm")).seat  # cap 90 mm


def test_what_stays_out_of_reach():
    """B inside 960 mm, walls 45 mm, cap 25 mm out: adults 600 mm, soil 100 mm down.

    sqrt(600^2 - 100^2) - 25 - 45 = 521.6 mm of 480: all is reached from both sides;
    from one side 960 - 521.6 = 438.4 mm are not. With the reach of children of 3 to 5,
    325 mm: 239.2 mm, twice 480 - 239.2.
    """
    bed = B.change(freeboard=Q_(100, "mm"))
    wall, cap = bed.si.wall_thickness, bed.wall.si.cap_out
    across = (0.6**2 - 0.1**2) ** 0.5 - wall - cap
    both, one = (
        posture_at(bed.change(sides=s), Q_(1.65, "m")).si for s in ("both", "one")
    )

    assert (wall, cap) == pytest.approx((0.045, 0.025))
    assert (both.into, both.middle, both.unreached) == pytest.approx((across, 0.48, 0))
    assert (one.middle, one.unreached) == pytest.approx((0.96, 0.96 - across))
    small = posture_at(bed.change(users="child_3_5"), Q_(1.05, "m")).si
    into = (0.325**2 - 0.1**2) ** 0.5 - wall - cap
    assert (small.into, small.unreached) == pytest.approx((into, 2 * (0.48 - into)))
    assert (
        reach_into.si(0.3, 0.0, 0.0, 0.4) == 0
        and reach_into.si(0.3, 0.2, 0.2, 0.0) == 0
    )


def test_the_curve_of_leaning():
    """0 to 1.1 m in steps of a centimetre, in degrees."""
    found = posture_at(B, Q_(1.65, "m"))

    assert (len(found.heights), found.heights[60]) == (111, pytest.approx(0.6))
    assert found.bends[60] == pytest.approx(39, abs=0.5)  # as by hand elsewhere
    assert found.heights[-1] == pytest.approx(1.1) and found.bends[-1] == 0


def test_depth_for_roots_without_the_wood():
    """20 cm of logs and 10 of brush under 42 cm: 42 cm; rows of data/roots.csv."""
    layers = (
        bc.Layer(material="logs", depth=Q_(20, "cm")),
        bc.Layer(material="brush", depth=Q_(10, "cm")),
        bc.Layer(material="chips", depth=Q_(12, "cm")), bc.Layer(material="mix"),
    )  # fmt: skip
    found = posture_at(B.change(fill=layers), Q_(1.65, "m"))

    assert found.si.depth == pytest.approx(0.42)
    for name, low, high, fits in found.roots:
        row = next(r for r in table("roots") if r.name == name)
        assert (low, high, fits) == (row.low, row.high, row.low <= 0.42 + 1e-9)
    assert {fits for *_, fits in found.roots} == {True, False}
    exact = posture_at(B.change(height=Q_(300, "mm")), Q_(1.65, "m")).roots
    assert all(fits for _, low, _, fits in exact if low == 0.3)


def test_words_on_leaning():
    """1.65 m at 0.60 m: 39 degrees; 60 are the most, half of that is the aim."""
    check = posture_at(B.change(height=Q_(600, "mm")), Q_(1.65, "m")).checks[0]

    assert _plain(check).startswith(
        "With a hand on the soil the trunk leans 39°; past 60°"
    )
    assert check.demand.m_as("deg") == pytest.approx(39.1, abs=0.1)
    assert (check.capacity.m_as("deg"), check.aim) == (pytest.approx(60), 0.5)
    # nobody of 2.6 m touches the ground with straight legs: no verdict
    assert [c.name for c in posture_at(B, Q_(1.65, "m")).checks] == ["bend"]


def test_words_for_people_on_wheels():
    """Rim 800 mm against 865 (ADA 308.3.2); 48 mm of soil are left over the knees.

    A rim 10 mm into the ground leaves 38; at 700 mm nothing: said as 0, not below.
    """
    found = {c.name: c for c in posture_at(D, Q_(1.3, "m")).checks}
    deep = {c.name: c for c in posture_at(D, Q_(1.3, "m"), Q_(10, "mm")).checks}
    low = {c.name: c for c in posture_at(D, Q_(1.3, "m"), Q_(100, "mm")).checks}

    assert _plain(found["rim"]).startswith("The rim is 800 mm high;")
    assert found["rim"].ok and found["rim"].capacity.m_as("mm") == pytest.approx(865)
    assert "would leave 48 mm of soil" in _plain(found["knees"])
    assert deep["rim"].demand.m_as("mm") == pytest.approx(790)
    assert deep["knees"].capacity.m_as("mm") == pytest.approx(38)
    assert "would leave 0 mm of soil" in _plain(low["knees"])
    assert not low["knees"].ok and low["knees"].capacity.m > 0
    assert "would leave 0.00 in of soil" in low["knees"].sentence("us").replace(
        "\N{NO-BREAK SPACE}", " "
    )


@pytest.mark.parametrize(
    ("height", "cap", "seat"),
    [(0.40, 0.10, True), (0.50, 0.10, True), (0.399, 0.10, False), (0.501, 0.10, False),
     (0.45, 0.099, False)],
)  # fmt: skip
def test_where_people_sit(height, cap, seat):
    """400 to 500 mm high, a cap of 100 mm; the marks themselves count."""
    assert bool(seat_verdict.si(height, cap)) == seat


# -- outlines -------------------------------------------------------------------

SIZES = [
    (2.4, 2.1, 0.9, 0.6, 0.5),
    (3.0, 1.8, 0.7, 0.8, 0.3),
    (1.6, 2.4, 0.5, 0.4, 0.2),
]


@pytest.mark.parametrize("sizes", SIZES)
@pytest.mark.parametrize("kind", KINDS)
def test_outlines_by_another_library(kind, sizes):
    """Area, perimeter, walls and reach of the same corners by shapely.

    Within reach is what lies outside the outline moved inwards by the reach; the raster
    of 2 cm is good for 2 % of the area.
    """
    length, width, _, _, reach = sizes
    found = outline(kind, *sizes)
    other = shapely.Polygon(found.ring)

    assert other.is_valid
    assert other.bounds == pytest.approx((0, 0, length, width))
    assert (found.area, found.perimeter) == pytest.approx((other.area, other.length))
    left = other.buffer(-reach).area / other.area
    assert found.reached == pytest.approx(1 - left, abs=0.02)
    inner = other.buffer(-0.05, join_style="mitre").area
    assert area_within(found.ring, 0.05) == pytest.approx(inner)
    assert area_within(found.ring[::-1], 0.05) == pytest.approx(inner)
    points = shapely.points(found.points)
    assert other.covers(points).all()
    assert len(points) * 0.02**2 == pytest.approx(other.area, rel=0.03)
    assert (
        found.near == (other.exterior.distance(points) <= reach + 1e-9)
    ).mean() > 0.999


def test_corners_of_every_outline():
    """3 x 2 m, arms 0.8, bay 0.6: by hand; six sides: cut 1 / sqrt(3)."""
    rings = {
        k: outline(k, 3.0, 2.0, 0.8, 0.6, 0.5).ring.round(3).tolist() for k in KINDS
    }

    assert rings["box"] == [[0, 0], [3, 0], [3, 2], [0, 2]]
    assert rings["L"] == [[0, 0], [3, 0], [3, 0.8], [0.8, 0.8], [0.8, 2], [0, 2]]
    assert rings["U"] == [[0, 0], [3, 0], [3, 2], [2.2, 2], [2.2, 0.8], [0.8, 0.8],
                          [0.8, 2], [0, 2]]  # fmt: skip
    assert rings["keyhole"] == [[0, 0], [3, 0], [3, 2], [1.8, 2], [1.8, 0.8],
                                [1.2, 0.8], [1.2, 2], [0, 2]]  # fmt: skip
    assert rings["hexagon"] == [[0.577, 0], [2.423, 0], [3, 1], [2.423, 2], [0.577, 2],
                                [0, 1]]  # fmt: skip


def test_an_arm_as_wide_as_the_bed_is_a_box():
    """Sides of no length count for nothing; the short hexagon ends in points."""
    for kind in ("L", "U", "keyhole"):
        found = outline(kind, 2.0, 1.0, 1.5, 0.6, 0.3)
        assert found.area == pytest.approx(2.0)
        assert area_within(found.ring, 0.1) == pytest.approx(1.8 * 0.8)
        assert found.reached == pytest.approx(1 - 1.4 * 0.4 / 2.0, abs=0.02)
    point = outline("hexagon", 1.0, 4.0, 0.5, 0.5, 0.3).ring
    assert point[0][0] == point[1][0] == 0.5
    assert area_within(outline("box", 3.0, 0.2, 0.5, 0.5, 0.3).ring, 0.12) == 0


def test_outlines_side_by_side():
    found = compare_shapes(*(Q_(v, "cm") for v in (240, 210, 90, 60, 50)))

    assert [o.kind for o in found.outlines] == list(KINDS) and found.reach == 0.5
    by_hand = [outline(k, 2.4, 2.1, 0.9, 0.6, 0.5).area for k in KINDS]
    assert [o.area for o in found.outlines] == by_hand
    assert detour(Q_(2.7, "m"), Q_(1.05, "m")).m_as("m") == pytest.approx(3.75)


# -- advice ---------------------------------------------------------------------


def test_points_by_hand():
    """Stand 4 -1 -3, stands 2 2 -3, little money -3 0 2: 3, 1, -4; 2 apart is clear."""
    found = advise({"access": "stand", "drainage": "stands", "budget": "small"})

    assert found.points == {"raised": 3, "low": 1, "ground": -4}
    assert (found.best, found.close) == ("raised", False) and set(found.points) == set(
        WAYS
    )
    # bend 0 1 2, some 1 1 0: 1, 2, 2: near
    near = advise({"access": "bend", "food": "some"})
    assert near.points == {"raised": 1, "low": 2, "ground": 2} and near.close
    assert [row.key for row in found.reasons] == [
        row.key for row in table("decide")
        if row.key in ("access.stand", "drainage.stands", "budget.small") and row.why
    ]  # fmt: skip
    assert advise({}).points == {"raised": 0, "low": 0, "ground": 0}


def test_people_by_area():
    """12 m2 at so many square metres each (data/growing_area.csv)."""
    for (name, low, high), row in zip(
        people_fed(Q_(12, "m^2")), table("growing_area"), strict=True
    ):
        assert (name, low, high) == (row.name, 12 / row.high, 12 / row.low)


def test_the_reach_is_told_from_the_edge_that_there_is():
    """Bed A has a cap that stands out, the sleepers of bed F have none."""
    garden = bc.demo_garden()
    said = {n: bc.evaluate(garden[n], garden.place).check("reach").says for n in "AF"}

    assert "from the edge of the cap;" in said["A"]
    assert "from the edge;" in said["F"]
