"""How sums of money are written, by currency."""

from __future__ import annotations

import copy
import pickle
import subprocess
import sys

import pytest

from bedcalc.currency import Currency, CurrencyError
from bedcalc.units import Q_, UnitError, Units, show, show_range, sign_after, unit_sign

TALER = Currency(sign="T", decimals=0)


def words(text: str) -> str:
    """With plain gaps, to be read here."""
    return text.replace("\N{NO-BREAK SPACE}", " ").replace(
        "\N{NARROW NO-BREAK SPACE}", " "
    )


@pytest.mark.parametrize(
    ("code", "decimals"),
    # ISO 4217, list one, column "minor unit"; from memory
    [("EUR", 2), ("USD", 2), ("CHF", 2), ("GBP", 2), ("JPY", 0), ("KRW", 0),
     ("KWD", 3), ("TND", 3), ("INR", 2), ("SEK", 2)],
)  # fmt: skip
def test_decimals_of_the_standard(code, decimals):
    assert Currency.of(code).decimals == decimals


@pytest.mark.parametrize(
    ("code", "whole", "coins"),
    # place and sign: common practice of each country, no source
    [
        ("EUR", "−1 235 €", "−1 234.60 €"),
        ("USD", "−$1 235", "−$1 234.60"),
        ("GBP", "−£1 235", "−£1 234.60"),
        ("CHF", "−CHF 1 235", "−CHF 1 234.60"),
        ("JPY", "−¥1 235", "−¥1 235"),
        ("KWD", "−1 235 KWD", "−1 234.600 KWD"),
        ("PLN", "−1 235 zł", "−1 234.60 zł"),
    ],
)
def test_a_sum_is_written_as_in_its_country(code, whole, coins):
    units = Units("metric", Currency.of(code))

    assert words(show(-1234.6, "money", units)) == whole
    assert words(show(Q_(-1234.6, "money"), "coins", units)) == coins
    assert words(show(1234.6, "money", units)) == whole.removeprefix("−")


def test_an_own_currency():
    units = Units("us", TALER)

    assert words(show(12.4, "coins", units)) == "12 T"
    assert unit_sign("coins", units) == "T"
    assert Currency.of("CHF", sign="Fr.", before=False).around("12") == "12\u00a0Fr."
    assert words(Currency.of("CHF", sign="Fr.").around("12")) == "Fr. 12"


@pytest.mark.parametrize("units", ["metric", "us", Units("us")])
def test_without_a_currency_there_is_only_the_number(units):
    assert words(show(1234.5, "coins", units)) == "1 234.50"
    assert show(43, "money", units, per="area").startswith(("43/m²", "4/ft²"))
    assert unit_sign("money", units) == ""
    assert sign_after("price", "money", units) == "price"
    assert show_range(5, 6, "money", units) == "5 to 6"
    assert not Currency()


def test_prices_ranges_headings_and_differences():
    euro = Units("metric", Currency.of("EUR"))
    dollar = Units("us", Currency.of("USD"))

    assert words(show(Q_(43, "money/m^2"), "money", euro, per="area")) == "43 €/m²"
    # 1 m³ = 1.30795 yd³, so 30 money/m³ are 22.94 money/yd³
    assert show(30, "coins", dollar, per="volume") == "$22.94/yd³"
    assert words(show_range(510, 580, "money", euro)) == "510 to 580 €"
    assert show_range(510, 580, "money", dollar) == "$510 to $580"
    assert sign_after("price", "coins", euro, per="volume") == "price, €/m³"
    assert words(show(12, "money", euro, plus=True)) == "+12 €"
    assert show(-12, "money", dollar, plus=True) == "−$12"
    assert words(show(0.2, "money", euro, plus=True)) == "0 €"
    assert words(show(-0.001, "coins", euro)) == "0.00 €"
    assert show(float("nan"), "money", euro) == "no price yet"
    assert show_range(float("nan"), float("nan"), "coins", euro) == "no price yet"
    assert show(float("inf"), "money", euro) == "—"


def test_units_are_the_plain_word_and_keep_their_currency():
    units = Units("us", Currency.of("CHF"))

    assert units == "us" and hash(units) == hash("us") and {"us": 1}[units] == 1
    assert Units(units).currency.code == "CHF"
    for same in (copy.copy(units), copy.deepcopy(units)):
        assert same.currency == units.currency
    assert pickle.loads(pickle.dumps(units)).currency == units.currency
    with pytest.raises(UnitError, match="needs 'metric' or 'us'; given 'imperial'"):
        Units("imperial")


@pytest.mark.parametrize("code", ["eu", "", "EURO", "12€", None, 3])
def test_a_bad_code_is_answered_with_an_example(code):
    with pytest.raises(CurrencyError) as refused:
        Currency.of(code)

    assert "currency, code: needs three letters such as EUR" in str(refused.value)
    assert repr(code) in str(refused.value) and "'CHF'" in str(refused.value)


@pytest.mark.parametrize("code", ["XYZ", "DEM"])
def test_a_code_that_nobody_pays_with_any_more(code):
    with pytest.raises(CurrencyError, match=f"in use; given '{code}'; .*'CHF'"):
        Currency.of(code)
    assert words(Currency(code="XYZ").around("3")) == "3 XYZ"


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("code", "eur"), ("code", "EU1"), ("sign", "¤"), ("sign", "<b>"),
        ("sign", "12"), ("sign", " T"), ("sign", "-"), ("sign", "&"), ("sign", "a,b"),
        ("sign", "Goldtaler"), ("sign", None), ("decimals", 4), ("decimals", -1),
        ("decimals", True), ("decimals", 2.0), ("before", 1), ("before", "yes"),
    ],
)  # fmt: skip
def test_every_entry_is_checked(field, value):
    with pytest.raises(CurrencyError) as refused:
        Currency(**{field: value})

    says = str(refused.value)
    assert says.startswith(f"currency, {field}: needs ")
    assert repr(value) in says and "for example" in says


def test_every_currency_in_use_can_be_shown():
    from babel.numbers import list_currencies

    shown = {}
    for code in list_currencies():
        try:
            shown[code] = show(-1.5, "coins", Units("us", Currency.of(code)))
        except CurrencyError:
            continue

    assert {"EUR", "USD", "CHF", "JPY", "KWD", "BRL", "INR", "ZAR"} <= set(shown)
    assert not [text for text in shown.values() if "¤" in text or text[0] != "−"]


def test_everything_else_works_before_the_worlds_currencies_are_loaded():
    """``None`` in place of a module makes each import of it fail."""
    code = "import sys; sys.modules['babel'] = None; import bedcalc as bc; "
    code += "print(bc.show(3, 'coins', bc.Units('us', bc.Currency(sign='T'))))"
    run = subprocess.run(
        [sys.executable, "-X", "utf8", "-c", code], capture_output=True, text=True,
        encoding="utf-8",
    )  # fmt: skip

    assert run.stdout.strip() == "3.00\u00a0T", run.stderr
