"""Water: evapotranspiration, what the root zone holds, and when to water.

Cautions on tap, tank and grey water stand in data/cautions.csv; local rules come first.
"""

from .bucket import March, march
from .chapter import RootLayer, Water, assess_water, reference_months
from .evapotranspiration import hargreaves, penman_monteith
from .generator import Days, days_of
from .root_zone import (
    available_water,
    catch,
    litres,
    root_share,
    tank_months,
    watering_interval,
)

__all__ = [
    "Days", "March", "RootLayer", "Water", "assess_water", "available_water", "catch",
    "days_of", "hargreaves", "litres", "march", "penman_monteith", "reference_months",
    "root_share", "tank_months", "watering_interval",
]  # fmt: skip  # a list of names
