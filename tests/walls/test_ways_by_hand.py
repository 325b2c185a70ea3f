"""Fixes and small laws of the long wall, worked out a second way."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.walls.detail_checks import corner_screw
from bedcalc.walls.fasteners import _least_mode
from bedcalc.walls.load_cases import push_on

DEMO = bc.demo_garden()


def outcome(name="B", **change):
    return bc.evaluate(DEMO[name].change(**change), DEMO.place)


def checks(o):
    return {check.name: check for check in o.walls.checks}


@pytest.mark.parametrize("ties", [0, 1, 2])
@pytest.mark.parametrize("length", [2.4, 3.0, 3.9, 4.8, 6.0, 7.2])
@pytest.mark.parametrize("name", ["A", "B"])
def test_as_many_ties_as_are_needed_and_not_one_more(name, length, ties):
    """Each number of ties is evaluated; the fix of the bow is the first that does."""
    bed = DEMO[name].change(length=Q_(length, "m"), ties=ties)
    found = checks(bc.evaluate(bed, DEMO.place))
    if found["bow"].ok and found["rail"].ok:
        assert found["bow"].fix is None
        return
    for more in range(ties + 1, 9):
        tried = checks(bc.evaluate(bed.change(ties=more), DEMO.place))
        if tried["bow"].ok and tried["rail"].ok:
            break
    assert found["bow"].fix.change["ties"] == more


@pytest.mark.parametrize("spacing", [1.2, 1.5, 2.0])
def test_posts_so_close_that_the_lowest_board_is_straight(spacing):
    """Bow over gap grows with the gap cubed; rounded down to 5 cm."""
    thin = replace(DEMO["A"].wall, thickness=Q_(18, "mm"))
    o = outcome("A", wall=thin, post_spacing=Q_(spacing, "m"), length=Q_(6, "m"))
    check, gap = checks(o)["between posts"], o.walls.si.post_gap
    assert not check.ok
    wanted = gap * (1 / check.utilisation) ** (1 / 3)
    found = check.fix.change["post_spacing"].m_as("m")

    assert wanted - 0.05 < found <= wanted + 1e-9
    assert found / 0.05 == pytest.approx(round(found / 0.05))
    closer = outcome("A", wall=thin, length=Q_(6, "m"), **check.fix.change)
    assert checks(closer)["between posts"].ok


def test_posts_of_four_boards_by_hand():
    """Above each board, what the boards get less what they carry, times the way up."""
    o = outcome("A")
    push, gap = o.walls.cases["soaked"].si, o.walls.si.post_gap
    z = np.array([0.07, 0.21, 0.35, 0.49])
    own = [push_on(push, 0.14 * i, 0.14 * (i + 1)) for i in range(4)]
    carried = push.moment * z / np.sum(z**2)
    moments = [
        abs(
            sum(
                (own[i] - carried[i]) * gap * (z[i] - at) for i in range(4) if z[i] > at
            )
        )
        for at in z
    ]
    strength = 24e6 * 0.5 / 1.3 * (150 / 70) ** 0.2
    use = 1.35 * max(moments) / (0.07**3 / 6) / strength

    assert o.check("post bends").utilisation == pytest.approx(use, rel=1e-6)


def test_the_shortest_screw_that_reaches_six_diameters():
    """38 mm of board and 6 x 5 mm of post are 68 mm: the screw of 70 mm does."""
    assert corner_screw("larch", 0.038).row.key == "5x70"
    assert corner_screw("larch", 0.0401).row.length > 0.0401 + 6 * 0.005


def test_a_stiff_pin_turns_in_both_pieces():
    """EN 1995-1-1, 8.6 (c) with r = 0.5: f t1 d / 2 (sqrt(4.75) - 1.5), from memory."""
    f, d, t1 = 20e6, 0.012, 0.040
    stiff = _least_mode(f, t1, t1 / 2, d, 1e9)

    assert stiff == pytest.approx(f * t1 * d / 2 * (4.75**0.5 - 1.5))


def test_how_deep_a_deck_may_be_filled_for_one_bed_and_for_many():
    """Soaked mix 15 kN/m3: 6 kPa carry 40 cm; the height goes down to whole cm."""
    one = outcome(may_carry=Q_(6.05, "kPa"))
    check = one.check("deck")
    low = check.fix.change["height"].m_as("m")
    many = outcome(may_carry=Q_(6.05, "kPa"), height=Q_(np.array([0.3, 0.72]), "m"))

    assert check.capacity.m_as("m") == pytest.approx(6.05 / 15)
    assert low == pytest.approx(0.40)
    assert outcome(may_carry=Q_(6.05, "kPa"), **check.fix.change).check("deck").ok
    assert many.check("deck").demand.m_as("m") == pytest.approx([0.3, 0.72])
    assert many.check("deck").capacity.m_as("m") == pytest.approx([6.05 / 15] * 2)
