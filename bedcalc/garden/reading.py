"""Reading the text of a file from outside: small, whole, in a format that is known.

Every fault is a :class:`GardenError` that names the file and says what would do.
"""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

from ..text_files import FileError, decode, read_bytes, short
from .words import INLINE, KNOWN, GardenError

__all__ = [
    "FORMAT", "MOST", "entry_of", "in_toml", "line_of", "parse", "read_text",
]  # fmt: skip  # a list of names

FORMAT = 2
MOST = 400_000  # bytes of a garden file; fifty beds with two price lists are 60,000


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
        return decode(read_bytes(path, most), path.name)
    except FileError as error:
        raise GardenError(str(error)) from None


_SIZE = re.compile(r"Q_\(([^,()]+), '([^']*)'\)")
_OTHERS = {
    "(Layer(material='mix'),)": '[{ material = "mix", depth = "rest" }]',
    "Wall.named('sheet')": '"sheet"',
    "Levelling(rule='all_cut')": '{ rule = "all_cut" }',
}


def in_toml(message: str, entry: str = "") -> str:
    """A message whose example is written as one writes it in the file.

    Parameters
    ----------
    message : str
        What a bed, a place … says of an entry.
    entry : str
        Name of the entry; it goes before the example.
    """
    head, mark, example = message.rpartition("; for example ")
    if not mark or " = " in example:
        return message
    example = re.sub(r"^\w+=(?=\S)", "", example)
    if example.startswith("Layer("):
        example = '{ material = "chips", depth = "10 cm" }'
    elif example in _OTHERS:
        example = _OTHERS[example]
    elif rows := re.search(r"\(\([-\d., ()]+\)\)", example):
        example = rows[0].replace("(", "[").replace(")", "]")
    elif example in ("True", "False"):
        example = example.lower()
    elif word := re.fullmatch(r"'([^']*)'|(?!true|false)([a-z_][\w.]*)", example):
        example = f'"{word[1] or word[2]}"'
    example = _SIZE.sub(r'"\1 \2"', example)
    plain = re.match(r'["\[{\d-]|true|false', example)
    return f"{head}{mark}" + (f"{entry} = {example}" if entry and plain else example)


def entry_of(message: str) -> str:
    """Which entry a message is about: ``length``; empty if it names none."""
    words = re.findall(r"\w+", message.partition(":")[0][-200:])
    return next((word for word in reversed(words) if word in _ENTRIES), "")


_ENTRIES = frozenset().union(*KNOWN.values(), *(names for _, names in INLINE.values()))
_HEADER = re.compile(r"\s*(\[\[?)\s*([\w.\- ]+?)\s*\]")
_KEY = re.compile(r"\s*([\w\-]+)\s*=\s*(\[\s*(?:#.*)?$)?")


def _places(text: str) -> dict[tuple, int]:
    """By path of an entry: the line it stands in. Good for files as we write them."""
    found: dict[tuple, int] = {}
    counts: dict[str, int] = {}
    here: tuple = ()
    rows: tuple | None = None
    number = 0
    for line, words in enumerate(text.splitlines(), start=1):
        header, key = _HEADER.match(words), _KEY.match(words)
        if rows is not None and re.match(r"\s*[{\[]", words):
            found[(*rows, number)] = line
            number += 1
        elif header:
            parts = header[2].split(".")
            if header[1] == "[[":
                counts[header[2]] = counts.get(header[2], -1) + 1
            here, rows = (), None
            for n, part in enumerate(parts, start=1):
                here += (part,)
                listed = ".".join(parts[:n])
                here += (counts[listed],) if listed in counts else ()
            found.setdefault(here, line)
        elif key:
            found.setdefault((*here, key[1]), line)
            rows, number = ((*here, key[1]), 0) if key[2] else (None, 0)
    return found


def line_of(text: str, path: tuple, entry: str = "") -> str:
    """Where in the file an entry stands, such as ``, line 12``; empty if not found.

    Parameters
    ----------
    text : str
        Of the file.
    path : tuple
        Keys and numbers from the top of the file down to the part or the entry.
    entry : str
        Name of the entry in that part.
    """
    places = _places(text)
    for tried in ((*path, entry), (*path, "wall", entry)):
        if entry and tried in places:
            return f", line {places[tried]}"
    while path:
        if path in places:
            return f", line {places[path]}"
        path = path[:-1]
    return ""


#: a key of more than twenty parts; each part costs more than the one before
_DEEP = re.compile(
    r"""(?<![\w\-"'])(?:(?:[\w\-]+|"[^"\n]*"|'[^'\n]*')[ \t]*\.[ \t]*){20}"""
)


def parse(text: str, name: str) -> dict:
    """The text of a garden file as nested dicts, its format checked."""
    if text.count("[") + text.count("{") > 50_000 or _DEEP.search(text):
        raise GardenError(f"{name}: not a garden file (too many brackets or dots)")
    try:
        given = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError, ValueError) as error:
        raise GardenError(
            f"{name}: not a garden file ({short(str(error), 200)}); needs lines such "
            'as name = "Kale"'
        ) from None
    number = given.get("format")
    if not isinstance(number, int) or isinstance(number, bool) or number < 1:
        raise GardenError(
            f"{name}: needs a line format = {FORMAT}, given {short(number)}; "
            "is this a garden file?"
        )
    if number > FORMAT:
        raise GardenError(
            f"{name}: written in format {short(number)}, this bedcalc reads up to "
            f"{FORMAT}; a newer bedcalc will open it, and nothing was changed"
        )
    return given
