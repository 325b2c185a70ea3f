"""The assembly of a bed: where each piece, screw, tie and pin lies.

Every piece of a bed is placed here once, in the order of the workshop. The cut list,
the bill, the drawings, the pictures and the weights read it, so that they cannot
disagree.

The box stands on z = 0, the underside of its walls. ``x`` runs along the long side
from the outside left end, ``y`` from the outside of the front wall to the back, ``z``
up; all in metres. Long sides run through, ends stand between them; rails of a frame lap
the same way; the cap is mitred at the corners. Courses are counted from the foot, and
the top course is the one that is ripped to fit.
"""

from .build import SCREWS_UP, assembly, bonded
from .fittings import ANGLE
from .layout import Layout, layout, posts_change
from .levels import (
    bands,
    courses,
    floor_of,
    levels,
    post_axes,
    rail_levels,
    sheet_depth,
    strips,
    strips_needed,
    tie_inset,
    upright_strips,
)
from .parts import Pieces, pieces_of
from .pieces import Angle, Assembly, Joint, Member, Pin, Tie

__all__ = [
    "ANGLE", "SCREWS_UP", "Angle", "Assembly", "Joint", "Layout", "Member", "Pieces",
    "Pin", "Tie", "assembly", "bands", "bonded", "courses", "floor_of", "layout",
    "levels", "pieces_of", "post_axes", "posts_change", "rail_levels", "sheet_depth",
    "strips", "strips_needed", "tie_inset", "upright_strips",
]  # fmt: skip  # a list of names
