"""What may stand in a garden file: the kind and the size of every entry.

:func:`schema` is a JSON Schema, which editors of TOML can use too. It decides whether
an entry is text, a number, a list …, and how long it may be; what a bed can be is
decided where beds are made. Entries that it does not name are kept and not looked at.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Iterable
from typing import Any

from ..model.climate import NORMALS
from ..model.entries import WALL_SIZES
from ..model.materials import BlockSize, FillMaterial, Person
from ..text_files import FileError, short

__all__ = ["Fault", "fault", "owner", "schema"]

BEDS, ROWS = 200, 1000
DIGITS = 1e15


def _text(example: str, most: int = 200) -> dict[str, Any]:
    what = f"text in quotes, up to {most} signs"
    return {"type": "string", "maxLength": most, "title": what, "examples": [example]}


def _size(example: str) -> dict[str, Any]:
    what = "a number and a unit in quotes"
    return {"type": "string", "maxLength": 60, "title": what, "examples": [example]}


def _number(example: float) -> dict[str, Any]:
    return {"type": "number", "minimum": -DIGITS, "maximum": DIGITS, "title":
            "a number", "examples": [example]}  # fmt: skip  # rows of a table


def _whole(example: int) -> dict[str, Any]:
    return _number(example) | {"type": "integer", "title": "a whole number"}


def _yes() -> dict[str, Any]:
    return {"type": "boolean", "title": "true or false", "examples": [True]}


def _rows(item: dict, most: int, example: Any, what: str = "a list") -> dict[str, Any]:
    what = f"{what} of at most {most}"
    return {"type": "array", "maxItems": most, "items": item, "title": what,
            "examples": [example]}  # fmt: skip  # rows of a table


def _part(part: str, needed: Iterable[str] = (), /, **entries: Any) -> dict[str, Any]:
    what = f"a part [{part}] or {{ }} with entries of its own"
    return {
        "type": "object",
        "properties": entries,
        "required": list(needed),
        "title": what,
        "examples": [{"name": "Kale"}],
    }


def _points(width: int, example: list) -> dict[str, Any]:
    row = {"type": "array", "minItems": width, "maxItems": width,
           "items": _number(4.8), "title": f"a row of {width} numbers",
           "examples": [example[0]]}  # fmt: skip  # rows of a table
    return _rows(row, ROWS, example)


@functools.cache
def schema() -> dict[str, Any]:
    """The JSON Schema of a garden file."""
    wall = {name: _size("45 mm") for name in WALL_SIZES}
    wall |= {
        n: _text(n)
        for n in (
            "family",
            "wood",
            "sheet",
            "block",
            "goods",
            "post_goods",
            "rail_goods",
            "cap_goods",
            "yard",
            "like",
        )
    }
    wall |= {"key": _text("my_2x6"), "name": _text("my boards"), "cap_counts": _yes()}
    lengths = {
        n: _size("5 cm")
        for n in ("freeboard", "embedment", "post_depth", "soil_depth", "x", "y")
    }
    built = _part("beds.wall", ["like"], **wall) | {
        "type": ["string", "object"],
        "maxLength": 80,
        "examples": ["sheet"],
        "title": "the name of a build, or a part [beds.wall] with like and what "
        "differs",
    }
    layer = _part(
        "beds.fill", ["material"], material=_text("chips", 80), depth=_size("10 cm")
    )
    layer |= {"examples": [{"material": "chips", "depth": "10 cm"}]}
    bed = _part(
        "beds", ["name", "length", "width", "height", "wall"],
        name=_text("Kale", 60), title=_text("Kale by the shed"),
        length=_size("2700 mm"), width=_size("105 cm"),
        height=_size("720 mm"), wall=built,
        fill=_rows(layer, 30, [{"material": "mix", "depth": "rest"}]), **lengths,
        fill_strategy=_text("all_mix"), log_share=_size("40 percent"),
        users=_text("adult"), sides=_text("both"), straight=_text("ordinary"),
        **{n: _yes() for n in ("rail_lying", "ribs_lying", "open_base", "turned",
           "climbed", "drained")},
        may_carry=_size("2.5 kPa"), trailing=_size("3 m²"),
        crop=_text("tomato"), around=_text("lawn"),
        ties=_whole(1), base_ties=_whole(1), count=_whole(1),
    )  # fmt: skip  # rows of a table
    made = {
        "key": _text("my_mix", 80),
        "name": _text("my mix", 80),
        "like": _text("mix"),
    }
    own = _part(
        "own",
        **{
            kind: _rows(
                _part(
                    f"own.{kind}",
                    ["key", "name", "like"],
                    **made,
                    **{
                        name: _size(f"{example:g} {unit}")
                        for name, (unit, _, _, example) in cls._RANGES.items()
                    },
                ),
                BEDS,
                [{"key": "my_mix"}],
            )
            for kind, cls in (
                ("fills", FillMaterial),
                ("people", Person),
                ("blocks", BlockSize),
            )
        }
        | {
            "walls": _rows(
                _part("own.walls", ["key", "name", "like"], **wall),
                BEDS,
                [{"key": "my_2x6"}],
            )
        },
    )
    thing = _part(
        "place.plot.things",
        name=_text("plum", 80),
        kind=_text("tree"),
        **{
            n: _number(2.4)
            | {
                "type": ["number", "string"],
                "maxLength": 60,
                "title": "a number of metres, or a number and a unit",
                "examples": ["2.4 m"],
            }
            for n in ("x", "y", "length", "width", "height")
        },
    )
    plot = _part(
        "place.plot",
        outline=_points(2, [[0, 0], [12, 0], [12, 8], [0, 8]]),
        things=_rows(thing, BEDS, [{"name": "plum", "kind": "tree", "x": "12 m"}]),
        length=_size("12 m"),
        width=_size("8 m"),
        downhill=_number(180) | {"type": ["number", "string"], "maxLength": 60},
    )
    readings = [[0, 0, 0.22], [4.8, 0, 0.281], [0, 4.8, 0.611]]
    climate = dict.fromkeys(NORMALS, {})  # refused where twelve numbers are read
    place = _part(
        "place", ["name"], name=_text("Our garden", 500), plot=plot, yard=plot,
        survey=_points(3, readings) | {"type": ["array", "object"], "properties": {
            "readings": _points(3, readings)}},
        levelling=_part("place.levelling", rule=_text("all_cut"), limit=_size("150 mm"),
                        gravel=_size("50 mm")),
        climate=_part("place.climate", **climate, name=_text("Elm Lane, 30 years"),
                      last_frost=_text("20 April"), first_frost=_text("15 October"),
                      heavy_day=_size("38 mm"))
        | {"type": ["object", "string"], "maxLength": 80},
        latitude=_size("48 deg"), altitude=_size("210 m"), soil=_text("heavy_loam"),
        prices=_text("demo"), tax_rate=_size("20 percent"), with_tax=_yes(),
        price_rise=_size("0 percent"), kerf=_size("3.2 mm"), trim=_size("20 mm"),
        longest_carried=_size("6 m"), crew=_whole(2),
    )  # fmt: skip  # rows of a table
    row = _part("price_lists.rows", ["goods", "name", "group", "sold_by", "price"], **{
        n: _text(e) for n, e in (("key", "mix-1"), ("goods", "mix"), ("name", "mix"),
        ("group", "soil"), ("sold_by", "m³"), ("yard", ""), ("taxed", "yes"),
        ("source", "own"), ("where", "shop"))}, **{
        n: _number(24.5) for n in ("price", "content", "count", "length")},
        low=_number(22), high=_number(30))  # fmt: skip  # rows of a table
    prices = _part(
        "price_lists", ["name"], name=_text("spring"), date=_text("1 March"),
        taxed_inside=_yes(), rows=_rows(row, ROWS, []),
        currency=_part("price_lists.currency", code=_text("CHF", 3),
                       sign=_text("Fr.", 6), decimals=_whole(2), before=_yes()),
    )  # fmt: skip  # rows of a table
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **_part("garden", ["place"], format=_whole(2), current=_text("Kale", 60),
                units=_text("metric"), place=place, own=own,
                price_lists=_rows(prices, 50, [{"name": "spring"}]),
                beds=_rows(bed, BEDS, [{"name": "Kale"}])),
    }  # fmt: skip  # rows of a table


@functools.cache
def _validator():
    from jsonschema import Draft202012Validator, validators

    def number(_, value) -> bool:  # TOML has nan and inf, which are of no use here
        if isinstance(value, bool) or not isinstance(value, int | float):
            return False
        return isinstance(value, int) or math.isfinite(value)

    kinds = Draft202012Validator.TYPE_CHECKER.redefine("number", number)
    return validators.extend(Draft202012Validator, type_checker=kinds)(schema())


def toml(value: Any) -> str:
    """A plain value as one writes it in a TOML file."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{k} = {toml(v)}" for k, v in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(toml, value)) + "]"
    return f'"{value}"' if isinstance(value, str) else f"{value}"


class Fault(FileError):
    """An entry that will not do; ``path`` says where it stands in the file."""

    def __init__(self, path: tuple, words: str):
        self.path = path
        super().__init__(words)


def owner(given: Any, path: Iterable) -> str:
    """The part of a file in words: ``bed Kale, wall``; rows by name or number."""
    words, part = [], given
    for step in path:
        part = part[step] if isinstance(part, dict | list) else None
        if isinstance(step, int):
            name = part.get("name") if isinstance(part, dict) else None
            named = isinstance(name, str) and name.strip()
            words[-1] = {"beds": "bed"}.get(words[-1], words[-1])
            words[-1] += f" {short(name, 40)}" if named else f" {step + 1}"
        else:
            words.append(str(step))
    return ", ".join(words)


def fault(given: dict) -> Fault | None:
    """The first entry that is of the wrong kind or too long, or None."""
    found = next(_validator().iter_errors(given), None)
    if found is None:
        return None
    path, about = tuple(found.absolute_path), found.schema
    name = next((s for s in reversed(path) if isinstance(s, str)), "")
    where = owner(given, path)
    if found.validator == "required":
        gone = [n for n in found.validator_value if n not in found.instance]
        hints = about["properties"]
        shown = ", ".join(f"{n} = {toml(hints[n]['examples'][0])}" for n in gone[:2])
        if not path:
            return Fault(
                (),
                "needs a part [place] and parts [[beds]]; for example "
                '[place] with name = "Our garden"',
            )
        return Fault(
            path,
            f"{where}: needs {', '.join(gone)}, which the file does not "
            f"give; for example {shown}",
        )
    example = toml(about["examples"][0])
    example = f"{name} = {example}" if not isinstance(path[-1], int) else example
    given_words = (
        toml(found.instance)
        if not isinstance(found.instance, list | dict)
        else f"{found.instance}"
        if len(found.instance) < 4
        else f"{len(found.instance)} entries"
    )
    return Fault(
        path,
        f"{where}: needs {about['title']}; given {short(given_words)}; "
        f"for example {example}",
    )
