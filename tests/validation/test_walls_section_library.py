"""Sheet sections against a general section library (sectionproperties, tests only)."""

import numpy as np
import pytest
from sectionproperties.analysis import Section
from sectionproperties.pre import Geometry
from shapely import LineString, Polygon

from bedcalc.walls.sheet import sinus_section, trapezoid_section
from tests.validation.kinds import outside

CHAPTER = "walls"
OTHERS = "own derivation"

MM = 1e-3


def library(outline, pitch):
    """A and I per metre width of one pitch of sheet, sizes in mm."""
    geometry = Geometry(outline).create_mesh(mesh_sizes=[0.5])
    section = Section(geometry)
    section.calculate_geometric_properties()
    return section.get_area() / pitch * MM, section.get_ic()[0] / pitch * MM**3


@outside("library", "sinus_section", "sectionproperties")
@pytest.mark.parametrize("sizes", [(76, 18, 0.42), (76, 18, 0.48), (67.7, 12.7, 0.32)])
def test_sine_wave(sizes):
    pitch, depth, thick = sizes
    a = (depth - thick) / 2
    x = np.linspace(0, pitch, 241)
    y = a * np.sin(2 * np.pi * x / pitch)
    slope = np.arctan(2 * np.pi * a / pitch * np.cos(2 * np.pi * x / pitch))
    off = thick / 2 * np.array([-np.sin(slope), np.cos(slope)])
    upper, lower = np.array([x, y]) + off, np.array([x, y]) - off
    outline = Polygon(np.hstack([upper, lower[:, ::-1]]).T)
    area, inertia, _ = sinus_section.si(*(s * MM for s in sizes))
    found = library(outline, pitch)
    # 240 chords of the wave, no more: 0.02 %
    assert area == pytest.approx(found[0], rel=2e-4)
    assert inertia == pytest.approx(found[1], rel=2e-4)


@outside("library", "trapezoid_section", "sectionproperties")
@pytest.mark.parametrize(
    "sizes", [(100, 25, 0.42, 25, 25), (228.6, 19.05, 0.36, 19.05, 171.45)]
)
def test_trapezoid(sizes):
    """Thin plates against the drawn section: corners differ by about t/h."""
    pitch, depth, thick, top, bottom = sizes
    run = (pitch - top - bottom) / 2
    x = np.cumsum([0, bottom / 2, run, top, run, bottom / 2])
    line = LineString(np.array([x, [0, 0, depth, depth, 0, 0]]).T)
    outline = line.buffer(thick / 2, cap_style="flat", join_style="mitre")
    area, inertia, _ = trapezoid_section.si(*(s * MM for s in sizes))
    found = library(outline, pitch)
    assert area == pytest.approx(found[0], rel=5e-3)
    assert inertia == pytest.approx(found[1], rel=5e-3)
