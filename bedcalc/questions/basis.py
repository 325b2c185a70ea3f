"""Why, and from where: what stands behind a verdict or a headline.

data/basis.csv has one row for every name a
:class:`bedcalc.model.outcome.Check` can have, and
one for every headline: the formula in words, the numbers that go in, and the sources.
Numbers are read from the outcome as it stands; nothing is worked out a second time.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from ..model.outcome import Amount, Check, Outcome, Part
from ..model.straightness import BOWS, bow_words
from ..tables import LABELS, Row, label, table
from ..units import from_si, show

__all__ = ["Basis", "Source", "basis_of", "because", "notes", "parts_of", "source_line"]

#: label of what the reader has given
OWN = "your own"
_DEMO_PRICES = "example price list"  # how the column ``sources`` names it
#: what of a bed may stand among the numbers that go in: meaning and kind
_BED = {
    "length": ("Length, outside", "size"),
    "width": ("Width, outside", "size"),
    "height": ("Height", "size"),
    "freeboard": ("Soil below the rim", "stock"),
    "wall_thickness": ("Thickness of the wall", "stock"),
    "post_depth": ("Depth of the posts in the ground", "stock"),
    "ties": ("Ties on top", ""),
    "base_ties": ("Ties at the foot", ""),
}

#: which rules a timber standard belongs to
_ROUTES = {"en1995": "en", "nds_2018": "us"}


def source_line(key: str, where: str = "") -> str:
    """A source in one line of plain text, honest about its kind."""
    row = table("sources")[key]
    if row.kind in LABELS:
        return ", ".join(filter(None, (row.kind, where)))
    parts = (row.author, row.title, f"({edition(row)})", where)
    return ", ".join(filter(None, parts)).replace(", (", " (")


def edition(row: Row) -> str:
    """Which edition was used: number and year, year, or that nobody noted it."""
    if row.edition == "not noted":
        return "edition not noted"
    if row.edition == row.year:
        return row.year
    year = f", {row.year}" if len(row.edition) < 4 else ""
    return f"edition {row.edition}{year}"


@dataclass(frozen=True)
class Source:
    """One source of a verdict: key, page or clause, and how honest it is."""

    key: str
    where: str

    @property
    def label(self) -> str:
        """One of :data:`bedcalc.tables.LABELS`, or that it is the reader's own."""
        if self.key == OWN:
            return OWN
        return label(self.key, self.where)

    @property
    def cited(self) -> str:
        """Label and line together, for paper."""
        return f"{self.label}: {self.line}"

    @property
    def line(self) -> str:
        """Author, title, edition and place; of an honest kind only the place."""
        if self.key == OWN:
            return self.where
        if table("sources")[self.key].kind in LABELS:
            return self.where
        return source_line(self.key, self.where)


@dataclass(frozen=True)
class Basis:
    """The formula in words, (meaning, value) of what goes in, and the sources."""

    title: str
    words: str
    inputs: tuple[tuple[str, str], ...]
    sources: tuple[Source, ...]

    def short(self) -> Basis:
        """The same with the last of its numbers only: the share that is used."""
        return replace(self, inputs=self.inputs[-1:])


def parts_of(outcome: Outcome, **more: Any) -> dict[str, Any]:
    """The parts of an outcome by name, as the column ``reads`` calls them.

    Parameters
    ----------
    outcome : Outcome
    **more
        Other parts, such as ``posture``.
    """
    names = ("bed", "place", "size", "fill", "walls", "cost", "water", "seasons")
    return {name: getattr(outcome, name, None) for name in names} | more


def because(check: Check, parts: Mapping[str, Any], system: str = "metric") -> Basis:
    """What stands behind a verdict.

    Parameters
    ----------
    check : Check
    parts : mapping of name to part
        Where the numbers that go in are read, see :func:`parts_of`.
    system : str
        The reader's units.
    """
    row = table("basis")[check.name]
    counted = check.chapter == "site" and check.kind == "ratio"
    told = [] if counted else [("Used of what there is", check.used())]
    if check.straight:
        told = [("Aim, one part of the span in", f"{check.parts:.0f}")]
    bows = not check.beyond  # past what the sums carry, no bow is said
    return _basis(row, told, parts, system, check.source, bows)


def basis_of(key: str, parts: Mapping[str, Any], system: str = "metric") -> Basis:
    """What stands behind a headline or a view: ``"headline.bill"``, ``"view.push"``."""
    return _basis(table("basis")[key], [], parts, system, "")


def sources_of(row: Row, used: str, route: str = "") -> tuple[Source, ...]:
    """The sources of a row: what always holds, what a check names, the wood's rules.

    Parameters
    ----------
    row : Row
        Of data/basis.csv. A key with ``*`` before it always holds, one with ``~`` where
        the wood goes by these rules, any other where the check names it.
    used : str
        Key of the source that the check names.
    route : str
        Rules of the wood: ``en`` or ``us``.
    """
    found = []
    for entry in row.sources.split("|"):
        key, _, where = entry.partition("@")
        plain = key.lstrip("*~")
        ruled = key.startswith("~") and _ROUTES.get(plain) == route
        if key.startswith("*") or key == used or ruled:
            found.append(Source(plain, where))
    return tuple(found)


def _priced(found: Iterable[Source], place: Any) -> Iterator[Source]:
    """The sources, with the price list that was really used."""
    prices = getattr(place, "prices", None)
    for source in found:
        if not source.where.startswith(_DEMO_PRICES) or place is None:
            yield source
        elif prices is not None and prices.invented:
            yield source
        elif prices is not None:
            dated = f", prices of {prices.date}" if prices.date else ""
            yield Source(OWN, f"price list {prices.name}{dated}")


def _basis(row: Row, told, parts, system: str, used: str, bows: bool = True) -> Basis:
    reads = [path for path in row.reads.split() if bows or ".bow" not in path]
    inputs = [_value(path, parts, system) for path in reads]
    route = getattr(getattr(parts.get("walls"), "si", None), "route", "")
    return Basis(
        title=row.title,
        words=row.words,
        inputs=(*filter(None, inputs), *told),
        sources=tuple(_priced(sources_of(row, used, route), parts.get("place"))),
    )


def _value(path: str, parts, system: str) -> tuple[str, str] | None:
    """Meaning and value of one number; None where this bed has no such number."""
    part, *way, last = path.split(".")
    owner = parts.get(part)
    for step in way:
        owner = owner.get(step) if isinstance(owner, Mapping) else getattr(owner, step)
    if owner is None:
        return None
    if part == "place":
        return ("Ground", owner.ground.name if owner.soil else "not known")
    if part == "bed":
        meaning, kind = _BED[last]
        value = getattr(owner.si, last, getattr(owner, last, None))
    else:
        meaning, value, kind = _amount(owner, last, way)
        bow = last.removeprefix("bow_")
        if bow in BOWS and bow != last and not np.ndim(value):
            return meaning, bow_words(owner, bow, system)
    if value is None or np.ndim(value) or not np.isfinite(value):
        return None
    return meaning, show(value, kind, system) if kind else f"{value:.3g}"


def _amount(part: Part, name: str, way: list[str]) -> tuple[str, Any, str]:
    field = type(part).declared()[name]
    meaning = field.meaning
    if way:
        meaning += f", {way[-1]}"
    value = getattr(part.si, name)
    if isinstance(field, Amount) and not field.kind and value is not None:
        value = from_si(value, field.unit).m
        return f"{meaning} [{field.unit}]" if field.unit else meaning, value, ""
    return meaning, value, getattr(field, "kind", "")


def notes(
    told: Iterable[tuple[str, Basis]], more: Iterable[Basis] = ()
) -> list[tuple[str, str, str, str]]:
    """Rows for a page of notes: title, formula in words, what goes in, sources.

    What several beds have in common is said once.

    Parameters
    ----------
    told : iterable of (name, Basis)
        The verdicts, each with the name of its bed; an empty name is left out.
    more : iterable of Basis
        Headlines, said first.
    """
    rows: dict[tuple[str, str], list] = {}
    for name, basis in (*(("", one) for one in more), *told):
        row = rows.setdefault((basis.title, basis.words), [[], []])
        words = "; ".join(f"{meaning} {value}" for meaning, value in basis.inputs)
        row[0].append(f"{name}: {words}" if name and words else words)
        row[1] += [one.cited for one in basis.sources if one.cited not in row[1]]
    return [
        (title, words, ". ".join(filter(None, given)), ". ".join(cited))
        for (title, words), (given, cited) in rows.items()
    ]
