"""Secondary objective at fixed cost: fewest set-ups, or the longest leftover.

A second integer program with the cost held fixed. It needs all patterns a plan of that
cost may contain, those with room to spare as well.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from .column_generation import relax
from .deadline import Deadline
from .least_cost import boards_of
from .model import CutError, Plan
from .pattern_diagram import Diagram
from .problem import Problem, compact

__all__ = ["fewest_setups", "longest_leftover"]

_MOST = 20_000


def fewest_setups(plan: Plan, seconds: float = 2.0) -> Plan:
    """The same cost with the fewest different boards to set up the saw for.

    Every board of one pattern is cut alike, with one setting of the stops: fewer
    mistakes, and a list a merchant's saw can follow.

    Parameters
    ----------
    plan : Plan
        Its cost is kept.
    seconds : float
        Time budget.

    Returns
    -------
    Plan
        The same plan if no better one was found; ``method`` says what is proven.
    """
    problem, sorts, patterns, deadline = _all_patterns(plan, seconds)
    if not sorts.size:
        return plan
    counts = np.array(problem.counts)
    with np.errstate(divide="ignore"):
        often = np.where(patterns > 0, counts // np.maximum(patterns, 1), 1 << 30)
    often = often.min(axis=1)
    none, many = np.zeros(sorts.size), np.eye(sorts.size)
    rows = [
        (np.hstack([patterns.T, 0 * patterns.T]), counts, counts),
        (np.hstack([many, -np.diag(often)]), -np.inf, 0),
        *_fixed(problem, plan, np.append(sorts, sorts), np.append(none + 1, none)),
    ]
    top = np.append(often, none + 1)
    times, proven = _solve(np.append(none, none + 1), rows, top, deadline)
    if times is None:
        return plan
    new = _plan(plan, problem, sorts, patterns, times[: sorts.size])
    best = new if len(new.setups) < len(plan.setups) else plan
    return _said(best, "fewest set-ups", proven)


def longest_leftover(plan: Plan, seconds: float = 2.0) -> Plan:
    """The same cost with the waste gathered into the longest single leftover.

    Parameters
    ----------
    plan : Plan
        Its cost is kept.
    seconds : float
        Time budget.

    Returns
    -------
    Plan
        The same plan if no better one was found; ``method`` says what is proven.
    """
    problem, sorts, patterns, deadline = _all_patterns(plan, seconds)
    if not sorts.size:
        return plan
    # one board is special: its leftover is what counts
    number = sorts.size
    rooms = np.array([max(s.room(plan.saw) for s in group) for group in problem.stocks])
    lengths = np.array([length for length, _ in problem.kinds]) + plan.saw.kerf
    left = rooms[sorts] - patterns @ lengths
    both, one = np.append(sorts, sorts), np.ones(2 * number)
    special = np.append(np.zeros(number), np.ones(number))
    counts = np.array(problem.counts)
    rows = [
        (np.hstack([patterns.T, patterns.T]), counts, np.inf),
        (special[None], 1, 1),
        *_fixed(problem, plan, both, one),
    ]
    gain = -np.append(np.zeros(number), left / max(left.max(), 1))
    times, proven = _solve(gain, rows, np.where(special, 1, np.inf), deadline)
    if times is None:
        return plan
    # the special board first, so that surplus pieces are struck off the others last
    order = np.append(np.arange(number, 2 * number), np.arange(number))
    columns = order % number
    new = _plan(plan, problem, sorts[columns], patterns[columns], times[order])
    longer = max(new.leftovers) > max(plan.leftovers, default=0)
    return _said(new if longer else plan, "longest leftover", proven)


def _all_patterns(plan: Plan, seconds: float):
    """Problem, and all patterns a plan of this cost may contain."""
    deadline = Deadline(seconds)
    problem = compact(plan.pieces, plan.stocks, plan.saw)
    if not problem.needs or not plan.boards:
        none = np.zeros(0, dtype=int)
        return problem, none, none, deadline
    diagram = Diagram(problem)
    relaxed = relax(problem, diagram)
    some = relaxed.within(plan.cost, diagram, _MOST, full=False)
    if some is None:
        some = relaxed.within(plan.cost, diagram, _MOST, full=True)
    if some is None:
        return problem, np.zeros(0, dtype=int), np.zeros((0, 0)), deadline
    used = some[1].any(axis=1)
    return problem, some[0][used], some[1][used].astype(int), deadline


def _fixed(problem: Problem, plan: Plan, sorts, weights):
    """Rows that hold the cost and the limits, for columns of these sorts."""
    prices = np.array(problem.prices)[sorts] * weights / problem.step
    cost = plan.cost / problem.step
    yield prices[None], cost - 1e-4, cost + 1e-4
    for j, limit in enumerate(problem.limits):
        if limit is not None:
            yield ((sorts == j) * weights)[None], 0, limit


def _solve(goal, rows, top, deadline: Deadline):
    """Whole numbers for the columns, or None, and whether they are proven best."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    found = milp(
        goal,
        constraints=[LinearConstraint(m, lb=low, ub=high) for m, low, high in rows],
        integrality=np.ones(len(goal)),
        bounds=Bounds(0, top),
        options={"time_limit": max(deadline.left, 0.05), "mip_rel_gap": 0},
    )
    if found.x is None:
        return None, False
    return np.rint(found.x).astype(int), found.status == 0


def _plan(plan: Plan, problem: Problem, sorts, patterns, times) -> Plan:
    """The plan that cuts each pattern so often, surplus pieces left out."""
    missing, cuts = np.array(problem.counts), []
    for column in np.flatnonzero(times):
        for _ in range(times[column]):
            row = np.minimum(patterns[column], missing)
            if row.any():
                missing -= row
                cuts.append((int(sorts[column]), tuple(row.tolist())))
    boards = boards_of(problem, plan.pieces, plan.stocks, tuple(cuts))
    cost = sum(board.stock.price for board in boards)
    new = replace(plan, boards=boards, cost=cost, bound=min(plan.bound, cost))
    try:
        return new.check()
    except CutError:
        return plan


def _said(plan: Plan, goal: str, proven: bool) -> Plan:
    """The plan with its second goal in the method."""
    words = f"{goal}, proven" if proven else f"tried for {goal}"
    return replace(plan, method=f"{plan.method}; {words}")
