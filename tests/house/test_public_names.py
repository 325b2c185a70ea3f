"""The names others script against: a change here is a change for them."""

from __future__ import annotations

import dataclasses

import pytest

import bedcalc as bc
from bedcalc import Q_, ureg

NAMES = [
    "Bed", "BedError", "BlockSize", "Check", "Climate", "Currency", "CurrencyError",
    "FillMaterial", "Fix", "Garden", "GardenError", "Layer", "Levelling", "Outcome",
    "Person", "Place", "PlaceError", "Plot", "PriceError", "PriceList", "Q_",
    "RangeError", "Survey", "Thing", "UnitError", "Units", "Wall", "demo_garden",
    "evaluate", "load", "save", "show", "strategy_layers", "ureg",
]  # fmt: skip


@pytest.fixture(scope="module")
def garden():
    return bc.demo_garden()


@pytest.fixture(scope="module")
def outcome(garden):
    return bc.evaluate(garden["B"], garden.place)


def test_the_list_is_locked():
    assert bc.__all__ == NAMES


def test_a_garden_is_read_and_written(garden, tmp_path):
    path = bc.save(garden, tmp_path / "garden.toml")

    assert bc.load(path) == garden
    assert garden.place.name.startswith("Plumtrellis")
    assert garden.beds[1] is garden["B"]


def test_a_bed_is_changed_by_replace_or_by_change(garden):
    tied = garden["B"].change(ties=1)

    assert tied == dataclasses.replace(garden["B"], ties=1)
    assert garden["B"].ties == 0


def test_an_outcome_has_its_parts(outcome):
    for part in ("size", "fill", "site", "walls", "cost", "checks"):
        assert getattr(outcome, part)


@pytest.mark.parametrize("part", ["size", "fill", "site", "walls", "cost"])
def test_results_are_quantities_with_their_units(outcome, part):
    found = getattr(outcome, part)
    amounts = [n for n, f in found.declared().items() if hasattr(f, "unit")]

    assert amounts
    for name in amounts:
        value = getattr(found, name)
        assert value is None or isinstance(value, ureg.Quantity), name


def test_each_check_has_what_a_reader_needs(outcome):
    for check in outcome.checks:
        assert check.name and check.source
        assert isinstance(check.demand, ureg.Quantity)
        assert check.demand.is_compatible_with(check.capacity)
        assert check.ok == (check.utilisation <= 1 + 1e-9)
        assert check.fix is None or check.fix.sentence()


def test_a_failing_check_names_its_mend_with_a_price(outcome):
    bow = outcome.check("bow")

    assert not bow.ok
    assert bow.fix.change == {"ties": 1}
    assert bow.fix.works
    assert bow.fix.cost.check("[currency]")


def test_a_quantity_is_made_with_its_unit():
    assert Q_(1, "ft").to("mm").m == pytest.approx(304.8, abs=1e-9)
