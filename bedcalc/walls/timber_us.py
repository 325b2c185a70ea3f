"""Timber on the American route: allowable stress, plain loads, always wet.

Never mixed with the European route of timber.py. Sizes are the real, dressed ones;
``face`` is the upright measure, ``thickness`` the level one, in the direction of the
push.
"""

from __future__ import annotations

import numpy as np

from bedcalc.tables import table
from bedcalc.units import Value, quantities

from .timber import factor

__all__ = [
    "allowable_bending_us",
    "bending_us",
    "flat_use_us",
    "size_factor_us",
    "stiffness_us",
]


def _by_width(column: str, face, thickness):
    """A factor of data/widths_us.csv, by the wide side and the thin side."""
    rows = table("widths_us")
    wide, thin = np.maximum(face, thickness), np.minimum(face, thickness)
    widths = rows.column("width")
    at = np.minimum(np.searchsorted(widths, wide - 1e-4), len(widths) - 1)
    two, four = rows.column(f"{column}_2in")[at], rows.column(f"{column}_4in")[at]
    return np.where(thin > 0.0636, four, two)  # thicker than 2.5 in is 4 in stock


@quantities("", face="m (0, inf)", thickness="m (0, inf)")
def size_factor_us(face: Value, thickness: Value) -> Value:
    """Narrow pieces carry more stress than the base value says.

    Parameters
    ----------
    face, thickness : quantity [m]
        As in :func:`second_moment`; real, dressed sizes.

    Returns
    -------
    quantity []

    Notes
    -----
    CF by the wide side. Not for species whose table is already by width (southern
    pine, posts and timbers). Source: nds_supplement_2018, Table 4A.
    """
    return _by_width("CF", face, thickness)


@quantities("", face="m (0, inf)", thickness="m (0, inf)")
def flat_use_us(face: Value, thickness: Value) -> Value:
    """A piece pushed on its wide face bears a little more stress.

    Parameters
    ----------
    face, thickness : quantity [m]
        As in :func:`second_moment`; real, dressed sizes.

    Returns
    -------
    quantity []

    Notes
    -----
    Cfu where the face is wider than the thickness, else 1.
    Source: nds_supplement_2018, Table 4A.
    """
    return np.where(face > thickness + 1e-4, _by_width("Cfu", face, thickness), 1.0)


@quantities(
    "Pa",
    reference="Pa [0, inf)",
    duration="(0, 2]",
    size="(0, 2]",
    flat_use="(0, 2]",
    incised=None,
)
def allowable_bending_us(
    reference: Value,
    duration: Value,
    size: Value = 1.0,
    flat_use: Value = 1.0,
    incised: bool = False,
) -> Value:
    """Allowable bending stress of a wet piece from its reference value.

    Parameters
    ----------
    reference : quantity [Pa]
        Fb.
    duration : quantity []
        CD.
    size, flat_use : quantity []
        CF and Cfu.
    incised : bool
        Whether it was slit to take the preservative.

    Returns
    -------
    quantity [Pa]

    Notes
    -----
    Fb' = Fb CD CM CF Cfu Ci; CM = 0.85, but 1.0 where Fb CF <= 1150 psi. CL, Ct and
    Cr are 1: a rail is held by its cladding, soil is not hot, two rails do not share.
    Source: nds_2018, 4.3; nds_supplement_2018, Table 4A.
    """
    wet = table("timber_factors")["us_wet_bending"]
    cm = np.where(reference * size <= wet.limit * (1 + 1e-9), 1.0, wet.value)
    ci = np.where(incised, factor("us_incised_strength"), 1.0)
    return reference * duration * cm * size * flat_use * ci


def _reference_bending(grade: str, face, thickness):
    """Fb of data/timber_us.csv times its size factor; southern pine by its width."""
    rows = table("timber_us")
    if grade == "sp_no2":
        widths = [4, 6, 8, 10, 12]
        limits = [table("widths_us")[f"{w}_in"].width + 1e-4 for w in widths]
        at = np.searchsorted(limits, np.maximum(face, thickness))
        values = np.array([rows[f"sp_no2_{w}"].Fb for w in widths])
        return values[np.minimum(at, len(widths) - 1)], 1.0
    size = 1.0
    if rows[grade].size_in_table == "no":
        size = size_factor_us.si(face, thickness)
    return rows[grade].Fb, size


@quantities(
    "Pa",
    grade=None,
    duration=None,
    face="m (0, inf)",
    thickness="m (0, inf)",
    incised=None,
)
def bending_us(
    grade: str, duration: str, face: Value, thickness: Value, incised: bool = False
) -> Value:
    """Allowable bending stress of a species, always wet.

    Parameters
    ----------
    grade : str
        Key of data/timber_us.csv; ``"sp_no2"`` finds southern pine by its width.
    duration : str
        Key of data/durations_us.csv: soil is ``"permanent"``.
    face, thickness : quantity [m]
        Upright and level measure.
    incised : bool
        Whether it was slit to take the preservative.

    Returns
    -------
    quantity [Pa]

    Notes
    -----
    :func:`allowable_bending_us` with the factors of the tables.
    Source: nds_supplement_2018, Tables 4A, 4B, 4D.
    """
    reference, size = _reference_bending(grade, face, thickness)
    flat = flat_use_us.si(face, thickness)
    cd = table("durations_us")[duration].CD
    return allowable_bending_us.si(reference, cd, size, flat, incised)


@quantities("Pa", modulus="Pa [0, inf)", incised=None)
def stiffness_us(modulus: Value, incised: bool = False) -> Value:
    """Modulus of elasticity of a wet piece.

    Parameters
    ----------
    modulus : quantity [Pa]
        E.
    incised : bool
        Whether it was slit to take the preservative.

    Returns
    -------
    quantity [Pa]

    Notes
    -----
    E' = E CM Ci. The European route uses E_0,mean as it stands and lets creep do the
    rest; the two are never mixed. Source: nds_2018, 4.3.
    """
    ci = np.where(incised, factor("us_incised_stiffness"), 1.0)
    return modulus * factor("us_wet_stiffness") * ci
