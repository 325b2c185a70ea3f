"""Walls: push, beams, posts and sections by libraries made for them."""

from __future__ import annotations

import numpy as np
import pytest
from Pynite import FEModel3D
from scipy import integrate, optimize
from sectionproperties.analysis import Section
from sectionproperties.pre.library import rectangular_section
from shapely import Point, box

from bedcalc import Q_
from bedcalc.walls.beams import (
    posted_coefficients,
    span_coefficients,
    uniform_bow,
    uniform_moment,
)
from bedcalc.walls.blocks import overturning_safety, sliding_safety, wall_weight
from bedcalc.walls.earth import k_active, silo_pressure
from bedcalc.walls.pressure import push, rail_loads, segments
from bedcalc.walls.rim_load import rim_load_moment
from bedcalc.walls.sheet import strip_moment
from bedcalc.walls.ties import bearing_area
from bedcalc.walls.timber import second_moment, section_modulus
from tests.validation.kinds import outside

CHAPTER = "walls"
OTHERS = "own derivation"

WATER = 9810.0


def beam(length, supports, load=0.0, point=None, stiffness=1000.0, parts=48):
    """A beam along X pushed along Y: bow, moments and holds of another program.

    ``supports`` is place to spring (infinite for a rigid one).
    """
    model = FEModel3D()
    model.add_material("wood", stiffness, 1.0, 0.3, 0.0)
    model.add_section("rail", 1.0, 1.0, 1.0, 1.0)
    places = np.linspace(0, length, parts + 1)
    at = [*supports, *([point[0]] if point else [])]
    places = np.unique(np.round([*places, *at], 9))
    for i, x in enumerate(places):
        model.add_node(f"n{i}", x, 0, 0)
        model.def_support(f"n{i}", i == 0, False, True, True, True, False)
    for x, spring in supports.items():
        i = int(np.argmin(np.abs(places - x)))
        if np.isinf(spring):
            model.nodes[f"n{i}"].support_DY = True
        else:
            model.def_support_spring(f"n{i}", "DY", spring)
    for i in range(len(places) - 1):
        model.add_member(f"m{i}", f"n{i}", f"n{i + 1}", "wood", "rail")
        if load:
            model.add_member_dist_load(f"m{i}", "Fy", load, load)
    if point:
        i = int(np.argmin(np.abs(places - point[0])))
        model.add_node_load(f"n{i}", "FY", point[1])
    model.analyze(check_statics=False)
    bow = np.array([model.nodes[f"n{i}"].DY["Combo 1"] for i in range(len(places))])
    # a member carries the evenly spread load, so its ends miss little of the moment
    ends = [
        abs(model.members[f"m{i}"].moment("Mz", x * model.members[f"m{i}"].L()))
        for i in range(len(places) - 1)
        for x in (0.0, 0.5, 1.0)
    ]
    return places, bow, max(ends)


def even(spans, length=3.6):
    return {float(x): np.inf for x in np.linspace(0, length, spans + 1)}


@outside("library", "uniform_bow", "PyNite")
@pytest.mark.parametrize("spans", [1, 2, 3, 4, 5])
def test_bow_of_a_rail_over_ties(spans):
    """The largest of the nodes, 12 or more a span: up to half a percent less."""
    _, bow, _ = beam(3.6, even(spans), 500.0, parts=12 * spans)
    assert uniform_bow.si(500.0, 3.6, 1000.0, spans) == pytest.approx(
        bow.max(), rel=5e-3
    )


@outside("library", "uniform_moment", "PyNite")
@pytest.mark.parametrize("spans", [1, 2, 3, 4, 5])
def test_moment_of_a_rail_over_ties(spans):
    _, _, moment = beam(3.6, even(spans), 500.0, parts=12 * spans)
    assert uniform_moment.si(500.0, 3.6, spans) == pytest.approx(moment, rel=1e-3)


@outside("library", "posted_coefficients", "PyNite")
@pytest.mark.parametrize(
    ("spans", "bays", "ratio"), [(1, 2, 30.0), (1, 4, 80.0), (2, 4, 40.0),
                                 (3, 6, 200.0), (1, 3, 500.0)],
)  # fmt: skip
def test_rim_on_ties_and_on_posts_that_give(spans, bays, ratio):
    """Posts as springs k = ratio EI / L3; forces to 1e-4, bow at the nodes to 0.5 %."""
    length, stiffness, load = 3.6, 1000.0, 500.0
    spring = ratio * stiffness / length**3
    posts = {float(x): spring for x in np.linspace(0, length, bays + 1)[1:-1]}
    supports = posts | even(spans)
    places, bow, moment = beam(length, supports, load, parts=48)
    found = posted_coefficients(spans, bays, ratio)
    s = length / spans
    gives = [
        spring * bow[int(np.argmin(np.abs(places - x)))]
        for x in posts if np.isfinite(supports[x])
    ]  # fmt: skip

    assert found.bow * load * s**4 / stiffness == pytest.approx(bow.max(), rel=5e-3)
    assert found.moment * load * s**2 == pytest.approx(moment, rel=2e-3)
    if gives:
        assert found.post * load * s == pytest.approx(max(gives), rel=1e-4)


@outside("library", "rim_load_moment", "PyNite")
@pytest.mark.parametrize("spans", [1, 2, 3])
def test_somebody_anywhere_on_the_rim(spans):
    """The load moves in steps of a 24th of a bay; more bays stay under two."""
    span = 1.2
    worst = 0.0
    for share in np.linspace(1 / 24, 23 / 24, 23):
        _, _, moment = beam(
            span * spans, even(spans, span * spans), point=(span * share, 900.0),
            parts=spans,
        )  # fmt: skip
        worst = max(worst, moment)
    ours = rim_load_moment.si(900.0, span, spans)

    assert worst <= ours * (1 + 1e-6)
    assert worst >= ours * (0.995 if spans < 3 else 0.95)


LAYERS = [
    ([0.72], [11e3], [15e3], [0.5], 0.0, np.inf),
    ([0.3, 0.2, 0.25], [11e3, 6e3, 6.5e3], [15e3, 10e3, 10.5e3], [0.47, 0.43, 0.38],
     0.0, np.inf),
    ([0.75], [11e3], [15e3], [0.5], 2400.0, np.inf),
    ([0.75], [11e3], [14e3], [0.5], 0.0, 0.25),
    ([0.4, 0.35], [6.5e3, 15e3], [10e3, 18.5e3], [0.5, 0.45], 1000.0, 0.1),
]  # fmt: skip


def at_depth(layers, s):
    """Side pressure at a depth, step by step."""
    thick, moist, soaked, k, over, water = (np.asarray(v, float) for v in layers)
    layer = min(int(np.searchsorted(np.cumsum(thick), s)), len(thick) - 1)

    def weight(z):
        i = min(int(np.searchsorted(np.cumsum(thick), z)), len(thick) - 1)
        return moist[i] if z < water else max(soaked[i] - WATER, 0.0)

    kinks = [x for x in (*np.cumsum(thick), float(water)) if 0 < x < s]
    stress = over + integrate.quad(weight, 0, s, points=kinks or None)[0]
    return k[layer] * stress + WATER * max(0.0, s - water)


def whole(layers, arm):
    thick, water = np.cumsum(layers[0]), layers[5]
    kinks = [x for x in (*thick[:-1], water) if 0 < x < thick[-1]]
    return integrate.quad(
        lambda s: at_depth(layers, s) * arm(thick[-1] - s), 0, thick[-1],
        points=kinks or None, epsrel=1e-7, limit=100,
    )[0]  # fmt: skip


@outside("library", "push", "scipy")
@pytest.mark.parametrize("layers", LAYERS)
def test_push_of_layers_by_integration(layers):
    arrays = [np.array(v, float) for v in layers[:4]]
    total, moment, acts_at = push.si(*segments.si(*arrays, *layers[4:]))

    force, turn = whole(layers, lambda z: 1.0), whole(layers, lambda z: z)
    assert (total, moment) == pytest.approx((force, turn), rel=2e-4)
    assert acts_at == pytest.approx(turn / force, rel=2e-4)


@outside("library", "strip_moment", "scipy")
@pytest.mark.parametrize("layers", LAYERS)
def test_moment_in_an_upright_strip(layers):
    """Largest over the height of rail x way - what pushes above it, by quadrature."""
    high = float(np.sum(layers[0]))
    arrays = [np.array(v, float) for v in layers[:4]]
    ours = strip_moment.si(*segments.si(*arrays, *layers[4:]), high)
    rail = whole(layers, lambda z: z) / high
    depths = np.linspace(0, high, 241)
    pressure = np.array([at_depth(layers, s) for s in depths])
    above = integrate.cumulative_trapezoid(pressure, depths, initial=0)
    moment = integrate.cumulative_trapezoid(rail - above, depths, initial=0)

    assert ours == pytest.approx(moment.max(), rel=5e-3)


@outside("library", "rail_loads", "PyNite")
@pytest.mark.parametrize("layers", LAYERS[:3])
def test_what_the_rails_carry(layers):
    """A strip of the wall on two supports, the push cut into twenty pieces."""
    high = float(np.sum(layers[0]))
    arrays = [np.array(v, float) for v in layers[:4]]
    total, moment, _ = push.si(*segments.si(*arrays, *layers[4:]))
    top, base = rail_loads.si(total, moment, high)
    model = FEModel3D()
    model.add_material("steel", 2e11, 8e10, 0.3, 0.0)
    model.add_section("strip", 1e-3, 1e-8, 1e-8, 1e-8)
    model.add_node("base", 0, 0, 0)
    model.add_node("rail", high, 0, 0)
    model.def_support("base", True, True, True, True, False, False)
    model.def_support("rail", False, True, True, False, False, False)
    model.add_member("m", "base", "rail", "steel", "strip")
    edges = np.unique(np.round([*np.linspace(0, high, 41),
                                *(high - np.cumsum(layers[0]))], 9))  # fmt: skip
    for low, up in zip(edges[:-1], edges[1:], strict=True):
        ends = (at_depth(layers, high - z) for z in (low + 1e-9, up - 1e-9))
        model.add_member_dist_load("m", "Fy", *ends, low, up)
    model.analyze(check_statics=False)

    assert top == pytest.approx(-model.nodes["rail"].RxnFY["Combo 1"], rel=1e-3)
    assert base == pytest.approx(-model.nodes["base"].RxnFY["Combo 1"], rel=1e-3)


@outside("library", "second_moment", "sectionproperties")
@pytest.mark.parametrize(
    ("face", "thick"), [(89, 38), (38, 89), (140, 33), (45, 70), (200, 100)]
)
def test_sections_of_timber(face, thick):
    """Face upright, thickness in the direction of the push, in millimetres."""
    shape = rectangular_section(d=thick, b=face)
    section = Section(shape.create_mesh(mesh_sizes=[200]))
    section.calculate_geometric_properties()
    inertia, modulus = section.get_ic()[0], section.get_z()[0]

    ours = second_moment(Q_(face, "mm"), Q_(thick, "mm"))
    assert ours.m_as("mm^4") == pytest.approx(inertia)
    other = section_modulus(Q_(face, "mm"), Q_(thick, "mm"))
    assert other.m_as("mm^3") == pytest.approx(modulus)


@outside("library", "bearing_area", "shapely")
@pytest.mark.parametrize(
    ("outer", "hole", "square"), [(50, 11, True), (80, 13, True), (30, 11, False),
                                  (25.4, 11.125, False)],
)  # fmt: skip
def test_area_of_a_plate_less_its_hole(outer, hole, square):
    plate = box(0, 0, outer, outer) if square else Point(0, 0).buffer(outer / 2, 4096)
    drill = Point(plate.centroid).buffer(hole / 2, 4096)

    assert bearing_area.si(outer, hole, square) == pytest.approx(
        plate.difference(drill).area, rel=1e-6
    )


@outside("library", "k_active", "scipy")
@pytest.mark.parametrize("degrees", [22, 27, 30, 35, 40])
def test_yielding_earth_by_the_worst_wedge(degrees):
    """Coulomb's way to it: the slip plane that pushes hardest, found by the library."""
    phi = np.radians(degrees)
    worst = optimize.minimize_scalar(
        lambda a: -np.tan(a - phi) / np.tan(a), bounds=(phi, np.pi / 2),
        method="bounded", options={"xatol": 1e-10},
    )  # fmt: skip
    assert k_active.si(phi) == pytest.approx(-worst.fun, rel=1e-8)


@outside("library", "silo_pressure", "scipy")
@pytest.mark.parametrize(
    ("depth", "width"), [(0.3, 1.2), (0.75, 1.2), (0.75, 0.6), (1.0, 0.9), (0.5, 0.4)]
)
def test_fill_that_hangs_on_the_walls(depth, width):
    """Balance of thin slices: weight less what rubs on both walls, step by step."""
    weight, k, rub = 11e3, 0.5, np.tan(np.radians(20))
    slices = integrate.solve_ivp(
        lambda s, stress: weight - 2 * k * rub * stress / width, (0, depth), [0.0],
        rtol=1e-9, atol=1e-6,
    )  # fmt: skip
    ours = silo_pressure(
        Q_(depth, "m"), Q_(weight, "N/m^3"), k, Q_(20, "deg"), Q_(width, "m")
    )
    assert ours.m_as("Pa") == pytest.approx(k * slices.y[0, -1], rel=1e-6)


@outside("library", "overturning_safety", "shapely")
@pytest.mark.parametrize("thick", [0.15, 0.194, 0.295])
def test_a_wall_turns_about_its_outer_toe(thick):
    """Weight at the middle of the drawn wall, against push at a third of the height."""
    high, unit, load = 0.6, 19.6e3, 1350.0
    wall = box(-thick, 0, 0, high)
    weight = wall.area * unit
    turn = load * high / 3

    assert wall_weight.si(unit, thick, high) == pytest.approx(weight)
    assert overturning_safety.si(weight, thick, turn) == pytest.approx(
        weight * -wall.centroid.x / turn
    )
    assert sliding_safety.si(weight, 0.45, load) == pytest.approx(
        0.45 * wall.area * unit / load
    )


@outside("library", "span_coefficients", "PyNite")
@pytest.mark.parametrize("spans", [2, 3, 4])
def test_pull_on_the_ties(spans):
    """Hardly yielding springs instead of rigid ties: their force is the pull."""
    stiff = 1e9
    inner = {x: stiff for x in list(even(spans))[1:-1]}
    places, bow, _ = beam(3.6, even(spans) | inner, 500.0, parts=12 * spans)
    pulls = [stiff * bow[int(np.argmin(np.abs(places - x)))] for x in inner]
    share = span_coefficients(spans).reaction_interior

    assert share * 500.0 * 3.6 / spans == pytest.approx(max(pulls), rel=1e-3)
