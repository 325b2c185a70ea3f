"""Plans of the site: what one asks of all beds together rather than of one.

:func:`bedcalc.evaluate` follows one bed; here stand the questions about the plot: where
the beds stand, which ways reach them, how many would fit, how much sun and rain comes.
The sums are the site chapter's.
"""

from __future__ import annotations

from ..model.bed import Bed
from ..model.place import RULES, Place
from ..model.plot import KINDS, Plot, Thing
from ..site.bed_levels import Gap, PlacedBed, SitePlan, plan_site
from ..site.chapter import plot_of
from ..site.fixes import fixed
from ..site.hose import HoseRun, hose_flow, hose_loss, hose_runs
from ..site.layout import Spot
from ..site.levelling import steps_needed
from ..site.overflow import Overflow, box_distance, overflow_of
from ..site.plots import Filling, Rain, Sun, fill_plot, rain_on, sun_asks, sun_on
from ..site.routes import Route, Walk, walk
from ..site.setout import diagonals_racked, line_skew, slide_to_square
from ..site.sun import DAYS
from ..site.survey import reversed_gap
from ..site.water import soaking_rate
from ..tables import table

__all__ = [
    "DAYS", "KINDS", "RULES", "Filling", "Gap", "HoseRun", "Overflow", "PlacedBed",
    "Plot", "Rain", "Route", "SitePlan", "Spot", "Sun", "Thing", "Walk",
    "box_distance", "diagonals_racked", "fill_plot", "hose_flow", "hose_loss",
    "hose_runs",
    "line_skew", "fixed", "overflow_of", "plan_site", "plot_of", "rain_on",
    "reversed_gap", "routes", "slide_to_square", "soaking_rate", "steps_needed",
    "sun_asks", "sun_on",
]  # fmt: skip  # a list of names


def routes(beds: tuple[Bed, ...], place: Place, wheel: str) -> Walk:
    """Where a barrow or wheelchair gets to from the gate.

    Parameters
    ----------
    beds : tuple of Bed
        Where they stand.
    place : Place
        Whose plot it is.
    wheel : str
        Row of data/paths.csv.

    Returns
    -------
    Walk
    """
    spots = tuple(
        (
            bed.name,
            Spot(
                x=bed.si.x,
                y=bed.si.y,
                length=bed.si.plan_length,
                width=bed.si.plan_width,
                turned=bed.turned,
            ),
        )
        for bed in beds
    )
    plot = plot_of(place, beds)
    fenced = place.plot is not None and plot.of_kind("gate") is not None
    return walk(plot, spots, table("paths")[wheel].width, fenced=fenced)
