"""Which garden files a folder has, and which of them was open last."""

from __future__ import annotations

from pathlib import Path

from .garden import GardenError, load
from .reading import parse, read_text

__all__ = [
    "FILE", "free_path", "garden_files", "is_damaged", "opened_last", "remember",
    "set_aside",
]  # fmt: skip  # a list of names

FILE = "my_garden.toml"
POINTER = ".bedcalc_garden"  # names the file that was open last, if another than FILE


def garden_files(folder: Path) -> list[Path]:
    """The garden files of a folder, by name."""
    found = []
    for path in sorted(folder.glob("*.toml")):
        if path.name.startswith(".") or path.stat().st_size > 1_000_000:
            continue
        try:
            given = parse(read_text(path), path.name)
        except GardenError:
            continue
        if "place" in given:
            found.append(path)
    return found


def opened_last(path: Path) -> Path:
    """The file that was open last beside this one, or this one."""
    pointer = path.with_name(POINTER)
    if not pointer.is_file():
        return path
    name = pointer.read_text(encoding="utf-8", errors="replace").strip()[:200]
    named = path.with_name(Path(name).name) if Path(name).name else path
    return named if named.is_file() else path


def remember(path: Path) -> None:
    """Note that this file is the one to go on with next time."""
    pointer = path.with_name(POINTER)
    if path.name != FILE:
        pointer.write_text(path.name, encoding="utf-8")
    else:
        pointer.unlink(missing_ok=True)


def free_path(path: Path) -> Path:
    """A path like this one where no file is yet."""
    names = (path.with_stem(f"{path.stem}_{n}") for n in range(2, 10_000))
    return path if not path.exists() else next(p for p in names if not p.exists())


def is_damaged(path: Path) -> bool:
    """Whether a file is there, but is no garden any more."""
    try:
        load(path)
    except GardenError as error:
        return path.is_file() and "written in format" not in str(error)
    return False


def set_aside(path: Path) -> None:
    """Keep a file that cannot be read under another name."""
    if path.exists():
        path.replace(free_path(path.with_name(f"{path.stem}.damaged{path.suffix}")))
