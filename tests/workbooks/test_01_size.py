"""Workbook 01: its questions and its views."""

from __future__ import annotations

import pytest

from bedcalc import Q_
from bedcalc.app import size
from bedcalc.app.kit.view import desk as make_desk


@pytest.fixture
def desk(tmp_path):
    return make_desk("A", tmp_path / "my_garden.toml")


@pytest.mark.parametrize("name", sorted(size.KEYS))
def test_stored_solutions_are_right_and_mistakes_are_named(desk, name):
    (item,) = size.size_items(name)
    outcome, question = desk.outcome, item.question
    for text in (question.text, *question.hints, question.solution):
        assert "{" not in item.words(text, outcome)
    if question.options:
        assert item.judge(outcome, item.key.answer(outcome)).state == "right"
        for option in question.options:
            if option.name != item.key.answer(outcome):
                assert item.judge(outcome, option.name).state == "mistake"
        return
    right = item.key.answer(outcome).m_as(question.unit)
    assert item.judge(outcome, f"{right} {question.unit}").state == "right"
    assert item.judge(outcome, "").state == "untried"
    for mistake, wrong in item.key.mistakes.items():
        value = wrong(outcome).m_as(question.unit)
        found = item.judge(outcome, f"{value} {question.unit}")
        assert (found.state, found.name) == ("mistake", mistake)


def test_narrowing_bed_a_mends_it(desk):
    view = size.posture_view(desk)
    assert "Too wide" in view.says.html
    view.controls["width"].value = Q_(85, "cm")

    assert "Too wide" not in view.says.html
    assert desk.outcome.check("reach").verdict == "holds"


def test_the_person_decides_the_stature(desk):
    view = size.posture_view(desk)
    view.controls["users"].value = "adult"

    assert view.controls["stature"].value.m_as("cm") == pytest.approx(165)


def test_bed_d_shows_the_knee_space_conflict(desk):
    view = size.posture_view(desk)
    press = next(act for text, act in _acts(view).items() if text == "Demo bed D")
    press.click()

    assert "knee space would leave 48" in view.says.html.replace("\xa0", " ")


def _acts(view):
    import ipywidgets

    found = {}

    def look(widget):
        if isinstance(widget, ipywidgets.Button):
            found[widget.description] = widget
        for child in getattr(widget, "children", ()):
            look(child)

    look(view.widget)
    return found


def test_every_view_draws_at_every_setting(desk):
    posture = size.posture_view(desk)
    for users in ("seated", "child_3_5", "adult"):
        posture.controls["users"].value = users
    posture.controls["sides"].value = "one"
    for cm in (15, 60, 110):
        posture.controls["height"].value = Q_(cm, "cm")
    shapes = size.outlines_view(desk)
    shapes.controls["arm"].value = Q_(130, "cm")
    shapes.controls["width"].value = Q_(80, "cm")
    cost = size.cost_view(desk)
    for field in ("width", "height"):
        cost.controls["field"].value = field
    size.facts_block(desk)


def test_answers_decide(desk):
    block = size.decide_block()
    rows = _rows(block)
    rows["Who works"].index = 1
    page = block.children[0].children[1].value

    assert "a tall raised bed" in page


def _rows(widget):
    import ipywidgets

    found = {}

    def look(one):
        if isinstance(one, ipywidgets.Dropdown):
            found[one.description] = one
        for child in getattr(one, "children", ()):
            look(child)

    look(widget)
    return found
