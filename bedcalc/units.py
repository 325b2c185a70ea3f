"""Units: the one registry, the boundary between people and sums, numbers in words.

Inside the house a formula works on plain SI floats or arrays (metres, newtons,
pascals, kilograms, money). At the edge it takes and returns pint quantities. The
decorator :func:`quantities` is that edge: it declares the unit of each argument and
of the result, converts once, refuses what has no unit, and leaves the plain body
reachable as ``formula.si`` for inner loops and sweeps.

Money is a dimension of its own (unit ``money``), because ``pound`` is a mass. There
is no exchange rate anywhere: a price list has one currency, and its sign is a label.
:class:`Units` says how a reader wants numbers: metric or US, and in which currency.
"""

from __future__ import annotations

import functools
import inspect
from dataclasses import dataclass
from typing import Any

import numpy as np
import pint

from .currency import Currency
from .ranges import Interval, RangeError

__all__ = [
    "Q_", "RangeError", "UnitError", "Units", "from_si", "quantities", "show",
    "show_range", "sign_after", "ureg",
]  # fmt: skip  # a list of names


def _registry() -> pint.UnitRegistry:
    """Make the registry; the cached definitions halve the import time."""
    try:
        return pint.UnitRegistry(cache_folder=":auto:")
    except (OSError, ImportError, RuntimeError):  # no writable cache folder
        return pint.UnitRegistry()


ureg = _registry()
ureg.define("money = [currency]")
pint.set_application_registry(ureg)
Q_ = ureg.Quantity

#: what a formula takes and gives: a quantity; its plain body an SI number or array
Value = pint.Quantity | float | np.ndarray
#: a whole number of things, or one for each design
Count = int | np.ndarray

#: m/s2, to the digits the references use; a mass times this is a weight
GRAVITY = 9.81

_UNIT = functools.lru_cache(maxsize=None)(ureg.Unit)
_ANGLES = {"radian", "degree", "arcminute", "arcsecond", "turn", "gradian"}


class UnitError(ValueError):
    """A number came without its unit, or with one of another kind."""


@functools.cache
def si_unit(unit: str):
    """The SI unit (pint ``Unit``) in which the house keeps a quantity of this unit."""
    base = (1 * ureg.Unit(unit)).to_base_units().units
    return base


@functools.cache
def _factor(unit: str) -> float:
    """What one of ``unit`` is in SI (units with an offset are not for factors)."""
    return (1 * ureg.Unit(unit)).to_base_units().magnitude


@functools.cache
def _multiple(given, unit: str) -> float | None:
    """Factor from a given unit into SI; None for scales that begin elsewhere (°C)."""
    if not ureg.Quantity(1.0, given)._is_multiplicative:
        return None
    return ureg.convert(1.0, given, si_unit(unit))


def from_si(value: Any, unit: str = ""):
    """Turn an SI number or array into a quantity shown in ``unit``.

    Parameters
    ----------
    value : float or array
        In SI base units of the dimension of ``unit``.
    unit : str
        The unit to show, such as ``"mm"``; ``""`` for a plain ratio.
    """
    return Q_(value / _factor(unit), _UNIT(unit))


def to_si(value: Any, unit: str, where: str = "value") -> float:
    """Turn a quantity into an SI number, or say what was needed instead.

    Parameters
    ----------
    value : quantity
        With a unit of the same kind as ``unit``; a plain number passes only where
        ``unit`` is ``""`` (a ratio).
    unit : str
        The unit expected. ``"rad"`` asks for an explicit angle unit.
    where : str
        Whose value it is, for the message.

    Raises
    ------
    UnitError
        If the unit is missing or of another kind.
    """
    example = f"Q_({1 if unit else 0.5}, {unit!r})"
    wanted = f"a quantity in {unit}" if unit else "a plain number"
    if not isinstance(value, ureg.Quantity):
        if unit == "" and not isinstance(value, (str, bytes)):
            return value
        raise UnitError(
            f"{where}: needs {wanted}, given {value!r} without a unit; "
            f"for example {example}"
        )
    if unit in ("rad", "deg") and not _ANGLES & set(dict(value._units)):
        raise UnitError(
            f"{where}: needs an angle in deg or rad, given {value}; "
            "for example Q_(30, 'deg')"
        )
    try:
        factor = _multiple(value.units, unit)
        return value.m_as(si_unit(unit)) if factor is None else value.m * factor
    except pint.DimensionalityError:
        raise UnitError(
            f"{where}: needs {wanted}, given {value} (that is "
            f"{value.dimensionality}); for example {example}"
        ) from None


def quantities(result: str | tuple[str, ...] | None, /, **units):
    """Declare unit and range of each argument, and the unit of the result.

    Parameters
    ----------
    result : str, tuple of str, or None
        Unit in which the result is shown (a tuple for several results, None for no
        unit work).
    **units : str or None
        SI unit of each argument, and the interval in which the formula is valid:
        ``"m (0, inf)"``. ``""`` is a plain ratio, ``"rad"`` an explicit angle, None
        passes the argument through untouched (counts, flags, names). Without an
        interval every finite number is taken.

    Raises
    ------
    UnitError
        From the formula: an argument has no unit, or one of another kind.
    RangeError
        From the formula: an argument is outside its interval.

    Notes
    -----
    The body receives numbers or arrays in the units declared and returns SI; it stays
    reachable as ``formula.si``, which checks nothing. ``formula.units``,
    ``formula.ranges`` and ``formula.result`` hold the declaration, and the docstring
    ends with it. A parameter without a declaration, a unit that does not parse and an
    argument unit that is not SI fail at import.
    """
    units, ranges = _declared(units)
    results = result if isinstance(result, tuple) else (result,)

    def decorate(body):
        signature = inspect.signature(body)
        if set(signature.parameters) != set(units):
            raise TypeError(
                f"{body.__name__}: declared units for {sorted(units)}, "
                f"but its parameters are {sorted(signature.parameters)}"
            )

        @functools.wraps(body)
        def formula(*args, **kwargs):
            bound = signature.bind(*args, **kwargs)
            for name, value in bound.arguments.items():
                if units[name] is not None:
                    where = f"{body.__name__}: '{name}'"
                    found = to_si(value, units[name], where)
                    if not ranges[name].holds(found):
                        _refuse(where, ranges[name], units[name], value)
                    bound.arguments[name] = found
            found = body(*bound.args, **bound.kwargs)
            if result is None:
                return found
            if isinstance(result, tuple):
                return tuple(from_si(v, u) for v, u in zip(found, results, strict=True))
            return from_si(found, result)

        formula.si = body
        formula.units = units
        formula.ranges = ranges
        formula.result = result
        formula.__doc__ = _with_ranges(body.__doc__, units, ranges)
        return formula

    return decorate


#: units in which an example is easier to read than in SI
_READABLE = {"rad": "deg", "s": "hour", "1/s": "1/year"}


def _declared(units: dict) -> tuple[dict, dict]:
    """Units and intervals of a declaration; argument units must be SI."""
    plain, ranges = {}, {}
    for name, text in units.items():
        plain[name] = None
        if text is None:
            continue
        plain[name], ranges[name] = Interval.split(text)
        _UNIT(plain[name])
        if _factor(plain[name]) != 1:
            raise TypeError(
                f"'{name}': needs an SI unit, so that .si takes what is declared; "
                f"given {plain[name]!r}; for example {str(si_unit(plain[name]))!r}"
            )
    return plain, ranges


def _refuse(where: str, interval: Interval, unit: str, value):
    """Say what was needed instead of a value outside its interval."""
    shown = _READABLE.get(unit, unit)
    scale = from_si(1.0, shown).m
    example = f"{interval.example() * scale:.6g}"
    example = f"Q_({example}, {shown!r})" if shown else example
    sign = f" {_SIGNS.get(shown, shown)}" if shown else ""
    given = str(value)
    given = given if len(given) <= 60 else f"{given[:57]}..."
    raise RangeError(
        f"{where}: needs {interval.words(scale)}{sign}; given {given}; "
        f"for example {example}"
    )


def _with_ranges(text: str | None, units: dict, ranges: dict) -> str | None:
    """The docstring of a formula with the intervals of its arguments at the end."""
    if not text or not ranges:
        return text
    told = [f"{n} in {r} {units[n]}".rstrip() for n, r in ranges.items()]
    return f"{inspect.cleandoc(text)}\n\nAccepted: {'; '.join(told)}.\n"


class Units(str):
    """How a reader wants numbers shown: ``"metric"`` or ``"us"``, and the currency.

    It is the plain string with a currency on it: it compares like the string and goes
    wherever a ``system`` is asked for, so that the currency comes along by itself.

    Parameters
    ----------
    system : str
        ``"metric"`` or ``"us"``; of another ``Units`` the currency is kept.
    currency : Currency, optional
        Of the price list at hand. Without one, sums are shown as bare numbers.
    """

    __slots__ = ("currency",)

    def __new__(cls, system: str = "metric", currency: Currency | None = None):
        """Make a string that carries a currency."""
        if system not in ("metric", "us"):
            raise UnitError(
                f"units: needs 'metric' or 'us'; given {system!r}; for example 'metric'"
            )
        units = super().__new__(cls, system)
        units.currency = currency_of(system) if currency is None else currency
        return units

    def __getnewargs__(self):
        return str(self), self.currency

    def __repr__(self):
        return f"Units({str(self)!r}, {self.currency!r})"


def currency_of(system: str) -> Currency:
    """The currency that comes with some units; a plain string has none."""
    return getattr(system, "currency", None) or Currency()


@dataclass(frozen=True)
class _Kind:
    """How one kind of number is shown: unit and decimals, metric and US customary."""

    metric: str
    metric_digits: int
    us: str
    us_digits: int


#: kind -> how it is shown. No more digits than the knowledge has.
KINDS = {
    "size": _Kind("m", 2, "ft", 2),
    "depth": _Kind("cm", 0, "inch", 1),
    "stock": _Kind("mm", 0, "inch", 2),
    "bow": _Kind("mm", 0, "inch", 1),
    "fine": _Kind("mm", 1, "inch", 2),
    "reading": _Kind("m", 3, "inch", 2),
    "area": _Kind("m^2", 2, "ft^2", 1),
    "volume": _Kind("m^3", 2, "yd^3", 2),
    "mass": _Kind("kg", 0, "lb", 0),
    "nitrogen": _Kind("g", 0, "oz", 1),
    "load mass": _Kind("t", 1, "US_ton", 1),
    "pressure": _Kind("kPa", 1, "lbf/ft^2", 0),
    "stress": _Kind("MPa", 1, "psi", 0),
    "force": _Kind("kN", 2, "lbf", 0),
    "line load": _Kind("N/m", 0, "lbf/ft", 1),
    "moment": _Kind("N*m", 0, "lbf*ft", 0),
    "money": _Kind("money", 0, "money", 0),
    "coins": _Kind("money", 2, "money", 2),
    "rain": _Kind("mm", 0, "inch", 1),
    "water": _Kind("L", 0, "gallon", 0),
    "time": _Kind("hour", 1, "hour", 1),
    "percent": _Kind("percent", 0, "percent", 0),
    "ratio": _Kind("", 2, "", 2),
    "slope": _Kind("percent", 1, "percent", 1),
}
_SIGNS = {
    "m^2": "m²", "m^3": "m³", "ft^2": "ft²", "yd^3": "yd³", "inch": "in",
    "US_ton": "short tons", "lbf/ft^2": "psf", "lbf/ft": "plf", "lbf": "lb",
    "lbf*ft": "lb·ft", "gallon": "gal", "N*m": "N·m", "hour": "h", "percent": "%",
}  # fmt: skip  # rows of a table
_MONEY = ("money", "coins")
#: stands for a sum that hangs on a price which nobody has given
NO_PRICE = "no price yet"
NO_BREAK = "\N{NO-BREAK SPACE}"


def unit_sign(kind: str, system: str = "metric") -> str:
    """The sign printed beside a number of this kind, such as ``m³`` or ``€``."""
    if kind in _MONEY:
        return currency_of(system).mark
    unit = getattr(KINDS[kind], "metric" if system == "metric" else "us")
    return _SIGNS.get(unit, unit)


def shown_in(value: Any, kind: str, system: str = "metric"):
    """The magnitude of a quantity (or SI number) in the unit it is shown in."""
    unit = getattr(KINDS[kind], "metric" if system == "metric" else "us")
    if isinstance(value, ureg.Quantity):
        return value.m_as(_UNIT(unit))
    return value / _factor(unit)


def number(value: float, digits: int) -> str:
    """A number as people read it: fixed digits, narrow gaps at the thousands."""
    if not np.isfinite(value):
        return "—"
    text = f"{value:,.{digits}f}".replace(",", "\N{NARROW NO-BREAK SPACE}")
    return text if text.strip("-0.") else text.lstrip("-")  # never -0


def show(
    value: Any, kind: str, system: str = "metric", *, per: str = "", plus: bool = False
) -> str:
    """Show a quantity (or SI number) in words: ``2.70 m``, ``8.86 ft``, ``533 €``.

    Parameters
    ----------
    value : quantity or float
        A quantity, or a number in SI.
    kind : str
        One of ``KINDS``: what sort of number it is, which fixes unit and digits. Of
        money, ``"money"`` is shown whole, ``"coins"`` with the currency's decimals.
    system : str
        ``"metric"`` or ``"us"``, or :class:`Units`, which gives money its sign.
    per : str
        For a price: the kind of what it buys, such as ``"area"`` for ``43 €/m²``.
    plus : bool
        Whether a sum of money above zero gets a plus sign: ``+12 €``.
    """
    if kind in _MONEY:
        return _show_money(value, kind, system, per, plus)
    rule = KINDS[kind]
    digits = rule.metric_digits if system == "metric" else rule.us_digits
    text = number(float(shown_in(value, kind, system)), digits)
    sign = unit_sign(kind, system)
    return f"{text}{NO_BREAK}{sign}" if sign else text


def _show_money(value, kind: str, system: str, per: str = "", plus: bool = False):
    """A sum in words, with its sign, and what it buys if it is a price."""
    currency = currency_of(system)
    unit = "money"
    if per:
        unit = (
            f"money/({getattr(KINDS[per], 'metric' if system == 'metric' else 'us')})"
        )
    amount = float(
        value.m_as(unit) if isinstance(value, ureg.Quantity) else value / _factor(unit)
    )
    if np.isnan(amount):
        return NO_PRICE
    digits = 0 if kind == "money" else currency.decimals
    text = number(round(amount, digits) + 0.0, digits)  # no "-0"
    if plus and text.strip("0.") and amount > 0:
        text = f"+{text}"
    text = currency.around(text) if np.isfinite(amount) else text
    return f"{text}/{unit_sign(per, system)}" if per else text


def show_range(low: float, high: float, kind: str, system: str = "metric") -> str:
    """Two numbers as one phrase: ``510 to 580 €``, ``$510 to $580``."""
    first, last = show(low, kind, system), show(high, kind, system)
    if first == last:
        return last
    sign = unit_sign(kind, system)
    if sign and first.endswith(f"{NO_BREAK}{sign}"):
        first = first.removesuffix(f"{NO_BREAK}{sign}")
    return f"{first} to {last}"


def sign_after(words: str, kind: str, system: str = "metric", *, per: str = "") -> str:
    """A heading or the title of an axis with its unit: ``price, €/m²``.

    Parameters
    ----------
    words : str
        What the numbers under it are.
    kind, system, per : str
        As in :func:`show`. Without a currency, sums have no sign to name.
    """
    sign = unit_sign(kind, system)
    if per:
        sign = f"{sign}/{unit_sign(per, system)}" if sign else ""
    return f"{words}, {sign}" if sign else words
