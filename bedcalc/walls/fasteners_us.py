"""Screws, lag screws and nails on the American route.

Values are reference values until :func:`adjusted_us`. A wood screw or nail in end
grain holds nothing when pulled.
"""

from __future__ import annotations

import numpy as np

from bedcalc.tables import table
from bedcalc.units import Value, quantities

from .fasteners import joint_factor

__all__ = [
    "MODES_US", "adjusted_us", "dowel_bearing_us", "lag_withdrawal_us", "lateral_us",
    "nail_withdrawal_us", "reduction_us", "screw_withdrawal_us", "thread_in_main",
    "yield_modes_us",
]  # fmt: skip  # a list of names

PSI, INCH = 6894.757293168361, 0.0254
MODES_US = ("Im", "Is", "II", "IIIm", "IIIs", "IV")


@quantities("N/m", gravity="(0, 1.5]", diameter="m (0, inf)", end_grain=None)
def screw_withdrawal_us(
    gravity: Value, diameter: Value, end_grain: bool = False
) -> Value:
    """Pull that a wood screw bears, per length of thread in the wood.

    Parameters
    ----------
    gravity : quantity []
        G, specific gravity, oven dry.
    diameter : quantity [m]
        Nominal, D.
    end_grain : bool
        Whether it runs along the grain: then nothing.

    Returns
    -------
    quantity [N/m]

    Notes
    -----
    W = 2850 G2 D lb/in; end grain not permitted. Source: nds_2018, 12.2.2.
    """
    return np.where(end_grain, 0.0, 2850 * PSI * gravity**2 * diameter)


@quantities("N/m", gravity="(0, 1.5]", diameter="m (0, inf)", end_grain=None)
def lag_withdrawal_us(
    gravity: Value, diameter: Value, end_grain: bool = False
) -> Value:
    """Pull that a lag screw bears, per length of thread in the wood.

    Parameters
    ----------
    gravity, diameter, end_grain : quantity [, m], bool
        As in :func:`screw_withdrawal_us`.

    Returns
    -------
    quantity [N/m]

    Notes
    -----
    W = 1800 G^1.5 D^0.75 lb/in (D in inches); end grain x 0.75.
    Source: nds_2018, 12.2.1.
    """
    side = 1800 * PSI * INCH * gravity**1.5 * (diameter / INCH) ** 0.75
    return side * np.where(end_grain, joint_factor("us_end_grain_lag"), 1.0)


@quantities("N/m", gravity="(0, 1.5]", diameter="m (0, inf)", end_grain=None)
def nail_withdrawal_us(
    gravity: Value, diameter: Value, end_grain: bool = False
) -> Value:
    """Pull that a smooth nail bears, per length in the wood.

    Parameters
    ----------
    gravity, diameter, end_grain : quantity [, m], bool
        As in :func:`screw_withdrawal_us`.

    Returns
    -------
    quantity [N/m]

    Notes
    -----
    W = 1380 G^2.5 D lb/in; end grain not permitted. Source: nds_2018, 12.2.3.
    """
    return np.where(end_grain, 0.0, 1380 * PSI * gravity**2.5 * diameter)


@quantities("Pa", gravity="(0, 1.5]")
def dowel_bearing_us(gravity: Value) -> Value:
    """Bearing strength of wood under a thin fastener.

    Parameters
    ----------
    gravity : quantity []
        G.

    Returns
    -------
    quantity [Pa]

    Notes
    -----
    Fe = 16600 G^1.84 psi, under 1/4 in. Source: nds_2018, Table 12.3.3.
    """
    return 16600 * PSI * gravity**1.84


@quantities("", diameter="m (0, inf)")
def reduction_us(diameter: Value) -> Value:
    """Reduction term of the yield modes for fasteners under 1/4 in.

    Parameters
    ----------
    diameter : quantity [m]
        Nominal gives the lower, safe value; the root some 8 % more.

    Returns
    -------
    quantity []

    Notes
    -----
    Rd = 2.2 up to 0.17 in, 10 D + 0.5 above. Source: nds_2018, Table 12.3.1B.
    """
    inches = diameter / INCH
    return np.where(inches <= 0.17, 2.2, 10 * inches + 0.5)


@quantities("m", length="m (0, inf)", side="m", diameter="m (0, inf)")
def thread_in_main(length: Value, side: Value, diameter: Value) -> Value:
    """Length of a fastener that bears in the main piece.

    Parameters
    ----------
    length, side, diameter : quantity [m]
        Of the fastener, thickness of the piece under its head, nominal diameter.

    Returns
    -------
    quantity [m]
        Zero where it reaches less than 6 D into the main piece.

    Notes
    -----
    p = length - side, less half the tip (2 D) where p < 10 D.
    Source: nds_2018, 12.3.5 and 12.1.
    """
    deep = length - side
    bears = np.where(deep < 10 * diameter - 1e-9, deep - diameter, deep)
    return np.where(deep < 6 * diameter - 1e-9, 0.0, bears)


@quantities(
    "N",
    diameter="m (0, inf)",
    main="m [0, inf)",
    side="m",
    main_bearing="Pa [0, inf)",
    side_bearing="Pa [0, inf)",
    bending_yield="Pa [0, inf)",
    reduction="(0, 10]",
)
def yield_modes_us(
    diameter: Value,
    main: Value,
    side: Value,
    main_bearing: Value,
    side_bearing: Value,
    bending_yield: Value,
    reduction: Value,
) -> Value:
    """All six ways in which one fastener in single shear can give way.

    Parameters
    ----------
    diameter : quantity [m]
        Root diameter of a screw, shank of a nail.
    main, side : quantity [m]
        lm and ls, bearing lengths.
    main_bearing, side_bearing : quantity [Pa]
        Fem and Fes.
    bending_yield : quantity [Pa]
        Fyb.
    reduction : quantity []
        Rd.

    Returns
    -------
    quantity [N]
        (6, ...), in the order Im, Is, II, IIIm, IIIs, IV.

    Notes
    -----
    Re = Fem/Fes, Rt = lm/ls, k1, k2, k3 as printed. Source: nds_2018, Table 12.3.1A.
    """
    d, fem, fes, fyb = diameter, main_bearing, side_bearing, bending_yield
    lm, ls = np.maximum(main, 1e-12), np.asarray(side)
    re, rt = fem / fes, lm / ls
    k1 = np.sqrt(re + 2 * re**2 * (1 + rt + rt**2) + rt**2 * re**3) - re * (1 + rt)
    turn = 2 * fyb * d**2 / (3 * fem)
    k2 = np.sqrt(2 * (1 + re) + turn * (1 + 2 * re) / lm**2) - 1
    k3 = np.sqrt(2 * (1 + re) / re + turn * (2 + re) / ls**2) - 1
    modes = (
        d * lm * fem,
        d * ls * fes,
        k1 / (1 + re) * d * ls * fes,
        k2 * d * lm * fem / (1 + 2 * re),
        k3 * d * ls * fem / (2 + re),
        d**2 * np.sqrt(2 * fem * fyb / (3 * (1 + re))),
    )
    return np.stack(np.broadcast_arrays(*modes)) / reduction


@quantities("N", screw=None, side="m", gravity="(0, 1.5]", end_grain=None)
def lateral_us(
    screw: str, side: Value, gravity: Value, end_grain: bool = False
) -> Value:
    """Reference value of one screw or nail sideways, both pieces of one wood.

    Parameters
    ----------
    screw : str
        Key of data/screws_us.csv.
    side : quantity [m]
        Thickness of the piece under the head.
    gravity : quantity []
        G of both pieces.
    end_grain : bool
        Whether the point is in end grain: two thirds.

    Returns
    -------
    quantity [N]
        Zero where the point is less than 6 D deep.

    Notes
    -----
    The least of :func:`yield_modes_us`, Rd by the nominal size, which is the lower.
    Source: nds_2018, 12.3.
    """
    row = table("screws_us")[screw]
    fe, main = (
        dowel_bearing_us.si(gravity),
        thread_in_main.si(row.length, side, row.diameter),
    )
    rd = reduction_us.si(row.diameter)
    modes = yield_modes_us.si(row.root, main, side, fe, fe, row.bending_yield, rd)
    least = np.where(main > 0, np.min(modes, axis=0), 0.0)
    return least * np.where(end_grain, joint_factor("us_end_grain"), 1.0)


@quantities("N", reference="N", duration="(0, 2]", nail_pulled=None)
def adjusted_us(reference: Value, duration: Value, nail_pulled: bool = False) -> Value:
    """Value of a fastener outdoors, for a load of some duration.

    Parameters
    ----------
    reference : quantity [N]
        Z, or W times the length of thread.
    duration : quantity []
        CD: 0.9 for soil.
    nail_pulled : bool
        A smooth nail in withdrawal keeps a quarter.

    Returns
    -------
    quantity [N]

    Notes
    -----
    Z' = Z CD CM, CM 0.7 wet in service. Source: nds_2018, Tables 2.3.2 and 11.3.3.
    """
    wet, nail = joint_factor("us_wet"), joint_factor("us_wet_nail_pull")
    return reference * duration * np.where(nail_pulled, nail, wet)
