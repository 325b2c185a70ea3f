"""Boxes, walls, logs and projection of the bed's picture, each by itself."""

from __future__ import annotations

import numpy as np
import pytest

import bedcalc as bc
from bedcalc.assembly import assembly, bonded
from bedcalc.figures.scene.camera import SPAN, VIEWS, axes, fit
from bedcalc.figures.scene.filling import fill_at, steps
from bedcalc.figures.scene.people import somebody
from bedcalc.figures.scene.plan import plan_of
from bedcalc.figures.scene.solids import Solids, lit, painted_in_order, ring
from bedcalc.figures.scene.texture import flecks, logs
from bedcalc.figures.scene.walls import far_walls, near_walls

GARDEN = bc.demo_garden()


def plan(name: str, **changes):
    return plan_of(bc.evaluate(GARDEN[name].change(**changes), GARDEN.place))


def area(shape: np.ndarray) -> float:
    """Area of a flat ring in space."""
    middle = shape.mean(0)
    a, b = shape - middle, np.roll(shape, -1, 0) - middle
    return float(np.linalg.norm(np.cross(a, b).sum(0)) / 2)


# ---- boxes


def test_a_box_shows_three_faces_of_its_size_however_many_stations_it_has():
    s = Solids(np.linspace(0, 2.7, 15))
    made = s.box((0, 2.7, 0, 0.033, 0, 0.14), "timber")
    found = [area(piece.rings[0]) for piece in made.pieces]
    # computed by hand: right 0.033 x 0.14, top 2.7 x 0.033, front 2.7 x 0.14
    assert found == pytest.approx([0.00462, 0.0891, 0.378])
    assert len(made.pieces[2].rings[0]) == 2 * 15


def test_a_box_for_a_view_that_turns_is_closed():
    made = Solids(np.array([]), all_round=True).box((0, 2, 0, 1, 0, 0.5), "timber")
    # computed by hand: 2 (2 x 1 + 2 x 0.5 + 1 x 0.5)
    assert sum(area(p.rings[0]) for p in made.pieces) == pytest.approx(7.0)


def test_the_cap_closes_at_its_four_mitres():
    p = plan("A")
    s = Solids(p.stations)
    near_walls(s, p, assembly(GARDEN["A"]))
    level = [
        r for solid in s.found for piece in solid.pieces for r in piece.rings
        if piece.fill != "url(#bc-fails)" and np.ptp(r[:, 2]) == 0
        and np.isclose(r[0, 2], p.height + p.cap_thick)
    ]  # fmt: skip
    # computed by hand: outer rectangle 2.78 x 1.13 m less the inner 2.60 x 0.95 m
    assert sum(map(area, level)) == pytest.approx(2.78 * 1.13 - 2.60 * 0.95)


def test_what_lies_in_front_is_painted_later():
    s = Solids(np.array([]))
    front, behind = (0, 3, 0, 0.1, 0, 1), (0, 3, 1, 1.1, 0, 1)
    over, right = (0, 3, 0.2, 0.9, 1, 1.1), (3.1, 3.2, 0.2, 0.9, 0, 1)
    for box in (right, front, over, behind):
        s.box(box, "timber")
    order = [solid.box for solid in painted_in_order(s.found, axes("front"))]
    assert order.index(behind) < order.index(front)
    assert order.index(behind) < order.index(right)
    assert order.index(behind) < order.index(over)


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("name", "ABCDEF")
def test_no_piece_of_a_wall_is_painted_over_by_what_lies_behind_it(name, view):
    """Of two that touch along one axis, the nearer one comes later."""
    p = plan(name)
    s = Solids(p.stations)
    near_walls(s, p, assembly(GARDEN[name]))
    order, toward = painted_in_order(s.found, axes(view)), axes(view)[2]
    assert len(order) == len(s.found)
    touching = 0
    for k, later in enumerate(order):
        for sooner in order[:k]:
            a, b = np.array(later.box), np.array(sooner.box)
            over = [min(a[i + 1], b[i + 1]) - max(a[i], b[i]) > 1e-6 for i in (0, 2, 4)]
            if sum(over) != 2:
                continue
            axis = over.index(False)
            low, high = 2 * axis, 2 * axis + 1
            behind = a[high] - b[low] if toward[axis] > 0 else b[high] - a[low]
            touching += abs(a[high] - b[low]) < 1e-9 or abs(b[high] - a[low]) < 1e-9
            assert abs(behind) > 1e-9, (later.box, sooner.box)
    assert touching > 3


def test_light_makes_a_colour_darker_and_never_leaves_the_scale():
    assert lit("#808080", 0.5) == "#404040"
    assert lit("#ffffff", 3) == "#ffffff"


def test_a_band_is_closed_the_way_it_came():
    found = ring([0, 1], 0, 0, [0, 1], 0, 2)
    assert found.tolist() == [[0, 0, 0], [1, 0, 0], [1, 0, 2], [0, 0, 2]]


# ---- walls


@pytest.mark.parametrize("name", "ABCDEF")
def test_every_post_course_and_rail_that_is_seen_lies_where_the_assembly_puts_it(name):
    made, p = assembly(GARDEN[name]), plan(name)
    s = Solids(p.stations)
    near_walls(s, p, made)
    boxes = [solid.box for solid in s.found]
    for m in made.of("post"):
        if m.wall == "front":
            assert m.box in boxes
    for m in made.members:
        if m.wall == "front" and m.what in ("rail side", "side", "block"):
            same = [b for b in boxes if b[2:] == m.box[2:] and b[0] == m.box[0]]
            assert same or m.box[0] >= p.opened
            assert all(b[1] <= p.opened + 1e-9 for b in same if m.what != "rail side")


def test_no_sliver_of_a_block_at_the_end():
    pieces = bonded(0, 2.05, 0.4)
    # computed by hand: five of 400 leave 50 mm; the last two share 450 mm
    assert [b - a for a, b in pieces[-2:]] == pytest.approx([0.225, 0.225])


def test_the_trough_stands_on_its_legs():
    p = plan("D")
    far, near = Solids(p.stations), Solids(p.stations)
    far_walls(far, p, assembly(GARDEN["D"]))
    near_walls(near, p, assembly(GARDEN["D"]))
    boxes = [solid.box for solid in (*far.found, *near.found)]
    feet = {(b[0], b[2]) for b in boxes if np.isclose(b[4], 0)}
    assert len(feet) == 6
    low = min(b[4] for b in boxes if b[4] > 1e-9)
    # slats of 22 mm on rails of 45, these on bearers of 70
    assert low == pytest.approx(p.floor - 0.022 - 0.045 - 0.070)


def test_the_opening_begins_at_a_post_where_one_is_near():
    assert plan("C").opened == pytest.approx(0.9)
    assert plan("D").opened == pytest.approx(1.05)


# ---- fill


def test_fill_is_known_at_every_place():
    p = plan("B", fill=bc.strategy_layers("logs_chips_compost"))
    made = steps(p)
    assert fill_at(p, 0.3, 0.5) == made[-1].top  # closed half
    assert fill_at(p, p.length - 0.2, made[0].b + 0.01) == made[0].top
    assert fill_at(p, p.length - 0.2, p.width - 0.2) == made[-1].top


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
    edge = (small[..., 0] < 0.501) | (small[..., 0] > 1.499)
    edge |= (small[..., 1] < 0.001) | (small[..., 1] > 0.299)
    small = small[~edge.any(1)]  # what meets the edge is cut there
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
    unit = told["aspectratio"]["x"] / SPAN
    right, up, toward = frame.axes
    assert unit * 430 / 2 == pytest.approx(frame.scale)
    eye, centre = (
        np.array([told["camera"][k][a] for a in "xyz"]) for k in ("eye", "center")
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


# ---- people


@pytest.mark.parametrize("stature", [1.05, 1.25, 1.4, 1.65])
@pytest.mark.parametrize("rim", [0.15, 0.3, 0.5, 0.72, 0.9])
def test_somebody_bends_no_further_than_the_rim_asks(stature, rim):
    """A lower rim brings the head lower; nobody leans through the wall."""
    here, lower = (
        somebody("adult", stature, h, h - 0.05, 0.05, "B") for h in (rim, rim - 0.1)
    )
    if rim < 0.6 * stature:  # to a higher one somebody small leans to reach at all
        assert lower.tall <= here.tall + 1e-9
    body = np.vstack([r for _, rings in here.body for r in rings])
    low = body[body[:, 1] < rim - 0.02]
    assert low[:, 0].max() < 0.02


def test_people_differ_and_the_same_bed_keeps_its_own():
    looks = {somebody("adult", 1.65, 0.7, 0.65, 0.05, n).body[0][0] for n in "ABCDEF"}
    assert len(looks) > 1
    one, two = (somebody("adult", 1.65, 0.7, 0.65, 0.05, "B") for _ in range(2))
    assert one.tall == two.tall and one.body[0][0] == two.body[0][0]
