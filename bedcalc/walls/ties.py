"""Cross ties: rod, plate, spring, where to put them, how tight.

A tie joins the two long walls. Under equal fill both pull alike, so each wall feels
half the rod as a spring to a fixed middle. Wood under the washer gives way long before
the rod does.
"""

from __future__ import annotations

import numpy as np

from bedcalc.tables import table
from bedcalc.units import Value, quantities

from .material import material
from .timber import factor

__all__ = [
    "bearing_area", "bearing_factor_us", "plate_bearing", "rod_tension_en",
    "rod_tension_us", "snug_torque", "stress_area", "tie_capacity",
]  # fmt: skip  # a list of names

STEEL = 200e9  # Pa, modulus of elasticity


@quantities("m^2", diameter="m (0, inf)", pitch="m (0, inf)", unified=None)
def stress_area(diameter: Value, pitch: Value, unified: bool = False) -> Value:
    """Area of a threaded rod that carries tension.

    Parameters
    ----------
    diameter, pitch : quantity [m]
        Nominal, and from thread to thread (1 / threads per length).
    unified : bool
        Inch threads.

    Returns
    -------
    quantity [m^2]

    Notes
    -----
    pi/4 (d - 0.9382 p)2 metric, pi/4 (D - 0.9743/n)2 unified. Source: asme_pcc1.
    """
    lost = np.where(unified, 0.9743, 0.9382)
    return np.pi / 4 * (diameter - lost * pitch) ** 2


@quantities("N", yield_stress="Pa [0, inf)", area="m^2 [0, inf)")
def rod_tension_us(yield_stress: Value, area: Value) -> Value:
    """Allowable tension of a rod, American route.

    Parameters
    ----------
    yield_stress : quantity [Pa]
        Fy.
    area : quantity [m^2]
        As of :func:`stress_area`.

    Returns
    -------
    quantity [N]

    Notes
    -----
    0.6 Fy As. Source: aisc_manual, from memory.
    """
    return 0.6 * yield_stress * area


@quantities("N", ultimate="Pa [0, inf)", area="m^2 [0, inf)")
def rod_tension_en(ultimate: Value, area: Value) -> Value:
    """Design tension of a rod, European route, against loads times their factor.

    Parameters
    ----------
    ultimate : quantity [Pa]
        f_ub: 400 MPa for grade 4.6.
    area : quantity [m^2]
        As of :func:`stress_area`.

    Returns
    -------
    quantity [N]

    Notes
    -----
    0.9 f_ub As / 1.25. Source: en1993_1_8, Table 3.4, from memory.
    """
    return 0.9 * ultimate * area / 1.25


@quantities("m^2", outer="m (0, inf)", hole="m [0, inf)", square=None)
def bearing_area(outer: Value, hole: Value, square: bool = True) -> Value:
    """Area of wood under a plate or washer.

    Parameters
    ----------
    outer, hole : quantity [m]
        Side of a square plate or diameter of a round washer; diameter of the hole.
    square : bool
        Plate or washer.

    Returns
    -------
    quantity [m^2]

    Notes
    -----
    Outer area less the hole. Source: statics.
    """
    return np.where(square, 1.0, np.pi / 4) * outer**2 - np.pi / 4 * hole**2


@quantities("", length="m (0, inf)", from_end="m [0, inf)")
def bearing_factor_us(length: Value, from_end: Value = 1.0) -> Value:
    """Wood under a short bearing is helped by the wood beside it, American route.

    Parameters
    ----------
    length : quantity [m]
        Along the grain.
    from_end : quantity [m]
        To the nearer end of the rail.

    Returns
    -------
    quantity []

    Notes
    -----
    Cb = (l + 0.375 in)/l under 6 in and 3 in or more from the end, else 1.
    Source: nds_2018, 3.10.4, from memory.
    """
    helped = (length < 6 * 0.0254) & (from_end >= 3 * 0.0254)
    return np.where(helped, 1 + 0.375 * 0.0254 / length, 1.0)


@quantities("N", bearing="Pa [0, inf)", area="m^2 [0, inf)", helped="[1, 3]")
def plate_bearing(bearing: Value, area: Value, helped: Value = 1.0) -> Value:
    """What the wood under a plate holds.

    Parameters
    ----------
    bearing : quantity [Pa]
        f_c,90,d (European) or Fc_perp' (American).
    area : quantity [m^2]
        Of :func:`bearing_area`.
    helped : quantity []
        3.0 under washers on the European route, Cb on the American.

    Returns
    -------
    quantity [N]

    Notes
    -----
    f A k. The plate must be thick enough to stay flat: 3 mm for 50 mm, 6 mm for 75 mm,
    a judgement. Source: en1995, 10.4.3, from memory; nds_2018, 3.10.
    """
    return bearing * area * helped


def tie_capacity(wood: str, rod: str, plate: str) -> tuple[float, str]:
    """What one tie holds on the rail's own route, in N, and which part says so.

    Parameters
    ----------
    wood, rod, plate : str
        Keys of data/woods.csv (of the rail), data/rods.csv, data/plates.csv.

    Returns
    -------
    tuple
        Capacity in N and ``"rod"`` or ``"plate"``. On the European route it is a design
        value, for loads times their factor; elsewhere allowable, for plain loads.
    """
    bar, pad = table("rods")[rod], table("plates")[plate]
    rail = material(wood, 0.07, 0.045)
    area = stress_area.si(bar.diameter, bar.pitch, bar.thread == "unified")
    pressed = bearing_area.si(pad.outer, pad.hole, pad.shape == "square")
    if rail.route == "en":
        steel, helped = rod_tension_en.si(bar.ultimate, area), factor("en_plate")
    else:
        steel = rod_tension_us.si(bar.yield_stress, area)
        helped = bearing_factor_us.si(pad.outer) if rail.route == "us" else 1.0
    under = plate_bearing.si(rail.bearing, pressed, helped)
    return float(min(steel, under)), "rod" if steel < under else "plate"


@quantities("N*m", force="N", diameter="m (0, inf)")
def snug_torque(force: Value, diameter: Value) -> Value:
    """Torque on the nut for a wanted pull.

    Parameters
    ----------
    force, diameter : quantity [N, m]
        Pull in the rod, and its nominal size.

    Returns
    -------
    quantity [N*m]

    Notes
    -----
    0.2 F d, dry thread. 1 kN in M10 is 2 N m: by hand and an eighth of a turn.
    Source: common_practice.
    """
    return 0.2 * force * diameter
