"""The chapter: what follows about the fill from one bed in one place."""

from __future__ import annotations

import functools

import numpy as np

from ..bed import Bed
from ..outcome import Amount, Check, Part, Plain
from ..place import Place
from ..tables import table
from ..units import Q_, from_si, to_si
from .buying import Offer, offers
from .logs import LogPlan, plan_logs
from .sinking import sink
from .volumes import (
    barrow_loads,
    carrying_hours,
    dug_out,
    load_mass,
    loads_per_hour,
    log_zone,
    loose_volume,
    rounded_order,
)

__all__ = [
    "Fill", "FillLayer", "Order", "Spoil", "TopUp", "Work", "follow_fill",
]  # fmt: skip

_YEAR = 365.25 * 86400.0


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
    mass = Amount("kg", "Mass as delivered, moist", "mass")


class Order(Part):
    """What to order of one material, all layers together."""

    goods = Plain("Key in the price list")
    name = Plain("What people call it")
    loose = Amount("m^3", "Loose volume needed", "volume")
    order = Amount("m^3", "Rounded up to the seller's step", "volume")
    cost = Amount("money", "Price of the order, without delivery", "coins")
    delivered = Plain("Whether a truck brings it")
    mass = Amount("kg", "Mass as delivered, moist", "mass")
    density = Amount("kg/m^3", "Loose and moist")


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
    mass = Amount("kg", "Mass of all that is brought in, moist", "mass")
    inside_length = Amount("m", "Length between the inner faces", "size")
    inside_width = Amount("m", "Width between the inner faces", "size")
    place = Plain("Where it is: prices, crew")
    checks = Plain("Verdicts of this chapter")

    def logs(self, diameter=None) -> LogPlan | None:
        """Logs of one thickness (20 cm) in this bed; None where no layer is logs."""
        return plan_logs(self, Q_(20, "cm") if diameter is None else diameter)

    def sunk(self, years, case: str = "likely"):
        """How far the surface has sunk by rotting after some years (a quantity).

        ``case`` takes ``low``, ``likely`` or ``high`` rates. The first settling is
        not in it: the order already allows for it.
        """
        seconds = np.asarray(to_si(years, "year", "sunk: 'years'"))
        return from_si(sum(sink(self.layers, seconds, case)), "cm")

    def sunk_layers(self, years, case: str = "likely") -> list:
        """The same for each layer, bottom first."""
        seconds = np.asarray(to_si(years, "year", "sunk_layers: 'years'"))
        return [from_si(drop, "cm") for drop in sink(self.layers, seconds, case)]

    def top_up(self, years: int = 5, case: str = "likely") -> TopUp:
        """Compost to bring the surface back up at the end of each year."""
        return _top_up(self, years, case)

    def work(self, barrow: str = "", distance=None, crew: int = 0) -> Work:
        """Loads, trips and hours with another barrow, distance or crew."""
        return _carry(self, barrow, distance, crew)

    def ways(self, goods: str) -> tuple[Offer, ...]:
        """Bags or bulk for one of the orders, cheapest first."""
        order = next(o for o in self.orders if o.goods == goods)
        return offers(goods, order.loose, self.place)

    def spoil(self, cut, area) -> Spoil:
        """Turf and soil dug out under the bed, and the mix they can stand in for."""
        return _spoil(self, to_si(cut, "m^3", "cut"), to_si(area, "m^2", "area"))


class TopUp(Part):
    """What sinking costs later: compost, year by year."""

    drops = Amount("cm", "Sunk within each year", "depth")
    loose = Amount("m^3", "Compost to buy at the end of each year", "volume")
    cost = Amount("money", "Its price, bags or bulk, the cheaper", "money")
    total_loose = Amount("m^3", "All years together", "volume")
    total_cost = Amount("money", "All years together", "money")


class Work(Part):
    """The work of carrying, for one barrow, distance and crew."""

    barrow = Amount("L", "What one load holds")
    loads = Amount("", "Whole loads, material by material", "ratio")
    heaviest = Amount("kg", "Mass of the heaviest full load", "mass")
    rate = Amount("1/hour", "Loads a pair moves in an hour")
    hours = Amount("hour", "Hours for the crew, logs laid too", "time")
    per_order = Plain("(name, loads, kg a load) of each material")
    too_heavy = Plain("Names of what should go in half loads")


class Spoil(Part):
    """What was dug out and where it can go."""

    turf = Amount("m^3", "Turf, as it lay", "volume")
    soil = Amount("m^3", "Soil under it, as it lay", "volume")
    heap = Amount("m^3", "Both, as a loose heap", "volume")
    used = Amount("m^3", "Goes back in, trodden down", "volume")
    left = Amount("m^3", "Has to go somewhere else", "volume")
    less_mix = Amount("m^3", "Less loose mix to buy", "volume")
    saved = Amount("money", "Less money, goods and trips", "money")


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
    rows = place.goods.get("truck")
    holds = rows[0].content if rows else _value("truck")
    trips = np.ceil(volume / holds - 1e-9)
    return trips, trips * (rows[0].price if rows else np.nan)


#: what comes by truck; the rest is collected
_FREE = ("logs", "brush", "leaves")


@functools.cache
def _stands_for(goods: str):
    """The first material of the table that is bought as this."""
    return next(row for row in table("fills") if row.goods == goods)


def _orders(needs: dict[str, list], place: Place) -> tuple[Order, ...]:
    found = []
    for goods, (name, loose) in needs.items():
        order, cost = _price(goods, loose, place)
        density = _stands_for(goods).loose_density
        found.append(
            Order(
                goods=goods,
                name=name,
                loose=loose,
                order=order,
                cost=cost,
                delivered=goods not in _FREE,
                mass=load_mass.si(loose, density),
                density=density,
            )
        )
    return tuple(found)


def follow_fill(bed: Bed, place: Place, *, settle: str = "settle") -> Fill:
    """What the fill chapter says about this bed.

    Parameters
    ----------
    bed : Bed
        Its sizes and layers may be arrays.
    place : Place
    settle : str
        Column of data/fills.csv for the first settling: ``settle``, ``settle_low`` or
        ``settle_high``.
    """
    area = bed.si.inside_length * bed.si.inside_width
    fills = table("fills")
    needs: dict[str, list] = {}
    raw, bottom, wood, gaps, air, drop = [], 0.0, 0.0, 0.0, 0.0, 0.0

    def need(row, loose):
        entry = needs.setdefault(row.goods, [_stands_for(row.goods).name, 0.0])
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
                need(chips, loose_volume.si(in_gaps, getattr(chips, settle))),
            )
        else:
            takes = (need(row, loose_volume.si(settled, getattr(row, settle))),)
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
    rate, log_work = _value("loads_per_hour") / 3600, _value("log_hours") * 3600
    hours = carrying_hours.si(loads, rate, place.crew, wood, log_work)
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
        hours=hours,
        drop_if_loose=drop,
        cost=cost,
        delivery=delivery,
        all_bought=bought_cost,
        saved=bought_cost - cost - delivery,
        mass=sum(o.si.mass for o in orders),
        inside_length=bed.si.inside_length,
        inside_width=bed.si.inside_width,
        place=place,
        checks=_checks(bed),
    )


def _layer(by_goods, row, depth, bottom, settled, takes) -> FillLayer:
    """A layer with its share of the orders of what it takes."""
    cost, mass = 0.0, 0.0
    for goods, loose in takes:
        order = by_goods[goods].si
        mass = mass + load_mass.si(loose, order.density)
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
        mass=mass,
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


def _cheapest(goods: str, loose: float, place: Place) -> float:
    ways = offers(goods, from_si(loose, "m^3"), place) if loose > 1e-9 else ()
    return min((way.total for way in ways), default=0.0 if loose <= 1e-9 else np.nan)


def _top_up(fill: Fill, years: int, case: str) -> TopUp:
    ends = np.arange(years + 1) * _YEAR
    drops = np.diff(sum(sink(fill.layers, ends, case)))
    area = fill.si.inside_length * fill.si.inside_width
    loose = loose_volume.si(drops * area, table("fills")["compost"].settle)
    cost = np.array([_cheapest("compost", float(v), fill.place) for v in loose])
    return TopUp(
        drops=drops,
        loose=loose,
        cost=cost,
        total_loose=loose.sum(),
        total_cost=cost.sum(),
    )


def _carry(fill: Fill, barrow: str, distance, crew: int) -> Work:
    holds = table("people")["adult"].barrow
    if barrow:
        holds = table("barrows")[barrow].volume
    rate = _value("loads_per_hour") / 3600
    if distance is not None:
        metres = to_si(distance, "m", "work: 'distance'")
        rate = loads_per_hour.si(metres, _value("load_still"), _value("load_pace"))
    limit = _value("load_limit")
    per_order, loads = [], 0.0
    for order in fill.orders:
        if order.goods == "logs":  # carried by hand, counted with the laying
            continue
        n = float(barrow_loads.si(order.si.loose, holds))
        per_order.append((order.name, n, load_mass.si(holds, order.si.density)))
        loads += n
    people = crew or fill.place.crew
    log_work = _value("log_hours") * 3600
    return Work(
        barrow=holds,
        loads=loads,
        heaviest=max((kg for _, n, kg in per_order if n), default=0.0),
        rate=rate,
        hours=carrying_hours.si(loads, rate, people, fill.si.wood, log_work),
        per_order=tuple(per_order),
        too_heavy=tuple(name for name, n, kg in per_order if n and kg > limit),
    )


def _spoil(fill: Fill, cut: float, area: float) -> Spoil:
    turf, soil, heap = dug_out.si(
        cut, area, _value("turf_thick"), _value("spoil_bulking")
    )
    mix = next((o for o in fill.orders if o.goods == "mix"), None)
    settle = table("fills")["mix"].settle
    room = 0.0 if mix is None else mix.si.loose * (1 - settle) * _value("spoil_share")
    used = np.minimum(turf + soil, room)
    less = loose_volume.si(used, settle)
    saved = 0.0
    if mix is not None:
        order, cost = _price("mix", mix.si.loose - less, fill.place)
        trucked = fill.si.order_volume - mix.si.order + order
        trips = _trips(trucked, fill.place)[1]
        saved = mix.si.cost - cost + fill.si.delivery - trips
    return Spoil(
        turf=turf,
        soil=soil,
        heap=heap,
        used=used,
        left=turf + soil - used,
        less_mix=less,
        saved=saved,
    )
