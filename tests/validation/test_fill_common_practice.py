"""Fill: volumes, packing and loads against definitions, geometry and trade counts.

Definitions: 1 ft = 0.3048 m, 1 yd = 0.9144 m, 1 lb = 0.45359237 kg (exact since the
international yard and pound agreement of 1959). Trade counts: common practice.
"""

from __future__ import annotations

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.fill import (
    assess_fill,
    barrow_loads,
    log_zone,
    loose_volume,
    rounded_order,
)
from bedcalc.size import assess_size
from tests.validation.printed import printed

CHAPTER = "fill"
OTHERS = "own derivation"


@pytest.fixture(scope="module")
def garden():
    return bc.demo_garden()


def test_solid_share_of_a_stacked_cord():
    """85 of 128 ft3 are wood: common practice (extension pages say 80 to 90)."""
    wood, _, _ = log_zone(Q_(128, "ft^3"), 85 / 128, 0.0)

    assert (wood / Q_(128, "ft^3")).m_as("") == printed("0.664")
    assert wood.m_as("ft^3") == pytest.approx(85)


@pytest.mark.parametrize(
    ("packing", "text"),
    [(np.pi / 4, "0.7854"), (np.pi / np.sqrt(12), "0.9069")],
)
def test_equal_cylinders_square_and_hexagonal(packing, text):
    """Geometry: pi/4 and pi/(2 sqrt 3)."""
    wood, chips, air = log_zone(Q_(1, "m^3"), packing, 0.85)

    assert wood.m_as("m^3") == printed(text)
    assert (wood + chips + air).m_as("m^3") == pytest.approx(1, abs=1e-12)


def test_four_logs_side_by_side():
    """Four of 0.25 m across 1.2 m, 0.25 m high: 4 pi/4 0.25^2/(1.2 x 0.25)."""
    packing = 4 * np.pi / 4 * 0.25**2 / (1.2 * 0.25)

    assert log_zone(Q_(1, "m^3"), packing, 0.0)[0].m_as("m^3") == printed("0.6545")


def test_bed_8_by_4_feet_one_foot_deep():
    """32 ft3 in yd3; arithmetic."""
    assert (Q_(8, "ft") * Q_(4, "ft") * Q_(1, "ft")).m_as("yd^3") == printed("1.185")


def test_loose_volume_divides_it_does_not_add():
    """1.185 yd3 / (1 - 0.15), not 1.185 x 1.15 = 1.363; arithmetic."""
    loose = loose_volume(Q_(32, "ft^3"), 0.15).m_as("yd^3")

    assert loose == printed("1.3943")
    assert loose != pytest.approx(1.363, abs=5e-3)


@pytest.mark.parametrize(
    ("volume", "barrow", "loads"),
    [
        (Q_(1, "yd^3"), Q_(2.5, "ft^3"), 11),  # 10.8
        (Q_(1, "yd^3"), Q_(6, "ft^3"), 5),  # 4.5, also in trade tables
        (Q_(1, "m^3"), Q_(85, "L"), 12),  # 11.76
        (Q_(7.5, "m^3"), Q_(85, "L"), 89),  # demo bill of the whole garden
    ],
)
def test_barrow_loads(volume, barrow, loads):
    """Whole loads: arithmetic, common practice for the sizes of barrows."""
    assert barrow_loads(volume, barrow).m == loads


def test_barrow_of_compost_weighs():
    """85 L at 900 kg/m3; arithmetic."""
    assert (Q_(85, "L") * Q_(900, "kg/m^3")).m_as("kg") == printed("76.5")


def test_bags_per_cubic_yard():
    """1.5 ft3 bags; arithmetic."""
    assert rounded_order(Q_(27, "ft^3"), Q_(1.5, "ft^3")).m_as("ft^3") / 1.5 == (
        pytest.approx(18)
    )


WORKED = {
    # settled depths in cm, bottom first: inside 2.4 x 1.2 x 0.75 m, area 2.88 m2
    "compost_logs": (("logs", 30), ("chips", 10), ("compost", 30), ("topdressing", 5)),
    "half_logs": (("logs", 37.5), ("chips", 7.5), ("mix", 25), ("topdressing", 5)),
    "all_mix": (("mix", 70), ("topdressing", 5)),
}


@pytest.fixture(scope="module")
def worked(garden):
    """The reference bed: 2.4 x 1.2 x 0.75 m inside (planks 30 mm thick outside)."""

    def fill(strategy):
        layers = tuple(
            bc.Layer(material=m, depth=Q_(d, "cm")) for m, d in WORKED[strategy]
        )
        bed = garden["C"].change(
            length=Q_(2.46, "m"), width=Q_(1.26, "m"), height=Q_(0.75, "m"),
            freeboard=Q_(0, "m"), fill=layers,
        )  # fmt: skip
        return assess_fill(bed, garden.place)

    return fill


@pytest.mark.parametrize(
    ("strategy", "wood", "in_gaps", "air"),
    [
        ("compost_logs", "0.518", "0.294", "0.0518"),
        ("half_logs", "0.648", "0.367", "0.0648"),
    ],
)
def test_log_zone_of_the_worked_bed(worked, strategy, wood, in_gaps, air):
    """Computed by hand: zone 0.864 (1.080) m3 x 0.60; x 0.40 x 0.85; x 0.40 x 0.15."""
    fill = worked(strategy)

    assert fill.wood.m_as("m^3") == printed(wood)
    assert fill.chips_in_gaps.m_as("m^3") == printed(in_gaps)
    assert fill.air.m_as("m^3") == printed(air)


@pytest.mark.parametrize(
    ("strategy", "goods", "loose"),
    [
        ("compost_logs", "chips", "0.646"),  # (0.288 + 0.294) / 0.9
        ("half_logs", "chips", "0.648"),  # (0.216 + 0.367) / 0.9
        ("half_logs", "mix", "0.847"),  # 0.720 / 0.85
        ("all_mix", "mix", "2.372"),  # 2.016 / 0.85
    ],
)
def test_loose_volumes_of_the_worked_bed(worked, strategy, goods, loose):
    """Computed by hand, see the sums beside each row."""
    order = next(o for o in worked(strategy).orders if o.goods == goods)

    assert order.loose.m_as("m^3") == printed(loose)


def test_compost_and_top_layer_are_ordered_together(worked):
    """Computed by hand: (0.864 + 0.144) / 0.85 = 1.186 m3."""
    order = next(o for o in worked("compost_logs").orders if o.goods == "compost")

    assert order.loose.m_as("m^3") == printed("1.186")


@pytest.mark.parametrize(
    ("strategy", "drop"),
    [("all_mix", "11.3"), ("compost_logs", "6.3"), ("half_logs", "5.3")],
)
def test_sinks_at_once_if_filled_loose(worked, strategy, drop):
    """By hand: sum of depth x settle, cm; logs 0, chips 0.10, the rest 0.15."""
    assert worked(strategy).drop_if_loose.m_as("cm") == printed(drop)


@pytest.mark.parametrize(
    ("name", "area", "volume"),
    [
        ("A", "2.592", "1.4514"),
        ("B", "2.506", "1.8040"),
        ("C", "1.462", "0.5481"),
        ("D", "1.086", "0.3041"),
        ("E", "1.890", "1.1340"),
        ("F", "2.800", "1.1200"),
    ],
)
def test_inside_of_the_demo_beds(garden, name, area, volume):
    """Invented sizes, computed by hand: (L - 2 t)(W - 2 t) H."""
    size = assess_size(garden[name], garden.place)

    assert size.inside_area.m_as("m^2") == printed(area)
    assert size.inside_volume.m_as("m^3") == printed(volume)


def test_order_for_the_whole_demo_garden(garden):
    """Computed by hand: 6.362 / 0.85 = 7.485, so 7.5 m3.

    6.362 is itself rounded (6.3617), hence one unit of the last place.
    """
    fills = [assess_fill(bed, garden.place) for bed in garden.beds]
    loose = sum(f.loose_volume for f in fills)

    assert loose.m_as("m^3") == printed("7.485", steps=1.0)
    assert rounded_order(loose, Q_(0.5, "m^3")).m_as("m^3") == 7.5


def test_mass_of_the_fill():
    """2.4 x 1.2 x 0.75 m at 11 and 15 kN/m3: 2.16 x 11 / 9.81 = 2.4 t, 3.3 t."""
    volume, gravity = Q_(2.16, "m^3"), Q_(9.81, "m/s^2")

    assert (volume * Q_(11, "kN/m^3") / gravity).m_as("t") == printed("2.4")
    assert (volume * Q_(15, "kN/m^3") / gravity).m_as("t") == printed("3.3")
