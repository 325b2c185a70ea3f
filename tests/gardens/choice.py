"""Which garden goes through which workbook: all that is in any garden meets each one.

Every garden through every workbook takes six minutes on two cores. What goes wrong
mostly hangs on one thing in a garden (a build, a fill, a currency, a gap) and on one
workbook. So each such pair is walked, and every garden through some workbooks.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

__all__ = ["ALL", "LEAST", "choose", "in_each", "traits"]

#: With BEDCALC_GARDENS=all in the environment every garden meets every workbook.
ALL = os.environ.get("BEDCALC_GARDENS") == "all"
#: Through so many workbooks goes each garden at least.
LEAST = 2
_FREE = {"name", "title", "date", "current"}  # words of the reader's own


def traits(words: Any, place: str = "") -> Iterator[str]:
    """What is in a garden, out of its plain words: each key, and each word that counts.

    Of sizes, names and notes only that they are there; of lists also how long they are.
    """
    if isinstance(words, Mapping):
        for key, value in words.items():
            yield from traits(value, f"{place}.{key}")
        return
    if isinstance(words, list | tuple):
        yield f"{place}: {min(len(words), 3)}"
        for value in words:
            yield from traits(value, place)
        return
    yield place
    free = place.rsplit(".", 1)[-1] in _FREE
    if isinstance(words, bool) or (isinstance(words, str) and not free):
        if not (isinstance(words, str) and any(c.isdigit() for c in words)):
            yield f"{place} = {words}"


def in_each(gardens: Mapping[str, Any]) -> dict[str, frozenset[str]]:
    """The traits of each garden, and what of a place only others know."""
    found = {name: set(traits(words)) for name, words in gardens.items()}
    every = set().union(*found.values())
    known = {t for t in every if t.startswith(".place.") and not {*"=:"} & {*t}}
    known = {".".join(t.split(".")[:3]) for t in known}
    for met in found.values():
        here = {".".join(t.split(":")[0].split(".")[:3]) for t in met}
        met |= {f"no {t}" for t in known - here}
    return {name: frozenset(met) for name, met in found.items()}


def choose(
    gardens: Mapping[str, frozenset[str]],
    books: Iterable[str],
    always: Mapping[str, Iterable[str]],
) -> dict[str, tuple[str, ...]]:
    """The workbooks of each garden, few in all.

    Parameters
    ----------
    gardens : mapping
        Name of a garden to its traits.
    books : iterable of str
        The workbooks.
    always : mapping
        Name of a garden to workbooks that it meets in any case.

    Returns
    -------
    dict
        Name to workbooks, in their order; each trait of any garden meets each workbook.
    """
    books = tuple(books)
    if ALL:
        return dict.fromkeys(gardens, books)
    taken = {name: set(always.get(name, ())) for name in gardens}
    for book in books:
        open_ = set().union(*gardens.values())
        for name, met in gardens.items():
            if book in taken[name]:
                open_ -= met
        while open_:
            name = max(gardens, key=lambda n: (len(gardens[n] & open_), -len(taken[n])))
            taken[name].add(book)
            open_ -= gardens[name]
    met = {book: sum(book in t for t in taken.values()) for book in books}
    for name in gardens:
        while len(taken[name]) < LEAST:
            book = min(set(books) - taken[name], key=lambda b: (met[b], b))
            taken[name].add(book)
            met[book] += 1
    return {name: tuple(b for b in books if b in taken[name]) for name in gardens}
