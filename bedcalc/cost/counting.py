"""Counting: screws, washers, ties, mesh, liner, gravel, hire and gear of a bed."""

from __future__ import annotations

from collections.abc import Sequence

from ..assembly import assembly
from ..cutting import CutError, Piece, first_fit, tenths
from ..fill.buying import work
from ..model.bed import Bed
from ..model.place import Place
from ..tables import Row, table
from ..units import Value, quantities
from .lines import Line, plan_lines, saw_for, stocks_of, unpriced

__all__ = [
    "EXTRAS", "extras_of", "fixings", "gear_for", "gravel_volume",
    "liner_area", "rods", "tie_goods", "tools_for", "work",
]  # fmt: skip  # a list of names

#: small things that price lists seldom hold: see :mod:`bedcalc.cost.besides`
SMALL = ("screw_4x50",)
#: what one may add to the bill of the bed itself
EXTRAS = ("liner", "gravel", "hire", "protection")


@quantities(
    "m^2",
    length="m (0, inf)",
    width="m (0, inf)",
    height="m (0, inf)",
    fold="m [0, inf)",
    lap="[0, 1)",
)
def liner_area(
    length: Value, width: Value, height: Value, fold: Value, lap: Value
) -> Value:
    """Fabric to line the walls; the bottom stays open to drain.

    Parameters
    ----------
    length : quantity [m]
        Inside.
    width : quantity [m]
        Inside.
    height : quantity [m]
        Of the walls.
    fold : quantity [m]
        Turned in at the foot.
    lap : quantity []
        Share more for overlaps.

    Returns
    -------
    quantity [m^2]
        2 (L + W) (H + fold) (1 + lap).

    Notes
    -----
    Source: common practice.
    """
    return 2 * (length + width) * (height + fold) * (1 + lap)


@quantities(
    "m^3",
    perimeter="m [0, inf)",
    width="m (0, inf)",
    depth="m [0, inf)",
    settle="[0, 1)",
)
def gravel_volume(perimeter: Value, width: Value, depth: Value, settle: Value) -> Value:
    """Loose gravel for a levelling strip under the walls.

    Parameters
    ----------
    perimeter : quantity [m]
        Of the bed.
    width : quantity [m]
        Of the strip.
    depth : quantity [m]
        Once rammed.
    settle : quantity []
        Share of the loose volume lost by ramming.

    Returns
    -------
    quantity [m^3]
        perimeter x width x depth / (1 - settle).

    Notes
    -----
    Corners are counted twice, a few percent more than needed. Source: common practice.
    """
    return perimeter * width * depth / (1 - settle)


def fixings(bed: Bed) -> dict[str, float]:
    """Screws and mesh of one bed, counted by goods."""
    s, spare = bed.si, 1 + work("screw_spare")
    screws = assembly(bed).screws()
    found = {goods: n * spare for goods, n in screws.items() if goods not in SMALL}
    if bed.wall.family != "trough" and bed.open_base:
        lap = work("mesh_lap")
        found["mesh"] = (s.length + lap) * (s.width + lap)
    return found


def tie_goods(bed: Bed) -> dict[str, float]:
    """Plates and nuts of the ties of one bed."""
    ties = len(assembly(bed).ties)
    return {"plate": 2.0 * ties, "nut": 4.0 * ties} if ties else {}


def rods(beds: Sequence[Bed], place: Place) -> tuple[list[Line], list[Line]]:
    """Rods by a cut plan of their own, for a short rod may be too short.

    Returns
    -------
    lines, unpriced
        What is bought; what has no price.
    """
    pieces = [
        Piece(
            label=f"{bed.name} tie",
            length=tenths(bed.si.width + work("rod_extra")),
            count=(bed.ties + bed.base_ties) * bed.count,
        )
        for bed in beds
        if bed.ties + bed.base_ties
    ]
    if not pieces:
        return [], []
    stocks = stocks_of("rod_m10", place)
    try:
        plan = first_fit(pieces, stocks, saw_for("rod_m10", place))
    except CutError:
        count = sum(p.count for p in pieces)
        metres = sum(p.count * p.length for p in pieces) / 10_000
        detail = f"{count} piece{'s' if count > 1 else ''}"
        return [], [unpriced("rod_m10", metres, "ties", place, detail=detail)]
    return plan_lines({"rod_m10": plan}, place, part="ties"), []


def tools_for(*families: str) -> tuple[Row, ...]:
    """Tools for these wall builds: what to borrow, what to hire for how long."""
    return _rows("tools", families)


def gear_for(*families: str) -> tuple[Row, ...]:
    """Protective gear each helper needs for the work on these wall builds."""
    return _rows("protection", families)


def _rows(name: str, families) -> tuple[Row, ...]:
    def fits(row) -> bool:
        return row.families == "all" or bool(set(row.families.split()) & set(families))

    return tuple(row for row in table(name) if fits(row))


def extras_of(
    beds: Sequence[Bed], extras: Sequence[str], place: Place
) -> dict[str, float]:
    """Amounts by goods of what is added to the beds themselves.

    Gravel that the levelling of the place puts under the boxes is always counted.
    """
    unknown = set(extras) - set(EXTRAS)
    if unknown:
        raise ValueError(
            f"extras: needs names among {', '.join(EXTRAS)}; given "
            f"{', '.join(sorted(unknown))}; for example ('liner', 'hire')"
        )
    found: dict[str, float] = {}

    def add(goods, amount):
        found[goods] = found.get(goods, 0.0) + amount

    for bed in beds:
        s = bed.si
        if "liner" in extras:
            sizes = s.inside_length, s.inside_width, s.soil_depth
            area = liner_area.si(*sizes, work("liner_fold"), work("liner_lap"))
            add("fabric", area * bed.count)
        deep = place.levelling.si.gravel
        if "gravel" in extras and not deep:
            deep = work("gravel_depth")
        if deep and bed.wall.family != "trough":
            strip = work("gravel_width"), deep, work("gravel_settle")
            each = gravel_volume.si(2 * (s.length + s.width), *strip)
            add("gravel", each * bed.count)
    families = {bed.wall.family for bed in beds}
    if "hire" in extras:
        for row in tools_for(*families):
            if row.goods:
                add(row.goods, row.days)
    if "protection" in extras:
        for row in gear_for(*families):
            if row.goods:
                add(row.goods, row.each * place.crew)
    return found
