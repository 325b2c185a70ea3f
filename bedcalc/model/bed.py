"""Chosen: the bed. Frozen dataclasses; every entry is checked here and nowhere else.

Outside size is what one measures with a tape round the finished walls; ``height`` is
the box over its own underside, whatever the ground does. Change a bed with
:meth:`Bed.change` (or ``dataclasses.replace``); the old one stays as it was.
"""

from __future__ import annotations

from dataclasses import dataclass, field, fields, replace
from functools import cached_property
from types import SimpleNamespace
from typing import Any

import numpy as np

from ..tables import Row, table
from ..units import Q_, from_si, to_si
from .entries import (
    LEAST_FILL,
    WALL_MOST,
    WALL_SIZES,
    BedError,
    check_area,
    check_length,
    check_load,
    check_wall,
    check_words,
    refuse,
)
from .layers import Layer
from .materials import BlockSize, FillMaterial, Person

__all__ = ["Bed", "BedError", "Layer", "Wall"]


@dataclass(frozen=True, kw_only=True)
class Wall:
    """How the wall is built: sizes of the pieces and what they are made of.

    ``family`` decides the sums (boards, sheet, blocks, sleepers, trough). Sizes are
    the real, dressed ones. Take one from the list with :meth:`named` and change what
    differs; :meth:`own` gives the change a name of its own.
    """

    key: str
    name: str
    family: str
    wood: str = ""
    thickness: Any = field(default_factory=lambda: Q_(0, "mm"))
    course: Any = field(default_factory=lambda: Q_(0, "mm"))
    rail_thin: Any = field(default_factory=lambda: Q_(0, "mm"))
    rail_wide: Any = field(default_factory=lambda: Q_(0, "mm"))
    post: Any = field(default_factory=lambda: Q_(0, "mm"))
    post_spacing: Any = field(default_factory=lambda: Q_(1, "m"))
    cap_wide: Any = field(default_factory=lambda: Q_(0, "mm"))
    cap_thick: Any = field(default_factory=lambda: Q_(0, "mm"))
    cap_out: Any = field(default_factory=lambda: Q_(0, "mm"))
    slat_wide: Any = field(default_factory=lambda: Q_(0, "mm"))
    cap_counts: bool = False
    sheet: str = ""
    block: str | BlockSize = ""
    goods: str = ""
    post_goods: str = ""
    rail_goods: str = ""
    cap_goods: str = ""
    yard: str = "metric"
    like: str = ""

    FAMILIES = ("boards", "sheet", "blocks", "sleepers", "trough")

    def __post_init__(self):
        if self.family not in self.FAMILIES:
            refuse(
                "wall, family",
                f"one of {', '.join(self.FAMILIES)}",
                repr(self.family),
                "boards",
            )
        for name in WALL_SIZES:
            example = f"{name}=Q_(45, 'mm')"
            most = WALL_MOST[name] / 1000
            check_length("wall", name, getattr(self, name), 0, most, example)
        check_wall(self)

    @classmethod
    def named(cls, key: str) -> Wall:
        """A wall build from data/walls.csv, by its key."""
        if key not in table("walls"):
            refuse("wall", f"one of {', '.join(table('walls').rows)}", key, "sheet")
        row = table("walls")[key]
        sizes = {name: row.q(name) for name in WALL_SIZES}
        words = {
            f.name: getattr(row, f.name)
            for f in fields(cls)
            if f.name not in sizes and f.name not in ("key", "cap_counts", "like")
        }
        return cls(key=key, **words, **sizes, cap_counts=row.cap_counts == "yes")

    def own(self, key: str, name: str, **changes) -> Wall:
        """A build of one's own: this one, with a key, a name and what differs."""
        if key in table("walls") or not str(key).strip():
            used = ", ".join(table("walls").rows)
            refuse("own wall, key", f"a word other than {used}", repr(key), "my_2x6")
        return replace(self, key=key, name=name, like=self.like or self.key, **changes)

    @property
    def base_key(self) -> str:
        """The build of data/walls.csv it is, or was made from."""
        return self.like or self.key

    @property
    def block_row(self) -> Row:
        """Sizes and weight of its block, as a row of data/blocks.csv."""
        own = isinstance(self.block, BlockSize)
        return self.block.row if own else table("blocks")[self.block]

    def __hash__(self) -> int:
        # of plain numbers: the hash of a quantity takes longer than a chapter
        return hash((self.key, *vars(self.si).values()))

    @cached_property
    def si(self) -> SimpleNamespace:
        """The sizes as plain metres."""
        return SimpleNamespace(
            **{name: to_si(getattr(self, name), "m", name) for name in WALL_SIZES}
        )


@dataclass(frozen=True, kw_only=True)
class Bed:
    """One bed as somebody chose it.

    Lengths are quantities. ``ties`` and ``base_ties`` count the cross ties between
    the two long walls, at the top and at the foot, at equal distances. With
    ``rail_lying`` the rails lie on their wide face, so that the wide side takes the
    push. With ``ribs_lying`` the ribs of the sheet lie from post to post.
    ``post_depth`` is how far the posts of a wall of boards or framed sheet go below
    its foot, the floor of the trench; other builds have no posts to set.
    ``fill`` lists the layers bottom first. ``users`` is a key of data/people.csv or a
    :class:`Person` of one's own, ``sides`` says whether people reach in from both long
    sides or one. ``straight`` is how straight the walls shall stay, a key of
    data/aims.csv; ``climbed`` says that people climb on the rim or pull at it,
    ``drained`` that a drain leads water away at the foot. ``may_carry`` is the load
    that the deck, roof or balcony below may carry; None for a bed on the ground.
    ``crop`` is a key of data/crops.csv, ``around`` of data/surroundings.csv;
    ``trailing`` is the area of leaves that hang outside and drink from the bed. ``x``,
    ``y`` place the corner at the top left of the plan; with ``turned`` the long side
    runs down the page of the plan instead of across it.
    """

    name: str
    length: Any
    width: Any
    height: Any
    wall: Wall
    title: str = ""
    rail_lying: bool = False
    ribs_lying: bool = False
    ties: int = 0
    base_ties: int = 0
    post_depth: Any = field(default_factory=lambda: Q_(0, "mm"))
    fill: tuple[Layer, ...] = (Layer(material="mix"),)
    freeboard: Any = field(default_factory=lambda: Q_(50, "mm"))
    embedment: Any = field(default_factory=lambda: Q_(50, "mm"))
    soil_depth: Any = None
    users: str | Person = "adult"
    sides: str = "both"
    open_base: bool = True
    straight: str = "ordinary"
    climbed: bool = False
    drained: bool = False
    may_carry: Any = None
    crop: str = "mixed"
    around: str = "open"
    trailing: Any = field(default_factory=lambda: Q_(0, "m^2"))
    count: int = 1
    x: Any = field(default_factory=lambda: Q_(0, "m"))
    y: Any = field(default_factory=lambda: Q_(0, "m"))
    turned: bool = False
    extra: dict = field(default_factory=dict, compare=False, repr=False)

    def __post_init__(self):
        check_words("bed, name", "a short name", self.name, 60)
        me = f"bed {self.name}"
        if self.title != "":
            check_words(f"{me}, title", "a title", self.title, 200)
        check_length(me, "length", self.length, 0.4, 12, "Q_(2.7, 'm')")
        check_length(me, "width", self.width, 0.3, 3, "Q_(105, 'cm')")
        check_length(me, "height", self.height, 0.1, 1.2, "Q_(720, 'mm')")
        check_length(me, "freeboard", self.freeboard, 0, 0.3, "Q_(50, 'mm')")
        check_length(me, "embedment", self.embedment, 0, 0.5, "Q_(50, 'mm')")
        check_length(me, "post_depth", self.post_depth, 0, 1.2, "Q_(600, 'mm')")
        check_length(me, "x", self.x, -1000, 1000, "Q_(1.8, 'm')")
        check_length(me, "y", self.y, -1000, 1000, "Q_(1.5, 'm')")
        if not isinstance(self.wall, Wall):
            refuse(f"{me}, wall", "a Wall", self.wall, "Wall.named('sheet')")
        for name, most in (("ties", 8), ("base_ties", 8), ("count", 500)):
            low = 1 if name == "count" else 0
            value = np.asarray(getattr(self, name))
            if value.dtype.kind not in "iu" or np.any((value < low) | (value > most)):
                refuse(
                    f"{me}, {name}",
                    f"a whole number from {low} to {most}",
                    repr(getattr(self, name)),
                    f"{name}=1",
                )
        if not isinstance(self.users, Person) and self.users not in table("people"):
            keys = ", ".join(table("people").rows)
            refuse(f"{me}, users", f"one of {keys}", repr(self.users), "adult")
        for name in ("rail_lying", "ribs_lying", "turned", "climbed", "drained"):
            if not isinstance(getattr(self, name), bool):
                given = repr(getattr(self, name))
                refuse(f"{me}, {name}", "true or false", given, f"{name}=True")
        if self.sides not in ("both", "one"):
            refuse(f"{me}, sides", "'both' or 'one'", repr(self.sides), "both")
        if self.may_carry is not None:
            check_load(me, "may_carry", self.may_carry)
        for name, rows in (
            ("straight", "aims"),
            ("crop", "crops"),
            ("around", "surroundings"),
        ):
            given = getattr(self, name)
            if given not in table(rows):
                usual = type(self).__dataclass_fields__[name].default
                keys = ", ".join(table(rows).rows)
                refuse(f"{me}, {name}", f"one of {keys}", repr(given), usual)
        check_area(me, "trailing", self.trailing, 50, "Q_(3, 'm^2')")
        self._check_fits(me)
        self._check_fill(me)

    def __hash__(self) -> int:
        # as in a wall; whatever else differs is left to the comparison
        sizes = (*vars(self.si).values(), self.ties, self.base_ties)
        return hash((self.name, self.wall, *sizes))

    def _check_fits(self, me: str):
        """The inside must leave room, the height must be whole courses."""
        for name, inside, example in (
            ("width", self.si.inside_width, "Q_(105, 'cm')"),
            ("length", self.si.inside_length, "Q_(2.7, 'm')"),
        ):
            if np.any(inside < 0.1):
                thick = from_si(self.si.wall_thickness, "mm")
                refuse(
                    f"{me}, {name}",
                    "at least 10 cm between the inner faces of the walls",
                    f"{getattr(self, name):~P} outside with walls {thick:~P} thick",
                    example,
                )
        longest = self.si.height + self.si.post_depth
        if np.any((self.si.post_depth > 0) & (longest > 2.3 + 1e-9)):
            refuse(
                f"{me}, post_depth",
                "posts of at most 2.3 m in all, as they are sold",
                f"{from_si(longest, 'm'):.2f~P} with the height of the bed",
                "Q_(600, 'mm')",
            )
        if self.soil_depth is not None:
            check_length(me, "soil_depth", self.soil_depth, 0.05, 1.2, "Q_(280, 'mm')")
            if np.any(self.si.soil_depth > self.si.height + 1e-9):
                refuse(
                    f"{me}, soil_depth",
                    f"no more than the height of {self.height:~P}",
                    f"{self.soil_depth:~P}",
                    "Q_(280, 'mm')",
                )

    def _check_fill(self, me: str):
        if not isinstance(self.fill, tuple) or not self.fill:
            refuse(
                f"{me}, fill",
                "a tuple of layers, bottom first",
                repr(self.fill),
                "(Layer(material='mix'),)",
            )
        if sum(layer.depth is None for layer in self.fill) > 1:
            refuse(
                f"{me}, fill",
                "at most one layer that takes the rest",
                "two or more layers without a depth",
                "Layer(material='chips', depth=Q_(10, 'cm'))",
            )
        own: dict[str, FillMaterial] = {}
        for made in (layer.material for layer in self.fill):
            if not isinstance(made, str) and own.setdefault(made.key, made) != made:
                refuse(
                    f"{me}, fill",
                    "one set of numbers for each own fill",
                    f"two different ones with the key {made.key!r}",
                    "FillMaterial(key='old_mix', ...)",
                )
        depths = self.layer_depths
        if np.any(self.si.fill_depth < LEAST_FILL - 1e-9):
            refuse(
                f"{me}, freeboard",
                f"at least {LEAST_FILL * 100:.0f} cm of soil under the rim",
                f"{self.freeboard:~P} of {from_si(self.si.soil_depth, 'cm'):.0f~P}",
                "Q_(50, 'mm') in a bed of 40 cm",
            )
        if np.any(sum(depths) < LEAST_FILL - 1e-9):
            refuse(
                f"{me}, fill",
                f"layers of at least {LEAST_FILL * 100:.0f} cm together",
                f"{from_si(np.min(sum(depths)), 'cm'):.1f~P}",
                "(Layer(material='mix'),)",
            )
        if np.any(depths < -1e-9) or np.any(sum(depths) > self.si.fill_depth + 1e-6):
            refuse(
                f"{me}, fill",
                f"layers that fit into {from_si(self.si.fill_depth, 'cm'):.0f~P}",
                f"fixed layers of {from_si(self._fixed_depth, 'cm'):.0f~P} together",
                "thinner layers, or fewer logs",
            )

    @cached_property
    def si(self) -> SimpleNamespace:
        """The sizes as plain metres, with what follows from them alone."""
        metres = {
            name: to_si(getattr(self, name), "m", name)
            for name in (
                "length",
                "width",
                "height",
                "freeboard",
                "embedment",
                "post_depth",
                "x",
                "y",
            )
        }
        s = SimpleNamespace(**metres)
        s.plan_length, s.plan_width = s.length, s.width  # on the plot, along x and y
        if self.turned:
            s.plan_length, s.plan_width = s.width, s.length
        wall = self.wall.si
        if self.wall.family not in ("boards", "sheet") or not wall.post:
            s.post_depth = 0.0
        s.wall_thickness = wall.thickness
        if self.wall.family == "sheet":
            s.wall_thickness = wall.rail_wide if self.rail_lying else wall.rail_thin
        s.inside_length = s.length - 2 * s.wall_thickness
        s.inside_width = s.width - 2 * s.wall_thickness
        s.soil_depth = s.height
        if self.soil_depth is not None:
            s.soil_depth = to_si(self.soil_depth, "m", "soil_depth")
        s.fill_depth = np.maximum(s.soil_depth - s.freeboard, 0.0)
        return s

    @property
    def person(self) -> Row:
        """Reach and stature of its users, as a row of data/people.csv."""
        own = isinstance(self.users, Person)
        return self.users.row if own else table("people")[self.users]

    @property
    def person_kind(self) -> str:
        """The row of data/people.csv that its users are, or are like."""
        return getattr(self.users, "like", self.users)

    @property
    def _fixed_depth(self):
        return sum(self._depth_of(layer) for layer in self.fill)

    def _depth_of(self, layer: Layer):
        if layer.depth is None:
            return 0.0
        if layer.depth.check("[]"):
            return layer.depth.m_as("") * self.si.fill_depth
        return layer.depth.m_as("m")

    @cached_property
    def layer_depths(self) -> np.ndarray:
        """Settled depth of each layer in metres, bottom first; (layers, ...)."""
        rest = self.si.fill_depth - self._fixed_depth
        found = [
            rest if layer.depth is None else self._depth_of(layer)
            for layer in self.fill
        ]
        return np.stack(np.broadcast_arrays(*found)).astype(float)

    def change(self, **changes) -> Bed:
        """A copy with some fields changed; names of the wall's fields work as well."""
        own = {f.name for f in fields(self)}
        wall_own = {f.name for f in fields(Wall)} - own
        wall = {k: v for k, v in changes.items() if k in wall_own}
        mine = {k: v for k, v in changes.items() if k not in wall}
        unknown = set(mine) - own
        if unknown:
            refuse(
                f"bed {self.name}, change",
                f"names among {', '.join(sorted(own | wall_own))}",
                ", ".join(sorted(unknown)),
                "bed.change(ties=1)",
            )
        if wall:
            mine["wall"] = replace(mine.get("wall", self.wall), **wall)
        return replace(self, **mine)
