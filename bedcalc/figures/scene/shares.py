"""What the picture says of strength: which part, and how much of it is used.

Signs stand on the parts themselves. What does not hold comes first, the worst before
the others; what holds is said of the main parts. How people use the bed (sitting,
treading) is left to words.
"""

from __future__ import annotations

from dataclasses import dataclass

from bedcalc.assembly import Member, pieces_of

__all__ = ["Share", "said_shares", "shares", "weak_words"]

#: for each verdict: the part of the front wall, and what the label calls it
_PARTS = {
    "rail": ("top", "rim"), "tie": ("tie", "tie on top"), "rod": ("tie", "rod"),
    "hole": ("top", "rim at the rod's hole"), "corner": ("corner", "corner"),
    "post": ("post", "posts"), "post bends": ("post", "posts"),
    "upright": ("post", "posts"), "sheet": ("sheet", "sheet"),
    "waterlogged": ("all", "full of water"), "tipping": ("tips", "tips over"),
    "sliding": ("foot", "slides"), "foot": ("foot", "foot"),
    "base tie": ("base tie", "tie at the foot"), "board": ("foot", "lowest board"),
    "screws": ("corner", "screws"), "floor": ("foot", "floor"),
}  # fmt: skip
_MAIN = ("rail", "foot", "tie", "base tie", "tipping", "sliding", "floor", "sheet")
_MOST = 4


@dataclass(frozen=True)
class Share:
    """One part with its sign and its share."""

    part: str
    label: str
    verdict: str
    sign: str
    used: str
    pieces: tuple[tuple[str, int], ...]  # what and number of the assembly's members

    @property
    def fails(self) -> bool:
        """Whether it does not hold."""
        return self.verdict == "fails"


def shares(outcome) -> list[Share]:
    """What is said on the picture, the worst first; one share a part."""
    found: dict[str, Share] = {}
    checks = [
        check
        for check in outcome.walls.checks
        if not check.straight and check.name in _PARTS
        and (not check.ok or check.name in _MAIN)
    ]  # fmt: skip

    def order(check) -> tuple:
        if not check.ok:
            return 0, -check.utilisation
        return 1, _MAIN.index(check.name)

    for check in sorted(checks, key=order):
        part, label = _PARTS[check.name]
        if check.name in ("rail", "board"):
            label = check.part
        pieces = tuple((m.what, m.number) for m in _pieces(outcome.bed, check))
        found.setdefault(
            part,
            Share(part, label, check.verdict, check.sign, check.used(), pieces),
        )
    return list(found.values())[:_MOST]


def _pieces(bed, check) -> list[Member]:
    """The members a verdict is about; of screws, the board they hold.

    A wall of loose blocks tips at its top course and slides at its foot.
    """
    found = [
        m for m in pieces_of(bed, check.part.rpartition(" of ")[2]).members
        if m.wall == "front"
    ]  # fmt: skip
    ends = {"tipping": max, "sliding": min}
    if check.name in ends and found:
        level = ends[check.name](m.level for m in found)
        found = [m for m in found if m.level == level]
    return found


def weak_words(outcome) -> str:
    """Sign, part and share of the worst: ``✕ foot: 130 %``; empty where all holds."""
    worst = next(iter(shares(outcome)), None)
    if worst is None or not worst.fails:
        return ""
    return f"{worst.sign} {worst.label}: {worst.used}"


def said_shares(outcome) -> str:
    """All shares on the picture in one sentence."""
    said = [f"{s.label} {s.used}" + (" (does not hold)" if s.fails else "")
            for s in shares(outcome)]  # fmt: skip
    return f"Of the strength is used: {', '.join(said)}. " if said else ""
