"""Start JupyterLab on a workbook, quietly, and say where things are."""

from __future__ import annotations

import json
import os
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TextIO
from urllib.parse import quote

__all__ = ["lab_arguments", "run_lab"]

_HERE = Path(__file__).parent
_LOG_LIMIT = 1_000_000  # bytes; a longer log of earlier days is begun afresh


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
        f"--LabApp.workspaces_dir={_quiet_workspace(workspace)}",
    ]
    if port is not None:
        arguments += [f"--ServerApp.port={port}", "--ServerApp.port_retries=0"]
    if not browser:
        arguments.append("--no-browser")
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        arguments.append("--allow-root")
    return arguments


def _bring_our_settings() -> None:
    """Put our settings and our piece of the page beside the person's own.

    On the command line they would replace the person's list of extensions; on
    JupyterLab's search paths they are merged with it.
    """
    for name, ours in (("JUPYTER_CONFIG_PATH", "config"), ("JUPYTER_PATH", "share")):
        paths = [str(_HERE / ours), os.environ.get(name, "")]
        os.environ[name] = os.pathsep.join(filter(None, paths))


@contextmanager
def _log_in_a_file() -> Iterator[tuple[Path, TextIO]]:
    """Send what the server and its kernels report into a file, until the end.

    Gives the file, and the terminal for what a person should see all the same.
    """
    from jupyter_core.paths import jupyter_runtime_dir

    folder = Path(jupyter_runtime_dir())  # for this person's eyes only, as the token is
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    path = folder / "bedcalc.log"
    fresh = not path.exists() or path.stat().st_size > _LOG_LIMIT
    path.touch(mode=0o600)
    sys.stderr.flush()
    with (
        path.open("w" if fresh else "a", encoding="utf-8") as log,
        os.fdopen(os.dup(2), "w", encoding="utf-8", errors="replace") as terminal,
    ):
        os.dup2(log.fileno(), 2)
        try:
            yield path, terminal
        finally:
            sys.stderr.flush()
            os.dup2(terminal.fileno(), 2)


def first_words(address: str, folder: Path, log: Path) -> str:
    """What a person reads in the terminal once the server is up."""
    return (
        f"bedcalc is running. If your browser does not show it, open: {address}\n"
        f"To stop it, press Ctrl+C here, twice. To go on another day: {_again()}\n"
        f"Your work is saved in {folder} (the server's log: {log})\n"
    )


def _again() -> str:
    """The command that starts the installed bedcalc again, from this folder."""
    python = Path(sys.executable)
    if python.is_relative_to(Path.cwd()):
        python = python.relative_to(Path.cwd())
    return f"{python} -m bedcalc"


def run_lab(workbook: Path, *, browser: bool = True, port: int | None = None) -> None:
    """Run JupyterLab on a workbook until a person ends it.

    It runs in this very process, as ``python -m jupyterlab`` would: Ctrl+C, the
    terminal's end and the token work as JupyterLab documents them, on every system.
    """
    try:
        from jupyterlab.labapp import LabApp
    except ImportError as error:
        sys.exit(f"JupyterLab is missing ({error}); install it with: pip install -e .")
    _bring_our_settings()
    with (
        tempfile.TemporaryDirectory(prefix="bedcalc_") as workspace,
        _log_in_a_file() as (log, terminal),
    ):
        begun = log.stat().st_size
        arguments = lab_arguments(workbook, Path(workspace), browser=browser, port=port)
        try:
            server = LabApp.initialize_server(argv=arguments)
            address = server.display_url.split()[0]
            print(first_words(address, workbook.parent, log), flush=True)
            server.start()
        except BaseException as error:
            if not isinstance(error, SystemExit) or error.code:
                _say_why(terminal, log, begun, error)
            raise


def _say_why(terminal: TextIO, log: Path, begun: int, error: BaseException) -> None:
    """Show the last lines of this start's log where a person looks."""
    with log.open("rb") as lines:
        lines.seek(begun)
        last = lines.read().decode("utf-8", "replace").strip().splitlines()[-8:]
    said = "" if isinstance(error, SystemExit) else f" ({error!r})"
    print(f"bedcalc: JupyterLab ended by itself{said}; its log: {log}", file=terminal)
    print("\n".join(last), file=terminal, flush=True)
