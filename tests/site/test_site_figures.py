"""Figures of site and size: what is drawn is what was computed, and nothing jumps."""

from __future__ import annotations

import json

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.figures.posture import cost_curve, outlines_figure, posture_figure
from bedcalc.figures.site_curves import stairs_figure, sun_figure, swale_figure
from bedcalc.figures.site_ground import ground_figure
from bedcalc.figures.site_plan import VIEWS, plan_figure
from bedcalc.figures.site_section import section_figure
from bedcalc.questions.site_plan import (
    fill_plot,
    overflow_of,
    plan_site,
    rain_on,
    routes,
    sun_on,
)
from bedcalc.questions.size_plan import (
    compare_shapes,
    compare_sizes,
    outline_prices,
    posture_at,
)


@pytest.fixture(scope="module")
def garden():
    return bc.demo_garden()


@pytest.fixture(scope="module")
def plan(garden):
    return plan_site(garden.beds, garden.place)


def drawings(garden, plan, system="metric", narrow=False):
    more = {"system": system, "narrow": narrow}
    walk = routes(garden.beds, garden.place, "barrow")
    sun = sun_on(garden.place, garden.beds, "21 March")
    fill = fill_plot(plan.plot, Q_("2.7 m"), Q_("1.05 m"), Q_("0.9 m"), Q_("0.6 m"))
    rain = rain_on(garden.place, Q_("38 mm"), Q_(310, "m^2"))
    shapes = compare_shapes(*(Q_(v, "m") for v in (2.7, 2.1, 0.8, 0.6, 0.475)))
    sizes = compare_sizes(garden["A"], garden.place, "length", Q_("1 m"), Q_("3 m"), 4)
    water = overflow_of(plan, rain)
    for view in VIEWS:
        yield plan_figure(plan, view=view, walk=walk, sun=sun, water=water, **more)
    yield plan_figure(plan, spots=fill.ways["mixed"], **more)
    for across in (True, False):
        yield section_figure(plan, "B", across=across, **more)
    yield stairs_figure(fill, **more)
    yield sun_figure(sun, **more)
    yield swale_figure(rain, **more)
    yield ground_figure(plan, **more)
    for name in ("A", "D"):
        found = posture_at(garden[name], Q_("1.65 m"))
        yield posture_figure(found, garden[name], **more)
    yield outlines_figure(shapes, **more)
    prices = outline_prices(shapes, bc.evaluate(garden["A"], garden.place))
    yield outlines_figure(shapes, prices=prices, **more)
    yield cost_curve(sizes, **more)


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("narrow", [False, True])
def test_every_drawing_says_itself_in_words_and_numbers(garden, plan, system, narrow):
    for drawing in drawings(garden, plan, system, narrow):
        assert len(drawing.alt) > 40 and drawing.caption
        assert drawing.numbers.rows
        assert drawing.live_layout.get("height", drawing.layout.get("height")) < 760
        # what goes over the wire as plain lists must not hold not-a-number
        json.dumps(
            [
                {k: v for k, v in t.items() if isinstance(v, list)}
                for t in drawing.traces
            ],
            allow_nan=False, default=float,
        )  # fmt: skip


def test_views_of_the_plan_keep_their_traces(garden, plan):
    made = list(drawings(garden, plan))[: len(VIEWS) + 1]

    kinds = {tuple(t["type"] for t in d.traces) for d in made}
    assert len(kinds) == 1


def test_beds_are_drawn_where_they_stand(plan):
    drawing = plan_figure(plan)
    (beds,) = [t for t in drawing.traces if t.get("fillcolor") == "#7C5C47"]
    left = np.nanmin(beds["x"]), np.nanmin(beds["y"])

    assert left == (pytest.approx(1.8), pytest.approx(1.5))
    # plot of 14.4 x 9.6 m keeps its shape: px a metre the same both ways
    wide = drawing.layout["width"] - 16
    x, y = drawing.live_layout["xaxis"]["range"], drawing.live_layout["yaxis"]["range"]
    high = drawing.live_layout["height"] - 64
    assert wide / (x[1] - x[0]) == pytest.approx(high / (y[0] - y[1]), rel=1e-6)


def test_section_shows_the_depths_of_the_plan(plan):
    words = " ".join(a["text"] for a in section_figure(plan, "B").annotations)

    assert "169" in words and "83" in words
    assert "551" in words and "637" in words  # 720 less the depth


def test_section_keeps_its_shape(plan):
    for width in (329, 620, 760):
        drawing = section_figure(plan, "B", width=width)
        x = drawing.live_layout["xaxis"]["range"]
        y = drawing.live_layout["yaxis"]["range"]
        across = (width - 16) / (x[1] - x[0])
        up = (drawing.live_layout["height"] - 66) / (y[1] - y[0])
        assert across == pytest.approx(up, rel=1e-6)


def test_the_doubtful_reading_is_marked(garden):
    points = garden.place.survey.points.copy()
    points[6, 2] = 0.713
    place = garden.place.change(survey=bc.Survey(readings=tuple(map(tuple, points))))
    drawing = plan_figure(plan_site(garden.beds, place), view="readings")
    marked = [
        t for t in drawing.traces
        if t.get("mode") == "markers" and t["marker"]["symbol"] == "square"
    ]  # fmt: skip

    assert (marked[0]["x"][0], marked[0]["y"][0]) == (9.6, 4.8)
    assert "Reading 7" in drawing.annotations[0]["text"]


def test_ground_lies_under_every_bed_corner(plan):
    """A rim is level; no box floats: its lowest drawn corner is on the ground."""
    mesh = ground_figure(plan).traces[0]
    a, b, c = plan.plane
    for bed in plan.beds:
        rim = bed.si.underside + bed.si.height
        at = np.isclose(mesh["z"], rim)
        assert at.sum() >= 4
        x, y = bed.corners[3]
        foot = (np.isclose(mesh["x"], x)) & (np.isclose(mesh["y"], -y))
        assert mesh["z"][foot].min() == pytest.approx(a + b * x + c * y, abs=1e-6)
