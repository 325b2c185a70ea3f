"""Put one error at a time into the formulas: does a test of the chapter fail?

    .venv/bin/pip install -e '.[tests,benchmarks]'
    .venv/bin/python benchmarks/mutants.py --number 600 --seed 1 --jobs 2
    .venv/bin/python benchmarks/mutants.py --chapters walls --number 150

The changes are those of cosmic-ray: a sign or an operator, a comparison, a number, a
condition, a loop that is left out. They are drawn by a seed over the modules of a
chapter and tried in a copy of the project outside the checkout. Each is run against the
tests of its chapter only; none of these compares with stored output. A change with
which the package cannot even be imported does not count, nor one that changes nothing
(listed with its reason in mutants_alike.csv). The search for a cut plan is left out
(SEARCH).

One run of the unchanged tests notes which test calls which function. The tests that
call the changed function go first, the quickest at the head; the others follow only
when all of these pass.
"""

from __future__ import annotations

import argparse
import ast
import compileall
import csv
import difflib
import importlib
import io
import json
import multiprocessing
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
from contextlib import redirect_stderr, redirect_stdout, suppress
from pathlib import Path
from py_compile import PycInvalidationMode
from time import monotonic, sleep

from cosmic_ray.ast import Visitor, get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.plugins import get_operator, operator_names
from mutant_tests import Note, Order, place_of

ROOT = Path(__file__).parents[1]
#: chapter: the tests that look after it
CHAPTERS = {
    "size": ("tests/size", "tests/validation/test_size_*"),
    "fill": ("tests/fill", "tests/validation/test_fill_*"),
    "walls": ("tests/walls", "tests/validation/test_walls_*"),
    "cutting": ("tests/cutting", "tests/validation/test_cutting_*"),
    "cost": (
        "tests/cost",
        "tests/validation/test_cost_*",
        "tests/validation/test_finance_*",
    ),
    "site": (
        "tests/site",
        "tests/validation/test_site_*",
        "tests/validation/test_water_*",
    ),
}
#: looks after every chapter
EVERY = ("tests/house/test_records.py",)
#: a change in the search for a cut plan makes it slower, or finds another plan that is
#: checked, proven and costs the same: that says little of a formula
SEARCH = {
    "branch_on_cost", "column_generation", "deadline", "diving", "first_fit",
    "least_cost", "master_problem", "pattern_diagram", "problem",
    "secondary_objective",
}  # fmt: skip
#: what the tests need of others is loaded once, in the parent of all runs
LIBRARIES = (
    "pytest", "hypothesis", "pint", "babel", "scipy.optimize", "scipy.stats",
    "scipy.ndimage", "shapely", "sectionproperties.analysis", "Pynite", "astral",
    "openpyxl", "plotly.graph_objects", "ipywidgets", "anywidget", "jsonschema",
    "tomlkit", "uncertainties", "ephem", "numpy_financial",
)  # fmt: skip
#: ends that say nothing of the tests
NO_COUNT = ("not importable", "changes nothing")
#: operators whose changes a person might make; bit operations would all be caught
_ARITHMETIC = {"Add", "Sub", "Mul", "Div", "Pow"}
_OTHERS = (
    "AddNot", "ReplaceTrueWithFalse", "ReplaceFalseWithTrue", "ReplaceAndWithOr",
    "ReplaceOrWithAnd", "NumberReplacer", "ZeroIterationForLoop", "Delete_USub",
    "Delete_Not", "ReplaceBreakWithContinue",
)  # fmt: skip


def _wanted(name: str) -> bool:
    short = name.removeprefix("core/")
    if short.startswith("ReplaceBinaryOperator_"):
        return set(short.split("_")[1:]) <= _ARITHMETIC
    if short.startswith("ReplaceComparisonOperator_"):
        return "Is" not in short
    return short.removeprefix("ReplaceUnaryOperator_") in _OTHERS


OPERATORS = sorted(name for name in operator_names() if _wanted(name))


class _Count(Visitor):
    """How many places of a module each operator could change."""

    def __init__(self, operators):
        self.operators, self.found = operators, dict.fromkeys(operators, 0)

    def visit(self, node):
        for name, operator in self.operators.items():
            self.found[name] += sum(1 for _ in operator.mutation_positions(node))
        return node


def possible(chapter: str) -> list[tuple[str, str, str, int]]:
    """Every change of a chapter as (chapter, module, operator, occurrence)."""
    operators = {name: get_operator(name)() for name in OPERATORS}
    found = []
    for path in sorted((ROOT / "bedcalc" / chapter).glob("*.py")):
        if path.name == "__init__.py" or path.stem in SEARCH:
            continue
        count = _Count(operators)
        count.walk(get_ast(path.read_text()))
        module = path.relative_to(ROOT).as_posix()
        for name, number in count.found.items():
            found += [(chapter, module, name, i) for i in range(number)]
    return found


def copied() -> Path:
    """A copy of the project whose byte code goes by the source, not by the clock."""
    there = Path(tempfile.mkdtemp(prefix="bedcalc-mutants-"))
    names = subprocess.run(
        ["git", "ls-files", "bedcalc", "data", "tests", "workbooks", "*.toml", "*.md"],
        cwd=ROOT, check=True, capture_output=True, text=True,
    ).stdout.splitlines()  # fmt: skip
    for name in names:
        if (ROOT / name).is_file():
            (there / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(ROOT / name, there / name)
    mode = PycInvalidationMode.CHECKED_HASH
    for folder in ("bedcalc", "tests"):
        compileall.compile_dir(there / folder, quiet=2, invalidation_mode=mode)
    return there


def _tests(chapter: str, root: Path) -> list[str]:
    paths = []
    for pattern in (*CHAPTERS[chapter], *EVERY):
        paths += [str(path) for path in sorted(root.glob(pattern))]
    return paths


def _pytest(tests: list[str], root: Path, plugin) -> int:
    """Run some tests here, in silence."""
    os.setsid()
    os.chdir(root)
    sys.path[:0] = [str(root)]
    with open(os.devnull, "w") as nowhere:
        os.dup2(nowhere.fileno(), 1)
        os.dup2(nowhere.fileno(), 2)
    with redirect_stdout(io.StringIO()), redirect_stderr(io.StringIO()):
        import pytest

        options = "addopts=--import-mode=importlib --strict-markers"
        return pytest.main(
            ["-x", "-q", "-p", "no:cacheprovider", "-o", options, "--no-header",
             "--tb=no", "-W", "ignore::pytest.PytestAssertRewriteWarning",
             "-p", "no:nbval", f"--rootdir={root}", *tests], plugins=[plugin]
        )  # fmt: skip


def run_tests(tests: list[str], root: Path, limit: float, plugin) -> int | None:
    """Exit code of some tests in a child of this process; None: too long."""
    sys.stdout.flush()
    child = os.fork()
    if not child:
        code = 3
        try:
            code = _pytest(tests, root, plugin)
        finally:
            os._exit(int(code))
    start = monotonic()
    while monotonic() - start < limit:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status)

        sleep(0.02)
    os.killpg(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return None


def _line(before: str, after: str) -> str:
    """What was changed, on one line."""
    rows = difflib.unified_diff(before.splitlines(), after.splitlines(), n=0)
    kept = [r for r in rows if r[:1] in "+-" and r[:3] not in ("+++", "---")]
    gone = " ".join(r[1:].strip() for r in kept if r[0] == "-")
    come = " ".join(r[1:].strip() for r in kept if r[0] == "+")
    return f"{gone}  ->  {come}"


def _first_difference(before: str, after: str) -> int:
    pairs = zip(before.splitlines(), after.splitlines(), strict=False)
    return next((n for n, (one, two) in enumerate(pairs, 1) if one != two), 1)


def _decided(chapter: str, place: str, root: Path, limit: float, seen: dict):
    """Exit code of the tests that call a changed place, then of the others."""
    callers = {test for test, note in seen.items() if place in note["calls"]}
    files = sorted({str(root / test.split("::")[0]) for test in callers})
    code = 0
    if files:
        order = Order(seen, callers.__contains__)
        code = run_tests(files, root, limit, order)
    if code == 0:
        order = Order(seen, lambda test: test not in callers)
        code = run_tests(_tests(chapter, root), root, limit, order)
    return 0 if code == 5 else code  # 5: there were no others


def _ordered_words(after: str, line: int) -> bool:
    """Whether a text is compared by < or >, which nobody writes by mistake."""
    order = (ast.Lt, ast.LtE, ast.Gt, ast.GtE)
    return any(
        isinstance(node, ast.Compare)
        and node.lineno <= line <= node.end_lineno
        and any(isinstance(op, order) for op in node.ops)
        and any(
            isinstance(side, ast.Constant) and isinstance(side.value, str)
            for side in (node.left, *node.comparators)
        )
        for node in ast.walk(ast.parse(after))
    )


def work(job) -> list[dict]:
    """Try a share of the changes in a copy of its own."""
    share, limits, seen = job
    root = copied()
    for name in LIBRARIES:
        with suppress(ImportError):
            importlib.import_module(name)
    for chapter in {change[0] for change in share}:  # keeps the byte code of its tests
        run_tests(_tests(chapter, root), root, 600, Order({}, lambda test: False))
    os.environ["PYTHONDONTWRITEBYTECODE"] = "1"
    sys.dont_write_bytecode = True
    found = []
    try:
        for chapter, module, name, at in share:
            path = root / module
            before = path.read_text()
            after = mutate_code(before, get_operator(name)(), at)
            if after is None or after == before:
                continue
            line = _first_difference(before, after)
            if _ordered_words(after, line):
                continue
            place = place_of(module, before, line)
            start = monotonic()
            path.write_text(after)
            try:
                code = _decided(chapter, place, root, limits[chapter], seen[chapter])
            finally:
                path.write_text(before)
            row = dict(chapter=chapter, module=module, change=_line(before, after))
            row["end"] = {0: "survived", 1: "killed", None: "killed (too long)"}.get(
                code, "not importable"
            )
            if code == 0 and (Path(module).name, row["change"]) in alike():
                row["end"] = "changes nothing"
            found.append(row)
            took = f"{monotonic() - start:5.1f} s"
            print(f"{row['end']:18} {took} {module}: {row['change']}", flush=True)
    finally:
        shutil.rmtree(root, ignore_errors=True)
    return found


def alike() -> dict[tuple[str, str], str]:
    """Changes that no test can notice, by file and change, each with its reason."""
    with (ROOT / "benchmarks" / "mutants_alike.csv").open(newline="") as file:
        return {(r["file"], r["change"]): r["reason"] for r in csv.DictReader(file)}


def main() -> None:
    """Draw, try, print what survived and how many were caught."""
    read = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    read.add_argument("--number", type=int, default=600)
    read.add_argument("--seed", type=int, default=1)
    read.add_argument("--jobs", type=int, default=1)
    read.add_argument("--chapters", default=",".join(CHAPTERS))
    asked = read.parse_args()
    chapters = asked.chapters.split(",")
    every = [change for chapter in chapters for change in possible(chapter)]
    draw = random.Random(asked.seed)
    # a tenth more, for what is drawn and left out
    chosen = draw.sample(every, min(round(1.1 * asked.number), len(every)))
    root, limits, seen = copied(), {}, {}
    try:
        for chapter in chapters:
            start, notes = monotonic(), root / f"{chapter}.json"
            code = run_tests(_tests(chapter, root), root, 1200, Note(root, notes))
            if code != 0:
                sys.exit(f"{chapter}: its tests end with {code} without any change")
            limits[chapter] = 3 * (monotonic() - start) + 10
            seen[chapter] = json.loads(notes.read_text())
            print(f"{chapter}: tests pass in {monotonic() - start:.1f} s", flush=True)
    finally:
        shutil.rmtree(root, ignore_errors=True)
    jobs = [(chosen[n :: asked.jobs], limits, seen) for n in range(asked.jobs)]
    with multiprocessing.get_context("spawn").Pool(asked.jobs) as pool:
        rows = [row for found in pool.map(work, jobs) for row in found]
    print(f"\n{len(every)} possible changes, {len(rows)} drawn with seed {asked.seed}")
    for chapter in chapters:
        mine = [r for r in rows if r["chapter"] == chapter]
        count = [r for r in mine if r["end"] not in NO_COUNT]
        dead = [r for r in count if r["end"].startswith("killed")]
        if count:
            share = len(dead) / len(count)
            print(f"{chapter:8} {len(dead):4} of {len(count):4} caught, {share:.1%}")
    print("\nSurvived:")
    for row in rows:
        if row["end"] == "survived":
            print(f"  {row['module']}: {row['change']}")
    print("\nChange nothing:")
    for row in rows:
        if row["end"] == "changes nothing":
            why = alike()[Path(row["module"]).name, row["change"]]
            print(f"  {row['module']}: {row['change']}\n      {why}")


if __name__ == "__main__":
    main()
