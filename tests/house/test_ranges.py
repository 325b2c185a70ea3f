"""Formulas refuse what cannot be, before they compute anything."""

from __future__ import annotations

import importlib
import math
import pkgutil

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.cost.money import tax_inside, yearly_cost
from bedcalc.fill.volumes import loose_volume
from bedcalc.ranges import Interval, RangeError
from bedcalc.site.water import curve_runoff, storage
from bedcalc.size.chapter import pressure_below
from bedcalc.units import quantities
from bedcalc.walls.earth import k_at_rest


def _formulas():
    found = {}
    for module in pkgutil.walk_packages(bc.__path__, "bedcalc."):
        if ".lab" in module.name or "__main__" in module.name:
            continue
        for value in vars(importlib.import_module(module.name)).values():
            if isinstance(getattr(value, "ranges", None), dict):
                found[f"{value.__module__}.{value.__name__}"] = value
    return found


FORMULAS = _formulas()
BOUNDED = [
    (name, argument)
    for name, formula in FORMULAS.items()
    for argument, interval in formula.ranges.items()
    if not (math.isinf(interval.low) and math.isinf(interval.high))
]


def _given(formula, **changed):
    """Values inside every interval, as quantities; others untouched."""
    given = {}
    for name, unit in formula.units.items():
        if unit is not None:
            given[name] = Q_(formula.ranges[name].example(), unit)
    return given | changed


@pytest.mark.parametrize("nonsense", [math.nan, math.inf, -math.inf])
@pytest.mark.parametrize("name", [n for n, f in FORMULAS.items() if f.ranges])
def test_no_formula_takes_what_is_not_a_number(name, nonsense):
    formula = FORMULAS[name]
    first = next(iter(formula.ranges))
    rest = {n: None for n, u in formula.units.items() if u is None}

    with pytest.raises(RangeError, match=f"'{first}': needs"):
        formula(
            **_given(formula, **{first: Q_(nonsense, formula.units[first])}), **rest
        )


@pytest.mark.parametrize(("name", "argument"), BOUNDED)
def test_a_value_outside_its_interval_is_refused(name, argument):
    formula = FORMULAS[name]
    interval, unit = formula.ranges[argument], formula.units[argument]
    step = 1e-3 * max(abs(interval.low), 1) if math.isfinite(interval.low) else 1
    outside = [interval.low - step if interval.with_low else interval.low]
    if math.isfinite(interval.high):
        outside.append(interval.high * 1.001 if interval.with_high else interval.high)
    rest = {n: None for n, u in formula.units.items() if u is None}
    # those before it in the signature are fine, so that this one is refused
    for value in outside:
        if math.isfinite(value):
            given = _given(formula, **{argument: Q_(value, unit)})
            with pytest.raises(RangeError, match=f"'{argument}': needs"):
                formula(**given, **rest)


@pytest.mark.parametrize("name", FORMULAS)
def test_si_takes_the_unit_that_is_declared(name):
    formula = FORMULAS[name]

    for unit in formula.units.values():
        if unit is not None:
            assert Q_(1, unit).to_base_units().m == pytest.approx(1, abs=1e-15)


def test_degrees_and_radians_come_to_the_same():
    assert k_at_rest.units["friction_angle"] == "rad"
    assert k_at_rest.si(np.radians(30), 0.0) == pytest.approx(0.5)
    assert k_at_rest(Q_(30, "deg"), 0.0).m == pytest.approx(0.5)
    assert pressure_below(Q_(12, "kN/m^3"), Q_(0.5, "m")).m == pytest.approx(6.0)
    assert pressure_below.si(12e3, 0.5) == pytest.approx(6e3)


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        (
            lambda: loose_volume(Q_(1, "m^3"), 15),
            "loose_volume: 'settle': needs from 0 to less than 1; given 15; "
            "for example 0.3",
        ),
        (
            lambda: yearly_cost(
                Q_(500, "money"), 4, 10, Q_(0, "money"), Q_(0, "money")
            ),
            "yearly_cost: 'rate': needs from 0 to 1; given 4; for example 0.3",
        ),
        (
            lambda: curve_runoff(Q_(50, "mm"), 184),
            "curve_runoff: 'curve': needs more than 0 and at most 100; given 184; "
            "for example 30",
        ),
        (lambda: storage(0), "given 0; for example 30"),
        (lambda: tax_inside(Q_(100, "money"), -0.2), "needs from 0 to 1"),
        (
            lambda: k_at_rest(Q_(95, "deg"), 0.0),
            "needs from 0 to 80.2 deg; given 95 deg",
        ),
    ],
)
def test_the_refusal_says_field_need_given_and_an_example(asked, words):
    with pytest.raises(RangeError) as refused:
        asked()

    assert words in str(refused.value)


@pytest.mark.parametrize(
    ("text", "unit", "inside", "outside"),
    [
        ("m (0, inf)", "m", (1e-9, 1e9), (0, -1, math.inf)),
        ("[0, 1)", "", (0, 0.999), (1, -1e-9)),
        ("rad [-0.41, 0.41]", "rad", (-0.41, 0.41), (0.42,)),
        ("m^2/m", "m^2/m", (-5, 5), (math.inf, math.nan)),
    ],
)
def test_an_interval_is_read_as_in_mathematics(text, unit, inside, outside):
    found, interval = Interval.split(text)

    assert found == unit
    assert all(interval.holds(value) for value in inside)
    assert not any(interval.holds(value) for value in outside)
    assert interval.holds(interval.example())
    assert not interval.holds(np.array([inside[0], outside[0]]))


def test_a_unit_that_is_not_si_fails_at_import():
    with pytest.raises(TypeError, match="needs an SI unit"):
        quantities("", angle="deg")(lambda angle: angle)


def test_the_docstring_names_the_intervals():
    assert (
        "Accepted: settled in [0, inf) m^3; settle in [0, 1)." in loose_volume.__doc__
    )
