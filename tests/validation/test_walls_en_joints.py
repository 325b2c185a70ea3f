"""Screws, plates and rods on the European route (standards as far as remembered)."""

import pytest

from bedcalc.tables import table
from bedcalc.units import Q_
from bedcalc.walls.fasteners import (
    design_joint_en,
    embedment_en,
    lateral_en,
    withdrawal_en,
    yield_moment_en,
)
from bedcalc.walls.ties import (
    bearing_area,
    plate_bearing,
    rod_tension_en,
    stress_area,
    tie_capacity,
)
from tests.validation.printed import printed

CHAPTER = "walls"
OTHERS = "own derivation"

C24 = Q_(350, "kg/m^3")


def test_yield_moments():
    """Own derivation: 4.7 N m for root 3.2 mm, 7.9 N m for root 3.9 mm."""
    found = [
        yield_moment_en(Q_(root, "mm"), Q_(600, "MPa")).m_as("N*m")
        for root in (3.2, 3.9)
    ]
    # 0.3 x 600 x 3.52^2.6 = 4747 N mm: the sum by hand cuts to 4.7
    assert found == [printed("4.7"), printed("7.9")]


@pytest.mark.parametrize(
    ("screw", "side", "characteristic", "design", "plain"),
    [("5x70", 33, "1.11", "0.42", "0.31"), ("6x100", 45, "1.57", "0.60", "0.45")],
)
def test_lateral(screw, side, characteristic, design, plain):
    """Own derivation, EN 1995-1-1 8.2.2: C24, predrilled, no rope effect.

    By hand, mode f, 5 x 70: 1.15 sqrt(2 x 4747 x 27.69 x 3.52) = 1106 N. The first sum
    rounds on its way (0.4254 to 0.42), hence one step.
    """
    found = lateral_en(screw, Q_(side, "mm"), C24)
    assert found.m_as("kN") == printed(characteristic)
    duration_factor = design_joint_en(found, "permanent")
    assert duration_factor.m_as("kN") == printed(design, steps=1)
    assert duration_factor.m_as("kN") / 1.35 == printed(plain, steps=1)


def test_thin_side_pieces_govern_by_their_own_bearing():
    """EN 1995-1-1 8.2.2 mode a, by hand: 27.69 x 5 x 3.52 = 487 N for 5 mm."""
    assert lateral_en("5x70", Q_(5, "mm"), C24).m_as("N") == printed("487")
    assert embedment_en(Q_(3.52, "mm"), C24).m_as("MPa") == printed("27.69")


def test_withdrawal():
    """Own derivation: 6 mm, 55 mm of thread: 3.8 kN, 1.5 kN design; end grain none."""
    found = withdrawal_en("6x100", Q_(55, "mm"), C24)
    assert found.m_as("kN") == printed("3.8")
    assert design_joint_en(found, "permanent").m_as("kN") == printed("1.5")
    assert withdrawal_en("6x100", Q_(55, "mm"), C24, True).m == 0


def test_plate_on_c24():
    """Own derivation, EN 1995-1-1 10.4.3: 50 x 50 mm: 6.9 kN; 5.1 kN, plain loads."""
    bearing = table("timber_en")["C24"].q("f_c90") * 0.5 / 1.3
    area = bearing_area(Q_(50, "mm"), Q_(11, "mm"))
    found = plate_bearing(bearing, area, Q_(3.0, ""))
    assert found.m_as("kN") == printed("6.9")
    assert found.m_as("kN") / 1.35 == printed("5.1")
    capacity, part = tie_capacity("larch", "m10", "50x50x5")
    assert part == "plate"
    assert capacity == pytest.approx(found.m_as("N"))


def test_rod_design_tension():
    """EN 1993-1-8 Table 3.4, by hand, M10 4.6: 0.9 x 400 x 57.99 / 1.25 = 16.70 kN."""
    area = stress_area(Q_(10, "mm"), Q_(1.5, "mm"))
    assert rod_tension_en(Q_(400, "MPa"), area).m_as("kN") == printed("16.70")
