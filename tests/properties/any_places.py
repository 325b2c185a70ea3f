"""Random places: ground, plot, price list, currency, saw, car; often nothing known.

As with beds (any_beds.py), every field that a person can enter is drawn, from usual
values to the ends of its range and now and then beyond.
"""

from __future__ import annotations

import numpy as np

from bedcalc import Q_, Place, PriceList
from bedcalc.currency import Currency, CurrencyError, currencies
from bedcalc.model.climate import NORMALS, Climate
from bedcalc.model.materials import MaterialError
from bedcalc.model.place import RULES, Levelling, PlaceError, Survey
from bedcalc.model.plot import KINDS, Plot, Thing, rectangle
from bedcalc.model.prices import PriceError
from bedcalc.tables import table

__all__ = ["NAMES", "REFUSALS", "random_place"]

#: what refuses an entry at the door
REFUSALS = (PlaceError, PriceError, CurrencyError, MaterialError)
#: names that a person may give to anything, and that mean something to some program
NAMES = (
    "B", "No. 1", "a.b.1", "Karl's \"best\" <b>bed</b> & more", "🥕 Möhren", "=1+1",
    "x" * 60, "../../etc", "a/b\\c:*?[d]", "%s {x}", "١٢٣", " by the shed ", "{demand}",
    "'; --", "$x^2$", "true", "-", "e\u0301te", "\u202eback",
)  # fmt: skip
SOILS = [None, *table("soils").rows]
SHAPES = (
    ((0, 0), (12, 0), (12, 8), (0, 8)),
    ((0, 0), (9, 1), (14, 12), (3, 9)),
    ((0, 0), (10, 0), (10, 4), (4, 4), (4, 10), (0, 10)),  # an L
    ((5, 0), (10, 9), (0, 9)),
    ((0, 0), (500, 0), (500, 1), (0, 1)),
    ((-3, -2), (20, -2), (20, 30), (-3, 30), (-3, -2)),  # ends where it began
    ((0, 0), (5, 5), (5, 0), (0, 5)),  # crosses itself
    ((0, 0), (1, 1)),
)


def _one(rng, *values):
    return values[int(rng.integers(len(values)))]


def _survey(rng) -> Survey:
    """Readings on an even slope, steep or hardly any, with errors of any size."""
    count = int(_one(rng, 2, 3, 4, 4, 9, 25))
    x, y = rng.uniform(-2, 20, (2, count))
    if rng.random() < 0.1:
        y = x * 0.5  # all in one line
    fall = _one(rng, 0, 0, 1e-9, 0.02, 0.08, 0.35, 1.5) * rng.uniform(-1, 1, 2)
    down = 0.3 + fall[0] * x + fall[1] * y
    down += rng.normal(0, 1, count) * float(_one(rng, 0, 0.002, 0.02, 0.5))
    if rng.random() < 0.2:  # a point read twice
        x[-1], y[-1] = x[0], y[0]
    rows = zip(*(np.round(v, 4).tolist() for v in (x, y, down)), strict=True)
    return Survey(readings=tuple(rows))


def _plot(rng) -> Plot:
    things = tuple(
        Thing(
            name=_one(rng, *NAMES), kind=_one(rng, *KINDS),
            x=float(np.round(rng.uniform(-5, 20), 2)),
            y=float(np.round(rng.uniform(-5, 20), 2)),
            length=float(_one(rng, 0, 0, 0.1, 2, 8)),
            width=float(_one(rng, 0, 0, 0.1, 2, 8)),
            height=float(_one(rng, 0, 0, 1.8, 6, 100)),
        )
        for _ in range(int(_one(rng, 0, 1, 3, 8)))
    )  # fmt: skip
    downhill = _one(rng, None, 0, 180, 180, -90, 359.9, 360)
    if rng.random() < 0.3:
        size = _one(rng, (1, 1), (6, 4), (12, 8), (500, 300), (0.5, 3))
        return rectangle(*size, downhill=downhill, things=things)
    return Plot(outline=_one(rng, *SHAPES), downhill=downhill, things=things)


def _currency(rng) -> Currency:
    way = rng.random()
    if way < 0.2:
        return Currency()
    if way < 0.7:
        return Currency.of(currencies()[int(rng.integers(len(currencies())))][0])
    return Currency(
        code=_one(rng, "", "EUR", "KWD", "xx"),
        sign=_one(rng, "", "T", "Fr.", "€", "1"),
        decimals=int(_one(rng, 0, 1, 2, 3, 4)), before=bool(rng.random() < 0.5),
    )  # fmt: skip


def _prices(rng) -> PriceList | None:
    """No list, one of the demo, or an own one: with gaps, gifts, odd prices."""
    way = rng.random()
    if way < 0.2:
        return None
    demo = PriceList.named(str(_one(rng, "demo", "demo", "demo_us")))
    if way < 0.5:
        return demo
    factor = float(_one(rng, 1, 1, 0, 0.01, 9.99, 1234.5, 1e5))
    rows = []
    for words in demo.as_words()["rows"]:
        if rng.random() < 0.25:
            continue  # nobody asked for this price
        for name in ("price", "low", "high"):
            if name in words:
                words[name] *= factor
        if rng.random() < 0.1:
            words["price"] = float(_one(rng, 0, -1, 1e12, words["price"]))
            words.pop("low", None), words.pop("high", None)
        if rng.random() < 0.1:
            words["count"] = float(_one(rng, 0, 1, 7, 10_000, 2.5))
        if rng.random() < 0.05:
            words["taxed"] = "no"
        if rng.random() < 0.1:
            words["name"] = str(_one(rng, *NAMES))
        rows.append(words)
    if rng.random() < 0.8:  # most lists have no wrong line
        rows = [
            r for r in rows if 0 <= r["price"] < 1e10 and r.get("count", 0) % 1 == 0
        ]
    given = PriceList.from_words({"name": "our list", "rows": rows}, "prices")
    return given.with_rows(
        given.rows, currency=_currency(rng), date=_one(rng, "", "1 March"),
        taxed_inside=bool(rng.random() < 0.3),
    )  # fmt: skip


def _climate(rng):
    """The demo's, none, or one of which some months of some kinds are known."""
    way = rng.random()
    if way < 0.6:
        return _one(rng, None, "plumtrellis")
    known = {}
    for name, normal in NORMALS.items():
        if rng.random() < 0.5:
            months = np.round(rng.uniform(normal.low, normal.high, 12), 1).tolist()
            if name.startswith("t_"):
                months = [15.0 + month / 5 for month in months]
            if rng.random() < 0.3:
                months[int(rng.integers(12))] = None
            known[name] = tuple(months)
    for name in ("last_frost", "first_frost"):
        known[name] = _one(rng, None, "20 April", "29 February", "31 December")
    heavy = _one(rng, None, 0, 1, 38, 1000)
    known["heavy_day"] = None if heavy is None else Q_(float(heavy), "mm")
    return Climate(name=_one(rng, *NAMES), **known)


def random_place(rng) -> Place:
    """One place out of all that can be entered.

    Raises
    ------
    PlaceError, PriceError, CurrencyError
        Where what was drawn cannot be.
    """
    name = str(_one(rng, *NAMES))
    if rng.random() < 0.1:
        return Place.unknown(name)

    def known(share, make):
        return make() if rng.random() < share else None

    def q(unit, *values):
        return Q_(float(_one(rng, *values)), unit)

    return Place(
        name=name,
        survey=known(0.5, lambda: _survey(rng)),
        plot=known(0.5, lambda: _plot(rng)),
        levelling=Levelling(
            rule=_one(rng, *RULES), limit=q("mm", 20, 100, 150, 150, 600),
            gravel=q("mm", 0, 0, 0, 50, 300),
        ),
        latitude=known(0.6, lambda: q("deg", -66, -34, 0, 48, 48, 66, 67)),
        altitude=known(0.5, lambda: q("m", -400, 0, 210, 5000)),
        soil=_one(rng, *SOILS),
        climate=_climate(rng),
        prices=_prices(rng),
        tax_rate=q("percent", 0, 7.7, 20, 50),
        with_tax=bool(rng.random() < 0.5),
        price_rise=q("percent", 0, 0, 20, -90, 300),
        kerf=_one(rng, q("mm", 0, 3.2, 3.2, 10), q("inch", 0.125)),
        trim=_one(rng, q("mm", 0, 20, 20, 300), q("inch", 1)),
        longest_carried=_one(rng, q("m", 1, 2, 6, 6, 15), q("ft", 8, 16)),
        crew=int(_one(rng, 1, 2, 2, 7, 100)),
    )  # fmt: skip
