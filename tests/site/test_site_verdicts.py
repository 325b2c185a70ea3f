"""Verdicts on the plot, their fixes, where a storm leaves, what the hose gives."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import bedcalc as bc
from bedcalc import Q_
from bedcalc.model.place import Survey
from bedcalc.model.plot import Thing, rectangle
from bedcalc.questions.site_plan import (
    fixed,
    hose_flow,
    hose_loss,
    hose_runs,
    overflow_of,
    plan_site,
    rain_on,
    routes,
)
from bedcalc.site.overflow import box_distance


@pytest.fixture(scope="module")
def garden():
    return bc.demo_garden()


def moved(garden, name, **sizes):
    return tuple(b.change(**sizes) if b.name == name else b for b in garden.beds)


def test_every_verdict_has_demand_capacity_and_a_known_source(garden):
    plan = plan_site(garden.beds, garden.place, wheel="wheelchair")

    assert {c.name for c in plan.checks} == {
        "slope", "readings", "trench", "contour", "standing", "path", "slide", "cross",
    }  # fmt: skip
    for check in plan.checks:
        assert check.chapter == "site"
        assert check.source in bc.tables.table("sources")
        assert check.ok == (check.demand <= check.capacity * (1 + 1e-9))
        assert "{" not in check.sentence() and "{" not in check.sentence("us")


@pytest.mark.parametrize(
    ("name", "to", "check"),
    [
        ("B", {"x": Q_("4.9 m")}, "path"),
        ("E", {"x": Q_("12 m"), "y": Q_("7.6 m")}, "standing"),
        ("C", {"x": Q_("14 m")}, "standing"),
        ("C", {"y": Q_("3.3 m")}, "slide"),
    ],
)
def test_a_mend_does_what_its_button_says(garden, name, to, check):
    beds = moved(garden, name, **to)
    before = plan_site(beds, garden.place).check(check)
    after = plan_site(*fixed(beds, garden.place, before.fix.change)).check(check)

    assert not before.ok and before.fix.works and after.ok


def test_the_wrong_reading_is_left_out(garden):
    points = garden.place.survey.points.copy()
    points[6, 2] = 0.713
    rows = tuple(tuple(float(v) for v in row) for row in points)
    place = garden.place.change(survey=Survey(readings=rows))
    fix = plan_site(garden.beds, place).check("readings").fix

    assert fix.change == {"leave_out": 6}
    _, found = fixed(garden.beds, place, fix.change)
    assert len(found.survey.points) == 11


def test_a_path_measured_at_the_rim_comes_out_short(garden):
    """H sin(theta): bed E is 600 mm high; at 8.18 % its rim swings 48.9 mm uphill.

    Computed by hand: 600 x 0.0818 / sqrt(1 + 0.0818^2) = 48.9 mm.
    """
    plan = plan_site(garden.beds, garden.place)
    check = plan.check("slide")

    assert "into the path F–E until 265\N{NO-BREAK SPACE}cm" in check.sentence()
    assert check.capacity.m_as("mm") == pytest.approx(2700 - 48.9, abs=0.1)


def test_a_name_with_braces_is_only_a_name(garden):
    tree = Thing(name="{odd} tree", kind="tree", x=2, y=1.5, length=1, width=1)
    place = garden.place.change(plot=rectangle(14.4, 9.6, things=(tree,)))
    said = plan_site(garden.beds, place).check("standing").sentence()

    assert "{odd} tree" in said


def storm(garden, long_):
    return rain_on(
        garden.place, Q_(38, "mm"), Q_(310, "m^2"), swale_length=Q_(long_, "m")
    )


def test_the_overflow_leaves_at_the_low_end_and_meets_no_bed(garden):
    plan = plan_site(garden.beds, garden.place)
    found = overflow_of(plan, storm(garden, 14))

    assert found.right and found.free  # the demo yard falls to the right
    for (x0, y0), (x1, y1) in zip(found.way, found.way[1:], strict=False):
        strip = (min(x0, x1) - 0.3, max(x0, x1) + 0.3, min(y0, y1), max(y0, y1))
        for bed in plan.beds:
            s = bed.si
            meets = (
                strip[0] < s.x + s.length and strip[1] > s.x
                and strip[2] < s.y + s.width and strip[3] > s.y
            )  # fmt: skip
            assert not meets
    assert (np.diff(found.way[:, 1]) >= -1e-9).all()  # never uphill


def test_a_swale_of_14_m_comes_too_near_the_school(garden):
    """School to x = -1.0; swale 14 m from 0.4 to 14.4: 1.4 m; 12 m: 3.4 m, by hand."""
    plan = plan_site(garden.beds, garden.place)
    long_, short = (overflow_of(plan, storm(garden, v)) for v in (14, 12))

    assert (long_.house, short.house) == (pytest.approx(1.4), pytest.approx(3.4))
    check = next(c for c in long_.checks if c.name == "water_house")
    assert not check.ok
    assert check.fix.change["swale_length"].m_as("m") == 12


def test_no_strip_is_said(garden):
    wall = (garden["A"].change(x=Q_("0 m"), length=Q_("4.1 m")),)
    plan = plan_site(wall, garden.place.change(plot=rectangle(4.2, 6.0)))
    found = overflow_of(plan, storm(garden, 4))

    assert not found.free
    assert not next(c for c in found.checks if c.name == "overflow").ok


def test_distance_of_rectangles():
    """3-4-5 between two corners."""
    box = Q_([0.0, 1.0, 0.0, 1.0], "m")
    other = Q_([4.0, 5.0, 5.0, 6.0], "m")

    assert box_distance(box, other).m_as("m") == pytest.approx(5)


@given(st.floats(0.5e5, 8e5), st.floats(5e-5, 1e-3), st.floats(1, 80), st.floats(-3, 3))
def test_a_hose_never_gives_more_than_the_pressure_pays(standing, free, length, climb):
    flow = float(hose_flow.si(standing, free, length, climb, 0.0127))
    paid = standing * (flow / free) ** 2 + 9806.65 * (
        climb + float(hose_loss.si(flow, length, 0.0127))
    )

    assert 0 <= flow <= free * (1 + 1e-9)
    if 1e-9 < flow < free * (1 - 1e-6):
        assert paid == pytest.approx(standing, rel=1e-3)


def test_a_tap_too_weak_for_the_climb_gives_nothing():
    assert hose_flow.si(0.5e5, 2e-4, 10.0, 6.0, 0.0127) == 0


def test_every_demo_bed_is_watered(garden):
    plan = plan_site(garden.beds, garden.place)
    walk = routes(garden.beds, garden.place, "barrow")
    runs = hose_runs(
        plan, walk, Q_(300, "kPa"), Q_(15, "L/min"), Q_(12.7, "mm"), Q_(20, "mm")
    )

    assert [r.name for r in runs] == [b.name for b in garden.beds]
    # the longest hose takes most
    assert (
        max(runs, key=lambda r: r.lost).name == max(runs, key=lambda r: r.length).name
    )
    assert all(r.time == pytest.approx(r.water / r.flow) for r in runs)


def test_the_panel_mends_and_its_controls_follow(tmp_path):
    """A pressed button moves the bed, and no slider puts it back."""
    from bedcalc.app import site

    desk = site.site_desk(tmp_path / "my_garden.toml")
    plan = site.plan_view(desk)
    level = site.level_view(desk)
    site.verdicts(desk)
    block = site.hose_block(desk)
    plan.controls["bed"].value = "B"
    plan.controls["x"].value = Q_("4.9 m")
    check = desk.plan.check("path")
    assert not check.ok
    desk.fix(check.fix.change)
    plan.redraw()

    assert desk.plan.check("path").ok
    plan.controls["see"].value = "water"
    assert "swale" in plan.picture.shown.alt
    desk.fix({"rule": "balanced"})
    level.redraw()
    rule = desk.place.levelling.rule
    assert rule == level.controls["rule"].value == "balanced"
    assert block is not None


def test_all_beds_back_brings_their_heights_back(tmp_path):
    from bedcalc.app import site

    desk = site.site_desk(tmp_path / "my_garden.toml")
    level = site.level_view(desk)
    level.controls["height"].value = Q_("50 cm")
    assert desk.bed("B").si.height == pytest.approx(0.5)
    desk.take(beds=desk.garden.beds)
    level.redraw()

    assert desk.bed("B").si.height == pytest.approx(0.72)
    assert level.controls["height"].value.m_as("cm") == pytest.approx(72)


@pytest.mark.parametrize(
    ("box", "typed", "says"),
    [
        ("readings", "0 0 0.2\n4 0 nan\n0 3 0.5", "Line 2: needs three numbers"),
        ("readings", "0 0 0.2\n4 0 80\n0 3 0.5", "Reading 2: needs x and y within"),
        ("readings", "0 0 0.2\n4x8 0 0.3\n0 3 0.5", "Line 2: needs three numbers"),
        ("yard", "plot 12 8 180\ntree nan 1 1 1 1 x", "Line 2:"),
        ("yard", "plot 12 8 180\ntree 1 1 -1 1 1 x", "no size below 0"),
    ],
)
def test_what_is_no_measure_is_refused_and_nothing_moves(tmp_path, box, typed, says):
    from bedcalc.app import site

    desk = site.site_desk(tmp_path / "my_garden.toml")
    block = {"readings": site.readings_text, "yard": site.yard_text}[box](desk)
    before = (desk.place, desk.plot)
    inner = block.children[0].children
    inner[1].value = typed
    inner[2].children[0].click()

    assert says in inner[3].html
    assert (desk.place, desk.plot) == before
