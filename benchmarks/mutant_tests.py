"""Which tests to run for a change, and in which order: two plugins of pytest."""

from __future__ import annotations

import ast
import json
import sys
from pathlib import Path
from time import perf_counter

import pytest

__all__ = ["Note", "Order", "place_of"]


class Note:
    """Write down for each test how long it takes and what functions it calls.

    What a file of tests calls while it is read counts for each of its tests.
    """

    def __init__(self, root: Path, to: Path):
        self.root, self.to, self.found = str(root / "bedcalc") + "/", to, {}
        self.read: dict[str, set[str]] = {}

    def _into(self, calls: set[str]):
        cut = len(self.root) - len("bedcalc/")

        def see(frame, event, arg):
            code = frame.f_code
            if code.co_filename.startswith(self.root):
                calls.add(f"{code.co_filename[cut:]}:{code.co_firstlineno}")

        return see

    @pytest.hookimpl(hookwrapper=True)
    def pytest_make_collect_report(self, collector):
        """Watch a file of tests while it is read."""
        calls: set[str] = set()
        sys.settrace(self._into(calls))
        yield
        sys.settrace(None)
        if isinstance(collector, pytest.File):
            self.read[collector.nodeid] = calls

    @pytest.hookimpl(hookwrapper=True)
    def pytest_runtest_protocol(self, item):
        """Watch one test with what is made for it."""
        calls = set(self.read.get(item.nodeid.split("::")[0], ()))
        start = perf_counter()
        sys.settrace(self._into(calls))
        yield
        sys.settrace(None)
        self.found[item.nodeid] = {
            "time": perf_counter() - start,
            "calls": sorted(calls | {call.split(":")[0] for call in calls}),
        }

    def pytest_sessionfinish(self):
        """Hand over what was seen."""
        self.to.write_text(json.dumps(self.found))


class Order:
    """Keep some of the tests, the quickest first."""

    def __init__(self, seen: dict, wanted):
        self.seen, self.wanted = seen, wanted

    def pytest_collection_modifyitems(self, items):
        """Leave out what is not wanted, sort the rest by time."""
        items[:] = [item for item in items if self.wanted(item.nodeid)]
        items.sort(key=lambda item: self.seen.get(item.nodeid, {"time": 0.0})["time"])


def place_of(module: str, text: str, line: int) -> str:
    """What a line belongs to, named as in ``calls``: a function, or the module."""
    first = 0
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef):
            head = min([node.lineno, *(d.lineno for d in node.decorator_list)])
            if node.body[0].lineno <= line <= node.end_lineno:
                first = max(first, head)
    return f"{module}:{first}" if first else module
