"""The plan of a sloping plot against sums on paper: beds, paths, verdicts, the hose.

The ground is one plane that falls 6 % to the right and 8 % down the plan: 10 % in all
(6-8-10), towards atan(6/8) = 36.87 degrees from down. Beds are 2.4 m by 1.0 m, 500 mm
high, their lowest corner 50 mm in the ground; readings are 1.2 m where x and y are 0.
"""

from __future__ import annotations

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.model.place import Survey
from bedcalc.model.plot import Thing, rectangle
from bedcalc.questions.site_plan import plan_site
from bedcalc.site.checks import clashes
from bedcalc.site.levelling import (
    RULES,
    cut_and_fill,
    slope_advice,
    steps_needed,
    strip_volume,
    underside,
)
from bedcalc.site.survey import repeat_gap, suspect
from tests.site.own_plots import bed, survey

PLOT = rectangle(10, 8, downhill=180)


def hill(**known) -> bc.Place:
    """The plot of 10 m by 8 m on its slope."""
    given = dict(plot=PLOT, survey=survey(-0.06, -0.08))
    return bc.Place(name="Hill", **(given | known))


A, B, C = bed("A", 1, 1), bed("B", 4.6, 1), bed("C", 1, 3.5)


@pytest.fixture(scope="module")
def plan():
    return plan_site((A, B, C), hill())


def said(plan, name: str) -> str:
    """The sentence of a verdict, with plain spaces."""
    return plan.check(name).sentence().replace("\N{NO-BREAK SPACE}", " ")


def test_slope_of_the_plot(plan):
    """6-8-10: 1 in 10, turned by atan(6/8) = 36.87 degrees; 3 x 2.4 of 80 m2 built."""
    si = plan.si

    assert (si.slope_x, si.slope_y, si.slope) == pytest.approx((-0.06, -0.08, 0.1))
    assert si.plane == pytest.approx((-1.2, -0.06, -0.08))
    assert si.one_in == pytest.approx(10)
    assert plan.turned.m_as("deg") == pytest.approx(36.87, abs=0.005)
    assert si.bed_share == pytest.approx(7.2 / 80)
    inside = A.si.inside_length * A.si.inside_width
    assert si.growing_share == pytest.approx(3 * inside / 80)
    assert said(plan, "slope").startswith(
        "The ground falls 10.0 % to the bottom right of the plan, south-east: steep."
    )
    assert plan.check("slope").capacity.m_as("percent") == pytest.approx(20)


def test_level_ground_is_one_in_nothing():
    level = plan_site((A, B), hill(survey=survey(0, 0)))

    assert np.isinf(level.one_in) and level.si.turned == 0
    assert {gap.lower for gap in level.gaps} == {None}
    assert [gap.at_rims for gap in level.gaps] == pytest.approx([1.2])
    assert level.check("slide") is None and level.check("contour") is None
    assert not any(word in said(level, "slope") for word in ("top", "bottom", "right"))


def test_trench_of_a_bed(plan):
    """Ground at the corners of A: -1.340, -1.484, -1.564, -1.420 m, by hand.

    Underside 50 mm under the lowest, -1.614: depths 274, 130, 50, 194 mm, mean 162;
    2.4 x 1.0 x 0.162 = 0.3888 m3, a quarter more on the heap. A strip of 0.25 m: sides
    times mean depths 1.1016 m2, corners counted once: 0.25 x 1.1016 - 0.0625 x 0.648.
    """
    one = plan["A"].si

    assert one.ground == pytest.approx([-1.340, -1.484, -1.564, -1.420])
    assert (one.underside, one.staff, one.floor) == pytest.approx(
        (-1.614, 1.614, 1.614)
    )
    assert one.depths == pytest.approx([0.274, 0.130, 0.050, 0.194])
    assert one.dig == pytest.approx(one.depths)
    assert one.exposed == pytest.approx([0.226, 0.370, 0.450, 0.306])
    assert (one.fall, one.block) == pytest.approx((0.224, 0))
    assert (one.cut, one.heap, one.fill) == pytest.approx((0.3888, 0.486, 0))
    assert one.strip == pytest.approx(0.25 * 1.1016 - 0.0625 * 0.648)
    assert (one.fall_along, one.fall_across) == pytest.approx((0.06, 0.08))
    assert one.corners.tolist() == [[1, 1], [3.4, 1], [3.4, 2], [1, 2]]
    assert (one.length, one.width, one.height) == pytest.approx((2.4, 1.0, 0.5))
    assert plan.si.cut == pytest.approx(3 * 0.3888)
    assert plan.si.heap == pytest.approx(3 * 0.486)


def test_box_that_is_made_level(plan):
    """5-12-13 for the diagonal; H sin and W (1 - cos) of atan(0.08), by hand."""
    one = plan["A"].si
    sine, cosine = 0.08 / 1.0064**0.5, 1 / 1.0064**0.5

    assert one.diagonal == pytest.approx(2.6)
    assert one.shift == pytest.approx(0.5 * sine)
    assert one.shorten == pytest.approx(1.0 * (1 - cosine))


@pytest.mark.parametrize(
    ("sizes", "strip", "steps"),
    [
        ({}, 0.25, 1),
        ({"length": Q_(6, "m")}, 0.25, 3),
        ({"width": Q_("0.4 m")}, 0.2, 1),
    ],
)
def test_narrow_and_long_beds(sizes, strip, steps):
    """6 m x 6 % = 360 mm in parts of 150 mm: 3; a strip is half the width at most."""
    one = plan_site((bed("A", 1, 1, **sizes),), hill())["A"].si
    volume = strip_volume.si(one.length, one.width, one.dig, strip)

    assert one.steps == steps
    assert one.strip == pytest.approx(float(volume))


def test_a_turned_bed_takes_the_other_slope():
    """Its long side runs down the page: 8 % along, 6 % across; advice is by the 6 %."""
    one = plan_site((bed("A", 1, 1, turned=True),), hill())["A"].si

    assert (one.length, one.width) == pytest.approx((1.0, 2.4))
    assert (one.fall_along, one.fall_across) == pytest.approx((0.08, 0.06))
    assert one.corners.tolist() == [[1, 1], [2, 1], [2, 3.4], [1, 3.4]]
    assert one.fall == pytest.approx(0.06 * 1.0 + 0.08 * 2.4)
    assert (one.advice.key, one.steps) == ("clear", 2)  # 8 % of 2.4 m are 192 mm


def test_paths_between_the_beds(plan):
    """A to B: 4.6 - 3.4 = 1.2 m beside y 1 to 2; A to C: 3.5 - 2.0 = 1.5 m.

    A tape on the ground reads sqrt(1 + s2) as much. The lower box, 500 mm high, leans
    500 sin(atan s) away from the path while it lies on the slope.
    """
    beside, below = plan.gaps

    assert (beside.name, beside.across, beside.between) == ("A–B", "x", ("A", "B"))
    assert (below.name, below.across, below.between) == ("A–C", "y", ("A", "C"))
    assert (beside.width, *beside.at) == pytest.approx((1.2, 3.4, 4.6))
    assert (below.width, *below.at) == pytest.approx((1.5, 2.0, 3.5))
    assert (beside.start, beside.end) == pytest.approx((1, 2))
    assert (below.start, below.end) == pytest.approx((1, 3.4))
    assert beside.tape == pytest.approx(1.2 * 1.0036**0.5)
    assert below.tape == pytest.approx(1.5 * 1.0064**0.5)
    assert beside.at_rims == pytest.approx(1.2 + 0.5 * 0.06 / 1.0036**0.5)
    assert below.at_rims == pytest.approx(1.5 + 0.5 * 0.08 / 1.0064**0.5)
    assert (beside.lower, below.lower) == ("B", "C")
    assert (beside.fits.key, below.fits.key) == ("wheelchair", "two")


def test_on_ground_that_rises_the_lower_bed_is_the_first():
    plan = plan_site((A, B, C), hill(survey=survey(0.06, 0.08)))

    assert [gap.lower for gap in plan.gaps] == ["A", "A"]
    assert plan.gaps[0].at_rims == pytest.approx(1.2 + 0.5 * 0.06 / 1.0036**0.5)


@pytest.mark.parametrize(
    ("x", "y", "found"),
    [
        (3.4, 1, 1),  # they touch: a path of no width
        (4.6, 1.94, 1),  # side by side along 6 cm
        (4.6, 1.96, 0),  # 4 cm: they do not face each other
        (4.6, 0.06, 1),
        (4.6, 0.04, 0),
    ],
)
def test_which_beds_face_each_other(x, y, found):
    assert len(plan_site((A, bed("B", x, y)), hill()).gaps) == found


def test_only_what_is_next_to_a_bed_makes_a_path():
    """The nearest and what lies up to half a metre behind it; not the next row."""
    near, beside = bed("B", 4.6, 0.2), bed("C", 5.0, 1.4)
    far = bed("D", 5.2, 1.4)
    one = plan_site((A, near, beside), hill()).gaps
    other = plan_site((A, near, far), hill()).gaps

    assert [g.name for g in one if g.across == "x"] == ["A–B", "A–C"]
    assert [g.name for g in other if g.across == "x"] == ["A–B"]


@pytest.mark.parametrize("wheel", ["barrow", "wheelchair", "two"])
def test_the_narrowest_path_and_who_needs_it(wheel):
    """Paths of 1.2 and 1.5 m; 750, 915 and 1500 mm are wanted (data/paths.csv)."""
    plan = plan_site((A, B, C), hill(), wheel=wheel)
    who = {"barrow": "a wheelbarrow needs 75 cm",
           "wheelchair": "a wheelchair needs 92 cm",
           "two": "two people side by side need 150 cm"}[wheel]  # fmt: skip

    assert said(plan, "path") == f"The narrowest path is A–B, 120 cm; {who}."
    assert plan.check("path").ok == (wheel != "two")
    cross = plan.check("cross")
    assert (cross is None) == (wheel != "wheelchair")
    if cross:  # the larger of 6 and 8 %, and 1 in 48
        assert cross.demand.m_as("percent") == pytest.approx(8)
        assert cross.capacity.m_as("percent") == pytest.approx(100 / 48, abs=0.001)


def test_a_path_set_by_the_rim_of_a_tilted_box(plan):
    """Down the steeper axis, y: 1500 - 500 x 0.08/sqrt(1.0064) = 1460.1 mm is left."""
    check = plan.check("slide")

    assert check.capacity.m_as("mm") == pytest.approx(1460.13, abs=0.01)
    assert said(plan, "slide").startswith(
        "Set by its rim while it lies on the slope, bed C would slide into the path "
        "A–C until 146 cm is left; a wheelbarrow needs 75 cm."
    )


def test_the_steeper_axis_decides_which_path_counts():
    """Falling 8 % to the right and 6 % down: A and B, 1200 - 39.87 mm; not A and C."""
    plan = plan_site((A, B, C), hill(survey=survey(-0.08, -0.06)))

    assert plan.check("slide").capacity.m_as("mm") == pytest.approx(1160.13, abs=0.01)
    assert "into the path A–B until" in said(plan, "slide")


def test_of_two_paths_the_one_that_is_left_narrower_counts():
    """1.00 m beside a box 300 mm high keeps 976 mm; 1.01 m beside 800 mm keeps 946."""
    low = bed("C", 1, 3.0, height=Q_(300, "mm"))
    high = bed("D", 5, 3.01, height=Q_(800, "mm"))
    plan = plan_site((A, bed("B", 5, 1), low, high), hill())
    check = plan.check("slide")

    assert check.capacity.m_as("mm") == pytest.approx(
        1010 - 800 * 0.08 / 1.0064**0.5, abs=0.01
    )
    assert "bed D would slide" in said(plan, "slide")
    # 30 cm left of a box beside 60 cm of the same: the narrower one
    near, far = bed("C", 1, 2.3), bed("D", 5, 2.6)
    check = plan_site((A, bed("B", 5, 1), near, far), hill()).check("slide")
    assert check.capacity.m_as("mm") == pytest.approx(300 - 39.87, abs=0.01)


def test_the_deepest_trench_and_the_highest_block():
    """Limited to 100 mm, the top left corner; 224 mm of fall leave 124 mm of block.

    With a bed of 4.8 m: 0.06 x 4.8 + 0.08 = 368 mm of fall, 268 mm of block.
    """
    limited = bc.Levelling(rule="limited", limit=Q_(100, "mm"))
    plan = plan_site(
        (A, bed("Long", 4.6, 1, length=Q_("4.8 m"))), hill(levelling=limited)
    )

    assert plan["A"].si.depths == pytest.approx([0.1, -0.044, -0.124, 0.02])
    assert plan["A"].si.dig == pytest.approx([0.1, 0, 0, 0.02])
    assert plan["A"].si.block == pytest.approx(0.124)
    assert plan["Long"].si.block == pytest.approx(0.268)
    assert said(plan, "block").startswith(
        "Bed Long stands on 27 cm of block; one block, 20 cm,"
    )
    assert not plan.check("block").ok
    assert said(plan, "trench").startswith(
        "The deepest corner, of bed A, is 10 cm; up to 30 cm"
    )
    # 50 + 368 mm of trench would be deeper than 300: no fix
    assert plan.check("block").fix is None
    shallow = bc.Levelling(rule="limited", limit=Q_(20, "mm"))
    check = plan_site((A,), hill(levelling=shallow)).check("block")
    assert check.demand.m_as("mm") == pytest.approx(204) and not check.ok
    assert check.fix.change == {"rule": "all_cut"}  # 274 mm of trench


def test_gravel_is_dug_under_every_corner():
    """50 mm of gravel: 324, 180, 100, 244 mm dug; read 1.664 m on the trench floor."""
    plan = plan_site((A,), hill(levelling=bc.Levelling(gravel=Q_(50, "mm"))))
    one = plan["A"].si

    assert one.dig == pytest.approx([0.324, 0.180, 0.100, 0.244])
    assert (one.staff, one.floor) == pytest.approx((1.614, 1.664))
    assert one.cut == pytest.approx(2.4 * (0.162 + 0.05))
    assert said(plan, "trench").startswith(
        "The deepest corner, of bed A, is 32 cm with its gravel;"
    )
    assert not plan.check("trench").ok


def test_a_limit_holds_the_gravel():
    """Limit 150 mm of trench, 50 mm of it gravel: the box 100 mm at the top left."""
    levelling = bc.Levelling(rule="limited", limit=Q_(150, "mm"), gravel=Q_(50, "mm"))
    one = plan_site((A,), hill(levelling=levelling))["A"].si

    assert one.depths.max() == pytest.approx(0.1)
    assert one.dig.max() == pytest.approx(0.15)


def test_cut_and_fill_of_a_twisted_ground():
    """Corners +d, -d, +d, -d: d (1-2x)(1-2y), a mean of |1-2x| = 1/2 each way.

    Half of a quarter of d is above, half below: area d/8 each. A turned saddle is the
    same; what is above for one is below for the other.
    """
    saddle = np.array([0.08, -0.08, 0.08, -0.08])

    assert cut_and_fill(2.0, 1.0, saddle) == pytest.approx((0.02, 0.02), rel=1e-3)
    lower = np.array([0.10, 0.10, -0.05, -0.05])  # 2/3 and 1/3 of the width, triangles
    cut, fill = cut_and_fill(3.0, 1.2, lower)
    assert cut == pytest.approx(3.6 * (2 / 3) * 0.05, rel=1e-3)
    assert fill == pytest.approx(3.6 * (1 / 3) * 0.025, rel=1e-3)


def test_cut_and_fill_of_many_depths_at_once():
    """The same as one after another, also where only some corners are on blocks."""
    many = np.array([[0.1, 0.1], [0.1, 0.2], [-0.1, 0.3], [-0.1, 0.1]])
    cut, fill = cut_and_fill(2.0, 1.0, many)

    for i in range(2):
        assert (cut[i], fill[i]) == pytest.approx(cut_and_fill(2.0, 1.0, many[:, i]))
    cut, fill = cut_and_fill(2.0, 1.0, np.abs(many))
    assert (cut, fill) == (pytest.approx([0.2, 0.35]), 0)


@pytest.mark.parametrize("rule", RULES)
def test_underside_of_many_grounds_at_once(rule):
    grounds = np.array([[0.0, 0.1], [0.1, 0.3], [0.3, 0.2], [0.2, 0.0]])
    both = underside(grounds, rule, 0.05, 0.12)
    by_hand = {
        "all_cut": (-0.05, -0.05),
        "limited": (0.18, 0.18),
        "balanced": (0.15, 0.15),
    }

    assert both == pytest.approx(by_hand[rule])
    # the limit digs no deeper than asked: nearly level ground is let in as usual
    assert underside(grounds / 10, "limited", 0.05, 0.12) == pytest.approx(-0.05)


@pytest.mark.parametrize(
    ("fall", "key"),
    [(0, "flat"), (0.0199, "flat"), (0.02, "gentle"), (-0.049, "gentle"),
     (-0.05, "clear"), (0.1, "steep"), (0.149, "steep"), (0.15, "terrace"),
     (-0.2, "ask"), (1.5, "ask"), (20, "ask")],
)  # fmt: skip
def test_advice_for_a_slope_begins_where_its_row_says(fall, key):
    assert slope_advice(fall).key == key


def test_steps_are_whole_and_an_exact_fall_needs_no_more():
    """300 mm in parts of 150 mm: 2; 301 mm: 3; level: 1."""
    found = [steps_needed.si(length, 0.1, 0.15) for length in (3.0, 3.01, 1.0)]

    assert found == [2, 3, 1]
    assert steps_needed.si(3.0, 0.0, 0.15) == 1


def _left_out(points, at):
    """Reading by reading against the plane of the others, each fitted anew."""
    rest = np.delete(points, at, axis=0)
    sums = np.column_stack([np.ones(len(rest)), rest[:, :2]])
    plane, squares, *_ = np.linalg.lstsq(sums, rest[:, 2], rcond=None)
    expected = plane @ [1, *points[at, :2]]
    spare = max(len(points) - 4, 1)
    return expected, np.sqrt(
        max(float(squares[0]) if len(squares) else 0, 1e-12) / spare
    )


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("slip", [0.0, 0.009, -0.08])
def test_the_suspect_by_fitting_again_without_each_reading(seed, slip):
    """Another way to the same: a plane through the others, reading by reading."""
    dice = np.random.default_rng(seed)
    points = np.column_stack([dice.uniform(0, 9, (7, 2)), dice.normal(1.2, 0.003, 7)])
    points[seed, 2] += slip
    found = suspect(points)
    expected, scatter = _left_out(points, found.index)
    off = expected - points[found.index, 2]

    assert found.expected == pytest.approx(expected, abs=1e-9)
    assert found.off == pytest.approx(off, abs=1e-9)
    sums = np.column_stack([np.ones(7), points[:, :2]])
    share = np.diag(sums @ np.linalg.pinv(sums))
    ratios = []
    for at in range(7):
        there, spread = _left_out(points, at)
        # the error of a prediction there: scatter / sqrt(1 - h)
        ratios.append(abs(there - points[at, 2]) * np.sqrt(1 - share[at]) / spread)
    assert found.index == int(np.argmax(ratios))
    assert found.doubtful == (abs(off) > 0.01 and max(ratios) > 4)
    if abs(slip) == 0.08:
        assert (found.index, found.doubtful) == (seed, True)
    if abs(slip) < 0.01:
        assert not found.doubtful or abs(off) > 0.01


def test_readings_that_agree_are_not_doubted():
    """Five readings of one plane, one of them 12 mm off: only that one is doubted."""
    true = np.array([[0, 0, 1.0], [4, 0, 1.1], [4, 3, 1.2], [0, 3, 1.1], [2, 1.5, 1.1]])
    assert not suspect(true).doubtful and suspect(true).off == pytest.approx(0)
    true[4, 2] -= 0.012
    found = suspect(true)

    assert (found.index, found.doubtful) == (4, True)
    assert (found.off, found.expected) == pytest.approx((0.012, 1.1))
    assert suspect(true[:4]) is None


def test_points_that_were_read_twice():
    """Two points repeated: 4 mm and 9 mm apart; 6 mm beside a point is another one."""
    rows = [[0, 0, 1.000], [4, 0, 1.100], [0, 0.004, 1.004], [4, 0, 1.091]]

    assert repeat_gap(np.array(rows)) == pytest.approx(0.009)
    assert repeat_gap(np.array(rows[:3])) == pytest.approx(0.004)
    assert repeat_gap(np.array([[0, 0, 1.0], [0, 0.006, 1.1]])) is None
    assert repeat_gap(np.array([[0, 0, 1.0], [0, 0, 1.0]])) == 0


def test_what_the_readings_say_in_words():
    """Four readings 8 mm out of one plane by turns; a point read again, 7 mm off."""
    corners = ((0, 0, 1.008), (9, 0, 0.992), (9, 8, 1.008), (0, 8, 0.992))
    four = plan_site((A,), hill(survey=Survey(readings=corners)))
    assert said(four, "readings").startswith(
        "The four readings are 8 mm off one plane; up to 10 mm"
    )
    assert four.check("readings").ok
    twice = Survey(readings=(*survey(-0.06, -0.08).readings, (0, 0, 1.207)))
    check = plan_site((A,), hill(survey=twice)).check("loop") or plan_site(
        (A,), hill(survey=twice)
    ).check("repeat")

    assert check.demand.m_as("mm") == pytest.approx(7)
    assert check.capacity.m_as("mm") == pytest.approx(5)


def test_spread_of_the_readings():
    """Residuals of 8 mm by turns: sqrt(4 x 64 / (4 - 3)) = 16 mm; the worst is 8."""
    corners = ((0, 0, 1.008), (9, 0, 0.992), (9, 8, 1.008), (0, 8, 0.992))
    here = hill(survey=Survey(readings=corners))
    plan, site = plan_site((A,), here), bc.evaluate(A, here).site

    assert plan.fit_error.m_as("mm") == pytest.approx(16)
    assert (site.fit_error.m_as("mm"), site.worst_reading.m_as("mm")) == pytest.approx(
        (16, 8)
    )
    five = (*corners, (4.5, 4, 1.0))
    spread = plan_site((A,), hill(survey=Survey(readings=five))).fit_error
    assert spread.m_as("mm") == pytest.approx((4 * 64 / 2) ** 0.5)


@pytest.mark.parametrize(
    ("x", "y", "on"),
    [(1.0, 1.0, 2), (3.4, 1.0, 0), (3.39, 1.0, 1), (1.0, 2.0, 0), (1.0, 1.99, 1),
     (7.7, 1.0, 1), (7.6, 1.0, 0), (5.0, 5.0, 1), (5.0, 4.5, 0)],
)  # fmt: skip
def test_what_a_bed_stands_on(x, y, on):
    """Edges may touch. A tree of 1 m keeps half a metre round its stem at (6, 6)."""
    tree = Thing(name="pear", kind="tree", x=4, y=4, length=4, width=4)
    gate = Thing(name="gate", kind="gate", x=1, y=0, length=2, width=1.5)
    plot = rectangle(10, 8, things=(tree, gate))
    beds = plan_site((A, bed("B", x, y)), hill(plot=plot)).beds
    found = clashes(beds, plot)
    if (x, y) == (1.0, 1.0):  # two beds in one place
        found += clashes(beds[::-1], plot)

    assert len(found) == on
