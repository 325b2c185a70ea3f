"""Daily weather out of files: units of the heading, gaps, days that cannot be."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from bedcalc.spreadsheets.columns import NumbersError
from bedcalc.spreadsheets.weather import read_weather

PLAIN = "date,tmin (°C),tmax (°C),rain (mm)\n2021-03-01,1.5,9,0\n2021-03-02,2,10,4.5\n"


@pytest.fixture
def read(tmp_path):
    def reading(text: str, code: str = "utf-8"):
        path = tmp_path / "days.csv"
        path.write_bytes(text.encode(code))
        return read_weather(path)

    return reading


def test_a_plain_table(read):
    found = read(PLAIN)

    assert (found.first, found.last, len(found)) == (
        date(2021, 3, 1), date(2021, 3, 2), 2,
    )  # fmt: skip
    assert found.q("rain").m_as("mm").tolist() == [0, 4.5]
    assert found.gaps == () and np.isnan(found.q("wind").m).all()


@pytest.mark.parametrize("code", ["utf-8-sig", "utf-16", "cp1252"])
def test_semicolons_and_decimal_commas(read, code):
    text = PLAIN.replace(".", "|").replace(",", ";").replace("|", ",")
    found = read(text.replace("\n", "\r\n"), code)

    assert found.q("tmin").m_as("degC").tolist() == [1.5, 2]


def test_units_of_the_heading_are_converted(read):
    """Exact by definition: 32 °F is 0 °C, an inch 25.4 mm, a kWh 3.6 MJ, 36 km/h 10."""
    found = read(
        "date;tmin in °F;tmax [degF];rain (in);wind (km/h);radiation (kWh/m2);sun (min)\n"  # noqa: E501
        "1.3.2021;32;50;1;36;2;90\n"
    )
    values = {kind: float(found.q(kind).m[0]) for kind in found.values}

    assert values == pytest.approx(
        {"tmin": 0, "tmax": 10, "rain": 25.4, "wind": 10, "radiation": 7.2, "sun": 1.5},
        abs=1e-9,
    )


def test_gaps_are_said(read):
    found = read(PLAIN + "2021-03-05,,12,1\n2021-03-06,3,11,2\n")

    assert len(found) == 6
    assert found.gaps == (
        "lowest temperature: 3 days are not known, 3 March 2021 to 5 March 2021",
        "highest temperature: 2 days are not known, 3 March 2021 to 4 March 2021",
        "rain: 2 days are not known, 3 March 2021 to 4 March 2021",
    )


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        (
            "tmin (°C)",
            "tmin",
            r"line 1, tmin: needs its unit .* for example tmin \(°C\)",
        ),
        ("rain (mm)", "rain (kg)", r"line 1, rain: needs its unit .*given kg"),
        (",rain (mm)", "", "line 1: needs the column rain"),
        (
            "2021-03-02",
            "3/2/2021",
            "line 3, date: needs a day, year first; given 3/2/202",
        ),
        ("2021-03-02", "2021-02-30", "line 3, date"),
        ("2021-03-02", "2021-03-01", "line 3, date: needs each day once"),
        (",4.5", ",much", "line 3, rain: needs a number.*given much; for example 2.4"),
        (",4.5", ",-4.5", "line 3, rain: needs 0 to 2000 mm"),
        (",4.5", "," + "9" * 5000, "line 3, rain"),
        ("2,10", "12,10", "2021-03-02, tmax: needs at least tmin, 12 °C; given 10 °C"),
        ("2021-03-02", "9021-03-02", "needs at most 60000 days"),
    ],
)
def test_what_cannot_be_is_named_with_line_and_column(read, old, new, words):
    assert old in PLAIN
    with pytest.raises(NumbersError, match=f"(?s)days.csv: nothing .*{words}"):
        read(PLAIN.replace(old, new, 1))


def test_days_with_slashes_are_read_where_one_shows_the_order(read):
    head = "date,tmin (C),tmax (C),rain (mm)\n"
    assert read(head + "3/2/2021,1,2,0\n13/2/2021,1,2,0\n").first == date(2021, 2, 3)
    assert read(head + "3/2/2021,1,2,0\n3/13/2021,1,2,0\n").first == date(2021, 3, 2)


def test_rows_of_ghcn_daily(read):
    """Layout and tenths after the readme of GHCN-Daily (by station), from memory."""
    found = read(
        "XX000000001,20210301,TMIN,-15,,,S,\nXX000000001,20210301,TMAX,91,,,S,\n"
        "XX000000001,20210301,PRCP,45,,,S,\nXX000000001,20210302,PRCP,-9999,,,S,\n"
        "XX000000001,20210302,TMAX,999,,X,S,\nXX000000001,20210303,TSUN,90,,,S,\n"
        "XX000000001,20210303,SNOW,0,,,S,\n"
    )

    assert found.q("tmin").m[0] == pytest.approx(-1.5)
    assert found.q("tmax").m[0] == pytest.approx(9.1)
    assert found.q("rain").m[0] == pytest.approx(4.5)
    assert found.q("sun").m[2] == pytest.approx(1.5)
    assert found.flagged == 1 and np.isnan(found.q("tmax").m[1])
    with pytest.raises(NumbersError, match="line 2, station: needs one station"):
        read("XX000000001,20210301,TMIN,1,,,S,\nXX000000002,20210301,TMIN,1,,,S,\n")
