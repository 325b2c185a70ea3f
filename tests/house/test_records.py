"""What a chapter hands out is a record: made by names, and never changed afterwards."""

from __future__ import annotations

import dataclasses
import importlib
import pkgutil

import pytest

CHAPTERS = ("cost", "cutting", "fill", "site", "size", "walls")


def _records():
    for chapter in CHAPTERS:
        package = importlib.import_module(f"bedcalc.{chapter}")
        for file in pkgutil.iter_modules(package.__path__):
            module = importlib.import_module(f"bedcalc.{chapter}.{file.name}")
            for value in vars(module).values():
                if (
                    dataclasses.is_dataclass(value)
                    and isinstance(value, type)
                    and value.__module__ == module.__name__
                ):
                    yield value


@pytest.mark.parametrize(
    "record", list(_records()), ids=lambda r: f"{r.__module__}.{r.__name__}"
)
def test_a_record_is_made_by_names_and_stays_as_it_is(record):
    """Nobody mixes up two lengths by order; no view changes what another shows."""
    fields = [field for field in dataclasses.fields(record) if field.init]

    assert fields and all(field.kw_only for field in fields)
    assert record.__dataclass_params__.frozen
