"""What a browser test may ask for: ``lab``, ``chromium``, ``open_workbook``."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator

import pytest

from tests.browser.lab import BROWSER_ARGUMENTS, Lab, find_browser
from tests.browser.throwaway import write_throwaways


def pytest_collection_modifyitems(items):
    for item in items:
        if "chromium" in getattr(item, "fixturenames", ()):
            item.add_marker(pytest.mark.browser)


def _no_browser(reason: str) -> None:
    """Skip and say why; where a browser is required (CI), fail instead."""
    reason = f"no browser test: {reason}"
    if os.environ.get("BEDCALC_BROWSER") == "required":
        pytest.fail(f"{reason}, but BEDCALC_BROWSER=required")
    pytest.skip(reason)


# A file at a time, not a session: Playwright keeps an event loop running in this
# thread, and tests elsewhere may want to run one of their own.
@pytest.fixture(scope="module")
def chromium():
    """One running browser for a file of tests, or a skip that says what is missing."""
    path = find_browser()
    if path is None:
        _no_browser(
            "no chromium on the path; install Chromium or Chrome, "
            "or name one in BEDCALC_CHROMIUM"
        )
    from playwright.sync_api import Error, sync_playwright

    with sync_playwright() as playwright:
        try:
            browser = playwright.chromium.launch(
                executable_path=path, args=BROWSER_ARGUMENTS
            )
        except Error as error:
            _no_browser(f"{path} did not start: {error.message.splitlines()[0]}")
        yield browser
        browser.close()


@pytest.fixture(scope="module")
def lab(chromium, tmp_path_factory) -> Iterator[Lab]:
    """JupyterLab on a copy of the workbooks, started by ``python -m bedcalc``."""
    folder = tmp_path_factory.mktemp("lab")
    write_throwaways(folder / "workbooks")
    lab = Lab(folder, "flagged")
    lab.trust("flagged.ipynb")
    with lab as running:
        yield running


@pytest.fixture
def open_workbook(chromium, lab, request) -> Iterator[Callable]:
    """Open a workbook by file name; afterwards nothing may have gone wrong on its page.

    ``open_workbook("00_start_here.ipynb", width=1280, height=900)`` gives a Sheet.
    """
    from tests.browser.sheet import Sheet

    sheets = []

    def open_(workbook: str, width: int = 1280, height: int = 900) -> Sheet:
        page = chromium.new_page(viewport={"width": width, "height": height})
        sheet = Sheet(page, lab)
        sheets.append(sheet)
        return sheet.open(workbook)

    yield open_
    problems = [problem for sheet in sheets for problem in sheet.problems]
    for sheet in sheets:
        sheet.page.close()
    assert problems == [], "\n".join(problems)
