"""Chosen: the layers of a fill, one by one or as a strategy of data/strategies.csv."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from ..tables import Row, table
from ..units import Q_, to_si
from .entries import check_length, refuse
from .materials import FillMaterial, fill_row

__all__ = ["Layer", "strategy_layers"]


@dataclass(frozen=True, kw_only=True)
class Layer:
    """One layer of fill, as thick as it will be once settled.

    ``material`` is a key of data/fills.csv or a :class:`FillMaterial` of one's own.
    ``depth`` is a length, or a share of the
    whole fill (``Q_(30, "percent")``), or None: this layer takes what is left.
    """

    material: str | FillMaterial
    depth: Any = None

    def __post_init__(self):
        own = isinstance(self.material, FillMaterial)
        if not own and self.material not in table("fills"):
            keys = ", ".join(table("fills").rows)
            refuse("layer, material", f"one of {keys}", repr(self.material), "mix")
        if self.depth is None:
            return
        if isinstance(self.depth, Q_) and self.depth.check("[]"):
            share = np.asarray(self.depth.m_as(""))
            if not np.all((share >= 0) & (share <= 1)):
                refuse(
                    f"layer of {self.row.key}, depth",
                    "a share from 0 % to 100 %",
                    self.depth,
                    "Q_(30, 'percent')",
                )
        else:
            check_length(
                f"layer of {self.row.key}", "depth", self.depth, 0, 2, "Q_(10, 'cm')"
            )

    @property
    def row(self) -> Row:
        """Weights, friction and settling of the material, as a row of the fills."""
        return fill_row(self.material)

    @property
    def kind(self) -> str:
        """The row of data/fills.csv whose looks and rotting it takes."""
        return getattr(self.material, "like", self.material)


def strategy_layers(strategy: str, log_share: Q_ | None = None) -> tuple[Layer, ...]:
    """The layers of a fill strategy of data/strategies.csv, bottom first.

    Parameters
    ----------
    strategy : str
        Key of the strategy, such as ``"logs_chips_mix"``.
    log_share : quantity [] or None
        Share of the fill's depth that is log zone, instead of the strategy's own.
    """
    rows = [row for row in table("strategies") if row.strategy == strategy]
    if not rows:
        keys = ", ".join(dict.fromkeys(row.strategy for row in table("strategies")))
        refuse("fill strategy", f"one of {keys}", repr(strategy), "all_mix")
    layers = []
    for row in rows:
        depth = None
        if not np.isnan(row.depth):
            depth = row.q("depth")
        elif not np.isnan(row.share):
            depth = row.q("share").to("percent")
            if row.material == "logs" and log_share is not None:
                depth = Q_(to_si(log_share, "", "log share"), "").to("percent")
        layers.append(Layer(material=row.material, depth=depth))
    return tuple(layer for layer in layers if layer.depth is None or layer.depth.m > 0)
