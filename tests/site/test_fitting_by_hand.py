"""How many beds fit, and what rain and sun bring, counted and computed on paper."""

from __future__ import annotations

import functools

import numpy as np
import pytest
import shapely

from bedcalc import Q_
from bedcalc.model.plot import Plot, Thing, rectangle
from bedcalc.questions.site_plan import fill_plot
from bedcalc.site.layout import bed_count, fit_grid, fit_mixed, fit_rows, path_left
from tests.site.own_plots import L_SHAPE


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
    # a plot just as wide as a bed takes two of them, one behind the other
    assert len(fit_mixed((4.2, 1.0), (2, 1), 0.2, 0.0)) == 2


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
    """A ditch along the upper edge to y = 0.75: 0.5 + 3 x 10 cm is clear of it."""
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


def test_a_bed_that_fits_at_the_last_mark_only():
    """The plot begins at x = 1 and a bed of 2.4 m ends where it ends, at 3.4 m."""
    plot = Plot(outline=((1, 0), (3.4, 0), (3.4, 1), (1, 1)))
    (only,) = fit_rows((3.4, 1.0), (2.4, 1.0), 0.6, 0.0, (), within=plot.contains)

    assert (only.x, only.y) == pytest.approx((1.0, 0.0))


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
