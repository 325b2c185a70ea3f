"""Sun: positions against a published worked example, shade against the sphere."""

from __future__ import annotations

import numpy as np
import pytest

from bedcalc import Q_
from bedcalc.site.sun import noon_shade, sun_path, sun_position
from tests.validation.printed import printed


def test_worked_example_of_the_solar_position_algorithm():
    """Reda and Andreas (reda_andreas): 2003-10-17 12:30:30 at UTC-7.

    39.742476 N, 105.1786 W, 1830.14 m, 820 mbar, 11 C: zenith 50.11162, azimuth
    194.34024 degrees. The library's own refraction: 0.001 degrees of height apart.
    """
    height, bearing = sun_position(
        39.742476, -105.1786, "2003/10/17 19:30:30",
        altitude=1830.14, pressure=820, temperature=11,
    )  # fmt: skip

    assert 90 - height == pytest.approx(50.11162, abs=0.002)
    assert bearing == pytest.approx(194.34024, abs=0.001)


def test_shade_of_a_trellis_at_noon():
    """1.8 m at 48 N: h/tan(90 - 48 + d) = 2.00 m at equinox, 5.36 m in midwinter."""
    trellis, here = Q_(1.8, "m"), Q_(48, "deg")

    assert noon_shade(trellis, here, Q_(0, "deg")).m == printed("2.00")
    # d = -23.44: 1.8 tan(71.44) = 5.361; the source's angle is rounded to -23.4
    winter = noon_shade(trellis, here, Q_(-23.44, "deg")).m
    assert winter == pytest.approx(5.36, abs=0.02)


@pytest.mark.parametrize(("month", "tilt"), [(6, 23.44), (12, -23.44)])
def test_noon_height_at_the_solstices(month, tilt):
    """90 - latitude + declination, the Earth's tilt being 23.44 degrees."""
    _, heights, _ = sun_path(48.0, month, 21)

    assert heights.max() == pytest.approx(90 - 48 + tilt, abs=0.02)


def test_day_of_equinox_is_twelve_hours_and_even():
    """Geometry of the sphere: sunrise due east, sunset due west, 12 hours between.

    Two dates straddle the moment of the equinox; points are 10 minutes apart.
    """
    hours, _, bearings = sun_path(48.0, 3, 20)

    assert hours[-1] - hours[0] == pytest.approx(12.0, abs=0.35)
    assert (bearings[0], bearings[-1]) == (
        pytest.approx(90, abs=2.5), pytest.approx(270, abs=2.5),
    )  # fmt: skip
    assert np.interp(12.0, hours, bearings) == pytest.approx(180, abs=0.1)
