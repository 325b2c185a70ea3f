"""Cost: the bill of one bed or of many, line by line, from the price list.

Timber and sheet are bought by a cut plan made with the hand rule (longest first); the
least-cost plan of the cutting chapter can only be cheaper. Everything is rounded up
to what the seller sells. Money has no exchange rate and no false digits: the total is
shown whole, with the band that the spread of prices gives.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from .bed import Bed
from .cutting import CutError, Piece, Plan, Saw, Stock, first_fit, tenths
from .cutting.parts import blocks_needed, courses, parts
from .fill import Fill
from .outcome import Amount, Part, Plain
from .place import Place
from .tables import table
from .units import quantities
from .walls.layout import layout

__all__ = [
    "Cost", "Line", "bill", "capital_recovery", "cut_plans", "follow_cost",
    "spread_band", "triangular_moments",
]  # fmt: skip

_P90 = 1.2816  # 90 % point of the normal distribution
COIN = 100  # smallest coins in one unit of money


@dataclass(frozen=True, kw_only=True)
class Line:
    """One line of the bill; ``amount`` is ``quantity`` packs at ``price``, no tax."""

    name: str
    group: str
    part: str
    quantity: float
    unit: str
    price: float
    amount: float


@quantities(("", ""), low="", likely="", high="")
def triangular_moments(low, likely, high):
    """Mean and standard deviation of a low, likely, high guess.

    Parameters
    ----------
    low : quantity []
        Least it can be, as a ratio to any common amount.
    likely : quantity []
        Most likely.
    high : quantity []
        Most it can be.

    Returns
    -------
    tuple of quantity [, ]
        Mean and standard deviation, the same ratio.

    Notes
    -----
    Triangular distribution: (a + m + b)/3, sqrt((a2+m2+b2-am-ab-mb)/18).
    Source: computed.
    """
    mean = (low + likely + high) / 3
    spread = low**2 + likely**2 + high**2 - low * likely - low * high - likely * high
    return mean, np.sqrt(np.maximum(spread, 0) / 18)


@quantities("", rate="", years="")
def capital_recovery(rate, years):
    """Yearly payment for one unit of money spent now.

    Parameters
    ----------
    rate : quantity []
        Interest a year, such as 0.03; zero is allowed.
    years : quantity []
        Service life.

    Returns
    -------
    quantity []
        r (1+r)^n / ((1+r)^n - 1), or 1/n at no interest.

    Notes
    -----
    Source: computed; capital recovery factor of engineering economy.
    """
    safe = np.where(rate > 0, rate, 1.0)
    grown = (1 + safe) ** years
    return np.where(rate > 0, safe * grown / (grown - 1), 1.0 / years)[()]


def spread_band(amounts: dict[str, list[float]]) -> tuple[float, float]:
    """The band that holds the total with a chance of 8 in 10.

    Parameters
    ----------
    amounts : dict of group to list of float
        Amounts of the lines, money, by price group of data/price_spread.csv.

    Returns
    -------
    tuple of float
        P10 and P90 of the total, money.

    Notes
    -----
    Each line is triangular; lines of a group move together by the group's own
    correlation, groups by 0.2; the sum is taken as normal. A first, analytic version.
    Source: invented spreads; computed.
    """
    mean_total, by_group = 0.0, []
    for group, values in amounts.items():
        row = table("price_spread")[group]
        mean, sd = triangular_moments.si(1 + row.low, 1.0, 1 + row.high)
        sds = np.asarray(values) * sd
        mean_total += mean * sum(values)
        r = row.correlation_within
        own = r * sds.sum() ** 2 + (1 - r) * np.sum(sds**2)
        by_group.append((own, sds.sum()))
    total = sum(own for own, _ in by_group)
    sums = np.array([s for _, s in by_group])
    total += 0.2 * (sums.sum() ** 2 - np.sum(sums**2))
    half = _P90 * np.sqrt(total)
    return float(mean_total - half), float(mean_total + half)


class Cost(Part):
    """The bill."""

    lines = Plain("Lines of the bill, largest first")
    plans = Plain("Cut plans by goods (hand rule)")
    with_tax = Plain("Whether the totals hold the tax")
    missing = Plain("What the price list does not have")
    total = Amount("money", "All lines together", "money")
    low = Amount("money", "Total, 1 chance in 10 to be less", "money")
    high = Amount("money", "Total, 1 chance in 10 to be more", "money")
    walls = Amount("money", "Walls: timber, sheet, blocks", "money")
    ties = Amount("money", "Cross ties", "money")
    fixings = Amount("money", "Screws and mesh", "money")
    fill = Amount("money", "Fill", "money")
    delivery = Amount("money", "Delivery of fill and timber", "money")
    contingency = Amount("money", "To keep back for what was forgotten", "money")
    per_area = Amount("money/m^2", "Total per growing area")
    fill_share = Amount("percent", "Fill and its delivery in the total", "percent")


def _stocks(goods: str, place: Place) -> list[Stock]:
    longest = place.si.longest_carried
    return [
        Stock(key=row.key, length=tenths(row.length), price=round(row.price * COIN))
        for row in place.goods.get(goods, ())
        if row.length <= longest + 1e-9
    ]


def _saw(goods: str, place: Place) -> Saw:
    kerf, trim = place.si.kerf, place.si.trim
    if goods in table("goods"):
        row = table("goods")[goods]
        kerf = kerf if np.isnan(row.kerf) else row.kerf
        trim = trim if np.isnan(row.trim) else row.trim
    return Saw(kerf=tenths(kerf), trim=tenths(trim))


def cut_plans(
    beds: Iterable[Bed], place: Place
) -> tuple[dict[str, Plan], tuple[str, ...]]:
    """Cut plans by goods for the pieces of all beds together, by the hand rule.

    Parameters
    ----------
    beds : iterable of Bed
        Each counted ``bed.count`` times.
    place : Place
        Its price list and saw.

    Returns
    -------
    dict of goods to Plan, and tuple of str
        The plans, and in words what cannot be bought.
    """
    needs: dict[str, list[Piece]] = {}
    for bed in beds:
        for p in parts(bed):
            needs.setdefault(p.goods, []).append(
                Piece(label=p.label, length=tenths(p.length), count=p.count * bed.count)
            )
    plans, missing = {}, []
    for goods, pieces in needs.items():
        stocks = _stocks(goods, place)
        if not stocks:
            missing.append(f"the price list has no {goods}")
            continue
        try:
            plans[goods] = first_fit(pieces, stocks, _saw(goods, place))
        except CutError as error:
            missing.append(str(error))
    return plans, tuple(missing)


def _sold(goods: str, amount: float, part: str, place: Place) -> list[Line]:
    """Lines for an amount sold in packs: one pack size, the cheapest to cover it."""
    best = None
    for row in place.goods.get(goods, ()):
        packs = float(np.ceil(amount / row.content - 1e-9))
        if best is None or packs * row.price < best.amount:
            best = Line(
                name=row.name,
                group=row.group,
                part=part,
                quantity=packs,
                unit=row.sold_by,
                price=row.price,
                amount=packs * row.price,
            )
    return [best] if best and best.quantity else []


def _plan_lines(plans: dict[str, Plan], place: Place) -> list[Line]:
    lines = []
    for goods, plan in plans.items():
        rows = {row.key: row for row in place.goods[goods]}
        counts: dict[str, int] = {}
        for board in plan.boards:
            counts[board.stock.key] = counts.get(board.stock.key, 0) + 1
        for key, count in sorted(counts.items()):
            row = rows[key]
            lines.append(
                Line(
                    name=f"{row.name}, {row.length:.4g} m",
                    group=row.group,
                    part="walls",
                    quantity=count,
                    unit=row.sold_by,
                    price=row.price,
                    amount=count * row.price,
                )
            )
    return lines


def _work(key: str) -> float:
    return table("work")[key].value


def _fixings(bed: Bed) -> dict[str, float]:
    """Screws, mesh and ties of one bed, counted by goods."""
    s, family, plan = bed.si, bed.wall.family, layout(bed)
    spare = 1 + _work("screw_spare")
    per_joint = _work("screws_per_joint")
    found: dict[str, float] = {}
    inner = int(plan.bays) - 1
    if family in ("boards", "trough"):
        found["screw_5x70"] = courses(bed) * (8 + 2 * inner) * per_joint * spare
    if family == "sheet":
        rail = 4 * 2 * per_joint + 2 * 2 * inner * per_joint
        found["screw_6x100"] = rail * spare
        run = 2 * (s.inside_length + s.inside_width)
        found["screw_sheet"] = 2 * run / _work("sheet_fixing") * spare
    if family == "sleepers":
        found["screw_6x100"] = courses(bed) * 4 * 2 * spare
    if family != "trough" and bed.open_base:
        lap = _work("mesh_lap")
        found["mesh"] = (s.length + lap) * (s.width + lap)
    return found


def _tie_goods(bed: Bed) -> dict[str, float]:
    """Rods, plates and nuts of the ties of one bed."""
    ties = bed.ties + bed.base_ties
    return {"plate": 2.0 * ties, "nut": 4.0 * ties} if ties else {}


def _rods(beds: Sequence[Bed], place: Place) -> list[Line]:
    """Rods by a cut plan of their own: a short rod may be too short."""
    pieces = [
        Piece(
            label=f"{bed.name} tie",
            length=tenths(bed.si.width + _work("rod_extra")),
            count=(bed.ties + bed.base_ties) * bed.count,
        )
        for bed in beds
        if bed.ties + bed.base_ties
    ]
    stocks = _stocks("rod_m10", place)
    if not pieces or not stocks:
        return []
    try:
        plan = first_fit(pieces, stocks, Saw(kerf=tenths(0.002), trim=0))
    except CutError:
        return []
    lines = _plan_lines({"rod_m10": plan}, place)
    return [replace(line, part="ties") for line in lines]


def bill(
    beds: Sequence[Bed], fills: Sequence[Fill], place: Place
) -> tuple[list[Line], dict[str, Plan], tuple[str, ...]]:
    """Lines of the bill for some beds bought together.

    Parameters
    ----------
    beds : sequence of Bed
    fills : sequence of Fill
        The fill of each bed, in the same order.
    place : Place

    Returns
    -------
    lines, plans, missing
        Lines largest first, cut plans by goods, words for what cannot be bought.
    """
    plans, missing = cut_plans(beds, place)
    lines = _plan_lines(plans, place)
    counted: dict[tuple[str, str], float] = {}
    for bed in beds:
        for goods, n in _fixings(bed).items():
            key = goods, "fixings"
            counted[key] = counted.get(key, 0) + n * bed.count
        for goods, n in _tie_goods(bed).items():
            key = goods, "ties"
            counted[key] = counted.get(key, 0) + n * bed.count
        if bed.wall.family == "blocks":
            exact, _ = blocks_needed(bed)
            key = bed.wall.goods, "walls"
            counted[key] = counted.get(key, 0) + exact * bed.count
    for (goods, part), n in counted.items():
        if part == "walls":
            n = np.ceil(n * (1 + _work("block_spare")) - 1e-9)
        lines += _sold(goods, n, part, place)
    lines += _rods(beds, place)
    lines += _fill_lines(beds, fills, place)
    if any(
        line.group in ("timber", "metal") and line.part == "walls" for line in lines
    ):
        lines += _sold("timber_delivery", 1, "delivery", place)
    return sorted(lines, key=lambda line: -line.amount), plans, missing


def _fill_lines(beds, fills, place) -> list[Line]:
    needs: dict[str, float] = {}
    trucked = 0.0
    for bed, fill in zip(beds, fills, strict=True):
        for order in fill.orders:
            loose = float(order.si.loose) * bed.count
            needs[order.si.goods] = needs.get(order.si.goods, 0.0) + loose
    free = {o.si.goods for f in fills for o in f.orders if not o.si.delivered}
    lines = []
    for goods, loose in needs.items():
        rows = place.goods.get(goods)
        if not rows:
            continue
        row = rows[0]
        steps = float(np.ceil(loose / row.content - 1e-9))
        trucked += 0.0 if goods in free else steps * row.content
        lines.append(
            Line(
                name=row.name,
                group=row.group,
                part="fill",
                quantity=steps * row.content,
                unit="m³",
                price=row.price / row.content,
                amount=steps * row.price,
            )
        )
    return lines + _sold("truck", trucked, "delivery", place)


def follow_cost(bed: Bed, place: Place, fill: Fill, inside_area: float) -> Cost:
    """What the cost chapter says about this bed, bought alone."""
    one = bed if bed.count == 1 else bed.change(count=1)
    lines, plans, missing = bill([one], [fill], place)
    tax = 1 + (place.si.tax_rate if place.with_tax else 0.0)
    groups: dict[str, list[float]] = {}
    for line in lines:
        groups.setdefault(line.group, []).append(line.amount * tax)
    low, high = spread_band(groups)

    def part(*names):
        return tax * sum(line.amount for line in lines if line.part in names)

    total = tax * sum(line.amount for line in lines)
    soil = tax * sum(line.amount for line in lines if line.group == "soil")
    return Cost(
        lines=tuple(lines),
        plans=plans,
        with_tax=place.with_tax,
        missing=missing,
        total=total,
        low=low,
        high=high,
        walls=part("walls"),
        ties=part("ties"),
        fixings=part("fixings"),
        fill=part("fill"),
        delivery=part("delivery"),
        contingency=_work("contingency") * total,
        per_area=total / inside_area,
        fill_share=soil / total if total else 0.0,
    )
