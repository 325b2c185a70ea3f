"""Site: the way it must behave for any ground, any beds, any plot."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import bedcalc as bc
from bedcalc import Q_
from bedcalc.model.place import PlaceError, Survey
from bedcalc.model.plot import Thing, rectangle
from bedcalc.questions.site_plan import fill_plot, plan_site, plot_of, routes, sun_on
from bedcalc.site.chapter import fit_plane
from bedcalc.site.layout import bed_count, fit_grid, fit_mixed, fit_rows
from bedcalc.site.levelling import RULES, depths_under, underside
from bedcalc.site.survey import repeat_gap, suspect
from bedcalc.site.water import curve_runoff

SLOPE = st.floats(-0.2, 0.2)


@pytest.fixture(scope="module")
def garden():
    return bc.demo_garden()


@given(st.lists(st.floats(0.1, 2.0), min_size=4, max_size=4), st.floats(-5, 5))
def test_a_higher_datum_changes_no_slope(down, more):
    down = np.array(down)
    x, y = np.array([0, 2.7, 2.7, 0]), np.array([0, 0, 1.05, 1.05])
    _, *slopes, off = fit_plane(np.column_stack([x, y, down]))
    _, *again, still = fit_plane(np.column_stack([x, y, down + more]))

    assert again == pytest.approx(slopes, abs=1e-9)
    assert still == pytest.approx(off, abs=1e-9)


@given(SLOPE, SLOPE, st.floats(0.0, 0.1))
def test_the_lowest_corner_is_let_in_as_asked(b, c, embedment):
    ground = np.array([0, 2.7 * b, 2.7 * b + 1.05 * c, 1.05 * c])
    depths = depths_under.si(ground, underside(ground, "all_cut", embedment, 0.15))

    assert depths.min() == pytest.approx(embedment)


@given(SLOPE, SLOPE, st.floats(0.05, 0.3))
def test_no_trench_is_deeper_than_its_limit_allows(b, c, limit):
    ground = np.array([0, 2.7 * b, 2.7 * b + 1.05 * c, 1.05 * c])
    depths = depths_under.si(ground, underside(ground, "limited", 0.05, limit))

    assert depths.max() <= limit + 1e-9
    free = depths_under.si(ground, underside(ground, "all_cut", 0.05, limit))
    if free.max() <= limit:
        assert depths == pytest.approx(free)


def test_the_wrong_reading_is_found(garden):
    """The demo's 0.731 written as 0.713: the seventh reading, 0.731 expected."""
    points = garden.place.survey.points.copy()
    assert not suspect(points).doubtful
    points[6, 2] = 0.713
    found = suspect(points)

    assert (found.index, found.doubtful) == (6, True)
    assert found.expected == pytest.approx(0.731, abs=0.001)
    # the largest residual alone, without leaving a reading out, is smaller
    assert abs(fit_plane(points)[3]).max() < abs(found.off)


def test_four_readings_cannot_name_a_culprit():
    points = np.array([[0, 0, 0.4], [2.7, 0, 0.4], [2.7, 1, 0.5], [0, 1, 0.6]])

    assert suspect(points) is None


def test_a_point_read_twice(garden):
    points = garden.place.survey.points
    assert repeat_gap(points) is None
    again = np.vstack([points, [0, 0, 0.227]])

    assert repeat_gap(again) == pytest.approx(0.007)


@given(st.floats(0.6, 3.0), st.floats(0.5, 1.4), st.floats(0.4, 1.5), st.floats(0, 1.0))
def test_mixed_beds_keep_their_paths_and_their_plot(length, width, path, edge):
    plot = (9.0, 7.0)
    spots = fit_mixed(plot, (length, width), path, edge)
    grids = [fit_grid(plot, (length, width), path, edge, turned) for turned in (0, 1)]

    for i, one in enumerate(spots):
        assert one.x >= edge - 1e-9 and one.y >= edge - 1e-9
        assert one.x + one.length <= plot[0] - edge + 1e-9
        assert one.y + one.width <= plot[1] - edge + 1e-9
        for other in spots[i + 1 :]:
            beside = max(
                other.x - one.x - one.length, one.x - other.x - other.length,
                other.y - one.y - one.width, one.y - other.y - other.width,
            )  # fmt: skip
            assert beside >= path - 1e-9
    # the raster of 5 cm may cost a bed, never more than a row
    assert len(spots) >= max(map(len, grids)) - max(1, max(map(len, grids)) // 3)


@given(st.floats(0.3, 2.0), st.floats(0.3, 2.0))
def test_wider_paths_never_bring_more_beds(one, other):
    narrow, wide = sorted((one, other))

    assert bed_count.si(9.6, 1.05, wide, 0.6) <= bed_count.si(9.6, 1.05, narrow, 0.6)


def test_rows_step_over_what_is_in_the_way():
    blocked = ((4.0, 5.0, 0.0, 10.0),)
    spots = fit_rows((12.0, 6.0), (2.7, 1.05), 0.9, 0.6, blocked)

    assert spots
    assert all(s.x + s.length <= 4.0 or s.x >= 5.0 for s in spots)


@given(st.floats(0, 200), st.floats(0, 200), st.floats(30, 98))
def test_more_rain_runs_off_more_and_never_all(one, other, curve):
    low, high = sorted((one, other))
    less, more = (curve_runoff.si(p / 1000, curve) for p in (low, high))

    assert less <= more + 1e-12 and more <= high / 1000 + 1e-12
    assert curve_runoff.si(high / 1000, min(curve + 1, 98)) >= more - 1e-12


def test_wider_paths_cost_no_bed(garden):
    """The discovery of the workbook: 0.9 and 1.2 m give the same four rows."""
    counts = [
        fill_plot(
            garden.place.plot, Q_("2.7 m"), Q_("1.05 m"), Q_(p, "m"), Q_("0.6 m")
        ).rows
        for p in (0.9, 1.2)
    ]

    assert counts == [4, 4]


@pytest.mark.parametrize("rule", RULES)
def test_every_rule_places_all_beds(garden, rule):
    levelling = bc.Levelling(rule=rule, limit=Q_(10, "cm"))
    plan = plan_site(garden.beds, garden.place.change(levelling=levelling))

    for bed in plan.beds:
        s = bed.si
        assert s.exposed + s.depths == pytest.approx(np.full(4, s.height))
        assert s.staff == -s.underside
    if rule == "balanced":
        assert plan["A"].si.cut == pytest.approx(plan["A"].si.fill, rel=1e-3)


def test_plan_and_evaluate_say_the_same(garden):
    """One bed's outcome and the plan of all beds are the same sums."""
    plan = plan_site(garden.beds, garden.place)
    for bed in garden.beds:
        site = bc.evaluate(bed, garden.place).site
        assert plan[bed.name].si.depths == pytest.approx(site.si.corner_depths)
        assert plan[bed.name].si.cut == pytest.approx(site.si.cut)


def test_a_bed_on_the_tree_is_said(garden):
    moved = [b.change(x=Q_("12 m"), y=Q_("7.6 m")) if b.name == "E" else b
             for b in garden.beds]  # fmt: skip
    plan = plan_site(moved, garden.place)
    check = next(c for c in plan.checks if c.name == "standing")

    assert not check.ok
    assert "plum tree" in check.sentence()


def test_routes_reach_every_demo_bed(garden):
    walk = routes(garden.beds, garden.place, "wheelchair")

    assert all(route.reached for route in walk.routes)
    assert all(route.turns for route in walk.routes)
    # from the tap at the top right, bed C is the farthest: 14.2 - 2.6 m level
    hoses = {route.name: route.hose for route in walk.routes}
    assert max(hoses, key=hoses.get) == "C"
    assert 11.6 <= hoses["C"] <= 16.0


def test_a_bed_closer_than_a_wheel_is_not_reached(garden):
    close = [b.change(x=Q_("4.9 m")) if b.name == "B" else b for b in garden.beds]
    walk = routes(close, garden.place, "wheelchair")
    route = next(r for r in walk.routes if r.name == "B")

    assert route.sides[3] == 0  # 0.4 m to bed A
    assert route.sides[1] == 1


def test_shade_falls_away_from_the_sun(garden):
    """A tall wall in the north takes no sun in December; one in the south does."""
    sizes = dict(x=0.0, length=10.0, width=0.2, height=3.0)
    hours = {}
    for name, y in (("north", -1.0), ("south", 8.2)):
        wall = Thing(name="wall", kind="fence", y=y, **sizes)
        plot = rectangle(10.0, 8.0, downhill=180, things=(wall,))
        sun = sun_on(garden.place.change(plot=plot), (), "21 December")
        hours[name] = sun.hours.mean()

    open_ = sun_on(garden.place.change(plot=rectangle(10, 8)), (), "21 December")
    assert hours["north"] == pytest.approx(open_.hours.mean(), abs=0.1)
    assert hours["south"] < 0.7 * open_.hours.mean()


def test_wrong_entries_teach():
    with pytest.raises(PlaceError, match="needs 1 m to 2500 m from side to side"):
        rectangle(0.2, 5)
    with pytest.raises(PlaceError, match="needs a kind among"):
        Thing(name="x", kind="cow", x=0, y=0)
    with pytest.raises(ValueError, match="needs one of all_cut"):
        underside([0, 0], "guess", 0.05, 0.15)


def test_a_place_without_a_plot_shows_what_was_measured(garden):
    survey = Survey(readings=((0, 0, 0.2), (6, 0, 0.3), (0, 4, 0.4)))
    place = bc.Place(name="other", survey=survey)

    assert (plot_of(place).length, plot_of(place).width) == (6, 4)
