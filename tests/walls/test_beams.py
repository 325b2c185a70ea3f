"""Closed forms against the element solver, and what must always hold."""

import hypothesis.strategies as st
import numpy as np
import pytest
from hypothesis import given, settings

from bedcalc.walls.beam_elements import solve_beam
from bedcalc.walls.beams import (
    MOST_SPANS,
    bow_shape,
    moment_shape,
    point_bow,
    point_moment,
    span_coefficients,
    spring_tie_bow,
    spring_tie_force,
    support_force,
    support_shares,
    uniform_bow,
    uniform_moment,
)

RIGID = np.inf


def rail(spans, length=3.6, stiffness=3560.0, load=516.0, elements=480):
    places = np.linspace(0, length, spans + 1)
    return solve_beam(
        length, stiffness, load, {float(x): RIGID for x in places}, elements=elements
    )


@pytest.mark.parametrize("spans", range(1, MOST_SPANS + 1))
def test_closed_form_equals_solver(spans):
    """Every span count. Supports and their moments exact, peaks within the mesh."""
    answer = rail(spans)
    coefficients, unit = span_coefficients(spans), 516.0 * 3.6 / spans
    assert answer.holds == pytest.approx(
        support_shares(spans)[: spans + 1] * unit, rel=1e-6
    )
    assert answer.bow.max() == pytest.approx(
        uniform_bow.si(516.0, 3.6, 3560.0, spans), rel=1e-3
    )
    assert np.abs(answer.moment).max() == pytest.approx(
        uniform_moment.si(516.0, 3.6, spans), rel=2e-3
    )
    assert np.abs(answer.shear).max() == pytest.approx(coefficients.shear * unit)
    share = answer.x / 3.6
    assert answer.bow / (coefficients.bow * 516 * (3.6 / spans) ** 4 / 3560) == (
        pytest.approx(bow_shape(spans, share), abs=1e-5)
    )
    found = moment_shape(spans, answer.x_cut / 3.6) * unit * 3.6 / spans
    assert answer.moment == pytest.approx(found, rel=1e-6, abs=1e-3)


def test_span_counts_broadcast():
    spans = np.array([[1, 2], [3, 12]])
    load = np.array([100.0, 500.0])
    many = uniform_bow.si(load, 3.6, 3560.0, spans)
    assert many.shape == (2, 2)
    for i in range(2):
        for j in range(2):
            one = uniform_bow.si(load[j], 3.6, 3560.0, int(spans[i, j]))
            assert many[i, j] == pytest.approx(one, rel=1e-12)
    assert support_shares(spans).shape == (2, 2, MOST_SPANS + 1)
    assert bow_shape(spans[..., None], np.linspace(0, 1, 5)).shape == (2, 2, 5)


@pytest.mark.parametrize("spans", [0, 13, 1.5, np.array([1, 0])])
def test_impossible_span_counts_are_refused(spans):
    with pytest.raises(ValueError, match="whole numbers from 1 to 12"):
        span_coefficients(spans)


def test_supports_carry_the_whole_load():
    """Balance: the supports of n spans hold n w s between them."""
    spans = np.arange(1, MOST_SPANS + 1)
    assert support_shares(spans).sum(axis=-1) == pytest.approx(spans, rel=1e-12)


@settings(max_examples=40)
@given(
    load=st.floats(50, 3000), length=st.floats(0.8, 8), stiffness=st.floats(500, 1e5),
    factor=st.floats(0.5, 2), ties=st.integers(0, 10),
)  # fmt: skip
def test_bow_grows_with_the_fourth_power_of_length(
    load, length, stiffness, factor, ties
):
    def bow(size, n=ties + 1):
        return uniform_bow.si(load, size, stiffness, n)

    assert bow(factor * length) == pytest.approx(factor**4 * bow(length), rel=1e-9)
    corner, tie, shear = support_force.si(load, length, ties + 1)
    longer = support_force.si(load, factor * length, ties + 1)
    assert [*longer] == pytest.approx([factor * f for f in (corner, tie, shear)])
    # one tie more never makes it worse
    assert bow(length, ties + 2) < bow(length)
    assert support_force.si(load, length, ties + 2)[0] < corner


@settings(max_examples=25, deadline=None)
@given(
    place=st.floats(0.1, 0.9), spring=st.floats(1e2, 1e7), load=st.floats(50, 2000),
    slope=st.floats(-1, 1),
)  # fmt: skip
def test_a_tie_anywhere_never_makes_the_bow_worse(place, spring, load, slope):
    """A spring at any place, of any stiffness, under a sloping load."""
    load = ([0.0, 3.0], [load * (1 - slope), load * (1 + slope)])
    corners = {0.0: RIGID, 3.0: RIGID}
    free = solve_beam(3.0, 3560.0, load, corners)
    held = solve_beam(3.0, 3560.0, load, corners | {3 * place: spring})
    at_free = np.interp(3 * place, free.x, free.bow)
    at_held = np.interp(3 * place, held.x, held.bow)
    assert at_held <= at_free * (1 + 1e-9)
    # strain energy, half of load times bow, can only fall
    w = np.interp(free.x, *load)
    w_held = np.interp(held.x, *load)
    assert np.trapezoid(w_held * held.bow, held.x) <= np.trapezoid(
        w * free.bow, free.x
    ) * (1 + 1e-3)


def test_spring_tie_closed_form_equals_solver():
    for spring in (1e3, 1e5, 1e7):
        answer = solve_beam(3.6, 3559.3, 515.6, {0.0: RIGID, 1.8: spring, 3.6: RIGID})
        force = spring_tie_force.si(515.6, 3.6, 3559.3, spring)
        assert answer.holds[1] == pytest.approx(force, rel=1e-9)
        middle = np.argmin(np.abs(answer.x - 1.8))
        assert answer.bow[middle] == pytest.approx(
            spring_tie_bow.si(515.6, 3.6, 3559.3, spring), rel=1e-9
        )


def test_a_rigid_spring_is_a_tie():
    force = spring_tie_force.si(515.6, 3.6, 3559.3, np.inf)
    assert force == pytest.approx(support_force.si(515.6, 3.6, 2)[1], rel=1e-9)


def test_one_load_in_the_middle():
    answer = solve_beam(1.8, 3560.0, 0.0, {0.0: RIGID, 1.8: RIGID}, points={0.9: 900.0})
    middle = np.argmin(np.abs(answer.x - 0.9))
    assert answer.bow[middle] == pytest.approx(point_bow.si(900.0, 1.8, 3560.0))
    assert answer.moment.max() == pytest.approx(point_moment.si(900.0, 1.8))


def test_clamped_ends():
    """By hand: w L4 / 384 EI, a fifth of the pinned rail, and w L2 / 12 at the ends."""
    answer = solve_beam(
        3.6, 3560.0, 516.0, {0.0: RIGID, 3.6: RIGID}, clamped=(True, True)
    )
    assert answer.bow.max() == pytest.approx(516 * 3.6**4 / (384 * 3560))
    assert answer.moment.min() == pytest.approx(-516 * 3.6**2 / 12)


def test_a_stronger_piece_in_the_middle():
    """A rail of two stiffnesses against the integral of M m / EI, by Simpson's rule."""
    stiff = ([0, 1.2, 1.2, 2.4, 2.4, 3.6], [1e3, 1e3, 4e3, 4e3, 1e3, 1e3])
    answer = solve_beam(3.6, stiff, 100.0, {0.0: RIGID, 3.6: RIGID}, elements=72)

    def virtual(low, high, ei):
        x = np.linspace(low, high, 201)
        value = 100 * x * (3.6 - x) / 2 * x / 2 / ei
        return (
            (high - low)
            / 600
            * (value[0] + value[-1] + 4 * value[1:-1:2].sum() + 2 * value[2:-1:2].sum())
        )

    by_hand = 2 * (virtual(0, 1.2, 1e3) + virtual(1.2, 1.8, 4e3))
    assert answer.bow.max() == pytest.approx(by_hand, rel=1e-9)


def test_order_of_convergence():
    """A load shaped like half a sine wave, drawn straight from node to node.

    Exact: u = q L4 / (pi4 EI) sin. Straight pieces of a curve err by the square of
    their length, so halving the elements must divide the error by 4.
    """
    exact = 1000.0 * 2.0**4 / np.pi**4 / 5000.0
    errors = []
    for elements in (4, 8, 16, 32):
        x = np.linspace(0, 2, elements + 1)
        load = ([*x], [*(1000 * np.sin(np.pi * x / 2))])
        answer = solve_beam(
            2.0, 5000.0, load, {0.0: RIGID, 2.0: RIGID}, elements=elements
        )
        errors.append(abs(answer.bow[elements // 2] - exact))
    order = np.log2(np.array(errors[:-1]) / np.array(errors[1:]))
    assert order[-1] == pytest.approx(2, abs=0.05)


def test_outside_supports_are_refused():
    with pytest.raises(ValueError, match="between 0 and 3.6"):
        solve_beam(3.6, 1.0, 1.0, {0.0: RIGID, 4.0: RIGID})
