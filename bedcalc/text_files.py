"""Files from outside: one error for all of them, and their text however it was saved.

Garden, price list, readings and weather are read by their own modules. Whatever is
wrong with a file, they raise a :class:`FileError`.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

__all__ = ["FileError", "decode", "read_bytes", "short"]

SHOWN = 60  # characters of a value that a message repeats
_BOMS = (
    (b"\xef\xbb\xbf", "utf-8-sig"),
    (b"\xff\xfe", "utf-16"),
    (b"\xfe\xff", "utf-16"),
)


class FileError(ValueError):
    """A file cannot be used. The message names file, place and entry.

    It says what was needed and what was given, with an example as one writes it in that
    file. ``GardenError`` (garden) and ``NumbersError`` (prices, readings, weather, own
    numbers) are of this kind, so that one ``except`` takes them all.
    """


def short(value: Any, most: int = SHOWN) -> str:
    """A value as a message repeats it: on one line, cut where it is long.

    Parameters
    ----------
    value : object
        Text stays as it is, anything else is written as Python does.
    most : int
        Characters.
    """
    try:
        text = value[: 4 * most] if isinstance(value, str) else str(value)
    except ValueError:  # a number of more digits than Python writes
        text = "a number of thousands of digits"
    text = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    return text if len(text) <= most else f"{text[: most - 1]}…"


def read_bytes(path: Path, most: int) -> bytes:
    """What stands in a small file.

    Raises
    ------
    FileError
        If it is missing, a folder, too large or cannot be opened.
    """
    try:
        if path.is_dir():
            raise FileError(f"{path.name}: is a folder; needs a file")
        with path.open("rb") as file:
            raw = file.read(most + 1)
    except FileError:
        raise
    except FileNotFoundError:
        raise FileError(
            f"{short(path.name)}: there is no such file; save one first, or check the "
            "name"
        ) from None
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or "not a name for a file"
        raise FileError(f"{short(path.name)}: cannot be read ({why})") from None
    if len(raw) > most:
        raise FileError(f"{path.name}: needs at most {most:,} bytes; given more")
    return raw


def decode(raw: bytes, name: str) -> str:
    """Text of a file: UTF-8 or UTF-16 with or without a mark, else Western Latin.

    Raises
    ------
    FileError
        If it is not text.
    """
    code = next((code for mark, code in _BOMS if raw.startswith(mark)), "")
    if not code and b"\0" in raw[:200]:  # every second byte of plain letters is empty
        code = "utf-16-be" if raw[:1] == b"\0" else "utf-16-le"
    try:
        try:
            text = raw.decode(code or "utf-8")
        except UnicodeDecodeError:
            if code:
                raise
            text = raw.decode("cp1252")
    except UnicodeDecodeError as error:
        raise FileError(
            f"{name}: is not text that can be read (byte {error.start}); save it as "
            "UTF-8"
        ) from None
    if "\0" in text:
        raise FileError(f"{name}: needs plain text; given something else")
    return text
