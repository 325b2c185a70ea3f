"""Words and tables of the fill's close-up."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from bedcalc.units import number, show, sign_after, unit_sign

from ..model.outcome import Outcome
from . import theme
from .drawing import Numbers

if TYPE_CHECKING:  # names for an editor
    from ..fill.chapter import FillLayer

__all__ = [
    "alt_text", "caption", "cells", "numbers", "order_lines", "short_name", "sunk_to",
    "title", "total", "under_title",
]  # fmt: skip  # a list of names


def cell(value: float, kind: str, system: str) -> str:
    """A number as shown, without its unit."""
    return show(value, kind, system).split("\N{NO-BREAK SPACE}")[0]


def _price(value) -> str:
    if not np.isfinite(value):
        return "—"
    return "free" if value == 0 else number(float(value), 0)


def short_name(layer: FillLayer) -> str:
    """What a layer is called where there is little room."""
    short = theme.short_name(layer)
    return layer.si.name if len(layer.si.name) <= 11 else short


def cells(item: FillLayer, system: str) -> dict[str, str]:
    """The numbers of a layer, by column."""
    return {
        "deep": cell(item.depth, "depth", system),
        "settled": cell(item.settled, "volume", system),
        "buy": cell(item.loose, "volume", system),
        "price": _price(item.cost),
    }


def total(outcome: Outcome, system: str) -> dict[str, str]:
    """The numbers of all layers together, by column."""
    fill = outcome.fill
    return {
        "deep": cell(fill.layers[-1].si.top, "depth", system),
        "settled": cell(fill.si.settled_volume, "volume", system),
        "buy": cell(fill.si.loose_volume, "volume", system),
        "price": _price(fill.si.cost),
    }


def order_words(outcome: Outcome, system: str) -> list[str]:
    """What to order, rounded up to what is sold, one a material."""
    return [
        f"{show(order.si.order, 'volume', system)} {order.si.name}"
        for order in outcome.fill.orders
        if order.si.delivered and order.si.order > 0
    ]


def title(outcome: Outcome, system: str) -> str:
    """What to order and how often to push the barrow."""
    fill = outcome.fill.si
    loads = f"{fill.loads:.0f} barrow loads"
    if not fill.order_volume > 0:
        return f"Nothing to order, {loads}"
    return f"{show(fill.order_volume, 'volume', system)} to order, {loads}"


def sunk_to(outcome: Outcome) -> float | None:
    """Height of the surface if filled loose once, or None where nothing sinks."""
    layers, drop = outcome.fill.layers, float(outcome.fill.si.drop_if_loose)
    return float(layers[-1].si.top) - drop if drop > 1e-4 else None


def under_title(outcome: Outcome, system: str) -> str:
    """The line under the title: what the dashed line means."""
    if sunk_to(outcome) is None:
        return "nothing here settles at first"
    drop = show(outcome.fill.si.drop_if_loose, "depth", system)
    return f"dashed: filled only once, it sinks {drop}"


def order_lines(outcome: Outcome, system: str, wide: float) -> list[str]:
    """What to order of each material, in as many lines as it needs."""
    words = order_words(outcome, system)
    if len(words) < 2:
        return []
    lines = ["order, rounded up: " + words[0]]
    for word in words[1:]:
        longer = f"{lines[-1]}, {word}"
        fits = theme.text_px(longer, theme.TICK) < wide
        lines = [*lines[:-1], longer] if fits else [*lines, word]
    return lines


def alt_text(outcome: Outcome, system: str) -> str:
    """What the picture shows, its key numbers."""
    fill = outcome.fill
    stack = ", ".join(
        f"{show(la.si.depth, 'depth', system)} {la.si.name}"
        for la in reversed(fill.layers)
    )
    drop = show(fill.si.drop_if_loose, "depth", system)
    return (
        f"The layers of the fill seen from the front, with their numbers beside them. "
        f"From the top: {stack}. To order: "
        f"{show(fill.si.order_volume, 'volume', system)}; "
        f"{fill.si.loads:.0f} barrow loads. Filled loose to the top once and left, "
        f"the surface sinks by {drop}."
    )


def caption(outcome: Outcome, system: str) -> str:
    """What to see in the picture."""
    bought, settled = outcome.fill.si.loose_volume, outcome.fill.si.settled_volume
    words = (
        "The front wall is left out at the right end; layers are to scale. "
        f"{show(settled, 'volume', system)} are wanted once settled, so "
        f"{show(bought, 'volume', system)} go in loose"
    )
    cost = outcome.fill.si.delivery
    if np.isfinite(cost) and cost > 0:
        words += f"; bringing it costs {show(cost, 'money', system)} more"
    return words + "."


def numbers(outcome: Outcome, system: str) -> Numbers:
    """A row a layer, all together, and what to order."""
    volume, deep = unit_sign("volume", system), unit_sign("depth", system)
    rows = [
        (la.si.name, *cells(la.si, system).values())
        for la in reversed(outcome.fill.layers)
    ]
    rows.append(("together", *total(outcome, system).values()))
    rows += [
        (
            f"to order: {o.si.name}",
            "",
            "",
            cell(o.si.order, "volume", system),
            _price(o.si.cost),
        )
        for o in outcome.fill.orders
    ]
    return Numbers(
        caption=f"What goes into bed {outcome.bed.name}",
        headings=(
            "layer, from the top",
            f"deep, {deep}",
            f"settled, {volume}",
            f"to buy, loose, {volume}",
            sign_after("price", "money", system),
        ),
        rows=tuple(rows),
    )
