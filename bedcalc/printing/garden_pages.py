"""The pages of the whole: cover, cutting, labels, shopping, cautions, notes."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

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
from .facts import not_listed, sheet_hazards
from .joints import joint_screws, own_splices
from .page import blanks, items, plain, section, table_of
from .strips import RULES, cut_strips
from .views import size

__all__ = [
    "caution_pages", "cover", "cutting_pages", "labels_page", "notes_page",
    "shopping_page",
]  # fmt: skip

_FIRST = ("services", "saws", "lifting", "wall_failure")


def cover(
    garden: Garden, outcomes: Sequence[Outcome], date: str, title: str, system: str
) -> str:
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
    safety = items(f"{row.hazard}: {row.control.split('. ')[0]}." for row in words)
    units = "millimetres" if system == "metric" else "inches"
    foot = f"bedcalc build sheet · sizes in {units} · estimate, not a licensed design"
    day = f"Date: {date}" if date else "Date: ______________"
    return (
        f'<header><h1>{plain(name)}</h1><p><span class="place">'
        f'{plain(garden.place.name)}</span> · <span class="date">{plain(day)}</span> · '
        "checked by ______________________</p>"
        f'<p class="foot">{plain(foot)}</p></header>'
        + table_of(head, rows, numbers=(3, 4, 5), kind="whole")
        + _verdicts(outcomes, system)
        + f'<div class="box"><h3>Safety first</h3>{safety}</div>'
        + section("How to use this sheet", items(_use(outcomes), "ol"))
        + section("What was assumed", items(_assumed(garden, outcomes, system)))
    )


def _verdicts(outcomes: Sequence[Outcome], system: str) -> str:
    """What does not hold, with its fix, before anybody buys a board."""
    rows = []
    for o in outcomes:
        for check in o.checks:
            if not check.ok or check.verdict == "watch":
                check = with_way_out(o, check)
                fix = check.fix.sentence(system) if check.fix else ""
                rows.append((f"{check.sign} {o.bed.name}", check.sentence(system), fix))
    if not rows:
        return ""
    failing = any(row[0].startswith("✕") for row in rows)
    head = "Before you buy: " + (
        "not every part holds" if failing else "watch these when it is built"
    )
    return section(
        head,
        table_of(("bed", "what the sums say", "fix"), rows, kind="small order"),
        note="Change the design and print again, or ask somebody who knows. ✕ does not "
        "hold, ! watch it. ~ ⌒ ‼ bows more than you want: a matter of looks.",
    )


def _state(o: Outcome) -> str:
    bad = [c for c in o.checks if not c.ok and not c.straight]
    bow = o.check("bow")
    bent = f"; {bow.sign} {bow.word}" if bow is not None else ""
    if not bad:
        return f"✓ all hold{bent}"
    return f"✕ {len(bad)} of {len(o.checks)} do not hold{bent}"


def _use(outcomes) -> list[str]:
    sawn = any(o.bed.wall.family != "blocks" for o in outcomes)
    lines = [
        "Take the shopping list to the yard. Tick what is on the trailer.",
        "Measure the check bar on each drawing. If it is wrong, print at 100 %.",
    ]
    if sawn:
        lines.append("Cut board by board along the strips. Label each piece at once.")
    return [
        *lines,
        "Follow the order of work of each bed; tick the right-hand box.",
        "Go through the checks before filling, and sign.",
    ]


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
        "“Why, and from where” at the end names the source of each.",
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


def cutting_pages(cut: CutList, system: str) -> str:
    """Boards and strips of all beds together."""
    if not cut.cuts and not cut.missing:
        return ""
    if not cut.cuts:
        said = "There is no plan yet: it needs the lengths that are sold."
        return section("Cutting", items(RULES, "ol"), items(cut.missing), note=said)
    said = (
        f"{cut.boards} boards, sheets and rods for {show(cut.cost, 'coins', system)}: "
        + ("what is missing is said below." if cut.missing else f"{cut.verdict()}.")
    )
    if cut.by_hand.m - cut.cost.m > 0.005:
        said += (
            " The hand rule, longest piece first, pays "
            f"{show(cut.by_hand, 'coins', system)}."
        )
    notes = items([*cut.notes, *cut.missing]) if cut.notes or cut.missing else ""
    return section(
        "Cutting",
        items(RULES, "ol"),
        notes,
        cut_strips(cut, system),
        kind="new",
        note=said,
    )


def labels_page(cut: CutList, system: str) -> str:
    """Labels to cut out and staple on, one a piece."""
    made = []
    for part in cut.parts:
        ends = f", mitre {part.angle:g}°" if part.angle else ""
        for name in part.names():
            made.append(
                f'<div class="label"><b>{plain(name)}</b><span>'
                f"{plain(size(part.length, system) + ends)}</span></div>"
            )
    if not made:
        return ""
    return section(
        "Labels",
        f'<div class="labels">{"".join(made)}</div>',
        kind="new",
        note="Cut along the dashed lines and staple one on each piece as it leaves the "
        "saw: bed, part, number.",
    )


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
    ("Walls", ("walls",)), ("Fixings and mesh", ("ties", "fixings")),
    ("Fill and delivery", ("fill", "delivery")),
)  # fmt: skip


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
) -> str:
    """What to buy, tools to borrow, gear to wear."""
    place = garden.place
    bill = shopping([o.bed for o in outcomes], place)
    lines = _lines(bill, cut, place)
    known = {part for _, parts in _PARTS for part in parts}
    tables = []
    for heading, parts in (*_PARTS, ("Besides", ())):
        some = [x for x in lines
                if x.part in parts or (not parts and x.part not in known)]  # fmt: skip
        rows = [("☐", *_how_much(x, place, system), show(x.amount, "coins", system))
                for x in some]  # fmt: skip
        if rows:
            heads = ("", heading, "how much", "money")
            tables.append(table_of(heads, rows, numbers=(2, 3), kind="shop"))
    total = _together(bill, lines, system)
    missing = items(bill.missing) if bill.missing and bill.priced else ""
    families = {o.bed.wall.family for o in outcomes}
    tools = items((f"{r.name} ({r.where})" for r in tools_for(*families)), kind="tick")
    gear = items((r.name for r in gear_for(*families)), kind="tick")
    besides = {}
    for o in outcomes:
        own = cut.of(o.bed)
        joined = joint_screws(own_splices(cut.splices, o.bed.name))
        more = [f"{2 * joined} screws more for the joints."] if joined else []
        for line in (*not_listed(o, own, system), *more):
            besides.setdefault(line, []).append(o.bed.name)
    extra = items(
        (
            f"Bed {', '.join(beds)}: {line}" if len(outcomes) > 1 else line
            for line, beds in besides.items()
        ),
        kind="tick",
    )
    return section(
        "Shopping list",
        *tables,
        f"<p><b>{plain(total)}.</b></p>",
        missing,
        f"<h3>Not in this sum</h3>{extra}" if besides else "",
        f'<div class="row"><div><h3>Tools</h3>{tools}</div><div><h3>Each helper wears'
        f"</h3>{gear}</div></div>",
        kind="new",
        note="Look along each board: leave the twisted ones, take bowed ones only for "
        "short pieces. Spare boards are not counted: one in ten is wise. Screws hold a "
        "tenth more than the drawings need.",
    )


def caution_pages(outcomes: Sequence[Outcome]) -> str:
    """Where this work can hurt somebody."""
    rows = [
        (row.hazard, row.control, row.who)
        for row in (table("cautions")[key] for key in sheet_hazards(outcomes))
    ]
    standing = table("phrases")["standing"].text
    return section(
        "Cautions",
        table_of(("hazard", "what to do", "who decides"), rows, kind="small"),
        f"<p>{plain(standing)}</p>",
        kind="new",
    )


def notes_page(notes: str) -> str:
    """Blank lines for the site, and who checked."""
    given = f"<p>{plain(notes)}</p>" if notes else ""
    return section(
        "Notes from the site",
        given,
        blanks(14),
        '<p class="sign">Checked by __________________ &nbsp; date '
        "__________ &nbsp; looked at after the first rain __________</p>",
    )
