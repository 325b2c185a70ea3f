"""Write a file all or nothing, one writer after the other, with nothing left behind."""

from __future__ import annotations

import contextlib
import glob
import os
import shutil
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from ..text_files import FileError

try:
    import fcntl
except ImportError:  # Windows has no such lock: there the age of a file decides
    fcntl = None

__all__ = ["alone", "keep_copy", "write_whole"]

PATIENCE = 10.0  # seconds to wait for another program that is saving
OLD = 60.0  # seconds after which what a save left is cleared where there is no lock
_held: dict[Path, int] = {}


@contextlib.contextmanager
def alone(path: Path) -> Iterator[bool]:
    """Be the only program that writes files of this folder; whoever comes next waits.

    The folder itself is locked, so that no file of a lock is left. A program that is
    killed gives the lock back.

    Parameters
    ----------
    path : Path
        A file of the folder.

    Raises
    ------
    FileError
        If another program holds the folder for more than ten seconds.
    """
    folder = Path(os.path.realpath(path)).parent
    if fcntl is None or folder in _held:
        yield folder in _held
        return
    try:
        handle = os.open(folder, os.O_RDONLY)
    except OSError:
        yield False
        return
    try:
        locked = _lock(handle, path)
        _held[folder] = handle
        yield locked
    finally:
        _held.pop(folder, None)
        os.close(handle)


def _lock(handle: int, path: Path) -> bool:
    end = time.monotonic() + PATIENCE
    while True:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            return True
        except BlockingIOError:
            if time.monotonic() > end:
                raise FileError(
                    f"{path.name}: another program has been saving here for more than "
                    f"{PATIENCE:g} seconds; it was not written; try again"
                ) from None
            time.sleep(0.01)
        except OSError:  # a network drive that knows no locks
            return False


def write_whole(path: Path, text: str) -> None:
    """Put a text in place of a file; at every moment the old or the new one is there.

    Mode and owner of the old file are kept where they may be. What an earlier write was
    killed at is cleared away.

    Parameters
    ----------
    path : Path
        Not a symbolic link.
    text : str
        Written as UTF-8.
    """
    with alone(path) as locked:
        stem = glob.escape(path.stem)
        for pattern in (f".{stem}-*.new", f"..{stem}.*-*.new", f"{stem}-????????.new"):
            for left in path.parent.glob(pattern):
                with contextlib.suppress(OSError):
                    hidden = left.name.startswith(".")
                    if locked and hidden or time.time() - left.stat().st_mtime > OLD:
                        left.unlink()
        handle, name = tempfile.mkstemp(
            prefix=f".{path.stem}-", suffix=".new", dir=path.parent
        )
        try:
            with os.fdopen(handle, "w", encoding="utf-8", newline="") as file:
                file.write(text)
                file.flush()
                os.fsync(file.fileno())
            if path.exists():
                shutil.copymode(path, name)
            else:
                mask = os.umask(0)
                os.umask(mask)
                os.chmod(name, 0o666 & ~mask)
            os.replace(name, path)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise


def keep_copy(path: Path, copy: Path, text: str) -> None:
    """Keep a file that is about to be replaced under a second name.

    Both names first stand for one file, which costs nothing; where the drive has no
    such names, ``text`` is written once more.
    """
    name = path.with_name(f".{copy.stem}-{os.getpid():08d}.new")
    try:
        name.unlink(missing_ok=True)
        os.link(path, name)
        os.replace(name, copy)
        name.unlink(missing_ok=True)  # stays where both were one file already
    except OSError:
        write_whole(copy, text)
