"""The house's solvers against a general frame library (PyNiteFEA, tests only)."""

import numpy as np
import pytest
from Pynite import FEModel3D

from bedcalc.walls.beam_elements import solve_beam
from bedcalc.walls.grillage import Post, Rail, solve_grillage
from tests.validation.kinds import outside

CHAPTER = "walls"
OTHERS = "own derivation"

E, WEAK, STRONG = 8.687e9, 4.0973e-7, 2.2307e-6


def frame(rails, posts, length, cuts):
    """Rails along X, posts along Y, push along Z; same hinges as the house's grillage.

    Node ``r{i}n{j}``; where a post crosses, the rails' twist is released so that the
    post keeps its own turn.
    """
    model = FEModel3D()
    model.add_material("wood", E, 1e9, 0.3, 0.0)
    x = np.unique(
        np.round([*np.linspace(0, length, cuts + 1), *[p.x for p in posts]], 9)
    )
    for i, rail in enumerate(rails):
        inertia = rail.stiffness / E
        model.add_section(f"rail{i}", 1.0, inertia, inertia, 1.0)
        for j, at in enumerate(x):
            model.add_node(f"r{i}n{j}", at, rail.z, 0.0)
            end = j in (0, len(x) - 1)
            model.def_support(
                f"r{i}n{j}", True, True, end or rail.held, True, False, True
            )
        for j in range(len(x) - 1):
            name = f"r{i}m{j}"
            model.add_member(name, f"r{i}n{j}", f"r{i}n{j + 1}", "wood", f"rail{i}")
            model.add_member_dist_load(name, "FZ", rail.load, rail.load)
    for p, post in enumerate(posts):
        inertia = post.stiffness / E
        # hardly any twisting stiffness: a post does not couple the rails' slopes
        model.add_section(f"post{p}", 1.0, inertia, inertia, 1e-12)
        j = int(np.argmin(np.abs(x - post.x)))
        order = sorted(range(len(rails)), key=lambda i: rails[i].z)
        for i in order if len(order) > 1 else ():
            model.nodes[f"r{i}n{j}"].support_RX = False  # the post turns about X
            model.def_releases(f"r{i}m{j - 1}", Rxj=True)  # the rails do not twist
            model.def_releases(f"r{i}m{j}", Rxi=True)
        for low, high in zip(order[:-1], order[1:], strict=True):
            ends = f"r{low}n{j}", f"r{high}n{j}"
            model.add_member(f"p{p}m{low}", *ends, "wood", f"post{p}")
        for height, spring in post.ties.items():
            i = next(i for i in order if rails[i].z == height)
            if np.isinf(spring):
                model.nodes[f"r{i}n{j}"].support_DZ = True
            else:
                model.def_support_spring(f"r{i}n{j}", "DZ", spring)
    model.analyze(check_statics=False)
    bow = np.array(
        [
            [model.nodes[f"r{i}n{j}"].DZ["Combo 1"] for j in range(len(x))]
            for i in range(len(rails))
        ]
    )
    return x, bow, model


def three_rails():
    return [
        Rail(z=0.0, stiffness=E * WEAK, load=644.5, held=True),
        Rail(z=0.375, stiffness=E * WEAK, load=773.4),
        Rail(z=0.75, stiffness=E * WEAK, load=128.9),
    ]


@outside("library", "solve_grillage", "PyNite")
@pytest.mark.parametrize(
    "posts",
    [
        [],
        [Post(x=1.8, stiffness=E * WEAK)],
        [Post(x=1.8, stiffness=E * STRONG, ties={0.75: np.inf})],
        [Post(x=1.2, stiffness=E * STRONG, ties={0.75: 4e4}),
         Post(x=2.4, stiffness=E * WEAK)],
    ],
    ids=["no post", "untied post", "tied post", "one sprung of two"],
)  # fmt: skip
def test_grillage(posts):
    ours = solve_grillage(3.6, three_rails(), posts, elements=6)
    x, bow, _ = frame(three_rails(), posts, 3.6, 6)
    assert ours.x == pytest.approx(x)
    assert ours.bow == pytest.approx(bow, rel=1e-5, abs=1e-9)


@outside("library", "solve_beam", "PyNite")
@pytest.mark.parametrize("spans", [1, 2, 3, 4])
def test_continuous_rail(spans):
    places = np.linspace(0, 3.6, spans + 1)
    ours = solve_beam(
        3.6, E * WEAK, 515.6, {float(at): np.inf for at in places}, elements=12
    )
    rail = [Rail(z=0.0, stiffness=E * WEAK, load=515.6)]
    posts = [
        Post(x=float(at), stiffness=1.0, ties={0.0: np.inf}) for at in places[1:-1]
    ]
    x, bow, model = frame(rail, posts, 3.6, 12)
    assert ours.bow == pytest.approx(bow[0], rel=1e-6, abs=1e-10)
    for at, hold in zip(places, ours.holds, strict=True):
        j = int(np.argmin(np.abs(x - at)))
        assert -model.nodes[f"r0n{j}"].RxnFZ["Combo 1"] == pytest.approx(hold, rel=1e-6)


@outside("library", "solve_beam", "PyNite", facts=2)
def test_sprung_tie_under_a_sloping_load():
    """A tie off the middle, of 50 kN/m, under a load that doubles along the rail."""
    load = ([0.0, 3.6], [300.0, 600.0])
    ours = solve_beam(
        3.6, E * WEAK, load, {0.0: np.inf, 1.2: 5e4, 3.6: np.inf}, elements=36
    )
    model = FEModel3D()
    model.add_material("wood", E, 1e9, 0.3, 0.0)
    model.add_section("rail", 1.0, WEAK, WEAK, 1.0)
    for j, at in enumerate((0.0, 1.2, 3.6)):
        model.add_node(f"n{j}", at, 0, 0)
        model.def_support(f"n{j}", True, True, j != 1, True, False, True)
    model.def_support_spring("n1", "DZ", 5e4)
    for j, (w1, w2) in enumerate(((300.0, 400.0), (400.0, 600.0))):
        model.add_member(f"m{j}", f"n{j}", f"n{j + 1}", "wood", "rail")
        model.add_member_dist_load(f"m{j}", "FZ", w1, w2)
    model.analyze(check_statics=False)
    bow = model.nodes["n1"].DZ["Combo 1"]
    at = int(np.argmin(np.abs(ours.x - 1.2)))
    assert ours.bow[at] == pytest.approx(bow, rel=1e-6)
    assert ours.holds[1] == pytest.approx(5e4 * bow, rel=1e-6)
