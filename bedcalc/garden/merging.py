"""Two versions of one garden put together, against the version both began with."""

from __future__ import annotations

from typing import Any

__all__ = ["merge"]

_GONE = object()
#: what the last one to write decides: nobody is asked about it
_QUIET = ("current", "units", "format")


def _rows(value: Any) -> str:
    """What names the entries of a list: ``name``, ``key``, or nothing."""
    if isinstance(value, list) and value and all(isinstance(v, dict) for v in value):
        for mark in ("key", "name"):
            names = [v.get(mark) for v in value]
            if None not in names and len(set(map(str, names))) == len(names):
                return mark
    return ""


def _keyed(value: Any, mark: str) -> dict:
    return {one[mark]: one for one in value} if isinstance(value, list) else {}


def merge(base: Any, mine: Any, theirs: Any) -> tuple[Any, list[str]]:
    """What both have changed since ``base``, in one.

    Parameters
    ----------
    base, mine, theirs : dict
        Gardens in words (:func:`bedcalc.garden.words.write_garden`).

    Returns
    -------
    merged : dict
        Where both changed the same entry to different values, mine.
    conflicts : list of str
        Those entries, such as ``beds, Tomatoes, length``.
    """
    conflicts: list[str] = []
    return _merged(base, mine, theirs, (), conflicts), conflicts


def _merged(base, mine, theirs, where: tuple[str, ...], conflicts: list[str]):
    if mine == theirs or theirs == base:
        return mine
    if mine == base:
        return theirs
    if isinstance(mine, dict) and isinstance(theirs, dict):
        base = base if isinstance(base, dict) else {}
        found = {}
        for key in dict.fromkeys([*mine, *theirs]):
            versions = (v.get(key, _GONE) for v in (base, mine, theirs))
            value = _merged(*versions, (*where, str(key)), conflicts)
            if value is not _GONE:
                found[key] = value
        return found
    mark = _rows(mine) or _rows(theirs) or _rows(base)
    if mark and mark in (_rows(mine) or mark, _rows(theirs) or mark):
        versions = (_keyed(v, mark) for v in (base, mine, theirs))
        found = _merged(*versions, where, conflicts)
        return list(found.values())
    if where and where[-1] not in _QUIET:
        conflicts.append(", ".join(where))
    return mine
