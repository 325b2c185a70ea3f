"""Walls: values of standards as printed or as remembered, against our tables."""

from __future__ import annotations

import pytest

from bedcalc.tables import table
from tests.validation.kinds import outside
from tests.validation.printed import printed

CHAPTER = "walls"
OTHERS = "own derivation"


@outside("from memory", "table timber_en", "en338")
@pytest.mark.parametrize(
    ("grade", "stiff", "soft", "dense"),
    [("C14", "7.0", "4.7", "290"), ("C16", "8.0", "5.4", "310"),
     ("C18", "9.0", "6.0", "320"), ("C24", "11.0", "7.4", "350"),
     ("D30", "11.0", "9.2", "530")],
)  # fmt: skip
def test_strength_classes(grade, stiff, soft, dense):
    """EN 338, Table 1: mean and low stiffness in GPa, low density in kg/m3."""
    row = table("timber_en")[grade]
    assert row.f_m / 1e6 == pytest.approx(int(grade[1:]))
    assert row.q("E_mean").m_as("GPa") == printed(stiff)
    assert row.q("E_05").m_as("GPa") == printed(soft)
    assert row.q("rho_k").m_as("kg/m^3") == printed(dense)


@outside("from memory", "table durations_en", "en1995")
@pytest.mark.parametrize(
    ("key", "kmod"),
    [("permanent", "0.50"), ("long", "0.55"), ("medium", "0.65"), ("short", "0.70"),
     ("instantaneous", "0.90")],
)  # fmt: skip
def test_strength_of_wet_wood_by_time(key, kmod):
    """EN 1995-1-1, Table 3.1, solid timber, service class 3."""
    assert table("durations_en")[key].kmod == printed(kmod)


@outside("from memory", "table timber_factors", "en1995", facts=3)
def test_factors_of_eurocode_5():
    """Tables 2.3 and 3.2, 10.4.3."""
    rows = table("timber_factors")
    for key, text in (
        ("en_gamma_m", "1.3"), ("en_kdef", "2.0"),
        ("en_plate", "3.0"),
    ):  # fmt: skip
        assert rows[key].value == printed(text)


@outside("from memory", "table timber_factors", "en1990", facts=2)
def test_load_factors_of_eurocode_0():
    """Table A1.2(B): 1.35 for soil, 1.5 for people."""
    rows = table("timber_factors")
    assert rows["en_gamma_soil"].value == printed("1.35")
    assert rows["en_gamma_people"].value == printed("1.5")


@outside("from memory", "table durations_us", "nds_2018")
@pytest.mark.parametrize(
    ("key", "factor"),
    [("permanent", "0.9"), ("ten_years", "1.0"), ("two_months", "1.15"),
     ("seven_days", "1.25"), ("ten_minutes", "1.6")],
)  # fmt: skip
def test_load_duration(key, factor):
    """NDS 2018, Table 2.3.2."""
    assert table("durations_us")[key].CD == printed(factor)


@outside("printed", "table timber_us", "nds_supplement_2018")
@pytest.mark.parametrize(
    ("key", "bending", "stiff", "across"),
    [("dfl_no2", "900", "1.6", "625"), ("hf_no2", "850", "1.3", "405"),
     ("spf_no2", "875", "1.4", "425"), ("sp_no2_4", "1100", "1.4", "565"),
     ("sp_no2_6", "1000", "1.4", "565")],
)  # fmt: skip
def test_american_timber(key, bending, stiff, across):
    """NDS Supplement 2018, Tables 4A and 4B, read in public copies."""
    row = table("timber_us")[key]
    assert row.q("Fb").m_as("psi") == printed(bending)
    assert row.q("E").m_as("psi") / 1e6 == printed(stiff)
    assert row.q("Fc_perp").m_as("psi") == printed(across)


@outside("printed", "table sheets", "aisi_gauges")
@pytest.mark.parametrize(
    ("key", "coated"),
    [("sinus_us_26ga", "0.0187"), ("sinus_us_28ga", "0.0157"),
     ("sinus_us_29ga", "0.0142")],
)  # fmt: skip
def test_steel_of_a_gauge(key, coated):
    """Least coated thickness as an engineer's article quotes it, less 0.0015 in."""
    thick = table("sheets")[key].q("thickness").m_as("inch")
    assert thick + 0.0015 == printed(coated)


@outside("from memory", "table rods", "iso_898")
@pytest.mark.parametrize(
    ("key", "yields", "breaks"),
    [("m8", "240", "400"), ("m10", "240", "400"), ("m8_hard", "640", "800")],
)
def test_strength_of_rods(key, yields, breaks):
    """ISO 898-1: 4.6 breaks at 400 and yields at 0.6 of that; 8.8 at 800, 0.8."""
    row = table("rods")[key]
    assert row.q("yield_stress").m_as("MPa") == printed(yields)
    assert row.q("ultimate").m_as("MPa") == printed(breaks)


@outside("from memory", "table rods", "astm_a36", facts=2)
def test_strength_of_american_rods():
    """A36: 36 and 58 ksi."""
    row = table("rods")["us_3_8"]
    assert row.q("yield_stress").m_as("ksi") == printed("36")
    assert row.q("ultimate").m_as("ksi") == printed("58")


@outside("from memory", "table soils", "ibc", facts=2)
def test_presumptive_bearing():
    """IBC, Table 1806.2: 1500 psf for clay and silt, 2000 for sand; ours in kPa."""
    soils = table("soils")
    assert soils["heavy_loam"].q("bearing").m_as("lbf/ft^2") == printed("1500", steps=5)
    assert soils["light_loam"].q("bearing").m_as("lbf/ft^2") == printed("2000", steps=9)


@outside("from memory", "table screws_us", "nds_2018", facts=4)
def test_screws_and_nails():
    """NDS 2018, Appendix L and Table I1: #9 0.177 in, #10 0.190 in; 90 and 80 ksi."""
    nine, ten = (table("screws_us")[key] for key in ("no9x3", "no10x3"))
    assert nine.q("diameter").m_as("inch") == printed("0.177")
    assert ten.q("diameter").m_as("inch") == printed("0.190")
    assert nine.q("bending_yield").m_as("ksi") == printed("90")
    assert ten.q("bending_yield").m_as("ksi") == printed("80")
