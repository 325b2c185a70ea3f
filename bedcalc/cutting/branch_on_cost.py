"""Branching on the cost: the cheapest whole plan, from the proven bound upwards.

The relaxation bounds the cost. A plan of cost T can only contain patterns with a
reduced cost below T minus that bound, and for a T just above the bound these are few.
So the search asks an integer program "is there a plan of at most T, made of these few
patterns?", and raises T whenever the answer is no. Every no raises the proven bound;
the first yes is the cheapest plan, proven.

A good plan is at hand all the while: from first fit, from rounding the relaxation, and
now and then from an integer program over the most promising patterns.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from .column_generation import Relaxation, relax
from .deadline import Deadline
from .diving import dive
from .master_problem import Cuts, solve_master
from .pattern_diagram import Diagram
from .problem import Problem

__all__ = ["Incumbent", "search"]

_FEW = 250  # patterns a question may hold before its range of costs is narrowed
_MOST = 30_000  # patterns beyond which a question is not asked at all


@dataclass(frozen=True, kw_only=True)
class Incumbent:
    """Best plan found so far and the proven bound of the search.

    Parameters
    ----------
    cost : int or None
        Smallest coins; none if there is no plan yet.
    bound : int
        No plan is cheaper.
    cuts : tuple of (sort, pattern), or None
        One per board; none if there is no plan, or a better one stands elsewhere.
    """

    cost: int | None = None
    bound: int = 0
    cuts: Cuts | None = None

    @property
    def proven(self) -> bool:
        """Nothing cheaper exists."""
        return self.cost is not None and self.bound >= self.cost

    def better(self, cuts: Cuts | None, bound: int, problem: Problem) -> Incumbent:
        """The state after new cuts, or none, and a new bound."""
        cost, best = self.cost, self.cuts
        if cuts is not None:
            new = sum(problem.prices[j] for j, _ in cuts)
            if cost is None or new < cost or (new == cost and best is None):
                cost, best = new, cuts
        bound = max(self.bound, bound)
        return Incumbent(
            cost=cost, bound=bound if cost is None else min(bound, cost), cuts=best
        )


def search(
    problem: Problem,
    start: Incumbent,
    deadline: Deadline,
    report: Callable[[Incumbent], None],
) -> Incumbent:
    """Improve on ``start`` until the plan is proven or time is up."""
    diagram = Diagram(problem)
    relaxed = relax(problem, diagram, deadline)
    now = start.better(None, relaxed.bound, problem)
    for nearly in (0.8, 0.6):  # the first also without time left: it ends by hand
        if not now.proven:
            now = now.better(dive(problem, relaxed, nearly, deadline), 0, problem)
            report(now)
    rise, some, patience = 1, 200, 0.3 * deadline.left
    while not now.proven and not deadline.over:
        high, patterns = _question(problem, diagram, relaxed, now, rise)
        if patterns is not None:
            reduced_costs = relaxed.reduced_costs(*patterns)
            answer = solve_master(
                problem, *patterns, now.bound, high, deadline, patience, reduced_costs
            )
            now = now.better(answer.cuts, answer.bound, problem)
            report(now)
            if answer.ended:
                rise = min(2 * rise, 64)
                continue  # the bound has risen, or the cost has fallen
        if now.proven or deadline.over:
            break
        patterns = _candidate_columns(problem, diagram, relaxed, now, some)
        high = None if now.cost is None else now.cost - problem.step
        answer = solve_master(problem, *patterns, now.bound, high, deadline, patience)
        now = now.better(answer.cuts, 0, problem)
        report(now)
        rise, some, patience = max(rise // 2, 1), 2 * some, 1.5 * patience
    return now


def _question(problem, diagram, relaxed: Relaxation, now: Incumbent, rise: int):
    """The cost to ask for, at most ``rise`` steps up, and all patterns it allows.

    Wide ranges save questions while patterns are few, and are hard to answer when
    they are not.
    """
    while True:
        high = now.bound + (rise - 1) * problem.step
        if now.cost is not None:
            high = min(high, now.cost - problem.step)
        patterns = relaxed.within(high, diagram, _MOST)
        if rise == 1 or (patterns is not None and patterns[0].size <= _FEW):
            return high, patterns
        rise //= 2


def _candidate_columns(
    problem, diagram, relaxed: Relaxation, now: Incumbent, some: int
):
    """Columns of the relaxation, and so many more of those with least reduced cost."""
    for steps in (256, 64, 16, 4, 1):
        more = relaxed.within(now.bound + steps * problem.step, diagram, _MOST)
        if more is not None:
            best = np.argsort(relaxed.reduced_costs(*more), kind="stable")[:some]
            sorts = np.concatenate([relaxed.sorts, more[0][best]])
            return sorts, np.concatenate([relaxed.patterns, more[1][best]])
    return relaxed.sorts, relaxed.patterns
