"""What a price list lacks is said; nothing is silently free."""

from __future__ import annotations

import bedcalc as bc
from bedcalc.shopping import priced
from bedcalc.tables import table

GARDEN = bc.demo_garden()


def test_the_demo_garden_can_be_bought_whole():
    for bed in GARDEN:
        assert bc.evaluate(bed, GARDEN.place).cost.missing == ()


def test_blocks_that_a_list_does_not_have_are_not_free():
    cost = bc.evaluate(GARDEN["E"], GARDEN.place.change(prices="demo_us")).cost
    assert cost.missing == ("the price list has no block_400x200x150",)


def test_neither_are_screws_nor_mix():
    for goods in ("mix", "mesh"):
        rows = [row for row in table("prices_demo") if row.goods != goods]
        cost = bc.evaluate(GARDEN["E"], priced(GARDEN.place, rows)).cost
        assert cost.missing == (f"the price list has no {goods}",)
