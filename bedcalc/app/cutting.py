"""Panels of workbook 04: the strip game, the plan, the sheet, lengths, questions."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from ..figures.cutting import BoardRow, lengths_figure, spots_figure, strips_figure
from ..model.bed import BedError, Wall
from ..model.outcome import Outcome
from ..model.place import Place
from ..model.prices import goods_name
from ..questions.cut_changes import length_sweep, spots
from ..questions.cut_garden import (
    CutError,
    cut_garden,
    nothing_to_cut,
    sections,
    sheet_ways,
)
from ..tables import table
from ..units import Q_, Units, show
from .cutting_game import StripGame, strip_game
from .cutting_plan import Cutter, cutter
from .cutting_sheet import SheetMaker, sheet_maker
from .kit.controls import list_row, slider_row
from .kit.grading import Item, Key, Question
from .kit.style import care, html, paper
from .kit.view import Desk, View, facts_html, facts_table, when_new
from .kit.words import plain, source_line

__all__ = [
    "Cutter", "KEYS", "SheetMaker", "StripGame", "cutter", "holes", "item",
    "kerf_view", "lengths_view", "real_sizes", "sheet_maker", "sheets_block",
    "spots_view", "strip_game",
]  # fmt: skip  # a list of names


# ---- views with sliders


def kerf_view(about: Desk) -> View:
    """Pieces from one board with and without the saw cuts."""

    def render(values, size):
        board = values["board"].m_as("mm")
        piece, kerf = values["piece"].m_as("mm"), values["kerf"].m_as("mm")
        want = int(values["number"])
        fit = int((board + kerf) // (piece + kerf) + 1e-9)
        good = [
            (f"{piece:.0f}", n * (piece + kerf), n * (piece + kerf) + piece)
            for n in range(min(fit, want))
        ]
        end = want * piece + (want - 1) * kerf
        short = end - board
        lost = []
        if fit < want:
            lost = [(f"{short:.1f} mm too short", end - piece, end)]
            title = f"Only {fit} of {want} come out"
            words = (
                f"{want} × {piece:.0f} is {want * piece:.0f} mm. But the saw turns "
                f"{(want - 1) * kerf:.1f} mm into dust: the last piece would be "
                f"**{short:.1f} mm too short**."
            )
        else:
            title = f"{want} of {piece:.0f} mm come out"
            words = f"All {want} come out, and {board - end:.1f} mm are left."
        long_ = (board - (want - 1) * kerf) / want
        words += f" The longest of {want} equal pieces is {long_:.1f} mm."
        row = BoardRow(
            title=f"board of {board:.0f} mm",
            board=board,
            pieces=tuple(good),
            wrong=tuple(lost),
        )
        drawing = strips_figure(
            [row], title=title, under=f"saw cut {kerf:.1f} mm, ends not trimmed",
            caption="Each dark line is wood turned to dust.", least=2, **size,
        )  # fmt: skip  # rows of a table
        return drawing, words

    rows = [
        slider_row("Board", "mm", 1000, 5400, 10, 2400, name="board"),
        slider_row("Piece", "mm", 200, 2000, 1, 600, name="piece"),
        slider_row("How many", "", 2, 8, 1, 4, name="number"),
        slider_row("Saw cut", "mm", 0, 6, 0.1, about.place.kerf, name="kerf"),
    ]
    return View(
        about,
        rows,
        render,
        name="kerf",
        reads=when_new(lambda: {"kerf": about.place.kerf}),
    )


_NONE = [("", "nothing of several lengths")]


def _several(place: Place) -> dict[str, str]:
    """What is sold in several lengths: key and name."""
    found = {}
    for key, rows in place.goods.items():
        lengths = {row.length for row in rows if row.length > 0 and row.price > 0}
        if len(lengths) > 1 and rows[0].group in ("timber", "metal"):
            found[key] = rows[0].name
    return found


def spots_view(about: Desk) -> View:
    """Choose a section and a length; see where the next sweet spot is."""
    row = list_row("Cut from", _NONE, "", name="goods")

    def reads():
        goods = _several(about.place)
        needed = sections([about.bed], about.place)
        first = next((key for key in (*needed, *goods) if key in goods), "")
        now = row.value if row.value in goods else first
        row.relist(list(goods.items()) or _NONE, now)
        return {"goods": now}

    def render(values, size):
        key, at, place = values["goods"], values["at"].m_as("mm"), about.place
        if not key:
            lacks = (
                "There is no price list yet"
                if place.prices is None
                else ("The price list has no board, post or rod of several lengths")
            )
            return None, (
                f"{lacks}, so there is no sweet spot to look for. Type lengths and "
                "prices into the panel of the plan above."
            )
        longest = max(row.length for row in place.goods[key])
        lengths = [0.5 + 0.002 * n for n in range(int((longest - 0.5) / 0.002))]
        try:
            found = spots(key, place, lengths)
        except CutError as error:
            return None, f"Not known yet: {error}."
        name = goods_name(key, place.goods)
        drawing = spots_figure(found, at, name, system=about.system, **size)
        size = show(Q_(at, "mm"), "stock", about.system)
        words = f"A piece of {size}, cut from {name} of its own. "
        words += "Look for the diamond to the left: a little shorter may be cheaper."
        return drawing, words

    rows = [row, slider_row("Length", "mm", 550, 2900, 1, 1500, name="at")]
    return View(about, rows, render, name="spots", reads=reads)


def _steps(now: float) -> list[float]:
    """Lengths to try, in metres: from 1.2 to 3.6, or as far about a bed of another."""
    low = 1.2 if 1.2 <= now <= 3.6 else max(round(now - 1.2, 1), 0.6)
    return [low + 0.1 * n for n in range(25)]


def lengths_view(about: Desk) -> View:
    """The cost of boards for each square metre over the bed's length."""
    known: dict = {}

    def sweep():
        key = (about.bed, about.place)
        if known.get("key") != key:
            steps = _steps(about.bed.si.length)
            known["key"] = key
            known["found"] = steps, length_sweep(*key, steps, seconds=0.1)[1]
        return known["found"]

    def render(values, size):
        if nothing := nothing_to_cut([about.bed], about.place):
            return None, nothing
        steps, per_area = sweep()
        if not np.isfinite(per_area).any():
            return None, (
                "None of these lengths can be cut from what the list sells and the "
                f"car takes: {'; '.join(cut_garden([about.bed], about.place).missing)}."
            )
        now = about.bed.si.length
        drawing = lengths_figure(
            steps, per_area, now, name=about.name, system=about.system, **size
        )
        best = min(p for p in zip(per_area, steps, strict=True) if p[0] == p[0])
        words = (
            f"Of these lengths, **{best[1]:.1f} m** pays least for each square metre"
        )
        price = show(best[0], "coins", Units("metric", about.place.currency))
        return drawing, f"{words}: {price}."

    return View(about, (), render, name="lengths")


def real_sizes():
    """What boards are called and what they measure, as a block of the lesson."""
    rows = []
    for row in (*table("lumber_us"), *table("lumber_metric")):
        sides = [
            " × ".join(show(row.q(name), "stock", system) for name in ("thick", "wide"))
            for system in ("metric", "us")
        ]
        rows.append((row.name, *sides, source_line(row.source, row.where)))
    heads = ("is called", "measures", "in inches", "from")
    return facts_table(heads, rows, "Names and real sizes of boards, sawn and planed")


def sheets_block(about: Desk):
    """Sheets for the bed on the desk, ribs upright and lying; kept up to date."""
    page, known = html("", "bc-scroll"), []

    def write(outcome: Outcome) -> None:
        now = [outcome.bed, about.place, str(about.system)]
        if known != now:
            known[:] = now
            page.value = _sheets(about)

    about.observe(write)
    return paper(page, care("sheets_block"))


def _sheets(about: Desk) -> str:
    bed, place, note = about.bed, about.place, ""
    if bed.wall.family != "sheet":
        key = "sheet_us" if bed.wall.yard == "us" else "sheet"
        try:
            bed = bed.change(wall=Wall.named(key), rail_lying=False)
        except BedError as error:
            return f"<p>{plain(f'This bed cannot be of sheet. {error}')}</p>"
        note = ", if of sheet"
    rows = []
    for lying, way in zip((False, True), sheet_ways(bed), strict=True):
        found = cut_garden([bed.change(ribs_lying=lying)], place)
        cut = next((c for c in found.cuts if c.goods == bed.wall.goods), None)
        pieces = ", ".join(
            f"{number} of {show(Q_(size, 'm'), 'stock', about.system)}"
            for size, number in way.pieces
        )
        buy, price = "the list has none long enough", ""
        if place.prices is None:
            buy = "no price list yet"
        if cut is not None:
            buy = f"{len(cut.plan.boards)}"
            price = show(cut.cost, "coins", about.system)
        rows.append((way.name, pieces, buy, price, way.asks))
    heads = ("which way round", "pieces", "sheets to buy", "price", "asks for")
    return facts_html(heads, rows, f"Sheets for {about.name}{note}")


def holes():
    """Which hole for which screw, how deep and how far from an end, as a block."""
    rows = []
    for row in table("pilot_holes"):
        wide, thin, hard = (
            show(row.q(key), "fine") for key in ("clearance", "pilot", "pilot_hard")
        )
        near = show(row.q("from_end"), "stock")
        rows.append(
            (row.name, row.joins, wide, f"{thin}, hardwood {hard}", near, row.how)
        )
    heads = ("screw", "joins", "wide hole, outer piece", "thin hole, inner piece",
             "drill always within … of an end", "how")  # fmt: skip  # rows of a table
    return facts_table(heads, rows, "Holes for screws")


# ---- questions of workbook 04: one board of 2400 mm, in four

_BOARD, _KERF, _TRIM, _FOUR = 2400.0, 3.2, 20.0, 4


def _four(cuts: int, trim: float, kerf: float = _KERF) -> Q_:
    return Q_((_BOARD - trim - cuts * kerf) / _FOUR, "mm")


def _four_facts(outcome: Outcome) -> Mapping:
    return {
        "board": (Q_(_BOARD, "mm"), "stock"),
        "kerf": (Q_(_KERF, "mm"), "fine"),
        "trim": (Q_(_TRIM, "mm"), "stock"),
        "cuts": (Q_((_FOUR - 1) * _KERF, "mm"), "fine"),
    }


KEYS = {
    "four": Key(
        answer=lambda outcome: _four(3, _TRIM),
        mistakes={
            "no_saw": lambda outcome: _four(0, 0),
            "no_trim": lambda outcome: _four(3, 0),
        },
        facts=_four_facts,
    ),
    "marks": Key(
        answer=lambda outcome: Q_(7 * _KERF, "mm"),
        mistakes={
            "eight": lambda outcome: Q_(8 * _KERF, "mm"),
            "one": lambda outcome: Q_(_KERF, "mm"),
        },
        facts=_four_facts,
    ),
    "pool": Key(answer=lambda outcome: "together"),
    "longest": Key(answer=lambda outcome: "no"),
    "bad": Key(answer=lambda outcome: "two"),
}


def item(name: str) -> Item:
    """A question of workbook 04 with its key."""
    return Item(question=Question.read(name, "04"), key=KEYS[name])
