"""What the fill does to the wall: earth pressure, layer by layer, and its resultant.

Two axes, never mixed: ``s`` is depth below the surface of the fill (pressure, water),
``z`` is height above the base (rails, ties, moments). Forces and pressures are per
metre run of wall unless a name says otherwise. Layers run from the top downwards and
lie on the first axis; every further axis is one of designs.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from bedcalc.units import GRAVITY, Value, quantities

__all__ = [
    "Segments", "passive_push", "push", "push_between", "rail_loads", "segments",
    "trellis_push",
]  # fmt: skip  # a list of names

WATER_WEIGHT = 1000.0 * GRAVITY  # N/m3, fresh water


class Segments(NamedTuple):
    """Pressure as straight pieces from the top down, two pieces a layer.

    A layer is cut where the water surface lies; the piece that is not there has no
    height. Pressure jumps between pieces, because K changes and the weight above
    does not. All arrays have the shape (2 x layers, ...), in SI.
    """

    top: np.ndarray
    bottom: np.ndarray
    pressure_top: np.ndarray
    pressure_bottom: np.ndarray


def _align(values, axes: int):
    """One value a layer, spread over the further axes."""
    values = np.asarray(values, dtype=float)
    return values.reshape(values.shape + (1,) * (axes - values.ndim))


@quantities(
    ("m", "m", "Pa", "Pa"),
    thickness="m (0, inf)",
    weight="N/m^3 [0, inf)",
    soaked_weight="N/m^3 [0, inf)",
    coefficient="[0, 100]",
    surcharge="Pa [0, inf)",
    water_depth="m [0, inf)",
)
def segments(
    thickness: Value,
    weight: Value,
    soaked_weight: Value,
    coefficient: Value,
    surcharge: Value = 0.0,
    water_depth: Value = np.inf,
) -> tuple[Value, ...]:
    """Side pressure of layered fill as straight pieces, with jumps between layers.

    Parameters
    ----------
    thickness : quantity [m]
        Of each layer, top layer first, on the first axis; (layers, ...).
    weight : quantity [N/m^3]
        Unit weight of each layer above the water: moist, or soaked but draining.
    soaked_weight : quantity [N/m^3]
        Saturated unit weight of each layer, for what lies under the water.
    coefficient : quantity []
        K of each layer.
    surcharge : quantity [Pa]
        Evenly spread load on the surface; (...).
    water_depth : quantity [m]
        Depth s of the water surface under the fill's; infinite or nan for none.

    Returns
    -------
    tuple of quantity [m, m, Pa, Pa]
        Depth of top and bottom of each piece, pressure at top and bottom
        (:class:`Segments` from the plain body).

    Notes
    -----
    p(s) = K sigma'(s) + u(s); sigma' = q + sum(weight x height), under water
    max(0, soaked - 9.81 kN/m3), so that logs do not float the bed;
    u = 9.81 kN/m3 x depth under the water.
    Source: smith_soil, ch. 7; statics.
    """
    columns = (thickness, weight, soaked_weight, coefficient)
    axes = max(np.ndim(c) for c in columns)
    axes = max(axes, 1 + np.ndim(surcharge), 1 + np.ndim(water_depth))
    thickness, weight, soaked, k = (_align(c, axes) for c in columns)
    water = np.where(np.isnan(water_depth), np.inf, water_depth)
    bottom = np.cumsum(thickness, axis=0)
    top = bottom - thickness
    cut = np.clip(water, top, bottom)
    buoyant = np.maximum(0.0, soaked - WATER_WEIGHT)
    # each layer in two pieces: above the water, under it
    top, bottom = _pieces(top, cut), _pieces(cut, bottom)
    gain = (bottom - top) * _pieces(weight, buoyant)
    sigma_bottom = surcharge + np.cumsum(gain, axis=0)
    k = _pieces(k, k)
    pore_top, pore_bottom = (
        WATER_WEIGHT * np.maximum(0.0, s - np.where(np.isinf(water), s, water))
        for s in (top, bottom)
    )
    return Segments(
        top,
        bottom,
        k * (sigma_bottom - gain) + pore_top,
        k * sigma_bottom + pore_bottom,
    )


def _pieces(above, below):
    """Interleave two arrays layer by layer along the first axis."""
    above, below = np.broadcast_arrays(above, below)
    return np.stack([above, below], axis=1).reshape(-1, *above.shape[1:])


@quantities(
    ("N/m", "N*m/m", "m"),
    top="m",
    bottom="m",
    pressure_top="Pa",
    pressure_bottom="Pa",
)
def push(
    top: Value, bottom: Value, pressure_top: Value, pressure_bottom: Value
) -> tuple[Value, ...]:
    """Total push on the wall, its moment about the base, its height of action.

    Parameters
    ----------
    top, bottom : quantity [m]
        Depth of top and bottom of each straight piece.
    pressure_top, pressure_bottom : quantity [Pa]
        Pressure there, as :func:`segments` gives them.

    Returns
    -------
    tuple of quantity [N/m, N*m/m, m]
        P, moment about the base (deepest point of the fill), and their ratio.

    Notes
    -----
    F = h (p1 + p2)/2 at h (p1 + 2 p2)/(3 (p1 + p2)) under the top of its piece;
    M = sum F (H - s). Uniform fill: K gamma H2 / 2 at H/3. Source: statics.
    """
    height = bottom - top
    over_base = np.max(bottom, axis=0) - bottom
    force = height * (pressure_top + pressure_bottom) / 2
    own = height**2 * (2 * pressure_top + pressure_bottom) / 6
    total = np.sum(force, axis=0)
    moment = np.sum(force * over_base + own, axis=0)
    acts_at = moment / np.where(total > 0, total, 1.0)
    return total, moment, acts_at


@quantities(
    ("N/m", "N*m/m"),
    top="m",
    bottom="m",
    pressure_top="Pa",
    pressure_bottom="Pa",
    z_low="m",
    z_high="m",
)
def push_between(
    top: Value,
    bottom: Value,
    pressure_top: Value,
    pressure_bottom: Value,
    z_low: Value,
    z_high: Value,
) -> tuple[Value, ...]:
    """The slice of the push between two heights: what one board carries.

    Parameters
    ----------
    top, bottom, pressure_top, pressure_bottom : quantity [m, m, Pa, Pa]
        The pieces of :func:`segments`.
    z_low, z_high : quantity [m]
        Heights above the base; each of shape (...), so one board at a time or boards
        on a further axis.

    Returns
    -------
    tuple of quantity [N/m, N*m/m]
        Push of the slice, and its moment about the base (not about ``z_low``).

    Notes
    -----
    The slices of a wall add up to :func:`push`, whatever the boards. Source: statics.
    """
    base = np.max(bottom, axis=0)
    high = np.clip(base - z_high, top, bottom)
    low = np.clip(base - z_low, top, bottom)
    height = bottom - top
    slope = (pressure_bottom - pressure_top) / np.where(height > 0, height, 1.0)
    p_high = pressure_top + slope * (high - top)
    p_low = pressure_top + slope * (low - top)
    force = (low - high) * (p_high + p_low) / 2
    own = (low - high) ** 2 * (2 * p_high + p_low) / 6
    return np.sum(force, axis=0), np.sum(force * (base - low) + own, axis=0)


@quantities(("N/m", "N/m"), total="N/m", moment="N*m/m", rail_height="m [0, inf)")
def rail_loads(total: Value, moment: Value, rail_height: Value) -> tuple[Value, ...]:
    """Line loads on top and base rail where the cladding stands between them.

    Parameters
    ----------
    total : quantity [N/m]
        P of :func:`push`.
    moment : quantity [N*m/m]
        Moment of :func:`push` about the base.
    rail_height : quantity [m]
        Height of the top rail over the base rail.

    Returns
    -------
    tuple of quantity [N/m, N/m]
        Load of the top rail, load of the base rail.

    Notes
    -----
    w_top = M / z_rail, w_base = P - w_top. Uniform fill to the rail: a third and two
    thirds. Source: statics.
    """
    top = moment / rail_height
    return top, total - top


@quantities("N/m", depth="m [0, inf)", weight="N/m^3 [0, inf)", coefficient="[0, 100]")
def passive_push(depth: Value, weight: Value, coefficient: Value) -> Value:
    """Push of a triangle of ground: resistance at a toe, or the hill behind a wall.

    Parameters
    ----------
    depth : quantity [m]
        How deep the wall is let into the ground.
    weight : quantity [N/m^3]
        Unit weight of the ground.
    coefficient : quantity []
        Kp for resistance at the toe, K0 for the hill pushing on the uphill wall.

    Returns
    -------
    quantity [N/m]

    Notes
    -----
    K gamma d2 / 2. Source: rankine_1857.
    """
    return coefficient * weight * depth**2 / 2


@quantities("N", wind_speed="m/s [0, inf)", area="m^2 [0, inf)", solid_share="[0, 1]")
def trellis_push(wind_speed: Value, area: Value, solid_share: Value) -> Value:
    """Wind on a trellis full of leaves that stands on the rim.

    Parameters
    ----------
    wind_speed : quantity [m/s]
        Gust speed.
    area : quantity [m^2]
        Outline of the trellis.
    solid_share : quantity []
        Share of it that leaves and laths cover in late summer.

    Returns
    -------
    quantity [N]

    Notes
    -----
    F = 1.3 x 0.613 v2 x solid share x area (v in m/s, pressure in Pa); the moment at
    the foot is F times half the trellis height. Source: asce7, from memory.
    """
    return 1.3 * 0.613 * wind_speed**2 * solid_share * area
