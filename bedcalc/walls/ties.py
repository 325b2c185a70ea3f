"""Cross ties: rod, plate, spring, where to put them, how tight.

A tie joins the two long walls. Under equal fill both pull alike, so each wall feels
half the rod as a spring to a fixed middle. Wood under the washer gives way long before
the rod does.
"""

from __future__ import annotations

import numpy as np

from bedcalc.tables import table
from bedcalc.units import quantities

from .material import material
from .timber import factor

__all__ = [
    "bearing_area", "bearing_factor_us", "lowered_tie", "plate_bearing",
    "rod_tension_en", "rod_tension_us", "series_spring", "snug_torque", "spacing_bow",
    "spacing_strength", "strap_tension", "stress_area", "tie_capacity", "tie_spring",
    "ties_needed", "turn_force",
]  # fmt: skip

STEEL = 200e9  # Pa, modulus of elasticity


@quantities("m^2", diameter="m (0, inf)", pitch="m (0, inf)", unified=None)
def stress_area(diameter, pitch, unified=False):
    """Area of a threaded rod that carries tension.

    Parameters
    ----------
    diameter, pitch : quantity [m]
        Nominal, and from thread to thread (1 / threads per length).
    unified : bool
        Inch threads.

    Returns
    -------
    quantity [m^2]

    Notes
    -----
    pi/4 (d - 0.9382 p)2 metric, pi/4 (D - 0.9743/n)2 unified. Source: asme_pcc1.
    """
    lost = np.where(unified, 0.9743, 0.9382)
    return np.pi / 4 * (diameter - lost * pitch) ** 2


@quantities("N", yield_stress="Pa [0, inf)", area="m^2 [0, inf)")
def rod_tension_us(yield_stress, area):
    """Allowable tension of a rod, American route.

    Parameters
    ----------
    yield_stress : quantity [Pa]
        Fy.
    area : quantity [m^2]
        As of :func:`stress_area`.

    Returns
    -------
    quantity [N]

    Notes
    -----
    0.6 Fy As. Source: aisc_manual, from memory.
    """
    return 0.6 * yield_stress * area


@quantities("N", ultimate="Pa [0, inf)", area="m^2 [0, inf)")
def rod_tension_en(ultimate, area):
    """Design tension of a rod, European route, against loads times their factor.

    Parameters
    ----------
    ultimate : quantity [Pa]
        f_ub: 400 MPa for grade 4.6.
    area : quantity [m^2]
        As of :func:`stress_area`.

    Returns
    -------
    quantity [N]

    Notes
    -----
    0.9 f_ub As / 1.25. Source: en1993_1_8, Table 3.4, from memory.
    """
    return 0.9 * ultimate * area / 1.25


@quantities("m^2", outer="m (0, inf)", hole="m [0, inf)", square=None)
def bearing_area(outer, hole, square=True):
    """Area of wood under a plate or washer.

    Parameters
    ----------
    outer, hole : quantity [m]
        Side of a square plate or diameter of a round washer; diameter of the hole.
    square : bool
        Plate or washer.

    Returns
    -------
    quantity [m^2]

    Notes
    -----
    Outer area less the hole. Source: statics.
    """
    return np.where(square, 1.0, np.pi / 4) * outer**2 - np.pi / 4 * hole**2


@quantities("", length="m (0, inf)", from_end="m [0, inf)")
def bearing_factor_us(length, from_end=1.0):
    """Wood under a short bearing is helped by the wood beside it, American route.

    Parameters
    ----------
    length : quantity [m]
        Along the grain.
    from_end : quantity [m]
        To the nearer end of the rail.

    Returns
    -------
    quantity []

    Notes
    -----
    Cb = (l + 0.375 in)/l under 6 in and 3 in or more from the end, else 1.
    Source: nds_2018, 3.10.4, from memory.
    """
    helped = (length < 6 * 0.0254) & (from_end >= 3 * 0.0254)
    return np.where(helped, 1 + 0.375 * 0.0254 / length, 1.0)


@quantities("N", bearing="Pa [0, inf)", area="m^2 [0, inf)", helped="[1, 3]")
def plate_bearing(bearing, area, helped=1.0):
    """What the wood under a plate holds.

    Parameters
    ----------
    bearing : quantity [Pa]
        f_c,90,d (European) or Fc_perp' (American).
    area : quantity [m^2]
        Of :func:`bearing_area`.
    helped : quantity []
        3.0 under washers on the European route, Cb on the American.

    Returns
    -------
    quantity [N]

    Notes
    -----
    f A k. The plate must be thick enough to stay flat: 3 mm for 50 mm, 6 mm for 75 mm,
    a judgement. Source: en1995, 10.4.3, from memory; nds_2018, 3.10.
    """
    return bearing * area * helped


def tie_capacity(wood: str, rod: str, plate: str) -> tuple[float, str]:
    """What one tie holds on the rail's own route, in N, and which part says so.

    Parameters
    ----------
    wood, rod, plate : str
        Keys of data/woods.csv (of the rail), data/rods.csv, data/plates.csv.

    Returns
    -------
    tuple
        Capacity in N and ``"rod"`` or ``"plate"``. On the European route it is a design
        value, for loads times their factor; elsewhere allowable, for plain loads.
    """
    bar, pad = table("rods")[rod], table("plates")[plate]
    rail = material(wood, 0.07, 0.045)
    area = stress_area.si(bar.diameter, bar.pitch, bar.thread == "unified")
    pressed = bearing_area.si(pad.outer, pad.hole, pad.shape == "square")
    if rail.route == "en":
        steel, helped = rod_tension_en.si(bar.ultimate, area), factor("en_plate")
    else:
        steel = rod_tension_us.si(bar.yield_stress, area)
        helped = bearing_factor_us.si(pad.outer) if rail.route == "us" else 1.0
    under = plate_bearing.si(rail.bearing, pressed, helped)
    return float(min(steel, under)), "rod" if steel < under else "plate"


@quantities(
    "N",
    width="m (0, inf)",
    thickness="m (0, inf)",
    hole="m [0, inf)",
    yield_stress="Pa [0, inf)",
)
def strap_tension(width, thickness, hole, yield_stress):
    """What a perforated strap holds at a hole; its screws usually hold less.

    Parameters
    ----------
    width, thickness, hole : quantity [m]
        Of the strap, and of one hole across it.
    yield_stress : quantity [Pa]
        Of the strip.

    Returns
    -------
    quantity [N]

    Notes
    -----
    (b - d) t Fy, a design value. Source: statics.
    """
    return (width - hole) * thickness * yield_stress


@quantities("N/m", area="m^2 [0, inf)", width="m (0, inf)", modulus="Pa [0, inf)")
def tie_spring(area, width, modulus=STEEL):
    """How stiffly a tie holds one of the two walls.

    Parameters
    ----------
    area : quantity [m^2]
        Of the rod or timber.
    width : quantity [m]
        B, between the walls.
    modulus : quantity [Pa]
        E; steel if left out.

    Returns
    -------
    quantity [N/m]

    Notes
    -----
    k = 2 E A / B, half a rod each side of a middle that stays. A 3/8 in rod is rigid
    beside any rail. Source: statics.
    """
    return 2 * modulus * area / width


@quantities("N/m", first="N/m", second="N/m")
def series_spring(first, second):
    """Two springs one behind the other: a timber tie and the slip of its screws.

    Parameters
    ----------
    first, second : quantity [N/m]
        Screwed end joints of a timber tie give 0.3 to 1 kN/mm, a judgement.

    Returns
    -------
    quantity [N/m]

    Notes
    -----
    1 / (1/k1 + 1/k2). Source: statics.
    """
    return 1 / (1 / np.asarray(first) + 1 / np.asarray(second))


@quantities(
    ("N", "N*m"), rail_force="N", rail_height="m [0, inf)", tie_height="m [0, inf)"
)
def lowered_tie(rail_force, rail_height, tie_height):
    """Force in a tie below the rail it holds, and the bending of its post.

    Parameters
    ----------
    rail_force : quantity [N]
        What a tie at the rail would take: the rail's interior reaction.
    rail_height, tie_height : quantity [m]
        Over the base.

    Returns
    -------
    tuple of quantity [N, N*m]

    Notes
    -----
    T = R H / z about a base that is held; the post over the tie is a cantilever with
    R (H - z). Keep ties in the top 150 mm. Source: statics.
    """
    force = rail_force * rail_height / tie_height
    return force, rail_force * (rail_height - tie_height)


@quantities("N*m", force="N", diameter="m (0, inf)")
def snug_torque(force, diameter):
    """Torque on the nut for a wanted pull.

    Parameters
    ----------
    force, diameter : quantity [N, m]
        Pull in the rod, and its nominal size.

    Returns
    -------
    quantity [N*m]

    Notes
    -----
    0.2 F d, dry thread. 1 kN in M10 is 2 N m: by hand and an eighth of a turn.
    Source: common_practice.
    """
    return 0.2 * force * diameter


@quantities(
    "N", turns="[0, 20]", pitch="m (0, inf)", length="m (0, inf)", area="m^2 [0, inf)"
)
def turn_force(turns, pitch, length, area):
    """Pull that turning a nut adds once everything is tight.

    Parameters
    ----------
    turns : quantity []
        Of one nut.
    pitch, length : quantity [m]
        Of the thread, and of the rod between its nuts.
    area : quantity [m^2]
        Of :func:`stress_area`.

    Returns
    -------
    quantity [N]

    Notes
    -----
    E A n p / l, if nothing gave: half a turn of M10 in 1.05 m is 8 kN, enough to crush
    wood. Never pull a loaded wall straight. Source: statics.
    """
    return STEEL * area * turns * pitch / length


@quantities("m", bending="Pa [0, inf)", modulus="m^3 [0, inf)", load="N/m")
def spacing_strength(bending, modulus, load):
    """Distance between ties up to which the rail does not break.

    Parameters
    ----------
    bending : quantity [Pa]
        Allowable stress, or design strength with a factored load.
    modulus : quantity [m^3]
        S of the rail.
    load : quantity [N/m]
        w.

    Returns
    -------
    quantity [m]

    Notes
    -----
    s = sqrt(f S / (w/8)). Source: statics.
    """
    return np.sqrt(bending * modulus / (0.125 * load))


@quantities(
    "m",
    stiffness="N*m^2 (0, inf)",
    load="N/m",
    creep="[1, 10]",
    coefficient="[0, 100]",
    limit="(0, inf)",
)
def spacing_bow(stiffness, load, creep, coefficient, limit=240.0):
    """Distance between ties up to which the rail stays straight to the eye.

    Parameters
    ----------
    stiffness : quantity [N*m^2]
        EI.
    load : quantity [N/m]
        w, sustained.
    creep : quantity []
        2.0 American, 3.0 European.
    coefficient : quantity []
        5/384 where the rail is jointed at its ties, 0.00542 with one tie, 0.00689 with
        more.
    limit : quantity []
        N of a bow of s / N.

    Returns
    -------
    quantity [m]

    Notes
    -----
    s = [EI / (N c creep w)]^(1/3). Source: statics.
    """
    return (stiffness / (limit * coefficient * creep * load)) ** (1 / 3)


@quantities("", length="m (0, inf)", spacing="m (0, inf)")
def ties_needed(length, spacing):
    """Number of ties at equal distances.

    Parameters
    ----------
    length, spacing : quantity [m]
        L, and the largest distance allowed.

    Returns
    -------
    quantity []
        ceil(L / s) - 1, never under 0. Source: statics.
    """
    return np.maximum(np.ceil(length / spacing - 1e-9) - 1, 0)
