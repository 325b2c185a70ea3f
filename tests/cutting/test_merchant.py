"""What the merchant has and the car takes, in place of the price list."""

from __future__ import annotations

import pytest

from bedcalc import Q_, demo_garden
from bedcalc.questions.cut_garden import (
    CutError,
    Sold,
    cut_garden,
    sections,
    sold_by_list,
)

GARDEN = demo_garden()
POST = "post_70x70"


def test_the_list_itself_changes_nothing():
    """Demo garden: posts 73.40, proven."""
    same = cut_garden(GARDEN, sold={POST: sold_by_list(POST, GARDEN.place)})
    assert same[POST].cost.m == pytest.approx(73.40)


def test_another_price_and_few_boards():
    """By hand: 15.04 m of posts out of boards that hold 3.58 m: four are too few."""
    only = [Sold(length=3.6, price=10.0)]
    cut = cut_garden(GARDEN, sold={POST: only})[POST]
    assert cut.plan.proven and len(cut.plan.boards) == 5
    assert sum(p.length for p in cut.plan.pieces) == 150_400
    assert cut.cost.m == pytest.approx(50.0)

    few = cut_garden(GARDEN, sold={POST: [Sold(length=3.6, price=10.0, count=4)]})
    assert not few.proven and "post 70 × 70" in few.missing[0]


def test_boards_that_lie_there_cost_nothing():
    free = [*sold_by_list(POST, GARDEN.place), Sold(length=2.4, price=0, count=2)]
    cut = cut_garden(GARDEN, sold={POST: free})[POST]
    assert sum(b.stock.owned for b in cut.plan.boards) == 2
    # two boards of 2.4 m less to buy, 11.20 each on the demo list
    assert cut.cost.m <= 73.40 - 2 * 11.20 + 1e-9


def test_the_car_decides_what_is_bought():
    small = GARDEN.place.change(longest_carried=Q_(2.5, "m"))
    cut = cut_garden(GARDEN, small)
    assert max(b.stock.length for c in cut for b in c.plan.boards) <= 25_000
    assert {s.part.label for s in cut.splices} >= {"A side", "B rail side"}
    tiny = GARDEN.place.change(longest_carried=Q_(1.5, "m"))
    assert "have it delivered" in cut_garden(GARDEN, tiny).missing[0]


def test_no_length_at_all_is_said():
    assert "add a length" in cut_garden(GARDEN, sold={POST: []}).missing[0]


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        ({"length": 0.1, "price": 5}, "length: needs 0.3 to 13 m; given 0.1 m"),
        ({"length": 3, "price": -1}, "price: needs 0 or more"),
        ({"length": 3, "price": 5, "count": 2.5}, "how many: needs a whole number"),
        ({"length": 3, "price": 0}, "how many: needs a number where the price is 0"),
    ],
)
def test_entries_that_cannot_be_are_refused(entry, words):
    with pytest.raises(CutError, match=words):
        Sold(**entry)


def test_sections_of_the_demo_garden():
    names = sections(GARDEN, GARDEN.place)
    assert len(names) == 8 and names[POST] == "post 70 × 70"
