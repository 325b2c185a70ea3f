"""Opening a workbook writes nothing; a control that moves writes its own entry only.

Asked of gardens with random beds, in a process of its own, because the pictures of the
views are replaced there by still ones.
"""

from __future__ import annotations

import contextlib
import io
import json
import multiprocessing
import os
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import BedError
from bedcalc.garden.words import write_garden
from bedcalc.model.materials import MaterialError
from benchmarks.any_bed import random_bed
from tests.gardens.walk import BOOKS, WORKBOOKS, _register, _run

#: workbooks with views; those of 03 and 04 try things out and write on a button
MOVED = ("01", "02", "03", "04", "05", "06")


def random_garden(seed: int) -> bc.Garden:
    """A garden with two random beds."""
    rng, beds = np.random.default_rng([seed, 10]), []
    while len(beds) < 2:
        with contextlib.suppress(BedError, MaterialError):
            beds.append(random_bed(rng).change(name=f"Bed {len(beds) + 1}"))
    return bc.Garden.empty("Elm Lane").change(beds=tuple(beds), current="Bed 1")


def entries(value, path=()):
    """Every entry of a garden in words, with its path."""
    if isinstance(value, dict):
        for key, one in value.items():
            yield from entries(one, (*path, key))
    elif isinstance(value, list) and path[-1] in ("beds", "price_lists"):
        for number, one in enumerate(value):
            yield from entries(one, (*path, number))
    else:
        yield ".".join(map(str, path)), value


def other(value):
    """A value a little away from this one, or None where we know none."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, bc.Q_):
        return value * 1.05
    return value + 1 if isinstance(value, int) else None


def moved(seed: int, folder: str) -> tuple[dict[str, int], list[str]]:
    """How many controls were moved in each workbook, and what went wrong."""
    wrong, moves = [], {}
    for book in BOOKS:
        if book[:2] not in MOVED:
            continue
        here = Path(folder) / book
        here.mkdir(parents=True)
        os.chdir(here)
        file = bc.save(random_garden(seed), here / "my_garden.toml")
        raw = file.read_bytes()
        found = SimpleNamespace(views=[], guesses=[], items=[], shown=[])
        _register(found)
        text = (WORKBOOKS / f"{book}.ipynb").read_text(encoding="utf-8")
        names: dict = {}
        for cell in json.loads(text)["cells"]:
            if cell["cell_type"] == "code":
                with contextlib.redirect_stdout(io.StringIO()):
                    found.shown += _run("".join(cell["source"]), names)
        from bedcalc.app.session import open_session

        session = open_session()
        session.flush()
        if file.read_bytes() != raw:
            wrong.append(f"{book} changed the file when it was opened")
        moves[book[:2]] = 0
        for view in found.views:
            for name, value in list(view.controls.values.items()):
                new = other(value)
                if view._writes is None or new is None:
                    continue
                before = dict(entries(write_garden(session.garden)))
                with contextlib.suppress(BedError):  # refused: then nothing may change
                    view.put(**{name: new})
                after = dict(entries(write_garden(session.garden)))
                every = {*before, *after}
                gone = sorted(k for k in every if before.get(k) != after.get(k))
                moves[book[:2]] += len(gone) == 1
                if len(gone) > 1:
                    wrong.append(f"{book}, {name}: {', '.join(gone)}")
    return moves, wrong


@pytest.mark.parametrize("seed", range(3))
def test_a_view_writes_only_what_was_moved(seed, tmp_path):
    context = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(1, mp_context=context) as pool:
        moves, wrong = pool.submit(moved, seed, str(tmp_path / "books")).result()

    assert wrong == []
    assert all(moves[book] >= 1 for book in ("01", "02", "05")), moves
