"""Bad boards, offcuts, the car, handy plans, nudges, sweet spots, sawdust."""

from __future__ import annotations

import numpy as np
import pytest

from bedcalc import Q_
from bedcalc.cutting import (
    Coins,
    CutError,
    Saw,
    Stock,
    Tenths,
    fewest_setups,
    fit_in_car,
    least_cost,
    longest_leftover,
    nudges,
    offcuts,
    saw_loss,
    split_at_defect,
    sweet_spots,
)
from bedcalc.cutting.pattern_diagram import Diagram
from bedcalc.cutting.problem import compact
from tests.cutting.lists import BOARD, DEMO, SAW, pieces

LONG = 60.0


def test_a_bad_place_makes_two_short_boards():
    """3.0 m, 60 mm cut out around 1.0 m: 970 and 1970 mm, half the trim for each."""
    before, after = split_at_defect(BOARD[1], Q_(1, "m"), Q_(60, "mm"), SAW)

    assert (before.length, after.length) == (9700, 19700)
    assert (before.trim, after.trim) == (100, 100)
    assert (before.price, before.limit, before.owned) == (0, 1, True)
    assert before.key != after.key


def test_a_bad_end_leaves_one_board():
    (only,) = split_at_defect(BOARD[1], Q_(3, "m"), Q_(0, "mm"), SAW)

    assert only.length == 30000
    with pytest.raises(CutError, match="between 0 and 3000 mm"):
        split_at_defect(BOARD[1], Q_(3000.1, "mm"), Q_(0, "mm"), SAW)


def test_no_piece_lies_across_the_bad_place():
    """Two pieces of 1.4 m come from a sound 3.0 m board, none from one bad at 1.5 m."""
    parts = split_at_defect(BOARD[1], Q_(1.5, "m"), Q_(240, "mm"), SAW)

    plan = least_cost(pieces((1400, 2)), (*BOARD, *parts), SAW, seconds=LONG).check()

    assert plan.cost == 1140
    assert plan.shopping == {"3.0 m": 1}
    plan = least_cost(pieces((1300, 2)), (*BOARD, *parts), SAW, seconds=LONG).check()
    assert plan.cost == 0


def test_what_the_car_takes():
    assert [s.key for s in fit_in_car(BOARD, Q_(3.1, "m"))] == ["2.4 m", "3.0 m"]
    owned = Stock(key="here", length=Tenths(60000), price=Coins(0), limit=1, owned=True)
    assert owned in fit_in_car((*BOARD, owned), Q_(3.1, "m"))
    with pytest.raises(CutError, match="car: takes 2 m.*2.4 m"):
        fit_in_car(BOARD, Q_(2, "m"))


def test_offcuts_are_stock_for_the_next_bed():
    plan = least_cost(*DEMO["plank"][0], seconds=LONG)

    kept = offcuts(plan)

    # by hand: 3000 - 1800 - 840 - 3.2, less one more cut
    assert [(s.length, s.limit, s.price) for s in kept] == [(3536, 6, 0)]
    assert offcuts(plan, least=Q_(353.7, "mm")) == ()
    again = least_cost(
        pieces((350, 6)), kept, Saw(kerf=Tenths(32)), seconds=LONG
    ).check()
    assert again.cost == 0


@pytest.mark.parametrize("name", DEMO)
def test_handier_plans_cost_the_same(name):
    question, least, _ = DEMO[name]
    plan = least_cost(*question, seconds=LONG)

    few = fewest_setups(plan, seconds=LONG).check()
    long = longest_leftover(plan, seconds=LONG).check()

    assert few.cost == long.cost == least
    assert len(few.setups) <= min(len(plan.setups), len(long.setups))
    assert max(long.leftovers) >= max(*plan.leftovers, *few.leftovers, 0)
    assert few.method.endswith("fewest set-ups, proven")
    assert long.method.endswith("longest leftover, proven")


def test_no_plan_with_fewer_setups_exists():
    """All pairs of patterns are tried for the cap: no two make the list at 64.50."""
    question = DEMO["cap 90x22"][0]
    problem = compact(*question)
    zeros = np.zeros(len(problem.needs), dtype=np.int64)
    sorts, rows = Diagram(problem).above(
        zeros, np.zeros(len(problem.rooms), dtype=np.int64), 10_000, full=False
    )
    wanted, prices = np.array(problem.counts), np.array(problem.prices)[sorts]

    pairs = 0
    for first in range(1, wanted.max() + 1):
        rest = wanted - first * rows  # one line per first pattern
        for second in range(wanted.max() + 1):
            same = (rest[:, None, :] == second * rows[None, :, :]).all(axis=2)
            cost = first * prices[:, None] + second * prices[None, :]
            pairs += int((same & (cost == 6450)).sum())
    few = fewest_setups(least_cost(*question, seconds=LONG), seconds=LONG)

    assert pairs == 0
    assert len(few.setups) == 3


def test_twenty_millimetres_less():
    plan = least_cost(*DEMO["board 140x33"][0], seconds=LONG)

    found = nudges(plan, seconds=LONG)

    assert [n.length for n in found][0] == 21000
    assert all(n.proven and n.change == -200 for n in found)
    assert [n.saves for n in found] == sorted((n.saves for n in found), reverse=True)
    # the saving is real: plan the changed list again
    changed = pieces((2700, 8), (984, 8), (2080, 4), (534, 4))
    again = least_cost(changed, BOARD, SAW, seconds=LONG)
    assert plan.cost - again.cost == found[0].saves > 0


def test_nothing_to_plan_has_no_second_goal():
    plan = least_cost(pieces((600, 0)), BOARD, SAW)

    assert fewest_setups(plan) == longest_leftover(plan) == plan
    assert nudges(plan) == ()


def test_sweet_spots_jump_where_one_more_comes_out():
    """By hand, 2.4 m at 8.90, trim 20, kerf 3.2: halves end at 1188.4 mm."""
    spots = sweet_spots(Q_([1188.4, 1188.5, 2380.1], "mm"), BOARD[:1], SAW)

    assert spots.pieces.tolist()[:2] == [2, 1]
    assert spots.per_piece.tolist() == [445, 890, np.inf]
    assert spots.per_metre[0] == pytest.approx(445 / 1.1884)
    assert spots.stock.tolist() == [0, 0, -1]
    with pytest.raises(CutError, match="0.1 mm or more; given 0 m"):
        sweet_spots(Q_(0.0, "mm"), BOARD, SAW)


def test_what_the_saw_eats():
    """Four times 600 mm from 2.4 m boards, no trim: the kerf costs a whole board."""
    plan = least_cost(pieces((600, 4)), BOARD[:1], Saw(kerf=Tenths(32)), seconds=LONG)

    loss = saw_loss(plan, seconds=LONG)

    # by hand: three pieces and a cut after each, then one piece and its cut
    assert (loss.length, loss.cost, loss.proven) == (4 * 32, 890, True)
