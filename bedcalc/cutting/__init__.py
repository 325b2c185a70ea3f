"""Cutting: fewest boards, in which order to cut them, and what is proven about it."""

from .first_fit import first_fit, lower_bound
from .least_cost import content_key, least_cost
from .model import COIN, Board, Coins, CutError, Piece, Plan, Saw, Stock, Tenths, tenths
from .secondary_objective import fewest_setups, longest_leftover
from .sensitivity import Nudge, SawLoss, SweetSpots, nudges, saw_loss, sweet_spots
from .yard_stock import fit_in_car, offcuts, split_at_defect

__all__ = [
    "COIN",
    "Board",
    "Coins",
    "CutError",
    "Nudge",
    "Piece",
    "Plan",
    "Saw",
    "SawLoss",
    "Stock",
    "SweetSpots",
    "Tenths",
    "content_key",
    "fewest_setups",
    "first_fit",
    "fit_in_car",
    "least_cost",
    "longest_leftover",
    "lower_bound",
    "nudges",
    "offcuts",
    "saw_loss",
    "split_at_defect",
    "sweet_spots",
    "tenths",
]
