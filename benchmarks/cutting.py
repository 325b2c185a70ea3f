"""How good is a cut plan after one second? Thirty lists like those of a bed.

Each list is cut by first fit, by the least-cost search, and, if OR-Tools is installed,
by CP-SAT with the assignment model (which board holds how many of each piece); the two
searches get the same time, one after the other in one run.

    python benchmarks/cutting.py --seconds 1

The lists are drawn from a seed: 35 % of the lengths are posts and braces (350 to
950 mm), 40 % ends (900 to 1400 mm), the rest sides (1500 to 3300 mm); kerf 3 mm, trim
20 mm. Stock families: (a) 2.44 to 4.88 m; (b) 2.4 to 5.4 m in steps of 0.6 m, price
nearly proportional to length, which is hard; (c) 1.8, 2.4 and 3.6 m with only six of
2.4 m. Prices are invented.
"""

from __future__ import annotations

import argparse
import os
import platform
import random
from time import perf_counter, process_time

from bedcalc.cutting import Coins, Piece, Saw, Stock, Tenths, first_fit, least_cost

SIZES = (
    (10, 4),
    (20, 5),
    (30, 6),
    (40, 8),
    (60, 8),
    (80, 10),
    (120, 12),
    (160, 15),
    (240, 18),
    (400, 24),
)
FAMILIES = {
    "a": ((2440, 780), (3050, 1010), (3660, 1230), (4880, 1720)),
    "b": (
        (2400, 640),
        (3000, 810),
        (3600, 985),
        (4200, 1160),
        (4800, 1340),
        (5400, 1520),
    ),
    "c": ((1800, 900), (2400, 1150), (3600, 1700)),
}
SCARCE = {("c", 2400): 6}
SAW = Saw(kerf=Tenths(30), trim=Tenths(200))


def bed_like(seed: int, number: int, lengths: int, family: str):
    """One list: pieces, stock and saw."""
    draw = random.Random(seed)
    sizes: set[int] = set()
    while len(sizes) < lengths:
        kind = draw.random()
        if kind < 0.35:
            sizes.add(draw.randint(350, 950))
        elif kind < 0.75:
            sizes.add(draw.randint(900, 1400))
        else:
            sizes.add(draw.randint(1500, 3300))
    counts = dict.fromkeys(sorted(sizes, reverse=True), 1)
    for _ in range(number - lengths):
        counts[draw.choice(list(counts))] += 1
    pieces = [
        Piece(label=f"{mm} mm", length=Tenths(10 * mm), count=count)
        for mm, count in counts.items()
    ]
    stocks = [
        Stock(
            key=f"{mm} mm",
            length=Tenths(10 * mm),
            price=Coins(price),
            limit=SCARCE.get((family, mm)),
        )
        for mm, price in FAMILIES[family]
    ]
    return pieces, stocks, SAW


def assigned(pieces, stocks, saw, seconds: float):
    """Cost (or None) and bound of CP-SAT with the assignment model."""
    from ortools.sat.python import cp_model

    # as many boards as the hand plan's money could buy, so that none is ruled out
    cheapest = min(stock.price for stock in stocks)
    boards = first_fit(pieces, stocks, saw).cost // cheapest
    boards = min(boards, sum(piece.count for piece in pieces))
    model = cp_model.CpModel()
    taken = [
        [model.new_bool_var(f"t{b},{j}") for j in range(len(stocks))]
        for b in range(boards)
    ]
    costs = []
    cuts = []
    for b, take in enumerate(taken):
        cut = [model.new_int_var(0, p.count, f"c{b},{i}") for i, p in enumerate(pieces)]
        load = sum(n * (p.length + saw.kerf) for n, p in zip(cut, pieces, strict=True))
        room = sum(t * s.room(saw) for t, s in zip(take, stocks, strict=True))
        model.add_at_most_one(take)
        model.add(load <= room)
        costs.append(sum(t * s.price for t, s in zip(take, stocks, strict=True)))
        cuts.append(cut)
    for i, piece in enumerate(pieces):
        model.add(sum(cut[i] for cut in cuts) == piece.count)
    for j, stock in enumerate(stocks):
        if stock.limit is not None:
            model.add(sum(take[j] for take in taken) <= stock.limit)
    for one, other in zip(costs, costs[1:], strict=False):
        model.add(one >= other)
    model.minimize(sum(costs))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = os.cpu_count() or 1
    status = solver.solve(model)
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    cost = round(solver.objective_value) if found else None
    return cost, round(solver.best_objective_bound)


def gap(cost, bound) -> float:
    """How far the cost may be above the cheapest possible, in percent."""
    return 100 * (cost - bound) / bound if bound else 100.0


def main() -> None:
    """Print the table."""
    words = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    words.add_argument("--seconds", type=float, default=1.0, help="for each list")
    words.add_argument("--seed", type=int, default=1, help="of the first list")
    given = words.parse_args()
    try:
        from ortools import __version__ as other
    except ImportError:
        other = None
    print(
        f"Python {platform.python_version()}, {os.cpu_count()} cores, CP-SAT: {other}"
    )
    if hasattr(os, "getloadavg"):
        print(f"busy processes before the run: {os.getloadavg()[0]:.1f}")
    print(f"{given.seconds:g} s for each list; costs in smallest coins\n")
    print("list          first fit    least    bound   gap %", end="")
    print("      s  cpu s   CP-SAT    bound")
    proven, gaps, by_hand, agreed, others, worked = 0, [], [], 0, 0, 0.0
    lists = [(n, m, family) for n, m in SIZES for family in FAMILIES]
    least_cost(*bed_like(0, 5, 2, "a"))  # imports are not part of any list
    # a search that got less processor time than its seconds shared the machine
    for at, (number, lengths, family) in enumerate(lists):
        question = bed_like(given.seed + at, number, lengths, family)
        hand = first_fit(*question)
        start, work = perf_counter(), process_time()
        plan = least_cost(*question, seconds=given.seconds).check()
        spent = perf_counter() - start
        work = process_time() - work
        worked += work
        proven += plan.proven
        gaps.append(100 * plan.gap)
        by_hand.append(100 * (hand.cost / plan.cost - 1))
        line = (
            f"{number:3d} {lengths:2d} {family}     {hand.cost:9d} {plan.cost:8d} "
            f"{plan.bound:8d} {100 * plan.gap:7.3f} {spent:6.2f} {work:6.2f}"
        )
        if other:
            cost, bound = assigned(*question, given.seconds)
            line += f" {'none' if cost is None else cost:>8} {bound:8d}"
            others += cost is not None and gap(cost, bound) < 1e-9
            wrong = bound > plan.cost or (cost is not None and cost < plan.bound)
            agreed += not wrong
        print(line, flush=True)
    print(f"\nproven cheapest: {proven} of {len(lists)}; worst gap {max(gaps):.3f} %")
    print(
        f"first fit is dearer by {sum(by_hand) / len(by_hand):.1f} % on average, "
        f"{max(by_hand):.1f} % at worst"
    )
    print(f"processor time of the search: {worked:.1f} s for all lists")
    if other:
        print(f"CP-SAT proves {others}; its bounds contradict no plan in {agreed}")


if __name__ == "__main__":
    main()
