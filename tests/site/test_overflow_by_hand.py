"""The swale and the water that runs over it, on plots of which all is known."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pytest

from bedcalc import Q_, Place
from bedcalc.model.plot import Plot, rectangle
from bedcalc.questions.site_plan import overflow_of, plan_site
from tests.site.own_plots import bed, survey
from tests.site.test_ways_by_hand import block

STORM = SimpleNamespace(si=SimpleNamespace(swale_width=0.9, swale_length=6.0))


def _swale(beds=None, things=(), slopes=(-0.02, -0.08), plot=None, storm=STORM):
    beds = (bed("A", 1, 4), bed("B", 6, 4)) if beds is None else beds
    here = Place(
        name="x", plot=plot or rectangle(10, 8, things=things), survey=survey(*slopes)
    )
    return overflow_of(plan_site(beds, here), storm)


def _check(found, name):
    return next((c for c in found.checks if c.name == name), None)


def test_swale_and_strip_by_hand():
    """Beds from y = 4: 4 - 0.3 of bank - 0.9 = 2.8 m to choose, so it begins at 1.4.

    The ground falls to the right as well: the swale ends at the right edge, x 4 to 10,
    and the strip of 0.6 m goes down there, at x = 9.7, to 1 m below the beds (y = 6).
    """
    found = _swale()

    assert found.swale == pytest.approx((4, 10, 1.4, 2.3))
    assert found.right and found.free
    assert found.way == pytest.approx(np.array([[9.7, 1.85], [9.7, 6.0]]))
    assert np.isnan(found.house) and _check(found, "water_house") is None
    room = _check(found, "swale_room")
    assert (room.demand.m, room.capacity.m) == pytest.approx((1.2, 4))
    assert room.ok and room.fix is None and _check(found, "overflow").ok


def test_ground_that_falls_to_the_left_lets_it_out_there():
    """Swale x 0 to 6, strip at x = 0.3: 0.4 m beside bed A, which begins at 1.0."""
    found = _swale(slopes=(0.02, -0.08))

    assert found.swale == pytest.approx((0, 6, 1.4, 2.3)) and not found.right
    assert found.way == pytest.approx(np.array([[0.3, 1.85], [0.3, 6.0]]))


@pytest.mark.parametrize(
    ("things", "x"),
    [
        ((), 9.7),
        # a shed from 9 to 10 below the swale: the strip ends left of it, 8.4 + 0.3
        ((("shed", 9.0, 5.0, 1.0, 1.0, "other"),), 8.7),
        # from 8.9: 0.5 m are left beside B; left of B, whose left side is at 6.0
        ((("shed", 8.9, 5.0, 1.1, 1.0, "other"),), 5.7),
        # a stem at (9.5, 3) keeps 0.5 m: from 9.0
        ((("pear", 8.5, 2.0, 2.0, 2.0, "tree"),), 8.7),
        # below the last bed and 1 m more it is in nobody's way
        ((("shed", 9.0, 6.1, 1.0, 1.0, "other"),), 9.7),
        # so it is above the swale, and what one may walk over
        ((("shed", 9.0, 0.0, 1.0, 1.0, "other"),), 9.7),
        ((("lid", 9.0, 5.0, 1.0, 1.0, "cover"),), 9.7),
    ],
)
def test_the_strip_is_the_free_one_nearest_the_low_end(things, x):
    found = _swale(things=tuple(block(*t) for t in things))

    assert found.way[:, 0] == pytest.approx([x, x])


def test_a_strip_that_just_fits():
    """Between beds with 0.6 m between them; 0.55 m are too narrow."""
    for gap, free in ((0.6, True), (0.55, False)):
        beds = (bed("A", 4, 4), bed("B", 6.4 + gap, 4), bed("C", 9.3, 4))
        found = _swale(beds, plot=rectangle(10, 8))
        assert found.free == free
        if free:
            assert found.way[0, 0] == pytest.approx(6.7)
    check = _check(found, "overflow")
    assert not check.ok and "the water runs into a bed" in check.sentence()
    assert check.demand.m_as("m") == pytest.approx(0.6)


def test_a_long_swale_ends_with_the_plot_and_the_way_before_its_edge():
    """14 m of swale on 10 m; beds to y = 7.5: the way ends 0.2 m above the edge."""
    storm = SimpleNamespace(si=SimpleNamespace(swale_width=0.9, swale_length=14.0))
    found = _swale((bed("A", 1, 6.5),), storm=storm)

    assert found.swale[:2] == pytest.approx((0, 10))
    assert found.way[1] == pytest.approx((9.7, 7.8))
    # without a bed: between top and bottom, half a metre of way below it
    alone = _swale(())
    assert alone.swale == pytest.approx((4, 10, 3.4, 4.3))
    assert alone.way[:, 1] == pytest.approx([3.85, 5.3])


@pytest.mark.parametrize(
    ("y", "move", "words"),
    [(0.6, 0.6, "60 cm"), (0.77, 0.45, "45 cm"), (1.2, None, ""), (1.25, None, "")],
)
def test_beds_go_downhill_to_make_room(y, move, words):
    """Needed 0.9 + 0.3 = 1.2 m; what lacks, to the next 5 cm."""
    check = _check(_swale((bed("A", 1, y), bed("B", 6, y))), "swale_room")

    assert check.capacity.m == pytest.approx(y)
    if move is None:
        assert check.ok and check.fix is None
        return
    assert not check.ok
    by = [q.m_as("m") for q in check.fix.change["shift"]]
    assert by == pytest.approx([0, move])
    said = check.fix.sentence().replace("\N{NO-BREAK SPACE}", " ")
    assert said == f"Move all beds {words} downhill" and check.fix.works


def test_beds_stay_where_no_move_would_do():
    """At y = 7 a bed of 1 m ends at the edge of the plot: 60 cm more are not there."""
    found = _swale((bed("A", 1, 0.6), bed("B", 6, 7)))

    assert _check(found, "swale_room").fix is None


@pytest.mark.parametrize(
    ("house", "away", "new"),
    [
        # left of the swale: 1.5 m short, so 6 - 1.5 = 4.5, whole metres: 4
        ((0, 0, 2.5, 3), 1.5, 4),
        ((0, 0, 3.4, 3), 0.6, 3),  # 6 - 2.4 = 3.6
        # right of it, at the low end where it runs over: a shorter one is as near
        ((12, 1, 3, 3), 2.0, None),
        ((11, -4, 3, 2), (1 + 3.4**2) ** 0.5, None),  # past its corner: 3.54 m
        ((10.4, 5, 3, 3), 0.4, None),  # beside the way
        # the strip ends 0.3 m past (9.7, 6.0): 2.9 m across, 0.7 m down
        ((12.9, 7, 1, 1), (2.9**2 + 0.7**2) ** 0.5, None),
    ],
)
def test_distance_to_the_next_house(house, away, new):
    """3 m from buildings (data/setbacks.csv), from swale or from the strip of 0.6 m."""
    found = _swale(things=(block("house", *house, "house"),))
    check = _check(found, "water_house")

    assert found.house == pytest.approx(away)
    assert (check.demand.m_as("m"), check.capacity.m_as("m")) == pytest.approx(
        (3, away)
    )
    assert check.ok == (away >= 3)
    fix = check.fix
    assert (fix and fix.change["swale_length"].m_as("m")) == new


def _turn(x, y, times, size):
    """A point of a plot of this size, the plan turned by quarters against the clock."""
    for _ in range(times):
        x, y, size = y, size[0] - x, size[::-1]
    return x, y


@pytest.mark.parametrize("times", [1, 2, 3])
@pytest.mark.parametrize("along", [-0.02, 0.02])
def test_a_turned_plan_has_the_same_swale(times, along):
    """Plot, beds, ground and house turned by quarters: the answer turns with them."""
    first = _swale(slopes=(along, -0.08), things=(block("h", 12, 1, 3, 3, "house"),))

    def box(left, right, top, low):
        (x0, y0), (x1, y1) = (
            _turn(x, y, times, (10, 8)) for x, y in ((left, top), (right, low))
        )
        return min(x0, x1), max(x0, x1), min(y0, y1), max(y0, y1)

    sizes = (10, 8) if times == 2 else (8, 10)
    beds = [
        bed(name, *box(x, x + 2.4, 4, 5)[::2], turned=times != 2)
        for name, x in (("A", 1), ("B", 6))
    ]
    left, right, top, low = box(12, 15, 1, 4)
    house = block("h", left, top, right - left, low - top, "house")
    slope_x, slope_y = along, -0.08
    for _ in range(times):  # x' = y, y' = -x
        slope_x, slope_y = slope_y, -slope_x
    found = _swale(
        beds, slopes=(slope_x, slope_y), plot=rectangle(*sizes, things=(house,))
    )

    assert found.right == first.right
    assert found.swale == pytest.approx(box(*first.swale))
    turned = np.array([_turn(x, y, times, (10, 8)) for x, y in first.way])
    assert found.way == pytest.approx(turned)
    assert found.house == pytest.approx(first.house)


def test_on_a_slanting_plot_swale_and_way_stay_inside():
    """The upper right corner is cut off from (5, 0) to (10, 6): the swale moves along.

    The way would end at y = 6 below the beds; the plot ends at 5.5 there.
    """
    plot = Plot(outline=((0, 0), (5, 0), (10, 6), (10, 8), (0, 8)))
    storm = SimpleNamespace(si=SimpleNamespace(swale_width=0.6, swale_length=4.0))
    found = _swale((bed("A", 1, 5),), plot=plot, storm=storm)
    assert plot.contains(*found.swale)
    x, (top, low) = found.way[0, 0], found.way[:, 1]
    assert plot.contains(x - 0.3, x + 0.3, top, low) and low == pytest.approx(7)
    ends = Plot(outline=((0, 0), (10, 0), (10, 5.5), (5, 5.5), (5, 8), (0, 8)))
    short = _swale((bed("A", 1, 4),), plot=ends)
    assert short.way[:, 0] == pytest.approx([9.7, 9.7])
    assert short.way[1, 1] == pytest.approx(5.5)


def test_a_swale_that_fits_nowhere_says_so():
    plot = Plot(outline=((0, 5), (5, 0), (10, 5), (5, 8)))
    found = _swale((bed("A", 3, 3.5),), plot=plot)

    assert "a part of it lies outside the plot" in _check(found, "swale_room").note
    assert "Or dig it further up" in _check(_swale(), "swale_room").note


def test_unmeasured_ground_gets_no_verdict_on_water():
    here = Place(name="x", plot=rectangle(10, 8))
    assert overflow_of(plan_site((bed("A", 1, 4),), here), STORM).checks == ()
    assert Q_(0.6, "m") == _check(_swale(), "overflow").demand
