"""Numbers with their units as somebody wrote them, in a file or into a box."""

from __future__ import annotations

import math
import re

import pint

from ..text_files import short
from ..units import Q_, UnitError, to_si, ureg

__all__ = ["plain_unit", "read_quantity"]


def read_quantity(text: str, unit: str, where: str = "value"):
    """Read ``"2700 mm"`` as a person wrote it; never evaluates anything.

    Parameters
    ----------
    text : str
        A number, a space, a unit. Feet and inches may be joined: ``8 ft 6 in``.
    unit : str
        A unit of the kind that is wanted.
    where : str
        Whose value it is, for the message.

    Raises
    ------
    UnitError
        If there is no number, no unit, or a unit of another kind.
    """
    help_ = f"{where}: needs a number and a unit, given {short(text)!r}; for example "
    help_ += repr(f"1 {unit}" if unit else "0.5")
    parts = text.split() if isinstance(text, str) else [short(text, 30)]
    if not unit and len(parts) == 1:
        parts.append("")
    if len(parts) < 2 or len(parts) % 2 or len(parts) > 8:
        raise UnitError(help_)
    total = None
    for number, word in zip(parts[::2], parts[1::2], strict=True):
        try:
            piece = Q_(_plain_number(number), plain_unit(word))
            total = piece if total is None else total + piece
        except (ValueError, TypeError, pint.PintError):
            raise UnitError(help_) from None
    to_si(total, unit, where)
    return total


_PART = r"[A-Za-zµ°%_]{1,20}(?:(?:\^|\*\*)-?\d)?"
#: what a unit may be made of; anything else never reaches the registry
_PLAIN_UNIT = re.compile(rf"(?:(?:1/)?{_PART}(?:[*/·]{_PART}){{0,4}})?")
_NUMBER = re.compile(r"[-+]?(?:\d{1,40}\.?\d{0,40}|\.\d{1,40})(?:[eE][-+]?\d{1,3})?")


def plain_unit(word: str):
    """A unit out of a word that somebody wrote: ``mm``, ``kN/m^3``, never more.

    Raises
    ------
    UnitError
        If it is longer or made of anything but names and small powers.
    """
    if not _PLAIN_UNIT.fullmatch(word):
        raise UnitError(f"needs a unit such as mm or kN/m^3; given {short(word)!r}")
    try:
        return ureg.Unit(word)
    except (pint.PintError, ValueError, TypeError, AssertionError, AttributeError):
        raise UnitError(
            f"needs a unit such as mm or kN/m^3; given {short(word)!r}"
        ) from None


def _plain_number(text: str) -> float:
    """A finite number of at most forty digits."""
    found = float(text) if _NUMBER.fullmatch(text) else math.inf
    if not math.isfinite(found):
        raise UnitError(f"needs a number; given {short(text)!r}")
    return found
