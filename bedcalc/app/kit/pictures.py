"""A picture of a panel: what is drawn, its caption, its words and its numbers."""

from __future__ import annotations

import ipywidgets

from ...figures.drawing import Drawing
from ...figures.scene import Scene
from .plot import Plot
from .words import plain

__all__ = ["FlatPicture", "Picture"]


class _Shown:
    """A picture with the words under it."""

    def __init__(self, picture: ipywidgets.Widget, drawing, name: str):
        self.shown = drawing
        self.alt = ipywidgets.HTML().add_class("bc-alt")
        self.numbers = ipywidgets.HTML().add_class("bc-scroll")
        self.widget = ipywidgets.VBox([picture, self.alt, self.numbers])
        self.widget.add_class(f"bc-figure-{name}")
        self._words(drawing)

    def _words(self, drawing) -> None:
        self.alt.value = (
            f'<p class="bc-caption">{plain(drawing.caption)}</p>'
            f'<p class="bc-unseen" role="note">{plain(drawing.alt)}</p>'
        )
        self.numbers.value = (
            '<details class="bc-more"><summary>Show the numbers</summary>'
            f"<p>{plain(drawing.alt)}</p>{drawing.numbers.html()}</details>"
        )


class Picture(_Shown):
    """One figure on the page: made once, then brought up to date."""

    def __init__(self, drawing: Drawing, name: str):
        self.plot, self._size = Plot(drawing), {}
        super().__init__(self.plot, drawing, name)

    def size(self, width: int, height: int | None = None) -> None:
        """Make it so wide (and high), in px, where it is not yet."""
        wanted = {"width": width, **({"height": height} if height else {})}
        if self._size | wanted != self._size:
            self._size |= wanted
            self.plot.bring(self.shown, **self._size)

    def bring(self, drawing: Drawing) -> None:
        """Show a new drawing."""
        self.plot.bring(drawing, **self._size)
        self.shown = drawing
        self._words(drawing)


class FlatPicture(_Shown):
    """One picture without Plotly on the page: its SVG is swapped whole."""

    def __init__(self, drawing: Scene, name: str):
        self.svg = ipywidgets.HTML(drawing.svg()).add_class("bc-picture")
        super().__init__(self.svg, drawing, name)

    def bring(self, drawing: Scene) -> None:
        """Show a new drawing."""
        self.svg.value = drawing.svg()
        self.shown = drawing
        self._words(drawing)
