"""Cost: the bill of one bed or of many, line by line, from the price list.

Timber and sheet are bought by a cut plan: the hand rule (longest first) while a slider
moves, the proven cheapest for the bill one orders by. Everything is rounded up to what
the seller sells. Money has no exchange rate and no false digits: the total is shown
whole, with the band that the spread of prices gives.
"""

from .bill import bill
from .chapter import Cost, assess_cost, cost_of
from .counting import EXTRAS, fixings, gear_for, gravel_volume, liner_area, tools_for
from .donations import Donation, donor_of, gifts
from .life_cycle_cost import Yearly, life_of, yearly
from .lines import Line, cut_plans
from .money import (
    break_even_life,
    capital_recovery,
    lognormal_sigma,
    share_out,
    triangular_moments,
    triangular_quantile,
    yearly_cost,
)
from .uncertainty import Spread, Swing, simulate, spread_band, swings

__all__ = [
    "EXTRAS", "Cost", "Donation", "Line", "Spread", "Swing", "Yearly", "bill",
    "break_even_life", "capital_recovery", "cost_of", "cut_plans",
    "donor_of",
    "fixings", "assess_cost", "gear_for", "gifts", "gravel_volume", "life_of",
    "liner_area", "lognormal_sigma", "share_out", "simulate", "spread_band",
    "swings", "tools_for", "triangular_moments", "triangular_quantile", "yearly",
    "yearly_cost",
]  # fmt: skip  # a list of names
