"""Corrugated and ribbed steel sheet: sections, strength, strips, round beds.

Per metre width throughout. Thickness is that of the steel alone, never of the coated
sheet. Upright ribs span from base rail to top rail; lying ribs span from post to post,
or run round a round bed.
"""

from __future__ import annotations

import numpy as np

from bedcalc.tables import Row
from bedcalc.units import Value, quantities

__all__ = [
    "allowable_sheet", "hoop_force", "lying_moment", "sheet_section", "sinus_section",
    "strip_moment", "trapezoid_section",
]  # fmt: skip  # a list of names


@quantities(
    ("m^2/m", "m^4/m", "m^3/m"),
    pitch="m (0, inf)",
    depth="m [0, inf)",
    thickness="m (0, inf)",
)
def sinus_section(pitch: Value, depth: Value, thickness: Value) -> tuple[Value, ...]:
    """Section of round corrugations, per metre width.

    Parameters
    ----------
    pitch : quantity [m]
        p, crest to crest.
    depth : quantity [m]
        D, over all.
    thickness : quantity [m]
        t, of the steel.

    Returns
    -------
    tuple of quantity [m^2/m, m^4/m, m^3/m]
        A, I, S.

    Notes
    -----
    y = a sin(2 pi x / p), a = (D - t)/2, m = 2 pi a / p:
    w = sqrt(1 + m2 cos2), A = t mean(w), I = t mean(y2 w) + t3/12 mean(1/w),
    S = I / (D/2). The means over 64 points of one wave are exact to rounding. Real
    waves are arcs and tangents, 4 to 13 % less stiff. American tables measure the depth
    between mid-lines: give depth + t for those. Source: computed, line integral.
    """
    pitch, depth, thickness = map(np.asarray, (pitch, depth, thickness))
    a = (depth - thickness) / 2
    turn = np.linspace(0, 2 * np.pi, 64, endpoint=False)
    stretch = np.sqrt(1 + (2 * np.pi * a / pitch)[..., None] ** 2 * np.cos(turn) ** 2)
    area = thickness * np.mean(stretch, axis=-1)
    inertia = thickness * a**2 * np.mean(np.sin(turn) ** 2 * stretch, axis=-1)
    inertia = inertia + thickness**3 / 12 * np.mean(1 / stretch, axis=-1)
    return area, inertia, inertia / (depth / 2)


@quantities(
    ("m^2/m", "m^4/m", "m^3/m"),
    pitch="m (0, inf)",
    depth="m [0, inf)",
    thickness="m (0, inf)",
    top_flat="m [0, inf)",
    bottom_flat="m [0, inf)",
)
def trapezoid_section(
    pitch: Value, depth: Value, thickness: Value, top_flat: Value, bottom_flat: Value
) -> tuple[Value, ...]:
    """Section of trapezoidal ribs, per metre width.

    Parameters
    ----------
    pitch : quantity [m]
        P, rib to rib.
    depth : quantity [m]
        h, between mid-lines of the flats.
    thickness : quantity [m]
        t, of the steel.
    top_flat, bottom_flat : quantity [m]
        Widths of the flats, on the rib and between the ribs.

    Returns
    -------
    tuple of quantity [m^2/m, m^4/m, m^3/m]
        A, I, S of the whole section.

    Notes
    -----
    Thin plates: A = t (bt + bb + 2 lw); y = t (bt h + lw h)/A;
    I = t [bt (h-y)2 + bb y2 + 2 lw (h2/12 + (h/2-y)2)]; all over P;
    S = I / max(y, h-y). Flats wider than 60 t buckle when pressed: take 0.6 of S, a
    judgement. Source: statics.
    """
    web = np.hypot((pitch - top_flat - bottom_flat) / 2, depth)
    area = thickness * (top_flat + bottom_flat + 2 * web)
    y = thickness * depth * (top_flat + web) / area
    webs = 2 * web * (depth**2 / 12 + (depth / 2 - y) ** 2)
    inertia = thickness * (top_flat * (depth - y) ** 2 + bottom_flat * y**2 + webs)
    modulus = inertia / np.maximum(y, depth - y)
    return area / pitch, inertia / pitch, modulus / pitch


def sheet_section(row: Row):
    """A, I, S per metre width of a row of data/sheets.csv, in SI.

    Parameters
    ----------
    row : Row
        ``profile`` is ``"sinus"`` or ``"trapezoid"``. S is lowered by the row's
        ``gross_share`` where wide flats would buckle.
    """
    sizes = (row.pitch, row.depth, row.thickness)
    if row.profile == "sinus":
        area, inertia, modulus = sinus_section.si(*sizes)
    else:
        area, inertia, modulus = trapezoid_section.si(
            *sizes, row.top_flat, row.bottom_flat
        )
    return area, inertia, modulus * row.gross_share


@quantities("Pa", design_yield="Pa [0, inf)")
def allowable_sheet(design_yield: Value) -> Value:
    """Allowable bending stress of sheet steel.

    Parameters
    ----------
    design_yield : quantity [Pa]
        Fy; full-hard sheet (550 MPa) counts as 414 MPa, three quarters of it.

    Returns
    -------
    quantity [Pa]

    Notes
    -----
    Fy / 1.67. Source: aisi_s100, A3.1.3 and bending, from memory.
    """
    return design_yield / 1.67


@quantities(
    "N*m/m",
    top="m",
    bottom="m",
    pressure_top="Pa",
    pressure_bottom="Pa",
    rail_height="m [0, inf)",
)
def strip_moment(
    top: Value,
    bottom: Value,
    pressure_top: Value,
    pressure_bottom: Value,
    rail_height: Value,
) -> Value:
    """Largest moment in an upright strip between base rail and top rail.

    Parameters
    ----------
    top, bottom, pressure_top, pressure_bottom : quantity [m, m, Pa, Pa]
        Pieces of the pressure, as ``pressure.segments`` gives them.
    rail_height : quantity [m]
        Height of the top rail over the base; the fill may end below it.

    Returns
    -------
    quantity [N*m/m]

    Notes
    -----
    Exact: in each straight piece the shear V - p t - slope t2/2 is zero at
    t = 2V / (p + sqrt(p2 + 2 slope V)). Even fill to the rail: 0.1283 P H.
    Source: statics.
    """
    height = bottom - top
    slope = (pressure_bottom - pressure_top) / np.where(height > 0, height, 1.0)
    force = height * (pressure_top + pressure_bottom) / 2
    own = height**2 * (2 * pressure_top + pressure_bottom) / 6
    base = np.max(bottom, axis=0)
    turn = np.sum(force * (base - bottom) + own, axis=0)
    rail = turn / rail_height
    # from the surface down: what the rail holds less what has pushed so far
    above = np.cumsum(force, axis=0) - force
    shear = rail - above
    root = np.sqrt(np.maximum(pressure_top**2 + 2 * slope * shear, 0.0))
    there = np.where(root + pressure_top > 0, root + pressure_top, 1.0)
    t = np.clip(np.where(shear > 0, 2 * shear / there, 0.0), 0.0, height)
    step = shear * height - height**2 * (2 * pressure_top + pressure_bottom) / 6
    start = rail * (rail_height - base) + np.cumsum(step, axis=0) - step
    inside = start + shear * t - pressure_top * t**2 / 2 - slope * t**3 / 6
    return np.max(inside, axis=0)


@quantities("N*m/m", pressure="Pa", spacing="m (0, inf)", continuous=None)
def lying_moment(pressure: Value, spacing: Value, continuous: bool = False) -> Value:
    """Moment of the lowest strip where the ribs lie from post to post.

    Parameters
    ----------
    pressure : quantity [Pa]
        At the base.
    spacing : quantity [m]
        Between posts that are themselves held at top and foot.
    continuous : bool
        Whether the sheet runs on over three bays or more.

    Returns
    -------
    quantity [N*m/m]

    Notes
    -----
    p s2 / 8, or / 10 where it runs on. Source: statics.
    """
    return pressure * spacing**2 / np.where(continuous, 10.0, 8.0)


@quantities("N/m", pressure="Pa", radius="m (0, inf)")
def hoop_force(pressure: Value, radius: Value) -> Value:
    """Ring tension of a round bed, per metre of height.

    Parameters
    ----------
    pressure : quantity [Pa]
        At the height asked for. With the whole push P (N/m) instead, the result is
        the tension of the whole wall in N.
    radius : quantity [m]
        R.

    Returns
    -------
    quantity [N/m]

    Notes
    -----
    N = p R. Only where the ribs run round: upright ribs unfold like a bellows, and
    then hoops at top and foot carry w_top R and w_base R. Straight parts of an oval
    are beams and need ties. Source: statics.
    """
    return pressure * radius
