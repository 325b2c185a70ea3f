"""The bucket keeps its water: balances, limits, and many beds at once."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bedcalc.water.bucket import ORDERS, march
from tests.water.balances import of_bucket


def season(seed: int, days: int = 90, beds: int = 3):
    draw = np.random.default_rng(seed)
    rain = draw.gamma(0.3, 0.012, (days, 1)) * (draw.random((days, 1)) < 0.3)
    reference = draw.uniform(0.002, 0.007, (days, 1))
    available = draw.uniform(0.02, 0.15, beds)
    return rain, 1.1 * reference, reference, available, draw.uniform(0.2, 0.6, beds)


@given(st.integers(0, 10_000), st.booleans(), st.sampled_from(ORDERS))
@settings(max_examples=40, deadline=None)
def test_what_comes_goes_or_stays(seed, water, order):
    rain, need, reference, available, fraction = season(seed)
    found = march(
        rain, need, reference, available, fraction, water=water, order=order,
        start=0.3 * available,
    )  # fmt: skip

    assert of_bucket(found) == pytest.approx(np.zeros(3), abs=1e-12)
    assert np.all((found.depletion >= 0) & (found.depletion <= available + 1e-12))
    assert np.all((found.used >= -1e-12) & (found.used <= need + 1e-12))


@given(st.integers(0, 10_000))
@settings(max_examples=20, deadline=None)
def test_many_beds_at_once_are_the_same_as_one_by_one(seed):
    rain, need, reference, available, fraction = season(seed)
    together = march(rain, need, reference, available, fraction)

    for bed in range(3):
        alone = march(
            rain[:, 0], need[:, 0], reference[:, 0], available[bed], fraction[bed]
        )
        assert together.depletion[:, bed] == pytest.approx(alone.depletion, abs=1e-15)


def test_who_waters_in_time_never_sees_stress():
    rain, need, reference, available, fraction = season(4)
    found = march(rain, need, reference, available, fraction)

    assert np.all(found.stress == 1)
    assert np.all(found.waterings > 0)


def test_a_larger_bucket_is_watered_less_often():
    rain, need, reference, _, _ = season(7)
    found = march(rain, need, reference, np.array([0.03, 0.06, 0.12]), 0.35)

    assert list(found.waterings) == sorted(found.waterings, reverse=True)


def test_light_rain_stays_on_the_leaves():
    """A fifth of 5 mm is 1 mm: 0.9 mm of rain does nothing (FAO-56, p. 170)."""
    for rain, counts in ((0.9e-3, 0), (1.1e-3, 1.1e-3)):
        found = march(np.array([rain]), np.array([5e-3]), np.array([5e-3]), 0.1, 0.4)
        assert found.rain[0] == counts


def test_an_order_that_does_not_exist_is_refused():
    with pytest.raises(ValueError, match="needs one of after_et, before_et"):
        march(np.zeros(2), np.zeros(2), np.zeros(2), 0.1, 0.4, order="never")
