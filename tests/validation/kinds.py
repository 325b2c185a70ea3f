"""What kind of check an outside check is, and how many facts of each kind there are.

Every file of this folder says its chapter (``CHAPTER``) and the kind of those of its
checks that say nothing else (``OTHERS``); :func:`outside` marks the rest. A fact is one
number of the outside compared with ours. At most five count for one formula (or table)
against one source, so that a long table is not many facts; and a formula that nothing
in the product reaches does not count at all.

    python -m tests.validation.kinds      writes data/outside_checks.csv
"""

from __future__ import annotations

import ast
import csv
import functools
import importlib
import json
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
TABLE = ROOT / "data" / "outside_checks.csv"

KINDS = ("printed", "from memory", "library", "own derivation")
CHAPTERS = ("size", "fill", "walls", "cutting", "cost", "site", "water", "seasons")
#: libraries that only the tests use, or that the product uses for something else
LIBRARIES = (
    "PyNite", "sectionproperties", "shapely", "scipy", "ortools", "astral", "ephem",
    "numpy-financial", "uncertainties", "numpy", "refet",
)  # fmt: skip
MOST = 5  # facts of one formula against one source


@dataclass(frozen=True)
class Outside:
    """What a check says of itself."""

    kind: str
    of: str = ""
    by: str = ""
    facts: int = 0


@dataclass(frozen=True)
class Found:
    """One check of this folder, with all it says of itself and what it counts."""

    file: str
    name: str
    chapter: str
    kind: str
    of: str
    by: str
    facts: int


def outside(kind: str, of: str, by: str, facts: int = 0):
    """Mark a check of the outside.

    Parameters
    ----------
    kind : str
        ``"printed"``, ``"from memory"`` or ``"library"``.
    of : str
        The function or method of the package that is checked, or the table of data/
        (``"table roots"``).
    by : str
        Key of data/sources.csv, or the library that computes it at test time.
    facts : int
        Numbers compared in one run; the number of its parameters if left out.
    """

    def mark(check):
        check.outside = Outside(kind, of, by, facts)
        return check

    return mark


def _runs(check) -> int:
    """How often pytest runs it: the product of its lists of parameters."""
    runs = 1
    for mark in getattr(check, "pytestmark", ()):
        if mark.name == "parametrize":
            runs *= len(list(mark.args[1]))
    return runs


@functools.cache
def found() -> tuple[Found, ...]:
    """Every check of this folder."""
    return tuple(_all())


def _all() -> Iterator[Found]:
    for path in sorted(HERE.glob("test_*.py")):
        module = importlib.import_module(f"tests.validation.{path.stem}")
        if getattr(module, "CHAPTER", "") == "none":
            continue
        for name, check in vars(module).items():
            if not name.startswith("test_") or not callable(check):
                continue
            said = getattr(check, "outside", Outside(module.OTHERS))
            yield Found(
                file=path.stem,
                name=name,
                chapter=module.CHAPTER,
                kind=said.kind,
                of=said.of,
                by=said.by,
                facts=said.facts or _runs(check),
            )


@functools.cache
def reached() -> frozenset[str]:
    """Names that package and workbooks use, apart from where they are defined."""
    used: set[str] = set()
    texts = [
        (path.read_text(encoding="utf-8"), path)
        for path in (ROOT / "bedcalc").rglob("*.py")
        if path.name != "validation_cases.py"
    ]
    for book in (ROOT / "workbooks").glob("*.ipynb"):
        cells = json.loads(book.read_text(encoding="utf-8"))["cells"]
        texts += [
            ("".join(cell["source"]), book)
            for cell in cells
            if cell["cell_type"] == "code"
        ]
    for text, _ in texts:
        for top in ast.parse(text).body:
            own = getattr(top, "name", "")
            for node in ast.walk(top):
                name = getattr(node, "id", getattr(node, "attr", ""))
                if name and name != own:
                    used.add(name)
    return frozenset(used)


def counts(check: Found) -> bool:
    """Whether its facts count: the product reaches what it checks."""
    if check.kind == "own derivation" or check.of.startswith("table "):
        return True
    return check.of in reached()


def facts() -> dict[str, dict[str, int]]:
    """Facts of each chapter by kind, no more than five for a formula and a source."""
    grouped: dict[tuple, int] = defaultdict(int)
    for check in found():
        if not counts(check):
            continue
        what = check.of or f"{check.file} {check.name}"
        grouped[check.chapter, check.kind, what, check.by] += check.facts
    total = {chapter: dict.fromkeys(KINDS, 0) for chapter in CHAPTERS}
    for (chapter, kind, _, _), number in grouped.items():
        total[chapter][kind] += min(number, MOST)
    return total


def rows() -> list[list[str]]:
    """The table that a workbook shows, as it stands in data/outside_checks.csv."""
    head = ["key", *(f"{kind.replace(' ', '_')} []" for kind in KINDS)]
    made = [[*head, "source", "where"]]
    for chapter, kinds in facts().items():
        numbers = [str(kinds[kind]) for kind in KINDS]
        made.append([chapter, *numbers, "computed", "counted by tests/validation"])
    return made


def main() -> None:
    """Write the table anew."""
    with TABLE.open("w", newline="", encoding="utf-8") as file:
        csv.writer(file, lineterminator="\n").writerows(rows())
    for chapter, kinds in facts().items():
        print(chapter, kinds, "outside:", sum(kinds.values()) - kinds[KINDS[-1]])


if __name__ == "__main__":
    main()
