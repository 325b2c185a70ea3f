"""``python -m bedcalc``: open a workbook in JupyterLab."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from bedcalc.lab.folder import find_workbook, workbook_folder
from bedcalc.lab.start import run_lab

__all__ = ["main"]


def main(arguments: list[str] | None = None) -> None:
    """Read the command line and open the workbook."""
    parser = argparse.ArgumentParser(
        prog="python -m bedcalc",
        description="Open a bedcalc workbook in JupyterLab.",
    )
    parser.add_argument(
        "workbook",
        nargs="?",
        default="00_start_here",
        help="its number or name, for example 3 or walls (default: the first)",
    )
    parser.add_argument(
        "--no-browser",
        action="store_true",
        help="print the address instead of opening a browser",
    )
    parser.add_argument(
        "--port", type=int, help="port to listen on (default: a free one)"
    )
    parser.add_argument(
        "--folder",
        type=Path,
        help="keep the workbooks in this folder; what you changed there is kept",
    )
    options = parser.parse_args(arguments)
    try:
        folder = workbook_folder(options.folder)
        workbook = find_workbook(options.workbook, folder)
    except OSError as error:
        sys.exit(f"bedcalc: {error}")
    run_lab(workbook, browser=not options.no_browser, port=options.port)


if __name__ == "__main__":
    main()
