"""Workbooks 01 and 02 on gardens of one's own: every view, every question."""

from __future__ import annotations

import re

import ipywidgets
import pytest

import bedcalc as bc
from bedcalc import Q_, Layer
from bedcalc.app import fill, size
from bedcalc.app.kit import view
from bedcalc.app.kit.grading import Item
from bedcalc.app.kit.predict import predict
from bedcalc.app.kit.question import CheckItem, _whose
from bedcalc.app.kit.stack import stack_view
from bedcalc.app.session import new_bed
from tests.gardens.opened import GARDENS, QUARRY, open_garden

SIZE = [size.posture_view, size.outlines_view, size.cost_view]
FILL = [fill.layers_view, stack_view, fill.logs_view, fill.work_view,
        fill.sinking_view, fill.ways_view, fill.buying_view]  # fmt: skip
QUESTIONS = [("01", name) for name in size.KEYS] + [("02", name) for name in fill.KEYS]


def item(workbook: str, name: str) -> Item:
    return size.size_items(name)[0] if workbook == "01" else fill.item(name)


@pytest.fixture
def own(request, tmp_path):
    return open_garden(request.param, tmp_path)


on_every_garden = pytest.mark.parametrize("own", list(GARDENS), indirect=True)


@on_every_garden
@pytest.mark.parametrize(("workbook", "name"), QUESTIONS)
def test_every_question_is_answered_by_its_own_solution(own, workbook, name):
    desk = view.desk("A" if workbook == "01" else "B", own.path)
    question = item(workbook, name)
    made = CheckItem(question, _whose(question, desk))
    assert made.verdict.state == "untried"
    answer = question.key.answer(made.outcome)
    if question.question.options:
        assert question.judge(made.outcome, answer).state == "right"
    else:
        unit = question.question.unit
        typed = f"{answer.m_as(unit):.6g} {unit}".strip()
        assert question.judge(made.outcome, typed).state == "right"
    for _ in range(4):
        made.ask_help()
    page = made._head.value + made._hints.html
    assert not re.search(r"[{}]|\bnan\b|—", page)
    demo = "of the demo garden" in page
    if question.question.about == "own" and desk.own:
        assert own.bed.name in page
        assert not demo


def _said(made) -> str:
    return made.says.html + made.told.html


@on_every_garden
@pytest.mark.parametrize("make", SIZE + FILL, ids=lambda make: make.__name__)
def test_every_view_shows_every_bed_and_changes_none(own, make):
    desk = view.desk("B", own.path)
    before = own.garden
    made = make(desk)
    for bed in (*before, *before):
        own.choose(bed.name)
        made.watch.width = 400 if made.watch.width != 400 else 1300
        assert not re.search(r"[{}¤]|\bnan\b|—", _said(made))
        assert desk.bed == bed
    made.reset()
    desk.look_at("demo")
    own.show_in("us" if own.garden.system == "metric" else "metric")
    made.redraw()
    desk.look_at("own")

    assert own.garden.change(system=before.system) == before


@on_every_garden
def test_no_picture_says_a_currency_sign_of_nobody(own):
    desk = view.desk("B", own.path)
    for make in SIZE + FILL:
        drawing = make(desk).picture.shown
        words = drawing.alt + drawing.caption + drawing.numbers.html()
        words += "".join(note["text"] for note in drawing.annotations)
        words += str(drawing.live_layout)
        assert "¤" not in words
        assert not re.search(r"\bnan\b", words)


def _text(widget) -> str:
    """All HTML of a block."""
    inner = "".join(_text(child) for child in getattr(widget, "children", ()))
    return inner + (widget.value if isinstance(widget, ipywidgets.HTML) else "")


@on_every_garden
def test_blocks_of_numbers_follow_the_bed(own):
    desk = view.desk("A", own.path)
    facts, minerals = size.facts_block(desk), fill.minerals_block(desk)
    page = _text(facts)

    assert desk.name in page
    assert not re.search(r"\bnan\b|—", page)
    before = _text(minerals)
    desk.take(desk.bed.change(length=desk.bed.length + Q_(50, "cm")))
    assert _text(minerals) != before


@pytest.mark.parametrize("own", ["smallest"], indirect=True)
def test_only_the_width_is_written(own):
    desk = view.desk("A", own.path)
    posture = size.posture_view(desk)
    own.add(new_bed("Long").change(length=Q_(9.63, "m"), height=Q_(33.7, "cm")))
    bed = own.bed
    posture.controls["width"].value = Q_(85, "cm")

    assert own.bed == bed.change(width=Q_(85, "cm"))
    assert own.garden["Box"].width == Q_(40, "cm")


@pytest.mark.parametrize("own", ["own fill, people, boards"], indirect=True)
def test_own_people_bring_their_reach_and_height(own):
    desk = view.desk("A", own.path)
    posture = size.posture_view(desk)
    assert posture.controls["stature"].value == Q_(195, "cm")
    assert "tall people reach 72 cm" in posture.says.html.replace("\xa0", " ")
    posture.controls["users"].value = "child_3_5"
    assert posture.controls["stature"].value.m_as("cm") == pytest.approx(105)
    posture.controls["users"].value = "tall"

    assert own.bed.users == own.garden.people[0]


@pytest.mark.parametrize("own", ["wall trough"], indirect=True)
def test_a_demo_bed_is_shown_and_the_own_bed_stays(own):
    desk = view.desk("A", own.path)
    posture = size.posture_view(desk)
    before = own.garden
    for text in ("Demo bed A", "Demo bed D"):
        posture._act(posture.acts[text])
    assert "knee space" in posture.says.html
    desk.look_at("own")

    assert own.garden == before


@pytest.mark.parametrize("own", ["smallest"], indirect=True)
def test_outlines_begin_with_the_size_of_the_bed(own):
    desk = view.desk("A", own.path)
    shapes = size.outlines_view(desk)
    assert shapes.controls["length"].value == Q_(60, "cm")
    shapes.controls["length"].value = Q_(3, "m")
    desk.take(desk.bed.change(height=Q_(30, "cm")))
    assert shapes.controls["length"].value == Q_(3, "m")  # what is tried out stays
    assert own.bed.length == Q_(60, "cm")


@pytest.mark.parametrize("own", ["own fill", "a new bed"], indirect=True)
def test_a_guess_is_about_the_demo_bed(own):
    desk = view.desk("B", own.path, fill=bc.strategy_layers("logs_chips_mix"))
    made = predict(
        "How many chips?",
        lambda outcome: next(
            order.loose for order in outcome.fill.orders if order.goods == "chips"
        ),
        unit="m^3", kind="volume", then=fill.layers_view(desk),
    )  # fmt: skip
    made.entry.value = "0.3 m3"
    made.make_guess()

    assert made.opened
    assert "0.50" in made.said


# ---- the stack


@pytest.mark.parametrize("own", ["own fill"], indirect=True)
def test_the_stack_shows_the_layers_of_the_bed(own):
    values = stack_view(view.desk("B", own.path)).controls.values

    assert [values[f"material_{n}"] for n in (1, 2, 3, 4)] == [
        "brush", "quarry", "compost", "none",
    ]  # fmt: skip
    assert values["rest"] == "2"
    assert values["depth_1"].m_as("cm") == pytest.approx(8)


@pytest.mark.parametrize("own", ["own fill"], indirect=True)
def test_the_stack_writes_only_what_is_moved(own):
    stack = stack_view(view.desk("B", own.path))
    compost = own.bed.fill[2]
    stack.controls["depth_1"].value = Q_(6, "cm")
    assert own.bed.fill[0] == Layer(material="brush", depth=Q_(6, "cm"))
    assert own.bed.fill[2] == compost  # still a tenth of the depth
    stack.controls["material_1"].value = "quarry"
    assert own.bed.fill[0].material == QUARRY
    stack.controls["material_4"].value = "straw"
    assert len(own.bed.fill) == 4
    stack.controls["rest"].value = "1"
    assert own.bed.fill[0].depth is None
    assert own.bed.fill[1].depth.check("[length]")
    stack.controls["material_2"].value = "none"

    assert [layer.kind for layer in own.bed.fill] == ["topsoil", "compost", "straw"]
    assert bc.load(own.path).beds[0].fill == own.bed.fill


@pytest.mark.parametrize("own", ["a new bed"], indirect=True)
def test_the_last_layer_stays(own):
    stack = stack_view(view.desk("B", own.path))
    before = own.garden
    stack.put(material_1="none")

    assert "at least one" in stack.told.html
    assert own.garden == before


@pytest.mark.parametrize("own", ["a new bed"], indirect=True)
def test_more_layers_than_rows_are_kept(own):
    thin = tuple(Layer(material="mix", depth=Q_(2, "cm")) for _ in range(10))
    own.take(own.bed.change(fill=(*thin, Layer(material="compost"))))
    stack = stack_view(view.desk("B", own.path))
    assert "3 more layers" in stack.says.html
    stack.controls["material_1"].value = "straw"

    assert own.bed.fill[1:] == (*thin[1:], Layer(material="compost"))


def test_the_ways_to_fill_hold_own_layers_and_own_fills(tmp_path, monkeypatch):
    """Brush, quarry soil and compost: none of the ways of the tables."""
    shown = []
    draw = fill.ways_figure
    monkeypatch.setattr(
        fill, "ways_figure", lambda c, **how: (shown.append(c), draw(c, **how))[1]
    )
    session = open_garden("own fill", tmp_path)
    made = fill.ways_view(view.desk("B", session.path))
    mine, quarry, *_ = shown[-1]
    plain = bc.evaluate(session.bed, session.place).fill

    assert (mine.name, quarry.name) == ("Your own layers", f"All {QUARRY.name}")
    assert mine.fill.si.cost == pytest.approx(plain.si.cost, nan_ok=True)
    # a tenth is compost, the brush is no soil: less soil than all quarry soil
    assert quarry.less_bought < mine.less_bought
    row = session.place.prices.rows[0]
    price = row.changed(goods="quarry", name="quarry soil", price=1.0, content=1.0)
    lists = session.place.prices.with_rows([*session.place.prices.rows, price])
    session.take_place(session.place.change(prices=lists))
    assert f"all {QUARRY.name}" in made.says.html
    session.take(session.bed.change(fill=bc.strategy_layers("all_mix")))
    assert [c.name for c in shown[-1]][0] == f"All {QUARRY.name}"
