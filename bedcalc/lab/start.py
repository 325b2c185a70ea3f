"""Find a workbook and start JupyterLab on it."""

from __future__ import annotations

import json
import os
import shutil
import sys
import tempfile
from pathlib import Path
from urllib.parse import quote

__all__ = ["find_workbook", "run_lab", "workbook_folder"]

_HERE = Path(__file__).parent
_PACKAGE = _HERE.parent
_OWN = {"my_garden.toml", ".ipynb_checkpoints"}  # a person's own, never handed on


def _source_folder() -> Path:
    """The workbooks as they came: inside an installed package, or beside a checkout."""
    inside = _PACKAGE / "_workbooks"
    return inside if inside.is_dir() else _PACKAGE.parent / "workbooks"


def workbook_folder(folder: Path | None = None) -> Path:
    """The folder to open, filled with workbooks where it lacks them.

    Parameters
    ----------
    folder : Path, optional
        Where a person wants the workbooks. Left out: in a checkout its own
        ``workbooks/``, from an installed package ``bedcalc_workbooks`` in the
        present folder.

    Returns
    -------
    Path
        The folder. A file that is already there is never overwritten.
    """
    source = _source_folder()
    if folder is None:
        if not source.is_dir():
            raise FileNotFoundError(f"the workbooks are missing: no folder {source}")
        if source.name != "_workbooks":
            return source.resolve()
        folder = Path("bedcalc_workbooks")
    folder.mkdir(parents=True, exist_ok=True)
    for path in sorted(source.rglob("*")):
        copy = folder / path.relative_to(source)
        if path.is_dir() or copy.exists() or _OWN & set(path.parts):
            continue
        copy.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(path, copy)
    return folder.resolve()


def find_workbook(wanted: str, folder: Path) -> Path:
    """The workbook meant by a number (``3``), a word of its name, or its file name.

    Raises
    ------
    FileNotFoundError
        If none or several fit; the message lists what there is.
    """
    books = sorted(folder.glob("*.ipynb"))
    word = wanted.strip().lower().removesuffix(".ipynb")
    tests = (
        lambda stem: stem == word,
        lambda stem: word.isdigit() and stem.startswith(f"{int(word):02d}_"),
        lambda stem: word in stem,
    )
    for fits in tests:
        found = [book for book in books if fits(book.stem.lower())]
        if len(found) == 1:
            return found[0]
        if found:
            break
    names = ", ".join(book.stem for book in found or books) or "none"
    raise FileNotFoundError(
        f"{'several workbooks fit' if found else 'no workbook fits'} {wanted!r}; "
        f"there {'are' if found else 'is a choice of'}: {names}; "
        "give a number or a word of the name, for example 0 or walls"
    )


def _quiet_workspace(folder: Path) -> Path:
    """Write a JupyterLab workspace with both side bars closed.

    JupyterLab keeps which tabs and bars were open in a workspace. Ours starts afresh
    each time: the sheet has the whole width, and the person's own stays as it was.
    """
    layout = {
        "left": {"collapsed": True, "visible": True, "widgets": []},
        "right": {"collapsed": True, "visible": True, "widgets": []},
    }
    space = {"data": {"layout-restorer:data": layout}, "metadata": {"id": "default"}}
    try:
        from jupyterlab_server.workspaces_handler import WORKSPACE_EXTENSION, slugify

        path = folder / (slugify("default") + WORKSPACE_EXTENSION)
        path.write_text(json.dumps(space), encoding="utf-8")
    except ImportError:  # the bars are then as JupyterLab likes them
        pass
    return folder


def lab_arguments(
    workbook: Path, workspace: Path, *, browser: bool = True, port: int | None = None
) -> list[str]:
    """The command line of JupyterLab that opens this workbook with our settings."""
    arguments = [
        f"--ServerApp.root_dir={workbook.parent}",
        f"--LabApp.default_url=/lab/tree/{quote(workbook.name)}",
        f"--LabApp.app_settings_dir={_HERE / 'settings'}",
        f"--LabApp.extra_labextensions_path={_HERE / 'extension'}",
        f"--LabApp.workspaces_dir={_quiet_workspace(workspace)}",
        "--ServerApp.jpserver_extensions=bedcalc.lab.quick_socket=True",
        "--ServerApp.jpserver_extensions=bedcalc.lab.shared_plotly=True",
        "--ServerApp.jpserver_extensions=bedcalc.lab.clean_saves=True",
    ]
    if port is not None:
        arguments += [f"--ServerApp.port={port}", "--ServerApp.port_retries=0"]
    if not browser:
        arguments.append("--no-browser")
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        arguments.append("--allow-root")
    return arguments


def run_lab(workbook: Path, *, browser: bool = True, port: int | None = None) -> None:
    """Run JupyterLab on a workbook until a person ends it.

    It runs in this very process, as ``python -m jupyterlab`` would: Ctrl+C, the
    terminal's end and the token work as JupyterLab documents them, on every system.
    """
    try:
        from jupyterlab.labapp import LabApp
    except ImportError as error:
        sys.exit(f"JupyterLab is missing ({error}); install it with: pip install -e .")
    with tempfile.TemporaryDirectory(prefix="bedcalc_") as workspace:
        LabApp.launch_instance(
            lab_arguments(workbook, Path(workspace), browser=browser, port=port)
        )
