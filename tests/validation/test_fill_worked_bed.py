"""Fill: the worked bed of 2.4 x 1.2 x 0.75 m inside, three ways to fill it.

Volumes, loads and masses follow from geometry and from stated densities: computed by
hand, the sums beside each row. Sinking is this project's own model; its reference
values come from a second program and guard against change, they are no measurement.
"""

from __future__ import annotations

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.fill import (
    barrow_loads,
    carrying_hours,
    layer_drop,
    loads_per_hour,
    log_count,
    log_rows,
    log_zone,
    log_zone_drop,
    mass_left,
    pack_cost,
    rounded_order,
    settled_volume,
)
from tests.validation.kinds import outside
from tests.validation.printed import printed

CHAPTER = "fill"
OTHERS = "own derivation"

STACKS = {
    "all_mix": (("mix", 70), ("topdressing", 5)),
    "compost_logs": (("logs", 30), ("chips", 10), ("compost", 30), ("topdressing", 5)),
    "half_logs": (("logs", 37.5), ("chips", 7.5), ("mix", 25), ("topdressing", 5)),
}
YEARS = Q_(np.array([1.0, 3.0, 5.0, 10.0]), "year")


@pytest.fixture(scope="module")
def fills():
    garden = bc.demo_garden()

    def bed(stack):
        layers = tuple(bc.Layer(material=m, depth=Q_(d, "cm")) for m, d in stack)
        return garden["C"].change(
            length=Q_(2.46, "m"), width=Q_(1.26, "m"), height=Q_(0.75, "m"),
            freeboard=Q_(0, "m"), fill=layers,
        )  # fmt: skip

    return {
        name: bc.evaluate(bed(stack), garden.place).fill
        for name, stack in STACKS.items()
    }


@pytest.mark.parametrize(
    ("stack", "green", "dry", "cords", "stacked"),
    [
        ("compost_logs", "415", "233", "0.215", "0.781"),
        ("half_logs", "518", "292", "0.269", "0.976"),
    ],
)
def test_wood_of_the_log_zone(fills, stack, green, dry, cords, stacked):
    """0.5184 (0.648) m3: x 800, x 450 kg/m3; / 85 ft3; / 0.664: computed by hand."""
    fill = fills[stack]

    assert fill.logs().mass.m_as("kg") == printed(green)
    assert fill.wood.m_as("m^3") * 450 == printed(dry)
    assert fill.wood.m_as("ft^3") / 85 == printed(cords)
    assert fill.wood.m_as("m^3") / (85 / 128) == printed(stacked)


@pytest.mark.parametrize(
    ("stack", "goods", "yards", "garden", "contractor", "bags"),
    [
        ("all_mix", "mix", "3.5", 34, 14, 56),  # 2.372 m3 = 83.8 ft3
        ("all_mix", "compost", "0.5", 3, 1, 4),  # 0.169 m3 = 5.98 ft3
        ("compost_logs", "chips", "1.0", 10, 4, None),  # 0.646 m3: bags see below
        ("half_logs", "mix", "1.5", 12, 5, 20),  # 0.847 m3 = 29.9 ft3
    ],
)
def test_orders_loads_and_bags(fills, stack, goods, yards, garden, contractor, bags):
    """Whole steps of half a cubic yard, loads of 2.5 and 6 ft3, bags of 1.5 ft3."""
    loose = next(o for o in fills[stack].orders if o.goods == goods).loose

    assert rounded_order(loose, Q_(0.5, "yd^3")).m_as("yd^3") == printed(yards)
    assert barrow_loads(loose, Q_(2.5, "ft^3")).m == garden
    assert barrow_loads(loose, Q_(6, "ft^3")).m == contractor
    if bags:
        assert barrow_loads(loose, Q_(1.5, "ft^3")).m == bags


@pytest.mark.parametrize(
    ("stack", "goods", "kilograms"),
    [
        ("all_mix", "mix", "2253"),  # 2.3718 m3 x 950
        ("all_mix", "compost", "102"),  # 0.1694 x 600
        ("compost_logs", "chips", "226"),  # 0.6464 x 350
        ("half_logs", "mix", "805"),  # 0.8471 x 950
        ("half_logs", "chips", "227"),  # 0.648 x 350
    ],
)
def test_delivered_mass(fills, stack, goods, kilograms):
    """Loose volume x moist loose density: computed by hand."""
    order = next(o for o in fills[stack].orders if o.goods == goods)

    assert order.mass.m_as("kg") == printed(kilograms)


@pytest.mark.parametrize(("stack", "less"), [("compost_logs", 53), ("half_logs", 60)])
def test_less_soil_to_buy(fills, stack, less):
    """2.541 m3 all bought against 1.186 and 1.016: 53 and 60 % less, by hand."""

    def soil(name):
        return sum(
            o.si.loose for o in fills[name].orders if o.goods in ("mix", "compost")
        )

    assert soil("all_mix") == printed("2.541")
    assert 100 * (1 - soil(stack) / soil("all_mix")) == pytest.approx(less, abs=0.5)


@pytest.mark.parametrize(
    ("stack", "cm"),
    [
        ("all_mix", ("2.19", "3.81", "4.89", "7.04")),
        ("compost_logs", ("6.67", "15.18", "20.19", "28.02")),
        ("half_logs", ("5.54", "13.55", "18.13", "25.22")),
    ],
)
def test_sinking_of_the_worked_bed(fills, stack, cm):
    """Own model, regression: a second program gives these centimetres."""
    sunk = fills[stack].sunk(YEARS).m_as("cm")

    assert [float(v) for v in sunk] == [printed(text) for text in cm]


@pytest.mark.parametrize(
    ("k_log", "k_chip", "cm"),
    [
        (0.03, 0.15, ("5.0", "11.4", "15.3", "22.3")),
        (0.05, 0.20, ("5.8", "13.2", "17.7", "25.2")),
        (0.12, 0.40, ("8.5", "18.5", "23.7", "30.9")),
    ],
)
def test_sinking_with_other_rates_of_rot(k_log, k_chip, cm):
    """Own model, regression: only the rates of logs and chips differ."""
    none, fast = 0.0, Q_(1.5, "1/year")
    wood = mass_left(YEARS, Q_(k_log, "1/year"), none, fast)
    chips = mass_left(YEARS, Q_(k_chip, "1/year"), none, fast)
    om = mass_left(YEARS, Q_(0.06, "1/year"), 0.15, fast)
    total = (
        layer_drop(Q_(30, "cm"), 0.6, 1.0, wood)
        + log_zone_drop(Q_(30, "cm"), 0.6, 0.85, YEARS, 0.8, wood, chips)
        + layer_drop(Q_(10, "cm"), 0.8, 1.0, chips)
        + layer_drop(Q_(35, "cm"), 0.8, 0.5, om)
    )

    assert [float(v) for v in total.m_as("cm")] == [printed(text) for text in cm]


def test_compost_left_after_years():
    """15 % at 1.5 and 85 % at 0.06 a year; by hand.

    Year ten: 0.15 exp(-15) + 0.85 exp(-0.6) = 0.46649.
    """
    left = mass_left(YEARS, Q_(0.06, "1/year"), 0.15, Q_(1.5, "1/year")).m

    assert [float(v) for v in left] == [
        printed(text) for text in (".834", ".712", ".630", ".466")
    ]


@outside("printed", "mass_left", "herrmann_2015", facts=1)
@pytest.mark.parametrize(("k", "text"), [(0.054, "12.84")])
def test_half_life_of_beech_logs(k, text):
    """Rate 0.054 a year (herrmann_2015): half is left after ln 2 / k = 12.84 years."""
    left = mass_left(Q_(float(text), "year"), Q_(k, "1/year"), 0.0, Q_(1, "1/year"))

    assert left.m == pytest.approx(0.5, abs=0.0002)
    assert mass_left(
        Q_(10, "year"), Q_(0.033, "1/year"), 0.0, Q_(1, "1/year")
    ).m == printed("0.719")  # spruce logs, same study


@pytest.mark.parametrize(
    ("stack", "first", "five"),
    [
        ("all_mix", ".074", ".166"),
        ("compost_logs", ".226", ".684"),
        ("half_logs", ".188", ".614"),
    ],
)
def test_compost_to_top_up(fills, stack, first, five):
    """Own model: centimetres sunk x 2.88 m2 / 0.85; by hand from the rows above."""
    later = fills[stack].top_up(5)

    assert float(later.loose[0].m_as("m^3")) == printed(first)
    assert later.total_loose.m_as("m^3") == printed(five)


def test_logs_side_by_side():
    """1.2 m holds 4 of 0.25 m (1.2 / 0.25 = 4.8); geometry.

    Two rows are 0.25 + 0.866 x 0.25 = 0.4665 m high; the upper one keeps four too,
    for 0.2 m are to spare, more than half a diameter.
    """
    row, rows, all_ = log_rows(Q_(0.25, "m"), Q_(1.2, "m"), Q_(0.47, "m"))

    assert (row.m, rows.m, all_.m) == (4, 2, 8)
    assert log_rows(Q_(0.25, "m"), Q_(1.2, "m"), Q_(0.46, "m"))[2].m == 4
    assert log_rows(Q_(0.25, "m"), Q_(1.0, "m"), Q_(0.47, "m"))[2].m == 4 + 3
    assert log_rows(Q_(0.25, "m"), Q_(1.2, "m"), Q_(0.2, "m"))[2].m == 0


def test_many_thin_logs_approach_the_hexagonal_packing():
    """pi/(2 sqrt 3) = 0.9069 for endless rows; geometry.

    A thousand in a row: half a log is lost in every second row, and part of a row.
    """
    thin = Q_(1, "mm")
    laid = log_rows(thin, Q_(1, "m"), Q_(1, "m"))[2].m

    assert laid * np.pi / 4 * 1e-6 == pytest.approx(0.9069, abs=0.0015)


def test_number_of_logs_gives_the_wood_back():
    """0.60 x 0.864 / (pi/4 0.0625 x 1.2) = 8.80 logs of 47 kg; by hand."""
    count = log_count(Q_(0.864, "m^3"), 0.60, Q_(0.25, "m"), Q_(1.2, "m")).m

    assert count == printed("8.80")
    assert np.pi / 4 * 0.25**2 * 1.2 * 800 == printed("47")
    wood, _, _ = log_zone(Q_(0.864, "m^3"), 0.60, 0.85)
    assert count * np.pi / 4 * 0.25**2 * 1.2 == pytest.approx(wood.m_as("m^3"))


def test_settled_and_loose_are_inverse():
    """1 m3 loose at 15 % leaves 0.85; definition."""
    assert settled_volume(Q_(1, "m^3"), 0.15).m_as("m^3") == pytest.approx(0.85)


def test_six_or_seven_large_barrows_for_a_low_bed():
    """Common practice: 3.3 m2, 0.3 m deep, six or seven large barrows.

    3.3 x 0.3 = 0.99 m3; a large barrow of 170 L, struck, makes 6 loads (5.8).
    """
    assert barrow_loads(Q_(3.3 * 0.3, "m^3"), Q_(170, "L")).m in (6, 7)


def test_top_layer_of_a_hand():
    """Common practice: a topdressing of 2.5 to 5 cm. All strategies keep to it."""
    depths = [
        row.depth for row in bc.tables.table("strategies")
        if row.material == "topdressing"
    ]  # fmt: skip

    assert depths
    assert all(0.025 <= depth <= 0.05 for depth in depths)


def test_heavy_barrow():
    """6 ft3 of moist topsoil: 0.1699 x 1200 = 204 kg, over the 120 kg limit."""
    assert Q_(6, "ft^3").m_as("m^3") * 1200 == printed("204")


@pytest.mark.parametrize(("metres", "least", "most"), [(30, 10, 15), (50, 10, 15)])
def test_loads_an_hour_of_a_pair(metres, least, most):
    """Common practice: 10 to 15 loads an hour over 30 to 50 m."""
    work = bc.tables.table("work")
    rate = loads_per_hour.si(metres, work["load_still"].value, work["load_pace"].value)

    assert least <= rate * 3600 <= most


def test_hours_of_the_whole_demo_garden():
    """89 loads / 12 an hour for one pair = 7.4 h; computed by hand."""
    hours = carrying_hours(
        89, Q_(12, "1/hour"), 2, Q_(0, "m^3"), Q_(2, "hour/m^3")
    ).m_as("hour")

    assert hours == printed("7.4")


def test_bags_and_bulk_by_hand():
    """1.5 m3: 38 bags x 3.90 = 148.20; 3 steps x 24 + 60 = 132.00; invented prices."""
    bags = pack_cost(
        Q_(1.5, "m^3"), Q_(40, "L"), Q_(3.9, "money"), Q_(99, "m^3"), Q_(0, "money")
    )
    bulk = pack_cost(
        Q_(1.5, "m^3"), Q_(0.5, "m^3"), Q_(24, "money"), Q_(6, "m^3"), Q_(60, "money")
    )

    assert bags.m == pytest.approx(148.20)
    assert bulk.m == pytest.approx(132.00)
    assert Q_(1, "m^3") / Q_(40, "L") == 25
