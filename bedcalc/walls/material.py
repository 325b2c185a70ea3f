"""What a piece of wood or plastic can bear, each material by its own rules.

The European route compares loads times a factor with a design strength, the American
one plain loads with an allowable stress, recycled plastic a low sustained stress.
``load_factor`` carries the difference, so that one line serves all three:
``load_factor x stress <= bending``.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass

from bedcalc.tables import table
from bedcalc.units import Value

from .timber import bearing_en, bending_en, factor
from .timber_us import bending_us, stiffness_us

__all__ = ["Material", "duration_factor", "material"]

#: how long a load lasts -> keys of data/durations_en.csv and data/durations_us.csv
_DURATION = {
    "soil": ("permanent", "permanent"),
    "season": ("medium", "two_months"),
    "visit": ("short", "ten_years"),
    "person": ("short", "ten_minutes"),
}


@functools.cache
def duration_factor(route: str, lasts: str) -> tuple[float, float]:
    """Strength for a load duration over that under soil; load factor for people.

    Parameters
    ----------
    route : str
        ``"en"``, ``"us"`` or ``"plastic"`` (no gain: makers give no value).
    lasts : str
        ``"soil"`` (for good), ``"season"``, ``"visit"`` (people at work), ``"person"``
        (a moment on the rim).

    Returns
    -------
    tuple of float
        The ratio, and the factor on loads of people (1 where loads are plain).
    """
    en, us = _DURATION[lasts]
    if route == "en":
        rows, gain = table("durations_en"), factor("en_gamma_people")
        return rows[en].kmod / rows["permanent"].kmod, gain
    if route == "us":
        rows = table("durations_us")
        return rows[us].CD / rows["permanent"].CD, 1.0
    return 1.0, 1.0


@dataclass(frozen=True, kw_only=True)
class Material:
    """A piece of wood, wet outdoors, in SI: stiffness, creep, strength, density.

    ``bearing`` is across the grain; ``load_factor`` belongs on the load of soil.
    """

    name: str
    route: str
    grade: str
    source: str
    E: Value
    creep: float
    bending: Value
    bearing: Value
    load_factor: float
    density: float


def material(wood: str, face: Value, thickness: Value, lasts: str = "soil") -> Material:
    """Stiffness, creep and strength of a piece of this wood: see :func:`_material`."""
    if isinstance(face, float) and isinstance(thickness, float):
        return _known(wood, face, thickness, lasts)  # one bed asks for few sizes
    return _material(wood, face, thickness, lasts)


@functools.lru_cache(maxsize=512)
def _known(wood: str, face: float, thickness: float, lasts: str) -> Material:
    return _material(wood, face, thickness, lasts)


def _material(wood: str, face, thickness, lasts: str) -> Material:
    """Stiffness, creep and bending strength of a piece of this wood, wet outdoors.

    Parameters
    ----------
    wood : str
        Key of data/woods.csv.
    face, thickness : float or array
        Upright and level measure in metres.
    lasts : str
        ``"soil"`` (for good), ``"season"`` (some months), ``"person"``.

    Returns
    -------
    Material
    """
    row = table("woods")[wood]
    grade, (en, us) = row.strength_class, _DURATION[lasts]
    if row.route == "en":
        found = dict(
            E=table("timber_en")[grade].E_mean,
            creep=1 + factor("en_kdef"),
            bending=bending_en.si(grade, en, thickness),
            bearing=bearing_en.si(grade, en),
            load_factor=factor("en_gamma_soil"),
            source="en1995",
        )
    elif row.route == "us":
        key = "sp_no2_4" if grade == "sp_no2" else grade
        found = dict(
            E=stiffness_us.si(table("timber_us")[key].E),
            creep=factor("us_creep"),
            bending=bending_us.si(grade, us, face, thickness),
            bearing=table("timber_us")[key].Fc_perp * factor("us_wet_bearing"),
            load_factor=1.0,
            source="nds_2018",
        )
    else:
        plank = table("planks")[grade]
        found = dict(
            E=plank.E,
            creep=plank.creep,
            bending=plank.allowable_bending,
            bearing=plank.allowable_bending,
            load_factor=1.0,
            source=plank.source,
        )
    return Material(
        route=row.route, grade=grade, density=row.density, name=row.name, **found
    )
