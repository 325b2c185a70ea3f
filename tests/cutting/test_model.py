"""Pieces, stock, saw, boards and plans: what they refuse and what they say."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from bedcalc import Q_
from bedcalc.cutting import (
    Board,
    Coins,
    CutError,
    Piece,
    Plan,
    Saw,
    Stock,
    Tenths,
    first_fit,
    least_cost,
    tenths,
)
from tests.cutting.lists import BOARD, DEMO, SAW, pieces


def test_tenths_of_a_millimetre():
    assert tenths(2.7) == 27000
    assert tenths(0.0032) == 32
    assert tenths(0.3 * 3) == 9000  # 0.8999999999999999 m
    assert tenths(24 * 0.0254) == 6096


@pytest.mark.parametrize("metres", [-0.1, float("nan"), float("inf")])
def test_tenths_refuse_nonsense(metres):
    with pytest.raises(CutError, match="needs metres"):
        tenths(metres)


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: Piece(label="x", length=2.7, count=1), "length needs a length with"),
        (lambda: Piece(label="x", length=600, count=1), "given 600 without one"),
        (lambda: Piece(label="x", length=Q_(0, "mm"), count=1), "given 0 mm"),
        (lambda: Piece(label="x", length=Q_(5, "kg"), count=1), "given 5 kilogram"),
        (lambda: Piece(label="x", length=Q_(9e999, "mm"), count=1), "given inf"),
        (lambda: Piece(label="x", length=Tenths(5), count=-1), "count needs"),
        (lambda: Piece(label="x", length=True, count=1), "given True"),
        (lambda: Stock(key="s", length=Tenths(5), price=1.5), "price needs"),
        (
            lambda: Stock(key="s", length=Tenths(5), price=Q_(-1, "money")),
            "price needs",
        ),
        (
            lambda: Stock(key="s", length=Tenths(5), price=Coins(1), limit=-1),
            "limit needs",
        ),
        (
            lambda: Stock(key="s", length=Tenths(5), price=Coins(1), trim=Tenths(-1)),
            "trim needs",
        ),
        (
            lambda: Stock(key="s", length=Tenths(5), price=Coins(1), owned=True),
            "cost nothing",
        ),
        (lambda: Saw(kerf=Q_(-1, "mm")), "kerf needs"),
    ],
)
def test_wrong_entries_teach(make, words):
    with pytest.raises(CutError, match=words):
        make()


def test_lengths_and_prices_are_given_with_their_units():
    wanted = [Piece(label="x", length=Q_(90, "cm"), count=np.int64(3))]
    long = Stock(key="3 m", length=Q_(3, "m"), price=Q_(11.40, "money"))
    plan = first_fit(wanted, [long], Saw(kerf=Q_(1, "inch") / 8, trim=Q_(2, "cm")))

    assert plan.check().price == Q_(11.40, "money")
    assert wanted[0].length == tenths(0.9)
    assert plan.saw == Saw(kerf=Tenths(32), trim=Tenths(200))


def test_a_piece_longer_than_all_stock_is_named():
    with pytest.raises(CutError) as caught:
        first_fit(pieces((4790, 1)), BOARD, SAW)

    for word in ("'p4790'", "4790 mm", "'4.8 m'", "4780 mm", "over a post", "2395"):
        assert word in str(caught.value)


def test_no_stock_and_double_keys_teach():
    with pytest.raises(CutError, match="at least one length"):
        first_fit(pieces((600, 1)), (), SAW)
    with pytest.raises(CutError, match="'2.4 m' stands there twice"):
        first_fit(pieces((600, 1)), (BOARD[0], BOARD[0]), SAW)


@pytest.mark.parametrize("solve", [first_fit, least_cost])
def test_nothing_to_cut_costs_nothing(solve):
    plan = solve(pieces((600, 0)), BOARD, SAW).check()

    assert (plan.cost, plan.boards, plan.proven) == (0, (), True)
    assert plan.waste_share == 0


def plan_of(*boards: Board, wanted, cost: int) -> Plan:
    return Plan(
        pieces=wanted,
        stocks=BOARD,
        saw=SAW,
        boards=boards,
        cost=cost,
        bound=0,
        method="by hand",
    )


def test_check_finds_what_is_wrong():
    wanted = pieces((1200, 2))
    one = Board(stock=BOARD[0], pieces=(("p1200", 12000),))
    both = Board(stock=BOARD[0], pieces=(("p1200", 12000),) * 2)
    bent = replace(BOARD[0], straight=False)

    assert plan_of(one, one, wanted=wanted, cost=1780).check()
    for plan, words in (
        (plan_of(one, wanted=wanted, cost=890), "missing"),
        (plan_of(one, one, one, wanted=wanted, cost=2670), "too many"),
        (plan_of(both, wanted=wanted, cost=890), "do not fit"),
        (plan_of(one, one, wanted=wanted, cost=890), "costs 1780"),
        (plan_of(replace(one, stock=bent), one, wanted=wanted, cost=1780), "list"),
    ):
        with pytest.raises(CutError, match=words):
            plan.check()


def test_check_counts_limits_and_straight_stock():
    wanted = pieces((1200, 2), straight=True)
    one = Board(stock=replace(BOARD[0], limit=1), pieces=(("p1200", 12000),))
    plan = replace(
        plan_of(one, one, wanted=wanted, cost=1780), stocks=(one.stock, *BOARD[1:])
    )
    with pytest.raises(CutError, match="there are 1"):
        plan.check()

    bent = replace(one.stock, straight=False, limit=2)
    board = replace(one, stock=bent)
    plan = replace(plan, stocks=(bent, *BOARD[1:]), boards=(board, board))
    with pytest.raises(CutError, match="straight"):
        plan.check()


def test_verdicts_in_words():
    plan = first_fit(*DEMO["post 70x70"][0])

    assert replace(plan, bound=plan.cost).verdict() == "proven cheapest"
    assert replace(plan, cost=10030, bound=10000).verdict() == (
        "at most 0.3% above the cheapest possible"
    )
    assert replace(plan, bound=0).verdict() == "good, not proven"


def test_sawdust_leftovers_and_pieces_add_up_to_the_board():
    for question, _, _ in DEMO.values():
        plan = first_fit(*question)
        for board in plan.boards:
            trim = board.stock.trimmed(plan.saw)
            whole = board.used + board.sawdust(plan.saw) + board.offcut(plan.saw) + trim
            assert whole == board.stock.length


def test_last_cut_may_leave_nothing():
    """Two pieces fill the board but for 1 mm: the blade eats it, nothing is left."""
    stock = Stock(key="s", length=Tenths(2042), price=Coins(1))
    board = Board(stock=stock, pieces=(("a", 1000), ("a", 1000)))

    assert board.marks(Saw(kerf=Tenths(32))) == (("a", 0, 1000), ("a", 1032, 2032))
    assert board.leftover(Saw(kerf=Tenths(32))) == 10
    assert board.offcut(Saw(kerf=Tenths(32))) == 0
    assert board.sawdust(Saw(kerf=Tenths(32))) == 42
