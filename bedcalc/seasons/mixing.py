"""Mixing a heap of two materials: carbon to nitrogen, and moisture."""

from __future__ import annotations

from ..units import Value, quantities

__all__ = ["for_moisture", "for_ratio", "heap_moisture", "heap_ratio"]

_WET = "[0, 1)"


@quantities(
    "",
    first="kg (0, inf)",
    second="kg [0, inf)",
    carbon="(0, 1]",
    carbon_2="(0, 1]",
    nitrogen="(0, 1]",
    nitrogen_2="(0, 1]",
    water=_WET,
    water_2=_WET,
)
def heap_ratio(
    first: Value,
    second: Value,
    carbon: Value,
    carbon_2: Value,
    nitrogen: Value,
    nitrogen_2: Value,
    water: Value,
    water_2: Value,
) -> Value:
    """Carbon to nitrogen of a heap of two materials.

    Parameters
    ----------
    first : quantity [kg]
        Of the first material, as it is.
    second : quantity [kg]
        Of the second.
    carbon : quantity []
        Share of carbon in the dry first material.
    carbon_2 : quantity []
        Of the second.
    nitrogen : quantity []
        Share of nitrogen in the dry first material.
    nitrogen_2 : quantity []
        Of the second.
    water : quantity []
        Share of water in the first material as it is.
    water_2 : quantity []
        Of the second.

    Returns
    -------
    quantity []
        Carbon of both over nitrogen of both.

    Notes
    -----
    Source: nraes_54, formula from memory.
    """
    dry, dry_2 = first * (1 - water), second * (1 - water_2)
    return (dry * carbon + dry_2 * carbon_2) / (dry * nitrogen + dry_2 * nitrogen_2)


@quantities(
    "kg",
    first="kg (0, inf)",
    goal="(0, 1000]",
    nitrogen="(0, 1]",
    nitrogen_2="(0, 1]",
    ratio="(0, 5000]",
    ratio_2="(0, 5000]",
    water=_WET,
    water_2=_WET,
)
def for_ratio(
    first: Value,
    goal: Value,
    nitrogen: Value,
    nitrogen_2: Value,
    ratio: Value,
    ratio_2: Value,
    water: Value,
    water_2: Value,
) -> Value:
    """Second material that brings the heap to a goal of carbon to nitrogen.

    Parameters
    ----------
    first : quantity [kg]
        Of the first material, as it is.
    goal : quantity []
        Carbon to nitrogen wanted.
    nitrogen : quantity []
        Share of nitrogen in the dry first material.
    nitrogen_2 : quantity []
        Of the second.
    ratio : quantity []
        Carbon to nitrogen of the first material.
    ratio_2 : quantity []
        Of the second.
    water : quantity []
        Share of water in the first material as it is.
    water_2 : quantity []
        Of the second.

    Returns
    -------
    quantity [kg]
        Below 0 the goal cannot be reached with this material.

    Notes
    -----
    Source: nraes_54, formula from memory.
    """
    asked = first * nitrogen * (goal - ratio) * (1 - water)
    return asked / (nitrogen_2 * (ratio_2 - goal) * (1 - water_2))


@quantities("", first="kg (0, inf)", second="kg [0, inf)", water=_WET, water_2=_WET)
def heap_moisture(first: Value, second: Value, water: Value, water_2: Value) -> Value:
    """Share of water in a heap of two materials.

    Parameters
    ----------
    first : quantity [kg]
        Of the first material, as it is.
    second : quantity [kg]
        Of the second.
    water : quantity []
        Share of water in the first.
    water_2 : quantity []
        In the second.

    Returns
    -------
    quantity []
        Water of both over mass of both.

    Notes
    -----
    Source: nraes_54, formula from memory.
    """
    return (first * water + second * water_2) / (first + second)


@quantities("kg", first="kg (0, inf)", goal="(0, 1)", water=_WET, water_2=_WET)
def for_moisture(first: Value, goal: Value, water: Value, water_2: Value) -> Value:
    """Second material that brings the heap to a goal of moisture.

    Parameters
    ----------
    first : quantity [kg]
        Of the first material, as it is.
    goal : quantity []
        Share of water wanted.
    water : quantity []
        Share of water in the first.
    water_2 : quantity []
        In the second.

    Returns
    -------
    quantity [kg]
        Below 0 the goal cannot be reached with this material.

    Notes
    -----
    Source: nraes_54, formula from memory.
    """
    return first * (goal - water) / (water_2 - goal)
