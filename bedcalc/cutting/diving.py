"""Diving heuristic: fix nearly whole columns of the LP solution, solve for the rest.

Boards the fractional plan uses in whole numbers are cut; those it uses nearly once
more, too; the relaxation is then solved for the pieces that are left, until none are.
Within a few thousandths of the cheapest plan on long lists, in a few hundredths of a
second.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from .column_generation import Relaxation, relax
from .deadline import Deadline
from .first_fit import first_fit
from .model import Coins, CutError, Piece, Saw, Stock, Tenths
from .pattern_diagram import Diagram
from .problem import Problem

__all__ = ["dive"]


def dive(problem: Problem, relaxed: Relaxation, nearly: float, deadline: Deadline):
    """Boards as (sort, pattern), or None if the limits leave too few.

    Parameters
    ----------
    problem : Problem
        What to cut.
    relaxed : Relaxation
        Its relaxation.
    nearly : float
        A fraction above this is rounded up.
    deadline : Deadline
        When to leave the rest to first fit.
    """
    missing = np.array(problem.counts)
    limits = list(problem.limits)
    boards = []
    while True:
        taken = 0
        whole = np.floor(relaxed.times + 1e-6)
        part = relaxed.times - whole
        for column in np.argsort(-part, kind="stable"):
            wanted = relaxed.patterns[column]
            up = part[column] > nearly or not (taken or whole.any())
            for cut in range(int(whole[column]) + int(up)):
                row = np.minimum(wanted, missing)
                if cut == whole[column] and taken and (row < wanted).any():
                    break  # rounding up pays only for a pattern still wanted in full
                j = _cheapest(problem, row, int(relaxed.sorts[column]), limits)
                if j is None:
                    break
                missing -= row
                boards.append((j, tuple(row.tolist())))
                taken += 1
        if not missing.any():
            return tuple(boards)
        rest = replace(problem, counts=tuple(missing.tolist()), limits=tuple(limits))
        try:
            if deadline.over or not taken:
                return (*boards, *_by_hand(rest))
            relaxed = relax(rest, Diagram(rest), deadline)
        except CutError:
            return None


def _by_hand(rest: Problem):
    """Boards for the rest by first fit."""
    plan = first_fit(
        [
            Piece(
                label=f"{i}",
                length=Tenths(need),
                count=count,
                straight=i < rest.first_any,
            )
            for i, (need, count) in enumerate(zip(rest.needs, rest.counts, strict=True))
        ],
        [
            Stock(
                key=f"{j}",
                length=Tenths(room),
                price=Coins(price),
                limit=limit,
                straight=not start,
            )
            for j, (room, price, limit, start) in enumerate(
                zip(rest.rooms, rest.prices, rest.limits, rest.starts, strict=True)
            )
        ],
        Saw(kerf=Tenths(0)),
    )
    for board in plan.boards:
        row = [0] * len(rest.needs)
        for label, _ in board.pieces:
            row[int(label)] += 1
        yield int(board.stock.key), tuple(row)


def _cheapest(problem: Problem, row, sort: int, limits):
    """Take the cheapest sort that holds the row off the limits, or None."""
    if not row.any():
        return None
    load, first = int(row @ problem.needs), int(np.flatnonzero(row)[0])
    fits = [
        j
        for j, room in enumerate(problem.rooms)
        if room >= load and limits[j] != 0 and problem.starts[j] <= first
    ]
    if not fits:
        return None
    best = min(fits, key=lambda j: (problem.prices[j], j != sort))
    if limits[best] is not None:
        limits[best] -= 1
    return best
