"""Continuous beams against printed beam tables.

Sources: awc_da6, hicks_formulas, aisc_manual.
"""

import numpy as np
import pytest

from bedcalc.units import Q_
from bedcalc.walls.beam_elements import solve_beam
from bedcalc.walls.beams import (
    bow_shape,
    moment_shape,
    span_coefficients,
    spring_tie_bow,
    spring_tie_force,
    support_shares,
    triangle_bow,
    triangle_moment,
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
    assert one.reaction_end == one.shear == 0.5
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
    assert 2 * along[np.argmax(bow_shape(2, along))] == printed("0.4215")


@outside("printed", "span_coefficients", "awc_da6", facts=5)
def test_three_equal_spans():
    """AWC Design Aid 6: R 0.400 and 1.10, moments 0.100, 0.080, 0.025; bow 0.0069."""
    three = span_coefficients(3)
    assert three.reaction_end == printed("0.400")
    assert three.reaction_interior == printed("1.10")
    assert three.moment == printed("0.100")
    assert three.moment_span == printed("0.080")
    assert three.bow == printed("0.0069")
    assert moment_shape(3, 0.5) == printed("0.025")
    along = np.linspace(0, 1 / 3, 5001)
    assert 3 * along[np.argmax(bow_shape(3, along))] == printed("0.446")


@outside("printed", "span_coefficients", "hicks_formulas", facts=5)
def test_hicks_four_spans():
    """Hicks, Civil Engineering Formulas, Table 2.1: 11/28, 32/28, 26/28 of w s.

    Moments over the supports 3/28 and 2/28 of w s2.
    """
    shares = support_shares(4)
    assert shares[:5] * 28 == pytest.approx([11, 32, 26, 32, 11], rel=1e-12)
    over = moment_shape(4, np.array([0.25, 0.5]))
    assert over * 28 == pytest.approx([-3, -2], rel=1e-12)
    four = span_coefficients(4)
    assert four.moment == printed("0.1071")
    assert four.moment_span == printed("0.0772")
    assert moment_shape(4, np.linspace(0.25, 0.5, 2001)).max() == printed("0.0364")
    assert four.bow == printed("0.0065")


@outside("printed", "bow_shape", "hicks_formulas", facts=1)
def test_hicks_five_spans():
    """Hicks, Table 2.1: 15/38, 43/38, 37/38 of w s; moments 4/38 and 3/38."""
    shares = support_shares(5)
    assert shares[:3] * 38 == pytest.approx([15, 43, 37], rel=1e-12)
    over = moment_shape(5, np.array([0.2, 0.4]))
    assert over * 38 == pytest.approx([-4, -3], rel=1e-12)
    assert span_coefficients(5).bow == printed("0.00657")


@outside("printed", "solve_beam", "beam_page", facts=4)
def test_three_spans_with_two_loaded():
    """A beam page, three equal spans, load on the first two: R and signs."""
    answer = solve_beam(
        3.0,
        1.0,
        ([0, 2, 2, 3], [1, 1, 0, 0]),
        {x: np.inf for x in (0.0, 1.0, 2.0, 3.0)},
    )
    words = ["0.383", "1.200", "0.450", "-0.033"]
    assert [*answer.holds] == [printed(w) for w in words]


@outside("from memory", "solve_beam", "aisc_manual", facts=5)
def test_growing_load():
    """AISC Manual Table 3-23 case 2: 0.1283 W L at 0.5774 L, 0.01304 W L3/EI at 0.519.

    Reactions W/3 and 2 W/3.
    """
    assert triangle_moment.si(1.0, 1.0) == printed("0.1283")
    assert triangle_bow.si(1.0, 1.0, 1.0) == printed("0.01304")
    answer = solve_beam(
        1.0, 1.0, ([0, 1], [0, 2]), {0.0: np.inf, 1.0: np.inf}, elements=400
    )
    assert [*answer.holds] == [pytest.approx(1 / 3), pytest.approx(2 / 3)]
    assert answer.moment.max() == printed("0.1283")
    assert answer.x_cut[np.argmax(answer.moment)] == pytest.approx(0.5774, abs=0.0026)
    assert answer.bow.max() == printed("0.01304")
    assert answer.x[np.argmax(answer.bow)] == pytest.approx(0.519, abs=0.0026)


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
    supports = {x: np.inf for x in (0.0, 1.2, 2.4, 3.6)}
    answer = solve_beam(3.6, 8.69e9 * 4.097e-7, 516.0, supports, elements=720)
    assert answer.holds[0] == printed("247.68")
    assert answer.holds[1] == printed("681.12")
    assert answer.moment.min() == printed("-74.30")
    assert answer.moment.max() == printed("59.44")
    assert answer.bow.max() == printed("2.069e-3")


def test_one_tie_that_gives():
    """Own derivation: 515.6 N/m, EI 3559.3, 1e5 N/m.

    By hand: u_free = 316.80 mm; F = 0.31680 / (1e-5 + 2.7308e-4) = 1119.1 N, 11.19 mm.
    """
    args = 515.6, 3.6, 3559.3, 1e5
    assert spring_tie_force.si(*args) == printed("1119.1")
    assert spring_tie_bow.si(*args) == printed("11.19e-3")
