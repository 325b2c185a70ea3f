"""Look at a workbook without a person: open it, move a control, take pictures.

python -m tests.browser.look workbooks/00_start_here.ipynb --out bench
python -m tests.browser.look 0 --width 390 --whole --out narrow
python -m tests.browser.look 0 --scroll .v-checks --element .v-checks --out checks
python -m tests.browser.look 0 --press '.v-length ArrowRight 3' --out longer
python -m tests.browser.look 0 --click '.v-tie' --dark --out tied
"""

from __future__ import annotations

import argparse
import json
import shutil
import sys
import tempfile
import time
from pathlib import Path

from playwright.sync_api import sync_playwright

from bedcalc.lab.folder import find_workbook, workbook_folder
from tests.browser.lab import BROWSER_ARGUMENTS, Lab, find_browser
from tests.browser.sheet import SCREENSHOTS, Sheet


def _options(arguments: list[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        prog="python -m tests.browser.look",
        description=__doc__,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    add = parser.add_argument
    add("notebook", help="path of a notebook, or number or name of a workbook")
    add("--width", type=int, default=1280)
    add("--height", type=int, default=900)
    add("--out", default="look", help="name of the picture in screenshots/, or a path")
    add("--whole", action="store_true", help="the whole workbook, a screen at a time")
    add("--scroll", metavar="SELECTOR", help="bring this to the top first")
    add("--element", metavar="SELECTOR", help="the picture of this element only")
    add("--dark", action="store_true", help="in JupyterLab's dark theme")
    add("--press", action="append", default=[], metavar="'SELECTOR KEY TIMES'")
    add("--click", action="append", default=[], metavar="SELECTOR")
    add("--wait", type=float, default=0, help="seconds more before the picture")
    return parser.parse_args(arguments)


def _prepare(folder: Path, notebook: str) -> str:
    """Put a copy of the notebook where it may be changed; say its file name."""
    path = Path(notebook)
    if not path.is_file():
        path = find_workbook(notebook, workbook_folder())
    (folder / "workbooks").mkdir()
    shutil.copyfile(path, folder / "workbooks" / path.name)
    return path.name


def _look(sheet: Sheet, name: str, options: argparse.Namespace) -> None:
    start = time.monotonic()
    sheet.open(name)
    print(f"cells shown after {time.monotonic() - start:.1f} s")
    source = json.loads((sheet.lab.workbooks / name).read_text(encoding="utf-8"))
    if source["metadata"].get("bedcalc_run_on_open") is True:
        sheet.wait_until_run()
    else:
        print("the notebook does not run on opening; running it from the menu")
        sheet.run_all()
    print(f"all cells run after {time.monotonic() - start:.1f} s")
    for press in options.press:
        selector, key, times = press.rsplit(maxsplit=2)
        sheet.press(selector, key, int(times))
    for selector in options.click:
        sheet.find(selector).click()
        sheet.wait_until_idle()
    if options.scroll:
        sheet.scroll_to(options.scroll)
    sheet.page.wait_for_timeout(300 + 1000 * options.wait)
    if options.whole:
        for path in sheet.screenshots(options.out):
            print(path)
    else:
        print(sheet.screenshot(options.out, options.element or ""))
    for problem in sheet.errors() + sheet.problems:
        print(f"PROBLEM {problem}")


def main(arguments: list[str] | None = None) -> None:
    """Read the command line, open the notebook, take the pictures."""
    options = _options(arguments)
    browser_path = find_browser()
    if browser_path is None:
        sys.exit("no chromium on the path; name one in BEDCALC_CHROMIUM")
    SCREENSHOTS.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory(prefix="bedcalc_look_") as name:
        folder = Path(name)
        notebook = _prepare(folder, options.notebook)
        lab = Lab(folder, notebook, dark=options.dark)
        lab.trust(notebook)  # it may be a lesson that is being written
        with lab, sync_playwright() as p:
            browser = p.chromium.launch(
                executable_path=browser_path, args=BROWSER_ARGUMENTS
            )
            size = {"width": options.width, "height": options.height}
            _look(Sheet(browser.new_page(viewport=size), lab), notebook, options)
            browser.close()


if __name__ == "__main__":
    main()
