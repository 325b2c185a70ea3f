"""Reading the text of a file from outside: small, whole, in a format that is known.

Every fault is a :class:`GardenError` that names the file and says what would do.
"""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

from .garden_words import GardenError

__all__ = ["FORMAT", "MOST", "in_toml", "line_of", "parse", "read_text"]

FORMAT = 2
MOST = 1_000_000  # bytes of a garden file; fifty beds with two price lists are 60,000

_BOMS = (
    (b"\xef\xbb\xbf", "utf-8-sig"),
    (b"\xff\xfe", "utf-16"),
    (b"\xfe\xff", "utf-16"),
)


def read_text(path: Path, most: int = MOST) -> str:
    """The text of a small file, in whichever way an editor has written it.

    Parameters
    ----------
    path : Path
    most : int
        Bytes it may have.

    Raises
    ------
    GardenError
        If it is missing, a folder, too large, or not text.
    """
    try:
        if path.is_dir():
            raise GardenError(f"{path.name}: is a folder; needs a file")
        if path.stat().st_size > most:
            raise GardenError(
                f"{path.name}: needs at most {most:,} bytes, given "
                f"{path.stat().st_size:,}; is this a garden file?"
            )
        raw = path.read_bytes()
    except FileNotFoundError:
        raise GardenError(
            f"{path.name}: there is no such file; save a bed first, or check the name"
        ) from None
    except OSError as error:
        raise GardenError(f"{path.name}: cannot be read ({error.strerror})") from None
    code = next((code for mark, code in _BOMS if raw.startswith(mark)), "utf-8")
    try:
        return raw.decode(code)
    except UnicodeDecodeError as error:
        raise GardenError(
            f"{path.name}: is not a text file that can be read (byte {error.start}); "
            "save it as UTF-8"
        ) from None


def in_toml(message: str) -> str:
    """Examples of a message as one writes them in the file."""
    return re.sub(r"Q_\(([^,()]+), '([^']*)'\)", r'"\1 \2"', message)


def line_of(text: str, message: str) -> str:
    """Where in the file an entry stands, such as `` (line 12)``; empty if not found."""
    found = re.match(r"(bed|place|own\.\w+)(?: ([^,:]*))?, (\w+)", message)
    if not found:
        return ""
    part, name, entry = found.groups()
    lines, inside = text.splitlines(), part == "place"
    for number, line in enumerate(lines, start=1):
        if part == "place" and line.startswith("["):
            inside = line.strip().startswith("[place")
        elif part != "place" and re.match(r"\s*name\s*=", line):
            inside = name is not None and f'"{name}"' in line
        if inside and re.match(rf"\s*{entry}\s*=", line):
            return f" (line {number})"
    return ""


_DEEP = re.compile(r"^[^\"'#=\n]{300,}=", re.M)


def parse(text: str, name: str) -> dict:
    """The text of a garden file as nested dicts, its format checked."""
    if text.count("[") + text.count("{") > 50_000 or _DEEP.search(text):
        raise GardenError(f"{name}: not a garden file (too many brackets or dots)")
    try:
        given = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError, ValueError) as error:
        raise GardenError(f"{name}: not a garden file ({str(error)[:200]})") from None
    number = given.get("format")
    if not isinstance(number, int) or isinstance(number, bool) or number < 1:
        raise GardenError(
            f"{name}: needs a line format = {FORMAT}, given {str(number)[:40]!r}; "
            "is this a garden file?"
        )
    if number > FORMAT:
        raise GardenError(
            f"{name}: written in format {number}, this bedcalc reads up to "
            f"{FORMAT}; a newer bedcalc will open it, and nothing was changed"
        )
    return given
