"""Does any bed that can be entered compute? Random beds through everything.

    python -m benchmarks.any_bed 20000 --drawings 1000 --papers 60 --views 20

Beds and places are drawn from a seed over every field (see tests/properties/any_beds.py
and any_places.py). Each that is not refused goes through ``evaluate`` and every
sentence; some through the drawings of bed and plot, some through every view of the
workbooks, some through build sheet, setting-out sheet, order, cut list and spreadsheet.
Prints how many of each, and every fault with the number of its bed.
"""

from __future__ import annotations

import argparse
import tempfile
import traceback
import warnings
from collections import Counter
from pathlib import Path
from time import perf_counter

import numpy as np

import bedcalc as bc
from bedcalc import BedError
from benchmarks.any_views import drawn, papers, viewed
from tests.properties.any_beds import faults, random_bed
from tests.properties.any_places import REFUSALS, random_place


def main() -> None:
    """Draw beds, send them through, print what was found."""
    ask = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    ask.add_argument("beds", type=int, nargs="?", default=2000)
    ask.add_argument("--drawings", type=int, default=100)
    ask.add_argument("--papers", type=int, default=10)
    ask.add_argument("--views", type=int, default=2)
    ask.add_argument("--seed", type=int, default=0)
    ask.add_argument("--only", type=int, help="the number of one bed")
    asked = ask.parse_args()
    warnings.simplefilter("error")
    done, seen, first, start = Counter(), Counter(), {}, perf_counter()

    def run(number: int, what: str, work) -> None:
        try:
            found = list(work())
        except Exception as error:  # every crash is a fault, whatever it is
            if asked.only:
                raise
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
        number = asked.only - 1 if asked.only else 0
        while done["evaluated"] < (1 if asked.only else asked.beds):
            number += 1
            rng = np.random.default_rng([asked.seed, number])
            try:
                place, bed = random_place(rng), random_bed(rng)
            except (BedError, *REFUSALS) as error:
                done["refused"] += 1
                for word in ("needs", "given", "for example"):
                    if word not in str(error):
                        seen[f"refusal without {word!r}: {str(error)[:80]}"] += 1
                        first.setdefault(
                            f"refusal without {word!r}: {str(error)[:80]}",
                            (number, str(error)),
                        )
                continue
            kept = []

            def look(bed=bed, place=place, kept=kept):
                kept.append(bc.evaluate(bed, place))
                yield from faults(kept[0])

            run(number, "evaluated", look)
            more = (
                ("drawn", asked.drawings, lambda k=kept, r=rng: drawn(k[0], r)),
                ("viewed", asked.views, lambda b=bed, p=place: viewed(b, p, folder)),
                (
                    "printed",
                    asked.papers,
                    lambda b=bed, p=place, r=rng: papers(b, p, r, folder),
                ),
            )
            for what, most, work in more:
                if kept and done[what] < most:
                    run(number, what, work)
    for kind, many in seen.most_common():
        at, fault = first[kind]
        print(f"{many} times, first in bed {at}: {fault[:300]}")
    counts = ", ".join(f"{many} {what}" for what, many in done.items())
    print(f"{counts}; {sum(seen.values())} faults; {perf_counter() - start:.0f} s")


if __name__ == "__main__":
    main()
