"""The chapter: what follows about the fill from one bed in one place."""

from __future__ import annotations

import functools
from typing import Any

import numpy as np

from ..model.bed import Bed
from ..model.outcome import Amount, Check, Part, Plain
from ..model.place import Place
from ..tables import table
from ..units import Q_, from_si, to_si
from .buying import Offer, offers, price_of, trips_of, work
from .logs import LogPlan, plan_logs
from .settlement import sink
from .topping_up import Spoil, TopUp, Work, plan_spoil, plan_top_up, plan_work
from .volumes import barrow_loads, carrying_hours, load_mass, log_zone, loose_volume

__all__ = ["Fill", "FillLayer", "Order", "assess_fill"]


class FillLayer(Part):
    """One layer as it will lie there, and what it takes."""

    material = Plain("Row of data/fills.csv whose looks and rotting it takes")
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

    def logs(self, diameter: Q_ | None = None) -> LogPlan | None:
        """Logs of one thickness (20 cm) in this bed; None where no layer is logs."""
        return plan_logs(self, Q_(20, "cm") if diameter is None else diameter)

    def covers(self) -> tuple[tuple[str, Any, bool], ...]:
        """By crop: its name, the soil it wants over the logs, whether that is there."""
        logs = [i for i, la in enumerate(self.layers) if la.material == "logs"]
        top = self.layers[-1].si.top
        over = top - self.layers[logs[-1]].si.top if logs else np.inf
        return tuple(
            (row.name, row.q("depth"), bool(over >= row.depth - 1e-9))
            for row in table("cover")
        )

    def minerals(self) -> tuple[tuple[str, Any, Any, str], ...]:
        """Minerals for this bed: name, least and most (quantities), and when."""
        area = self.si.inside_length * self.si.inside_width
        return tuple(
            (
                row.name,
                from_si(row.low * area, "g"),
                from_si(row.high * area, "g"),
                row.when,
            )
            for row in table("minerals")
        )

    def sunk(self, years: Q_, case: str = "likely"):
        """How far the surface has sunk by rotting after some years (a quantity).

        ``case`` takes ``low``, ``likely`` or ``high`` rates. The first settling is
        not in it: the order already allows for it.
        """
        seconds = np.asarray(to_si(years, "year", "sunk: 'years'"))
        return from_si(sum(sink(self.layers, seconds, case)), "cm")

    def top_up(self, years: int = 5, case: str = "likely") -> TopUp:
        """Compost to bring the surface back up at the end of each year."""
        return plan_top_up(self, years, case)

    def work(self, barrow: str = "", distance: Q_ | None = None, crew: int = 0) -> Work:
        """Loads, trips and hours with another barrow, distance or crew."""
        return plan_work(self, barrow, distance, crew)

    def ways(self, goods: str) -> tuple[Offer, ...]:
        """Bags or bulk for one of the orders, cheapest first."""
        order = next(o for o in self.orders if o.goods == goods)
        return offers(goods, order.loose, self.place)

    def spoil(self, cut: Q_, area: Q_) -> Spoil:
        """Turf and soil dug out under the bed, and the mix they can stand in for."""
        return plan_spoil(self, to_si(cut, "m^3", "cut"), to_si(area, "m^2", "area"))


#: what comes by truck; the rest is collected
_FREE = ("logs", "brush", "leaves")


@functools.cache
def _stands_for(goods: str):
    """The first material of the table that is bought as this."""
    return next(row for row in table("fills") if row.goods == goods)


def _orders(needs: dict[str, list], place: Place) -> tuple[Order, ...]:
    found = []
    for goods, (bought, loose) in needs.items():
        order, cost = price_of(goods, loose, place)
        density, name = bought.loose_density, bought.name
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


def assess_fill(bed: Bed, place: Place, *, settle: str = "settle") -> Fill:
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
        bought = row if row.source == "own" else _stands_for(row.goods)
        entry = needs.setdefault(row.goods, [bought, 0.0])
        entry[1] = entry[1] + loose
        return row.goods, loose

    for layer, depth in zip(bed.fill, bed.layer_depths, strict=True):
        row, settled = layer.row, depth * area
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
        raw.append((layer, depth, bottom, settled, takes))
        bottom, drop = bottom + depth, drop + depth * row.settle
    orders = _orders(needs, place)
    return _gather(bed, place, raw, orders, wood, gaps, air, drop)


def _gather(bed, place, raw, orders, wood, gaps, air, drop) -> Fill:
    trucked = sum(o.si.order for o in orders if o.si.delivered) + 0.0
    trips, delivery = trips_of(trucked, place)
    loose = sum(o.si.loose for o in orders)
    cost = sum(o.si.cost for o in orders)
    loads = barrow_loads.si(loose, table("people")["adult"].barrow)
    rate, log_work = work("loads_per_hour") / 3600, work("log_hours") * 3600
    hours = carrying_hours.si(loads, rate, place.crew, wood, log_work)
    settled = sum(item[3] for item in raw)
    bought, bought_cost = price_of(
        "mix", loose_volume.si(settled, table("fills")["mix"].settle), place
    )
    bought_cost = bought_cost + trips_of(bought, place)[1]
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


def _layer(by_goods, layer, depth, bottom, settled, takes) -> FillLayer:
    """A layer with its share of the orders of what it takes."""
    cost, mass = 0.0, 0.0
    for goods, loose in takes:
        order = by_goods[goods].si
        mass = mass + load_mass.si(loose, order.density)
        cost = cost + order.cost * loose / np.maximum(order.loose, 1e-12)
    return FillLayer(
        material=layer.kind,
        name=layer.row.name,
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
    logs = [
        i
        for i, layer in enumerate(bed.fill)
        if layer.kind == "logs" and np.any(bed.layer_depths[i] > 0)
    ]
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
