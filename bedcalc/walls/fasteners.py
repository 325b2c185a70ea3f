"""Screws and corners: what a screw holds sideways and pulled, the European route.

Values are characteristic until :func:`design_joint_en`. Screws driven into end grain
hold nothing when pulled: such a corner needs another joint. The American route is
joints_us.py.
"""

from __future__ import annotations

import numpy as np

from bedcalc.tables import table
from bedcalc.units import Value, quantities

__all__ = [
    "design_joint_en", "embedment_en", "joint_factor", "lateral_en", "pin_en",
    "withdrawal_en", "yield_moment_en",
]  # fmt: skip  # a list of names


def joint_factor(key: str) -> float:
    """One factor of data/joint_factors.csv."""
    return table("joint_factors")[key].value


@quantities("N*m", root="m (0, inf)", ultimate="Pa [0, inf)")
def yield_moment_en(root: Value, ultimate: Value) -> Value:
    """Yield moment of a screw.

    Parameters
    ----------
    root : quantity [m]
        Root of the thread; it counts 1.1 times.
    ultimate : quantity [Pa]
        f_u of the steel.

    Returns
    -------
    quantity [N*m]

    Notes
    -----
    M = 0.3 f_u d^2.6 (N mm, mm), d = 1.1 root. Source: en1995, 8.3.1.1, from memory.
    """
    return 0.3e-3 * (ultimate / 1e6) * (1.1 * root * 1e3) ** 2.6


@quantities("Pa", diameter="m (0, inf)", density="kg/m^3 (0, inf)")
def embedment_en(diameter: Value, density: Value) -> Value:
    """Bearing strength of wood round a predrilled screw.

    Parameters
    ----------
    diameter : quantity [m]
        Effective, up to 8 mm.
    density : quantity [kg/m^3]
        Characteristic, rho_k.

    Returns
    -------
    quantity [Pa]

    Notes
    -----
    f_h = 0.082 (1 - 0.01 d) rho (MPa, mm). Source: en1995, 8.3.1.1, from memory.
    """
    return 0.082e6 * (1 - 0.01 * diameter * 1e3) * density


@quantities("N", screw=None, side="m", density="kg/m^3 (0, inf)")
def lateral_en(screw: str, side: Value, density: Value) -> Value:
    """Characteristic value of one predrilled screw sideways, both pieces of one wood.

    Parameters
    ----------
    screw : str
        Key of data/screws_en.csv.
    side : quantity [m]
        Thickness of the piece under the head; predrill under 7 d.
    density : quantity [kg/m^3]
        rho_k of both pieces.

    Returns
    -------
    quantity [N]

    Notes
    -----
    The least of modes a to f for single shear with beta = 1, t2 the rest of the screw,
    no rope effect, d = 1.1 root. Source: en1995, 8.2.2, from memory.
    """
    row = table("screws_en")[screw]
    d = 1.1 * row.root
    m, f = yield_moment_en.si(row.root, row.ultimate), embedment_en.si(d, density)
    t1, t2 = np.asarray(side), np.maximum(row.length - np.asarray(side), 1e-12)
    return _least_mode(f, t1, t2, d, m)


def _least_mode(f, t1, t2, d, m):
    """The least of modes a to f of single shear, both pieces of one wood, no rope."""
    r = t2 / t1
    both = np.sqrt(1 + 2 * (1 + r + r**2) + r**2) - (1 + r)
    modes = (
        f * t1 * d,
        f * t2 * d,
        f * t1 * d / 2 * both,
        1.05 * f * t1 * d / 3 * (np.sqrt(4 + 12 * m / (f * d * t1**2)) - 1),
        1.05 * f * t2 * d / 3 * (np.sqrt(4 + 12 * m / (f * d * t2**2)) - 1),
        1.15 * np.sqrt(2 * m * f * d) + 0 * t1,
    )
    return np.min(np.stack(np.broadcast_arrays(*modes)), axis=0)


@quantities(
    "N",
    diameter="m (0, inf)",
    ultimate="Pa [0, inf)",
    side="m",
    density="kg/m^3 (0, inf)",
)
def pin_en(diameter: Value, ultimate: Value, side: Value, density: Value) -> Value:
    """Characteristic value of one steel pin through two hardwood courses, sideways.

    Parameters
    ----------
    diameter : quantity [m]
        d of a smooth pin or rod in a tight hole, over 8 mm.
    ultimate : quantity [Pa]
        f_u of its steel.
    side : quantity [m]
        Thickness of each course along the pin.
    density : quantity [kg/m^3]
        rho_k of the wood.

    Returns
    -------
    quantity [N]

    Notes
    -----
    The least mode of single shear, beta = 1, no rope effect; M = 0.3 f_u d^2.6,
    f_h = 0.082 (1 - 0.01 d) rho / (0.90 + 0.015 d), across the grain of a hardwood in
    both courses, the weaker way (N, mm). Source: en1995, 8.2.2, 8.5.1 and 8.6, from
    memory.
    """
    across = 0.90 + 0.015 * diameter * 1e3
    f = embedment_en.si(diameter, density) / across
    moment = 0.3e-3 * (ultimate / 1e6) * (diameter * 1e3) ** 2.6
    return _least_mode(f, np.asarray(side), np.asarray(side), diameter, moment)


@quantities(
    "N", screw=None, thread="m [0, inf)", density="kg/m^3 (0, inf)", end_grain=None
)
def withdrawal_en(
    screw: str, thread: Value, density: Value, end_grain: bool = False
) -> Value:
    """Characteristic pull that one screw bears.

    Parameters
    ----------
    screw : str
        Key of data/screws_en.csv.
    thread : quantity [m]
        Length of thread in the main piece.
    density : quantity [kg/m^3]
        rho_k.
    end_grain : bool
        Along the grain nothing is counted.

    Returns
    -------
    quantity [N]

    Notes
    -----
    0.52 d^-0.5 l^-0.1 rho^0.8 d l min(d/8, 1) (N, mm). Meant for 6 mm and more; smaller
    screws need their maker's value. Source: en1995, 8.7.2, from memory.
    """
    d, length = table("screws_en")[screw].diameter * 1e3, np.asarray(thread) * 1e3
    held = 0.52 * d**0.5 * length**0.9 * density**0.8 * min(d / 8, 1.0)
    return np.where(end_grain, 0.0, held)


@quantities("N", characteristic="N [0, inf)", duration=None)
def design_joint_en(characteristic: Value, duration: str) -> Value:
    """Design value of a fastener outdoors, against loads times their factor.

    Parameters
    ----------
    characteristic : quantity [N]
        F_v,k or F_ax,k.
    duration : str
        Key of data/durations_en.csv.

    Returns
    -------
    quantity [N]

    Notes
    -----
    kmod F_k / 1.3. Source: en1995, 2.4.3, from memory.
    """
    kmod = table("durations_en")[duration].kmod
    return kmod * characteristic / table("timber_factors")["en_gamma_m"].value
