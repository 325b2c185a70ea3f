"""The ruled wall against statics, the grillage and what must always hold."""

import hypothesis.strategies as st
import numpy as np
import pytest
from hypothesis import assume, given, settings

from bedcalc.walls.beams import uniform_bow, uniform_moment
from bedcalc.walls.frame import (
    base_hold_needed,
    held_wall_bow,
    member_loads,
    stacked_boards_bow,
    tied_wall,
    upright_forces,
)
from bedcalc.walls.grillage import Post, Rail, solve_grillage
from tests.validation.printed import printed

E, WEAK, STRONG = 8.687e9, 4.0973e-7, 2.2307e-6
TWO = np.array([0.0, 0.75])
RAILS = np.full(2, E * WEAK)


def test_two_rails_are_statics():
    """By hand: the top rail carries M/H = 515.6 N/m, the base rail P - M/H = 1031.3."""
    loads = member_loads.si(TWO, RAILS, 386.72, 1546.9, 0.0)
    assert [*loads] == [printed("1031.3", steps=1), printed("515.6")]
    held = member_loads.si(TWO, RAILS, 386.72, 1546.9)
    assert [*held] == [0.0, printed("515.6")]
    assert base_hold_needed.si(TWO, RAILS, 386.72, 1546.9) == printed("1031.3", steps=1)


def test_held_wall_is_the_bare_rail():
    """Two rails, base held, n spans: the ruled wall is the rail's closed form."""
    spans = np.array([1, 2, 3, 5])
    found = held_wall_bow.si(TWO[:, None], RAILS[:, None], 386.72, 3.6, 0.75, spans)
    rail = uniform_bow.si(386.72 / 0.75, 3.6, E * WEAK, spans)
    assert found == pytest.approx(rail, rel=1e-12)


def test_cap_and_rail_share_by_stiffness():
    """Own derivation: 70 x 45 rail, 90 x 22 cap lying: the cap takes 72 %.

    By hand: 70 x 45^3/12 = 0.532e6, 22 x 90^3/12 = 1.337e6 mm4; 1.337/1.868 = 0.715.
    """
    ei = np.array([1.0, 0.070 * 0.045**3 / 12, 0.022 * 0.090**3 / 12])
    loads = member_loads.si(np.array([0.0, 0.72, 0.72]), ei, 300.0, 1200.0)
    assert loads[2] / loads[1:].sum() == printed("0.72")
    assert loads[1:].sum() == pytest.approx(300.0 / 0.72)


def test_four_stacked_boards():
    """Own derivation: 4 boards 38 x 184, L 3.6 m.

    K 0.5, 11 kN/m3, E 8.687 GPa, H 4 x 184.15 mm: 112.4 mm with the exact moment,
    110.6 mm with the boards smeared over the height.
    """
    thick, face = 0.0381, 0.18415
    height = 4 * face
    z = face * (np.arange(4) + 0.5)
    ei = np.full(4, E * face * thick**3 / 12)
    moment = 0.5 * 11e3 * height**3 / 6
    found = held_wall_bow.si(z, ei, moment, 3.6, height)
    assert found == printed("112.4e-3")
    smeared = stacked_boards_bow.si(E, 0.5, 11e3, height, thick, 3.6)
    assert smeared == printed("110.6e-3")
    # lumped at mid-board the moment is 3.1 % too big: the reference's 115.9
    lumped = sum(0.5 * 11e3 * (height - zi) * face * zi for zi in z)
    assert held_wall_bow.si(z, ei, lumped, 3.6, height) == printed("115.9e-3")


def test_many_boards_tend_to_the_smeared_wall():
    """Order of convergence 2 in the size of the boards."""
    height, errors = 0.72, []
    for n in (2, 4, 8, 16):
        face = height / n
        z = face * (np.arange(n) + 0.5)
        ei = np.full(n, E * face * 0.033**3 / 12)
        found = held_wall_bow.si(z, ei, 0.5 * 11e3 * height**3 / 6, 3.0, height)
        errors.append(found - stacked_boards_bow.si(E, 0.5, 11e3, height, 0.033, 3.0))
    order = np.log2(np.array(errors[:-1]) / np.array(errors[1:]))
    assert order[-1] == pytest.approx(2, abs=0.05)


THREE = [
    Rail(z=0.0, stiffness=E * WEAK, load=644.5, held=True),
    Rail(z=0.375, stiffness=E * WEAK, load=773.4),
    Rail(z=0.75, stiffness=E * WEAK, load=128.9),
]


def test_an_untied_post_changes_nothing_with_two_rails():
    """By statics: across the height two rails leave no choice."""
    rails = [
        Rail(z=0.0, stiffness=E * WEAK, load=1031.3),
        Rail(z=0.75, stiffness=E * WEAK, load=515.6),
    ]
    bare = solve_grillage(3.6, rails, [])
    post = solve_grillage(3.6, rails, [Post(x=1.8, stiffness=E * STRONG)])
    assert post.bow == pytest.approx(bare.bow, rel=1e-9, abs=1e-12)
    assert bare.bow[1].max() == printed("316.81e-3")


def test_an_untied_post_makes_the_top_of_three_rails_worse():
    """Own derivation: 79.20 mm at the top without the post, 252.2 with it."""
    bare = solve_grillage(3.6, THREE, [])
    post = solve_grillage(3.6, THREE, [Post(x=1.8, stiffness=E * WEAK)])
    assert bare.bow[2].max() == printed("79.20e-3")
    assert bare.bow[1].max() == printed("475e-3")
    assert post.bow[2].max() == printed("252.2e-3")
    assert post.bow[1].max() == printed("129.2e-3")


def test_stiff_posts_close_together_make_the_ruled_wall():
    """The grillage with many rigid posts tends to the lever model: 253.447 mm."""
    z, ei = np.array([0.0, 0.375, 0.75]), np.full(3, E * WEAK)
    moment = 773.4 * 0.375 + 128.9 * 0.75
    lever = held_wall_bow.si(z, ei, moment, 3.6, 0.75)
    posts = [Post(x=float(x), stiffness=1e9) for x in np.linspace(0.1, 3.5, 35)]
    found = solve_grillage(3.6, THREE, posts).bow
    assert lever == printed("253.447e-3", steps=2.5)  # reference rounds its loads
    assert found[2].max() == pytest.approx(lever, rel=1e-5)
    assert found[1].max() == pytest.approx(lever / 2, rel=1e-4)


@pytest.mark.parametrize("hold", [0.0, np.inf])
def test_tied_ruled_wall_equals_grillage(hold):
    """One tie off the middle, on the top rail, base free or held."""
    z, ei = np.array([0.0, 0.375, 0.75]), E * np.array([WEAK, WEAK, STRONG])
    loads = np.array([644.5, 773.4, 128.9])
    moment, total = np.sum(loads * z), loads.sum()
    wall = tied_wall(
        z,
        ei,
        moment,
        total,
        3.6,
        tie_x=[1.2],
        tie_z=[0.75],
        base_sliding_resistance=hold,
    )
    rails = [
        Rail(z=zi, stiffness=e, load=w, held=bool(np.isinf(hold)) and zi == 0)
        for zi, e, w in zip(z.tolist(), ei.tolist(), loads.tolist(), strict=True)
    ]
    posts = [
        Post(x=float(x), stiffness=1e10, ties={0.75: np.inf} if i == 11 else {})
        for i, x in enumerate(np.linspace(0.1, 3.5, 35))
    ]
    frame = solve_grillage(3.6, rails, posts)
    assert wall.tie_force[0] == pytest.approx(frame.post_ties[(11, 0.75)], rel=1e-4)
    assert wall.bow.max(axis=1) == pytest.approx(
        frame.bow.max(axis=1), rel=2e-3, abs=1e-7
    )


def test_free_wall_is_in_balance():
    """Corners and ties together hold what the ground does not."""
    z, ei = np.array([0.0, 0.375, 0.75]), E * np.array([WEAK, WEAK, STRONG])
    wall = tied_wall(
        z, ei, 400.0, 1500.0, 3.0,
        tie_x=[1.0, 2.0, 1.5], tie_z=[0.75, 0.6, 0.0], tie_spring=[1e5, np.inf, 2e4],
        base_sliding_resistance=100.0,
    )  # fmt: skip
    assert wall.corner.sum() + wall.tie_force.sum() == pytest.approx(1400.0 * 3.0)
    about_base = np.sum(wall.corner.sum(axis=1) * z)
    about_base += np.sum(wall.tie_force * [0.75, 0.6, 0.0])
    assert about_base == pytest.approx(400.0 * 3.0)
    # a rigid tie does not move, springs move as they pull
    line = wall.base + (wall.top - wall.base) * 0.6 / 0.75
    assert np.interp(2.0, wall.x, line) == pytest.approx(0, abs=1e-6)
    assert np.interp(1.0, wall.x, wall.top) * 1e5 == pytest.approx(
        wall.tie_force[0], rel=1e-3
    )


def test_tied_wall_on_equal_spans_is_the_closed_form():
    for ties in (1, 2, 3):
        places = 3.6 * np.arange(1, ties + 1) / (ties + 1)
        wall = tied_wall(
            TWO, RAILS, 386.72, 1546.9, 3.6, tie_x=places, tie_z=0.75, places=2401
        )
        assert wall.top.max() == pytest.approx(
            held_wall_bow.si(TWO, RAILS, 386.72, 3.6, 0.75, ties + 1), rel=1e-5
        )
        assert np.abs(wall.moment[1]).max() == pytest.approx(
            uniform_moment.si(386.72 / 0.75, 3.6, ties + 1), rel=1e-5
        )


def test_designs_with_different_numbers_of_ties_go_together():
    """A nan is no tie; each design equals the one computed alone."""
    nan = np.nan
    x = np.array([[nan, 1.8, 1.2, 0.7], [nan, nan, 2.4, 2.0]])
    length, hold = np.array([3.6, 3.6, 3.6, 2.7]), np.array([np.inf, 0.0, 500.0, 0.0])
    many = tied_wall(
        TWO,
        RAILS,
        386.72,
        1546.9,
        length,
        tie_x=x,
        tie_z=0.75,
        base_sliding_resistance=hold,
    )
    assert many.top.shape == (97, 4)
    for i in range(4):
        there = x[:, i][~np.isnan(x[:, i])]
        one = tied_wall(
            TWO, RAILS, 386.72, 1546.9, length[i],
            tie_x=there, tie_z=np.full(len(there), 0.75),
            base_sliding_resistance=hold[i],
        )  # fmt: skip
        assert many.top[:, i] == pytest.approx(one.top, rel=1e-9, abs=1e-15)
        assert many.base[:, i] == pytest.approx(one.base, rel=1e-9, abs=1e-15)
        found = many.tie_force[~np.isnan(x[:, i]), i]
        assert found == pytest.approx(one.tie_force, rel=1e-9)
        assert many.corner[..., i] == pytest.approx(one.corner, rel=1e-9, abs=1e-9)


def test_boards_at_one_height_have_no_lever():
    """A low wall of one board, base not held: the board alone carries the push."""
    z, ei = np.array([0.07]), np.array([5000.0])
    wall = tied_wall(
        z, ei, 20.0, 400.0, 2.0, tie_x=[np.nan], tie_z=0.07, base_sliding_resistance=0.0
    )
    assert wall.top.max() == pytest.approx(uniform_bow.si(400.0, 2.0, 5000.0))
    loads = member_loads.si(z, ei, 20.0, 400.0, 0.0)
    assert loads[0] == pytest.approx(400.0)


member = st.tuples(st.floats(0.05, 0.9), st.floats(300.0, 3e4))


@settings(max_examples=40, deadline=None)
@given(
    members=st.lists(member, min_size=2, max_size=5), length=st.floats(1.0, 6.0),
    place=st.floats(0.1, 0.9), spring=st.floats(1e3, 1e8), held=st.booleans(),
)  # fmt: skip
def test_a_tie_never_lets_its_own_place_move_further(
    members, length, place, spring, held
):
    z, ei = map(np.array, zip(*sorted(members), strict=True))
    # without a tie a base that needs no hold counts as held, with one it does not
    assume(held or base_hold_needed.si(z, ei, 300.0, 1200.0) > 0)
    hold = np.inf if held else 0.0
    tied = dict(tie_x=[place * length], tie_z=[z[-1]], tie_spring=spring)
    free = dict(tie_x=[np.nan], tie_z=[z[-1]])
    args = (z, ei, 300.0, 1200.0, length)
    with_tie = tied_wall(*args, **tied, base_sliding_resistance=hold, places=201)
    without = tied_wall(*args, **free, base_sliding_resistance=hold, places=201)
    at = np.interp(place * length, with_tie.x, with_tie.top)
    before = np.interp(place * length, without.x, without.top)
    assert abs(at) <= abs(before) + 1e-9
    assert with_tie.tie_force[0] * before >= -1e-9  # it pulls against the bow


@settings(max_examples=30)
@given(hold=st.floats(0, 3000), share=st.floats(0.2, 0.8))
def test_more_hold_never_bows_the_top_more(hold, share):
    """And member loads change smoothly into the held wall."""
    z, ei = np.array([0.0, 0.4, 0.75]), np.array([3e3, 5e3, 9e3])
    more, less = (
        member_loads.si(z, ei, 390.0, 1550.0, h)[2] for h in (hold, share * hold)
    )
    needed = base_hold_needed.si(z, ei, 390.0, 1550.0)
    just = member_loads.si(z, ei, 390.0, 1550.0, needed * (1 - 1e-9))
    assert just == pytest.approx(member_loads.si(z, ei, 390.0, 1550.0), abs=1e-3)
    assert np.isfinite(more) and np.isfinite(less)


def test_a_clamped_post_is_a_spring():
    """Own derivation: 4x4 clamped at grade, weak 2x4 rail of 3.6 m.

    Closed form: k = 3 EI/H3, F = u_free / (1/k + L3/48EI): 3.57 mm and 1147 N.
    """
    rails = [
        Rail(z=0.0, stiffness=E * WEAK, held=True),
        Rail(z=0.75, stiffness=E * WEAK, load=515.6),
    ]
    square = 0.0889**4 / 12
    post = Post(x=1.8, stiffness=E * square, clamped=True)
    found = solve_grillage(3.6, rails, [post])
    assert found.post_bow[0][0.75] == printed("3.57e-3")
    force = -found.post_moment[0][0.0] / 0.75
    assert force == printed("1147")
    k = 3 * E * square / 0.75**3
    free = 5 * 515.6 * 3.6**4 / (384 * E * WEAK)
    by_hand = free / (1 / k + 3.6**3 / (48 * E * WEAK))
    assert force == pytest.approx(by_hand, rel=1e-9)


def test_tie_below_the_rail_costs_more_and_bends_the_post():
    """Own derivation: T = interior reaction of the top rail x H/z, post M = T (H - z).

    A very stiff post, one tie at 0.6 m of 0.75 m.
    """
    rails = [
        Rail(z=0.0, stiffness=E * WEAK, held=True),
        Rail(z=0.75, stiffness=E * WEAK, load=515.6),
    ]
    post = Post(x=1.8, stiffness=1e9, ties={0.6: np.inf})
    found = solve_grillage(3.6, rails, [post])
    top = 1.25 * 515.6 * 1.8
    assert found.post_ties[(0, 0.6)] == pytest.approx(top * 0.75 / 0.6, rel=1e-4)
    assert abs(found.post_moment[0][0.6]) == pytest.approx(top * 0.15, rel=1e-4)


def test_uprights_hand_load_from_board_to_board():
    """Against the grillage: middle posts of 35, loads on the rails themselves."""
    z, ei = np.array([0.0, 0.375, 0.75]), np.full(3, E * WEAK)
    slices = np.array([644.5, 773.4, 128.9])
    moment, total = np.sum(slices * z), slices.sum()
    loads = member_loads.si(z, ei, moment, total)
    force, bent = upright_forces.si(z, loads, slices, z, 0.1)
    posts = [Post(x=float(x), stiffness=1e7) for x in np.linspace(0.1, 3.5, 35)]
    frame = solve_grillage(3.6, THREE, posts)
    middle = np.abs([frame.post_moment[i][0.375] for i in range(14, 21)])
    assert bent == pytest.approx(np.mean(middle), rel=1e-2)
    # the top rail carries more than its own push, the middle one less
    assert force[2] < 0 < force[1]
    assert bent == pytest.approx(-force[2] * 0.375)


def test_uprights_are_in_balance():
    """Slices where they act, boards at their middles, the ground at the foot."""
    face, thick, height = 0.14, 0.033, 0.56
    z = face * (np.arange(4) + 0.5)
    ei = np.full(4, 11e9 * face * thick**3 / 12)
    low = face * np.arange(4)
    high = low + face
    slices = 0.5 * 11e3 * ((height - low) ** 2 - (height - high) ** 2) / 2
    # each slice is a trapezoid; its moment about the base by integration
    turn = 0.5 * 11e3 * (height * (high**2 - low**2) / 2 - (high**3 - low**3) / 3)
    loads = member_loads.si(z, ei, turn.sum(), slices.sum())
    force, bent = upright_forces.si(z, loads, slices, turn / slices, 1.05)
    hold = base_hold_needed.si(z, ei, turn.sum(), slices.sum())
    assert force.sum() == pytest.approx(hold * 1.05)
    assert np.sum(loads * z) == pytest.approx(turn.sum())
    assert 0 < bent < turn.sum() * 1.05
    many = upright_forces.si(
        z[:, None], loads[:, None], slices[:, None], (turn / slices)[:, None],
        np.array([1.05, 2.1]),
    )  # fmt: skip
    assert many[1] == pytest.approx([bent, 2 * bent])
