"""Cost: finance and statistics against scipy, the demo bill against its cut lists."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import optimize, stats

import bedcalc as bc
from bedcalc.cost import (
    bill,
    capital_recovery,
    cut_plans,
    spread_band,
    triangular_moments,
)
from bedcalc.cutting import COIN
from bedcalc.fill import assess_fill
from tests.validation.kinds import outside
from tests.validation.printed import printed

CHAPTER = "cost"
OTHERS = "own derivation"


@pytest.fixture(scope="module")
def garden():
    return bc.demo_garden()


@outside("library", "triangular_moments", "scipy", facts=2)
def test_triangular_guess():
    """(10, 12, 18): mean 13.333, sd 1.6997; computed, and scipy.stats.triang."""
    mean, sd = triangular_moments(10, 12, 18)
    other = stats.triang(c=(12 - 10) / (18 - 10), loc=10, scale=8)

    assert mean.m == printed("13.333")
    assert sd.m == printed("1.6997")
    assert (mean.m, sd.m) == pytest.approx((other.mean(), other.std()))


@outside("library", "capital_recovery", "scipy")
@pytest.mark.parametrize(
    ("cost", "years", "rate", "yearly"),
    [(420, 8, 0.0, "52.50"), (420, 8, 0.03, "59.83"), (640, 20, 0.03, "43.02")],
)
def test_capital_recovery(cost, years, rate, yearly):
    """Computed; the present value of the payments is solved back by scipy."""
    payment = cost * capital_recovery(rate, years).m
    ends = np.arange(1, years + 1)
    other = optimize.brentq(lambda a: np.sum(a / (1 + rate) ** ends) - cost, 1, cost)

    assert payment == printed(yearly)
    assert payment == pytest.approx(other, rel=1e-9)


@pytest.mark.parametrize(
    ("correlation", "sd"), [(0.0, 44.72), (0.3, 66.33), (0.5, 77.46), (1.0, 100.0)]
)
def test_lines_that_move_together_spread_the_total(monkeypatch, correlation, sd):
    """Five lines with sd 20 each: sigma sqrt(n + n(n-1) rho); computed by hand."""
    from bedcalc.cost import uncertainty as cost

    class Row:
        low, high, correlation_within = -0.3, 0.3, correlation

    monkeypatch.setattr(cost, "table", lambda name: {"timber": Row})
    one = 0.6 / np.sqrt(24)  # sd of a symmetric triangle 0.6 wide
    low, high = spread_band({"timber": [20 / one] * 5})

    assert (high - low) / 2 / 1.2816 == pytest.approx(sd, abs=0.005)


HAND = {
    # goods: price of the first-fit plan for all six demo beds together
    "larch_140x33": 168.50,
    "post_70x70": 78.40,
    "cap_90x22": 61.70,
    "frame_70x45": 59.10,
    "sheet_0.76": 105.00,
    "plank_125x30": 123.00,
    "sleeper_200x100": 222.00,
    "post_60x60": 9.80,
}


@pytest.fixture(scope="module")
def plans(garden):
    found, missing = cut_plans(garden.beds, garden.place)
    assert not missing
    return found


@pytest.mark.parametrize("goods", HAND)
def test_hand_rule_for_the_whole_demo_garden(plans, goods):
    """Invented prices; first-fit costs computed by a second program, to the coin."""
    assert plans[goods].cost / COIN == pytest.approx(HAND[goods], abs=0.005)


def test_pieces_of_the_demo_garden(plans):
    """The invented cut lists: number and length of every piece."""

    def counted(goods):
        found = {}
        for piece in plans[goods].pieces:
            found[piece.length / 10] = found.get(piece.length / 10, 0) + piece.count
        return found

    assert counted("larch_140x33") == {2700: 8, 984: 8, 2100: 4, 534: 4}
    assert counted("post_70x70") == {560: 8, 720: 8, 800: 6}
    # the cap of B stands out 25 mm, so that it covers the sheet; short slats of D lie
    # between its legs, and its floor rails inside the ends
    cap = {2780: 2, 2750: 2, 1130: 2, 1100: 2, 534: 18, 394: 3}
    assert counted("cap_90x22") == cap
    assert counted("frame_70x45") == {2700: 4, 960: 4, 2034: 2, 534: 3}
    assert counted("sheet_0.76") == {720: 12}
    assert counted("plank_125x30") == {1800: 6, 840: 6}
    assert counted("sleeper_200x100") == {3000: 4, 1000: 4}
    assert counted("post_60x60") == {375: 6}


def test_bill_of_the_whole_demo_garden(garden):
    """Invented: pallet 150.00, fill 360.00, two trips 120.00; structure by hand rule.

    Structure with the pallet: 168.50 + 78.40 + 61.70 + 59.10 + 105.00 + 123.00 +
    222.00 + 9.80 + 150.00 = 977.50 (968.40 with the least-cost plans).
    """
    fills = [assess_fill(bed, garden.place) for bed in garden.beds]
    found = bill(garden.beds, fills, garden.place)
    lines, missing = found.lines, found.missing
    by_part = {}
    for line in lines:
        by_part[line.part] = by_part.get(line.part, 0) + line.amount
    trucks = [line for line in lines if line.name.startswith("delivery of fill")]

    assert not missing
    assert by_part["walls"] == pytest.approx(977.50, abs=0.005)
    assert by_part["fill"] == pytest.approx(360.00, abs=0.005)
    assert [(t.quantity, t.amount) for t in trucks] == [(2, 120.0)]
    assert any(line.unit == "pallet" and line.amount == 150.0 for line in lines)


def test_screws_of_bed_a(garden):
    """4 courses x (8 ends + 4 crossings) x 2 = 96; cap 2 x (6 + 3) + 4 x 2 = 26.

    Together 122, + 10 % = 134.2: two boxes of 100. Common practice: two a crossing, a
    cap every half metre (2.7 m: 6, 1.05 m: 3) and two more at each mitre.
    """
    from bedcalc.cost import fixings

    assert fixings(garden["A"])["screw_5x70"] == pytest.approx(134.2)


def test_blocks_of_bed_e(garden):
    """(2 x 2.4 + 2 x 0.9) / 0.4 x 3 = 49.5, + 5 % = 51.98: 52; common practice."""
    from bedcalc.cutting.cut_list import blocks_needed

    exact, buy = blocks_needed(garden["E"], spare=0.05)

    assert exact == pytest.approx(49.5)
    assert buy == 52


def test_one_tie_for_bed_b_takes_a_two_metre_rod(garden):
    """1050 + 42 = 1092 mm: 7.60 + 2 x 1.10 + 4 x 0.25 = 10.80; invented prices."""
    plain = bc.evaluate(garden["B"], garden.place)
    tied = bc.evaluate(garden["B"].change(ties=1), garden.place)

    assert tied.cost.ties.m == pytest.approx(10.80)
    assert (tied.cost.total - plain.cost.total).m == pytest.approx(10.80)
