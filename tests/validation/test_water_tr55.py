"""Water: the curve-number method against TR-55, volumes against sums by hand."""

from __future__ import annotations

import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.questions.site_plan import rain_on
from bedcalc.site.water import (
    curve_runoff,
    emptying_time,
    runoff_volume,
    storage,
    swale_depth,
    swale_volume,
    swale_width,
    trench_volume,
)
from tests.validation.kinds import outside
from tests.validation.printed import printed

CHAPTER = "site"
OTHERS = "own derivation"


@outside("from memory", "curve_runoff", "tr55", facts=1)
def test_example_2_1_of_tr55():
    """6 in of rain on CN 70 (pasture and wood on soils B and C): 2.81 in run off.

    The rain and the curve number are TR-55's; 2.81 from memory.
    """
    # the table of TR-55 is printed to a hundredth, read at CN 70
    assert curve_runoff(Q_(6, "inch"), 70.0).m_as("inch") == printed("2.81", steps=0.6)


@outside("from memory", "curve_runoff", "tr55")
@pytest.mark.parametrize(
    ("curve", "depth"),
    [(65, "2.35"), (75, "3.28"), (85, "4.30"), (90, "4.85"), (98, "5.76")],
)
def test_row_of_6_inches_of_table_2_1(curve, depth):
    """TR-55 table 2-1, rain 6.0 in; from memory, and recomputed."""
    assert curve_runoff(Q_(6, "inch"), float(curve)).m_as("inch") == printed(depth)


def test_eight_inches_on_80():
    """P 8 in, CN 80: S 2.5, (8 - 0.5)2/(8 + 2) = 5.625 in, computed by hand."""
    assert curve_runoff(Q_(8, "inch"), 80.0).m_as("inch") == printed("5.625")


def test_school_yard_by_both_ways():
    """38 mm on 310 m2: S 67.52, Q 6.521 mm, 2.022 m3; by C = 0.30 3.534 m3."""
    assert storage(79.0).m_as("mm") == printed("67.52")
    assert 0.2 * storage(79.0).m_as("mm") == printed("13.50")
    depth = curve_runoff(Q_(38, "mm"), 79.0)
    assert depth.m_as("mm") == printed("6.521")
    assert (depth * Q_(310, "m^2")).m_as("m^3") == printed("2.022")
    rough = runoff_volume(0.30, Q_(310, "m^2"), Q_(38, "mm"))
    assert rough.m_as("m^3") == printed("3.534")


def test_swale():
    """3 to 1 banks, 14 m: 0.2194 m deep, 1.316 m wide for 2.022 m3; by hand."""
    depth = swale_depth(Q_(2.022, "m^3"), 3.0, Q_(14, "m"))

    assert depth.m_as("m") == printed("0.2194")
    wide = swale_width(depth, 3.0, Q_(0, "m"))
    # 2 x 3 x 0.21942 = 1.31650
    assert wide.m_as("m") == pytest.approx(1.316, abs=0.0006)
    assert swale_volume(depth, 3.0, Q_(0, "m"), Q_(14, "m")).m == printed("2.022")


def test_gravel_trench():
    """0.4 x 0.5 x 14 m x 0.40 = 1.12 m3, computed by hand; gaps common practice."""
    held = trench_volume(Q_(0.4, "m"), Q_(0.5, "m"), Q_(14, "m"), 0.40)

    assert held.m == printed("1.12")


def test_rain_on_a_roof_of_paper():
    """1 in on 1000 ft2 = 623.4 US gal; 25 mm on 100 m2 = 2500 L; by definition."""
    gallons = runoff_volume(1.0, Q_(1000, "ft^2"), Q_(1, "inch")).m_as("gallon")
    litres = runoff_volume(1.0, Q_(100, "m^2"), Q_(25, "mm")).m_as("liter")

    assert gallons == printed("623.4")
    assert litres == printed("2500")


def test_nothing_runs_off_before_the_ground_is_full():
    """TR-55 eq. 2-1: Q = 0 while P < 0.2 S (13.5 mm at CN 79)."""
    assert curve_runoff(Q_(13.4, "mm"), 79.0).m_as("mm") == 0
    assert curve_runoff(Q_(14.0, "mm"), 79.0).m_as("mm") > 0


def test_swale_soaks_away():
    """220 mm at 10 mm an hour: 22 hours, by hand."""
    assert emptying_time(Q_(220, "mm"), Q_(10, "mm/hour")).m == printed("22")


def test_the_demo_storm():
    """Demo garden: larger of both volumes, as the safe side."""
    rain = rain_on(bc.demo_garden().place, Q_(38, "mm"), Q_(310, "m^2"))

    assert rain.by_curve.m_as("m^3") == printed("2.02")
    assert rain.by_share.m_as("m^3") == printed("3.53")
    assert rain.volume == rain.by_share
