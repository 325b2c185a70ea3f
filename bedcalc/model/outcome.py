"""What follows from a bed: parts of numbers with units, and checks that are data.

A chapter answers with a :class:`Part`: amounts kept in SI (``part.si.name``, a float
or an array over many designs) and read as quantities (``part.name``). A chapter's
verdicts are :class:`Check` objects; figure, panel, sheet and workbook all read the
same list, so they cannot disagree.
"""

from __future__ import annotations

import functools
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

import numpy as np

from ..tables import Row
from ..units import KINDS, Q_, Units, from_si, number, show
from .bed import Bed
from .place import Place
from .straightness import NO_NUMBER, PAST, SUMS_END, one_in, said, scale

if TYPE_CHECKING:  # names for an editor; nothing is imported from a higher floor
    from ..cost import Cost
    from ..fill import Fill
    from ..seasons import Seasons
    from ..site import Site
    from ..size import Size
    from ..walls import Walls
    from ..water import Water

__all__ = [
    "MOST_SAID", "STRAIGHT", "STRENGTH", "Amount", "Check", "Fix", "Outcome", "Part",
    "Plain", "named", "price_words", "with_sizes",
]  # fmt: skip  # a list of names


#: a use of more than this says no more; with a capacity of nothing it would be endless
MOST = 1000.0
_WORDS = {"holds": "holds", "watch": "holds, watch it", "fails": "does not hold"}
_SIGNS = {"holds": "✓", "watch": "!", "fails": "✕"}


class Amount:
    """A number of a part: SI inside, a quantity in ``unit`` when read."""

    def __init__(self, unit: str, meaning: str, kind: str = ""):
        self.unit, self.meaning, self.kind = unit, meaning, kind

    def __set_name__(self, owner, name):
        self.name = name

    def __get__(self, part, owner=None):
        if part is None:
            return self
        value = getattr(part.si, self.name)
        return None if value is None else from_si(value, self.unit)


class Plain:
    """A field of a part that has no unit: a name, a count, a list."""

    def __init__(self, meaning: str):
        self.meaning = meaning

    def __set_name__(self, owner, name):
        self.name = name

    def __get__(self, part, owner=None):
        return self if part is None else getattr(part.si, self.name)


class Part:
    """All numbers of one chapter, filled at once.

    Subclasses declare ``Amount`` and ``Plain`` fields. Every declared field must be
    given; nothing else may be given; nothing can be changed afterwards.
    """

    def __init__(self, **si: Any):
        declared = self.declared()
        if set(si) != set(declared):
            missing, extra = set(declared) - set(si), set(si) - set(declared)
            raise TypeError(
                f"{type(self).__name__}: missing {sorted(missing)}, "
                f"not declared {sorted(extra)}"
            )
        object.__setattr__(self, "si", SimpleNamespace(**si))

    @classmethod
    @functools.cache
    def declared(cls) -> dict[str, Amount | Plain]:
        """Every declared field by name, in the order of the class."""
        found = {}
        for klass in reversed(cls.__mro__):
            for name, value in vars(klass).items():
                if isinstance(value, Amount | Plain):
                    found[name] = value
        return found

    def __setattr__(self, name, value):
        raise AttributeError(
            f"{type(self).__name__} cannot be changed: change the bed, evaluate again"
        )

    def __repr__(self):
        return f"<{type(self).__name__}: {', '.join(self.declared())}>"


def named(text: str) -> str:
    """A name the reader gave, safe inside a sentence with places to fill."""
    return text.replace("{", "{{").replace("}", "}}")


def price_words(more: Q_, system: str = "metric") -> str:
    """What a change costs: ``11 €``, ``saves 3 €``, ``no cost``, ``no price yet``.

    Parameters
    ----------
    more : quantity or float
        Money that everything costs more with it; not-a-number if nobody knows.
    system : str
        The reader's units, with the currency.
    """
    coins = float(getattr(more, "m", more))
    if abs(coins) < 0.5:
        return "no cost"
    return f"{'saves ' if coins < 0 else ''}{show(abs(coins), 'money', system)}"


_SIZE = re.compile(r"\{(\w+):([\w ]+)\}")


def with_sizes(says: str, sizes: Mapping[str, Any], system: str = "metric") -> str:
    """A sentence with its sizes put in: ``{width:depth}`` becomes ``112 cm``.

    Parameters
    ----------
    says : str
        With names of ``sizes`` and kinds of numbers in braces.
    sizes : mapping
        Quantities by name.
    system : str
        The reader's units.
    """

    def put(match: re.Match) -> str:
        name, kind = match.groups()
        if name not in sizes or kind not in KINDS:
            return match[0]  # such as a bed that somebody has named so
        return show(sizes[name], kind, system)

    return _SIZE.sub(put, says)


@dataclass(frozen=True, kw_only=True)
class Fix:
    """A change to the bed that would put a failed check right.

    ``says`` tells it, with sizes by name and kind, as ``{width:depth}``: those of
    ``change``, or of ``sizes`` where the change holds no such number. ``change`` is
    for :meth:`bedcalc.Bed.change`. ``cost`` (what the whole bed costs more) and
    ``works`` (the check passes then) come from evaluating the changed bed the same
    way, the first time somebody asks.
    """

    says: str
    change: Mapping[str, Any] = field(default_factory=dict)
    sizes: Mapping[str, Any] = field(default_factory=dict)
    trial: Callable[[], tuple[float, bool]] | None = field(
        default=None, compare=False, repr=False
    )

    @cached_property
    def _tried(self) -> tuple[float, bool] | None:
        return self.trial() if self.trial else None

    @property
    def cost(self):
        """What the bed costs more with it (money), or None if it was not tried."""
        return from_si(self._tried[0], "money") if self._tried else None

    @property
    def works(self) -> bool | None:
        """Whether the check passes with it, or None if it was not tried."""
        return self._tried[1] if self._tried else None

    def sentence(self, system: str = "metric") -> str:
        """What to do, in the reader's units."""
        return with_sizes(self.says, {**self.change, **self.sizes}, system)


STRENGTH, STRAIGHT = "strength", "straightness"
#: a part that uses more than this of its strength breaks; how much more says nothing
MOST_SAID = 3.0


@dataclass(frozen=True, kw_only=True)
class Check:
    """One verdict as data.

    ``demand`` against ``capacity`` (quantities of one kind). With ``at_least`` the
    demand is what is needed and the capacity what is there, either way a utilisation
    up to 1 passes. ``aim`` (0 to 1) is the utilisation to stay under for comfort:
    between aim and 1 the verdict is "watch". ``detail`` marks a check that a short list
    may leave out while it holds, or while a main check of its chapter fails; one that
    is ``always`` shown is a warning that nothing hides.

    ``family`` says what it is about. Strength (breaks, tips, slides, is pulled out)
    holds or does not hold. Straightness has a place on a scale of looks; its capacity
    is the reader's aim, one part of the span in ``parts``. Where ``past``, the sums
    carry no number: then none is said. ``part`` names the piece that it is about, for
    :func:`bedcalc.assembly.pieces_of`; empty where there is none. ``goes`` says of
    straightness what bends: ``its foot moves out``. ``says`` and
    ``note`` may name ``sizes`` by name and kind, as a fix does.
    """

    name: str
    says: str
    demand: Any
    capacity: Any
    source: str
    kind: str = "ratio"
    aim: float = 1.0
    chapter: str = ""
    fix: Fix | None = None
    note: str = ""
    detail: bool = False
    always: bool = False
    family: str = STRENGTH
    parts: float = 0.0
    past: Any = False
    subject: str = ""
    part: str = ""
    goes: str = "it bows"
    sizes: Mapping[str, Any] = field(default_factory=dict)

    @cached_property
    def utilisation(self):
        """Demand over capacity, a ratio up to ``MOST`` (array for many designs)."""
        demand, capacity = self.demand, self.capacity
        # fast path: identical unit objects need no conversion
        if demand._units is not capacity._units and demand.units != capacity.units:
            capacity = capacity.to(demand.units)
        demand, capacity = demand.m, capacity.m
        if isinstance(demand, float) and isinstance(capacity, float) and capacity:
            return min(float(demand / capacity), MOST) if demand > 0 else 0.0
        demand, capacity = np.asarray(demand), np.asarray(capacity)
        with np.errstate(divide="ignore", invalid="ignore"):
            ratio = np.where(demand > 0, np.minimum(demand / capacity, MOST), 0.0)
        return ratio if ratio.ndim else float(ratio)

    @cached_property
    def ok(self):
        """True where the demand stays within the capacity."""
        passed = self.utilisation <= 1.0 + 1e-9
        if passed is True or passed is False:
            return passed
        return passed if np.ndim(passed) else bool(passed)

    @property
    def straight(self) -> bool:
        """Whether it is about looks, not about strength."""
        return self.family == STRAIGHT

    @property
    def level(self) -> Row:
        """Where a bow lies on the scale of data/bulges.csv, for one design."""
        return scale(self.utilisation / self.parts)

    @property
    def beyond(self) -> bool:
        """Whether the sums carry no number any more, for one design."""
        far = self.straight and self.utilisation / self.parts > SUMS_END * (1 + 1e-9)
        return bool(far or self.past)

    @property
    def verdict(self) -> str:
        """One word as a key, for one design.

        Of strength ``holds``, ``watch`` (past the aim) or ``fails``; of straightness
        ``straight``, ``seen``, ``bowed`` or ``act``.
        """
        if self.straight:
            return self.level.key
        if not self.ok:
            return "fails"
        return "holds" if self.utilisation <= self.aim + 1e-9 else "watch"

    @property
    def word(self) -> str:
        """The verdict as it is read: ``holds``, ``plainly bowed``."""
        return self.level.name if self.straight else _WORDS[self.verdict]

    @property
    def sign(self) -> str:
        """One letter for it: what is told apart by colour is told apart without."""
        return self.level.sign if self.straight else _SIGNS[self.verdict]

    @property
    def rank(self) -> int:
        """What is read first: what does not hold, then what bows more than wanted."""
        if self.straight:
            return 4 if self.ok else 1
        return {"fails": 0, "watch": 3, "holds": 4}[self.verdict]

    def used(self) -> str:
        """The utilisation in words; past three times it only says so."""
        if self.utilisation > MOST_SAID:
            return f"over {number(100 * MOST_SAID, 0)} %"
        return show(self.utilisation, "percent")

    def asked(self, system: str = "metric") -> str:
        """The demand in words; of a bow only as many digits as it is worth."""
        if not self.straight:
            return show(self.demand, self.kind, system)
        if self.beyond:
            return NO_NUMBER
        return said(self.demand, self.utilisation / self.parts, self.kind, system)

    def sentence(self, system: str = "metric") -> str:
        """The verdict in words, numbers in the reader's units."""
        if self.straight and self.beyond:
            past = PAST
            if "moves" in self.goes:
                past = past.replace("bows so badly", "moves out so far")
            return f"{self.subject} {past}: {self.word}."
        ratio = level = ""
        if self.straight:
            ratio, level = one_in(self.utilisation / self.parts), self.word
        return with_sizes(self.says, self.sizes, system).format(
            demand=self.asked(system),
            capacity=show(self.capacity, self.kind, system),
            aim=show(self.capacity * self.aim, self.kind, system),
            percent=self.used(),
            ratio=ratio,
            level=level,
            parts=number(self.parts, 0),
        )

    def remark(self, system: str = "metric") -> str:
        """The note in the reader's units."""
        return with_sizes(self.note, self.sizes, system)

    def without_way(self, words: str) -> Check:
        """The same check, with the words that no fix helps."""
        return replace(self, says=self.says + words, fix=None)

    def with_fix(self, fix: Fix | None) -> Check:
        """The same check with another fix."""
        return replace(self, fix=fix)


@dataclass(frozen=True, kw_only=True)
class Outcome:
    """Everything that follows from one bed in one place, one part a chapter.

    ``checks`` lists all verdicts, the worst first. ``cost`` is None for a sweep.
    ``later`` holds what is worked out only when somebody asks.
    """

    bed: Bed
    place: Place
    size: Size
    fill: Fill
    site: Site
    walls: Walls
    cost: Cost | None
    checks: tuple[Check, ...]
    later: Mapping[str, Callable[[], Any]] = field(
        default_factory=dict, repr=False, compare=False
    )

    @cached_property
    def water(self) -> Water:
        """What it uses and holds of water, worked out when somebody asks; one bed."""
        return self.later["water"]()

    @cached_property
    def seasons(self) -> Seasons:
        """What the years do to it, worked out when somebody asks."""
        return self.later["seasons"]()

    def units(self, system: str = "metric") -> Units:
        """How its numbers are shown: metric or US, in the currency of the place."""
        return self.place.units(system)

    def check(self, name: str) -> Check | None:
        """The check of this name, or None where it does not apply."""
        return next((c for c in self.checks if c.name == name), None)
