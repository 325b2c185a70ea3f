"""Logs: how many fit, how they lie, what they weigh, what must lie over them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from ..model.outcome import Amount, Part, Plain
from ..tables import table
from ..units import Q_, Value, from_si, quantities, to_si

if TYPE_CHECKING:  # names for an editor
    from ..fill.chapter import Fill

__all__ = ["LogPlan", "LogRow", "lay_logs", "log_count", "log_rows", "plan_logs"]

_NEST = np.sqrt(3) / 2  # height of a row that lies in the hollows of the one below


@quantities(
    "",
    zone="m^3 [0, inf)",
    packing="(0, 1]",
    diameter="m (0, inf)",
    length="m (0, inf)",
)
def log_count(zone: Value, packing: Value, diameter: Value, length: Value) -> Value:
    """How many equal logs the wood of a log zone makes.

    Parameters
    ----------
    zone : quantity [m^3]
        Whole volume of the zone.
    packing : quantity []
        Share of it that is wood, 0.50 to 0.70 laid by hand.
    diameter : quantity [m]
        Of a log, with bark.
    length : quantity [m]
        Of a log.

    Returns
    -------
    quantity []
        packing zone / (pi/4 D2 L), not rounded.

    Notes
    -----
    Valid for logs much thinner than the zone is long. Source: geometry.
    """
    return packing * zone / (np.pi / 4 * diameter**2 * length)


@quantities(("", "", ""), diameter="m (0, inf)", run="m", depth="m [0, inf)")
def log_rows(diameter: Value, run: Value, depth: Value) -> tuple[Value, ...]:
    """Lay equal logs side by side, the next row in the hollows of the one below.

    Parameters
    ----------
    diameter : quantity [m]
        Of a log, with bark.
    run : quantity [m]
        Room across the logs: they lie side by side along it.
    depth : quantity [m]
        Depth of the log zone.

    Returns
    -------
    tuple of quantity [, , ]
        Logs in a full row, rows, and logs in all.

    Notes
    -----
    Rows are 0.866 D apart if there are two logs or more in a row, else D. Every second
    row has one log less, unless there is half a diameter to spare.
    Source: geometry.
    """
    row = np.floor(run / diameter + 1e-9)
    pitch = np.where(row >= 2, _NEST, 1.0) * diameter
    rows = np.floor((depth - diameter) / pitch + 1e-9) + 1
    rows = np.where((depth >= diameter - 1e-9) & (row >= 1), rows, 0)
    short = np.where(run / diameter - row >= 0.5 - 1e-9, row, np.maximum(row - 1, 0))
    short = np.where(row >= 2, short, row)
    return row, rows, np.ceil(rows / 2) * row + np.floor(rows / 2) * short


@dataclass(frozen=True, kw_only=True)
class LogRow:
    """Logs that lie side by side: their diameters, and where the row lies (SI)."""

    diameters: tuple[float, ...]
    base: float
    top: float


def lay_logs(
    diameters: Sequence[Any], run: Any, depth: Any
) -> tuple[tuple[LogRow, ...], tuple[Any, ...]]:
    """Place logs of all sizes: thickest first, side by side, row on row.

    Parameters
    ----------
    diameters : sequence of quantity
        Of the logs one has.
    run : quantity
        Room across the logs.
    depth : quantity
        Depth of the log zone.

    Returns
    -------
    rows, left
        Rows from the bottom up, and the diameters of logs that find no room.

    Notes
    -----
    The next row lies in the hollows: it begins 0.134 of the thicker row's diameter
    lower, if there are two logs or more below it. A hand rule, no best packing.
    """
    across, high = to_si(run, "m", "lay_logs: 'run'"), to_si(depth, "m", "depth")
    rest = sorted(to_si(d, "m", "lay_logs: 'diameters'") for d in diameters)[::-1]
    rows: list[LogRow] = []
    left: list[float] = []
    base = 0.0
    while rest:
        if rest[0] > high - base + 1e-9 or rest[0] > across + 1e-9:
            left.append(rest.pop(0))
            continue
        row, used, more = [], 0.0, []
        for d in rest:
            fits = used + d <= across + 1e-9
            (row if fits else more).append(d)
            used += d if fits else 0.0
        rows.append(LogRow(diameters=tuple(row), base=base, top=base + row[0]))
        base += row[0] * (_NEST if len(row) >= 2 else 1.0)
        rest = more
    return tuple(rows), tuple(from_si(d, "cm") for d in left)


class LogPlan(Part):
    """Logs of one thickness in this bed."""

    diameter = Amount("cm", "Thickness of a log", "depth")
    length = Amount("m", "Length of a log: they lie across the bed", "size")
    count = Amount("", "Logs the wood of the zone makes", "ratio")
    row = Amount("", "Logs side by side in a full row", "ratio")
    rows = Amount("", "Rows, each in the hollows of the one below", "ratio")
    laid = Amount("", "Logs that fit when laid in rows", "ratio")
    packing = Amount("percent", "Share of the zone that is wood when so laid")
    mass_each = Amount("kg", "Mass of one green log", "mass")
    mass = Amount("kg", "Mass of the green wood of the zone", "mass")
    zone_depth = Amount("cm", "Depth of the log zone", "depth")
    cover = Amount("cm", "Fill over the highest log", "depth")
    largest_chip = Amount("cm", "Larger chips do not enter the gaps", "depth")
    fits = Plain("Whether a log is no thicker than the zone is deep")


def plan_logs(fill: Fill, diameter: Q_) -> LogPlan | None:
    """Logs of one thickness in the log zone of a fill, or None where there is none.

    Parameters
    ----------
    fill : Fill
        Of one bed.
    diameter : quantity
        Thickness of a log.
    """
    zones = [
        layer
        for layer in fill.layers
        if layer.material == "logs" and layer.si.settled > 0
    ]
    thick = to_si(diameter, "m", "plan_logs: 'diameter'")
    if not zones:
        return None
    row = table("fills")["logs"]
    depth = sum(layer.si.depth for layer in zones)
    volume = sum(layer.si.settled for layer in zones)
    length = fill.si.inside_width
    side, rows, laid = log_rows.si(thick, fill.si.inside_length, depth)
    one = np.pi / 4 * thick**2 * length
    return LogPlan(
        diameter=thick,
        length=length,
        count=np.floor(log_count.si(volume, row.packing, thick, length) + 1e-9),
        row=side,
        rows=rows,
        laid=laid,
        packing=laid * one / volume,
        mass_each=one * row.loose_density,
        mass=fill.si.wood * row.loose_density,
        zone_depth=depth,
        cover=fill.layers[-1].si.top - zones[-1].si.top,
        largest_chip=thick / 6,
        fits=bool(thick <= depth + 1e-9),
    )
