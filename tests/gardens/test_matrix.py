"""Two dozen gardens of one's own through the workbooks: no error, no wrong bed.

Each garden is saved, every cell of its workbooks is run beside it, every guess opened,
every question answered by its own solution, every bed chosen, units changed and back.
Which garden meets which workbook: ``tests/gardens/choice.py``; all with all, for a
release, by BEDCALC_GARDENS=all in the environment.
"""

from __future__ import annotations

import multiprocessing
import tomllib
from concurrent.futures import ProcessPoolExecutor

import pytest

import bedcalc as bc
from tests.gardens.choice import ALL, LEAST, choose, in_each
from tests.gardens.gardens import GARDENS as FIRST
from tests.gardens.gardens import OLD_FILE
from tests.gardens.more import MORE, first_demo
from tests.gardens.reading import broken, foreign
from tests.gardens.walk import BOOKS, walk

GARDENS = FIRST | {name: make() for name, make in MORE.items()}
OTHERS = ("format 1, one bed", "format 1, the demo")
#: where every button is pressed once
PRESSED = {"wall planks": BOOKS[:3], "smallest": BOOKS[4:6], "no bed yet": BOOKS[6:]}


def _text(name: str, folder) -> str:
    """The file of a garden."""
    if name == OTHERS[0]:
        return OLD_FILE
    if name == OTHERS[1]:
        return first_demo()
    path = bc.save(GARDENS[name], folder / "garden.toml")
    assert bc.load(path) == GARDENS[name]
    return path.read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def texts(tmp_path_factory) -> dict[str, str]:
    """The files of all gardens."""
    folder = tmp_path_factory.mktemp("texts")
    return {name: _text(name, folder) for name in (*GARDENS, *OTHERS)}


@pytest.fixture(scope="module")
def found(texts) -> dict[str, frozenset[str]]:
    """What is in each garden."""
    return in_each({name: tomllib.loads(text) for name, text in texts.items()})


@pytest.fixture(scope="module")
def books(found) -> dict[str, tuple[str, ...]]:
    """The workbooks that each garden goes through."""
    return choose(found, BOOKS, PRESSED)


@pytest.fixture(scope="module")
def wrong(texts, books, tmp_path_factory):
    """What went wrong, by garden; two processes share the work."""
    context = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(2, mp_context=context) as pool:
        jobs = {}
        for name, text in texts.items():
            folder = str(tmp_path_factory.mktemp("garden"))
            press = tuple(PRESSED.get(name, ()))
            jobs[name] = pool.submit(walk, name, text, folder, books[name], press)
        yield {name: job.result() for name, job in jobs.items()}


def test_there_are_at_least_two_dozen_gardens():
    beds = [one for garden in GARDENS.values() for one in garden]
    strategies = {row.strategy for row in bc.tables.table("strategies")}
    marks = {garden.place.currency.mark for garden in GARDENS.values()}

    assert len(GARDENS) + len(OTHERS) >= 24
    assert len(BOOKS) == 9
    assert {b.wall.base_key for b in beds} == set(bc.tables.table("walls").rows)
    assert {bc.strategy_layers(key) for key in strategies} <= {b.fill for b in beds}
    assert {len(g.beds) for g in GARDENS.values()} >= {0, 1, 2, 9}
    assert marks >= {"", "CHF", "¥", "Taler", "£", "$"}
    assert set(PRESSED) <= set(GARDENS)


def test_all_that_is_in_a_garden_meets_every_workbook(found, books):
    every = set().union(*found.values())
    assert {".beds.wall = boards", "no .place.survey", ".units = us"} <= every
    for book in BOOKS:
        met = [found[name] for name in found if book in books[name]]
        assert set().union(*met) == every, book
    assert min(map(len, books.values())) >= (len(BOOKS) if ALL else LEAST)
    assert all(set(PRESSED[name]) <= set(books[name]) for name in PRESSED)


def test_the_search_for_broken_words_finds_them_and_only_them():
    mine = bc.Garden.empty("Elm")
    for text in ("bow nan mm", "costs ¤", "in {bed} of", "inf years", "9 Quantity(3)"):
        assert broken(text, mine), text
    for text in ("None", "finance", "an info", "$$K_{max}$$", "plain 3 mm"):
        assert not broken(text, mine), text
    assert foreign("like Plumtrellis, 3 €", mine)
    assert not foreign("Your bed, 3 m", mine)


@pytest.mark.parametrize("name", [*GARDENS, *OTHERS])
def test_a_garden_goes_through_its_workbooks(wrong, name):
    assert wrong[name] == []
