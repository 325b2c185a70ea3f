"""The house's solvers against a general frame library (PyNiteFEA, tests only)."""

import numpy as np
import pytest
from Pynite import FEModel3D

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


@outside("library", "solve_grillage", "PyNite")
@pytest.mark.parametrize("spans", [1, 2, 3, 4])
def test_continuous_rail(spans):
    places = [float(at) for at in np.linspace(0, 3.6, spans + 1)]
    rail = Rail(
        z=0.0, stiffness=E * WEAK, load=515.6, ties=dict.fromkeys(places[1:-1], np.inf)
    )
    ours = solve_grillage(3.6, [rail], [], elements=12)
    posts = [Post(x=at, stiffness=1.0, ties={0.0: np.inf}) for at in places[1:-1]]
    x, bow, model = frame([rail], posts, 3.6, 12)
    assert ours.bow == pytest.approx(bow, rel=1e-6, abs=1e-10)
    for at in places[1:-1]:
        held = -model.nodes[f"r0n{int(np.argmin(np.abs(x - at)))}"].RxnFZ["Combo 1"]
        assert ours.rail_ties[0, at] == pytest.approx(held, rel=1e-6)
