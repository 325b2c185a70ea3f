"""Walls: what pushes, what carries it, how far it bows, and what mends it."""

from .follow import Walls, follow_walls

__all__ = ["Walls", "follow_walls"]
