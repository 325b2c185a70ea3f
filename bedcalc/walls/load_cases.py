"""The states of a bed's fill, and the push of each on the long wall.

The load cases, by name. moist (1): the everyday state, sustained for years. soaked
(2): after long rain, draining at the open bottom. waterlogged (3): the same with
standing water, only where the bottom is closed. trodden (4): moist, with somebody on
the fill. The fifth, somebody on the rim, is moist with a single load. yielding (E):
moist fill against a wall that has moved outwards (active pressure), the low end of
what an untied wall may feel. light and heavy are moist with weight and friction as far
off as one has to expect.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from bedcalc.model.bed import Bed
from bedcalc.model.outcome import Amount, Part, Plain
from bedcalc.tables import table

from ..units import Value
from .earth import k_active, k_at_rest
from .pressure import push, push_between, rail_loads, segments

__all__ = ["Push", "load_row", "mean_pressure", "push_on", "pushes"]


def load_row(key: str):
    """One row of data/loads.csv."""
    return table("loads")[key]


class Push(Part):
    """What one state of the fill does to a metre of the long wall."""

    name = Plain("Name of the state, such as moist or soaked")
    depth = Amount("m", "Depth below the surface, top and bottom of each piece")
    pressure = Amount("kPa", "Side pressure there", "pressure")
    total = Amount("N/m", "Push per metre of wall", "line load")
    moment = Amount("N*m/m", "Moment of the push about the base")
    acts_at = Amount("m", "Height at which the push acts", "size")
    top_load = Amount("N/m", "Load of a top rail", "line load")
    base_load = Amount("N/m", "Load of a base rail", "line load")
    base_pressure = Amount("kPa", "Side pressure at the base", "pressure")


def pushes(bed: Bed) -> dict[str, Push]:
    """The push of the fill in each of its states.

    Parameters
    ----------
    bed : Bed
        Its layers, from the table of fills; strength cases floor K for fibrous fill.

    Returns
    -------
    dict of str to Push
        By the name of the state.
    """
    rows = [layer.row for layer in reversed(bed.fill)]
    thickness = bed.layer_depths[::-1]
    moist = np.array([row.unit_weight_moist for row in rows])
    soaked = np.array([row.unit_weight_soaked for row in rows])
    friction = np.array([row.friction for row in rows])
    floor = np.array([row.k_floor for row in rows])
    rest, strong = k_at_rest.si(friction), k_at_rest.si(friction, floor)
    off, turn = load_row("weight_band").share, load_row("friction_band").angle
    tread = load_row("on_fill").pressure
    states = {
        "moist": (moist, rest, np.inf, 0.0),
        "soaked": (soaked, strong, np.inf, 0.0),
        "waterlogged": (soaked, strong, 0.0, 0.0),
        "yielding": (moist, k_active.si(friction), np.inf, 0.0),
        "trodden": (moist, strong, np.inf, tread),
        "light": (moist * (1 - off), k_at_rest.si(friction + turn), np.inf, 0.0),
        "heavy": (moist * (1 + off), k_at_rest.si(friction - turn), np.inf, 0.0),
    }
    # all states in one go, along an axis between the layers and the designs
    weight, k, water, tread = (
        np.stack(v, axis=-1) for v in zip(*states.values(), strict=True)
    )
    designs = (1,) * (thickness.ndim - 1)
    shape = (len(rows), len(states), *designs)
    pieces = segments.si(
        thickness[:, None],
        weight.reshape(shape),
        soaked.reshape(len(rows), 1, *designs),
        k.reshape(shape),
        tread.reshape(len(states), *designs),
        water.reshape(len(states), *designs),
    )
    pieces = tuple(np.broadcast_arrays(*pieces))
    total, moment, acts_at = push.si(*pieces)
    # the top rail stands at the rim, over the fill
    top_load, base_load = rail_loads.si(total, moment, bed.si.soil_depth)
    depth, pressure = np.stack(pieces[:2], axis=1), np.stack(pieces[2:], axis=1)
    # pieces without height are left out of the drawn pressure
    high = (pieces[1] > pieces[0]).reshape(*pieces[0].shape[:2], -1).any(axis=-1)
    ends = (-1, *pieces[0].shape[2:])
    found = {}
    for i, name in enumerate(states):
        p = pressure[high[:, i], :, i].reshape(ends)
        found[name] = Push(
            name=name,
            depth=depth[high[:, i], :, i].reshape(ends),
            pressure=p,
            base_pressure=p[-1] if len(p) else 0.0 * total[i],
            total=total[i],
            moment=moment[i],
            acts_at=acts_at[i],
            top_load=top_load[i],
            base_load=base_load[i],
        )
    return found


def push_on(push: Any, low: Value, high: Value):
    """Push on a metre of wall between two heights over its base.

    Parameters
    ----------
    push : namespace
        ``.si`` of a :class:`Push`.
    low, high : float or array
        Heights, m.

    Returns
    -------
    float or array
        N/m: each straight piece of the pressure, cut off at both heights.
    """
    if not len(push.depth):
        return 0.0 * np.asarray(high)
    pieces = *(push.depth[n::2] for n in (0, 1)), *(push.pressure[n::2] for n in (0, 1))
    return push_between.si(*pieces, low, high)[0]


def mean_pressure(push: Any, face: Value):
    """Mean side pressure over the lowest board of a wall, Pa; ``face`` in m."""
    return push_on(push, 0.0, face) / np.maximum(face, 1e-9)
