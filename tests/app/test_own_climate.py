"""The form for the climate of one's own garden, and what follows from it."""

from __future__ import annotations

import pytest

import bedcalc as bc
from bedcalc import Q_, Climate
from bedcalc.app import site
from bedcalc.app.session import new_bed, open_session
from bedcalc.garden.garden import demo_garden
from bedcalc.model.climate import MONTHS, NORMALS

LOWS = "-3 -2,5 1 4.1 8 11 13 13 10 6 2 -1"


@pytest.fixture
def session(tmp_path):
    session = open_session(tmp_path / "my_garden.toml")
    session.start("Elm Lane")
    return session


@pytest.fixture
def desk(session):
    return site.site_desk(session.path)


def said(box):
    return box.says.replace("\xa0", " ")


def form_of(desk):
    return site.own_climate(site.ground_desk(desk))


def test_a_row_of_twelve_numbers_is_typed_at_once_and_saved(desk):
    form = form_of(desk)
    assert "not known" in form.says.html
    assert {box.value for box in form.months} == {""}
    form.months[0].send_text(LOWS)
    form.which.value = "rain"
    form.months[5].send_text("62")
    desk.session.flush()
    climate = bc.load(desk.session.path).place.climate

    assert climate.t_min == (-3, -2.5, 1, 4.1, 8, 11, 13, 13, 10, 6, 2, -1)
    assert climate.rain == (*[None] * 5, 62, *[None] * 6)
    assert "rain of the month (1 of 12 months)" in form.says.html
    assert form.months[5].value == "62" and form.months[0].value == ""


def test_what_cannot_be_is_said_beside_the_month_and_stays_there(desk):
    form = form_of(desk)
    form.months[2].send_text("warm")
    form.months[3].send_text("77")
    form.months[4].send_text("4")

    assert "March" in form.months[2].says and form.months[2].value == "warm"
    assert "-60 to 40 °C; given 77" in said(form.months[3])
    assert form.climate.t_min == (*[None] * 4, 4, *[None] * 7)
    form.months[11].send_text("1 2 3")
    assert "a number a month up to December" in form.months[11].says
    form.which.value = "t_max"
    assert form.months[2].value == form.months[2].says == ""
    form.months[4].send_text("2")
    assert "needs at least the low of 4" in said(form.months[4])
    form.months[4].send_text("12")
    assert form.climate.t_max[4] == 12 and form.months[4].says == ""


def test_feet_and_fahrenheit_for_those_who_want_them(session, desk):
    session.show_in("us")
    form = form_of(desk)
    form.months[6].send_text("50")
    assert form.climate.t_min[6] == pytest.approx(10)  # 50 °F
    assert (form.months[6].value, form.months[6].unit) == ("50", "°F")
    form.heavy.send_text("1.5")
    assert form.climate.heavy_day.m_as("mm") == pytest.approx(38.1)
    session.show_in("metric")
    assert (form.months[6].value, form.months[6].unit) == ("10", "°C")
    assert form.heavy.value == "38.1"


def test_frost_and_the_heaviest_day_reach_the_words_and_the_ditch(session, desk):
    session.add(new_bed("Beans"))
    form, storm = form_of(desk), site.storm_view(desk)
    assert "heaviest day in ten years is not known" in storm.says.html
    form.frost["last_frost"].send_text("apr 20")
    form.frost["first_frost"].send_text("15.10.")
    assert "month in letters" in form.frost["first_frost"].says
    form.frost["first_frost"].send_text("15 October")
    form.heavy.send_text("64 mm")

    assert form.frost["last_frost"].value == "20 April"
    assert "178 days in a row without frost" in form.says.html
    assert desk.storm.rain.m_as("mm") == pytest.approx(64)
    assert "That is your heaviest day" in storm.says.html
    storm.controls["rain"].value = Q_(20, "mm")
    assert "brings 64" in storm.says.html.replace("\xa0", " ")
    form.heavy.send_text("")
    assert form.climate.heavy_day is None


def test_forget_takes_all_of_it_and_undo_brings_it_back(session, desk):
    form = form_of(desk)
    form.months[0].send_text(LOWS)
    form.forget()
    assert session.place.climate is None and form.months[0].value == ""
    session.undo()
    assert session.place.climate.t_min[0] == -3


def test_the_demo_keeps_its_climate_and_a_copy_says_that_it_is_invented(tmp_path):
    session = open_session(tmp_path / "my_garden.toml")
    form = form_of(site.site_desk(session.path))
    assert "garden of your own" in form.says.html
    assert "bc-hide" in form.form._dom_classes
    session.start("Copy", copy=True)
    form = form_of(site.site_desk(session.path))
    assert "invented numbers" in form.says.html
    form.months[0].send_text("-4")
    here = open_session(session.path).place.climate
    assert here.name == "" and here.t_min[0] == -4
    assert demo_garden().place.climate == Climate.named("plumtrellis")


def test_every_kind_has_a_box_for_every_month(desk):
    form = form_of(desk)
    for name, about in NORMALS.items():
        form.which.value = name
        for number in range(len(MONTHS)):
            form.months[number].send_text(f"{about.example:g}")
        assert getattr(form.climate, name) == (about.example,) * 12, name
