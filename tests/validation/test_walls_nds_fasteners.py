"""American fasteners against the NDS, its solved examples and public pages.

Sources: nds_2018, awc_examples, hicks_formulas.
"""

import numpy as np
import pytest

from bedcalc.tables import table
from bedcalc.units import Q_
from bedcalc.walls.fasteners_us import (
    MODES_US,
    adjusted_us,
    dowel_bearing_us,
    lag_withdrawal_us,
    lateral_us,
    nail_withdrawal_us,
    reduction_us,
    screw_withdrawal_us,
    thread_in_main,
    yield_modes_us,
)
from tests.validation.kinds import outside
from tests.validation.printed import printed

CHAPTER = "walls"
OTHERS = "own derivation"

INCH, LB, PSI = 0.0254, 4.4482216152605, 6894.757293168361


def per_inch(found):
    return found.m_as("lbf/inch")


def modes(d, lm, ls, gravity, fyb, rd=2.2, fe=None):
    """Inches and psi in, pounds out, by name of mode."""
    fe = fe * PSI if fe else dowel_bearing_us.si(gravity)
    found = yield_modes_us.si(d * INCH, lm * INCH, ls * INCH, fe, fe, fyb * PSI, rd)
    return dict(zip(MODES_US, found / LB, strict=True))


def governs(found):
    return min(found, key=found.get)


@outside("printed", "screw_withdrawal_us", "screw_page", facts=1)
def test_wood_screw_withdrawal_page():
    """An engineering page: #10 screw, G 0.45, 109 lb/in (it cuts 109.7)."""
    found = screw_withdrawal_us(Q_(0.45, ""), Q_(0.190, "inch"))
    assert per_inch(found) == printed("109", steps=1)


@pytest.mark.parametrize(
    ("gravity", "words"),
    [(0.36, "65 70 186 231"), (0.42, "89 96 235 291"), (0.50, "126 135 305 378"),
     (0.55, "153 164 352 437")],
)  # fmt: skip
def test_withdrawal_table(gravity, words):
    """Own derivation: #9, #10 screws, 3/8 and 1/2 in lag screws, lb/in.

    By hand: 2850 x 0.36^2 x 0.177 = 65.4; 1800 x 0.5^1.5 x 0.5^0.75 = 378.4.
    """
    g = Q_(gravity, "")
    screws, lags = Q_([0.177, 0.190], "inch"), Q_([0.375, 0.5], "inch")
    found = [*per_inch(screw_withdrawal_us(g, screws))]
    found += [*per_inch(lag_withdrawal_us(g, lags))]
    assert found == [printed(w, steps=1) for w in words.split()]


@outside("printed", "lag_withdrawal_us", "awc_examples", facts=2)
def test_awc_example_lag_screw():
    """AWC solved example E2.3: 1/2 x 4 in lag, G 0.55, 1.5 in side, tip 5/16 in.

    Thread 2.5 - 0.3125 = 2.1875 in: 436.6 lb/in, 955 lb.
    """
    found = per_inch(lag_withdrawal_us(Q_(0.55, ""), Q_(0.5, "inch")))
    assert found == printed("436.6")
    assert found * 2.1875 == printed("955")


@outside("printed", "nail_withdrawal_us", "awc_examples", facts=2)
def test_awc_example_nail_withdrawal():
    """AWC solved example E2.1a: nail 0.131 in, G 0.42, 2.395 in deep: 49.5 lb."""
    found = per_inch(nail_withdrawal_us(Q_(0.42, ""), Q_(0.131, "inch")))
    assert found == printed("20.67", steps=1)
    assert found * 2.395 == printed("49.5")


def test_nothing_pulls_on_end_grain():
    """NDS 2018 12.2.2 and 12.2.3: not permitted; lag screws keep three quarters."""
    args = Q_(0.5, ""), Q_(0.190, "inch")
    assert screw_withdrawal_us(*args, True).m == 0
    assert nail_withdrawal_us(*args, True).m == 0
    lag = lag_withdrawal_us(*args, True) / lag_withdrawal_us(*args)
    assert lag.m_as("") == pytest.approx(0.75)


def test_dowel_bearing_strength():
    """NDS 2018 Table 12.3.3 (16600 G^1.84): 2533, 3364, 4637, 5526 psi.

    The standard's table rounds to 50 psi; these are the formula's own digits.
    """
    found = dowel_bearing_us.si(np.array([0.36, 0.42, 0.50, 0.55])) / PSI
    assert [*found] == [printed(w, steps=1) for w in ("2533", "3364", "4637", "5526")]


@outside("from memory", "reduction_us", "nds_2018", facts=4)
def test_reduction_term():
    """NDS 2018 Table 12.3.1B: 2.2 up to 0.17 in, then 10 D + 0.5."""
    found = reduction_us.si(np.array([0.131, 0.17, 0.177, 0.190]) * INCH)
    assert found == pytest.approx([2.2, 2.2, 2.27, 2.4])


@outside("printed", "yield_modes_us", "awc_examples", facts=1)
def test_awc_example_thin_side_member():
    """AWC solved example: 10d nail 0.148 x 3 in, 3/4 in side, G 0.50: 105 lb, IIIs."""
    found = modes(0.148, 2.25, 0.75, 0.50, 90e3)
    assert governs(found) == "IIIs"
    assert found["IIIs"] == printed("105")


@outside("from memory", "yield_modes_us", "nds_2018", facts=2)
def test_nds_table_12n():
    """NDS Table 12N as remembered: 1.5 in side, G 0.50: 16d 141 lb, 10d 118 lb."""
    found = modes(0.162, 2.0, 1.5, 0.50, 90e3, fe=4650)
    assert governs(found) == "IV"
    assert found["IV"] == printed("141")
    assert modes(0.148, 1.5, 1.5, 0.50, 90e3, fe=4650)["IV"] == printed("118")


@outside("printed", "yield_modes_us", "awc_examples", facts=1)
def test_awc_example_double_shear():
    """AWC solved example E2.4: #10 x 6 in, G 0.55, double shear: 2 x Z_IV = 233.7 lb.

    The program that repeats it prints 1039.60 N.
    """
    found = modes(0.152, 4.0, 1.5, 0.55, 80e3, rd=2.4)["IV"]
    assert 2 * found == printed("233.7")
    assert 2 * found * LB == printed("1039.60", steps=20)  # Fe rounded there: 0.02 %


@outside("from memory", "lateral_us", "nds_2018", facts=1)
def test_ten_gauge_screw_both_ways():
    """NDS Table 12L as remembered, 117 lb (Rd by the root), 107.0 by the nominal size.

    #10 x 3 in, G 0.50, 1.5 in side; point 1.5 in deep, tip 0.19 in.
    """
    assert modes(0.152, 1.31, 1.5, 0.50, 80e3, rd=2.2)["IV"] == printed("117")
    found = lateral_us("no10x3", Q_(1.5, "inch"), Q_(0.50, ""))
    assert found.m_as("lbf") == printed("107.0")


# Own derivation: G, then #9 x 2-1/2, #9 x 3, #10 x 2-1/2, #10 x 3; Rd by root / D
LATERAL = """
0.36 66/64 80/77 71/65 86/79
0.42 81/79 92/89 87/80 99/91
0.50 104/101 108/105 111/102 117/107
0.55 118/114 118/114 127/117 127/117
""".split("\n")[1:-1]


@pytest.mark.parametrize("line", LATERAL)
def test_lateral_table(line):
    """Sixteen values both ways. 2-1/2 in screws reach 1.0 in, just under 6 D."""
    gravity, *cells = line.split()
    keys = ("no9x2.5", "no9x3", "no10x2.5", "no10x3")
    for key, cell in zip(keys, cells, strict=True):
        row = table("screws_us")[key]
        d, root = row.diameter / INCH, row.root / INCH
        deep = row.length / INCH - 1.5
        for words, rd in zip(cell.split("/"), (2.2, 10 * d + 0.5), strict=True):
            fyb = row.bending_yield / PSI
            found = modes(root, deep - d, 1.5, float(gravity), fyb, rd)
            assert min(found.values()) == printed(words, steps=1)


def test_a_short_screw_is_refused():
    """NDS 2018 12.1: at least 6 D in the main piece."""
    found = thread_in_main.si(np.array([2.5, 3.0, 6.0]) * INCH, 1.5 * INCH, 0.19 * INCH)
    assert found / INCH == pytest.approx([0.0, 1.31, 4.5])
    assert lateral_us("no10x2.5", Q_(1.5, "inch"), Q_(0.5, "")).m == 0


def test_long_term_wet_values():
    """Own derivation: x 0.9 x 0.7: SP 601 N withdrawal of 1.31 in of #10.

    Lateral there is 80 lb by Rd of the root (127 x 0.63); the lower is 73.6 lb.
    """
    pulled = screw_withdrawal_us(Q_(0.55, ""), Q_(0.190, "inch")) * Q_(1.31, "inch")
    assert adjusted_us(pulled.to("N"), Q_(0.9, "")).m_as("N") == printed("601")
    root = modes(0.152, 1.31, 1.5, 0.55, 80e3, rd=2.2)["IV"]
    assert root * 0.63 * LB == printed("357", steps=1)
    lower = lateral_us("no10x3", Q_(1.5, "inch"), Q_(0.55, ""))
    assert adjusted_us(lower, Q_(0.9, "")).m_as("lbf") == printed("73.6")


@outside("printed", "adjusted_us", "nds_2018", facts=1)
def test_nail_driven_dry_then_wet():
    """NDS 2018 Table 11.3.3: a quarter."""
    found = adjusted_us(Q_(100, "N"), Q_(1.0, ""), True)
    assert found.m_as("N") == pytest.approx(25)


def test_metric_screws_by_the_american_route():
    """Own derivation: 5 x 70 and 6 x 100 in G 0.42, long-term wet: 0.17, 0.22 kN.

    Root 3.2 and 3.9 mm, Fyb 80 and 80 ksi for 5 and 6 mm, Rd by the nominal size; mode
    IV of both.
    """
    for d, root, side, rest, words in (
        (5, 3.2, 33, 37, "0.17"), (6, 3.9, 45, 55, "0.22")
    ):  # fmt: skip
        inch = d / 25.4
        found = modes(
            root / 25.4, rest / 25.4 - inch, side / 25.4, 0.42, 80e3, 10 * inch + 0.5
        )
        assert min(found.values()) * LB * 0.63 / 1e3 == printed(words)


def test_modes_broadcast():
    found = yield_modes_us.si(
        0.152 * INCH, np.array([1.0, 1.3]) * INCH, 1.5 * INCH, 3.2e7, 3.2e7, 5.5e8, 2.4
    )
    assert found.shape == (6, 2)
