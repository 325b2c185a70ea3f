"""Checked against: values that books and standards print, and ours.

Each row of data/checked_walls.csv has one sum here. A test holds every sum against the
printed digits; the workbook shows the same rows.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from ..tables import Row, table
from ..units import Q_
from ..walls import beams, earth, ties, timber
from ..walls import fasteners_us as joints_us
from ..walls.pressure import segments

__all__ = ["Checked", "checked"]


def _two_layers(below: bool):
    """Layers of 16 kN/m3, 3 m of 30 degrees over 20 degrees, yielding."""
    k = [earth.k_active.si(np.radians(a)) for a in (30, 20)]
    found = segments.si(
        np.array([3.0, 3.0]), np.full(2, 16e3), np.full(2, 16e3), np.array(k)
    )
    at, push = (found[0], found[2]) if below else (found[1], found[3])
    other = found[1] > 3.0 if below else found[0] < 3.0
    return Q_(push[np.flatnonzero(np.isclose(at, 3.0) & other)[0]], "Pa")


_SUMS: dict[str, Callable[[], Any]] = {
    "k_active": lambda: earth.k_active(Q_(34, "deg")),
    "two_layers": lambda: _two_layers(True),
    "two_layers_above": lambda: _two_layers(False),
    "two_spans": lambda: Q_(float(beams.span_coefficients(2).bow), ""),
    "three_spans": lambda: Q_(float(beams.span_coefficients(3).reaction_interior), ""),
    "three_spans_bow": lambda: Q_(float(beams.span_coefficients(3).bow), ""),
    "four_spans": lambda: Q_(float(beams.span_coefficients(4).moment), ""),
    "four_spans_tie": lambda: Q_(
        float(beams.span_coefficients(4).reaction_interior), ""
    ),
    "lumber": lambda: timber.second_moment(Q_(1.5, "inch"), Q_(3.5, "inch")),
    "lumber_modulus": lambda: timber.section_modulus(Q_(3.5, "inch"), Q_(1.5, "inch")),
    "rod_area": lambda: _rod_area(3 / 8, 16),
    "rod_area_half": lambda: _rod_area(1 / 2, 13),
    "washer": lambda: ties.plate_bearing(
        Q_(625, "psi"), ties.bearing_area(Q_(1.0, "inch"), Q_(0.438, "inch"), False)
    ),
    "screw": lambda: joints_us.screw_withdrawal_us(0.45, Q_(0.19, "inch")),
    "lag": lambda: joints_us.lag_withdrawal_us(0.55, Q_(0.5, "inch")),
    "nail_pulled": lambda: (
        joints_us.nail_withdrawal_us(0.42, Q_(0.131, "inch")) * Q_(2.395, "inch")
    ),
    "nail": lambda: joints_us.lateral_us("nail_10d", Q_(0.75, "inch"), 0.50),
}


def _rod_area(inches, threads):
    return ties.stress_area(Q_(inches, "inch"), Q_(1 / threads, "inch"), True)


@dataclass(frozen=True, kw_only=True)
class Checked:
    """One row: what it is, as it is printed, and what comes out here."""

    row: Row
    ours: float

    @property
    def printed(self) -> float:
        """The printed number."""
        return float(self.row.printed)

    @property
    def digits(self) -> int:
        """Decimals that are printed."""
        return len(self.row.printed.partition(".")[2])


def checked() -> tuple[Checked, ...]:
    """Every row of data/checked_walls.csv with its sum done now."""
    return tuple(
        Checked(row=row, ours=float(_SUMS[row.key]().m_as(row.unit)))
        for row in table("checked_walls")
    )
