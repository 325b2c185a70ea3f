"""Random beds over every field that can be entered, and what must hold for each.

Used by the tests (a few hundred beds) and by benchmarks/any_bed.py (many thousands).
A bed that cannot be is refused by its own classes; every other one must be computed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from bedcalc import Q_, Bed, Layer, Outcome, Wall, evaluate, strategy_layers
from bedcalc.model.materials import BlockSize, FillMaterial, Person
from bedcalc.model.outcome import Amount, Part
from bedcalc.tables import table
from tests.properties.any_places import NAMES

__all__ = ["faults", "number_faults", "random_bed"]

WALLS = [row.key for row in table("walls")]
WOODS = list(table("woods").rows)
FILLS = list(table("fills").rows)
PEOPLE = list(table("people").rows)
STRATEGIES = sorted({row.strategy for row in table("strategies")})
#: sizes of a wall in mm: nothing, next to nothing, usual, far too much
SIZES = {
    "thickness": (0, 0.1, 5, 18, 33, 60, 150, 400, 1500),
    "course": (0, 1, 40, 95, 140, 203.2, 300, 900, 3000),
    "rail_thin": (0, 0.1, 20, 45, 70, 200, 1200),
    "rail_wide": (0, 0.1, 45, 70, 150, 600),
    "post": (0, 0.1, 20, 45, 70, 120, 400),
    "post_spacing": (0, 1, 100, 300, 600, 1050, 3000),
    "cap_wide": (0, 0.1, 90, 150, 400),
    "cap_thick": (0, 0.1, 22, 38, 100),
    "cap_out": (0, 20, 40, 300, 3000),
    "slat_wide": (0, 1, 60, 90, 400),
}
#: what a number must not look like in a sentence that is read
WRONG = re.compile(r"nan|\binf|—(?= |$)|(?<![\w.])[-−]0(?:[.,]0+)?(?![\d.])", re.I)
#: amounts that some builds do not have
PRICED = {"cost", "saved", "delivery", "all_bought", "top_up"}
MAY_BE_NAN = {
    "overturning_safety",
    "sliding_safety",
    "strength",
    "foot_sliding_resistance",
}


def _name(rng) -> str:
    return NAMES[int(rng.integers(len(NAMES)))]


def _known(rng, unit: str, *values):
    """One of some amounts, or not known."""
    return None if rng.random() < 0.4 else Q_(float(rng.choice(values)), unit)


def _wall(rng) -> Wall:
    """A build of the list, or one with some of its fields changed at random."""
    wall = Wall.named(str(rng.choice(WALLS)))
    if rng.random() < 0.4:
        return wall
    change: dict = {}
    for name, sizes in SIZES.items():
        if rng.random() < 0.25:
            change[name] = Q_(float(rng.choice(sizes)), "mm")
            if rng.random() < 0.5:  # more often a size that can be
                change[name] = Q_(float(rng.choice(sizes[2:5])), "mm")
        elif rng.random() < 0.03:
            change[name] = Q_(float(np.round(rng.uniform(0, 3000), 1)), "mm")
    for name, keys in (
        ("wood", [*WOODS, ""]),
        ("sheet", [*table("sheets").rows, ""]),
        ("block", [*table("blocks").rows, ""]),
        ("family", Wall.FAMILIES),
        ("goods", ["larch_140x33", "gold_bars", ""]),
        ("post_goods", ["post_70x70", "gold_bars", ""]),
        ("rail_goods", ["frame_70x45", "gold_bars", ""]),
        ("cap_goods", ["cap_90x22", "gold_bars", ""]),
        ("yard", ["metric", "us"]),
    ):
        if rng.random() < 0.08:
            change[name] = str(rng.choice(list(keys)))
    if rng.random() < 0.08:
        change["block"] = BlockSize(
            key="own", name=_name(rng),
            length=_known(rng, "mm", 100, 400, 1200),
            course=_known(rng, "mm", 50, 200, 500),
            thickness=_known(rng, "mm", 80, 150, 600),
            unit_weight=_known(rng, "kN/m^3", 5, 20, 30),
        )  # fmt: skip
    if rng.random() < 0.8:  # a cap has both sizes or none
        change.pop("cap_wide", None), change.pop("cap_thick", None)
    if rng.random() < 0.2:
        change["cap_counts"] = bool(rng.random() < 0.5)
    if rng.random() < 0.5:
        return wall.own("ours", _name(rng), **change)
    return replace(wall, **change)


def _fill(rng) -> tuple[Layer, ...]:
    """A strategy, or up to five layers of anything, some of them 0 cm."""
    if rng.random() < 0.4:
        share = Q_(float(rng.choice([0, 10, 33, 60, 80, 100])), "percent")
        return strategy_layers(str(rng.choice(STRATEGIES)), share)
    count = int(rng.integers(1, 6))
    rest = int(rng.integers(0, count + 1))
    found = []
    for i in range(count):
        depth = None
        if i != rest:
            if rng.random() < 0.5:
                depth = Q_(float(rng.choice([0, 1e-6, 0.1, 5, 10, 28, 60])), "cm")
            else:
                depth = Q_(float(rng.choice([0, 1, 10, 20, 50, 100])), "percent")
        material = str(rng.choice(FILLS))
        if rng.random() < 0.1:
            material = FillMaterial(
                key=f"own_{i}", name=_name(rng), like=material,
                unit_weight_moist=_known(rng, "kN/m^3", 0.5, 4, 11),
                unit_weight_soaked=_known(rng, "kN/m^3", 11, 15, 25),
                friction=_known(rng, "deg", 15, 30, 45),
                settle=_known(rng, "percent", 0, 15, 70),
            )  # fmt: skip
        found.append(Layer(material=material, depth=depth))
    return tuple(found)


def _length(rng, low, high, usual):
    """A usual length in metres, one of the ends of the range, or anything between."""
    way = rng.random()
    if way < 0.15:
        return Q_(float(rng.choice([low, high])), "m")
    ends = usual if way < 0.6 else (low, high)
    length = Q_(float(np.round(rng.uniform(*ends), 3)), "m")
    if way > 0.9:  # as it is written in other places
        unit = str(rng.choice(["mm", "cm", "inch", "foot", "yard"]))
        length = Q_(float(np.round(length.m_as(unit), 2)), unit)
    return length


def _far(rng) -> float:
    """Mostly near the corner of the plot, now and then as far off as can be."""
    near = float(np.round(rng.uniform(-5, 20), 2))
    return near if rng.random() < 0.98 else float(rng.choice([-1000, 1000]))


def random_bed(rng) -> Bed:
    """One bed out of all that can be entered.

    Raises
    ------
    BedError
        Where what was drawn cannot be.
    """
    height = _length(rng, 0.1, 1.2, (0.25, 0.9))
    soil = None
    if rng.random() < 0.2:
        soil = Q_(float(np.round(rng.uniform(0.05, height.m), 3)), "m")
    users = str(rng.choice(PEOPLE))
    if rng.random() < 0.1:
        users = Person(
            key="own", name=_name(rng), like=users,
            reach=_known(rng, "cm", 15, 60, 110),
            stature=_known(rng, "cm", 70, 165, 220),
            barrow=_known(rng, "L", 5, 85, 300),
        )  # fmt: skip
    post_depth = Q_(0, "m")
    if rng.random() < 0.4:
        post_depth = _length(rng, 0, 1.2, (0.3, 0.9))
    return Bed(
        name=_name(rng),
        title=str(rng.choice(["", "", _name(rng)])),
        length=_length(rng, 0.4, 12, (1, 6)),
        width=_length(rng, 0.3, 3, (0.6, 1.6)),
        height=height,
        wall=_wall(rng),
        rail_lying=bool(rng.random() < 0.3),
        ribs_lying=bool(rng.random() < 0.3),
        ties=int(rng.choice([0, 0, 1, 2, 3, 5, 8])),
        base_ties=int(rng.choice([0, 0, 1, 2, 8])),
        post_depth=post_depth,
        fill=_fill(rng),
        freeboard=_length(rng, 0, 0.3, (0, 0.1)),
        embedment=_length(rng, 0, 0.5, (0, 0.1)),
        soil_depth=soil,
        users=users,
        sides=str(rng.choice(["both", "one"])),
        straight=str(rng.choice(list(table("aims").rows))),
        climbed=bool(rng.random() < 0.2),
        drained=bool(rng.random() < 0.2),
        may_carry=_known(rng, "kN/m^2", 1, 5, 20) if rng.random() < 0.2 else None,
        crop=str(rng.choice(list(table("crops").rows))),
        around=str(rng.choice(list(table("surroundings").rows))),
        trailing=Q_(float(rng.choice([0, 0, 0.5, 3, 50])), "m^2"),
        open_base=bool(rng.random() < 0.6),
        count=int(rng.choice([1, 1, 1, 2, 40, 500])),
        x=Q_(float(np.round(rng.uniform(-5, 20), 2)), "m"),
        y=Q_(_far(rng), "m"),
        turned=bool(rng.random() < 0.3),
    )  # fmt: skip


def _parts(value, where: str) -> Iterator[tuple[str, Part]]:
    """Yield a part and every part that it holds."""
    if isinstance(value, Part):
        yield where, value
        for name in value.declared():
            yield from _parts(getattr(value.si, name), f"{where}.{name}")
    elif isinstance(value, dict):
        for key, one in value.items():
            yield from _parts(one, f"{where}[{key}]")
    elif isinstance(value, tuple | list):
        for i, one in enumerate(value):
            yield from _parts(one, f"{where}[{i}]")


def cost_is_open(outcome: Outcome) -> bool:
    """Whether nothing that the bed needs has a price, and the bill says so."""
    cost = outcome.cost
    return outcome.place.prices is None or bool(cost.missing and not cost.lines)


def number_faults(outcome: Outcome) -> Iterator[str]:
    """Amounts of any part that are no number, and balances that do not close."""
    unpriced = outcome.place.prices is None or outcome.cost.missing
    unpriced = unpriced or {"mix", "compost", "truck"} - outcome.place.goods.keys()
    chapters = ["size", "fill", "site", "walls", "cost"]
    if cost_is_open(outcome):  # nothing is priced, and nothing is free
        chapters.remove("cost")
    for chapter in chapters:
        for where, part in _parts(getattr(outcome, chapter), chapter):
            for name, field in part.declared().items():
                if not isinstance(field, Amount) or name in MAY_BE_NAN:
                    continue
                if name in PRICED and unpriced:
                    continue  # no price: said in the bill, priced nowhere
                value = getattr(part.si, name)
                getattr(part, name)  # reads as a quantity
                if value is not None and not np.all(np.isfinite(value)):
                    yield f"{where}.{name} = {value}"
    size, fill, cost = outcome.size.si, outcome.fill, outcome.cost
    settled = sum(layer.si.settled for layer in fill.layers)
    if not np.isclose(settled, size.fill_volume, rtol=1e-6, atol=1e-12):
        yield f"layers hold {settled}, the bed {size.fill_volume}"
    orders = sum(order.si.mass for order in fill.orders)
    layered = sum(layer.si.mass for layer in fill.layers)
    for name, mass in (("orders", orders), ("layers", layered)):
        if not np.isclose(fill.si.mass, mass, rtol=1e-6, atol=1e-9):
            yield f"fill {fill.si.mass} kg, its {name} {mass}"
    if outcome.place.prices is None or not cost.lines:
        return
    paid = sum(line.amount + line.tax(cost.rate) for line in cost.lines)
    if not np.isclose(cost.si.total, paid, rtol=1e-9, atol=1e-9):
        yield f"bill {cost.si.total} is not the sum of its lines, {paid}"
    parts = ("walls", "ties", "fixings", "fill", "delivery", "extras")
    whole = sum(getattr(cost.si, name) for name in parts)
    if not np.isclose(cost.si.total, whole, rtol=1e-9, atol=1e-9):
        yield f"bill {cost.si.total} is not the sum of its parts, {whole}"
    if not cost.si.low <= cost.si.total * (1 + 1e-9) <= cost.si.high * (1 + 2e-9):
        yield f"bill {cost.si.total} lies outside {cost.si.low} to {cost.si.high}"


def faults(outcome: Outcome) -> Iterator[str]:
    """Everything about an outcome that somebody would read and wonder at."""
    yield from number_faults(outcome)
    for check in outcome.checks:
        if not np.isfinite(check.utilisation) or check.utilisation < 0:
            yield f"{check.name}: utilisation {check.utilisation}"
        for system in ("metric", "us"):
            said = check.sentence(outcome.units(system))
            if wrong := WRONG.search(said):
                yield f"{check.name}: {wrong.group()!r} in {said!r}"
        units = outcome.units("us")
        fixed = check.fix.sentence(units) if check.fix else ""
        for text in (check.remark(units), fixed):
            if wrong := WRONG.search(text):
                yield f"{check.name}: {wrong.group()!r} in {text!r}"
        if check.fix is not None and check.fix.trial is not None:
            if not check.fix.works or np.isfinite(check.fix.cost.m):
                continue
            if outcome.cost.missing:  # what has no price is said
                continue
            after = outcome.bed.change(**check.fix.change)
            if not evaluate(after, outcome.place).cost.missing:
                yield f"{check.name}: fix costs {check.fix.cost}"
