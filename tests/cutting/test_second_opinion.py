"""A constraint solver as second opinion: which board holds how many of each piece."""

from __future__ import annotations

import pytest

from bedcalc.cutting import first_fit, least_cost
from tests.cutting.lists import DEMO, bed_list

cp_model = pytest.importorskip("ortools.sat.python.cp_model")


def assigned(question, seconds: float = 20.0) -> tuple[int, int]:
    """Cost and bound of the assignment model."""
    wanted, stocks, saw = question
    model = cp_model.CpModel()
    # as many boards as the hand plan's money could buy, so that none is ruled out
    boards = first_fit(*question).cost // min(stock.price for stock in stocks)
    rooms = [stock.room(saw) for stock in stocks]
    prices = [stock.price for stock in stocks]
    taken = [
        [model.new_bool_var(f"take {b} {j}") for j in range(len(stocks))]
        for b in range(boards)
    ]
    cuts = [
        [
            model.new_int_var(0, piece.count, f"cut {b} {piece.label}")
            for piece in wanted
        ]
        for b in range(boards)
    ]
    costs = []
    for take, cut in zip(taken, cuts, strict=True):
        model.add_at_most_one(take)
        load = sum(n * (p.length + saw.kerf) for n, p in zip(cut, wanted, strict=True))
        model.add(load <= sum(r * t for r, t in zip(rooms, take, strict=True)))
        costs.append(sum(c * t for c, t in zip(prices, take, strict=True)))
    for i, piece in enumerate(wanted):
        model.add(sum(cut[i] for cut in cuts) == piece.count)
    for one, other in zip(costs, costs[1:], strict=False):
        model.add(one >= other)
    model.minimize(sum(costs))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 2
    solver.solve(model)
    return round(solver.objective_value), round(solver.best_objective_bound)


@pytest.mark.parametrize("name", ["sheet", "plank", "sleeper", "post 60x60"])
def test_demo_lists(name):
    question, least, _ = DEMO[name]

    assert assigned(question) == (least, least)


@pytest.mark.parametrize("seed", range(5))
def test_small_random_lists(seed):
    question = bed_list(seed, 9, 4)

    plan = least_cost(*question, seconds=60)
    cost, bound = assigned(question)

    assert plan.proven
    assert bound <= plan.cost <= cost
    # where the other solver proves its plan too, they agree
    if bound == cost:
        assert plan.cost == cost
