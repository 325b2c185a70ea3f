"""Cutting: costs and bounds by other solvers over all patterns; printed sizes."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from ortools.linear_solver import pywraplp
from ortools.sat.python import cp_model
from scipy import optimize

from bedcalc import Q_
from bedcalc.cutting import least_cost, lower_bound
from bedcalc.cutting.column_generation import relax
from bedcalc.cutting.cut_list import piece_mass
from bedcalc.cutting.first_fit import first_fit
from bedcalc.cutting.pattern_diagram import Diagram
from bedcalc.cutting.problem import compact
from bedcalc.cutting.sensitivity import saw_loss, sweet_spots
from bedcalc.tables import table
from tests.cutting.lists import BOARD, DEMO, SAW, bed_list
from tests.validation.kinds import outside
from tests.validation.printed import printed

CHAPTER = "cutting"
OTHERS = "own derivation"

LISTS = {name: DEMO[name][0] for name in ("post 70x70", "frame 70x45", "sheet")}
LISTS |= {f"list {seed}": bed_list(seed, 7, 3) for seed in (1, 2)}


def patterns(question):
    """Every way to fill every board, no more of a piece than is asked for."""
    wanted, stocks, saw = question
    lengths = np.array([piece.length + saw.kerf for piece in wanted])
    counts = [piece.count for piece in wanted]
    for stock in stocks:
        room = stock.room(saw)
        most = [min(c, room // n) for c, n in zip(counts, lengths, strict=True)]
        for pattern in product(*(range(m + 1) for m in most)):
            if 0 < np.dot(pattern, lengths) <= room:
                yield stock.price, pattern


@outside("library", "least_cost", "scipy")
@pytest.mark.parametrize("name", LISTS)
def test_least_cost_over_all_patterns(name):
    """One whole number for each pattern there is, solved by HiGHS."""
    prices, ways = zip(*patterns(LISTS[name]), strict=True)
    asked = [piece.count for piece in LISTS[name][0]]
    found = optimize.milp(
        prices,
        constraints=optimize.LinearConstraint(np.array(ways).T, lb=asked),
        integrality=np.ones(len(prices)),
    )
    plan = least_cost(*LISTS[name], seconds=30)

    assert plan.proven
    assert plan.cost == pytest.approx(found.fun)


@outside("library", "relax", "scipy")
@pytest.mark.parametrize("name", LISTS)
def test_bound_of_the_relaxation_over_all_patterns(name):
    prices, ways = zip(*patterns(LISTS[name]), strict=True)
    asked = [piece.count for piece in LISTS[name][0]]
    found = optimize.linprog(prices, A_ub=-np.array(ways).T, b_ub=-np.array(asked))
    problem = compact(*LISTS[name])

    value = float(relax(problem, Diagram(problem)).value)
    assert value == pytest.approx(found.fun, rel=1e-4)
    assert lower_bound(*LISTS[name]) <= found.fun + 1e-6


@outside("library", "least_cost", "ortools")
@pytest.mark.parametrize("name", LISTS)
def test_least_cost_by_a_constraint_solver(name):
    """Which board holds how many of each piece: no patterns at all."""
    wanted, stocks, saw = LISTS[name]
    model = cp_model.CpModel()
    boards = first_fit(*LISTS[name]).cost // min(s.price for s in stocks)
    cuts, costs = [], []
    for b in range(boards):
        take = [model.new_bool_var(f"take {b} {j}") for j in range(len(stocks))]
        cut = [model.new_int_var(0, p.count, f"cut {b} {p.label}") for p in wanted]
        model.add_at_most_one(take)
        load = sum(n * (p.length + saw.kerf) for n, p in zip(cut, wanted, strict=True))
        rooms = [s.room(saw) for s in stocks]
        model.add(load <= sum(r * t for r, t in zip(rooms, take, strict=True)))
        costs.append(sum(s.price * t for s, t in zip(stocks, take, strict=True)))
        cuts.append(cut)
    for i, piece in enumerate(wanted):
        model.add(sum(cut[i] for cut in cuts) == piece.count)
    for one, other in zip(costs, costs[1:], strict=False):
        model.add(one >= other)
    model.minimize(sum(costs))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = 20
    solver.parameters.num_workers = 2
    solver.solve(model)
    cost = least_cost(*LISTS[name], seconds=30).cost

    assert solver.best_objective_bound <= cost + 0.5
    assert cost <= solver.objective_value + 0.5


@outside("library", "saw_loss", "ortools")
@pytest.mark.parametrize("name", ["post 70x70", "frame 70x45", "list 2"])
def test_what_the_saw_costs(name):
    """Least cost with and without kerf, each as a program of another solver."""
    wanted, stocks, saw = LISTS[name]
    thin = type(saw)(kerf=type(saw.kerf)(0), trim=saw.trim)
    least = []
    for used in (saw, thin):
        solver = pywraplp.Solver.CreateSolver("SCIP")
        ways = [*patterns((wanted, stocks, used))]
        times = [solver.IntVar(0, 99, str(i)) for i in range(len(ways))]
        for k, piece in enumerate(wanted):
            made = sum(w[k] * t for (_, w), t in zip(ways, times, strict=True))
            solver.Add(made >= piece.count)
        solver.Minimize(sum(p * t for (p, _), t in zip(ways, times, strict=True)))
        assert solver.Solve() == pywraplp.Solver.OPTIMAL
        least.append(round(solver.Objective().Value()))
    loss = saw_loss(least_cost(wanted, stocks, saw, seconds=30), seconds=30)

    assert loss.proven and loss.cost == least[0] - least[1]


@outside("library", "sweet_spots", "scipy")
@pytest.mark.parametrize("metres", [0.47, 0.595, 0.8, 1.19, 1.5])
def test_most_pieces_of_one_length_by_an_integer_program(metres):
    """Per board: most pieces n with n l + (n - 1) k in the board less its trim."""
    each = []
    for stock in BOARD:
        room = (stock.length - SAW.trim) / 10_000
        kerf = SAW.kerf / 10_000
        found = optimize.milp(
            [-1.0], integrality=[1],
            constraints=optimize.LinearConstraint([[metres + kerf]], ub=room + kerf),
        )  # fmt: skip
        if found.fun:
            each.append(stock.price / -found.fun)
    ours = sweet_spots(Q_([metres], "m"), BOARD, SAW)

    assert ours.per_piece[0] == pytest.approx(min(each))


@outside("printed", "table lumber_us", "nds_supplement_2018")
@pytest.mark.parametrize(
    ("key", "thick", "wide"),
    [("1x6", "0.75", "5.5"), ("2x4", "1.5", "3.5"), ("2x8", "1.5", "7.25"),
     ("2x12", "1.5", "11.25"), ("4x4", "3.5", "3.5")],
)  # fmt: skip
def test_what_an_american_board_measures(key, thick, wide):
    """NDS Supplement 2018, Table 1A: dry, dressed sizes in inches."""
    row = table("lumber_us")[key]
    assert row.q("thick").m_as("inch") == printed(thick)
    assert row.q("wide").m_as("inch") == printed(wide)


@outside("from memory", "table lumber_metric", "en1313_1", facts=2)
def test_sawn_sizes_of_europe():
    """EN 1313-1 as remembered: 47 mm thick, 100 and 150 mm wide."""
    for wide in ("100", "150"):
        row = table("lumber_metric")[f"sawn_47x{wide}"]
        assert row.q("thick").m_as("mm") == printed("47")
        assert row.q("wide").m_as("mm") == printed(wide)


@outside("from memory", "table lumber_metric", "en336", facts=2)
def test_planed_sizes_of_europe():
    """EN 336 as remembered: 50 x 100 planed is 45 x 95; framing timber 38 x 89."""
    planed = table("lumber_metric")["planed_50x100"]
    framing = table("lumber_metric")["cls_50x100"]
    sizes = [
        row.q(n).m_as("mm") for row in (planed, framing) for n in ("thick", "wide")
    ]

    assert sizes == [printed(text) for text in ("45", "95", "38", "89")]


@outside("from memory", "piece_mass", "en338", facts=2)
def test_what_a_sawn_piece_weighs():
    """EN 338 as remembered: mean density 420 (C24) and 580 kg/m3 (D24)."""
    for grade, density in (("C24", 420), ("D24", 580)):
        rho = table("timber_en")[grade].q("rho_mean")
        mass = piece_mass(Q_(33, "mm"), Q_(140, "mm"), Q_(2.7, "m"), rho)
        assert mass.m_as("kg") == pytest.approx(0.033 * 0.14 * 2.7 * density, rel=1e-3)
