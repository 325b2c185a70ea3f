"""Reopen and reload the page with all workbooks open, and count the red boxes.

    python benchmarks/reopening.py [--rounds 20] [--busy 2]

A panel that the page cannot show is a box "Click to show javascript error". Each
round opens another workbook, by turns in a fresh page and by a reload, while JupyterLab
brings the tabs of all the others back; ``--busy`` keeps so many processors at work
meanwhile. Ends with an error if one box was seen, or one workbook did not run to its
end.
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
from playwright.sync_api import Error as PlaywrightError

from tests.browser.lab import BROWSER_ARGUMENTS, Lab, find_browser
from tests.browser.sheet import Sheet

PATIENCE = 400  # seconds for a lesson to open
SIZE = {"width": 1280, "height": 900}
_FRONT = ".jp-NotebookPanel:not(.lm-mod-hidden)"
_RED = """() => [...document.querySelectorAll('.jp-OutputArea-output *')].filter(
  e => !e.children.length && /javascript error/i.test(e.textContent)).length"""
_PAPERS = """() => document.querySelectorAll(
  '.jp-NotebookPanel:not(.lm-mod-hidden) .bc').length"""


def _work() -> None:
    while True:
        sum(range(10_000))


def _is_up(sheet: Sheet, book: str) -> bool:
    """Whether a workbook runs itself to its end; if not, say what it shows."""
    done = sheet.page.locator(f'{_FRONT}[data-bedcalc-run="done"]')
    end = time.monotonic() + PATIENCE
    try:
        done.wait_for(state="attached", timeout=PATIENCE * 1000)
        while not sheet.lab.is_idle(book, alone=True):  # other tabs come back as well
            if time.monotonic() > end:
                raise TimeoutError(f"its kernel is busy after {PATIENCE} s")
            sheet.page.wait_for_timeout(200)
        sheet.page.wait_for_timeout(3000)  # a panel that fails does so a moment later
    except (PlaywrightError, TimeoutError) as error:
        print(f"{book}: {sheet.line()!r}", error, *sheet.problems, sep="\n")
        print(sheet.lab.ask("/api/sessions"))
        return False
    return not sheet.line()


def rounds(browser: Browser, lab: Lab, count: int) -> int:
    """Open all, then reopen by turns; print each round and count the ill ones."""
    books = sorted(p.name for p in lab.workbooks.glob("0[0-9]_*.ipynb"))
    sheet = Sheet(browser.new_page(viewport=SIZE), lab)
    bad = 0
    for number in range(-len(books), count):
        book, start = books[number % len(books)], time.monotonic()
        fresh = number >= 0 and number % 2 == 0
        if fresh:
            sheet.page.close()
            sheet = Sheet(browser.new_page(viewport=SIZE), lab)
        sheet.problems.clear()
        sheet.open(book)
        up = _is_up(sheet, book)
        red, papers = sheet.page.evaluate(_RED), sheet.page.evaluate(_PAPERS)
        ill = red > 0 or not up or not papers
        bad += ill
        state = "ILL" if ill else "well"
        how = "opened" if number < 0 else "fresh page" if fresh else "reload"
        print(
            f"{number + 1:3d} {how:10s} {book:22s} {papers:3d} panels {red:3d} red, "
            f"{len(sheet.problems)} other errors, {state}, "
            f"{time.monotonic() - start:5.1f} s, load {os.getloadavg()[0]:.1f}",
            *sheet.problems[:2],
            flush=True,
        )
    return bad


def main() -> None:
    """Read the command line, reopen, and say how many ended ill."""
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
            bad = rounds(browser, lab, options.rounds)
            browser.close()
    for worker in workers:
        worker.terminate()
    print(f"{bad} of {options.rounds} reopenings and the first openings ended ill")
    sys.exit(bool(bad))


if __name__ == "__main__":
    main()
