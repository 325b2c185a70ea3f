"""Tolerance from the digits a source prints: half a unit in the last place."""

from __future__ import annotations

from decimal import Decimal

import pytest

from bedcalc.units import Q_


def printed(text: str, unit: str = "", steps: float = 0.5):
    """Compare with a number as a source prints it.

    Parameters
    ----------
    text : str
        The number exactly as printed, ``"0.2827"``, ``"14 147"``, ``"3.2e5"``. The last
        digit given is the last one trusted.
    unit : str
        Unit of the source; the comparison is in SI. ``""`` compares as it stands.
    steps : float
        Allowed distance in units of the last place. Half of one is what rounding
        does; a source that rounded on its way deserves more, with the reason beside
        the check.

    Returns
    -------
    pytest.approx
        Absolute tolerance only.
    """
    number = Decimal(text.replace(" ", "").replace(",", ""))
    last_place = Decimal(1).scaleb(number.as_tuple().exponent)
    factor = float(Q_(1, unit).to_base_units().m) if unit else 1.0
    # a hair more than half, so that binary fractions do not decide
    slack = steps * float(last_place) * factor * (1 + 1e-9)
    return pytest.approx(float(number) * factor, abs=slack, rel=0)
