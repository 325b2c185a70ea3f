"""Verdicts of detail: people, water, corners, rod, height; a cap that counts."""

from __future__ import annotations

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_, Wall
from bedcalc.tables import table
from bedcalc.walls.detail_checks import corner_screw, rod_capacity
from bedcalc.walls.fasteners import pin_en
from tests.validation.printed import printed

DEMO = bc.demo_garden()


def checks(bed, **change):
    outcome = bc.evaluate(bed.change(**change), DEMO.place)
    return {c.name: c for c in outcome.checks if c.chapter == "walls"}, outcome


def test_details_are_marked_and_bring_mend_and_source():
    found, _ = checks(DEMO["B"])
    details = {n for n, c in found.items() if c.detail}

    assert details == {"trodden", "sitting", "corner", "height", "foot moves"}
    assert not found["bow"].detail
    for name in ("trodden", "sitting"):
        assert found[name].fix.change == {"ties": 1}
        assert found[name].source


def test_somebody_on_the_fill_by_hand():
    """Bed B, K 0.5: 1.35 x 475.2 + 1.5 x 0.5 x 2.4 x 0.72/2 N/m, over kmod 0.7/0.5.

    475.2 is K gamma H2/6, 432.0 is K q H/2; soaked 1.35 x 648.0.
    """
    found, _ = checks(DEMO["B"])
    ratio = (1.35 * 475.2 + 1.5 * 432.0) / (1.35 * 648.0) / 1.4

    got = found["trodden"].utilisation / found["rail"].utilisation
    assert got == pytest.approx(ratio, rel=1e-9)


def test_somebody_on_the_rim_by_hand():
    """Bed B untied: leaning 0.2 kN/m, or 1 kN sideways where people climb.

    1.35 w L2/8 + 1.5 (q L2/8 or P L/4) on rail and cap, capacity kmod 0.7.
    EI shares 45^3 x 70 : 90^3 x 22; the cap governs: S 29 700 mm3, k_h 1.108.
    """
    span, w = 2.655, 475.2
    share = 22 * 90**3 / (22 * 90**3 + 70 * 45**3)
    strength = 24e6 * 0.7 / 1.3 * (150 / 90) ** 0.2
    for climbed, people in ((False, 200 * span**2 / 8), (True, 1000 * span / 4)):
        found, _ = checks(DEMO["B"], climbed=climbed)
        moment = share * (1.35 * w * span**2 / 8 + 1.5 * people)
        use = moment / (22 * 90**2 / 6 * 1e-9) / strength

        assert found["sitting"].utilisation == pytest.approx(use, rel=1e-6)
        assert not found["sitting"].ok
        assert ("climbs" in found["sitting"].says) == climbed


def test_who_sits_presses_down_between_two_posts():
    """Bed B with four ties: 1.5 x 1 kN x 0.885 m / 4 on 45 x 70 upright, kmod 0.7."""
    found, o = checks(DEMO["B"], ties=8)
    gap = o.walls.post_gap.m_as("m")
    strength = 24e6 * 0.7 / 1.3 * (150 / 70) ** 0.2
    use = 1.5 * 1000 * gap / 4 / (45 * 70**2 / 6 * 1e-9) / strength

    assert found["sitting"].utilisation == pytest.approx(use, rel=1e-6)


def test_corner_screws_by_hand():
    """Own derivation: 5 x 70 through 33 mm 0.42 kN, 6 x 100 through 45 mm 0.60 kN."""
    assert corner_screw("larch", 0.033).each == printed("0.42", "kN", steps=1)
    assert corner_screw("larch", 0.045).each == printed("0.60", "kN", steps=1)
    assert corner_screw("larch", 0.033).row.key == "5x70"
    assert corner_screw("larch", 0.045).row.key == "6x100"
    assert corner_screw("recycled_plastic", 0.030) is None


def test_american_screw_is_the_one_of_the_reference():
    """Own derivation: #10 x 3 in southern pine, long and wet: 80 lb."""
    screw = corner_screw("southern_pine", 0.0381)

    assert screw.row.key == "no10x3"
    assert screw.each == printed("80", "lbf", steps=7)  # Rd by D or Dr: 73 to 80


def test_a_tie_relieves_the_corners():
    """0.375 w L/2 instead of w L/2: by 62 % (Own derivation)."""
    free, _ = checks(DEMO["B"])
    tied, _ = checks(DEMO["B"], ties=1)

    ratio = tied["corner"].demand / free["corner"].demand
    assert float(ratio) == pytest.approx(0.375)


def test_rod_holds_far_more_than_the_wood_under_its_plate():
    """M10 4.6: 0.9 x 400 x 57.99 / 1.25 = 16.7 kN; plate 6.9 kN (own derivation)."""
    tied, _ = checks(DEMO["B"], ties=1)

    assert rod_capacity("en", "m10") == printed("16.7", "kN")
    assert tied["tie"].capacity.m_as("kN") == pytest.approx(6.94, abs=0.005)
    assert tied["tie"].utilisation > 2 * tied["rod"].utilisation


def test_water_is_mended_by_a_drain_and_not_by_timber():
    closed, outcome = checks(DEMO["B"], ties=1, base_ties=1, open_base=False)
    wet = closed["waterlogged"]

    assert not wet.ok and not wet.detail
    assert wet.fix.change == {"open_base": True}
    assert wet.fix.works
    assert "waterlogged" not in checks(DEMO["B"])[0]
    more, _ = checks(DEMO["B"], ties=3, base_ties=1, open_base=False)
    assert more["waterlogged"].utilisation == pytest.approx(wet.utilisation)


def test_stacked_walls_are_told_not_to_be_trodden_in():
    """Moist 11 with 2.4 kPa at K 0.5, solid block 19.62 kN/m3, 150 mm, 0.6 m."""
    found, _ = checks(DEMO["E"])
    weight, h = 19.62e3 * 0.15 * 0.6, 0.6
    moment = 0.5 * 11e3 * h**3 / 6 + 0.5 * 2400 * h**2 / 2
    total = 0.5 * 11e3 * h**2 / 2 + 0.5 * 2400 * h
    safe = min(weight * 0.075 / moment, 0.45 * weight / total)

    assert found["treading"].capacity.m == pytest.approx(safe, rel=1e-6)


def test_tall_walls_ask_for_an_engineer():
    tall, _ = checks(DEMO["B"], height=Q_(100, "cm"))

    assert not tall["height"].ok
    assert tall["height"].fix.change["height"] == Q_(900, "mm")


def test_a_long_cap_counts_on_boards():
    """Bed A: four boards of 33 x 140 lean with z2; the cap sits at the rim.

    S2 of boards: 0.42 H2-weighted sum 0.4116 m2 x I; cap 22 x 90^3 at z = 0.56.
    """
    _, plain = checks(DEMO["A"])
    _, capped = checks(DEMO["A"], cap_counts=True)
    boards = 140 * 33**3 * sum(z**2 for z in (0.07, 0.21, 0.35, 0.49))
    cap = 22 * 90**3 * 0.56**2

    ratio = float(plain.walls.bow_once / capped.walls.bow_once)
    assert ratio == pytest.approx((boards + cap) / boards, rel=1e-9)


@pytest.mark.parametrize("key", ["sheet", "boards", "boards_us", "sleepers", "trough"])
def test_details_broadcast(key):
    base = DEMO["B"].change(wall=Wall.named(key), open_base=False)
    lengths, ties = np.array([1.4, 2.7, 4.1]), np.array([0, 1, 3])
    swept = bc.evaluate(base.change(length=Q_(lengths, "m"), ties=ties), DEMO.place)
    for i in range(3):
        one = bc.evaluate(
            base.change(length=Q_(float(lengths[i]), "m"), ties=int(ties[i])),
            DEMO.place,
        )
        for check in one.checks:
            other = swept.check(check.name)
            got = np.broadcast_to(other.utilisation, 3)[i]
            assert got == pytest.approx(check.utilisation, rel=1e-9), check.name


def test_band_of_doubt_lies_round_the_bow():
    _, outcome = checks(DEMO["B"])
    walls = outcome.walls

    assert walls.bow_light < walls.bow_years < walls.bow_heavy


def test_the_pin_of_a_lapped_corner_of_sleepers():
    """EN 1995-1-1 8.2.2 mode f by hand, 12 mm 4.6 pin in D24 across the grain.

    f = 0.082 x 0.88 x 485 / 1.08 = 32.41 MPa, M = 0.3 x 400 x 12^2.6 = 76 750 N mm:
    1.15 sqrt(2 x 76 750 x 32.41 x 12) = 8885 N; x 0.5 / 1.3 = 3.417 kN. Bed F: course
    two carries 0.3 x 80 / (0.1^2 + 0.3^2) = 240 N/m; 1.35 x 240 x 2.9 / 2 = 0.470 kN.
    """
    found, _ = checks(DEMO["F"])
    corner = found["corner"]

    assert pin_en(Q_(12, "mm"), Q_(400, "MPa"), Q_(200, "mm"), Q_(485, "kg/m^3")).m_as(
        "kN"
    ) == printed("8.885", steps=1)
    assert corner.capacity.m_as("kN") == printed("3.417")
    assert corner.demand.m_as("kN") == printed("0.470")
    assert "pin" in corner.sentence() and corner.ok


def test_no_value_no_verdict_for_screws_in_plastic():
    """Own derivation give none: the answer on corners says so instead."""
    found, _ = checks(DEMO["C"])

    assert "corner" not in found
    assert "plastic" in table("wall_answers")["D9"].answer
