"""Level readings as a file of their own: a row a point, to the right, down, reading."""

from __future__ import annotations

import csv
from pathlib import Path

from ..model.place import PlaceError, Survey
from .columns import NumbersError, Problems, heading, read_files
from .own_sheets import LEVELS
from .reading import read_table

__all__ = ["read_levels", "write_levels"]


def read_levels(path: str | Path) -> Survey:
    """Read level readings that a person has written down.

    Parameters
    ----------
    path : str or Path
        ``.csv``, or ``.xlsx`` with a sheet *Level readings*. The columns *To the
        right*, *Down the page* and *Down from the level line*, each with its unit.

    Raises
    ------
    NumbersError
        With row and column, what was needed and what was given, all at once.
    """
    path = Path(path)
    grids = read_files(path)
    grid = grids.get("Level readings") or next(iter(grids.values()))
    problems = Problems(path.name)
    rows = read_table(grid, LEVELS, problems, {}, optional=("name",))
    problems.stop()
    readings = tuple(
        tuple(given[key].m_as("m") for key in ("x", "y", "down")) for _, given in rows
    )
    try:
        return Survey(readings=readings)
    except PlaceError as error:
        raise NumbersError(path.name, [str(error)]) from None


def write_levels(survey: Survey | None, path: str | Path) -> Path:
    """Write level readings as a CSV to be filled in and read again."""
    path = Path(path)
    with path.open("w", newline="", encoding="utf-8-sig") as file:
        out = csv.writer(file)
        out.writerow([heading(column) for column in LEVELS])
        for n, reading in enumerate(survey.readings if survey else (), start=1):
            out.writerow([f"point {n}", *(f"{value:.10g}" for value in reading)])
    return path
