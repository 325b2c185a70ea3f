"""The water of the root zone, day by day: for advice on when and how much to water.

One bucket for the whole root zone (FAO-56, chapter 8, eq. 82 to 88). Beds and years are
axes of the arrays: the days march, all beds of all years at once.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .evapotranspiration import depletion_fraction, water_stress

__all__ = ["ORDERS", "March", "march"]

#: whether water that does not fit drains before or after the day's use of the crop
ORDERS = ("after_et", "before_et")
#: rain under this share of the reference evapotranspiration never reaches the roots
_SKIPPED = 0.2


@dataclass(frozen=True)
class March:
    """A season of one bucket; every array is (days, ...), in metres of water.

    Parameters
    ----------
    depletion : array
        Missing to field capacity at the end of each day.
    watered, drained, used : array
        Irrigation, deep percolation and what the crop really used.
    stress : array
        Share of the need that could be taken up.
    start : array
        Missing before the first day.
    """

    depletion: np.ndarray
    watered: np.ndarray
    drained: np.ndarray
    used: np.ndarray
    stress: np.ndarray
    rain: np.ndarray
    start: np.ndarray

    @property
    def waterings(self) -> np.ndarray:
        """How often it was watered."""
        return np.sum(self.watered > 0, axis=0)


def march(
    rain,
    need,
    reference,
    available,
    fraction,
    *,
    start=0.0,
    water: bool = True,
    order: str = "after_et",
) -> March:
    """March through the days of a season.

    Parameters
    ----------
    rain : array (days, ...)
        Rain of each day, in metres.
    need : array (days, ...)
        Water the crop would use, Kc ET0 with the factors of the bed, m a day.
    reference : array (days, ...)
        ET0, m a day: rain under a fifth of it is lost on the leaves.
    available : array (...)
        Water between field capacity and wilting in the root zone, TAW, m.
    fraction : array (...)
        p of the crop at 5 mm a day.
    start : array (...)
        Missing before the first day, m.
    water : bool
        Whether somebody fills the root zone as soon as the crop would suffer.
    order : str
        ``"after_et"``: what does not fit drains after the day's use (eq. 88 as it is
        printed); ``"before_et"``: before it (as example 38 counts).

    Returns
    -------
    March

    Notes
    -----
    Watering is early in the day. Source: fao56, eq. 82 to 88, and p. 170 for light
    rain.
    """
    if order not in ORDERS:
        raise ValueError(
            f"march: 'order' needs one of {', '.join(ORDERS)}; given {order!r}; "
            "for example 'after_et'"
        )
    rain, need, reference = np.broadcast_arrays(rain, need, reference)
    shape = np.broadcast_shapes(rain.shape[1:], np.shape(available), np.shape(fraction))
    days = len(rain)
    made = {k: np.zeros((days, *shape)) for k in ("dr", "i", "dp", "et", "ks", "p")}
    missing = np.broadcast_to(np.asarray(start, dtype=float), shape).copy()
    first = missing.copy()
    for day in range(days):
        p = np.where(rain[day] < _SKIPPED * reference[day], 0.0, rain[day])
        share = depletion_fraction.si(fraction, need[day] / 86400)
        dry = missing >= share * available - 1e-12
        given = np.where(dry & water, missing, 0.0)
        over = p + given - missing
        early = np.maximum(over, 0.0)
        if order == "after_et":
            early = np.maximum(over - need[day], 0.0)
        stress = water_stress.si(available, np.maximum(missing - given, 0.0), share)
        use = stress * need[day]
        now = missing - p - given + use + early
        late = np.maximum(-now, 0.0)  # never above field capacity
        drained = early + late
        now = np.maximum(now, 0.0)
        use = use - np.maximum(now - available, 0.0)  # never below wilting
        missing = np.minimum(now, available)
        for key, value in zip(
            made, (missing, given, drained, use, stress, p), strict=True
        ):
            made[key][day] = value
    return March(
        depletion=made["dr"],
        watered=made["i"],
        drained=made["dp"],
        used=made["et"],
        stress=made["ks"],
        rain=made["p"],
        start=first,
    )
