"""Site: levelling, setting out and layout against numbers worked out by hand."""

from __future__ import annotations

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.questions.site_plan import plan_site
from bedcalc.site.chapter import fit_plane
from bedcalc.site.hose import hose_loss
from bedcalc.site.layout import bed_count, fit_grid, fit_mixed, path_left
from bedcalc.site.levelling import (
    along_ground,
    cut_and_fill,
    depths_under,
    exposed_wall,
    plan_shortening,
    rim_shift,
    steps_needed,
    strip_volume,
    underside,
)
from bedcalc.site.setout import diagonal, diagonals_racked, line_skew, slide_to_square
from bedcalc.site.survey import reversed_gap
from bedcalc.tables import table
from tests.validation.kinds import outside
from tests.validation.printed import printed

CHAPTER = "site"
OTHERS = "own derivation"

#: readings down from a level line, corners of 2.7 x 1.05 m in ring order
DOWN = np.array([0.412, 0.447, 0.531, 0.500])


def test_four_corners_in_closed_form():
    """Computed by hand: mean of z; [(z2+z3)-(z1+z4)]/2L; twist (z1-z2+z3-z4)/4.

    The plane of least squares through four corners of a rectangle has these slopes,
    and each corner is off it by the twist.
    """
    x, y = np.array([0, 2.7, 2.7, 0]), np.array([0, 0, 1.05, 1.05])
    a, along, across, off = fit_plane(np.column_stack([x, y, DOWN]))

    assert a + along * 1.35 + across * 0.525 == printed("-0.4725")
    assert 100 * along == printed("-1.222")
    assert 100 * across == printed("-8.190")
    assert 100 * np.hypot(along, across) == printed("8.281")
    assert 1000 * np.abs(off) == pytest.approx(np.full(4, 1.0), abs=0.05)


def test_trench_from_the_corner_readings():
    """Computed by hand: z_i - (min z - 50 mm) = 169, 134, 50, 81 mm."""
    ground = -DOWN
    depths = depths_under.si(ground, underside(ground, "all_cut", 0.05, 0.15))

    assert depths * 1000 == pytest.approx([169, 134, 50, 81], abs=0.5)
    # and what stands above the ground of a wall of 560 mm: 391, 426, 510, 479
    wall = exposed_wall.si(0.56, depths) * 1000
    assert wall == pytest.approx([391, 426, 510, 479], abs=0.5)


def test_strip_trench():
    """0.25 m x 7.5 m x mean depths = 0.2034, corners counted once 0.1763 m3."""
    depths = Q_(np.array([169.0, 134.0, 50.0, 81.0]), "mm")
    once = strip_volume(Q_(2.7, "m"), Q_(1.05, "m"), depths, Q_(0.25, "m"))

    assert once.m_as("m^3") == printed("0.1763")
    twice = once + Q_(0.25, "m") ** 2 * np.sum(depths)
    assert twice.m_as("m^3") == printed("0.2034")


def test_balanced_pad():
    """L s W2 / 8 = 0.0432 m3 for 2.4 x 1.2 m at 10 %, computed by hand."""
    ground = np.array([0.12, 0.12, 0.0, 0.0])
    depths = depths_under.si(ground, underside(ground, "balanced", 0.05, 0.15))
    cut, fill = cut_and_fill(2.4, 1.2, depths)

    assert cut == printed("0.0432")
    assert fill == printed("0.0432")


def test_blocks_under_the_low_corner():
    """Uphill 100 mm at most: the low side of a 1.2 m box at 15 % stands 80 mm up."""
    ground = np.array([0.18, 0.18, 0.0, 0.0])
    depths = depths_under.si(ground, underside(ground, "limited", 0.05, 0.10))

    assert depths * 1000 == pytest.approx([100, 100, -80, -80], abs=1e-9)


def test_box_made_level():
    """10 %, 2.7 m, 720 mm: L(1-cos) = 13.4 mm, H sin = 71.6 mm, computed by hand."""
    assert plan_shortening(Q_(2.7, "m"), 0.10).m_as("mm") == printed("13.4")
    assert rim_shift(Q_(720, "mm"), 0.10).m_as("mm") == printed("71.6")


@pytest.mark.parametrize(
    ("slope", "shift", "shorter"),
    [(0.05, "36", "3.4"), (0.10, "72", "13.4"), (0.15, "107", "29.9"),
     (0.20, "141", "52.4")],
)  # fmt: skip
def test_box_made_level_at_other_slopes(slope, shift, shorter):
    """H sin(atan s) for 720 mm and L(1-cos(atan s)) for 2.7 m, by hand."""
    assert rim_shift(Q_(720, "mm"), slope).m_as("mm") == printed(shift)
    assert plan_shortening(Q_(2.7, "m"), slope).m_as("mm") == printed(shorter)


def test_tape_on_the_ground():
    """sqrt(1 + s2), computed by hand; a 1.2 m path at 20 % reads 24 mm too long."""
    assert along_ground(Q_(1, "m"), 0.10).m == printed("1.00499")
    assert along_ground(Q_(1, "m"), 0.20).m == printed("1.01980")
    longer = along_ground(Q_(1.2, "m"), 0.20) - Q_(1.2, "m")
    assert longer.m_as("mm") == printed("24")


def test_diagonals():
    """Computed by hand: sqrt(2.72 + 1.052); racked by 10 mm they differ by 18.64."""
    assert diagonal(Q_(2.7, "m"), Q_(1.05, "m")).m == printed("2.8970")
    longer, shorter = diagonals_racked(Q_(2.7, "m"), Q_(1.05, "m"), Q_(10, "mm"))
    assert (longer - shorter).m_as("mm") == printed("18.64")
    back = slide_to_square(longer, shorter, Q_(2.7, "m"))
    assert back.m_as("mm") == printed("10.00")


def test_three_four_five():
    """0.9, 1.2 and 1.5 m: the smallest triple that fits a bed."""
    assert diagonal(Q_(0.9, "m"), Q_(1.2, "m")).m == printed("1.5")


def test_skew_to_the_house():
    """atan(12/2700) = 0.255 degrees, 4.44 mm per m; computed by hand."""
    skew = line_skew(Q_(1850, "mm"), Q_(1838, "mm"), Q_(2.7, "m"))

    assert skew.m_as("deg") == printed("0.255")
    assert 1000 * np.tan(skew.m_as("rad")) == printed("4.44")


def test_level_turned_end_for_end():
    """Gaps 96 and 104 mm over 2 m: fall 100 mm (5.0 %), level 4 mm out."""
    fall, error = reversed_gap(Q_(96, "mm"), Q_(104, "mm"))

    assert fall.m_as("mm") == printed("100")
    assert (fall / Q_(2, "m")).m_as("percent") == printed("5.0")
    assert error.m_as("mm") == printed("4")


@pytest.mark.parametrize(
    ("space", "edge", "path", "count", "real"),
    [("9.6 m", "0.6 m", "0.9 m", 4, "1.4"), ("9.6 m", "0.6 m", "1.2 m", 4, "1.4"),
     ("14.4 m", "0.9 m", "0.9 m", 6, "1.26")],
)  # fmt: skip
def test_beds_side_by_side(space, edge, path, count, real):
    """floor((X - 2e + p)/(b + p)), b = 1.05 m; real path (X - 2e - nb)/(n - 1)."""
    found = bed_count(Q_(space), Q_("1.05 m"), Q_(path), Q_(edge))
    left = path_left(Q_(space), Q_("1.05 m"), Q_(edge), found)

    assert found == count
    assert left.m == printed(real)


def test_grid_both_ways():
    """40 x 24 ft, beds 8 x 4, paths 3, edges 2 ft: 9, turned 10; counted by hand."""
    ft = 0.3048
    plot, bed = (40 * ft, 24 * ft), (8 * ft, 4 * ft)

    assert len(fit_grid(plot, bed, 3 * ft, 2 * ft)) == 9
    assert len(fit_grid(plot, bed, 3 * ft, 2 * ft, turned=True)) == 10
    # straight cuts include both grids
    assert len(fit_mixed(plot, bed, 3 * ft, 2 * ft)) >= 10


@pytest.mark.parametrize(
    ("slope", "long_", "short"),
    [(5, "135", "53"), (10, "270", "105"), (15, "405", "158"), (20, "540", "210")],
)
def test_why_along_the_contour(slope, long_, short):
    """Fall over 2.7 m and over 1.05 m, computed by hand (half millimetres round)."""
    for length, fall in ((2.7, long_), (1.05, short)):
        assert length * slope * 10 == printed(fall, steps=0.51)


def test_steps_of_a_long_bed():
    """540 mm over 2.7 m at 20 %, at most 150 mm a part: four parts, by hand."""
    assert steps_needed(Q_(2.7, "m"), 0.20, Q_(150, "mm")) == 4
    assert steps_needed(Q_(2.7, "m"), -0.20, Q_(540, "mm")) == 1


@outside("from memory", "table route_rules", "ada_2010", facts=3)
def test_slopes_of_accessible_routes():
    """1 in 48, 1 in 20, 1 in 12 as the 2010 ADA Standards give them (403.3, 405.2)."""
    rows = table("route_rules")

    assert rows["cross"].q("value").m == printed("2.083")
    assert 1 / rows["running"].value == printed("20")
    assert rows["ramp"].q("value").m == printed("8.333")


def test_demo_plan_in_all():
    """Invented garden, by hand: paths 1.20 and 1.50 m, 2.70 m between the rows."""
    garden = bc.demo_garden()
    plan = plan_site(garden.beds, garden.place)
    gaps = {gap.name: gap for gap in plan.gaps}

    assert gaps["A–B"].width == printed("1.20")
    assert gaps["B–F"].width == printed("1.20")
    assert gaps["C–D"].width == printed("1.50")
    assert gaps["D–E"].width == printed("1.50")
    assert gaps["F–E"].width == printed("2.70")
    assert plan.growing_share.m == printed("8.9")
    # 0.311 + 0.311 + 0.423 + 0.159 + 0.110 + 0.328
    assert plan.cut.m_as("m^3") == pytest.approx(1.642, abs=0.003)


def test_path_measured_short_while_the_lower_bed_still_lies_tilted():
    """Common practice, no source: builders allow a few centimetres, 2 to 8.

    What the box moves when it is made level is H sin(theta): for the demo's beds
    of 375 to 800 mm at 8.2 % between 3 and 7 cm.
    """
    garden = bc.demo_garden()
    plan = plan_site(garden.beds, garden.place)
    shifts = [bed.shift.m_as("cm") for bed in plan.beds]

    assert 2 < min(shifts) and max(shifts) < 8


def test_a_path_of_four_feet_lets_a_barrow_turn():
    """Common practice, no source: paths of 1.2 m; a barrow turns into a row there."""
    assert table("paths")["barrow"].q("turn").m_as("m") == printed("1.2")


@outside("from memory", "hose_loss", "nfpa_13")
@pytest.mark.parametrize(("gpm", "inch"), [(4, 0.5), (8, 0.75), (3, 0.625)])
def test_friction_in_a_hose(gpm, inch):
    """Hazen and Williams as printed for US units (NFPA 13; from memory).

    p = 4.52 Q^1.85 / (C^1.85 d^4.87), psi for each foot, Q in gal/min, d in inches.
    Rounded exponents and 4.52 agree with the SI form within 1 %.
    """
    psi = 4.52 * gpm**1.85 / (140**1.85 * inch**4.87)
    head = hose_loss(Q_(gpm, "gallon/minute"), Q_(1, "ft"), Q_(inch, "inch"))

    assert (head * Q_(9806.65, "N/m^3")).m_as("psi") == pytest.approx(psi, rel=0.01)
