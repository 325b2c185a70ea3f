"""Ground that falls any way, ground nobody measured, and how the beds are let in."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import bedcalc as bc
from bedcalc import Q_
from bedcalc.figures.scene.marks import arrow
from bedcalc.figures.scene.plan import plan_of
from bedcalc.figures.scene.words import alt as scene_words
from bedcalc.figures.site_plan import VIEWS, plan_figure
from bedcalc.figures.site_section import section_figure
from bedcalc.model.place import RULES, PlaceError
from bedcalc.model.plan_words import CORNERS, corner_names, fall_words
from bedcalc.printing.setting_out import setting_out_sheet
from bedcalc.questions.shopping import shopping
from bedcalc.questions.site_plan import (
    overflow_of,
    plan_site,
    rain_on,
    sun_asks,
    sun_on,
)
from bedcalc.tables import table
from tests.site.own_plots import BEDS, WAYS, bed, falling, place, survey

SLOPE = st.floats(-0.12, 0.12)


@pytest.mark.parametrize("way", sorted(WAYS))
def test_the_fall_is_named_by_its_place_on_the_plan(way):
    plan = plan_site(BEDS, place(survey=falling(way)))

    assert plan.way.startswith(f"to the {way} of the plan")
    assert f"to the {way} of the plan" in plan.check("slope").sentence()
    arrow_ = next(
        a for a in plan_figure(plan).annotations if a["text"] == "<b>down</b>"
    )
    # from tail to head, in pixels: the way down
    head = np.array([-arrow_["ax"], -arrow_["ay"]])
    assert head / np.hypot(*head) == pytest.approx(
        np.array(WAYS[way]) / np.hypot(*WAYS[way]), abs=1e-6
    )


@pytest.mark.parametrize(
    ("downhill", "slope", "says"),
    [
        (180, (0, -0.1), "bottom of the plan, south"),
        (180, (-0.1, 0), "right of the plan, east"),
        (0, (0, -0.1), "bottom of the plan, north"),
        (0, (-0.1, 0), "right of the plan, west"),
        (90, (0.1, 0.0), "left of the plan, south"),
        (270, (0.1, 0.1), "top left of the plan, north-east"),
    ],
)
def test_the_compass_goes_with_the_plan(downhill, slope, says):
    """By hand: +x lies a quarter turn against the clock from +y, seen from above."""
    assert fall_words(*slope, downhill).endswith(says)


@given(SLOPE, SLOPE, st.sampled_from(RULES), st.booleans())
def test_the_highest_corner_is_the_one_that_is_called_so(b, c, rule, turned):
    here = place(survey=survey(b, c), levelling=bc.Levelling(rule=rule))
    site = bc.evaluate(bed("Beans", 2, 3, turned=turned), here).site.si
    long_, wide = (1.0, 2.4) if turned else (2.4, 1.0)
    rises = np.array([0, b * long_, b * long_ + c * wide, c * wide])
    named = corner_names(site.corner_depths)

    assert np.ptp(site.corner_depths) == pytest.approx(np.ptp(rises), abs=1e-9)
    for name, rise in zip(named, rises, strict=True):
        if "highest" in name:
            assert rise == pytest.approx(rises.max(), abs=6e-4)
        if "lowest" in name:
            assert rise == pytest.approx(rises.min(), abs=6e-4)
    if np.ptp(rises) > 2e-3:
        assert any("highest" in n for n in named) and any("lowest" in n for n in named)


def test_a_quarter_turn_of_the_ground_turns_the_trench():
    """A square bed: depths move on by one corner for each quarter turn."""
    square = bed("S", 2, 3, length=Q_(1.2, "m"), width=Q_(1.2, "m"))
    first = bc.evaluate(square, place(survey=survey(-0.02, -0.07))).site.si
    for turns, slope in ((1, (0.07, -0.02)), (2, (0.02, 0.07)), (3, (-0.07, 0.02))):
        depths = bc.evaluate(square, place(survey=survey(*slope))).site.si.corner_depths
        assert depths == pytest.approx(np.roll(first.corner_depths, turns), abs=1e-9)


@pytest.mark.parametrize("way", sorted(WAYS))
def test_the_swale_lies_uphill_and_its_overflow_runs_down(way):
    here = place(survey=falling(way))
    plan = plan_site(BEDS, here)
    storm = rain_on(here, Q_(20, "mm"), Q_(20, "m^2"), swale_length=Q_(3, "m"))
    found = overflow_of(plan, storm)
    a, b, c = plan.plane
    left, right, top, low = found.swale

    def level(x, y):
        return a + b * x + c * y

    middle = np.array([(left + right) / 2, (top + low) / 2])
    steep = 0 if abs(b) > abs(c) else 1  # the axis that falls more
    for one in plan.beds:
        below = one.corners.mean(axis=0)[steep] - middle[steep]
        assert below * WAYS[way][steep] > 0
    assert here.plot.contains(left, right, top, low)
    heights = [level(*p) for p in found.way]
    assert (np.diff(heights) < 0).all()
    for name, check in ((c.name, c) for c in found.checks):
        assert check.sentence() and name in ("swale_room", "overflow")


@pytest.mark.parametrize("way", sorted(WAYS))
def test_scene_and_section_know_which_side_is_down(way):
    here = place(survey=falling(way))
    for one in BEDS[:2]:  # one along the page, one turned
        outcome = bc.evaluate(one, here)
        scene = plan_of(outcome)
        tip, tail = arrow(scene, 0.5, -0.2, 0.4)[[1, 0]]
        assert tip[2] < tail[2]  # the head of the arrow lies lower
        corners = [(0, 1.0), (2.4, 1.0), (2.4, 0), (0, 0)]  # far left and round
        soil = [float(scene.soil(*p)) for p in corners]
        assert soil == pytest.approx(outcome.site.own_depths)
        plan = plan_site(BEDS, here)
        for across in (True, False):
            drawing = section_figure(plan, one.name, across=across)
            ends = {a["text"]: a["x"] for a in drawing.annotations}
            line = drawing.traces[1]  # the ground, left to right
            if abs(line["y"][1] - line["y"][0]) > 0.02:
                up = next(t for t in ends if t.endswith("uphill"))
                assert (ends[up] > 0) == (line["y"][1] > line["y"][0])


def test_a_turned_bed_is_the_same_bed_the_other_way_round():
    """Its walls are the long and the short ones as before; only the plot changes."""
    straight, turned = bed("A", 2, 3), bed("A", 2, 3, turned=True)
    here = place(survey=falling("bottom"), prices="demo")
    one, other = (bc.evaluate(b, here) for b in (straight, turned))

    assert other.walls.si.bow_years == one.walls.si.bow_years
    assert other.cost.si.total == one.cost.si.total
    assert (turned.si.plan_length, turned.si.plan_width) == (1.0, 2.4)
    placed = plan_site((turned,), here)["A"]
    assert (placed.si.length, placed.si.width) == (1.0, 2.4)
    # 6 % over 2.4 m instead of 1.0 m
    assert other.site.si.fall == pytest.approx(0.144)
    assert one.site.si.fall == pytest.approx(0.060)


def test_a_long_side_down_the_slope_is_said_and_turned():
    down = (bed("Beans", 3, 1.5), bed("Peas", 0.8, 4, turned=True))
    here = place(survey=falling("bottom"))
    check = plan_site(down, here).check("contour")

    assert check.verdict == "watch" and "bed Peas runs down the slope" in check.says
    assert check.fix.change == {"bed": "Peas", "turned": False}
    assert plan_site(down[:1], here).check("contour").verdict == "holds"
    gentle = plan_site(down, place(survey=falling("bottom", 0.01)))
    assert gentle.check("contour") is None  # on gentle ground it does not matter


# ---- how they are let in


@given(SLOPE, SLOPE, st.sampled_from(RULES), st.floats(0, 0.12), st.floats(0.12, 0.3))
def test_one_answer_for_bed_and_plot(b, c, rule, gravel, limit):
    ground = bc.Levelling(rule=rule, gravel=Q_(gravel, "m"), limit=Q_(limit, "m"))
    here = place(survey=survey(b, c), levelling=ground)
    plan = plan_site(BEDS, here)
    for one in BEDS:
        site, placed = bc.evaluate(one, here).site.si, plan[one.name].si
        for name in ("dig", "staff", "floor", "cut", "underside", "block"):
            assert np.array_equal(getattr(site, name), getattr(placed, name)), name
        assert site.floor == pytest.approx(site.staff + gravel)
        assert site.dig == pytest.approx(np.maximum(site.corner_depths + gravel, 0))
        # the stick reads the floor where the ground is the trench's depth above it
        assert site.ground - site.dig == pytest.approx(
            np.minimum(-site.floor, site.ground)
        )
        if rule == "limited":
            assert site.dig.max() <= limit + 1e-9
        if rule == "all_cut":
            assert site.corner_depths.min() == pytest.approx(0.05)


@pytest.mark.parametrize("rule", RULES)
def test_a_sweep_of_lengths_is_each_length_by_itself(rule):
    ground = bc.Levelling(rule=rule, limit=Q_(100, "mm"), gravel=Q_(30, "mm"))
    here = place(survey=survey(0.04, -0.07), levelling=ground)
    lengths = np.array([1.2, 2.0, 3.5])
    many = bc.evaluate(bed("A", 2, 3, length=Q_(lengths, "m")), here).site.si
    for i, length in enumerate(lengths):
        one = bc.evaluate(bed("A", 2, 3, length=Q_(length, "m")), here).site.si
        for name in ("cut", "fill", "dig", "staff", "block"):
            found = np.asarray(getattr(many, name))[..., i]
            assert found == pytest.approx(np.asarray(getattr(one, name)), abs=1e-12)


def test_room_for_gravel_is_dug_and_the_gravel_is_bought():
    """By hand: 2.4 x 1.0 m x 50 mm; strip of 2 x 3.4 x 0.2 x 0.05 / 0.9 m3 loose."""
    bare = place(survey=falling("bottom"), prices="demo")
    ground = bare.change(levelling=bc.Levelling(gravel=Q_(50, "mm")))
    one, other = (bc.evaluate(BEDS[0], p) for p in (bare, ground))

    assert other.site.si.cut - one.site.si.cut == pytest.approx(0.12)
    line = next(x for x in other.cost.lines if x.goods == "gravel")
    assert line.needed == pytest.approx(0.0756, abs=0.00005)
    assert not [x for x in one.cost.lines if x.goods == "gravel"]
    twice = shopping([BEDS[0].change(count=2)], ground)
    line = next(x for x in twice.lines if x.goods == "gravel")
    assert line.needed == pytest.approx(0.1511, abs=0.00005)


@pytest.mark.parametrize(
    ("entry", "says"),
    [
        ({"rule": "guess"}, "levelling, rule: needs one of all_cut, limited, balanced"),
        ({"limit": Q_(2, "m")}, "levelling, limit: needs 20 to 600 mm"),
        ({"gravel": Q_(-5, "mm")}, "levelling, gravel: needs 0 to 300 mm"),
        ({"gravel": 0.05}, "levelling, gravel"),
        (
            {"rule": "limited", "gravel": Q_(200, "mm")},
            "at least the depth of the grav",
        ),
    ],
)
def test_a_wrong_levelling_teaches(entry, says):
    with pytest.raises(PlaceError, match=says):
        bc.Levelling(**entry)


# ---- what is not known


def test_ground_that_nobody_measured_is_level_and_says_so():
    here = place()
    outcome, plan = bc.evaluate(BEDS[0], here), plan_site(BEDS, here)

    assert not outcome.site.measured and outcome.site.staff is None
    assert outcome.site.si.corner_depths == pytest.approx(np.full(4, 0.05))
    check = plan.check("slope")
    assert check.verdict == "watch"
    assert "Not measured: taken as level. Read how far" in check.sentence()
    for name in ("trench", "contour", "slide", "cross", "readings"):
        assert plan.check(name) is None
    assert "not measured" in scene_words(outcome, (1.0, 1.0), "metric")
    for view in VIEWS:
        drawing = plan_figure(plan, view=view)
        if view in ("depths", "readings", "water"):
            assert "Not measured: taken as level" in drawing.annotations[0]["text"]
            assert " mm" not in drawing.alt and "m³" not in drawing.alt
    numbers = plan_figure(plan).numbers
    assert all(row[1:5] == ("not measured",) * 4 for row in numbers.rows)
    words = " ".join(a["text"] for a in section_figure(plan, "Beans").annotations)
    assert "dig" not in words.replace("how deep to dig", "")


def test_the_setting_out_sheet_leaves_the_depths_open():
    page = setting_out_sheet(plan_site(BEDS, place()), "Cutcorner")
    rows = page[page.index("<tbody>") : page.index("</tbody>")]

    assert "Not measured: taken as level. The depths stay open." in page
    assert rows.count("________") == 7 * len(BEDS)
    assert "Dig to the largest of the four (the lowest corner) plus 5" in page


def test_three_readings_say_that_they_check_nothing():
    here = place(survey=survey(0.02, -0.05, count=3))
    plan = plan_site(BEDS, here)

    assert plan.check("readings").verdict == "watch"
    assert "they check nothing" in plan.check("readings").sentence()
    assert "three check nothing" in setting_out_sheet(plan, "Cutcorner")
    four = plan_site(BEDS, place(survey=survey(0.02, -0.05, count=4)))
    assert four.check("readings").verdict == "holds"


def test_flat_ground_that_was_measured_is_level_and_not_unknown():
    plan = plan_site(BEDS, place(survey=survey(0.0, 0.0)))

    assert plan.measured and plan.check("slope").verdict == "holds"
    assert plan["Beans"].si.dig == pytest.approx(np.full(4, 0.05))
    assert corner_names(plan["Beans"].si.depths) == CORNERS
    assert "is level" in plan_figure(plan).annotations[0]["text"]
    page = setting_out_sheet(plan, "Cutcorner")
    assert "the ground is level" in page and "downhill" not in page


def test_an_unknown_soil_is_the_weakest_row_and_verdicts_say_so():
    soils = table("soils")
    for name in ("kp", "bearing", "friction"):
        assert getattr(soils["clay"], name) == min(getattr(r, name) for r in soils)
    sheet = bc.demo_garden()["B"]
    for soil, said in ((None, True), ("clay", False)):
        checks = bc.evaluate(sheet, place(soil=soil)).checks
        words = {c.name: c.sentence() + c.note for c in checks}
        for name in ("bearing", "foot"):
            assert ("Soil not known: taken as clay." in words[name]) == said
    ours = [bc.evaluate(sheet, place(soil=s)).check("foot") for s in (None, "clay")]
    assert ours[0].capacity == ours[1].capacity


def test_the_sun_asks_for_what_it_needs():
    assert "Latitude not given" in sun_asks(place())
    with pytest.raises(PlaceError, match="Latitude not given"):
        sun_on(place(), BEDS, "21 June")
    tree = bc.Thing(name="pear", kind="tree", x=5, y=2, length=2, width=2, height=4)
    here = place(latitude=Q_(-34, "deg"), plot=None)
    assert not sun_asks(here)  # nothing throws shade: any bearing gives the same
    here = here.change(plot=bc.Plot(outline=((0, 0), (9, 0), (9, 8)), things=(tree,)))
    assert "Bearing of the plot not given" in sun_asks(here)


@pytest.mark.parametrize(
    ("field", "value"), [("survey", ((0, 0, 1),)), ("plot", "L"), ("levelling", None)]
)
def test_what_is_of_another_kind_is_refused(field, value):
    with pytest.raises(PlaceError, match=f"place, {field}: needs a"):
        bc.Place(name="x", **{field: value})


@pytest.mark.parametrize("known", ["nothing", "slope", "plot"])
def test_every_view_of_06_works_with_what_is_known(known, tmp_path):
    from bedcalc.app import site

    here = {
        "nothing": bc.Place(name="Cutcorner"),
        "slope": bc.Place(name="Cutcorner", survey=falling("top left")),
        "plot": place(latitude=Q_(0, "deg"), survey=survey(0.0, 0.0, count=3)),
    }[known]
    path = bc.save(bc.Garden(place=here, beds=BEDS), tmp_path / "my_garden.toml")
    desk = site.site_desk(path)
    assert desk.own and desk.plan.outlined == (known == "plot")
    said = {}
    for view in (
        site.readings_view, site.level_view, site.plan_view, site.ground_view,
        site.stairs_view, site.fill_view, site.sun_view, site.storm_view,
    ):  # fmt: skip
        said[view.__name__] = view(desk).says.html
    for block in (site.hill_block, site.weight_block, site.verdicts, site.sheet_block):
        block(desk)
    plan = site.plan_view(desk)
    for see in ("routes", "sun", "water", "depths"):
        plan.controls["see"].value = see
    assert ("Not measured" in said["level_view"]) == (known == "nothing")
    assert ("Latitude not given" in said["sun_view"]) == (known != "plot")
    assert ("No plot outline given" in said["plan_view"]) == (known != "plot")
    assert desk.place.latitude == here.latitude  # looking at it has said nothing
