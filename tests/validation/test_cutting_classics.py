"""Classic cutting-stock instances with known optima.

The bin-packing sets of the literature with restricted terms are not shipped; seeded
triplets with an optimum known by construction stand in for them.
"""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace

import numpy as np
import pytest

from bedcalc.cutting import Coins, Piece, Saw, Stock, Tenths, first_fit, least_cost
from bedcalc.cutting.column_generation import relax
from bedcalc.cutting.pattern_diagram import Diagram
from bedcalc.cutting.problem import compact
from tests.validation.kinds import outside

CHAPTER = "cutting"
OTHERS = "own derivation"

LONG = 60.0  # seconds allowed; these take less than one

PAPER = {
    1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20,
    2000: 10, 2050: 12, 2100: 14, 2140: 16, 2150: 18, 2200: 20,
}  # fmt: skip


def asked(raw: int, widths: dict[int, int]):
    """One kind of raw at price 1, no kerf: the cost counts the raws."""
    wanted = [Piece(label=str(w), length=Tenths(w), count=n) for w, n in widths.items()]
    return (
        wanted,
        [Stock(key="raw", length=Tenths(raw), price=Coins(1))],
        Saw(kerf=Tenths(0)),
    )


def relaxed(question):
    problem = compact(*question)
    return relax(problem, Diagram(problem))


@outside("from memory", "least_cost", "chvatal_1983")
@pytest.mark.parametrize(
    ("raw", "widths", "raws", "bound"),
    [
        # Chvatal, Linear Programming (1983), chapter 13; optimum from memory
        (100, {45: 97, 36: 610, 31: 395, 14: 211}, 453, 452.25),
        # the paper machine, widely reproduced; data from memory, recomputed
        (5600, PAPER, 73, 72.92),
        # Fourer, Gay and Kernighan, AMPL, chapter 15; from memory, recomputed
        (110, {20: 48, 45: 35, 50: 24, 55: 10, 75: 8}, 47, 46.25),
        # 17 ft lumber in lecture notes on column generation; optimum recomputed
        (17, {3: 25, 5: 20, 9: 15}, 19, 18.333),
        # Fieldhouse 1990: rounding up the unbounded relaxation is not enough
        (132, {44: 2, 33: 3, 12: 6}, 3, 2.0909),
    ],
)
def test_known_optimum(raw, widths, raws, bound):
    question = asked(raw, widths)

    plan = least_cost(*question, seconds=LONG).check()

    assert (plan.cost, plan.proven) == (raws, True)
    assert float(relaxed(question).value) == pytest.approx(bound, abs=0.005)


@outside("from memory", "relax", "fieldhouse_1990", facts=1)
def test_fieldhouse_with_patterns_that_ignore_the_numbers():
    """Unbounded patterns give 1.9621 (from memory, recomputed).

    A thousandfold demand lets every pattern be used, and a thousandth of its bound is
    the relaxation over unbounded patterns.
    """
    question = asked(132, {44: 2000, 33: 3000, 12: 6000})

    assert float(relaxed(question).value) / 1000 == pytest.approx(1.9621, abs=5e-5)


@outside("from memory", "Diagram", "paper_machine", facts=2)
def test_paper_machine_patterns_and_waste():
    """308 patterns, full or not, and 0.401 % waste (widely printed, recomputed)."""
    question = asked(5600, PAPER)
    problem = compact(*question)

    none = np.zeros(len(PAPER), dtype=np.int64)
    _, patterns = Diagram(problem).above(none, none[:1], 10_000, full=False)
    plan = least_cost(*question, seconds=LONG)

    assert patterns.any(axis=1).sum() == 308  # one more is the empty board
    assert 100 * plan.waste_share == pytest.approx(0.401, abs=0.001)


@pytest.mark.parametrize(
    ("seed", "number", "by_hand"), [(7, 8, 10), (7, 12, 14), (11, 12, 14)]
)
def test_triplets(seed, number, by_hand):
    """Three items fill each bin of 1000 without waste: optimum by construction."""
    draw = random.Random(seed)
    items: list[int] = []
    for _ in range(number):
        a = draw.randint(380, 490)
        b = draw.randint(250, (1000 - a) // 2)
        items += [a, b, 1000 - a - b]
    question = asked(1000, Counter(items))

    assert first_fit(*question).check().cost == by_hand
    plan = least_cost(*question, seconds=LONG).check()
    assert (plan.cost, plan.proven) == (number, True)


def test_many_nearly_equal_short_items():
    """100 items of 150 to 200 in bins of 1000, the shape that beats most methods.

    Computed by hand: 5 or 6 items fit a bin, so at least 100 / 6 bins are needed; the
    plan must meet its own proven bound.
    """
    draw = random.Random(0)
    question = asked(1000, Counter(draw.randint(150, 200) for _ in range(100)))

    plan = least_cost(*question, seconds=LONG).check()

    assert plan.proven
    assert 17 <= plan.cost < first_fit(*question).cost


def test_bound_holds_whatever_the_worths():
    """The proof in whole numbers stays below the optimum if it is cut short."""
    question = asked(5600, PAPER)

    class Over:
        over = True

    problem = compact(*question)
    early = relax(problem, Diagram(problem), Over())

    assert 0 < early.value <= 73
    assert early.bound <= 73
    assert replace(early, bound=0).bound == 0
