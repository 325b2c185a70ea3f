"""The bill: everything some beds need, line by line, bought together."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..bed import Bed
from ..cutting import Plan
from ..cutting.parts import blocks_needed
from ..fill import Fill
from ..place import Place
from .counting import extras_of, fixings, rods, tie_goods, work
from .lines import Line, cut_plans, guesses, plan_lines, sold

__all__ = ["bill"]


def bill(
    beds: Sequence[Bed],
    fills: Sequence[Fill],
    place: Place,
    *,
    cut: str = "hand",
    extras: Sequence[str] = (),
    pallets: bool = True,
) -> tuple[list[Line], dict[str, Plan], tuple[str, ...]]:
    """Lines of the bill for some beds bought together.

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

    Returns
    -------
    lines, plans, missing
        Lines largest first, cut plans by goods, words for what cannot be bought.
    """
    plans, missing = cut_plans(beds, place, cut)
    lines = plan_lines(plans, place)
    counted = _counted(beds)
    asked = [*(goods for goods, _ in counted), *_fill_goods(fills)]
    missing += tuple(
        f"the price list has no {goods}"
        for goods in dict.fromkeys(asked)
        if goods not in place.goods
    )
    for (goods, part), n in counted.items():
        single = part == "walls" and not pallets
        lines += sold(goods, n, part, place, single=single)
    lines += rods(beds, place)
    more = extras_of(beds, extras, place.crew)
    gravel = more.pop("gravel", 0.0)
    for goods, n in more.items():
        lines += sold(goods, n, "extras", place)
    lines += _fill_lines(beds, fills, place, gravel)
    if any(
        line.group in ("timber", "metal") and line.part == "walls" for line in lines
    ):
        lines += sold("timber_delivery", 1, "delivery", place)
    return sorted(lines, key=lambda line: -line.amount), plans, missing


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


def _fill_goods(fills: Sequence[Fill]) -> list[str]:
    return [order.si.goods for fill in fills for order in fill.orders]


def _fill_lines(beds, fills, place, gravel: float) -> list[Line]:
    needs: dict[str, float] = {"gravel": gravel} if gravel else {}
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
                part="extras" if goods == "gravel" else "fill",
                quantity=steps * row.content,
                unit="m³",
                price=row.price / row.content,
                amount=steps * row.price,
                goods=goods,
                taxed=getattr(row, "taxed", "yes") != "no",
                needed=loose,
                **guesses(row),
            )
        )
    return lines + sold("truck", trucked, "delivery", place)
