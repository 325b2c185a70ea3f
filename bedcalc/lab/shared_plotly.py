"""One copy of plotly for all live figures of a page, instead of one copy for each.

A plotly ``FigureWidget`` carries the whole drawing library with it: five megabytes are
sent and started anew for every figure. Here the server hands the library out as a file
(:func:`_load_jupyter_server_extension`), and :func:`live_figure` makes figures that all
load that one file. Where the server does not hand it out (another JupyterLab, an
editor, a test) plotly's own ``FigureWidget`` is used, which does the same, later.
"""

from __future__ import annotations

import functools
import importlib.metadata
import importlib.util
import os
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from plotly.graph_objects import FigureWidget

__all__ = ["live_figure"]

#: Where the server hands the library out: set by the server, read in its kernels.
_WHERE = "BEDCALC_PLOTLY"
_BUNDLE = "widgetbundle.js"


def live_figure(*arguments: Any, **options: Any) -> FigureWidget:
    """Make a figure that shows changes at once, as ``FigureWidget(...)`` would."""
    return _figure_class()(*arguments, **options)


@functools.cache
def _figure_class() -> type[FigureWidget]:
    from plotly.graph_objects import FigureWidget

    address = os.environ.get(_WHERE, "")
    if not address.endswith(f"?v={importlib.metadata.version('plotly')}"):
        return FigureWidget

    class LiveFigure(FigureWidget):
        """A FigureWidget that loads the page's one copy of plotly."""

        _esm = (
            (Path(__file__).parent / "live_figure.js")
            .read_text()
            .replace("new URL(ADDRESS", f"new URL({address!r}")
        )

    return LiveFigure


def _jupyter_server_extension_points() -> list[dict[str, str]]:
    return [{"module": "bedcalc.lab.shared_plotly"}]


def _load_jupyter_server_extension(server: Any) -> None:
    try:
        from jupyter_server.utils import url_path_join
        from tornado.web import StaticFileHandler

        spec = importlib.util.find_spec("plotly")
        folder = Path(spec.origin).parent / "package_data"
        if not (folder / _BUNDLE).is_file():
            raise FileNotFoundError(folder / _BUNDLE)
        address = url_path_join(server.base_url, "bedcalc", _BUNDLE)
        handler = (
            address.replace(_BUNDLE, rf"({_BUNDLE})"),
            StaticFileHandler,
            {"path": str(folder)},
        )
        server.web_app.add_handlers(".*$", [handler])
        address += f"?v={importlib.metadata.version('plotly')}"
        # for the page (extension/), which loads it ahead, and for the kernels
        page = server.web_app.settings.setdefault("page_config_data", {})
        page["bedcalcPlotly"] = address
        os.environ[_WHERE] = address
    except Exception as error:  # figures then bring their own copies
        os.environ.pop(_WHERE, None)
        server.log.info("bedcalc: every figure brings its own plotly: %s", error)
