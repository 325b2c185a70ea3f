"""Panels and the sheets they are ripped from: what goes in and what comes out.

Two stages. First the sheet is ripped into strips from edge to edge, then each strip is
cut across into panels; a panel lower than its strip is trimmed at last. Every cut runs
from edge to edge of what is on the bench, so it can be made safely along a guide.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from .model import Coins, CutError, Saw, Tenths, as_coins, as_tenths, put, whole_number

__all__ = ["Panel", "RipPlan", "Sheet", "SheetCut"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Panel:
    """Equal panels to be cut.

    Parameters
    ----------
    label : str
        What stands on the panel.
    length, width : quantity [m], or Tenths
        Kept in whole tenths of a millimetre; the length lies along the strip.
    count : int
        How many.
    turn : bool
        May be turned by a quarter: no, where grain or ribs decide.
    """

    label: str
    length: Tenths
    width: Tenths
    count: int
    turn: bool = False

    def __post_init__(self):
        owner = f"panel {self.label!r}"
        put(self, length=as_tenths(owner, "length", self.length, 1, "1200"))
        put(self, width=as_tenths(owner, "width", self.width, 1, "400"))
        whole_number(owner, "count", self.count, 0, "count=12")


@dataclass(frozen=True, kw_only=True, slots=True)
class Sheet:
    """Sheets of one size that can be bought.

    Parameters
    ----------
    key : str
        Its name on the list.
    length, width : quantity [m], or Tenths
        Kept in whole tenths of a millimetre; strips run along the length.
    price : quantity [money], or Coins
        Of one sheet.
    limit : int, optional
        How many there are.
    """

    key: str
    length: Tenths
    width: Tenths
    price: Coins
    limit: int | None = None

    def __post_init__(self):
        owner = f"sheet {self.key!r}"
        put(self, length=as_tenths(owner, "length", self.length, 1, "2440"))
        put(self, width=as_tenths(owner, "width", self.width, 1, "1220"))
        put(self, price=as_coins(owner, "price", self.price))
        if self.limit is not None:
            whole_number(owner, "limit", self.limit, 0, "limit=3")


@dataclass(frozen=True, kw_only=True)
class SheetCut:
    """One sheet and its panels as (label, x, y, length, width), strip by strip."""

    sheet: Sheet
    strips: tuple[tuple[int, int], ...]  # from, to across the sheet
    panels: tuple[tuple[str, int, int, int, int], ...]


@dataclass(frozen=True, kw_only=True)
class RipPlan:
    """How to rip the sheets, with what is proven about the cost of two-stage plans."""

    panels: tuple[Panel, ...]
    sheets: tuple[Sheet, ...]
    saw: Saw
    cuts: tuple[SheetCut, ...]
    cost: int
    bound: int
    seconds: float

    @property
    def proven(self) -> bool:
        """No two-stage plan is cheaper."""
        return self.bound >= self.cost

    @property
    def waste_share(self) -> float:
        """Area that is not in a panel, over area of all sheets."""
        used = sum(p.length * p.width * p.count for p in self.panels)
        area = sum(cut.sheet.length * cut.sheet.width for cut in self.cuts)
        return 1 - used / area if area else 0.0

    def check(self) -> RipPlan:
        """Go through every sheet again and return the plan, or say what is wrong."""
        half, kerf = self.saw.trim // 2, self.saw.kerf
        got = Counter()
        for cut in self.cuts:
            long = cut.sheet.length - (self.saw.trim - half)
            wide = cut.sheet.width - (self.saw.trim - half)
            free = half
            for low, high in cut.strips:
                if low < free or high > wide:
                    raise CutError(f"plan: strips of {cut.sheet.key!r} do not fit")
                free = high + kerf
            for i, (label, x, y, length, width) in enumerate(cut.panels):
                got[label, max(length, width), min(length, width)] += 1
                strip = next((s for s in cut.strips if s[0] == y), None)
                if strip is None or y + width > strip[1]:
                    raise CutError(f"plan: {label!r} lies outside its strip")
                if x < half or x + length > long:
                    raise CutError(f"plan: {label!r} lies outside its sheet")
                for _, x2, y2, length2, _ in cut.panels[:i]:
                    if y2 == y and x < x2 + length2 + kerf and x2 < x + length + kerf:
                        raise CutError(f"plan: {label!r} lies on another panel")
        wanted = Counter()
        for p in self.panels:
            key = (p.label, max(p.length, p.width), min(p.length, p.width))
            wanted[key] += p.count
        if got != +wanted:
            raise CutError(f"plan: panels {dict(got)}, wanted {dict(wanted)}")
        if sum(cut.sheet.price for cut in self.cuts) != self.cost:
            raise CutError("plan: the cost is not the sum of its sheets")
        return self
