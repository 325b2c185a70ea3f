"""Walls: what pushes, what carries it, how far it bows, and what fixes it."""

from .chapter import Walls, assess_walls

__all__ = ["Walls", "assess_walls"]
