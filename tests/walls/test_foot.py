"""The foot of the wall: by frames and by hand, soaked, and how far it moves."""

from __future__ import annotations

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_, Bed, Wall
from bedcalc.tables import table
from bedcalc.walls.load_cases import mean_pressure, pushes

PLACE = bc.demo_garden().place
BOX = Bed(
    name="box", length=Q_(1.2, "m"), width=Q_(1.2, "m"), height=Q_(0.7, "m"),
    wall=Wall.named("boards").own(
        "spruce_38", "spruce 38", wood="spruce", thickness=Q_(38, "mm")
    ),
)  # fmt: skip


def outcome(bed=BOX, **change):
    return bc.evaluate(bed.change(**change), PLACE)


def test_stacked_boards_need_less_hold_than_two_rails_do():
    """Five boards of one size: S1/S2 of heights 1, 3, 5, 7, 9 is 25/165 half boards.

    Two rails need P - M/H; stiff posts over five boards P - M (25/165)/0.07.
    """
    o = outcome()
    push = o.walls.cases["soaked"].si
    by_hand = push.total - push.moment * 25 / 165 / 0.07

    got = o.check("foot").demand.m_as("N/m")
    assert got == pytest.approx(by_hand)
    assert got < 0.8 * push.base_load


def test_a_framed_sheet_needs_what_two_rails_need():
    garden = bc.demo_garden()
    o = bc.evaluate(garden["B"], garden.place)
    push = o.walls.cases["soaked"].si

    assert o.check("foot").demand.m_as("N/m") == pytest.approx(
        push.total - push.moment / o.bed.si.soil_depth
    )


def test_a_short_box_of_stout_boards_holds_its_foot():
    """1.2 x 1.2 x 0.7 m of 38 mm spruce stands: common practice, no source."""
    o = outcome()

    assert o.check("foot").ok
    assert o.check("foot moves").level.key == "straight"


@pytest.mark.parametrize("ties", [0, 1, 2])
def test_the_foot_is_judged_soaked(ties):
    """A board wall that holds its foot holds it after long rain as well."""
    for length in np.linspace(1.2, 3.6, 9):
        o = outcome(length=Q_(float(length), "m"), base_ties=ties)
        moist, soaked = (o.walls.cases[n].si for n in ("moist", "soaked"))
        check = o.check("foot")
        lever = 25 / 165 / 0.07

        assert check.demand.m_as("N/m") == pytest.approx(
            soaked.total - soaked.moment * lever
        )
        assert check.demand.m_as("N/m") > moist.total - moist.moment * lever


def test_friction_and_toe_by_hand():
    """Mu (W + P tan 15 deg) + Kp gamma d2/2, over 1.5: what the ground alone holds."""
    o = outcome(base_ties=8, length=Q_(1.2, "m"))
    s, push = PLACE.ground, o.walls.cases["soaked"].si
    weight = 0.7 * 0.038 * table("woods")["spruce"].density * 9.80665
    ground = s.friction * (weight + push.total * np.tan(np.pi / 12))
    ground += s.kp * s.unit_weight * 0.05**2 / 2

    left = o.check("foot").demand.m_as("N/m") - ground / 1.5
    bay = (1.2 - 0.038) / 9
    tie = o.check("base tie").demand.m_as("N")
    # inner ties of nine spans feel at most 1.134 w s (continuous beam tables)
    assert tie == pytest.approx(1.35 * left * bay * 1.134, rel=2e-3)


def test_more_ties_at_the_foot_hold_more_and_move_less():
    found = [outcome(length=Q_(3.6, "m"), base_ties=n) for n in range(5)]
    holds = [o.check("foot").capacity.m_as("N/m") for o in found]
    moves = [o.check("foot moves").demand.m_as("mm") for o in found]

    assert holds == sorted(holds) and moves == sorted(moves, reverse=True)
    assert moves[-1] >= 0.02 * 50  # the ground gives first: 2 % of what is let in


def test_a_foot_that_moves_past_the_sums_says_no_number():
    o = outcome(length=Q_(4.8, "m"))
    foot, moves = o.check("foot"), o.check("foot moves")

    assert not foot.ok and moves.beyond
    assert "sums end" in moves.sentence()
    after = bc.evaluate(o.bed.change(**foot.fix.change), PLACE)
    assert after.check("foot").ok


def test_mean_push_over_the_lowest_board_by_hand():
    """One fill: the mean over the face is the push at half its height over the base."""
    push = pushes(BOX)["moist"].si
    depth = BOX.si.fill_depth

    assert mean_pressure(push, 0.14) == pytest.approx(
        push.base_pressure * (depth - 0.07) / depth
    )


def test_mean_push_over_a_board_that_reaches_into_a_second_layer():
    layers = (bc.Layer(material="logs", depth=Q_(10, "cm")), bc.Layer(material="mix"))
    push = pushes(BOX.change(fill=layers))["moist"].si
    low, high, top = push.pressure[3], push.pressure[2], push.pressure[1]
    over = top * (1 - 0.04 / (BOX.si.fill_depth - 0.10))
    by_hand = ((low + high) / 2 * 0.10 + (top + over) / 2 * 0.04) / 0.14

    assert mean_pressure(push, 0.14) == pytest.approx(by_hand)


def test_between_posts_the_wet_season_counts():
    """Creep on the moist push, and the wet season on top, as for the whole wall."""
    o = outcome(length=Q_(2.4, "m"), post_spacing=Q_(1.2, "m"))
    moist, soaked = (
        mean_pressure(o.walls.cases[n].si, 0.14) for n in ("moist", "soaked")
    )
    span = o.walls.post_gap.m_as("m")
    stiff = table("timber_en")["C16"].E_mean * 0.14 * 0.038**3 / 12
    bow = (3 * moist + soaked - moist) * 0.14 * span**4 / stiff * 0.00542  # two spans

    assert o.check("between posts").demand.m_as("m") == pytest.approx(bow, rel=2e-3)
