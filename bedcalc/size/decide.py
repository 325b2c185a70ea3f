"""Raised bed, low bed or open ground: what the reader's own answers say.

Each answer of data/decide.csv adds points to the three ways; a stop is named whatever
the sum. The points are our judgement, not a measurement.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ..tables import Row, table

__all__ = ["WAYS", "Advice", "advise"]

WAYS = {"raised": "a tall raised bed", "low": "a low bed", "ground": "open ground"}


@dataclass(frozen=True, kw_only=True)
class Advice:
    """What the answers say: points by way, the reasons, and what has to be done first.

    ``best`` is the way with most points; ``close`` tells that the next is near.
    """

    points: Mapping[str, float]
    best: str
    close: bool
    reasons: tuple[Row, ...]
    first: tuple[str, ...]


def advise(answers: Mapping[str, str]) -> Advice:
    """Weigh the answers of the reader.

    Parameters
    ----------
    answers : mapping
        Question to answer, as in data/decide.csv: ``{"drainage": "stands"}``. What is
        left out does not count.

    Returns
    -------
    Advice

    Notes
    -----
    Source: common practice; each row of the table names why.
    """
    rows = []
    for question, answer in answers.items():
        key = f"{question}.{answer}"
        if key not in table("decide"):
            known = [row.key for row in table("decide") if row.question == question]
            raise ValueError(
                f"advise: needs an answer among {', '.join(known) or 'data/decide.csv'}"
                f"; given {key!r}; for example {{'drainage': 'stands'}}"
            )
        rows.append(table("decide")[key])
    points = {way: float(sum(getattr(row, way) for row in rows)) for way in WAYS}
    ranked = sorted(points, key=points.get, reverse=True)
    return Advice(
        points=points,
        best=ranked[0],
        close=points[ranked[0]] - points[ranked[1]] < 2,
        reasons=tuple(row for row in rows if row.why),
        first=tuple(row.first for row in rows if row.first),
    )
