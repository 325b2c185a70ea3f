"""Size: outside against inside, what the bed weighs, whether one can reach in.

Reach is measured from the outside of the cap, because that is where one stands.
"""

from .chapter import Size, assess_size, pressure_below, reach_needed, widest_for_reach
from .decide import Advice, advise
from .posture import bend_angle, clear_height, reach_into, seat_verdict, soil_over_knees
from .shapes import Outline, outline

__all__ = [
    "Advice",
    "Outline",
    "Size",
    "advise",
    "bend_angle",
    "clear_height",
    "assess_size",
    "outline",
    "pressure_below",
    "reach_into",
    "reach_needed",
    "seat_verdict",
    "soil_over_knees",
    "widest_for_reach",
]
