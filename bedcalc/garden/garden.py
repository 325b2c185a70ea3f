"""Garden: a place with its beds, kept as a plain text file people can read and edit.

The file is TOML. A newer format is refused with a sentence, a format 1 file is read
and written back as format 2, while the file as it was stays beside it. What this
version does not know is kept, comments included. Saving writes a new file beside the
old one and swaps them at the end, so that a crash never loses the old one; the file as
it was before stays as the last good copy.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

from ..model.bed import Bed, Wall
from ..model.materials import BlockSize, FillMaterial, Person
from ..model.place import Place
from ..model.prices import PriceList
from ..tables import data_folder
from ..text_files import short
from ..units import Q_, Units
from .reading import FORMAT, entry_of, in_toml, line_of, parse, read_text
from .saving import alone, keep_copy, write_whole
from .schema import Fault, fault
from .words import INLINE, KNOWN, GardenError, read_garden, write_garden

__all__ = [
    "FORMAT", "Garden", "GardenError", "demo_garden", "last_good", "load", "new_bed",
    "read_text", "save",
]  # fmt: skip  # a list of names

_LONGEST_NAME = 55  # letters of a name that still gets a number after it

_HEAD = """\
A garden for bedcalc: one place and its beds. You may edit this file by hand.
Lengths need a unit: "2700 mm", "2.7 m", "8 ft 6 in". Layers go bottom first;
depth "rest" takes what is left, "33 percent" is a share of the fill.
"""


@dataclass(frozen=True, kw_only=True)
class Garden:
    """A place, the beds that will stand there, and all that is the reader's own.

    ``current`` is the bed that was last worked on, ``system`` the units that the reader
    sees (``"metric"`` or ``"us"``). ``fills``, ``people``, ``blocks`` and ``walls`` are
    own materials to choose from, ``price_lists`` own price lists.
    """

    place: Place
    beds: tuple[Bed, ...] = ()
    price_lists: tuple[PriceList, ...] = ()
    fills: tuple[FillMaterial, ...] = ()
    people: tuple[Person, ...] = ()
    blocks: tuple[BlockSize, ...] = ()
    walls: tuple[Wall, ...] = ()
    current: str = ""
    system: str = "metric"
    extra: dict = field(default_factory=dict, compare=False, repr=False)

    def __post_init__(self):
        for what, keys in (
            ("bed", [bed.name for bed in self.beds]),
            ("price list", [one.name for one in self.price_lists]),
            *(
                (f"own {part}", [made.key for made in getattr(self, part)])
                for part in ("fills", "people", "blocks", "walls")
            ),
        ):
            twice = sorted({key for key in keys if keys.count(key) > 1})
            if twice:
                raise GardenError(
                    f"garden: each {what} needs a name of its own; given twice: "
                    f"{', '.join(twice)}; for example 'B' and 'B2'"
                )

    @classmethod
    def empty(cls, name: str, **place) -> Garden:
        """A garden with a name and nothing else known.

        Parameters
        ----------
        name : str
        **place
            What is known of the place: any field of :class:`Place`.
        """
        return cls(place=Place.unknown(name, **place))

    @property
    def name(self) -> str:
        """The garden's name: that of its place."""
        return self.place.name

    @property
    def units(self) -> Units:
        """How its reader writes sizes and money."""
        return self.place.units(self.system)

    def __getitem__(self, name: str) -> Bed:
        for bed in self.beds:
            if bed.name == name:
                return bed
        raise KeyError(
            f"no bed {name!r} in this garden; there are "
            f"{', '.join(bed.name for bed in self.beds) or 'none'}"
        )

    def __contains__(self, name: object) -> bool:
        return any(bed.name == name for bed in self.beds)

    def __iter__(self) -> Iterator[Bed]:
        return iter(self.beds)

    def change(self, **changes) -> Garden:
        """A copy with some fields changed."""
        return replace(self, **changes)

    def with_bed(self, bed: Bed, instead_of: str = "") -> Garden:
        """A garden in which this bed stands in place of another, or is added.

        Parameters
        ----------
        bed : Bed
        instead_of : str
            Name of the bed that it replaces; its own name if left out.
        """
        old_name = instead_of or bed.name
        if old_name in self:
            beds = tuple(bed if old.name == old_name else old for old in self.beds)
        else:
            beds = (*self.beds, bed)
        return replace(self, beds=beds)

    def without_bed(self, name: str) -> Garden:
        """A garden without the bed of this name."""
        gone = self[name]
        return replace(self, beds=tuple(bed for bed in self.beds if bed is not gone))

    def free_name(self, like: str = "Bed 1") -> str:
        """A bed name that is still free: ``Bed 1``, ``Bed 2``, ``Bed 3`` …"""
        if like not in self:
            return like
        like = re.sub(r" \d+$", "", like)[:_LONGEST_NAME].rstrip()
        return next(
            name for n in range(2, 10_000) if (name := f"{like} {n}") not in self
        )


# ---- reading


def from_text(text: str, name: str = "garden") -> Garden:
    """A garden out of the text of its file; errors name the file, field and line."""
    given = parse(text, name)
    wrong = fault(given)
    try:
        if wrong is not None:
            raise wrong
        return Garden(**read_garden(given))
    except Fault as error:
        entry = entry_of(str(error))
        where = line_of(text, error.path, entry)
        said = short(in_toml(str(error), entry), 900)
        raise GardenError(f"{name}{where}: {said}") from None
    except GardenError as error:
        raise GardenError(f"{name}: {short(str(error), 900)}") from None


def load(path: str | Path) -> Garden:
    """Read a garden from its file.

    Parameters
    ----------
    path : str or Path
        A file written by :func:`save` or by hand.

    Raises
    ------
    GardenError
        If the file is not such a file, is of a newer format, or an entry will not do.
    """
    path = Path(path)
    return from_text(read_text(path), path.name)


# ---- writing


def as_document(garden: Garden, old: str = ""):
    """The garden as a TOML document; comments of the old text stay where they can."""
    import tomlkit

    document = tomlkit.parse(old) if old else tomlkit.document()
    if not old:
        for line in _HEAD.strip().splitlines():
            document.add(tomlkit.comment(line))
        document.add(tomlkit.nl())
    _update(document, write_garden(garden), "")
    return document


def _update(old, new: dict, part: str) -> None:
    """Put new entries into an old part without touching what is the same."""
    for gone in [k for k in old if k in KNOWN.get(part, ()) and k not in new]:
        del old[gone]
    for key, value in new.items():
        inner, before = f"{part}.{key}" if part else key, old.get(key)
        if isinstance(value, str) and isinstance(before, dict) and "like" in before:
            value = {"like": value}  # a wall of the list, with notes beside it
        if isinstance(value, dict) and isinstance(before, dict):
            _update(before, value, inner)
        elif inner in KNOWN and isinstance(value, list):
            _update_rows(old, key, value, inner)
        elif inner in INLINE and isinstance(before, list):
            _update_inline(old, key, value, *INLINE[inner])
        elif key not in old or before != value:
            old[key] = _item(value, inner)


def _item(value, part: str):
    """A value as it stands in the file: one row a line, a currency in one line."""
    import tomlkit

    if isinstance(value, list):
        return _folded(value)
    if part != "price_lists.currency":
        return tomlkit.item(value)
    row = tomlkit.inline_table()
    row.update(value)
    return row


def _update_inline(old, key: str, rows: list[dict], mark: str, known) -> None:
    """Rows that stand in one list: what is not known of a row stays with it."""
    before = list(old[key])
    if len(before) == len(rows) and all(
        one.get(mark, row[mark]) == row[mark]
        for one, row in zip(before, rows, strict=True)
    ):
        for one, row in zip(before, rows, strict=True):
            for gone in [name for name in one if name in known and name not in row]:
                del one[gone]
            for name, value in row.items():
                if one.get(name) != value:
                    one[name] = value
        return
    more = {one.get(mark): one for one in before}
    old[key] = _folded(
        [
            row | {n: v for n, v in more.get(row[mark], {}).items() if n not in known}
            for row in rows
        ]
    )


def _update_rows(old, key: str, rows: list[dict], part: str) -> None:
    """Parts [[beds]] and the like: matched by name, so that comments stay with them."""
    import tomlkit

    known = old.get(key, [])
    if [one.get("name") for one in known] == [one.get("name") for one in rows]:
        pairs = list(zip(known, rows, strict=True))
    else:
        by_name = {one.get("name"): one for one in known}
        pairs = [(by_name.get(row.get("name")), row) for row in rows]
        lost = [one for one in known if all(one is not p[0] for p in pairs)]
        free = [n for n, (one, _) in enumerate(pairs) if one is None]
        if len(lost) == len(free) == 1:  # one was renamed
            pairs[free[0]] = (lost[0], pairs[free[0]][1])
    listed = isinstance(known, tomlkit.items.AoT)
    if (
        listed
        and len(known) == len(pairs) > 0
        and all(one is old_one for old_one, (one, _) in zip(known, pairs, strict=True))
    ):  # a part that is put in anew gets an empty line before it each time
        for one, row in pairs:
            _update(one, row, part)
        return
    made = tomlkit.aot()
    for one, row in pairs:
        table = one if isinstance(one, tomlkit.items.Table) else tomlkit.table()
        _update(table, row, part)
        made.append(table)
    if key in old and not (rows and listed):
        del old[key]
    if rows:
        old[key] = made


def _folded(values: list):
    """A list with one entry a line, so that layers read like the bed."""
    import tomlkit

    if not all(isinstance(value, dict | list) for value in values):
        return tomlkit.item(values)
    rows = tomlkit.array()
    rows.multiline(True)
    for value in values:
        if isinstance(value, dict):
            row = tomlkit.inline_table()
            row.update(value)
            rows.append(row)
        else:
            rows.append(value)
    return rows


def last_good(path: str | Path) -> Path:
    """Where the file as it was before the last save is kept."""
    path = Path(path)
    return path.with_name(f".{path.stem}.before{path.suffix}")


def _old_text(path: Path, over: bool) -> str:
    """The text that is about to be replaced, empty if there is none."""
    if not path.exists():
        return ""
    if path.is_file() and not path.stat().st_mode & 0o222:
        raise GardenError(
            f"{path.name}: is set to read-only, so it was not changed; save under "
            "another name, or make the file writable"
        )
    try:
        load(path)
        return read_text(path)
    except GardenError as error:
        if not over or path.is_dir() or "written in format" in str(error):
            raise GardenError(
                f"{error}. It was not overwritten; save under another name, or fix "
                "the file"
            ) from None
        return ""


def save(garden: Garden, path: str | Path, *, over: bool = False) -> Path:
    """Write a garden to a file, all or nothing.

    Parameters
    ----------
    garden : Garden
    path : str or Path
        An older garden file there is replaced at the very end; its comments and what
        this version does not know are kept, its mode too. Behind a symbolic link the
        file it points to is written.
    over : bool
        Whether a file that is not a readable garden may be replaced as well.

    Returns
    -------
    Path
        The file written.

    Raises
    ------
    GardenError
        If the file there is not a garden, is of a newer format, or read-only.
    """
    path = Path(path)
    real = Path(os.path.realpath(path))
    with alone(real):
        old = _old_text(real, over)
        text = as_document(garden, old).as_string()
        if old and old != text:
            keep_copy(real, last_good(real), old)
            first = real.with_name(f".{real.stem}.format1{real.suffix}")
            if parse(old, real.name)["format"] == 1 and not first.exists():
                keep_copy(real, first, old)
        write_whole(real, text)
    return path


def new_bed(name: str) -> Bed:
    """A plain bed to start from: boards, 2.4 × 1.2 m, 40 cm, filled with soil mix."""
    return Bed(
        name=name,
        length=Q_(240, "cm"),
        width=Q_(120, "cm"),
        height=Q_(42, "cm"),
        wall=Wall.named("boards"),
    )


def demo_garden() -> Garden:
    """The invented school garden with its six beds, from data/demo_garden.toml."""
    return load(data_folder() / "demo_garden.toml")
