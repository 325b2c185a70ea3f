"""The whole garden cut together: to the coin, labels once, offcuts, bad boards."""

from __future__ import annotations

from collections import Counter
from time import perf_counter

import numpy as np
import pytest

from bedcalc import Q_, demo_garden
from bedcalc.cutting import COIN, least_cost
from bedcalc.questions.cut_changes import length_sweep, sawdust, spots, what_less_saves
from bedcalc.questions.cut_garden import BadBoard, Owned, cut_garden
from tests.cutting.lists import BOARD, SAW, pieces

GARDEN = demo_garden()

#: demo garden, cut lists: least cost and first fit, proven by all patterns and a solver
PROVEN = {
    "larch_140x33": (165.00, 168.50), "post_70x70": (73.40, 78.40),
    "cap_90x22": (61.40, 61.70), "frame_70x45": (58.80, 59.10),
    "sheet_0.76": (105.00, 105.00), "plank_125x30": (123.00, 123.00),
    "sleeper_200x100": (222.00, 222.00), "post_60x60": (9.80, 9.80),
}  # fmt: skip


@pytest.fixture(scope="module")
def whole():
    return cut_garden(GARDEN, seconds=30)


def test_costs_are_the_proven_ones_to_the_coin(whole):
    got = {c.goods: (c.plan.cost / COIN, c.hand.cost / COIN) for c in whole}

    assert got == PROVEN
    assert whole.proven and whole.verdict() == "proven cheapest" and whole.gap == 0
    assert whole.cost.m == pytest.approx(818.40)  # sum of the column
    assert whole.bound == whole.cost


def test_each_piece_stands_on_one_board(whole):
    for cut in whole:
        cut.plan.check()
        names = [label for b in cut.plan.boards for label, _ in b.pieces]
        assert Counter(names) == Counter(n for p in cut.parts for n in p.names())
        assert len(names) == len(set(names))


def test_pooling_beds_is_never_dearer_and_saves_here(whole):
    """Computed by hand from single plans: the garden saves 13.60."""
    alone = sum(cut_garden([bed], GARDEN.place, seconds=30).cost.m for bed in GARDEN)

    assert alone - whole.cost.m == pytest.approx(13.60)


def test_asking_again_is_quick():
    cut_garden(GARDEN, seconds=30)
    start = perf_counter()
    cut_garden(GARDEN, seconds=30)

    assert perf_counter() - start < 0.5


def test_fewest_set_ups_cost_the_same_and_are_no_more(whole):
    found = cut_garden(GARDEN, seconds=30, prefer="as found")

    for cut in whole:
        assert cut.plan.cost == found[cut.goods].plan.cost
        assert len(cut.plan.setups) <= len(found[cut.goods].plan.setups)


def test_unknown_wish_is_refused():
    with pytest.raises(ValueError, match="fewest set-ups"):
        cut_garden(GARDEN, prefer="prettiest")


def test_owned_boards_save_and_a_bad_board_costs_no_less_than_a_good_one():
    beds, place = [GARDEN["A"]], GARDEN.place
    goods, key = "larch_140x33", "larch_140x33-3.0"
    plain = cut_garden(beds, place, seconds=30)[goods].plan.cost
    own = Owned(goods=goods, length=3.0, count=1)
    good = cut_garden(beds, place, owned=[own], seconds=30)[goods].plan.cost
    bad = BadBoard(goods=goods, stock=key, at=1.4)
    split = cut_garden(beds, place, bad=[bad], seconds=30)[goods].plan.cost

    assert good <= split <= plain
    assert good < plain


def test_what_the_merchant_has_is_a_limit():
    key = "larch_140x33-3.0"
    few = cut_garden([GARDEN["A"]], GARDEN.place, limits={key: 2}, seconds=30)

    assert few["larch_140x33"].plan.shopping.get(key, 0) <= 2


def test_small_car_leaves_long_boards():
    place = GARDEN.place.change(longest_carried=Q_(3, "m"))
    cut = cut_garden(GARDEN, place, seconds=30)

    assert all(b.stock.length <= 30_000 for c in cut for b in c.plan.boards)


def test_ties_are_cut_too():
    """Own derivation: one 2 m rod gives one tie of 1092 mm."""
    cut = cut_garden([GARDEN["B"].change(ties=2)], GARDEN.place)

    assert cut["rod_m10"].plan.shopping == {"rod_m10-2": 2}


def test_counted_beds_have_names_of_their_own():
    cut = cut_garden([GARDEN["C"].change(count=2)], GARDEN.place)

    names = [n for p in cut.parts for n in p.names()]
    assert "C.2-post-6" in names and len(names) == len(set(names))


def test_no_board_of_that_kind_is_said():
    bed = GARDEN["A"].change(goods="ebony")
    cut = cut_garden([bed], GARDEN.place)

    assert not cut.proven and "ebony" in cut.verdict()


def test_cancel_leaves_the_hand_rule():
    cut = cut_garden([GARDEN["D"]], GARDEN.place, cancel=lambda: True)

    assert all(c.plan.method.startswith("first fit") for c in cut)


def test_progress_counts_the_sections():
    told = []
    cut_garden(GARDEN, progress=lambda name, done, of: told.append((done, of)))

    assert told[-1] == (8, 8) and [d for d, _ in told] == list(range(9))


def test_twenty_millimetres_less_of_one_length(whole):
    """The list with 2080 for 2100 mm, asked by itself, costs so much less."""
    best = what_less_saves(whole["larch_140x33"])[0]

    shorter = pieces((2700, 8), (984, 8), (2080, 4), (534, 4))
    less = least_cost(shorter, BOARD, SAW, seconds=30)
    assert best.length == 21_000 and best.saves == COIN * (16_500 - less.cost) / 100 > 0
    assert best.proven and less.proven


def test_the_saw_eats_length(whole):
    """By hand: posts are 22 pieces, at most one cut each of 3.2 mm."""
    lost = sawdust(whole["post_70x70"])

    assert lost.length <= 22 * 32 and lost.cost == 0


def test_a_piece_just_too_long_for_half_a_board_costs_a_whole_one():
    """By hand: (3000 - 20 + 3.2) / 2 - 3.2 = 1488.4 is two from 3.0 m."""
    just, over = spots("larch_140x33", GARDEN.place, [1.4884, 1.4885]).money

    assert just == 11.40 / 2
    assert over > just


def test_a_longer_bed_never_costs_less():
    cost, per_area = length_sweep(GARDEN["A"], GARDEN.place, [2.4, 2.7, 2.8])

    assert np.all(np.isfinite(cost)) and np.all(np.diff(cost) >= 0)
    assert per_area[2] < per_area[1]  # same boards, more to plant
