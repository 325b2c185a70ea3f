"""A real JupyterLab, started as a person starts it, on a copy of the workbooks."""

from __future__ import annotations

import json
import os
import secrets
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

import nbformat
from nbformat.sign import NotebookNotary

__all__ = ["BROWSER_ARGUMENTS", "WEBGL_ARGUMENTS", "Lab", "find_browser"]

#: As on a machine without a graphics card: nothing but a view that turns needs one.
BROWSER_ARGUMENTS = ["--disable-gpu", "--disable-dev-shm-usage"]
#: What makes the processor draw 3D all the same; slow for everything else.
WEBGL_ARGUMENTS = [
    "--use-gl=angle",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
]
if hasattr(os, "geteuid") and os.geteuid() == 0:
    BROWSER_ARGUMENTS.append("--no-sandbox")  # chromium refuses its sandbox to root

_NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")


def find_browser() -> str | None:
    """The path of a Chromium: ``BEDCALC_CHROMIUM``, or the first one on the path."""
    named = os.environ.get("BEDCALC_CHROMIUM")
    if named:
        return shutil.which(named)
    return next(filter(None, map(shutil.which, _NAMES)), None)


def _free_port() -> int:
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        return listener.getsockname()[1]


class Lab:
    """JupyterLab run by ``python -m bedcalc --no-browser``; a context manager.

    Parameters
    ----------
    folder : Path
        The workbooks are copied into ``folder/workbooks``, beside what is there; logs
        and all of JupyterLab's own files stay in ``folder`` too.
    workbook : str
        The workbook to start with.
    dark : bool
        Whether JupyterLab wears its dark theme.
    """

    def __init__(
        self, folder: Path, workbook: str = "00_start_here", *, dark: bool = False
    ):
        self.folder, self.workbook, self.dark = folder, workbook, dark
        self.workbooks = folder / "workbooks"
        self.log = folder / "lab.log"  # what a person reads in the terminal
        self.server_log = folder / "jupyter" / "runtime" / "bedcalc.log"
        self.port, self.token = _free_port(), secrets.token_hex(16)
        self.address = f"http://127.0.0.1:{self.port}"

    def __enter__(self) -> Lab:
        self.start()
        return self

    def start(self) -> None:
        """Start the server, or start it again where it was, and wait until it is up."""
        self.workbooks.mkdir(parents=True, exist_ok=True)
        own = {f"JUPYTER_{kind}_DIR": f"{self.folder / 'jupyter' / kind.lower()}"
               for kind in ("CONFIG", "DATA", "RUNTIME")}  # fmt: skip
        own |= {"IPYTHONDIR": f"{self.folder / 'ipython'}", "JUPYTER_TOKEN": self.token}
        if self.dark:
            self._wear_dark()
        command = [sys.executable, "-m", "bedcalc", self.workbook, "--no-browser"]
        command += ["--port", str(self.port), "--folder", str(self.workbooks)]
        with self.log.open("ab") as log:
            self._process = subprocess.Popen(
                command,
                cwd=self.folder,
                env=os.environ | own,
                stdin=subprocess.DEVNULL,
                stdout=log,
                stderr=subprocess.STDOUT,
            )
        try:
            self._wait_until_ready()
        except BaseException:
            self.stop()
            raise

    def _wear_dark(self) -> None:
        themes = "@jupyterlab/apputils-extension/themes.jupyterlab-settings"
        settings = self.folder / "jupyter" / "config" / "lab" / "user-settings" / themes
        settings.parent.mkdir(parents=True, exist_ok=True)
        settings.write_text('{"theme": "JupyterLab Dark"}')

    def __exit__(self, *_) -> None:
        self.stop()

    def _wait_until_ready(self, seconds: float = 90) -> None:
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            if self._process.poll() is not None:
                break
            try:
                self.ask("/api/status")
                return
            except (urllib.error.URLError, ConnectionError):
                time.sleep(0.1)
        raise RuntimeError(f"JupyterLab did not start:\n{self.log.read_text()}")

    def trust(self, workbook: str) -> None:
        """Sign a notebook in the name of this Jupyter's reader, who trusts it."""
        data = str(self.folder / "jupyter" / "data")
        Path(data).mkdir(parents=True, exist_ok=True)
        notary = NotebookNotary(data_dir=data)
        notary.sign(nbformat.read(self.workbooks / workbook, as_version=4))
        notary.store.close()

    def stop(self) -> None:
        """End the server and its kernels."""
        self._process.terminate()  # the server then ends its kernels itself
        try:
            self._process.wait(20)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait()

    def ask(self, path: str):
        """The server's answer to a question such as ``/api/kernels``."""
        request = urllib.request.Request(
            self.address + path, headers={"Authorization": f"token {self.token}"}
        )
        return self._answer(request)

    @staticmethod
    def _answer(request: urllib.request.Request, seconds: float = 60):
        end = time.monotonic() + seconds
        while True:
            try:
                with urllib.request.urlopen(request, timeout=seconds) as answer:
                    return json.load(answer)
            except urllib.error.HTTPError as error:
                # the server stumbles while a kernel comes or goes
                if time.monotonic() > end or error.code != 500:
                    raise
                time.sleep(0.5)

    def restart_kernels(self) -> None:
        """As somebody does who comes back the next day."""
        for kernel in self.ask("/api/kernels"):
            request = urllib.request.Request(
                f"{self.address}/api/kernels/{kernel['id']}/restart",
                method="POST",
                headers={"Authorization": f"token {self.token}"},
            )
            assert self._answer(request)["id"] == kernel["id"]

    def is_idle(self, workbook: str, *, alone: bool = False) -> bool:
        """Whether the kernel of this workbook is idle, and (or ``alone``) none busy.

        A kernel whose page was left before it was up says "starting" for ever; it has
        nothing to do with the workbook in front.
        """
        states = {
            session["path"]: session["kernel"]["execution_state"]
            for session in self.ask("/api/sessions")
            if session["kernel"]
        }
        return states.get(workbook) == "idle" and (
            alone or "busy" not in states.values()
        )

    def url(self, path: str) -> str:
        """The address of a page, with the token."""
        return f"{self.address}{path}?token={self.token}"
