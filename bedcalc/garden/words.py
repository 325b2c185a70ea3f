"""A garden in plain words: what stands in its file, and the way back.

Everything is text, numbers and lists, so that the file can be read, merged and edited
by hand. Lengths are words such as ``"2700 mm"`` or ``"8 ft 6 in"``. Reading never runs
anything. What an entry does not say stays unknown: no value of the demo is put in.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import MISSING, fields, replace
from typing import TYPE_CHECKING, Any

from ..currency import Currency
from ..model.bed import Bed, Wall
from ..model.climate import Climate
from ..model.entries import WALL_SIZES
from ..model.layers import Layer, strategy_layers
from ..model.materials import BlockSize, FillMaterial, Person
from ..model.place import Levelling, Place
from ..model.plot import Thing
from ..model.prices import COLUMNS, PriceList
from ..parsing.unit_words import read_quantity
from ..text_files import FileError, short
from ..units import Q_
from .schema import Fault, owner

if TYPE_CHECKING:  # names for an editor
    from ..garden.garden import Garden

__all__ = ["GardenError", "INLINE", "KNOWN", "read_garden", "write_garden"]

_BED_LENGTHS = (
    "length", "width", "height", "freeboard", "embedment", "post_depth",
    "soil_depth", "x", "y",
)  # fmt: skip  # rows of a table
_PLACE_UNITS = {
    "latitude": "deg",
    "altitude": "m",
    "tax_rate": "percent",
    "price_rise": "percent",
    "kerf": "m",
    "trim": "m",
    "longest_carried": "m",
}
#: parts of [own]: the class, and the unit of each number it may give
_OWN = {"fills": FillMaterial, "people": Person, "blocks": BlockSize}


class GardenError(FileError):
    """A garden file cannot be read: the message says where and what would do."""


def _names(cls, *more: str) -> frozenset[str]:
    return frozenset({f.name for f in fields(cls)} - {"extra"} | set(more))


#: entries this version writes, by part of the file; all others are kept untouched
KNOWN = {
    "": frozenset(
        {"format", "current", "units", "place", "own", "price_lists", "beds"}
    ),
    "place": _names(Place, "yard"),
    "place.plot": frozenset({"outline", "length", "width", "downhill", "things"}),
    "place.levelling": _names(Levelling),
    "place.climate": _names(Climate),
    "beds": _names(Bed, "fill_strategy", "log_share"),
    "beds.wall": _names(Wall),
    "price_lists": _names(PriceList),
    "price_lists.currency": _names(Currency),
    "own": frozenset({*_OWN, "walls"}),
    "own.walls": _names(Wall),
    **{f"own.{part}": _names(cls) for part, cls in _OWN.items()},
}

#: lists of short rows: what names a row, and the entries this version writes
INLINE = {
    "beds.fill": ("material", _names(Layer)),
    "place.plot.things": ("name", _names(Thing)),
    "price_lists.rows": ("key", frozenset(name for name, _ in COLUMNS)),
}


# ---- reading


def _split(cls, given: dict, where: str, known: frozenset[str]) -> tuple[dict, dict]:
    """What was read, as fields of a class and as what is kept untouched."""
    if not isinstance(given, dict):
        raise GardenError(
            f"{where}: needs named entries, given {short(given)!r}; for example "
            'name = "B"'
        )
    missing = [
        f.name
        for f in fields(cls)
        if f.name not in given and f.default is MISSING and f.default_factory is MISSING
    ]
    if missing:
        raise GardenError(
            f"{where}: needs {', '.join(missing)}, which the file does not give; "
            'for example length = "2700 mm"'
        )
    mine = {k: v for k, v in given.items() if k in known}
    return mine, {k: v for k, v in given.items() if k not in known}


def _rows(given: Any, where: str) -> list[dict]:
    if not isinstance(given, list) or not all(isinstance(g, dict) for g in given):
        raise GardenError(f"{where}: needs parts [[{where}]], given {short(given)!r}")
    return given


def _at(given: dict, path: tuple, make: Callable[..., Any], *args: Any) -> Any:
    """What ``make`` gives; its refusal gets the place in the file."""
    try:
        return make(*args)
    except Fault as error:
        part, said = owner(given, path), str(error)
        said = said if part in said[:200] else f"{part}, {said}"
        raise Fault((*path, *error.path), said) from None
    except (
        ValueError,
        TypeError,
        KeyError,
        AttributeError,
        ArithmeticError,
    ) as error:
        said = str(error)
        if not isinstance(error, ValueError):
            said = "has an entry of the wrong kind; compare it with a garden saved here"
        part = owner(given, path)
        if part not in said[:200]:
            said = f"{part}{', ' if ': needs' in said[:120] else ': '}{said}"
        raise Fault(path, said) from None


class _Reader:
    """Reads one garden; own materials first, so that beds can use them."""

    def __init__(self, given: dict):
        own = given.get("own", {})
        if not isinstance(own, dict):
            raise GardenError(f"own: needs a part [own], given {short(own)!r}")
        self.own: dict[str, dict[str, Any]] = {
            part: {
                made.key: made
                for n, one in enumerate(_rows(own.get(part, []), f"own.{part}"))
                for made in (
                    _at(
                        given, ("own", part, n), self._material, cls, one, f"own.{part}"
                    ),
                )
            }
            for part, cls in _OWN.items()
        }
        self.walls: dict[str, Wall] = {}
        for n, one in enumerate(_rows(own.get("walls", []), "own.walls")):
            wall = _at(given, ("own", "walls", n), self._own_wall, one)
            self.walls[wall.key] = wall

    def _material(self, cls, given: dict, where: str):
        where = f"{where}, {given.get('name', '?')}"
        known, _ = _split(cls, given, where, KNOWN[where.split(",")[0]])
        for name, (unit, *_) in cls._RANGES.items():
            if name in known:
                known[name] = read_quantity(known[name], unit, f"{where}, {name}")
        return cls(**known)

    def _own_wall(self, given: dict) -> Wall:
        where = f"own.walls, {given.get('name', '?')}"
        for name in ("key", "name", "like"):
            if not isinstance(given.get(name), str):
                raise GardenError(
                    f"{where}: needs {name}, given {short(given.get(name))!r}; for "
                    'example key = "my_2x6", name = "my 2×6 boards", like = "boards_us"'
                )
        changes = {k: v for k, v in given.items() if k not in ("key", "name", "like")}
        base = self._changed(Wall.named(given["like"]), changes, where)
        return base.own(given["key"], given["name"])

    def _changed(self, wall: Wall, changes: dict, where: str) -> Wall:
        mine = {k: v for k, v in changes.items() if k in KNOWN["beds.wall"]}
        for name in set(mine) & set(WALL_SIZES):
            mine[name] = read_quantity(mine[name], "m", f"{where}, {name}")
        if "block" in mine:
            mine["block"] = self.own["blocks"].get(mine["block"], mine["block"])
        return replace(wall, **mine)

    def _named_wall(self, key: str) -> Wall:
        return self.walls[key] if key in self.walls else Wall.named(key)

    def wall(self, given, where: str) -> Wall:
        if isinstance(given, str):
            return self._named_wall(given)
        if not isinstance(given, dict) or not isinstance(given.get("like"), str):
            raise GardenError(
                f"{where}: needs the name of a build, given {short(given)!r}; for "
                'example wall = "sheet", or [beds.wall] with like = "sheet" and what '
                "differs"
            )
        changes = {k: v for k, v in given.items() if k != "like"}
        return self._changed(self._named_wall(given["like"]), changes, where)

    def layer(self, given: dict, where: str) -> Layer:
        if not isinstance(given, dict) or "material" not in given:
            raise GardenError(
                f"{where}: needs material and depth, given {short(given)!r}; for "
                'example { material = "chips", depth = "10 cm" }'
            )
        key = given["material"]
        material = self.own["fills"].get(key, key) if isinstance(key, str) else str(key)
        depth = given.get("depth", "rest")
        if depth == "rest":
            return Layer(material=material)
        unit = "percent" if str(depth).split()[-1:] in (["percent"], ["%"]) else "m"
        found = read_quantity(depth, unit, f"{where}, {key}, depth")
        return Layer(material=material, depth=found)

    def bed(self, given: dict) -> Bed:
        where = f"bed {given.get('name', '?')}"
        known, extra = _split(Bed, given, where, KNOWN["beds"])
        for name in set(known) & set(_BED_LENGTHS):
            known[name] = read_quantity(known[name], "m", f"{where}, {name}")
        for name, unit in (("may_carry", "kPa"), ("trailing", "m^2")):
            if name in known:
                known[name] = read_quantity(known[name], unit, f"{where}, {name}")
        known["wall"] = self.wall(known["wall"], f"{where}, wall")
        users = known.get("users", "adult")
        if isinstance(users, str):
            known["users"] = self.own["people"].get(users, users)
        strategy, share = known.pop("fill_strategy", None), known.pop("log_share", None)
        if strategy:
            if share is not None:
                share = read_quantity(share, "percent", f"{where}, log_share")
            known["fill"] = strategy_layers(strategy, share)
        elif "fill" in known:
            if not isinstance(known["fill"], list):
                raise GardenError(
                    f"{where}, fill: needs a list of layers, given "
                    f"{short(known['fill'])!r}; for example "
                    '[{ material = "mix", depth = "rest" }]'
                )
            known["fill"] = tuple(
                _at(
                    {"fill": known["fill"]},
                    ("fill", n),
                    self.layer,
                    g,
                    f"{where}, fill {n + 1}",
                )
                for n, g in enumerate(known["fill"])
            )
        return Bed(**known, extra=extra)


def _place(given: dict, lists: dict[str, Any]) -> Place:
    known, extra = _split(Place, given, "place", KNOWN["place"])
    for name in set(known) & set(_PLACE_UNITS):
        known[name] = read_quantity(known[name], _PLACE_UNITS[name], f"place, {name}")
    drawn = known.pop("yard", None)  # what a rectangular plot was called in format 1
    if drawn is not None:
        known.setdefault("plot", drawn)
    known |= Place.read_words(known, lists)
    return Place(**known, extra=extra)


def read_garden(given: dict) -> dict[str, Any]:
    """The fields of a garden out of what a file says.

    Parameters
    ----------
    given : dict
        A parsed file, of format 1 or 2.

    Returns
    -------
    dict
        Arguments for ``Garden``.
    """
    place, beds = given.get("place"), given.get("beds", [])
    if not isinstance(place, dict) or not isinstance(beds, list):
        raise GardenError("needs a part [place] and parts [[beds]]")
    reader = _Reader(given)
    own_lists = [
        _at(given, ("price_lists", n), PriceList.from_words, one, "price list")
        for n, one in enumerate(_rows(given.get("price_lists", []), "price_lists"))
    ]
    system = given.get("units", "metric")
    if system not in ("metric", "us"):
        raise GardenError(
            f'units: needs "metric" or "us", given {short(system)!r}; for '
            'example units = "metric"'
        )
    return dict(
        place=_at(
            given, ("place",), _place, place, {one.name: one for one in own_lists}
        ),
        beds=tuple(
            _at(given, ("beds", n), reader.bed, bed)
            for n, bed in enumerate(_rows(beds, "beds"))
        ),
        price_lists=tuple(own_lists),
        fills=tuple(reader.own["fills"].values()),
        people=tuple(reader.own["people"].values()),
        blocks=tuple(reader.own["blocks"].values()),
        walls=tuple(reader.walls.values()),
        current=str(given.get("current", "")),
        system=system,
        extra={k: v for k, v in given.items() if k not in KNOWN[""]},
    )


# ---- writing


def _text(quantity) -> str:
    """A quantity as people write it: ``2700 mm``."""
    unit = f"{quantity.units:~C}"
    unit = {"%": "percent", "°": "deg", "": ""}.get(unit, unit)
    short = f"{quantity.m:.12g}"
    exact = short if float(short) == quantity.m else repr(float(quantity.m))
    return f"{exact} {unit}".strip()


def _plain(value: Any) -> Any:
    """A field as it stands in the file."""
    return _text(value) if isinstance(value, Q_) else value


def _layer_out(layer: Layer) -> dict:
    depth = "rest" if layer.depth is None else _text(layer.depth)
    return {"material": layer.row.key, "depth": depth}


def _wall_changes(wall: Wall, plain: Wall, leave: tuple[str, ...]) -> dict:
    found = {}
    for f in fields(Wall):
        value = getattr(wall, f.name)
        if f.name not in leave and value != getattr(plain, f.name):
            own = isinstance(value, BlockSize)
            found[f.name] = value.key if own else _plain(value)
    return found


def _wall_out(wall: Wall, own: dict[str, Wall]):
    plain = own[wall.key] if wall.key in own else Wall.named(wall.key)
    changed = _wall_changes(wall, plain, ("key", "like"))
    return {"like": wall.key, **changed} if changed else wall.key


def _bed_out(bed: Bed, walls: dict[str, Wall]) -> dict:
    found = {}
    for f in fields(Bed):
        value = getattr(bed, f.name)
        if f.name == "extra" or value is None:
            continue
        if f.name == "fill":
            value = [_layer_out(layer) for layer in value]
        elif f.name == "wall":
            value = _wall_out(value, walls)
        elif isinstance(value, Person):
            value = value.key
        found[f.name] = _plain(value)
    return found | bed.extra


def _place_out(place: Place) -> dict:
    found = {}
    for f in fields(Place):
        value = getattr(place, f.name)
        if f.name == "extra" or value is None:
            continue
        found[f.name] = place.word_of(f.name) or _plain(value)
    return found | place.extra


def _own_out(made) -> dict:
    words = {"key": made.key, "name": made.name, "like": made.like}
    return words | {name: _text(value) for name, value in made.given.items()}


def _own_wall_out(wall: Wall) -> dict:
    words = {"key": wall.key, "name": wall.name, "like": wall.like}
    plain = Wall.named(wall.like)
    return words | _wall_changes(wall, plain, ("key", "name", "like"))


def write_garden(garden: Garden) -> dict[str, Any]:
    """What the file of a garden says: the opposite of :func:`read_garden`."""
    beds = garden.beds
    used_walls = {b.wall.key: b.wall for b in beds if b.wall.like}
    walls = used_walls | {w.key: w for w in garden.walls}
    own = {
        "fills": {la.material.key: la.material for b in beds for la in b.fill
                  if isinstance(la.material, FillMaterial)},
        "people": {b.users.key: b.users for b in beds if isinstance(b.users, Person)},
        "blocks": {w.block.key: w.block
                   for w in (*walls.values(), *(b.wall for b in beds))
                   if isinstance(w.block, BlockSize)},
    }  # fmt: skip  # rows of a table
    parts = {}
    for part in _OWN:
        every = own[part] | {made.key: made for made in getattr(garden, part)}
        if every:
            parts[part] = [_own_out(made) for made in every.values()]
    if walls:
        parts["walls"] = [_own_wall_out(wall) for wall in walls.values()]
    found: dict[str, Any] = {"format": 2, "units": garden.system}
    if garden.current:
        found["current"] = garden.current
    found |= garden.extra | {"place": _place_out(garden.place)}
    if parts:
        found["own"] = parts
    here = garden.place.prices
    lists = {one.name: one for one in garden.price_lists}
    if here is not None and not here.invented:
        lists[here.name] = here
    if lists:
        found["price_lists"] = [one.as_words() for one in lists.values()]
    found["beds"] = [_bed_out(bed, walls) for bed in beds]
    return found
