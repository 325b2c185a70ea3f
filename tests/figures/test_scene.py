"""The picture of the bed: what must hold for every bed, view and size."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from plotly.graph_objects import Figure

import bedcalc as bc
from bedcalc import Q_
from bedcalc.assembly import assembly
from bedcalc.figures import theme
from bedcalc.figures.drawing import as_data
from bedcalc.figures.scene import VIEWS, picture, scene, turning
from bedcalc.figures.scene.labels import text_size
from bedcalc.figures.scene.plan import plan_of
from bedcalc.figures.scene.solids import STRIPES
from bedcalc.figures.scene.svg import Sign, Words

GARDEN = bc.demo_garden()
PLACE = GARDEN.place
LEVEL = PLACE.change(survey=bc.Survey(readings=((0, 0, 1.0), (4, 0, 1.0), (0, 4, 1.0))))
LAYERED = bc.strategy_layers("logs_chips_compost")


def outcome(name: str, place=PLACE, **changes):
    return bc.evaluate(GARDEN[name].change(**changes), place)


def boxes(drawing) -> list[tuple]:
    """Left, top, right, bottom of every text."""
    found = []
    for note in drawing.notes:
        if isinstance(note, Words):
            wide, high = text_size(note.text, note.size)
            top = note.y - high / (2 * (1 + note.text.count("<br>")))
            found.append((note.x, top, note.x + wide, top + high, note.text))
    return found


def assert_words_are_clear(drawing) -> None:
    found = boxes(drawing)
    for i, a in enumerate(found):
        assert a[0] >= -1 and a[1] >= -1, a
        assert a[2] <= drawing.width + 1 and a[3] <= drawing.height + 1, a
        for b in found[:i]:
            apart = a[0] >= b[2] or b[0] >= a[2] or a[1] >= b[3] or b[1] >= a[3]
            assert apart, (a, b)


def striped(drawing) -> np.ndarray:
    """Corners, in px, of everything that is striped."""
    rings = [r for s in drawing.shapes if s.fill == STRIPES for r in s.rings]
    return np.vstack(rings) if rings else np.empty((0, 2))


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("name", "ABCDEF")
def test_it_is_a_well_formed_picture_of_finite_shapes(name, view):
    drawing = scene(outcome(name), view=view)
    root = ElementTree.fromstring(drawing.svg())

    assert root.get("role") == "img" and root.get("aria-label") == drawing.alt
    assert root.get("viewBox") == "0 0 900 430"
    assert all(np.isfinite(ring).all() for s in drawing.shapes for ring in s.rings)
    colours = {s.fill for s in drawing.shapes} | {s.ink for s in drawing.shapes}
    assert all(re.fullmatch("#[0-9a-fA-F]{6}", c) for c in colours - {"", STRIPES})


@pytest.mark.parametrize("name", "ABCDEF")
def test_a_swap_of_the_picture_stays_light(name):
    # the bound is the picture's own budget for one move, not a published figure
    assert len(scene(outcome(name, fill=LAYERED)).svg()) <= 130_000


@pytest.mark.parametrize("width, height", [(900, 430), (600, 400), (1100, 500)])
@pytest.mark.parametrize("name", "ABCDEF")
def test_words_neither_meet_nor_stand_out(name, width, height):
    for view in VIEWS:
        drawing = scene(
            outcome(name, fill=LAYERED), width_px=width, height_px=height, view=view
        )
        assert_words_are_clear(drawing)


@pytest.mark.parametrize("name", "ABCDEF")
def test_a_narrow_picture_says_the_bow_and_two_shares(name):
    drawing = scene(outcome(name), width_px=350, height_px=230, narrow=True)
    assert_words_are_clear(drawing)
    assert len(drawing.said) == 3 - (name == "E")  # blocks do not bow


@settings(max_examples=30)
@given(
    wall=st.sampled_from(
        ["boards", "sheet", "planks", "blocks", "sleepers", "boards_us", "sheet_us"]
    ),
    length=st.floats(0.6, 8),
    width=st.floats(0.45, 1.6),
    height=st.floats(0.2, 1.2),
    ties=st.integers(0, 3),
    level=st.booleans(),
)
def test_any_bed_can_be_drawn(wall, length, width, height, ties, level):
    bed = GARDEN["A"].change(
        wall=bc.Wall.named(wall),
        length=Q_(length, "m"),
        width=Q_(width, "m"),
        height=Q_(height, "m"),
        ties=ties,
        fill=bc.strategy_layers("half_logs") if height > 0.4 else GARDEN["A"].fill,
    )
    drawing = scene(bc.evaluate(bed, LEVEL if level else PLACE))
    assert_words_are_clear(drawing)
    ElementTree.fromstring(drawing.svg())
    seen = np.vstack([r for s in drawing.shapes for r in s.rings])
    assert seen.min() > -2
    assert seen[:, 0].max() < drawing.width + 2
    assert seen[:, 1].max() < drawing.height + 2


@pytest.mark.parametrize("exaggerate", [1.0, 5.0])
def test_the_drawn_bow_is_the_outcome_times_the_factor(exaggerate):
    found = outcome("B", fill=LAYERED)
    walls, out = found.walls.si, found.bed.wall.si.cap_out
    made = picture.Picture(found, "metric", exaggerate, "front", False, True)
    top = found.bed.si.height + found.bed.wall.si.cap_thick
    x = np.linspace(0.1, 2.6, 9)
    edge = made.bent(np.column_stack([x, 0 * x - out, 0 * x + top]))
    # the outer edge of the cap stands cap_out in front of the wall, then bows out
    expected = -out - exaggerate * np.interp(x, walls.x, walls.bow_x_years)
    assert np.allclose(edge[:, 1], expected, atol=1e-9)
    caption = scene(found, exaggerate=exaggerate).caption
    assert ("drawn true" if exaggerate == 1 else "5\N{NO-BREAK SPACE}×") in caption


def test_a_bow_too_large_for_the_picture_is_cut_short_and_says_so():
    found = outcome("C", length=Q_(4, "m"))
    bow = float(found.walls.si.bow_years)
    assert bow > 0.4  # the plastic planks of bed C, longer and still without a tie
    made = picture.Picture(found, "metric", 5.0, "front", False, True)
    assert made.apex[1] < 0.45
    drawing = scene(found)
    assert "bows badly" in " ".join(drawing.said)
    assert "as far as the picture has room" in drawing.caption
    assert "smaller" not in drawing.caption + drawing.alt + " ".join(drawing.said)


def test_blocks_stay_straight_and_draw_no_bow():
    drawing = scene(outcome("E"))
    assert "bow" not in " ".join(drawing.said)
    assert "dashed line" not in drawing.caption


def test_every_tie_is_drawn_with_a_plate_and_a_nut():
    # bed B's posts do not follow its ties, so only the ties change these shapes
    def plates(ties: int, base: int) -> int:
        drawn = scene(outcome("B", ties=ties, base_ties=base)).shapes
        return sum(len(s.rings) for s in drawn if s.fill == "#E3EAEE")

    assert [plates(0, 0), plates(2, 0), plates(2, 1)] == [0, 2, 3]


def test_a_buried_tie_is_dashed_and_an_open_one_is_steel():
    def rods(**change) -> tuple[int, int]:
        drawn = scene(outcome("B", ties=2, **change)).shapes
        dashes = sum(bool(s.dash) and s.ink == "#ffffff" for s in drawn)
        return dashes, sum(s.ink == "#B9C6CF" for s in drawn)

    assert rods() == (1, 0)  # one tie in the opened bay, and the cut is flush
    assert rods(fill=LAYERED) == (1, 1)  # cut in steps: air first, then fill
    assert rods(freeboard=Q_(120, "mm")) == (0, 1)


def test_the_same_outcome_gives_the_same_picture():
    first = scene(outcome("B", fill=LAYERED)).svg()
    picture.solids_of.cache_clear()
    assert scene(outcome("B", fill=LAYERED)).svg() == first


def test_level_ground_has_no_arrow_and_sloping_ground_says_its_fall():
    assert not any("falls" in said for said in scene(outcome("B", LEVEL)).said)
    assert "falls <b>8" in " ".join(scene(outcome("B")).said)


def test_a_held_camera_rests_while_the_bed_shrinks_and_gives_way_when_it_grows():
    first = scene(outcome("B"))
    shorter = scene(outcome("B", length=Q_(2.2, "m")), frame=first.frame)
    assert shorter.frame == first.frame
    longer = scene(outcome("B", length=Q_(4, "m")), frame=first.frame)
    assert longer.frame.scale < first.frame.scale
    # once it gave way it left room: the next step rests again
    still = scene(outcome("B", length=Q_(4.1, "m")), frame=longer.frame)
    assert still.frame == longer.frame


def test_another_view_takes_its_own_camera():
    first = scene(outcome("A"))
    assert scene(outcome("A"), view="above", frame=first.frame).frame.view == "above"


def test_an_unknown_view_is_refused_with_the_known_ones():
    with pytest.raises(ValueError, match="front, end, above.*given 'back'"):
        scene(outcome("A"), view="back")


def test_words_for_those_who_cannot_see_it():
    found = outcome("B", fill=LAYERED)
    drawing = scene(found)
    for part in ("bed B", "2.70\N{NO-BREAK SPACE}m", "corrugated", "bow out", "falls"):
        assert part in drawing.alt
    assert "cut in steps" in drawing.caption
    assert "cut flush" in scene(outcome("A")).caption
    rows = dict(drawing.numbers.rows)
    assert rows["Length outside"] == "2.70\N{NO-BREAK SPACE}m"
    assert rows["Dug in, near right"] == "5\N{NO-BREAK SPACE}cm"
    assert rows["Dug in, far left"] == "17\N{NO-BREAK SPACE}cm"


def test_the_readers_units():
    drawing = scene(outcome("B"), system="us")
    # computed by hand: 2.70 m / 0.3048 = 8.858 ft; 0.72 m = 2.362 ft
    assert "8.86\N{NO-BREAK SPACE}ft" in drawing.alt
    assert "2.36\N{NO-BREAK SPACE}ft" in drawing.alt
    said = " ".join(drawing.said)
    assert "\N{NO-BREAK SPACE}in" in said and "mm" not in said and "cm" not in said


def test_layer_names_stand_in_stack_order_top_first():
    drawing = scene(outcome("B", fill=LAYERED))
    words = [note for note in drawing.notes if isinstance(note, Words)]
    column = [n.text for n in sorted(words, key=lambda n: n.y) if "cm" in n.text]
    wanted = ["rich top layer", "compost", "wood chips", "logs"]
    assert [t.split(" <b>")[0] for t in column] == wanted


def test_the_plan_reads_and_does_not_reckon():
    plan = plan_of(outcome("D"))
    assert plan.floor == pytest.approx(0.80 - 0.28)  # rim less soil, demo bed D
    assert plan.family == "trough"


@pytest.mark.parametrize("name", list("ABCDEF"))
def test_the_picture_stands_where_the_assembly_puts_things(name):
    """Posts, courses, ties and pins of the picture are those of the cut list."""
    bed = GARDEN[name].change(ties=2, base_ties=1)
    made, plan = assembly(bed), plan_of(bc.evaluate(bed, PLACE))

    posts = {round((m.box[0] + m.box[1]) / 2, 6) for m in made.of("post")}
    assert {round(x, 6) for x in plan.axes} == posts
    assert all(m.box[2] == plan.behind for m in made.of("post") if m.wall == "front")
    assert {(m.box[4], m.box[5]) for m in made.of("side")} <= set(plan.rows)
    assert plan.pins == tuple((p.x, p.y) for p in made.pins)


@pytest.mark.parametrize(
    ("name", "change", "part"),
    [
        ("A", {}, "foot"), ("B", {}, "foot"), ("E", {}, "tips over"),
        ("B", {"base_ties": 2, "ties": 0}, "cap"), ("F", {}, ""),
    ],
)  # fmt: skip
def test_the_part_that_gives_way_is_striped_and_carries_its_share(name, change, part):
    """Look: stripes survive grey; the label carries sign, part and percent."""
    found = outcome(name, **change)
    drawing = scene(found)
    fails = [n for n in drawing.notes if isinstance(n, Sign) and n.verdict == "fails"]

    assert bool(part) == (len(striped(drawing)) > 0) == bool(fails)
    assert (f"✕ {part}" in drawing.alt) == bool(part)
    if part:
        assert any(f"{part} <b>" in said and "%" in said for said in drawing.said)
        assert theme.FAILS in drawing.svg()
    if part == "cap":  # and only there: the foot is tied
        middle = drawing.frame.pixels([(1.35, 0, 0.36)])[0, 1]
        assert striped(drawing)[:, 1].min() < middle
        left = striped(drawing)[:, 0] < 300
        assert striped(drawing)[left][:, 1].max() < middle


def test_a_bow_alone_is_never_striped():
    found = outcome("F", length=Q_(6, "m"), base_ties=3)

    assert not found.check("bow").ok
    assert len(striped(scene(found))) == 0


def test_the_top_course_of_loose_blocks_tips_where_the_wall_does_not_hold():
    """At rest its foot is level with the course below; tipped, its inner edge lifts."""
    plan, low = plan_of(outcome("E")), 0.40
    assert plan.tips == 3  # three courses of 20 cm, demo bed E
    inner = plan.tipped(np.array([[0.6, plan.wall, low]]), 0.6)[0]
    outer = plan.tipped(np.array([[0.6, 0.0, low]]), 0.6)[0]
    assert inner[2] > low + 0.02 and outer == pytest.approx([0.6, 0, low])
    assert plan_of(outcome("E", height=Q_(20, "cm"))).tips == 0


@pytest.mark.parametrize("name", "ABCDEF")
def test_whoever_works_there_fits_the_bed(name):
    """The trowel reaches the fill; feet stand on the ground; nobody is in the wall."""
    made = picture.Picture(outcome(name), "metric", 5.0, "front", False, True)
    figure, plan = made.figure, made.plan
    points = np.vstack([r for _, rings in figure.body for r in rings])
    ground = float(plan.soil(-0.3, 0.5 * plan.width))
    assert abs(points[:, 1].min()) < 0.03
    trowel = np.vstack([r for _, rings in figure.arm for r in rings])
    assert abs(trowel[:, 1].min() - (made.fill_top - ground)) < 0.05
    assert trowel[:, 0].max() > plan.wall
    stature = float(made.outcome.bed.person.stature)
    assert 0.4 * stature < figure.tall <= 1.02 * stature


@pytest.mark.parametrize("name", "ABCDEF")
def test_the_view_that_turns_shows_the_same_bed_from_all_sides(name):
    drawing = turning(outcome(name, fill=LAYERED))
    figure = Figure(as_data(drawing))  # Plotly knows every field
    mesh, edges = drawing.traces
    assert figure.layout.scene.dragmode == "turntable"
    count = len(mesh["x"])
    for corner in "ijk":
        assert mesh[corner].min() >= 0 and mesh[corner].max() < count
    assert len(mesh["facecolor"]) == len(mesh["i"])
    assert np.isfinite([mesh[a] for a in "xyz"]).all()
    # the back of the wall is there too, which the picture never shows
    plan = plan_of(outcome(name))
    back = np.isclose(mesh["y"], plan.width, atol=0.08) & (
        mesh["z"] < 0.5 * plan.height
    )
    assert back.sum() > 4
    assert drawing.alt == scene(outcome(name, fill=LAYERED)).alt
