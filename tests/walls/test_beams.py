"""Coefficients of equal spans against beam elements, and what must always hold."""

import hypothesis.strategies as st
import numpy as np
import pytest
from hypothesis import given, settings

from bedcalc.walls.beams import (
    MOST_SPANS,
    posted_shape,
    span_coefficients,
    uniform_bow,
    uniform_moment,
)
from bedcalc.walls.grillage import Rail, solve_grillage


@pytest.mark.parametrize("spans", range(1, MOST_SPANS + 1))
def test_closed_form_equals_solver(spans):
    """Every span count. Supports and their moments exact, peaks within the mesh."""
    places = [float(x) for x in np.linspace(0, 3.6, spans + 1)]
    held = dict.fromkeys(places[1:-1], np.inf)
    rail = Rail(z=0.0, stiffness=3560.0, load=516.0, ties=held)
    answer = solve_grillage(3.6, [rail], [], elements=480)
    c, unit = span_coefficients(spans), 516.0 * 3.6 / spans
    ties = [answer.rail_ties[0, at] for at in held]
    assert max(ties, default=0.0) == pytest.approx(c.reaction_interior * unit, rel=1e-6)
    # by symmetry the corners share what the ties leave
    assert c.reaction_end * unit == pytest.approx((516.0 * 3.6 - sum(ties)) / 2)
    assert answer.bow.max() == pytest.approx(
        uniform_bow.si(516.0, 3.6, 3560.0, spans), rel=1e-3
    )
    assert np.abs(answer.moment).max() == pytest.approx(
        uniform_moment.si(516.0, 3.6, spans), rel=2e-3
    )
    assert answer.moment.max() == pytest.approx(
        c.moment_span * 516 * (3.6 / spans) ** 2, rel=2e-3
    )
    assert answer.bow[0] / (c.bow * 516 * (3.6 / spans) ** 4 / 3560) == (
        pytest.approx(posted_shape(spans, 1, 0.0, answer.x / 3.6), abs=1e-5)
    )


def test_span_counts_broadcast():
    spans = np.array([[1, 2], [3, 12]])
    load = np.array([100.0, 500.0])
    many = uniform_bow.si(load, 3.6, 3560.0, spans)
    assert many.shape == (2, 2)
    for i in range(2):
        for j in range(2):
            one = uniform_bow.si(load[j], 3.6, 3560.0, int(spans[i, j]))
            assert many[i, j] == pytest.approx(one, rel=1e-12)


@pytest.mark.parametrize("spans", [0, 13, 1.5, np.array([1, 0])])
def test_impossible_span_counts_are_refused(spans):
    with pytest.raises(ValueError, match="whole numbers from 1 to 12"):
        span_coefficients(spans)


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
    # one tie more never makes it worse
    assert bow(length, ties + 2) < bow(length)
    corners = (span_coefficients(ties + n).reaction_end / (ties + n) for n in (1, 2))
    assert next(corners) > next(corners)
