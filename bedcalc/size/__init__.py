"""Size: outside against inside, what the bed weighs, whether one can reach in.

Reach is measured from the outside of the cap, because that is where one stands.
"""

from .decide import Advice, advise
from .follow import (
    Size,
    follow_size,
    pressure_below,
    reach_needed,
    widest_for_reach,
)
from .posture import (
    bend_angle,
    clear_height,
    reach_into,
    seat_verdict,
    soil_over_knees,
)
from .shapes import Outline, outline

__all__ = [
    "Advice",
    "Outline",
    "Size",
    "advise",
    "bend_angle",
    "clear_height",
    "follow_size",
    "outline",
    "pressure_below",
    "reach_into",
    "reach_needed",
    "seat_verdict",
    "soil_over_knees",
    "widest_for_reach",
]
