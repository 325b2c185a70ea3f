"""Site: how the ground falls, where the beds stand, how deep each is dug in.

Levels are read down from a datum, so elevation z = -reading. ``x`` runs to the right
and ``y`` down the page of the plan. Corners go round from the top left of the plan.
"""

from .chapter import Site, assess_site, fit_plane

__all__ = ["Site", "fit_plane", "assess_site"]
