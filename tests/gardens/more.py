"""More gardens of readers: ground and sun of every kind, gaps in what is known."""

from __future__ import annotations

from collections.abc import Callable

import bedcalc as bc
from bedcalc import Q_, Bed, Climate, Garden, Layer, PriceList, Survey, Wall
from bedcalc.app.session import new_bed
from bedcalc.currency import Currency
from bedcalc.model.materials import BlockSize, FillMaterial, Person
from bedcalc.model.place import Levelling, Place
from bedcalc.model.plot import Plot, Thing

__all__ = ["MORE", "QUARRY", "first_demo"]

L_SHAPE = ((0, 0), (9, 0), (9, 4), (4.5, 4), (4.5, 8), (0, 8))
CORNERS = ((0, 0), (8, 0), (8, 6), (0, 6))


def bed(
    name: str = "Beans", wall: str | Wall = "boards", fill="all_mix", **more
) -> Bed:  # fmt: skip
    """A bed of 2.4 by 1.2 m, 60 cm high, in which something may differ."""
    sizes = dict(length=Q_(2.4, "m"), width=Q_(1.2, "m"), height=Q_(600, "mm"))
    wall = Wall.named(wall) if isinstance(wall, str) else wall
    layers = bc.strategy_layers(fill) if isinstance(fill, str) else fill
    return Bed(**({"name": name, "wall": wall, "fill": layers} | sizes | more))


def ground(slope_x: float, slope_y: float) -> Survey:
    """Four readings of a plane that falls so much along x and y."""
    rows = [(x, y, round(0.9 + slope_x * x + slope_y * y, 4)) for x, y in CORNERS]
    return Survey(readings=tuple(rows))


def prices(currency: Currency, share: float = 1.0, goods=(), **more) -> PriceList:
    """Prices of our own; with ``goods`` only those are on the list."""
    rows = [
        row.changed(**{n: getattr(row, n) * share for n in ("price", "low", "high")})
        for row in PriceList.named("demo").rows
        if not goods or row.goods in goods
    ]
    return PriceList(name="spring", rows=tuple(rows), currency=currency, **more)


def garden(name: str, *beds: Bed, **known) -> Garden:
    """A garden of ours; ``own`` are parts of the garden, the rest of its place."""
    own = known.pop("own", {})
    lists = known.get("prices")
    if isinstance(lists, PriceList):
        own = {"price_lists": (lists,)} | own
    return Garden.empty(name, **known).change(beds=beds, **own)


def own_everything() -> Garden:
    """Fill, people, build and block of our own, with prices for some of it."""
    fill = FillMaterial(
        key="pit_soil", name="soil from the pit", like="topsoil",
        unit_weight_moist=Q_(17, "kN/m^3"), unit_weight_soaked=Q_(19.5, "kN/m^3"),
        friction=Q_(27, "deg"), settle=Q_(10, "percent"),
    )  # fmt: skip
    we = Person(key="we_two", name="we two", reach=Q_(52, "cm"), stature=Q_(181, "cm"))
    wall = Wall.named("boards").own(
        "thick", "old roof boards", thickness=Q_(48, "mm"), course=Q_(180, "mm"),
        goods="roof_boards",
    )  # fmt: skip
    block = BlockSize(key="mine", name="blocks of the yard", course=Q_(150, "mm"))
    blocks = Wall.named("blocks").own("my_blocks", "yard blocks", block=block)
    beds = (
        bed("Pumpkins", wall, (Layer(material=fill),), users=we),
        bed("Kale", blocks, (Layer(material="logs", depth=Q_(25, "percent")),
            Layer(material=fill)), y=Q_(3, "m")),
    )  # fmt: skip
    own = dict(fills=(fill,), people=(we,), walls=(wall, blocks), blocks=(block,))
    return garden(
        "Pit Field", *beds, own=own, soil="heavy_loam",
        climate=Climate(
            name="the barn door, 5 years", last_frost="3 May", first_frost="2 October",
            t_min=[-8, -7, -3, 1, 5, 8, 10, None, 6, 3, -2, -6],
            heavy_day=Q_(52, "mm"),
        ),
        prices=prices(Currency(sign="Taler", decimals=1), 3.0),
    )  # fmt: skip


def l_shaped() -> Garden:
    """Three beds on an L-shaped plot with things on it and a tap."""
    things = (
        Thing(name="tap", kind="tap", x=8.6, y=0.3),
        Thing(name="gate", kind="gate", x=1.0, y=8.0, length=1.2),
        Thing(name="shed", kind="house", x=-3.0, y=0.5, length=2.5, width=3, height=3),
        Thing(name="pear", kind="tree", x=5.5, y=1.8, length=2, width=2, height=4),
    )
    plot = Plot(outline=L_SHAPE, downhill=180, things=things)
    beds = (
        bed("Beans", x=Q_(0.8, "m"), y=Q_(1.6, "m")),
        bed("Peas", "sheet", x=Q_(0.8, "m"), y=Q_(4.4, "m"), turned=True),
        bed("Kale", "sleepers", height=Q_(40, "cm"), x=Q_(6, "m"), y=Q_(0.2, "m")),
    )
    return garden(
        "Cutcorner", *beds, plot=plot, survey=ground(0.02, 0.06), soil="clay",
        latitude=Q_(47, "deg"), altitude=Q_(430, "m"),
        prices=prices(Currency.of("CHF")),
        levelling=Levelling(rule="limited", limit=Q_(120, "mm"), gravel=Q_(50, "mm")),
    )  # fmt: skip


QUARRY = FillMaterial(
    key="quarry", name="quarry soil", like="topsoil",
    unit_weight_moist=Q_(14, "kN/m^3"), unit_weight_soaked=Q_(17, "kN/m^3"),
    friction=Q_(28, "deg"), settle=Q_(22, "percent"),
)  # fmt: skip


def _dollars() -> Garden:
    prices = PriceList.named("demo_us")
    own = PriceList(
        name="the yard, spring", rows=prices.rows, currency=Currency.of("USD")
    )
    bed = new_bed("Bed").change(
        wall=Wall.named("boards_us"), length=Q_(8, "ft"), width=Q_(4, "ft"),
        height=Q_(22, "inch"),
    )  # fmt: skip
    place = Place(name="Back yard", prices=own)
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
    place = Place(name="Quarry garden", prices=own)
    return Garden(place=place, beds=(bed,), fills=(QUARRY,), price_lists=(own,))


def _full() -> Garden:
    """Layers that leave no rest, and a bed filled to the rim."""
    layers = (Layer(material="chips", depth=Q_(12, "cm")),
              Layer(material="mix", depth=Q_(20, "cm")))  # fmt: skip
    bed = new_bed("Beans").change(fill=layers, freeboard=Q_(0, "mm"))
    return Garden.empty("Low").with_bed(bed).with_bed(new_bed("Peas"))


ODD = 'Grün & "Söhne" <b>bold</b> {bed} % $x$ *a_b* 🌱 …'
LONG = "a bed with a name that is as long as a name may be, sixty le"


def _big() -> Garden:
    logs = (Layer(material="logs", depth=Q_(80, "percent")), Layer(material="mix"))
    return garden(
        "Longacre",
        bed("Wall", "sheet", logs, length=Q_(12, "m"), width=Q_(3, "m"),
            height=Q_(1.2, "m"), ties=8, base_ties=8, post_depth=Q_(80, "cm")),
        prices="demo",
    )  # fmt: skip


def _copy() -> Garden:
    demo = bc.demo_garden()
    return demo.change(place=demo.place.change(name="Our copy"), current="D")


#: name: what makes the garden
MORE: dict[str, Callable[[], Garden]] = {
    "no beds but ground": lambda: garden(
        "Bare Field", plot=Plot(outline=L_SHAPE), survey=ground(0.01, 0.02)
    ),
    "only a bed": lambda: garden("Back Yard", bed()),
    "two beds": lambda: garden(
        "Back Yard", bed("Mint", "planks", ties=1),
        bed("Dill", "blocks", "half_logs", y=Q_(3, "m"), count=2),
        own={"current": "Dill"}, prices="demo",
    ),
    "steep": lambda: garden(
        "Vine Terrace", bed(height=Q_(90, "cm"), embedment=Q_(30, "cm")),
        bed("Low", height=Q_(30, "cm"), y=Q_(3, "m")), survey=ground(0.05, 0.28),
        soil="light_loam", plot=Plot(outline=CORNERS, downhill=135), prices="demo",
        latitude=Q_(44, "deg"), levelling=Levelling(rule="balanced"),
    ),
    "falls up the page": lambda: garden(
        "North Side", bed(turned=True), survey=ground(-0.03, -0.08), prices="demo",
        plot=Plot(outline=CORNERS, downhill=300), latitude=Q_(60, "deg"),
    ),
    "southern": lambda: garden(
        "Southern Yard", bed(x=Q_(2, "m"), y=Q_(2, "m")), latitude=Q_(-35, "deg"),
        plot=Plot(outline=CORNERS, downhill=0, things=(
            Thing(name="wall", kind="house", x=0, y=-2, length=8, width=1, height=4),
        )), survey=ground(0, 0.04),
    ),
    "metric walls in us units": lambda: garden(
        "Border Farm", bed(wall="sheet", fill="half_logs"), own={"system": "us"},
        prices=prices(Currency.of("USD"), 1.3), survey=ground(0.02, 0.02),
    ),
    "francs some goods": lambda: garden(
        "Alp Garden", bed(fill="logs_chips_mix"), altitude=Q_(1400, "m"),
        prices=prices(Currency.of("CHF"), 1.4, goods=("larch_140x33", "mix")),
    ),
    "own everything": own_everything,
    "empty price list": lambda: garden(
        "Donation Garden", bed(wall="sleepers", height=Q_(40, "cm")),
        prices=PriceList(name="none yet", currency=Currency.of("GBP")),
    ),
    "smallest": lambda: garden(
        "Window Sill", bed("Box", length=Q_(60, "cm"), width=Q_(40, "cm"),
                           height=Q_(15, "cm")),
        prices="demo",
    ),
    "largest": _big,
    "many ties": lambda: garden(
        "Rod Garden", bed(wall="sheet", ties=8, height=Q_(1, "m"), ribs_lying=True,
                          post_depth=Q_(60, "cm")),
        prices="demo", soil="heavy_loam",
    ),
    "odd names": lambda: garden(
        ODD, bed(ODD[:40], title=ODD, wall="sheet"), bed(LONG, y=Q_(3, "m")),
        bed("7.5 m² . .", "blocks", y=Q_(6, "m")), prices="demo",
        own={"current": LONG},
    ),
    "l shaped": l_shaped,
    "copy of demo": _copy,
    "a new bed": lambda: Garden.empty("x").with_bed(new_bed("Bed")),
    "dollars": _dollars,
    "own fill": _own_fill,
    "layers without a rest": _full,
}  # fmt: skip


# ---- files as earlier versions wrote them


def first_demo() -> str:
    """The demo garden as the first format had it: no levelling, no outline."""
    text = (bc.tables.data_folder() / "demo_garden.toml").read_text(encoding="utf-8")
    head, rest = text.split("[place.levelling]")
    beds = rest[rest.index("[[beds]]") :]
    return head.replace("format = 2", "format = 1") + beds
