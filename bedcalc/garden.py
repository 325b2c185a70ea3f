"""Garden: a place with its beds, kept as a plain text file people can read and edit.

The file is TOML: lengths are words such as ``"2700 mm"`` or ``"8 ft 6 in"``. Loading
only reads text, it never runs anything; a newer format is refused with a sentence;
what this version does not know is kept and written back. Saving writes a new file
beside the old one and swaps them at the end, so that a crash never loses the old one.
"""

from __future__ import annotations

import os
import tempfile
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field, fields, replace
from pathlib import Path

from .bed import _WALL_SIZES, Bed, BedError, Layer, Wall, strategy_layers
from .place import Place, PlaceError, Survey
from .tables import data_folder
from .units import Q_, UnitError, read_quantity

__all__ = ["FORMAT", "Garden", "GardenError", "demo_garden", "load", "save"]

FORMAT = 1
_HEAD = """\
A garden for bedcalc: one place and its beds. You may edit this file by hand.
Lengths need a unit: "2700 mm", "2.7 m", "8 ft 6 in". Layers go bottom first;
depth "rest" takes what is left, "33 percent" is a share of the fill.
"""


class GardenError(ValueError):
    """A garden file cannot be read: the message says where and what would do."""


@dataclass(frozen=True, kw_only=True)
class Garden:
    """A place and the beds that will stand there."""

    place: Place
    beds: tuple[Bed, ...] = ()
    extra: dict = field(default_factory=dict, compare=False, repr=False)

    def __post_init__(self):
        names = [bed.name for bed in self.beds]
        twice = sorted({name for name in names if names.count(name) > 1})
        if twice:
            raise GardenError(
                f"garden, beds: each bed needs a name of its own; given twice: "
                f"{', '.join(twice)}; for example 'B' and 'B2'"
            )

    def __getitem__(self, name: str) -> Bed:
        for bed in self.beds:
            if bed.name == name:
                return bed
        raise KeyError(
            f"no bed {name!r} in this garden; there are "
            f"{', '.join(bed.name for bed in self.beds) or 'none'}"
        )

    def __iter__(self) -> Iterator[Bed]:
        return iter(self.beds)

    def with_bed(self, bed: Bed) -> Garden:
        """A garden in which this bed stands in place of the one of the same name."""
        if any(old.name == bed.name for old in self.beds):
            beds = tuple(bed if old.name == bed.name else old for old in self.beds)
        else:
            beds = (*self.beds, bed)
        return replace(self, beds=beds)


# ---- reading

_BED_LENGTHS = (
    "length", "width", "height", "freeboard", "embedment", "post_depth",
    "soil_depth", "x", "y",
)  # fmt: skip
_PLACE_UNITS = {
    "latitude": "deg",
    "altitude": "m",
    "tax_rate": "percent",
    "price_rise": "percent",
    "kerf": "m",
    "trim": "m",
    "longest_carried": "m",
}


def _known(cls, given: dict, where: str, more: tuple[str, ...] = ()):
    """Split what was read into fields of a class and what is kept untouched."""
    names = {f.name for f in fields(cls)} - {"extra"} | set(more)
    known = {k: v for k, v in given.items() if k in names}
    missing = [
        f.name
        for f in fields(cls)
        if f.name not in given
        and f.default.__class__.__name__ == "_MISSING_TYPE"
        and f.default_factory.__class__.__name__ == "_MISSING_TYPE"
    ]
    if missing:
        raise GardenError(
            f"{where}: needs {', '.join(missing)}, which the file does not give; "
            'for example length = "2700 mm"'
        )
    return known, {k: v for k, v in given.items() if k not in names}


def _layer(given: dict, where: str) -> Layer:
    if not isinstance(given, dict) or "material" not in given:
        raise GardenError(
            f"{where}: needs material and depth, given {given!r}; for example "
            '{ material = "chips", depth = "10 cm" }'
        )
    depth = given.get("depth", "rest")
    if depth == "rest":
        return Layer(material=given["material"])
    unit = "percent" if str(depth).split()[-1:] == ["percent"] else "m"
    return Layer(
        material=given["material"],
        depth=read_quantity(depth, unit, f"{where}, {given['material']}, depth"),
    )


def _wall(given, where: str) -> Wall:
    if isinstance(given, str):
        return Wall.named(given)
    if not isinstance(given, dict) or "like" not in given:
        raise GardenError(
            f"{where}: needs the name of a build, given {given!r}; for example "
            'wall = "sheet", or [beds.wall] with like = "sheet" and what differs'
        )
    changes = {k: v for k, v in given.items() if k != "like"}
    for name in set(changes) & set(_WALL_SIZES):
        changes[name] = read_quantity(changes[name], "m", f"{where}, {name}")
    unknown = set(changes) - {f.name for f in fields(Wall)}
    if unknown:
        raise GardenError(
            f"{where}: no such entry {', '.join(sorted(unknown))}; there are "
            f"{', '.join(f.name for f in fields(Wall))}"
        )
    return replace(Wall.named(given["like"]), **changes)


def _bed(given: dict) -> Bed:
    where = f"bed {given.get('name', '?')}"
    known, extra = _known(Bed, given, where, ("fill_strategy", "log_share"))
    for name in set(known) & set(_BED_LENGTHS):
        known[name] = read_quantity(known[name], "m", f"{where}, {name}")
    known["wall"] = _wall(known["wall"], f"{where}, wall")
    strategy, share = known.pop("fill_strategy", None), known.pop("log_share", None)
    if strategy:
        if share is not None:
            share = read_quantity(share, "percent", f"{where}, log_share")
        known["fill"] = strategy_layers(strategy, share)
    elif "fill" in known:
        if not isinstance(known["fill"], list):
            raise GardenError(
                f"{where}, fill: needs a list of layers, given {known['fill']!r}; "
                'for example [{ material = "mix", depth = "rest" }]'
            )
        known["fill"] = tuple(_layer(g, f"{where}, fill") for g in known["fill"])
    return Bed(**known, extra=extra)


def _place(given: dict) -> Place:
    known, extra = _known(Place, given, "place")
    for name in set(known) & set(_PLACE_UNITS):
        known[name] = read_quantity(known[name], _PLACE_UNITS[name], f"place, {name}")
    rows = known["survey"]
    if isinstance(rows, dict):
        rows = rows.get("readings")
    try:
        known["survey"] = Survey(readings=tuple(tuple(row) for row in rows))
    except TypeError:
        raise GardenError(
            f"place, survey: needs rows of [x, y, down] in metres, given {rows!r}; "
            "for example survey = [[0, 0, 0.22], [4.8, 0, 0.281], [0, 4.8, 0.611]]"
        ) from None
    return Place(**known, extra=extra)


def load(path) -> Garden:
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
    try:
        given = tomllib.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError:
        raise GardenError(
            f"{path.name}: there is no such file; save a bed first, or check the name"
        ) from None
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise GardenError(f"{path.name}: not a garden file ({error})") from None
    number = given.pop("format", None)
    if not isinstance(number, int):
        raise GardenError(
            f"{path.name}: needs a line format = {FORMAT}, given {number!r}; "
            "is this a garden file?"
        )
    if number > FORMAT:
        raise GardenError(
            f"{path.name}: written in format {number}, this bedcalc reads up to "
            f"{FORMAT}; a newer bedcalc will open it, and nothing was changed"
        )
    place, beds = given.pop("place", None), given.pop("beds", [])
    if not isinstance(place, dict) or not isinstance(beds, list):
        raise GardenError(f"{path.name}: needs a part [place] and parts [[beds]]")
    try:
        return Garden(
            place=_place(place), beds=tuple(_bed(bed) for bed in beds), extra=given
        )
    except (BedError, PlaceError, UnitError) as error:
        raise GardenError(f"{path.name}: {error}") from None


# ---- writing


def _text(quantity) -> str:
    """A quantity as people write it: ``2700 mm``."""
    unit = f"{quantity.units:~C}"
    unit = {"%": "percent", "°": "deg", "": ""}.get(unit, unit)
    short = f"{quantity.m:.12g}"
    exact = short if float(short) == quantity.m else repr(float(quantity.m))
    return f"{exact} {unit}".strip()


def _layer_out(layer: Layer) -> dict:
    depth = "rest" if layer.depth is None else _text(layer.depth)
    return {"material": layer.material, "depth": depth}


def _wall_out(wall: Wall):
    plain = Wall.named(wall.key)
    changed = {
        f.name: getattr(wall, f.name)
        for f in fields(Wall)
        if getattr(wall, f.name) != getattr(plain, f.name)
    }
    if not changed:
        return wall.key
    words = {k: _text(v) if k in _WALL_SIZES else v for k, v in changed.items()}
    return {"like": wall.key, **words}


def _bed_out(bed: Bed) -> dict:
    found = {}
    for f in fields(Bed):
        value = getattr(bed, f.name)
        if f.name == "extra" or value is None:
            continue
        if f.name == "fill":
            value = [_layer_out(layer) for layer in value]
        elif f.name == "wall":
            value = _wall_out(value)
        elif isinstance(value, Q_):
            value = _text(value)
        found[f.name] = value
    return found | bed.extra


def _place_out(place: Place) -> dict:
    found = {}
    for f in fields(Place):
        value = getattr(place, f.name)
        if f.name == "extra":
            continue
        if f.name == "survey":
            value = [list(row) for row in value.readings]
        elif isinstance(value, Q_):
            value = _text(value)
        found[f.name] = value
    return found | place.extra


def as_document(garden: Garden, old: str = ""):
    """The garden as a TOML document; comments of the old text stay where they can."""
    import tomlkit

    document = tomlkit.parse(old) if old else tomlkit.document()
    if not old:
        for line in _HEAD.strip().splitlines():
            document.add(tomlkit.comment(line))
        document.add(tomlkit.nl())
    new = {"format": FORMAT, **garden.extra, "place": _place_out(garden.place)}
    _merge(document, new)
    beds = tomlkit.aot()
    for bed in garden.beds:
        one = tomlkit.table()
        for key, value in _bed_out(bed).items():
            one[key] = _folded(value) if key == "fill" else value
        beds.append(one)
    if garden.beds or "beds" in document:
        document["beds"] = beds
    return document


def _folded(layers: list[dict]):
    """Layers one under the other, so that the stack reads like the bed."""
    import tomlkit

    rows = tomlkit.array()
    rows.multiline(True)
    for layer in layers:
        row = tomlkit.inline_table()
        row.update(layer)
        rows.append(row)
    return rows


def _merge(old, new: dict) -> None:
    """Put new values into an old document without touching what is the same."""
    import tomlkit

    for key, value in new.items():
        if isinstance(value, dict) and isinstance(old.get(key), dict):
            _merge(old[key], value)
        elif key not in old or old[key] != value:
            if key == "survey":
                rows = tomlkit.array()
                rows.multiline(True)
                rows.extend(value)
                value = rows
            old[key] = value


def save(garden: Garden, path) -> Path:
    """Write a garden to a file, all or nothing.

    Parameters
    ----------
    garden : Garden
    path : str or Path
        An older garden file there is replaced at the very end, and its comments on
        the place are kept.

    Returns
    -------
    Path
        The file written.
    """
    path = Path(path)
    old = ""
    if path.is_file():
        try:
            load(path)
            old = path.read_text(encoding="utf-8")
        except GardenError as error:
            if "written in format" in str(error):
                raise
    text = as_document(garden, old).as_string()
    handle, name = tempfile.mkstemp(
        prefix=path.stem + "-", suffix=".new", dir=path.parent or "."
    )
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        os.replace(name, path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
    return path


def demo_garden() -> Garden:
    """The invented school garden with its six beds, from data/demo_garden.toml."""
    return load(data_folder() / "demo_garden.toml")
