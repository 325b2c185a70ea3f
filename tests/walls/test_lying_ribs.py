"""Sheet whose ribs lie from post to post: the steel, the post behind it, the pieces."""

from __future__ import annotations

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_, BedError
from bedcalc.cutting.cut_list import parts
from bedcalc.cutting.splices import spliced
from bedcalc.figures.scene import scene
from bedcalc.figures.scene.solids import lit
from bedcalc.printing.facts import sheet_words
from bedcalc.printing.step_facts import facts_of
from bedcalc.questions.fixes import cures, stands

DEMO = bc.demo_garden()
B = DEMO["B"]


def outcome(**change):
    return bc.evaluate(B.change(ribs_lying=True, **change), DEMO.place)


def test_the_lowest_strip_between_two_posts():
    """Bending by p s2/10: 5.4 kPa, 0.885 m. S by own derivation: 132 N m/m give 61 MPa.

    By hand: 422.9 / (132 / 61) = 195.4 MPa; 230 / 1.67 = 137.7 MPa.
    """
    check = outcome().check("sheet")

    assert check.demand.m_as("MPa") == pytest.approx(195.4, rel=0.01)
    assert check.capacity.m_as("MPa") == pytest.approx(137.7, abs=0.05)
    assert check.fix.change == {"ribs_lying": False}
    assert "Ribs lying" in check.note


def test_the_post_behind_it():
    """By hand: 0.1283 P H = 179.6 N m/m, x 1.1 x 0.885 m = 174.8 N m in 70 x 70.

    x 1.35 over 57 167 mm3: 4.128 MPa; C24: 24 x 0.5/1.3 x (150/70)^0.2 = 10.75 MPa.
    """
    check = outcome().check("upright")

    assert check.demand.m_as("MPa") == pytest.approx(4.128, rel=1e-3)
    assert check.capacity.m_as("MPa") == pytest.approx(10.75, abs=0.005)


def test_posts_half_a_metre_apart_will_do():
    """Own derivation: lying ribs need posts at 0.5 to 0.6 m at most."""
    use = {
        gap: outcome(post_spacing=Q_(gap, "cm")).check("sheet").utilisation
        for gap in (50, 60, 180)
    }

    assert use[50] < use[60] < 1 < use[180]


def test_the_rail_is_bent_a_quarter_more_at_most():
    """Own derivation: one post in the middle, 0.625 w L at mid-length: 1.25."""
    upright = bc.evaluate(B, DEMO.place)

    assert outcome().walls.si.stress == pytest.approx(1.25 * upright.walls.si.stress)
    assert outcome().walls.si.bow_once == pytest.approx(upright.walls.si.bow_once)


def test_every_tie_has_a_post_where_ribs_lie():
    for ties in (1, 2, 3):
        walls = outcome(ties=ties).walls
        for x in walls.si.ties_x:
            assert np.min(np.abs(walls.si.posts_x - x)) < 1e-9


def test_pieces_run_along_the_bed():
    """One row of 0.76 m cover closes 0.72 m: 2 x 2610 and 2 x (960 - 2 x 18)."""
    found = {p.what: (round(p.length, 3), p.count) for p in parts(outcome().bed)}

    assert found["sheet side"] == (2.61, 2)
    assert found["sheet end"] == (0.924, 2)
    taller = {p.what: p.count for p in parts(outcome(height=Q_(90, "cm")).bed)}
    assert taller["sheet side"] == 4


def test_a_long_sheet_is_joined_on_the_middle_of_a_post():
    """Sheets of 3.0 m at most; bed of 4.0 m, posts every 3.955 / 4 = 0.98875 m.

    By hand: the third post stands 2.98875 m from the outside, 2.94375 m from inside.
    """
    o = outcome(length=Q_(4, "m"))
    third = o.walls.si.posts_x[2] - 0.045
    pieces, _ = spliced(o.bed, parts(o.bed), {"sheet_0.76": 3.0})
    side = {p.what: p.length for p in pieces if p.what.startswith("sheet side")}

    assert third == pytest.approx(2.94375)
    assert side["sheet side a"] == pytest.approx(third)
    assert sum(side.values()) == pytest.approx(3.91)


def test_a_lying_sheet_is_mended():
    best = cures(outcome())

    assert best and all(stands(bc.evaluate(c.after.bed, DEMO.place)) for c in best)


def test_other_walls_do_not_mind():
    a, b = (
        bc.evaluate(DEMO["A"].change(ribs_lying=lying), DEMO.place)
        for lying in (False, True)
    )

    assert b.check("sheet") is None and b.check("upright") is None
    assert b.walls.si.stress == a.walls.si.stress
    assert b.cost.si.total == a.cost.si.total


def test_a_garden_keeps_it_and_refuses_what_is_neither(tmp_path):
    path = bc.save(DEMO.with_bed(outcome().bed), tmp_path / "g.toml")

    assert bc.load(path)["B"].ribs_lying is True
    with pytest.raises(BedError, match="ribs_lying: needs true or false; given 'flat'"):
        B.change(ribs_lying="flat")


def test_the_build_sheet_speaks_of_rows():
    o = outcome()
    facts = facts_of(o, parts(o.bed), "metric")

    assert facts["sheet"].startswith("2 × 2610") and "2 × 924" in facts["sheet"]
    assert "One row of sheet, ribs lying" in sheet_words(o, "metric")


def test_the_scene_draws_the_waves_the_way_they_lie():
    """Upright waves are as high as the wall; lying ones run along the whole bay."""

    def widest(drawing) -> float:
        waves = [s for s in drawing.shapes if s.fill == lit("steel", 1.04)]
        return max(float(np.ptp(ring[:, 0])) for s in waves for ring in s.rings)

    lying, upright = scene(outcome()), scene(bc.evaluate(B, DEMO.place))
    assert widest(lying) > 5 * widest(upright)
