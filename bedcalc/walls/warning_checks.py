"""Warnings that nothing hides: height, standing water, what floats, what is below."""

from __future__ import annotations

import numpy as np

from bedcalc.model.bed import Bed
from bedcalc.model.outcome import Check, Fix, named
from bedcalc.model.place import Place
from bedcalc.units import GRAVITY, Q_, from_si

from .load_cases import load_row

__all__ = ["can_drown", "drains", "warned"]

_WATER = 1000 * GRAVITY  # N/m3


def can_drown(bed: Bed, place: Place) -> bool:
    """Whether water can stand in it: a closed base, or clay under an open one."""
    return not bed.drained and (not bed.open_base or place.soil == "clay")


def drains(bed: Bed) -> Fix:
    """The way out of standing water; no timber helps."""
    if bed.open_base:  # water stands on the clay below
        return Fix(
            says="Lay a drain at the foot, down to lower ground",
            change={"drained": True},
        )
    says = "Open the base, so that it drains"
    return Fix(says=says, change={"open_base": True})


def _check(**given) -> Check:
    return Check(detail=True, always=True, **given)


def warned(bed: Bed, wet: bool) -> list[Check]:
    """Height, layers that float, and what a deck or roof below may carry."""
    checks = [] if bed.wall.family == "trough" else [_height(bed)]
    if wet:
        checks += _floating(bed)
    if bed.may_carry is not None:
        checks.append(_deck(bed))
    return checks


def _height(bed: Bed) -> Check:
    limit = load_row("height_engineer").length
    fix = None
    if not np.ndim(bed.si.height) and bed.si.height > limit:
        fix = Fix(
            says="Build it {height:depth} high",
            change={"height": Q_(limit * 1000, "mm")},
        )
    return _check(
        chapter="walls",
        name="height",
        says="The wall is {demand} high; past {capacity} ask an engineer.",
        demand=from_si(bed.si.height, "m"),
        capacity=from_si(limit + 0.0 * bed.si.height, "m"),
        kind="size",
        source="irc",
        note="Ask one as well where the wall holds back a hill, stands on a deck or "
        "roof, or carries more than people.",
        fix=fix,
    )


def _floating(bed: Bed) -> list[Check]:
    """Layers that are lighter than water, soaked as they are: the lightest one."""
    light = min(bed.fill, key=lambda layer: layer.row.unit_weight_soaked)
    share = light.row.unit_weight_soaked / _WATER
    if share >= 1.0:
        return []
    still = 0.0 * bed.si.height
    return [
        _check(
            chapter="fill",
            name="floating",
            says="If the bed fills with water, its layer of "
            f"{named(light.row.name)} would float: it weighs {{capacity}} times "
            "as much as water.",
            demand=from_si(1.0 + still, ""),
            capacity=from_si(share + still, ""),
            source="computed",
            note="What floats lifts the soil above it and leaves the rest loose.",
            fix=drains(bed),
        )
    ]


def _deck(bed: Bed) -> Check:
    """How deep the fill may be on a deck, roof or balcony, by the load it may carry."""
    weights = [layer.row.unit_weight_soaked for layer in bed.fill]
    depth = np.sum(bed.layer_depths, axis=0)
    weight = sum(w * d for w, d in zip(weights, bed.layer_depths, strict=True))
    most = bed.may_carry.m_as("Pa") / np.maximum(weight, 1e-9) * depth
    fix, height = None, most + bed.si.height - depth
    if not np.ndim(most) and most < depth and height >= 0.15:
        low = np.floor(height * 100) / 100
        fix = Fix(
            says="Build it {height:depth} high", change={"height": Q_(low * 1000, "mm")}
        )
    return _check(
        chapter="walls",
        name="deck",
        says="On the deck, roof or balcony the fill is {demand} deep; it may be "
        "{capacity}, soaked, by the load you gave. An engineer has to say so before "
        "anybody builds.",
        demand=from_si(depth, "m"),
        capacity=from_si(most, "m"),
        aim=0.0,
        kind="depth",
        source="computed",
        note="The soaked fill alone; walls, people, snow and the way a load is shared "
        "come on top. A deck is usually built for people, not for soil.",
        fix=fix,
    )
