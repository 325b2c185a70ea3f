"""Compare: any number of builds of the same bed, side by side.

Same outside size and same inside room are not the same thing: thick walls cost growing
area. So one says which of the two is kept.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..cost import Swing, break_even_life, cost_of, yearly_cost
from ..evaluate import Outcome, evaluate
from ..fill import Fill, assess_fill, break_even, prices_over
from ..model.bed import Bed, BedError, Wall
from ..model.layers import Layer, strategy_layers
from ..model.outcome import Check
from ..model.place import Place
from ..tables import table
from ..units import Q_, from_si
from .fixes import stands

__all__ = [
    "BoxLife", "Build", "FillChoice", "box_lives", "builds", "buying", "compare",
    "compare_fills", "what_matters",
]  # fmt: skip  # a list of names


@dataclass(frozen=True, kw_only=True)
class Build:
    """One build with what decides between builds; money as quantities.

    ``stands`` is whether its wall holds; a bow does not count.
    """

    name: str
    outcome: Outcome
    first: object
    yearly: object
    per_area: object
    per_volume: object
    mass: object
    worst: Check | None
    bow: object
    stands: bool
    water_days: object


def builds(
    bed: Bed,
    walls: Sequence[str] = (),
    strategies: Sequence[str] = (),
    *,
    same: str = "outside",
) -> dict[str, Bed]:
    """Every wall build with every fill, of one bed.

    Parameters
    ----------
    bed : Bed
        Whose size is kept.
    walls : sequence of str
        Keys of data/walls.csv; the bed's own wall if empty.
    strategies : sequence of str
        Keys of data/strategies.csv; the bed's own fill if empty.
    same : str
        ``"outside"`` keeps the outside size, ``"inside"`` the room inside.

    Returns
    -------
    dict of name to Bed
        What cannot be built is left out.
    """
    if same not in ("outside", "inside"):
        raise BedError(f"same: needs 'outside' or 'inside', given {same!r}")
    fill_names = {row.strategy: row.name for row in table("strategies")}
    found: dict[str, Bed] = {}
    for key in walls or (bed.wall.key,):
        wall = bed.wall if key == bed.wall.key else Wall.named(key)
        for strategy in strategies or ("",):
            change = {"wall": wall, "ties": bed.ties}
            if strategy:
                change["fill"] = strategy_layers(strategy)
            try:
                made = bed.change(**change)
                if same == "inside":
                    made = _same_inside(made, bed)
            except BedError:
                continue
            words = [wall.name] if walls else []
            if strategy and (len(strategies) > 1 or not walls):
                words.append(fill_names[strategy].lower())
            found[" · ".join(words) or bed.name] = made
    return found


def _same_inside(made: Bed, bed: Bed) -> Bed:
    """Grow or shrink the outside so that the inside is that of ``bed``."""
    more = 2 * (made.si.wall_thickness - bed.si.wall_thickness)
    return made.change(
        length=from_si(bed.si.length + more, "m"),
        width=from_si(bed.si.width + more, "m"),
    )


def compare(
    place: Place, beds: Mapping[str, Bed], *, interest: float = 0.03
) -> tuple[Build, ...]:
    """Evaluate builds and put side by side what decides between them.

    Parameters
    ----------
    place : Place
    beds : mapping of name to Bed
        Such as :func:`builds` makes.
    interest : float
        A year, for the yearly cost.
    """
    return tuple(_build(name, evaluate(b, place), interest) for name, b in beds.items())


def _build(name: str, outcome: Outcome, interest: float) -> Build:
    cost, walls = outcome.cost, outcome.walls
    water = getattr(outcome, "water", None)
    return Build(
        name=name,
        outcome=outcome,
        first=cost.total,
        yearly=from_si(cost.yearly(interest).total, "money"),
        per_area=cost.per_area,
        per_volume=cost.per_volume,
        mass=outcome.size.mass_soaked,
        worst=next((c for c in outcome.checks if c.chapter == "walls"), None),
        bow=getattr(walls, "bow_years", None),
        stands=stands(outcome),
        water_days=getattr(water, "days", None),
    )


@dataclass(frozen=True, kw_only=True)
class FillChoice:
    """One way to fill the bed: what it costs now and later (money as quantities)."""

    strategy: str
    name: str
    fill: Fill
    first: object
    top_up: object
    saved_now: object
    saved_after: object
    less_bought: float

    @property
    def after(self):
        """Now and later together."""
        return self.first + self.top_up


def compare_fills(
    bed: Bed,
    place: Place,
    strategies: Sequence[str] = (),
    *,
    years: int = 5,
    own: Mapping[str, tuple[Layer, ...]] | None = None,
) -> tuple[FillChoice, ...]:
    """Fill the same bed in several ways; savings against all bought mix.

    Parameters
    ----------
    bed : Bed
    place : Place
    strategies : sequence of str
        Keys of data/strategies.csv; all that fit if empty.
    years : int
        Years of topping up to count.
    own : mapping of str to tuple of Layer, optional
        Layers that no strategy has, by what they are called; they come first.
    """
    own = dict(own or {})
    names = {row.strategy: row.name for row in table("strategies")}
    ways = [("own", name, lambda name=name: own[name]) for name in own]
    ways += [
        (key, names[key], lambda key=key: strategy_layers(key))
        for key in strategies or names
    ]
    base = assess_fill(bed.change(fill=(Layer(material="mix"),)), place)
    base_first = base.cost + base.delivery
    base_later = base.top_up(years).total_cost
    found = []
    for key, name, layers in ways:
        try:
            fill = assess_fill(bed.change(fill=layers()), place)
        except BedError:
            continue
        first, later = fill.cost + fill.delivery, fill.top_up(years).total_cost
        bought = _soil(fill, layers()) / _soil(base)
        found.append(
            FillChoice(
                strategy=key,
                name=name,
                fill=fill,
                first=first,
                top_up=later,
                saved_now=base_first - first,
                saved_after=base_first + base_later - first - later,
                less_bought=1 - bought,
            )
        )
    return tuple(found)


def _soil(fill: Fill, layers: Sequence[Layer] = ()) -> float:
    """Loose soil-like material bought: mix, compost, and own fills like them."""
    soil = {"mix", "compost"}
    soil |= {la.row.goods for la in layers if table("fills")[la.kind].goods in soil}
    return sum(o.si.loose for o in fill.orders if o.goods in soil)


@dataclass(frozen=True, kw_only=True)
class BoxLife:
    """The box of one build over the years: cost, life, cost a year, tie with another.

    ``lives`` are short, likely, long (years); ``curve`` is cost a year at ``years``.
    """

    name: str
    box: float
    lives: tuple[float, float, float]
    years: np.ndarray
    curve: np.ndarray
    yearly: float
    ties_with: Mapping[str, float]


def box_lives(
    place: Place, beds: Mapping[str, Bed], *, interest: float = 0.03, longest: int = 40
) -> tuple[BoxLife, ...]:
    """Cost a year of each box (walls, ties, fixings) against how long it lasts.

    ``ties_with`` holds, by the other build's name, the life at which this one costs
    the same a year as the other at its likely life. A box of which no part has a
    known life is left out.
    """
    years = np.arange(2, longest + 1, dtype=float)
    found = []
    for name, bed in beds.items():
        cost = cost_of([bed], [assess_fill(bed, place)], place)
        box = cost.si.walls + cost.si.ties + cost.si.fixings
        lives = cost.box_life(bed.wall)
        if not np.all(np.isfinite(lives)):
            continue  # nothing of it has a life that is known
        curve = yearly_cost.si(box, interest, years, 0.0, 0.0)
        now = float(yearly_cost.si(box, interest, lives[1], 0.0, 0.0))
        found.append((name, box, lives, curve, now))
    return tuple(
        BoxLife(
            name=name,
            box=box,
            lives=lives,
            years=years,
            curve=curve,
            yearly=now,
            ties_with={
                other: float(break_even_life.si(box, theirs, interest))
                for other, *_, theirs in found
                if other != name
            },
        )
        for name, box, lives, curve, now in found
    )


def what_matters(bed: Bed, place: Place) -> tuple[Swing, ...]:
    """What can move the total most: each thing low and high in turn.

    Prices by group, how much the fill settles, and half or double the logs.
    """
    fill = assess_fill(bed, place)
    cost = cost_of([bed], [fill], place)
    if not cost.priced:
        return ()
    found = list(cost.swings())
    totals = []
    for settle in ("settle_low", "settle_high"):
        other = assess_fill(bed, place, settle=settle)
        totals.append(cost_of([bed], [other], place).si.total)
    found.append(Swing(name="how much the fill settles", low=totals[0], high=totals[1]))
    deep = [_deeper(bed, place, cm) for cm in (-5.0, 5.0)]
    if None not in deep:
        found.append(Swing(name="5 cm lower or higher", low=deep[0], high=deep[1]))
    return tuple(sorted(found, key=lambda swing: -swing.width))


def _deeper(bed: Bed, place: Place, cm: float) -> float | None:
    try:
        other = bed.change(height=bed.height + Q_(cm, "cm"))
    except BedError:
        return None
    if bed.soil_depth is not None:
        other = replace(other, soil_depth=bed.soil_depth + Q_(cm, "cm"))
    return cost_of([other], [assess_fill(other, place)], place).si.total


def buying(goods: str, place: Place, most: object = None):
    """Bags against bulk of a material over a range of volumes.

    Parameters
    ----------
    goods : str
        ``mix``, ``compost`` or ``chips``.
    place : Place
    most : quantity, optional
        How far; 3 m³ if left out.

    Returns
    -------
    volumes, cost, tie
        Cubic metres, money by ``bags`` and ``bulk``, and the volume from which bulk
        is no dearer (a quantity, or None).
    """
    volumes, cost = prices_over(goods, most or Q_(3, "m^3"), place)
    return volumes, cost, break_even(goods, place)
