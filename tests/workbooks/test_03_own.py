"""Workbook 03 on gardens of one's own: beds are tried on, and taken over."""

from __future__ import annotations

import re

import ipywidgets
import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.app import walls, walls_own
from bedcalc.app.bench import bench
from bedcalc.app.kit import view
from bedcalc.app.kit.question import CheckItem, _whose
from bedcalc.app.kit.trial import trial
from bedcalc.app.session import new_bed
from bedcalc.app.walls_questions import KEYS, item
from tests.gardens.opened import GARDENS, open_garden

TRIED = [walls.rim_view, walls.push_view, walls.parts_view, walls.fixes_view,
         walls_own.own_view, walls_own.rim_use_view]  # fmt: skip
ALL = [*TRIED, walls.path_view, walls.failing_view, walls.bulge_view]
BLOCKS = [walls.six_beds, walls.blocks_table, walls.metals_table]
_WRONG = r"[{}]|\bnan\b|\binf\b|—"


@pytest.fixture
def own(request, tmp_path):
    return open_garden(request.param, tmp_path)


on_every_garden = pytest.mark.parametrize("own", list(GARDENS), indirect=True)
one_garden = pytest.mark.parametrize("own", ["a new bed"], indirect=True)


def words(made) -> str:
    said = made.says.html + made.told.html
    return said.replace("\N{NO-BREAK SPACE}", " ")


@on_every_garden
@pytest.mark.parametrize("name", sorted(KEYS))
def test_every_question_is_answered_by_its_own_solution(own, name):
    about, question = view.desk("B", own.path), item(name)
    made = CheckItem(question, _whose(question, about))
    answer = question.key.answer(made.outcome)
    unit = question.question.unit
    typed = answer if isinstance(answer, str) else f"{answer.m_as(unit):.6g} {unit}"

    assert question.judge(made.outcome, typed.strip()).state == "right"
    for _ in range(4):
        made.ask_help()
    assert not re.search(_WRONG, made._head.value + made._hints.html)


@on_every_garden
@pytest.mark.parametrize("make", ALL, ids=lambda make: make.__name__)
def test_every_view_shows_every_bed_and_changes_none(own, make):
    about = view.desk("B", own.path)
    before, made = own.garden, make(about)
    for bed in (*before, *before):
        own.choose(bed.name)
        made.redraw()
        assert made.outcome.bed == bed
        assert not re.search(_WRONG, words(made))
    if make in TRIED:
        for key, _ in made.controls["bed"].options:
            made.controls["bed"].value = key
            assert made.outcome.bed == made.desk.start
            assert not re.search(_WRONG, words(made))
    made.reset()
    about.look_at("demo")
    own.show_in("us" if before.system == "metric" else "metric")
    made.redraw()

    assert own.garden.change(system=before.system) == before


@on_every_garden
@pytest.mark.parametrize("make", BLOCKS, ids=lambda make: make.__name__)
def test_tables_follow_the_garden(own, make):
    about = view.desk("B", own.path)
    made = make(about)
    own.add(new_bed("One more"))

    page = made.children[0].children[0].value
    assert not re.search(_WRONG, page)
    if make is walls.six_beds:
        assert "One more" in page
        assert "demo garden" in page


@one_garden
def test_what_is_tried_changes_the_bed_when_it_is_taken(own):
    made = walls.parts_view(view.desk("B", own.path))
    before = own.bed
    made.controls["ties"].value = 2
    assert own.bed == before
    assert made.outcome.bed == before.change(ties=2)
    made._act(made.acts["Use this in my bed"])

    assert own.bed == before.change(ties=2)
    assert bc.load(own.path)["Bed"].ties == 2
    assert "is now like this" in words(made)
    own.undo()
    assert own.bed == before
    assert made.controls["ties"].value == before.ties


@one_garden
def test_drain_deck_and_climbers_are_kept_in_the_garden(own):
    made = walls.push_view(view.desk("B", own.path))
    made.controls["drained"].value = True
    made.controls["deck"].value = True
    made._act(made.acts["Use this in my bed"])
    rim = walls_own.rim_use_view(view.desk("B", own.path))
    rim.controls["climbed"].value = True
    rim._act(rim.acts["Use this in my bed"])
    kept = bc.load(own.path)["Bed"]

    assert kept.drained and kept.climbed
    assert kept.may_carry.m_as("kPa") == pytest.approx(2)


@one_garden
def test_a_bed_that_is_not_current_is_tried_and_taken_too(own):
    own.add(new_bed("Second"))
    made = walls.rim_view(view.desk("B", own.path))
    made.controls["bed"].value = "own Bed"
    made.controls["length"].value = Q_(4, "m")
    made._act(made.acts["Use this in my bed"])

    assert own.garden["Bed"].length == Q_(4, "m")
    assert own.garden["Second"].length == Q_(240, "cm")
    assert own.name == "Second"


@one_garden
def test_a_mend_is_carried_out_in_the_own_bed(own):
    own.take(own.bed.change(length=Q_(5, "m"), height=Q_(80, "cm")))
    made = walls.fixes_view(view.desk("B", own.path))
    assert "Gives way first" in words(made)
    assert "price not known" in words(made)  # there is no price list
    made._act(made.acts["Use this in my bed"])

    assert "This wall holds, as straight as you want it" in words(made)
    assert own.bed != new_bed("Bed")
    made._act(made.acts["Use this in my bed"])
    assert "nothing to fix" in words(made)


@one_garden
def test_a_demo_bed_is_not_taken_for_an_own_one(own):
    made = walls.fixes_view(view.desk("B", own.path))
    before = own.garden
    made.controls["bed"].value = "B"
    made._act(made.acts["Use this in my bed"])

    assert "Choose one of your own beds" in words(made)
    assert own.garden == before


def test_without_a_garden_nothing_is_taken_and_it_is_said(tmp_path):
    made = walls.parts_view(view.desk("B", tmp_path / "none.toml"))
    made.controls["ties"].value = 1
    made._act(made.acts["Use this in my bed"])

    assert "no garden of your own yet" in words(made)
    assert not (tmp_path / "none.toml").exists()


@one_garden
def test_own_boards_become_a_build_that_every_list_offers(own):
    about = view.desk("B", own.path)
    made = walls_own.own_view(about)
    made.controls["thickness"].value = Q_(45, "mm")
    made.build.send_text("  boards from the barn ")

    (wall,) = own.garden.walls
    assert (wall.name, wall.base_key) == ("boards from the barn", "boards")
    assert wall.thickness == Q_(45, "mm")
    assert bc.load(own.path).walls == (wall,)
    assert "Built of" in words(made)
    offered = bench(file=own.path).controls["wall"].options
    assert (wall.key, wall.name) in offered
    made.build.send_text("Boards from the Barn")
    assert "no other build has" in words(made)
    made.build.send_text(" ")
    assert "needs some words" in words(made)
    assert own.garden.walls == (wall,)


@one_garden
def test_a_size_moved_back_has_its_goods_again(own):
    made = walls_own.own_view(view.desk("B", own.path))
    made.controls["thickness"].value = Q_(45, "mm")
    assert made.outcome.bed.wall.goods == "board of 45 × 140 mm"
    made.controls["thickness"].value = own.bed.wall.thickness

    assert made.outcome.bed == own.bed


@pytest.mark.parametrize("own", ["copy of demo"], indirect=True)
def test_own_and_demo_beds_of_one_name_are_two(own):
    about = view.desk("B", own.path)
    own.choose("B")
    own.take(own.bed.change(length=Q_(3.33, "m")))
    tried = trial(about)
    titles = dict(tried.titles())

    assert titles["B"].startswith("demo, ")
    assert tried.bed.length == Q_(3.33, "m")
    tried.choose("B")
    assert tried.bed.length == bc.demo_garden()["B"].length
    assert not tried.own


@one_garden
def test_a_bed_that_is_renamed_or_deleted_leaves_the_list(own):
    tried = trial(view.desk("B", own.path))
    own.rename("Tomatoes")
    assert tried.key == "own Tomatoes"
    assert "Tomatoes" in tried.about
    own.delete()

    assert tried.key == "B"
    assert not tried.own


def _text(widget) -> str:
    inner = "".join(_text(child) for child in getattr(widget, "children", ()))
    return inner + (widget.value if isinstance(widget, ipywidgets.HTML) else "")


@pytest.mark.parametrize("own", ["wall blocks"], indirect=True)
def test_metals_of_a_bed_of_blocks_are_none_and_it_is_said(own):
    assert "No wood and no sheet" in _text(walls.metals_table(view.desk("B", own.path)))
