"""Two dozen gardens of one's own through every workbook: no error, no wrong bed.

Each garden is saved, every cell of every workbook is run beside it, every guess opened,
every question answered by its own solution, every bed chosen, units changed and back.
"""

from __future__ import annotations

import multiprocessing
from concurrent.futures import ProcessPoolExecutor

import pytest

import bedcalc as bc
from tests.gardens.gardens import GARDENS, OLD_FILE
from tests.gardens.walk import BOOKS, walk

OTHERS = ("format 1, one bed", "format 1, the demo")


def _text(name: str, folder) -> str:
    """The file of a garden."""
    if name == OTHERS[0]:
        return OLD_FILE
    path = folder / "garden.toml"
    garden = bc.demo_garden() if name == OTHERS[1] else GARDENS[name]
    bc.save(garden, path)
    text = path.read_text(encoding="utf-8")
    return text.replace("format = 2", "format = 1") if name in OTHERS else text


@pytest.fixture(scope="module")
def wrong(tmp_path_factory):
    """What went wrong, by garden; two processes share the work."""
    context = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(2, mp_context=context) as pool:
        jobs = {}
        for name in (*GARDENS, *OTHERS):
            folder = tmp_path_factory.mktemp("garden")
            text = _text(name, folder)
            jobs[name] = pool.submit(walk, name, text, str(folder / "books"))
        yield {name: job.result() for name, job in jobs.items()}


def test_there_are_at_least_two_dozen_gardens():
    assert len(GARDENS) + len(OTHERS) >= 24
    assert len(BOOKS) == 7


@pytest.mark.parametrize("name", [*GARDENS, *OTHERS])
def test_a_garden_goes_through_every_workbook(wrong, name):
    assert wrong[name] == []
