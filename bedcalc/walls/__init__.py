"""Walls: what pushes, what carries, what gives way, and what mends it."""
