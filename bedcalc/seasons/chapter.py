"""The chapter: what the years do to one bed in one place."""

from __future__ import annotations

from typing import Any

import numpy as np

from ..cost import Cost
from ..fill import Fill, sink
from ..model.bed import Bed
from ..model.outcome import Amount, Check, Part, Plain
from ..model.place import Place
from ..tables import table
from ..units import from_si
from ..water import assess_water
from .nitrogen import critical_ratio, nitrogen_tied, years_of_supply
from .work_year import WorkYear, work_year

__all__ = ["Feeding", "Seasons", "assess_seasons"]

YEAR = 365.25 * 86400.0
ROOTS = 0.30  # m: nitrogen that lies deeper feeds rot, or is washed out
SHOWN = 10  # years that the chapter looks ahead


class Feeding(Part):
    """One material: what it takes of nitrogen in the first year, and what it gives."""

    name = Plain("What people call it")
    material = Plain("Row of data/nutrients.csv")
    rots = Amount("kg", "Carbon that rots in the first year", "mass")
    ties = Amount("g", "Nitrogen that takes, if all came from the roots' soil")
    near = Amount("g", "Part of that which the crop feels")
    gives = Amount("g", "Nitrogen for the first crop, the likely share")
    gives_low = Amount("g", "The same, the low share")
    gives_high = Amount("g", "The same, the high share")


class Seasons(Part):
    """Sinking, compost, feeding and work, year by year."""

    years = Plain("Years after filling, 0 to 10")
    sunk = Amount("cm", "Sunk after so many years, if nobody tops it up", "depth")
    sunk_low = Amount("cm", "The same with slow rot", "depth")
    sunk_high = Amount("cm", "The same with fast rot", "depth")
    layers_sunk = Amount("cm", "Of that, layer by layer, bottom first", "depth")
    compost = Amount("m^3", "Compost to bring it up, at the end of each year", "volume")
    compost_cost = Amount("money", "Its price, year by year", "money")
    compost_five = Amount("m^3", "Compost of the first five years", "volume")
    feeding = Plain("What each material takes and gives of nitrogen")
    takes = Amount("g", "Nitrogen that the crop loses to rot in the first year")
    takes_most = Amount("g", "The same, if all of it came from the roots' soil")
    gives = Amount("g", "Nitrogen that the fill gives the first crop")
    gives_low = Amount("g", "The same, the low share")
    gives_high = Amount("g", "The same, the high share")
    wants = Amount("g", "Nitrogen that a mixed bed of vegetables wants in a year")
    over = Amount("g", "What is left over once rot and crop have had theirs")
    over_least = Amount("g", "The same, at the worst")
    over_most = Amount("g", "The same, at the best")
    phosphorus = Amount("g/m^2", "Phosphorus in the compost, on a square metre")
    phosphorus_years = Amount("year", "Years for which crops have enough of it", "")
    area = Amount("m^2", "Growing area", "area")
    checks = Plain("Verdicts of this chapter")
    bed = Plain("The bed")
    place = Plain("Where it is")
    fill = Plain("Its fill")
    cost = Plain("Its bill; None in a sweep")

    def work(self) -> WorkYear:
        """Hours by month and year, and what has to be bought again."""
        water = assess_water(self.bed, self.place)
        return work_year(self.bed, self.place, self.fill, self.cost, water, SHOWN)


def _feeding(fill: Fill) -> tuple[Feeding, ...]:
    """Every layer from the top down; chips between the logs are a row of their own."""
    area = fill.si.inside_length * fill.si.inside_width
    found: list[Feeding] = []
    top = fill.layers[-1].si.top
    for layer in reversed(fill.layers):
        row, si = table("fills")[layer.material], layer.si
        reached = np.clip(ROOTS - (top - si.top), 0.0, si.depth)
        found.append(
            _of_material(
                layer.name,
                layer.material,
                layer.material,
                row.settled_dry_density
                * si.settled
                * (row.packing if row.void_material else 1.0),
                row.settled_dry_density * reached * area,
            )
        )
        if row.void_material:
            gaps = si.settled * (1 - row.packing) * row.void_fill
            chips = table("fills")[row.void_material].settled_dry_density
            found.append(
                _of_material(
                    table("nutrients")["gaps"].name,
                    "gaps",
                    row.void_material,
                    chips * gaps,
                    0.0,
                )
            )
    return tuple(found)


def _of_material(name: str, key: str, rots_as: str, dry, in_reach) -> Feeding:
    food, rot = table("nutrients")[key], table("decay")[rots_as]
    ties = rots = np.zeros_like(dry * 1.0)
    ratio = food.carbon / food.nitrogen
    if ratio > critical_ratio.si(food.efficiency, food.microbe_ratio):
        gone = 1 - (
            rot.quick * np.exp(-rot.quick_k * YEAR)
            + (1 - rot.quick) * np.exp(-rot.k * YEAR)
        )
        rots = dry * food.carbon * gone
        ties = nitrogen_tied.si(rots, food.efficiency, food.microbe_ratio, ratio)
    held = in_reach * food.nitrogen
    return Feeding(
        name=name,
        material=key,
        rots=rots[()],
        ties=ties[()],
        near=ties[()] * food.access,
        gives=held * food.given,
        gives_low=held * food.given_low,
        gives_high=held * food.given_high,
    )


def _checks(wants, over, over_least, sunk, freeboard: Any) -> tuple[Check, ...]:
    """Hungry or fed too much in the first year; sunk below the rim by year five."""
    there = over + wants
    return (
        Check(
            name="hungry",
            says="The first crop wants {demand} of nitrogen; after the rotting wood "
            "has taken its share, the fill gives about {capacity}.",
            demand=from_si(wants, "g"),
            capacity=from_si(np.maximum(there, 0.0)[()], "g"),
            kind="nitrogen",
            chapter="seasons",
            source="assumption",
        ),
        Check(
            name="sinks",
            says="Left alone, the soil is {demand} lower after five years; past "
            "{capacity} the walls shade what grows.",
            demand=from_si(sunk, "cm"),
            capacity=from_si(np.broadcast_to(0.15, np.shape(sunk))[()], "cm"),
            kind="depth",
            chapter="seasons",
            source="assumption",
        ),
    )


def assess_seasons(bed: Bed, place: Place, fill: Fill, cost: Cost | None) -> Seasons:
    """What the seasons chapter says about this bed.

    Parameters
    ----------
    bed : Bed
        Its sizes and layers may be arrays.
    place : Place
    fill : Fill
        Its layers, and what sinks.
    cost : Cost or None
        What has to be bought again; None in a sweep.
    """
    years = np.arange(SHOWN + 1)
    shape = np.shape(fill.si.settled_volume)
    asked = from_si(years.reshape(-1, *(1,) * len(shape)) * YEAR, "year")
    likely, low, high = (
        fill.sunk(asked, case).m_as("m") for case in ("likely", "low", "high")
    )
    by_layer = np.array(np.broadcast_arrays(*sink(fill.layers, asked.m_as("s"))))
    later = fill.top_up(SHOWN).si if not shape else None
    none = np.full(SHOWN, np.nan)
    feeding = _feeding(fill)
    area = fill.si.inside_length * fill.si.inside_width

    def all_of(name: str):
        return sum(getattr(one.si, name) for one in feeding)

    wants = table("crop_need")["usual"].nitrogen * area
    takes, most = all_of("near"), all_of("ties")
    gives, least = all_of("gives"), all_of("gives_low")
    rows = table("nutrients")
    stored = sum(
        rows[la.material].phosphorus
        * table("fills")[la.material].settled_dry_density
        * la.si.depth
        for la in fill.layers
    )
    over = gives - takes - wants
    taken = table("crop_need")["usual"].phosphorus
    return Seasons(
        years=years,
        sunk=likely,
        sunk_low=low,
        sunk_high=high,
        layers_sunk=by_layer,
        compost=none if later is None else later.loose,
        compost_cost=none if later is None else later.cost,
        compost_five=np.nan if later is None else later.loose[:5].sum(),
        feeding=feeding,
        takes=takes,
        takes_most=most,
        gives=gives,
        gives_low=least,
        gives_high=all_of("gives_high"),
        wants=wants,
        over=over,
        over_least=least - most - wants,
        over_most=all_of("gives_high") - takes - wants,
        phosphorus=stored,
        phosphorus_years=years_of_supply.si(stored, taken),
        area=area,
        checks=_checks(wants, over, least - most - wants, likely[5], bed.si.freeboard),
        bed=bed,
        place=place,
        fill=fill,
        cost=cost,
    )
