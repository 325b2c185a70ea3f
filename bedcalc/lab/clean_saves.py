"""A small server extension: a lesson is saved as it came, with the reader's own words.

JupyterLab saves an open notebook by itself every two minutes, with all that its cells
show and how often they ran. In our lessons that would be copies of live panels, which a
reader gets anew on opening anyway, and a checkout would be changed by reading in it. So
a cell that still has the text it came with is saved exactly as it came. What a person
wrote into a cell, or into a cell of their own, is saved, with what it showed, but
without the number of the run. Other notebooks are saved as they are.
"""

from __future__ import annotations

import copy
from typing import Any

from .lessons import FLAG, PANEL, installed

__all__ = ["as_it_came"]


def as_it_came(model: dict[str, Any], **_: Any) -> None:
    """Put a lesson that is about to be saved back to how it came.

    Parameters
    ----------
    model : dict
        What the server's contents manager saves; changed in place.
    """
    content = model.get("content")
    if model.get("type") != "notebook" or not isinstance(content, dict):
        return
    cells = content.get("cells", [])
    lesson = _lesson(cells) if content.get("metadata", {}).get(FLAG) is True else None
    if lesson is None:
        return
    content["metadata"] = copy.deepcopy(lesson["metadata"])
    came = {cell.get("id"): cell for cell in lesson["cells"]}
    content["cells"] = [_saved(cell, came.get(cell.get("id"))) for cell in cells]


def _same(cell: dict[str, Any], came: dict[str, Any] | None) -> bool:
    return came is not None and all(
        cell.get(name) == came[name] for name in ("cell_type", "source")
    )


def _lesson(cells: list[dict[str, Any]]) -> dict[str, Any] | None:
    """The lesson that these cells are, if at least half of them still are its own."""

    def shared(book: dict[str, Any]) -> int:
        came = {cell.get("id"): cell for cell in book["cells"]}
        return sum(_same(cell, came.get(cell.get("id"))) for cell in cells)

    best = max(installed(), key=shared, default=None)
    return best if best is not None and 2 * shared(best) >= len(cells) > 0 else None


def _saved(cell: dict[str, Any], came: dict[str, Any] | None) -> dict[str, Any]:
    """A cell as it is saved: as it came, or the person's own without its number."""
    saved = cell
    if _same(cell, came):
        saved = copy.deepcopy(came)
        if "trusted" in cell.get("metadata", {}):  # the server's own note, never saved
            saved["metadata"]["trusted"] = cell["metadata"]["trusted"]
    elif cell.get("cell_type") == "code":
        cell["execution_count"] = None
        if PANEL in cell.get("metadata", {}).get("tags", []):
            cell["outputs"] = []
        for output in cell.get("outputs", []):
            if "execution_count" in output:
                output["execution_count"] = None
    return saved


def _jupyter_server_extension_points() -> list[dict[str, str]]:
    return [{"module": "bedcalc.lab.clean_saves"}]


def _load_jupyter_server_extension(server: Any) -> None:
    try:
        server.contents_manager.register_pre_save_hook(as_it_came)
    except Exception as error:  # the workbook is then saved with all it shows
        server.log.info("bedcalc: workbooks are saved with their panels: %s", error)
