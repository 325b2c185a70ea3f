"""Figures of the fill lesson draw the outcome's numbers and keep their traces."""

from __future__ import annotations

import numpy as np
import pytest
from plotly.graph_objects import Figure

import bedcalc as bc
from bedcalc import Q_
from bedcalc.figures.drawing import as_data
from bedcalc.figures.fill_barrows import barrows_figure
from bedcalc.figures.fill_comparison import buying_figure, ways_figure
from bedcalc.figures.fill_logs import logs_figure
from bedcalc.figures.fill_settlement import sinking_figure
from bedcalc.questions.compare import buying, compare_fills


@pytest.fixture(scope="module")
def outcomes():
    garden = bc.demo_garden()
    beds = [garden[name] for name in "ABCDEF"]
    beds += [
        garden["B"].change(fill=bc.strategy_layers(key))
        for key in ("logs_chips_mix", "logs_chips_compost", "half_logs")
    ]
    return [bc.evaluate(bed, garden.place) for bed in beds]


def _drawings(o, **how):
    volumes, cost, tie = buying("mix", o.place)
    return {
        "barrows": barrows_figure(o, o.fill.work("builder"), **how),
        "logs": logs_figure(o, o.fill.logs(Q_(20, "cm")), **how),
        "sinking": sinking_figure(o, **how),
        "buying": buying_figure(volumes, cost, 0.8, tie, **how),
    }


@pytest.mark.parametrize("name", ["barrows", "logs", "sinking", "buying"])
def test_any_bed_makes_a_picture_that_plotly_knows(outcomes, name):
    for o in outcomes:
        for system in ("metric", "us"):
            new = _drawings(o, system=system, narrow=system == "us", width=380)[name]
            assert Figure(as_data(new)).data
            assert new.alt and new.caption and new.numbers.headings
            assert new.layout["width"] == 380


def test_as_many_barrows_are_drawn_as_there_are_loads(outcomes):
    for o in outcomes:
        work = o.fill.work("builder")
        drawing = barrows_figure(o, work)
        wheels = drawing.traces[-2]
        assert len(wheels["x"]) == work.si.loads


def test_bed_and_barrows_share_one_scale(outcomes):
    o = outcomes[1]
    drawing = barrows_figure(o, o.fill.work("builder"))
    bars = drawing.traces[0]

    assert bars["width"][0] == pytest.approx(o.fill.si.inside_length)
    assert sum(bars["y"]) == pytest.approx(o.fill.layers[-1].si.top)


def test_many_loads_are_drawn_several_to_one():
    garden = bc.demo_garden()
    large = garden["B"].change(length=Q_(9, "m"), width=Q_(2, "m"), height=Q_(1, "m"))
    o = bc.evaluate(large, garden.place)
    drawing = barrows_figure(o, o.fill.work("child"))

    assert len(drawing.traces[-2]["x"]) <= 9 * 14
    assert "each drawn is" in drawing.alt


def test_logs_drawn_do_not_overlap_and_are_as_many_as_fit(outcomes):
    o = next(x for x in outcomes if x.fill.logs())
    plan = o.fill.logs(Q_(8, "cm"))
    ends = logs_figure(o, plan).traces[3]
    points = np.stack([ends["x"], ends["y"]], axis=1)
    apart = np.hypot(*(points[:, None] - points[None]).transpose(2, 0, 1))
    apart[np.arange(len(points)), np.arange(len(points))] = 1.0

    assert len(points) == plan.si.laid
    assert apart.min() >= plan.si.diameter - 1e-9
    assert points[:, 0].max() <= o.fill.si.inside_length - plan.si.diameter / 2 + 1e-9
    assert points[:, 1].max() <= plan.si.zone_depth - plan.si.diameter / 2 + 1e-9


def test_the_line_of_the_surface_is_the_outcome(outcomes):
    o = outcomes[-1]
    line = sinking_figure(o).traces[2]
    years = np.asarray(line["x"])
    sunk = o.fill.sunk(Q_(years, "year")).m_as("cm")

    assert np.asarray(line["y"]) == pytest.approx(
        o.fill.layers[-1].top.m_as("cm") - sunk
    )


def test_bars_of_the_ways_are_now_and_later(outcomes):
    choices = compare_fills(outcomes[1].bed, outcomes[1].place)
    now, later = ways_figure(choices).traces

    assert now["x"] == [pytest.approx(c.first.m) for c in choices]
    assert later["x"] == [pytest.approx(c.top_up.m) for c in choices]
    assert later["base"] == now["x"]
