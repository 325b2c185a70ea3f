"""Run workbooks and store their numbers again.

    python -m tests.workbooks.refresh [names]

Every cell is run in a fresh kernel. Number cells keep their outputs and execution
counts, which nbval compares; cells tagged ``nbval-ignore-output`` (panels, pictures)
keep none, so that a workbook stays small and holds no widget state.
"""

from __future__ import annotations

import sys
from pathlib import Path

import nbformat
from nbclient import NotebookClient

__all__ = ["refresh"]

WORKBOOKS = Path(__file__).parents[2] / "workbooks"
IGNORED = "nbval-ignore-output"


def refresh(path: Path) -> None:
    """Run one workbook and write it back."""
    book = nbformat.read(path, as_version=4)
    NotebookClient(
        book,
        timeout=300,
        kernel_name="python3",
        resources={"metadata": {"path": str(path.parent)}},
        store_widget_state=False,
    ).execute()
    book.metadata.pop("widgets", None)
    for cell in book.cells:
        if cell.cell_type != "code":
            continue
        cell.metadata.pop("execution", None)
        if IGNORED in cell.metadata.get("tags", []):
            cell.outputs, cell.execution_count = [], None
    nbformat.write(book, path)


if __name__ == "__main__":
    for name in sys.argv[1:] or sorted(p.name for p in WORKBOOKS.glob("*.ipynb")):
        refresh(WORKBOOKS / Path(name).name)
        print(name)
