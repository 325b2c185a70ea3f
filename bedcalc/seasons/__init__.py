"""Seasons: what the years do to a bed: rot, sinking, feeding, wear and work."""

from .chapter import Feeding, Seasons, assess_seasons
from .decay import half_life, rot_rate
from .mixing import for_moisture, for_ratio, heap_moisture, heap_ratio
from .nitrogen import critical_ratio, nitrogen_tied, years_of_supply
from .wear import repair_pays, sheet_life, zinc_life
from .work_year import WorkYear, growing_months, work_year

__all__ = [
    "Feeding", "Seasons", "WorkYear", "assess_seasons", "critical_ratio",
    "for_moisture", "for_ratio", "growing_months", "half_life", "heap_moisture",
    "heap_ratio", "nitrogen_tied", "repair_pays", "rot_rate", "sheet_life",
    "work_year", "years_of_supply", "zinc_life",
]  # fmt: skip  # a list of names
