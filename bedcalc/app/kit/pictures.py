"""A picture of a panel: a live figure with its caption, its words and its numbers."""

from __future__ import annotations

import ipywidgets

from ...figures.drawing import Drawing, to_figure, update
from ...lab.shared_plotly import live_figure
from .words import plain

__all__ = ["Picture"]


#: no bar of buttons; a pair of dollar signs holds two prices, and not a formula
_CONFIG = {"displayModeBar": False, "typesetMath": False}


class Picture:
    """One figure on the page: made once, then brought up to date."""

    def __init__(self, drawing: Drawing, name: str):
        self.shown = drawing
        self.figure = to_figure(drawing, live_figure)
        self.figure._config = {**self.figure._config, **_CONFIG}
        self.alt = ipywidgets.HTML().add_class("bc-alt")
        self.numbers = ipywidgets.HTML().add_class("bc-scroll")
        self.widget = ipywidgets.VBox([self.figure, self.alt, self.numbers])
        self.widget.add_class(f"bc-figure-{name}")
        self._words(drawing)

    def size(self, width: int, height: int | None = None) -> None:
        """Make it so wide (and high), in px, where it is not yet."""
        layout = self.figure.layout
        if layout.width != width:
            layout.width = width
        if height and layout.height != height:
            layout.height = height

    def bring(self, drawing: Drawing) -> None:
        """Bring it to a new drawing, in one batch."""
        update([(self.figure, drawing, self.shown)])
        self.shown = drawing
        self._words(drawing)

    def _words(self, drawing: Drawing) -> None:
        self.alt.value = (
            f'<p class="bc-caption">{plain(drawing.caption)}</p>'
            f'<p class="bc-unseen" role="note">{plain(drawing.alt)}</p>'
        )
        self.numbers.value = (
            '<details class="bc-more"><summary>Show the numbers</summary>'
            f"<p>{plain(drawing.alt)}</p>{drawing.numbers.html()}</details>"
        )
