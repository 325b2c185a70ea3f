"""Cutting: fewest boards, in which order to cut them, and what is proven about it."""

from .first_fit import first_fit, lower_bound
from .least_cost import content_key, least_cost, think_longer
from .model import (
    COIN,
    Board,
    Coins,
    CutError,
    Piece,
    Plan,
    Saw,
    Stock,
    Tenths,
    tenths,
)
from .rip import rip_sheets
from .second import fewest_setups, longest_leftover
from .sensitivity import Nudge, SawLoss, SweetSpots, nudges, saw_loss, sweet_spots
from .sheets import Panel, RipPlan, Sheet, SheetCut
from .yard import fit_in_car, offcuts, split_at_defect

__all__ = [
    "COIN",
    "Board",
    "Coins",
    "CutError",
    "Nudge",
    "Panel",
    "Piece",
    "Plan",
    "RipPlan",
    "Saw",
    "SawLoss",
    "Sheet",
    "SheetCut",
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
    "rip_sheets",
    "saw_loss",
    "split_at_defect",
    "sweet_spots",
    "tenths",
    "think_longer",
]
