"""A made-up year of days whose months are those of a climate.

For a first look where nobody has daily weather. Rain comes on so many days as a wet day
brings 6 mm in the mean, at least one day in a month with rain; which days is drawn, the
amounts are drawn from an exponential curve and then scaled to the rain of the month. On
a wet day short grass uses three quarters of what it uses on a dry one. The numbers 6 mm
and three quarters are assumptions of ours; the months always add up.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

__all__ = ["Days", "days_of"]

LENGTHS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
_WET_DAY = 0.006  # m of rain
_WET_USE = 0.75
_DAY = 86400.0


@dataclass(frozen=True)
class Days:
    """Days of a year or a season: metres of rain, and of water that grass uses."""

    rain: np.ndarray
    reference: np.ndarray
    first: int = 0  # day of the year of the first one, 0 is 1 January

    def part(self, start: int, end: int) -> Days:
        """The days from ``start`` up to, without, ``end``; over the new year too."""
        days = np.arange(start, end if end > start else end + len(self.rain))
        at = days % len(self.rain)
        return Days(self.rain[at], self.reference[at], start)


def days_of(rain, reference, seed: int) -> Days:
    """A year of days from twelve months.

    Parameters
    ----------
    rain : array (12,)
        Metres a month.
    reference : array (12,)
        What short grass uses, metres a second.
    seed : int
        Another seed gives another year with the same months.
    """
    rng = np.random.default_rng(seed)
    wet, used = [], []
    for month, length in enumerate(LENGTHS):
        most = float(rain[month])
        count = int(np.clip(round(most / _WET_DAY), most > 0, length))
        amounts = np.zeros(length)
        if count:
            on = rng.choice(length, size=count, replace=False)
            drawn = rng.exponential(size=count) + 0.05
            amounts[on] = most * drawn / drawn.sum()
        share = np.where(amounts > 0, _WET_USE, 1.0)
        share = share / share.mean()
        wet.append(amounts)
        used.append(reference[month] * _DAY * share)
    return Days(np.concatenate(wet), np.concatenate(used))
