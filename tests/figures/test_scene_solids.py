"""Faces, walls, logs and projection of the bed's picture, each by itself."""

from __future__ import annotations

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.assembly import bonded
from bedcalc.figures.scene.camera import SPAN, VIEWS, axes, fit
from bedcalc.figures.scene.filling import filling, steps
from bedcalc.figures.scene.plan import plan_of
from bedcalc.figures.scene.solids import Solids, face_colours, join
from bedcalc.figures.scene.texture import flecks, logs
from bedcalc.figures.scene.walls import _cap, _wave, walls

GARDEN = bc.demo_garden()


def plan(name: str, **changes):
    return plan_of(bc.evaluate(GARDEN[name].change(**changes), GARDEN.place))


# ---- faces


def test_boxes_are_closed_and_wound_outward():
    s = Solids()
    s.boxes([[0, 2, 0, 1, 0, 0.5], [3, 4, -1, 1, 0, 1]], "timber")
    # computed by hand: 2 x 1 x 0.5 + 1 x 2 x 1
    assert s.shape().volume() == pytest.approx(3.0)


def test_a_bar_keeps_its_volume_however_many_stations_it_has():
    s = Solids(np.linspace(0, 2.7, 15))
    s.bar((0, 2.7), (0, 0.033), (0, 0.14), "timber")
    shape = s.shape()
    # computed by hand: 2.7 x 0.033 x 0.14 m
    assert shape.volume() == pytest.approx(0.012474)
    assert len(shape.corners) == 15 * 4


def test_the_cap_closes_at_its_four_mitres():
    p = plan("A")
    s = Solids(p.stations)
    _cap(s, p)
    # computed by hand: outer rectangle less inner one, times the thickness.
    # Outer 2.78 x 1.13 m, cap 90 mm wide: inner 2.60 x 0.95 m; 22 mm thick
    assert s.shape().volume() == pytest.approx((2.78 * 1.13 - 2.60 * 0.95) * 0.022)


def test_joined_shapes_keep_faces_paint_and_volume():
    one, two = Solids(), Solids()
    one.boxes([[0, 1, 0, 1, 0, 1]], "timber")
    two.fans([[[0, 0, 5], [1, 0, 5], [0, 1, 5]]], "grass")
    two.boxes([[2, 3, 0, 1, 0, 1]], "oak")
    both = join(one.shape(), two.shape())
    colours = face_colours(both, both.corners)
    assert len(colours) == len(both.triangles) == 12 + 12 + 1
    # the triangle is last, level, and greener than it is red
    red, green = int(colours[-1][1:3], 16), int(colours[-1][3:5], 16)
    assert green > red


def test_the_side_towards_the_light_is_brighter():
    s = Solids()
    s.boxes([[0, 1, 0, 1, 0, 1]], "concrete")
    shape = s.shape()
    quads = face_colours(shape, shape.corners)[:6]
    front, right, top = (int(quads[k][1:3], 16) for k in (0, 1, 4))
    assert top > right and front > right


# ---- walls


@pytest.mark.parametrize("name", "ABCDEF")
def test_walls_and_fill_stay_inside_the_outside_size(name):
    p = plan(name, fill=bc.strategy_layers("half_logs"))
    s = Solids(p.stations)
    walls(s, p)
    filling(s, p)
    c, out = s.shape().corners, p.cap_out if p.cap_wide else 0.0
    low, high = c.min(0), c.max(0)
    assert low == pytest.approx([-out, -out, 0], abs=0.002)
    assert high[0] == pytest.approx(p.length + out, abs=0.002)
    assert high[1] == pytest.approx(p.width + out, abs=0.002)
    assert high[2] == pytest.approx(p.height + p.cap_thick, abs=0.003)


def test_courses_fill_the_height_and_only_the_lowest_is_ripped():
    found = plan("A", height=Q_(500, "mm")).rows
    sizes = [b - a for a, b in found]
    # computed by hand: three boards of 140 mm and one ripped to 80 mm, at the rim
    assert sizes == pytest.approx([0.14, 0.14, 0.14, 0.08])
    assert found[0][0] == 0 and found[-1][1] == pytest.approx(0.5)


def test_blocks_lap_in_every_course():
    p = plan("E")
    joints = []
    for course in (0, 1):
        inset = 0 if course == 0 else p.wall
        pieces = bonded(inset, p.length - inset, p.block)
        assert max(b - a for a, b in pieces) <= p.block + 1e-9
        assert min(b - a for a, b in pieces) >= 0.2 * p.block
        joints.append([a for a, _ in pieces[1:]])
    apart = np.abs(np.subtract.outer(joints[0], joints[1]))
    # common practice, no source: joints of neighbouring courses a quarter block apart
    assert apart.min() >= p.block / 4 - 1e-9


def test_no_sliver_of_a_block_at_the_end():
    pieces = bonded(0, 2.05, 0.4)
    # computed by hand: five of 400 leave 50 mm; the last two share 450 mm
    assert [b - a for a, b in pieces[-2:]] == pytest.approx([0.225, 0.225])


def test_the_sheet_keeps_its_pitch_and_depth():
    run, deep, tone = _wave(0.1, 0.9, 0.076, 0.018, 4)
    assert len(tone) == len(run) - 1
    assert deep.min() == 0 and deep.max() == pytest.approx(0.018)
    crests = run[1:-1][np.isclose(deep[1:-1], 0)]
    # two corners a crest, the first of each a pitch apart
    assert np.diff(crests[::2]) == pytest.approx(0.076)


def test_the_trough_stands_on_its_legs():
    p = plan("D")
    s = Solids(p.stations)
    walls(s, p)
    c = s.shape().corners
    # below the frame only the legs reach down: six of them, four foot corners each
    feet = c[np.isclose(c[:, 2], 0)]
    assert len(feet) == 6 * 4
    assert c[c[:, 2] > 0][:, 2].min() == pytest.approx(p.floor - 0.022 - 0.045)


def test_the_opening_begins_at_a_post_where_one_is_near():
    assert plan("C").opened == pytest.approx(0.9)
    assert plan("D").opened == pytest.approx(1.05)


# ---- fill


def test_every_layer_is_cut_further_back_than_the_one_below():
    p = plan("B", fill=bc.strategy_layers("logs_chips_compost"))
    made = steps(p)
    assert [m.material for m in made] == ["logs", "chips", "compost", "topdressing"]
    assert all(b.b > a.b + 0.05 for a, b in zip(made, made[1:], strict=False))
    assert all(b.a < a.a for a, b in zip(made, made[1:], strict=False))
    assert made[-1].b < p.half and made[-1].a > p.opened
    depths = [m.top - m.low for m in made]
    assert depths[:-1] == pytest.approx([h for _, h in p.layers[:-1]])


@pytest.mark.parametrize("wide, high", [(1.3, 0.24), (0.5, 0.1), (5.0, 0.5)])
def test_logs_lie_in_their_window_and_on_nobody(wide, high):
    found = logs(wide, high)
    x, z, r = found.T
    assert len(found) > 3
    assert (x - r > -1e-9).all() and (x < wide).all() and (z - r > -1e-9).all()
    gap = np.hypot(np.subtract.outer(x, x), np.subtract.outer(z, z))
    both = np.add.outer(r, r)
    np.fill_diagonal(gap, np.inf)
    assert (gap > 0.96 * both).all()


def test_logs_stand_still_while_the_bed_grows():
    pile = {tuple(np.round(row, 9)) for row in logs(1.6, 0.24)}
    mean = np.median(logs(1.3, 0.24)[:, 2])
    rows = [row for row in logs(1.3, 0.24) if row[2] > 0.72 * mean and row[0] < 1.1]
    assert all(tuple(np.round(row, 9)) in pile for row in rows)


def test_flecks_stand_still_while_the_window_grows():
    small = flecks(1, 115, 0.03, 0.45, (0.5, 1.5), (0.0, 0.3))
    large = flecks(1, 115, 0.03, 0.45, (0.5, 2.5), (0.0, 0.4))
    known = {tuple(np.round(t.ravel(), 9)) for t in large}
    assert len(small) > 5
    assert all(tuple(np.round(t.ravel(), 9)) in known for t in small)
    assert small[..., 0].min() > 0.5 and small[..., 0].max() < 1.5


# ---- camera


@pytest.mark.parametrize("view", VIEWS)
def test_the_picture_axes_are_square_and_of_unit_length(view):
    m = np.array(axes(view))
    assert m @ m.T == pytest.approx(np.eye(3), abs=1e-12)
    assert m[0][2] == 0  # posts stay upright


def test_the_fit_touches_the_margins_and_shows_all():
    points = np.array([[0, 0, 0], [3, 0, 0], [3, 1, 0], [0, 1, 0.7], [3, 1, 0.7]])
    frame = fit(points, "front", 900, 430, (10, 20, 150, 60))
    px = frame.pixels(points)
    assert px[:, 0].min() >= 10 - 1e-6 and px[:, 0].max() <= 750 + 1e-6
    assert px[:, 1].min() >= 20 - 1e-6 and px[:, 1].max() <= 370 + 1e-6
    slack = (px[:, 0].min() - 10, 370 - px[:, 1].max())
    assert min(slack) == pytest.approx(0, abs=1e-6)


def test_pixels_follow_from_what_plotly_is_told():
    """Plotly shows a unit of its scene as half the picture's height (measured)."""
    points = np.array([[0, 0, 0], [2, 0, 0], [0, 1.5, 0.3]])
    frame = fit(points, "front", 900, 430, (8, 8, 8, 8))
    told = frame.layout()
    unit = told["scene_aspectratio"]["x"] / SPAN
    right, up, toward = frame.axes
    assert unit * 430 / 2 == pytest.approx(frame.scale)
    eye, centre = (
        np.array([told["scene_camera"][k][a] for a in "xyz"]) for k in ("eye", "center")
    )
    assert np.cross(eye - centre, toward) == pytest.approx(np.zeros(3), abs=1e-9)
    mid = [sum(frame.ranges()[f"{a}axis"]["range"]) / 2 for a in "xyz"]
    seen = (points - mid) * unit - centre
    px = np.column_stack([450 + seen @ right * 215, 215 - seen @ up * 215])
    assert px == pytest.approx(frame.pixels(points))


def test_moving_by_pixels_moves_by_pixels():
    frame = fit(np.array([[0, 0, 0], [2.0, 1, 1]]), "end", 600, 400, (8, 8, 8, 8))
    moved = frame.moved([[1, 0, 0]], across=12, down=-7, nearer=3)
    assert frame.pixels(moved) - frame.pixels([[1, 0, 0]]) == pytest.approx(
        np.array([[12, -7]])
    )
