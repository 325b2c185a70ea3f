"""Currency: the sign a sum of money carries, where it stands, and its decimals.

A currency is a label. There is no exchange rate anywhere, so a sum never changes its
currency. :meth:`Currency.of` knows the currencies of the world by their three letters;
an own sign, own decimals and an own place of the sign can be given as well.
"""

from __future__ import annotations

import functools
import unicodedata
from dataclasses import dataclass, replace

from .text_files import short

__all__ = ["Currency", "CurrencyError", "currencies"]

MINUS = "\N{MINUS SIGN}"
_GAP = "\N{NO-BREAK SPACE}"
_LONGEST_SIGN = 6
#: stands for "some currency": never shown to a reader
_NO_SIGN = "\N{CURRENCY SIGN}"


class CurrencyError(ValueError):
    """An entry of the currency cannot be: the message says what would do."""


def _refuse(field: str, needs: str, given, example: str):
    raise CurrencyError(
        f"currency, {field}: needs {needs}; given {short(repr(given))}; for example "
        f"{example}"
    )


def _is_code(code) -> bool:
    return (
        isinstance(code, str) and len(code) == 3 and code.isascii() and code.isalpha()
    )


def _fits_a_sign(sign: str) -> bool:
    """Letters, currency signs, dots and gaps: nothing that could pass for a number."""
    kinds = [unicodedata.category(c) for c in sign if c != "." and c != " "]
    fits = all(kind[0] in "LM" or kind in ("Sc", "Zs") for kind in kinds)
    return fits and any(kind[0] in "LS" for kind in kinds) and _NO_SIGN not in sign


@dataclass(frozen=True, kw_only=True)
class Currency:
    """The currency of a price list; ``Currency()`` stands for "not chosen".

    Without a sign the three letters are shown, and where nothing is chosen the bare
    number. ``before`` puts the sign in front of the number: $12, CHF 12.
    """

    code: str = ""
    sign: str = ""
    decimals: int = 2
    before: bool = False

    def __post_init__(self):
        if self.code != "" and not (_is_code(self.code) and self.code.isupper()):
            _refuse("code", "three letters such as EUR", self.code, "'CHF'")
        if not isinstance(self.sign, str) or len(self.sign) > _LONGEST_SIGN:
            _refuse("sign", f"up to {_LONGEST_SIGN} characters", self.sign, "'Fr.'")
        if self.sign and (
            self.sign != self.sign.strip() or not _fits_a_sign(self.sign)
        ):
            _refuse("sign", "letters or a currency sign", self.sign, "'Fr.'")
        whole = isinstance(self.decimals, int) and not isinstance(self.decimals, bool)
        if not whole or not 0 <= self.decimals <= 3:
            _refuse("decimals", "a whole number from 0 to 3", self.decimals, "2")
        if not isinstance(self.before, bool):
            _refuse("before", "true (sign first) or false", self.before, "true for $12")

    @classmethod
    def of(cls, code: str, **own) -> Currency:
        """A currency of the world, with its usual sign, decimals and place of the sign.

        Parameters
        ----------
        code : str
            Its three letters, such as ``"CHF"``.
        **own
            ``sign``, ``decimals`` or ``before``, where they should differ.

        Notes
        -----
        The sign stands where most of the countries that pay with it write it.
        """
        if not _is_code(code):
            _refuse("code", "three letters such as EUR", code, "'CHF'")
        return replace(_of_the_world(code.upper()), **own)

    def __bool__(self):
        """Whether a currency was chosen."""
        return bool(self.code or self.sign)

    @property
    def mark(self) -> str:
        """What stands beside a sum: the sign, else the three letters, else nothing."""
        return self.sign or self.code

    def around(self, amount: str) -> str:
        """An amount, already in words, with its sign: ``−12 €``, ``−$12``, ``CHF 12``.

        Parameters
        ----------
        amount : str
            Such as ``"1 234.50"`` or ``"-12"``.
        """
        lead = ""
        if amount[:1] in ("-", "+", MINUS):
            lead, amount = amount[0].replace("-", MINUS), amount[1:]
        if not self.mark:
            return lead + amount
        if not self.before:
            return f"{lead}{amount}{_GAP}{self.mark}"
        gap = _GAP if unicodedata.category(self.mark[-1])[0] != "S" else ""
        return f"{lead}{self.mark}{gap}{amount}"

    def without_sign(self, text: str) -> str:
        """An amount as a person typed it, without this currency's sign or letters.

        Parameters
        ----------
        text : str
            Such as ``"12,50 €"`` or ``"chf 12"``; other text comes back as it is.
        """
        bare = text.strip()
        for mark in filter(None, (self.sign, self.code)):
            if bare.casefold().startswith(mark.casefold()):
                return bare[len(mark) :].strip()
            if bare.casefold().endswith(mark.casefold()):
                return bare[: -len(mark)].strip()
        return bare


@functools.cache
def _of_the_world(code: str) -> Currency:
    """Sign, decimals and place of the sign as Babel knows them."""
    from babel import Locale, UnknownLocaleError, numbers
    from babel.core import get_global

    places, local = [], []
    countries = get_global("territory_currencies")
    for country in sorted(countries, key=lambda c: (c != code[:2], c)):
        paid = countries[country]
        if any(c == code and end is None and pays for c, _, end, pays in paid):
            try:
                locale = Locale.parse(f"und_{country}")
            except (UnknownLocaleError, ValueError):
                continue
            pattern = locale.currency_formats["standard"].pattern
            places.append(pattern.startswith(_NO_SIGN))
            local.append(numbers.get_currency_symbol(code, locale))
    if not places:
        raise CurrencyError(
            f"currency, code: needs the three letters of a currency in use; given "
            f"{short(code)!r}; for example 'CHF', or Currency(sign='T', decimals=0) "
            "for a currency of your own"
        )
    sign = numbers.get_currency_symbol(code, "en")
    if sign == code:  # English has no sign for it: take one that Europeans can read
        sign = next((s for s in local if s != code and _is_readable(s)), sign)
    return Currency(
        code=code,
        sign="" if sign == code else sign,
        decimals=min(numbers.get_currency_precision(code), 3),
        before=2 * sum(places) > len(places),
    )


def _is_readable(sign: str) -> bool:
    """Whether it is a currency sign or in Latin letters, read from left to right."""
    latin = all("LATIN" in unicodedata.name(c, "") for c in sign if c.isalpha())
    turned = any(unicodedata.bidirectional(c) in ("R", "AL") for c in sign)
    return latin and not turned and len(sign) <= _LONGEST_SIGN and _fits_a_sign(sign)


@functools.cache
def currencies() -> tuple[tuple[str, str], ...]:
    """Codes and English names of the currencies in use, in the order of the codes."""
    from babel import numbers
    from babel.core import get_global

    used = {
        code
        for paid in get_global("territory_currencies").values()
        for code, _, end, pays in paid
        if end is None and pays
    }
    return tuple(
        (code, numbers.get_currency_name(code, locale="en")) for code in sorted(used)
    )
