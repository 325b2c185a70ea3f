"""Fill: rotting, logs, volumes and packs by general libraries; printed weights."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import integrate, optimize
from shapely import Point, Polygon, box, unary_union

import bedcalc as bc
from bedcalc import Q_
from bedcalc.fill.buying import pack_cost
from bedcalc.fill.logs import log_count, log_rows
from bedcalc.fill.settlement import mass_left, sink
from bedcalc.fill.volumes import loose_volume
from bedcalc.tables import table
from tests.validation.kinds import outside
from tests.validation.printed import printed

CHAPTER = "fill"
OTHERS = "own derivation"

GARDEN = bc.demo_garden()
YEAR = float(Q_(1, "year").to("s").m)


def rotted(row, years):
    """Both parts of a material rot away in proportion to what is left of them."""
    start = [row.quick, 1 - row.quick]
    rates = np.array([row.quick_k, row.k]) * YEAR
    found = integrate.solve_ivp(
        lambda t, mass: -rates * mass, (0, years), start, rtol=1e-10, atol=1e-12
    )
    return found.y[:, -1].sum()


@outside("library", "mass_left", "scipy")
@pytest.mark.parametrize(
    ("key", "years"),
    [("logs", 7), ("chips", 3), ("straw", 1.5), ("compost", 4), ("mix", 10)],
)
def test_what_is_left_by_a_general_solver(key, years):
    row = table("decay")[key]
    ours = mass_left.si(years * YEAR, row.k, row.quick, row.quick_k)

    assert ours == pytest.approx(rotted(row, years), rel=1e-7)


@outside("library", "sink", "scipy")
@pytest.mark.parametrize("years", [0.5, 1, 3, 6, 12])
def test_sinking_of_a_bed_of_compost_and_mix(years):
    """The loss of mass, layer by layer, turned into height by its two shares."""
    bed = GARDEN["A"].change(
        fill=(bc.Layer(material="compost", depth=Q_(20, "cm")),
              bc.Layer(material="mix")),
    )  # fmt: skip
    layers = bc.evaluate(bed, GARDEN.place).fill.layers
    drop = 0.0
    for layer in layers:
        row = table("decay")[layer.material]
        share = row.shows * row.organic * (1 - rotted(row, years))
        drop += layer.si.depth * share

    assert sum(sink(layers, years * YEAR)) == pytest.approx(drop, rel=1e-6)


@outside("library", "log_rows", "shapely")
@pytest.mark.parametrize(
    ("thick", "run", "deep"),
    [(0.25, 1.2, 0.30), (0.25, 1.2, 0.47), (0.2, 1.13, 0.55), (0.1, 0.96, 0.4),
     (0.16, 1.05, 0.9)],
)  # fmt: skip
def test_logs_laid_as_circles(thick, run, deep):
    """So many circles lie in the zone, none in another, and no row more would fit."""
    row, rows, total = (int(v) for v in log_rows.si(thick, run, deep))
    pitch = thick * np.sqrt(3) / 2 if row >= 2 else thick
    spare = run / thick - row >= 0.5 - 1e-9
    laid = []
    for i in range(rows):
        odd = i % 2 == 1 and row >= 2
        for j in range(row - (1 if odd and not spare else 0)):
            x = thick * (j + 0.5 + (0.5 if odd else 0.0))
            laid.append(Point(x, thick / 2 + i * pitch).buffer(thick / 2, 64))
    zone = box(0, 0, run, deep).buffer(1e-9)

    assert len(laid) == total
    assert all(zone.contains(log) for log in laid)
    together = unary_union([log.buffer(-1e-6) for log in laid])
    assert together.area == pytest.approx(sum(x.buffer(-1e-6).area for x in laid))
    assert thick + rows * pitch > deep - 1e-9


@outside("library", "log_count", "shapely")
@pytest.mark.parametrize("thick", [0.1, 0.18, 0.25])
def test_number_of_logs_by_the_area_of_a_circle(thick):
    circle = Point(0, 0).buffer(thick / 2, quad_segs=4096).area
    found = log_count.si(0.9, 0.6, thick, 1.2)

    assert found == pytest.approx(0.6 * 0.9 / (circle * 1.2), rel=1e-6)


@outside("library", "assess_fill", "shapely")
@pytest.mark.parametrize("name", "ABCDE")
def test_settled_volume_of_the_demo_beds(name):
    bed = GARDEN[name]
    outline = Polygon([(0, 0), (bed.si.length, 0), (bed.si.length, bed.si.width),
                       (0, bed.si.width)])  # fmt: skip
    inside = outline.buffer(-bed.si.wall_thickness, join_style="mitre")
    fill = bc.evaluate(bed, GARDEN.place).fill.si

    assert fill.settled_volume == pytest.approx(inside.area * bed.si.soil_depth)


@outside("library", "pack_cost", "scipy")
@pytest.mark.parametrize("loose", [0.03, 0.52, 1.0, 2.6, 7.49])
def test_packs_and_trips_by_an_integer_program(loose):
    """Fewest half cubic metres at 24, in trips of 6 m3 at 60, that hold the volume."""
    found = optimize.milp(
        c=[24.0, 60.0],
        constraints=[
            optimize.LinearConstraint([[0.5, 0]], lb=loose),
            optimize.LinearConstraint([[-0.5, 6.0]], lb=0),
        ],
        integrality=[1, 1],
    )
    assert pack_cost.si(loose, 0.5, 24.0, 6.0, 60.0) == pytest.approx(found.fun)


@outside("library", "loose_volume", "scipy")
@pytest.mark.parametrize("settle", [0.1, 0.15, 0.4])
def test_loose_volume_by_filling_until_it_is_enough(settle):
    """Solved for the volume that settles to two cubic metres."""
    loose = optimize.brentq(lambda v: v * (1 - settle) - 2.0, 1.0, 9.0)
    assert loose_volume.si(2.0, settle) == pytest.approx(loose)


@outside("printed", "table fills", "nraes_54")
@pytest.mark.parametrize(("key", "pounds"), [("straw", "227"), ("brush", "429")])
def test_weights_of_the_composting_handbook(key, pounds):
    """NRAES-54, Appendix A, pounds for each cubic yard; our table rounds to 5 kg/m3."""
    density = table("fills")[key].q("loose_density")
    assert density.m_as("lb/yd^3") == printed(pounds, steps=2)


@outside("printed", "table fills", "agnew_leonard_2003", facts=2)
def test_compost_is_as_heavy_as_is_reported():
    """Agnew and Leonard 2003: moist 500 to 900 kg/m3, dry 100 to 400."""
    row = table("fills")["compost"]
    assert 500 <= row.q("loose_density").m_as("kg/m^3") <= 900
    assert 100 <= row.q("settled_dry_density").m_as("kg/m^3") <= 400


@outside("from memory", "table fills", "nraes_54", facts=1)
def test_loose_leaves_of_the_composting_handbook():
    """NRAES-54, Appendix A, as remembered: 100 to 300 lb a cubic yard."""
    density = table("fills")["leaves"].q("loose_density")
    assert 100 <= density.m_as("lb/yd^3") <= 300


@outside("printed", "table decay", "herrmann_2015", facts=1)
def test_logs_in_a_bed_rot_half_as_fast_again_as_on_the_ground():
    """Herrmann et al. 2015: beech 0.054 a year; times 1.5 is our judgement."""
    rate = table("decay")["logs"].q("k").m_as("1/year")
    assert rate == pytest.approx(1.5 * 0.054, abs=0.005)
