"""How fast a move of the bench is, beside a baseline in the same run.

    python benchmarks/bench.py [--moves 35]

One JupyterLab and one headless browser. In each of four notebooks the same slider is
moved by key; the time runs in the page from the key press to the frame in which the
new state is painted: the label's text, the figure's data, or for the bench its live
sentence, its strip and its scene. Then evaluate() per call and the import time, each
beside what they are built on. Medians and 95 % points; ratios are what to read.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

import nbformat  # noqa: E402
from playwright.sync_api import sync_playwright  # noqa: E402

from tests.browser.lab import BROWSER_ARGUMENTS, Lab, find_browser  # noqa: E402
from tests.browser.sheet import Sheet  # noqa: E402

LABEL = """
import ipywidgets as w
slider = w.IntSlider(value=270, min=60, max=600, step=5)
label = w.HTML("270").add_class("v-label")
slider.observe(lambda change: setattr(label, "value", str(change.new)), "value")
w.VBox([slider, label])
"""
ONE = """
import ipywidgets as w, bedcalc as bc
from bedcalc import Q_
from bedcalc.app.kit.plot import Plot
from bedcalc.figures.walls import wall_figure
garden = bc.demo_garden()
def drawn(cm):
    bed = garden["B"].change(length=Q_(cm, "cm"))
    return wall_figure(bc.evaluate(bed, garden.place))
figure = Plot(drawn(270))
slider = w.IntSlider(value=270, min=60, max=600, step=5)
def move(change):
    figure.bring(drawn(change.new))
slider.observe(move, "value")
w.VBox([slider, figure])
"""
BENCH = """
from bedcalc.app.bench import bench
board = bench("B")
board
"""
ANEW = """
import ipywidgets as w, bedcalc as bc
from IPython.display import display
from plotly.graph_objects import FigureWidget
from bedcalc import Q_
from bedcalc.figures.drawing import as_data
from bedcalc.figures.scene import scene
from bedcalc.figures.walls import wall_figure
garden = bc.demo_garden()
@w.interact(cm=w.IntSlider(value=270, min=60, max=600, step=5))
def show(cm):
    outcome = bc.evaluate(garden["B"].change(length=Q_(cm, "cm")), garden.place)
    display(w.HTML(scene(outcome).svg()))
    display(FigureWidget(as_data(wall_figure(outcome))))
    display(w.HTML(str(cm)).add_class("v-anew"))
"""

#: what has to have changed before a move counts as painted: a text, drawn figures
CASES = {
    "a bare label": (LABEL, ".v-label", 0),
    "one 2D figure in place": (ONE, "", 1),
    "the bench": (BENCH, ".bc-sentence", 1),
    "the same figures made anew": (ANEW, ".v-anew", 0),
}

_WATCH = """
() => {
  window.drawn = 0;
  for (const g of document.querySelectorAll('.js-plotly-plot'))
    g.on('plotly_afterplot', () => { window.drawn += 1; });
}
"""
_MOVE = """
([selector, figures]) => new Promise((done, fail) => {
  const text = () => selector
    ? [...document.querySelectorAll(selector)].map(e => e.textContent).join('|') : '';
  const before = text(), drawn = window.drawn || 0;
  let start = 0;
  addEventListener('keydown', () => { start = performance.now(); look(); },
    { capture: true, once: true });
  const look = () => requestAnimationFrame(() => {
    const now = performance.now();
    const changed = (!selector || (text() !== before && text() !== ''))
      && (window.drawn || 0) >= drawn + figures;
    if (changed) requestAnimationFrame(() => done(performance.now() - start));
    else if (now - start > 15000) done(-1);
    else look();
  });
})
"""


def write(folder: Path) -> None:
    """The four notebooks."""
    folder.mkdir(parents=True, exist_ok=True)
    for number, (source, _, _) in enumerate(CASES.values()):
        book = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(source)])
        book.metadata["bedcalc_run_on_open"] = True
        kernel = {"name": "python3", "display_name": "Python 3", "language": "python"}
        book.metadata["kernelspec"] = kernel
        nbformat.write(book, folder / f"case_{number}.ipynb")


def moves(sheet: Sheet, selector: str, figures: int, count: int) -> list[float]:
    """Times of some moves in ms, the first five left out."""
    page, found = sheet.page, []
    page.evaluate(_WATCH)
    handle = sheet.find(".noUi-handle")
    for i in range(count + 5):
        handle.focus()
        page.evaluate(
            "(args) => { window.timed = (" + _MOVE + ")(args); }", [selector, figures]
        )
        page.keyboard.press("ArrowRight" if i % 2 == 0 else "ArrowLeft")
        found.append(page.evaluate("() => window.timed"))
        page.wait_for_timeout(60)
        sheet.wait_until_idle()
    return found[5:]


def browser_times(count: int) -> dict[str, list[float]]:
    """Key press to painted for all cases in one run."""
    found = {}
    with tempfile.TemporaryDirectory(prefix="bedcalc-bench-") as name:
        folder = Path(name)
        write(folder / "workbooks")
        lab = Lab(folder, "case_0")
        for number in range(len(CASES)):
            lab.trust(f"case_{number}.ipynb")  # else it is not run on opening
        with lab, sync_playwright() as playwright:
            browser = playwright.chromium.launch(
                executable_path=find_browser(), args=BROWSER_ARGUMENTS
            )
            for number, (case, (_, selector, figures)) in enumerate(CASES.items()):
                page = browser.new_page(viewport={"width": 1280, "height": 900})
                sheet = Sheet(page, lab).open(f"case_{number}.ipynb").wait_until_run()
                page.wait_for_timeout(1500)
                sheet.wait_until_idle()
                found[case] = moves(sheet, selector, figures, count)
                page.close()
            browser.close()
    return found


def p95(values: list[float]) -> float:
    """The 95 % point."""
    return sorted(values)[max(0, round(0.95 * len(values)) - 1)]


def evaluate_times() -> dict[str, float]:
    """evaluate() per call in ms, median of 200, for each demo bed."""
    import bedcalc as bc

    garden, found = bc.demo_garden(), {}
    for bed in garden.beds:
        times = []
        for _ in range(200):
            start = time.perf_counter()
            bc.evaluate(bed, garden.place)
            times.append(1000 * (time.perf_counter() - start))
        found[bed.name] = statistics.median(times)
    return found


def import_times() -> dict[str, float]:
    """Import in a fresh interpreter, ms, best of 7, interleaved.

    Byte code is kept, as Python does unless it is told not to; the compiler's work of a
    very first import is not what a person waits for.
    """
    kept = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    codes = {"numpy and pint": "import numpy, pint", "bedcalc": "import bedcalc"}
    timed = "import time; t=time.perf_counter(); {}; print(time.perf_counter()-t)"
    found: dict[str, list[float]] = {name: [] for name in codes}
    for _ in range(7):
        for name, code in codes.items():
            run = subprocess.run(
                [sys.executable, "-c", timed.format(code)],
                capture_output=True, text=True, check=True, cwd=ROOT, env=kept,
            )  # fmt: skip
            found[name].append(1000 * float(run.stdout))
    return {name: min(times) for name, times in found.items()}


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--moves", type=int, default=35)
    parser.add_argument("--json", type=Path, help="write the numbers there as well")
    options = parser.parse_args()
    print(f"{platform.machine()}, Python {platform.python_version()}")
    base = None
    numbers = browser_times(options.moves)
    print(f"\nKey press to painted, ms, {options.moves} moves each")
    for case, times in numbers.items():
        late = sum(t < 0 for t in times)
        times = [t for t in times if t >= 0] or [float("nan")]
        median, high = statistics.median(times), p95(times)
        base = base or (median, high)
        print(
            f"  {case:28s} median {median:7.0f}  p95 {high:7.0f}"
            f"   x label: {median / base[0]:5.1f} {high / base[1]:5.1f}"
            + (f"   {late} never painted" if late else "")
        )
    print("\nevaluate(), ms a call, median of 200")
    calls = evaluate_times()
    print("  " + "  ".join(f"{name} {ms:.2f}" for name, ms in calls.items()))
    loads = import_times()
    ratio = loads["bedcalc"] / loads["numpy and pint"]
    print("\nimport, ms, best of 7")
    for name, ms in loads.items():
        print(f"  {name:16s} {ms:6.0f}")
    print(f"  ratio {ratio:.2f}")
    if options.json:
        text = json.dumps({"moves": numbers, "evaluate": calls, "import": loads})
        options.json.write_text(text)


if __name__ == "__main__":
    main()
