"""Rain and sun on a plot of which all is known, computed on paper."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_, Place
from bedcalc.model.plot import Plot, Thing, rectangle
from bedcalc.questions.site_plan import DAYS, plot_of, rain_on, soaking_rate, sun_on
from bedcalc.site.plots import holds
from tests.site.own_plots import L_SHAPE, bed, survey
from tests.site.test_fitting_by_hand import m

# -- what is drawn where nobody gave a plot -------------------------------------


def test_ground_that_nobody_outlined():
    """From the left and top of readings, beds and the point 0, 0 to the other end."""
    here = Place(
        name="x", survey=bc.Survey(readings=((-1, 0, 1), (3, -2, 1), (2, 2, 1)))
    )
    assert plot_of(here, (bed("A", 2, 1.5),)).bounds == pytest.approx(
        (-1, 4.4, -2, 2.5)
    )
    assert plot_of(here).bounds == (-1, 3, -2, 2)
    assert plot_of(Place(name="x")).bounds == (0, 1, 0, 1)
    turned = plot_of(Place(name="x"), (bed("A", 2, 1.5, turned=True),))
    assert turned.bounds == pytest.approx((0, 3.0, 0, 3.9))


def test_nobody_measured_so_the_ground_is_at_zero():
    """Level at 0 m: the underside lies 50 mm below, every corner 50 mm in."""
    site = bc.evaluate(bed("A", 1, 1), Place(name="x")).site.si

    assert site.ground == pytest.approx([0, 0, 0, 0])
    assert (site.underside, site.slope, site.staff) == (pytest.approx(-0.05), 0, None)
    assert site.corner_depths == pytest.approx(np.full(4, 0.05))


# -- rain -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("mm", "area", "volume"),
    [
        # S = 1000/79 - 10 = 2.658 in; 38 mm: Q 6.521 mm, 310 m2: 2.022 m3; 0.3: 3.534
        (38, 310, 3.534),
        # 120 mm: (120 - 13.504)^2 / (120 + 54.015) = 65.17 mm: 20.20 m3; 0.3: 11.16
        (120, 310, 20.204),
    ],
)
def test_a_storm_by_hand(mm, area, volume):
    """The larger of both ways; 15 mm an hour soak away; banks of 3 to 1, 12 m long."""
    rain = rain_on(
        bc.demo_garden().place, Q_(mm, "mm"), Q_(area, "m^2"), swale_length=Q_(12, "m")
    ).si
    deep = (volume / (3 * 12)) ** 0.5

    assert rain.curve == 79 and rain.share == 0.30
    assert rain.by_share == pytest.approx(0.3 * mm * area / 1000)
    assert rain.volume == pytest.approx(volume, abs=0.001)
    assert rain.volume == max(rain.by_curve, rain.by_share)
    assert rain.by_curve == pytest.approx(rain.depth * area)
    assert rain.swale_depth == pytest.approx(deep, rel=1e-4)
    assert rain.swale_dig == pytest.approx(1.25 * deep, rel=1e-4)
    assert rain.swale_width == pytest.approx(2 * 3 * 1.25 * deep, rel=1e-4)
    assert rain.trench == pytest.approx(0.4 * 0.5 * 12 * 0.40)
    assert rain.empties == pytest.approx(deep / (0.015 / 3600), rel=1e-4)
    assert rain.too_deep


def test_a_storm_with_ones_own_numbers():
    """30 mm an hour in the test hole: half the time; 20 m of swale: 1 m2 less deep."""
    place = bc.demo_garden().place
    rain = rain_on(
        place, Q_(10, "mm"), Q_(50, "m^2"), cover="paving", share=0.9,
        soaks=Q_(30, "mm/hour"),
    ).si  # fmt: skip
    # the demo plot is 14.4 m long; 0.9 x 0.01 x 50 = 0.45 m3: sqrt(0.45/43.2) = 0.102
    assert (rain.curve, rain.swale_length) == (98, pytest.approx(14.4))
    assert rain.volume == pytest.approx(0.45)
    assert rain.swale_depth == pytest.approx((0.45 / 43.2) ** 0.5)
    assert rain.empties == pytest.approx((0.45 / 43.2) ** 0.5 / 0.030 * 3600)
    assert not rain.too_deep
    # a flat bottom of 0.3 m, 0.2 m deep: (0.3 + 0.6) x 0.2 = 0.18 m2, 5 m long
    assert holds(*m(0.2, 0.3, 5.0)).m_as("m^3") == pytest.approx(0.9)


def test_water_in_a_test_hole():
    """30 mm in 2 hours: 15 mm an hour."""
    found = soaking_rate(Q_(30, "mm"), Q_(2, "hour"))

    assert found.m_as("mm/hour") == pytest.approx(15)


# -- sun ------------------------------------------------------------------------


def _sunny(plot, beds=(), day="21 June", **known):
    here = Place(name="x", latitude=Q_(48, "deg"), plot=plot, **known)
    return sun_on(here, beds, day)


def test_open_ground_has_the_sun_while_it_is_over_3_degrees():
    """Ten minutes a point; noon height 90 - 48 + 23.44 degrees, shade 1/tan of it."""
    sun = _sunny(rectangle(10, 8, downhill=180), (bed("A", 1, 1),))
    _, heights, _ = sun.ways["21 June"]
    hours = (heights > 3).sum() / 6

    assert (sun.hours == hours).all() and sun.beds["A"] == pytest.approx(hours)
    assert 15 < hours < 16
    assert sun.highest == pytest.approx(65.44, abs=0.02)
    assert sun.shade == pytest.approx(1 / np.tan(np.deg2rad(65.44)), abs=0.001)
    assert set(sun.ways) == set(DAYS) and sun.skyline == ()


def test_days_are_the_days_they_are_called():
    for name, (month, day) in DAYS.items():
        assert f"{date(2025, month, day):%d %B}" == name


def test_points_of_the_raster():
    """10 m by 8 m in squares of at most 30 cm: 34 by 27, their middles."""
    sun = _sunny(rectangle(10, 8, downhill=180))

    assert sun.hours.shape == (27, 34)
    assert (sun.x[0], sun.x[-1]) == pytest.approx((10 / 68, 10 - 10 / 68))
    assert (sun.y[0], sun.y[-1]) == pytest.approx((8 / 54, 8 - 8 / 54))
    cut = _sunny(Plot(outline=L_SHAPE, downhill=180))
    gx, gy = np.meshgrid(cut.x, cut.y)
    off = abs(gy - 4) > 1e-6  # not on the edge
    assert (np.isnan(cut.hours) == ((gx > 4.5) & (gy > 4)))[off].all()
    large = _sunny(rectangle(90, 10, downhill=180), day="21 December")
    assert large.hours.shape == (23, 200)  # 90 / 200 = 0.45 m


def test_a_rim_stands_higher_than_the_ground_in_the_shade_of_a_wall():
    """A wall of 1 m in the south: soil 500 mm up gets more of the low sun, by how much.

    Along the wall the sun clears it if tan(height) > (1 - z) / y times the cosine of
    its bearing from south; the wall is long, so only that counts.
    """
    wall = Thing(name="w", kind="fence", x=-200, y=8, length=410, width=0.1, height=1)
    plot = rectangle(10, 8, downhill=180, things=(wall,))
    one = bed("A", 1, 5.5)
    sun = _sunny(plot, (one,), "21 December")
    _, heights, bearings = sun.ways["21 December"]
    high = heights > 3
    south = np.cos(np.deg2rad(bearings[high] - 180))
    expected = []
    for y in 5.5 + (np.arange(4) + 0.5) / 4:
        away = (8 - y) / south
        expected.append((np.tan(np.deg2rad(heights[high])) * away > 0.5).sum() / 6)

    assert sun.beds["A"] == pytest.approx(np.mean(expected), abs=0.1)
    assert sun.beds["A"] > sun.hours[(sun.y > 5.5) & (sun.y < 6.5)].mean() + 1


def test_the_ground_under_a_thing_lifts_its_shade():
    """On ground that falls 10 % to the north, away from the wall, it shades further."""
    wall = Thing(name="w", kind="fence", x=-20, y=8, length=50, width=0.1, height=1)
    plot = rectangle(10, 8, downhill=180, things=(wall,))
    flat, falls, rises = (
        np.nanmean(_sunny(plot, day="21 December", survey=survey(0, s)).hours)
        for s in (0.0, 0.1, -0.1)
    )

    assert falls < flat - 0.3 < rises - 0.6


@pytest.mark.parametrize("rise", [0.0, 0.1])
def test_height_of_the_skyline(rise):
    """A wall of 2 m whose near face is 6.8 m up the page from the middle: atan(2/6.8).

    Where the ground rises 10 % up the page, its foot (6.9 m away) stands 0.69 m higher.
    Its ends, 8.5 m away, stand lower; a thing on the other side or behind is apart.
    """
    wall = Thing(name="w", kind="fence", x=0, y=-3, length=10, width=0.2, height=2)
    low = Thing(name="low", kind="fence", x=0, y=-3, length=10, width=0.2)
    roof = Thing(name="roof", kind="other", x=4, y=3, length=2, width=2, height=3)
    plot = rectangle(10, 8, downhill=180, things=(wall, low, roof))
    (line,) = _sunny(plot, survey=survey(0, -rise)).skyline
    bearings, heights = (np.array(v) for v in line)
    crest = 2 + rise * 6.9

    assert heights.max() == pytest.approx(np.rad2deg(np.arctan(crest / 6.8)), abs=0.05)
    ends = np.rad2deg(np.arctan(crest / np.hypot(5, 6.8)))
    assert heights[2:-3].min() >= ends - 0.8
    assert heights[0] == heights[-1] == heights[-2] == 0
    middle = bearings[1:-2].mean() % 360
    assert min(middle, 360 - middle) == pytest.approx(0, abs=0.5)  # north, up the page
    reach = np.rad2deg(np.arctan(5 / 6.8))
    assert np.ptp(bearings) == pytest.approx(2 * reach, abs=1)


def test_a_point_thing_and_one_below_the_eye():
    """A pole 5 m to the right, 3 m high: atan(3/5) = 30.96, at 90 degrees.

    A bush whose top lies below the eye stands on the horizon: 0 degrees.
    """
    pole = Thing(name="p", kind="other", x=10, y=4, height=3)
    bush = Thing(name="b", kind="other", x=4.9, y=9, length=0.2, width=0.2, height=0.3)
    plot = rectangle(10, 8, downhill=180, things=(pole, bush))
    one, other = _sunny(plot, survey=survey(0, -0.2)).skyline

    assert max(one[1]) == pytest.approx(30.96, abs=0.1)
    # the page runs down to the south, so right of it is east
    assert np.mean(one[0]) == pytest.approx(90, abs=0.5)
    assert max(other[1]) == 0
