"""Posts set into the ground: what they hold, how far they give, what they cost."""

from __future__ import annotations

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_, BedError
from bedcalc.app.bench import bench
from bedcalc.figures.utilisation_chart import parts_figure
from bedcalc.figures.walls import wall_figure
from bedcalc.questions.fixes import as_wanted, cures, how_deep, stands, wall_fixes
from bedcalc.walls.beams import posted_coefficients, posted_shape, span_coefficients
from bedcalc.walls.grillage import Rail, solve_grillage
from bedcalc.walls.posts import bending_force, post_flexibility, toe_moment
from tests.validation.printed import printed

DEMO = bc.demo_garden()


def outcome(name, **change):
    return bc.evaluate(DEMO[name].change(**change), DEMO.place)


# ---- formulas


@pytest.mark.parametrize(("deep", "reach"), [(0.6, 0.0), (0.6, 0.56), (1.2, 0.72)])
def test_a_stiff_post_in_ground_that_stiffens_with_depth(deep, reach):
    """Computed by hand: ground pushes back n z (y - turn z); force and moment balance.

    n (y L2/2 - turn L3/3) = 1 and n (y L3/3 - turn L4/4) = -e.
    """
    n = 2.2e6
    balance = n * np.array(
        [[deep**2 / 2, -(deep**3) / 3], [deep**3 / 3, -(deep**4) / 4]]
    )
    y, turn = np.linalg.solve(balance, [1.0, -reach])

    assert post_flexibility.si(deep, reach, n) == pytest.approx(y + turn * reach)


def test_a_post_without_depth_holds_nothing():
    assert post_flexibility.si(0.0, 0.7, 2.2e6) == np.inf
    assert toe_moment.si(0.07, 0.0, 16e3, 3.0) == 0


def test_a_post_breaks_below_the_ground():
    """Computed by hand: P 300 N, D 0.07 m, f = sqrt(300/5040) = 0.2440 m.

    M = 300 x (0.56 + 0.1627) = 216.8 N m, where 5040 = 1.5 x 16 000 x 0.07 x 3.
    """
    assert bending_force.si(216.8, 0.56, 0.07, 16e3, 3.0) == printed("300", steps=1)
    assert bending_force.si(216.8, 0.56, 0.07, 16e3, 3.0) < 216.8 / 0.56


def test_one_spring_in_the_middle_as_printed():
    """Own derivation: w 515.6, EI 3559.3, L 3.6, k 1e5 N/m: F 1119.1 N, u 11.19 mm."""
    c = posted_coefficients(1, 2, 1e5 * 3.6**3 / 3559.3)
    force = float(c.post) * 515.6 * 3.6

    assert force == printed("1119.1")
    middle = posted_shape(1, 2, 1e5 * 3.6**3 / 3559.3, np.array([0.5]))[0]
    assert middle * c.bow * 515.6 * 3.6**4 / 3559.3 * 1000 == printed("11.19")


def test_posts_and_ties_against_small_elements():
    """A tie in the middle and three springs: the beam elements of grillage.py."""
    spring, length, load, ei = 3e4, 2.7, 480.0, 9000.0
    ties = {length / 4: spring, length / 2: np.inf, 3 * length / 4: spring}
    rail = Rail(z=0.7, stiffness=ei, load=load, ties=ties)
    answer = solve_grillage(length, [rail], [], elements=96)
    c, bay = posted_coefficients(2, 4, spring * length**3 / ei), length / 2

    assert c.bow * load * bay**4 / ei == pytest.approx(answer.bow.max(), rel=1e-3)
    assert c.moment * load * bay**2 == pytest.approx(np.abs(answer.moment).max())
    forces = answer.rail_ties
    tie, post = (abs(forces[0, x]) for x in (length / 2, length / 4))
    assert c.reaction_interior * load * bay == pytest.approx(tie)
    # the spring's force is k times its bow: not a reaction of the elements
    at = int(np.argmin(np.abs(answer.x - length / 4)))
    assert c.post * load * bay == pytest.approx(spring * answer.bow[0, at])
    assert post == pytest.approx(spring * answer.bow[0, at])


def test_posts_that_do_not_give_are_ties():
    """hicks_formulas, table 2.1: three spans, 1.100 w s on the inner support."""
    stiff, three = posted_coefficients(1, 3, 1e12), span_coefficients(3)

    assert 3 * stiff.post == printed("1.100")
    assert 81 * stiff.bow == pytest.approx(float(three.bow), rel=2e-4)
    assert 9 * stiff.moment == pytest.approx(float(three.moment))


def test_a_sweep_of_ties_and_posts_is_its_members():
    spans, bays = np.array([1, 2, 3, 1]), np.array([4, 4, 3, 1])
    ratio = np.array([9.0, 0.0, 50.0, 20.0])
    swept = posted_coefficients(spans, bays, ratio)
    for i in range(4):
        alone = posted_coefficients(int(spans[i]), int(bays[i]), float(ratio[i]))
        for many, one in zip(swept, alone, strict=True):
            assert many[i] == pytest.approx(float(one))


# ---- the bed


def test_what_the_ground_holds_of_bed_a():
    """Computed by hand: 0.5 x 16 x 0.07 x 0.9^3 x 3 / (0.56 + 0.9) / 1.5 = 0.559 kN."""
    check = outcome("A", post_depth=Q_(90, "cm")).check("post")

    assert check.capacity.m_as("kN") == printed("0.559")
    assert "ground carries" in check.sentence()


def test_what_the_foot_gains_where_ties_hold_the_rim():
    """Bed B, two ties beside its two posts: the ground is left to the foot.

    By hand: 0.5 x 16 000 x 0.07 x 0.6^2 x 3 / 1.5 / (2.655 / 3) = 455.6 N/m.
    """
    free = outcome("B", ties=2)
    set_ = outcome("B", ties=2, post_depth=Q_(60, "cm"))

    more = set_.walls.si.foot_sliding_resistance - free.walls.si.foot_sliding_resistance
    assert more == printed("455.6")
    assert set_.walls.si.post_force == pytest.approx(0, abs=1e-6)
    assert set_.walls.si.bow_years == pytest.approx(free.walls.si.bow_years, rel=2e-4)


def test_deeper_posts_bow_less_and_hold_more():
    deep = np.array([0.0, 30, 60, 90, 120])
    swept = outcome("B", post_depth=Q_(deep, "cm"))

    assert np.all(np.diff(swept.walls.si.bow_years) < 0)
    assert np.all(np.diff(swept.walls.si.foot_sliding_resistance) > 0)
    for i, d in enumerate(deep):
        one = outcome("B", post_depth=Q_(d, "cm"))
        assert swept.walls.si.bow_years[i] == pytest.approx(one.walls.si.bow_years)
        assert swept.walls.si.foot_sliding_resistance[i] == pytest.approx(
            one.walls.si.foot_sliding_resistance
        )


def test_drawn_bow_meets_the_judged_one():
    walls = outcome("A", post_depth=Q_(75, "cm")).walls.si

    assert np.max(walls.bow_x_years) == pytest.approx(walls.bow_years, rel=2e-3)
    assert walls.bow_x_years[[0, -1]] == pytest.approx(0, abs=1e-12)


def test_longer_posts_are_cut_and_paid():
    """Prices 9.3: eight posts of 720 + 900 mm, two from each 3.6 m: 4 x 17.40."""
    o = outcome("B", post_depth=Q_(900, "mm"))
    bought = [line.amount for line in o.cost.lines if line.goods == "post_70x70"]

    assert sum(bought) == pytest.approx(69.60)


@pytest.mark.parametrize("name", list("DEF"))
def test_builds_without_posts_to_set_do_not_mind(name):
    a, b = outcome(name), outcome(name, post_depth=Q_(60, "cm"))

    assert b.check("post") is None
    assert b.cost.si.total == pytest.approx(a.cost.si.total)
    assert how_deep(b) is None


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"post_depth": Q_(2, "m")}, ("post_depth", "from 0 m to 1.2 m", "2 meter")),
        ({"post_depth": 60}, ("post_depth", "without a unit")),
        (
            {"post_depth": Q_(120, "cm"), "height": Q_(118, "cm")},
            ("post_depth", "at most 2.3 m", "2.38"),
        ),
    ],
)
def test_a_depth_that_cannot_be_is_refused(change, words):
    with pytest.raises(BedError) as error:
        DEMO["B"].change(**change)

    for word in words:
        assert word in str(error.value)


def test_a_garden_keeps_the_depth(tmp_path):
    deep = DEMO["B"].change(post_depth=Q_(750, "mm"))
    path = bc.save(DEMO.with_bed(deep), tmp_path / "g.toml")

    assert 'post_depth = "750 mm"' in path.read_text()
    assert bc.load(path)["B"].post_depth == Q_(750, "mm")
    path.write_text(path.read_text().replace('"750 mm"', '"750"'))
    with pytest.raises(bc.GardenError, match="bed B, post_depth: needs a number and"):
        bc.load(path)


# ---- how deep


@pytest.mark.parametrize("name", list("ABC"))
def test_how_deep_is_the_shallowest_that_stands(name):
    """Posts alone are a poor tie: none holds B and C, and A needs the longest."""
    found = how_deep(outcome(name))

    if name == "A":
        assert found.depths[0] >= Q_(90, "cm")
    else:
        assert found.depths[0] is None
        assert "not even posts 120\N{NO-BREAK SPACE}cm deep" in found.sentence()
    for ties, deep in found.depths.items():
        if deep is not None:
            assert as_wanted(outcome(name, ties=ties, post_depth=deep))
            shallower = Q_(deep.m_as("cm") - 15, "cm")
            assert not as_wanted(outcome(name, ties=ties, post_depth=shallower))


def test_posts_of_a_tied_bed_may_stand_on_the_ground():
    found = how_deep(outcome("B", ties=1, base_ties=1))

    assert found.depths[1] == Q_(0, "cm")
    assert "may stand on the ground" in found.sentence()


def test_posts_are_ranked_among_the_fixes():
    """A tie at the foot costs 10.80 (B23), eight longer posts more: ties come first."""
    keys = [c.key for c in cures(outcome("B"))]
    deep = next(c for c in cures(outcome("B")) if c.key.startswith("deep"))

    assert keys.index("ties") < keys.index(deep.key)
    assert deep.change["ties"] == 1 and deep.change["base_ties"] == 0
    assert stands(outcome("B", **deep.change))
    assert "Digging" in deep.note
    alone = {t.key: t for t in wall_fixes(outcome("B"))}
    assert not alone["deep 120"].cures


def test_a_weak_post_is_mended_by_ties():
    """C, 30 cm: 0.5 x 16 x 0.06 x 0.3^3 x 3 / 0.675 / 1.5 = 0.038 kN, too little."""
    check = outcome("C", post_depth=Q_(30, "cm")).check("post")

    assert check.capacity.m_as("kN") == printed("0.038")
    assert not check.ok and "ties" in check.fix.change


def test_the_build_sheet_says_how_deep_the_holes_are():
    from bedcalc.printing.level import _post_holes

    assert "Post holes: 600" in _post_holes(
        DEMO["B"].change(post_depth=Q_(60, "cm")), "metric"
    )
    assert _post_holes(DEMO["B"], "metric") == ""
    assert _post_holes(DEMO["E"].change(post_depth=Q_(60, "cm")), "metric") == ""


def test_the_pictures_tell_parts_from_use_and_posts_from_ties():
    """Lying ribs, one tie, no tie at the foot: only somebody on the rim is too much."""
    bed = {"ties": 1, "post_depth": Q_(90, "cm"), "ribs_lying": True, "climbed": True}
    o = outcome("B", **bed)
    assert stands(o) and not o.check("sitting").ok

    title = parts_figure(o).annotations[0]["text"]
    assert "Every part holds, one use does not" in title
    said = [note["text"] for note in wall_figure(o, width=1000).annotations]
    assert not any("no tie" in text for text in said)
    set_ = outcome("B", post_depth=Q_(60, "cm"))
    free = wall_figure(set_, width=1000).annotations
    assert any("post in ground" in note["text"] for note in free)


def test_the_bench_sets_posts_where_the_build_has_them(tmp_path):
    board = bench(file=tmp_path / "my_garden.toml")
    row = board.controls["post_depth"]

    def there(widget):
        return widget is row.widget or any(
            there(child) for child in getattr(widget, "children", ())
        )

    assert there(board.widget)
    row.value = Q_(90, "cm")
    assert board.outcome.check("post") is not None
    board.controls["wall"].value = "blocks"
    assert not row.shown and board.outcome.check("post") is None
