"""Reopen and reload the page with all workbooks open, and count the red boxes.

    python benchmarks/reopening.py [--rounds 20] [--busy 2]

A panel that the page cannot show is a box "Click to show javascript error". Each
round opens another workbook, by turns in a fresh page and by a reload, while JupyterLab
brings the tabs of all the others back; ``--busy`` keeps so many processors at work
meanwhile. Ends with an error if a single box was seen.
"""

from __future__ import annotations

import argparse
import multiprocessing
import os
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from playwright.sync_api import Browser, sync_playwright

from tests.browser.lab import BROWSER_ARGUMENTS, Lab, find_browser
from tests.browser.sheet import Sheet

SIZE = {"width": 1280, "height": 900}
_RED = """() => [...document.querySelectorAll('.jp-OutputArea-output *')].filter(
  e => !e.children.length && /javascript error/i.test(e.textContent)).length"""
_PAPERS = """() => document.querySelectorAll(
  '.jp-NotebookPanel:not(.lm-mod-hidden) .bc').length"""


def _work() -> None:
    while True:
        sum(range(10_000))


def _count(sheet: Sheet, book: str) -> tuple[int, int]:
    """Red boxes and sheets of paper once a workbook has run."""
    sheet.wait_until_run(600)
    sheet.page.wait_for_timeout(3000)
    return sheet.page.evaluate(_RED), sheet.page.evaluate(_PAPERS)


def rounds(browser: Browser, lab: Lab, count: int) -> int:
    """Open all, then reopen by turns; print each round and give the red boxes."""
    books = sorted(p.name for p in lab.workbooks.glob("0[0-9]_*.ipynb"))
    sheet = Sheet(browser.new_page(viewport=SIZE), lab)
    found = 0
    for number in range(-len(books), count):
        book, start = books[number % len(books)], time.monotonic()
        fresh = number >= 0 and number % 2 == 0
        if fresh:
            sheet.page.close()
            sheet = Sheet(browser.new_page(viewport=SIZE), lab)
        sheet.problems.clear()
        sheet.open(book)
        red, papers = _count(sheet, book)
        if not papers:
            raise RuntimeError(f"{book}: no panel was shown at all")
        found += red
        how = "opened" if number < 0 else "fresh page" if fresh else "reload"
        print(
            f"{number + 1:3d} {how:10s} {book:22s} {papers:3d} panels {red:3d} red, "
            f"{len(sheet.problems)} other errors, {time.monotonic() - start:5.1f} s, "
            f"load {os.getloadavg()[0]:.1f}",
            *sheet.problems[:2],
            flush=True,
        )
    return found


def main() -> None:
    """Read the command line, count, and say how many."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=20)
    parser.add_argument("--busy", type=int, default=0)
    options = parser.parse_args()
    workers = [
        multiprocessing.Process(target=_work, daemon=True) for _ in range(options.busy)
    ]
    for worker in workers:
        worker.start()
    with tempfile.TemporaryDirectory(prefix="bedcalc-reopening-") as name:
        with Lab(Path(name)) as lab, sync_playwright() as playwright:
            browser = playwright.chromium.launch(
                executable_path=find_browser(), args=BROWSER_ARGUMENTS
            )
            found = rounds(browser, lab, options.rounds)
            browser.close()
    for worker in workers:
        worker.terminate()
    print(f"{found} red boxes in {options.rounds} reopenings")
    sys.exit(bool(found))


if __name__ == "__main__":
    main()
