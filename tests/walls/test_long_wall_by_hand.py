"""Numbers of the long wall worked out on paper, factor by factor.

Garden mix: K 0.5, 11 kN/m3 moist, 15 kN/m3 soaked. Larch as C24: E 11 GPa, kmod 0.5
for good and 0.7 for people, factors 1.35 on soil and 1.5 on people (EN 1990 and EN
1995-1-1, from memory).
"""

from __future__ import annotations

import pytest

import bedcalc as bc
from bedcalc import Q_

DEMO = bc.demo_garden()


def outcome(name, **change):
    return bc.evaluate(DEMO[name].change(**change), DEMO.place)


def test_the_lowest_board_creeps_between_its_posts():
    """0.00688 w s4/EI over three spans (beam tables): 3 times moist, then the wet."""
    o = outcome("A")
    moist, soaked = (0.5 * g * (0.56 - 0.07) * 0.14 for g in (11e3, 15e3))
    each = 0.00688 * 0.889**4 / (11e9 * 0.14 * 0.033**3 / 12)
    years = 3.0 * each * moist + each * (soaked - moist)

    assert o.walls.bays == 3 and o.walls.post_gap.m_as("m") == pytest.approx(0.889)
    assert o.check("between posts").demand.m_as("m") == pytest.approx(years, rel=2e-3)


def test_the_corner_of_the_top_board_and_its_two_screws():
    """Four boards share the moment by their height; half the length pulls a corner.

    0.5 x 15 x 0.56^3 / 6 x 0.49 / 0.4116 = 261 N/m; 1.35 x 261 x 2.667 / 2 = 0.470 kN.
    Two screws 5 x 70: M_y 4.7 N m and f_h 0.082 x 350 x 5^-0.3 = 17.7 MPa give 1.11 kN
    each by mode f, x 0.5 / 1.3.
    """
    check = outcome("A").check("corner")
    moment = 0.5 * 15e3 * 0.56**3 / 6
    line = moment * 0.49 / sum(z**2 for z in (0.07, 0.21, 0.35, 0.49))
    each = 1.11e3 * 0.5 / 1.3

    assert check.demand.m_as("N") == pytest.approx(1.35 * line * 2.667 / 2, rel=1e-6)
    assert check.capacity.m_as("N") == pytest.approx(2 * each, rel=0.01)


def test_the_corner_of_a_top_rail():
    """Bed B: a third of the push acts at the rim, 648 N/m; x 1.35 x 2.655 / 2."""
    check = outcome("B").check("corner")

    assert check.demand.m_as("N") == pytest.approx(1.35 * 648 * 2.655 / 2, rel=1e-6)


@pytest.mark.parametrize(
    ("height", "rim"),
    [(0.72, (1.35 * 475.2 + 1.5 * 432) / 1.4), (0.40, (1.35 * 146.67 + 360) / 1.4)],
)
def test_the_tie_feels_the_people_on_the_fill(height, rim):
    """Moist K g H2/6 and people 0.5 x 2.4 kPa x H/2 at the rim, wood 0.7/0.5 as strong.

    That is more than the soaked fill asks for. Two spans: 1.25 of a bay on the tie.
    """
    check = outcome("B", ties=1, height=Q_(height, "m")).check("tie")
    soaked = 1.35 * 0.5 * 15e3 * height**2 / 6

    assert rim > soaked
    assert check.demand.m_as("N") == pytest.approx(1.25 * 1.3275 * rim, rel=1e-4)
