"""Site: plane, trench and cut against numbers computed by hand or by general code."""

from __future__ import annotations

import numpy as np
import pytest

import bedcalc as bc
from bedcalc.site import assess_site, fit_plane
from bedcalc.site.levelling import cut_and_fill, depths_under, underside
from tests.validation.kinds import outside
from tests.validation.printed import printed

CHAPTER = "site"
OTHERS = "own derivation"

#: four corners of 2.7 x 1.05 m, readings down from a level line, in ring order
WORKED = np.array([[0, 0, 0.412], [2.7, 0, 0.447], [2.7, 1.05, 0.531], [0, 1.05, 0.5]])


def all_cut(length, width, b, c, embedment):
    """Trench depths in metres of a bed on a plane, its lowest corner let in."""
    ground = np.array([0.0, b * length, b * length + c * width, c * width])
    return depths_under.si(ground, underside(ground, "all_cut", embedment, 0.15))


@pytest.fixture(scope="module")
def garden():
    return bc.demo_garden()


def test_plane_of_four_corners():
    """Computed by hand: b = [(z2+z3)-(z1+z4)]/2L, c = [(z3+z4)-(z1+z2)]/2W."""
    a, b, c, residuals = fit_plane(WORKED)

    assert a + b * 2.7 / 2 + c * 1.05 / 2 == printed("-0.4725")
    assert 100 * b == printed("-1.222")
    assert 100 * c == printed("-8.190")
    assert 100 * np.hypot(b, c) == printed("8.281")
    assert abs(residuals) * 1000 == pytest.approx(np.full(4, 1.0), abs=0.05)


def test_trench_of_the_worked_bed():
    """Computed by hand, lowest corner 50 mm in: 169, 134, 50, 81 mm."""
    _, b, c, _ = fit_plane(WORKED)
    plane = 1000 * all_cut(2.7, 1.05, b, c, 0.05)

    assert plane == pytest.approx([169, 136, 50, 83], abs=0.5)
    # the corner values themselves differ from the plane by the twist of 1 mm
    twisted = plane + 1000 * fit_plane(WORKED)[3]
    twisted += 50 - twisted.min()
    assert twisted == pytest.approx([169, 134, 50, 81], abs=0.5)


def test_cut_under_the_whole_bed():
    """Computed by hand: 2.7 x 1.05 x (169+134+50+81)/4 mm = 0.3076 m3."""
    cut, _ = cut_and_fill(2.7, 1.05, np.array([0.169, 0.134, 0.050, 0.081]))

    assert cut == printed("0.3076")


def test_wedge_on_a_one_way_slope():
    """2.4 x 1.2 m at 10 %: L s W2 / 2 = 0.1728 m3; computed by hand."""
    cut, _ = cut_and_fill(2.4, 1.2, all_cut(2.4, 1.2, 0.0, -0.10, 0.0))

    assert cut == printed("0.1728")


@outside("library", "fit_plane", "numpy", facts=3)
def test_demo_survey(garden):
    """Invented readings, computed with numpy's least squares; rms with n - 3."""
    site = assess_site(garden["B"], garden.place)

    assert site.slope.m_as("percent") == printed("8.27")
    assert site.fit_error.m_as("mm") == printed("2.3")
    assert site.worst_reading.m_as("mm") == printed("4.8")


@pytest.mark.parametrize(
    ("name", "corners", "fall", "cut"),
    [
        ("A", (169, 136, 50, 83), 119, "0.311"),
        ("B", (169, 136, 50, 83), 119, "0.311"),
        ("C", (146, 124, 50, 72), 96, "0.159"),
        ("D", (125, 99, 50, 76), 75, "0.110"),
        ("E", (178, 148, 50, 80), 128, "0.328"),
        ("F", (185, 148, 50, 87), 135, "0.423"),
    ],
)
def test_trenches_of_the_demo_beds(garden, name, corners, fall, cut):
    """Invented place, computed by hand from the plane -0.01232 x - 0.08180 y."""
    site = assess_site(garden[name], garden.place)

    assert site.corner_depths.m_as("mm") == pytest.approx(corners, abs=0.5)
    assert site.fall.m_as("mm") == pytest.approx(fall, abs=0.5)
    assert site.cut.m_as("m^3") == printed(cut)
