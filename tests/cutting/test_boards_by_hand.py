"""Boards, plans, splices and what changes a cost, against sums on paper.

Lengths are in tenths of a millimetre: a board of 3.0 m is 30000, a kerf of 3.2 mm 32.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from bedcalc import Q_, demo_garden
from bedcalc.cutting import (
    COIN,
    Board,
    Coins,
    CutError,
    Piece,
    Plan,
    Saw,
    Stock,
    Tenths,
    fit_in_car,
    least_cost,
    nudges,
    offcuts,
    saw_loss,
    sensitivity,
    split_at_defect,
    sweet_spots,
    tenths,
)
from bedcalc.cutting.model import as_coins, as_tenths, merged, whole_number
from bedcalc.cutting.stock import BadBoard, Owned, Sold, stocks_from

GARDEN = demo_garden()
SAW = Saw(kerf=Tenths(32), trim=Tenths(201))


def stock(length=30000, price=1000, key="b", **more):
    return Stock(key=key, length=Tenths(length), price=Coins(price), **more)


def board(*lengths, of=None):
    return Board(
        stock=of or stock(), pieces=tuple((f"p{n}", n) for n in lengths)
    )  # fmt: skip


def plan(*boards, cost, bound=0, wanted=None, stocks=None, saw=SAW):
    lengths = [n for b in boards for _, n in b.pieces]
    wanted = wanted or tuple(
        Piece(label=f"p{n}", length=Tenths(n), count=lengths.count(n))
        for n in dict.fromkeys(lengths)
    )
    return Plan(
        pieces=wanted, stocks=stocks or (stock(),), saw=saw, boards=boards, cost=cost,
        bound=bound, method="by hand",
    )  # fmt: skip


# -- a board --------------------------------------------------------------------


def test_marks_on_a_board():
    """3000 mm, 20.1 mm of trim: 10.0 at this end, 10.1 at the other; kerfs of 3.2.

    10.0 to 1010.0, 1013.2 to 2013.2; 986.8 left, less 3.2 and 10.1: 973.5 to keep.
    """
    one = board(10000, 10000)

    assert one.marks(SAW) == (("p10000", 100, 10100), ("p10000", 10132, 20132))
    assert (one.used, one.leftover(SAW), one.offcut(SAW)) == (20000, 9868, 9735)
    assert one.sawdust(SAW) == 64
    assert one.pattern == ("b", (10000, 10000))
    # what is used, sawn, kept and trimmed is the board
    assert one.used + one.sawdust(SAW) + one.offcut(SAW) + 201 == 30000
    # its own trim goes before the saw's
    own = board(10000, of=stock(trim=Tenths(40)))
    assert own.marks(SAW) == (("p10000", 20, 10020),)
    assert own.offcut(SAW) == 30000 - 20 - 10000 - 32 - 20
    assert (own.stock.room(SAW), own.stock.trimmed(SAW)) == (29992, 40)
    assert stock().room(SAW) == 30000 - 201 + 32


def test_a_board_that_is_used_up():
    """2979.9 mm sound: 2979.9 leave nothing, 2978.9 a millimetre for the blade."""
    assert board(29799).sawdust(SAW) == 0 and board(29799).offcut(SAW) == 0
    assert board(29789).sawdust(SAW) == 10 and board(29789).offcut(SAW) == 0
    assert board(29700).sawdust(SAW) == 32 and board(29700).offcut(SAW) == 67
    assert board(of=stock()).leftover(SAW) == 29900  # nothing cut from it yet
    assert board(of=stock()).sawdust(SAW) == 32


# -- a plan ---------------------------------------------------------------------


def test_numbers_of_a_plan():
    """Two boards of 3 m for 2 x 1 m and 1 x 2.5 m: 4.5 of 6 m; 2000 coins of 1/1000."""
    found = plan(board(10000, 10000), board(25000), cost=2000, bound=1600)

    assert (found.used, found.taken) == (45000, 60000)
    assert found.waste_share == pytest.approx(0.25)
    assert found.sawdust == 64 + 32
    assert found.leftovers == (9735, 30000 - 100 - 25000 - 32 - 101)
    assert found.shopping == {"b": 2}
    assert found.setups == {("b", (10000, 10000)): 1, ("b", (25000,)): 1}
    assert found.marks[1] == (("p25000", 100, 25100),)
    assert found.price.m_as("money") == 2000 / COIN
    assert (found.gap, found.proven) == (pytest.approx(0.25), False)
    assert found.verdict() == "at most 25.0% above the cheapest possible"
    assert found.check() is found


def test_what_is_known_of_the_cost():
    one = board(10000)
    known = plan(one, cost=1000, bound=1000)

    assert (known.proven, known.gap, known.verdict()) == (True, 0, "proven cheapest")
    none = plan(one, cost=1000, bound=0)
    assert (none.gap, none.verdict()) == (1, "good, not proven")


def test_shopping_follows_the_list():
    """Short ones stand first on the list, whatever is cut first; unused ones do not."""
    short, long_, other = stock(20000, 700, "s"), stock(), stock(40000, 1500, "o")
    found = plan(
        board(25000), board(15000, of=short), board(15000, of=short), cost=2400,
        stocks=(short, long_, other),
    )  # fmt: skip

    assert list(found.shopping.items()) == [("s", 2), ("b", 1)]
    assert found.setups == {("b", (25000,)): 1, ("s", (15000,)): 2}


def test_check_at_the_very_edge():
    """Two pieces, one kerf and the trim fill a board exactly; 0.1 mm more does not fit.

    As many as there are may be taken, not one more; a bound equal to the cost is fine.
    """
    half = (30000 - 201 - 32) // 2
    exact = plan(board(half, half), cost=1000, bound=1000)
    assert exact.check()
    with pytest.raises(CutError, match="do not fit"):
        plan(board(half, half + 2), cost=1000).check()
    two = stock(limit=2)
    boards = [board(20000, of=two)] * 3
    assert plan(*boards[:2], cost=2000, stocks=(two,)).check()
    with pytest.raises(CutError, match="3 of 'b', but there are 2"):
        plan(*boards, cost=3000, stocks=(two,)).check()
    with pytest.raises(CutError, match="bound 1001"):
        plan(board(10000), cost=1000, bound=1001).check()
    with pytest.raises(CutError, match="needs its own key"):
        plan(board(10000), cost=1000, stocks=(stock(), stock())).check()
    with pytest.raises(CutError, match="do not fit"):
        empty = Board(stock=stock(), pieces=())
        plan(board(10000), empty, cost=2000).check()


def test_straight_pieces_come_from_straight_boards():
    bent = stock(straight=False)
    wanted = (Piece(label="p10000", length=Tenths(10000), count=1, straight=True),)
    one = board(10000, of=bent)

    with pytest.raises(CutError, match="a straight piece from 'b'"):
        plan(one, cost=1000, wanted=wanted, stocks=(bent,)).check()
    any_ = (replace(wanted[0], straight=False),)
    assert plan(one, cost=1000, wanted=any_, stocks=(bent,)).check()


def test_equal_pieces_are_counted_together():
    """Longest first; straight before any of the same length; none not wanted."""
    rows = [(5000, 2, False), (9000, 1, False), (5000, 3, False), (5000, 1, True),
            (7000, 0, False)]  # fmt: skip
    found = merged(
        Piece(label=f"{i}", length=Tenths(n), count=c, straight=s)
        for i, (n, c, s) in enumerate(rows)
    )

    assert list(found.items()) == [
        ((9000, False), 1),
        ((5000, True), 1),
        ((5000, False), 5),
    ]


# -- entries --------------------------------------------------------------------


def test_the_least_that_is_allowed_is_allowed():
    """0.1 mm for a piece, 0 for kerf, trim, price and number; nothing below."""
    assert Piece(label="x", length=Q_(0.1, "mm"), count=0).length == 1
    assert Saw(kerf=Q_(0, "mm")) == Saw(kerf=Tenths(0), trim=Tenths(0))
    assert stock(price=0, limit=0).limit == 0
    assert tenths(0.0) == 0 and tenths(1.00004) == 10000 and tenths(1.00006) == 10001
    assert as_coins("x", "price", Q_(0.0014, "money")) == 1
    assert as_tenths("x", "length", Q_(1, "inch"), 0, "20") == 254
    whole_number("x", "count", 3, 3, "count=3")
    for wrong in (2, True, 3.0, "3", np.int64(2)):
        with pytest.raises(
            CutError, match="x: count needs a whole number of at least 3"
        ):
            whole_number("x", "count", wrong, 3, "count=3")
    with pytest.raises(CutError, match="of 0.5 mm or more; given 0.4 mm"):
        as_tenths("x", "length", Tenths(4), 5, "20")
    with pytest.raises(CutError, match="given price 0.005 and limit 3"):
        stock(price=5, owned=True, limit=3)


@pytest.mark.parametrize(
    ("entry", "fits"),
    [({"length": 0.3, "price": 1}, True), ({"length": 13, "price": 1}, True),
     ({"length": 13.01, "price": 1}, False), ({"length": 0.29, "price": 1}, False),
     ({"length": 3, "price": 1e9}, False),
     ({"length": 3, "price": 5, "count": 0}, True),
     ({"length": 3, "price": 5, "count": 10_000}, True),
     ({"length": 3, "price": 5, "count": 10_001}, False),
     ({"length": 3, "price": 5, "count": -1}, False),
     ({"length": 3, "price": 0, "count": 1}, True),
     ({"length": 3, "price": 0.01}, True)],
)  # fmt: skip
def test_what_a_merchant_can_have(entry, fits):
    if fits:
        assert Sold(**entry).length == entry["length"]
        return
    with pytest.raises(CutError, match="for example"):
        Sold(**entry)


def test_the_merchants_lengths_as_stock():
    """11.404 are 11404 coins; what costs 0 is one's own; numbers tell keys apart."""
    rows = (Sold(length=3.0, price=11.404), Sold(length=3.0, price=0, count=2),
            Sold(length=2.4, price=9, count=5))  # fmt: skip
    one, own, few = stocks_from("post", rows)

    assert (one.key, one.length, one.price, one.limit, one.owned) == (
        "post-3 (1)", 30000, 11404, None, False,
    )  # fmt: skip
    assert (own.key, own.price, own.limit, own.owned) == ("own 3 m (2)", 0, 2, True)
    assert (few.key, few.limit, few.owned) == ("post-2.4 (3)", 5, False)
    assert (
        Owned(goods="x", length=3.0).count == 1
        and Owned(goods="x", length=3.0).straight
    )
    assert BadBoard(goods="x", stock="b", at=1.0).width == 0.1


# -- the yard -------------------------------------------------------------------


def test_a_bad_place_in_odd_tenths():
    """3.0 m, 10.1 mm cut out at 1.0 m: 5.0 before, 5.1 behind; trim 10.0, 10.1."""
    before, after = split_at_defect(stock(), Q_(1, "m"), Q_(10.1, "mm"), SAW)

    assert (before.length, after.length) == (9950, 19949)
    assert (before.trim, after.trim) == (100, 101)
    assert before.length + after.length + 101 == 30000
    assert (before.key, after.key) == ("b before 1000", "b after 1000")
    assert all(p.owned and p.limit == 1 and p.straight for p in (before, after))
    assert split_at_defect(stock(), Q_(0, "m"), Q_(0, "mm"), SAW)[0].length == 30000
    with pytest.raises(CutError, match=r"0 and 3000 mm, given 3001 mm \(width 20 mm\)"):
        split_at_defect(stock(), Q_(3001, "mm"), Q_(20, "mm"), SAW)
    bent = split_at_defect(stock(), Q_(1, "m"), Q_(0, "mm"), SAW, straight=False)
    assert [p.straight for p in bent] == [False, False]


def test_the_car_takes_boards_as_long_as_itself():
    rows = stock(24000, key="a"), stock(30000)

    assert fit_in_car(rows, Q_(3, "m")) == rows
    assert [s.key for s in fit_in_car(rows, Q_(2999.9, "mm"))] == ["a"]
    assert fit_in_car((), Q_(1, "m")) == ()


def test_offcuts_worth_keeping():
    """300 mm are, 299.9 are not; equal ones are counted, straight ones apart."""
    bent = stock(key="c", straight=False)
    full = 30000 - 100 - 32 - 101
    cut = full - 3000
    found = offcuts(
        plan(board(cut), board(cut), board(cut + 1), board(cut - 1000),
             board(cut - 1000, of=bent), cost=5000, stocks=(stock(), bent))
    )  # fmt: skip

    assert [(s.key, s.length, s.limit, s.straight) for s in found] == [
        ("offcut 400", 4000, 1, True), ("offcut 400, not straight", 4000, 1, False),
        ("offcut 300", 3000, 2, True),
    ]  # fmt: skip
    assert all(s.owned and s.price == 0 and s.trim == 0 for s in found)


# -- what would change the cost -------------------------------------------------


def _shop():
    return stock(20000, 700, "s"), stock(30000, 1000, "b")


def test_sweet_spots_by_counting():
    """How many fit one after another with a kerf between, in a plain loop."""
    saw, shop = Saw(kerf=Tenths(32), trim=Tenths(200)), _shop()
    lengths = np.array([500.0, 640.0, 991.0, 1483.4, 1483.5, 1980.0, 2980.0, 2980.1])
    found = sweet_spots(Q_(lengths, "mm"), shop, saw)

    for i, mm in enumerate(lengths):
        piece, each = round(mm * 10), []
        for one in shop:
            n, used = 0, piece
            while used <= one.length - 200:
                n, used = n + 1, used + 32 + piece
            each.append((one.price / n if n else np.inf, n))
        best = min(range(2), key=lambda k: each[k][0])
        assert found.lengths[i] == piece
        assert found.per_piece[i] == pytest.approx(each[best][0])
        assert found.per_metre[i] == pytest.approx(each[best][0] / (mm / 1000))
        assert found.money[i] == pytest.approx(each[best][0] / 1000)
        if np.isfinite(each[best][0]):
            assert (found.stock[i], found.pieces[i]) == (best, each[best][1])
        else:
            assert found.stock[i] == -1 and found.pieces[i] == 0
    assert sweet_spots(Q_(0.1, "mm"), shop, saw).lengths.tolist() == [1]


def test_twenty_millimetres_less_by_hand():
    """Two of 990 mm need a board of 3 m (1980 + 3.2 > 1980); of 970 mm one of 2 m.

    Less of the 400 mm saves nothing; more can only cost. Money: 1.000 less 0.700.
    """
    saw = Saw(kerf=Tenths(32), trim=Tenths(200))
    wanted = (Piece(label="end", length=Tenths(9900), count=1),
              Piece(label="too", length=Tenths(9900), count=1),
              Piece(label="none", length=Tenths(5000), count=0))  # fmt: skip
    found = least_cost(wanted, _shop(), saw, seconds=60)
    seen = []
    (one,) = nudges(found, seconds=60, progress=lambda *at: seen.append(at))

    assert found.cost == 1000
    assert (one.labels, one.length, one.change) == (("end", "too"), 9900, -200)
    assert (one.saves, one.proven) == (300, True) and seen == [(1, 1)]
    (more,) = nudges(found, Q_(600, "mm"), seconds=60)
    # 1590 mm each: a board of 2 m for either
    assert (more.change, more.saves, more.proven) == (6000, 1000 - 1400, True)
    pair = least_cost(
        (*wanted[:1], Piece(label="x", length=Tenths(4000), count=1)), _shop(), saw,
        seconds=60,
    )  # fmt: skip
    assert [n.saves for n in nudges(pair, seconds=60)] == [0, 0]
    guess = replace(found, bound=0)
    assert not nudges(guess, seconds=60)[0].proven


def test_what_the_kerf_costs():
    """Three of 660 mm in 1980: without a kerf a board of 2 m for 0.700, else 1.000.

    A board of 3 m: two kerfs between and one behind, 9.6 mm of sawdust.
    """
    saw = Saw(kerf=Tenths(32), trim=Tenths(200))
    wanted = (Piece(label="x", length=Tenths(6600), count=3),)
    found = least_cost(wanted, _shop(), saw, seconds=60)
    loss = saw_loss(found, seconds=60)

    assert (loss.length, loss.cost, loss.proven) == (96, 300, True)
    assert not saw_loss(replace(found, bound=0), seconds=60).proven
    # where the length alone asks for that board the kerf costs nothing
    small = least_cost((Piece(label="x", length=Tenths(9000), count=3),), _shop(), saw)
    assert saw_loss(small, seconds=60).cost == 0


def test_what_is_not_proven_is_not_said_to_be(monkeypatch):
    """Where the plan of the changed list has no proof, the saving has none."""
    saw = Saw(kerf=Tenths(32), trim=Tenths(200))
    found = least_cost(
        (Piece(label="x", length=Tenths(6600), count=3),), _shop(), saw, seconds=60
    )
    plain = sensitivity.least_cost

    def unproven(*asked, **more):
        return replace(plain(*asked, **more), bound=1)

    assert nudges(found, seconds=60)[0].proven and saw_loss(found, seconds=60).proven
    monkeypatch.setattr(sensitivity, "least_cost", unproven)
    assert not nudges(found, seconds=60)[0].proven
    assert not saw_loss(found, seconds=60).proven
