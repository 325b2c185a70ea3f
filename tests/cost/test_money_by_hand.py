"""Taxes by the coin, years, doubt and shares against sums on paper."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from bedcalc import Q_
from bedcalc.cost import life_of
from bedcalc.cost.bill import bill
from bedcalc.cost.donations import donor_of, gifts
from bedcalc.cost.life_cycle_cost import Yearly, yearly
from bedcalc.cost.money import break_even_life, share_out, tax_inside
from bedcalc.cost.uncertainty import Swing, simulate, spread_band, swings
from bedcalc.currency import Currency
from bedcalc.fill import assess_fill
from tests.cost.test_bill_by_hand import GARDEN, PLACE, _cost, _line, _list

# -- tax ------------------------------------------------------------------------


def test_tax_is_rounded_to_the_coin_on_every_line():
    """0.33 at 20 %: 0.066, so 0.07 a line; three lines 0.21, not 0.20; 10 yen: 2."""
    assert _line(0.33).tax(0.2) == 0.07
    assert _line(0.33, taxed=False).tax(0.2) == 0
    assert _line(np.nan).tax(0.2) == 0 and _line(np.nan, taxed=False).tax(0.2) == 0
    assert _line(9, coins=0).tax(0.2) == 2 and _line(9, coins=3).tax(0.2) == 1.8
    # in it: 1.00 holds 1.00 x 0.2 / 1.2 = 0.1667
    assert _line(1.0).tax(0.2, inside=True) == 0.17
    assert tax_inside.si(120, 0.2) == pytest.approx(20)


@pytest.mark.parametrize("coins", [0, 2])
def test_the_tax_of_a_bill_is_the_sum_of_its_lines(coins):
    """Line by line, mix without tax; at 7.7 % most lines do not come out even."""
    untaxed = ("mix-0.5", {"taxed": "no"})
    own = _list(untaxed, currency=Currency(code="XTS", decimals=coins))
    own = own.change(with_tax=True, tax_rate=Q_(7.7, "percent"))
    cost = _cost(GARDEN["A"], GARDEN["B"], place=own)
    by_hand = sum(
        round(x.amount * 0.077, coins) for x in cost.lines if x.goods != "mix"
    )
    plain = sum(x.amount for x in cost.lines)

    assert cost.si.tax == pytest.approx(by_hand, abs=1e-9)
    assert cost.si.total == pytest.approx(plain + by_hand, abs=1e-9)
    assert abs(by_hand - 0.077 * (plain - cost.si.fill)) > 0.1 ** (coins + 1) / 20
    assert (cost.rate, cost.tax_inside, cost.with_tax) == (
        pytest.approx(0.077),
        0,
        True,
    )
    assert cost.si.fill == sum(x.amount for x in cost.lines if x.goods == "mix")
    assert all(cost.tax_of(x) == x.tax(0.077) for x in cost.lines)


def test_prices_that_hold_the_tax_are_not_taxed_again():
    cost = _cost(GARDEN["A"], place=_list(taxed_inside=True).change(with_tax=True))
    plain = _cost(GARDEN["A"])

    assert cost.si.total == pytest.approx(plain.si.total)
    assert cost.si.tax == pytest.approx(
        sum(round(x.amount / 6, 2) for x in cost.lines), abs=0.011
    )
    assert (cost.rate, cost.tax_inside, cost.with_tax) == (0, 0.2, True)
    assert all(cost.tax_of(x) == x.tax(0.2, inside=True) for x in cost.lines)


# -- years ----------------------------------------------------------------------


def _payment(rate, years):
    return rate / (1 - (1 + rate) ** -years)


def test_untaxed_lines_stay_untaxed_over_the_years():
    """100 of larch with 20 % and 100 without, ten years: 220 are paid."""
    lines = [
        _line(100, goods="larch_140x33"),
        _line(100, goods="larch_140x33", taxed=False),
    ]

    assert yearly(lines, rate=0.03, tax=0.2).box == pytest.approx(
        220 * _payment(0.03, 10)
    )


def test_small_sums_tie_as_large_ones_do():
    """4.00 at 5 % against 1.00 a year: n = ln(1 / 0.8) / ln 1.05 = 4.57 years.

    Paid off so, 4.00 cost just 1.00 a year. Where interest eats it all: never.
    """
    years = break_even_life.si(4.0, 1.0, 0.05)

    assert years == pytest.approx(np.log(1 / 0.8) / np.log(1.05))
    assert 4.0 * _payment(0.05, years) == pytest.approx(1.0)
    assert np.isinf(break_even_life.si(20.0, 1.0, 0.05))
    assert break_even_life.si(4.0, 0.5, 0.0) == 8


def test_what_belongs_to_box_and_fill():
    """Fill and its truck stay: paid off in 30 years; timber's delivery in 10."""
    lines = [
        _line(300, goods="mix", part="fill", group="soil"),
        _line(60, goods="truck", part="delivery", group="soil"),
        _line(45, goods="timber_delivery", part="delivery", group="timber"),
        _line(20, goods="gravel", part="extras", group="soil"),
        _line(100, goods="larch_140x33"),
    ]
    found = yearly(lines, rate=0.03, top_up=7.0)

    assert found.fill == pytest.approx(360 * _payment(0.03, 30))
    assert found.box == pytest.approx(
        145 * _payment(0.03, 10) + 20 * _payment(0.03, 30)
    )
    assert found.top_up == 7 and found.total == pytest.approx(
        found.box + found.fill + 7
    )
    soon = yearly(lines, rate=0.03, horizon=5)
    assert soon.fill == pytest.approx(360 * _payment(0.03, 5))
    assert yearly(lines, rate=0.0).fill == pytest.approx(12)
    assert Yearly(box=1, fill=2, top_up=4).total == 7
    assert yearly(lines).total == pytest.approx(yearly(lines, rate=0.03, tax=0).total)


def test_lives_short_likely_and_long():
    """Larch 8, 10, 12 years; ties 15, 20, 30 by their part; fill for ever."""
    larch, tie = _line(1, goods="larch_140x33"), _line(1, goods="rod_m10", part="ties")
    cases = "short", "likely", "long"

    assert [life_of(larch, c) for c in cases] == pytest.approx([8, 10, 12])
    assert [life_of(tie, c) for c in cases] == pytest.approx([15, 20, 30])
    assert np.isinf(life_of(_line(1, goods="mix", part="fill")))
    assert life_of(larch) == pytest.approx(10)
    assert yearly([larch], rate=0.03, case="long").box == pytest.approx(
        _payment(0.03, 12)
    )


def test_a_wall_of_ones_own_lasts_as_the_one_it_was_made_from():
    bed = GARDEN["A"]
    own = bed.wall.own("oak", "oak", goods="oak_board")
    cost = _cost(bed.change(wall=own))

    assert cost.box_life(own) == pytest.approx((8, 10, 12))


# -- doubt ----------------------------------------------------------------------


def test_width_of_a_swing():
    """From 90 to 125: 35; the wider one comes first, whichever end is low."""
    assert Swing(name="x", low=90, high=125).width == 35
    assert Swing(name="x", low=125, high=90).width == 35


def test_swings_by_hand():
    """Timber 100 (-10, +25 %) taxed, soil 200 (-15, +30 %) untaxed, at 20 % tax.

    Together 120 + 200 = 320; soil 290 to 380, timber 308 to 350. A gift swings nothing.
    """
    lines = [_line(100), _line(200, group="soil", taxed=False), _line(0, group="metal")]
    soil, timber = swings(lines, 0.2)

    assert (soil.name, soil.low, soil.high) == (
        "price of fill and its delivery", pytest.approx(290), pytest.approx(380)
    )  # fmt: skip
    assert (timber.low, timber.high) == pytest.approx((308, 350))


@pytest.mark.parametrize("shape", ["triangle", "lognormal"])
def test_drawn_bills_have_the_mean_and_spread_of_the_guess(shape):
    """Metal -8, 0, +20 %: mean 1.04, variance (a2+b2-ab)/18 of -8 and 20 %; 60 taxed.

    Of 40 000 draws the mean is known to 0.03 % of the amount, the spread to 0.5 %.
    """
    lines = [_line(50, group="metal")]
    found = simulate(lines, 0.2, shape=shape, draws=40_000)
    sd = 60 * np.sqrt((0.08**2 + 0.2**2 + 0.08 * 0.2) / 18)

    assert found.likely == pytest.approx(60)
    assert found.totals.mean() == pytest.approx(62.4, rel=0.001)
    assert found.totals.std() == pytest.approx(sd, rel=0.02)
    untaxed = simulate([replace(lines[0], taxed=False), _line(0)], 0.2, shape=shape)
    assert untaxed.likely == 50 and untaxed.totals.mean() == pytest.approx(
        52, rel=0.002
    )
    assert len(untaxed.totals) == 5000
    assert (simulate([_line(0)]).totals == 0).all()


def test_unknown_ways_to_draw_are_refused():
    with pytest.raises(ValueError, match="moves: needs one of judged, alone, together"):
        simulate([_line(1)], moves="apart")
    with pytest.raises(ValueError, match="shape: needs one of triangle, lognormal"):
        simulate([_line(1)], shape="flat")


def test_chances_of_a_drawn_bill():
    """The share of draws below an amount, and back."""
    found = simulate([_line(100)], draws=1000)

    assert (
        found.chance(found.totals[0]) == 0 and found.chance(found.totals[-1] + 1) == 1
    )
    assert found.chance(found.totals[500]) == pytest.approx(0.5)
    assert found.under(0.25) == pytest.approx(np.sort(found.totals)[250], rel=1e-3)
    assert (np.diff(found.totals) >= 0).all()


def test_band_of_one_line_by_hand():
    """Soil 100: mean 105, sd sqrt((15^2 + 30^2 + 15 x 30)/18) = 9.354; x 1.2816."""
    low, high = spread_band({"soil": [100.0]})

    assert (low + high) / 2 == pytest.approx(105)
    assert (high - low) / 2 == pytest.approx(1.2816 * 9.3541, rel=1e-4)
    assert spread_band({}) == (0, 0)


# -- people ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("total", "weights", "decimals", "shares"),
    [
        # 10 coins: 5.6, 1.4 and 3.0; the odd one to the first, who lost most
        (0.10, [56, 14, 30], 2, [0.06, 0.01, 0.03]),
        # 1.4, 5.6, 3.0: to the second
        (0.10, [14, 56, 30], 2, [0.01, 0.06, 0.03]),
        # whole coins only: 3.33 each, the odd one to the first
        (10, [1, 1, 1], 0, [4, 3, 3]),
        (1.0, [1, 1, 1], 3, [0.334, 0.333, 0.333]),
        (12.0, [1, 2], 2, [4.0, 8.0]),
    ],
)
def test_shares_by_hand(total, weights, decimals, shares):
    assert share_out(total, weights, decimals) == pytest.approx(shares)


def test_shares_of_what_is_unknown_are_unknown():
    assert (
        np.isnan(share_out(np.nan, [1, 2])).all()
        and len(share_out(np.nan, [1, 2])) == 2
    )
    place = PLACE.change(prices=PLACE.prices.with_rows(
        PLACE.prices.rows, currency=Currency(code="XTS", decimals=0)))  # fmt: skip
    shares = _cost(GARDEN["A"], place=place).shares([1, 1, 1]).m
    assert (shares == np.round(shares)).all()


def test_whom_to_ask_for_what():
    """By goods, else by group; whoever gives most first; with tax if it is asked."""
    lines = [
        _line(100, goods="larch_140x33"), _line(20, group="metal", goods="nut"),
        _line(45, goods="timber_delivery", taxed=False),
        _line(9, group="soil", goods="chips"),
        _line(np.nan, group="soil", goods="mix"), _line(5, group="oddity"),
    ]  # fmt: skip
    found = gifts(lines, 0.2)

    assert [(g.donor, g.worth) for g in found] == [
        ("a sawmill or timber yard", pytest.approx(165)),
        ("a builders' merchant", pytest.approx(24)),
        ("a tree surgeon", pytest.approx(10.8)),
        ("anybody", pytest.approx(6)),
        ("a compost works or landscaper", 0),
    ]
    assert [len(g.lines) for g in found] == [2, 1, 1, 1, 1]
    assert donor_of(lines[3]) == "a tree surgeon"


def test_lines_of_a_bill_are_largest_first():
    found = bill([GARDEN["A"]], [assess_fill(GARDEN["A"], PLACE)], PLACE)
    amounts = [x.amount for x in found.lines]

    assert amounts == sorted(amounts, reverse=True)
    assert any(x.name == "larch board 140 × 33, 3 m" for x in found.lines)


def test_what_lasts_for_ever_costs_its_interest():
    from bedcalc.cost.money import capital_recovery

    assert capital_recovery.si(0.03, np.inf) == 0.03
    assert capital_recovery.si(0.0, np.inf) == 0.0
    assert capital_recovery.si(0.03, 900.0) == pytest.approx(0.03, rel=1e-9)
