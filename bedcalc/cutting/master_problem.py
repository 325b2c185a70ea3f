"""Restricted master problem in integers, solved by HiGHS through scipy.

Beside the use of each pattern stand the number of boards of each sort, as an integer
of its own, and the total length of these boards: two rows that cost nothing and help
the proof much.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from .problem import Problem

if TYPE_CHECKING:  # names for an editor
    from ..cutting.deadline import Deadline

__all__ = ["MipResult", "Cuts", "solve_master"]

Cuts = tuple[tuple[int, tuple[int, ...]], ...]

_ANY = 1e9  # a gap so wide that the first plan ends the program
_HAIR = 1e-4  # tolerance; costs are whole price steps, so it changes no comparison


@dataclass(frozen=True, kw_only=True)
class MipResult:
    """Result of the integer program.

    Parameters
    ----------
    ended : bool
        It found a plan, or that there is none in the range.
    cuts : tuple of (sort, pattern), or None
        One per board.
    bound : int
        No plan made of these patterns is cheaper.
    """

    ended: bool
    cuts: Cuts | None
    bound: int


def solve_master(
    problem: Problem,
    sorts: np.ndarray,
    patterns: np.ndarray,
    low: int,
    high: int,
    deadline: Deadline,
    seconds: float,
    reduced_costs: np.ndarray | None = None,
) -> MipResult:
    """Is there a plan of cost ``low`` to ``high`` made of these patterns only?

    Parameters
    ----------
    problem : Problem
        What to cut.
    sorts, patterns : int array
        The patterns allowed.
    low, high : int
        Range of the cost in smallest coins; ``high`` may be none.
    deadline : Deadline
        Has the seconds left.
    seconds : float
        Longest time for this question.
    reduced_costs : array, optional
        Reduced cost of each pattern. If given, the first plan in the range will do, and
        their sum is the objective; if not, the cheapest plan is looked for.
    """
    from scipy.optimize import Bounds, LinearConstraint, milp

    step, kinds, number = problem.step, len(problem.needs), len(problem.prices)
    if not sorts.size:
        return MipResult(ended=True, cuts=None, bound=high + step)
    none = np.zeros(sorts.size)
    counts = np.array(problem.counts, dtype=float)
    # lengths in units of the longest board: large numbers upset the solver
    longest = max(problem.rooms)
    rooms = np.append(none, np.array(problem.rooms) / longest)
    need = counts @ problem.needs / longest - _HAIR / longest
    cost = np.append(none, np.array(problem.prices) / step)
    cover = np.hstack([patterns.T, np.zeros((kinds, number))])
    taken = np.hstack([sorts == np.arange(number)[:, None], -np.eye(number)])
    top = np.inf if high is None else high / step + _HAIR
    most = [np.inf if limit is None else limit for limit in problem.limits]

    any_plan = reduced_costs is not None
    goal = np.append(reduced_costs, np.zeros(number)) if any_plan else cost

    def solve(presolve: bool):
        limit = max(min(seconds, deadline.left), 0.01)
        return milp(
            goal,
            constraints=[
                LinearConstraint(cover, lb=counts),
                LinearConstraint(taken, ub=0),
                LinearConstraint(rooms[None], lb=need),
                LinearConstraint(cost[None], lb=low / step - _HAIR, ub=top),
            ],
            integrality=np.ones(cost.size),
            bounds=Bounds(0, np.append(none + np.inf, most)),
            options={
                "time_limit": limit,
                "presolve": presolve,
                "mip_rel_gap": _ANY if any_plan else 0,
            },
        )

    found = deadline.run(solve, True)
    if found is not None and found.status == 4:  # seldom, HiGHS trips over itself
        found = deadline.run(solve, False)
    if found is None:  # cancelled
        return MipResult(ended=False, cuts=None, bound=low)
    if found.status == 2:  # no plan in this range
        return MipResult(
            ended=True, cuts=None, bound=low if high is None else high + step
        )
    cuts = None
    if found.x is not None:
        cuts = _cuts(problem, sorts, patterns, found.x[: sorts.size])
    bound, proof = low, found.mip_dual_bound
    if not any_plan and proof is not None and np.isfinite(proof):
        above = int(np.ceil(proof - _HAIR)) * step
        bound = max(low, above if high is None else min(above, high + step))
    return MipResult(
        ended=found.status == 0 and cuts is not None, cuts=cuts, bound=bound
    )


def _cuts(problem: Problem, sorts, patterns, times) -> Cuts | None:
    """One row per board, without surplus; none if rounding broke something."""
    missing = np.array(problem.counts)
    used = np.zeros(len(problem.prices), dtype=int)
    cuts = []
    for column in np.flatnonzero(times > 0.5):
        for _ in range(round(times[column])):
            row = np.minimum(patterns[column], missing)
            if row.any():
                missing -= row
                used[sorts[column]] += 1
                cuts.append((int(sorts[column]), tuple(row.tolist())))
    over = any(
        limit is not None and number > limit
        for number, limit in zip(used, problem.limits, strict=True)
    )
    return None if over or missing.any() else tuple(cuts)
