"""Panels of workbook 06: readings, trenches, plan, sun, storm, and the sheet to print.

A :class:`SiteDesk` holds the plot with all its beds; each view changes a part of it
and shows one picture. What follows is asked of :mod:`bedcalc.questions.site_plan`.
"""

from ..own_climate import own_climate
from .answers import site_items
from .desk import SiteDesk, site_desk
from .ground import hill_block, soak_block, weight_block
from .hose import hose_block
from .levels import level_view, readings_view
from .own_ground import corner_view, ground_desk, thing_view
from .plots import (
    fill_view,
    ground_view,
    plan_view,
    stairs_view,
    storm_view,
    sun_view,
    verdicts,
)
from .sheet import sheet_block
from .text import readings_text, yard_text

__all__ = [
    "SiteDesk", "corner_view", "fill_view", "ground_desk", "ground_view", "hill_block",
    "hose_block", "level_view", "own_climate", "plan_view", "readings_text",
    "readings_view",
    "sheet_block", "site_desk", "site_items", "soak_block", "stairs_view", "storm_view",
    "sun_view", "thing_view", "verdicts", "weight_block", "yard_text",
]  # fmt: skip  # a list of names
