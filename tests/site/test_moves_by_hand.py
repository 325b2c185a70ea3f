"""Moves on the plot and the hose against sums on paper, on the hill of the plan.

The ground falls 6 % to the right and 8 % down the plan, -1.2 m where x and y are 0;
beds are 2.4 m by 1.0 m, 500 mm high, their lowest corner 50 mm in the ground.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import brentq

from bedcalc import Q_
from bedcalc.model.plot import Thing, rectangle
from bedcalc.questions.site_plan import fixed, hose_flow, hose_runs, plan_site, routes
from tests.site.own_plots import bed, survey
from tests.site.test_plan_by_hand import A, B, hill, said


@pytest.mark.parametrize(
    ("x", "y", "wheel", "says", "to"),
    [
        # 0.50 m of path to B, a barrow needs 0.75: 25 cm, the first bed to the left
        (3.9, 1.0, "barrow", "Move bed A 25 cm to the left", ("A", "x", 0.75)),
        # 0.48 m: 27 cm, to the next 5 cm
        (3.88, 1.0, "barrow", "Move bed A 30 cm to the left", ("A", "x", 0.7)),
        # two people need 1.5 m: 1.1 m is more than A has at its left
        (3.8, 1.0, "two", "Move bed B 110 cm to the right", ("B", "x", 4.9)),
        # below it: 0.50 m of path, up the plan
        (1.0, 2.5, "barrow", "Move bed A 25 cm up the plan", ("A", "y", 0.75)),
    ],
)
def test_a_narrow_path_is_widened_by_what_it_lacks(x, y, wheel, says, to):
    """Wanted less width, to the next 5 cm, by hand."""
    beds = (A, bed("B", x, y))
    here = hill(survey=survey(0, 0))
    fix = plan_site(beds, here, wheel=wheel).check("path").fix
    name, axis, where = to
    after, _ = fixed(beds, here, fix.change)

    assert fix.sentence().replace("\N{NO-BREAK SPACE}", " ") == says
    assert (fix.change["bed"], fix.change[axis].m_as("m")) == (
        name,
        pytest.approx(where),
    )
    assert (fix.cost.m, fix.works) == (0, True)
    assert [b.name for b in after] == ["A", "B"]
    assert {b.name: getattr(b.si, axis) for b in after}[name] == pytest.approx(where)


def test_a_path_that_a_tilted_rim_would_narrow_is_widened_for_it():
    """0.77 m less 39.9 mm leaves 730 of the 750 mm: 20 mm more, moved by 5 cm."""
    check = plan_site((A, bed("B", 1, 2.77)), hill()).check("slide")

    assert not check.ok
    assert check.fix.change["y"].m_as("m") == pytest.approx(0.95)


@pytest.mark.parametrize(
    ("x", "y", "to"),
    [
        (-0.2, 1.0, ("x", 0.0)),  # over the left edge
        (7.75, 1.0, ("x", 7.6)),  # over the right edge: 10 - 2.4
        (1.0, -0.1, ("y", 0.0)),
        (1.0, 7.2, ("y", 7.0)),
        (3.3, 4.3, ("x", 3.1)),  # on the tree at (6, 5): its box begins at 5.5
        (6.1, 5.3, ("y", 5.5)),  # the tree ends at 5.5
    ],
)
def test_a_bed_is_moved_off_by_the_shortest_way(x, y, to):
    """A tree keeps 0.5 m round its stem; edges of the plot at 0, 10 and 8 m."""
    tree = Thing(name="pear", kind="tree", x=5, y=4, length=2, width=2)
    here = hill(plot=rectangle(10, 8, things=(tree,)), survey=survey(0, 0))
    beds = (bed("B", x, y),)
    check = plan_site(beds, here).check("standing")
    axis, where = to

    assert not check.ok
    assert check.fix.change[axis].m_as("m") == pytest.approx(where)
    assert set(check.fix.change) == {"bed", axis}


def test_a_bed_across_the_contour_is_turned():
    """On ground that falls down the page alone, a bed of 2.4 m runs 2.4 m down it."""
    beds = (bed("B", 3, 2, turned=True),)
    here = hill(survey=survey(0, -0.08))
    check = plan_site(beds, here).check("contour")

    assert said(plan_site(beds, here), "contour").startswith(
        "The long side of bed B runs down the slope: of a fall of 8.0 % it takes 8.0 %."
    )
    assert check.fix.change == {"bed": "B", "turned": False}
    # 45 degrees: as near as it can
    half = plan_site(beds, hill(survey=survey(-0.05, -0.05))).check("contour")
    assert half.ok and half.aim == pytest.approx(0.5**0.5)


def test_no_move_goes_where_nobody_measured():
    """Without an outline x = 0 is the end: A, 1.0 m from it, cannot go 1.1 m left.

    0.40 m of path, two people need 1.50: B goes 1.1 m right. 1.0 m is just possible.
    """
    here = hill(plot=None, survey=survey(0, 0))
    for x, name, to in ((3.8, "B", 4.9), (3.9, "A", 0.0)):
        fix = plan_site((A, bed("B", x, 1)), here, wheel="two").check("path").fix
        assert (fix.change["bed"], fix.change["x"].m_as("m")) == (
            name,
            pytest.approx(to),
        )


def test_a_bed_is_turned_only_where_it_stays_on_the_plot():
    """Down the page from y = 2 it is 1 x 2.4 m; turned it would end 2.4 m to the right.

    At x = 7.5 that is 9.9 m, at 7.7 past the edge of 10 m.
    """
    here = hill(survey=survey(0, -0.08))
    for x, fits in ((7.5, True), (7.7, False)):
        check = plan_site((bed("B", x, 2, turned=True),), here).check("contour")
        assert (check.fix is not None) == fits


def test_a_mend_spoils_nothing_that_held():
    """Moved left for the path to B, A would stand on the shed: B is moved instead."""
    shed = Thing(name="shed", kind="other", x=0, y=1, length=0.95, width=1)
    here = hill(plot=rectangle(10, 8, things=(shed,)), survey=survey(0, 0))
    fix = plan_site((A, bed("B", 3.9, 1)), here).check("path").fix

    assert (fix.change["bed"], fix.change["x"].m_as("m")) == (
        "B",
        pytest.approx(4.15),
    )


def test_a_long_move_is_said_in_metres():
    """1.50 m or more (30 steps of 5 cm) in metres, less in centimetres."""
    here = hill(survey=survey(0, 0))
    for x, words in ((3.45, "1.45"), (3.4, "1.50")):
        fix = plan_site((A, bed("B", x, 1)), here, wheel="two").check("path").fix
        said = fix.sentence().replace("\N{NO-BREAK SPACE}", " ")
        assert (" cm " in said) == (words == "1.45")
        assert ("1.50 m" in said) == (words == "1.50")


def test_moves_do_what_they_say():
    here = hill()
    both, _ = fixed((A, B), here, {"shift": (Q_("0.5 m"), Q_("-0.25 m"))})
    assert [(b.si.x, b.si.y) for b in both] == [(1.5, 0.75), (5.1, 0.75)]
    one, _ = fixed((A, B), here, {"bed": "B", "y": Q_("2 m"), "turned": True})
    assert [(b.si.x, b.si.y, b.turned) for b in one] == [(1, 1, False), (4.6, 2, True)]
    _, there = fixed((A, B), here, {"leave_out": 1})
    rows = here.survey.readings
    assert there.survey.readings == (rows[0], *rows[2:])
    _, there = fixed((A, B), here, {"rule": "balanced"})
    assert there.levelling.rule == "balanced" and here.levelling.rule == "all_cut"


# -- the hose -------------------------------------------------------------------


def test_every_bed_watered_by_hand():
    """Rim over tap: the bed's underside and height less the tap's ground and 0.5 m.

    Tap at (9, 7): ground -1.2 - 0.54 - 0.56 = -2.30 m. Bed A: underside -1.614 m, rim
    -1.114 m; 0.686 m over the tap's mouth. Bed Low at (6, 6.5): lowest corner (8.4,
    7.5) at -2.304, underside -2.354, rim -1.854: 54 mm below it. The flow is that at
    which tap, climb and friction (Hazen and Williams) use up 200 kPa, found by scipy.
    """
    tap = Thing(name="tap", kind="tap", x=9, y=7)
    here = hill(plot=rectangle(10, 8, things=(tap,)))
    beds = (A, bed("Low", 6, 6.5))
    walk = routes(beds, here, "barrow")
    found = hose_runs(
        plan_site(beds, here), walk, Q_(2, "bar"), Q_(12, "L/min"), Q_(13, "mm"),
        Q_(20, "mm"),
    )  # fmt: skip
    lengths = {route.name: route.hose for route in walk.routes}

    assert [run.name for run in found] == ["A", "Low"]
    assert [run.climb for run in found] == pytest.approx([0.686, -0.054])
    for run in found:
        length = lengths[run.name]

        def lost(flow, length=length):
            return 10.67 * length * (flow / 140) ** 1.852 / 0.013**4.8704

        def rest(flow, climb=run.climb, lost=lost):
            return 200e3 * (flow / 2e-4) ** 2 + 9806.65 * (climb + lost(flow)) - 200e3

        assert run.length == length
        assert run.flow == pytest.approx(brentq(rest, 0, 2e-4), rel=1e-4)
        assert run.lost == pytest.approx(lost(run.flow))
        assert run.water == pytest.approx(2.4 * 1.0 * 0.02)
        assert run.time == pytest.approx(0.048 / run.flow)
    assert hose_runs(plan_site(beds, hill()), walk, Q_(2, "bar"), Q_(12, "L/min"),
                     Q_(13, "mm"), Q_(20, "mm")) == ()  # fmt: skip


def test_a_bed_too_high_for_the_tap_takes_for_ever():
    """5 kPa lift water 0.51 m; bed A wants 0.686 m over the tap: no flow, no end."""
    tap = Thing(name="tap", kind="tap", x=9, y=7)
    here = hill(plot=rectangle(10, 8, things=(tap,)))
    (run,) = hose_runs(
        plan_site((A,), here), routes((A,), here, "barrow"), Q_(5, "kPa"),
        Q_(12, "L/min"), Q_(13, "mm"), Q_(20, "mm"),
    )  # fmt: skip

    assert (run.flow, run.lost) == (0, 0) and np.isinf(run.time)


def test_a_hose_downhill_gives_more_than_one_uphill():
    up, level, down = (
        float(hose_flow.si(2e5, 2e-4, 20.0, h, 0.013)) for h in (3, 0, -3)
    )

    assert up < level < down
