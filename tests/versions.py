"""Do the quick tests pass with the oldest and with the newest versions we allow?

    python -m tests.versions                       # every Python from 3.11 to 3.13 that is found
    python -m tests.versions --python 3.13 --only lowest
    python -m tests.versions --pins                # write constraints.txt anew

Makes virtual environments in a folder of their own outside the checkout, with what
pyproject.toml allows, and runs the tests there without browser, gardens and workbooks.
``lowest`` takes the lowest version of everything that pyproject.toml names, and leaves
out the tests that need engineering libraries of others, which ask for a newer numpy.
A package called uv finds and installs the versions; it is put into that folder, too.
"""  # noqa: E501

from __future__ import annotations

import argparse
import os
import re
import shutil
import subprocess
import sys
import tempfile
import tomllib
import venv
from pathlib import Path

from packaging.requirements import Requirement

ROOT = Path(__file__).parents[1]
PYTHONS = ("3.11", "3.12", "3.13")
#: only tests ask for these, and they ask for a newer numpy than bedcalc does
OTHERS = {"pynitefea", "sectionproperties", "shapely", "ortools"}
#: not quick: a browser, whole gardens, lessons run anew
SLOW = ("browser", "gardens", "workbooks")
#: asked for beside the rest: later ones have no wheels for common Linux machines
HELD = (
    "cytriangle==1.0.4 ; python_full_version >= '3.12'",
    "cytriangle==2.0.0 ; python_full_version < '3.12'",
)
HEAD = """\
# The versions that bedcalc was tried with, for Python 3.11 and newer. pyproject.toml says
# what is allowed; this says what is known to work together, also in some years.
# Made by: python -m tests.versions --pins
"""  # noqa: E501


def project() -> dict:
    """What pyproject.toml says of the project."""
    return tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]


def wanted(without: set[str]) -> list[str]:
    """Requirements of bedcalc and of its tests, without some."""
    named = project()
    lines = named["dependencies"] + named["optional-dependencies"]["tests"]
    return [one for one in lines if Requirement(one).name.lower() not in without]


def needs_others(folder: Path) -> list[Path]:
    """Test files that import a library which the lowest versions leave out."""
    names = "|".join(sorted(OTHERS | {"pynite"}))
    asks = re.compile(rf"^\s*(?:import|from) (?:{names})\b", re.I | re.M)
    return [p for p in folder.rglob("test_*.py") if asks.search(p.read_text("utf-8"))]


def python_of(version: str) -> str | None:
    """The program of a Python version on this machine, or None."""
    kept = Path.home() / ".pyenv" / "versions"
    found = [shutil.which(f"python{version}")]
    found += map(str, sorted(kept.glob(f"{version}.*/bin/python{version}")))
    asked = "import sys, venv, ensurepip; print('%d.%d' % sys.version_info[:2])"
    for one in filter(None, found):
        said = subprocess.run([one, "-c", asked], capture_output=True, text=True)
        if said.stdout.strip() == version:
            return one
    return None


class Versions:
    """A folder for environments, with the program that fills them."""

    def __init__(self, folder: Path):
        self.folder = folder
        venv.create(folder / "uv", with_pip=True)
        self.uv = str(folder / "uv" / "bin" / "uv")
        pip = [folder / "uv" / "bin" / "python", "-m", "pip", "install", "-q", "uv"]
        subprocess.run(pip, check=True)
        self.env = os.environ | {
            "UV_PYTHON_DOWNLOADS": "never",
            "PYTHONPATH": str(ROOT),
        }

    def run(self, *words, **more) -> subprocess.CompletedProcess:
        """Run a program, from the checkout."""
        return subprocess.run(list(map(str, words)), cwd=ROOT, env=self.env, **more)

    def resolve(self, requirements: list[str], *options) -> str:
        """Exact versions for some requirements, a line each."""
        asked = self.folder / "asked.txt"
        asked.write_text("\n".join(requirements), encoding="utf-8")
        more = ("--no-header", "--no-annotate", "--only-binary", ":all:", "-q")
        words = (self.uv, "pip", "compile", asked, *more, *options)
        return self.run(*words, check=True, capture_output=True, text=True).stdout

    def tried(self, version: str, which: str, given: list[str]) -> bool:
        """Whether the quick tests pass with this Python and these versions."""
        python = python_of(version)
        home = self.folder / f"{version}-{which}"
        lowest = which == "lowest"
        how = "lowest-direct" if lowest else "highest"
        pins = self.resolve(
            wanted(OTHERS if lowest else set()), "--python", python, "--resolution", how
        )
        listed = self.folder / f"{version}-{which}.txt"
        listed.write_text(pins, encoding="utf-8")
        self.run(self.uv, "venv", "-q", "--python", python, home, check=True)
        target = ("--python", home / "bin" / "python")
        self.run(self.uv, "pip", "install", "-q", *target, "-r", listed, check=True)
        tests = ROOT / "tests"
        folders = [
            p for p in sorted(tests.iterdir()) if p.is_dir() and p.name[0] != "_"
        ]
        chosen = given or [str(p) for p in folders if p.name not in SLOW]
        ignored = [f"--ignore={p}" for p in needs_others(tests)] if lowest else []
        words = ("-m", "pytest", "-q", "-p", "no:cacheprovider", *ignored, *chosen)
        return self.run(home / "bin" / "python", *words).returncode == 0


def main() -> int:
    """Try what is asked for; 0 if everything passed."""
    ask = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    ask.add_argument("--python", choices=PYTHONS, action="append")
    ask.add_argument("--only", choices=("lowest", "newest"))
    ask.add_argument("--pins", action="store_true", help="write constraints.txt anew")
    ask.add_argument("--keep", type=Path, help="an empty folder that stays afterwards")
    ask.add_argument("tests", nargs="*", help="tests to run instead of the quick ones")
    asked = ask.parse_args()
    said, failed = [], 0
    with tempfile.TemporaryDirectory(prefix="versions-") as made:
        at = Versions(asked.keep or Path(made))
        if asked.pins:
            pins = at.resolve(
                [*wanted(set()), *HELD], "--universal", "--python-version", "3.11"
            )
            (ROOT / "constraints.txt").write_text(HEAD + pins, encoding="utf-8")
            return 0
        for version in asked.python or PYTHONS:
            if python_of(version) is None:
                said.append(f"Python {version}: not on this machine")
                continue
            for which in [asked.only] if asked.only else ("lowest", "newest"):
                good = at.tried(version, which, asked.tests)
                failed += not good
                said.append(f"Python {version}, {which}: {'pass' if good else 'FAIL'}")
    print(*said, sep="\n")
    return min(failed, 1)


if __name__ == "__main__":
    sys.exit(main())
