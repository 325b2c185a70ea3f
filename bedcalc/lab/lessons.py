"""The lessons as they came: which cells are ours, so that only these run on opening.

A notebook may ask to be run when it is opened. JupyterLab would run whatever code it
holds, so our page (``share/labextensions/``) runs it only if every code cell is, byte
for byte, a cell of ours, or trusted by the reader's own Jupyter. Cells of ours are
those of the workbooks in the package whose digest stands in ``lessons.txt``; that file
is written by ``python -m tests.workbooks.refresh --marks``.
"""

from __future__ import annotations

import functools
import hashlib
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

__all__ = ["FLAG", "PANEL", "digest", "installed", "own_code", "source_folder"]

#: In the metadata of a notebook that asks to be run on opening.
FLAG = "bedcalc_run_on_open"
#: The tag of a cell that shows a panel: its code is ours, its output is kept nowhere.
PANEL = "nbval-ignore-output"

_PACKAGE = Path(__file__).parents[1]
_LIST = Path(__file__).with_name("lessons.txt")


def source_folder() -> Path:
    """The workbooks as they came: inside an installed package, or beside a checkout."""
    inside = _PACKAGE / "_workbooks"
    return inside if inside.is_dir() else _PACKAGE.parent / "workbooks"


def digest(text: str) -> str:
    """The SHA-256 of a cell's text, as it stands in ``lessons.txt``."""
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


@functools.cache
def installed() -> list[dict[str, Any]]:
    """The workbooks of the package, as they were when they were first asked for."""
    import nbformat

    books = []
    for path in sorted(source_folder().glob("*.ipynb")):
        try:
            books.append(nbformat.read(path, as_version=4))
        except Exception:  # nbformat has no common error; such a file is no lesson
            continue
    return [book for book in books if book.metadata.get(FLAG) is True]


def own_code() -> Iterator[str]:
    """The text of every code cell that came with bedcalc and is still as it was."""
    known = set(_LIST.read_text(encoding="ascii").split())
    for book in installed():
        for cell in book["cells"]:
            if cell["cell_type"] == "code" and digest(cell["source"]) in known:
                yield cell["source"]


def sign_what_was_run(manager: Any) -> None:
    """Let a save sign a notebook that asks to be run only once its code was run.

    Jupyter signs any saved notebook without rich output. A foreign notebook that was
    opened, and saved by JupyterLab itself, would then count as trusted, and be run.

    Parameters
    ----------
    manager : ContentsManager
        The server's; it signs no other notebook differently.
    """
    check_and_sign = manager.check_and_sign
    ours = set(own_code())

    def careful(book: dict[str, Any], *arguments: Any, **options: Any) -> None:
        unknown = [
            cell
            for cell in book["cells"]
            if cell["cell_type"] == "code" and cell["source"] not in ours
        ]
        trusted = all(cell["metadata"].get("trusted") for cell in unknown)
        if book["metadata"].get(FLAG) is True and not trusted:
            for cell in book["cells"]:
                cell["metadata"].pop("trusted", None)  # a note that is never saved
            return
        check_and_sign(book, *arguments, **options)

    manager.check_and_sign = careful


def _jupyter_server_extension_points() -> list[dict[str, str]]:
    return [{"module": "bedcalc.lab.lessons"}]


def _load_jupyter_server_extension(server: Any) -> None:
    try:
        sign_what_was_run(server.contents_manager)
        page = server.web_app.settings.setdefault("page_config_data", {})
        page["bedcalcCode"] = json.dumps(sorted(set(own_code())))
    except Exception as error:  # no workbook is then run on opening; a button runs it
        server.log.info("bedcalc: no workbook is run on opening: %s", error)
