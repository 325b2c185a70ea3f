"""The ruled wall against statics, the grillage and what must always hold."""

import hypothesis.strategies as st
import numpy as np
import pytest
from hypothesis import given, settings

from bedcalc.walls.beams import uniform_bow
from bedcalc.walls.frame import base_hold_needed, member_loads, rule
from bedcalc.walls.grillage import Post, Rail, solve_grillage
from tests.validation.printed import printed

E, WEAK, STRONG = 8.687e9, 4.0973e-7, 2.2307e-6
TWO = np.array([0.0, 0.75])
RAILS = np.full(2, E * WEAK)


def top_bow(z, ei, moment, length, at, spans=1):
    """Bow at a height of a wall that turns about its held base: at M / S2 as a load."""
    return uniform_bow.si(at * moment / rule.si(z, ei)[2], length, 1.0, spans)


def test_two_rails_are_statics():
    """By hand: the top rail carries M/H = 515.6 N/m, the base rail P - M/H = 1031.3."""
    loads = member_loads.si(TWO, RAILS, 386.72, 1546.9, 0.0)
    assert [*loads] == [printed("1031.3", steps=1), printed("515.6")]
    held = member_loads.si(TWO, RAILS, 386.72, 1546.9)
    assert [*held] == [0.0, printed("515.6")]
    assert base_hold_needed.si(TWO, RAILS, 386.72, 1546.9) == printed("1031.3", steps=1)


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
    found = top_bow(z, ei, moment, 3.6, height)
    assert found == printed("112.4e-3")
    many = thick, height / 64, height / 64 * (np.arange(64) + 0.5)
    smeared = top_bow(
        many[2], np.full(64, E * many[1] * thick**3 / 12), moment, 3.6, height
    )
    assert smeared == printed("110.6e-3", steps=1)
    # lumped at mid-board the moment is 3.1 % too big: the reference's 115.9
    lumped = sum(0.5 * 11e3 * (height - zi) * face * zi for zi in z)
    assert top_bow(z, ei, lumped, 3.6, height) == printed("115.9e-3")


def test_many_boards_tend_to_the_smeared_wall():
    """Order of convergence 2 in the size of the boards."""
    height, errors = 0.72, []
    # by hand: u = (5 L4 / 384 E) (6 K gamma H / t3)
    smeared = 5 * 3.0**4 / (384 * E) * 6 * 0.5 * 11e3 * height / 0.033**3
    for n in (2, 4, 8, 16):
        face = height / n
        z = face * (np.arange(n) + 0.5)
        ei = np.full(n, E * face * 0.033**3 / 12)
        found = top_bow(z, ei, 0.5 * 11e3 * height**3 / 6, 3.0, height)
        errors.append(found - smeared)
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
    lever = top_bow(z, ei, moment, 3.6, 0.75)
    posts = [Post(x=float(x), stiffness=1e9) for x in np.linspace(0.1, 3.5, 35)]
    found = solve_grillage(3.6, THREE, posts).bow
    assert lever == printed("253.447e-3", steps=2.5)  # reference rounds its loads
    assert found[2].max() == pytest.approx(lever, rel=1e-5)
    assert found[1].max() == pytest.approx(lever / 2, rel=1e-4)


def test_boards_at_one_height_have_no_lever():
    """A low wall of one board, base not held: the board alone carries the push."""
    z, ei = np.array([0.07]), np.array([5000.0])
    loads = member_loads.si(z, ei, 20.0, 400.0, 0.0)
    assert loads[0] == pytest.approx(400.0)


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
