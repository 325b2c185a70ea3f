"""Workbook 06: its questions, its views, and the sheet one digs by."""

from __future__ import annotations

import re

import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.app import site
from bedcalc.app.session import open_session
from bedcalc.app.site.answers import KEYS
from bedcalc.printing.setting_out import setting_out_sheet
from bedcalc.questions.site_plan import plan_site, soaking_rate


@pytest.fixture
def desk(tmp_path):
    return site.site_desk(tmp_path / "my_garden.toml")


@pytest.fixture
def own(tmp_path):
    """A garden of one's own: a copy of the demo under another name."""
    session = open_session(tmp_path / "my_garden.toml")
    session.start("Our plot", copy=True)
    return site.site_desk(tmp_path / "my_garden.toml")


@pytest.mark.parametrize("name", sorted(KEYS))
def test_stored_solutions_are_right_and_mistakes_are_named(desk, name):
    (item,) = site.site_items(name)
    plan = desk.outcome
    question = item.question
    for text in (question.text, *question.hints, question.solution):
        assert "{" not in item.words(text, plan)
    if question.options:
        assert item.judge(plan, item.key.answer(plan)).state == "right"
        for option in question.options:
            if option.name != item.key.answer(plan):
                assert item.judge(plan, option.name).state == "mistake"
        return
    right = item.key.answer(plan)
    assert item.judge(plan, f"{right.m_as(question.unit)} {question.unit}").state == (
        "right"
    )
    assert item.judge(plan, "").state == "untried"
    for mistake, wrong in item.key.mistakes.items():
        value = wrong(plan).m_as(question.unit)
        found = item.judge(plan, f"{value} {question.unit}")
        assert (found.state, found.name) == ("mistake", mistake)


def test_the_trench_question_answers_in_inches_too(desk):
    (item,) = site.site_items("trench")

    # 169 mm are 6.65 in
    assert item.judge(desk.outcome, "6.65 in").state == "right"


def test_a_swapped_digit_is_found_and_taken_back(desk):
    view = site.readings_view(desk)
    assert "No reading stands out" in view.says.html
    view.controls["down"].value = Q_(713, "mm")  # reading 7 is the one chosen

    assert "Reading 7 does not fit" in view.says.html
    desk.read(desk.garden.place.survey.points)
    view.redraw()
    assert "No reading stands out" in view.says.html
    assert view.controls["down"].value.m_as("mm") == pytest.approx(731)


def test_readings_as_text_teach_what_is_wrong(desk):
    block = site.readings_text(desk)
    inner = block.children[0].children
    box, buttons, said = inner[1], inner[2], inner[3]
    box.value = "0 0 0.2\n4.8 zero 0.3"
    buttons.children[0].click()

    assert "Line 2: needs three numbers" in said.html
    assert len(desk.plan.points) == 12
    box.value = "0 0 0.2\n4 0 0.2\n0 3 0.5\n4 3 0.5"
    buttons.children[0].click()
    assert len(desk.plan.points) == 4
    # 0.3 m over 3 m down the slope
    assert desk.plan.slope.m_as("percent") == pytest.approx(10)


def test_moving_a_bed_moves_its_trench_and_its_paths(desk):
    view = site.plan_view(desk)
    view.controls["bed"].value = "A"
    before = {gap.name: gap.width for gap in desk.plan.gaps}
    view.controls["x"].value = Q_(2.1, "m")

    after = {gap.name: gap.width for gap in desk.plan.gaps}
    assert after["A–B"] == pytest.approx(before["A–B"] - 0.3)
    view.controls["see"].value = "routes"
    assert "Not reached" in view.picture.shown.annotations[0]["text"] or all(
        route.reached for route in desk.walk.routes
    )


def test_every_view_draws_at_every_setting(desk):
    """A drawing keeps its number of traces; an error would stop the view."""
    level = site.level_view(desk)
    for rule in ("limited", "balanced", "all_cut"):
        level.controls["rule"].value = rule
        level.controls["cut"].value = not level.controls["cut"].value
    for name in desk.names:
        level.controls["bed"].value = name
    plan = site.plan_view(desk)
    for see in ("routes", "sun", "depths"):
        plan.controls["see"].value = see
    ground = site.ground_view(desk)
    for look in ("end", "above"):
        ground.controls["look"].value = look
    site.stairs_view(desk).controls["path"].value = Q_(1.2, "m")
    fill = site.fill_view(desk)
    for way in ("turned", "mixed", "around"):
        fill.controls["way"].value = way
    sun = site.sun_view(desk)
    for day in ("21 December", "21 March"):
        sun.controls["day"].value = day
    site.storm_view(desk).controls["rain"].value = Q_(60, "mm")
    site.verdicts(desk)


def test_the_plan_is_kept_and_comes_back(own):
    own.move("A", x=Q_(2.0, "m"))

    assert own.own and "Our plot" in own.about
    assert bc.load(own.file)["A"].x == Q_(2, "m")


def test_the_demo_is_never_written(desk):
    desk.move("A", x=Q_(2.0, "m"))

    assert not desk.own and not desk.file.exists()


def test_the_sheet_holds_what_a_helper_needs(desk):
    page = setting_out_sheet(desk.plan, desk.place.name)

    for bed in desk.plan.beds:
        assert page.count(f'<th scope="row">{bed.name}</th>') == 1
        # no gravel in the demo garden
        assert f"<b>{bed.si.staff:.3f}\N{NO-BREAK SPACE}m</b>" in page
    assert "measures 100 mm?" in page and "A4 landscape" in page
    assert re.search(r"Drawn 1 : \d+", page)
    assert "locating service" in page


def test_the_sheet_is_to_scale(desk):
    """14.4 m at 1 : 100 are 144 mm, computed by hand."""
    page = setting_out_sheet(desk.plan, "x")

    assert "Drawn 1 : 100" in page
    ring = "0.00,0.00 144.00,0.00 144.00,96.00 0.00,96.00 0.00,0.00"
    assert ring in page
    assert '<rect x="0" y="3" width="100.0"' in page  # the check bar


def test_letter_paper_and_inches(desk):
    page = setting_out_sheet(desk.plan, "x", paper="Letter", system="us")

    assert "Letter landscape" in page
    assert "\N{NO-BREAK SPACE}in</b>" in page
    assert "measures 4 in?" in page


def test_sheet_block_writes_the_file(desk):
    block = site.sheet_block(desk)
    button = block.children[0].children[1].children[0]
    button.click()

    page = (desk.file.parent / "setting_out_sheet.html").read_text(encoding="utf-8")
    assert "Setting out: Plumtrellis Yard" in page


def test_twelve_readings_in_six_beds_out():
    """What issue and demo garden promise: placed, dug, checked, measured."""
    garden = bc.demo_garden()
    plan = plan_site(garden.beds, garden.place, wheel="wheelchair")

    assert len(plan.points) == 12 and len(plan.beds) == 6
    assert all(bed.si.depths.min() == pytest.approx(0.05) for bed in plan.beds)
    assert {c.name for c in plan.checks} >= {"slope", "readings", "trench", "path"}
    assert next(c for c in plan.checks if c.name == "path").ok
    assert plan.cut.m_as("m^3") == pytest.approx(1.642, abs=0.003)


def test_the_plot_is_typed_as_text_and_kept(own):
    desk = own
    block = site.yard_text(desk)
    inner = block.children[0].children
    box, buttons, said = inner[1], inner[2], inner[3]
    box.value = "plot 12 8 270\ntree 10 6 2 2 4 old pear\ntap 0.2 0.2 0 0 0"
    buttons.children[0].click()

    assert (desk.plot.length, desk.plot.downhill) == (12, 270)
    assert [t.name for t in desk.plot.things] == ["old pear", "tap"]
    box.value = "plot 12 8"
    buttons.children[0].click()
    assert "needs length, width and the bearing" in said.html
    box.value = "plot 12 8 180\ncow 1 1 1 1 1"
    buttons.children[0].click()
    assert "begins with plot, corner, downhill, house" in said.html

    again = bc.load(desk.file).place.plot
    assert again.length == pytest.approx(12)
    assert again.of_kind("tree").name == "old pear"


def test_feet_and_inches_everywhere_and_nothing_moves(desk):
    first = site.readings_view(desk)
    others = [site.level_view(desk), site.plan_view(desk), site.storm_view(desk)]
    before = desk.place.survey.points.copy(), desk.bed("A").x
    first.controls["system"].value = "us"

    for view in (first, *others):
        view.redraw()
        assert " in" in view.says.html.replace("\xa0", " ") or "yd³" in view.says.html
    assert others[1].controls["x"].unit == "inch"
    assert (desk.place.survey.points == before[0]).all()
    assert desk.bed("A").x == before[1]


def test_the_latitude_is_set_said_and_kept(own):
    desk = own
    view = site.sun_view(desk)
    assert "48° north" in view.says.html

    view.controls["latitude"].entry.send_text("-34")
    # computed by hand: 90 - (34 + 23.44) = 32.6 degrees on 21 June
    assert "34° south" in view.says.html and "33°" in view.says.html
    assert bc.load(desk.file).place.latitude.m_as("deg") == pytest.approx(-34)


def _words(box):
    """All words in a block."""
    inner = " ".join(_words(child) for child in getattr(box, "children", ()))
    return f"{getattr(box, 'value', '')} {inner}"


def test_the_test_hole_has_a_verdict(desk):
    # computed by hand: 10 mm in 2 hours are 5 mm an hour, under 6
    rate = soaking_rate(Q_(10, "mm"), Q_(2, "hour"))
    assert rate.m_as("mm/hour") == pytest.approx(5)
    assert "It drains." in _words(site.soak_block(desk))  # 20 mm in an hour


def test_the_hill_and_the_weight_are_said_for_the_beds_there(desk):
    hill, weight = site.hill_block(desk), site.weight_block(desk)
    before = _words(hill), _words(weight)
    assert "N/m" in before[0] and "B 10.8 kPa" in before[1].replace("\xa0", " ")

    desk.move("B", height=Q_(50, "cm"), soil_depth=Q_(40, "cm"))
    desk.move("B", width=Q_(150, "cm"))

    assert _words(weight) != before[1] and _words(hill) != before[0]
