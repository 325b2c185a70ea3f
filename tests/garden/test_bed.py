"""A bed refuses what cannot be, in a sentence that helps."""

from __future__ import annotations

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_, BedError, Layer, Wall


@pytest.fixture
def bed():
    return bc.demo_garden()["B"]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"length": 2.7}, ("length", "without a unit", "Q_(")),
        ({"length": Q_(2.7, "kg")}, ("length", "kilogram", "[mass]")),
        ({"length": Q_(40, "m")}, ("length", "from 0.4 m to 12 m", "40 meter")),
        ({"height": Q_(5, "cm")}, ("height", "from 0.1 m to 1.2 m")),
        ({"width": Q_(float("nan"), "m")}, ("width",)),
        ({"ties": 1.5}, ("ties", "whole number", "1.5")),
        ({"ties": -1}, ("ties", "0 to 8")),
        ({"name": " "}, ("name", "short name")),
        ({"users": "giants"}, ("users", "adult", "giants")),
        ({"sides": "all"}, ("sides", "'both' or 'one'")),
        ({"fill": ()}, ("fill", "bottom first")),
        ({"wall": "sheet"}, ("wall", "Wall.named")),
        ({"rail_thin": Q_(9, "m")}, ("wall", "rail_thin")),
        ({"colour": "red"}, ("colour", "names among")),
        ({"soil_depth": Q_(80, "cm")}, ("soil_depth", "no more than the height")),
    ],
)
def test_a_wrong_entry_says_field_need_and_given(bed, change, words):
    with pytest.raises(BedError) as error:
        bed.change(**change)

    for word in words:
        assert word in str(error.value)


def test_two_layers_cannot_both_take_the_rest(bed):
    with pytest.raises(BedError, match="at most one layer that takes the rest"):
        bed.change(fill=(Layer(material="mix"), Layer(material="chips")))


def test_layers_must_fit(bed):
    with pytest.raises(BedError, match="layers that fit into 72 cm"):
        bed.change(fill=(Layer(material="logs", depth=Q_(75, "cm")),))


def test_a_layer_knows_its_materials():
    with pytest.raises(BedError, match="needs one of mix, topsoil"):
        Layer(material="cheese")


def test_walls_too_thick_for_the_width():
    blocks = Wall.named("blocks")
    with pytest.raises(BedError, match="at least 10 cm between the inner faces"):
        bc.Bed(
            name="N",
            length=Q_(2, "m"),
            width=Q_(35, "cm"),
            height=Q_(40, "cm"),
            wall=blocks,
        )


def test_change_leaves_the_old_bed_alone(bed):
    tied = bed.change(ties=1, rail_lying=True, post_spacing=Q_(80, "cm"))

    assert (bed.ties, bed.rail_lying) == (0, False)
    assert (tied.ties, tied.rail_lying) == (1, True)
    assert tied.wall.post_spacing == Q_(80, "cm")
    assert bed.wall.post_spacing != tied.wall.post_spacing


def test_rails_lying_take_room_inside(bed):
    """Frame 70 x 45: inside width 1050 - 2 x 45 = 960, lying 1050 - 2 x 70 = 910."""
    lying = bed.change(rail_lying=True)

    assert bed.si.inside_width == pytest.approx(0.960)
    assert lying.si.inside_width == pytest.approx(0.910)


@pytest.mark.parametrize("share", [0, 15, 33, 60])
def test_layers_add_up_to_the_fill(bed, share):
    layers = bc.strategy_layers("logs_chips_mix", Q_(share, "percent"))
    filled = bed.change(fill=layers, freeboard=Q_(50, "mm"))

    assert sum(filled.layer_depths) == pytest.approx(0.67)
    if share:
        assert filled.layer_depths[0] == pytest.approx(0.67 * share / 100)


def test_no_share_is_no_log_layer():
    layers = bc.strategy_layers("logs_chips_mix", Q_(0, "percent"))

    assert [layer.material for layer in layers] == ["chips", "mix"]


def test_a_bed_may_hold_many_lengths(bed):
    many = bed.change(length=Q_(np.array([1.8, 2.7, 3.6]), "m"))

    assert many.layer_depths.shape == (1,) or many.layer_depths.shape == (1, 3)
    assert many.si.inside_length == pytest.approx([1.71, 2.61, 3.51])
