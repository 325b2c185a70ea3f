"""Balances of water: what came, less what went, less what is stored."""

from __future__ import annotations

import numpy as np


def of_bucket(march):
    """Of a season of one bucket, for each bed; zero."""
    came = march.rain + march.watered - march.used - march.drained
    return np.sum(came, axis=0) + march.depletion[-1] - march.start


def of_layers(march) -> float:
    """Of a season of layers that began full; zero."""
    came = np.sum(march.rain + march.watered - march.used - march.drained)
    return float(came - (march.stored[-1].sum() - march.holds.sum()))
