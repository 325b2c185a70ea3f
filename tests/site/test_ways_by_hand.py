"""Ways over the plot: how far, how wide, where to turn; and the water that runs over.

Routes go over squares of 10 cm, so hand lengths hold to one square at either end; a
slanting way goes straight and in steps of 45 degrees: long side - short side + short
side x sqrt(2).
"""

from __future__ import annotations

import heapq

import numpy as np
import pytest

from bedcalc.model.plot import Plot, Thing, rectangle
from bedcalc.site.layout import Spot
from bedcalc.site.routes import _flood, _Grid, walk

SQUARE = 0.1


def spot(x, y, length=2.4, width=1.0, turned=False):
    return Spot(x=x, y=y, length=length, width=width, turned=turned)


def block(name, x, y, length, width, kind="other", height=0.0):
    return Thing(
        name=name, kind=kind, x=x, y=y, length=length, width=width, height=height
    )


def slanting(across, down):
    """Straight and in steps of 45 degrees."""
    low, high = sorted((abs(across), abs(down)))
    return high - low + low * 2**0.5


# -- squares --------------------------------------------------------------------


def _walked(free, start, cell):
    """Shortest ways one square after another (Dijkstra, written out)."""
    far = np.full(free.shape, np.inf)
    queue = [(0.0, r, c) for r, c in np.argwhere(free & start)]
    for _, r, c in queue:
        far[r, c] = 0.0
    heapq.heapify(queue)
    while queue:
        done, r, c = heapq.heappop(queue)
        if done > far[r, c]:
            continue
        for dr in (-1, 0, 1):
            for dc in (-1, 0, 1):
                i, j = r + dr, c + dc
                if not (0 <= i < free.shape[0] and 0 <= j < free.shape[1]):
                    continue
                way = done + cell * np.hypot(dr, dc)
                if free[i, j] and way < far[i, j] - 1e-12:
                    far[i, j] = way
                    heapq.heappush(queue, (way, i, j))
    return far


@pytest.mark.parametrize("seed", range(5))
def test_ways_over_the_squares_one_step_after_another(seed):
    """A second program, square by square, on ground with a third of it built over."""
    dice = np.random.default_rng(seed)
    free = dice.random((9, 12)) > 0.35
    start = np.zeros_like(free)
    start[0], start[:, 0] = True, seed % 2 == 0
    reach, far = _flood(free, start, 0.25)
    by_hand = _walked(free, start, 0.25)

    assert (reach == np.isfinite(by_hand)).all() and reach.any() and not reach.all()
    assert far == pytest.approx(by_hand)


def test_nowhere_to_begin_reaches_nothing():
    free = np.ones((3, 4), dtype=bool)
    reach, far = _flood(free, ~free, 0.1)

    assert not reach.any() and np.isinf(far).all()


def test_squares_of_a_rectangle():
    """2 m by 1 m from (-1, 0.5): 20 by 10 squares, the middle of the first 5 cm in."""
    grid = _Grid(-1.0, 0.5, 1.0, 1.5)
    x, y = grid.middles

    assert (grid.rows, grid.cols, grid.cell) == (10, 20, SQUARE)
    assert (x[0, 0], x[0, -1], y[0, 0], y[-1, 0]) == pytest.approx(
        (-0.95, 0.95, 0.55, 1.45)
    )
    marked = np.zeros((10, 20), dtype=bool)
    marked[grid.cells(-0.5, 0.2, 0.7, 1.0)] = True
    assert (marked == ((x > -0.5) & (x < 0.2) & (y > 0.7) & (y < 1.0))).all()
    marked[:] = False
    marked[grid.cells(-9, -0.8, 1.4, 9)] = True  # what lies beyond is cut off
    assert (marked == ((x < -0.8) & (y > 1.4))).all()
    rows, cols, known = grid.at([-0.99, 0.21, 1.2, -1.2], [0.51, 0.99, 0.6, 0.6])
    assert (list(rows[:2]), list(cols[:2])) == ([0, 4], [0, 12])
    assert list(known) == [True, True, False, False]
    assert list(grid.at([0, 0], [0.4, 1.6])[2]) == [False, False]
    nearest = grid.nearest(x > 0, -0.5, 0.86)
    assert np.argwhere(nearest).tolist() == [[3, 10]]
    # the middles are what counts: 0.14 is nearest to 0.15, in the twelfth column
    anywhere = grid.nearest(np.ones_like(x, dtype=bool), 0.14, 0.86)
    assert np.argwhere(anywhere).tolist() == [[3, 11]]


def test_a_large_plot_has_larger_squares():
    """80 m and 1.5 m of ground at either side: 83 m / 500 = 166 mm, anywhere."""
    for left in (0.0, -100.0):
        plot = Plot(outline=((left, 3), (left + 80, 3), (left + 80, 13), (left, 13)))
        found = walk(plot, (("A", spot(left + 5, 7)),), 0.75, fenced=False)
        assert found.cell == pytest.approx(0.166)
        assert found.corner == pytest.approx((left - 1.5, 1.5))


# -- from the gate --------------------------------------------------------------


def test_a_straight_way_from_the_gate():
    """Gate in the left edge at y 1.5 to 2.5, bed from x = 5: 5 m less half a barrow.

    All four sides are free to walk along; behind it are 8 - 7.4 = 0.6 m: too narrow.
    """
    gate = Thing(name="gate", kind="gate", x=0, y=1.5, width=1.0)
    plot = rectangle(8, 4, things=(gate,))
    (route,) = walk(plot, (("A", spot(5, 1.5)),), 0.75).routes

    assert route.far == pytest.approx(5 - 0.375, abs=SQUARE)
    assert route.sides == (1, 0, 1, 1) and route.reached
    assert route.long_sides == (1, 1)
    assert np.isnan(route.hose)  # no tap


@pytest.mark.parametrize(
    ("gate", "at"),
    [((0, 1, 0, 1), (0, 1.5)), ((2, 0, 1, 0), (2.5, 0)), ((9, 5, 0, 1), (9, 5.5)),
     ((6, 7, 1, 0), (6.5, 7))],
)  # fmt: skip
def test_the_way_begins_at_the_gate_wherever_it_is(gate, at):
    """A bed of 20 by 20 cm in the middle at (4.5, 3.5), reached with 40 cm of width.

    From the gate, which lets the middle of a wheel in up to 0.6 m beside its posts.
    """
    x, y, length, width = gate
    plot = rectangle(9, 7, things=(block("g", x, y, length, width, "gate"),))
    (route,) = walk(plot, (("A", spot(4.4, 3.4, 0.2, 0.2)),), 0.4).routes
    upright = width > length
    along = abs((3.5 if upright else 4.5) - at[1 if upright else 0])
    square = abs((4.5 if upright else 3.5) - at[0 if upright else 1]) - 0.1 - 0.2
    beside = max(along - 0.5 - 0.6, 0)
    least = min(slanting(square, beside), slanting(square + 0.3, max(beside - 0.3, 0)))

    assert route.far == pytest.approx(least, abs=0.25)


@pytest.mark.parametrize(
    ("gate", "bed"),
    [((2, 0, 1, 0), (2.4, 6)), ((2, 7, 1, 0), (2.4, 0.8)),
     ((0, 3, 0, 1), (8, 3.4)), ((9, 3, 0, 1), (0.8, 3.4))],
)  # fmt: skip
def test_nobody_comes_in_opposite_the_gate(gate, bed):
    """The bed stands by the fence across from the gate: the whole plot to walk."""
    plot = rectangle(9, 7, things=(block("g", *gate, "gate"),))
    (route,) = walk(plot, (("A", spot(*bed, 0.2, 0.2)),), 0.4).routes
    whole = 6.0 if gate[3] == 0 else 8.0

    assert route.far == pytest.approx(whole - 0.2, abs=0.35)


def test_only_the_gate_lets_through_a_fence():
    """Behind a bed along the fence there is no way: its back is not reached."""
    gate = Thing(name="gate", kind="gate", x=0, y=1.5, width=1.0)
    plot = rectangle(8, 4, things=(gate,))
    beds = (("A", spot(2, 3.0)),)
    fenced, open_ = (walk(plot, beds, 0.75, fenced=f).routes[0] for f in (True, False))

    assert open_.sides == (1, 1, 1, 1)
    # half a barrow before the fence nobody stands beside its ends either: 625 of 1000
    assert fenced.sides == pytest.approx((1, 0.65, 0, 0.65), abs=0.06)
    assert (fenced.best_sides, open_.best_sides) == (1, 2)
    assert open_.far == pytest.approx(0, abs=0.5)  # round the plot is outside already


@pytest.mark.parametrize("gap", [0.6, 0.8, 1.0, 1.4])
@pytest.mark.parametrize("width", [0.45, 0.75, 0.915, 1.5])
def test_what_fits_between_two_walls(gap, width):
    """What is no wider than the gap passes; what is two squares wider does not."""
    gate = Thing(name="gate", kind="gate", x=0, y=2, width=1.6)
    walls = (block("upper", 3, 0, 1, 3 - gap / 2), block("lower", 3, 3 + gap / 2, 1, 3))
    plot = rectangle(9, 6, things=(gate, *walls))
    (route,) = walk(plot, (("A", spot(6, 2.5)),), width).routes

    if width <= gap:
        assert route.reached and np.isfinite(route.far)
    elif width >= gap + 2 * SQUARE:
        assert route.sides == (0, 0, 0, 0) and np.isnan(route.far)


@pytest.mark.parametrize(
    ("kind", "size", "stops"),
    [("tree", 3.0, False), ("tree", 0.0, True), ("house", 3.0, True),
     ("other", 3.0, True), ("cover", 3.0, False), ("pipe", 3.0, False)],
)  # fmt: skip
def test_what_stops_a_barrow(kind, size, stops):
    """A passage of 1.5 m, of which a stem takes 1 m; lids are walked on."""
    gate = Thing(name="gate", kind="gate", x=0, y=2, width=1.6)
    walls = (block("u", 3, 0, 1, 2.25), block("l", 3, 3.75, 1, 2.25))
    thing = block("it", 3.5 - size / 2, 3 - size / 2, size, size, kind)
    if kind == "tree" and size:  # beside the passage
        thing = block("it", 0.5, 3.5, size, size, kind)
    plot = rectangle(9, 6, things=(gate, *walls, thing))
    (route,) = walk(plot, (("A", spot(6, 2.5)),), 0.75).routes

    assert np.isnan(route.far) == stops


def test_a_neighbour_that_hides_half_of_a_side():
    """B stands 0.3 m below the right half of A: half of A's lower side is reached.

    B's upper side is not reached at all. B's own share to the left is whole.
    """
    plot = rectangle(8, 6)
    beds = (("A", spot(2, 2)), ("B", spot(3.2, 3.3)))
    one, other = walk(plot, beds, 0.75, fenced=False).routes

    assert one.sides[0] == one.sides[1] == one.sides[3] == 1
    assert one.sides[2] == pytest.approx(0.4, abs=0.11)  # a barrow's half stays away
    assert other.sides[0] == pytest.approx(0.5, abs=0.11)
    assert not one.reached and one.best_sides == 1


def test_long_sides_of_a_turned_bed():
    """Against the left edge: its long left side cannot be reached."""
    gate = Thing(name="gate", kind="gate", x=5, y=0, length=1.0)
    plot = rectangle(8, 6, things=(gate,))
    beds = (("A", spot(0, 2, 1.0, 2.4, turned=True)), ("B", spot(3, 2, 1.0, 2.4, True)))
    edge, clear = walk(plot, beds, 0.75).routes

    assert (edge.long, edge.long_sides) == ((1, 3), (1, 0))
    assert (edge.best_sides, clear.best_sides) == (1, 2)
    assert not all(route.reached for route in (edge, clear))
    alone = walk(plot, beds[1:], 0.75)
    assert all(route.reached for route in alone.routes)
    assert alone.width == 0.75


@pytest.mark.parametrize(
    ("room", "turns"), [(1.0, False), (1.1, False), (1.6, True), (2.5, True)]
)
@pytest.mark.parametrize("turned", [False, True])
def test_where_a_wheelchair_turns(room, turns, turned):
    """A circle of 1525 mm at one end of a bed with paths of 1.0 m; 1.1 m is no room.

    Left of the bed is a house, right of it so much room; the gate is half way along.
    """
    sizes, gate = (2 + 1 + 6 + room, 3.0), (5.5, 0, 1, 0)
    house, one = (0, 0, 2, 3.0), spot(3, 1, 6, 1.0)
    if turned:
        sizes, gate, house = sizes[::-1], (0, 5.5, 0, 1), (0, 0, 3.0, 2)
        one = spot(1, 3, 1.0, 6, turned=True)
    plot = rectangle(
        *sizes, things=(block("g", *gate, "gate"), block("h", *house, "house"))
    )
    (route,) = walk(plot, (("A", one),), 0.915).routes

    assert route.turns == turns


def test_room_to_turn_must_be_near_an_end():
    """All the room lies at the left, 5 m away from the bed's nearer end."""
    gate = Thing(name="gate", kind="gate", x=0, y=1, width=1.0)
    walls = (block("u", 3, 0, 9, 1.0), block("l", 3, 3.0, 9, 1.0))  # a lane 2 m wide
    plot = rectangle(12.0, 4, things=(gate, *walls))
    near, far = (
        walk(plot, (("A", spot(x, 2.0, 2.4, 1.0)),), 0.6).routes[0] for x in (4.4, 8.4)
    )

    assert near.turns
    narrow = (block("u", 3, 0, 9, 1.5), block("l", 3, 2.8, 9, 1.2))  # 1.3 m
    plot = rectangle(12.0, 4, things=(gate, *narrow))
    for x, turns in ((4.2, True), (8.4, False)):
        (route,) = walk(plot, (("A", spot(x, 2.3, 2.4, 0.5)),), 0.6).routes
        assert route.turns == turns
    assert far.turns


@pytest.mark.parametrize("turned", [False, True])
def test_hose_to_the_farthest_corner(turned):
    """Tap at (1, 1), bed at (4, 3): its far corner lies at (6.4, 4.0), 10 cm more out.

    It goes round the corner at (3.9, 4.1): 2.9 across and 3.1 down, then 2.6 m along
    the bed. Turned, round (3.9, 5.5): 2.9 across and 4.5 down, then 1.2 m.
    """
    one = spot(4, 3, 1.0, 2.4, True) if turned else spot(4, 3)
    plot = rectangle(10, 8, things=(Thing(name="tap", kind="tap", x=1, y=1),))
    (route,) = walk(plot, (("A", one),), 0.75, fenced=False).routes
    far = slanting(2.9, 4.5) + 1.2 if turned else slanting(2.9, 3.1) + 2.6

    assert route.hose == pytest.approx(far, abs=2 * SQUARE)
