"""The hand rule: owned boards, limits, straight pieces, and the cheap bound."""

from __future__ import annotations

import pytest

from bedcalc.cutting import (
    Coins,
    CutError,
    Piece,
    Saw,
    Stock,
    Tenths,
    first_fit,
    lower_bound,
)
from tests.cutting.lists import BOARD, SAW, pieces


def test_owned_boards_come_first():
    free = Stock(
        key="offcut", length=Tenths(12000), price=Coins(0), limit=2, owned=True
    )

    plan = first_fit(pieces((1100, 2)), (*BOARD, free), SAW).check()

    assert (plan.cost, plan.shopping) == (0, {"offcut": 2})


def test_limits_are_kept():
    """Six pieces of 2.3 m, two 2.4 m boards: the rest from 3.0 m."""
    few = Stock(key="2.4 m", length=Tenths(24000), price=Coins(890), limit=2)

    plan = first_fit(pieces((2300, 6)), (few, BOARD[1]), SAW).check()

    assert plan.shopping == {"2.4 m": 2, "3.0 m": 4}
    assert plan.cost == 2 * 890 + 4 * 1140


def test_too_few_boards_teach():
    few = Stock(key="2.4 m", length=Tenths(24000), price=Coins(890), limit=2)

    with pytest.raises(CutError, match="'2.4 m': 2.*raise a limit"):
        first_fit(pieces((2300, 3)), (few,), SAW)


def test_straight_pieces_avoid_bent_stock():
    bent = Stock(key="bent", length=Tenths(24000), price=Coins(100), straight=False)
    good = Stock(key="good", length=Tenths(24000), price=Coins(890))
    wanted = pieces((1000, 2), straight=True) + (
        Piece(label="brace", length=Tenths(10000), count=2),
    )

    plan = first_fit(wanted, (bent, good), SAW).check()

    assert plan.shopping == {"bent": 1, "good": 1}
    with pytest.raises(CutError, match="longer than any straight board"):
        first_fit(pieces((1000, 2), straight=True), (bent,), SAW)


def test_bound_counts_pieces_over_half_a_board():
    """Five pieces of 2.5 m: no board of at most 4.8 m holds two; 5 x 11.40 by hand."""
    assert lower_bound(pieces((2500, 5)), BOARD, SAW) == 5 * 1140
    assert first_fit(pieces((2500, 5)), BOARD, SAW).proven


def test_bound_by_length():
    """10 x 1 m without kerf from 2.38 m each: 4.2 boards, so five at 8.90."""
    saw = Saw(kerf=Tenths(0), trim=Tenths(200))

    assert lower_bound(pieces((1000, 10)), BOARD[:1], saw) == 5 * 890


def test_boards_come_out_in_cutting_order():
    plan = first_fit(pieces((534, 4), (984, 8), (2100, 4)), BOARD, SAW)

    for board in plan.boards:
        lengths = [length for _, length in board.pieces]
        assert lengths == sorted(lengths, reverse=True)
