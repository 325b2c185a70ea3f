"""Wear: how long zinc and steel last in soil, and whether a repair pays."""

from __future__ import annotations

import numpy as np

from ..cost.money import capital_recovery
from ..units import Value, quantities

__all__ = ["repair_pays", "sheet_life", "zinc_life"]


@quantities(
    "s",
    zinc="m [0, inf)",
    first_time="s [0, inf)",
    first_rate="m/s (0, inf)",
    rate="m/s (0, inf)",
)
def zinc_life(zinc: Value, first_time: Value, first_rate: Value, rate: Value) -> Value:
    """How long a coat of zinc lasts: it goes faster at first.

    Parameters
    ----------
    zinc : quantity [m]
        Thickness on this side.
    first_time : quantity [s]
        How long it goes at the first rate.
    first_rate : quantity [m/s]
        At first.
    rate : quantity [m/s]
        Later.

    Returns
    -------
    quantity [s]
        Until the steel lies bare.

    Notes
    -----
    Rates for design of steel in soil: 15 micrometres a year for two years, then 4.
    Source: aashto_lrfd, read in a thesis that quotes it.
    """
    early = first_time * first_rate
    later = first_time + (zinc - early) / rate
    return np.where(zinc < early, zinc / first_rate, later)[()]


@quantities(
    "s", zinc_time="s [0, inf)", steel="m [0, inf)", rate="m/s (0, inf)", sides="[1, 2]"
)
def sheet_life(zinc_time: Value, steel: Value, rate: Value, sides: Value) -> Value:
    """How long a coated sheet keeps half of its steel.

    Parameters
    ----------
    zinc_time : quantity [s]
        Until the zinc is gone.
    steel : quantity [m]
        Thickness of the steel.
    rate : quantity [m/s]
        Steel that one side loses.
    sides : quantity []
        1 where soil lies against one side, 2 where against both.

    Returns
    -------
    quantity [s]
        zinc_time + half the steel / (rate x sides).

    Notes
    -----
    It rusts through at the line of the soil earlier. Source: computed; 12 micrometres
    a year and side by aashto_lrfd.
    """
    return zinc_time + 0.5 * steel / (rate * sides)


@quantities(
    "money",
    repair="money [0, inf)",
    lasts="(0, 100]",
    anew="money [0, inf)",
    life="(0, 1000]",
    rate="[0, 1]",
)
def repair_pays(
    repair: Value, lasts: Value, anew: Value, life: Value, rate: Value
) -> Value:
    """What a year costs less with a repair than with building anew.

    Parameters
    ----------
    repair : quantity [money]
        Cost of the repair.
    lasts : quantity []
        Years that the bed lasts after it.
    anew : quantity [money]
        Cost of a new box.
    life : quantity []
        Years that the new box lasts.
    rate : quantity []
        Interest a year.

    Returns
    -------
    quantity [money]
        Above 0 the repair pays.

    Notes
    -----
    Each is paid off over the years it lasts. Source: computed.
    """
    return anew * capital_recovery.si(rate, life) - repair * capital_recovery.si(
        rate, lasts
    )
