"""The bill: everything some beds need, line by line, bought together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..cutting import Plan
from ..cutting.cut_list import blocks_needed
from ..fill import Fill
from ..fill.buying import SPECK
from ..model.bed import Bed
from ..model.place import Place
from .counting import extras_of, fixings, rods, tie_goods, work
from .lines import (
    Line,
    cut_plans,
    guesses,
    no_price,
    plan_lines,
    sold,
    uncut_lines,
    unpriced,
)

__all__ = ["Bill", "bill"]


@dataclass(frozen=True, kw_only=True)
class Bill:
    """Lines, largest first; lines without a price; cut plans; what is missing, said."""

    lines: list[Line]
    unpriced: list[Line]
    plans: dict[str, Plan]
    missing: tuple[str, ...]


def bill(
    beds: Sequence[Bed],
    fills: Sequence[Fill],
    place: Place,
    *,
    cut: str = "hand",
    extras: Sequence[str] = (),
    pallets: bool = True,
) -> Bill:
    """Everything some beds need, bought together.

    What has no price is counted all the same, and said.

    Parameters
    ----------
    beds : sequence of Bed
    fills : sequence of Fill
        The fill of each bed, in the same order.
    place : Place
    cut : str
        ``"hand"`` or ``"cheapest"``, see :func:`bedcalc.cost.cut_plans`.
    extras : sequence of str
        Of ``liner``, ``gravel``, ``hire``, ``protection``.
    pallets : bool
        Whether blocks may be bought by the pallet where that is cheaper.
    """
    plans, said = cut_plans(beds, place, cut)
    lines = plan_lines(plans, place)
    left = uncut_lines(beds, plans, place) if said else []
    more = extras_of(beds, extras, place)
    volumes = _volumes(beds, fills, more.pop("gravel", 0.0))
    asked = _counted(beds) | {(goods, "extras"): n for goods, n in more.items()}
    rod_lines, no_rods = rods(beds, place)
    lines += rod_lines
    named, trucked = no_rods, 0.0
    for (goods, part), n in asked.items():
        single = part == "walls" and not pallets
        found = sold(goods, n, part, place, single=single)
        lines += found
        if n and goods not in place.goods:
            named.append(unpriced(goods, n, part, place))
    for (goods, part), (name, loose, delivered) in volumes.items():
        if goods in place.goods:
            lines.append(_volume_line(goods, loose, part, place))
            loose = lines[-1].quantity
        elif loose:
            named.append(unpriced(goods, loose, part, place, name=name, unit="m³"))
        trucked += loose if delivered else 0.0
    if any(
        x.group in ("timber", "metal") and x.part == "walls" for x in (*lines, *left)
    ):
        lines += sold("timber_delivery", 1, "delivery", place)
        if "timber_delivery" not in place.goods:
            named.append(unpriced("timber_delivery", 1, "delivery", place))
    lines += sold("truck", trucked, "delivery", place)
    if trucked and "truck" not in place.goods:
        trips = float(np.ceil(trucked / work("truck") - 1e-9))
        named.append(unpriced("truck", trips, "delivery", place))
    return Bill(
        lines=sorted(lines, key=lambda line: -line.amount),
        unpriced=left + named,
        plans=plans,
        missing=said + tuple(dict.fromkeys(_no_price(x, place) for x in named)),
    )


def _no_price(line: Line, place: Place) -> str:
    name = line.name.split(", ")[0]
    return no_price(
        f"{name} that is long enough" if line.goods in place.goods else name, place
    )


def _counted(beds: Sequence[Bed]) -> dict[tuple[str, str], float]:
    """What is sold by the piece or the pack: (goods, part) to number."""
    counted: dict[tuple[str, str], float] = {}

    def add(goods, part, n):
        counted[goods, part] = counted.get((goods, part), 0.0) + n

    for bed in beds:
        for goods, n in fixings(bed).items():
            add(goods, "fixings", n * bed.count)
        for goods, n in tie_goods(bed).items():
            add(goods, "ties", n * bed.count)
        if bed.wall.family == "blocks":
            exact, _ = blocks_needed(bed)
            add(bed.wall.goods, "walls", exact * bed.count)
    spare = 1 + work("block_spare")
    return {
        key: float(np.ceil(n * spare - 1e-9)) if key[1] == "walls" else n
        for key, n in counted.items()
    }


def _volumes(
    beds: Sequence[Bed], fills: Sequence[Fill], gravel: float
) -> dict[tuple[str, str], tuple[str, float, bool]]:
    """What is sold loose: (goods, part) to name, volume, and if a truck brings it."""
    found: dict[tuple[str, str], tuple[str, float, bool]] = {}
    if gravel:
        found["gravel", "extras"] = "", gravel, True
    for bed, fill in zip(beds, fills, strict=True):
        for order in fill.orders:
            key = order.goods, "fill"
            loose = float(order.si.loose) * bed.count
            if loose < SPECK:
                continue
            loose += found[key][1] if key in found else 0.0
            found[key] = order.name, loose, order.delivered
    return found


def _volume_line(goods: str, loose: float, part: str, place: Place) -> Line:
    """A line for what is sold loose, rounded up to the seller's step."""
    row = place.goods[goods][0]
    steps = float(np.ceil(loose / row.content - 1e-9))
    return Line(
        name=row.name,
        group=row.group,
        part=part,
        quantity=steps * row.content,
        unit="m³",
        price=row.price / row.content,
        amount=steps * row.price,
        goods=goods,
        taxed=getattr(row, "taxed", "yes") != "no",
        needed=loose,
        coins=place.currency.decimals,
        **guesses(row),
    )
