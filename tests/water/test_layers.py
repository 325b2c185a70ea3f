"""The layered bucket: balances, laws, and a march reckoned by another hand."""

from __future__ import annotations

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.water import Days
from bedcalc.water.layered import march_layers
from tests.water.balances import of_bucket, of_layers

DEMO = bc.demo_garden()
LOGS = DEMO["B"].change(fill=bc.strategy_layers("logs_chips_mix", Q_(40, "percent")))
DRY = Days(np.zeros(20), np.full(20, 0.005))


def water(bed):
    return bc.evaluate(bed, DEMO.place).water


def test_roots_of_a_bed_with_logs_find_less_water_above_them():
    """Fresh logs and chips hold little that roots can take."""
    mix, logs = water(DEMO["B"]), water(LOGS.change(crop="tomato"))

    assert logs.roots <= Q_(71, "cm")
    assert [one.name for one in logs.layers][-1] == "logs with chips between"
    assert logs.holds < water(DEMO["B"].change(crop="tomato")).holds
    assert mix.layers[0].share == pytest.approx(1 - 0.961**50)


@pytest.mark.parametrize("bed", [DEMO["A"], DEMO["B"], LOGS, DEMO["D"]])
@pytest.mark.parametrize("watered", [True, False])
def test_the_balance_of_a_year_closes(bed, watered):
    found = water(bed)
    days = found.year(3)
    layered = march_layers(
        found.layers, days, found.factor, found.crop.easy, water=watered
    )
    single = found.over(days, water=watered)

    assert of_layers(layered) == pytest.approx(0, abs=1e-12)
    assert of_bucket(single) == pytest.approx(0, abs=1e-12)
    assert np.all(layered.stored >= -1e-12)
    assert np.all(layered.stored <= layered.holds + 1e-12)


def test_without_a_layer_below_both_buckets_dry_alike():
    """One layer of mix, no compensation needed: the dry-down of the single bucket."""
    found = water(DEMO["B"])
    one = march_layers(found.layers, DRY, found.factor, found.crop.easy, water=False)
    two = found.over(DRY, water=False)

    assert found.holds.m_as("mm") - 1e3 * one.stored[4, 0] == pytest.approx(
        1e3 * two.depletion[4], rel=1e-9
    )


def test_twenty_dry_days_as_reckoned_apart():
    """Layers and sums of an independent script; its own numbers, kept beside it.

    From the top 5 cm of compost, 30 cm of compost, 10 cm of chips and 30 cm of logs,
    with 5 mm a day for grass, Kc 1.05, factor 1.10 and p 0.35: 88.46 mm used in 20 dry
    days; stored after ten 2.83, 25.19, 7.81 and 7.92 mm.
    """
    from bedcalc.tables import table
    from bedcalc.water import RootLayer, root_share

    rows = table("water_layers")
    top, layers = 0.0, []
    # the script's chips hold 0.12 with all of it counted, its logs 0.03
    for key, depth, holds in (
        ("topdressing", 0.05, 11.5), ("compost", 0.30, 69.0),
        ("chips", 0.10, 12.0), ("logs", 0.30, 9.0),
    ):  # fmt: skip  # rows of a table
        layers.append(
            RootLayer(
                name=key, material=rows[key], depth=depth, top=top, holds=holds / 1e3,
                share=root_share.si(top, top + depth) * rows[key].access,
            )
        )  # fmt: skip  # a list of names
        top += depth
    found = march_layers(layers, DRY, 1.05 * 1.10, 0.35, water=False)

    assert 1e3 * found.used.sum() == pytest.approx(88.46, abs=0.005)
    assert 1e3 * found.stored[9] == pytest.approx([2.83, 25.19, 7.81, 7.92], abs=0.005)


def test_rain_on_a_dry_bed_wets_the_top_first():
    found = water(LOGS)
    wet = Days(np.array([0.012]), np.array([0.001]))
    dry = march_layers(
        found.layers,
        Days(np.zeros(200), np.full(200, 0.005)),
        found.factor,
        found.crop.easy,
        water=False,
    )
    assert dry.stored[-1].sum() < 0.3 * dry.holds.sum()
    full = march_layers(found.layers, wet, found.factor, found.crop.easy)
    assert full.drained[0] > 0.009  # it was full: rain runs through
