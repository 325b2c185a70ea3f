"""One copy of plotly.js for all figures of a page, instead of one copy for each.

A figure that brings its drawing library along sends five megabytes. Here the server
hands the library out as a file, and :func:`address` says where; a figure of ours asks
for it (``app/kit/plot.js``). Where the server does not hand it out (another JupyterLab,
an editor, a test) each figure brings its own copy, and all else is the same.
"""

from __future__ import annotations

import importlib.metadata
import importlib.util
import os
from pathlib import Path
from typing import Any

__all__ = ["address"]

#: Where the server hands the library out: set by the server, read in its kernels.
_WHERE = "BEDCALC_PLOTLY"
_LIBRARY = "plotly.min.js"


def address() -> str:
    """Where this page finds plotly.js; empty where nobody hands it out."""
    where = os.environ.get(_WHERE, "")
    return where if where.endswith(f"?v={importlib.metadata.version('plotly')}") else ""


def _jupyter_server_extension_points() -> list[dict[str, str]]:
    return [{"module": "bedcalc.lab.shared_plotly"}]


def _load_jupyter_server_extension(server: Any) -> None:
    try:
        from jupyter_server.utils import url_path_join
        from tornado.web import StaticFileHandler

        spec = importlib.util.find_spec("plotly")
        folder = Path(spec.origin).parent / "package_data"
        if not (folder / _LIBRARY).is_file():
            raise FileNotFoundError(folder / _LIBRARY)
        address = url_path_join(server.base_url, "bedcalc", _LIBRARY)
        handler = (
            address.replace(_LIBRARY, rf"({_LIBRARY})"),
            StaticFileHandler,
            {"path": str(folder)},
        )
        server.web_app.add_handlers(".*$", [handler])
        address += f"?v={importlib.metadata.version('plotly')}"
        os.environ[_WHERE] = address  # for the kernels
    except Exception as error:  # figures then bring their own copies
        os.environ.pop(_WHERE, None)
        server.log.info("bedcalc: every figure brings its own plotly: %s", error)
