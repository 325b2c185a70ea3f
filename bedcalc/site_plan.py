"""Plans of the site: what one asks of all beds together rather than of one.

:func:`bedcalc.evaluate` follows one bed; here stand the questions about the plot: where
the beds stand, which ways reach them, how many would fit, how much sun and rain comes.
The sums are the site chapter's.
"""

from __future__ import annotations

from .bed import Bed
from .place import Place
from .site.hose import HoseRun, hose_flow, hose_loss, hose_runs
from .site.layout import Spot
from .site.level import RULES, steps_needed
from .site.mends import mended
from .site.overflow import Overflow, overflow_of
from .site.placed import Gap, PlacedBed, SitePlan, plan_site
from .site.plane import reversed_gap
from .site.plots import Filling, Rain, Sun, fill_plot, rain_on, sun_on
from .site.routes import Route, Walk, walk
from .site.setout import diagonals_racked, line_skew, slide_to_square, string_sag
from .site.sun import DAYS
from .site.water import soaking_rate
from .site.yard import KINDS, Thing, Yard, as_words, yard_of
from .tables import table

__all__ = [
    "DAYS", "KINDS", "RULES", "Filling", "Gap", "HoseRun", "Overflow", "PlacedBed",
    "Rain", "Route", "SitePlan", "Spot", "Sun", "Thing", "Walk", "Yard", "as_words",
    "diagonals_racked", "fill_plot", "hose_flow", "hose_loss", "hose_runs",
    "line_skew", "mended", "overflow_of", "plan_site", "rain_on", "reversed_gap",
    "routes", "slide_to_square", "soaking_rate", "steps_needed", "string_sag",
    "sun_on", "yard_of",
]  # fmt: skip


def routes(beds: tuple[Bed, ...], place: Place, wheel: str, yard=None) -> Walk:
    """Where a barrow or wheelchair gets to from the gate.

    Parameters
    ----------
    beds : tuple of Bed
        Where they stand.
    place : Place
        Whose yard it is, unless ``yard`` is given.
    wheel : str
        Row of data/paths.csv.
    yard : Yard or None
        The plot.

    Returns
    -------
    Walk
    """
    spots = tuple(
        (
            bed.name,
            Spot(x=bed.si.x, y=bed.si.y, length=bed.si.length, width=bed.si.width),
        )
        for bed in beds
    )
    return walk(yard or yard_of(place), spots, table("paths")[wheel].width)
