"""Timber: sections, creep, and design strength on the European route.

Two routes that are never mixed. European: limit states, loads up by a factor,
characteristic strength down by another (here, functions ending in ``_en``). American:
allowable stress, plain loads (timber_us.py). The push is level, so a piece is
described by its **thickness**, the level measure in the direction of the push, and
its **face**, the upright measure; "flat" and "on edge" are never used alone.
"""

from __future__ import annotations

import numpy as np

from bedcalc.tables import table
from bedcalc.units import Value, quantities

__all__ = [
    "bearing_en", "bending_en", "design_strength_en", "factor", "long_term_bow",
    "second_moment", "section_modulus", "section_modulus_bored", "size_factor_en",
]  # fmt: skip  # a list of names


def factor(key: str) -> float:
    """One factor of data/timber_factors.csv."""
    return table("timber_factors")[key].value


@quantities("m^4", face="m (0, inf)", thickness="m (0, inf)")
def second_moment(face: Value, thickness: Value) -> Value:
    """Second moment of area of a piece pushed level.

    Parameters
    ----------
    face : quantity [m]
        Upright measure.
    thickness : quantity [m]
        Level measure, in the direction of the push.

    Returns
    -------
    quantity [m^4]

    Notes
    -----
    I = face x thickness3 / 12. A 2x4 lying is 5.4 times as stiff as standing.
    Source: statics.
    """
    return face * thickness**3 / 12


@quantities("m^3", face="m (0, inf)", thickness="m (0, inf)")
def section_modulus(face: Value, thickness: Value) -> Value:
    """Section modulus of a piece pushed level.

    Parameters
    ----------
    face, thickness : quantity [m]
        As in :func:`second_moment`.

    Returns
    -------
    quantity [m^3]

    Notes
    -----
    S = face x thickness2 / 6. Source: statics.
    """
    return face * thickness**2 / 6


@quantities("m^3", face="m (0, inf)", thickness="m (0, inf)", hole="m [0, inf)")
def section_modulus_bored(face: Value, thickness: Value, hole: Value) -> Value:
    """Section modulus where a rod is bored through in the direction of the push.

    Parameters
    ----------
    face, thickness : quantity [m]
        As in :func:`second_moment`.
    hole : quantity [m]
        Diameter of the hole.

    Returns
    -------
    quantity [m^3]

    Notes
    -----
    S (face - hole) / face: the hole takes from the upright face. Source: statics.
    """
    return section_modulus.si(np.maximum(face - hole, 0.0), thickness)


@quantities("m", sustained="m", soaked="m", creep="[1, 10]")
def long_term_bow(sustained: Value, soaked: Value, creep: Value) -> Value:
    """Bow after years: the sustained part grows, the wet season's extra does not.

    Parameters
    ----------
    sustained : quantity [m]
        Bow at once under moist fill.
    soaked : quantity [m]
        Bow at once under soaked fill.
    creep : quantity []
        2.0 on the American route, 1 + kdef = 3.0 on the European, about 3 for plastic.

    Returns
    -------
    quantity [m]

    Notes
    -----
    u = creep x u_sustained + (u_soaked - u_sustained).
    Source: nds_2018, 3.5.2; en1995, 2.2.3, from memory.
    """
    return creep * sustained + (soaked - sustained)


@quantities("", depth="m [0, inf)")
def size_factor_en(depth: Value) -> Value:
    """Small pieces are stronger for their size than the test pieces were.

    Parameters
    ----------
    depth : quantity [m]
        In bending the level thickness; in tension the larger side.

    Returns
    -------
    quantity []

    Notes
    -----
    k_h = min((150 mm / h)^0.2, 1.3), never under 1. Solid timber up to 700 kg/m3.
    Source: en1995, 3.2(3), from memory.
    """
    return np.clip((0.150 / depth) ** 0.2, 1.0, 1.3)


@quantities(
    "Pa",
    strength="Pa [0, inf)",
    kmod="(0, 1.2]",
    gamma_m="[1, 2]",
    size_factor="(0, 2]",
)
def design_strength_en(
    strength: Value, kmod: Value, gamma_m: Value, size_factor: Value = 1.0
) -> Value:
    """Design strength from a characteristic one.

    Parameters
    ----------
    strength : quantity [Pa]
        Characteristic value f_k.
    kmod : quantity []
        Of load duration and service class.
    gamma_m : quantity []
        Partial factor of the material.
    size_factor : quantity []
        k_h, in bending and tension.

    Returns
    -------
    quantity [Pa]

    Notes
    -----
    f_d = kmod k_h f_k / gamma_M, to be held against loads times 1.35 (soil) or 1.5
    (people). Source: en1995, 2.4.1 and 3.2, from memory.
    """
    return kmod * size_factor * strength / gamma_m


def _design_en(grade, duration, column, size=1.0):
    kmod = table("durations_en")[duration].kmod
    strength = getattr(table("timber_en")[grade], column)
    return design_strength_en.si(strength, kmod, factor("en_gamma_m"), size)


@quantities("Pa", grade=None, duration=None, thickness="m (0, inf)")
def bending_en(grade: str, duration: str, thickness: Value) -> Value:
    """Design bending strength of a strength class, wet outdoors (service class 3).

    Parameters
    ----------
    grade : str
        Key of data/timber_en.csv, such as ``"C24"``.
    duration : str
        Key of data/durations_en.csv: soil is ``"permanent"``, people ``"short"``.
    thickness : quantity [m]
        Level measure in the direction of the push.

    Returns
    -------
    quantity [Pa]

    Notes
    -----
    f_m,d = kmod k_h f_m,k / 1.3. Source: en338, en1995, from memory.
    """
    return _design_en(grade, duration, "f_m", size_factor_en.si(thickness))


@quantities("Pa", grade=None, duration=None)
def bearing_en(grade: str, duration: str) -> Value:
    """Design strength across the grain, before any allowance for small plates.

    Parameters
    ----------
    grade, duration : str
        As in :func:`bending_en`.

    Returns
    -------
    quantity [Pa]

    Notes
    -----
    f_c,90,d = kmod f_c,90,k / 1.3. Source: en338, en1995, from memory.
    """
    return _design_en(grade, duration, "f_c90")
