"""The house beside the plot, as a box, as a line, as a corner of two: who minds it."""

from __future__ import annotations

import numpy as np
import pytest
from openpyxl import load_workbook

import bedcalc as bc
from bedcalc import Q_, Garden, Plot, Thing
from bedcalc.app import site
from bedcalc.app.session import new_bed, open_session
from bedcalc.model.plot import rectangle
from bedcalc.questions.site_plan import overflow_of, plan_site, rain_on, routes, sun_on
from bedcalc.spreadsheets.own_numbers import read_numbers, write_numbers
from tests.site.own_plots import bed, falling

GATE = Thing(name="gate", kind="gate", x=4, y=8, length=1.2)


def _house(**sizes) -> Thing:
    return Thing(name="house", kind="house", **sizes)


#: the wall that looks to the plot stands at x = -1 in each
HOUSES = {
    "box": (_house(x=-5, y=0, length=4, width=8, height=5),),
    "line": (_house(x=-1, y=0, width=8, height=5),),
    "corner": (
        _house(x=-1, y=0, width=4, height=5), _house(x=-5, y=0, length=4, height=5),
        _house(x=-1, y=4, width=4, height=5),
    ),
}  # fmt: skip


def _place(house, **known) -> bc.Place:
    plot = rectangle(9, 8, downhill=180, things=(*house, GATE))
    return Garden.empty("Elm", plot=plot, **known).place


@pytest.mark.parametrize("house", HOUSES.values(), ids=list(HOUSES))
def test_swale_and_overflow_keep_away_from_it(house):
    """The swale lies along the upper edge, from x = 0: a metre from the wall."""
    place = _place(house, survey=falling("bottom"))
    beds = (bed("Beans", 1, 4),)
    storm = rain_on(place, Q_(30, "mm"), Q_(100, "m^2"), swale_length=Q_(9, "m"))
    flow = overflow_of(plan_site(beds, place), storm)
    check = next(c for c in flow.checks if c.name == "water_house")

    assert flow.house == pytest.approx(flow.swale[0] + 1)
    assert not check.ok and check.capacity.m_as("m") == pytest.approx(flow.house)
    far = overflow_of(plan_site(beds, _place((), survey=falling("bottom"))), storm)
    assert np.isnan(far.house)
    assert not [c for c in far.checks if c.name == "water_house"]


@pytest.mark.parametrize("house", HOUSES.values(), ids=list(HOUSES))
def test_it_throws_its_shade_on_a_bed_beside_it(house):
    """+y is south, so the house in the west takes the afternoon sun."""
    near, far = bed("Near", 0.2, 3), bed("Far", 6.4, 3)
    lit = sun_on(_place(house, latitude=Q_(48, "deg")), (near, far), "21 June")
    open_ = sun_on(_place((), latitude=Q_(48, "deg")), (near, far), "21 June")

    assert lit.beds["Near"] < open_.beds["Near"] - 2
    assert lit.beds["Near"] < lit.beds["Far"]


def test_a_line_throws_the_shade_of_a_thin_wall():
    """A wall of one millimetre is the same wall."""
    thin = (_house(x=-1, y=0, length=0.001, width=8, height=5),)
    beds = (bed("Near", 0.2, 3),)
    hours = [
        sun_on(_place(house, latitude=Q_(48, "deg")), beds, "21 April").beds["Near"]
        for house in (thin, HOUSES["line"])
    ]
    assert hours[0] == pytest.approx(hours[1], abs=0.01)


@pytest.mark.parametrize(
    "house",
    [_house(x=2, y=3, length=3, width=3), _house(x=2, y=3.5, length=3),
     _house(x=2, y=0, width=8)],
    ids=["box", "line across", "line down"],
)  # fmt: skip
def test_no_bed_stands_in_a_house(house):
    plan = plan_site((bed("Beans", 1.5, 3),), _place((house,)))
    check = next(c for c in plan.checks if c.name == "standing")

    assert not check.ok and "on the house" in check.sentence()


def test_nobody_walks_through_a_wall_that_is_drawn_as_a_line():
    beds = (bed("Beans", 1.5, 1),)
    shut = _place((_house(x=0, y=5, length=9, height=3),))
    free, blocked = (routes(beds, place, "barrow") for place in (_place(()), shut))

    assert all(np.isfinite(r.far) for r in free.routes)
    assert not any(np.isfinite(r.far) for r in blocked.routes)


# ---- entering it


def test_the_spreadsheet_takes_a_house_as_a_line(tmp_path):
    garden = Garden.empty("Elm", plot=Plot(outline=((0, 0), (9, 0), (9, 8), (0, 8))))
    path = write_numbers(garden, tmp_path / "n.xlsx")
    book = load_workbook(path)
    page = book["Things on the plot"]
    row = ("our house", "house", "-1 m", 0, None, 8, "16 ft")
    for column, value in enumerate(row, 1):
        page.cell(4, column).value = value
    book.save(path)
    (thing,) = read_numbers(path, garden).place.plot.things

    assert (thing.kind, thing.length, thing.width) == ("house", 0, 8)
    assert thing.height == pytest.approx(16 * 0.3048)


def test_the_form_takes_a_house_and_says_what_it_is_for(tmp_path):
    session = open_session(tmp_path / "my_garden.toml")
    session.start("Elm")
    session.add(new_bed("Beans").change(x=Q_(2, "m"), y=Q_(2, "m")))
    place = session.place.change(plot=rectangle(9, 8))
    session.take_place(place)
    form = site.thing_view(site.ground_desk(site.site_desk(session.path)))
    form.acts["Add a thing"]()
    controls = form.controls
    assert ("house", "house") in controls["kind"].options
    controls["kind"].value = "house"
    for name, size in (("x", -100), ("y", 0), ("length", 0), ("width", 800)):
        controls[name].value = Q_(size, "cm")
    (thing,) = session.place.plot.things

    assert (thing.name, thing.kind, thing.box) == ("house", "house", (-1, -1, 0, 8))
    said = form.says.html.replace("\xa0", " ")
    assert "as a line" in said and "keep 3.00 m from it" in said
    assert "bed <strong>Beans</strong>, 3.00 m away" in said
