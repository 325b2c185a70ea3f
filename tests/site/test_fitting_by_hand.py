"""How many beds fit, and what rain and sun bring, counted and computed on paper."""

from __future__ import annotations

import functools

import numpy as np
import pytest
import shapely

import bedcalc as bc
from bedcalc import Q_, Place
from bedcalc.plot import Plot, Thing, rectangle
from bedcalc.site.layout import bed_count, fit_grid, fit_mixed, fit_rows, path_left
from bedcalc.site.plots import holds
from bedcalc.site_plan import DAYS, fill_plot, plot_of, rain_on, sun_on
from tests.site.own_plots import L_SHAPE, bed, survey


def m(*values):
    return [Q_(v, "m") for v in values]


# -- equal beds -----------------------------------------------------------------


def test_grid_by_hand():
    """10 x 8 m, beds 2.4 x 1.0, edge 0.5, path 0.6: 3 x 4, gaps (9-7.2)/2, (7-4)/3."""
    spots = fit_grid((10, 8), (2.4, 1.0), 0.6, 0.5)

    assert [s.x for s in spots[:3]] == pytest.approx([0.5, 3.8, 7.1])
    assert [s.y for s in spots[::3]] == pytest.approx([0.5, 2.5, 4.5, 6.5])
    assert {(s.length, s.width, s.turned) for s in spots} == {(2.4, 1.0, False)}
    turned = fit_grid((10, 8), (2.4, 1.0), 0.6, 0.5, turned=True)
    # 9.6 / 1.6 = 6 beside, gaps (9 - 6) / 5; 7.6 / 3.0 = 2, gap 7 - 4.8
    assert [s.x for s in turned[:6]] == pytest.approx([0.5, 2.1, 3.7, 5.3, 6.9, 8.5])
    assert [s.y for s in turned[::6]] == pytest.approx([0.5, 5.1])
    assert {(s.length, s.width, s.turned) for s in turned} == {(1.0, 2.4, True)}


def test_a_single_bed_stands_in_the_middle():
    """(5 - 2.4) / 2 = 1.3 and (2.2 - 1) / 2 = 0.6."""
    (one,) = fit_grid((5, 2.2), (2.4, 1.0), 0.6, 0.5)

    assert (one.x, one.y) == pytest.approx((1.3, 0.6))
    assert fit_grid((3.3, 2.2), (2.4, 1.0), 0.6, 0.5) == ()
    assert np.isnan(path_left.si(5, 2.4, 0.5, 1))
    assert path_left.si(8, 1.0, 0.5, 4) == pytest.approx(1.0)


def test_beds_that_fit_exactly_are_counted():
    """3 beds of 1.2 and 2 paths of 0.7 are 5.0 m, whatever the last digit says."""
    assert bed_count.si(6.0, 1.2, 0.7, 0.5) == 3
    assert bed_count.si(5.999, 1.2, 0.7, 0.5) == 2
    assert bed_count.si(0.5, 1.2, 0.7, 0.5) == 0
    assert list(bed_count.si(np.array([2.2, 4.1, 0.2]), 1.2, 0.7, 0.5)) == [1, 2, 0]


def _most(room, bed):
    """Straight cuts from side to side, every one of them tried: how many beds."""
    long_, wide = bed

    @functools.cache
    def best(w, h):
        found = int((w >= long_ and h >= wide) or (w >= wide and h >= long_))
        for cut in range(1, w // 2 + 1):
            found = max(found, best(cut, h) + best(w - cut, h))
        for cut in range(1, h // 2 + 1):
            found = max(found, best(w, cut) + best(w, h - cut))
        return found

    return best(*room)


@pytest.mark.parametrize("seed", range(12))
def test_mixed_beds_by_trying_every_cut(seed):
    """A second program on a raster of 20 cm; sizes drawn as multiples of it."""
    dice = np.random.default_rng(seed)
    long_, wide, path = dice.integers(5, 14), dice.integers(3, 7), dice.integers(1, 5)
    edge, plot = dice.integers(0, 3), dice.integers(14, 34, 2)
    spots = fit_mixed(
        tuple(plot * 0.2), (long_ * 0.2, wide * 0.2), path * 0.2, edge * 0.2
    )
    most = _most(
        tuple(int(v - 2 * edge + path) for v in plot), (long_ + path, wide + path)
    )

    assert len(spots) == most
    area = shapely.box(*(edge * 0.2,) * 2, *(plot * 0.2 - edge * 0.2))
    boxes = [shapely.box(s.x, s.y, s.x + s.length, s.y + s.width) for s in spots]
    for i, one in enumerate(boxes):
        assert area.buffer(1e-6).covers(one)
        assert all(one.distance(b) >= path * 0.2 - 1e-6 for b in boxes[i + 1 :])
    for s in spots:
        size = (s.width, s.length) if s.turned else (s.length, s.width)
        assert size == pytest.approx((long_ * 0.2, wide * 0.2))


def test_mixed_beats_both_grids_where_a_strip_is_left():
    """5 x 3.4 m, beds 2 x 1, no edge, paths of 0.2 (2.2 x 1.2 on 5.2 x 3.6): by hand.

    Along: 2 x 3 = 6. Turned: 4 x 1 = 4. Two columns of three along take 4.4, no column
    of 1.2 is left; rows: turned 2.2 high over four, 1.4 left for two along: 4 + 2 = 6.
    With 5.6 m (5.8): 4.4 + 1.2: 6 and one turned beside: 7.
    """
    assert len(fit_mixed((5, 3.4), (2, 1), 0.2, 0.0)) == 6
    spots = fit_mixed((5.6, 3.4), (2, 1), 0.2, 0.0)
    assert len(spots) == 7 and {s.turned for s in spots} == {True, False}
    # sizes between the marks of 5 cm are taken larger, the plot smaller
    assert len(fit_mixed((5.0, 3.4), (2.01, 1), 0.2, 0.0)) == 6
    assert len(fit_mixed((4.22, 3.4), (2.01, 1), 0.2, 0.0)) == 4
    assert fit_mixed((1.9, 3.4), (2, 2), 0.2, 0.0) == ()


# -- rows that step over things -------------------------------------------------


def test_rows_on_a_free_plot_begin_in_the_corner():
    """One path between all: x 0.5, 3.5, 6.5 (+ 3.0); y 0.5, 2.1, 3.7, 5.3 (+ 1.6)."""
    spots = fit_rows((10, 8), (2.4, 1.0), 0.6, 0.5, ())

    assert sorted({round(s.x, 9) for s in spots}) == [0.5, 3.5, 6.5]
    assert sorted({round(s.y, 9) for s in spots}) == [0.5, 2.1, 3.7, 5.3]
    assert len(spots) == 12
    turned = fit_rows((10, 8), (2.4, 1.0), 0.6, 0.5, (), turned=True)
    assert sorted({round(s.x, 9) for s in turned}) == [0.5, 2.1, 3.7, 5.3, 6.9, 8.5]
    assert {round(s.y, 9) for s in turned} == {0.5, 3.5}
    assert {(s.length, s.width, s.turned) for s in turned} == {(1.0, 2.4, True)}
    assert fit_rows((10, 1.9), (2.4, 1.0), 0.6, 0.5, ()) == ()
    assert len(fit_rows((10, 2.0), (2.4, 1.0), 0.6, 0.5, ())) == 3


def test_a_row_goes_on_behind_what_is_in_the_way():
    """A stem from x 3.0 to 4.0 in the first row: 0.5 and then 4.0 and 7.0."""
    one_row = fit_rows((10, 2.0), (2.4, 1.0), 0.6, 0.5, ((3.0, 4.0, 1.0, 2.0),))
    assert [s.x for s in one_row] == pytest.approx([0.5, 4.0, 7.0])
    # two that overlap: on from the end of the longer one
    two = ((3.0, 4.0, 1.0, 2.0), (3.0, 4.6, 0.2, 0.9))
    assert [s.x for s in fit_rows((10, 2.0), (2.4, 1.0), 0.6, 0.5, two)] == (
        pytest.approx([0.5, 4.6])
    )
    # what only touches is not in the way, on any side
    for box in ((2.9, 3.5, 0, 2), (0, 10, 0, 0.5), (0, 10, 1.5, 2), (9.5, 10, 0, 2)):
        assert len(fit_rows((10, 2.0), (2.4, 1.0), 0.6, 0.5, (box,))) == 3
    for box in ((0, 10, 0, 0.51), (0, 10, 1.49, 2)):
        assert not fit_rows((10, 2.0), (2.4, 1.0), 0.6, 0.5, (box,))
    late = fit_rows((10, 2.0), (2.4, 1.0), 0.6, 0.5, ((0, 0.52, 0, 2), (8.8, 10, 0, 2)))
    assert [s.x for s in late] == pytest.approx([0.52, 3.52])


def test_the_first_row_starts_where_most_beds_fit():
    """A ditch along the upper edge to y = 0.75: 0.5 + 3 x 10 cm = 0.8 is clear of it."""
    spots = fit_rows((10, 3.0), (2.4, 1.0), 0.6, 0.5, ((0, 10, 0, 0.75),))

    assert len(spots) == 3 and {round(s.y, 9) for s in spots} == {0.8}
    # the last place is tried as well: 3.0 - 0.5 - 1.0 = 1.5
    spots = fit_rows((10, 3.0), (2.4, 1.0), 0.6, 0.5, ((0, 10, 0, 1.5),))
    assert {round(s.y, 9) for s in spots} == {1.5}
    assert not fit_rows((10, 3.0), (2.4, 1.0), 0.6, 0.5, ((0, 10, 0, 1.51),))


def test_a_row_on_a_slanting_plot_begins_at_the_first_mark_inside():
    """Left edge from (0, 2) to (2, 0): at y = 0.5 a bed may begin at x = 1.5.

    Marks every 5 cm from 0: 1.5; and the next 2.4 + 0.6 further on.
    """
    plot = Plot(outline=((2, 0), (10, 0), (10, 2), (0, 2)))
    spots = fit_rows((10, 2), (2.4, 1.0), 0.6, 0.0, (), within=plot.contains)

    assert spots[0].y == pytest.approx(0.0, abs=1.01)
    for s in spots:
        assert plot.contains(s.x, s.x + s.length, s.y, s.y + s.width)
    # y may be 0 to 1 in steps of 10 cm: any of them holds three; the first is taken
    first = fit_rows((10, 1.0), (2.4, 1.0), 0.6, 0.0, (), within=plot.contains)
    assert [s.x for s in first] == pytest.approx([2.0, 5.0])


def test_filling_a_plot_by_hand():
    """12 beds along and turned; widest path: (9-7.2)/2 = 0.9 along x, (7-4)/3 = 1.0.

    A stem at (5, 4.2) takes x 4.5 to 5.5, y 3.7 to 4.7: of the grid along the bed at
    x 3.8 to 6.2, y 4.5 to 5.5 stands on it; turned, the rows end at 2.9 and begin at
    5.1: none does. 12 x 2.4 of 80 m2.
    """
    pear = Thing(name="pear", kind="tree", x=4, y=3.2, length=2, width=2)
    found = fill_plot(rectangle(10, 8, things=(pear,)), *m(2.4, 1.0, 0.6, 0.5))
    paths, counts = found.steps

    assert {k: len(v) for k, v in found.ways.items() if k != "around"} == {
        "along": 12, "turned": 12, "mixed": len(found.ways["mixed"]),
    }  # fmt: skip
    assert found.free["along"] == 11
    assert found.free["turned"] == 12
    assert found.share["along"] == pytest.approx(12 * 2.4 / 80)
    assert (found.rows, found.real_path) == (4, pytest.approx(1.0))
    assert found.widest == pytest.approx(0.9)
    assert (found.bed, found.path, found.edge) == ((2.4, 1.0), 0.6, 0.5)
    assert (paths[0], paths[-1], len(paths)) == (
        pytest.approx(0.4),
        pytest.approx(2.4),
        201,
    )
    at = {round(p, 2): int(n) for p, n in zip(paths, counts, strict=True)}
    # (9 + p)/(2.4 + p) and (7 + p)/(1 + p), whole
    assert (at[0.5], at[0.6], at[0.9], at[0.91], at[1.01], at[2.4]) == (
        15,
        12,
        12,
        8,
        6,
        4,
    )
    assert dict(zip(paths.round(2), found.across[1], strict=True))[1.01] == 3
    assert len(found.ways["around"]) >= 11
    assert found.free["around"] == len(found.ways["around"])


def test_a_plot_elsewhere_is_filled_the_same():
    """The same plot begun at (-3, 7): every bed moved by as much, things too."""
    pear = Thing(name="pear", kind="tree", x=4, y=3, length=2, width=2)
    away = Thing(name="pear", kind="tree", x=1, y=10, length=2, width=2)
    here = fill_plot(rectangle(10, 8, things=(pear,)), *m(2.4, 1.0, 0.6, 0.5))
    outline = ((-3, 7), (7, 7), (7, 15), (-3, 15))
    there = fill_plot(Plot(outline=outline, things=(away,)), *m(2.4, 1.0, 0.6, 0.5))

    for way, spots in here.ways.items():
        other = there.ways[way]
        assert [s.turned for s in other] == [s.turned for s in spots]
        assert [s.x + 3 for s in other] == pytest.approx([s.x for s in spots])
        assert [s.y - 7 for s in other] == pytest.approx([s.y for s in spots])
    assert there.free == here.free and there.share == here.share


def test_filling_an_l_by_hand():
    """9 x 8 m with 4.5 x 4 m cut out, beds 2.0 x 1.0, paths 0.5, edge 0.2.

    Grid of the box: floor(9.1 / 2.5) = 3 and floor(8.1 / 1.5) = 5; gaps (8.6-6)/2 = 1.3
    and (7.6-5)/4 = 0.65: x 0.2, 3.5, 6.8; y 0.2, 1.85, 3.5, 5.15, 6.8. The two upper
    rows end at 2.85: whole; below y 4 only beds to x 4.3 stay: 3 + 3 + 1 + 1 + 1 = 9.
    """
    found = fill_plot(Plot(outline=L_SHAPE), *m(2.0, 1.0, 0.5, 0.2))

    assert len(found.ways["along"]) == 9 and found.rows == 5
    assert found.real_path == pytest.approx(0.65)
    assert found.share["along"] == pytest.approx(9 * 2 / 54)
    assert dict(zip(found.steps[0].round(2), found.steps[1], strict=True))[0.5] == 9
    for s in found.ways["around"]:
        box = shapely.box(
            s.x - 0.2, s.y - 0.2, s.x + s.length + 0.2, s.y + s.width + 0.2
        )
        assert shapely.Polygon(L_SHAPE).buffer(1e-4).covers(box)


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


# -- sun ------------------------------------------------------------------------


def _sunny(plot, beds=(), day="21 June", **known):
    here = Place(name="x", latitude=Q_(48, "deg"), plot=plot, **known)
    return sun_on(here, beds, day)


def test_open_ground_has_the_sun_while_it_is_over_3_degrees():
    """Ten minutes a point of the way; noon height 90 - 48 + 23.44, shade 1/tan of it."""
    sun = _sunny(rectangle(10, 8, downhill=180), (bed("A", 1, 1),))
    _, heights, _ = sun.ways["21 June"]
    hours = (heights > 3).sum() / 6

    assert (sun.hours == hours).all() and sun.beds["A"] == pytest.approx(hours)
    assert 15 < hours < 16
    assert sun.highest == pytest.approx(65.44, abs=0.02)
    assert sun.shade == pytest.approx(1 / np.tan(np.deg2rad(65.44)), abs=0.001)
    assert set(sun.ways) == set(DAYS) and sun.skyline == ()


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
