"""The cheapest cut plan, with what is proven about it."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import asdict, replace
from hashlib import sha256
from json import dumps

from .branch_on_cost import Incumbent, search
from .deadline import Deadline
from .first_fit import first_fit, labelled, reach_or_teach
from .master_problem import Cuts
from .model import CutError, Piece, Plan, Saw, Stock
from .problem import Problem, compact

__all__ = [
    "content_key",
    "least_cost",
]

_KEPT = 128
_known: OrderedDict[tuple, Incumbent] = OrderedDict()


def least_cost(
    pieces: Iterable[Piece],
    stocks: Iterable[Stock],
    saw: Saw,
    *,
    seconds: float = 1.0,
    start: Plan | None = None,
    progress: Callable[[int | None, int, float], None] | None = None,
    cancel: Callable[[], bool] | None = None,
) -> Plan:
    """Find the cheapest way to cut the pieces, and prove it if time allows.

    Parameters
    ----------
    pieces : iterable of Piece
        What is needed, best of all beds together: one plan for the whole garden is
        never dearer than one plan for each bed.
    stocks : iterable of Stock
        What can be bought or is owned.
    saw : Saw
        Kerf and trim.
    seconds : float
        Time budget. A few lists take a little longer, none much.
    start : Plan, optional
        An earlier plan for the same question; its cost and bound are kept.
    progress : callable, optional
        Called with cost (or None), proven bound, and seconds spent.
    cancel : callable, optional
        Return True to stop; the best plan so far is returned.

    Returns
    -------
    Plan
        ``plan.proven`` and ``plan.gap`` say how good it is.

    Notes
    -----
    What has been found is remembered for the same lengths, counts, stock and saw, so
    asking again is quick, and asking again with more seconds goes on from there. Labels
    do not matter for that.

    The proof rests on whole numbers, but for one part: that no plan exists in a range
    of costs is the word of HiGHS, whose tolerance (1e-6) is far below one board.
    """
    import scipy.optimize  # noqa: F401 - the first import is not part of the budget

    deadline = Deadline(seconds, cancel)
    pieces, stocks = tuple(pieces), tuple(stocks)
    reach_or_teach(pieces, stocks, saw)
    if not any(piece.count for piece in pieces):
        return first_fit(pieces, stocks, saw)
    problem = compact(pieces, stocks, saw)
    hand = _by_hand(pieces, stocks, saw)
    now = _remembered(problem)
    if hand is not None and (now.cost is None or hand.cost < now.cost):
        now = Incumbent(cost=hand.cost, bound=max(now.bound, hand.bound))
    if start is not None:
        if compact(start.pieces, start.stocks, start.saw) != problem:
            raise CutError(
                "start: needs a plan for the same pieces, stock and saw; leave it out, "
                "or pass the pieces, stock and saw of that plan"
            )
        hand = start if hand is None or start.cost <= hand.cost else hand
        now = replace(now, bound=max(now.bound, start.bound))
        if now.cost is None or start.cost < now.cost:
            now = Incumbent(cost=start.cost, bound=now.bound)

    def report(found: Incumbent) -> None:
        if progress is not None:
            progress(found.cost, found.bound, deadline.spent)

    if not now.proven and not deadline.over:
        now = search(problem, now, deadline, report)
    _remember(problem, now)
    if now.cost is None:
        raise CutError(
            "stock: no plan found within the limits yet; raise a limit, add a length "
            f"or allow more than {seconds:g} s"
        )
    if now.cuts is None:
        return replace(hand, pieces=pieces, bound=now.bound, seconds=deadline.spent)
    return Plan(
        pieces=pieces,
        stocks=stocks,
        saw=saw,
        boards=boards_of(problem, pieces, stocks, now.cuts),
        cost=now.cost,
        bound=now.bound,
        method="searched upwards from the proven bound",
        seconds=deadline.spent,
    )


def content_key(pieces: Iterable[Piece], stocks: Iterable[Stock], saw: Saw) -> str:
    """A name for the question made from its content, to keep plans by."""
    content = [[asdict(p) for p in pieces], [asdict(s) for s in stocks], asdict(saw)]
    return sha256(dumps(content, sort_keys=True).encode()).hexdigest()[:16]


def boards_of(
    problem: Problem, pieces: Sequence[Piece], stocks: Sequence[Stock], cuts: Cuts
):
    """Boards with real stock and labels; equal boards side by side, longest first."""
    left = [
        [s for s in group if s.limit is not None for _ in range(s.limit)]
        for group in problem.stocks
    ]
    plenty = [[s for s in group if s.limit is None][:1] for group in problem.stocks]
    place = {stock.key: i for i, stock in enumerate(stocks)}
    rows = []
    for sort, pattern in cuts:
        stock = left[sort].pop(0) if left[sort] else plenty[sort][0]
        row = [
            (kind, number)
            for kind, number in zip(problem.kinds, pattern, strict=True)
            if number
        ]
        row.sort(key=lambda item: -item[0][0])
        rows.append((stock, row))
    rows.sort(key=lambda row: (place[row[0].key], [(-k[0], -n) for k, n in row[1]]))
    return labelled(pieces, rows)


def _by_hand(pieces, stocks, saw) -> Plan | None:
    """First fit, if the limits do not stop it."""
    try:
        return first_fit(pieces, stocks, saw)
    except CutError:
        return None


def _key(problem: Problem) -> tuple:
    """All of a problem that bears on its plan, without names."""
    return (
        problem.needs,
        problem.counts,
        problem.first_any,
        problem.rooms,
        problem.prices,
        problem.limits,
        problem.starts,
        problem.step,
    )


def _remembered(problem: Problem) -> Incumbent:
    return _known.get(_key(problem), Incumbent())


def _remember(problem: Problem, found: Incumbent) -> None:
    """Keep what was found; a plan that stands elsewhere is not kept, its bound is."""
    if found.cuts is None:
        found = Incumbent(bound=found.bound)
    _known[_key(problem)] = found
    _known.move_to_end(_key(problem))
    while len(_known) > _KEPT:
        _known.popitem(last=False)
