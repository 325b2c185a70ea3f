"""A longer bed, or one more tie, never costs less; or the bill says why."""

from __future__ import annotations

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.app.cost import bill_view
from bedcalc.app.kit.view import desk
from bedcalc.questions.cut_changes import longer_for_less, tie_for_less
from tests.properties.any_beds import random_bed

DEMO = bc.demo_garden()


def evaluated(bed):
    return bc.evaluate(bed, DEMO.place)


def ours(without: str = "", **change) -> bc.Garden:
    """A bed of own oak boards in francs; the mill sells 2 m for 30 and 4 m for 42.

    The list has no deliveries: these people fetch things themselves.
    """
    words = [
        {"goods": goods, "name": goods, "group": group, "sold_by": sold, "price": price}
        | ({"length": length} if length else {})
        for goods, group, sold, price, length in (
            ("oak", "timber", "piece", 30, 2.0), ("oak", "timber", "piece", 42, 4.0),
            ("oak_post", "timber", "piece", 25, 3.0),
            ("cap_90x22", "timber", "piece", 6, 3.0),
            ("rod_m10", "metal", "piece", 9, 2.0), ("nut", "metal", "piece", 0.3, 0),
            ("plate", "metal", "piece", 1.2, 0),
            ("screw_5x70", "metal", "piece", 0.2, 0),
            ("mesh", "metal", "m", 4, 0), ("yard_mix", "soil", "m³", 62, 0),
        )
        if goods != without
    ]  # fmt: skip
    mill = {"name": "mill", "currency": {"code": "CHF"}, "rows": words}
    mix = bc.FillMaterial(
        key="yard_mix", name="mix of the yard",
        unit_weight_moist=Q_(13, "kN/m^3"), settle=Q_(12, "percent"),
    )  # fmt: skip
    wall = bc.Wall.named("boards")
    bed = bc.Bed(
        name="Ours", length=Q_(3, "m"), width=Q_(1, "m"), height=Q_(60, "cm"),
        wall=wall.own("oak", "oak", goods="oak", post_goods="oak_post"),
        fill=(bc.Layer(material=mix),),
    )  # fmt: skip
    garden = bc.Garden.empty("Ours", prices=bc.PriceList.from_words(mill, "mill"))
    return garden.change(beds=(bed.change(**change),), current="Ours")


def bill(garden, monkeypatch, folder) -> str:
    """What the bill of workbook 05 says of the garden's bed."""
    monkeypatch.chdir(folder)
    bc.save(garden, "my_garden.toml")
    said = bill_view(desk()).says.html.replace("\xa0", " ")
    return said.replace("<strong>", "").replace("</strong>", "")


@pytest.mark.parametrize("metres", [6.3, 9.45])
def test_where_longer_costs_less_the_boards_that_change_are_named(metres):
    before = evaluated(DEMO["A"].change(length=Q_(metres, "m")))
    longer = longer_for_less(before)
    after = evaluated(longer.bed)

    assert longer.bed.length > before.bed.length
    assert longer.saves.m == pytest.approx(before.cost.total.m - after.cost.total.m)
    assert any("larch board" in line.name for line in longer.instead)
    assert any("larch board" in line.name for line in longer.bought)


def test_the_bill_of_workbook_05_says_it(monkeypatch, tmp_path):
    bed = DEMO["A"].change(length=Q_(6.3, "m"))
    said = bill(DEMO.change(beds=(bed,), current="A"), monkeypatch, tmp_path)

    assert "would cost" in said and "instead of" in said


def test_no_bed_of_the_demo_gets_cheaper_by_growing():
    assert [bed.name for bed in DEMO if longer_for_less(evaluated(bed))] == []


def test_a_longer_own_bed_in_francs(monkeypatch, tmp_path):
    """4.26 m needs one board of 4 m less for 42, and one cap less for 6."""
    said = bill(ours(length=Q_(4.1, "m")), monkeypatch, tmp_path)

    assert "A bed of 4.26 m would cost CHF 44 less" in said
    assert (
        "buy 15 × oak, 4.00 m, 4 × cap_90x22, 3.00 m instead of 16 × oak, 4.00 m, "
        in said
    )


def test_one_more_tie_of_an_own_bed_needs_a_post_less(monkeypatch, tmp_path):
    """3.0 m with one tie: 4 bays of 75 cm. With two ties 3 bays of 1 m do: 8 posts.

    Four posts of 60 cm come out of 3 m (the saw eats the fifth): 2 pieces instead of 3,
    25 less. 22 screws fewer, 4.40 less. A rod 9, four nuts 1.20, two plates 2.40 more.
    """
    garden = ours(ties=1)
    tied = tie_for_less(bc.evaluate(garden["Ours"], garden.place))
    said = bill(garden, monkeypatch, tmp_path)

    assert tied.saves.m == pytest.approx(16.8)
    assert "One more tie would cost CHF 17 less, 8 posts instead of 10" in said
    assert (
        "buy 2 × oak_post, 3.00 m" in said and "instead of 3 × oak_post, 3.00 m" in said
    )


@pytest.mark.parametrize("goods", ["rod_m10", "plate", "nut"])
def test_without_the_price_of_a_tie_no_tie_is_said_to_cost_less(goods):
    garden = ours(goods, ties=1)
    assert tie_for_less(bc.evaluate(garden["Ours"], garden.place)) is None


def test_without_the_price_of_the_fill_no_longer_bed_is_said_to_cost_less():
    garden = ours("yard_mix", length=Q_(4.1, "m"))
    assert longer_for_less(bc.evaluate(garden["Ours"], garden.place)) is None


def random_pairs(seed: int, change):
    """Random beds, and the same with more to it, evaluated."""
    for number in range(300):
        rng = np.random.default_rng([seed, number])
        try:
            bed = random_bed(rng)
            yield number, evaluated(bed), evaluated(bed.change(**change(bed, rng)))
        except ValueError:  # refused at the door
            continue


def test_a_longer_bed_costs_less_only_where_it_is_said():
    """300 random beds, each made up to 15 % longer."""
    cheaper = 0
    pairs = random_pairs(
        3, lambda bed, rng: {"length": bed.length * rng.uniform(1.01, 1.14)}
    )
    for number, before, after in pairs:
        if after.cost.total.m < before.cost.total.m - 0.005:
            cheaper += 1
            assert longer_for_less(before) is not None, number
    assert cheaper < 10


def test_one_more_tie_costs_less_only_where_fewer_posts_or_boards_say_why():
    """300 random beds. Rods, nuts, plates become more; what becomes less is named."""
    cheaper = 0
    for number, before, after in random_pairs(9, lambda bed, _: {"ties": bed.ties + 1}):
        if after.cost.total.m >= before.cost.total.m - 0.005:
            continue
        tied = tie_for_less(before)
        if tied is None:  # a price is missing, and the bill says which
            assert before.cost.missing, number
            continue
        cheaper += 1
        fewer = sum(line.amount for line in tied.instead)
        fewer -= sum(line.amount for line in tied.bought)
        assert fewer > tied.saves.m, number
        assert {line.part for line in tied.instead} <= {"walls", "fixings"}, number
        assert after.walls.si.bays != before.walls.si.bays, number
    assert cheaper >= 1  # else the law was not asked
