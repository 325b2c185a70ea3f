"""Cutting: fewest boards, in which order to cut them, and what is proven about it."""

from .first_fit import first_fit, lower_bound
from .least_cost import content_key, least_cost, think_longer
from .model import Board, CutError, Piece, Plan, Saw, Stock, tenths

__all__ = [
    "Board",
    "CutError",
    "Piece",
    "Plan",
    "Saw",
    "Stock",
    "content_key",
    "first_fit",
    "least_cost",
    "lower_bound",
    "tenths",
    "think_longer",
]
