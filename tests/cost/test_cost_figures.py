"""Figures of the cost lesson draw the bill's numbers and keep their traces."""

from __future__ import annotations

import numpy as np
import pytest
from plotly.graph_objects import Figure

import bedcalc as bc
from bedcalc.figures.cost_doubt import fan_figure, swing_figure
from bedcalc.figures.cost_life import life_figure, short, side_by_side
from bedcalc.figures.cost_waterfall import flow_figure
from bedcalc.figures.drawing import as_data
from bedcalc.questions.compare import box_lives, builds, compare, what_matters
from bedcalc.questions.shopping import shopping

WALLS = ("boards", "sheet", "planks", "sleepers", "blocks")


@pytest.fixture(scope="module")
def garden():
    return bc.demo_garden()


def _drawings(garden, name, **how):
    bed = garden[name]
    cost = shopping([bed], garden.place, cut="hand")
    spreads = {m: cost.spread(m) for m in ("judged", "alone", "together")}
    return {
        "flow": flow_figure(cost, name=f"bed {name}", **how),
        "fan": fan_figure(spreads, **how),
        "swing": swing_figure(what_matters(bed, garden.place), cost.si.total, **how),
        "life": life_figure(box_lives(garden.place, builds(bed, WALLS)), **how),
    }


@pytest.mark.parametrize("kind", ["flow", "fan", "swing", "life"])
def test_any_bed_makes_a_picture_that_plotly_knows(garden, kind):
    for name in "ABCEF":
        new = _drawings(garden, name, narrow=name == "C", width=380)[kind]
        assert Figure(as_data(new)).data
        assert new.alt and new.caption and new.numbers.rows


def test_parts_add_up_to_the_total(garden):
    for place in (garden.place, garden.place.change(with_tax=True)):
        cost = shopping(garden, place, cut="hand", extras=("liner", "protection"))
        bars = flow_figure(cost).traces[0]
        parts = list(zip(bars["base"], bars["x"], strict=True))[:-2]
        end = 0.0
        for base, value in parts:
            assert base == pytest.approx(end)
            end += value
        assert end == pytest.approx(cost.si.total)
        assert bars["x"][-2] == pytest.approx(cost.si.total)
        assert bars["base"][-1] == pytest.approx(cost.si.total)


def test_fan_opens_around_the_judged_curve(garden):
    cost = shopping([garden["B"]], garden.place, cut="hand")
    spreads = {m: cost.spread(m) for m in ("judged", "alone", "together")}
    alone, together, judged = (
        np.asarray(t["x"]) for t in fan_figure(spreads).traces[:3]
    )

    assert np.ptp(alone) < np.ptp(judged) < np.ptp(together)
    assert judged[9] == pytest.approx(spreads["judged"].under(0.1))
    assert judged[89] == pytest.approx(spreads["judged"].under(0.9))


def test_the_tie_lies_on_both_curves(garden):
    lives = box_lives(garden.place, builds(garden["B"], ("boards", "planks")))
    drawing = life_figure(lives, (0, 1))
    tie = next(
        t for t in drawing.traces if t.get("marker", {}).get("symbol") == "diamond"
    )
    one, two = lives

    assert tie["x"] == [pytest.approx(one.ties_with[two.name])]
    assert np.interp(tie["x"][0], one.years, one.curve) == pytest.approx(
        two.yearly, rel=2e-3
    )


def test_side_by_side_names_the_cheapest_that_holds(garden):
    """Loose blocks are cheapest for bed E and tip over: they are not recommended."""
    beds = builds(garden["E"], ("blocks", "sleepers", "planks"))
    found = compare(garden.place, beds)
    title = side_by_side(found).annotations[0]["text"]
    cheapest = min(found, key=lambda b: b.first.m)
    holding = [b for b in found if b.stands]

    assert not cheapest.stands and holding
    assert short(cheapest.name) not in title
    named = short(min(holding, key=lambda b: b.first.m).name)
    assert f"Of those that hold, cheapest first: {named}" in title
    bad = [b for b in found if not b.stands]
    assert "None of these holds" in side_by_side(bad).annotations[0]["text"]


def test_side_by_side_says_what_does_not_hold(garden):
    found = compare(garden.place, builds(garden["B"], WALLS))
    drawing = side_by_side(found)
    words = " ".join(note["text"] for note in drawing.annotations)

    assert len(drawing.numbers.rows) == len(found)
    assert "✕ does not hold" in words
    bars = drawing.traces[0]
    assert len(bars["x"]) == 4 * len(found)
