"""Fill against sums on paper: a bed of 2.4 x 1.2 x 0.75 m inside, 2.88 m2.

From below: 37.5 cm of logs, 7.5 cm of chips, 25 cm of mix, 5 cm of rich top layer.
Shares lost at first settling (chips 10 %, mix and compost 15 %), densities, rates of
rotting and prices are those of the tables of the demo garden.
"""

from __future__ import annotations

from math import ceil, exp

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.fill import (
    assess_fill,
    break_even,
    lay_logs,
    log_rows,
    offers,
    pack_cost,
    prices_over,
)
from bedcalc.fill.buying import price_of, trips_of
from bedcalc.fill.volumes import carrying_hours, dug_out

GARDEN = bc.demo_garden()
PLACE = GARDEN.place
HALF = (("logs", 37.5), ("chips", 7.5), ("mix", 25), ("topdressing", 5))


def _bed(stack=HALF, length=2.46, **more):
    layers = tuple(bc.Layer(material=m, depth=Q_(d, "cm")) for m, d in stack)
    return GARDEN["C"].change(
        length=Q_(length, "m"), width=Q_(1.26, "m"), height=Q_(0.75, "m"),
        freeboard=Q_(0, "m"), fill=layers, **more,
    )  # fmt: skip


def _list(changes=None, without=()):
    """The demo place with prices changed by row, or without some goods."""
    rows = [
        row.changed(**(changes or {}).get(row.key, {}))
        for row in PLACE.prices.rows
        if row.goods not in without
    ]
    return PLACE.change(prices=PLACE.prices.with_rows(rows, name="own"))


@pytest.fixture(scope="module")
def fill():
    return assess_fill(_bed(), PLACE)


def test_what_every_layer_takes(fill):
    """Logs 1.08 m3: 0.648 of wood, 85 % of the gaps chips 0.3672 (0.408 loose), air.

    Chips 0.216 / 0.9 = 0.24; mix 0.72 / 0.85; top layer 0.144 / 0.85.
    """
    si = [la.si for la in fill.layers]

    assert [s.settled for s in si] == pytest.approx([1.08, 0.216, 0.72, 0.144])
    assert [s.loose for s in si] == pytest.approx(
        [0.648 + 0.408, 0.24, 0.72 / 0.85, 0.144 / 0.85]
    )
    assert [s.bottom for s in si] == pytest.approx([0, 0.375, 0.45, 0.70])
    assert [s.top for s in si] == pytest.approx([0.375, 0.45, 0.70, 0.75])
    assert [s.depth for s in si] == pytest.approx([0.375, 0.075, 0.25, 0.05])
    assert (fill.si.wood, fill.si.chips_in_gaps, fill.si.air) == pytest.approx(
        (0.648, 0.3672, 0.0648)
    )
    assert fill.si.settled_volume == pytest.approx(2.16)
    assert fill.si.drop_if_loose == pytest.approx(0.0075 + 0.0375 + 0.0075)
    # 0.648 x 800 and 0.408 x 350; 0.24 x 350
    assert [s.mass for s in si[:2]] == pytest.approx([518.4 + 142.8, 84.0])


def test_orders_trips_and_the_money_saved(fill):
    """Half-cubic-metre steps: chips 1.0 (18.00), mix 1.0 (48.00), compost 0.5 (18.00).

    One trip of 60.00. All in mix: 2.16 / 0.85 = 2.54, so 3.0 m3: 144.00 and a trip.
    """
    by_goods = {o.goods: o.si for o in fill.orders}

    assert {g: (o.order, o.cost, o.delivered) for g, o in by_goods.items()} == {
        "logs": (1.0, 0.0, False), "chips": (1.0, 18.0, True),
        "mix": (1.0, 48.0, True), "compost": (0.5, 18.0, True),
    }  # fmt: skip
    assert by_goods["chips"].loose == pytest.approx(0.648)
    assert by_goods["chips"].mass == pytest.approx(0.648 * 350)
    assert fill.si.order_volume == pytest.approx(2.5)
    assert (fill.si.trips, fill.si.delivery, fill.si.cost) == (1, 60, 84)
    assert fill.si.all_bought == pytest.approx(204)
    assert fill.si.saved == pytest.approx(204 - 84 - 60)
    # the chips between the logs belong to the logs: 0.408 of 0.648
    costs = [la.si.cost for la in fill.layers]
    assert costs == pytest.approx([18 * 0.408 / 0.648, 18 * 0.24 / 0.648, 48, 18])
    loose = 0.648 + 0.648 + 0.72 / 0.85 + 0.144 / 0.85
    assert fill.si.loose_volume == pytest.approx(loose)
    assert fill.si.mass == pytest.approx(
        0.648 * 800 + 0.648 * 350 + 0.72 / 0.85 * 950 + 0.144 / 0.85 * 600
    )
    assert [offer.goods for offer in fill.ways("mix")][0] == "mix_bag" or (
        fill.ways("mix")[0].total <= fill.ways("mix")[1].total
    )


def test_low_and_high_settling():
    """Mix 10 and 20 %, compost 10 and 25 %, chips 5 and 15 % (data/fills.csv)."""
    for column, chips, mix, compost in (
        ("settle_low", 0.05, 0.10, 0.10), ("settle_high", 0.15, 0.20, 0.25),
    ):  # fmt: skip
        by_goods = {
            o.goods: o.si for o in assess_fill(_bed(), PLACE, settle=column).orders
        }
        assert by_goods["mix"].loose == pytest.approx(0.72 / (1 - mix))
        assert by_goods["compost"].loose == pytest.approx(0.144 / (1 - compost))
        assert by_goods["chips"].loose == pytest.approx(0.5832 / (1 - chips))


def test_work_by_hand(fill):
    """2.3125 m3 / 85 L: 28 loads at 12 an hour; 0.648 m3 of logs at 2 h for two.

    A barrow of 170 L over 40 m: 180 s and 2 x 40 m at 40 m a minute, 12 an hour. Chips
    0.648 / 0.17: 4 loads, mix 5, compost 1; three people are a pair and a half.
    """
    hours = carrying_hours.si(10, 12 / 3600, 1, 0.0, 7200.0)
    assert fill.si.loads == 28
    assert fill.hours.m_as("hour") == pytest.approx(28 / 12 + 0.648 * 2 / 2)
    assert hours / 3600 == pytest.approx(10 / 12 / 0.5)  # alone: half a pair
    work = fill.work("contractor", Q_(40, "m"), 3)
    assert work.rate.m_as("1/hour") == pytest.approx(12, rel=1e-3)
    assert [(name, n) for name, n, _ in work.per_order] == [
        ("wood chips", 4), ("garden mix", 5), ("compost", 1),
    ]  # fmt: skip
    assert [kg for *_, kg in work.per_order] == pytest.approx([59.5, 161.5, 102.0])
    assert work.loads.m == 10
    assert work.hours.m_as("hour") == pytest.approx(
        10 / 12 / 1.5 + 0.648 * 2 / 3, rel=1e-3
    )
    assert work.heaviest.m_as("kg") == pytest.approx(161.5)
    assert work.too_heavy == ("garden mix",)
    assert work.barrow.m_as("L") == pytest.approx(170)
    own = fill.work()  # the barrow of adults, the crew of the place (two)
    assert (own.barrow.m_as("L"), own.loads.m) == (pytest.approx(85), 8 + 10 + 2)
    assert own.hours.m_as("hour") == pytest.approx(20 / 12 + 0.648)


RATES = {  # a year, low, likely, high (data/decay.csv): logs, chips, compost
    "low": (0.03, 0.15, 0.04), "likely": (0.08, 0.25, 0.06), "high": (0.12, 0.40, 0.10),
}  # fmt: skip


def _sunk(t, case):
    """Metres after t years, layer by layer, written out."""
    k_log, k_chip, k = RATES[case]
    logs, chips = exp(-k_log * t), exp(-k_chip * t)
    compost = 0.15 * exp(-1.5 * t) + 0.85 * exp(-k * t)
    gaps = 0.375 * 0.4
    return (
        0.375 * 0.6 * (1 - logs)  # 60 % of what logs lose shows
        + gaps * 0.15 * min(1, t / 3)  # air between them closes in three years
        + gaps * 0.85 * 0.8 * max(0, logs - chips) / 2  # chips between rot sooner
        + 0.075 * 0.8 * (1 - chips)
        + 0.25 * 0.8 * 0.2 * (1 - compost)  # a fifth of the mix can rot
        + 0.05 * 0.8 * 0.5 * (1 - compost)
    )


@pytest.mark.parametrize("case", RATES)
@pytest.mark.parametrize("years", [0, 0.5, 1, 3, 4, 12])
def test_sinking_layer_by_layer(fill, case, years):
    """The model of data/decay.csv written out once more, in years and exponentials."""
    assert fill.sunk(Q_(years, "year"), case).m_as("m") == pytest.approx(
        _sunk(years, case)
    )


def test_topping_up_by_hand(fill):
    """What sinks in a year x 2.88 m2 / 0.85, in bags of 40 L for 3.40 each.

    Bulk is 18.00 and a trip of 60.00: dearer. The price of all years is their sum.
    """
    later = fill.top_up(3)
    drops = [_sunk(n + 1, "likely") - _sunk(n, "likely") for n in range(3)]
    loose = [d * 2.88 / 0.85 for d in drops]

    assert list(later.si.drops) == pytest.approx(drops)
    assert list(later.si.loose) == pytest.approx(loose)
    assert list(later.si.cost) == pytest.approx([ceil(v / 0.04) * 3.4 for v in loose])
    assert later.si.total_loose == pytest.approx(sum(loose))
    assert later.si.total_cost == pytest.approx(sum(later.si.cost))
    high = fill.top_up(1, "high").si.total_loose
    assert high == pytest.approx(_sunk(1, "high") * 2.88 / 0.85)
    bare = assess_fill(_bed(), _list(without=("compost", "compost_bag"))).top_up(2)
    assert np.isnan(bare.si.cost).all()
    # stones do not sink: nothing to buy, nothing to pay
    topsoil = assess_fill(_bed((("topsoil", 75),)), _list(without=("compost",)))
    assert topsoil.top_up(1).si.total_cost > 0


# -- what was dug out -----------------------------------------------------------


def test_turf_and_soil():
    """0.2 m3 under 2.8 m2: 0.14 of turf, 0.06 of soil, a heap of 0.25 m3."""
    assert dug_out.si(0.2, 2.8, 0.05, 0.25) == pytest.approx((0.14, 0.06, 0.25))
    assert dug_out.si(0.1, 2.8, 0.05, 0.25) == pytest.approx((0.1, 0.0, 0.125))


@pytest.mark.parametrize(
    ("cut", "used", "saved"),
    [
        # half of the settled mix, 0.36 m3, may be ground; 0.2 m3 save no step of 0.5:
        # 0.847 - 0.235 = 0.612
        (0.2, 0.2, 0),
        # 0.8: used 0.36, / 0.85 = 0.4235 less, 0.4235 left to buy: a step of 24.00
        (0.8, 0.36, 24),
    ],
)
def test_ground_that_stands_in_for_mix(fill, cut, used, saved):
    spoil = fill.spoil(Q_(cut, "m^3"), Q_(2.8, "m^2")).si

    assert (spoil.turf, spoil.soil) == pytest.approx((0.14, cut - 0.14))
    assert spoil.heap == pytest.approx(1.25 * cut)
    assert (spoil.used, spoil.left) == pytest.approx((used, cut - used))
    assert spoil.less_mix == pytest.approx(used / 0.85)
    assert spoil.saved == pytest.approx(saved)


def test_ground_that_saves_a_trip():
    """6 x 1.2 x 0.75 = 5.4 / 0.85 = 6.35: 6.5 m3, two trips. 1 m3 of ground: 1.18 less.

    5.18: 5.5 m3 in one trip: 1.0 x 48 + 60. Without mix nothing is replaced.
    """
    large = assess_fill(_bed((("mix", 75),), length=6.06), PLACE)
    spoil = large.spoil(Q_(1.0, "m^3"), Q_(7.6, "m^2")).si
    assert (large.si.trips, spoil.saved) == (2, pytest.approx(108))
    compost = assess_fill(_bed((("compost", 75),)), PLACE)
    none = compost.spoil(Q_(0.3, "m^3"), Q_(2.8, "m^2")).si
    assert (none.used, none.less_mix, none.saved) == (0, 0, 0)
    assert none.left == pytest.approx(0.3)


# -- bags and bulk --------------------------------------------------------------


def test_offers_by_hand():
    """8 m3: 200 bags of 40 L 780.00; 16 steps 384.00 in two trips 120.00."""
    bulk, bags = offers("mix", Q_(8, "m^3"), PLACE)

    assert (bulk.how, bulk.packs, bulk.trips) == ("bulk", 16, 2)
    assert (bulk.goods_cost, bulk.delivery, bulk.total) == pytest.approx(
        (384, 120, 504)
    )
    assert (bags.how, bags.packs, bags.trips) == ("bags", 200, 0)
    assert (bags.goods_cost, bags.delivery, bags.total) == pytest.approx((780, 0, 780))
    assert (bulk.pack, bulk.price, bags.pack, bags.price) == (0.5, 24, 0.04, 3.9)
    # 6 m3 are one trip, 6.01 m3 (6.5) two
    assert [offers("mix", Q_(v, "m^3"), PLACE)[0].trips for v in (6.0, 6.01)] == [1, 2]
    by_foot = offers("mix", Q_(8, "m^3"), _list(without=["truck"]))
    assert {o.how: o.total for o in by_foot}["bags"] == pytest.approx(780)
    assert np.isnan({o.how: o.total for o in by_foot}["bulk"])
    free = offers("mix", Q_(8, "m^3"), _list({"truck-6": {"price": 0.0}}))
    assert {o.how: o.delivery for o in free} == {"bulk": 0, "bags": 0}
    assert offers("gnome", Q_(1, "m^3"), PLACE) == ()


def test_packs_with_their_trips():
    """1.3 m3 in packs of 0.5 are 3 packs; 1.5 m3 in trips of 1.0 are 2."""
    assert pack_cost.si(1.3, 0.5, 10.0, 1.0, 7.0) == pytest.approx(30 + 14)
    assert pack_cost.si(1.0, 0.5, 10.0, 1.0, 7.0) == pytest.approx(20 + 7)
    assert pack_cost.si(0.0, 0.5, 10.0, 1.0, 7.0) == 0


def _tie(most):
    """Litre by ten litres: the last volume at which bulk is dearer, and 10 L more."""
    last = None
    for v in range(1, most + 1):  # tens of litres
        steps = -(-v // 50)
        bags, bulk = -(-v // 4) * 390, steps * 2400 + -(-steps // 12) * 6000
        if bulk > bags:
            last = v
    return last


def test_where_bulk_becomes_cheaper_by_trying_every_volume():
    """In cents and tens of litres, by a plain loop; 6 m3 is as far as one looks."""
    last = _tie(600)

    assert break_even("mix", PLACE).m_as("m^3") == pytest.approx((last + 1) / 100)
    volumes, cost = prices_over("mix", Q_(6, "m^3"), PLACE)
    assert (len(volumes), volumes[0], volumes[-1]) == (600, 0.01, pytest.approx(6))
    assert (cost["bags"][0], cost["bulk"][0]) == pytest.approx((3.9, 84.0))
    assert (cost["bags"][-1], cost["bulk"][-1]) == pytest.approx((585.0, 348.0))
    # looked at up to 0.5 m3 only, bulk is dearer to the end
    assert break_even("mix", PLACE, Q_(0.5, "m^3")) is None
    assert break_even("mix", _list(without=["mix_bag"])) is None
    cheap = _list({"mix-0.5": {"price": 1.0}, "truck-6": {"price": 0.0}})
    assert break_even("mix", cheap).m_as("m^3") == pytest.approx(0.01)


def test_of_two_sizes_of_bags_the_cheaper_counts():
    bag = PLACE.goods["mix_bag"][0]
    large = bag.changed(content=0.08, price=5.0)
    rows = (*PLACE.prices.rows, large)
    place = PLACE.change(prices=PLACE.prices.with_rows(rows, name="own"))
    volumes, cost = prices_over("mix", Q_(1, "m^3"), place)
    by_hand = [
        min(ceil(v / 0.04 - 1e-9) * 3.9, ceil(v / 0.08 - 1e-9) * 5.0) for v in volumes
    ]

    assert cost["bags"] == pytest.approx(by_hand)
    assert len(offers("mix", Q_(1, "m^3"), place)) == 3


def test_prices_of_what_nobody_sells():
    """Half cubic metres all the same; nothing costs nothing; a truck holds 6 m3."""
    order, cost = price_of("gnome", 1.2, PLACE)
    assert order == 1.5 and np.isnan(cost)
    assert price_of("gnome", 0.0, PLACE) == (0, 0)
    assert price_of("mix", 1.2, PLACE) == pytest.approx((1.5, 72))
    bare = _list(without=["truck"])
    trips, cost = trips_of(6.5, bare)
    assert trips == 2 and np.isnan(cost)
    assert trips_of(0.0, bare) == (0, 0) and trips_of(6.5, PLACE) == (2, 120)
    assert trips_of(12.5, _list({"truck-6": {"content": 4.0}}))[0] == 4


# -- logs -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("run", "depth", "found"),
    [
        (1.0, 0.25, (4, 1, 4)),  # one row, exactly as deep
        (1.0, 0.249, (4, 0, 0)),
        (1.0, 0.4666, (4, 2, 7)),  # 0.25 + 0.866 x 0.25 = 0.46651
        (1.0, 0.4664, (4, 1, 4)),
        (1.125, 0.47, (4, 2, 8)),  # half a log to spare: four again
        (1.12, 0.47, (4, 2, 7)),
        (1.0, 0.69, (4, 3, 11)),  # 4 + 3 + 4
        (0.49, 0.75, (1, 3, 3)),  # one on the other, no hollow to lie in
        (0.49, 0.74, (1, 2, 2)),
        (0.5, 0.47, (2, 2, 3)),
        (0.24, 0.75, (0, 0, 0)),
    ],
)
def test_rows_of_logs(run, depth, found):
    """25 cm logs, each row in the hollows of the one below; by hand."""
    assert log_rows.si(0.25, run, depth) == pytest.approx(found)


def test_logs_of_the_bed(fill):
    """25 cm thick, 1.2 m long: pi/4 x 0.0625 x 1.2 = 0.0589 m3 each, 47.1 kg.

    0.648 / 0.0589 = 11.0: 11 by volume (11.002), 9 side by side in 2.4 m, one row in
    37.5 cm; 9 x 0.0589 of 1.08 m3. 37.5 cm of fill over them; chips up to 4.2 cm.
    """
    plan = fill.logs(Q_(25, "cm"))
    one = np.pi / 4 * 0.0625 * 1.2

    assert (plan.count.m, plan.row.m, plan.rows.m, plan.laid.m) == (11, 9, 1, 9)
    assert plan.packing.m_as("") == pytest.approx(9 * one / 1.08)
    assert plan.mass_each.m_as("kg") == pytest.approx(one * 800)
    assert plan.mass.m_as("kg") == pytest.approx(518.4)
    assert plan.zone_depth.m_as("m") == pytest.approx(0.375)
    assert plan.cover.m_as("m") == pytest.approx(0.375)
    assert plan.largest_chip.m_as("m") == pytest.approx(0.25 / 6)
    assert (plan.length.m_as("m"), plan.diameter.m_as("m")) == pytest.approx(
        (1.2, 0.25)
    )
    assert fill.logs().diameter.m_as("cm") == 20  # if nothing is said
    assert fill.logs(Q_(37.5, "cm")).fits and not fill.logs(Q_(37.6, "cm")).fits


def test_two_layers_of_logs_are_one_heap_of_wood():
    """20 and 17.5 cm with chips between: 1.08 m3 as well; 30 cm over the upper one."""
    stack = (("logs", 20), ("chips", 7.5), ("logs", 17.5), ("mix", 30))
    plan = assess_fill(_bed(stack), PLACE).logs(Q_(25, "cm"))

    assert (plan.count.m, plan.zone_depth.m_as("m")) == (11, pytest.approx(0.375))
    assert plan.cover.m_as("m") == pytest.approx(0.30)


def test_thick_logs_lie_alone():
    """Run 50 cm: 30 alone (+ 25 is too much), 25 + 25, 20; by hand.

    A single log makes no hollow: the next row begins at 30 cm; above two it begins
    0.866 x 25 higher.
    """
    mine = [Q_(d, "cm") for d in (25, 30, 20, 25)]
    rows, left = lay_logs(mine, Q_(50, "cm"), Q_(80, "cm"))

    assert [[round(100 * d) for d in r.diameters] for r in rows] == [[30, 20], [25, 25]]
    assert [r.base for r in rows] == pytest.approx([0, 0.30 * 0.75**0.5])
    rows, left = lay_logs(mine, Q_(45, "cm"), Q_(80, "cm"))
    assert [[round(100 * d) for d in r.diameters] for r in rows] == [
        [30],
        [25, 20],
        [25],
    ]
    assert [r.base for r in rows] == pytest.approx([0, 0.30, 0.30 + 0.25 * 0.75**0.5])
    assert [r.top for r in rows[:2]] == pytest.approx([0.30, 0.55]) and left == ()
    # 0.30 + 0.866 x 0.25 = 0.5165, + 0.25 = 0.7665 of 0.76: no room
    rows, left = lay_logs(mine, Q_(45, "cm"), Q_(76, "cm"))
    assert [d.m for d in left] == [pytest.approx(25)]
    assert lay_logs([Q_(50, "cm")], Q_(45, "cm"), Q_(76, "cm"))[0] == ()
    exact, left = lay_logs([Q_(20, "cm")] * 2, Q_(40, "cm"), Q_(20, "cm"))
    assert len(exact) == 1 and not left


# -- verdicts -------------------------------------------------------------------


@pytest.mark.parametrize(
    ("over", "enough"), [(29.9, False), (30.0, True), (37.5, True)]
)
def test_fill_over_the_logs(over, enough):
    """Yearly vegetables want 30 cm (data/cover.csv) in all layers over the logs."""
    wanted = bc.tables.table("cover")["annual"].depth
    stack = (("logs", 75 - over), ("chips", 7.5), ("mix", over - 7.5))
    (check,) = assess_fill(_bed(stack), PLACE).checks

    assert wanted == pytest.approx(0.30)
    assert check.ok == enough
    assert check.capacity.m_as("cm") == pytest.approx(over)
    assert assess_fill(_bed((("mix", 75),)), PLACE).checks == ()


def test_what_grows_over_the_logs():
    """Every row of data/cover.csv against 37.5 cm; without logs all are content."""
    found = assess_fill(_bed(), PLACE).covers()

    assert [enough for *_, enough in found] == [
        d.m_as("m") <= 0.375 for _, d, _ in found
    ]
    assert all(
        enough for *_, enough in assess_fill(_bed((("mix", 75),)), PLACE).covers()
    )


def test_minerals_for_the_whole_bed(fill):
    """Grams a square metre x 2.88 m2."""
    rows = list(bc.tables.table("minerals"))

    for row, (name, low, high, when) in zip(rows, fill.minerals(), strict=True):
        assert (name, when) == (row.name, row.when)
        assert low.m_as("kg") == pytest.approx(2.88 * row.low)
        assert high.m_as("kg") == pytest.approx(2.88 * row.high)
