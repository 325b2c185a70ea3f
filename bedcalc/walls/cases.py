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
    states = {
        "moist": (moist, rest, np.inf),
        "soaked": (soaked, strong, np.inf),
        "waterlogged": (soaked, strong, 0.0),
        "yielding": (moist, k_active.si(friction), np.inf),
    }
    # all states in one go, along an axis between the layers and the designs
    weight, k, water = (
        np.stack(v, axis=-1) for v in zip(*states.values(), strict=True)
    )
    designs = (1,) * (thickness.ndim - 1)
    shape = (len(rows), len(states), *designs)
    pieces = segments.si(
        thickness[:, None],
        weight.reshape(shape),
        soaked.reshape(len(rows), 1, *designs),
        k.reshape(shape),
        0.0,
        water.reshape(len(states), *designs),
    )
    pieces = tuple(np.broadcast_arrays(*pieces))
    total, moment, acts_at = push.si(*pieces)
    # the top rail stands at the rim, over the fill
    top_load, base_load = rail_loads.si(total, moment, bed.si.soil_depth)
    return {
        name: _push(
            name,
            tuple(p[:, i] for p in pieces),
            dict(
                total=total[i],
                moment=moment[i],
                acts_at=acts_at[i],
                top_load=top_load[i],
                base_load=base_load[i],
            ),
        )
        for i, name in enumerate(states)
    }


def _push(name: str, pieces: tuple, sums: dict) -> Push:
    """One state; pieces without height are left out of the drawn pressure."""
    top, bottom, p_top, p_bottom = pieces
    high = bottom > top
    keep = [i for i in range(len(high)) if np.any(high[i])]
    ends = (-1, *top.shape[1:])
    return Push(
        name=name,
        depth=np.stack([top, bottom], axis=1)[keep].reshape(ends),
        pressure=np.stack([p_top, p_bottom], axis=1)[keep].reshape(ends),
        base_pressure=p_bottom[keep[-1]] if keep else 0.0 * sums["total"],
        **sums,
    )
