"""The folder of workbooks a person opens: filled, renewed, searched."""

from __future__ import annotations

import hashlib
import json
import shutil
from pathlib import Path

from .lessons import source_folder

__all__ = ["find_workbook", "workbook_folder"]

#: In a person's folder: the digest of each file as it was handed out last.
_NOTE = ".bedcalc_files.json"


def workbook_folder(folder: Path | None = None) -> Path:
    """The folder to open, with the workbooks of this bedcalc in it.

    Parameters
    ----------
    folder : Path, optional
        Where a person wants the workbooks. Left out: in a checkout its own
        ``workbooks/``, from an installed package ``bedcalc_workbooks`` in the
        present folder.

    Returns
    -------
    Path
        The folder. After an upgrade its workbooks are renewed; one that a person
        changed is kept beside the new one, as "03_walls my copy.ipynb".
    """
    source = source_folder()
    if folder is None:
        if not source.is_dir():
            raise FileNotFoundError(f"the workbooks are missing: no folder {source}")
        if source.name != "_workbooks":
            return source.resolve()
        folder = Path("bedcalc_workbooks")
    folder.mkdir(parents=True, exist_ok=True)
    handed = _read_note(folder)
    for path in sorted(source.rglob("*")):
        if path.is_file() and _is_ours(path.relative_to(source)):
            _hand_out(path, path.relative_to(source), folder, handed)
    _write_note(folder, handed)
    return folder.resolve()


def _is_ours(name: Path) -> bool:
    """Whether a file came with bedcalc; a checkout may also hold a person's own."""
    own = name.name.startswith(("my_", ".")) or " my copy" in name.name
    return not own and ".ipynb_checkpoints" not in name.parts


def _hand_out(path: Path, name: Path, folder: Path, handed: dict[str, str]) -> None:
    """Bring one file up to date, keeping what a person made of it."""
    copy, new = folder / name, _digest(path)
    last, handed[name.as_posix()] = handed.get(name.as_posix()), new
    if copy.exists():
        present = _digest(copy)
        if present == new or (present != last and last == new):
            return  # up to date, or a person's version of what is still the newest
        if present != last:
            kept = _free_name(copy)
            copy.rename(kept)
            print(f"bedcalc: {copy.name} is new; yours is kept as {kept.name}")
    copy.parent.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(path, copy)


def _free_name(path: Path) -> Path:
    """A name beside this file that nothing has yet: ``03_walls my copy.ipynb``."""
    number, kept = 1, path.with_stem(f"{path.stem} my copy")
    while kept.exists():
        number += 1
        kept = path.with_stem(f"{path.stem} my copy {number}")
    return kept


def _digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def _read_note(folder: Path) -> dict[str, str]:
    try:
        note = json.loads((folder / _NOTE).read_text(encoding="utf-8"))
    except (OSError, ValueError):  # a first start, or a note that somebody damaged
        note = {}
    return note if isinstance(note, dict) else {}


def _write_note(folder: Path, handed: dict[str, str]) -> None:
    text = json.dumps(handed, indent=1, sort_keys=True)
    try:
        if _read_note(folder) != handed:
            (folder / _NOTE).write_text(text, encoding="utf-8")
    except OSError:  # a folder that cannot be written in; what is there is opened
        pass


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
        # a copy that somebody keeps beside it ("03_walls my copy") is not meant
        stems = {book.stem for book in found}
        found = [
            book
            for book in found
            if not any(book.stem.startswith(stem) for stem in stems - {book.stem})
        ]
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
