"""The chapter: the bill of one bed, or of many bought together."""

from __future__ import annotations

from collections.abc import Sequence

from ..bed import Bed
from ..fill import Fill
from ..outcome import Amount, Part, Plain
from ..place import Place
from ..units import from_si
from .bill import bill
from .counting import work
from .donors import Gift, gifts
from .life import Yearly, life_of, spending, yearly
from .money import share_out
from .spread import Spread, Swing, line_ends, simulate, spread_band, swings

__all__ = ["Cost", "cost_of", "follow_cost"]


class Cost(Part):
    """The bill."""

    lines = Plain("Lines of the bill, largest first")
    plans = Plain("Cut plans by goods")
    with_tax = Plain("Whether the totals hold the tax")
    rate = Plain("Tax rate that the totals hold, 0 without")
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

    def spending(self, years: int = 30, case: str = "likely"):
        """Money spent up to each year, what wears out bought again."""
        spent = spending(
            self.lines, years, tax=self.rate, top_up=self.si.top_up, case=case
        )
        return from_si(spent, "money")

    def box_life(self, goods: str) -> tuple[float, float, float]:
        """Short, likely and long service life of a wall's main goods, years."""
        line = next(line for line in self.lines if line.goods == goods)
        return tuple(life_of(line, case) for case in ("short", "likely", "long"))

    def gifts(self) -> tuple[Gift, ...]:
        """The bill grouped by whom one can ask for a gift."""
        return gifts(self.lines, self.rate)

    def shares(self, weights: Sequence[float]):
        """The total shared among people to the coin (a quantity)."""
        return from_si(share_out(self.si.total, weights), "money")


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
    lines, plans, missing = bill(
        beds, fills, place, cut=cut, extras=extras, pallets=pallets
    )
    rate = place.si.tax_rate if place.with_tax else 0.0
    groups: dict[str, list[float]] = {}
    ends: dict[str, list[tuple[float, float]]] = {}
    for line in lines:
        paid = line.amount + line.tax(rate)
        groups.setdefault(line.group, []).append(paid)
        ends.setdefault(line.group, []).append(line_ends(line))
    low, high = spread_band(groups, ends)

    def part(*names):
        return sum(n.amount + n.tax(rate) for n in lines if n.part in names) + 0.0

    total = sum(sum(values) for values in groups.values()) + 0.0
    area = sum(b.si.inside_length * b.si.inside_width * b.count for b in beds)
    room = sum(
        b.si.inside_length * b.si.inside_width * b.si.soil_depth * b.count for b in beds
    )
    top_up = sum(
        f.top_up(5).si.total_cost / 5 * b.count
        for b, f in zip(beds, fills, strict=True)
    )
    return Cost(
        lines=tuple(lines),
        plans=plans,
        with_tax=place.with_tax,
        rate=rate,
        missing=missing,
        total=total,
        low=low,
        high=high,
        walls=part("walls"),
        ties=part("ties"),
        fixings=part("fixings"),
        fill=part("fill"),
        delivery=part("delivery"),
        extras=part("extras"),
        tax=sum(line.tax(rate) for line in lines) + 0.0,
        contingency=work("contingency") * total,
        per_area=total / area,
        per_volume=total / room,
        fill_share=sum(groups.get("soil", [])) / total if total else 0.0,
        top_up=top_up * (1 + rate),
    )


def follow_cost(bed: Bed, place: Place, fill: Fill, inside_area: float) -> Cost:
    """What the cost chapter says about this bed, bought alone."""
    one = bed if bed.count == 1 else bed.change(count=1)
    return cost_of([one], [fill], place)
