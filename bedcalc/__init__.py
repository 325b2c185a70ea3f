"""bedcalc: see what follows from a tall raised garden bed before the first cut.

Given a :class:`Place` and a chosen :class:`Bed`, :func:`evaluate` answers with cost,
volume, wall load, bow, checks and their fixes::

    import bedcalc as bc

    garden = bc.demo_garden()
    outcome = bc.evaluate(garden["B"], garden.place)
    outcome.walls.bow_once.to("mm")

This package teaches estimating. It is not a design by a licensed person, and local
law, codes and the instructions of the tool and material come first.
"""

from .currency import Currency, CurrencyError
from .evaluate import Outcome, evaluate
from .garden.garden import Garden, GardenError, demo_garden, load, save
from .model.bed import Bed, BedError, Wall
from .model.climate import Climate
from .model.layers import Layer, strategy_layers
from .model.materials import BlockSize, FillMaterial, Person
from .model.outcome import Check, Fix
from .model.place import Levelling, Place, PlaceError, Survey
from .model.plot import Plot, Thing
from .model.prices import PriceError, PriceList
from .units import Q_, RangeError, UnitError, Units, show, ureg

__version__ = "0.1.0"

__all__ = [
    "Bed",
    "BedError",
    "BlockSize",
    "Check",
    "Climate",
    "Currency",
    "CurrencyError",
    "FillMaterial",
    "Fix",
    "Garden",
    "GardenError",
    "Layer",
    "Levelling",
    "Outcome",
    "Person",
    "Place",
    "PlaceError",
    "Plot",
    "PriceError",
    "PriceList",
    "Q_",
    "RangeError",
    "Survey",
    "Thing",
    "UnitError",
    "Units",
    "Wall",
    "demo_garden",
    "evaluate",
    "load",
    "save",
    "show",
    "strategy_layers",
    "ureg",
]
