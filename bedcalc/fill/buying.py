"""Buying: bags against bulk with its delivery, and where one becomes cheaper."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from ..model.place import Place
from ..tables import table
from ..units import Q_, Value, from_si, quantities, to_si
from .volumes import rounded_order

__all__ = [
    "Offer", "break_even", "offers", "pack_cost", "price_of", "prices_over", "trips_of",
    "SPECK", "work",
]  # fmt: skip  # a list of names

SPECK = 1e-6  # m³: nobody orders less than a millilitre


@quantities(
    "money",
    loose="m^3 [0, inf)",
    pack="m^3 (0, inf)",
    price="money [0, inf)",
    trip="m^3 [0, inf)",
    fee="money [0, inf)",
)
def pack_cost(
    loose: Value, pack: Value, price: Value, trip: Value, fee: Value
) -> Value:
    """Price of a loose volume in whole packs with whole trips.

    Parameters
    ----------
    loose : quantity [m^3]
        Needed.
    pack : quantity [m^3]
        One bag, or the step in which bulk is sold.
    price : quantity [money]
        Of one pack.
    trip : quantity [m^3]
        What one delivery brings.
    fee : quantity [money]
        Of one delivery, 0 for bags taken home.

    Returns
    -------
    quantity [money]
        ceil(loose / pack) price + ceil(bought / trip) fee.

    Notes
    -----
    Delivery is a stair, not a ramp. Source: arithmetic; common practice.
    """
    packs = np.ceil(loose / pack - 1e-9)
    return packs * price + np.ceil(packs * pack / trip - 1e-9) * fee


@dataclass(frozen=True, kw_only=True)
class Offer:
    """One way to buy a material: so many packs, so many trips, so much money (SI)."""

    how: str
    goods: str
    pack: float
    price: float
    packs: float
    trips: float
    goods_cost: float
    delivery: float

    @property
    def total(self) -> float:
        """Goods and delivery, money."""
        return self.goods_cost + self.delivery


def _rows(goods: str, place: Place):
    """(how, price-list row, m3 a trip, fee) of each way to buy a material."""
    truck = place.goods.get("truck")
    for row in place.goods.get(goods, ())[:1]:
        fee = truck[0].price if truck else float("nan")
        trip = table("work")["truck"].value
        yield "bulk", row, (truck[0].content if truck else trip), fee
    for row in place.goods.get(f"{goods}_bag", ()):
        yield "bags", row, 1e9, 0.0


def offers(goods: str, loose: Any, place: Place) -> tuple[Offer, ...]:
    """Every way to buy a loose volume of a material, cheapest first.

    Parameters
    ----------
    goods : str
        Key in the price list, such as ``"mix"``; bags stand there as ``"mix_bag"``.
    loose : quantity
        Volume needed.
    place : Place
    """
    volume = to_si(loose, "m^3", "offers: 'loose'")
    found = []
    for how, row, trip, fee in _rows(goods, place):
        packs = float(np.ceil(volume / row.content - 1e-9))
        trips = float(np.ceil(packs * row.content / trip - 1e-9)) if fee else 0.0
        found.append(
            Offer(
                how=how,
                goods=row.goods,
                pack=row.content,
                price=row.price,
                packs=packs,
                trips=trips,
                goods_cost=packs * row.price,
                delivery=trips * fee,
            )
        )
    return tuple(sorted(found, key=lambda offer: offer.total))


def prices_over(goods: str, most: Q_, place: Place) -> tuple[np.ndarray, dict]:
    """What bags and bulk cost over a range of volumes (SI): volumes, cost by way."""
    volumes = np.arange(0.01, to_si(most, "m^3", "prices_over: 'most'") + 1e-9, 0.01)
    return volumes, ways_to_pay(goods, volumes, place)


def ways_to_pay(goods: str, volumes: np.ndarray, place: Place) -> dict[str, np.ndarray]:
    """What each of some volumes (m3) costs, bulk or in bags; {} if not for sale."""
    found: dict[str, np.ndarray] = {}
    for how, row, trip, fee in _rows(goods, place):
        cost = pack_cost.si(volumes, row.content, row.price, trip, fee)
        found[how] = np.minimum(found[how], cost) if how in found else cost
    return found


def break_even(goods: str, place: Place, most: Any = None):
    """Smallest volume from which bulk stays no dearer than bags, or None.

    Parameters
    ----------
    goods : str
    place : Place
    most : quantity, optional
        How far to look; 6 m³ if left out.
    """
    volumes, cost = prices_over(goods, most or Q_(6, "m^3"), place)
    if not {"bags", "bulk"} <= set(cost) or np.isnan(cost["bulk"]).any():
        return None  # one way only, or nobody knows what delivery costs
    dearer = np.nonzero(cost["bulk"] > cost["bags"] + 1e-9)[0]
    if not dearer.size:
        return from_si(float(volumes[0]), "m^3")
    if dearer[-1] == len(volumes) - 1:
        return None
    return from_si(float(volumes[dearer[-1] + 1]), "m^3")


def work(key: str) -> float:
    """A number of data/work.csv (counts and rates; lengths in metres)."""
    return table("work")[key].value


def price_of(goods: str, loose: Any, place: Place):
    """Rounded order and its price for a loose volume of one material."""
    rows = place.goods.get(goods)
    if not rows:
        return rounded_order.si(loose, 0.5), _without_price(loose)
    row = rows[0]
    order = rounded_order.si(loose, row.content)
    return order, order / row.content * row.price


def _without_price(amount):
    """Not-a-number for what has no price; nothing for nothing."""
    return np.where(np.asarray(amount) > SPECK, np.nan, 0.0)[()]


def trips_of(volume: Value, place: Place):
    """Truck trips and their price."""
    rows = place.goods.get("truck")
    holds = rows[0].content if rows else work("truck")
    trips = np.ceil(volume / holds - 1e-9) + 0.0
    return trips, trips * rows[0].price if rows else _without_price(trips)
