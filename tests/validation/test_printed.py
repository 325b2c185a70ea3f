"""The helper that every outside check leans on."""

import pytest

from tests.validation.printed import printed

CHAPTER = "none"


def test_half_a_unit_in_the_last_place_passes_and_more_does_not():
    assert 0.28274 == printed("0.2827")
    assert 0.28276 != printed("0.2827")
    assert 14146.6 == printed("14 147")
    assert 14146.4 != printed("14 147")
    assert 3.24e5 == printed("3.2e5")
    assert 3.26e5 != printed("3.2e5")


def test_units_are_those_of_the_source():
    assert 50.0e-6 == printed("0.0775", "inch^2")
    assert 50.1e-6 != printed("0.0775", "inch^2")


def test_a_wider_step_is_stated():
    assert 1.07 == printed("1.06", steps=1)
    assert 1.08 != printed("1.06", steps=1)


@pytest.mark.parametrize("nonsense", ["", "about 3"])
def test_words_are_no_numbers(nonsense):
    with pytest.raises(ArithmeticError):
        printed(nonsense)
