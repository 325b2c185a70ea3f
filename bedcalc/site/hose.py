"""Hose: what the way from the tap takes of the pressure, the flow left, the time.

Two measurements at the tap are enough: the pressure while it is shut, and how long the
open tap takes to fill a bucket.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..units import GRAVITY, Q_, Value, quantities, to_si

if TYPE_CHECKING:  # names for an editor
    from ..site.bed_levels import SitePlan
    from ..site.routes import Walk

__all__ = ["HoseRun", "hose_flow", "hose_loss", "hose_runs"]

SMOOTH = 140.0  # of a smooth hose, handbook value
_WATER = 1000.0  # kg/m3


@quantities("m", flow="m^3/s [0, inf)", length="m (0, inf)", bore="m (0, inf)")
def hose_loss(flow: Value, length: Value, bore: Value) -> Value:
    """Head lost to friction in a full hose.

    Parameters
    ----------
    flow : quantity [m^3/s]
        Through the hose.
    length : quantity [m]
        Of the hose.
    bore : quantity [m]
        Inner diameter.

    Returns
    -------
    quantity [m]
        10.67 L Q^1.852 / (C^1.852 d^4.8704), with C = 140 for a smooth hose.

    Notes
    -----
    Hazen and Williams, for cold water in turbulent flow; kinks and couplings are left
    out. Source: hydraulics_handbook, formula of Hazen and Williams, from memory.
    """
    return 10.67 * length * (flow / SMOOTH) ** 1.852 / bore**4.8704


@quantities(
    "m^3/s",
    standing="Pa [0, inf)",
    free="m^3/s [0, inf)",
    length="m (0, inf)",
    climb="m",
    bore="m (0, inf)",
)
def hose_flow(
    standing: Value, free: Value, length: Value, climb: Value, bore: Value
) -> Value:
    """What comes out of the end of a hose.

    Parameters
    ----------
    standing : quantity [Pa]
        Pressure at the shut tap.
    free : quantity [m^3/s]
        Flow of the open tap without a hose.
    length : quantity [m]
        Of the hose.
    climb : quantity [m]
        How far its end lies above the tap, below it negative.
    bore : quantity [m]
        Inner diameter of the hose.

    Returns
    -------
    quantity [m^3/s]
        The flow at which tap, friction and climb use up the pressure; 0 if the climb
        alone does. The tap takes p (Q/Q0)^2.

    Notes
    -----
    Valid for a hose open at its end, without nozzle. Source: computed, energy of a
    pipe; loss of the tap grows with the square of the flow.
    """
    low, high = 0.0 * (standing + length + climb), free + 0.0 * (length + climb)
    for _ in range(50):
        middle = (low + high) / 2
        used = standing * (middle / free) ** 2 + _WATER * GRAVITY * (
            climb + hose_loss.si(middle, length, bore)
        )
        low, high = (
            np.where(used < standing, middle, low),
            np.where(used < standing, high, middle),
        )
    return np.where(_WATER * GRAVITY * climb >= standing, 0.0, (low + high) / 2)


@dataclass(frozen=True, kw_only=True)
class HoseRun:
    """Watering one bed with the hose: in m, m3/s, m3 and seconds."""

    name: str
    length: float
    climb: float
    flow: float
    lost: float
    water: float
    time: float


def hose_runs(
    plan: SitePlan, walk: Walk, standing: Q_, free: Q_, bore: Q_, depth: Q_
) -> tuple[HoseRun, ...]:
    """Every bed watered once from the tap.

    Parameters
    ----------
    plan : SitePlan
        With the tap of the plot; without one there is no run.
    walk : Walk
        Its routes hold the length of hose to the far corner of each bed.
    standing : quantity [Pa]
        Pressure at the shut tap.
    free : quantity [m^3/s]
        Flow of the open tap without a hose.
    bore : quantity [m]
        Inner diameter of the hose.
    depth : quantity [m]
        Of water over the outside area of the bed.

    Returns
    -------
    tuple of HoseRun
        Beds the hose does not reach are left out. ``lost`` is the head that friction
        takes.
    """
    tap = plan.plot.of_kind("tap")
    if tap is None:
        return ()
    p, q0 = to_si(standing, "Pa", "standing"), to_si(free, "m^3/s", "free")
    d, h = to_si(bore, "m", "bore"), to_si(depth, "m", "depth")
    a, b, c = plan.plane
    ground = a + b * tap.middle[0] + c * tap.middle[1]
    found = []
    for route in walk.routes:
        if not np.isfinite(route.hose):
            continue
        bed = plan[route.name].si
        # the tap stands about as high over its ground as a rim: 0.5 m
        climb = float(bed.underside + bed.height - ground - 0.5)
        flow = float(hose_flow.si(p, q0, route.hose, climb, d))
        water = float(bed.length * bed.width * h)
        found.append(
            HoseRun(
                name=route.name,
                length=route.hose,
                climb=climb,
                flow=flow,
                lost=float(hose_loss.si(flow, route.hose, d)),
                water=water,
                time=water / flow if flow > 0 else np.inf,
            )
        )
    return tuple(found)
