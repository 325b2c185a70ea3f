"""What a list of a panel offers: the tables, the reader's own, and what the bed has.

A list must be able to show whatever the bed on the desk is made of; so what an own
garden keeps, and what only this bed has, stands below the rows of the tables.
"""

from __future__ import annotations

from typing import Any

from ...model.bed import Bed, Wall
from ...model.layers import strategy_layers
from ...tables import table
from ...units import Q_
from ..desk import Desk

__all__ = [
    "STRATEGIES", "fill_of", "fills", "key_of", "people", "person_of", "sized",
    "strategy_of", "wall_of", "walls",
]  # fmt: skip  # a list of names

STRATEGIES = [*{row.strategy: row.name for row in table("strategies")}.items()]


def key_of(thing: Any) -> str:
    """The key of a material or a group of people, of a table or the reader's own."""
    return getattr(thing, "key", thing)


def _offered(name: str, own) -> list[tuple[str, str]]:
    found = {row.key: row.name for row in table(name)}
    return [*(found | {o.key: o.name for o in own if o.key not in found}).items()]


def walls(desk: Desk) -> list[tuple[str, str]]:
    """Builds to choose from."""
    return _offered("walls", [*desk.garden.walls, desk.bed.wall])


def wall_of(desk: Desk, key: str) -> Wall:
    """The build behind an entry of the list."""
    own = {wall.key: wall for wall in (*desk.garden.walls, desk.bed.wall)}
    return own[key] if key in own else Wall.named(key)


def people(desk: Desk) -> list[tuple[str, str]]:
    """People to choose from."""
    return _offered("people", [*desk.garden.people, desk.bed.person])


def person_of(desk: Desk, key: str) -> Any:
    """What stands behind an entry of the list, for the field ``users`` of a bed."""
    own = {one.key: one for one in desk.garden.people}
    here = desk.bed.users
    return here if key == key_of(here) else own.get(key, key)


def fills(desk: Desk) -> list[tuple[str, str]]:
    """Materials to fill in."""
    here = [layer.row for layer in desk.bed.fill]
    return _offered("fills", [*desk.garden.fills, *here])


def fill_of(desk: Desk, key: str) -> Any:
    """What stands behind an entry of the list, for the material of a layer."""
    own = {one.key: one for one in desk.garden.fills}
    here = {key_of(layer.material): layer.material for layer in desk.bed.fill}
    return here.get(key, own.get(key, key))


def sized(bed: Bed, **change: Any) -> Bed:
    """A changed bed; the soil of a trough is never deeper than the bed is high."""
    if "height" in change and bed.soil_depth is not None:
        change.setdefault("soil_depth", min(bed.soil_depth, change["height"]))
    return bed.change(**change)


def strategy_of(bed: Bed) -> tuple[str, int]:
    """The fill strategy and log share (%) that give this bed's layers, or its own."""
    share = 33
    for layer in bed.fill:
        if layer.kind == "logs" and layer.depth is not None:
            if layer.depth.check("[]"):
                share = round(layer.depth.m_as("percent"))
    for key, _ in STRATEGIES:
        if strategy_layers(key, Q_(share, "percent")) == bed.fill:
            return key, share
    return "own", share
