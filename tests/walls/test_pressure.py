"""Layered pressure: by hand, by integration, and by what must always hold."""

import hypothesis.strategies as st
import numpy as np
import pytest
from hypothesis import given, settings

from bedcalc.units import Q_, UnitError
from bedcalc.walls.earth import (
    k_active,
    k_at_rest,
    silo_pressure,
)
from bedcalc.walls.pressure import (
    passive_push,
    push,
    push_between,
    rail_loads,
    segments,
    trellis_push,
)
from tests.validation.printed import printed

INF = np.inf


def wall(thickness, weight, soaked, k, surcharge=0.0, water=INF):
    return segments.si(
        np.array(thickness), np.array(weight), np.array(soaked), np.array(k),
        surcharge, water,
    )  # fmt: skip


def test_uniform_fill():
    """By hand: 11 kN/m3, K 0.5, 0.75 m: P = 0.5 x 5.5 x 0.75^2 = 1.5469 kN/m."""
    total, moment, acts_at = push.si(*wall([0.75], [11e3], [15e3], [0.5]))
    top, base = rail_loads.si(total, moment, 0.75)
    assert total == printed("1546.9")
    assert acts_at == printed("0.2500")
    assert top == printed("515.6")
    assert base == printed("1031.3", steps=1)  # 1031.25, a tie


def test_surcharge():
    """By hand: 2.4 kPa adds 0.5 x 2.4 x 0.75 = 0.9 kN/m at mid-height."""
    total, moment, acts_at = push.si(*wall([0.75], [11e3], [15e3], [0.5], 2400.0))
    top, _ = rail_loads.si(total, moment, 0.75)
    assert total == printed("2446.9")
    assert acts_at == printed("0.2960")
    assert top == printed("965.6")


def test_water_to_the_surface():
    """By hand: (0.5 x 5.19 + 9.81) x 0.75 = 9.304 kPa at the base."""
    pieces = wall([0.75], [11e3], [15e3], [0.5], water=0.0)
    total, moment, _ = push.si(*pieces)
    top, base = rail_loads.si(total, moment, 0.75)
    assert pieces.pressure_bottom[-1] == printed("9304", steps=0.51)  # 9303.75
    assert total == printed("3488.9")
    assert top == printed("1163.0")
    assert base == printed("2325.9")


def test_water_inside_a_layer():
    """By hand: 0.25 m of moist 11 over 0.50 m of saturated 14, K 0.5.

    1.375 kPa at the water, 1.375 + 0.5 x 4.19 x 0.5 + 9.81 x 0.5 = 7.3275 at the base;
    P = 0.1719 + 2.1756; M = 0.1719 x 0.5833 + 1.375 x 0.125 + 5.9525 x 0.5^2/6.
    """
    pieces = wall([0.75], [11e3], [14e3], [0.5], water=0.25)
    total, moment, _ = push.si(*pieces)
    assert pieces.pressure_bottom[-1] == printed("7327.5")
    assert total == printed("2347.5")
    assert moment == printed("520.2")


def test_three_layers_jump():
    """Recomputed for the Own derivationby integration: soil, chips, logs."""
    k = k_at_rest.si(np.deg2rad([32, 35, 38]))
    pieces = wall([0.30, 0.20, 0.25], [11e3, 6e3, 6.5e3], [15e3, 10e3, 10.5e3], k)
    above = slice(0, None, 2)
    assert [*pieces.pressure_top[above]] == [
        printed("0.0"), printed("1407.2"), printed("1729.5"),
    ]  # fmt: skip
    assert [*pieces.pressure_bottom[above]] == [
        printed("1551.3"), printed("1918.9"), printed("2354.1"),
    ]  # fmt: skip
    total, moment, acts_at = push.si(*pieces)
    assert total == printed("1075.7")
    assert moment == printed("303.2")
    assert acts_at == printed("0.2819")
    assert rail_loads.si(total, moment, 0.75)[0] == printed("404.3")


@pytest.mark.parametrize(
    ("water", "weights", "words"),
    [(INF, [15e3, 10e3, 10.5e3], "565.9"), (0.0, [11e3, 6e3, 6.5e3], "1089.3")],
)
def test_three_layers_soaked_and_waterlogged(water, weights, words):
    """The same fill after long rain, and standing in water."""
    k = k_at_rest.si(np.deg2rad([32, 35, 38]))
    pieces = wall([0.30, 0.20, 0.25], weights, [15e3, 10e3, 10.5e3], k, water=water)
    total, moment, _ = push.si(*pieces)
    assert rail_loads.si(total, moment, 0.75)[0] == printed(words)


def test_logs_under_water_weigh_nothing_and_do_not_pull():
    """A layer lighter than water adds water pressure only."""
    pieces = wall([0.5], [4e3], [8e3], [0.4], water=0.0)
    assert pieces.pressure_bottom[-1] == pytest.approx(9810 * 0.5)


thickness = st.floats(0.02, 0.6)
heavy = st.floats(3e3, 20e3)
ratio = st.floats(0.2, 0.7)


@settings(max_examples=60)
@given(
    layers=st.lists(st.tuples(thickness, heavy, heavy, ratio), min_size=1, max_size=4),
    surcharge=st.floats(0, 5e3),
    share=st.floats(0, 1.2),
)
def test_resultant_equals_integration(layers, surcharge, share):
    """The straight pieces against a fine sum of p(s) written out a second way."""
    t, w, sat, k = map(np.array, zip(*layers, strict=True))
    height = t.sum()
    water = share * height
    total, moment, _ = push.si(*wall(t, w, sat, k, surcharge, water))

    def stress(s):
        edges = np.concatenate([[0.0], np.cumsum(t)])
        found = surcharge
        for i in range(len(t)):
            part = np.clip(s, edges[i], edges[i + 1]) - edges[i]
            dry = np.clip(water - edges[i], 0, part)
            found = found + w[i] * dry + max(0.0, sat[i] - 9810) * (part - dry)
        return found

    edges = np.concatenate([[0.0], np.cumsum(t)])
    force = turn = 0.0
    for i in range(len(t)):
        cuts = sorted(
            {edges[i], edges[i + 1], float(np.clip(water, edges[i], edges[i + 1]))}
        )
        for low, high in zip(cuts, cuts[1:], strict=False):
            # Gauss with two points is exact for a line times an arm
            for node in (-1, 1):
                s = (low + high) / 2 + node * (high - low) / 2 / np.sqrt(3)
                p = k[i] * stress(s) + 9810 * max(0.0, s - water)
                force += p * (high - low) / 2
                turn += p * (high - low) / 2 * (height - s)
    assert total == pytest.approx(force, rel=1e-9)
    assert moment == pytest.approx(turn, rel=1e-9)


@settings(max_examples=30)
@given(
    layers=st.lists(st.tuples(thickness, heavy, heavy, ratio), min_size=1, max_size=4),
    boards=st.integers(1, 7),
    share=st.floats(0, 1.2),
)
def test_slices_add_up(layers, boards, share):
    """What the boards carry together is what pushes on the wall."""
    t, w, sat, k = map(np.array, zip(*layers, strict=True))
    pieces = wall(t, w, sat, k, 800.0, share * t.sum())
    edges = np.linspace(0, t.sum(), boards + 1)
    slices = [
        push_between.si(*pieces, lo, hi)
        for lo, hi in zip(edges[:-1], edges[1:], strict=True)
    ]
    total, moment, _ = push.si(*pieces)
    force, turn = np.sum(slices, axis=0)
    assert force == pytest.approx(total, rel=1e-9)
    assert turn == pytest.approx(moment, rel=1e-9)


def test_a_sweep_is_the_same_as_one_bed_at_a_time():
    """Depths, surcharge and water on a design axis beside the layer axis."""
    t = np.array([[0.3, 0.2, 0.1], [0.4, 0.5, 0.0]])
    q, water = np.array([0.0, 1000.0, 2400.0]), np.array([np.inf, 0.35, np.nan])
    w, sat, k = np.array([11e3, 6e3]), np.array([15e3, 9e3]), np.array([0.5, 0.43])
    many = push.si(*segments.si(t, w, sat, k, q, water))
    for i in range(3):
        one = push.si(*segments.si(t[:, i], w, sat, k, q[i], water[i]))
        assert [a[i] for a in many] == pytest.approx(one, rel=1e-12)


@settings(max_examples=30)
@given(height=st.floats(0.2, 0.9), factor=st.floats(0.5, 2.0))
def test_rail_load_grows_with_the_square_of_the_height(height, factor):
    def top(h):
        total, moment, _ = push.si(*wall([h], [11e3], [15e3], [0.5]))
        return rail_loads.si(total, moment, h)[0]

    assert top(factor * height) == pytest.approx(factor**2 * top(height), rel=1e-9)


@settings(max_examples=30)
@given(water=st.floats(0, 0.75), lower=st.floats(0, 0.75))
def test_more_water_never_pushes_less(water, lower):
    high, low = sorted([water, lower])

    def moment(s):
        return push.si(*wall([0.75], [11e3], [15e3], [0.5], water=s))[1]

    assert moment(high) >= moment(low) - 1e-9


def test_floor_of_fibrous_fill_binds_only_below_it():
    angles = np.deg2rad([20.0, 30.0, 38.0])
    assert k_at_rest.si(angles, 0.5) == pytest.approx([1 - np.sin(angles[0]), 0.5, 0.5])


def test_silo_in_a_narrow_bed():
    """By hand: B 1.2 m, 11 kN/m3, K 0.5, delta 20 deg, 0.75 m deep.

    mu = 0.36397; 11 x 1.2/0.72794 x (1 - exp(-0.22748)) = 3.6895 kPa; 0.894 of K g s.
    """
    found = silo_pressure(
        Q_(0.75, "m"), Q_(11, "kN/m^3"), Q_(0.5, ""), Q_(20, "deg"), Q_(1.2, "m")
    )
    assert found.m_as("kPa") == printed("3.6895")
    assert found.m_as("kPa") / 4.125 == printed("0.8944")


def test_silo_of_a_wide_bed_is_no_silo():
    """As B grows the pressure tends to K gamma s, from below."""
    wide = silo_pressure.si(0.75, 11e3, 0.5, np.deg2rad(20), np.array([10.0, 1e5]))
    assert wide[0] < wide[1] < 4125
    assert wide[1] == pytest.approx(4125, rel=1e-4)


def test_hill_behind_the_uphill_wall():
    """Own derivation, by hand: 0.25 x 18 x 0.17^2 = 0.13, at 0.19 m 0.16 kN/m."""
    found = passive_push.si(np.array([0.17, 0.19]), 18e3, 0.5)
    assert found[0] == printed("0.13e3")
    assert found[1] == printed("0.16e3")


def test_toe_resistance():
    """By hand: 0.5 x 3 x 16 x d2 for 50, 100, 150, 200 mm."""
    found = passive_push.si(np.array([0.05, 0.10, 0.15, 0.20]), 16e3, 3.0) / 1e3
    assert [*found] == [printed(w) for w in ("0.06", "0.24", "0.54", "0.96")]


def test_wind_on_a_trellis():
    """By hand: 22 m/s gives 0.613 x 484 = 297 Pa; x 1.3 x 0.5 x 2 m2 = 386 N."""
    assert trellis_push.si(22.0, 2.0, 0.5) == printed("386")


def test_an_angle_needs_its_unit():
    with pytest.raises(UnitError, match="angle"):
        k_active(0.52)
