"""What a price list lacks is said; nothing is silently free."""

from __future__ import annotations

import bedcalc as bc

GARDEN = bc.demo_garden()


def test_the_demo_garden_can_be_bought_whole():
    for bed in GARDEN:
        assert bc.evaluate(bed, GARDEN.place).cost.missing == ()


def test_blocks_that_a_list_does_not_have_are_not_free():
    cost = bc.evaluate(GARDEN["E"], GARDEN.place.change(prices="demo_us")).cost
    assert cost.missing == ("the price list has no concrete block",)


def test_neither_are_screws_nor_mix():
    for goods, name in (
        ("mix", "garden mix"), ("mesh", "wire mesh"), ("truck", "delivery of fill"),
    ):  # fmt: skip
        cost = bc.evaluate(GARDEN["E"], _without(goods)).cost
        assert cost.missing == (f"the price list has no {name}",)
        assert [line.goods for line in cost.unpriced] == [goods]
        assert cost.unpriced[0].quantity > 0 and cost.priced


def _without(*goods):
    """The demo place with a list of which some goods were taken out."""
    prices = GARDEN.place.prices
    rows = [row for row in prices.rows if row.goods not in goods]
    return GARDEN.place.change(prices=prices.with_rows(rows, name="thin list"))
