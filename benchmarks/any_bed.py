"""Does any bed that can be entered compute? Random beds through everything.

    python -m benchmarks.any_bed 20000 --drawings 1000 --papers 60

Beds are drawn from a seed over every field (see tests/properties/any_beds.py), with
one of several places: both demo price lists and none, a car that takes a metre or
fifteen, no saw cut. Each that is not refused goes through ``evaluate`` and every
sentence; some through the drawings, some through build sheet, order and cut list.
Prints how many of each, and every fault with the number of its bed.
"""

from __future__ import annotations

import argparse
import re
import tempfile
import traceback
import warnings
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from time import perf_counter

import numpy as np

import bedcalc as bc
from bedcalc import Q_, Bed, BedError, Garden, Outcome, Place
from bedcalc.build_sheet import build_sheet
from bedcalc.cut_changes import length_sweep, what_less_saves
from bedcalc.cut_garden import cut_garden
from bedcalc.exports import write_order, write_order_csv
from bedcalc.figures.cost import cost_figure
from bedcalc.figures.cost_flow import flow_figure
from bedcalc.figures.fill import fill_figure
from bedcalc.figures.fill_sinking import sinking_figure
from bedcalc.figures.scene import scene
from bedcalc.figures.walls import wall_figure
from bedcalc.figures.walls_path import path_figure
from bedcalc.figures.walls_ruler import parts_figure
from bedcalc.materials import MaterialError
from bedcalc.mends import cures, how_deep
from bedcalc.shopping import shopping
from tests.properties.any_beds import WRONG, faults, random_bed

FIGURES = (
    scene, wall_figure, path_figure, parts_figure, fill_figure,
    sinking_figure, cost_figure,
)  # fmt: skip
NAMES = (
    "B", "No. 1", "a.b.1", "Karl's \"best\" <b>bed</b> & more", "🥕 Möhren", "=1+1",
    "x" * 60, "../../etc", "a/b\\c:*?[d]", "%s {x}", "١٢٣",
)  # fmt: skip
MARKUP = re.compile(r"<style>.*?</style>|<svg.*?</svg>|<[^>]*>", re.S)


def places() -> list[Place]:
    """The demo's place, and what differs elsewhere."""
    plain = bc.demo_garden().place
    return [
        plain,
        plain.change(prices="demo_us"),
        plain.change(longest_carried=Q_(1, "m"), crew=1),
        plain.change(longest_carried=Q_(2, "m"), kerf=Q_(0, "mm"), trim=Q_(0, "mm")),
        plain.change(longest_carried=Q_(15, "m"), trim=Q_(300, "mm"), crew=100),
        plain.change(prices=None),
    ]


def drawn(outcome: Outcome) -> Iterator[str]:
    """Draw everything; tell what reads wrong in words or is endless in arrays."""
    unpriced = outcome.place.prices is None or outcome.cost.missing
    for make in FIGURES:
        for options in ({}, {"system": "us", "narrow": True}):
            for fault in _read(make.__name__, make(outcome, **options)):
                if not (unpriced and fault.endswith("'—' in '—'")):
                    yield fault
    if outcome.cost.lines:
        yield from _read("flow_figure", flow_figure(outcome.cost, name="P"))


def _read(name: str, drawing) -> Iterator[str]:
    drawing = getattr(drawing, "drawing", drawing)
    said = [drawing.alt, drawing.caption, str(drawing.numbers)]
    said += [str(note.get("text", "")) for note in drawing.annotations]
    for text in said:
        if wrong := WRONG.search(text):
            yield f"{name}: {wrong.group()!r} in {text!r}"
    for trace in drawing.traces:
        for axis in ("x", "y", "z"):
            values = np.asarray(trace.get(axis, ()))
            if values.dtype.kind == "f" and np.isinf(values).any():
                yield f"{name}: trace {trace.get('name')}, {axis} is endless"


def papers(bed: Bed, place: Place, rng, folder: Path) -> Iterator[str]:
    """Everything that is printed, saved or cut."""
    bed = bed.change(name=str(rng.choice(NAMES)), count=int(rng.choice([1, 2])))
    other = bed.change(name="Another", length=Q_(2, "m"), width=Q_(1.2, "m"))
    garden = Garden(place=place, beds=(bed, other)[: int(rng.integers(1, 3))])
    bc.save(garden, folder / "g.toml")
    garden = bc.load(folder / "g.toml")
    system, paper = rng.choice(["metric", "us"]), rng.choice(["A4", "Letter"])
    html = build_sheet(garden, system=str(system), paper=str(paper), seconds=0.2)
    for text in MARKUP.sub("\n", html).splitlines():
        if wrong := WRONG.search(text):
            yield f"build sheet: {wrong.group()!r} in {text.strip()!r}"
    cost = shopping(garden, extras=("liner", "gravel", "hire", "protection"))
    write_order(cost, place, folder / "order.xlsx")
    write_order_csv(cost, place, folder / "order.csv")
    for text in (folder / "order.csv").read_text(encoding="utf-8").splitlines():
        if wrong := WRONG.search(text):
            yield f"order: {wrong.group()!r} in {text!r}"
    for one in cut_garden(garden, seconds=0.2):
        what_less_saves(one)
    length_sweep(bed, place, [1.2, 2.4], seconds=0.05)
    outcome = bc.evaluate(garden.beds[0], place)
    if outcome.cost.total is not None:
        deep = how_deep(outcome)
        said = [c.sentence("us") for c in cures(outcome)] + [
            deep.sentence() if deep else ""
        ]
        for text in said:
            if wrong := WRONG.search(text):
                yield f"mends: {wrong.group()!r} in {text!r}"


def main() -> None:
    """Draw beds, send them through, print what was found."""
    ask = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    ask.add_argument("beds", type=int, nargs="?", default=2000)
    ask.add_argument("--drawings", type=int, default=100)
    ask.add_argument("--papers", type=int, default=10)
    ask.add_argument("--seed", type=int, default=0)
    asked = ask.parse_args()
    warnings.simplefilter("error")
    done, seen, first, start = Counter(), Counter(), {}, perf_counter()
    where = places()

    def run(number: int, what: str, work) -> None:
        try:
            found = list(work())
        except Exception as error:  # every crash is a fault, whatever it is
            last = traceback.extract_tb(error.__traceback__)[-1]
            spot = f"{Path(last.filename).name}:{last.lineno}"
            found = [f"{type(error).__name__} at {spot}: {error}"]
        done[what] += 1
        for fault in found:
            kind = f"{what}: {fault[:60]}"
            seen[kind] += 1
            first.setdefault(kind, (number, fault))

    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        number = 0
        while done["evaluated"] < asked.beds:
            number += 1
            rng = np.random.default_rng([asked.seed, number])
            place = where[int(rng.integers(len(where)))]
            try:
                bed = random_bed(rng)
            except (BedError, MaterialError):
                done["refused"] += 1
                continue
            kept = []

            def look(bed=bed, place=place, kept=kept):
                kept.append(bc.evaluate(bed, place))
                yield from faults(kept[0])

            run(number, "evaluated", look)
            if kept and done["drawn"] < asked.drawings:
                run(number, "drawn", lambda kept=kept: drawn(kept[0]))
            if done["printed"] < asked.papers:
                run(
                    number,
                    "printed",
                    lambda b=bed, p=place, r=rng: papers(b, p, r, folder),
                )
    for kind, many in seen.most_common():
        at, fault = first[kind]
        print(f"{many} times, first in bed {at}: {fault[:300]}")
    counts = ", ".join(f"{many} {what}" for what, many in done.items())
    print(f"{counts}; {sum(seen.values())} faults; {perf_counter() - start:.0f} s")


if __name__ == "__main__":
    main()
