"""An order in which somebody has ticked what is ordered is not written over."""

from __future__ import annotations

from pathlib import Path

from ..garden.files import free_path
from .columns import NumbersError, read_files

__all__ = ["TICKS", "keep_ticked"]

#: the columns of the order that people fill in
TICKS = ("Ordered", "Here")


def _has_ticks(path: Path) -> bool:
    """Whether a column for ticks holds something; a file we cannot read counts."""
    try:
        grids = read_files(path)
    except NumbersError:
        return True
    for grid in grids.values():
        places: list[int] = []
        for _, cells in grid.lines:
            if set(TICKS) <= {str(cell).strip() for cell in cells}:
                places = [n for n, c in enumerate(cells) if str(c).strip() in TICKS]
            elif any(n < len(cells) and str(cells[n] or "").strip() for n in places):
                return True
    return False


def keep_ticked(*paths: Path) -> list[str]:
    """Put orders with ticks aside under another name.

    Parameters
    ----------
    *paths : Path
        Files about to be written.

    Returns
    -------
    list of str
        Names under which they now are; empty if none had ticks.
    """
    kept = []
    for path in paths:
        if path.is_file() and _has_ticks(path):
            beside = free_path(path.with_stem(f"{path.stem}_ticked"))
            path.rename(beside)
            kept.append(beside.name)
    return kept
