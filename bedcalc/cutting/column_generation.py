"""Column generation for the LP relaxation of the cutting problem, with a proven bound.

Gilmore and Gomory 1961: a restricted master LP over a short list of patterns gives a
dual value to each kind of piece; the pricing problem, solved on the diagram of all
patterns, looks for a pattern whose dual value exceeds the price of its board; it is
added, and so on. When there is none, the duals prove the bound; that last step is done
in whole numbers, so that rounding cannot spoil the proof.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from .deadline import Deadline
from .first_fit import round_up
from .model import CutError
from .pattern_diagram import Diagram
from .problem import Problem

__all__ = ["Relaxation", "relax"]

_SCALE = 1 << 24  # a dual value of one coin, in whole numbers
_TOO_FEW = (
    "stock: the limits leave too few boards for all pieces; raise a limit or add a "
    "length"
)
_DEAREST = 1 << 34  # coins; no dual value of a piece is higher


@dataclass(frozen=True, kw_only=True)
class Relaxation:
    """Solution of the LP relaxation, with its bound in exact arithmetic.

    Parameters
    ----------
    value : Fraction
        Proven lower bound on the cost, before rounding up.
    bound : int
        ``value`` rounded up to a multiple of the price step.
    duals : int array
        Dual value of each kind, in 1/2**24 coins.
    least : int array
        For each sort of stock the dual value of a pattern with reduced cost 0.
    sorts, patterns : int array
        The patterns found on the way.
    times : array
        How often the fractional plan uses each of them.
    """

    value: Fraction
    bound: int
    duals: np.ndarray
    least: np.ndarray
    sorts: np.ndarray
    patterns: np.ndarray
    times: np.ndarray

    def within(self, cost: int, diagram: Diagram, most: int, full: bool = True):
        """All patterns a plan of this cost may contain, or None if there are too many.

        A pattern whose reduced cost exceeds ``cost - value`` would make the whole plan
        dearer than ``cost``.
        """
        slack = (cost - self.value) * _SCALE
        least = self.least - int(slack) - 1
        return diagram.above(self.duals, least, most, full=full)

    def reduced_costs(self, sorts: np.ndarray, patterns: np.ndarray) -> np.ndarray:
        """Reduced costs in coins: price of the board less dual value of the pattern."""
        return (self.least[sorts] - patterns @ self.duals) / _SCALE


def relax(
    problem: Problem, diagram: Diagram, deadline: Deadline | None = None
) -> Relaxation:
    """Solve the relaxation and prove its bound in whole numbers.

    Parameters
    ----------
    problem : Problem
        What to cut.
    diagram : Diagram
        Its patterns.
    deadline : Deadline, optional
        Stops early; the bound is lower then, but still proven.
    """
    pool = _Pool()
    kinds, needs = len(problem.needs), np.array(problem.needs, dtype=float)
    pool.add(*diagram.best(needs))
    for i in range(kinds):  # the fullest boards with as many of this kind as fit
        worth = needs.copy()
        worth[i] *= 1000
        pool.add(*diagram.best(worth))
    penalty = 10.0 * max(problem.prices)
    while True:
        duals, availability_duals, times, missing = _master(problem, pool, penalty)
        tops, patterns = diagram.best(duals)
        gain = tops - np.array(problem.prices) - availability_duals
        good = gain > 1e-9 * max(problem.prices)
        new = pool.add(tops[good], patterns[good], np.flatnonzero(good))
        over = deadline is not None and deadline.over
        if new and not over:
            continue
        if missing < 1e-7 or over:
            return _proven(problem, diagram, duals, pool, times)
        if penalty > _DEAREST:
            raise CutError(_TOO_FEW)
        penalty *= 100


class _Pool:
    """Patterns found so far, each once."""

    def __init__(self):
        self.seen: dict[tuple, None] = {}

    def add(self, tops, patterns, sorts=None) -> int:
        """Take in new patterns and say how many were new."""
        before = len(self.seen)
        sorts = range(len(tops)) if sorts is None else sorts
        for j, top, row in zip(sorts, tops, patterns, strict=True):
            if top > 0:
                self.seen[int(j), *row.tolist()] = None
        return len(self.seen) - before

    def arrays(self):
        rows = np.array(list(self.seen), dtype=np.int64)
        return rows[:, 0], rows[:, 1:]


def _master(problem: Problem, pool: _Pool, penalty: float):
    """Duals of pieces and of scarce stock, use of each pattern, pieces left out."""
    from scipy.optimize import linprog

    sorts, patterns = pool.arrays()
    kinds, prices = len(problem.needs), np.array(problem.prices, dtype=float)
    scarce = [j for j, limit in enumerate(problem.limits) if limit is not None]
    matrix = np.zeros((kinds + len(scarce), sorts.size + kinds))
    matrix[:kinds, : sorts.size] = -patterns.T
    matrix[:kinds, sorts.size :] = -np.eye(kinds)  # a piece left out, at a penalty
    for row, j in enumerate(scarce, kinds):
        matrix[row, : sorts.size] = sorts == j
    limits = [problem.limits[j] for j in scarce]
    found = linprog(
        np.append(prices[sorts], np.full(kinds, penalty)),
        A_ub=matrix,
        b_ub=np.append(-np.array(problem.counts, dtype=float), limits),
        method="highs",
    )
    if found.x is None:  # the penalty has outgrown what the solver can hold
        raise CutError(_TOO_FEW)
    duals = np.maximum(-found.ineqlin.marginals, 0.0)
    availability_duals = np.zeros(prices.size)
    availability_duals[scarce] = duals[kinds:]
    times, missing = found.x[: sorts.size], found.x[sorts.size :]
    return duals[:kinds], availability_duals, times, float(missing.sum())


def _proven(problem, diagram, duals, pool, times) -> Relaxation:
    """Turn the duals into whole numbers that prove a bound, whatever rounding did."""
    whole = np.floor(duals * _SCALE).astype(np.int64)
    tops, _ = diagram.best(whole)
    # duals may be a hair too high for a stock without limit: shrink them all
    shrink = min(
        (
            Fraction(price * _SCALE, int(top))
            for price, top, limit in zip(
                problem.prices, tops, problem.limits, strict=True
            )
            if limit is None and top > price * _SCALE
        ),
        default=Fraction(1),
    )
    if shrink < 1:
        whole = np.array([int(shrink * int(w)) for w in whole], dtype=np.int64)
        tops, _ = diagram.best(whole)
    full = [price * _SCALE for price in problem.prices]
    least = [max(f, int(t)) for f, t in zip(full, tops, strict=True)]
    availability_duals = sum(
        (most - f) * limit
        for most, f, limit in zip(least, full, problem.limits, strict=True)
        if limit is not None
    )
    total = int(whole @ np.array(problem.counts)) - availability_duals
    value = max(Fraction(total, _SCALE), Fraction(0))
    sorts, patterns = pool.arrays()
    sorts, patterns = sorts[: times.size], patterns[: times.size]
    return Relaxation(
        value=value,
        bound=round_up(-(-value.numerator // value.denominator), problem.step),
        duals=whole,
        least=np.array(least, dtype=np.int64),
        sorts=sorts,
        patterns=patterns,
        times=times,
    )
