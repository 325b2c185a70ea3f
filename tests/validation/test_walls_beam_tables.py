"""Continuous beams against printed beam tables.

Sources: awc_da6, hicks_formulas, aisc_manual.
"""

import numpy as np
import pytest

from bedcalc.units import Q_
from bedcalc.walls.beams import (
    posted_shape,
    span_coefficients,
    uniform_bow,
    uniform_moment,
)
from tests.validation.kinds import outside
from tests.validation.printed import printed

CHAPTER = "walls"
OTHERS = "own derivation"


@outside("printed", "span_coefficients", "awc_da6", facts=3)
def test_simple_beam():
    """AWC Design Aid 6, figure 1: 5/384 and 1/8, exact."""
    one = span_coefficients(1)
    assert one.bow == pytest.approx(5 / 384, rel=1e-12)
    assert one.moment == pytest.approx(1 / 8, rel=1e-12)
    assert one.reaction_end == 0.5
    assert one.reaction_interior == 0.0


@outside("printed", "span_coefficients", "cerm", facts=5)
def test_two_equal_spans():
    """Two-span pages quoting the Civil Engineering Reference Manual.

    R 3/8 and 10/8, moment 1/8 over the tie and 0.0703 in the span, bow 0.00541, which
    cuts where rounding gives 0.00542, hence one step; at 0.4215 of the span.
    """
    two = span_coefficients(2)
    assert two.reaction_end == printed("0.375")
    assert two.reaction_interior == printed("1.250")
    assert two.moment == printed("0.125")
    assert two.moment_span == printed("0.0703")
    assert two.bow == printed("0.00541", steps=1)
    along = np.linspace(0, 0.5, 50001)
    assert 2 * along[np.argmax(posted_shape(2, 1, 0.0, along))] == printed("0.4215")


@outside("printed", "span_coefficients", "awc_da6", facts=5)
def test_three_equal_spans():
    """AWC Design Aid 6: R 0.400 and 1.10, moments 0.100, 0.080; bow 0.0069."""
    three = span_coefficients(3)
    assert three.reaction_end == printed("0.400")
    assert three.reaction_interior == printed("1.10")
    assert three.moment == printed("0.100")
    assert three.moment_span == printed("0.080")
    assert three.bow == printed("0.0069")
    along = np.linspace(0, 1 / 3, 5001)
    assert 3 * along[np.argmax(posted_shape(3, 1, 0.0, along))] == printed("0.446")


@outside("printed", "span_coefficients", "hicks_formulas", facts=5)
def test_hicks_four_spans():
    """Hicks, Civil Engineering Formulas, Table 2.1: 11/28 and 32/28 of w s.

    The largest moment, over the first tie, is 3/28 of w s2.
    """
    four = span_coefficients(4)
    assert four.reaction_end * 28 == pytest.approx(11, rel=1e-9)
    assert four.reaction_interior * 28 == pytest.approx(32, rel=1e-9)
    assert four.moment * 28 == pytest.approx(3, rel=1e-9)
    assert four.moment_span == printed("0.0772")
    assert four.bow == printed("0.0065")


@outside("printed", "span_coefficients", "hicks_formulas", facts=1)
def test_hicks_five_spans():
    """Hicks, Table 2.1: 15/38 and 43/38 of w s; the largest moment is 4/38."""
    five = span_coefficients(5)
    assert five.reaction_end * 38 == pytest.approx(15, rel=1e-9)
    assert five.reaction_interior * 38 == pytest.approx(43, rel=1e-9)
    assert five.moment * 38 == pytest.approx(4, rel=1e-9)
    assert five.bow == printed("0.00657")


@pytest.mark.parametrize(
    ("ties", "bow", "moment", "tie"),
    [(1, "0.02600", "0.25", "0.625"), (2, "0.006527", "0.0889", "0.3667"),
     (3, "0.001938", "0.0536", "0.2857")],
)  # fmt: skip
def test_what_ties_do_to_a_wall(ties, bow, moment, tie):
    """Own derivation: ratios to the untied wall of the same length, recomputed.

    By hand, one tie: 0.0054161/16 / (5/384) = 0.02600.
    """
    n = ties + 1
    assert uniform_bow.si(1, 1, 1, n) / uniform_bow.si(1, 1, 1, 1) == printed(bow)
    assert uniform_moment.si(1, 1, n) * 8 == printed(moment)
    assert span_coefficients(n).reaction_interior / n == printed(tie)


def test_three_bays_of_the_worked_wall():
    """Own derivation: 3 x 1.2 m, 516 N/m, E 8.69 GPa, I 4.097e-7 m4.

    By hand: 0.4 and 1.1 x 619.2 N; 0.1 and 0.08 x 743.04 N m;
    0.0068842 x 516 x 1.2^4 / 3560.3 = 2.069 mm.
    """
    length, load, ei = Q_(3.6, "m"), Q_(516, "N/m"), Q_(8.69e9 * 4.097e-7, "N*m^2")
    assert uniform_bow(load, length, ei, 3).m_as("mm") == printed("2.069")
    three, bay = span_coefficients(3), 1.2
    assert three.reaction_end * 516 * bay == printed("247.68")
    assert three.reaction_interior * 516 * bay == printed("681.12")
    assert three.moment * 516 * bay**2 == printed("74.30")
    assert three.moment_span * 516 * bay**2 == printed("59.44")
