"""Intervals of valid values: ``"[0, 1)"`` as in mathematics, read once and checked.

A formula declares beside the unit of an argument from where to where it may be used;
:func:`bedcalc.units.quantities` refuses everything else before the sum is done.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Any

import numpy as np

__all__ = ["Interval", "RangeError"]

_INTERVAL = re.compile(r"\s*([\[(])\s*([^,\[\]()]+),\s*([^,\[\]()]+)([\])])\s*$")


class RangeError(ValueError):
    """A number has the right unit, but no such thing can exist or be computed."""


@dataclass(frozen=True)
class Interval:
    """From where to where a value may lie, in the unit that goes with it.

    Parameters
    ----------
    low, high : float
        The ends; infinite ones are never reached, so every value must be finite.
    with_low, with_high : bool
        Whether the end itself is allowed.
    """

    low: float = -math.inf
    high: float = math.inf
    with_low: bool = False
    with_high: bool = False

    @classmethod
    def split(cls, text: str) -> tuple[str, Interval]:
        """Split ``"m (0, inf)"`` into the unit and the interval.

        Without an interval every finite number is allowed.
        """
        found = _INTERVAL.search(text)
        if not found:
            return text.strip(), cls()
        opens, low, high, closes = found.groups()
        ends = cls(float(low), float(high), opens == "[", closes == "]")
        if not ends.low < ends.high:
            raise ValueError(f"{text!r}: needs an interval such as [0, 1)")
        return text[: found.start()].strip(), ends

    def holds(self, value: Any) -> bool:
        """Whether every element of a number or array lies in the interval."""
        found = np.asarray(value)
        if found.size == 0:
            return True
        low, high = found.min(), found.max()  # nan makes both nan: no comparison holds
        above = low >= self.low if self.with_low else low > self.low
        below = high <= self.high if self.with_high else high < self.high
        return bool(above and below)

    def words(self, scale: float = 1.0) -> str:
        """The interval as a sentence has it: ``from 0 to less than 1``."""
        low, high = f"{self.low * scale:.3g}", f"{self.high * scale:.3g}"
        if math.isinf(self.low) and math.isinf(self.high):
            return "a finite number"
        if math.isinf(self.low):
            return f"at most {high}" if self.with_high else f"less than {high}"
        if math.isinf(self.high):
            return f"{low} or more" if self.with_low else f"more than {low}"
        if self.with_low:
            return f"from {low} to {'' if self.with_high else 'less than '}{high}"
        return f"more than {low} and {'at most' if self.with_high else 'below'} {high}"

    def example(self) -> float:
        """A value that would do, with few digits."""
        if math.isinf(self.low) or math.isinf(self.high):
            inside = 1.0
        else:
            inside = float(f"{self.low + 0.3 * (self.high - self.low):.1g}")
        return inside if self.holds(inside) else self._middle()

    def _middle(self) -> float:
        if math.isinf(self.high):
            return self.low + 1
        return self.high - 1 if math.isinf(self.low) else (self.low + self.high) / 2

    def __str__(self):
        opens, closes = "[" if self.with_low else "(", "]" if self.with_high else ")"
        return f"{opens}{self.low:.6g}, {self.high:.6g}{closes}"
