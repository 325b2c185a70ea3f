"""A plot of one's own: any shape, what lies on it, and what is outside."""

from __future__ import annotations

import re

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

import bedcalc as bc
from bedcalc import Q_
from bedcalc.figures.site_ground import ground_figure
from bedcalc.figures.site_plan import VIEWS, plan_figure
from bedcalc.model.place import PlaceError
from bedcalc.model.plot import Plot, Thing, rectangle
from bedcalc.printing.setting_out import setting_out_sheet
from bedcalc.questions.site_plan import (
    fill_plot,
    fixed,
    overflow_of,
    plan_site,
    plot_of,
    rain_on,
    routes,
)
from tests.site.own_plots import BEDS, IRREGULAR, L_SHAPE, SHAPES, bed, falling, place

FAR = st.floats(-3, 12)
SIZE = st.floats(0.1, 5)


@pytest.mark.parametrize(("name", "area"), [("L", 54.0), ("triangle", 30.0)])
def test_area_by_hand(name, area):
    assert Plot(outline=SHAPES[name]).area == pytest.approx(area)


def test_area_of_an_irregular_plot_is_another_programs():
    """Shapely (another hand) for the shape without a right angle."""
    plot = Plot(outline=IRREGULAR)

    assert plot.area == pytest.approx(shapely.Polygon(IRREGULAR).area)
    assert plot.bounds == (-2.0, 11.0, -1.5, 9.0)


@given(st.sampled_from(sorted(SHAPES)), FAR, FAR, SIZE, SIZE)
def test_inside_is_what_another_program_calls_inside(name, x, y, length, width):
    """Shapely's covers, but for a hair's breadth at the edge."""
    plot, box = Plot(outline=SHAPES[name]), shapely.box(x, y, x + length, y + width)
    other = shapely.Polygon(SHAPES[name])

    if plot.contains(x, x + length, y, y + width):
        assert other.buffer(1e-4, join_style="mitre").covers(box)
    else:
        assert not other.buffer(-1e-4, join_style="mitre").covers(box)


def test_the_cut_out_corner_is_outside_and_its_edge_is_inside():
    plot = Plot(outline=L_SHAPE)

    assert plot.contains(0, 9, 0, 4) and plot.contains(0, 4.5, 0, 8)
    assert not plot.contains(5, 7.4, 5, 6)
    assert not plot.contains(3, 6, 3, 5)  # across the inner corner
    many = plot.contains(np.array([0.0, 6.0]), np.array([2.0, 8.0]), 5.0, 6.0)
    assert many.tolist() == [True, False]


@pytest.mark.parametrize(
    ("outline", "says"),
    [
        (((0, 0), (5, 0)), "at least 3 corners; given 2"),
        (((0, 0), (5, 5), (5, 0), (0, 5)), "the line after corner 1 meets the line"),
        (((0, 0), (5, 0), (5, 0), (0, 5)), "in the order in which you walk round"),
        (((0, 0), (8, 0), (4, 0), (4, 5)), "meets the line"),
        (((0, 0), (0.5, 0), (0, 0.5)), "1 m to 2500 m from side to side"),
        (((0, 0), (5, 0), ("five", 5)), "two numbers in metres"),
        (((0, 0), (5, 0), (5, float("nan"))), "two numbers in metres"),
    ],
)
def test_what_is_no_plot_is_refused_with_an_example(outline, says):
    with pytest.raises(PlaceError, match=says) as error:
        Plot(outline=outline)

    assert "for example ((0, 0), (12, 0), (12, 8), (0, 8))" in str(error.value)


def test_some_people_end_where_they_began():
    assert Plot(outline=(*L_SHAPE, L_SHAPE[0])).outline == Plot(outline=L_SHAPE).outline


@pytest.mark.parametrize("name", sorted(SHAPES))
def test_a_plot_goes_into_the_garden_file_and_back(name, tmp_path):
    pear = Thing(
        name="old {pear}", kind="tree", x=1.25, y=2, length=2, width=2, height=4
    )
    plot = Plot(outline=SHAPES[name], downhill=212.5, things=(pear,))
    ground = bc.Levelling(rule="limited", limit=Q_(12, "cm"), gravel=Q_(2, "in"))
    here = place(plot=plot, levelling=ground)
    path = bc.save(bc.Garden(place=here, beds=BEDS), tmp_path / "g.toml")

    back = bc.load(path)
    assert back.place.plot == plot
    assert back.place.levelling.si.gravel == pytest.approx(0.0508)
    assert back["Peas"].turned and not back["Kale"].turned
    # what is taken away is not left in the file
    bc.save(back.change(place=back.place.change(plot=None)), path)
    assert bc.load(path).place.plot is None


def test_a_rectangle_of_format_1_is_still_read(tmp_path):
    path = tmp_path / "old.toml"
    path.write_text(
        'format = 1\n[place]\nname = "old"\n[place.yard]\nlength = "12 m"\n'
        'width = "8 m"\ndownhill = "270 deg"\n[[place.yard.things]]\nname = "tap"\n'
        'kind = "tap"\nx = "1 m"\n',
        encoding="utf-8",
    )
    plot = bc.load(path).place.plot

    assert (plot.length, plot.width, plot.downhill) == (12, 8, 270)
    assert plot.of_kind("tap").x == 1


def test_a_garden_named_like_the_demo_gets_nothing_of_it():
    name = bc.demo_garden().place.name

    assert bc.Place(name=name).plot is None
    assert not plot_of(bc.Place(name=name)).things


def test_a_bed_in_the_cut_out_corner_is_over_the_edge_and_mended():
    out = (*BEDS[:2], bed("Kale", 5.2, 4.6))
    here = place(survey=falling("bottom", 0.03))
    check = plan_site(out, here).check("standing")

    assert "Kale stands over the edge of the plot" in check.sentence()
    beds, there = fixed(out, here, check.fix.change)
    assert plan_site(beds, there).check("standing").ok
    kale = beds[2].si
    assert here.plot.contains(kale.x, kale.x + 2.4, kale.y, kale.y + 1.0)


def test_no_mend_leaves_the_plot_or_goes_below_zero():
    near = (bed("A", 0.1, 0.1), bed("B", 0.1, 1.4))
    for known in ({"plot": None}, {"plot": rectangle(2.8, 2.6)}):
        here = place(survey=falling("bottom"), **known)
        plan = plan_site(near, here)
        for check in plan.checks:
            if check.fix and "bed" in check.fix.change:
                beds, _ = fixed(near, here, check.fix.change)
                for b in beds:
                    assert b.si.x >= 0 and b.si.y >= 0
                    assert here.plot is None or here.plot.contains(
                        b.si.x, b.si.x + b.si.plan_length,
                        b.si.y, b.si.y + b.si.plan_width,
                    )  # fmt: skip
    assert not plan.check("path").ok and plan.check("path").fix is None


@pytest.mark.parametrize("name", sorted(SHAPES))
def test_every_bed_of_every_filling_lies_on_the_plot(name):
    plot, edge = Plot(outline=SHAPES[name]), 0.3
    found = fill_plot(plot, *(Q_(v, "m") for v in (1.8, 0.9, 0.6, edge)))
    other = shapely.Polygon(SHAPES[name])

    assert len(found.ways["around"]) >= 4
    for spots in found.ways.values():
        for s in spots:
            box = shapely.box(s.x, s.y, s.x + s.length, s.y + s.width)
            assert other.covers(box)
            assert other.exterior.distance(box) >= edge - 1e-6
    assert found.share["around"] == pytest.approx(
        len(found.ways["around"]) * 1.8 * 0.9 / plot.area
    )
    paths, counts = found.steps
    assert counts[np.argmin(np.abs(paths - 0.6))] == len(found.ways["along"])


def test_rows_use_both_arms_of_an_l():
    """9 x 4 m and 4.5 x 4 m of plot: rows that step aside fill both."""
    found = fill_plot(
        Plot(outline=L_SHAPE), *(Q_(v, "m") for v in (2.0, 1.0, 0.5, 0.2))
    )
    around = found.ways["around"]

    assert any(s.x > 4.5 for s in around) and any(s.y > 4 for s in around)


def test_nobody_walks_through_the_cut_out_corner():
    gate = Thing(name="gate", kind="gate", x=0, y=5, width=1.0)
    here = place(plot=Plot(outline=L_SHAPE, things=(gate,)))
    walk = routes(BEDS, here, "barrow")
    rows, cols = np.nonzero(walk.open_)
    x = walk.corner[0] + (cols + 0.5) * walk.cell
    y = walk.corner[1] + (rows + 0.5) * walk.cell

    assert here.plot.inside(x, y).all() and len(x) > 100
    far = {route.name: route.far for route in walk.routes}
    assert far["Peas"] < far["Beans"] < far["Kale"]  # from a gate at the lower left
    assert walk.routes[1].long == (1, 3)


def test_a_gate_in_the_wall_of_another_side_is_found():
    for gate in (
        Thing(name="g", kind="gate", x=3, y=0, length=1.0),
        Thing(name="g", kind="gate", x=9, y=0.5, width=1.0),
        Thing(name="g", kind="gate", x=1, y=8, length=1.0),
    ):
        here = place(plot=Plot(outline=L_SHAPE, things=(gate,)))
        assert all(np.isfinite(r.far) for r in routes(BEDS, here, "barrow").routes)


@pytest.mark.parametrize("name", sorted(SHAPES))
def test_every_picture_and_sheet_shows_the_outline(name):
    plot = Plot(outline=SHAPES[name], downhill=30)
    beds = (bed("Beans", 1.5, 1.2),)
    here = place(plot=plot, survey=falling("right"))
    plan = plan_site(beds, here)
    storm = rain_on(here, Q_(30, "mm"), Q_(40, "m^2"), swale_length=Q_(3, "m"))
    water = overflow_of(plan, storm)
    for view in VIEWS:
        drawing = plan_figure(plan, view=view, water=water)
        edge = drawing.traces[0]
        assert [tuple(p) for p in zip(edge["x"], edge["y"], strict=True)][:-1] == list(
            plot.outline
        )
        assert drawing.live_layout["height"] < 760
    mesh = ground_figure(plan).traces[0]
    for x, y in plot.outline:
        assert (np.isclose(mesh["x"], x) & np.isclose(mesh["y"], -y)).any()
    page = setting_out_sheet(plan, "Cutcorner")
    (x, y), scale = plot.outline[2], int(re.search(r"Drawn 1 : (\d+)", page)[1])
    assert f" {x * 1000 / scale:.2f},{y * 1000 / scale:.2f} " in page


def test_a_long_narrow_plot_is_not_drawn_a_mile_high():
    plan = plan_site(BEDS[:1], place(plot=rectangle(5, 60), survey=falling("bottom")))
    drawing = plan_figure(plan)
    x, y = (drawing.live_layout[a]["range"] for a in ("xaxis", "yaxis"))

    assert drawing.live_layout["height"] < 760
    across = (drawing.layout["width"] - 16) / (x[1] - x[0])
    assert across == pytest.approx(
        (drawing.live_layout["height"] - 64) / (y[0] - y[1]), rel=1e-6
    )


def test_without_an_outline_it_is_said_and_no_edge_is_guessed():
    plan = plan_site(BEDS, place(plot=None, survey=falling("bottom")))

    assert not plan.outlined and plan.bed_share is None
    assert "No plot outline given" in plan.check("standing").sentence()
    words = " ".join(a["text"] for a in plan_figure(plan).annotations)
    assert "no plot outline given" in words
    assert "No plot outline given" in setting_out_sheet(plan, "Cutcorner")
    # a bed far away is drawn, and stands over no edge
    far = plan_site((*BEDS, bed("Far", 40, 3)), place(plot=None))
    assert far.plot.bounds[1] == pytest.approx(42.4) and far.check("standing").ok
