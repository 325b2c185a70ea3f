"""Sun: positions against a published worked example, shade against the sphere."""

from __future__ import annotations

import ephem
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedcalc import Q_, Place
from bedcalc.figures.site_curves import sun_figure
from bedcalc.model.plot import Thing, rectangle
from bedcalc.questions.site_plan import sun_on
from bedcalc.site.sun import noon_shade, sun_hours, sun_path
from tests.validation.kinds import outside
from tests.validation.printed import printed

CHAPTER = "site"
OTHERS = "own derivation"


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


# ---- anywhere on the earth, against positions asked of the library directly

HERE = [-66.0, -34.0, -10.0, 0.0, 10.0, 48.0, 66.0]


def ephem_sun(latitude, month, day, hour):
    """Height and bearing in degrees at an hour of sun time, from ephem itself."""
    observer = ephem.Observer()
    observer.lat, observer.lon, observer.pressure = str(latitude), "0", 0
    observer.date = f"2025/{month}/{day} 06:00:00"
    noon = observer.next_transit(ephem.Sun())
    observer.date = noon + (hour - 12) / 24
    sun = ephem.Sun(observer)
    return np.rad2deg(float(sun.alt)), np.rad2deg(float(sun.az))


@outside("library", "sun_path", "ephem", facts=5)
@pytest.mark.parametrize("latitude", HERE)
@pytest.mark.parametrize(("month", "day"), [(3, 20), (6, 21), (12, 21)])
def test_the_noon_sun_stands_where_the_sphere_has_it(latitude, month, day):
    """90 - |latitude - declination| high, on the side of the declination."""
    tilt = {3: 0.0, 6: 23.44, 12: -23.44}[month]
    hours, heights, bearings = sun_path(latitude, month, day)

    assert heights.max() == pytest.approx(90 - abs(latitude - tilt), abs=0.35)
    if abs(latitude - tilt) > 1:  # else it is overhead and has no bearing
        noon = bearings[int(np.argmin(np.abs(hours - 12)))]
        side = 1.0 if tilt > latitude else -1.0  # north, south
        assert np.cos(np.deg2rad(noon)) == pytest.approx(side, abs=0.01)
    for hour in (9.0, 15.0):
        if hour in hours:
            at = int(np.flatnonzero(hours == hour)[0])
            found = ephem_sun(latitude, month, day, hour)
            assert (heights[at], bearings[at]) == pytest.approx(found, abs=1e-3)


DATES = st.sampled_from([(3, 21), (6, 21), (12, 21)])
NEAR = st.floats(-6, 6)


@given(st.floats(-66, 66), st.floats(0, 360), DATES, NEAR, NEAR)
def test_shade_of_a_wall_by_walking_along_the_ray(latitude, downhill, date, x, y):
    """Another way to the same hours: steps along the ray, on the compass.

    +y of the plan points to the bearing, +x a quarter turn against the clock from it.
    """
    wall = Thing(name="wall", kind="fence", x=x, y=y, length=3.0, width=0.5, height=2.0)
    plot = rectangle(10, 10, downhill=downhill, things=(wall,))
    point = np.array([0.0, 0.0])
    if x - 0.05 < 0 < x + 3.05 and y - 0.05 < 0 < y + 0.55:
        return
    got = sun_hours(plot, latitude, date, np.array([[0.0, 0.0, 0.0]]), (0, 0, 0))[0]
    south, east = np.deg2rad(downhill), np.deg2rad(downhill - 90)
    lit = 0
    far = np.arange(0.0, 13.0, 0.02)
    for hour in np.arange(0, 24, 1 / 6):
        height, bearing = ephem_sun(latitude, *date, hour)
        if height <= 3:
            continue
        bearing = np.deg2rad(bearing)
        way = np.array([np.cos(bearing - east), np.cos(bearing - south)])
        ray = point + far[:, None] * way
        over = far * np.tan(np.deg2rad(height))
        inside = (ray[:, 0] > x) & (ray[:, 0] < x + 3) & (ray[:, 1] > y)
        inside &= (ray[:, 1] < y + 0.5) & (over < 2.0)
        lit += not inside.any()
    assert got == pytest.approx(lit / 6, abs=0.34)  # two steps of ten minutes


@pytest.mark.parametrize("latitude", HERE)
@pytest.mark.parametrize("day", ["21 March", "21 June", "21 December"])
def test_the_drawing_shows_the_whole_way_and_its_noon_in_the_middle(latitude, day):
    wall = Thing(name="wall", kind="fence", x=0, y=-3, length=10, width=0.2, height=2)
    post = Thing(
        name="post", kind="other", x=4.85, y=12, length=0.3, width=0.3, height=3
    )
    plot = rectangle(10, 8, downhill=200, things=(wall, post))
    here = Place(name="x", latitude=Q_(latitude, "deg"), plot=plot)
    sun = sun_on(here, (), day)
    drawing = sun_figure(sun)
    low, high = drawing.live_layout["xaxis"]["range"]
    top = drawing.live_layout["yaxis"]["range"][1]
    way = drawing.traces[2]

    assert high - low == 360 and top >= np.nanmax(way["y"])
    assert np.nanmin(way["x"]) >= low and np.nanmax(way["x"]) <= high
    assert np.isfinite(way["x"]).sum() == len(sun.ways[day][0])  # nothing left out
    assert (np.abs(np.diff(way["x"])[np.isfinite(np.diff(way["x"]))]) < 180).all()
    at = int(np.nanargmax(way["y"]))
    if sun.highest < 85:
        assert way["x"][at] == pytest.approx((low + high) / 2, abs=12)
    for note in drawing.annotations:
        if note.get("xref") != "paper" and "x" in note:
            assert low <= note["x"] <= high or note["x"] == 0
    assert len(sun.skyline) == 2
    # bearings by hand: up the page is 20 degrees, the post stands down the page, 200
    for (bearings, heights), middle in zip(sun.skyline, (20, 200), strict=True):
        spread = (np.array(bearings) - middle + 180) % 360 - 180
        assert spread.min() < 0 < spread.max() and max(heights) > 5


def test_a_thing_in_the_north_is_drawn_at_both_ends_of_the_picture():
    """Its outline is not cut where bearings jump from 360 to 0."""
    wall = Thing(name="wall", kind="fence", x=0, y=-3, length=10, width=0.2, height=2)
    here = Place(
        name="x", latitude=Q_(48, "deg"),
        plot=rectangle(10, 8, downhill=180, things=(wall,)),
    )  # fmt: skip
    sky = sun_figure(sun_on(here, (), "21 June")).traces[0]

    assert np.nanmin(sky["x"]) < 0 and np.nanmax(sky["x"]) > 360
    # its near face lies 4 + 2.8 m from the middle and is 10 m long
    ((bearings, _),) = sun_on(here, (), "21 June").skyline
    assert np.ptp(bearings) == pytest.approx(2 * np.rad2deg(np.arctan(5 / 6.8)), abs=1)
