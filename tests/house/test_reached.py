"""No public function lives for its tests alone: a person's doing leads to each.

Doing starts in the code cells of the workbooks, in the README, in the command line, in
what ``bedcalc`` names as public, and in what JupyterLab loads. From there names are
followed; a name counts wherever it stands, so the test errs on the side of "reached".
"""

import ast
import json
import re
from collections import defaultdict
from pathlib import Path

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "bedcalc"
# Without readers so far: for daily weather out of a file, and the picture of the bed.
# Take these out by 2026-12-05.
UNFINISHED = (
    *("model/weather.py", "spreadsheets/weather.py", "water/sky.py"),
    "water/evapotranspiration.py",
    "assembly/parts.py",
)
# Names by which Jupyter, traitlets and argparse call us; and what tests do as a person.
CALLED_BY_LIBRARIES = {"get_state"}
AS_A_PERSON_WOULD = {"send_text", "demo_desk"}


def names_in(*trees):
    """Names, attributes and short strings (tables of names) in these trees."""
    found = set()
    for tree in trees:
        for node in ast.walk(tree):
            if isinstance(node, ast.Name):
                found.add(node.id)
            elif isinstance(node, ast.Attribute):
                found.add(node.attr)
            elif isinstance(node, ast.Constant) and isinstance(node.value, str):
                if len(node.value) < 60:
                    found.update(re.findall(r"\w+", node.value))
    return found


def without_docstring(body):
    first = body[0] if body else None
    said = isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant)
    return body[1:] if said else body


def names_of(function):
    parts = [*without_docstring(function.body), function.args]
    return names_in(*parts, *function.decorator_list)


def is_all(node):
    targets = getattr(node, "targets", ())
    return any(getattr(target, "id", "") == "__all__" for target in targets)


class House:
    """What there is (name: places), and what the body of each name speaks of."""

    def __init__(self):
        self.places, self.names = defaultdict(list), defaultdict(set)
        self.start = set()
        for file in sorted(PACKAGE.rglob("*.py")):
            where = str(file.relative_to(PACKAGE))
            for node in without_docstring(ast.parse(file.read_text("utf-8")).body):
                self.take(node, where)

    def take(self, node, where):
        if where.startswith("lab/") or where == "__main__.py":
            self.start |= names_in(node)
        if is_all(node):
            self.start |= names_in(node) if where == "__init__.py" else set()
        elif isinstance(node, ast.FunctionDef):
            self.put(node.name, where, names_of(node))
        elif isinstance(node, ast.ClassDef):
            self.take_class(node, where)
        elif not isinstance(node, ast.Import | ast.ImportFrom):
            self.start |= names_in(node)

    def take_class(self, node, where):
        about = [*node.bases, *node.keywords, *node.decorator_list]
        self.put(node.name, where, names_in(*about))
        for part in without_docstring(node.body):
            if isinstance(part, ast.FunctionDef) and not part.name.startswith("_"):
                self.put(part.name, f"{where} {node.name}", names_of(part))
            elif isinstance(part, ast.FunctionDef):
                self.names[node.name] |= names_of(part)
            else:
                self.names[node.name] |= names_in(part)

    def put(self, name, where, names):
        self.places[name].append(where)
        self.names[name] |= names

    def unreached(self, start):
        reached = self.start | start
        waiting = [name for name in reached if name in self.names]
        while waiting:
            new = self.names[waiting.pop()] - reached
            reached |= new
            waiting += [name for name in new if name in self.names]
        return sorted(
            f"{where}: {name}"
            for name, places in self.places.items()
            for where in places
            if name not in reached and not name.startswith("_")
            if not where.startswith(("lab/", *UNFINISHED))
        )


def what_people_start():
    """Names in code cells and in the README, and fields in sentences of the tables."""
    text = (ROOT / "README.md").read_text("utf-8")
    for file in sorted((ROOT / "workbooks").glob("*.ipynb")):
        for cell in json.loads(file.read_text("utf-8"))["cells"]:
            text += "".join(cell["source"]) if cell["cell_type"] == "code" else ""
    found = set(re.findall(r"\w+", text))
    for file in sorted((ROOT / "data").glob("*.csv")):
        found |= set(re.findall(r"\{(\w+)", file.read_text("utf-8")))
    return found


def test_every_public_function_is_reached():
    start = what_people_start() | CALLED_BY_LIBRARIES | AS_A_PERSON_WOULD
    assert House().unreached(start) == []


def test_what_nobody_names_is_found():
    """The finder finds: without workbooks and README much would be unreached."""
    assert len(House().unreached(set())) > 20
