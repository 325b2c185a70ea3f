"""What an assembly is made of: members, joints, angles, ties and pins."""

from __future__ import annotations

from dataclasses import dataclass

from ..model.bed import Bed

__all__ = ["Angle", "Assembly", "Joint", "Member", "Pin", "Tie"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """One piece as it is cut and as it lies in the bed.

    Parameters
    ----------
    what : str
        What kind of piece, as on its label: ``side``, ``end``, ``post``, ``cap side``.
    number : int
        Counts the pieces of this kind, from 1.
    goods : str
        What it is cut from, a key of the price list.
    box : tuple of float
        x0, x1, y0, y1, z0, z1 in metres, with its mitres filled up.
    axis : str
        ``x``, ``y`` or ``z``: along which it is cut to length.
    thick, wide : float
        Section before it is ripped, in metres; 0 where the design does not say.
    density : float
        kg/m3.
    wall : str
        ``front``, ``back``, ``left``, ``right``, or ``floor``, or empty for posts.
    level : int
        Course or rail from the foot.
    angle : float
        How far both ends are off square, in degrees: 45 for a mitre.
    straight : bool
        Whether it needs a straight board.
    """

    what: str
    number: int
    goods: str
    box: tuple[float, float, float, float, float, float]
    axis: str
    thick: float = 0.0
    wide: float = 0.0
    density: float = 0.0
    wall: str = ""
    level: int = 0
    angle: float = 0.0
    straight: bool = False

    @property
    def length(self) -> float:
        """Length to cut, in metres."""
        at = 2 * "xyz".index(self.axis)
        return self.box[at + 1] - self.box[at]


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """Screws that join two pieces: what they are, where their heads are.

    ``way`` is the direction they are driven, of length 1; ``length`` is the longest
    screw, in metres, whose point stays inside the wood.
    """

    where: str  # in words, such as "each board end into its corner post"
    goods: str
    screws: tuple[tuple[float, float, float], ...]
    way: tuple[float, float, float]
    length: float

    @property
    def points(self) -> tuple[tuple[float, float, float], ...]:
        """Where the screws end."""
        return tuple(
            tuple(at + self.length * w for at, w in zip(head, self.way, strict=True))
            for head in self.screws
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Angle:
    """A steel angle in an inside corner: the corner, and where its two legs point."""

    x: float
    y: float
    z: float  # middle of the course
    along: int  # +1 or -1: its leg on the long side points so
    across: int  # its leg on the end


@dataclass(frozen=True, slots=True, kw_only=True)
class Tie:
    """A rod through both long walls, at x and z."""

    x: float
    z: float
    foot: bool  # at the foot of the wall instead of the rim


@dataclass(frozen=True, slots=True, kw_only=True)
class Pin:
    """A steel pin driven down through stacked sleepers; sizes in metres."""

    x: float
    y: float
    foot: float
    top: float
    thick: float = 0.012  # and so is its hole


@dataclass(frozen=True, kw_only=True)
class Assembly:
    """Every piece of one bed and what holds it together."""

    bed: Bed
    members: tuple[Member, ...]
    joints: tuple[Joint, ...]
    ties: tuple[Tie, ...]
    pins: tuple[Pin, ...]
    angles: tuple[Angle, ...] = ()

    def of(self, what: str) -> tuple[Member, ...]:
        """All pieces of one kind."""
        return tuple(m for m in self.members if m.what == what)

    def screws(self) -> dict[str, int]:
        """How many screws of each kind the drawings show."""
        found: dict[str, int] = {}
        for joint in self.joints:
            found[joint.goods] = found.get(joint.goods, 0) + len(joint.screws)
        return found
