"""The close-up stripes the piece that the check names, and says its share."""

from __future__ import annotations

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.assembly import pieces_of
from bedcalc.figures.failing import _stripes, failing_figure, gives_way
from bedcalc.figures.shapes import rectangle
from bedcalc.tables import table

DEMO = bc.demo_garden()
FAILING, STRIPES, WAS, SLIP, THREAD = 4, 5, 8, 9, 7


def outcome(name, **change):
    return bc.evaluate(DEMO[name].change(**change), DEMO.place)


CASES = {
    "tips": ("E", {}),
    "slides": ("E", {"wall": bc.Wall.named("blocks_wide"), "height": Q_(609, "mm")}),
    "rail": ("B", {"length": Q_(3.2, "m"), "base_ties": 3}),
    "foot": ("A", {"length": Q_(4.8, "m"), "ties": 1}),
    "screws": ("A", {"length": Q_(2.4, "m"), "ties": 1, "base_ties": 4,
                     "post_spacing": Q_(2, "m"), "height": Q_(84, "cm")}),
    "sheet": ("B", {"height": Q_(1.1, "m"), "ties": 2, "base_ties": 2}),
    "holds": ("F", {}),
}  # fmt: skip  # rows of a table


@pytest.fixture(params=CASES)
def case(request):
    name, change = CASES[request.param]
    return request.param, outcome(name, **change)


def test_the_share_stands_over_the_picture(case):
    kind, o = case
    check, drawing = gives_way(o), failing_figure(o)
    title = drawing.annotations[0]["text"]

    if kind == "holds":
        assert check is None and "Every part of the wall holds" in title
        assert not len(drawing.traces[STRIPES]["x"])
        return
    assert check.used() in title and "✕" in title
    assert len(drawing.traces[STRIPES]["x"])
    assert check.sentence() in drawing.alt


def test_every_case_is_what_it_is_called(case):
    kind, o = case
    named = {"tips": "tipping", "slides": "sliding", "holds": None}
    check = gives_way(o)

    assert (check.name if check else None) == named.get(kind, kind)


def test_one_drawing_follows_another_in_place(case):
    first = failing_figure(outcome("B")).traces
    other = failing_figure(case[1]).traces

    assert [t["type"] for t in first] == [t["type"] for t in other]


def test_stripes_lie_on_the_lowest_board():
    o = outcome(*CASES["foot"][:1], **CASES["foot"][1])
    x, z = (failing_figure(o).traces[STRIPES][axis] for axis in "xy")
    (box,) = {m.box[2:] for m in pieces_of(o.bed, "board 1").members
              if m.wall == "front"}  # fmt: skip  # one set

    assert np.nanmin(x) >= box[0] - 1e-9 and np.nanmax(x) <= box[1] + 1e-9
    assert np.nanmin(z) >= box[2] - 1e-9 and np.nanmax(z) <= box[3] + 1e-9


def test_stripes_fill_a_square_evenly():
    """45 degrees, ten to a side: each begins and ends on an edge."""
    x, y = _stripes([rectangle(0.0, 1.0, 0.0, 1.0)], 0.1)
    ends = np.column_stack([x, y])[np.isfinite(x)]

    assert len(ends) // 2 in (19, 20, 21)
    assert np.all(np.isclose(ends, 0) | np.isclose(ends, 1), axis=1).sum() <= 4
    assert np.all(np.any(np.isclose(ends, 0) | np.isclose(ends, 1), axis=1))
    assert np.ptp(np.diff(ends.reshape(-1, 2, 2), axis=1).reshape(-1, 2), axis=1) == (
        pytest.approx(0, abs=1e-9)
    )


def test_blocks_tip_and_slide_from_where_they_stood():
    tips, slides = (failing_figure(outcome(n, **c)) for n, c in
                    (CASES["tips"], CASES["slides"]))  # fmt: skip  # a pair
    for drawing in (tips, slides):
        assert len(drawing.traces[WAS]["x"]) and len(drawing.traces[SLIP]["x"])
    leaning = np.asarray(tips.traces[FAILING]["x"])
    assert np.nanmin(leaning) < -0.05 and np.nanmin(tips.traces[FAILING]["y"]) >= 0
    moved = np.asarray(slides.traces[FAILING]["x"])
    stood = np.asarray(slides.traces[WAS]["x"])
    assert np.nanmin(stood) - np.nanmin(moved) == pytest.approx(0.06)
    assert np.nanmax(stood) - np.nanmax(moved) == pytest.approx(0.06)


def test_the_earth_breaks_at_the_angle_of_rankine():
    """45 degrees and half the angle of friction, from the heel of the wall."""
    o = outcome("E")
    x, z = (failing_figure(o).traces[SLIP][axis] for axis in "xy")
    angle = np.degrees(np.arctan2(z[1] - z[0], x[1] - x[0]))
    friction = np.degrees(o.bed.fill[0].row.friction)

    assert angle == pytest.approx(45 + friction / 2)
    assert x[0] == pytest.approx(o.bed.si.wall_thickness)


def test_screws_come_out_as_long_as_they_are():
    """Bed A: screws of 70 mm; the thread goes through the board, which has moved."""
    name, change = CASES["screws"]
    x, y = (failing_figure(outcome(name, **change)).traces[THREAD][a] for a in "xy")

    assert y[1] - y[0] == pytest.approx(0.070) and x[0] == x[1]


def test_the_rail_bows_where_the_sums_say():
    """Drawn larger, but most in the middle and not at all at the corners."""
    name, change = CASES["rail"]
    o = outcome(name, **change)
    x, y = (np.asarray(failing_figure(o).traces[FAILING][a]) for a in "xy")
    lowest = x[np.nanargmin(y)]

    assert lowest == pytest.approx(o.bed.si.length / 2, abs=0.04)
    assert y[0] == 0


@pytest.mark.parametrize("key", [row.key for row in table("walls")])
@pytest.mark.parametrize("width", [340, 620])
def test_every_build_is_drawn_narrow_and_wide(key, width):
    wall = bc.Wall.named(key)
    o = outcome("B", wall=wall, height=Q_(1.0, "m"), length=Q_(4.5, "m"))
    drawing = failing_figure(o, width=width, narrow=width < 400, system="us")

    assert 120 < drawing.live_layout["height"] < 460
    assert all(
        np.isfinite(drawing.live_layout[a]["range"]).all() for a in ("xaxis", "yaxis")
    )
    assert drawing.caption and drawing.alt
