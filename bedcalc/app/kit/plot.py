"""A drawing on the page, shown by Plotly's public ``react``."""

from __future__ import annotations

import functools
from pathlib import Path

import anywidget
import traitlets

from ...figures.drawing import Drawing, as_data
from ...lab.shared_plotly import address

__all__ = ["Plot"]


@functools.cache
def _module(where: str) -> str:
    """The front end: it loads plotly.js from the server, or else brings it along."""
    ours = (Path(__file__).parent / "plot.js").read_text(encoding="utf-8")
    if where:
        return ours.replace("const ADDRESS = null;", f"const ADDRESS = {where!r};")
    from plotly.offline import get_plotlyjs

    return get_plotlyjs() + "\n" + ours


class Plot(anywidget.AnyWidget):
    """A live figure; give it another drawing and it shows that one."""

    drawing = traitlets.Dict().tag(sync=True)

    def __init__(self, drawing: Drawing, **size: int):
        super().__init__(_esm=_module(address()), drawing=as_data(drawing, **size))

    def bring(self, drawing: Drawing, **size: int) -> None:
        """Show another drawing; ``size`` is its width and height in px, if given."""
        self.drawing = as_data(drawing, **size)
