"""Workbook 04 on gardens of one's own: cut, kept prices, saw and car, the sheet."""

from __future__ import annotations

import re

import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.app import cutting
from bedcalc.app.kit import view
from bedcalc.app.kit.question import CheckItem, _whose
from bedcalc.app.session import new_bed
from bedcalc.model.bed import Wall
from bedcalc.model.prices import PriceList
from bedcalc.questions.shopping import shopping
from bedcalc.questions.yard_prices import with_sold
from bedcalc.tables import table
from tests.gardens.opened import GARDENS, open_garden

_WRONG = r"[{}¤]|\bnan\b|\binf\b|—"
_DEMO = r"Plumtrellis|demo"
BOARDS = "larch_140x33"


@pytest.fixture
def own(request, tmp_path):
    return open_garden(request.param, tmp_path)


on_every_garden = pytest.mark.parametrize("own", list(GARDENS), indirect=True)
one_garden = pytest.mark.parametrize("own", ["a new bed"], indirect=True)
with_prices = pytest.mark.parametrize("own", ["own fill"], indirect=True)


def words(made) -> str:
    """Everything that is said in a widget."""
    widget = getattr(made, "widget", made)
    inner = "".join(words(child) for child in getattr(widget, "children", ()))
    own = str(getattr(widget, "value", "")) + str(getattr(widget, "html", ""))
    return (own + inner).replace("\N{NO-BREAK SPACE}", " ")


def said(made) -> str:
    return made.says.html.replace("\N{NO-BREAK SPACE}", " ")


@on_every_garden
@pytest.mark.parametrize("name", sorted(cutting.KEYS))
def test_every_question_is_answered_by_its_own_solution(own, name):
    about, question = view.desk("A", own.path), cutting.item(name)
    made = CheckItem(question, _whose(question, about))
    answer, unit = question.key.answer(made.outcome), question.question.unit
    typed = answer if isinstance(answer, str) else f"{answer.m_as(unit):.6g} {unit}"

    assert question.judge(made.outcome, typed).state == "right"
    for _ in range(4):
        made.ask_help()
    assert not re.search(_WRONG, made._head.value + made._hints.html)


@on_every_garden
def test_every_view_follows_the_garden_and_changes_nothing(own):
    about, before = view.desk("A", own.path), own.garden
    views = [cutting.kerf_view(about), cutting.spots_view(about)]
    block = cutting.sheets_block(about)
    for bed in before:
        own.choose(bed.name)
        for made in views:
            made.redraw()
            assert not re.search(_WRONG, said(made))
        assert not re.search(_WRONG, re.sub(r"<style.*?</style>", "", words(block)))
    about.look_at("demo")
    about.look_at("own")

    assert own.garden == before


@on_every_garden
def test_the_lengths_of_every_bed_are_said(own):
    made = cutting.lengths_view(view.desk("A", own.path))

    assert "." in said(made)
    assert not re.search(_WRONG, said(made))
    priced = own.own and own.place.prices is not None and own.bed is not None
    if priced and not own.bed.wall.family == "blocks":
        assert "pays least" in said(made)


@on_every_garden
def test_the_plan_and_the_sheet_are_of_the_own_garden(own, tmp_path):
    about, before = view.desk("A", own.path), own.garden
    made = cutting.cutter(about)
    made.find(0.2)
    assert not re.search(_WRONG, said(made))
    sheet = cutting.sheet_maker(about, made)
    for key, _ in sheet.bed.options[:3]:
        sheet.bed.set(key)
        sheet.make()
        assert "lies beside" in words(sheet)
    papers = list(tmp_path.glob("build_sheet_*.html"))
    assert papers
    for path in papers if own.bed is not None else ():
        page = path.read_text(encoding="utf-8")
        assert own.place.name in page
        invented = own.place.prices is not None and own.place.prices.invented
        # who takes over the invented prices reads of the demo list, and only of that
        assert not re.search("Plumtrellis" if invented else _DEMO, page)
        if own.place.survey is None:
            assert re.search("[Nn]ot measured", page)
        assert "¤" not in page

    assert own.garden == before


@pytest.mark.parametrize("build", list(table("walls").rows))
def test_the_sheet_is_made_for_every_wall_build(build, tmp_path):
    own = open_garden("a new bed", tmp_path)
    family = table("walls")[build].family
    change = {"height": Q_(60, "cm")} if family == "blocks" else {}
    if family == "trough":
        change = {"soil_depth": Q_(25, "cm")}
    own.take(own.bed.change(wall=Wall.named(build), **change))
    sheet = cutting.sheet_maker(view.desk("A", own.path))
    sheet.make()

    assert "lies beside" in words(sheet)
    (path,) = tmp_path.glob("build_sheet_*.html")
    assert path.name == "build_sheet_x_Bed.html"


@one_garden
def test_names_of_papers_are_safe(own, tmp_path):
    own.take_place(own.place.change(name="../Ben's: garden?"))
    own.rename("a/b\\c <1>")
    sheet = cutting.sheet_maker(view.desk("A", own.path))
    sheet.make()

    (path,) = tmp_path.glob("build_sheet*.html")
    assert path.name == "build_sheet_Ben_s_garden_a_b_c_1.html"


def _type(panel, row: int, *texts: str) -> None:
    cells = panel.stock.rows[row].cells
    for cell, text in zip(cells, texts, strict=False):
        cell.value = text
    cells[0].send_text(texts[0])


@one_garden
def test_what_is_typed_makes_a_list_that_the_order_sees(own):
    about = view.desk("A", own.path)
    panel = cutting.cutter(about)
    assert "no price list yet" in said(panel)
    panel.goods._move(BOARDS)
    _type(panel, 0, "3.0", "12.50")

    prices = own.place.prices
    assert [(r.goods, r.length, r.price) for r in prices.rows] == [(BOARDS, 3.0, 12.5)]
    assert "own prices" in said(panel)
    kept = bc.load(own.path)
    assert kept.place.prices == prices
    assert kept.price_lists == (prices,)
    _type(panel, 1, "2.5", "0", "4")
    cost = shopping(own.garden, own.place, cut="hand")
    lines = {line.name: line for line in cost.lines if line.goods == BOARDS}
    mine = next(line for name, line in lines.items() if "your own" in name)
    assert mine.amount == 0
    assert mine.quantity <= 4
    panel.find()
    assert "2.5" in words(panel.told) or panel.found[BOARDS].plan.proven


@with_prices
def test_a_price_typed_over_changes_only_its_line(own):
    about = view.desk("A", own.path)
    panel = cutting.cutter(about)
    before = own.place.prices
    panel.goods._move(BOARDS)
    panel.stock.rows[0].cells[1].send_text("9.50")

    after = own.place.prices
    assert (after.name, after.currency) == (before.name, before.currency)
    changed = [(a, b) for a, b in zip(before.rows, after.rows, strict=True) if a != b]
    assert len(changed) == 1
    assert changed[0][1].price == 9.5
    own.undo()
    assert own.place.prices == before
    assert panel.stock.rows[0].cells[1].value == "8.90"


@with_prices
def test_the_cutter_and_the_order_pay_the_same(own):
    about = view.desk("A", own.path)
    panel = cutting.cutter(about)
    panel.goods._move(BOARDS)
    panel.stock.rows[0].cells[2].send_text("1")
    panel.find()
    cost = shopping(own.garden, own.place, cut="cheapest")
    sawn = sum(line.amount for line in cost.lines if line.goods == BOARDS)

    assert panel.found[BOARDS].cost.m == pytest.approx(sawn)


@with_prices
def test_saw_and_car_are_kept(own):
    panel = cutting.cutter(view.desk("A", own.path))
    panel.kerf.entry.send_text("4.5")
    panel.trim.entry.send_text("31")
    panel.car.entry.send_text("2.5")

    place = bc.load(own.path).place
    assert place.kerf.m_as("mm") == pytest.approx(4.5)
    assert place.trim.m_as("mm") == pytest.approx(31)
    assert place.longest_carried.m_as("m") == pytest.approx(2.5)
    own.undo()
    assert panel.car.value == own.place.longest_carried


@with_prices
def test_one_bed_or_all_are_cut(own):
    own.add(new_bed("Second"))
    panel = cutting.cutter(view.desk("A", own.path))
    panel.find()
    both = panel.found.boards
    panel.beds._move("Second")
    assert panel.found is None
    panel.find()

    assert panel.found.boards < both
    own.delete()
    assert panel.beds.value == ""


@with_prices
def test_the_demo_garden_keeps_its_prices(own):
    about = view.desk("A", own.path)
    panel = cutting.cutter(about)
    before = own.garden
    about.look_at("demo")
    panel.goods._move("post_70x70")
    panel.stock.rows[0].cells[1].send_text("1.00")
    panel.car.entry.send_text("2.5")
    assert "Plumtrellis" in words(panel.about)
    assert own.garden == before
    about.look_at("own")

    assert panel.stock.sold == {}
    assert panel.car.value == own.place.longest_carried


@pytest.mark.parametrize("own", ["wall blocks"], indirect=True)
def test_a_bed_of_blocks_gets_a_plain_sentence(own):
    about = view.desk("A", own.path)
    panel = cutting.cutter(about)
    panel.find()

    assert "A bed of blocks has no boards to cut." in said(panel)
    assert "no boards to cut" in said(cutting.lengths_view(about))


def test_boards_owned_come_last_and_the_name_stays():
    before = PriceList.named("demo")
    sold = [cutting_sold(3.0, 0, 2), cutting_sold(3.0, 11.4), cutting_sold(4.8, 19.0)]
    after = with_sold(before, BOARDS, sold)
    rows = after.goods[BOARDS]

    assert [(r.length, r.price) for r in rows] == [(3.0, 11.4), (4.8, 19.0), (3.0, 0)]
    assert rows[0] == before.goods[BOARDS][1]  # not typed over: as it was
    assert len({r.key for r in after.rows}) == len(after.rows)
    assert [r for r in after.rows if r.goods != BOARDS] == [
        r for r in before.rows if r.goods != BOARDS
    ]
    again = with_sold(after, BOARDS, sold)
    assert again == after


def cutting_sold(length, price, count=None):
    from bedcalc.questions.cut_garden import Sold

    return Sold(length=length, price=price, count=count)
