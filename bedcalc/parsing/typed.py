"""Read what a person typed: a number, mostly with a unit, in the ways people write it.

``31mm``, ``1,2 in``, ``8' 6"``, ``3 1/2 in``, ``2 m3`` are tidied to what
:func:`bedcalc.parsing.unit_words.read_quantity` reads; the conversion itself is done
there.
"""

from __future__ import annotations

import re

from pint import PintError

from ..currency import MINUS, Currency
from ..tables import table
from ..units import UnitError
from .unit_words import read_quantity

__all__ = ["EntryError", "MissingUnit", "phrase", "read_entry", "sign", "tidy"]

NO_CURRENCY = Currency()
_SIGNS = {
    "%": "percent", "°C": "degC", "°F": "degF",
    "'": "ft", "’": "ft", "′": "ft", '"': "inch",
    "”": "inch", "″": "inch", "psf": "lbf/ft^2", "plf": "lbf/ft", "lb·ft": "lbf*ft",
    "lb*ft": "lbf*ft", "short_tons": "US_ton", "short_ton": "US_ton",
}  # fmt: skip  # rows of a table
#: what the second number of "8 ft 6" and "2 m 70" is in
_NEXT = {"ft": (r"\d{1,2}", "inch"), "m": (r"\d\d", "cm")}
_CAPITALS = ("M", "CM", "MM", "KM", "FT", "IN", "INCH", "KG", "M^2", "M^3")
_POUNDS = re.compile(r"\blbs?\b")
_FRACTIONS = {"½": " 1/2", "¼": " 1/4", "¾": " 3/4"}
_WORDS = re.compile(r"\b(?:(cubic|cu\.?)|(square|sq\.?)) +([A-Za-z]+)")
_POWER = re.compile(r"(?<=[A-Za-z])\^?([23])(?![0-9])")
_GAP = re.compile(r"(?<=\d)[ \u00a0\u2009\u202f](?=\d{3}(?!\d))")
_THOUSANDS = re.compile(
    r"(?<![\d.,])\d{1,3}(?:([.,'’])\d{3})+(?=(?!\1)[.,]\d+(?![\d.,]))"
    r"|(?<![\d.,])\d{1,3}(?:['’]\d{3})+(?![\d'’])"
)
_MIXED = re.compile(r"(\d+)[ -]+(\d+)/(\d+)")
_SHARE = re.compile(r"(?<![\d.])(\d+)/(\d+)")
_NUMBER = r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?"
_UNIT = r"[^\d\s.,+-][^\d\s]*(?:[23](?![\d.A-Za-z]))?"
_PIECE = re.compile(rf"({_NUMBER})\s*({_UNIT})?")


def phrase(key: str, **given) -> str:
    """A phrase of the kit from data/phrases.csv, as plain text with its gaps filled."""
    return table("phrases")[key].text.format(**given)


class EntryError(ValueError):
    """What was typed cannot be read; the message says what would do."""


class MissingUnit(EntryError):
    """A number came without its unit."""


def _fraction(match: re.Match) -> str:
    """Turn ``3 1/2`` or ``1/2`` into ``3.5`` or ``0.5``."""
    *whole, top, bottom = (int(group) for group in match.groups())
    return f"{sum(whole) + (top / bottom if bottom else 0):.10g}"


def tidy(text: str) -> str:
    """What a person typed, as numbers and units with one space between.

    Raises
    ------
    EntryError
        If a comma could mean a decimal or a thousand.
    """
    text = _GAP.sub("", text.strip())
    if re.search(r"(?<![\d.])[1-9]\d{0,2},\d{3}(?!\d)", text):
        plain = re.search(r"\d+,\d{3}", text)[0]
        raise EntryError(
            phrase(
                "comma",
                given=plain,
                less=plain.replace(",", "."),
                more=plain.replace(",", ""),
            )
        )
    text = text.replace(",", ".")
    for sign_, words in _FRACTIONS.items():
        text = text.replace(sign_, words)
    text = _MIXED.sub(_fraction, text)
    text = _SHARE.sub(_fraction, text)
    text = re.sub(r"short tons?\b", "short_tons", text)
    text = _WORDS.sub(lambda m: f"{m[3]}^{3 if m[1] else 2}", text)
    text = text.replace("²", "^2").replace("³", "^3")
    found = []
    for number, unit in _PIECE.findall(text):
        unit = _SIGNS.get(unit, unit)
        found += [number, _POWER.sub(r"^\1", unit)] if unit else [number]
        if unit in _CAPITALS:
            found[-1] = unit.lower()
    if len(found) == 3 and found[1] in _NEXT:
        digits, smaller = _NEXT[found[1]]
        found += [smaller] if re.fullmatch(digits, found[2]) else []
    rest = _PIECE.sub("", text).strip()
    return " ".join(found) if not rest else text


def _amount(text: str, currency: Currency) -> str:
    """A sum or a price as a person typed it, as number and unit: ``43 money/m^2``."""
    text, slash, bought = text.strip().partition("/")
    lead = text[:1] if text[:1] in ("-", "+", MINUS) else ""
    text = currency.without_sign(text[len(lead) :])
    text = _THOUSANDS.sub(lambda m: re.sub(r"[.,'’]", "", m[0]), text)
    words = tidy(f"{lead.replace(MINUS, '-')}{text}")
    if not slash:
        return words
    bought = bought.strip().replace("²", "^2").replace("³", "^3")
    return f"{words} money/" + _POWER.sub(r"^\1", bought)


def read_entry(
    text: str,
    unit: str,
    field: str,
    *,
    bare: bool = False,
    example: str = "",
    currency: Currency = NO_CURRENCY,
):
    """Read an entry as a quantity of the kind of ``unit``.

    Parameters
    ----------
    text : str
        What was typed.
    unit : str
        The unit that would fit, such as ``"mm"``; ``""`` for a plain number.
    field : str
        What is asked for, for the message.
    bare : bool
        Whether a number without a unit is read as being in ``unit`` (where the unit
        stands beside the box).
    example : str
        A right entry for the message, instead of a general one.
    currency : Currency
        For an amount of money: its sign or its letters may be typed too.

    Raises
    ------
    MissingUnit
        If the unit is missing and not ``bare``.
    EntryError
        If there is no number, or the unit is of another kind.
    """
    money = unit.startswith("money")
    words = _amount(text, currency) if money else tidy(text)
    if not example:
        example = phrase("example")
        if money:
            example = currency.around(f"{12.5:.{currency.decimals}f}")
        elif unit:
            example = phrase("example_unit", unit=sign(unit))
    if re.fullmatch(_NUMBER, words):
        if unit and not bare and not money:
            raise MissingUnit(phrase("no_unit", given=text.strip(), unit=sign(unit)))
        words = f"{words} {unit}".strip()
    try:
        try:
            return read_quantity(words, unit, field)
        except UnitError:  # where a force is asked for, a pound is a force
            return read_quantity(_POUNDS.sub("lbf", words), unit, field)
    except (UnitError, PintError):  # PintError: pieces of different kinds
        key = "unfit_amount" if money else "unfit_unit"
        key = key if _PIECE.search(words) else "unreadable"
        raise EntryError(
            phrase(key, field=field, given=text.strip(), example=example)
        ) from None


def sign(unit: str, currency: Currency = NO_CURRENCY) -> str:
    """A unit as it is printed: ``m³`` for ``m^3``, ``€`` for money."""
    plain = {
        "inch": "in", "percent": "%", "hour": "h", "deg": "°", "degC": "°C",
        "degF": "°F", "kW*hour/m^2": "kWh/m²",
    }  # fmt: skip  # rows of a table
    unit = plain.get(unit, unit.replace("^2", "²").replace("^3", "³"))
    if unit.startswith("money"):
        return unit.replace("money", currency.mark, 1)
    return unit
