"""Which pieces of a bed a verdict is about: what a picture stripes, circles or names.

A check of the walls names its part in words (``Check.part``): ``board 3``, ``top
rail``, ``base rail``, ``cap``, ``sheet``, ``middle posts``, ``floor frame``, ``corner
screws of board 4``, ``screws of board 1``, ``corner pins``, ``ties on top``, ``ties at
the foot``, ``long walls``. Boards and sleepers count from the foot. Both long walls are
alike, so each part lies in both.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..model.bed import Bed
from .build import assembly
from .levels import bands, post_axes
from .pieces import Joint, Member, Pin, Tie

__all__ = ["Pieces", "pieces_of"]

_LONG = ("front", "back")


@dataclass(frozen=True, kw_only=True)
class Pieces:
    """Some of the pieces of an assembly, and of what holds them together."""

    members: tuple[Member, ...] = ()
    joints: tuple[Joint, ...] = ()
    ties: tuple[Tie, ...] = ()
    pins: tuple[Pin, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.members or self.joints or self.ties or self.pins)


def pieces_of(bed: Bed, part: str) -> Pieces:
    """The pieces that a part names.

    Parameters
    ----------
    bed : Bed
        One bed.
    part : str
        As in ``Check.part``; empty where a verdict is about no piece, such as the
        height.

    Returns
    -------
    Pieces
        None at all where the part is empty, or where the bed has no such piece.
    """
    made = assembly(bed)
    if part == "ties on top":
        return Pieces(ties=tuple(t for t in made.ties if not t.foot))
    if part == "ties at the foot":
        return Pieces(ties=tuple(t for t in made.ties if t.foot))
    if part == "corner pins":
        return Pieces(pins=_corner_pins(bed, made.pins))
    how, _, of = part.partition(" of ")
    if how in ("corner screws", "screws"):
        return Pieces(joints=_joints(bed, made.joints, of, how == "corner screws"))
    return Pieces(members=tuple(m for m in made.members if _is(bed, m, part)))


def _level(bed: Bed, name: str) -> int:
    """Course or rail by its name, counted from 0 at the foot."""
    if name == "top rail":
        return len(bands(bed)) - 1
    word, _, number = name.partition(" ")
    return int(number) - 1 if word == "board" and number.isdigit() else 0


def _is(bed: Bed, member: Member, part: str) -> bool:
    if part == "middle posts":
        ends = {axis for n, axis in enumerate(post_axes(bed)) if n}
        middle = sum(member.box[:2]) / 2
        last = max(ends, default=0.0)
        return member.what == "post" and any(
            abs(middle - x) < 1e-6 for x in ends if x < last
        )
    if member.wall not in _LONG:
        return False
    if part == "long walls":
        return True
    if part == "floor frame":
        return member.what == "floor rail"
    if part in ("sheet", "cap"):
        return member.what in (part, f"{part} side")
    course = member.what in ("side", "rail side")
    named = part.endswith(" rail") or part.startswith("board ")
    return course and named and member.level == _level(bed, part)


def _joints(bed: Bed, joints, of: str, corner: bool) -> tuple[Joint, ...]:
    """The joints of one board or rail of the long walls with its posts."""
    low, high = bands(bed)[_level(bed, of)]
    axes, width = post_axes(bed), bed.si.width
    ends = {round(x, 6) for x in (axes[0], axes[-1])} if axes else set()

    def there(joint: Joint) -> bool:
        x, y, _ = joint.screws[0]
        lies = all(low <= z <= high for _, _, z in joint.screws)
        posted = any(abs(x - axis) < 1e-6 for axis in axes)
        long = min(abs(y), abs(y - width)) < 1e-6
        return lies and posted and long and (round(x, 6) in ends) == corner

    return tuple(joint for joint in joints if there(joint))


def _corner_pins(bed: Bed, pins) -> tuple[Pin, ...]:
    first = min((pin.x for pin in pins), default=0.0)
    far = bed.si.length - first
    return tuple(p for p in pins if min(abs(p.x - first), abs(p.x - far)) < 1e-6)
