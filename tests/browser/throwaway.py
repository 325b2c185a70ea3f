"""Throwaway notebooks on which the harness itself is tried."""

from __future__ import annotations

from pathlib import Path

import nbformat
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook

__all__ = ["write_throwaways"]

BENCH = """\
import ipywidgets as w
from bedcalc.app.kit.plot import Plot
from bedcalc.figures.drawing import Drawing, Numbers

slider = w.IntSlider(value=3, max=10)
slider.add_class("t-slider")


def drawn(*traces):
    nothing = Numbers(caption="", headings=(), rows=())
    return Drawing(traces=traces, layout={}, annotations=(), alt="", caption="",
                   numbers=nothing)


def line(top):
    return drawn({"type": "scatter", "y": [0, top, 2 * top]})


figure = Plot(line(3))
solid = Plot(drawn({"type": "mesh3d", "x": [0, 1, 0, 0], "y": [0, 0, 1, 0],
                    "z": [0, 0, 0, 1], "i": [0, 0, 0, 1], "j": [1, 2, 1, 2],
                    "k": [2, 3, 3, 3]}))


def move(change):
    figure.bring(line(change.new))


slider.observe(move, "value")
w.VBox([slider, figure, solid])"""


def _write(path: Path, **metadata) -> None:
    """Write a small notebook: a title, a folded bench, a long text, one plain sum."""
    folded = {"jupyter": {"source_hidden": True}}
    long = "A bed stands on the lawn. " * 600
    cells = [
        new_markdown_cell("# How far does it go?"),
        new_code_cell(BENCH, metadata=folded),
        new_markdown_cell(long),
        new_code_cell("6 * 7"),
    ]
    kernel = {"name": "python3", "display_name": "Python 3", "language": "python"}
    nbformat.write(
        new_notebook(cells=cells, metadata={"kernelspec": kernel, **metadata}), path
    )


def write_throwaways(folder: Path) -> None:
    """One notebook that runs itself, one without our flag, one with a wrong flag."""
    folder.mkdir(parents=True, exist_ok=True)
    _write(folder / "flagged.ipynb", bedcalc_run_on_open=True)
    _write(folder / "plain.ipynb")
    _write(folder / "other_flag.ipynb", bedcalc_run_on_open="yes")
