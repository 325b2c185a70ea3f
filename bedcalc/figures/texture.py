"""What a layer of fill looks like from the front: log ends, flecks, stalks.

Everything is strewn once over a large cloth with a fixed seed and then cut out where a
layer lies, so that nothing dances while a slider moves. Drawing only: the places of
logs and flecks mean nothing.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

import numpy as np

from . import theme

__all__ = ["Logs", "log_ends", "strokes"]

_TILE, _CLOTH, _HIGH = 1.6, 6.4, 1.3  # m: tile of logs, width and height of the cloth
_GAP = 0.002  # m between two log ends


class _Strew(NamedTuple):
    """How the strokes of a material lie: many or few, long or short, level or not."""

    colour: str
    per_area: float
    length: float
    tilt: float


_STREW = {
    "chips": _Strew(theme.MATERIAL["fleck"], 520, 0.026, 1.5),
    "logs": _Strew(theme.MATERIAL["chips"], 900, 0.020, 1.5),
    "compost": _Strew("#6B564A", 300, 0.010, 1.5),
    "mix": _Strew("#A98A72", 480, 0.009, 1.5),
    "topsoil": _Strew("#97795C", 420, 0.008, 1.5),
    "topdressing": _Strew("#A8935A", 260, 0.010, 1.5),
    "brush": _Strew("#4A3522", 320, 0.075, 0.5),
    "leaves": _Strew("#6E4419", 420, 0.030, 0.35),
    "straw": _Strew("#A3862F", 420, 0.070, 0.14),
}


@lru_cache(maxsize=len(_STREW))
def _strewn(material: str):
    """Both ends of all strokes of a material on the whole cloth: x0, z0, x1, z1 (m)."""
    kind = _STREW[material]
    dice = np.random.default_rng(sorted(_STREW).index(material) + 11)
    # a jittered grid strews evenly, pure chance leaves holes
    side = 1 / np.sqrt(kind.per_area)
    x, z = np.meshgrid(np.arange(0, _CLOTH, side), np.arange(0, _HIGH, side))
    x = (x + side * dice.uniform(-0.1, 1.1, x.shape)).ravel()
    z = (z + side * dice.uniform(-0.1, 1.1, z.shape)).ravel()
    turn = dice.uniform(-kind.tilt, kind.tilt, x.size)
    half = kind.length * dice.uniform(0.3, 0.5, x.size)
    dx, dz = half * np.cos(turn), half * np.sin(turn)
    return x - dx, z - dz, x + dx, z + dz


def strokes(material: str, left: float, right: float, bottom: float, top: float):
    """Strokes of one layer with gaps between them, and their colour.

    Parameters
    ----------
    material : str
        Key in data/fills.csv.
    left, right, bottom, top : float
        The layer in metres; ``left`` and ``bottom`` pin the cloth.

    Returns
    -------
    tuple
        x and z with nan between the strokes, and the colour; empty for a material
        without strokes.
    """
    if material not in _STREW:
        return np.empty(0), np.empty(0), theme.INK
    x0, z0, x1, z1 = _strewn(material)
    pad = 0.003
    wide, high = right - left - pad, top - bottom - pad
    keep = (x0 > pad) & (x1 < wide) & (np.minimum(z0, z1) > pad)
    keep &= np.maximum(z0, z1) < high
    n = int(keep.sum())
    x, z = np.full(3 * n, np.nan), np.full(3 * n, np.nan)
    x[0::3], x[1::3] = left + x0[keep], left + x1[keep]
    z[0::3], z[1::3] = bottom + z0[keep], bottom + z1[keep]
    return x, z, _STREW[material].colour


class Logs(NamedTuple):
    """Round log ends: middles and radii in metres."""

    x: np.ndarray
    z: np.ndarray
    r: np.ndarray


def _across(x, others):
    """Distance along the wall on a tile that repeats."""
    gap = np.abs(x - others)
    return np.minimum(gap, _TILE - gap)


@lru_cache(maxsize=1)
def _stacked() -> Logs:
    """A tile of log ends, dropped one by one to the lowest place, gaps filled up."""
    dice = np.random.default_rng(5)
    x, z, r = (np.empty(0) for _ in range(3))
    places = np.arange(0, _TILE, 0.008)
    while True:
        new = dice.uniform(0.027, 0.062)
        rest = np.full(places.size, new + _GAP)
        if x.size:
            reach = new + r + _GAP
            lift = reach**2 - _across(places[:, None], x) ** 2
            on = np.where(lift > 0, z + np.sqrt(np.maximum(lift, 0)), 0)
            rest = np.maximum(rest, on.max(axis=1))
        best = int(np.argmin(rest))
        if rest[best] - new > _HIGH:
            break
        x, z, r = (
            np.append(x, places[best]),
            np.append(z, rest[best]),
            np.append(r, new),
        )
    return _filled_up(Logs(x, z, r))


def _filled_up(logs: Logs) -> Logs:
    """Put thin sticks into the gaps, the widest gap first."""
    px, pz = np.meshgrid(np.arange(0, _TILE, 0.01), np.arange(0.01, _HIGH, 0.01))
    px, pz = px.ravel(), pz.ravel()
    room = np.minimum(pz, 0.03)
    for x, z, r in zip(*logs, strict=True):
        room = np.minimum(room, np.hypot(_across(px, x), pz - z) - r)
    added = []
    while (at := int(np.argmax(room))) is not None and room[at] > 0.012:
        stick = px[at], pz[at], room[at] - _GAP
        added.append(stick)
        far = np.hypot(_across(px, stick[0]), pz - stick[1]) - stick[2]
        room = np.minimum(room, far)
    return Logs(
        *(np.append(a, b) for a, b in zip(logs, np.transpose(added), strict=True))
    )


@lru_cache(maxsize=1)
def _cloth() -> Logs:
    """The tile laid side by side over the whole cloth."""
    x, z, r = _stacked()
    times = int(_CLOTH / _TILE)
    shift = np.repeat(np.arange(times) * _TILE, x.size)
    return Logs(np.tile(x, times) + shift, np.tile(z, times), np.tile(r, times))


def log_ends(left: float, right: float, bottom: float, top: float) -> Logs:
    """The log ends that lie wholly within a layer; thin ones in a thin layer.

    Parameters
    ----------
    left, right, bottom, top : float
        The layer in metres; ``left`` and ``bottom`` pin the cloth.

    Returns
    -------
    Logs
        Middles and radii in metres.
    """
    x, z, r = (part * (1.0 if top - bottom > 0.2 else 0.6) for part in _cloth())
    keep = (x - r > 0) & (x + r < right - left) & (z + r < top - bottom + 1e-6)
    return Logs(left + x[keep], bottom + z[keep], r[keep])
