"""The water cases of a bed's fill, and the push of each on the long wall.

moist: the everyday state, sustained for years. soaked: after long rain, draining at
the open bottom. waterlogged: the same with standing water, only where the bottom is
closed. yielding: moist fill against a wall that has moved outwards (active pressure),
the low end of what an untied wall may feel.
"""

from __future__ import annotations

import numpy as np

from bedcalc.bed import Bed
from bedcalc.outcome import Amount, Part, Plain
from bedcalc.tables import table

from .earth import k_active, k_at_rest
from .pressure import push, rail_loads, segments

__all__ = ["Push", "pushes"]


class Push(Part):
    """What one state of the fill does to a metre of the long wall."""

    name = Plain("moist, soaked, waterlogged or yielding")
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
    rows = [table("fills")[layer.material] for layer in reversed(bed.fill)]
    thickness = bed.layer_depths[::-1]
    moist = np.array([row.unit_weight_moist for row in rows])
    soaked = np.array([row.unit_weight_soaked for row in rows])
    friction = np.array([row.friction for row in rows])
    floor = np.array([row.k_floor for row in rows])
    rest, strong = k_at_rest.si(friction), k_at_rest.si(friction, floor)
    height = bed.si.soil_depth  # the top rail stands at the rim, over the fill
    states = {
        "moist": (moist, rest, np.inf),
        "soaked": (soaked, strong, np.inf),
        "waterlogged": (soaked, strong, 0.0),
        "yielding": (moist, k_active.si(friction), np.inf),
    }
    return {
        name: _push(name, thickness, weight, soaked, k, water, height)
        for name, (weight, k, water) in states.items()
    }


def _push(name, thickness, weight, soaked, k, water, height) -> Push:
    pieces = segments.si(thickness, weight, soaked, k, 0.0, water)
    total, moment, acts_at = push.si(*pieces)
    top_load, base_load = rail_loads.si(total, moment, height)
    keep = [
        i for i in range(len(pieces.top)) if np.any(pieces.bottom[i] > pieces.top[i])
    ]
    return Push(
        name=name,
        depth=np.stack([pieces.top, pieces.bottom], axis=1)[keep].reshape(
            -1, *pieces.top.shape[1:]
        ),
        pressure=np.stack([pieces.pressure_top, pieces.pressure_bottom], axis=1)[
            keep
        ].reshape(-1, *pieces.top.shape[1:]),
        total=total,
        moment=moment,
        acts_at=acts_at,
        top_load=top_load,
        base_load=base_load,
        base_pressure=pieces.pressure_bottom[keep[-1]] if keep else 0.0 * total,
    )
