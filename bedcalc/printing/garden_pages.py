"""What the pages of the whole say: cover, cutting, labels, shopping, cautions."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..assembly import assembly
from ..cost import Cost
from ..cost.counting import gear_for, tools_for
from ..cost.lines import Line, plural
from ..evaluate import Outcome
from ..garden.garden import Garden
from ..model.place import Place
from ..questions.cut_garden import CutList
from ..questions.shopping import shopping
from ..questions.ways_out import with_way_out
from ..tables import table
from ..units import show
from .facts import not_listed, rows_for, sheet_hazards, step_cautions
from .joints import joint_screws, own_splices
from .page import PaperTable
from .strips import RULES, cut_strips
from .tape import size

__all__ = ["caution_pages", "cover", "cutting_pages", "labels_page", "shopping_page"]

_FIRST = ("services", "saws", "lifting", "wall_failure")


def cover(
    garden: Garden, outcomes: Sequence[Outcome], date: str, title: str, system: str
) -> dict:
    """The first page: what this is, how large, what to heed, who checked."""
    one = outcomes[0].bed if len(outcomes) == 1 else None
    name = title or (f"Bed {one.name}: build sheet" if one else "Build sheet")
    rows = []
    for o in outcomes:
        s = o.bed.si
        rows.append(
            (
                f"{o.bed.name}" + (f" × {o.bed.count}" if o.bed.count > 1 else ""),
                o.bed.wall.name,
                f"{size(s.length, system)} × {size(s.width, system)}",
                size(s.height, system),
                show(o.size.inside_area, "area", system),
                show(o.fill.settled_volume, "volume", system),
                _state(o),
            )
        )
    head = ("bed", "walls", "outside", "high", "to plant", "fill", "checks")
    words = [table("cautions")[key] for key in _FIRST]
    units = "millimetres" if system == "metric" else "inches"
    verdicts = _verdicts(outcomes, system)
    failing = any(row[0].startswith("✕") for row in verdicts)
    return {
        "name": name,
        "place": garden.place.name,
        "day": f"Date: {date}" if date else "Date: ______________",
        "foot": f"bedcalc build sheet · sizes in {units} · estimate, not a licensed "
        "design",
        "beds": PaperTable(head, rows, (3, 4, 5), "whole"),
        "verdict_head": "Before you buy: "
        + ("not every part holds" if failing else "watch these when it is built"),
        "verdicts": PaperTable(
            ("bed", "what the sums say", "fix"), verdicts, kind="small"
        ),
        "safety": [f"{w.hazard}: {w.control.split('. ')[0]}." for w in words],
        "assumed": _assumed(garden, outcomes, system),
    }


def _verdicts(outcomes: Sequence[Outcome], system: str) -> list[tuple[str, str, str]]:
    """What does not hold, with its fix, before anybody buys a board."""
    rows = []
    for o in outcomes:
        for check in o.checks:
            if not check.ok or check.verdict == "watch":
                check = with_way_out(o, check)
                fix = check.fix.sentence(system) if check.fix else ""
                rows.append((f"{check.sign} {o.bed.name}", check.sentence(system), fix))
    return rows


def _state(o: Outcome) -> str:
    bad = [c for c in o.checks if not c.ok and not c.straight]
    bow = o.check("bow")
    bent = f"; {bow.sign} {bow.word}" if bow is not None else ""
    if not bad:
        return f"✓ all hold{bent}"
    return f"✕ {len(bad)} of {len(o.checks)} do not hold{bent}"


def _assumed(garden: Garden, outcomes: Sequence[Outcome], system: str) -> list[str]:
    place = garden.place
    woods = sorted({o.bed.wall.wood for o in outcomes if o.bed.wall.wood})
    names = ", ".join(
        f"{table('woods')[w].name} ({table('woods')[w].strength_class or 'no class'}, "
        f"{table('woods')[w].density:.0f} kg/m³)"
        for w in woods
    )
    lines = [
        f"Prices: {_list(place)}, {'with' if place.with_tax else 'without'} tax.",
        f"Saw cut {show(place.kerf, 'fine', system)}; both ends of a board trimmed "
        f"{show(place.trim, 'fine', system)} together; longest board carried "
        f"{show(place.longest_carried, 'size', system)}.",
        f"{_ground(place)} All distances level.",
        "Loads, strengths and settling are typical values, many from common practice; "
        "the paper “Why, and from where” names the source of each.",
    ]
    if names:
        lines.insert(1, f"Wood: {names}.")
    return lines


def _list(place: Place) -> str:
    """Whose prices they are, and of which day."""
    if place.prices is None:
        return "none yet"
    if place.prices.invented:
        return "an invented list, to try things out; ask your yard"
    return f"list “{place.prices.name}”, date {place.prices.date or 'not given'}"


def _ground(place: Place) -> str:
    """What is known of soil and slope."""
    soil = f"Ground: {place.ground.name}." if place.soil else place.soil_note
    if place.survey is None:
        return f"{soil} Not measured: taken as level, so the trench depths are open."
    points = len(place.survey.points)
    checked = "" if points > 3 else ", which check nothing"
    return f"{soil} A plane through {points} readings{checked}."


def cutting_pages(cut: CutList, system: str) -> dict | None:
    """Boards and strips of all beds together."""
    if not cut.cuts and not cut.missing:
        return None
    notes = [*cut.notes, *cut.missing]
    found = {"rules": RULES, "notes": notes, "goods": cut_strips(cut, system)}
    if not cut.cuts:
        said = "There is no plan yet: it needs the lengths that are sold."
        return {**found, "note": said}
    said = (
        f"{cut.boards} boards, sheets and rods for {show(cut.cost, 'coins', system)}: "
        + ("what is missing is said below." if cut.missing else f"{cut.verdict()}.")
    )
    if cut.by_hand.m - cut.cost.m > 0.005:
        said += (
            " The hand rule, longest piece first, pays "
            f"{show(cut.by_hand, 'coins', system)}."
        )
    return {**found, "note": said}


def labels_page(cut: CutList, system: str) -> list[tuple[str, str]]:
    """Name and size for the labels to cut out and staple on, one a piece."""
    return [
        (
            name,
            size(part.length, system)
            + (f", mitre {part.angle:g}°" if part.angle else ""),
        )
        for part in cut.parts
        for name in part.names()
    ]


def _lines(bill, cut: CutList, place) -> list[Line]:
    """Lines of the bill, the boards as the strips take them.

    Of two equally cheap plans the bill may hold another one than the strips; and the
    yard may have other lengths than the list.
    """
    every = (*bill.lines, *bill.unpriced)
    kept = [line for line in every if line.goods not in cut.plans]
    made = []
    for one in cut:
        rows = {row.key: row for row in place.goods.get(one.goods, ())}
        first = next(iter(rows.values()), None)
        bought = [b.stock for b in one.plan.boards if not b.stock.owned]
        for stock in dict.fromkeys(sorted(bought, key=lambda s: s.length)):
            count = bought.count(stock)
            made.append(
                Line(
                    name=f"{one.name}, {stock.length / 10_000:.4g} m",
                    group=first.group if first else "timber",
                    part="walls",
                    quantity=count,
                    unit="piece",
                    price=one.price(stock).m,
                    amount=count * one.price(stock).m,
                    goods=one.goods,
                )
            )
    return [*made, *kept]


_PARTS = (
    ("Walls", ("walls",)),
    ("Fixings and mesh", ("ties", "fixings")),
    ("Fill and delivery", ("fill", "delivery")),
)


def _how_much(line: Line, place, system: str) -> tuple[str, str]:
    """What it is and how much of it, as one asks for it at the counter."""
    name, number = line.called(system), f"{line.quantity:g}"
    if line.unit == "m³":
        return name, show(line.quantity, "volume", system)
    if line.unit in ("m", "m²"):  # no price list says how long or how large a piece is
        return name, show(line.quantity, "size" if line.unit == "m" else "area", system)
    if line.unit == "piece":
        return name, number
    unit = line.unit if line.quantity == 1 else plural(line.unit)
    held = [r.content for r in place.goods.get(line.goods, ()) if r.price == line.price]
    if line.unit in ("box", "bag", "pallet") and held:
        unit += f" of {held[0]:g}"
        if np.isfinite(line.needed):
            name += f" ({np.ceil(line.needed - 1e-9):.0f} with spares)"
    return name, f"{number} {unit}"


def _together(bill: Cost, lines: Sequence[Line], system: str) -> str:
    """What all lines cost, in words."""
    if not bill.priced:
        return "No prices yet: ask for them with this list"
    known = [line for line in lines if np.isfinite(line.amount)]
    paid = sum(line.amount + line.tax(bill.rate) for line in known)
    total = f"Together {show(paid, 'coins', system)}"
    if bill.tax_inside:
        tax = sum(bill.tax_of(line) for line in known)
        total += f", of which tax {show(tax, 'coins', system)}"
    else:
        total += " with tax" if bill.with_tax else " without tax"
    if bill.unpriced:
        return f"{total}; not complete"
    if abs(paid - bill.total.m) < 0.005:
        band = (show(m, "money", system) for m in (bill.low, bill.high))
        total += f"; eight bills in ten lie between {' and '.join(band)}"
    return total


def shopping_page(
    garden: Garden,
    outcomes: Sequence[Outcome],
    cut: CutList,
    system: str,
) -> dict:
    """What to buy, tools to borrow, gear to wear."""
    place = garden.place
    bill = shopping([o.bed for o in outcomes], place)
    lines = _lines(bill, cut, place)
    known = {part for _, parts in _PARTS for part in parts}
    tables = []
    for heading, parts in (*_PARTS, ("Besides", ())):
        some = [
            x for x in lines if x.part in parts or (not parts and x.part not in known)
        ]
        rows = [
            ("☐", *_how_much(x, place, system), show(x.amount, "coins", system))
            for x in some
        ]
        if rows:
            heads = ("", heading, "how much", "money")
            tables.append(PaperTable(heads, rows, (2, 3), "shop"))
    total = _together(bill, lines, system)
    besides = {}
    for o in outcomes:
        joined = joint_screws(own_splices(cut.splices, o.bed.name))
        more = [f"{2 * joined} screws more for the joints."] if joined else []
        for line in (*not_listed(o, system), *more):
            besides.setdefault(line, []).append(o.bed.name)
    families = {o.bed.wall.family for o in outcomes}
    tied = ("ties",) if any(assembly(o.bed).ties for o in outcomes) else ()
    return {
        "tables": tables,
        "total": total,
        "missing": bill.missing if bill.priced else (),
        "besides": [
            f"Bed {', '.join(beds)}: {line}" if len(outcomes) > 1 else line
            for line, beds in besides.items()
        ],
        "tools": [f"{r.name} ({r.where})" for r in tools_for(*families, *tied)],
        "gear": [r.name for r in gear_for(*families)],
    }


def caution_pages(outcomes: Sequence[Outcome]) -> list[str]:
    """Where this work can hurt somebody, beside what stands at the steps."""
    said = {
        hazard
        for o in outcomes
        for row in rows_for("work_order", o.bed.wall.family)
        for hazard, _ in step_cautions(row.key, o.bed.wall.family)
    }
    rows = (table("cautions")[key] for key in sheet_hazards(outcomes))
    return [
        f"{row.hazard}: {row.short} Who decides: {row.who}."
        for row in rows
        if row.hazard not in said
    ]
