"""The ways to set bedcalc up say the same: pyproject, conda, README and CI."""

from __future__ import annotations

import ast
import functools
import re
import sys
import tomllib
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest
import yaml
from packaging.requirements import Requirement
from packaging.specifiers import SpecifierSet
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[2]
OPEN = (
    "python3 -m venv .venv && .venv/bin/pip install -c constraints.txt -e . "
    "&& .venv/bin/python -m bedcalc"
)
TEST = (
    "python3 -m venv .venv && .venv/bin/pip install -c constraints.txt -e '.[tests]' "
    "&& .venv/bin/python -m pytest -n 2"
)


def ranges(lines: list[str]) -> dict[str, SpecifierSet]:
    """Name and range of each requirement; conda writes jupyter_server with a bar."""
    parsed = map(Requirement, lines)
    return {canonicalize_name(one.name): one.specifier for one in parsed}


@pytest.fixture(scope="module")
def project() -> dict:
    return tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]


@pytest.fixture(scope="module")
def conda() -> dict[str, SpecifierSet]:
    listed = yaml.safe_load((ROOT / "environment.yml").read_text("utf-8"))
    lines = [line for line in listed["dependencies"] if isinstance(line, str)]
    (pip,) = (part["pip"] for part in listed["dependencies"] if part not in lines)
    assert "-e ." in pip
    return ranges(lines + [line for line in pip if line != "-e ."])


def test_conda_lists_the_same_packages_with_the_same_ranges(project, conda):
    wanted = project["dependencies"] + project["optional-dependencies"]["tests"]
    expected = ranges(wanted) | {
        "python": SpecifierSet(project["requires-python"]),
        "pip": SpecifierSet(),
    }
    assert conda == expected


def test_the_versions_that_were_tried_are_exact_and_allowed(project):
    """Each package that pyproject.toml names has one version for each Python."""
    text = (ROOT / "constraints.txt").read_text("utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    tried = [Requirement(line) for line in lines]
    for python in ("3.11.9", "3.12.1", "3.13.0"):
        here = {
            "python_version": python[:4], "python_full_version": python,
            "sys_platform": "linux", "os_name": "posix", "platform_system": "Linux",
        }  # fmt: skip
        found: dict[str, list[str]] = {}
        for one in tried:
            (exact,) = one.specifier
            assert exact.operator == "==", one
            if one.marker is None or one.marker.evaluate(here):
                found.setdefault(canonicalize_name(one.name), []).append(exact.version)
        assert {name for name, many in found.items() if len(many) > 1} == set()
        wanted = project["dependencies"] + project["optional-dependencies"]["tests"]
        for name, allowed in ranges(wanted).items():
            assert allowed.contains(found[name][0]), name


#: Imported, but never without the package that brings it and promises it.
BROUGHT = {
    "markupsafe": "jinja2",
    "tornado": "jupyter-server",
    "jupyter-core": "jupyter-server",
    "traitlets": "ipywidgets",
    "jupyterlab-server": "jupyterlab",
    "ipython": "ipykernel",
}


distributions = functools.cache(packages_distributions)


def imported(folder: Path) -> set[str]:
    """The names of all distributions that the files of a folder import."""
    modules = set()
    for path in folder.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Import):
                modules |= {alias.name.split(".")[0] for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and node.level == 0:
                modules.add(node.module.split(".")[0])
    ours = {"bedcalc", "tests", "benchmarks"} | {p.stem for p in folder.glob("*.py")}
    modules -= sys.stdlib_module_names | ours
    known = distributions()
    return {canonicalize_name(known.get(name, [name])[0]) for name in modules}


@pytest.mark.parametrize(
    ("folder", "groups"),
    [("bedcalc", []), ("tests", ["tests"]), ("benchmarks", ["tests", "benchmarks"])],
)
def test_what_is_imported_is_asked_for(project, folder, groups):
    """A clone on a new machine has only what pyproject.toml names."""
    lines = list(project["dependencies"])
    for group in groups:
        lines += project["optional-dependencies"][group]
    named = set(ranges(lines))
    used = imported(ROOT / folder)
    assert used
    assert {name for name in used if BROUGHT.get(name, name) not in named} == set()


def test_every_dependency_gives_its_reason():
    """A comment stands beside each requirement in pyproject.toml."""
    text = (ROOT / "pyproject.toml").read_text("utf-8")
    lines = re.findall(r'^    "[A-Za-z][A-Za-z-]*[<>=].*$', text, flags=re.MULTILINE)
    assert len(lines) >= 15
    assert [line for line in lines if not re.search(r'",\s+# \w+', line)] == []


@pytest.mark.parametrize("command", [OPEN, TEST])
def test_readme_has_the_two_set_up_commands(command):
    text = (ROOT / "README.md").read_text("utf-8")
    assert command in [line.strip() for line in text.splitlines()]


def test_ci_runs_the_command_of_the_readme_and_needs_a_browser():
    lines = (ROOT / ".ci" / "run").read_text("utf-8").splitlines()
    assert lines[-1] == TEST
    assert "export BEDCALC_BROWSER=required" in lines


def test_the_licence_is_the_one_declared(project):
    text = (ROOT / "LICENSE").read_text("utf-8")
    assert project["license"] == "MIT" and text.startswith("MIT License")
    assert "the bedcalc authors" in text
