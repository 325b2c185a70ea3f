"""Nitrogen: what rotting ties up, what compost gives, and phosphorus that piles up."""

from __future__ import annotations

from ..units import Value, quantities

__all__ = ["critical_ratio", "nitrogen_tied", "years_of_supply"]


@quantities(
    "kg",
    carbon="kg [0, inf)",
    efficiency="[0, 1]",
    microbe_ratio="(0, 100]",
    ratio="(0, 5000]",
)
def nitrogen_tied(
    carbon: Value, efficiency: Value, microbe_ratio: Value, ratio: Value
) -> Value:
    """Nitrogen that living things take out of the soil while carbon rots.

    Parameters
    ----------
    carbon : quantity [kg]
        Rotted in the time asked about.
    efficiency : quantity []
        Share of it that becomes living matter.
    microbe_ratio : quantity []
        Carbon to nitrogen of that living matter.
    ratio : quantity []
        Carbon to nitrogen of what rots.

    Returns
    -------
    quantity [kg]
        carbon x (efficiency / microbe_ratio - 1 / ratio); below 0 it gives nitrogen.

    Notes
    -----
    A third and 8 to 1 are the rule for straw and leaves. Wood is broken down by fungi
    that need less, a judgement. Source: brady_weil, from memory.
    """
    return carbon * (efficiency / microbe_ratio - 1.0 / ratio)


@quantities("", efficiency="(0, 1]", microbe_ratio="(0, 100]")
def critical_ratio(efficiency: Value, microbe_ratio: Value) -> Value:
    """Carbon to nitrogen above which rotting takes nitrogen from the soil.

    Parameters
    ----------
    efficiency : quantity []
        Share of the carbon that becomes living matter.
    microbe_ratio : quantity []
        Carbon to nitrogen of that living matter.

    Returns
    -------
    quantity []
        microbe_ratio / efficiency: 24 with a third and 8.

    Notes
    -----
    Source: brady_weil, from memory.
    """
    return microbe_ratio / efficiency


@quantities("s", there="kg/m^2 [0, inf)", taken="kg/m^2/s (0, inf)")
def years_of_supply(there: Value, taken: Value) -> Value:
    """How long a store lasts at the rate at which crops carry it off.

    Parameters
    ----------
    there : quantity [kg/m^2]
        Of phosphorus, say, on a square metre of bed.
    taken : quantity [kg/m^2/s]
        By crops.

    Returns
    -------
    quantity [s]
        there / taken.

    Notes
    -----
    Source: computed.
    """
    return there / taken
