"""Bill of one bed, or of many bought together, as the part ``Outcome.cost``."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from ..fill import Fill
from ..model.bed import Bed, Wall
from ..model.outcome import Amount, Part, Plain
from ..model.place import Place
from ..tables import table
from ..units import Units, from_si
from .bill import bill
from .counting import work
from .donations import Donation, gifts
from .life_cycle_cost import Yearly, life_of, yearly
from .lines import Line
from .money import share_out
from .uncertainty import Spread, Swing, line_ends, simulate, spread_band, swings

__all__ = ["Cost", "cost_of", "assess_cost"]


class Cost(Part):
    """The bill."""

    lines = Plain("Lines of the bill, largest first")
    unpriced = Plain("What is needed and has no price, counted")
    currency = Plain("Currency of the price list")
    plans = Plain("Cut plans by goods")
    with_tax = Plain("Whether the totals hold the tax")
    rate = Plain("Tax rate on top of the prices, 0 where none is added")
    tax_inside = Plain("Tax rate that the prices hold already, 0 where they hold none")
    missing = Plain("What the price list does not have")
    total = Amount("money", "All lines together", "money")
    low = Amount("money", "Total, 1 chance in 10 to be less", "money")
    high = Amount("money", "Total, 1 chance in 10 to be more", "money")
    walls = Amount("money", "Walls: timber, sheet, blocks", "money")
    ties = Amount("money", "Cross ties", "money")
    fixings = Amount("money", "Screws and mesh", "money")
    fill = Amount("money", "Fill", "money")
    delivery = Amount("money", "Delivery of fill and timber", "money")
    extras = Amount("money", "Liner, gravel, hire, protection", "money")
    tax = Amount("money", "Tax in the total, line by line", "coins")
    contingency = Amount("money", "To keep back for what was forgotten", "money")
    per_area = Amount("money/m^2", "Total per growing area")
    per_volume = Amount("money/m^3", "Total per room for roots")
    fill_share = Amount("percent", "Fill and its delivery in the total", "percent")
    top_up = Amount("money", "Compost to keep it full, a year, mean of five", "money")

    @property
    def priced(self) -> bool:
        """Whether anything has a price: without, all totals are not-a-number."""
        return bool(self.lines) or not self.unpriced

    def units(self, system: str = "metric") -> Units:
        """How its numbers are shown: metric or US, in the currency of the list."""
        return Units(system, self.currency)

    def more_than(self, other: Cost) -> float:
        """What this bill is more than another; not-a-number if a price decides that.

        Both may lack the same goods in the same amount: then the rest tells.
        """
        lacks = [
            {(n.goods, n.part): n.quantity for n in c.unpriced} for c in (self, other)
        ]
        return self.si.total - other.si.total if lacks[0] == lacks[1] else np.nan

    def tax_of(self, line: Line) -> float:
        """Tax on a line, on top of its amount or inside it."""
        if self.tax_inside:
            return line.tax(self.tax_inside, inside=True)
        return line.tax(self.rate)

    def spread(self, moves: str = "judged", shape: str = "triangle") -> Spread:
        """Many drawn bills: what it stays under with which chance."""
        return simulate(self.lines, self.rate, moves=moves, shape=shape)

    def swings(self) -> tuple[Swing, ...]:
        """What each price group can do to the total, the widest first."""
        return swings(self.lines, self.rate)

    def yearly(self, interest: float = 0.03, case: str = "likely") -> Yearly:
        """Cost a year over service life, each part bought again when worn out."""
        return yearly(
            self.lines, rate=interest, tax=self.rate, top_up=self.si.top_up, case=case
        )

    def per_kilogram(self) -> tuple:
        """Cost of a kilogram of crop over service life, least and most.

        Returns
        -------
        two quantities [money/kg]
            The cost of a year by the crop of a good and a poor season (data/work.csv:
            an assumption, not a measurement). Work and water are not in it.
        """
        area = self.si.total / self.si.per_area
        year = self.yearly().total / area
        return tuple(
            from_si(year / work(crop), "money/kg") for crop in ("crop_high", "crop_low")
        )

    def box_life(self, wall: Wall) -> tuple[float, float, float]:
        """Short, likely and long service life of a wall's main goods, years."""
        every = (*self.lines, *self.unpriced)
        line = next(line for line in every if line.goods == wall.goods)
        return tuple(life_of(line, case) for case in ("short", "likely", "long"))

    @property
    def lent_lives(self) -> dict[str, str]:
        """Goods whose life is not known, and whose life is taken for it, by name."""
        rows = table("service_life")
        return {
            line.name: rows[line.lasts_as].name
            for line in (*self.lines, *self.unpriced)
            if line.lasts_as in rows
        }

    def gifts(self) -> tuple[Donation, ...]:
        """The bill grouped by whom one can ask for a gift."""
        return gifts((*self.lines, *self.unpriced), self.rate)

    def shares(self, weights: Sequence[float]):
        """The total shared among people to the coin (a quantity)."""
        decimals = self.currency.decimals
        return from_si(share_out(self.si.total, weights, decimals), "money")


def cost_of(
    beds: Sequence[Bed],
    fills: Sequence[Fill],
    place: Place,
    *,
    cut: str = "hand",
    extras: Sequence[str] = (),
    pallets: bool = True,
) -> Cost:
    """The bill of some beds bought together; options as in :func:`bill`."""
    found = bill(beds, fills, place, cut=cut, extras=extras, pallets=pallets)
    lines, unpriced = _lasting(found.lines, beds), _lasting(found.unpriced, beds)
    inside = bool(place.prices and place.prices.taxed_inside)
    rate = place.si.tax_rate if place.with_tax and not inside else 0.0
    held = place.si.tax_rate if inside else 0.0
    none = np.nan if unpriced and not lines else 0.0
    groups: dict[str, list[float]] = {}
    ends: dict[str, list[tuple[float, float]]] = {}
    for line in lines:
        paid = line.amount + line.tax(rate)
        groups.setdefault(line.group, []).append(paid)
        ends.setdefault(line.group, []).append(line_ends(line))
    low, high = (end + none for end in spread_band(groups, ends))

    def part(*names):
        return sum(n.amount + n.tax(rate) for n in lines if n.part in names) + none

    total = sum(sum(values) for values in groups.values()) + none
    area = sum(b.si.inside_length * b.si.inside_width * b.count for b in beds)
    room = sum(
        b.si.inside_length * b.si.inside_width * b.si.soil_depth * b.count for b in beds
    )
    top_up = sum(
        f.top_up(5).si.total_cost / 5 * b.count
        for b, f in zip(beds, fills, strict=True)
    )
    return Cost(
        lines=lines,
        unpriced=unpriced,
        currency=place.currency,
        plans=found.plans,
        with_tax=place.with_tax or inside,
        rate=rate,
        tax_inside=held,
        missing=found.missing,
        total=total,
        low=low,
        high=high,
        walls=part("walls"),
        ties=part("ties"),
        fixings=part("fixings"),
        fill=part("fill"),
        delivery=part("delivery"),
        extras=part("extras"),
        tax=sum(n.tax(held or rate, inside=inside) for n in lines) + none,
        contingency=work("contingency") * total,
        per_area=total / area,
        per_volume=total / room,
        fill_share=sum(groups.get("soil", [])) / total if total else 0.0,
        top_up=top_up * (1 + rate),
    )


_GOODS = ("goods", "post_goods", "rail_goods", "cap_goods")


def _lasting(lines: Sequence[Line], beds: Sequence[Bed]) -> tuple[Line, ...]:
    """The lines; goods of one's own last like those of the build they are made from."""
    known, like = table("service_life"), {}
    for bed in beds:
        own = [n for n in _GOODS if getattr(bed.wall, n) not in (*known.rows, "")]
        base = Wall.named(bed.wall.base_key) if own else None
        like |= {getattr(bed.wall, name): getattr(base, name) for name in own}
    return tuple(
        replace(line, lasts_as=like[line.goods]) if like.get(line.goods) else line
        for line in lines
    )


def assess_cost(bed: Bed, place: Place, fill: Fill, inside_area: float) -> Cost:
    """What the cost chapter says about this bed, bought alone."""
    one = bed if bed.count == 1 else bed.change(count=1)
    return cost_of([one], [fill], place)
