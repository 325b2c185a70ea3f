"""The proven plan: budget, going on, cancelling, remembering, limits, owned boards."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bedcalc.cutting import (
    Coins,
    CutError,
    Piece,
    Saw,
    Stock,
    Tenths,
    content_key,
    first_fit,
    least_cost,
)
from tests.cutting.lists import BOARD, DEMO, SAW, bed_list, pieces

LONG = 60.0


def fresh(kerf: int):
    """The demo's boards with a kerf of its own, so that nothing is remembered."""
    (wanted, stock, saw), _, _ = DEMO["board 140x33"]
    return wanted, stock, replace(saw, kerf=Tenths(kerf))


def test_without_time_the_hand_plan_comes_back():
    question = fresh(21)

    plan = least_cost(*question, seconds=0).check()

    assert plan.cost == first_fit(*question).cost
    assert not plan.proven
    assert plan.gap > 0


def test_thinking_longer_goes_on():
    question = fresh(22)
    first = least_cost(*question, seconds=0)

    plan = least_cost(*question, seconds=LONG, start=first).check()

    assert plan.proven
    assert first.bound <= plan.bound == plan.cost < first.cost


def test_what_is_proven_is_remembered_whatever_the_labels():
    question = fresh(23)
    plan = least_cost(*question, seconds=LONG)
    renamed = tuple(replace(p, label=p.label + "'") for p in question[0])

    again = least_cost(renamed, *question[1:], seconds=0).check()

    assert (again.cost, again.proven) == (plan.cost, True)


def test_progress_only_gets_better():
    seen = []

    plan = least_cost(*fresh(24), seconds=LONG, progress=lambda *now: seen.append(now))

    costs, bounds, seconds = zip(*seen, strict=True)
    assert list(costs) == sorted(costs, reverse=True)
    assert list(bounds) == sorted(bounds)
    assert list(seconds) == sorted(seconds)
    assert (costs[-1], bounds[-1]) == (plan.cost, plan.bound)


def test_cancel_returns_the_best_so_far():
    question = fresh(25)

    plan = least_cost(*question, seconds=LONG, cancel=lambda: True).check()

    assert plan.cost == first_fit(*question).cost
    assert plan.seconds < LONG


def test_a_cancel_that_is_never_used_changes_nothing():
    plan = least_cost(*fresh(26), seconds=LONG, cancel=lambda: False).check()

    assert plan.proven


def test_a_cancel_in_the_middle_of_a_program_is_heard():
    """While the integer program runs in its thread, the cancel is asked again."""
    from time import sleep

    from bedcalc.cutting.deadline import Deadline

    asked = []

    def cancel():
        asked.append(None)
        return len(asked) > 1

    assert Deadline(LONG, cancel).run(sleep, 0.5) is None
    assert Deadline(LONG, lambda: False).run(lambda: 7) == 7
    with pytest.raises(ZeroDivisionError):
        Deadline(LONG, lambda: False).run(lambda: 1 / 0)


def test_start_must_be_for_the_same_question():
    other = first_fit(*DEMO["post 70x70"][0])

    with pytest.raises(CutError, match="same pieces, stock and saw"):
        least_cost(*fresh(27), start=other)


def test_scarce_stock_is_used_where_it_pays():
    """Nine pieces of 1.7 m, computed by hand.

    A 3.6 m board holds two at 8.50 each, a 1.8 m board one at 9.00: four long boards
    and one short one are 77.00; five long boards would be 85.00.
    """
    stock = (
        Stock(key="1.8 m", length=Tenths(18000), price=Coins(900), limit=3),
        Stock(key="3.6 m", length=Tenths(36000), price=Coins(1700)),
    )

    plan = least_cost(pieces((1700, 9)), stock, SAW, seconds=LONG).check()

    assert (plan.cost, plan.proven) == (7700, True)
    assert plan.shopping == {"1.8 m": 1, "3.6 m": 4}


def test_limits_that_first_fit_cannot_meet():
    """Two boards of 10, pieces 5, 4, 4, 3, 2, 2: only 5+3+2 with 4+4+2 fits.

    First fit decreasing puts 5+4 and 4+3+2 and has a 2 left over.
    """
    stock = (Stock(key="s", length=Tenths(10), price=Coins(1), limit=2),)
    sizes = ((5, 1), (4, 2), (3, 1), (2, 2))
    wanted = [Piece(label=str(n), length=Tenths(n), count=c) for n, c in sizes]

    with pytest.raises(CutError, match="first fit finds no place"):
        first_fit(wanted, stock, Saw(kerf=Tenths(0)))
    plan = least_cost(wanted, stock, Saw(kerf=Tenths(0)), seconds=LONG).check()
    assert (plan.cost, plan.proven) == (2, True)


def test_impossible_limits_teach():
    stock = (Stock(key="s", length=Tenths(10), price=Coins(1), limit=1),)
    wanted = [Piece(label="a", length=Tenths(6), count=2)]

    with pytest.raises(CutError, match="limits"):
        least_cost(wanted, stock, Saw(kerf=Tenths(0)), seconds=LONG)


def test_free_stock_without_limit_costs_nothing():
    stock = (Stock(key="found", length=Tenths(24000), price=Coins(0)), *BOARD[1:])

    plan = least_cost(pieces((1000, 7), (2500, 1)), stock, SAW, seconds=LONG).check()

    assert (plan.cost, plan.proven) == (1140, True)


def test_straight_pieces_and_bent_boards():
    """By hand: 4 x 1.1 m straight from two good boards, 4 x 1.1 m from two bent."""
    bent = Stock(key="bent", length=Tenths(24000), price=Coins(300), straight=False)
    good = Stock(key="good", length=Tenths(24000), price=Coins(890))
    wanted = pieces((1100, 4), straight=True) + (
        Piece(label="brace", length=Tenths(11000), count=4),
    )

    plan = least_cost(wanted, (bent, good), SAW, seconds=LONG).check()

    assert (plan.cost, plan.proven) == (2 * 890 + 2 * 300, True)


def test_twenty_millimetres_less_is_proven_too():
    """A list on which an integer program once failed: 534 mm shortened to 514 mm."""
    wanted = pieces((2700, 8), (984, 8), (2100, 4), (514, 4))

    plan = least_cost(wanted, BOARD, SAW, seconds=LONG).check()

    assert (plan.cost, plan.proven) == (16500, True)


def test_content_key():
    question = DEMO["cap 90x22"][0]

    assert content_key(*question) == content_key(*question)
    assert content_key(*question) != content_key(
        *question[:2], Saw(kerf=Tenths(31), trim=Tenths(200))
    )
    assert len(content_key(*question)) == 16


def test_a_long_list_stays_within_its_budget():
    """Its gap is known and small; a slow machine may leave it open."""
    plan = least_cost(*bed_list(5, 150, 14), seconds=1.0).check()

    assert plan.gap < 0.01
