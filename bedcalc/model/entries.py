"""What an entry of a bed must be: one refusal, checks of lengths, words and walls."""

from __future__ import annotations

import unicodedata
from typing import TYPE_CHECKING, Any

import numpy as np

from ..tables import table
from ..text_files import short
from ..units import UnitError, to_si

if TYPE_CHECKING:  # names for an editor
    from ..model.bed import Wall

__all__ = [
    "LEAST_FILL", "WALL_MOST", "WALL_SIZES", "BedError", "check_area", "check_length",
    "check_load", "check_wall", "check_words", "refuse",
]  # fmt: skip  # a list of names

WALL_SIZES = (
    "thickness", "course", "rail_thin", "rail_wide", "post", "post_spacing",
    "cap_wide", "cap_thick", "cap_out", "slat_wide",
)  # fmt: skip  # rows of a table
#: what the sums of each family cannot do without
_WALL_NEEDS = {
    "boards": ("wood", "thickness", "course", "post", "post_spacing"),
    "sheet": ("wood", "sheet", "rail_thin", "rail_wide", "post", "post_spacing"),
    "blocks": ("block", "thickness", "course"),
    "sleepers": ("wood", "thickness", "course"),
    "trough": ("wood", "thickness", "course", "post", "post_spacing", "rail_thin",
               "rail_wide", "slat_wide"),
}  # fmt: skip  # rows of a table
_WALL_KEYS = {"wood": "woods", "sheet": "sheets", "block": "blocks"}
#: least size in mm, a usual one, and why it cannot be less
_WALL_LEAST = {
    "thickness": (5, 33, "because it carries the push of the fill"),
    "course": (20, 140, "the face of one board or block"),
    "rail_thin": (10, 45, "because the rail carries the push of the fill"),
    "rail_wide": (10, 70, "because the rail carries the push of the fill"),
    "post": (15, 70, "because boards and rails are fixed to it"),
    "post_spacing": (100, 1050, "from post to post"),
    "slat_wide": (20, 90, "because the slats carry the fill"),
    "cap_wide": (10, 90, "as a cap has both a width and a thickness (or 0 for both)"),
    "cap_thick": (5, 22, "as a cap has both a width and a thickness (or 0 for both)"),
}
#: most in mm: what is larger is no piece that somebody builds a wall of
WALL_MOST = {
    "thickness": 600, "course": 600, "rail_thin": 300, "rail_wide": 300, "post": 300,
    "post_spacing": 3000, "cap_wide": 400, "cap_thick": 150, "cap_out": 400,
    "slat_wide": 400,
}  # fmt: skip  # rows of a table
LEAST_FILL = 0.02  # m: with less there is nothing to grow in and nothing that pushes


class BedError(ValueError):
    """An entry of a bed cannot be: the message says what would do."""


def refuse(field_: str, needed: str, given: Any, example: str):
    """Raise the error of an entry: field, need, what was given, an example."""
    raise BedError(
        f"{field_}: needs {needed}; given {short(given)}; for example {example}"
    )


def check_words(where: str, needed: str, value: Any, most: int):
    """Check words that stand on papers: one line, not too long."""
    if not isinstance(value, str) or not value.strip():
        refuse(where, needed, repr(value), "'B'")
    # a control character or half a pair of surrogates fits into no file and no sheet
    odd = any(unicodedata.category(sign) in ("Cc", "Cs", "Zl", "Zp") for sign in value)
    if odd or len(value) > most:
        given = f"{len(value)} signs" if not odd else repr(value[:most])
        wanted = f"{needed} on one line, up to {most} letters, digits and signs"
        refuse(where, wanted, given, "'Bed by the shed'")


def check_length(
    owner: str, name: str, value: Any, low: float, high: float, example: str
):
    """Check a length against its range in metres."""
    where = f"{owner}, {name}"
    try:
        metres = to_si(value, "m", where)
    except UnitError as error:
        raise BedError(str(error)) from None
    if not np.all((np.asarray(metres) >= low) & (np.asarray(metres) <= high)):
        refuse(where, f"a length from {low:g} m to {high:g} m", value, example)


def check_load(where: str, name: str, value: Any):
    """Check a load on an area: a quantity of pressure."""
    try:
        there = to_si(value, "Pa", name)
    except UnitError:
        there = np.nan
    if not np.all((np.asarray(there) >= 100) & (np.asarray(there) <= 1e5)):
        needed = "a load on each square metre from 0.1 kPa to 100 kPa"
        refuse(f"{where}, {name}", needed, value, "Q_(2, 'kPa')")


def check_area(owner: str, name: str, value: Any, most: float, example: str) -> None:
    """Check an area against the most it can be, in square metres."""
    where = f"{owner}, {name}"
    try:
        there = np.asarray(to_si(value, "m^2", where))
    except UnitError as error:
        raise BedError(str(error)) from None
    if not np.all((there >= 0) & (there <= most)):
        refuse(where, f"an area from 0 to {most:g} m²", value, example)


def check_wall(wall: Wall) -> None:
    """What a wall of this family cannot do without; a cap in full or not at all."""
    needs, mine = _WALL_NEEDS[wall.family], f"wall of {wall.family}"
    for name, keys in _WALL_KEYS.items():
        given = getattr(wall, name)
        if isinstance(given, str) and (given or name in needs):
            if given not in table(keys):
                known = list(table(keys).rows)
                wanted = f"one of {', '.join(known)}"
                refuse(f"{mine}, {name}", wanted, repr(given), known[0])
    if wall.cap_counts or wall.si.cap_wide or wall.si.cap_thick:
        needs += ("cap_wide", "cap_thick")
    for name in needs:
        low, usual, why = _WALL_LEAST.get(name, (0, 0, ""))
        if low and getattr(wall.si, name) < low / 1000 - 1e-9:
            given = f"{getattr(wall, name):~P}"
            example = f"{name}=Q_({usual}, 'mm')"
            refuse(f"{mine}, {name}", f"at least {low} mm, {why}", given, example)
    s = wall.si
    if s.post and "post_spacing" in needs and s.post_spacing < 2 * s.post - 1e-9:
        refuse(
            f"{mine}, post_spacing",
            f"at least {2 * s.post * 1000:g} mm, twice the width of a post",
            f"{wall.post_spacing:~P}",
            "post_spacing=Q_(1050, 'mm')",
        )
    if s.cap_wide and s.cap_wide - s.cap_out < 0.02 - 1e-9:
        refuse(
            f"{mine}, cap_out",
            f"at most {s.cap_wide * 1000 - 20:g} mm, so that the cap lies on the wall",
            f"{wall.cap_out:~P}",
            "cap_out=Q_(40, 'mm')",
        )
