"""The fill's close-up: layers to scale, numbers in columns."""

import numpy as np
import pytest

import bedcalc
from bedcalc import Q_
from bedcalc.figures.fill import fill_figure
from bedcalc.figures.texture import log_ends, strokes
from bedcalc.garden.garden import demo_garden
from bedcalc.model.layers import Layer, strategy_layers
from bedcalc.tables import table
from bedcalc.units import show

GARDEN = demo_garden()
LAYERS = strategy_layers("logs_chips_compost")
MANY = tuple(
    Layer(material=m, depth=Q_(8, "cm"))
    for m in ("logs", "brush", "leaves", "straw", "compost", "topsoil")
) + (Layer(material="mix"),)
BARS, SUNK = 0, -5


def outcome(name, **changes):
    return bedcalc.evaluate(GARDEN[name].change(**changes), GARDEN.place)


@pytest.fixture(scope="module")
def layered():
    return outcome("B", fill=LAYERS)


@pytest.fixture(scope="module")
def drawings(layered):
    outcomes = [outcome(name) for name in "ABCDEF"]
    return [
        *(fill_figure(o) for o in outcomes),
        *(fill_figure(o, system="us", narrow=True) for o in outcomes),
        fill_figure(layered, width=900),
        fill_figure(layered, narrow=True, width=300),
        fill_figure(outcome("B", fill=MANY)),
    ]


def texts(drawing):
    return [
        n["text"].replace("<b>", "").replace("</b>", "") for n in drawing.annotations
    ]


def test_the_kinds_of_traces_never_change(drawings):
    shapes = {
        tuple((t["type"], t.get("mode"), t.get("fill")) for t in d.traces)
        for d in drawings
    }
    assert len(shapes) == 1


def test_numbers_drawn_are_finite_but_for_the_gaps(drawings):
    for drawing in drawings:
        for trace in drawing.traces:
            x, y = (np.asarray(trace[k], float) for k in "xy")
            assert (np.isnan(x) == np.isnan(y)).all()
            assert not np.isinf(x).any() and not np.isinf(y).any()


def test_layers_are_drawn_as_deep_as_they_are(layered):
    bars = fill_figure(layered).traces[BARS]
    layers = layered.fill.layers
    np.testing.assert_allclose(bars["y"], [la.depth.m_as("m") for la in layers])
    np.testing.assert_allclose(bars["base"], [la.bottom.m_as("m") for la in layers])


@pytest.mark.parametrize("narrow, width", [(False, 620), (False, 900), (True, 340)])
@pytest.mark.parametrize("name", "ABCDEF")
def test_a_metre_is_as_many_pixels_up_as_across(name, narrow, width):
    drawing = fill_figure(outcome(name), narrow=narrow, width=width)
    margin, live = drawing.layout["margin"], drawing.live_layout
    across = (width - margin["l"] - margin["r"]) / np.ptp(live["xaxis"]["range"])
    up = live["height"] - margin["t"] - margin["b"]
    assert up / np.ptp(live["yaxis"]["range"]) == pytest.approx(across)


def test_the_dashed_line_is_where_a_loose_fill_sinks_to(layered):
    trace = fill_figure(layered).traces[SUNK]
    fill = layered.fill
    sunk = fill.layers[-1].top.m_as("m") - fill.drop_if_loose.m_as("m")
    np.testing.assert_allclose(trace["y"], sunk)
    assert trace["line"]["dash"] == "dash"
    logs_only = outcome("B", fill=(Layer(material="logs"),))
    assert len(fill_figure(logs_only).traces[SUNK]["x"]) == 0


@pytest.mark.parametrize("system", ["metric", "us"])
def test_the_columns_hold_the_outcome(layered, system):
    said = texts(fill_figure(layered, system=system))
    fill = layered.fill

    def cell(value, kind):
        return show(value, kind, system).split("\N{NO-BREAK SPACE}")[0]

    for layer in fill.layers:
        assert cell(layer.depth, "depth") in said
        assert cell(layer.settled, "volume") in said
        assert cell(layer.loose, "volume") in said
        assert cell(layer.cost, "money") in said
    assert cell(fill.settled_volume, "volume") in said
    assert cell(fill.loose_volume, "volume") in said
    assert cell(fill.cost, "money") in said
    assert show(fill.order_volume, "volume", system) in said[0]


def test_what_costs_nothing_is_called_free():
    leaves = outcome(
        "B", fill=(Layer(material="leaves", depth=Q_(10, "cm")), Layer(material="mix"))
    )
    assert leaves.fill.layers[0].si.cost == 0
    assert "free" in texts(fill_figure(leaves))


def test_rows_of_the_table_never_touch(drawings):
    for drawing in drawings:
        live = drawing.live_layout
        margin = drawing.layout["margin"]
        high = live["height"] - margin["t"] - margin["b"]
        px = high / np.ptp(live["yaxis"]["range"])
        names = {
            n["y"] * px for n in drawing.annotations if n.get("xanchor") == "right"
        }
        assert np.diff(sorted(names)).min() >= 25.9


def test_alt_text_and_table_hold_the_key_numbers(layered):
    drawing = fill_figure(layered)
    fill = layered.fill
    assert show(fill.order_volume, "volume") in drawing.alt
    assert show(fill.drop_if_loose, "depth") in drawing.alt
    assert f"{fill.si.loads:.0f} barrow loads" in drawing.alt
    names = [row[0] for row in drawing.numbers.rows]
    assert names[: len(fill.layers)] == [la.si.name for la in reversed(fill.layers)]
    assert "together" in names
    assert len(names) == len(fill.layers) + 1 + len(fill.orders)
    assert {len(row) for row in drawing.numbers.rows} == {5}


def test_log_ends_lie_in_their_layer_and_on_nobody():
    x, z, r = log_ends(0.0, 1.4, 0.1, 0.4)
    assert len(x) > 20
    assert (z - r).min() >= 0.1 - 1e-6 and (z + r).max() <= 0.4 + 1e-5
    assert (x - r).min() >= 0 and (x + r).max() <= 1.4
    apart = np.hypot(x[:, None] - x, z[:, None] - z) - (r[:, None] + r)
    np.fill_diagonal(apart, 1.0)
    assert apart.min() > 0


@pytest.mark.parametrize("material", table("fills").rows)
def test_strokes_stay_in_their_layer_and_do_not_dance(material):
    x, z, _ = strokes(material, 0.0, 1.0, 0.2, 0.5)
    assert len(x) > 0 and np.nanmin(x) >= 0 and np.nanmax(x) <= 1.0
    assert np.nanmin(z) >= 0.2 and np.nanmax(z) <= 0.5
    deeper, _, _ = strokes(material, 0.0, 1.0, 0.2, 0.6)
    assert set(x[0::3]) <= set(deeper[0::3])
