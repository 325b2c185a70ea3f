"""Seasons: balances, limits, and what the lesson says, at any fill."""

from __future__ import annotations

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.seasons import growing_months

GARDEN = bc.demo_garden()


def seasons(bed="B", place=GARDEN.place, **change):
    return bc.evaluate(GARDEN[bed].change(**change), place).seasons


@pytest.mark.parametrize("fill", ["all_mix", "logs_chips_compost", "half_logs"])
def test_the_layers_add_up_and_the_band_holds_the_line(fill):
    found = seasons(fill=bc.strategy_layers(fill)).si

    assert found.layers_sunk.sum(axis=0) == pytest.approx(found.sunk)
    assert np.all(found.sunk_low <= found.sunk + 1e-12)
    assert np.all(found.sunk <= found.sunk_high + 1e-12)
    assert np.all(np.diff(found.sunk) > 0) and found.sunk[0] == 0
    assert found.sunk[5] == pytest.approx(
        bc.evaluate(GARDEN["B"].change(fill=bc.strategy_layers(fill)), GARDEN.place)
        .fill.sunk(Q_(5, "year"))
        .m_as("m")
    )


def test_wood_takes_nitrogen_and_mix_does_not():
    mix, logs = seasons().si, seasons(fill=bc.strategy_layers("half_logs")).si

    assert mix.takes == mix.takes_most == 0
    assert 0 < logs.takes < logs.takes_most
    assert logs.over_least < logs.over


def test_chips_at_the_top_leave_the_first_crop_hungry():
    """A bed of chips alone: no compost in the reach of the roots."""
    found = seasons(fill=(bc.Layer(material="chips"),))

    assert found.checks[0].name == "hungry" and not found.checks[0].ok
    assert found.si.gives == 0
    assert found.si.over == pytest.approx(-found.si.takes - found.si.wants)


def test_only_the_upper_thirty_centimetres_feed_the_crop():
    """A deep bed of mix gives the first crop no more than one of 30 cm."""
    deep = seasons(height=Q_(72, "cm"), freeboard=Q_(0, "cm")).si
    low = seasons(height=Q_(40, "cm"), freeboard=Q_(0, "cm")).si

    assert deep.gives == pytest.approx(low.gives)
    assert deep.phosphorus > 1.7 * low.phosphorus


def test_a_sweep_is_the_same_as_bed_by_bed():
    heights = [35.0, 50.0, 72.0]
    fill = bc.strategy_layers("logs_chips_compost")
    together = seasons(height=Q_(np.array(heights), "cm"), fill=fill).si
    for i, height in enumerate(heights):
        alone = seasons(height=Q_(height, "cm"), fill=fill).si
        assert together.sunk[:, i] == pytest.approx(alone.sunk)
        assert together.over[i] == pytest.approx(alone.over)
        assert together.takes_most[i] == pytest.approx(alone.takes_most)


# ---- the year of work


def test_hours_add_up_whichever_way_they_are_added():
    work = seasons().work().si

    assert work.hours.sum(axis=(1, 2)) == pytest.approx(work.by_year)
    assert work.by_task.sum() == pytest.approx(work.by_year.mean())
    assert len(work.tasks) == len(work.groups) == work.hours.shape[2]


def test_without_a_climate_the_year_is_spread_out_and_says_so():
    place = GARDEN.place.change(climate=None)
    with_one, without = seasons().work(), seasons(place=place).work()

    assert not without.known and "climate" in without.asks
    assert np.ptp(without.si.by_month) == pytest.approx(0)
    assert with_one.known and np.ptp(with_one.si.by_month) > 3600


def test_months_turn_round_south_of_the_equator():
    north = bc.Climate(last_frost="20 April", first_frost="15 October")
    south = bc.Climate(last_frost="20 October", first_frost="15 April")

    assert growing_months(north)["growing"] == [3, 4, 5, 6, 7, 8, 9]
    assert growing_months(south)["growing"] == [9, 10, 11, 0, 1, 2, 3]
    assert growing_months(bc.Climate(rain=[50] * 12)) is None
    warm = bc.Climate(t_min=[20] * 12, t_max=[30] * 12)
    assert growing_months(warm)["growing"] == list(range(12))


def test_watering_is_what_the_chapter_on_water_asks_for():
    """300 L an hour by can, of which nine tenths arrive."""
    outcome = bc.evaluate(GARDEN["B"], GARDEN.place)
    work, water = outcome.seasons.work(), outcome.water
    hours = work.hours[0, :, work.tasks.index("Water by hand")].m_as("hour")
    litres = (water.missing * water.area).m_as("L")

    assert hours == pytest.approx(litres / 0.9 / 300)
    assert hours[6] > 0


def test_a_wall_without_ties_has_no_nuts_to_look_after():
    assert not any("ties" in t and "Take" in t for t in seasons().work().tasks)
    assert any("Take" in t for t in seasons(ties=1).work().tasks)


def test_what_lasts_ten_years_is_bought_again_in_year_ten():
    """Larch boards last ten years, concrete blocks outlive the plan."""
    boards, blocks = seasons("A").work(), seasons("E").work()

    assert boards.si.parts_cost[9] > 0 and not boards.si.parts_cost[:9].any()
    assert not blocks.si.parts_cost.any()


def test_no_price_list_means_no_price_and_no_crash():
    found = seasons(place=GARDEN.place.change(prices=None))

    assert np.isnan(found.si.compost_cost).all()
    assert np.isfinite(found.si.compost).all()
    assert not found.work().parts
