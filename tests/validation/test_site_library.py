"""Site: plot, levels, water, hose and sun against libraries made for them."""

from __future__ import annotations

import datetime as dt

import astral
import numpy as np
import pytest
from astral.sun import azimuth, elevation
from ortools.sat.python import cp_model
from scipy import integrate, optimize
from shapely import LineString, Polygon, affinity, box

from bedcalc.model.plot import Plot
from bedcalc.site.chapter import fit_plane
from bedcalc.site.hose import hose_flow, hose_loss
from bedcalc.site.layout import bed_count, fit_mixed
from bedcalc.site.levelling import (
    cut_and_fill,
    plan_shortening,
    rim_shift,
    strip_volume,
)
from bedcalc.site.overflow import box_distance
from bedcalc.site.setout import diagonal, slide_to_square
from bedcalc.site.sun import noon_shade, sun_path
from bedcalc.site.water import swale_depth, swale_width
from bedcalc.tables import table
from tests.validation.kinds import outside
from tests.validation.printed import printed

CHAPTER = "site"
OTHERS = "own derivation"

L_SHAPE = ((0, 0), (12, 0), (12, 4), (5, 4), (5, 9), (0, 9))
SLANTED = ((0, 1), (9, 0), (11, 6), (7, 8), (1, 7))
PLOTS = [L_SHAPE, SLANTED]
BOXES = [(0.5, 2.5, 0.5, 2.0), (4, 7, 3, 6), (10, 13, 1, 3), (1, 4, 5, 8), (6, 8, 2, 5)]


@outside("library", "area", "shapely")
@pytest.mark.parametrize("ring", [L_SHAPE, SLANTED, ((0, 0), (8, 0), (3, 6))])
def test_area_of_a_plot(ring):
    assert Plot(outline=ring).area == pytest.approx(Polygon(ring).area)


@outside("library", "contains", "shapely")
@pytest.mark.parametrize("at", BOXES)
def test_whether_a_bed_stands_inside_the_plot(at):
    left, right, top, bottom = at
    for ring in PLOTS:
        inside = Polygon(ring).buffer(1e-9).contains(box(left, top, right, bottom))
        assert bool(Plot(outline=ring).contains(*at)) == inside


@outside("library", "inside", "shapely", facts=5)
def test_points_inside_a_plot():
    """Five hundred points of each plot, none of them on an edge."""
    dice = np.random.default_rng(5)
    points = dice.uniform((-1, -1), (13, 10), (500, 2))
    for ring in PLOTS:
        ours = Plot(outline=ring).inside(*points.T)
        shape = Polygon(ring)
        assert [*ours] == [shape.contains(p) for p in _points(points)]


def _points(rows):
    from shapely import Point

    return [Point(*row) for row in rows]


@outside("library", "box_distance", "shapely")
@pytest.mark.parametrize("at", BOXES)
def test_distance_of_a_swale_and_a_house(at):
    left, right, top, bottom = at
    house = box(7.5, 6.5, 9.5, 8.0)
    ours = box_distance.si((7.5, 9.5, 6.5, 8.0), at)

    assert ours == pytest.approx(house.distance(box(left, top, right, bottom)))


@outside("library", "fit_plane", "numpy")
@pytest.mark.parametrize("seed", range(5))
def test_plane_through_readings(seed):
    """Readings of a survey that is no plane, by the library's least squares."""
    dice = np.random.default_rng(seed)
    points = np.column_stack([dice.uniform(0, 10, (9, 2)), dice.normal(0.4, 0.2, 9)])
    a, b, c, left = fit_plane(points)
    z = -points[:, 2]  # read down from a level line
    found = np.linalg.lstsq(np.column_stack([np.ones(9), points[:, :2]]), z)[0]

    assert (b, c) == pytest.approx(found[1:])
    at = points[:, :2].mean(axis=0)
    assert np.std(left) == pytest.approx(
        np.std(z - found[0] - points[:, :2] @ found[1:])
    )
    assert a + b * at[0] + c * at[1] == pytest.approx(found[0] + at @ found[1:]) or (
        a == pytest.approx(z.mean())
    )


@outside("library", "cut_and_fill", "scipy")
@pytest.mark.parametrize(
    "depths",
    [(0.1, 0.1, 0.1, 0.1), (0.17, 0.13, 0.05, 0.08), (0.2, 0.0, 0.0, 0.2),
     (0.1, 0.05, -0.08, 0.02), (0.15, -0.1, 0.12, -0.06)],
)  # fmt: skip
def test_cut_and_fill_by_a_double_integral(depths):
    d1, d2, d3, d4 = depths

    def depth(y, x):
        return (d1 * (1 - x) + d2 * x) * (1 - y) + (d4 * (1 - x) + d3 * x) * y

    area = 2.7 * 1.05
    cut, fill = cut_and_fill(2.7, 1.05, np.array(depths))
    for ours, sign in ((cut, 1), (fill, -1)):
        n = 60
        x = (np.arange(n) + 0.5) / n
        rows = [
            integrate.quad(lambda y, x=x_, k=sign: max(k * depth(y, x), 0.0), 0, 1,
                           limit=60)[0]
            for x_ in x
        ]  # fmt: skip
        assert ours == pytest.approx(area * np.mean(rows), rel=5e-3, abs=2e-5)


@outside("library", "strip_volume", "shapely")
@pytest.mark.parametrize("strip", [0.15, 0.2, 0.25, 0.3, 0.4])
def test_strip_under_the_walls(strip):
    """Level ground: what lies between the outline and itself drawn in."""
    outer = box(0, 0, 2.7, 1.05)
    ring = outer.difference(outer.buffer(-strip, join_style="mitre"))
    ours = strip_volume.si(2.7, 1.05, np.full(4, 0.12), strip)

    assert ours == pytest.approx(0.12 * ring.area)


@outside("library", "rim_shift", "shapely")
@pytest.mark.parametrize("slope", [0.02, 0.05, 0.1, 0.15, 0.2])
def test_a_box_that_is_turned_level(slope):
    """Its side view, 2.7 m by 0.72 m, turned about its lower corner."""
    tilt = np.degrees(np.arctan(slope))
    tilted = affinity.rotate(box(0, 0, 2.7, 0.72), -tilt, origin=(0, 0))
    corners = np.array(tilted.exterior.coords)[:-1]
    rim = corners[np.argmax(corners[:, 1])]
    foot = corners[np.argmax(corners[:, 0])]

    assert rim_shift.si(0.72, slope) == pytest.approx(abs(rim[0]), abs=1e-9)
    lower = affinity.rotate(LineString([(0, 0), (2.7, 0)]), -tilt, origin=(0, 0))
    shorter = 2.7 - lower.bounds[2] + lower.bounds[0]
    assert plan_shortening.si(2.7, slope) == pytest.approx(shorter, abs=1e-9)
    assert foot[0] > rim[0]


@outside("library", "slide_to_square", "shapely")
@pytest.mark.parametrize("slid", [0.002, 0.01, 0.03])
def test_a_frame_out_of_square(slid):
    """A box skewed by the library; its diagonals tell how far."""
    corners = [(0, 0), (2.7, 0), (2.7 + slid, 1.05), (slid, 1.05)]
    longer = LineString([corners[0], corners[2]]).length
    shorter = LineString([corners[1], corners[3]]).length

    assert slide_to_square.si(longer, shorter, 2.7) == pytest.approx(slid)
    assert diagonal.si(2.7, 1.05) == pytest.approx(
        LineString([(0, 0), (2.7, 1.05)]).length
    )


@outside("library", "swale_depth", "shapely")
@pytest.mark.parametrize("volume", [0.6, 1.2, 2.022, 3.5, 5.0])
def test_depth_of_a_swale(volume):
    """Solved: the triangle whose area times the length holds the water."""

    def holds(depth):
        return Polygon([(-3 * depth, depth), (3 * depth, depth), (0, 0)]).area * 14

    depth = optimize.brentq(lambda d: holds(d) - volume, 1e-3, 3)
    assert swale_depth.si(volume, 3.0, 14.0) == pytest.approx(depth)
    assert swale_width.si(depth, 3.0, 0.0) == pytest.approx(6 * depth)


@outside("library", "hose_flow", "scipy")
@pytest.mark.parametrize(
    ("length", "climb", "bore"),
    [(20, 0.0, 0.0127), (50, 1.5, 0.0127), (30, -2.0, 0.019), (80, 4.0, 0.019),
     (25, 0.6, 0.0159)],
)  # fmt: skip
def test_what_comes_out_of_a_hose(length, climb, bore):
    """Pressure of the tap = its own loss + friction + climb, solved by the library."""
    standing, free = 3e5, 2.5e-4

    def rest(flow):
        head = climb + hose_loss.si(flow, length, bore)
        return standing - standing * (flow / free) ** 2 - 998.2 * 9.80665 * head

    # downhill the pressure is not used up: then the open tap sets the flow
    found = free if rest(free) > 0 else optimize.brentq(rest, 1e-9, free)
    ours = hose_flow.si(standing, free, length, climb, bore)
    assert ours == pytest.approx(found, rel=1e-3)


@outside("library", "sun_path", "astral")
@pytest.mark.parametrize(
    ("latitude", "month", "day"),
    [(48, 6, 21), (48, 3, 20), (35, 9, 1), (-34, 12, 21), (60, 5, 5)],
)
def test_where_the_sun_stands(latitude, month, day):
    """Heights and bearings by the formulas of another library, to a tenth of a degree.

    Both count from true noon: there the library's sun is in the south, or the north.
    """
    hours, heights, bearings = sun_path(float(latitude), month, day)
    here = astral.Observer(latitude, 0.0, 0.0)
    start = dt.datetime(2025, month, day, tzinfo=dt.UTC)
    side = 180.0 if latitude > 0 else 0.0

    def off(minutes):
        at = azimuth(here, start + dt.timedelta(minutes=minutes))
        return (at - side + 180) % 360 - 180

    noon = optimize.brentq(off, 680, 760)
    for hour in (9.0, 10.5, 13.0, 15.5):
        i = int(np.argmin(np.abs(hours - hour)))
        assert hours[i] == pytest.approx(hour)
        at = start + dt.timedelta(minutes=noon + 60 * (hour - 12))
        found = elevation(here, at, with_refraction=False)
        assert heights[i] == pytest.approx(found, abs=0.15)
        assert bearings[i] == pytest.approx(azimuth(here, at), abs=0.3)


@outside("library", "noon_shade", "astral")
@pytest.mark.parametrize(
    ("latitude", "month", "day"),
    [(48, 6, 21), (48, 12, 21), (-34, 6, 21), (55, 3, 20)],
)
def test_shade_at_noon_by_another_sun(latitude, month, day):
    """The highest sun of the day throws the shortest shade; a centimetre on a metre."""
    here = astral.Observer(latitude, 0.0, 0.0)
    start = dt.datetime(2025, month, day, 11, tzinfo=dt.UTC)
    highest = max(
        elevation(here, start + dt.timedelta(minutes=m), with_refraction=False)
        for m in range(120)
    )
    tilt = {6: 23.44, 12: -23.44, 3: 0.0}[month]
    ours = noon_shade.si(1.0, np.radians(latitude), np.radians(tilt))

    assert ours == pytest.approx(1 / np.tan(np.radians(highest)), rel=0.02)


@outside("library", "fit_mixed", "ortools")
@pytest.mark.parametrize(
    ("wide", "deep", "count"), [(4.0, 3.0, 1), (7.0, 3.8, 2), (6.0, 4.6, 3)]
)
def test_most_beds_on_a_small_plot(wide, deep, count):
    """A constraint solver finds no room for one bed more (beds 2.0 by 1.0 m).

    Our plans are made of straight cuts right through, so four beds in a pinwheel,
    which fit a plot of 5.2 by 5.2 m, are not found: there ours are three.
    """
    found = len(fit_mixed((wide, deep), (2.0, 1.0), 0.8, 0.5))
    assert found >= count
    assert not _room_for(wide, deep, found + 1) and _room_for(wide, deep, found)


def test_a_pinwheel_is_not_found():
    """The limit of plans of straight cuts, written down so that nobody forgets it."""
    assert len(fit_mixed((5.2, 5.2), (2.0, 1.0), 0.8, 0.5)) == 3
    assert _room_for(5.2, 5.2, 4)


def _room_for(wide, deep, number) -> bool:
    """Whether so many beds fit, turned or not: rectangles grown by the path."""
    model = cp_model.CpModel()
    to = 10  # decimetres
    room = [round((v - 1.0 + 0.8) * to) for v in (wide, deep)]
    rows, cols = [], []
    for i in range(number):
        turned = model.new_bool_var(f"t{i}")
        spans = []
        for axis in (0, 1):
            size = [28, 18] if axis == 0 else [18, 28]
            start = model.new_int_var(0, max(room), f"s{axis}{i}")
            length = model.new_int_var(18, 28, f"l{axis}{i}")
            model.add(length == size[0]).only_enforce_if(turned.negated())
            model.add(length == size[1]).only_enforce_if(turned)
            end = model.new_int_var(0, room[axis], f"e{axis}{i}")
            spans.append(model.new_interval_var(start, length, end, f"i{axis}{i}"))
        rows.append(spans[0])
        cols.append(spans[1])
    model.add_no_overlap_2d(rows, cols)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = 10
    return solver.solve(model) in (cp_model.OPTIMAL, cp_model.FEASIBLE)


@outside("library", "bed_count", "ortools")
@pytest.mark.parametrize("space", [4.0, 7.3, 9.6, 12.0, 14.4])
def test_most_beds_side_by_side(space):
    """Beds of 1.05 m, paths of 0.9 m, edges of 0.6 m, as a whole-number program."""
    model = cp_model.CpModel()
    number = model.new_int_var(0, 50, "beds")
    model.add(105 * number + 90 * (number - 1) + 2 * 60 <= round(space * 100))
    model.maximize(number)
    solver = cp_model.CpSolver()
    assert solver.solve(model) == cp_model.OPTIMAL

    assert bed_count.si(space, 1.05, 0.9, 0.6) == solver.value(number)


@outside("printed", "table paths", "ada_2010", facts=1)
def test_clear_width_of_an_accessible_route():
    """ADA 403.5.1: 36 in, 915 mm."""
    row = next(r for r in table("paths") if r.source == "ada_2010")
    assert row.q("width").m_as("mm") == printed("915")


@outside("from memory", "table curve_numbers", "tr55", facts=5)
def test_curve_numbers_as_remembered():
    """TR-55, table 2-2a: lawn in fair condition 49, 69, 79, 84; paving and roofs 98."""
    rows = [[row.A, row.B, row.C, row.D] for row in table("curve_numbers")]
    assert [49, 69, 79, 84] in rows
    assert [98, 98, 98, 98] in rows


@outside("from memory", "table runoff", "asce_37", facts=2)
def test_runoff_coefficients_as_remembered():
    """Manual 37: lawns on heavy soil, steep 0.25 to 0.35; on sand 0.05 to 0.20."""
    heavy, sandy = (table("runoff")[key] for key in ("heavy_grass", "sandy_grass"))
    assert (heavy.low, heavy.high) == (printed("0.25"), printed("0.35"))
    assert (sandy.low, sandy.high) == (printed("0.05"), printed("0.20"))
