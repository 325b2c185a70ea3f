"""Gardens of one's own, of many kinds, to try the lessons on."""

from __future__ import annotations

import bedcalc as bc
from bedcalc import Q_, Layer
from bedcalc.bed import Wall
from bedcalc.currency import Currency
from bedcalc.garden import Garden
from bedcalc.materials import FillMaterial, Person
from bedcalc.place import Place
from bedcalc.prices import PriceList
from bedcalc.session import Session, new_bed, open_session

QUARRY = FillMaterial(
    key="quarry", name="quarry soil", like="topsoil",
    unit_weight_moist=Q_(14, "kN/m^3"), unit_weight_soaked=Q_(17, "kN/m^3"),
    friction=Q_(28, "deg"), settle=Q_(22, "percent"),
)  # fmt: skip
AUNT = Person(key="aunt", name="my aunt", reach=Q_(52, "cm"), stature=Q_(152, "cm"))


def _blocks() -> Garden:
    bed = new_bed("Herbs").change(wall=Wall.named("blocks"), height=Q_(60, "cm"))
    return Garden.empty("Blocks").with_bed(bed)


def _logs() -> Garden:
    bed = new_bed("Logs").change(
        height=Q_(70, "cm"), fill=bc.strategy_layers("half_logs"), users=AUNT
    )
    place = Place.unknown("Log garden").change(prices=PriceList.named("demo"))
    return Garden(place=place, beds=(bed,), people=(AUNT,))


def _trough() -> Garden:
    demo = bc.demo_garden()
    return Garden.empty("Wheels").with_bed(demo["D"].change(name="Salad", x=Q_(0, "m")))


def _tiny() -> Garden:
    bed = new_bed("Box").change(
        length=Q_(60, "cm"), width=Q_(40, "cm"), height=Q_(28, "cm"), sides="one"
    )
    return Garden.empty("Balcony").with_bed(bed)


def _long() -> Garden:
    bed = new_bed("Long").change(length=Q_(9.6, "m"), height=Q_(112, "cm"))
    return Garden.empty("Field").with_bed(bed)


def _dollars() -> Garden:
    prices = PriceList.named("demo_us")
    own = PriceList(
        name="the yard, spring", rows=prices.rows, currency=Currency.of("USD")
    )
    bed = new_bed("Bed").change(
        wall=Wall.named("boards_us"), length=Q_(8, "ft"), width=Q_(4, "ft"),
        height=Q_(22, "inch"),
    )  # fmt: skip
    place = Place.unknown("Back yard").change(prices=own)
    return Garden(place=place, beds=(bed,), price_lists=(own,), system="us")


def _own_fill() -> Garden:
    layers = (
        Layer(material="brush", depth=Q_(8, "cm")),
        Layer(material=QUARRY),
        Layer(material="compost", depth=Q_(10, "percent")),
    )
    bed = new_bed("Slope").change(fill=layers)
    own = PriceList.named("demo")
    own = PriceList(name="my prices", rows=own.rows, currency=Currency.of("CHF"))
    place = Place.unknown("Quarry garden").change(prices=own)
    return Garden(place=place, beds=(bed,), fills=(QUARRY,), price_lists=(own,))


def _full() -> Garden:
    """Layers that leave no rest, and a bed filled to the rim."""
    layers = (Layer(material="chips", depth=Q_(12, "cm")),
              Layer(material="mix", depth=Q_(20, "cm")))  # fmt: skip
    bed = new_bed("Beans").change(fill=layers, freeboard=Q_(0, "mm"))
    return Garden.empty("Low").with_bed(bed).with_bed(new_bed("Peas"))


GARDENS = {
    "blocks": _blocks, "all_mix": lambda: Garden.empty("x").with_bed(new_bed("Bed")),
    "logs": _logs, "trough": _trough, "tiny": _tiny, "long": _long,
    "dollars": _dollars, "own_fill": _own_fill, "full": _full,
    "copy": lambda: bc.demo_garden(), "empty": lambda: Garden.empty("Nothing yet"),
}  # fmt: skip


def open_garden(name: str, folder) -> Session:
    """A session on one of these gardens, kept in a folder."""
    session = open_session(folder / "my_garden.toml")
    session.start(name)
    session.update(GARDENS[name]())
    return session
