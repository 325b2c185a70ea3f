"""Laws that hold for any list, and small lists against complete enumeration."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from bedcalc.cutting import (
    Coins,
    Piece,
    Saw,
    Stock,
    Tenths,
    first_fit,
    least_cost,
    lower_bound,
)
from bedcalc.cutting.pattern_diagram import Diagram
from bedcalc.cutting.problem import compact

LONG = 60.0


@st.composite
def questions(draw, most: int = 12):
    """Any small list that fits its stock."""
    lengths = draw(
        st.lists(st.integers(200, 1800), min_size=1, max_size=4, unique=True)
    )
    wanted = [
        Piece(
            label=f"p{n}",
            length=Tenths(n),
            count=draw(st.integers(1, most // len(lengths))),
            straight=draw(st.booleans()),
        )
        for n in lengths
    ]
    sizes = draw(st.lists(st.integers(1000, 4000), min_size=1, max_size=3, unique=True))
    stocks = [
        Stock(
            key=str(size),
            length=Tenths(size),
            price=Coins(draw(st.integers(1, 40)) * 5),
            straight=draw(st.booleans()),
        )
        for size in sizes
    ]
    stocks.append(
        Stock(
            key="long", length=Tenths(4100), price=Coins(draw(st.integers(20, 60)) * 5)
        )
    )
    return (
        wanted,
        stocks,
        Saw(kerf=Tenths(draw(st.sampled_from([0, 3, 32]))), trim=Tenths(100)),
    )


def cheapest(question) -> int:
    """Complete enumeration: all ways to put up to seven pieces on boards."""
    wanted, stocks, saw = question
    singles = [(p.length, p.straight) for p in wanted for _ in range(p.count)]

    def price(group) -> int:
        length = sum(n for n, _ in group) + (len(group) - 1) * saw.kerf
        straight = any(s for _, s in group)
        fits = [
            stock.price
            for stock in stocks
            if stock.length - saw.trim >= length and (stock.straight or not straight)
        ]
        return min(fits, default=10**9)

    def spread(at: int, groups) -> int:
        if at == len(singles):
            return sum(price(group) for group in groups)
        piece, best = singles[at], 10**9
        for i, group in enumerate(groups):
            best = min(
                best, spread(at + 1, [*groups[:i], [*group, piece], *groups[i + 1 :]])
            )
        return min(best, spread(at + 1, [*groups, [piece]]))

    return spread(0, [])


@given(questions(most=7))
@settings(max_examples=60)
def test_small_lists_cost_what_enumeration_finds(question):
    plan = least_cost(*question, seconds=LONG).check()

    assert plan.proven
    assert plan.cost == cheapest(question)


@given(questions())
def test_bound_least_and_hand_plan_are_in_order(question):
    by_hand = first_fit(*question).check()
    plan = least_cost(*question, seconds=LONG).check()

    assert lower_bound(*question) <= plan.bound <= plan.cost <= by_hand.cost
    assert 0 <= plan.waste_share < 1
    assert plan.gap == 0


@given(questions(), st.integers(1, 60))
def test_a_wider_kerf_never_needs_fewer_boards(question, more):
    wanted, _, saw = question
    one = [Stock(key="raw", length=Tenths(4300), price=Coins(1))]

    thin = least_cost(wanted, one, saw, seconds=LONG)
    wide = least_cost(
        wanted, one, replace(saw, kerf=Tenths(saw.kerf + more)), seconds=LONG
    )

    assert wide.cost >= thin.cost


@given(questions())
def test_one_plan_for_all_is_never_dearer(question):
    wanted, stocks, saw = question
    apart = sum(least_cost([p], stocks, saw, seconds=LONG).cost for p in wanted)

    assert least_cost(wanted, stocks, saw, seconds=LONG).cost <= apart


@given(questions())
def test_inches_or_millimetres_the_plan_is_the_same(question):
    """All lengths times 25.4, in tenths so that they stay whole."""
    wanted, stocks, saw = question
    scaled = (
        [replace(p, length=Tenths(p.length * 254)) for p in wanted],
        [replace(s, length=Tenths(s.length * 254)) for s in stocks],
        Saw(kerf=Tenths(saw.kerf * 254), trim=Tenths(saw.trim * 254)),
    )

    for solve in (first_fit, least_cost):
        plan, other = solve(*question), solve(*scaled).check()
        assert other.cost == plan.cost
        assert other.shopping == plan.shopping
        assert other.waste_share == plan.waste_share


@given(questions(), st.randoms(use_true_random=False))
def test_the_order_of_the_lists_does_not_matter(question, draw):
    wanted, stocks, saw = question
    shuffled = draw.sample(wanted, len(wanted)), draw.sample(stocks, len(stocks))

    for solve in (first_fit, least_cost):
        assert solve(*shuffled, saw).check().cost == solve(*question).cost


@given(questions(), st.integers(200, 1800))
def test_an_offcut_for_nothing_is_never_dearer(question, length):
    wanted, stocks, saw = question
    free = Stock(key="free", length=Tenths(length), price=Coins(0), limit=1, owned=True)

    with_it = least_cost(wanted, [*stocks, free], saw, seconds=LONG).check()

    assert with_it.proven
    assert with_it.cost <= least_cost(wanted, stocks, saw, seconds=LONG).cost


@given(questions())
def test_the_diagram_lists_just_the_patterns_that_fit(question):
    problem = compact(*question)
    diagram = Diagram(problem)
    none = [0] * len(problem.needs)

    sorts, rows = diagram.above(
        _array(none), _array([0] * len(problem.rooms)), 100_000, full=False
    )

    found = {(int(j), tuple(row.tolist())) for j, row in zip(sorts, rows, strict=True)}
    assert len(found) == len(rows)
    assert found == set(_patterns(problem))


def _array(values):
    import numpy as np

    return np.array(values, dtype=np.int64)


def _patterns(problem):
    """All patterns by plain loops."""
    from itertools import product

    counts = [range(n + 1) for n in problem.counts]
    for j, room in enumerate(problem.rooms):
        for row in product(*counts):
            load = sum(n * need for n, need in zip(row, problem.needs, strict=True))
            if load <= room and not any(row[: problem.starts[j]]):
                yield j, row
