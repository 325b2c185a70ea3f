"""A bed that stands already: a measured bulge, posts in the ground, wind, the hill.

What one asks beside the verdicts: how bad a bulge is, what a post set into the ground
would hold, what a trellis adds, what the ground uphill does to an empty bed.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from ..assembly import layout
from ..evaluate import Outcome, evaluate
from ..model.bed import Bed, Layer
from ..model.straightness import one_in, scale
from ..tables import Row, table
from ..units import Q_, Value, from_si, quantities, show, to_si
from ..walls.earth import k_at_rest
from ..walls.elastic_supports import ground_posts
from ..walls.framed_wall import bows
from ..walls.load_cases import load_row, pushes
from ..walls.material import material
from ..walls.pressure import passive_push, trellis_push
from ..walls.timber import section_modulus

__all__ = [
    "Bulge", "PostInGround", "Stacked", "Trellis", "block_kinds", "bulge_share",
    "embedded_post", "judge_bulge", "metals", "trellis", "uphill_push",
]  # fmt: skip  # a list of names


@quantities("", bulge="m [0, inf)", span="m (0, inf)")
def bulge_share(bulge: Value, span: Value) -> Value:
    """How far a wall bulges, as a share of the length between two holds.

    Parameters
    ----------
    bulge : quantity [m]
        In the middle, from a string between the two holds.
    span : quantity [m]
        Between the corners, or between a corner and a tie.

    Returns
    -------
    quantity []

    Notes
    -----
    u / L. Source: common_practice.
    """
    return bulge / span


@dataclass(frozen=True, kw_only=True)
class Bulge:
    """A measured bulge judged: its row of data/bulges.csv, and the wall of the sums."""

    measured: Any
    span: Any
    share: float
    row: Row
    walls: Any

    @property
    def one_in(self) -> float:
        """The bulge is one part in so many of the span."""
        return float(1 / self.share) if self.share > 0 else float("inf")

    def sentence(self, system: str = "metric") -> str:
        """What it means, in words."""
        bulge = show(self.measured, "bow", system)
        if not self.share:
            return f"{bulge}: {self.row.says}"
        part = (
            f"{one_in(self.share, measured=True)} of {show(self.span, 'size', system)}"
        )
        return f"{bulge} is {part}. {self.row.says}"


def judge_bulge(outcome: Outcome, measured: Q_, span: Q_ | None = None) -> Bulge:
    """How bad a measured bulge is.

    Parameters
    ----------
    outcome : Outcome
        Of the bed as it was built.
    measured : quantity [m]
        Bulge in the middle of a bay.
    span : quantity [m], optional
        The bay; that of the bed between corners and ties if left out.

    Returns
    -------
    Bulge
    """
    walls = outcome.walls
    bays = int(outcome.bed.ties) + 1
    if span is None:
        span = walls.span / bays
    share = bulge_share.si(to_si(measured, "m", "bulge"), to_si(span, "m", "span"))
    row = scale(share)
    return Bulge(
        measured=measured,
        span=span,
        share=float(share),
        row=row,
        walls=walls,
    )


@dataclass(frozen=True, kw_only=True)
class PostInGround:
    """What posts in the ground hold at the rim, what they get, how far it bows."""

    holds: Any
    needed: Any
    bow: Any
    enough: bool


def embedded_post(
    outcome: Outcome, depth: Q_, collar: Q_ | None = None
) -> PostInGround:
    """What the posts of a bed do once they are set into the ground, instead of a tie.

    Parameters
    ----------
    outcome : Outcome
        Of a bed with posts.
    depth : quantity [m]
        In the ground.
    collar : quantity [m], optional
        Width of a concrete collar round each; the post alone if left out.

    Returns
    -------
    PostInGround
        The same sums as :func:`bedcalc.evaluate` for a bed with such posts: a post
        gives before it holds, so it gets less than a tie would. ``holds`` has a safety
        of 1.5 on the ground, ``enough`` asks for strength and for the reader's aim.
    """
    bed, place = outcome.bed.change(post_depth=depth), outcome.place
    plan = layout(bed)
    wide = None if collar is None else to_si(collar, "m", "collar")
    posts = ground_posts(bed, place, plan, wide)
    if posts is None:
        none = from_si(0.0, "kN")
        bow = outcome.walls.bow_years
        return PostInGround(holds=none, needed=none, bow=bow, enough=False)
    spans = int(bed.ties) + 1
    found = bows(bed, pushes(bed), plan.span, spans, posts)
    good = found.post <= posts.holds and found.years <= found.aim
    return PostInGround(
        holds=from_si(posts.holds, "kN"),
        needed=from_si(found.post, "kN"),
        bow=from_si(found.years, "mm"),
        enough=bool(good),
    )


@dataclass(frozen=True, kw_only=True)
class Trellis:
    """Wind on a trellis on the rim: push, moment at the foot of its post, its use."""

    push: Any
    moment: Any
    use: float


def trellis(outcome: Outcome, height: Q_, width: Q_, solid: float = 0.5) -> Trellis:
    """What a trellis of this size on the rim asks of the one post that carries it.

    Parameters
    ----------
    outcome : Outcome
        Of a bed with posts.
    height, width : quantity [m]
        Over the rim, and along the wall for one post.
    solid : float
        Share that stops the wind, leaves and all.

    Returns
    -------
    Trellis
        ``use`` is the share of the post's bending strength for a short load.
    """
    bed, high = outcome.bed, to_si(height, "m", "height")
    area = high * to_si(width, "m", "width")
    push = trellis_push.si(load_row("wind").speed, area, solid)
    moment = push * (bed.si.height + high / 2)
    post = bed.wall.si.post
    key = "larch" if bed.wall.wood == "recycled_plastic" else bed.wall.wood
    wood = material(key, post, post, "person")
    people = table("timber_factors")["en_gamma_people"].value
    factor = people if wood.route == "en" else 1.0
    stress = factor * moment / section_modulus.si(post, post)
    return Trellis(
        push=from_si(push, "kN"),
        moment=from_si(moment, "N*m"),
        use=float(stress / wood.bending),
    )


def uphill_push(outcome: Outcome):
    """Push of the ground uphill on the empty bed, inwards, in N/m.

    0.5 K gamma h2 for the deepest corner of the trench; K at rest for 30 degrees,
    ground of 18 kN/m3 (from memory).
    """
    deep = max(float(np.max(outcome.site.si.corner_depths)), 0.0)
    still = k_at_rest.si(np.pi / 6)
    return from_si(
        passive_push.si(deep, load_row("uphill_ground").weight, still), "N/m"
    )


@dataclass(frozen=True, kw_only=True)
class Stacked:
    """One kind of block, stacked: how many courses stand soaked, and what three do."""

    row: Row
    courses: int
    tipping: float
    sliding: float


def _in_shares(bed: Bed) -> tuple[Layer, ...]:
    """The layers of a bed as shares of its fill, so that they fit any height."""
    shares = bed.layer_depths / bed.si.fill_depth
    return tuple(
        layer
        if layer.depth is None
        else Layer(material=layer.material, depth=Q_(100 * float(share), "percent"))
        for layer, share in zip(bed.fill, shares, strict=True)
    )


def block_kinds(outcome: Outcome, tried: int = 4) -> tuple[Stacked, ...]:
    """Every kind of data/blocks.csv in the place of this bed's blocks.

    Parameters
    ----------
    outcome : Outcome
        Of a bed of stacked blocks.
    tried : int
        Courses tried at most.

    Returns
    -------
    tuple of Stacked
        ``courses`` that stand with a safety of 1.5 when soaked, without anything in
        the joints; ``tipping`` and ``sliding`` are the safeties of three courses.
        The layers of the fill keep their shares of its depth at every height, and the
        rim stays as high above it as in this bed, at most half the wall.
    """
    found, fill = [], _in_shares(outcome.bed)
    free = outcome.bed.freeboard
    for row in table("blocks"):
        safe = []
        for courses in range(1, tried + 1):
            bed = outcome.bed.change(
                block=row.key,
                thickness=row.q("thickness"),
                course=row.q("course"),
                height=courses * row.q("course"),
                freeboard=min(free, courses * row.q("course") / 2),
                fill=fill,
            )
            walls = evaluate(bed, outcome.place).walls.si
            safe.append((walls.overturning_safety, walls.sliding_safety))
        stand = [min(pair) >= 1.5 for pair in safe]
        courses = stand.index(False) if False in stand else tried
        found.append(
            Stacked(
                row=row,
                courses=courses,
                tipping=float(safe[2][0]),
                sliding=float(safe[2][1]),
            )
        )
    return tuple(found)


def metals(outcome: Outcome) -> tuple[Row, ...]:
    """Which metals go with this wall: rows of data/pairings.csv, bad ones first."""
    words = {
        "larch": "cedar and larch",
        "western_cedar": "cedar and larch",
        "oak": "oak",
        "southern_pine": "preservative-treated",
    }
    wanted = {words.get(outcome.bed.wall.wood, "")}
    if outcome.bed.wall.family == "sheet":
        wanted.add("wet compost")
    rows = [row for row in table("pairings") if row.wood in wanted]
    return tuple(sorted(rows, key=lambda row: row.good == "yes"))
