"""Fill: what goes in, how much to order, how often the barrow rolls.

Settling is a share of the *loose* volume: settled = loose (1 - s), so one orders
settled / (1 - s), never settled (1 + s). A log zone is wood, chips in the gaps, and
air; chips poured over logs first disappear into the gaps.
"""

from .buying import Offer, break_even, offers, pack_cost, prices_over
from .chapter import Fill, FillLayer, Order, assess_fill
from .logs import LogPlan, LogRow, lay_logs, log_count, log_rows, plan_logs
from .settlement import layer_drop, log_zone_drop, mass_left, sink
from .topping_up import Spoil, TopUp, Work
from .volumes import (
    barrow_loads,
    carrying_hours,
    dug_out,
    load_mass,
    loads_per_hour,
    log_zone,
    loose_volume,
    rounded_order,
    settled_volume,
)

__all__ = [
    "Fill", "FillLayer", "LogPlan", "LogRow", "Offer", "Order", "Spoil", "TopUp",
    "Work", "barrow_loads", "break_even", "carrying_hours", "dug_out", "assess_fill",
    "lay_logs", "layer_drop", "load_mass", "loads_per_hour", "log_count", "log_rows",
    "log_zone", "log_zone_drop", "loose_volume", "mass_left", "offers", "pack_cost",
    "plan_logs", "prices_over", "rounded_order", "settled_volume", "sink",
]  # fmt: skip  # a list of names
