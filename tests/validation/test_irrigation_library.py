"""Evapotranspiration by another library, day by day over a year of any place."""

from __future__ import annotations

import numpy as np
import pytest
import refet

from bedcalc.water import evapotranspiration, sky
from bedcalc.water.root_zone import root_share
from tests.validation.kinds import outside

CHAPTER = "water"
OTHERS = "own derivation"

PLACES = [(52.0, 40.0), (-34.0, 10.0), (5.0, 1200.0), (63.0, 0.0)]
DAYS = np.array([15, 75, 135, 196, 258, 319])


def weather(latitude):
    """Six days of a year that fit a latitude, invented."""
    warm = 12 + 10 * np.cos(2 * np.pi * (DAYS - 200) / 365) * np.sign(latitude)
    vapour = 0.6 * sky.saturation_pressure.si(warm + 273.15) / 1e3
    return warm - 5.0, warm + 6.0, vapour, 1.5 + 0.005 * DAYS


@pytest.mark.parametrize(("latitude", "elevation"), PLACES)
@outside("library", "penman_monteith", "refet", facts=6)
def test_penman_monteith(latitude, elevation):
    """The ASCE form of grass is that of FAO-56 but for its rounding: 1 %."""
    low, high, vapour, wind = weather(latitude)
    phi = np.radians(latitude)
    ra = sky.extraterrestrial_radiation.si(phi, DAYS)
    rs = 0.55 * ra
    other = refet.Daily(
        tmin=low, tmax=high, ea=vapour, rs=rs * 0.0864, uz=wind, zw=2.0,
        elev=elevation, lat=latitude, doy=DAYS, method="asce",
        input_units={"lat": "deg", "rs": "mj m-2 d-1"},
    ).eto()  # fmt: skip
    clear = sky.clear_sky_radiation.si(ra, elevation)
    lost = sky.net_longwave.si(low + 273.15, high + 273.15, 1e3 * vapour, rs / clear)
    ours = evapotranspiration.penman_monteith.si(
        (low + high) / 2 + 273.15, low + 273.15, high + 273.15, 1e3 * vapour,
        sky.net_shortwave.si(rs) - lost, 0.0, wind, elevation,
    )  # fmt: skip

    assert ours * 86400e3 == pytest.approx(np.ravel(other), rel=0.01)


@pytest.mark.parametrize("latitude", [52.0, -34.0, 5.0])
@outside("library", "extraterrestrial_radiation", "refet", facts=6)
def test_sun_above_the_air(latitude):
    from refet import calcs

    ours = sky.extraterrestrial_radiation.si(np.radians(latitude), DAYS)
    other = calcs.ra_daily(np.radians(latitude), DAYS, method="asce")

    assert ours * 0.0864 == pytest.approx(np.ravel(other), rel=0.005)


@outside("from memory", "root_share", "jackson_1996", facts=2)
def test_roots_of_crops():
    """Seventy percent of the roots of crops in the upper 30 cm; all within 2 m."""
    assert root_share.si(0.0, 0.3) == pytest.approx(0.70, abs=0.005)
    assert root_share.si(0.0, 2.0) == pytest.approx(1.0, abs=0.001)


@pytest.mark.parametrize(
    ("crop", "kc", "roots", "share"),
    [
        ("lettuce", 1.00, 0.3, 0.30), ("carrot", 1.05, 0.5, 0.35),
        ("tomato", 1.20, 0.7, 0.40), ("potato", 1.15, 0.4, 0.35),
        ("strawberry", 0.85, 0.2, 0.20),
    ],
)  # fmt: skip
@outside("printed", "table crops", "fao56")
def test_crops_of_tables_12_and_22(crop, kc, roots, share):
    """Pp. 110 to 112 and 163 to 165; tomatoes on stakes by footnote 2."""
    from bedcalc.tables import table

    row = table("crops")[crop]
    assert (row.kc, row.roots, row.easy) == (kc, roots, share)
