"""A small server extension: a saved workbook holds no drawings, only its text.

JupyterLab saves an open notebook by itself every two minutes, with all that its cells
show. In our workbooks that would be copies of live panels, which a reader gets anew on
opening anyway, and a checkout would no longer pass its tests once somebody has read in
it. So cells tagged ``nbval-ignore-output`` are saved without what they showed; what a
person writes or computes elsewhere is saved as it is. Only notebooks whose metadata
say ``bedcalc_run_on_open`` are touched.
"""

from __future__ import annotations

from typing import Any

__all__ = ["without_drawings"]

_FLAG, _TAG = "bedcalc_run_on_open", "nbval-ignore-output"


def without_drawings(model: dict[str, Any], **_: Any) -> None:
    """Take the outputs of panel cells out of a notebook that is about to be saved.

    Parameters
    ----------
    model : dict
        What the server's contents manager saves; changed in place.
    """
    content = model.get("content")
    if model.get("type") != "notebook" or not isinstance(content, dict):
        return
    if content.get("metadata", {}).get(_FLAG) is not True:
        return
    content["metadata"].pop("widgets", None)
    for cell in content.get("cells", []):
        if _TAG in cell.get("metadata", {}).get("tags", []):
            cell["outputs"], cell["execution_count"] = [], None


def _jupyter_server_extension_points() -> list[dict[str, str]]:
    return [{"module": "bedcalc.lab.clean_saves"}]


def _load_jupyter_server_extension(server: Any) -> None:
    try:
        server.contents_manager.register_pre_save_hook(without_drawings)
    except Exception as error:  # the workbook is then saved with all it shows
        server.log.info("bedcalc: workbooks are saved with their panels: %s", error)
