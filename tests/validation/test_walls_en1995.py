"""European timber values against EN 338 and EN 1995-1-1 (as far as remembered)."""

import numpy as np
import pytest

from bedcalc.tables import table
from bedcalc.units import Q_
from bedcalc.walls.timber import (
    bearing_en,
    bending_en,
    factor,
    long_term_bow,
    size_factor_en,
)
from tests.validation.kinds import outside
from tests.validation.printed import printed

CHAPTER = "walls"
OTHERS = "own derivation"


@pytest.mark.parametrize(
    ("grade", "words"),
    [("C14", "3.99"), ("C16", "4.56"), ("C18", "5.13"), ("C20", "5.70"),
     ("C22", "6.27"), ("C24", "6.84"), ("D24", "6.84"), ("D30", "8.55")],
)  # fmt: skip
def test_what_a_class_is_worth_against_plain_soil_load(grade, words):
    """Own derivation: x kmod/(gamma_M gamma_G) = 0.50/(1.3 x 1.35) = 0.285.

    The sum by hand rounds the factor to 0.285 (0.2849), hence one step.
    """
    plain = bending_en(grade, "permanent", Q_(150, "mm")) / factor("en_gamma_soil")
    assert plain.m_as("MPa") == printed(words, steps=1)


@outside("from memory", "size_factor_en", "en1995", facts=3)
def test_size_factor():
    """EN 1995-1-1 3.2(3): 1 from 150 mm on, (150/45)^0.2 = 1.27, never over 1.3."""
    found = size_factor_en.si(np.array([0.2, 0.150, 0.045, 0.033, 0.022]))
    assert found[0] == found[1] == 1.0
    assert found[2] == printed("1.27")
    assert found[3] == found[4] == 1.3


def test_design_values_of_c24_by_hand():
    """24 x 0.5 x 1.2723 / 1.3 = 11.74 for 45 mm; 2.5 x 0.5 / 1.3 = 0.96 across."""
    assert bending_en("C24", "permanent", Q_(45, "mm")).m_as("MPa") == printed("11.74")
    assert bending_en("C24", "short", Q_(150, "mm")).m_as("MPa") == printed("12.92")
    assert bearing_en("C24", "permanent").m_as("MPa") == printed("0.96")


def test_strength_rises_with_the_class():
    """EN 338: within softwood every property rises or stays with the class."""
    rows = [table("timber_en")[f"C{n}"] for n in (14, 16, 18, 20, 22, 24)]
    for column in ("f_m", "f_t0", "f_c0", "f_c90", "f_v", "E_mean", "rho_k"):
        values = [getattr(row, column) for row in rows]
        assert values == sorted(values)
    for row in table("timber_en"):
        assert row.E_05 < row.E_mean
        assert row.f_t0 < row.f_m


def test_long_term_bow_of_the_worked_wall():
    """Own derivation: 2 x 2.07 + (2.82 - 2.07) = 4.9 mm."""
    found = long_term_bow(Q_(2.07, "mm"), Q_(2.82, "mm"), Q_(2.0, ""))
    assert found.m_as("mm") == printed("4.9")
