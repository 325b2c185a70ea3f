"""The water of each layer, day by day: for comparing fills.

Each layer of the root zone is a bucket of its own. Rain and watering wet the layers
from the top; a layer that wets badly takes only a share of what it lacks, the rest runs
on. Roots take from every layer by their share in it, and may take more from wet layers
when others are dry. At night some water rises into a drier layer above. Our own model,
put together from published parts; compare fills with it, do not forecast litres.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from .chapter import RootLayer
from .evapotranspiration import depletion_fraction
from .generator import Days

__all__ = ["LayeredMarch", "march_layers"]

_DAY = 86400.0
#: share of the roots that, well watered, can meet the whole need; 1 is no compensation
COMPENSATION = 0.5
_SKIPPED = 0.2  # of the day's reference: lighter rain dries on the leaves


@dataclass(frozen=True)
class LayeredMarch:
    """Days of layers; metres of water.

    Attributes
    ----------
    stored : array (days, layers)
        What plants can take out of each layer at the end of the day, top layer first.
    holds : array (layers,)
        The most that plants can take out of each.
    used, drained, watered, rain : array (days,)
    """

    stored: np.ndarray
    holds: np.ndarray
    used: np.ndarray
    drained: np.ndarray
    watered: np.ndarray
    rain: np.ndarray

    @property
    def waterings(self) -> int:
        """How often it was watered."""
        return int(np.sum(self.watered > 0))


def _wet(stored, holds, wetting, water: float) -> float:
    """Let water run through the layers; what runs out below is returned."""
    for i, most in enumerate(holds):
        taken = min(water, (most - stored[i]) * wetting[i])
        stored[i] += taken
        water -= taken
    return water


def _take(stored, holds, roots, need: float, easy: float) -> float:
    """Let the roots drink; what they got is returned."""
    ease = np.minimum(1.0, stored / np.maximum((1 - easy) * holds, 1e-15))
    want = roots * ease
    left = need * min(1.0, float(want.sum()) / COMPENSATION)
    got = 0.0
    for _ in stored:
        there = (stored > 1e-12) & (want > 0)
        total = want[there].sum()
        if left <= 1e-12 or total <= 0:
            break
        part = np.where(there, np.minimum(left * want / total, stored), 0.0)
        stored -= part
        got += float(part.sum())
        left -= float(part.sum())
    return got


def _rise(stored, holds, rise) -> None:
    """Let water rise into each layer from the one below, if that is wetter."""
    for i in range(len(stored) - 1):
        full = np.maximum(holds[i : i + 2], 1e-15)
        above, below = stored[i] / full[0], stored[i + 1] / full[1]
        moved = min(rise[i + 1] * max(below - above, 0.0), stored[i + 1])
        moved = min(moved, holds[i] - stored[i])
        stored[i] += moved
        stored[i + 1] -= moved


def march_layers(
    layers: Sequence[RootLayer],
    days: Days,
    factor: float,
    easy: float,
    *,
    water: bool = True,
) -> LayeredMarch:
    """March through the days with one bucket for each layer, all full at the start.

    Parameters
    ----------
    layers : sequence of RootLayer
        The top one first.
    days : Days
    factor : float
        Use of the bed over that of short grass.
    easy : float
        p of the crop at 5 mm a day.
    water : bool
        Whether somebody fills the root zone before the plants suffer.

    Notes
    -----
    Roots by Jackson and others (1996), stress of a layer as in FAO-56 eq. 84, sharing
    between layers as Jarvis (1989) has it; wetting, access and rise of
    data/water_layers.csv are assumptions. Source: own model, from memory of these.
    """
    holds = np.array([float(one.si.holds) for one in layers])
    rows = [one.si.material for one in layers]
    wetting = np.array([row.wetting for row in rows])
    rise = np.array([row.rise for row in rows]) * _DAY
    roots = np.array([float(one.si.share) for one in layers])
    roots = roots / max(roots.sum(), 1e-15)
    stored = holds.copy()
    told = np.zeros((len(days.rain), 4 + len(holds)))
    for day, (rain, reference) in enumerate(
        zip(days.rain, days.reference, strict=True)
    ):
        need = factor * reference
        share = float(depletion_fraction.si(easy, need / _DAY))
        rain = rain if rain >= _SKIPPED * reference else 0.0
        given = 0.0
        if water and stored.sum() <= (1 - share) * holds.sum() + 1e-12:
            given = float((holds - stored).sum())
            stored[:] = holds  # slowly, layer by layer, until all is wet
        drained = _wet(stored, holds, wetting, rain)
        used = _take(stored, holds, roots, need, share)
        _rise(stored, holds, rise)
        told[day] = used, drained, given, rain, *stored
    return LayeredMarch(told[:, 4:], holds, *told[:, :4].T)
