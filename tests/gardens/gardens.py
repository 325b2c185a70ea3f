"""Two dozen gardens of readers who are not the demo: each stresses something else."""

from __future__ import annotations

import bedcalc as bc
from bedcalc import Q_, Bed, FillMaterial, Garden, Layer, Person, PriceList, Wall
from bedcalc.currency import Currency
from bedcalc.model.place import Levelling, Survey
from bedcalc.model.plot import Plot, Thing
from bedcalc.tables import table

__all__ = ["GARDENS", "OLD_FILE"]


def _bed(name: str, wall: str = "boards", **more) -> Bed:
    sizes = {
        "length": Q_(2.4, "m"), "width": Q_(1.2, "m"), "height": Q_(42, "cm"),
    }  # fmt: skip
    wall = more.pop("build", None) or Wall.named(wall)
    if wall.family == "trough":
        more.setdefault("soil_depth", Q_(28, "cm"))
        more.setdefault("height", Q_(80, "cm"))
    return Bed(name=name, wall=wall, **sizes | more)


def _garden(name: str, *beds: Bed, **place) -> Garden:
    own = ("system", "fills", "people", "walls", "price_lists")
    more = {k: place.pop(k) for k in own if k in place}
    return Garden.empty(name, **place).change(beds=beds, **more)


def _plane(across: float, down: float) -> Survey:
    """Five readings on a plane that falls so much to the right and down the plan."""
    spots = ((0, 0), (9, 0), (0, 7), (9, 7), (4, 3))
    return Survey(
        readings=tuple((x, y, round(1 + across * x + down * y, 4)) for x, y in spots)
    )


def _own_list(code: str, factor: float, **money) -> PriceList:
    """The invented prices as somebody else's list: other numbers, another currency."""
    currency = Currency.of(code) if code else Currency(**money)
    rows = [
        row.changed(price=round(row.price * factor, 2), low=float("nan"),
                    high=float("nan"))
        for row in PriceList.named("demo").rows
    ]  # fmt: skip
    return PriceList(name="my list", rows=tuple(rows), currency=currency, date="3.4.")


CHF, JPY = _own_list("CHF", 1.37), _own_list("JPY", 163)
TALER = _own_list("", 7.3, sign="T", decimals=0)
ELL = Plot(
    outline=((0, 0), (12, 0), (12, 4), (6, 4), (6, 8), (0, 8)),
    downhill=200,
    things=(
        Thing(name="tap", kind="tap", x=0.4, y=0.4),
        Thing(name="gate", kind="gate", x=0, y=3, length=0.1, width=1.2),
        Thing(name="shed", kind="house", x=6.5, y=4.5, length=4, width=3, height=2.5),
    ),
)
RUBBLE = FillMaterial(
    key="sieved", name="sieved yard soil", like="topsoil",
    unit_weight_moist=Q_(16, "kN/m^3"), unit_weight_soaked=Q_(19, "kN/m^3"),
    friction=Q_(31, "deg"), settle=Q_(12, "percent"),
)  # fmt: skip
TALL = Person(key="tall", name="tall people", reach=Q_(72, "cm"), stature=Q_(195, "cm"))
THICK = Wall.named("boards").own(
    "thick", "my boards 150 × 45", thickness=Q_(45, "mm"), course=Q_(150, "mm")
)

WALLS = [row.key for row in table("walls")]
FILLS = list(dict.fromkeys(row.strategy for row in table("strategies")))


def _all() -> dict[str, Garden]:
    found = {"no bed yet": _garden("Nothing yet")}
    for wall in WALLS:
        us = table("walls")[wall].yard == "us"
        found[f"wall {wall}"] = _garden(
            f"Wall {wall}", _bed("Bed 1", wall), system="us" if us else "metric",
            prices="demo_us" if us else CHF,
            price_lists=() if us else (CHF,),
        )  # fmt: skip
    for n, fill in enumerate(FILLS):
        bed = _bed("Herbs", fill=bc.strategy_layers(fill), height=Q_(60, "cm"))
        found[f"fill {fill}"] = _garden(
            f"Fill {n}", bed, prices=JPY, price_lists=(JPY,), survey=_plane(0.02, 0.0)
        )
    found["two beds, flat"] = _garden(
        "Two", _bed("A"), _bed("Long", "sheet", y=Q_(3, "m"), length=Q_(4, "m")),
        survey=_plane(0, 0), latitude=Q_(48, "deg"),
    )  # fmt: skip
    found["nine beds, steep, south"] = _garden(
        "Nine",
        *(
            _bed(f"N{n}", WALLS[n % 4], x=Q_(1 + 3.2 * (n % 3), "m"),
                 y=Q_(1 + 2.4 * (n // 3), "m"))
            for n in range(9)
        ),
        survey=_plane(-0.05, -0.16), latitude=Q_(-38, "deg"), prices=TALER,
        price_lists=(TALER,), soil="light_loam",
        levelling=Levelling(rule="limited", limit=Q_(20, "cm"), gravel=Q_(5, "cm")),
    )  # fmt: skip
    found["three beds on an L"] = _garden(
        "Ell",
        _bed("Beans", x=Q_(1, "m"), y=Q_(1, "m")),
        _bed("Leeks", "blocks", x=Q_(5, "m"), y=Q_(1, "m"), height=Q_(60, "cm")),
        _bed("Quiet corner", "trough", x=Q_(1, "m"), y=Q_(5, "m"), users="seated"),
        plot=ELL, survey=_plane(0.045, 0.01), prices=CHF, price_lists=(CHF,),
    )  # fmt: skip
    found["own fill, people, boards"] = _garden(
        "Own things",
        _bed("Roots", build=THICK, users=TALL,
             fill=(Layer(material="chips", depth=Q_(8, "cm")), Layer(material=RUBBLE))),
        fills=(RUBBLE,), people=(TALL,), walls=(THICK,), prices=TALER,
        price_lists=(TALER,),
    )  # fmt: skip
    found["extreme sizes"] = _garden(
        "Extreme",
        _bed("Tiny", length=Q_(60, "cm"), width=Q_(50, "cm"), height=Q_(15, "cm")),
        _bed("Endless", length=Q_(12, "m"), height=Q_(1.2, "m"), ties=8, base_ties=8,
             y=Q_(2, "m")),
        _bed("Woody", y=Q_(5, "m"), height=Q_(110, "cm"),
             fill=bc.strategy_layers("logs_chips_mix", Q_(75, "percent"))),
        latitude=Q_(0, "deg"),
    )  # fmt: skip
    odd = ('No. 1 "best" <b>bed</b>', "Größe & Söhne", "🍅 2/3", "x" * 60)
    found["odd names"] = _garden(
        "Bei Müllers <i>hinten</i>",
        *(_bed(name, y=Q_(2.2 * n, "m")) for n, name in enumerate(odd)),
    )
    found["US, own list in dollars"] = _garden(
        "Back lot",
        _bed("Row 1", "boards_us", length=Q_(8, "ft"), width=Q_(4, "ft"),
             height=Q_(16.5, "inch")),
        system="us", prices="demo_us", survey=_plane(0.0, 0.03),
        latitude=Q_(41, "deg"),
    )  # fmt: skip
    return found


GARDENS = _all()

#: as the first bench saved it: format 1, one bed "mine", the plot as a rectangle
OLD_FILE = """\
format = 1
[place]
name = "Old garden"
latitude = "52 deg"
soil = "clay"
prices = "demo"
survey = [[0, 0, 0.2], [5, 0, 0.3], [0, 4, 0.5], [5, 4, 0.6]]
[place.yard]
length = "8 m"
width = "6 m"
downhill = "180 deg"
things = [{ name = "tap", kind = "tap", x = "1 m", y = "0 m" }]
[[beds]]
name = "mine"
title = "my bed"
length = "3 m"
width = "1 m"
height = "60 cm"
wall = "sheet"
fill_strategy = "logs_chips_mix"
"""
