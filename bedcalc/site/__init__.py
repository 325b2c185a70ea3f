"""Site: how the ground falls, where the beds stand, how deep each is dug in.

Levels are read down from a datum, so elevation z = -reading. ``x`` along the contour,
``y`` downhill. Corners go round as uphill-left, uphill-right, downhill-right,
downhill-left.
"""

from .follow import Site, corner_depths, cut_volume, fit_plane, follow_site

__all__ = ["Site", "corner_depths", "cut_volume", "fit_plane", "follow_site"]
