"""Entries as people write them; words made safe for a page."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedcalc.app.kit.words import inline, markup, phrase, plain
from bedcalc.currency import Currency
from bedcalc.parsing.typed import EntryError, MissingUnit, read_entry, sign, tidy
from bedcalc.tables import table
from bedcalc.units import KINDS, Q_, Units, show


@pytest.mark.parametrize(
    ("text", "unit", "size"),
    [
        ("31 mm", "m", 0.031),
        ("31mm", "m", 0.031),
        ("0.031 m", "m", 0.031),
        ("0,031 m", "m", 0.031),
        ("1.2 in", "m", 0.03048),  # 1.2 × 0.0254
        ('1 1/2"', "m", 0.0381),
        ("1½ in", "m", 0.0381),
        ("8 ft 6 in", "m", 2.5908),  # 8.5 × 0.3048
        ("8' 6\"", "m", 2.5908),
        ("2 700 mm", "m", 2.7),
        ("1804 litres", "m^3", 1.804),
        ("1.8 m3", "m^3", 1.8),
        ("1.8 m³", "m^3", 1.8),
        ("2 cu yd", "m^3", 1.529110),  # 2 × 0.9144³
        ("3 sq ft", "m^2", 0.278709),  # 3 × 0.3048²
        ("15 %", "", 0.15),
        ("40 psf", "Pa", 1915.21),  # 40 × 4.4482216/0.3048²
        ("2.2 t", "kg", 2200),
    ],
)
def test_a_number_and_its_unit(text, unit, size):
    found = read_entry(text, unit, "field")
    assert found.m_as(unit) == pytest.approx(size, rel=1e-5)


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("kind", list(KINDS))
def test_every_number_that_is_shown_is_read_back(kind, system):
    rule = KINDS[kind]
    unit = rule.metric if system == "metric" else rule.us
    shown = show(Q_(1234.5, unit), kind, system)
    found = read_entry(shown, rule.metric, "field")
    assert found.m_as(unit) == pytest.approx(1234.5, abs=0.51)


@pytest.mark.parametrize("code", ["EUR", "USD", "CHF", "JPY", "KWD", "CAD", "SEK"])
@pytest.mark.parametrize("kind", ["money", "coins"])
def test_every_sum_that_is_shown_is_read_back(kind, code):
    currency = Currency.of(code)
    shown = show(Q_(-1234.5, "money"), kind, Units("metric", currency))
    found = read_entry(shown, "money", "field", currency=currency)
    assert found.m == pytest.approx(-1234.5, abs=0.51)


@pytest.mark.parametrize(
    ("text", "code", "amount"),
    [
        ("12,50 €", "EUR", 12.5),
        ("€12.50", "EUR", 12.5),
        ("eur 12", "EUR", 12),
        ("12", "EUR", 12),
        ("-$3", "USD", -3),
        ("1.234,50", "EUR", 1234.5),
        ("$1,234.50", "USD", 1234.5),
        ("1'234.50 CHF", "CHF", 1234.5),
        ("1.234.567,5", "EUR", 1234567.5),
    ],
)
def test_an_amount_with_the_sign_or_the_letters_of_its_currency(text, code, amount):
    found = read_entry(text, "money", "Price", currency=Currency.of(code))
    assert found.m == amount


def test_a_price_for_an_area():
    euro = Currency.of("EUR")
    found = read_entry("43,5 €/m²", "money/m^2", "Price", currency=euro)
    assert found.m_as("money/m^2") == 43.5
    assert read_entry("43", "money/m^2", "Price").m_as("money/m^2") == 43


@pytest.mark.parametrize("text", ["12 $", "12 kg", "12 ¤", "€", "12/3", "1 € 2"])
def test_another_currency_is_refused_with_an_example_in_the_own_one(text):
    with pytest.raises(EntryError, match=r"^Price: .*12\.50\s€"):
        read_entry(text, "money", "Price", currency=Currency.of("EUR"))


def test_feet_sign_is_never_a_plain_five():
    assert read_entry("5'", "m", "field").m_as("ft") == 5


def test_a_missing_unit_is_said_with_an_example():
    with pytest.raises(MissingUnit, match="1.8 of what.*1.8 m³"):
        read_entry("1.8", "m^3", "Your answer")
    assert read_entry("1.8", "m^3", "Your answer", bare=True).m_as("m^3") == 1.8
    assert read_entry("12", "money", "The bill").m == 12  # the sign need not be typed


@pytest.mark.parametrize("text", ["", "abc", "3 kg", "3 m 4", "3 {", "m", "3 m^2"])
def test_what_does_not_fit_says_field_and_example(text):
    with pytest.raises(EntryError, match=r"^Length: .*0.5 m"):
        read_entry(text, "m", "Length")


def test_thousand_or_decimal_comma():
    assert tidy("0,125 m") == "0.125 m"
    assert tidy("1,25 m") == "1.25 m"
    with pytest.raises(EntryError, match="1.250 or 1250"):
        tidy("1,250 mm")


@given(st.text(max_size=14), st.sampled_from(["m", "m^3", "kg", ""]))
def test_any_text_is_read_or_refused_in_words(text, unit):
    try:
        found = read_entry(text, unit, "field")
    except EntryError as refusal:
        assert str(refusal)
    else:
        assert found.to_base_units().m == found.to_base_units().m  # not NaN


def test_signs():
    assert [sign(u) for u in ("m^3", "inch", "percent", "")] == ["m³", "in", "%", ""]
    assert sign("money/m^2", Currency.of("USD")) == "$/m²"


# ---- words


def test_user_text_is_escaped_and_marks_are_few():
    nasty = '<script>alert("x")</script> & **bold** *soft* 3 * 4 * 5'
    assert "<script>" not in inline(nasty)
    assert inline(nasty).endswith("<strong>bold</strong> <em>soft</em> 3 * 4 * 5")
    assert "&amp;" in plain(nasty)
    assert "**bold**" in plain(nasty)


def test_paragraphs_and_lists():
    assert markup("one\nline\n\n- a\n- **b**") == (
        "<p>one line</p><ul><li>a</li><li><strong>b</strong></li></ul>"
    )


def test_number_and_unit_stay_together_and_other_words_do_not():
    assert plain("31 mm or 1.2 m³") == "31\u00a0mm or 1.2\u00a0m³"
    assert plain("3 metres, 5 minutes") == "3 metres, 5 minutes"


def test_a_phrase_is_filled_and_an_unknown_one_is_an_error():
    assert phrase("card_minutes", minutes=30) == "about 30 minutes"
    with pytest.raises(KeyError):
        phrase("no_such_phrase")


def test_every_phrase_is_used_by_the_kit():
    import re
    from pathlib import Path

    import bedcalc.app

    folder = Path(bedcalc.app.__file__).parent
    files = [*folder.rglob("*.py"), folder.parent / "parsing" / "typed.py"]
    code = "\n".join(path.read_text("utf-8") for path in files)
    built = (
        "kind_",
        "predict_low",
        "predict_high",
        "predict_times_",
        "outside_",
    )  # put together
    unused = [
        row.key
        for row in table("phrases")
        if not row.key.startswith(built)
        and not re.search(rf"[\"']{row.key}[\"']", code)
    ]
    assert unused == []
