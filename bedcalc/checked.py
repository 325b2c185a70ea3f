"""Checked against: printed values of books, standards and other programs, and ours.

Each row of data/checked_walls.csv has one sum here. A test holds every sum against the
printed digits; the workbook shows the same rows.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from .tables import Row, table
from .units import Q_
from .walls import beams, earth, grillage, joints_us, posts, sheet, ties, timber
from .walls.pressure import segments
from .walls.timber_us import bending_us

__all__ = ["Checked", "checked"]


def _two_layers():
    """Layers of 16 kN/m3, 3 m of 30 degrees over 20 degrees, yielding."""
    k = [earth.k_active.si(np.radians(a)) for a in (30, 20)]
    found = segments.si(
        np.array([3.0, 3.0]), np.full(2, 16e3), np.full(2, 16e3), np.array(k)
    )
    below = np.flatnonzero(np.isclose(found[0], 3.0) & (found[1] > 3.0))[0]
    return Q_(found[2][below], "Pa")


def _grillage():
    """Three 2x4 rails on edge, 3.6 m long, one free 2x4 post, base held."""
    weak = 8.687e9 * 4.0973e-7
    rails = [
        grillage.Rail(z=z, stiffness=weak, load=load, held=held)
        for z, load, held in (
            (0.0, 644.5, True), (0.375, 773.4, False), (0.75, 128.9, False),
        )
    ]  # fmt: skip
    post = grillage.Post(x=1.8, stiffness=weak)
    found = grillage.solve_grillage(3.6, rails, [post])
    return Q_(float(np.max(found.bow[-1])), "m")


def _field():
    """12 ft by 28 in, soil over chips over logs, yielding; the rail lies flat."""
    load, stiffness = 237.2, 8.687e9 * 2.2307e-6
    return beams.uniform_bow(Q_(load, "N/m"), Q_(12, "ft"), Q_(stiffness, "N*m^2"), 1)


_SUMS: dict[str, Callable[[], Any]] = {
    "k_at_rest": lambda: earth.k_at_rest(Q_(30, "deg")),
    "k_active": lambda: earth.k_active(Q_(34, "deg")),
    "two_layers": _two_layers,
    "coulomb": lambda: earth.k_active_coulomb(Q_(30, "deg"), Q_(20, "deg")),
    "one_span": lambda: Q_(float(beams.span_coefficients(1).bow), ""),
    "two_spans": lambda: Q_(float(beams.span_coefficients(2).bow), ""),
    "three_spans": lambda: Q_(float(beams.span_coefficients(3).reaction_interior), ""),
    "four_spans": lambda: Q_(float(beams.span_coefficients(4).moment), ""),
    "lumber": lambda: timber.second_moment(Q_(1.5, "inch"), Q_(3.5, "inch")),
    "bending_us": lambda: bending_us(
        "sp_no2_4", "permanent", Q_(3.5, "inch"), Q_(1.5, "inch")
    ),
    "rod_area": lambda: _rod_area(),
    "rod": lambda: ties.rod_tension_us(Q_(36, "ksi"), _rod_area()),
    "washer": lambda: ties.plate_bearing(
        Q_(625, "psi"), ties.bearing_area(Q_(1.0, "inch"), Q_(0.438, "inch"), False)
    ),
    "screw": lambda: joints_us.screw_withdrawal_us(0.45, Q_(0.19, "inch")),
    "nail": lambda: joints_us.lateral_us("nail_10d", Q_(0.75, "inch"), 0.50),
    "sheet": lambda: sheet.sinus_section(
        Q_(76, "mm"), Q_(18, "mm"), Q_(0.42, "mm")
    )[1],
    "post": lambda: posts.stake_force(
        Q_(89, "mm"), Q_(0.6, "m"), Q_(0.75, "m"), Q_(17, "kN/m^3"), 3
    ),
    "grillage": _grillage,
    "field": _field,
}  # fmt: skip


def _rod_area():
    return ties.stress_area(Q_(3 / 8, "inch"), Q_(1 / 16, "inch"), True)


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
