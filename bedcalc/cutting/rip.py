"""Panels ripped from sheets: strips first, then pieces across, as a person cuts.

The integer program chooses how many sheets to rip in which way and how many strips to
cut in which way. A low strip may lie in a high slot, so for every height the slots at
least that high must be as many as the strips that high.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from time import perf_counter

import numpy as np

from .first_fit import price_step, round_up
from .model import CutError, Saw
from .sheets import Panel, RipPlan, Sheet, SheetCut

__all__ = ["rip_sheets"]

_MOST = 100_000  # patterns of one strip


def rip_sheets(
    panels: Iterable[Panel], sheets: Iterable[Sheet], saw: Saw, *, seconds: float = 1.0
) -> RipPlan:
    """Rip and cross-cut the panels out of the cheapest sheets.

    Parameters
    ----------
    panels : iterable of Panel
        What is needed.
    sheets : iterable of Sheet
        What can be bought. To rip across instead, list the sheet with length and
        width exchanged.
    saw : Saw
        Kerf, and trim off both ends and both edges together.
    seconds : float
        Time budget.

    Returns
    -------
    RipPlan
        Proven, if ``plan.proven``, among all two-stage plans; three stages seldom save
        a sheet and are hard to cut.
    """
    from scipy.optimize import Bounds, LinearConstraint, milp

    start = perf_counter()
    panels, sheets = tuple(panels), tuple(sheets)
    shapes = _shapes(panels, sheets, saw)
    if not shapes.forms:
        return RipPlan(
            panels=panels, sheets=sheets, saw=saw, cuts=(), cost=0, bound=0, seconds=0.0
        )
    rips = shapes.rips()  # (sheet, slots per height)
    strips = shapes.strips()  # (sheet, height, forms)
    step = price_step(sheets)
    number, kinds = len(rips) + len(strips), len(sheets)
    cost = [0.0] * number + [sheet.price / step for sheet in sheets]
    rows, low, high = _counted(shapes, rips, number)
    for i, count in enumerate(shapes.counts):
        made = [
            sum(times for form, times in used if shapes.forms[form][0] == i)
            for *_, used in strips
        ]
        rows.append([0] * len(rips) + made + [0] * kinds)
        low.append(count)
        high.append(np.inf)
    for s in range(len(sheets)):
        for h, height in enumerate(shapes.heights):
            slots = [sum(slot[h:]) if sheet == s else 0 for sheet, slot in rips]
            taken = [-int(sheet == s and top >= height) for sheet, top, _ in strips]
            rows.append(slots + taken + [0] * kinds)
            low.append(0)
            high.append(np.inf)
    most = [np.inf if sheet.limit is None else sheet.limit for sheet in sheets]
    found = milp(
        cost,
        constraints=LinearConstraint(np.array(rows, dtype=float), lb=low, ub=high),
        integrality=np.ones(len(cost)),
        bounds=Bounds(0, [np.inf] * number + most),
        options={"time_limit": seconds, "mip_rel_gap": 0},
    )
    if found.x is None:
        raise CutError(
            "sheet: no plan found within the limits; raise a limit, add a size or "
            f"allow more than {seconds:g} s"
        )
    times = np.rint(found.x).astype(int)[:number]
    cuts = shapes.lay(rips, strips, times)
    total = sum(cut.sheet.price for cut in cuts)
    bound = round_up(int(np.ceil(found.mip_dual_bound - 1e-4)) * step, step)
    return RipPlan(
        panels=panels,
        sheets=sheets,
        saw=saw,
        cuts=cuts,
        cost=total,
        bound=min(bound, total),
        seconds=perf_counter() - start,
    )


def _counted(shapes: _Shapes, rips, number: int):
    """Rows that count the sheets of each size, and ask for area enough in all.

    The counts are integers of their own: that, and the area, help the proof much.
    """
    kerf, trim = shapes.saw.kerf, shapes.saw.trim
    kinds = len(shapes.sheets)
    rows = np.zeros((kinds + 1, number + kinds))
    for column, (s, _) in enumerate(rips):
        rows[s, column] = -1
    rows[:kinds, number:] = np.eye(kinds)
    areas = np.array(
        [(s.length - trim + kerf) * (s.width - trim + kerf) for s in shapes.sheets]
    )
    wanted = sum(
        (length + kerf) * (width + kerf) * count
        for (length, width, _), count in zip(shapes.kinds, shapes.counts, strict=True)
    )
    rows[kinds, number:] = areas / areas.max()
    low = [0.0] * kinds + [wanted / areas.max() - 1e-9]
    return [*rows], low, [np.inf] * (kinds + 1)


@dataclass(frozen=True, kw_only=True)
class _Shapes:
    """Panels merged by size; each form is (panel kind, length, height as it lies)."""

    panels: tuple[Panel, ...]
    sheets: tuple[Sheet, ...]
    saw: Saw
    kinds: tuple[tuple[int, int, bool], ...]
    counts: tuple[int, ...]
    forms: tuple[tuple[int, int, int], ...]
    heights: tuple[int, ...]

    def rips(self):
        """All full ways to rip each sheet into slots: (sheet, slots per height)."""
        found = []
        for s, sheet in enumerate(self.sheets):
            room = sheet.width - self.saw.trim + self.saw.kerf
            needs = [height + self.saw.kerf for height in self.heights]
            for slots in _fillings(needs, [room] * len(needs), room):
                found.append((s, slots))
        return found

    def strips(self):
        """All full ways to cut each strip: (sheet, height, ((form, times), ...))."""
        found = []
        for s, sheet in enumerate(self.sheets):
            room = sheet.length - self.saw.trim + self.saw.kerf
            for height in self.heights:
                forms = [f for f, form in enumerate(self.forms) if form[2] <= height]
                needs = [self.forms[f][1] + self.saw.kerf for f in forms]
                most = [self.counts[self.forms[f][0]] for f in forms]
                for row in _fillings(needs, most, room):
                    used = tuple((f, t) for f, t in zip(forms, row, strict=True) if t)
                    if any(self.forms[f][2] == height for f, _ in used):
                        found.append((s, height, used))
        return found

    def lay(self, rips, strips, times) -> tuple[SheetCut, ...]:
        """Put the strips into the slots and the panels into the strips."""
        names: dict[tuple, list[str]] = {}
        for panel in reversed(self.panels):
            names.setdefault(_kind(panel), []).extend([panel.label] * panel.count)
        rows = []
        for (s, height, used), number in zip(strips, times[len(rips) :], strict=True):
            rows += [(s, height, used)] * int(number)
        rows.sort(key=lambda row: -row[1])
        cuts = []
        for (s, slots), number in zip(rips, times[: len(rips)], strict=True):
            for _ in range(int(number)):
                cuts.append(self._sheet(s, slots, rows, names))
        return tuple(cut for cut in cuts if cut.panels)

    def _sheet(self, s, slots, rows, names) -> SheetCut:
        """One sheet, its strips taken off ``rows``, the highest slot first."""
        half, kerf = self.saw.trim // 2, self.saw.kerf
        y, bands, placed = half, [], []
        for h in reversed(range(len(slots))):
            for _ in range(slots[h]):
                fits = (
                    r for r in rows if r[0] == s and r[1] <= self.heights[h]
                )  # the highest strip that fits this slot
                row = next(fits, None)
                if row is None:
                    continue
                rows.remove(row)
                x, panels = half, []
                for form, number in row[2]:
                    kind, length, width = self.forms[form]
                    for _ in range(number):
                        if names[self.kinds[kind]]:
                            label = names[self.kinds[kind]].pop()
                            panels.append((label, x, y, length, width))
                            x += length + kerf
                if panels:
                    top = max(width for *_, width in panels)
                    bands.append((y, y + top))
                    placed += panels
                    y += top + kerf
        return SheetCut(sheet=self.sheets[s], strips=tuple(bands), panels=tuple(placed))


def _kind(panel: Panel) -> tuple[int, int, bool]:
    return panel.length, panel.width, panel.turn and panel.length != panel.width


def _shapes(panels, sheets, saw) -> _Shapes:
    counts: dict[tuple[int, int, bool], int] = {}
    for panel in panels:
        if panel.count:
            _fits_or_teach(panel, sheets, saw)
            counts[_kind(panel)] = counts.get(_kind(panel), 0) + panel.count
    kinds = tuple(sorted(counts, reverse=True))
    forms = [(i, length, width) for i, (length, width, _) in enumerate(kinds)]
    forms += [(i, w, length) for i, (length, w, turn) in enumerate(kinds) if turn]
    return _Shapes(
        panels=panels,
        sheets=sheets,
        saw=saw,
        kinds=kinds,
        counts=tuple(counts[kind] for kind in kinds),
        forms=tuple(forms),
        heights=tuple(sorted({height for *_, height in forms})),
    )


def _fits_or_teach(panel: Panel, sheets, saw) -> None:
    """Raise a helpful error if a panel is larger than every sheet."""
    ways = [(panel.length, panel.width)]
    ways += [(panel.width, panel.length)] if panel.turn else []
    for sheet in sheets:
        long, wide = sheet.length - saw.trim, sheet.width - saw.trim
        if any(length <= long and width <= wide for length, width in ways):
            return
    sizes = ", ".join(f"{s.length / 10:g} x {s.width / 10:g}" for s in sheets) or "none"
    hint = "" if panel.turn else "; allow turn=True if grain and ribs do not matter"
    raise CutError(
        f"panel {panel.label!r}: {panel.length / 10:g} x {panel.width / 10:g} mm fits "
        f"no sheet ({sizes} mm, less {saw.trim / 10:g} mm of trim){hint}"
    )


def _fillings(needs, most, room):
    """All ways to fill a room to which nothing could be added, depth first."""
    order = sorted(range(len(needs)), key=lambda i: -needs[i])
    rows: list[tuple[int, ...]] = []

    def deeper(at, left, taken):
        if len(rows) > _MOST:
            raise CutError("panels: too many different sizes for one plan; split it")
        if at == len(order):
            if all(needs[i] > left or taken[i] == most[i] for i in order):
                rows.append(tuple(taken))
            return
        i = order[at]
        for number in range(min(most[i], left // needs[i]), -1, -1):
            taken[i] = number
            deeper(at + 1, left - number * needs[i], taken)
        taken[i] = 0

    deeper(0, room, [0] * len(needs))
    return [row for row in rows if any(row)]
