"""A longer bed never costs less, or the bill says why."""

from __future__ import annotations

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.app.cost import bill_view
from bedcalc.app.kit.view import desk
from bedcalc.questions.cut_changes import longer_for_less
from tests.properties.any_beds import random_bed

DEMO = bc.demo_garden()


def evaluated(bed):
    return bc.evaluate(bed, DEMO.place)


@pytest.mark.parametrize("metres", [6.3, 9.45])
def test_where_longer_costs_less_the_boards_that_change_are_named(metres):
    before = evaluated(DEMO["A"].change(length=Q_(metres, "m")))
    longer = longer_for_less(before)
    after = evaluated(before.bed.change(length=longer.length))

    assert longer.length > before.bed.length
    assert longer.saves.m == pytest.approx(before.cost.total.m - after.cost.total.m)
    assert any("larch board" in line.name for line in longer.instead)
    assert any("larch board" in line.name for line in longer.bought)


def test_the_bill_of_workbook_05_says_it(monkeypatch, tmp_path):
    monkeypatch.chdir(tmp_path)
    bed = DEMO["A"].change(length=Q_(6.3, "m"))
    bc.save(DEMO.change(beds=(bed,), current="A"), "my_garden.toml")
    said = bill_view(desk()).says.html

    assert "would cost" in said and "instead of" in said


def test_no_bed_of_the_demo_gets_cheaper_by_growing():
    assert [bed.name for bed in DEMO if longer_for_less(evaluated(bed))] == []


def test_a_longer_bed_costs_less_only_where_it_is_said():
    """300 random beds, each made up to 15 % longer."""
    cheaper = 0
    for number in range(300):
        rng = np.random.default_rng([3, number])
        try:
            bed = random_bed(rng)
            longer = bed.change(length=bed.length * rng.uniform(1.01, 1.14))
            before, after = evaluated(bed), evaluated(longer)
        except ValueError:  # refused at the door
            continue
        if after.cost.total.m < before.cost.total.m - 0.005:
            cheaper += 1
            assert longer_for_less(before) is not None, number
    assert cheaper < 10
