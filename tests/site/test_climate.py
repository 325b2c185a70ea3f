"""The climate of a place: what it may say, in the file, the form and the sheet."""

from __future__ import annotations

import numpy as np
import pytest
from openpyxl import load_workbook

import bedcalc as bc
from bedcalc import Q_, Climate, Garden, PlaceError
from bedcalc.model.climate import MONTHS, NORMALS, read_day
from bedcalc.spreadsheets.own_numbers import NumbersError, read_numbers, write_numbers
from bedcalc.tables import table

#: an invented place south of the equator, one month of rain not known
SOUTH = Climate(
    name="Farm on the hill, 12 years",
    t_min=(14, 14, 12, 9, 6, 4, 3, 4, 6, 8, 11, 13),
    t_max=Q_([79, 79, 75, 70, 64, 59, 57, 59, 63, 68, 73, 77], "degF"),
    rain=(60, 55, 70, 85, 100, None, 120, 110, 90, 80, 70, 65),
    last_frost="5 Sept", first_frost="May 20", heavy_day=Q_(2.5, "inch"),
)  # fmt: skip


def test_a_climate_of_ones_own_is_kept_in_the_file_with_what_it_does_not_know(tmp_path):
    garden = Garden.empty("Hill").change(system="us")
    garden = garden.change(place=garden.place.change(climate=SOUTH))
    path = bc.save(garden, tmp_path / "g.toml")
    path.write_text(
        path.read_text().replace("[place.climate]", '[place.climate]\nfog = "often"')
    )
    back = bc.load(path).place.climate

    assert back == SOUTH
    assert back.rain[5] is None and back.wind is None
    assert (back.last_frost, back.first_frost) == ("5 September", "20 May")
    # 79 degF is 26.11 degC: (79 - 32) 5 / 9
    assert back.q("t_max").m_as("degC")[0] == pytest.approx(47 * 5 / 9)
    bc.save(bc.load(path), path)
    assert 'fog = "often"' in path.read_text()


def test_the_demo_climate_is_its_table_and_its_file_names_it(tmp_path):
    demo = bc.demo_garden()
    climate = demo.place.climate
    rows = list(table("climate_plumtrellis"))

    assert list(climate.rain) == pytest.approx([1000 * row.rain for row in rows])
    assert climate.t_min[0] == pytest.approx(rows[0].t_min - 273.15)
    assert climate.whole("t_min", "t_max", "rain", "et0")
    path = bc.save(demo, tmp_path / "demo.toml")
    assert 'climate = "plumtrellis"' in path.read_text()
    dry = demo.change(place=demo.place.change(climate=climate.change(rain=None)))
    assert bc.load(bc.save(dry, path)).place.climate.rain is None


def test_an_empty_garden_has_no_climate_and_says_what_to_enter():
    place = Garden.empty("New").place

    assert place.climate is None
    assert place.change(climate=Climate()).climate is None
    assert not Climate(name="somewhere")
    asked = SOUTH.asks("t_min", "rain", "wind", "heavy_day")
    assert asked.startswith("Not known: rain of the month, mean wind")
    assert SOUTH.asks("t_min", "t_max", "first_frost") == ""


@pytest.mark.parametrize(
    ("last", "first", "days"),
    # days of the year: 20 April is the 110th, 15 October the 288th; 5 September the
    # 248th, 20 May the 140th of the next year
    [
        ("20 April", "15 October", 178),
        ("5 September", "20 May", 257),
        (None, "1 May", None),
    ],
)
def test_days_without_frost_are_counted_on_both_sides_of_the_equator(last, first, days):
    assert Climate(last_frost=last, first_frost=first).frost_free == days


@pytest.mark.parametrize(
    ("text", "day"),
    [("20 April", (4, 20)), ("apr. 20", (4, 20)), ("the 1st of May", (5, 1)),
     ("29 Feb", (2, 29)), ("3 SEPTEMBER", (9, 3))],
)  # fmt: skip
def test_a_day_as_people_write_it(text, day):
    assert read_day(text) == day


@pytest.mark.parametrize(
    "text", ["4/5", "30 February", "May", "12", "", "5 Ma", "1 2 May"]
)
def test_a_day_that_could_mean_two_is_refused(text):
    with pytest.raises(PlaceError, match="month in letters.*for example 20 April"):
        read_day(text)


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"rain": (1, 2)}, "climate, rain: needs 12 numbers in mm"),
        ({"rain": [50] * 11 + [-1]}, "rain, December: needs 0 to 3000 mm; given -1"),
        ({"humidity": [101] + [50] * 11}, "humidity, January: needs 0 to 100 percent"),
        ({"t_min": Q_(np.ones(12), "mm")}, "climate, t_min: needs 12 numbers in degC"),
        ({"t_min": [9] * 12, "t_max": [10] * 5 + [8] * 7}, "t_max, June: needs at"),
        ({"heavy_day": Q_(3, "m")}, "heavy_day: needs 1 to 1000 mm"),
        ({"last_frost": "soon"}, "last_frost: needs a day"),
        ({"name": 3}, "climate, name: needs"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_with_words(given, says):
    with pytest.raises(PlaceError) as refused:
        Climate(**given)
    assert says in str(refused.value) and "for example" in str(refused.value)


@pytest.mark.parametrize(
    "line",
    ['rain = "1 2 3 mm"', 'rain = "1 2 3 4 5 6 7 8 9 10 11 12"', "rain = 3",
     'rain = "1 2 3 4 5 6 7 8 9 10 11 wet mm"',
     't_max = "1 2 3 4 5 6 7 8 9 10 11 12 mm"'],
)  # fmt: skip
def test_a_line_of_the_file_that_is_not_twelve_numbers_is_answered(line, tmp_path):
    path = tmp_path / "g.toml"
    path.write_text(f'format = 2\n[place]\nname = "x"\n[place.climate]\n{line}\n')
    with pytest.raises(bc.GardenError, match="needs 12 numbers, January to December"):
        bc.load(path)


def test_other_units_in_the_file_are_turned():
    line = " ".join(["1"] * 11 + ["-"])
    climate = Climate.from_words({"rain": f"{line} inch", "wind": f"{line} km/h"})

    assert climate.rain[:2] == pytest.approx((25.4, 25.4))
    assert climate.rain[11] is None
    assert climate.wind[0] == pytest.approx(1 / 3.6)


# ---- the spreadsheet


@pytest.fixture(params=["metric", "us"])
def sheet(request, tmp_path):
    garden = Garden.empty("Hill").change(system=request.param)
    garden = garden.change(place=garden.place.change(climate=SOUTH))
    return garden, write_numbers(garden, tmp_path / "n.xlsx")


def test_the_spreadsheet_gives_the_climate_back(sheet):
    garden, path = sheet
    rows = [
        [c.value for c in row] for row in load_workbook(path)["Climate"].iter_rows()
    ]

    assert [row[0] for row in rows[3:15]] == list(MONTHS)
    assert len(rows[0]) == 1 + len(NORMALS)
    assert rows[0][1] == f"Mean daily low in {'°F' if garden.system == 'us' else '°C'}"
    assert "-60 to 40 °C" in rows[1][1] or "-76 to 104 °F" in rows[1][1]
    assert rows[3 + 5][3] is None  # rain in June
    assert read_numbers(path, garden) == garden
    empty = Garden.empty("New").change(system=garden.system)
    back = read_numbers(path, empty).place.climate
    assert back.t_min == pytest.approx(SOUTH.t_min)
    assert back.rain[5] is None and back.wind is None
    assert back.frost_free == SOUTH.frost_free
    assert back.heavy_day.m_as("mm") == pytest.approx(2.5 * 25.4)


def test_wrong_cells_of_the_climate_name_sheet_row_and_column(tmp_path):
    garden = Garden.empty("Hill")
    path = write_numbers(garden, tmp_path / "n.xlsx")
    book = load_workbook(path)
    page = book["Climate"]
    page["B4"], page["B5"], page["D6"], page["A8"] = "-4,5", "38 °F", "wet", "April"
    page["I7"] = 120
    place = next(
        r for r in book["Place"].iter_rows() if "Last frost" in str(r[0].value)
    )
    place[1].value = "4/5"
    book.save(path)
    with pytest.raises(NumbersError) as refused:
        read_numbers(path, garden)
    said = str(refused.value)

    rain = "row 6, Rain of the month: needs a number, 0 to 3000 mm; given wet"
    assert f"sheet Climate, {rain}" in said
    assert "sheet Climate, row 7, Mean wind, 2 m above the ground: needs" in said
    assert "sheet Climate, row 8, Month: stands there twice" in said
    page["D6"], page["A8"], page["I7"], place[1].value = 50, "May", 2, "20 April"
    book.save(path)
    climate = read_numbers(path, garden).place.climate
    assert climate.t_min[:2] == pytest.approx((-4.5, (38 - 32) * 5 / 9))
    assert (climate.rain[2], climate.wind[3]) == (50, 2)
    assert climate.last_frost == "20 April"


def test_a_file_from_before_the_climate_had_a_sheet_leaves_it_as_it_is(sheet):
    garden, path = sheet
    book = load_workbook(path)
    del book["Climate"]
    page = book["Place"]
    for row in range(page.max_row, 3, -1):
        if any(
            w in str(page.cell(row, 1).value) for w in ("frost", "climate", "heaviest")
        ):
            page.delete_rows(row)
    book.save(path)

    assert read_numbers(path, garden) == garden
