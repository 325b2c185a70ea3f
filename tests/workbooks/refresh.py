"""Run workbooks and store their numbers again.

    python -m tests.workbooks.refresh [--marks] [names]

Every cell is run in a fresh kernel. Number cells keep their outputs and execution
counts, which nbval compares; cells tagged ``nbval-ignore-output`` (panels, pictures)
keep none, so that a workbook stays small and holds no widget state. Every cell gets
its marks (:func:`mark`), and ``bedcalc/lab/lessons.txt`` the digests of all code
cells, without which a lesson does not run on opening; ``--marks`` writes these two
alone and runs nothing.
"""

from __future__ import annotations

import sys
from pathlib import Path

import nbformat
from nbclient import NotebookClient

from bedcalc.lab.lessons import PANEL as IGNORED
from bedcalc.lab.lessons import digest

__all__ = ["DIGESTS", "digests", "locks", "mark", "refresh"]

ROOT = Path(__file__).parents[2]
WORKBOOKS = ROOT / "workbooks"
DIGESTS = ROOT / "bedcalc" / "lab" / "lessons.txt"


def locks(cell: nbformat.NotebookNode) -> dict[str, bool]:
    """What a stray key or a double click must not do to this cell.

    No cell of a lesson can be deleted; only number cells, the worked examples in the
    open, can be edited.
    """
    number = cell.cell_type == "code" and IGNORED not in cell.metadata.get("tags", [])
    return {"deletable": False} | ({} if number else {"editable": False})


def mark(book: nbformat.NotebookNode) -> None:
    """Write the locks of every cell into its metadata."""
    for cell in book.cells:
        for name in ("deletable", "editable"):
            cell.metadata.pop(name, None)
        cell.metadata.update(locks(cell))


def digests() -> list[str]:
    """The digest of every code cell of every workbook, sorted."""
    books = [nbformat.read(p, as_version=4) for p in WORKBOOKS.glob("*.ipynb")]
    code = [c.source for b in books for c in b.cells if c.cell_type == "code"]
    return sorted(set(map(digest, code)))


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
    mark(book)
    nbformat.write(book, path)


def _write_marks(path: Path) -> None:
    book = nbformat.read(path, as_version=4)
    mark(book)
    nbformat.write(book, path)


if __name__ == "__main__":
    names = [word for word in sys.argv[1:] if word != "--marks"]
    write = _write_marks if "--marks" in sys.argv else refresh
    for name in names or sorted(p.name for p in WORKBOOKS.glob("*.ipynb")):
        write(WORKBOOKS / Path(name).name)
        print(name)
    DIGESTS.write_text("\n".join(digests()) + "\n", encoding="ascii")
