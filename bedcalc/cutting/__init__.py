"""Cutting: fewest boards, in which order to cut them, and what is proven about it."""

from .first_fit import first_fit, lower_bound
from .model import Board, CutError, Piece, Plan, Saw, Stock, tenths

__all__ = [
    "Board",
    "CutError",
    "Piece",
    "Plan",
    "Saw",
    "Stock",
    "first_fit",
    "lower_bound",
    "tenths",
]
