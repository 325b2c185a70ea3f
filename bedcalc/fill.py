"""Fill: what goes in, how much to order, how often the barrow rolls.

Settling is a share of the *loose* volume: settled = loose (1 - s), so one orders
settled / (1 - s), never settled (1 + s). A log zone is wood, chips in the gaps, and
air; chips poured over logs first disappear into the gaps.
"""

from __future__ import annotations

import numpy as np

from .bed import Bed
from .outcome import Amount, Check, Part, Plain
from .place import Place
from .tables import table
from .units import from_si, quantities

__all__ = [
    "Fill", "FillLayer", "Order", "barrow_loads", "follow_fill", "log_zone",
    "loose_volume", "rounded_order",
]  # fmt: skip


@quantities("m^3", settled="m^3", settle="")
def loose_volume(settled, settle):
    """Volume to buy so that this much is there once it has settled.

    Parameters
    ----------
    settled : quantity [m^3]
        Wanted after settling.
    settle : quantity []
        Share of the loose volume lost at first settling, 0 to below 1.

    Returns
    -------
    quantity [m^3]
        settled / (1 - settle).

    Notes
    -----
    First settling only, not rotting. Source: common practice.
    """
    return settled / (1 - settle)


@quantities(("m^3", "m^3", "m^3"), zone="m^3", packing="", void_fill="")
def log_zone(zone, packing, void_fill):
    """Share a log zone out into wood, chips in the gaps, and air.

    Parameters
    ----------
    zone : quantity [m^3]
        Whole volume of the zone.
    packing : quantity []
        Share that is wood: 0.50 to 0.70 for round logs laid by hand.
    void_fill : quantity []
        Share of the gaps that the chips fill: 0.6 tipped, 0.95 raked and hosed in.

    Returns
    -------
    tuple of quantity [m^3, m^3, m^3]
        Wood, chips in the gaps (settled), air left. They add up to the zone.

    Notes
    -----
    Chips larger than a sixth of the logs do not enter: void_fill 0.5.
    Source: assumption; packing of equal cylinders by geometry.
    """
    wood = packing * zone
    chips = void_fill * (zone - wood)
    return wood, chips, zone - wood - chips


@quantities("m^3", loose="m^3", step="m^3")
def rounded_order(loose, step):
    """Round an order up to the seller's step.

    Parameters
    ----------
    loose : quantity [m^3]
        Loose volume needed.
    step : quantity [m^3]
        What the seller sells by, such as half a cubic metre.

    Returns
    -------
    quantity [m^3]
        The next whole number of steps.

    Notes
    -----
    Source: arithmetic; common practice.
    """
    return np.ceil(loose / step - 1e-9) * step


@quantities("", loose="m^3", barrow="m^3")
def barrow_loads(loose, barrow):
    """How many barrow loads a loose volume makes, whole loads.

    Parameters
    ----------
    loose : quantity [m^3]
        Volume to move.
    barrow : quantity [m^3]
        What one load holds.

    Returns
    -------
    quantity []
        Whole loads.

    Notes
    -----
    Wet compost in half loads doubles the trips. Source: arithmetic.
    """
    return np.ceil(loose / barrow - 1e-9)


class FillLayer(Part):
    """One layer as it will lie there, and what it takes."""

    material = Plain("Key in data/fills.csv")
    name = Plain("What people call it")
    depth = Amount("cm", "Settled depth", "depth")
    bottom = Amount("cm", "Height of its underside over the base of the fill", "depth")
    top = Amount("cm", "Height of its top over the base of the fill", "depth")
    settled = Amount("m^3", "Volume once settled", "volume")
    loose = Amount("m^3", "Volume as bought", "volume")
    cost = Amount("money", "Its share of the orders, without delivery", "money")


class Order(Part):
    """What to order of one material, all layers together."""

    goods = Plain("Key in the price list")
    name = Plain("What people call it")
    loose = Amount("m^3", "Loose volume needed", "volume")
    order = Amount("m^3", "Rounded up to the seller's step", "volume")
    cost = Amount("money", "Price of the order, without delivery", "coins")
    delivered = Plain("Whether a truck brings it")


class Fill(Part):
    """All layers, all orders, and the work of moving them."""

    layers = Plain("Layers, bottom first")
    orders = Plain("Orders, one a material")
    settled_volume = Amount("m^3", "Fill once settled", "volume")
    loose_volume = Amount("m^3", "Loose volume of all that is brought in", "volume")
    order_volume = Amount("m^3", "Ordered by truck, rounded", "volume")
    wood = Amount("m^3", "Solid wood of the logs", "volume")
    chips_in_gaps = Amount("m^3", "Chips that vanish between the logs", "volume")
    air = Amount("m^3", "Air left between the logs", "volume")
    loads = Amount("", "Barrow loads", "ratio")
    trips = Amount("", "Truck trips", "ratio")
    hours = Amount("hour", "Hours of work for the crew", "time")
    drop_if_loose = Amount("cm", "Sinks by, if filled loose once", "depth")
    cost = Amount("money", "Fill without delivery", "money")
    delivery = Amount("money", "Delivery of the fill", "money")
    all_bought = Amount("money", "The same bed all in bought mix, delivered", "money")
    saved = Amount("money", "Less than all bought mix", "money")
    checks = Plain("Verdicts of this chapter")


def _value(key: str) -> float:
    """A number of data/work.csv (counts and rates; lengths in metres)."""
    return table("work")[key].value


def _price(goods: str, loose, place: Place):
    """Rounded order and its price for a loose volume of one material."""
    rows = place.goods.get(goods)
    if not rows:
        return rounded_order.si(loose, 0.5), np.full(np.shape(loose), np.nan)[()]
    row = rows[0]
    order = rounded_order.si(loose, row.content)
    return order, order / row.content * row.price


def _trips(volume, place: Place):
    """Truck trips and their price."""
    trips = np.ceil(volume / _value("truck") - 1e-9)
    rows = place.goods.get("truck")
    return trips, trips * (rows[0].price if rows else np.nan)


#: what comes by truck; the rest is collected
_FREE = ("logs", "brush", "leaves")


def _orders(needs: dict[str, list], place: Place) -> tuple[Order, ...]:
    found = []
    for goods, (name, loose) in needs.items():
        order, cost = _price(goods, loose, place)
        found.append(
            Order(
                goods=goods,
                name=name,
                loose=loose,
                order=order,
                cost=cost,
                delivered=goods not in _FREE,
            )
        )
    return tuple(found)


def follow_fill(bed: Bed, place: Place) -> Fill:
    """What the fill chapter says about this bed."""
    area = bed.si.inside_length * bed.si.inside_width
    fills = table("fills")
    needs: dict[str, list] = {}
    raw, bottom, wood, gaps, air, drop = [], 0.0, 0.0, 0.0, 0.0, 0.0

    def need(row, loose):
        entry = needs.setdefault(row.goods, [row.name, 0.0])
        entry[1] = entry[1] + loose
        return row.goods, loose

    for layer, depth in zip(bed.fill, bed.layer_depths, strict=True):
        row, settled = fills[layer.material], depth * area
        if row.void_material:
            chips = fills[row.void_material]
            solid, in_gaps, empty = log_zone.si(settled, row.packing, row.void_fill)
            wood, gaps, air = wood + solid, gaps + in_gaps, air + empty
            takes = (
                need(row, solid),
                need(chips, loose_volume.si(in_gaps, chips.settle)),
            )
        else:
            takes = (need(row, loose_volume.si(settled, row.settle)),)
        raw.append((row, depth, bottom, settled, takes))
        bottom, drop = bottom + depth, drop + depth * row.settle
    orders = _orders(needs, place)
    return _gather(bed, place, raw, orders, wood, gaps, air, drop)


def _gather(bed, place, raw, orders, wood, gaps, air, drop) -> Fill:
    trucked = sum(o.si.order for o in orders if o.si.delivered) + 0.0
    trips, delivery = _trips(trucked, place)
    loose = sum(o.si.loose for o in orders)
    cost = sum(o.si.cost for o in orders)
    loads = barrow_loads.si(loose, table("people")["adult"].barrow)
    pairs = np.maximum(place.crew / 2, 0.5)
    hours = loads / _value("loads_per_hour") / pairs
    hours = hours + wood * _value("log_hours") / place.crew
    settled = sum(item[3] for item in raw)
    bought, bought_cost = _price(
        "mix", loose_volume.si(settled, table("fills")["mix"].settle), place
    )
    bought_cost = bought_cost + _trips(bought, place)[1]
    by_goods = {o.si.goods: o for o in orders}
    return Fill(
        layers=tuple(_layer(by_goods, *item) for item in raw),
        orders=orders,
        settled_volume=settled,
        loose_volume=loose,
        order_volume=trucked,
        wood=wood,
        chips_in_gaps=gaps,
        air=air,
        loads=loads,
        trips=trips,
        hours=hours * 3600.0,
        drop_if_loose=drop,
        cost=cost,
        delivery=delivery,
        all_bought=bought_cost,
        saved=bought_cost - cost - delivery,
        checks=_checks(bed),
    )


def _layer(by_goods, row, depth, bottom, settled, takes) -> FillLayer:
    """A layer with its share of the orders of what it takes."""
    cost = 0.0
    for goods, loose in takes:
        order = by_goods[goods].si
        cost = cost + order.cost * loose / np.maximum(order.loose, 1e-12)
    return FillLayer(
        material=row.key,
        name=row.name,
        depth=depth,
        bottom=bottom,
        top=bottom + depth,
        settled=settled,
        loose=sum(loose for _, loose in takes),
        cost=cost,
    )


def _checks(bed: Bed) -> tuple[Check, ...]:
    """Soil over the logs: enough for the roots of yearly vegetables."""
    logs = [i for i, layer in enumerate(bed.fill) if layer.material == "logs"]
    if not logs:
        return ()
    cover = sum(bed.layer_depths[logs[-1] + 1 :]) + 0.0
    row = table("cover")["annual"]
    return (
        Check(
            name="cover",
            says="{capacity} of fill lie over the logs; yearly vegetables want "
            "{demand}.",
            demand=from_si(np.broadcast_to(row.depth, np.shape(cover))[()], "cm"),
            capacity=from_si(cover, "cm"),
            kind="depth",
            chapter="fill",
            source=row.source,
        ),
    )
